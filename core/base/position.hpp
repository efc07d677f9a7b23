/// A place on the Earth, WGS 84.
#pragma once
#include "core/base/angle.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus {

class Position {
 public:
  constexpr Position() = default;  // 0 N 0 E: so that structs can be filled step by step
  /// Domain: latitude -90 to 90, longitude -180 to 180 degrees; outside it, or not finite, Errc::bad_input.
  [[nodiscard]] static Result<Position> at(Angle latitude, Angle longitude);
  [[nodiscard]] constexpr Angle latitude() const { return latitude_; }
  [[nodiscard]] constexpr Angle longitude() const { return longitude_; }
  friend constexpr bool operator==(Position, Position) = default;

 private:
  constexpr Position(Angle latitude, Angle longitude) : latitude_{latitude}, longitude_{longitude} {}
  Angle latitude_, longitude_;
};

/// A way over the ground.
struct GroundOffset {
  Length east, north;
  friend constexpr bool operator==(GroundOffset, GroundOffset) = default;
};

/// The way from one place to another along a line of constant bearing, as air goes whose wind keeps its direction:
/// radii of curvature of the WGS 84 ellipsoid at the latitude half-way; across the antimeridian the short way.
/// Accuracy  1.5 m in 100 km up to 60 degrees of latitude, 4 m up to 70 (tests/data/rhumb.csv).
/// Laws      displacement(a, b) is the reverse of displacement(b, a).
[[nodiscard]] GroundOffset displacement(Position from, Position to);
/// Where that way leads to: its inverse.
/// Errors    Errc::bad_input where it would pass a pole.
/// Laws      displacement(from, *displaced(from, by)) == by within 1 mm, away from the poles.
[[nodiscard]] Result<Position> displaced(Position from, GroundOffset by);

}  // namespace pappus
