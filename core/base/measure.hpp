/// An amount whose kind is known only at run time: what sentences, limits and tables carry.
///
/// Types catch a wrong unit where the arithmetic is done; a sentence or a limit holds amounts of many kinds side by
/// side. A Measure keeps the SI value and says what kind of thing it is, so that the words can choose the unit and the
/// number of digits a person expects (feet for a height, knots for a wind, psi for fuel).
#pragma once
#include <array>
#include <string_view>
#include <utility>

#include "core/base/angle.hpp"
#include "core/base/describe.hpp"
#include "core/base/quantity.hpp"

namespace pappus {

enum class MeasureKind {
  number,  // a plain number
  count,   // a whole number of things
  ratio,   // a fraction of one; read as per cent
  mass,
  volume_gas,     // an envelope
  volume_liquid,  // fuel
  length,         // a short length: a wall, a rope
  distance,       // across country, and visibility
  height,         // a difference of height, or a height above ground
  altitude,       // above mean sea level
  pressure_altitude,
  density_altitude,
  speed_wind,
  speed_vertical,
  pressure_air,
  pressure_fuel,  // gauge
  temperature,    // a point on the scale
  temperature_delta,
  duration,
  bearing_true,
  bearing_magnetic,
  angle,
  density,
  mass_flow,
  power,
  specific_energy,
};

template <>
struct Names<MeasureKind> {
  static constexpr std::array<std::pair<MeasureKind, std::string_view>, 26> all{
      {{MeasureKind::number, "number"},
       {MeasureKind::count, "count"},
       {MeasureKind::ratio, "ratio"},
       {MeasureKind::mass, "mass"},
       {MeasureKind::volume_gas, "volume_gas"},
       {MeasureKind::volume_liquid, "volume_liquid"},
       {MeasureKind::length, "length"},
       {MeasureKind::distance, "distance"},
       {MeasureKind::height, "height"},
       {MeasureKind::altitude, "altitude"},
       {MeasureKind::pressure_altitude, "pressure_altitude"},
       {MeasureKind::density_altitude, "density_altitude"},
       {MeasureKind::speed_wind, "speed_wind"},
       {MeasureKind::speed_vertical, "speed_vertical"},
       {MeasureKind::pressure_air, "pressure_air"},
       {MeasureKind::pressure_fuel, "pressure_fuel"},
       {MeasureKind::temperature, "temperature"},
       {MeasureKind::temperature_delta, "temperature_delta"},
       {MeasureKind::duration, "duration"},
       {MeasureKind::bearing_true, "bearing_true"},
       {MeasureKind::bearing_magnetic, "bearing_magnetic"},
       {MeasureKind::angle, "angle"},
       {MeasureKind::density, "density"},
       {MeasureKind::mass_flow, "mass_flow"},
       {MeasureKind::power, "power"},
       {MeasureKind::specific_energy, "specific_energy"}}};
};

/// The SI unit of a kind as it is written in JSON: "kg", "m/s", "K", "deg", "1".
[[nodiscard]] std::string_view si_unit_name(MeasureKind kind);

/// `si` is in the unit that si_unit_name(kind) gives; angles and bearings are in degrees.
struct Measure {
  double si = 0.0;
  MeasureKind kind = MeasureKind::number;
  friend constexpr bool operator==(Measure, Measure) = default;
};

namespace measure {
[[nodiscard]] constexpr Measure number(double v) { return {v, MeasureKind::number}; }
[[nodiscard]] constexpr Measure count(double v) { return {v, MeasureKind::count}; }
[[nodiscard]] constexpr Measure ratio(double v) { return {v, MeasureKind::ratio}; }
[[nodiscard]] constexpr Measure of(Mass m) { return {m.in(kilogram), MeasureKind::mass}; }
[[nodiscard]] constexpr Measure gas(Volume v) { return {v.in(cubic_metre), MeasureKind::volume_gas}; }
[[nodiscard]] constexpr Measure liquid(Volume v) { return {v.in(cubic_metre), MeasureKind::volume_liquid}; }
[[nodiscard]] constexpr Measure length(Length l) { return {l.in(metre), MeasureKind::length}; }
[[nodiscard]] constexpr Measure distance(Length l) { return {l.in(metre), MeasureKind::distance}; }
[[nodiscard]] constexpr Measure height(Length l) { return {l.in(metre), MeasureKind::height}; }
[[nodiscard]] constexpr Measure of(HeightAgl h) { return height(h.from_origin()); }
[[nodiscard]] constexpr Measure of(AltitudeAmsl z) { return {z.from_origin().in(metre), MeasureKind::altitude}; }
[[nodiscard]] constexpr Measure of(PressureAltitude z) {
  return {z.from_origin().in(metre), MeasureKind::pressure_altitude};
}
[[nodiscard]] constexpr Measure of(DensityAltitude z) {
  return {z.from_origin().in(metre), MeasureKind::density_altitude};
}
[[nodiscard]] constexpr Measure wind(Speed s) { return {s.in(metre_per_second), MeasureKind::speed_wind}; }
[[nodiscard]] constexpr Measure vertical(Speed s) { return {s.in(metre_per_second), MeasureKind::speed_vertical}; }
[[nodiscard]] constexpr Measure air(Pressure p) { return {p.in(pascal), MeasureKind::pressure_air}; }
[[nodiscard]] constexpr Measure of(GaugePressure p) { return {p.from_origin().in(pascal), MeasureKind::pressure_fuel}; }
[[nodiscard]] constexpr Measure of(Temperature t) { return {t.from_origin().in(kelvin), MeasureKind::temperature}; }
[[nodiscard]] constexpr Measure of(TemperatureDelta d) { return {d.in(kelvin), MeasureKind::temperature_delta}; }
[[nodiscard]] constexpr Measure of(Duration d) { return {d.in(second), MeasureKind::duration}; }
[[nodiscard]] constexpr Measure of(TrueBearing b) { return {b.from_north().in(degree), MeasureKind::bearing_true}; }
[[nodiscard]] constexpr Measure of(MagneticBearing b) {
  return {b.from_north().in(degree), MeasureKind::bearing_magnetic};
}
[[nodiscard]] constexpr Measure of(Angle a) { return {a.in(degree), MeasureKind::angle}; }
[[nodiscard]] constexpr Measure of(Density d) { return {d.in(kilogram_per_cubic_metre), MeasureKind::density}; }
[[nodiscard]] constexpr Measure of(MassFlow f) { return {f.in(kilogram_per_second), MeasureKind::mass_flow}; }
[[nodiscard]] constexpr Measure of(Power p) { return {p.in(watt), MeasureKind::power}; }
[[nodiscard]] constexpr Measure of(SpecificEnergy e) {
  return {e.in(joule_per_kilogram), MeasureKind::specific_energy};
}
}  // namespace measure

}  // namespace pappus
