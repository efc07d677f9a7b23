#include "core/sheet/sections/supply.hpp"

#include <algorithm>
#include <utility>

#include "core/sheet/facts.hpp"

namespace pappus::sheet {
namespace {

// The weakest; one without a power before all others, as it may be weaker still.
const balloon::Burner& asked_about(const std::vector<balloon::Burner>& burners) {
  return *std::min_element(burners.begin(), burners.end(), [](const auto& a, const auto& b) {
    return a.power.value_or(Power{}) < b.power.value_or(Power{});
  });
}

}  // namespace

Result<balloon::SupplyPlan> supply_section(const Facts& facts) {
  if (!facts.fuel) return tl::unexpected{facts.fuel.error()};
  if (!facts.columns) return tl::unexpected{facts.columns.error()};
  if (facts.morning.balloon.burners.empty()) return fail(Errc::no_data, say("supply.no_burner"));
  balloon::SupplyInputs in;
  for (const CylinderFacts& c : facts.cylinders) {
    if (!c.mass) return fail(Errc::no_data, say("fact.fuel_missing"));
    balloon::SupplyCylinder cylinder;
    cylinder.fitted = *c.cylinder;
    cylinder.liquid = *c.mass_low;
    cylinder.measured = c.account && c.account->proven_full;
    cylinder.temperature = c.temperature;
    in.cylinders.push_back(std::move(cylinder));
  }
  in.fuel = *facts.fuel;
  in.planned = facts.morning.flight.planned;
  in.burner = asked_about(facts.morning.balloon.burners);
  in.ambient_field = *facts.station_pressure;
  in.ambient_highest = in.ambient_field;
  for (const air::AirColumn& column : *facts.columns) {
    const auto there = column.at(*facts.highest());
    if (!there) return tl::unexpected{there.error()};
    in.ambient_highest = std::min(in.ambient_highest, there->air.pressure);
  }
  in.both_open_allowed = facts.morning.balloon.both_valves_open;
  in.minimum = reserve_held_to(facts);
  return balloon::supply_plan(in);
}

}  // namespace pappus::sheet
