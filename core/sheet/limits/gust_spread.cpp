// Gusts over the mean wind, of the newest surface report. A report without a gust group says that there were none to report.
#include <algorithm>

#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit gust_spread(const Facts& facts) {
  Limit limit;
  limit.name = "gust_spread";
  limit.kind = LimitKind::look;
  limit.source = {Authority::ours, {}};
  limit.near_bound = Bound{measure::wind(kDefaults.gust_spread_near), Side::at_most};
  limit.bound = Bound{measure::wind(kDefaults.gust_spread_outside), Side::at_most};
  const wind::SurfaceReport* report = facts.newest_report;
  if (report == nullptr || !report->wind_speed) {
    limit.finding = say("limit.gust_spread.unknown");
    limit.remedy = say("limit.gust_spread.look");
    return limit;
  }
  limit.value = measure::wind(report->gust ? std::max(Speed{}, *report->gust - *report->wind_speed) : Speed{});
  limit.age = facts.age(report->source.time);
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say("limit.gust_spread.found", {{"value", *limit.value}, {"station", report->station}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.surface_wind.wait");
  return limit;
}

}  // namespace pappus::sheet::limits
