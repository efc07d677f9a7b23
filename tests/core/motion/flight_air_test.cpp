#include "core/motion/flight_air.hpp"

#include <gtest/gtest.h>

#include "tests/core/motion/support.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::motion {
namespace {

using pappus::testing::seeded;
using testing::column_of;
using testing::turning_wind;

TEST(FlightAir, IsTheColumnsAir) {
  const air::AirColumn column =
      column_of(300.0, 4.0, 2500.0, {{amsl(550.0 * metre), celsius(12.0)}, {amsl(1500.0 * metre), celsius(3.0)}});
  const FlightAir air = FlightAir::from(column, {}).value();
  Random random = seeded("FlightAir.Column");
  for (int i = 0; i < 2000; ++i) {
    const AltitudeAmsl z = amsl(random.uniform(300.0, 2800.0) * metre);
    const auto of_column = column.at(z).value().air;
    const double t_k = of_column.temperature.from_origin().in(kelvin);
    const double density = of_column.pressure.in(pascal)*air::moist_factor(of_column).value() / (287.0528 * t_k);
    const auto here = air.at(z);
    EXPECT_NEAR(here.temperature.from_origin().in(kelvin), t_k, 0.2);  // the inversion bends within a layer
    EXPECT_NEAR(here.density.in(kilogram_per_cubic_metre)*here.temperature.from_origin().in(kelvin), density * t_k,
                2e-6 * density * t_k);
  }
}

TEST(FlightAir, WindIsLinearBetweenLevelsAndKeptBeyondThem) {
  const FlightAir air = FlightAir::from(column_of(300.0, 12.0, 3000.0), turning_wind(300.0)).value();
  EXPECT_NEAR(air.at(amsl(375.0 * metre)).east.in(metre_per_second), 2.4, 0.1);
  EXPECT_NEAR(air.at(amsl(1350.0 * metre)).east.in(metre_per_second), 7.5, 1e-9);
  EXPECT_NEAR(air.at(amsl(2900.0 * metre)).north.in(metre_per_second), -6.0, 1e-9);
  EXPECT_NEAR(air.at(amsl(9000.0 * metre)).north.in(metre_per_second), -6.0, 1e-9);  // held to the top
  const FlightAir calm = FlightAir::from(column_of(300.0, 12.0, 3000.0), {}).value();
  EXPECT_EQ(calm.at(amsl(800.0 * metre)).east.in(metre_per_second), 0.0);
}

TEST(FlightAir, RefusesWindsThatDoNotRise) {
  auto winds = turning_wind(300.0);
  std::swap(winds[0], winds[1]);
  const auto air = FlightAir::from(column_of(300.0, 12.0, 3000.0), winds);
  ASSERT_FALSE(air.has_value());
  EXPECT_EQ(air.error().sentence.key, "motion.wind_order");
  EXPECT_EQ(air.error().code, Errc::bad_input);
}

}  // namespace
}  // namespace pappus::motion
