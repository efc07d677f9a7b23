// Daylight at lift-off and at the planned landing.
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

// Whose bound daylight is, by the rule set named in the flight.
BoundSource authority(const Facts& facts) {
  if (facts.morning.flight.rules == RuleSet::eu) return {Authority::law, "BOP.BAS.185"};
  return {Authority::ours, "14 CFR 61.57(b), 91.209"};
}

std::optional<Limit> without_sun(const Facts& facts, Limit limit) {
  if (!facts.sun) {
    limit.finding = facts.sun.error().sentence;
  } else if (facts.sun->sun_always_up && !facts.sun->sunrise) {
    limit.state = LimitState::inside;
    limit.finding = say("limit.light.always_up");
  } else if (!facts.sun->sunrise || !facts.sun->sunset) {
    limit.state = LimitState::outside;
    limit.finding = say("limit.light.never_up");
    limit.remedy = say("limit.light.none");
  } else {
    return std::nullopt;
  }
  return limit;
}

}  // namespace

Limit light_launch(const Facts& facts) {
  Limit limit;
  limit.name = "light_launch";
  limit.source = authority(facts);
  if (auto settled = without_sun(facts, limit)) return *settled;
  const Instant launch = facts.morning.flight.time.at;
  const Instant sunrise = *facts.sun->sunrise, sunset = *facts.sun->sunset;
  // Where twilight lasts all night there is no civil dawn: the sun is then never lower than at the day's ends.
  const Instant dawn = facts.sun->civil_dawn.value_or(facts.sun->transit - 12.0 * hour);
  const Instant dusk = facts.sun->civil_dusk.value_or(facts.sun->transit + 12.0 * hour);
  limit.value = measure::of(launch - sunrise);
  limit.near_bound = Bound{measure::of(Duration{}), Side::at_least};
  limit.bound = Bound{measure::of(dawn - sunrise), Side::at_least};
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  const auto time = [&](Instant t) { return Moment{t, facts.morning.flight.time.offset}; };
  if (launch > sunset) {
    limit.state = launch > dusk ? LimitState::outside : LimitState::near;
    limit.value = measure::of(launch - sunset);
    limit.near_bound = Bound{measure::of(Duration{}), Side::at_most};
    limit.bound = Bound{measure::of(dusk - sunset), Side::at_most};
    limit.finding = say("limit.light_launch.after_sunset", {{"sunset", time(sunset)}});
  } else if (launch < sunrise) {
    limit.finding = say("limit.light_launch.before_sunrise", {{"dawn", time(dawn)}, {"sunrise", time(sunrise)}});
  } else {
    limit.finding = say("limit.light_launch.found", {{"sunrise", time(sunrise)}});
  }
  if (limit.state == LimitState::outside) limit.remedy = say("limit.light_launch.move");
  return limit;
}

Limit light_landing(const Facts& facts) {
  Limit limit;
  limit.name = "light_landing";
  limit.source = authority(facts);
  if (auto settled = without_sun(facts, limit)) return *settled;
  const Instant landing = facts.morning.flight.time.at + facts.morning.flight.planned;
  const Instant sunset = *facts.sun->sunset;
  const auto time = [&](Instant t) { return Moment{t, facts.morning.flight.time.offset}; };
  limit.value = measure::of(sunset - landing);
  limit.bound = Bound{measure::of(Duration{}), Side::at_least};
  limit.state = state_against(limit.value->si, std::nullopt, *limit.bound);
  limit.finding = say("limit.light_landing.found", {{"landing", time(landing)}, {"sunset", time(sunset)}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.light_landing.earlier");
  return limit;
}

}  // namespace pappus::sheet::limits
