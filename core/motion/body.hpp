/// A balloon as the equations of motion see it.
///
/// The defaults that are marked 'ours' were set against published descents and climbs (tests/data/motion_sanity.csv,
/// hits and misses); drag is known within 35 %. What follows from them is for planning: the flight manual and the pilot
/// decide.
#pragma once
#include <optional>

#include "core/balloon/burn.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/motion/detail/kernel.hpp"
#include "core/motion/flight_air.hpp"

namespace pappus::motion {

struct BodySettings {
  double drag_up = 0.45;           // on the section of the natural shape. 0.1 to 2. Ours
  double drag_down = 0.8;          // 0.1 to 2. Ours
  double drag_side = 0.5;          // 0.1 to 2. Ours
  double added_mass = 0.5;         // of the air displaced: a sphere in potential flow. 0 to 2
  Duration mixing = 8.0 * second;  // until heat from the flame lifts (handbook: 6 to 15 s). 1 to 60 s. Ours
  Area vent = {};                  // opening of the vent at the crown; none: it is not used. To 50 m2
  double vent_discharge = 0.6;     // 0.3 to 1. Ours
  TemperatureDelta crown_excess = 20.0 * kelvin;  // crown over mean. 0 to 60 K
  // Over what the model says. 0.3 to 3. A balloon's own figure goes into `heat.loss`, whose flux is fitted here; this
  // one multiplies on top of it, and stays 1 where that is set.
  double loss = 1.0;
};

struct BodyInputs {
  Volume volume;
  Mass mass;  // all that flies, with its fuel at lift-off, but not the air inside
  std::optional<Temperature> crown_limit = std::nullopt;  // none: the mean is held to 120 C
  MassFlow flame;                                         // what all burners that may be lit take. Up to 2 kg/s
  balloon::HeatSettings heat = {};
  BodySettings settings = {};
};

/// Heat flux through the fabric is the model's (burn.hpp), fitted for this balloon over the air it flies in: inside 15
/// to 110 K over outside, air past it up to 8 m/s.
/// Domain    as burn.hpp and the ranges above ("motion.<setting>_outside", Errc::out_of_range); mass 50 to 20,000 kg.
/// Accuracy  of the fit: fit_error(), the largest difference from the model over the range, relative to its flux or to
///           that at 30 K, whichever is more: 4 % for usual fabric, 8 % with bright fabric in the sun; above 10 % the
///           body is refused ("motion.heat_fit", Errc::out_of_range). The model itself is good for 25 %.
class Body {
 public:
  static Result<Body> from(const BodyInputs& inputs, const FlightAir& air);
  [[nodiscard]] const BodyInputs& inputs() const { return inputs_; }
  [[nodiscard]] double fit_error() const { return fit_error_; }
  /// The mean inside temperature at which this air carries the mass; none up to 200 C: none.
  [[nodiscard]] std::optional<Temperature> carrying(const FlightAir::Sample& air, Mass mass) const;
  /// The hottest mean that the crown's limit leaves.
  [[nodiscard]] Temperature hottest_mean() const;
  /// Lift less mass at a mean temperature.
  [[nodiscard]] Mass excess(const FlightAir::Sample& air, Temperature inside, Mass mass) const;
  /// The steady climb, or below zero the sink, at which drag holds `excess`.
  [[nodiscard]] Speed steady(const FlightAir::Sample& air, Mass excess) const;

  /// For the kernels.
  [[nodiscard]] const detail::KernelBody& kernel() const { return kernel_; }

 private:
  Body() = default;
  BodyInputs inputs_;
  detail::KernelBody kernel_{};
  double fit_error_ = 0.0;
};

}  // namespace pappus::motion
