#include "core/air/isa.hpp"

#include <algorithm>
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

GeopotentialAltitude at_m(double h_m) { return GeopotentialAltitude::at(h_m * metre); }

double value_named(const std::string& quantity, const StandardAir& air) {
  if (quantity == "T") return air.temperature.from_origin().in(kelvin);
  if (quantity == "p") return air.pressure.in(hectopascal);
  if (quantity == "rho") return air.density.in(kilogram_per_cubic_metre);
  ADD_FAILURE() << "no such quantity: " << quantity;
  return kNoNumber;
}

TEST(Isa, MatchesThePublishedTables) {
  for (const Row& row : read_table("isa.csv")) {
    const bool geometric_row = row.text("scale") == "geometric";
    const GeopotentialAltitude h =
        geometric_row ? geopotential(amsl(row["altitude_m"] * metre)) : at_m(row["altitude_m"]);
    if (row.text("quantity") == "geopotential_H")
      expect_row(row, h.from_origin().in(metre));
    else
      expect_row(row, value_named(row.text("quantity"), isa_at(h).value()));
  }
}

TEST(Isa, GivesThePublishedPressureAndDensityAltitudes) {
  for (const Row& row : read_table("isa_inverse.csv")) {
    if (row.text("given") == "p")
      expect_row(row, pressure_altitude(row["given_value"] * hectopascal)->from_origin().in(metre));
    else
      expect_row(row, density_altitude(row["given_value"] * kilogram_per_cubic_metre)->from_origin().in(metre));
  }
}

TEST(Isa, AgreesWithTheHandbook) {
  for (const Row& row : read_table("air_handbook.csv")) {
    const GeopotentialAltitude h = GeopotentialAltitude::at(row["altitude_ft"] * foot);
    const StandardAir air = isa_at(h).value();
    const std::string quantity = row.text("quantity"), unit = row.text("unit");
    if (quantity == "pressure")
      expect_row(row, air.pressure.in(unit == "inHg"  ? inch_of_mercury
                                      : unit == "psi" ? pound_per_square_inch
                                                      : hectopascal));
    else if (quantity == "temperature")
      expect_row(row, unit == "F" ? in_fahrenheit(air.temperature) : in_celsius(air.temperature));
    else if (quantity == "lapse_per_1000ft")
      expect_row(row, (isa_at(h - 1000.0 * foot)->temperature - air.temperature).in(unit == "F" ? rankine : kelvin));
    else
      ADD_FAILURE() << row.where() << ": no such quantity";
  }
}

TEST(Isa, PressureFallsStrictlyWithHeight) {
  auto random = testing::seeded("Isa.PressureFalls");
  for (int i = 0; i < 2000; ++i) {
    const double low = random.uniform(-5000.0, 20000.0 - 0.001);
    const double high = random.uniform(low + 0.001, std::min(20000.0, low + (i % 2 == 0 ? 0.01 : 20000.0)));
    EXPECT_GT(isa_at(at_m(low))->pressure, isa_at(at_m(high))->pressure) << low << " and " << high;
  }
}

TEST(Isa, TheTropopauseIsNotAStep) {
  const StandardAir below = isa_at(at_m(11000.0)).value(), above = isa_at(at_m(11000.001)).value();
  EXPECT_NEAR((below.pressure - above.pressure).in(pascal), 0.0036, 0.0001);
  EXPECT_NEAR((below.temperature - above.temperature).in(kelvin), 0.0, 1e-9);
}

TEST(Isa, PressureAndDensityAltitudeGiveTheHeightBackWithinAMillimetre) {
  auto random = testing::seeded("Isa.Inverse");
  for (int i = 0; i < 2000; ++i) {
    const double h_m = i == 0 ? -5000.0 : i == 1 ? 11000.0 : random.uniform(-5000.0, 11000.0);
    const StandardAir air = isa_at(at_m(h_m)).value();
    const PressureAltitude by_pressure = pressure_altitude(air.pressure).value();
    EXPECT_NEAR(by_pressure.from_origin().in(metre), h_m, 0.001);
    EXPECT_NEAR(density_altitude(air.density)->from_origin().in(metre), h_m, 0.001);
    EXPECT_NEAR(pressure_at(by_pressure)->in(pascal), air.pressure.in(pascal), 1e-6);
  }
}

TEST(Isa, GeometricAndGeopotentialInvertEachOther) {
  auto random = testing::seeded("Isa.Geopotential");
  for (int i = 0; i < 2000; ++i) {
    const AltitudeAmsl z = amsl(random.uniform(-5000.0, 100'000.0) * metre);
    const GeopotentialAltitude h = geopotential(z);
    EXPECT_NEAR(geometric(h).from_origin().in(metre), z.from_origin().in(metre), 1e-6);
    EXPECT_LE(h.from_origin(), z.from_origin());
  }
}

TEST(Isa, RefusesWhatLiesOutside) {
  expect_refused(isa_at(at_m(-5001.0)), Errc::out_of_range, "air.altitude_outside_standard", "-5001m",
                 "-5000m .. 20000m");
  expect_refused(isa_at(at_m(20001.0)), Errc::out_of_range, "air.altitude_outside_standard", "20001m",
                 "-5000m .. 20000m");
  expect_refused(isa_at(at_m(kNoNumber)), Errc::out_of_range, "air.altitude_outside_standard", "nanm",
                 "-5000m .. 20000m");
  expect_refused(pressure_at(PressureAltitude::at(11001.0 * metre)), Errc::out_of_range,
                 "air.altitude_outside_standard", "11001m", "-5000m .. 11000m");
  const auto thin = pressure_altitude(226.0 * hectopascal), dense = pressure_altitude(1800.0 * hectopascal);
  ASSERT_FALSE(thin.has_value());
  EXPECT_EQ(thin.error().sentence.key, "air.pressure_outside_standard");
  EXPECT_EQ(thin.error().got, "226hPa");
  EXPECT_EQ(thin.error().wanted.substr(0, 6), "226.32");
  ASSERT_FALSE(dense.has_value());
  EXPECT_EQ(dense.error().got, "1800hPa");
  EXPECT_FALSE(pressure_altitude(-1.0 * pascal).has_value());
  EXPECT_FALSE(pressure_altitude(kNoNumber * pascal).has_value());
  for (const double rho : {0.36, 1.94, -1.0, kNoNumber}) {
    const auto refused = density_altitude(rho * kilogram_per_cubic_metre);
    ASSERT_FALSE(refused.has_value()) << rho;
    EXPECT_EQ(refused.error().code, Errc::out_of_range);
    EXPECT_EQ(refused.error().sentence.key, "air.density_outside_standard");
  }
}

}  // namespace
}  // namespace pappus::air
