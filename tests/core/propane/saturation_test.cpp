#include "core/propane/saturation.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/expect_refused.hpp"
#include "tests/support/expect_row.hpp"
#include "tests/support/propane_eos.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::propane {
namespace {

namespace eos = testing::propane_eos;
using testing::expect_refused;
using testing::expect_row;
using testing::read_table;
using testing::Row;

constexpr double kNoNumber = std::numeric_limits<double>::quiet_NaN();
constexpr Density kPoundPerGallon = pound / us_gallon;

// One saturated state in plain SI, from the product or from the full equation.
struct Line {
  double pressure_pa, liquid_kg_m3, vapour_kg_m3, latent_j_kg;
};

Line of_product(double t_c) {
  const Saturation s = saturation_at(celsius(t_c)).value();
  return {s.pressure.in(pascal), s.liquid_density.in(kilogram_per_cubic_metre),
          s.vapour_density.in(kilogram_per_cubic_metre), s.latent_heat.in(joule_per_kilogram)};
}

Line of_equation(double t_c) {
  const eos::Saturated s = eos::saturation_at(t_c + 273.15);
  return {s.pressure_pa, s.liquid_mol_m3 * eos::kMolarMass, s.vapour_mol_m3 * eos::kMolarMass,
          s.latent_j_mol / eos::kMolarMass};
}

double value_named(const std::string& quantity, const Line& line) {
  if (quantity == "p_sat") return line.pressure_pa / 1000.0;
  if (quantity == "p_sat_gauge_at_1atm" || quantity == "gauge_pressure")
    return gauge(line.pressure_pa * pascal, standard_atmosphere).from_origin().in(pound_per_square_inch);
  if (quantity == "rho_sat_liquid") return line.liquid_kg_m3;
  if (quantity == "rho_sat_liquid_USgal" || quantity == "liquid_density")
    return (line.liquid_kg_m3 * kilogram_per_cubic_metre).in(kPoundPerGallon);
  if (quantity == "rho_sat_vapour") return line.vapour_kg_m3;
  if (quantity == "h_vaporisation") return line.latent_j_kg / 1000.0;
  ADD_FAILURE() << "no such quantity: " << quantity;
  return kNoNumber;
}

TEST(Propane, MatchesTheSaturationTable) {
  int held = 0;
  for (const Row& row : read_table("propane_saturation.csv")) {
    if (!row.has("tolerance_ancillary")) continue;  // heat capacity: of the full equation only
    expect_row(row, value_named(row.text("quantity"), of_product(row["temperature_c"])), "tolerance_ancillary");
    ++held;
  }
  EXPECT_GE(held, 98);
}

TEST(Propane, LiquidAloneGoesOnToWarmerOnes) {
  for (double t_c = -60.0; t_c <= 76.0; t_c += 1.0) {
    const double liquid = saturated_liquid_density(celsius(t_c))->in(kilogram_per_cubic_metre);
    EXPECT_NEAR(liquid / (eos::saturation_at(t_c + 273.15).liquid_mol_m3 * eos::kMolarMass), 1.0, 2e-4) << t_c;
    if (t_c <= 70.0) {
      EXPECT_EQ(liquid, of_product(t_c).liquid_kg_m3);
    }
  }
  expect_refused(saturated_liquid_density(celsius(76.5)), "propane.temperature_outside");
  expect_refused(saturated_liquid_density(celsius(-61.0)), "propane.temperature_outside");
}

TEST(Propane, AgreesWithTheHandbooks) {
  for (const Row& row : read_table("propane_handbook.csv"))
    expect_row(row, value_named(row.text("quantity"), of_product(in_celsius(fahrenheit(row["temperature_f"])))));
}

TEST(Propane, HasThePublishedConstants) {
  for (const Row& row : read_table("propane_constants.csv")) {
    const std::string quantity = row.text("quantity");
    if (quantity == "T_c") {
      expect_row(row, kCriticalTemperatureK);
      expect_row(row, eos::kCriticalTemperature);
    } else if (quantity == "p_c") {
      expect_row(row, kCriticalPressurePa / 1e6);
    } else if (quantity == "rho_c") {
      expect_row(row, kCriticalDensityKgM3 / kMolarMassKgMol);
      expect_row(row, eos::kCriticalDensity);
    } else if (quantity == "molar_mass") {
      expect_row(row, kMolarMassKgMol);
      expect_row(row, eos::kMolarMass);
    } else if (quantity == "T_triple") {
      expect_row(row, eos::kTripleTemperature);
    } else if (quantity == "T_normal_boiling") {
      // The row is the full equation's; the short one is 2 mK off.
      double low = 225.0, high = 235.0;
      for (int i = 0; i < 40; ++i) {
        const double middle = 0.5 * (low + high);
        (eos::saturation_at(middle).pressure_pa < 101325.0 ? low : high) = middle;
      }
      expect_row(row, low);
      EXPECT_NEAR(saturation_temperature(standard_atmosphere)->from_origin().in(kelvin), row["value"], 0.003);
    } else if (quantity == "HHV_gas") {
      expect_row(row, kHigherHeatingValue.in(joule_per_kilogram) / 1e6);
    } else if (quantity == "LHV_from_liquid_25C") {
      expect_row(row, kLowerHeatingValueLiquid.in(joule_per_kilogram) / 1e6);
    } else if (quantity == "HHV_per_USgal") {
      const Density liquid = saturation_at(fahrenheit(60.0))->liquid_density;
      expect_row(row, (liquid * us_gallon).in(kilogram)*kHigherHeatingValue.in(joule_per_kilogram) / 1055.05585262);
    } else {
      ADD_FAILURE() << row.where() << ": no such quantity";
    }
  }
}

TEST(Propane, TheHeatingValuesFollowFromTheMeasuredOne) {
  // -2219.2 kJ/mol of the gas at 298 K, 4 mol of water at 44.0 kJ/mol, and the heat of vaporisation at 25 C.
  const double higher = 2219.2e3 / kMolarMassKgMol;
  const double lower = (2219.2e3 - 4 * 44.0e3) / kMolarMassKgMol - of_product(25.0).latent_j_kg;
  EXPECT_NEAR(kHigherHeatingValue.in(joule_per_kilogram), higher, 0.01e6);
  EXPECT_NEAR(kLowerHeatingValueLiquid.in(joule_per_kilogram), lower, 0.02e6);
}

TEST(PropaneEos, GivesThePublishedCheckValues) {
  const eos::Saturated ice = eos::saturation_at(273.15);
  const double zero_j_mol = eos::state_at(273.15, ice.liquid_mol_m3).enthalpy - 200e3 * eos::kMolarMass;
  for (const Row& row : read_table("propane_eos.csv")) {
    const double t_k = row["temperature_k"];
    const std::string quantity = row.text("quantity");
    if (row.has("density_mol_m3")) {
      const eos::State state = eos::state_at(t_k, row["density_mol_m3"]);
      if (quantity == "p")
        expect_row(row, state.pressure_pa / 1e6);
      else if (quantity == "cv")
        expect_row(row, state.heat_at_constant_volume);
      else if (quantity == "cp")
        expect_row(row, state.heat_at_constant_pressure);
      else if (quantity == "w")
        expect_row(row, state.sound_m_s);
      else
        ADD_FAILURE() << row.where() << ": no such quantity";
      continue;
    }
    const eos::Saturated s = eos::saturation_at(t_k);
    const auto enthalpy_kj_kg = [&](double rho) {
      return (eos::state_at(t_k, rho).enthalpy - zero_j_mol) / eos::kMolarMass / 1000.0;
    };
    if (quantity == "p_sat")
      expect_row(row, s.pressure_pa / 1e6);
    else if (quantity == "rho_sat_liquid")
      expect_row(row, s.liquid_mol_m3 * eos::kMolarMass);
    else if (quantity == "rho_sat_vapour")
      expect_row(row, s.vapour_mol_m3 * eos::kMolarMass);
    else if (quantity == "h_liquid")
      expect_row(row, enthalpy_kj_kg(s.liquid_mol_m3));
    else if (quantity == "h_vapour")
      expect_row(row, enthalpy_kj_kg(s.vapour_mol_m3));
    else
      ADD_FAILURE() << row.where() << ": no such quantity";
  }
}

TEST(PropaneEos, MatchesTheSaturationTable) {
  for (const Row& row : read_table("propane_saturation.csv")) {
    const double t_c = row["temperature_c"];
    if (row.text("quantity") == "cp_sat_liquid") {
      const eos::State liquid = eos::state_at(t_c + 273.15, eos::saturation_at(t_c + 273.15).liquid_mol_m3);
      expect_row(row, liquid.heat_at_constant_pressure / eos::kMolarMass / 1000.0);
    } else {
      expect_row(row, value_named(row.text("quantity"), of_equation(t_c)));
    }
  }
}

TEST(PropaneEos, ThePhasesAreInBalanceAndObeyClapeyron) {
  for (double t_k = 180.0; t_k <= 350.0; t_k += 10.0) {
    const eos::Saturated s = eos::saturation_at(t_k);
    const eos::State liquid = eos::state_at(t_k, s.liquid_mol_m3), vapour = eos::state_at(t_k, s.vapour_mol_m3);
    EXPECT_NEAR(liquid.gibbs, vapour.gibbs, 1e-6 * eos::kGasConstant * t_k) << t_k;
    EXPECT_NEAR(liquid.pressure_pa / vapour.pressure_pa, 1.0, 1e-7) << t_k;
    constexpr double dt = 0.01;
    const double slope =
        (eos::saturation_at(t_k + dt).pressure_pa - eos::saturation_at(t_k - dt).pressure_pa) / (2 * dt);
    const double latent = t_k * slope * (1.0 / s.vapour_mol_m3 - 1.0 / s.liquid_mol_m3);
    EXPECT_NEAR(latent / s.latent_j_mol, 1.0, 1e-6) << t_k;
  }
}

TEST(PropaneEos, GivesTheOracleTable) {
  for (const Row& row : read_table("propane_eos_oracle.csv")) {
    const Line line = of_equation(row["temperature_c"]);
    std::array<char, 160> anew{};
    std::snprintf(anew.data(), anew.size(), "%g,%.10g,%.10g,%.10g,%.10g,", row["temperature_c"], line.pressure_pa,
                  line.liquid_kg_m3, line.vapour_kg_m3, line.latent_j_kg);
    const double tolerance = row["tolerance"];
    EXPECT_TRUE(std::abs(row["pressure_pa"] / line.pressure_pa - 1.0) <= tolerance &&
                std::abs(row["liquid_kg_m3"] / line.liquid_kg_m3 - 1.0) <= tolerance &&
                std::abs(row["vapour_kg_m3"] / line.vapour_kg_m3 - 1.0) <= tolerance &&
                std::abs(row["latent_j_kg"] / line.latent_j_kg - 1.0) <= tolerance)
        << row.where() << "\nthe model now gives\n"
        << anew.data();
  }
}

TEST(Propane, StaysWithinItsClaimedAccuracyOfTheOracleTable) {
  for (const Row& row : read_table("propane_eos_oracle.csv")) {
    const Line line = of_product(row["temperature_c"]);
    EXPECT_NEAR(line.pressure_pa / row["pressure_pa"], 1.0, 1.1e-4) << row.where();
    EXPECT_NEAR(line.liquid_kg_m3 / row["liquid_kg_m3"], 1.0, 0.8e-4) << row.where();
    EXPECT_NEAR(line.vapour_kg_m3 / row["vapour_kg_m3"], 1.0, 2.8e-4) << row.where();
    EXPECT_NEAR(line.latent_j_kg / row["latent_j_kg"], 1.0, 3e-4) << row.where();
  }
}

TEST(Propane, StaysWithinItsClaimedAccuracyOfTheFullEquation) {
  const auto check = [](double low_c, double high_c, const Line& claim) {
    for (double t_c = low_c; t_c <= high_c; t_c += 0.5) {
      const Line product = of_product(t_c), truth = of_equation(t_c);
      EXPECT_NEAR(product.pressure_pa / truth.pressure_pa, 1.0, claim.pressure_pa) << t_c;
      EXPECT_NEAR(product.liquid_kg_m3 / truth.liquid_kg_m3, 1.0, claim.liquid_kg_m3) << t_c;
      EXPECT_NEAR(product.vapour_kg_m3 / truth.vapour_kg_m3, 1.0, claim.vapour_kg_m3) << t_c;
      EXPECT_NEAR(product.latent_j_kg / truth.latent_j_kg, 1.0, claim.latent_j_kg) << t_c;
    }
  };
  check(-40.0, 60.0, {0.9e-4, 0.4e-4, 1.9e-4, 2.9e-4});
  check(-60.0, 70.0, {1.1e-4, 0.8e-4, 2.8e-4, 2.9e-4});
}

TEST(Propane, PressureAndVapourRiseAndLiquidAndLatentHeatFallWithTemperature) {
  auto random = testing::seeded("Propane.Monotonic");
  for (int i = 0; i < 1000; ++i) {
    const double low_c = random.uniform(-60.0, 69.9);
    const Line low = of_product(low_c),
               high = of_product(i % 2 == 0 ? low_c + 1e-4 : random.uniform(low_c + 1e-4, 70.0));
    EXPECT_LT(low.pressure_pa, high.pressure_pa) << low_c;
    EXPECT_LT(low.vapour_kg_m3, high.vapour_kg_m3) << low_c;
    EXPECT_GT(low.liquid_kg_m3, high.liquid_kg_m3) << low_c;
    EXPECT_GT(low.latent_j_kg, high.latent_j_kg) << low_c;
  }
}

TEST(Propane, SaturationTemperatureInvertsThePressure) {
  auto random = testing::seeded("Propane.Inverse");
  for (int i = 0; i < 1000; ++i) {
    const Temperature t = i == 0   ? kColdestSaturation
                          : i == 1 ? kWarmestSaturation
                                   : celsius(random.uniform(-60.0, 70.0));
    const Temperature back = saturation_temperature(saturation_at(t)->pressure).value();
    EXPECT_NEAR((back - t).in(kelvin), 0.0, 1e-6);
    EXPECT_TRUE(saturation_at(back).has_value());
  }
}

TEST(Propane, AGaugeReadsMoreInThinnerAir) {
  const Pressure inside = saturation_at(celsius(20.0))->pressure;
  EXPECT_NEAR(gauge(inside, standard_atmosphere).from_origin().in(pound_per_square_inch), 106.62, 0.02);
  // At 2000 m of the standard atmosphere (795 hPa) it reads 21.8 kPa more.
  const GaugePressure at_sea = gauge(inside, standard_atmosphere), aloft = gauge(inside, 794.9522 * hectopascal);
  EXPECT_NEAR((aloft - at_sea).in(kilopascal), 21.83, 0.01);
  EXPECT_EQ(gauge(standard_atmosphere, standard_atmosphere).from_origin(), 0.0 * pascal);
}

TEST(Propane, RefusesWhatLiesOutside) {
  expect_refused(saturation_at(celsius(-61.0)), Errc::out_of_range, "propane.temperature_outside", "-61C",
                 "-60C .. 70C");
  expect_refused(saturation_at(celsius(71.0)), Errc::out_of_range, "propane.temperature_outside", "71C", "-60C .. 70C");
  EXPECT_FALSE(saturation_at(celsius(kNoNumber)).has_value());
  for (const double p_pa : {42e3, 2.6e6, 0.0, -1.0, kNoNumber}) {
    const auto refused = saturation_temperature(p_pa * pascal);
    ASSERT_FALSE(refused.has_value()) << p_pa;
    EXPECT_EQ(refused.error().code, Errc::out_of_range);
    EXPECT_EQ(refused.error().sentence.key, "propane.pressure_outside");
    EXPECT_EQ(refused.error().sentence.arguments.size(), 3u);
  }
  EXPECT_EQ(saturation_temperature(26000.0 * hectopascal).error().got, "26000hPa");
}

}  // namespace
}  // namespace pappus::propane
