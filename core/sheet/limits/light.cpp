// Daylight at lift-off and at the planned landing, as the height of the sun's centre: sunrise and sunset are -0.83 degrees,
// civil twilight ends at -6.
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

// Whose bound daylight is, by the rule set named in the flight.
BoundSource authority(const Facts& facts) {
  if (facts.morning.flight.rules == RuleSet::eu) return {Authority::law, "BOP.BAS.185"};
  return {Authority::ours, "14 CFR 61.57(b), 91.209"};
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
  limit.source = authority(facts);
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
  limit.source = authority(facts);
  limit.bound = Bound{measure::of(sky::kSunriseElevation), Side::at_least};
  const Instant landing = facts.morning.flight.time.at + facts.morning.flight.planned;
  look_up_sun(facts, landing, limit);
  if (!limit.value) return limit;
  limit.state = state_against(limit.value->si, std::nullopt, *limit.bound);
  if (!facts.sun || !facts.sun->sunset)
    limit.finding = say(facts.sun && facts.sun->sun_always_up ? "limit.light.always_up" : "limit.light.never_up");
  else
    limit.finding = say("limit.light_landing.found", {{"landing", in_flight_offset(facts, landing)},
                                                      {"sunset", in_flight_offset(facts, *facts.sun->sunset)}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.light_landing.earlier");
  return limit;
}

}  // namespace pappus::sheet::limits
