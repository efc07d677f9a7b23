#include "core/sheet/limit.hpp"

#include <cmath>

namespace pappus::sheet {
namespace {

bool beyond(double value, const Bound& bound) {
  return bound.side == Side::at_most ? value > bound.value.si : value < bound.value.si;
}

}  // namespace

bool may_be_accepted(const Limit& limit) {
  return limit.source.kind != Authority::law && limit.source.kind != Authority::flight_manual;
}

LimitState state_against(double value_si, const std::optional<Bound>& near_bound, const Bound& bound) {
  if (!std::isfinite(value_si)) return LimitState::not_known;
  if (beyond(value_si, bound)) return LimitState::outside;
  if (near_bound && beyond(value_si, *near_bound)) return LimitState::near;
  return LimitState::inside;
}

Standing standing_of(const std::vector<Limit>& limits) {
  bool against = false, not_known = false, with_care = false;
  for (const Limit& limit : limits) {
    switch (limit.state) {
      case LimitState::inside: break;
      case LimitState::near: with_care = true; break;
      case LimitState::outside:
        if (limit.accepted && may_be_accepted(limit))
          with_care = true;
        else
          against = true;
        break;
      case LimitState::not_known: (limit.kind == LimitKind::must ? not_known : with_care) = true; break;
    }
  }
  if (against) return Standing::against;
  if (not_known) return Standing::not_known;
  return with_care ? Standing::with_care : Standing::nothing_against;
}

}  // namespace pappus::sheet
