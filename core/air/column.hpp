/// The air above a field: temperature, humidity and pressure by height. Lift reads it and wind fills it.
#pragma once
#include <optional>
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
  measured,   // at or between known levels; the reading at the ground is one
  standard,   // -6.5 K/km from the highest known level
  inversion,  // +10 K over the first 300 m above the ground, then -6.5 K/km
};

/// A column of air that answers for every altitude from its ground to its top: validated when made.
class AirColumn {
 public:
  struct Inputs {
    AltitudeAmsl ground;
    Pressure surface_pressure;  // station pressure at `ground`
    Temperature surface_temperature;
    /// Absent: dry, which flatters lift: by 1.6 % in saturated air of 30 C at sea level, by 0.6 % at 15 C.
    std::optional<Temperature> dew_point;
    std::vector<TemperatureLevel> aloft;  // above the ground; any order; 1 mm apart at least
    /// What to assume above the highest of `aloft`. An inversion is a guess for a morning of which nothing is known
    /// aloft: with levels known it is refused.
    Filling above = Filling::standard;
    AltitudeAmsl top;  // 1 to 6000 m above the ground
  };
  /// Of levels at or above `top` only the lowest is used; those beyond it are not judged.
  /// Errors    Errc::out_of_range for ground outside -450 to 6000 m ("column.ground_outside"), a top that is
  ///           not 1 to 6000 m above the ground ("column.top_outside"), surface pressure outside 300 to 1200 hPa
  ///           ("column.pressure_outside"), a filled temperature outside -80 to 60 C
  ///           ("column.filled_temperature_outside"); Errc::bad_input for a temperature outside -60 to 60 C
  ///           ("column.temperature_outside"), a level at or below the ground ("column.level_not_above_ground") or
  ///           doubled ("column.level_doubled"); Errc::bad_call for an `above` of `measured`, or of `inversion` with
  ///           levels known ("column.filling_measured", "column.inversion_with_levels"); and MoistAir's for the dew
  ///           point.
  static Result<AirColumn> from(Inputs inputs);

  [[nodiscard]] AltitudeAmsl ground() const { return ground_; }
  [[nodiscard]] AltitudeAmsl top() const { return top_; }

  struct Sample {
    MoistAir air;
    Filling filling = Filling::measured;
  };
  /// Temperature linear between levels (in geopotential altitude, as the standard atmosphere's is); mixing ratio that
  /// of the surface up to saturation; pressure by the hypsometric equation with the virtual temperature, integrated
  /// upwards from the surface in steps of at most 10 m. Without a dew point the air is dry (kDryDewPoint).
  /// Domain    ground() to top(); outside it Errc::out_of_range ("column.altitude_outside").
  /// Accuracy  the equation is solved within 0.01 Pa; what counts is what is known of the temperatures: 1 K over the
  ///           first 1000 m moves the pressure there by 0.4 hPa.
  /// Laws      pressure falls strictly with altitude; a column with the standard lapse and dry air gives the standard
  ///           atmosphere's pressure within 0.01 Pa up to 6000 m; the dew point is never above the temperature.
  [[nodiscard]] Result<Sample> at(AltitudeAmsl z) const;

 private:
  AirColumn() = default;
  void integrate(const std::vector<double>& corner_h, const std::vector<double>& corner_t, double surface_pa);
  [[nodiscard]] double vapour_pa(double t_k, double p_pa) const;

  AltitudeAmsl ground_, top_, highest_known_;
  Filling above_ = Filling::standard;
  double mixing_ratio_ = 0.0;
  // Nodes from ground to top: geopotential altitude m (rising), temperature and virtual temperature K, pressure Pa.
  std::vector<double> h_, t_, tv_, p_;
};

}  // namespace pappus::air
