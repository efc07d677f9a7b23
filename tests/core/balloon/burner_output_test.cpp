#include "core/balloon/burner_output.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "core/balloon/burn.hpp"
#include "core/propane/saturation.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::balloon {
namespace {

using testing::expect_refused;
using testing::read_table;
using testing::Row;
using testing::seeded;

constexpr PressureAltitude kSeaLevel = PressureAltitude::at(0.0 * metre);
constexpr Power kRated = 5.4 * megawatt;

GaugePressure psi(double value) { return GaugePressure::at(value * pound_per_square_inch); }
double mw(Power p) { return p.in(megawatt); }
double share(Power p) { return p / kRated; }

// Where pure propane has the pressure for which power is stated.
Temperature rated_liquid() {
  return propane::saturation_temperature(kRatedPressure.from_origin() + standard_atmosphere).value();
}

TEST(BurnerOutput, TakesTheHandbooksFuel) {
  for (const Row& row : read_table("burner_flow.csv")) {
    SCOPED_TRACE(row.where());
    const Power power = row["power_btu_h"] * (btu / hour);
    EXPECT_NEAR(handbook_flow(power).in(us_gallon / hour), row["flow_us_gal_h"], row["tolerance"]);
    // By mass the two heating values differ by what the handbook's 4.2 lb per gallon rounds.
    const BurnerOutput out = burner_output({power, kRatedPressure, rated_liquid(), kSeaLevel}).value();
    EXPECT_NEAR(out.flow.in(4.2 * pound / hour), row["flow_us_gal_h"], 0.01 * row["flow_us_gal_h"]);
  }
}

TEST(BurnerOutput, LosesWithHeightWhatTheHandbookSays) {
  for (const Row& row : read_table("burner_output.csv")) {
    SCOPED_TRACE(row.where());
    const BurnerAt at{kRated, kRatedPressure, rated_liquid(), PressureAltitude::at(row["pressure_altitude_ft"] * foot)};
    const BurnerOutput out = burner_output(at).value();
    EXPECT_NEAR(out.left, row["output_left"], row["tolerance"]);
    for (const Power p : {out.low, out.best, out.high}) EXPECT_NEAR(share(p), row["output_left"], row["tolerance"]);
  }
}

TEST(BurnerOutput, LiesBetweenTheRootAndTheStraightLine) {
  const Temperature liquid = rated_liquid();
  for (const double p : {0.0, 27.5, 60.0, 110.0, 200.0, 375.0}) {
    const BurnerOutput out = burner_output({kRated, psi(p), liquid, kSeaLevel}).value();
    EXPECT_NEAR(share(out.best), std::sqrt(p / 110.0), 1e-9) << p;
    EXPECT_NEAR(share(p <= 110.0 ? out.low : out.high), p / 110.0, 1e-9) << p;
  }
  // Colder liquid is denser: more of it goes through the same orifice.
  const BurnerOutput cold = burner_output({kRated, psi(60.0), celsius(0.0), kSeaLevel}).value();
  EXPECT_GT(mw(cold.best), mw(burner_output({kRated, psi(60.0), liquid, kSeaLevel}).value().best));
}

TEST(BurnerOutput, NeverGivesLessForMorePressureOrLessHeight) {
  Random random = seeded("BurnerOutput.Monotonic");
  for (int i = 0; i < 300; ++i) {
    const BurnerAt at{random.uniform(1.0, 12.0) * megawatt, psi(random.uniform(0.0, 300.0)),
                      celsius(random.uniform(-40.0, 60.0)), PressureAltitude::at(random.uniform(0.0, 5000.0) * metre)};
    const BurnerOutput out = burner_output(at).value();
    EXPECT_LE(out.low, out.best);
    EXPECT_LE(out.best, out.high);
    BurnerAt more = at, lower = at;
    more.pressure = more.pressure + 5.0 * pound_per_square_inch;
    lower.altitude = lower.altitude - 200.0 * metre;
    for (const BurnerAt& other : {more, lower}) {
      const BurnerOutput stronger = burner_output(other).value();
      EXPECT_GE(stronger.low, out.low);
      EXPECT_GE(stronger.best, out.best);
      EXPECT_GE(stronger.high, out.high);
      EXPECT_GE(stronger.flow, out.flow);
    }
  }
}

TEST(BurnerOutput, RefusesWhatCannotBe) {
  const BurnerAt at{kRated, psi(80.0), celsius(10.0), kSeaLevel};
  const auto with = [&](auto change) {
    BurnerAt other = at;
    change(other);
    return burner_output(other);
  };
  expect_refused(with([](BurnerAt& b) { b.rated = Power{}; }), "burner.rated_outside");
  expect_refused(with([](BurnerAt& b) { b.rated = 31.0 * megawatt; }), "burner.rated_outside");
  expect_refused(with([](BurnerAt& b) { b.pressure = psi(-1.0); }), "burner.pressure_outside");
  expect_refused(with([](BurnerAt& b) { b.pressure = psi(376.0); }), "burner.pressure_outside");
  expect_refused(with([](BurnerAt& b) { b.pressure = psi(std::nan("")); }), "burner.pressure_outside");
  expect_refused(with([](BurnerAt& b) { b.liquid = celsius(61.0); }), "burner.liquid_outside");
  expect_refused(with([](BurnerAt& b) { b.altitude = PressureAltitude::at(21'000.0 * foot); }),
                 "burn.output_altitude_outside");
}

}  // namespace
}  // namespace pappus::balloon
