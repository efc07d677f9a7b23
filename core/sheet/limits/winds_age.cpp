// How old the newest winds aloft are: seen winds age within the hour, forecast winds within the half day.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit winds_age(const Facts& facts) {
  Limit limit;
  limit.name = "winds_age";
  limit.source = {Authority::ours, {}};
  if (facts.newest_ladder == nullptr) {
    limit.finding = say("limit.winds_age.unknown");
    limit.remedy = say("limit.winds_known.pibal");
    return limit;
  }
  const wind::Source& source = facts.newest_ladder->source;
  const bool forecast = source.kind == wind::SourceKind::forecast;
  // A forecast made for a time ahead is not young: what counts is how far that time lies from lift-off.
  const Duration off = facts.morning.flight.time.at - source.time;
  const Duration age = forecast ? abs(off) : facts.age(source.time);
  limit.value = measure::of(age);
  limit.age = age;
  limit.near_bound =
      Bound{measure::of(forecast ? kDefaults.winds_forecast_near : kDefaults.winds_seen_near), Side::at_most};
  limit.bound =
      Bound{measure::of(forecast ? kDefaults.winds_forecast_outside : kDefaults.winds_seen_outside), Side::at_most};
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  if (forecast)
    limit.finding = say("limit.winds_age.forecast", {{"name", source.name}, {"off", *limit.value}});
  else
    limit.finding = say("limit.winds_age.found", {{"name", source.name}, {"age", *limit.value}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.winds_known.pibal");
  return limit;
}

}  // namespace pappus::sheet::limits
