#include "core/propane/liquid_heat.hpp"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "core/propane/saturation.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/propane_eos.hpp"
#include "tests/support/table.hpp"

namespace pappus::propane {
namespace {

namespace eos = testing::propane_eos;
using testing::expect_refused;
using testing::read_table;
using testing::Row;

double enthalpy_of_equation(double t_c) {
  const double t_k = t_c + 273.15;
  return eos::state_at(t_k, eos::saturation_at(t_k).liquid_mol_m3).enthalpy / eos::kMolarMass;
}

TEST(LiquidHeat, MatchesTheSaturationTable) {
  int held = 0;
  for (const Row& row : read_table("propane_saturation.csv")) {
    if (row.text("quantity") != "cp_sat_liquid") continue;
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto heat = liquid_heat(celsius(row["temperature_c"])).value();
    EXPECT_NEAR(heat.at_constant_pressure.in(1000.0 * joule_per_kilogram_kelvin), row["value"], row["tolerance"]);
    ++held;
  }
  EXPECT_GE(held, 5);
}

TEST(LiquidHeat, KeepsToTheFullEquationBetweenItsLines) {
  const double zero = enthalpy_of_equation(0.0);
  double worst_heat[2] = {}, worst_enthalpy[2] = {};
  for (double t_c = -60.0; t_c <= 70.0; t_c += 0.5) {
    const auto heat = liquid_heat(celsius(t_c)).value();
    const double t_k = t_c + 273.15;
    const double c_p =
        eos::state_at(t_k, eos::saturation_at(t_k).liquid_mol_m3).heat_at_constant_pressure / eos::kMolarMass;
    const std::size_t warm = t_c > 50.0 ? 1 : 0;
    worst_heat[warm] =
        std::max(worst_heat[warm], std::abs(heat.at_constant_pressure.in(joule_per_kilogram_kelvin) / c_p - 1.0));
    worst_enthalpy[warm] = std::max(
        worst_enthalpy[warm], std::abs(heat.enthalpy.in(joule_per_kilogram) - (enthalpy_of_equation(t_c) - zero)));
    const double along = (enthalpy_of_equation(t_c + 0.01) - enthalpy_of_equation(t_c - 0.01)) / 0.02;
    EXPECT_NEAR(heat.along_saturation.in(joule_per_kilogram_kelvin), along, 0.002 * along) << t_c;
  }
  EXPECT_LE(worst_heat[0], 0.0007);
  EXPECT_LE(worst_heat[1], 0.0025);
  EXPECT_LE(worst_enthalpy[0], 0.1);
  EXPECT_LE(worst_enthalpy[1], 0.3);
}

TEST(LiquidHeat, RisesStrictlyAndAnswersNothingBeyondItsDomain) {
  LiquidHeat before = liquid_heat(kColdestSaturation).value();
  for (double t_c = -59.9; t_c < 70.0; t_c += 0.1) {
    const LiquidHeat now = liquid_heat(celsius(t_c)).value();
    EXPECT_GT(now.enthalpy, before.enthalpy);
    EXPECT_GT(now.at_constant_pressure, before.at_constant_pressure);
    EXPECT_GT(now.along_saturation, before.along_saturation);
    before = now;
  }
  EXPECT_TRUE(liquid_heat(kWarmestSaturation).has_value());
  expect_refused(liquid_heat(celsius(70.1)), "propane.temperature_outside");
  expect_refused(liquid_heat(celsius(-60.1)), "propane.temperature_outside");
  expect_refused(liquid_heat(celsius(std::nan(""))), "propane.temperature_outside");
}

}  // namespace
}  // namespace pappus::propane
