// Oxygen, by the pressure altitude at the highest height planned. Only where the flight comes within 1,000 ft of the
// height from which the law asks for it.
#include <algorithm>
#include <cctype>

#include "core/air/isa.hpp"
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

// Without a column of air the altitude itself stands in: kAltimeterError is how far pressure altitude may lie from it on a
// day with pressure and temperature far from the standard's.
constexpr Length kAltimeterError = 2000.0 * foot;

std::optional<PressureAltitude> pressure_altitude_at(const Facts& facts, AltitudeAmsl z) {
  if (!facts.columns) return std::nullopt;
  std::optional<PressureAltitude> highest;
  for (const air::AirColumn& column : *facts.columns) {
    const auto sample = column.at(z);
    if (!sample) return std::nullopt;
    const auto height = air::pressure_altitude(sample->air.pressure);
    if (!height) return std::nullopt;
    highest = highest ? std::max(*highest, *height) : *height;
  }
  return highest;
}

bool carries_oxygen(const balloon::Balloon& balloon) {
  return std::any_of(balloon.kit.begin(), balloon.kit.end(), [](const balloon::Kit& kit) {
    std::string what = kit.what;
    std::transform(what.begin(), what.end(), what.begin(),
                   [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; });
    return what.find("oxygen") != std::string::npos;
  });
}

}  // namespace

std::optional<Limit> oxygen(const Facts& facts) {
  const rules::Set* set = rules_named(facts);
  const auto top = facts.highest();
  if (set == nullptr || !set->oxygen || !top) return std::nullopt;
  const rules::Oxygen& rule = *set->oxygen;
  Limit limit;
  limit.name = "oxygen";
  const auto height = pressure_altitude_at(facts, *top);
  const PressureAltitude about = height.value_or(PressureAltitude::at(top->from_origin() + kAltimeterError));
  if (about <= rule.crew_above - kDefaults.oxygen_shown_below) return std::nullopt;
  limit.near_bound = Bound{measure::of(rule.crew_above), Side::at_most};
  limit.bound = Bound{measure::of(rule.crew_always_above.value_or(rule.everyone_above)), Side::at_most};
  bound_by(limit, rule.rule);
  if (!height) {
    limit.finding = say("limit.oxygen.unknown");
    limit.remedy = say("limit.crown_temperature.give_inputs");
    return limit;
  }
  limit.value = measure::of(*height);
  // The whole flight is the longest that it can be up there.
  const Duration planned = facts.morning.flight.planned;
  const rules::OxygenNeed need =
      rules::oxygen_need(rule, *height, planned <= rule.crew_after ? std::optional{planned} : std::nullopt);
  const Measure from = measure::of(rule.crew_above), time = measure::of(rule.crew_after);
  if (need.everyone == rules::Need::no && need.crew == rules::Need::no) {
    limit.state = LimitState::inside;
    limit.finding = say("limit.oxygen.none", {{"value", *limit.value}, {"from", from}});
    return limit;
  }
  const bool certain = need.everyone == rules::Need::yes || need.crew == rules::Need::yes;
  limit.finding = need.everyone == rules::Need::yes ? say("limit.oxygen.everyone", {{"value", *limit.value}})
                  : certain                         ? say("limit.oxygen.crew", {{"value", *limit.value}})
                            : say("limit.oxygen.crew_after", {{"value", *limit.value}, {"from", from}, {"time", time}});
  if (carries_oxygen(facts.morning.balloon)) {
    limit.state = LimitState::near;
    limit.remedy = say("limit.oxygen.check_it");
    return limit;
  }
  limit.state = certain ? LimitState::outside : LimitState::near;
  limit.remedy = say("limit.oxygen.lower", {{"from", from}, {"time", time}});
  return limit;
}

}  // namespace pappus::sheet::limits
