#include "core/air/altimetry.hpp"

#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "core/air/isa.hpp"
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

// A mild morning at a high field; each test spoils one of its readings.
PlaceReading mild_morning() {
  return {.elevation = amsl(1500.0 * metre),
          .qnh = 1018.0 * hectopascal,
          .temperature = celsius(28.0),
          .dew_point = celsius(10.0)};
}

TEST(Altimetry, MatchesTheTable) {
  for (const Row& row : read_table("qnh.csv")) {
    const Pressure qnh = row["qnh_hpa"] * hectopascal;
    const AltitudeAmsl elevation = amsl(row["elevation_m"] * metre);
    const std::string quantity = row.text("quantity");
    if (quantity == "station_pressure") {
      expect_row(row, station_pressure(qnh, elevation)->in(hectopascal));
      continue;
    }
    const AirAtPlace air = air_at_place({.elevation = elevation,
                                         .qnh = qnh,
                                         .temperature = celsius(row["temperature_c"]),
                                         .dew_point = celsius(row["dew_point_c"])})
                               .value();
    if (quantity == "virtual_temperature")
      expect_row(row, air.virtual_temperature.from_origin().in(kelvin));
    else if (quantity == "density")
      expect_row(row, air.density.in(kilogram_per_cubic_metre));
    else if (quantity == "density_altitude")
      expect_row(row, air.density_altitude.from_origin().in(metre));
    else
      ADD_FAILURE() << row.where() << ": no such quantity";
  }
}

TEST(Altimetry, QnhAndStationPressureInvertEachOther) {
  auto random = testing::seeded("Altimetry.Inverse");
  for (int i = 0; i < 2000; ++i) {
    const Pressure qnh = (i == 0 ? 850.0 : i == 1 ? 1085.0 : random.uniform(850.0, 1085.0)) * hectopascal;
    const AltitudeAmsl elevation = amsl(random.uniform(-450.0, 6000.0) * metre);
    const Pressure station = station_pressure(qnh, elevation).value();
    EXPECT_NEAR(qnh_of(station, elevation)->in(pascal), qnh.in(pascal), 1e-6);
  }
}

TEST(Altimetry, StationPressureRisesWithQnhAndFallsWithElevation) {
  auto random = testing::seeded("Altimetry.Monotonic");
  for (int i = 0; i < 1000; ++i) {
    const Pressure qnh = random.uniform(850.0, 1084.0) * hectopascal;
    const AltitudeAmsl elevation = amsl(random.uniform(-450.0, 5999.0) * metre);
    const Pressure here = station_pressure(qnh, elevation).value();
    EXPECT_GT(station_pressure(qnh + 0.01 * hectopascal, elevation).value(), here);
    EXPECT_LT(station_pressure(qnh, elevation + 0.01 * metre).value(), here);
  }
  EXPECT_NEAR(station_pressure(1018.0 * hectopascal, amsl(0.0 * metre))->in(hectopascal), 1018.0, 1e-9);
}

TEST(Altimetry, WithTheStandardSettingThePressureAltitudeIsTheElevation) {
  for (const double z_m : {-400.0, 0.0, 1500.0, 6000.0}) {
    const Pressure station = station_pressure(standard_atmosphere, amsl(z_m * metre)).value();
    EXPECT_NEAR(pressure_altitude(station)->from_origin().in(metre), z_m, 1e-6);
  }
}

TEST(Altimetry, APlaceIsAnsweredAsItsPartsAre) {
  const PlaceReading reading = mild_morning();
  const AirAtPlace place = air_at_place(reading).value();
  const MoistAir air{reading.temperature, reading.dew_point, station_pressure(reading.qnh, reading.elevation).value()};
  EXPECT_EQ(place.station_pressure, air.pressure);
  EXPECT_EQ(place.density, density(air).value());
  EXPECT_EQ(place.pressure_altitude, pressure_altitude(air.pressure).value());
  // The worked chain of the same reading by CIPM-2007 (regression: computed from the printed equation).
  ASSERT_TRUE(place.density_cipm.has_value());
  EXPECT_NEAR(place.density_cipm->in(kilogram_per_cubic_metre), 0.977780, 5e-5);
}

TEST(Altimetry, TheReferenceDensityIsAbsentOutsideItsDomain) {
  PlaceReading cold = mild_morning();
  cold.temperature = celsius(-20.0);
  cold.dew_point = celsius(-25.0);
  EXPECT_FALSE(air_at_place(cold)->density_cipm.has_value());
  PlaceReading high = mild_morning();
  high.elevation = amsl(5000.0 * metre);
  EXPECT_FALSE(air_at_place(high)->density_cipm.has_value());
  PlaceReading saturated = mild_morning();
  saturated.dew_point = saturated.temperature + 0.05 * kelvin - 1e-9 * kelvin;
  EXPECT_TRUE(air_at_place(saturated)->density_cipm.has_value());
}

TEST(Altimetry, AColdDenseMorningHasADensityAltitudeFarBelowTheSea) {
  const AirAtPlace air = air_at_place({.elevation = amsl(130.0 * metre),
                                       .qnh = 1045.0 * hectopascal,
                                       .temperature = celsius(-38.0),
                                       .dew_point = celsius(-41.0)})
                             .value();
  EXPECT_LT(air.density_altitude.from_origin(), -2000.0 * metre);
}

TEST(Altimetry, RefusesWhatLiesOutside) {
  const AltitudeAmsl field = amsl(1500.0 * metre);
  const Pressure qnh = 1018.0 * hectopascal;
  expect_refused(station_pressure(849.0 * hectopascal, field), Errc::out_of_range, "air.qnh_outside", "849hPa",
                 "850hPa .. 1085hPa");
  expect_refused(station_pressure(1086.0 * hectopascal, field), Errc::out_of_range, "air.qnh_outside", "1086hPa",
                 "850hPa .. 1085hPa");
  expect_refused(station_pressure(kNoNumber * pascal, field), Errc::out_of_range, "air.qnh_outside", "nanhPa",
                 "850hPa .. 1085hPa");
  for (const double z_m : {-451.0, 6001.0, kNoNumber}) {
    EXPECT_EQ(station_pressure(qnh, amsl(z_m * metre)).error().sentence.key, "air.elevation_outside");
    EXPECT_EQ(qnh_of(900.0 * hectopascal, amsl(z_m * metre)).error().sentence.key, "air.elevation_outside");
  }
  expect_refused(station_pressure(qnh, amsl(6001.0 * metre)), Errc::out_of_range, "air.elevation_outside", "6001m",
                 "-450m .. 6000m");
  // An altimeter setting where a station pressure belongs.
  const auto swapped = qnh_of(qnh, field);
  ASSERT_FALSE(swapped.has_value());
  EXPECT_EQ(swapped.error().sentence.key, "air.station_pressure_outside");
  EXPECT_EQ(swapped.error().got, "1018hPa");
  EXPECT_FALSE(qnh_of(-5.0 * pascal, field).has_value());
  EXPECT_FALSE(qnh_of(kNoNumber * pascal, field).has_value());
}

TEST(Altimetry, APlaceRefusesWhatItsPartsRefuse) {
  const auto key_of = [](const PlaceReading& reading) {
    const auto air = air_at_place(reading);
    return air ? std::string{"accepted"} : air.error().sentence.key;
  };
  PlaceReading reading = mild_morning();
  reading.qnh = 30.06 * hectopascal;  // inches taken for hectopascals
  EXPECT_EQ(key_of(reading), "air.qnh_outside");
  reading = mild_morning();
  reading.dew_point = celsius(29.0);
  EXPECT_EQ(key_of(reading), "air.dew_point_above_temperature");
  reading = mild_morning();
  reading.temperature = celsius(61.0);
  EXPECT_EQ(key_of(reading), "air.temperature_outside_vapour");
  reading = mild_morning();
  reading.dew_point = celsius(-81.0);
  EXPECT_EQ(key_of(reading), "air.dew_point_outside");
  reading = {.elevation = amsl(-450.0 * metre),
             .qnh = 1085.0 * hectopascal,
             .temperature = celsius(-80.0),
             .dew_point = celsius(-80.0)};
  EXPECT_EQ(key_of(reading), "air.density_outside_standard");
}

}  // namespace
}  // namespace pappus::air
