// The crown temperature expected at the worst height flown, against the flight manual's limit.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit crown_temperature(const Facts& facts) {
  Limit limit;
  limit.name = "crown_temperature";
  limit.source = {Authority::flight_manual, {}};
  const auto bound = facts.morning.balloon.envelope.crown_limit;
  if (bound) {
    limit.bound = Bound{measure::of(*bound), Side::at_most};
    limit.near_bound = Bound{measure::of(*bound - kDefaults.crown_near), Side::at_most};
  }
  if (!facts.lift) {
    limit.finding = facts.lift.error().sentence;
    limit.remedy = say("limit.crown_temperature.give_inputs");
    return limit;
  }
  const balloon::LiftAt& worst = facts.lift->worst;
  limit.value = measure::of(worst.crown_expected);
  if (facts.temperature) limit.age = facts.age(facts.temperature->time);
  if (!bound) {
    limit.finding = say("limit.crown_temperature.no_bound", {{"value", *limit.value}});
    limit.remedy = say("limit.crown_temperature.give_bound");
    return limit;
  }
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  const Measure height = measure::of(height_over(facts.morning.flight.field.elevation, worst.altitude));
  limit.finding = say(worst.margin >= Mass{} ? "limit.crown_temperature.found" : "limit.crown_temperature.too_heavy",
                      {{"value", *limit.value}, {"height", height}, {"margin", measure::of(abs(worst.margin))}});
  // Assumed air is never good news.
  if (worst.filling != air::Filling::measured) {
    limit.notes.push_back(
        say(facts.temperature_aloft_assumed ? "lift.aloft_assumed_note" : "lift.beyond_measured_note"));
    if (limit.state == LimitState::inside) limit.state = LimitState::near;
    limit.remedy = say("limit.crown_temperature.measure_aloft");
  }
  if (!facts.load_known) limit.notes.push_back(say("load.unknown_counted_full"));
  if (limit.state == LimitState::outside)
    limit.remedy = say("limit.crown_temperature.lighten", {{"mass", measure::of(-worst.margin)}});
  return limit;
}

}  // namespace pappus::sheet::limits
