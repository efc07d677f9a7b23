/// Angles, and directions in which true and magnetic north cannot be confused.
#pragma once
#include <compare>

namespace pappus {

/// A plane angle, held in degrees so that what was typed is what is printed.
class Angle {
 public:
  constexpr Angle() = default;
  [[nodiscard]] static constexpr Angle from_degrees(double d) { return Angle{d}; }
  [[nodiscard]] constexpr double in(Angle unit) const { return degrees_ / unit.degrees_; }
  friend constexpr Angle operator+(Angle a, Angle b) { return Angle{a.degrees_ + b.degrees_}; }
  friend constexpr Angle operator-(Angle a, Angle b) { return Angle{a.degrees_ - b.degrees_}; }
  friend constexpr Angle operator-(Angle a) { return Angle{-a.degrees_}; }
  friend constexpr Angle operator*(double k, Angle a) { return Angle{k * a.degrees_}; }
  friend constexpr Angle operator/(Angle a, double k) { return Angle{a.degrees_ / k}; }
  friend constexpr auto operator<=>(Angle, Angle) = default;

 private:
  explicit constexpr Angle(double degrees) : degrees_{degrees} {}
  double degrees_ = 0.0;
};

inline constexpr double pi = 3.14159265358979323846;
inline constexpr Angle degree = Angle::from_degrees(1.0);
inline constexpr Angle radian = Angle::from_degrees(180.0 / pi);

/// `a` brought into [0, 360) degrees. Domain: finite.
[[nodiscard]] Angle wrapped(Angle a);
/// `a` brought into (-180, 180] degrees: the short way round. Domain: finite.
[[nodiscard]] Angle short_way(Angle a);

[[nodiscard]] double sin(Angle a);
[[nodiscard]] double cos(Angle a);
[[nodiscard]] double tan(Angle a);

/// A horizontal direction counted clockwise from a named north, in [0, 360) degrees.
template <class North>
class Bearing {
 public:
  constexpr Bearing() = default;
  [[nodiscard]] static Bearing at(Angle from_north) { return Bearing{wrapped(from_north)}; }
  [[nodiscard]] constexpr Angle from_north() const { return angle_; }
  [[nodiscard]] Bearing reversed() const { return at(angle_ + 180.0 * degree); }
  /// The turn from `b` to `a` the short way round, clockwise positive.
  friend Angle operator-(Bearing a, Bearing b) { return short_way(a.angle_ - b.angle_); }
  friend constexpr auto operator<=>(Bearing, Bearing) = default;

 private:
  explicit constexpr Bearing(Angle a) : angle_{a} {}
  Angle angle_;
};
using TrueBearing = Bearing<struct TrueNorth>;
using MagneticBearing = Bearing<struct MagneticNorth>;  // minus a TrueBearing: does not compile

/// The variation (declination) of the compass at one place and time, east positive.
struct Variation {
  Angle east;
};
[[nodiscard]] inline TrueBearing to_true(MagneticBearing b, Variation v) {
  return TrueBearing::at(b.from_north() + v.east);
}
[[nodiscard]] inline MagneticBearing to_magnetic(TrueBearing b, Variation v) {
  return MagneticBearing::at(b.from_north() - v.east);
}

}  // namespace pappus
