#include "core/balloon/lift.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "core/air/altimetry.hpp"
#include "core/air/isa.hpp"
#include "tests/core/balloon/morning_air.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::balloon {
namespace {

using pappus::testing::read_table;
using pappus::testing::Row;
using pappus::testing::seeded;
using testing::dawn;
using testing::random_air;
using testing::standard_day;

double kg(Mass m) { return m.in(kilogram); }
double kelvins(Temperature t) { return t.from_origin().in(kelvin); }

TEST(GrossLift, MatchesThePublishedFigures) {
  for (const Row& row : read_table("lift.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto pressure = air::pressure_at(PressureAltitude::at(row["pressure_altitude_m"] * metre)).value();
    const auto lift = gross_lift({.outside = {celsius(row["ambient_c"]), air::kDryDewPoint, pressure},
                                  .inside_mean = celsius(row["inside_c"]),
                                  .volume = row["volume_m3"] * cubic_metre});
    ASSERT_TRUE(lift.has_value());
    EXPECT_NEAR(kg(*lift), row["lift_kg"], row["tolerance_kg"]);
  }
}

TEST(GrossLift, LosesWhatTheVapourTakes) {
  for (const Row& row : read_table("lift_moist.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const Temperature t = celsius(row["temperature_c"]);
    const Pressure p = row["pressure_hpa"] * hectopascal;
    const Pressure e = row["relative_humidity"] * air::saturation_vapour_pressure(t).value();
    const auto lift = [&](Temperature dew_point) {
      return kg(gross_lift({{t, dew_point, p}, celsius(100.0), 2200.0 * cubic_metre}).value());
    };
    // The dry dew point still holds 2e-7 of vapour.
    EXPECT_NEAR(lift(air::dew_point(e).value()) / lift(air::kDryDewPoint), row["factor"], row["tolerance"]);
  }
}

TEST(GrossLift, IsNoneWithoutATemperatureDifference) {
  const air::MoistAir air{celsius(12.0), celsius(5.0), 950.0 * hectopascal};
  EXPECT_EQ(kg(gross_lift({air, celsius(12.0), 2600.0 * cubic_metre}).value()), 0.0);
}

TEST(GrossLift, RisesWithHeatAndVolumeAndFallsWithHumidity) {
  Random random = seeded("GrossLift.Monotonic");
  for (int i = 0; i < 500; ++i) {
    const air::MoistAir air = random_air(random);
    const Temperature inside = air.temperature + random.uniform(1.0, 100.0) * kelvin;
    const Volume v = random.uniform(500.0, 12000.0) * cubic_metre;
    const double lift = kg(gross_lift({air, inside, v}).value());
    EXPECT_GT(kg(gross_lift({air, inside + 0.5 * kelvin, v}).value()), lift);
    EXPECT_NEAR(kg(gross_lift({air, inside, 2.0 * v}).value()), 2.0 * lift, 1e-9 * lift);
    const air::MoistAir drier{air.temperature, air.dew_point - 1.0 * kelvin, air.pressure};
    EXPECT_GT(kg(gross_lift({drier, inside, v}).value()), lift);
    const air::MoistAir higher{air.temperature, air.dew_point, 0.99 * air.pressure};
    EXPECT_LT(kg(gross_lift({higher, inside, v}).value()), lift);
  }
}

TEST(GrossLift, FallsWithHeightAtGivenTemperatures) {
  // Height alone is asked about, so the outside temperature is held: with the standard lapse at a fixed inside
  // temperature the cooling of the air nearly makes up for its thinning.
  const air::AirColumn column = standard_day(amsl(0.0 * metre), 5000.0 * metre);
  double before = 1e9;
  for (int h = 0; h <= 5000; h += 100) {
    air::MoistAir air = column.at(amsl(h * metre)).value().air;
    air.temperature = celsius(10.0);
    air.dew_point = air::kDryDewPoint;
    const double lift = kg(gross_lift({air, celsius(100.0), 2180.0 * cubic_metre}).value());
    EXPECT_LT(lift, before);
    before = lift;
  }
}

TEST(GrossLift, RefusesWhatItDoesNotCover) {
  const air::MoistAir air{celsius(15.0), celsius(5.0), 1013.25 * hectopascal};
  const auto key = [](const auto& result) { return result.has_value() ? "a value" : result.error().sentence.key; };
  EXPECT_EQ(key(gross_lift({air, celsius(14.9), 2000.0 * cubic_metre})), "lift.inside_temperature_outside");
  EXPECT_EQ(key(gross_lift({air, celsius(200.1), 2000.0 * cubic_metre})), "lift.inside_temperature_outside");
  EXPECT_EQ(key(gross_lift({air, celsius(100.0), Volume{}})), "lift.volume_outside");
  EXPECT_EQ(key(gross_lift({air, celsius(100.0), (0.0 / 0.0) * cubic_metre})), "lift.volume_outside");
  EXPECT_EQ(key(mean_temperature_needed({air, -1.0 * kilogram, 2000.0 * cubic_metre})), "lift.load_outside");
  const auto heavy = mean_temperature_needed({air, 5000.0 * kilogram, 2000.0 * cubic_metre});
  ASSERT_FALSE(heavy.has_value());
  EXPECT_EQ(heavy.error().code, Errc::out_of_range);
  EXPECT_EQ(heavy.error().got, "5000kg");
  // The most that it names is what it carries at 200 C.
  EXPECT_NEAR(std::get<Measure>(heavy.error().sentence.arguments[2].value).si,
              kg(gross_lift({air, celsius(200.0), 2000.0 * cubic_metre}).value()), 1e-9);
  const air::MoistAir wet{celsius(15.0), celsius(16.0), 1013.25 * hectopascal};
  EXPECT_FALSE(gross_lift({wet, celsius(100.0), 2000.0 * cubic_metre}).has_value());
  EXPECT_FALSE(mean_temperature_needed({wet, 500.0 * kilogram, 2000.0 * cubic_metre}).has_value());
}

TEST(MeanTemperatureNeeded, IsTheInverseOfLift) {
  Random random = seeded("MeanTemperatureNeeded.Inverse");
  for (int i = 0; i < 1000; ++i) {
    const air::MoistAir air = random_air(random);
    const Temperature inside = air.temperature + random.uniform(0.0, 150.0) * kelvin;
    const Volume v = random.uniform(500.0, 12000.0) * cubic_metre;
    const Mass lift = gross_lift({air, inside, v}).value();
    EXPECT_NEAR(kelvins(mean_temperature_needed({air, lift, v}).value()), kelvins(inside), 1e-9);
  }
}

FlightLift flight(const air::AirColumn& column, Length above_field, Mass carried = 600.0 * kilogram) {
  return flight_lift({.column = column,
                      .highest = column.ground() + above_field,
                      .carried = carried,
                      .volume = 2600.0 * cubic_metre,
                      .crown_limit = celsius(121.0)})
      .value();
}

TEST(LevelsFlown, StandTwentyMetresApartAndAtBothEnds) {
  const auto z = levels_flown(amsl(312.5 * metre), amsl(400.0 * metre));
  ASSERT_EQ(z.size(), 6u);
  EXPECT_EQ(z.front(), amsl(312.5 * metre));
  EXPECT_EQ(z[1], amsl(332.5 * metre));
  EXPECT_EQ(z.back(), amsl(400.0 * metre));
  EXPECT_EQ(levels_flown(amsl(0.0 * metre), amsl(40.0 * metre)).size(), 3u);  // no double of the highest
  EXPECT_EQ(levels_flown(amsl(7.0 * metre), amsl(7.0 * metre)).size(), 1u);
}

TEST(FlightLift, IsWorstAtTheTopOfADawnInversion) {
  // Above the nose the air cools faster than the temperature needed can make up for.
  const auto f = flight(dawn({{150.0, 13.0}, {600.0, 8.0}}), 600.0 * metre);
  EXPECT_NEAR((f.worst.altitude - amsl(300.0 * metre)).in(metre), 150.0, 10.0 + 1e-9);
  EXPECT_GT((f.worst.crown_expected - f.levels.front().crown_expected).in(kelvin), 10.0);
  EXPECT_LT(kg(f.worst.margin), kg(f.levels.front().margin));
}

TEST(FlightLift, IsWorstAtTheHighestHeightOfAStandardDay) {
  // At a fixed load the standard lapse is all but neutral: the temperature needed rises by about 0.8 K per kilometre.
  const auto f = flight(standard_day(amsl(0.0 * metre)), 1000.0 * metre);
  EXPECT_EQ(f.worst.altitude, amsl(1000.0 * metre));
  EXPECT_GT(f.worst.mean_needed, f.levels.front().mean_needed);
  EXPECT_LT((f.worst.mean_needed - f.levels.front().mean_needed).in(kelvin), 3.0);
}

TEST(FlightLift, NamesTheLowestOfEquals) {
  const auto f = flight(dawn({}), 0.0 * metre);
  ASSERT_EQ(f.levels.size(), 1u);
  EXPECT_EQ(f.worst.altitude, amsl(300.0 * metre));
  // With nothing carried the balloon needs the temperature of the air: in air of one temperature all levels are equal.
  const auto even = flight(dawn({{400.0, 2.0}}), 400.0 * metre, Mass{});
  EXPECT_EQ(even.worst.altitude, amsl(300.0 * metre));
}

TEST(FlightLift, FindsTheWorstThatASearchMetreByMetreFinds) {
  Random random = seeded("FlightLift.BruteForce");
  for (int i = 0; i < 40; ++i) {
    std::vector<std::pair<double, double>> aloft;
    double h = 0.0, c = 2.0, steepest_k_m = 0.0065;
    while (h < 1000.0) {
      const double step = random.uniform(60.0, 300.0), rise = random.uniform(-0.0098, 0.05) * step;
      h += step;
      c += rise;
      steepest_k_m = std::max(steepest_k_m, std::abs(rise) / step);
      aloft.emplace_back(h, c);
    }
    const air::AirColumn column = dawn(aloft);
    const Length highest = random.uniform(50.0, 1000.0) * metre;
    const auto f = flight(column, highest, 550.0 * kilogram);
    double hottest_k = 0.0;
    for (int m = 0; m <= static_cast<int>(highest.in(metre)) + 1; ++m) {
      const auto air = column.at(column.ground() + std::min(m * metre, highest)).value().air;
      const auto needed = mean_temperature_needed({air, 550.0 * kilogram, 2600.0 * cubic_metre}).value();
      hottest_k = std::max(hottest_k, kelvins(needed));
    }
    // A corner lies at most half a step from a level; the inside must follow the outside by under twice its change.
    const double worst_k = kelvins(f.worst.mean_needed);
    EXPECT_LE(worst_k, hottest_k + 1e-9);
    EXPECT_GE(worst_k, hottest_k - 10.0 * 2.0 * steepest_k_m);
  }
}

TEST(FlightLift, HasANegativeMarginExactlyWhereTheCrownWouldBeTooHot) {
  Random random = seeded("FlightLift.Margin");
  int over = 0, under = 0;
  for (int i = 0; i < 60; ++i) {
    const air::AirColumn column = dawn({{random.uniform(50.0, 300.0), random.uniform(2.0, 20.0)}});
    const Temperature limit = celsius(121.0);
    const Mass carried = random.uniform(300.0, 900.0) * kilogram;
    const Volume v = 2600.0 * cubic_metre;
    const auto f = flight_lift({column, column.ground() + 400.0 * metre, carried, v, limit}).value();
    EXPECT_EQ(f.mean_allowed, limit - kCrownExcess);
    for (const LiftAt& level : f.levels) {
      EXPECT_EQ(level.crown_expected, level.mean_needed + kCrownExcess);
      const Mass allowed = gross_lift({column.at(level.altitude).value().air, f.mean_allowed, v}).value();
      EXPECT_NEAR(kg(level.margin), kg(allowed - carried), 1e-9);
      EXPECT_EQ(level.margin<Mass{}, level.crown_expected> limit);
      ++(level.margin < Mass{} ? over : under);
    }
  }
  EXPECT_GT(over, 100);
  EXPECT_GT(under, 100);
}

TEST(FlightLift, SaysWhatIsMeasuredAndWhatIsFilledIn) {
  const auto f = flight(dawn({{150.0, 13.0}}), 600.0 * metre);
  EXPECT_EQ(f.levels.front().filling, air::Filling::measured);
  EXPECT_EQ(f.levels.back().filling, air::Filling::standard);
}

TEST(FlightLift, RefusesWhatItDoesNotCover) {
  const air::AirColumn column = dawn({}, 500.0);
  const auto key = [&](AltitudeAmsl highest, Mass carried, Temperature limit) {
    const auto f = flight_lift({column, highest, carried, 2600.0 * cubic_metre, limit});
    return f ? std::string{"a value"} : f.error().sentence.key;
  };
  EXPECT_EQ(key(amsl(801.0 * metre), 500.0 * kilogram, celsius(121.0)), "lift.highest_outside");
  EXPECT_EQ(key(amsl(299.0 * metre), 500.0 * kilogram, celsius(121.0)), "lift.highest_outside");
  EXPECT_EQ(key(amsl(600.0 * metre), 3000.0 * kilogram, celsius(121.0)), "lift.load_outside");
  EXPECT_EQ(key(amsl(600.0 * metre), 500.0 * kilogram, celsius(15.0)), "lift.crown_limit_outside");
  EXPECT_EQ(key(amsl(600.0 * metre), 500.0 * kilogram, celsius(121.0)), "a value");
}

}  // namespace
}  // namespace pappus::balloon
