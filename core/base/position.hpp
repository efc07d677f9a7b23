/// A place on the Earth, WGS 84.
#pragma once
#include "core/base/angle.hpp"
#include "core/base/issue.hpp"

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

}  // namespace pappus
