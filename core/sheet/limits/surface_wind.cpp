// The newest surface wind against the flight manual's launch limit and the pilot's own minimum.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit surface_wind(const Facts& facts) {
  Limit limit;
  limit.name = "surface_wind";
  limit.source = {Authority::flight_manual, {}};
  const auto manual = facts.morning.balloon.envelope.launch_wind_limit;
  if (manual) limit.bound = Bound{measure::wind(*manual), Side::at_most};
  limit.near_bound = Bound{measure::wind(kDefaults.surface_wind_near), Side::at_most};
  if (facts.surface_wind) limit.value = measure::wind(facts.surface_wind->value);
  if (const auto own = facts.morning.flight.minimum.surface_wind)
    put_own_beside(limit, measure::wind(*own), Side::at_most);
  if (!facts.surface_wind) {
    limit.finding = say("limit.surface_wind.unknown");
    limit.remedy = say("limit.surface_wind.look");
    return limit;
  }
  limit.age = facts.age(facts.surface_wind->time);
  if (!limit.bound) {
    limit.finding = say("limit.surface_wind.no_bound", {{"value", *limit.value}});
    limit.remedy = say("limit.surface_wind.give_bound");
    return limit;
  }
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  // A look is called by what was noted: a sign, or a speed.
  if (facts.surface_wind->from.list == SourceList::look)
    limit.finding = say("limit.surface_wind.by_eye", {{"value", *limit.value},
                                                      {"words", facts.surface_wind->name},
                                                      {"time", facts.local(facts.surface_wind->time)}});
  else
    limit.finding = say("limit.surface_wind.found", {{"value", *limit.value}, {"name", facts.surface_wind->name}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.surface_wind.wait");
  return limit;
}

}  // namespace pappus::sheet::limits
