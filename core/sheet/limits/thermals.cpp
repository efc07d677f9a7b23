// Rising thermals, by the handbook's window: the first hours after sunrise, the last before sunset. Until the heating of the day
// is computed, the clock stands in for it.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit thermals(const Facts& facts) {
  Limit limit;
  limit.name = "thermals";
  limit.source = {Authority::handbook, "FAA-H-8083-11B ch. 3"};
  limit.near_bound = Bound{measure::of(kDefaults.thermals_near), Side::at_most};
  limit.bound = Bound{measure::of(kDefaults.thermals_outside), Side::at_most};
  if (!facts.sun || !facts.sun->sunrise || !facts.sun->sunset) {
    // No sunrise or no sunset: the window says nothing of such a day.
    limit.kind = LimitKind::look;
    limit.finding = say("limit.thermals.no_sun");
    limit.remedy = say("limit.thermals.look");
    return limit;
  }
  const Instant launch = facts.morning.flight.time.at;
  const Instant landing = launch + facts.morning.flight.planned;
  const bool morning = launch < facts.sun->transit;
  limit.value = measure::of(morning ? landing - *facts.sun->sunrise : *facts.sun->sunset - launch);
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say(morning ? "limit.thermals.morning" : "limit.thermals.evening", {{"value", *limit.value}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.thermals.move");
  return limit;
}

}  // namespace pappus::sheet::limits
