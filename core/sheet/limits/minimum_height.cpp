// The least height over the ground flown over, save for take-off and landing: which one it is, and whether the flight is
// planned high enough to keep it. A local rule goes before the general one.
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

Sentence found(const rules::MinimumHeight& rule) {
  const Measure height = measure::height(rule.height);
  switch (rule.above) {
    case rules::HeightAbove::highest_obstacle:
      return say("limit.minimum_height.obstacle",
                 {{"height", height}, {"within", measure::distance(rule.within.value_or(Length{}))}});
    case rules::HeightAbove::surface: return say("limit.minimum_height.surface", {{"height", height}});
    case rules::HeightAbove::people_and_structures: return say("limit.minimum_height.people", {{"height", height}});
  }
  return say("limit.minimum_height.surface", {{"height", height}});
}

// A distance from people and structures says nothing of the height over open ground.
bool is_a_height(const rules::MinimumHeight& rule) { return rule.above != rules::HeightAbove::people_and_structures; }

}  // namespace

Limit minimum_height(const Facts& facts) {
  const Flight& flight = facts.morning.flight;
  Limit limit;
  limit.name = "minimum_height";
  limit.kind = LimitKind::look;
  limit.source = {Authority::law, {}};
  const rules::Set* set = rules_named(facts);
  std::optional<HeightAgl> least = flight.field.local_minimum_height;
  if (least) {
    limit.finding = say("limit.minimum_height.local", {{"height", measure::of(*least)}});
  } else if (set != nullptr && flight.field.ground) {
    const rules::MinimumHeight* rule = rules::minimum_height(*set, *flight.field.ground);
    // A law without a rule for such ground: what holds elsewhere is the stricter.
    if (rule == nullptr) rule = rules::minimum_height(*set, rules::Ground::elsewhere);
    if (rule != nullptr) {
      limit.finding = found(*rule);
      bound_by(limit, rule->rule);
      // Where only a distance from people and structures is asked, no height is the answer: it has to be looked at.
      if (!is_a_height(*rule)) {
        limit.remedy = say("limit.minimum_height.keep_away");
        return limit;
      }
      least = agl(rule->height);
    }
  }
  if (!least) {
    limit.finding = say(set == nullptr ? "limit.minimum_height.no_rules" : "limit.minimum_height.no_ground");
    limit.remedy = say(set == nullptr ? "limit.minimum_height.give_rules" : "limit.minimum_height.give_ground");
    return limit;
  }
  if (!flight.highest) {
    limit.remedy = say("fact.highest_missing");
    return limit;
  }
  limit.value = measure::of(*flight.highest);
  limit.bound = Bound{measure::of(*least), Side::at_least};
  limit.state = state_against(limit.value->si, std::nullopt, *limit.bound);
  if (limit.state == LimitState::outside) limit.remedy = say("limit.minimum_height.higher");
  return limit;
}

}  // namespace pappus::sheet::limits
