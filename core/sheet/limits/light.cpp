// Daylight at lift-off and at the latest landing planned, as the height of the sun's centre: sunrise and sunset are -0.83 degrees,
// civil twilight ends at -6.
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

// A take-off at night has its own conditions in either law (lights and recent night landings; fuel to land by day): the
// bound is ours.
BoundSource launch_authority(const Facts& facts) {
  return {Authority::ours, facts.morning.flight.rules == RuleSet::eu ? "BOP.BAS.185" : "14 CFR 61.57(b), 91.209"};
}

Moment in_flight_offset(const Facts& facts, Instant t) { return Moment{t, facts.morning.flight.time.offset}; }

// The sun's height, or the reason why it is not known.
void look_up_sun(const Facts& facts, Instant when, Limit& limit) {
  const auto sun = sky::sun_at(when, facts.observer());
  if (!sun)
    limit.finding = sun.error().sentence;
  else
    limit.value = measure::of(sun->elevation_geometric);
}

}  // namespace

Limit light_launch(const Facts& facts) {
  Limit limit;
  limit.name = "light_launch";
  limit.source = launch_authority(facts);
  limit.near_bound = Bound{measure::of(sky::kSunriseElevation), Side::at_least};
  limit.bound = Bound{measure::of(sky::kCivilTwilightElevation), Side::at_least};
  const Instant launch = facts.morning.flight.time.at;
  look_up_sun(facts, launch, limit);
  if (!limit.value) return limit;
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  if (!facts.sun || !facts.sun->sunrise || !facts.sun->sunset)
    limit.finding = say(facts.sun && facts.sun->sun_always_up ? "limit.light.always_up" : "limit.light.never_up");
  else if (launch < facts.sun->transit)
    limit.finding = say("limit.light_launch.morning", {{"sunrise", in_flight_offset(facts, *facts.sun->sunrise)}});
  else
    limit.finding = say("limit.light_launch.evening", {{"sunset", in_flight_offset(facts, *facts.sun->sunset)}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.light_launch.move");
  return limit;
}

Limit light_landing(const Facts& facts) {
  Limit limit;
  limit.name = "light_landing";
  limit.source = {Authority::ours, "14 CFR 61.57(b), 91.209"};
  limit.bound = Bound{measure::of(sky::kSunriseElevation), Side::at_least};
  const rules::Set* set = rules_named(facts);
  const bool forbidden = set != nullptr && set->night && set->night_landing && set->night_landing->forbidden;
  if (forbidden) {
    limit.near_bound = limit.bound;
    limit.bound = Bound{measure::of(-set->night->sun_below_horizon), Side::at_least};
    bound_by(limit, set->night_landing->rule);
    note_locality(limit, set->night->rule);
  }
  const Instant landing = facts.morning.flight.time.at + facts.morning.flight.planned;
  look_up_sun(facts, landing, limit);
  if (!limit.value) return limit;
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  if (!facts.sun || !facts.sun->sunset)
    limit.finding = say(facts.sun && facts.sun->sun_always_up ? "limit.light.always_up" : "limit.light.never_up");
  else
    limit.finding = say("limit.light_landing.found", {{"landing", in_flight_offset(facts, landing)},
                                                      {"sunset", in_flight_offset(facts, *facts.sun->sunset)}});
  if (limit.state != LimitState::inside)
    limit.remedy = say(forbidden ? "limit.light_landing.by_day" : "limit.light_landing.earlier");
  return limit;
}

}  // namespace pappus::sheet::limits
