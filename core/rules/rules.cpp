#include "core/rules/rules.hpp"

#include <algorithm>

#include "core/base/math.hpp"
#include "rules_data.hpp"

namespace pappus::rules {
namespace {

std::string_view file_of(Which which) {
  switch (which) {
    case Which::us: return data::us;
    case Which::eu: return data::eu;
  }
  return {};
}

bool is_within(const VfrMinimum& minimum, AltitudeAmsl altitude, HeightAgl height) {
  if (minimum.below_amsl && altitude >= *minimum.below_amsl) return false;
  if (!minimum.up_to_agl && !minimum.up_to_amsl) return true;
  return (minimum.up_to_agl && height <= *minimum.up_to_agl) || (minimum.up_to_amsl && altitude <= *minimum.up_to_amsl);
}

}  // namespace

const Set& rules_of(Which which) {
  static const Set us = *read_rules(Which::us, file_of(Which::us), {}).value;
  static const Set eu = *read_rules(Which::eu, file_of(Which::eu), {}).value;
  return which == Which::us ? us : eu;
}

std::vector<Issue> rule_issues(Which which) {
  return read_rules(which, file_of(which), "data/rules/" + std::string(name_of(which)) + ".toml").issues;
}

const VfrMinimum* vfr_minimum(const Set& set, Airspace airspace, Light light, AltitudeAmsl altitude, HeightAgl height) {
  for (const VfrMinimum& minimum : set.vfr) {
    const bool here =
        std::find(minimum.airspaces.begin(), minimum.airspaces.end(), airspace) != minimum.airspaces.end();
    const bool now = minimum.light == Light::any || minimum.light == light;
    if (here && now && is_within(minimum, altitude, height)) return &minimum;
  }
  return nullptr;
}

const MinimumHeight* minimum_height(const Set& set, Ground ground) {
  for (const MinimumHeight& minimum : set.height)
    if (minimum.ground == ground) return &minimum;
  return nullptr;
}

bool obstacle_counts(const MinimumHeight& minimum, Length away) { return !minimum.within || away <= *minimum.within; }

Length height_for_clearance(Length clearance, Length away) {
  const double c = clearance.in(metre), a = away.in(metre);
  return math::sqrt(std::max(0.0, c * c - a * a)) * metre;
}

OxygenNeed oxygen_need(const Oxygen& oxygen, PressureAltitude highest, std::optional<Duration> time_above) {
  OxygenNeed need;
  need.everyone = highest > oxygen.everyone_above ? Need::yes : Need::no;
  if (highest > oxygen.crew_always_above.value_or(oxygen.everyone_above))
    need.crew = Need::yes;
  else if (highest <= oxygen.crew_above)
    need.crew = Need::no;
  else if (time_above)
    need.crew = *time_above > oxygen.crew_after ? Need::yes : Need::no;
  return need;
}

std::optional<Duration> reserve_asked_for(const Set& set, int cylinders) {
  if (!set.fuel_reserve) return std::nullopt;
  return cylinders == 1 && set.fuel_reserve->single_cylinder ? set.fuel_reserve->single_cylinder
                                                             : set.fuel_reserve->reserve;
}

bool extra_crew_asked_for(const Set& set, int passengers) {
  return set.extra_crew && passengers > set.extra_crew->passengers_more_than;
}

bool own_locator_asked_for(const Set& set, int persons) {
  return set.locator && persons > set.locator->persons_more_than;
}

Group group_of(const Groups& groups, Volume envelope) {
  if (envelope <= groups.a_up_to) return Group::a;
  if (envelope <= groups.b_up_to) return Group::b;
  return envelope <= groups.c_up_to ? Group::c : Group::d;
}

}  // namespace pappus::rules
