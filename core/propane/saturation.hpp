/// Pure propane along its saturation line: pressure, densities, heat of vaporisation.
///
/// Source    E. W. Lemmon, M. O. McLinden, W. Wagner, J. Chem. Eng. Data 54 (2009) 3141: the ancillary equations as
///           printed there; heat of vaporisation by Clapeyron's equation from the same three.
/// What is sold as propane is a mix: its pressure may lie 5 % below to 20 % above these values, see docs/accuracy.md.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::propane {

inline constexpr double kCriticalTemperatureK = 369.89;
inline constexpr double kCriticalPressurePa = 4.2512e6;
inline constexpr double kCriticalDensityKgM3 = 5000.0 * 0.04409562;
inline constexpr double kMolarMassKgMol = 0.04409562;

inline constexpr Temperature kColdestSaturation = celsius(-60.0);
inline constexpr Temperature kWarmestSaturation = celsius(70.0);

struct Saturation {
  Temperature temperature;
  Pressure pressure;  // absolute
  Density liquid_density;
  Density vapour_density;
  SpecificEnergy latent_heat;
};

/// Domain    -60 to 70 C; outside it Errc::out_of_range ("propane.temperature_outside").
/// Accuracy  against the paper's full equation of state, -40 to 60 C: pressure 0.009 %, liquid density 0.004 %, vapour
///           density 0.019 %, latent heat 0.029 %; -60 to 70 C: 0.011, 0.008, 0.028 and 0.029 %
///           (tests/data/propane_eos_oracle.csv).
/// Laws      pressure and vapour density rise strictly with temperature, liquid density and latent heat fall.
Result<Saturation> saturation_at(Temperature t);

/// The temperature at which pure propane has this absolute pressure.
/// Domain    the pressures of -60 to 70 C, 42 to 2588 kPa; outside it Errc::out_of_range ("propane.pressure_outside").
/// Laws      saturation_temperature(saturation_at(t)->pressure) gives t back within 1e-6 K, and never leaves -60 to 70
/// C.
Result<Temperature> saturation_temperature(Pressure absolute);

inline constexpr Temperature kWarmestLiquid = celsius(76.0);

/// Density of the saturated liquid alone, also where it is warmer than any pressure here is answered for: the
/// temperature at which a cylinder is full of liquid lies there.
/// Domain    -60 to 76 C; outside it Errc::out_of_range ("propane.temperature_outside").
/// Accuracy  against the full equation of state 0.02 % (tests/core/propane/saturation_test.cpp).
/// Laws      falls strictly with temperature; equals saturation_at's where that answers.
Result<Density> saturated_liquid_density(Temperature t);

/// What a gauge shows for an absolute pressure in air of pressure `ambient`.
[[nodiscard]] constexpr GaugePressure gauge(Pressure absolute, Pressure ambient) {
  return GaugePressure::at(absolute - ambient);
}

/// Lower heating value of the liquid at 25 C: gas -2219.2 kJ/mol (Pittam and Pilcher 1972) less 4 x 44.0 kJ/mol for the
/// water and less the heat of vaporisation. Uncertainty 0.1 MJ/kg.
inline constexpr SpecificEnergy kLowerHeatingValueLiquid = 46.0e6 * joule_per_kilogram;
inline constexpr SpecificEnergy kHigherHeatingValue = 50.33e6 * joule_per_kilogram;

}  // namespace pappus::propane
