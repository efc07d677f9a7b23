#include "core/base/angle.hpp"

#include "core/base/math.hpp"

namespace pappus {

Angle wrapped(Angle a) {
  double d = math::fmod(a.in(degree), 360.0);
  if (d < 0.0) d += 360.0;
  if (d >= 360.0) d = 0.0;  // -1e-20 + 360 rounds to 360
  return d * degree;
}

Angle short_way(Angle a) {
  const Angle w = wrapped(a);
  return w > 180.0 * degree ? w - 360.0 * degree : w;
}

double sin(Angle a) { return math::sin(a.in(radian)); }
double cos(Angle a) { return math::cos(a.in(radian)); }
double tan(Angle a) { return math::tan(a.in(radian)); }

}  // namespace pappus
