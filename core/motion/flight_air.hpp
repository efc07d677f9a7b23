/// The air that a flight goes through, cut into thin layers for the equations of motion.
#pragma once
#include <vector>

#include "core/air/column.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/motion/detail/kernel.hpp"

namespace pappus::motion {

/// Wind at an altitude, by where it blows to.
struct WindLevel {
  AltitudeAmsl altitude;
  Speed east, north;
};

/// Layers of at most 20 m from the column's ground to its top. Within one the temperature is linear and density times
/// temperature a parabola through three points of the column; wind is linear between its levels and keeps the value of
/// the lowest below it and of the highest above it. Without levels it is calm.
/// Errors    wind levels that do not rise ("motion.wind_order", Errc::bad_input); those of the column.
/// Accuracy  against the column itself: temperature within 0.2 K where an inversion bends within a layer, density
///           times temperature within 2e-6.
class FlightAir {
 public:
  static Result<FlightAir> from(const air::AirColumn& column, const std::vector<WindLevel>& winds);
  [[nodiscard]] AltitudeAmsl ground() const { return ground_; }
  [[nodiscard]] AltitudeAmsl top() const { return top_; }
  struct Sample {
    Temperature temperature;
    Density density;
    Speed east, north;
  };
  /// Domain: held to ground() .. top().
  [[nodiscard]] Sample at(AltitudeAmsl z) const;

  /// For the kernels.
  [[nodiscard]] detail::KernelAir kernel() const;

 private:
  FlightAir() = default;
  AltitudeAmsl ground_, top_;
  double spacing_m_ = 0.0;
  std::vector<detail::AirCell> cells_;
};

}  // namespace pappus::motion
