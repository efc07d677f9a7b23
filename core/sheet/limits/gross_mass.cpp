// The load sheet's total against the flight manual's gross mass limit.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit gross_mass(const Facts& facts) {
  Limit limit;
  limit.name = "gross_mass";
  limit.source = {Authority::flight_manual, {}};
  limit.value = measure::of(facts.load.total);
  if (!facts.load.gross_limit) {
    limit.finding = say("limit.gross_mass.no_bound", {{"value", *limit.value}});
    limit.remedy = say("limit.gross_mass.give_bound");
    return limit;
  }
  const Mass bound = *facts.load.gross_limit;
  limit.bound = Bound{measure::of(bound), Side::at_most};
  limit.near_bound = Bound{measure::of(kDefaults.mass_near * bound), Side::at_most};
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say("limit.gross_mass.found", {{"value", *limit.value}, {"bound", limit.bound->value}});
  if (!facts.load_known) limit.notes.push_back(say("load.unknown_counted_full"));
  if (limit.state == LimitState::outside)
    limit.remedy = say("limit.gross_mass.lighten", {{"mass", measure::of(facts.load.total - bound)}});
  return limit;
}

}  // namespace pappus::sheet::limits
