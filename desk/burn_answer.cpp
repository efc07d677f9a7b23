#include "desk/burn_answer.hpp"

#include <utility>

#include "core/sheet/facts.hpp"
#include "core/sheet/sections/supply.hpp"

namespace pappus::desk {
Result<BurnAnswer> burn_answer(const sheet::Morning& morning) {
  auto fuel = sheet::fuel_section(morning);
  if (!fuel) return tl::unexpected{fuel.error()};
  BurnAnswer out;
  out.fuel = *std::move(fuel);
  auto supply = sheet::supply_section(sheet::facts_of(morning));
  if (supply)
    out.supply = *std::move(supply);
  else
    out.notes.push_back(supply.error().sentence);
  out.notes.push_back(say("caution.fuel_model", {{"uncertainty", measure::ratio(out.fuel.uncertainty_fraction)}}));
  out.notes.push_back(say("caution.full_is_proven"));
  out.notes.push_back(say("caution.manual_first"));
  return out;
}

}  // namespace pappus::desk
