/// Moist air: water vapour, virtual temperature and density.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::air {

/// Where vapour pressure and dew point are answered for.
inline constexpr Temperature kColdestVapour = celsius(-80.0);
inline constexpr Temperature kWarmestVapour = celsius(60.0);
/// Stands for dry air where a dew point must be named: the vapour left then changes density by 4e-7 at sea level.
inline constexpr Temperature kDryDewPoint = kColdestVapour;

/// Saturation vapour pressure over a plane of liquid water.
/// Domain    -80 to 60 C; the formula's own is -45 to 60 C, below which it stands in for values too small to matter.
///           Outside it Errc::out_of_range ("air.temperature_outside_vapour").
/// Accuracy  tests/data/vapour.csv; up to 0.32 % below the IAPWS-95 saturation line over 0 to 40 C, which moves the
///           density of air by less than 1e-4.
/// Laws      rises strictly with temperature.
/// Source    WMO-No. 8, Guide to Instruments and Methods of Observation, annex 4.B, eq. 4.B.1.
Result<Pressure> saturation_vapour_pressure(Temperature t);
/// The same after A. L. Buck (1996), for comparison and for display. Domain and errors as above.
Result<Pressure> saturation_vapour_pressure_buck(Temperature t);

/// The temperature at which `vapour_pressure` saturates: inverse of the WMO formula.
/// Domain    the saturation pressures of -80 to 60 C, 0.0011 to 199.9 hPa; outside it Errc::out_of_range
///           ("air.vapour_pressure_outside").
/// Laws      dew_point(saturation_vapour_pressure(t)) gives t back within 1e-9 K, and never leaves its domain.
Result<Temperature> dew_point(Pressure vapour_pressure);

/// State of the air at one spot.
/// Domain    dew point -80 to 60 C ("air.dew_point_outside"); temperature -80 to 200 C, so that the air inside an
///           envelope can be stated too ("air.temperature_outside"); pressure 100 to 1200 hPa and not below the
///           pressure of the vapour alone ("air.pressure_outside"): outside it Errc::out_of_range from every function
///           below. A dew point above the temperature by more than 0.05 K is Errc::bad_input
///           ("air.dew_point_above_temperature"); by less it is rounding in the report and taken as saturation.
struct MoistAir {
  Temperature temperature;
  Temperature dew_point;
  Pressure pressure;
};

/// The temperature at which dry air of the same pressure has the same density: T / (1 - 0.378 e / p).
Result<Temperature> virtual_temperature(const MoistAir& air);

/// The fraction of dry lift that is left in moist air: 1 - 0.378 e / p.
Result<double> moist_factor(const MoistAir& air);

/// Mass of vapour per mass of dry air, as a fraction of one: 0.62198 e / (p - e).
/// Domain    as MoistAir, and air of which less than half is vapour, else Errc::out_of_range ("air.pressure_outside").
Result<double> mixing_ratio(const MoistAir& air);

/// e / e_s(T), over water, 0 to 1. Domain: as MoistAir, and temperature up to 60 C ("air.temperature_outside_vapour").
Result<double> relative_humidity(const MoistAir& air);

/// Density as an ideal gas with the virtual temperature: what lift and density altitude are computed with.
/// Accuracy  1.5e-4 to 5e-4 below CIPM-2007 at 15 to 27 C, at most 8.2e-4 at -10 to 40 C: the compressibility of air is
///           left out, on both sides of an envelope alike.
/// Laws      falls when humidity or temperature rises; rises with pressure.
Result<Density> density(const MoistAir& air);

/// Density by the CIPM-2007 formula, from relative humidity (0 to 1): the reference that is shown beside the ideal gas.
/// Domain    600 to 1100 hPa and 15 to 27 C with relative uncertainty 2.2e-5; used and good to about 1e-4 over -10 to
///           40 C; relative humidity 0 to 1, CO2 0 to 0.01 of the molecules. Outside these Errc::out_of_range
///           ("air.temperature_outside_cipm", "air.pressure_outside_cipm", "air.humidity_outside",
///           "air.carbon_dioxide_outside").
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
