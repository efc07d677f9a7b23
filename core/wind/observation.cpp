#include "core/wind/observation.hpp"

#include "core/base/math.hpp"

namespace pappus::wind {

Wind Wind::from(TrueBearing direction, Speed speed) {
  // Air that comes from a direction moves away from it: hence both signs.
  const Angle d = direction.from_north();
  return Wind{-sin(d) * speed, -cos(d) * speed};
}

Speed Wind::speed() const {
  return math::hypot(east_.in(metre_per_second), north_.in(metre_per_second)) * metre_per_second;
}

std::optional<TrueBearing> Wind::direction_from() const {
  if (speed() < 0.01 * metre_per_second) return std::nullopt;
  return TrueBearing::at(math::atan2(-east_.in(metre_per_second), -north_.in(metre_per_second)) * radian);
}

}  // namespace pappus::wind
