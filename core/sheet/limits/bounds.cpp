#include "core/sheet/limits/bounds.hpp"

namespace pappus::sheet::limits {
namespace {

// Whether `a` lets less through than `b`.
bool is_stricter(double a, double b, Side side) { return side == Side::at_most ? a < b : a > b; }

}  // namespace

void put_own_beside(Limit& limit, const std::optional<Measure>& own, Side side) {
  if (!own) return;
  if (limit.bound) {
    if (is_stricter(limit.bound->value.si, own->si, side)) {
      limit.notes.push_back(say("limit.own_laxer", {{"own", *own}, {"bound", limit.bound->value}}));
      return;
    }
    if (limit.bound->value.si == own->si) return;
    const bool beyond_both =
        limit.value && state_against(limit.value->si, std::nullopt, *limit.bound) == LimitState::outside;
    if (beyond_both) {
      limit.notes.push_back(say("limit.own_stricter", {{"own", *own}}));
      return;
    }
  }
  limit.bound = Bound{*own, side};
  limit.source = {Authority::own_minimum, {}};
  // 'Near' begins before 'outside', or with it.
  if (limit.near_bound && is_stricter(own->si, limit.near_bound->value.si, side)) limit.near_bound = limit.bound;
}

void bound_by(Limit& limit, const rules::Rule& rule) {
  limit.source = {Authority::law, rule.paragraph};
  note_locality(limit, rule);
}

void note_locality(Limit& limit, const rules::Rule& rule) {
  if (rule.local_first) limit.notes.push_back(say("limit.local_first"));
  if (!rule.sure) limit.notes.push_back(say("limit.check_locally", {{"paragraph", rule.paragraph}}));
}

const rules::Set* rules_named(const Facts& facts) {
  const auto& named = facts.morning.flight.rules;
  return named ? &rules::rules_of(*named) : nullptr;
}

}  // namespace pappus::sheet::limits
