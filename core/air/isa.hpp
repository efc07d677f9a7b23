/// The International Standard Atmosphere: still, dry air as a function of geopotential altitude.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::air {

/// Specific gas constant of dry air in the standard, J/(kg K): 8314.32 / 28.9644.
/// Source    U.S. Standard Atmosphere 1976 (NOAA-S/T 76-1562), table 2.
inline constexpr double kDryAirConstant = 8314.32 / 28.9644;
/// Standard gravity, m/s2. Exact by definition (3rd CGPM, 1901).
inline constexpr double kStandardGravity = 9.80665;

/// Where the standard atmosphere is defined here. Its tables begin at -5 km: cold, dense winter air at a low field has
/// a density altitude below -2 km.
inline constexpr GeopotentialAltitude kLowestStandard = GeopotentialAltitude::at(-5.0 * kilometre);
inline constexpr GeopotentialAltitude kTropopause = GeopotentialAltitude::at(11.0 * kilometre);
inline constexpr GeopotentialAltitude kHighestStandard = GeopotentialAltitude::at(20.0 * kilometre);
/// -6.5 K per geopotential kilometre below the tropopause.
inline constexpr LapseRate kStandardLapse = LapseRate::from_si(-0.0065);

struct StandardAir {
  Temperature temperature;
  Pressure pressure;
  Density density;
};

/// Temperature, pressure and density at `h`.
/// Domain    -5 km to 20 km; outside it Errc::out_of_range ("air.altitude_outside_standard").
/// Accuracy  the tolerance in every row of tests/data/isa.csv.
/// Laws      pressure falls strictly with `h`; `pressure_altitude(isa_at(h)->pressure)` gives `h` back within 1 mm
///           below 11 km.
/// Source    U.S. Standard Atmosphere 1976, eqs. 23, 33a, 33b, 42; ISO 2533:1975.
Result<StandardAir> isa_at(GeopotentialAltitude h);

/// Geometric altitude above mean sea level to geopotential altitude, and back.
/// Domain    any altitude of the atmosphere: -5 to 100 km.
/// Laws      each inverts the other within 1 um; geopotential(z) <= z.
/// Source    U.S. Standard Atmosphere 1976, eqs. 18, 19, r0 = 6356.766 km.
GeopotentialAltitude geopotential(AltitudeAmsl z);
AltitudeAmsl geometric(GeopotentialAltitude h);

/// The altitude at which the standard atmosphere has this pressure.
/// Domain    226.32 to 1776.87 hPa (11 km to -5 km); outside it Errc::out_of_range ("air.pressure_outside_standard").
Result<PressureAltitude> pressure_altitude(Pressure p);
/// The pressure at a pressure altitude, its inverse.
/// Domain    -5 km to 11 km; outside it Errc::out_of_range ("air.altitude_outside_standard").
Result<Pressure> pressure_at(PressureAltitude h);

/// The altitude at which the standard atmosphere has this density.
/// Domain    0.3639 to 1.9305 kg/m3 (11 km to -5 km); outside it Errc::out_of_range ("air.density_outside_standard").
Result<DensityAltitude> density_altitude(Density rho);

}  // namespace pappus::air
