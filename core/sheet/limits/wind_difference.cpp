// How much the wind changes between the basket and 50 m or 150 m up: a change there takes lift away just after lift-off, tilts
// the envelope, and drops the balloon when it comes down through it.
#include "core/base/math.hpp"
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

Speed difference(wind::Wind a, wind::Wind b) {
  return math::hypot((a.east() - b.east()).in(metre_per_second), (a.north() - b.north()).in(metre_per_second)) *
         metre_per_second;
}

Limit wind_difference(const Facts& facts, std::string name, HeightAgl height, Speed near, BoundSource source,
                      Speed most) {
  Limit limit;
  limit.name = std::move(name);
  limit.source = std::move(source);
  limit.near_bound = Bound{measure::wind(near), Side::at_most};
  limit.bound = Bound{measure::wind(most), Side::at_most};
  const AltitudeAmsl ground = facts.morning.flight.field.elevation;
  const auto low = facts.winds.at(ground);
  const auto high = facts.winds.at(above(ground, height));
  if (!low || !high) {
    limit.finding = say("limit.wind_difference.unknown", {{"height", measure::of(height)}});
    limit.remedy = say("limit.winds_known.pibal");
    return limit;
  }
  limit.value = measure::wind(difference(low->wind, high->wind));
  Instant oldest = facts.morning.as_of.at;
  for (const auto* level : {&*low, &*high})
    for (const wind::Source& s : level->sources)
      if (s.time < oldest) oldest = s.time;
  limit.age = facts.age(oldest);
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding =
      say(limit.state == LimitState::inside ? "limit.wind_difference.slight" : "limit.wind_difference.found",
          {{"value", *limit.value}, {"height", measure::of(height)}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.wind_difference.wait");
  return limit;
}

}  // namespace

Limit wind_difference_low(const Facts& facts) {
  return wind_difference(facts, "wind_difference_50m", agl(50.0 * metre), kDefaults.wind_difference_low_near,
                         {Authority::ours, {}}, kDefaults.wind_difference_low_outside);
}

Limit wind_difference_high(const Facts& facts) {
  return wind_difference(facts, "wind_difference_150m", agl(150.0 * metre), kDefaults.wind_difference_high_near,
                         {Authority::handbook, "FAA-H-8083-11B ch. 4"}, kDefaults.wind_difference_high_outside);
}

}  // namespace pappus::sheet::limits
