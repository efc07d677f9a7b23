/// Moist air: water vapour, virtual temperature and density.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::air {

/// Saturation vapour pressure over a plane of liquid water.
/// Domain    -80 to 60 C; the formula's own is -45 to 60 C, below which it stands in for values too small to matter.
///           Outside it Errc::out_of_range.
/// Source    WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B, eq. 4.B.1.
Result<Pressure> saturation_vapour_pressure(Temperature t);
/// The same after A. L. Buck (1996), for comparison and for display.
Result<Pressure> saturation_vapour_pressure_buck(Temperature t);

/// The temperature at which `vapour_pressure` saturates: inverse of the WMO formula. Domain: 0.0001 to 200 hPa.
Result<Temperature> dew_point(Pressure vapour_pressure);

/// State of the air at one spot. `dew_point` <= `temperature` is asked for by `density` below.
struct MoistAir {
  Temperature temperature;
  Temperature dew_point;
  Pressure pressure;
};

/// The temperature at which dry air of the same pressure has the same density: T / (1 - 0.378 e / p).
/// Errors    Errc::bad_input when the dew point is above the temperature by more than 0.05 K (rounding in reports is
///           taken as saturation); Errc::out_of_range outside saturation_vapour_pressure's domain.
Result<Temperature> virtual_temperature(const MoistAir& air);

/// The fraction of dry lift that is left in moist air: 1 - 0.378 e / p.
Result<double> moist_factor(const MoistAir& air);

/// Density as an ideal gas with the virtual temperature: what lift and density altitude are computed with.
/// Accuracy  4e-4 below CIPM-2007 (the compressibility is left out), the same inside and outside an envelope.
Result<Density> density(const MoistAir& air);

/// Density by the CIPM-2007 formula, from relative humidity (0 to 1): the reference that is shown beside the ideal gas.
/// Domain    600 to 1100 hPa and 15 to 27 C with relative uncertainty 2.2e-5; used and good to about 1e-4 over -10 to
///           40 C; outside the latter Errc::out_of_range.
/// Source    A. Picard, R. S. Davis, M. Glaser, K. Fujii, Metrologia 45 (2008) 149.
struct CipmDensity {
  Density density;
  Pressure saturation_pressure;
  double enhancement = 0.0;
  double vapour_fraction = 0.0;
  double compressibility = 0.0;
};
Result<CipmDensity> cipm_density(Temperature t, Pressure p, double relative_humidity, double co2_fraction = 0.0004);

}  // namespace pappus::air
