// The strongest wind on the way up, from the ground to the highest height planned. The handbook names 25 kt above an
// inversion as the wind from which its shear is dangerous; what is not known of the winds is another limit's business.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit strongest_wind(const Facts& facts) {
  Limit limit;
  limit.name = "strongest_wind";
  limit.kind = LimitKind::look;
  limit.source = {Authority::handbook, "FAA-H-8083-11B ch. 4"};
  limit.near_bound = Bound{measure::wind(kDefaults.strongest_wind_near), Side::at_most};
  limit.bound = Bound{measure::wind(kDefaults.strongest_wind_outside), Side::at_most};
  const auto highest = facts.highest();
  const wind::Level* strongest = nullptr;
  for (const wind::Level& level : facts.winds.levels())
    if (highest && level.altitude <= *highest && (strongest == nullptr || level.wind.speed() > strongest->wind.speed()))
      strongest = &level;
  if (strongest == nullptr) {
    limit.finding = say("limit.strongest_wind.unknown");
    limit.remedy = say("limit.winds_known.pibal");
    return limit;
  }
  const HeightAgl height = height_over(facts.winds.ground(), strongest->altitude);
  Speed speed = strongest->wind.speed();
  HeightAgl at = height;
  // Between two levels the wind goes over from one to the other; at the highest height flown it can be more than below.
  if (const auto top = facts.winds.at(*highest); top && top->wind.speed() > speed) {
    speed = top->wind.speed();
    at = height_over(facts.winds.ground(), *highest);
  }
  limit.value = measure::wind(speed);
  for (const wind::Source& source : strongest->sources)
    if (!limit.age || facts.age(source.time) > *limit.age) limit.age = facts.age(source.time);
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say("limit.strongest_wind.found", {{"value", *limit.value}, {"height", measure::of(at)}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.strongest_wind.lower");
  return limit;
}

}  // namespace pappus::sheet::limits
