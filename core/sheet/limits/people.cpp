// How many fly, against the people the basket is approved for.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit people(const Facts& facts) {
  Limit limit;
  limit.name = "people";
  limit.source = {Authority::flight_manual, {}};
  limit.value = measure::count(facts.load.people_count);
  const auto seats = facts.morning.balloon.basket.people;
  if (!seats) {
    limit.finding = say("limit.people.no_bound", {{"value", *limit.value}});
    limit.remedy = say("limit.people.give_bound");
    return limit;
  }
  limit.bound = Bound{measure::count(*seats), Side::at_most};
  limit.near_bound = Bound{measure::count(kDefaults.mass_near * *seats), Side::at_most};
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say("limit.people.found", {{"value", *limit.value}, {"bound", limit.bound->value}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.people.fewer");
  return limit;
}

}  // namespace pappus::sheet::limits
