/// The air above a field: temperature, humidity and pressure by height. Lift reads it and wind fills it.
#pragma once
#include <optional>
#include <span>
#include <vector>

#include "core/air/humidity.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::air {

/// A temperature known at one altitude.
struct TemperatureLevel {
  AltitudeAmsl altitude;
  Temperature temperature;
};

/// How the temperature above the highest known level, or with none known, was filled in.
enum class Filling {
  measured,   // between known levels
  standard,   // -6.5 K/km from the highest known level
  inversion,  // +10 K over the first 300 m above the surface, then -6.5 K/km
};

/// A column of air that answers for every altitude from its ground to its top: validated when made.
class AirColumn {
 public:
  struct Inputs {
    AltitudeAmsl ground;
    Pressure surface_pressure;  // station pressure at `ground`
    Temperature surface_temperature;
    std::optional<Temperature> dew_point;  // absent: dry, which flatters lift by under 1.3 % below 30 C; see moist()
    std::vector<TemperatureLevel> aloft;   // above the ground; any order; doubles of one altitude are refused
    Filling above = Filling::standard;     // what to assume above the highest of `aloft`
    AltitudeAmsl top;                      // at most 6000 m above the ground
  };
  /// Errors    Errc::bad_input for levels at or below the ground, doubled levels or temperatures outside -60 to 60 C.
  static Result<AirColumn> from(Inputs inputs);

  [[nodiscard]] AltitudeAmsl ground() const { return ground_; }
  [[nodiscard]] AltitudeAmsl top() const { return top_; }

  struct Sample {
    MoistAir air;
    Filling filling = Filling::measured;
  };
  /// Temperature linear between levels; mixing ratio constant up to saturation; pressure by the hypsometric equation
  /// with the virtual temperature, integrated upwards from the surface in steps of at most 10 m.
  /// Domain    ground() to top(); outside it Errc::out_of_range.
  /// Laws      pressure falls strictly with altitude; a column with the standard lapse and dry air gives the standard
  ///           atmosphere's pressure within 2 Pa at 3 km above sea level.
  [[nodiscard]] Result<Sample> at(AltitudeAmsl z) const;

 private:
  AirColumn() = default;
  AltitudeAmsl ground_, top_;
  double mixing_ratio_ = 0.0;
  std::vector<double> z_, t_, p_;  // nodes: m above ground, K, Pa
  std::size_t measured_nodes_ = 0;
  Filling above_ = Filling::standard;
};

}  // namespace pappus::air
