/// How much heat the liquid holds along its saturation line: what a cylinder's own warmth pays for as it is emptied.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::propane {

using SpecificHeat = Quantity<2, 0, -2, -1>;
inline constexpr SpecificHeat joule_per_kilogram_kelvin = joule_per_kilogram / kelvin;

struct LiquidHeat {
  SpecificHeat at_constant_pressure;
  SpecificHeat along_saturation;  // enthalpy per kelvin where the pressure rises with it
  SpecificEnergy enthalpy;        // above saturated liquid at 0 C
};

/// Domain    -60 to 70 C, as saturation_at; outside it Errc::out_of_range ("propane.temperature_outside").
/// Accuracy  against the full equation of state 0.07 % in heat capacity and 0.1 J/kg in enthalpy up to 50 C, 0.25 % and
///           0.3 J/kg above (tests/core/propane/liquid_heat_test.cpp).
/// Laws      all three rise strictly with temperature.
/// Source    a table every 5 K, computed from the full equation of state of E. W. Lemmon, M. O. McLinden, W. Wagner, J.
///           Chem. Eng. Data 54 (2009) 3141 by the test's own copy of it. Between its lines: straight for the heat
///           capacities, a cubic with the right slope at both ends for the enthalpy.
Result<LiquidHeat> liquid_heat(Temperature t);

}  // namespace pappus::propane
