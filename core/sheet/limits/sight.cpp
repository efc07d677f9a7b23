#include "core/sheet/limits/sight.hpp"

#include <vector>

#include "core/sheet/limits/bounds.hpp"

namespace pappus::sheet::limits {
namespace {

// Day, night, or both where it changes on the way or can't be told.
std::vector<rules::Light> lights_of(const Facts& facts, const rules::Set& set) {
  const Flight& flight = facts.morning.flight;
  const Angle below = set.night ? set.night->sun_below_horizon : -sky::kCivilTwilightElevation;
  bool day = false, night = false;
  for (const Instant t : {flight.time.at, flight.time.at + flight.planned}) {
    const auto sun = sky::sun_at(t, facts.observer());
    if (!sun || sun->elevation_geometric >= -below) day = true;
    if (!sun || sun->elevation_geometric < -below) night = true;
  }
  std::vector<rules::Light> lights;
  if (day) lights.push_back(rules::Light::day);
  if (night) lights.push_back(rules::Light::night);
  return lights;
}

}  // namespace

SightRules sight_rules(const Facts& facts) {
  const Flight& flight = facts.morning.flight;
  const rules::Set* set = rules_named(facts);
  SightRules out;
  if (set == nullptr || !flight.field.airspace) return out;
  out.named = true;
  std::vector<HeightAgl> heights{HeightAgl{}};
  if (flight.highest) heights.push_back(*flight.highest);
  HeightAgl least;
  for (const rules::Light light : lights_of(facts, *set))
    for (const HeightAgl height : heights) {
      const rules::VfrMinimum* rule =
          rules::vfr_minimum(*set, *flight.field.airspace, light, above(flight.field.elevation, height), height);
      if (rule == nullptr) {
        out.missing = true;
        continue;
      }
      if (out.visible == nullptr || rule->visibility > out.visible->visibility) out.visible = rule;
      const HeightAgl cloud = height + rule->below_cloud.value_or(Length{});
      if (out.clear == nullptr || cloud > least) {
        out.clear = rule;
        least = cloud;
      }
    }
  if (flight.highest && out.clear != nullptr) out.cloud_above = least;
  return out;
}

void tell_no_minimum(const Facts& facts, Limit& limit) {
  limit.kind = LimitKind::must;
  limit.finding =
      say("limit.visibility.none_there", {{"airspace", std::string(name_of(*facts.morning.flight.field.airspace))}});
  limit.remedy = say("limit.visibility.ask_airspace");
}

const Look* newest_look(const Facts& facts, std::string_view what) {
  const Look* newest = nullptr;
  for (const Look& look : facts.morning.flight.looks)
    if (look.what == what && (newest == nullptr || newest->time.at < look.time.at)) newest = &look;
  return newest;
}

Witness witness_of(const Look* look, const wind::SurfaceReport* report) {
  if (look == nullptr) return report == nullptr ? Witness::nobody : Witness::report;
  const bool holds = report == nullptr || report->source.time - look->time.at <= kLookHolds;
  return holds ? Witness::look : Witness::stale_look;
}

}  // namespace pappus::sheet::limits
