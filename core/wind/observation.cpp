#include "core/wind/observation.hpp"

#include "core/base/math.hpp"

namespace pappus::wind {

Wind Wind::from(TrueBearing direction, Speed speed) {
  const Angle a = direction.from_north();
  return Wind{-(speed * sin(a)), -(speed * cos(a))};
}

Speed Wind::speed() const {
  return math::hypot(east_.in(metre_per_second), north_.in(metre_per_second)) * metre_per_second;
}

std::optional<TrueBearing> Wind::direction_from() const {
  if (speed() < 0.01 * metre_per_second) return std::nullopt;
  const double radians = math::atan2(-east_.in(metre_per_second), -north_.in(metre_per_second));
  return TrueBearing::at(radians * radian);
}

}  // namespace pappus::wind
