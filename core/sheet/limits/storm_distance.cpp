// The nearest thunderstorm, as entered; a report that speaks of one at or near its station is held against it.
#include <algorithm>

#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"
#include "core/sheet/limits/sight.hpp"

namespace pappus::sheet::limits {
namespace {

bool speaks_of_storm(const wind::SurfaceReport& report) {
  return std::any_of(report.weather.begin(), report.weather.end(),
                     [](const std::string& group) { return group.find("TS") != std::string::npos; });
}

}  // namespace

Limit storm_distance(const Facts& facts) {
  Limit limit;
  limit.name = "storm_distance";
  limit.kind = LimitKind::look;
  limit.source = {Authority::handbook, "FAA-H-8083-11B ch. 4"};
  limit.near_bound = Bound{measure::distance(kDefaults.storm_near), Side::at_least};
  limit.bound = Bound{measure::distance(kDefaults.storm_outside), Side::at_least};
  if (facts.newest_report != nullptr && speaks_of_storm(*facts.newest_report)) {
    limit.state = LimitState::outside;
    limit.age = facts.age(facts.newest_report->source.time);
    limit.finding = say("limit.storm_distance.reported", {{"station", facts.newest_report->station}});
    limit.remedy = say("limit.storm_distance.wait");
    return limit;
  }
  const Look* newest = newest_look(facts, "storm");
  if (newest == nullptr) {
    limit.finding = say("limit.storm_distance.unknown");
    limit.remedy = say("limit.storm_distance.look");
    return limit;
  }
  limit.age = facts.age(newest->time.at);
  if (!newest->value) {
    // Only "none" says that none was seen; other words are for people.
    const bool none = newest->words == "none";
    limit.state = none ? LimitState::inside : LimitState::not_known;
    limit.finding = say(none ? "limit.storm_distance.none" : "limit.storm_distance.words", {{"time", newest->time}});
    if (!none) limit.remedy = say("limit.storm_distance.look");
    return limit;
  }
  limit.value = newest->value;
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say("limit.storm_distance.found", {{"value", *limit.value}, {"time", newest->time}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.storm_distance.wait");
  return limit;
}

}  // namespace pappus::sheet::limits
