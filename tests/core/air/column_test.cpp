#include "core/air/column.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

#include <gtest/gtest.h>

#include "core/air/isa.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::air {
namespace {

using testing::expect_refused;

constexpr double kNoNumber = std::numeric_limits<double>::quiet_NaN();

AltitudeAmsl at_m(double z_m) { return amsl(z_m * metre); }
double in_k(Temperature t) { return t.from_origin().in(kelvin); }

// A field at 500 m on a mild morning with nothing known aloft; each test changes what it is about.
AirColumn::Inputs mild_morning() {
  return {.ground = at_m(500.0),
          .surface_pressure = 955.0 * hectopascal,
          .surface_temperature = celsius(12.0),
          .dew_point = celsius(8.0),
          .aloft = {},
          .above = Filling::standard,
          .top = at_m(2500.0)};
}

// 500 m 12 C | 650 m 15 C | 1200 m 11 C | 2000 m 4 C, handed over unsorted.
AirColumn::Inputs sounded_morning() {
  AirColumn::Inputs in = mild_morning();
  in.aloft = {{at_m(2000.0), celsius(4.0)}, {at_m(650.0), celsius(15.0)}, {at_m(1200.0), celsius(11.0)}};
  return in;
}

AirColumn::Sample sample(const AirColumn& column, double z_m) { return column.at(at_m(z_m)).value(); }

AirColumn::Inputs any_morning(Random& random) {
  AirColumn::Inputs in;
  const double ground_m = random.uniform(-400.0, 4000.0), t_c = random.uniform(-30.0, 40.0);
  in.ground = at_m(ground_m);
  in.surface_pressure = random.uniform(600.0, 1050.0) * hectopascal;
  in.surface_temperature = celsius(t_c);
  if (random.below(3) != 0) in.dew_point = celsius(random.uniform(-45.0, t_c));
  in.top = at_m(ground_m + random.uniform(100.0, 5000.0));
  for (std::uint64_t i = random.below(5); i > 0; --i)
    in.aloft.push_back({at_m(ground_m + random.uniform(1.0, 6000.0)), celsius(random.uniform(-30.0, 40.0))});
  if (in.aloft.empty() && random.below(2) == 0) in.above = Filling::inversion;
  return in;
}

TEST(AirColumn, WithDryAirAndTheStandardLapseItIsTheStandardAtmosphere) {
  for (const double ground_m : {0.0, 1500.0, 3000.0}) {
    const StandardAir surface = isa_at(geopotential(at_m(ground_m))).value();
    const AirColumn column = AirColumn::from({.ground = at_m(ground_m),
                                              .surface_pressure = surface.pressure,
                                              .surface_temperature = surface.temperature,
                                              .dew_point = std::nullopt,
                                              .aloft = {},
                                              .above = Filling::standard,
                                              .top = at_m(6000.0)})
                                 .value();
    for (double z_m = ground_m; z_m <= 6000.0; z_m += 12.3) {
      const StandardAir standard = isa_at(geopotential(at_m(z_m))).value();
      const MoistAir air = sample(column, z_m).air;
      EXPECT_NEAR(air.pressure.in(pascal), standard.pressure.in(pascal), 0.01) << z_m;
      EXPECT_NEAR(in_k(air.temperature), in_k(standard.temperature), 1e-9) << z_m;
      EXPECT_EQ(air.dew_point, kDryDewPoint);
    }
  }
}

TEST(AirColumn, TemperatureRunsStraightBetweenTheLevels) {
  const AirColumn column = AirColumn::from(sounded_morning()).value();
  EXPECT_EQ(sample(column, 500.0).air.temperature, celsius(12.0));
  EXPECT_NEAR(in_celsius(sample(column, 575.0).air.temperature), 13.5, 1e-4);
  EXPECT_NEAR(in_celsius(sample(column, 650.0).air.temperature), 15.0, 1e-9);
  EXPECT_NEAR(in_celsius(sample(column, 1600.0).air.temperature), 7.5, 1e-3);
  EXPECT_NEAR(in_celsius(sample(column, 2000.0).air.temperature), 4.0, 1e-9);
  EXPECT_NEAR(in_celsius(sample(column, 2500.0).air.temperature), 4.0 - 3.25, 5e-3);  // 6.5 K per geopotential km
}

TEST(AirColumn, AnAssumedInversionRisesTenKelvinInThreeHundredMetres) {
  AirColumn::Inputs in = mild_morning();
  in.above = Filling::inversion;
  const AirColumn column = AirColumn::from(in).value();
  EXPECT_NEAR(in_celsius(sample(column, 650.0).air.temperature), 17.0, 1e-3);
  EXPECT_NEAR(in_celsius(sample(column, 800.0).air.temperature), 22.0, 1e-6);
  EXPECT_NEAR(in_celsius(sample(column, 1800.0).air.temperature), 15.5, 5e-3);
  in.top = at_m(600.0);  // a top within the inversion
  EXPECT_NEAR(in_celsius(sample(AirColumn::from(in).value(), 600.0).air.temperature), 12.0 + 10.0 / 3.0, 1e-3);
}

TEST(AirColumn, SaysHowEachAltitudeWasFilled) {
  const AirColumn sounded = AirColumn::from(sounded_morning()).value();
  EXPECT_EQ(sample(sounded, 500.0).filling, Filling::measured);
  EXPECT_EQ(sample(sounded, 1500.0).filling, Filling::measured);
  EXPECT_EQ(sample(sounded, 2000.0).filling, Filling::measured);
  EXPECT_EQ(sample(sounded, 2000.1).filling, Filling::standard);
  EXPECT_EQ(sample(sounded, 2500.0).filling, Filling::standard);
  AirColumn::Inputs in = mild_morning();
  EXPECT_EQ(sample(AirColumn::from(in).value(), 500.0).filling, Filling::measured);
  EXPECT_EQ(sample(AirColumn::from(in).value(), 500.1).filling, Filling::standard);
  in.above = Filling::inversion;
  EXPECT_EQ(sample(AirColumn::from(in).value(), 500.0).filling, Filling::measured);
  EXPECT_EQ(sample(AirColumn::from(in).value(), 500.1).filling, Filling::inversion);
  EXPECT_EQ(sample(AirColumn::from(in).value(), 2500.0).filling, Filling::inversion);
}

TEST(AirColumn, OfLevelsAboveItsTopOnlyTheLowestCounts) {
  AirColumn::Inputs in = sounded_morning();
  in.top = at_m(1600.0);
  in.aloft.push_back({at_m(12000.0), celsius(-70.0)});  // colder than a level may be, and of no concern here
  const AirColumn column = AirColumn::from(in).value();
  EXPECT_NEAR(in_celsius(sample(column, 1600.0).air.temperature), 7.5, 1e-3);
  EXPECT_EQ(sample(column, 1600.0).filling, Filling::measured);
  in.aloft.push_back({in.top, celsius(8.0)});
  in.aloft.push_back({at_m(1800.0), celsius(-70.0)});
  EXPECT_NEAR(in_celsius(sample(AirColumn::from(in).value(), 1600.0).air.temperature), 8.0, 1e-9);
}

TEST(AirColumn, HoldsTheMixingRatioOfTheSurfaceUpToSaturation) {
  const AirColumn column = AirColumn::from(mild_morning()).value();
  const double surface = mixing_ratio(sample(column, 500.0).air).value();
  EXPECT_NEAR(in_celsius(sample(column, 500.0).air.dew_point), 8.0, 1e-9);
  EXPECT_NEAR(mixing_ratio(sample(column, 800.0).air).value(), surface, 1e-12);
  const MoistAir high = sample(column, 2400.0).air;  // -0.35 C: it could not hold the surface's 8 C worth of vapour
  EXPECT_LT(mixing_ratio(high).value(), surface);
  EXPECT_NEAR(relative_humidity(high).value(), 1.0, 1e-12);
}

TEST(AirColumn, ATinyAmountOfVapourCountsAsDry) {
  AirColumn::Inputs in = mild_morning();
  in.dew_point = celsius(-79.9);
  EXPECT_EQ(sample(AirColumn::from(in).value(), 2400.0).air.dew_point, kDryDewPoint);
}

TEST(AirColumn, PressureFallsStrictlyAndTheDewPointStaysBelowTheTemperature) {
  auto random = testing::seeded("AirColumn.Pressure");
  for (int i = 0; i < 200; ++i) {
    const AirColumn column = AirColumn::from(any_morning(random)).value();
    const double bottom_m = column.ground().from_origin().in(metre), top_m = column.top().from_origin().in(metre);
    for (int k = 0; k < 20; ++k) {
      const double low_m = random.uniform(bottom_m, top_m - 0.001);
      const double high_m = k % 2 == 0 ? low_m + 0.001 : random.uniform(low_m + 0.001, top_m);
      const MoistAir low = sample(column, low_m).air, high = sample(column, high_m).air;
      EXPECT_GT(low.pressure, high.pressure) << low_m << " and " << high_m;
      EXPECT_LE(low.dew_point, low.temperature);
      EXPECT_TRUE(density(low).has_value());
    }
  }
}

// The same equations integrated another way: classical Runge-Kutta on geometric altitude with gravity falling by the
// inverse square, in steps of 0.5 m that meet every corner of the temperature line.
double runge_kutta_pa(const AirColumn& column, double mixing, double p_pa, double from_m, double to_m) {
  constexpr double earth_m = 6356766.0;
  const auto slope = [&](double z_m, double p) {
    const double t_k = in_k(sample(column, z_m).air.temperature);
    const double e_sat = saturation_vapour_pressure(Temperature::at(t_k * kelvin))->in(pascal);
    const double e = std::min(mixing * p / (0.62198 + mixing), e_sat);
    const double g = kStandardGravity * std::pow(earth_m / (earth_m + z_m), 2);
    return -p * g / (kDryAirConstant * t_k / (1.0 - 0.378 * e / p));
  };
  const int steps = static_cast<int>(std::lround((to_m - from_m) / 0.5));
  const double dz = (to_m - from_m) / steps;
  for (int i = 0; i < steps; ++i) {
    const double z = from_m + i * dz, end = std::min(z + dz, to_m);
    const double k1 = slope(z, p_pa), k2 = slope(z + dz / 2, p_pa + dz / 2 * k1);
    const double k3 = slope(z + dz / 2, p_pa + dz / 2 * k2), k4 = slope(end, p_pa + dz * k3);
    p_pa += dz / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return p_pa;
}

TEST(AirColumn, AgreesWithAnotherIntegrationWithinAHundredthOfAPascal) {
  AirColumn::Inputs moist = sounded_morning(), inverted = mild_morning(), dry = sounded_morning();
  moist.dew_point = celsius(11.0);
  inverted.above = Filling::inversion;
  dry.dew_point.reset();
  for (const AirColumn::Inputs& in : {moist, inverted, dry}) {
    const AirColumn column = AirColumn::from(in).value();
    const double mixing =
        in.dew_point ? mixing_ratio({in.surface_temperature, *in.dew_point, in.surface_pressure}).value() : 0.0;
    double p_pa = in.surface_pressure.in(pascal);
    for (double z_m = 500.0; z_m < 2500.0; z_m += 25.0) {
      p_pa = runge_kutta_pa(column, mixing, p_pa, z_m, z_m + 25.0);
      EXPECT_NEAR(sample(column, z_m + 25.0).air.pressure.in(pascal), p_pa, 0.01) << z_m + 25.0;
    }
  }
}

TEST(AirColumn, MoistAirOfTheSameTemperatureIsLighterSoPressureFallsSlower) {
  AirColumn::Inputs dry = sounded_morning();
  dry.dew_point.reset();
  const AirColumn moist_column = AirColumn::from(sounded_morning()).value();
  const AirColumn dry_column = AirColumn::from(dry).value();
  EXPECT_GT(sample(moist_column, 2000.0).air.pressure, sample(dry_column, 2000.0).air.pressure);
}

TEST(AirColumn, RefusesAltitudesBeyondItsEnds) {
  const AirColumn column = AirColumn::from(mild_morning()).value();
  expect_refused(column.at(at_m(499.9)), Errc::out_of_range, "column.altitude_outside", "499.9m", "500m .. 2500m");
  expect_refused(column.at(at_m(2500.1)), Errc::out_of_range, "column.altitude_outside", "2500.1m", "500m .. 2500m");
  EXPECT_FALSE(column.at(at_m(kNoNumber)).has_value());
  EXPECT_TRUE(column.at(column.ground()).has_value());
  EXPECT_TRUE(column.at(column.top()).has_value());
}

TEST(AirColumn, RefusesBrokenInputs) {
  const auto broken = [](const std::function<void(AirColumn::Inputs&)>& spoil) {
    AirColumn::Inputs in = sounded_morning();
    spoil(in);
    return AirColumn::from(in);
  };
  expect_refused(broken([](auto& in) { in.ground = at_m(-451.0); }), Errc::out_of_range, "column.ground_outside",
                 "-451m", "-450m .. 6000m");
  expect_refused(broken([](auto& in) { in.ground = at_m(6001.0); }), Errc::out_of_range, "column.ground_outside",
                 "6001m", "-450m .. 6000m");
  expect_refused(broken([](auto& in) { in.top = at_m(500.5); }), Errc::out_of_range, "column.top_outside", "500.5m",
                 "501m .. 6500m");
  expect_refused(broken([](auto& in) { in.top = at_m(6501.0); }), Errc::out_of_range, "column.top_outside", "6501m",
                 "501m .. 6500m");
  expect_refused(broken([](auto& in) { in.surface_pressure = 28.2 * hectopascal; }), Errc::out_of_range,
                 "column.pressure_outside", "28.2hPa", "300hPa .. 1200hPa");
  expect_refused(broken([](auto& in) { in.surface_temperature = celsius(61.0); }), Errc::bad_input,
                 "column.temperature_outside", "61C", "-60C .. 60C");
  expect_refused(broken([](auto& in) { in.aloft[1].temperature = celsius(-61.0); }), Errc::bad_input,
                 "column.temperature_outside", "-61C", "-60C .. 60C");
  expect_refused(broken([](auto& in) { in.aloft[1].altitude = at_m(500.0); }), Errc::bad_input,
                 "column.level_not_above_ground", "500m", ">= 500.001m");
  expect_refused(broken([](auto& in) { in.aloft[1].altitude = at_m(1200.0); }), Errc::bad_input, "column.level_doubled",
                 "11C", "15C");
  expect_refused(broken([](auto& in) { in.above = Filling::inversion; }), Errc::bad_call,
                 "column.inversion_with_levels", "inversion", "standard");
  expect_refused(broken([](auto& in) { in.above = Filling::measured; }), Errc::bad_call, "column.filling_measured",
                 "measured", "standard, inversion");
  expect_refused(broken([](auto& in) { in.dew_point = celsius(12.5); }), Errc::bad_input,
                 "air.dew_point_above_temperature", "12.5C", "<= 12C");
  expect_refused(broken([](auto& in) {
                   in.aloft.clear();
                   in.surface_temperature = celsius(55.0);
                   in.above = Filling::inversion;
                 }),
                 Errc::out_of_range, "column.filled_temperature_outside", "65C", "-80C .. 60C");
  const auto cold = broken([](auto& in) {
    in.aloft.clear();
    in.dew_point.reset();
    in.surface_temperature = celsius(-59.0);
    in.top = at_m(6000.0);
  });
  ASSERT_FALSE(cold.has_value());
  EXPECT_EQ(cold.error().sentence.key, "column.filled_temperature_outside");
}

TEST(AirColumn, RefusesWhatIsNoNumber) {
  const std::function<void(AirColumn::Inputs&)> spoils[] = {
      [](auto& in) { in.ground = at_m(kNoNumber); },
      [](auto& in) { in.top = at_m(kNoNumber); },
      [](auto& in) { in.surface_pressure = kNoNumber * pascal; },
      [](auto& in) { in.surface_temperature = celsius(kNoNumber); },
      [](auto& in) { in.dew_point = celsius(kNoNumber); },
      [](auto& in) { in.aloft[0].altitude = at_m(kNoNumber); },
      [](auto& in) { in.aloft[0].altitude = at_m(std::numeric_limits<double>::infinity()); },
      [](auto& in) { in.aloft[0].temperature = celsius(kNoNumber); },
  };
  for (const auto& spoil : spoils) {
    AirColumn::Inputs in = sounded_morning();
    spoil(in);
    EXPECT_FALSE(AirColumn::from(in).has_value());
  }
}

TEST(AirColumn, NamesTheAltitudeOfATemperatureItRefuses) {
  AirColumn::Inputs in = sounded_morning();
  in.aloft[0].temperature = celsius(99.0);
  const Issue issue = AirColumn::from(in).error();
  ASSERT_EQ(issue.sentence.arguments.size(), 4u);
  EXPECT_EQ(issue.sentence.arguments[3], (Argument{"altitude", measure::of(at_m(2000.0))}));
}

TEST(AirColumn, TwoLevelsARoundingApartAreOneAltitudeDoubled) {
  AirColumn::Inputs in = sounded_morning();
  in.aloft.push_back({at_m(std::nextafter(1200.0, 2000.0)), celsius(13.0)});
  EXPECT_EQ(AirColumn::from(in).error().sentence.key, "column.level_doubled");
  in.aloft.back().altitude = at_m(1200.002);
  EXPECT_NEAR(in_celsius(sample(AirColumn::from(in).value(), 1200.002).air.temperature), 13.0, 1e-9);
  in.aloft.back().altitude = at_m(std::nextafter(500.0, 501.0));
  EXPECT_EQ(AirColumn::from(in).error().sentence.key, "column.level_not_above_ground");
  in = sounded_morning();
  in.top = at_m(1500.0);
  in.aloft.push_back(in.aloft.front());  // the lowest level above the top, twice
  EXPECT_EQ(AirColumn::from(in).error().sentence.key, "column.level_doubled");
}

}  // namespace
}  // namespace pappus::air
