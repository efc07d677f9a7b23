// Level flight left at landing on the smallest independent side, at one standard deviation on the unlucky side.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit fuel_reserve(const Facts& facts) {
  const Flight& flight = facts.morning.flight;
  const bool single = facts.morning.balloon.cylinders.size() == 1;
  const Duration usual = single ? kDefaults.reserve_single_cylinder : kDefaults.reserve;
  Limit limit;
  limit.name = "fuel_reserve";
  Duration least = usual;
  limit.source =
      flight.rules == RuleSet::eu ? BoundSource{Authority::law, "AMC1 BOP.BAS.110"} : BoundSource{Authority::ours, {}};
  // An own minimum may be stricter than the law, never weaker; where there is no law it is the pilot's to set.
  if (flight.minimum.reserve && (limit.source.kind != Authority::law || *flight.minimum.reserve > usual)) {
    least = *flight.minimum.reserve;
    limit.source = {Authority::own_minimum, {}};
  }
  limit.bound = Bound{measure::of(least), Side::at_least};
  limit.near_bound = Bound{measure::of(kDefaults.reserve_near * least), Side::at_least};
  if (!facts.fuel || !facts.reserves) {
    limit.finding = facts.fuel ? facts.reserves.error().sentence : facts.fuel.error().sentence;
    limit.remedy = say("limit.fuel_reserve.give_fuel");
    return limit;
  }
  limit.value = measure::of(facts.reserves->smallest_side);
  for (const CylinderFacts& c : facts.cylinders)
    if (c.seen && (!limit.age || facts.age(*c.seen) > *limit.age)) limit.age = facts.age(*c.seen);
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  if (facts.reserves->short_of > Mass{}) {
    limit.state = LimitState::outside;
    limit.finding = say("limit.fuel_reserve.short", {{"mass", measure::of(facts.reserves->short_of)}});
  } else {
    limit.finding = say(facts.reserves->sides.size() == 1 ? "limit.fuel_reserve.one_side" : "limit.fuel_reserve.found",
                        {{"value", *limit.value},
                         {"used", measure::of(facts.fuel->used_unlucky)},
                         {"sides", measure::count(static_cast<double>(facts.reserves->sides.size()))}});
  }
  limit.notes.push_back(
      say("limit.fuel_reserve.unlucky_note", {{"uncertainty", measure::ratio(balloon::HeatSettings{}.uncertainty)}}));
  if (limit.state != LimitState::inside) limit.remedy = say("limit.fuel_reserve.shorter");
  return limit;
}

}  // namespace pappus::sheet::limits
