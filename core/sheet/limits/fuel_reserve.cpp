// Level flight left at landing, at one standard deviation on the unlucky side: on the smallest independent side, and
// where a rule asks for a reserve, on all of them together.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

// What both limits have in common; false where the fuel is not known.
bool judge(const Facts& facts, Duration least, Limit& limit) {
  limit.bound = Bound{measure::of(least), Side::at_least};
  limit.near_bound = Bound{measure::of(kDefaults.reserve_near * least), Side::at_least};
  if (!facts.fuel || !facts.reserves) {
    limit.finding = facts.fuel ? facts.reserves.error().sentence : facts.fuel.error().sentence;
    limit.remedy = say("limit.fuel_reserve.give_fuel");
    return false;
  }
  for (const CylinderFacts& c : facts.cylinders)
    if (c.seen && (!limit.age || facts.age(*c.seen) > *limit.age)) limit.age = facts.age(*c.seen);
  limit.notes.push_back(
      say("limit.fuel_reserve.unlucky_note", {{"uncertainty", measure::ratio(facts.own.heat.uncertainty)}}));
  return true;
}

// The cylinder whose contents are known least, to be tested first.
const CylinderFacts* widest(const Facts& facts) {
  const CylinderFacts* out = nullptr;
  for (const CylinderFacts& c : facts.cylinders)
    if (c.mass && (out == nullptr || *c.mass_high - *c.mass_low > *out->mass_high - *out->mass_low)) out = &c;
  return out;
}

// `at_most`: the value if the cylinders held the most they can.
void conclude(const Facts& facts, Limit& limit, Duration at_most) {
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  const bool short_at_most = !facts.reserves_at_most || facts.reserves_at_most->short_of > Mass{};
  const bool outside = limit.state == LimitState::outside || facts.reserves->short_of > Mass{};
  // With the least that may be in them it is outside, with the most it is not: nobody knows until one is tested.
  if (outside && !short_at_most && at_most >= limit.bound->value.si * second) {
    const CylinderFacts& c = *widest(facts);
    limit.state = LimitState::not_known;
    limit.finding = say("limit.fuel_reserve.contents_open", {{"id", c.cylinder->id},
                                                             {"low", measure::liquid(*c.liquid_low)},
                                                             {"high", measure::liquid(*c.liquid_high)},
                                                             {"reserve_low", *limit.value},
                                                             {"reserve_high", measure::of(at_most)}});
    limit.value.reset();
    limit.remedy = c.account ? say("account.next_" + std::string(name_of(c.account->next_test)))
                             : say("limit.fuel_reserve.give_fuel");
    return;
  }
  if (facts.reserves->short_of > Mass{}) {
    limit.state = LimitState::outside;
    limit.finding = say("limit.fuel_reserve.short", {{"mass", measure::of(facts.reserves->short_of)}});
  }
  if (limit.state != LimitState::inside) limit.remedy = say("limit.fuel_reserve.shorter");
}

}  // namespace

Limit fuel_reserve(const Facts& facts) {
  Limit limit;
  limit.name = "fuel_reserve";
  const auto own = facts.morning.flight.minimum.reserve;
  limit.source = {own ? Authority::own_minimum : Authority::ours, {}};
  // Our default is no law: an own minimum takes its place either way, and a laxer one is said to be.
  if (own && *own < usual_reserve(facts))
    limit.notes.push_back(say("limit.fuel_reserve.own_laxer", {{"bound", measure::of(usual_reserve(facts))}}));
  if (!judge(facts, reserve_held_to(facts), limit)) return limit;
  limit.value = measure::of(facts.reserves->smallest_side);
  const std::size_t sides = facts.reserves->sides.size();
  std::vector<Argument> told{{"value", *limit.value}, {"used", measure::of(facts.fuel->used_unlucky)}};
  if (sides > 1) told.push_back({"sides", measure::count(static_cast<double>(sides))});
  limit.finding = say(sides > 1 ? "limit.fuel_reserve.found" : "limit.fuel_reserve.one_side", std::move(told));
  conclude(facts, limit, facts.reserves_at_most ? facts.reserves_at_most->smallest_side : Duration{});
  return limit;
}

std::optional<Limit> fuel_reserve_rule(const Facts& facts) {
  // No rule of the United States gives balloons a reserve in minutes: 14 CFR 91.151 does not reach them.
  const rules::Set* set = rules_named(facts);
  if (set == nullptr) return std::nullopt;
  const auto least = rules::reserve_asked_for(*set, static_cast<int>(facts.morning.balloon.cylinders.size()));
  if (!least) return std::nullopt;
  Limit limit;
  limit.name = "fuel_reserve_rule";
  bound_by(limit, set->fuel_reserve->rule);
  if (!judge(facts, *least, limit)) return limit;
  Duration together;
  for (const balloon::SideReserve& side : facts.reserves->sides) together += side.reserve;
  limit.value = measure::of(together);
  limit.finding =
      say("limit.fuel_reserve_rule.found", {{"value", *limit.value}, {"used", measure::of(facts.fuel->used_unlucky)}});
  Duration at_most;
  if (facts.reserves_at_most)
    for (const balloon::SideReserve& side : facts.reserves_at_most->sides) at_most += side.reserve;
  conclude(facts, limit, at_most);
  return limit;
}

}  // namespace pappus::sheet::limits
