// How close the air is to fog: temperature less dew point of the newest report that gives both.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit dew_point_spread(const Facts& facts) {
  Limit limit;
  limit.name = "dew_point_spread";
  limit.kind = LimitKind::look;
  limit.source = {Authority::handbook, "FAA-H-8083-11B ch. 4"};
  // The handbook's figures are met at the figure itself ("2.2 or less"); a hair is added as reports come in tenths.
  const TemperatureDelta hair = 0.001 * kelvin;
  limit.near_bound = Bound{measure::of(kDefaults.spread_near + hair), Side::at_least};
  limit.bound = Bound{measure::of(kDefaults.spread_outside + hair), Side::at_least};
  const wind::SurfaceReport* newest = nullptr;
  for (const wind::SurfaceReport& report : facts.morning.flight.reports)
    if (report.temperature && report.dew_point && (newest == nullptr || newest->source.time < report.source.time))
      newest = &report;
  if (newest == nullptr) {
    limit.finding = say("limit.dew_point_spread.unknown");
    limit.remedy = say("limit.dew_point_spread.look");
    return limit;
  }
  limit.value = measure::of(*newest->temperature - *newest->dew_point);
  limit.age = facts.age(newest->source.time);
  if (const auto own = facts.morning.flight.minimum.spread) put_own_beside(limit, measure::of(*own), Side::at_least);
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding =
      say(limit.state == LimitState::inside ? "limit.dew_point_spread.clear" : "limit.dew_point_spread.found",
          {{"value", *limit.value}, {"station", newest->station}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.dew_point_spread.wait");
  return limit;
}

}  // namespace pappus::sheet::limits
