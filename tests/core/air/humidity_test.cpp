#include "core/air/humidity.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/expect_refused.hpp"
#include "tests/support/expect_row.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::air {
namespace {

using testing::expect_refused;
using testing::expect_row;
using testing::read_table;
using testing::Row;

constexpr double kNoNumber = std::numeric_limits<double>::quiet_NaN();

// Formulas that the product does not use, as independent witnesses. All hPa from C.

// D. Bolton, Mon. Wea. Rev. 108 (1980) 1046 (from memory).
double bolton_hpa(double t_c) { return 6.112 * std::exp(17.67 * t_c / (t_c + 243.5)); }

// IAPWS SR1-86(1992): W. Wagner, A. Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783, eq. 1 (from memory).
double iapws_hpa(double t_c) {
  const double t_k = t_c + 273.15, theta = 1.0 - t_k / 647.096;
  const double sum = -7.85951783 * theta + 1.84408259 * std::pow(theta, 1.5) - 11.7866497 * std::pow(theta, 3.0) +
                     22.6807411 * std::pow(theta, 3.5) - 15.9618719 * std::pow(theta, 4.0) +
                     1.80122502 * std::pow(theta, 7.5);
  return 220640.0 * std::exp(647.096 / t_k * sum);
}

// OIML R 111-1 (2004) eq. E.3-1: density of moist air to 2e-4 over 900 to 1100 hPa, 10 to 30 C, under 80 % (from
// memory). p hPa, relative humidity in per cent.
double oiml_kg_m3(double p_hpa, double t_c, double humidity_percent) {
  return (0.34848 * p_hpa - 0.009 * humidity_percent * std::exp(0.061 * t_c)) / (273.15 + t_c);
}

double in_hpa(const Result<Pressure>& p) { return p.value().in(hectopascal); }
double in_kg_m3(Density rho) { return rho.in(kilogram_per_cubic_metre); }

MoistAir any_air(Random& random) {
  const double t_c = random.uniform(-60.0, 50.0);
  return {.temperature = celsius(t_c),
          .dew_point = celsius(random.uniform(-79.0, t_c)),
          .pressure = random.uniform(400.0, 1100.0) * hectopascal};
}

TEST(Vapour, MatchesTheTable) {
  for (const Row& row : read_table("vapour.csv")) {
    const double t_c = row["temperature_c"];
    const std::string formula = row.text("formula");
    if (formula == "WMO-No.8")
      expect_row(row, in_hpa(saturation_vapour_pressure(celsius(t_c))));
    else if (formula == "Buck1996")
      expect_row(row, in_hpa(saturation_vapour_pressure_buck(celsius(t_c))));
    else if (formula == "Bolton1980")
      expect_row(row, bolton_hpa(t_c));
    else if (formula == "IAPWS-SR1-86(1992)")
      expect_row(row, iapws_hpa(t_c));
    else
      ADD_FAILURE() << row.where() << ": no such formula";
  }
}

TEST(Vapour, AgreesWithIndependentFormulas) {
  double most_low = 0.0;
  for (double t_c = 0.0; t_c <= 40.0; t_c += 0.5) {
    const double wmo = in_hpa(saturation_vapour_pressure(celsius(t_c)));
    const double buck = in_hpa(saturation_vapour_pressure_buck(celsius(t_c)));
    most_low = std::max(most_low, 1.0 - wmo / iapws_hpa(t_c));
    EXPECT_LE(wmo, iapws_hpa(t_c) * 1.0001) << t_c;
    EXPECT_NEAR(buck / iapws_hpa(t_c), 1.0, 6e-4) << t_c;
    EXPECT_NEAR(bolton_hpa(t_c) / iapws_hpa(t_c), 1.0, 2e-3) << t_c;
  }
  EXPECT_LT(most_low, 0.0032);
  EXPECT_GT(most_low, 0.0030) << "docs/accuracy.md claims too much error";
}

TEST(Vapour, RisesStrictlyAndDewPointInvertsIt) {
  auto random = testing::seeded("Vapour.Inverse");
  for (int i = 0; i < 2000; ++i) {
    const Temperature t = i == 0 ? kColdestVapour : i == 1 ? kWarmestVapour : celsius(random.uniform(-80.0, 60.0));
    const Pressure e = saturation_vapour_pressure(t).value();
    const Temperature back = dew_point(e).value();
    EXPECT_NEAR((back - t).in(kelvin), 0.0, 1e-9);
    EXPECT_TRUE(saturation_vapour_pressure(back).has_value());
    if (t - 1e-6 * kelvin >= kColdestVapour) {
      EXPECT_LT(saturation_vapour_pressure(t - 1e-6 * kelvin).value(), e);
      EXPECT_LT(saturation_vapour_pressure_buck(t - 1e-6 * kelvin).value(), saturation_vapour_pressure_buck(t).value());
    }
  }
}

TEST(Humidity, MatchesTheTable) {
  for (const Row& row : read_table("humidity.csv")) {
    const Temperature t = celsius(row["temperature_c"]);
    const Pressure e = row["relative_humidity"] * saturation_vapour_pressure(t).value();
    const MoistAir air{
        .temperature = t, .dew_point = dew_point(e).value(), .pressure = row["pressure_hpa"] * hectopascal};
    const std::string quantity = row.text("quantity");
    if (quantity == "dew_point")
      expect_row(row, in_celsius(air.dew_point));
    else if (quantity == "mixing_ratio")
      expect_row(row, 1000.0 * mixing_ratio(air).value());
    else if (quantity == "virtual_temperature")
      expect_row(row, virtual_temperature(air)->from_origin().in(kelvin));
    else
      ADD_FAILURE() << row.where() << ": no such quantity";
    EXPECT_NEAR(relative_humidity(air).value(), row["relative_humidity"], 1e-12);
  }
}

TEST(Humidity, DensityFallsWithHumidityAndTemperatureAndRisesWithPressure) {
  auto random = testing::seeded("Humidity.Density");
  for (int i = 0; i < 2000; ++i) {
    const MoistAir air = any_air(random);
    const Density rho = density(air).value();
    MoistAir drier = air, warmer = air, denser = air;
    drier.dew_point = air.dew_point - 0.5 * kelvin;
    warmer.temperature = air.temperature + 0.01 * kelvin;
    denser.pressure = air.pressure + 0.01 * hectopascal;
    EXPECT_GT(density(drier).value(), rho);
    EXPECT_LT(density(warmer).value(), rho);
    EXPECT_GT(density(denser).value(), rho);
    EXPECT_GE(virtual_temperature(air).value(), air.temperature);
    EXPECT_LT(moist_factor(air).value(), 1.0);
  }
}

TEST(Humidity, TheMoistFactorIsThatOfTheReference) {
  // Printed factors (regression: computed from the printed equation): 15 C 80 %, 30 C 80 %, 35 C 90 %, at 1 atm.
  const double printed[][3] = {{15.0, 0.8, 0.9949}, {30.0, 0.8, 0.9874}, {35.0, 0.9, 0.9812}};
  for (const auto& [t_c, humidity, factor] : printed) {
    const Temperature td = dew_point(humidity * saturation_vapour_pressure(celsius(t_c)).value()).value();
    EXPECT_NEAR(moist_factor({celsius(t_c), td, standard_atmosphere}).value(), factor, 1e-4);
  }
}

TEST(Humidity, TheDryDewPointIsAsGoodAsDry) {
  EXPECT_NEAR(moist_factor({celsius(15.0), kDryDewPoint, standard_atmosphere}).value(), 1.0, 5e-7);
}

TEST(Humidity, ADewPointRoundedAboveTheTemperatureCountsAsSaturation) {
  const MoistAir rounded{celsius(10.0), celsius(10.04), 950.0 * hectopascal};
  const MoistAir saturated{celsius(10.0), celsius(10.0), 950.0 * hectopascal};
  EXPECT_EQ(density(rounded).value(), density(saturated).value());
  EXPECT_EQ(relative_humidity(rounded).value(), 1.0);
}

TEST(Cipm, MatchesTheTable) {
  for (const Row& row : read_table("cipm.csv")) {
    const CipmDensity cipm = cipm_density(celsius(row["temperature_c"]), row["pressure_pa"] * pascal,
                                          row["relative_humidity"], row["co2_fraction"])
                                 .value();
    const std::string quantity = row.text("quantity");
    if (quantity == "rho" || quantity == "rho_OIML_simplified")
      expect_row(row, in_kg_m3(cipm.density));
    else if (quantity == "p_sv")
      expect_row(row, cipm.saturation_pressure.in(pascal));
    else if (quantity == "f_enh")
      expect_row(row, cipm.enhancement);
    else if (quantity == "x_v")
      expect_row(row, cipm.vapour_fraction);
    else if (quantity == "Z")
      expect_row(row, cipm.compressibility);
    else
      ADD_FAILURE() << row.where() << ": no such quantity";
  }
}

TEST(Cipm, AgreesOverItsOwnDomainWithTheSimplifiedFormulaWithinThatOnesAccuracy) {
  for (double t_c = 15.0; t_c <= 27.0; t_c += 2.0)
    for (double p_hpa = 900.0; p_hpa <= 1100.0; p_hpa += 50.0)
      for (double humidity = 0.0; humidity <= 0.8; humidity += 0.2) {
        const double rho = in_kg_m3(cipm_density(celsius(t_c), p_hpa * hectopascal, humidity)->density);
        EXPECT_NEAR(oiml_kg_m3(p_hpa, t_c, 100.0 * humidity) / rho, 1.0, 2e-4)
            << t_c << " " << p_hpa << " " << humidity;
      }
}

// How far the ideal gas lies below CIPM, over a box of its domain.
struct Spread {
  double least = 1.0, most = -1.0;
};
Spread ideal_gas_below_cipm(double t_low_c, double t_high_c) {
  Spread spread;
  for (double t_c = t_low_c; t_c <= t_high_c; t_c += 1.0)
    for (double p_hpa = 600.0; p_hpa <= 1100.0; p_hpa += 50.0)
      for (double humidity = 0.1; humidity <= 1.0; humidity += 0.1) {
        const Pressure e = humidity * saturation_vapour_pressure(celsius(t_c)).value();
        const MoistAir air{celsius(t_c), dew_point(e).value(), p_hpa * hectopascal};
        const double reference = in_kg_m3(cipm_density(air.temperature, air.pressure, humidity)->density);
        const double below = 1.0 - in_kg_m3(density(air).value()) / reference;
        spread.least = std::min(spread.least, below);
        spread.most = std::max(spread.most, below);
      }
  return spread;
}

TEST(Cipm, TheIdealGasLiesAsFarBelowAsTheHeaderSays) {
  const Spread own = ideal_gas_below_cipm(15.0, 27.0);
  EXPECT_GT(own.least, 1.5e-4);
  EXPECT_LT(own.most, 5e-4);
  const Spread wider = ideal_gas_below_cipm(-10.0, 40.0);
  EXPECT_GT(wider.least, 1e-4);
  EXPECT_LT(wider.most, 8.2e-4);
}

TEST(Humidity, RefusesWhatLiesOutside) {
  for (const auto& formula : {saturation_vapour_pressure, saturation_vapour_pressure_buck}) {
    expect_refused(formula(celsius(-81.0)), Errc::out_of_range, "air.temperature_outside_vapour", "-81C",
                   "-80C .. 60C");
    expect_refused(formula(celsius(61.0)), Errc::out_of_range, "air.temperature_outside_vapour", "61C", "-80C .. 60C");
    EXPECT_FALSE(formula(celsius(kNoNumber)).has_value());
  }
  for (const double e_hpa : {0.0, 0.001, 201.0, -1.0, kNoNumber}) {
    const auto refused = dew_point(e_hpa * hectopascal);
    ASSERT_FALSE(refused.has_value()) << e_hpa;
    EXPECT_EQ(refused.error().code, Errc::out_of_range);
    EXPECT_EQ(refused.error().sentence.key, "air.vapour_pressure_outside");
  }
}

TEST(Humidity, RefusesAirThatCannotBe) {
  const MoistAir sound{celsius(20.0), celsius(10.0), 950.0 * hectopascal};
  MoistAir air = sound;
  air.dew_point = celsius(20.06);
  expect_refused(density(air), Errc::bad_input, "air.dew_point_above_temperature", "20.06C", "<= 20C");
  expect_refused(virtual_temperature(air), Errc::bad_input, "air.dew_point_above_temperature", "20.06C", "<= 20C");
  expect_refused(moist_factor(air), Errc::bad_input, "air.dew_point_above_temperature", "20.06C", "<= 20C");
  air = sound;
  air.dew_point = celsius(-80.5);
  expect_refused(density(air), Errc::out_of_range, "air.dew_point_outside", "-80.5C", "-80C .. 60C");
  air = sound;
  air.temperature = celsius(201.0);
  expect_refused(density(air), Errc::out_of_range, "air.temperature_outside", "201C", "-80C .. 200C");
  air = sound;
  air.pressure = 99.0 * hectopascal;
  expect_refused(density(air), Errc::out_of_range, "air.pressure_outside", "99hPa", "100hPa .. 1200hPa");
  air.pressure = 95000.0 * hectopascal;  // pascals taken for hectopascals
  expect_refused(density(air), Errc::out_of_range, "air.pressure_outside", "95000hPa", "100hPa .. 1200hPa");
  air = {celsius(60.0), celsius(60.0), 150.0 * hectopascal};  // thinner than its vapour alone
  ASSERT_FALSE(density(air).has_value());
  EXPECT_EQ(density(air).error().sentence.key, "air.pressure_outside");
  EXPECT_EQ(density(air).error().wanted.substr(0, 3), "199");
  air.pressure = 300.0 * hectopascal;
  EXPECT_TRUE(density(air).has_value());
  EXPECT_EQ(mixing_ratio(air).error().sentence.key, "air.pressure_outside");
  air = {celsius(100.0), celsius(10.0), 950.0 * hectopascal};  // inside an envelope
  EXPECT_TRUE(density(air).has_value());
  EXPECT_EQ(relative_humidity(air).error().sentence.key, "air.temperature_outside_vapour");
  for (MoistAir broken : {MoistAir{celsius(kNoNumber), celsius(10.0), 950.0 * hectopascal},
                          MoistAir{celsius(20.0), celsius(kNoNumber), 950.0 * hectopascal},
                          MoistAir{celsius(20.0), celsius(10.0), kNoNumber * hectopascal}})
    EXPECT_FALSE(density(broken).has_value());
}

TEST(Cipm, RefusesWhatLiesOutside) {
  const Temperature t = celsius(20.0);
  const Pressure p = 950.0 * hectopascal;
  expect_refused(cipm_density(celsius(-11.0), p, 0.5), Errc::out_of_range, "air.temperature_outside_cipm", "-11C",
                 "-10C .. 40C");
  expect_refused(cipm_density(celsius(41.0), p, 0.5), Errc::out_of_range, "air.temperature_outside_cipm", "41C",
                 "-10C .. 40C");
  expect_refused(cipm_density(t, 599.0 * hectopascal, 0.5), Errc::out_of_range, "air.pressure_outside_cipm", "599hPa",
                 "600hPa .. 1100hPa");
  expect_refused(cipm_density(t, 1101.0 * hectopascal, 0.5), Errc::out_of_range, "air.pressure_outside_cipm", "1101hPa",
                 "600hPa .. 1100hPa");
  expect_refused(cipm_density(t, p, 1.01), Errc::out_of_range, "air.humidity_outside", "101%", "0% .. 100%");
  expect_refused(cipm_density(t, p, -0.01), Errc::out_of_range, "air.humidity_outside", "-1%", "0% .. 100%");
  expect_refused(cipm_density(t, p, 0.5, 0.02), Errc::out_of_range, "air.carbon_dioxide_outside", "2%", "0% .. 1%");
  EXPECT_FALSE(cipm_density(celsius(kNoNumber), p, 0.5).has_value());
  EXPECT_FALSE(cipm_density(t, kNoNumber * pascal, 0.5).has_value());
  EXPECT_FALSE(cipm_density(t, p, kNoNumber).has_value());
  EXPECT_FALSE(cipm_density(t, p, 0.5, kNoNumber).has_value());
}

}  // namespace
}  // namespace pappus::air
