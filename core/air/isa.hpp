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

struct StandardAir {
  Temperature temperature;
  Pressure pressure;
  Density density;
};

/// Temperature, pressure and density at `h`.
/// Domain    -2 km to 20 km; outside it Errc::out_of_range.
/// Accuracy  the tolerance in every row of tests/data/isa.csv.
/// Laws      pressure falls strictly with `h`; `pressure_altitude(isa_at(h)->pressure)` gives `h` back within 1 mm
///           below 11 km.
/// Source    U.S. Standard Atmosphere 1976, eqs. 23, 33a, 33b, 42; ISO 2533:1975.
Result<StandardAir> isa_at(GeopotentialAltitude h);

/// Geometric altitude above mean sea level to geopotential altitude, and back.
/// Source    U.S. Standard Atmosphere 1976, eqs. 18, 19, r0 = 6356.766 km.
GeopotentialAltitude geopotential(AltitudeAmsl z);
AltitudeAmsl geometric(GeopotentialAltitude h);

/// The altitude at which the standard atmosphere has this pressure.
/// Domain    226.32 to 1275 hPa (-2 km to 11 km); outside it Errc::out_of_range.
Result<PressureAltitude> pressure_altitude(Pressure p);
/// The pressure at a pressure altitude, its inverse. Domain: -2 km to 11 km.
Result<Pressure> pressure_at(PressureAltitude h);

/// The altitude at which the standard atmosphere has this density.
/// Domain    0.3639 to 1.478 kg/m3 (-2 km to 11 km); outside it Errc::out_of_range.
Result<DensityAltitude> density_altitude(Density rho);

}  // namespace pappus::air
