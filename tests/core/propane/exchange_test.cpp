#include "core/propane/exchange.hpp"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::propane {
namespace {

using testing::expect_refused;

LiquidWarmth known(double t_c) { return {celsius(t_c), celsius(t_c), celsius(t_c)}; }
const ExchangeTimes kExact{2.6 * hour, 2.6 * hour, 2.6 * hour};

TEST(Exchange, GoesSixtyThreePerCentInItsTime) {
  // 1 - 1/e = 0.632121: from 20 C in air of 0 C to 7.3576 C after one time constant.
  const auto t = liquid_warmth(known(20.0), {{0.0 * hour, celsius(0.0)}}, 2.6 * hour, kExact);
  ASSERT_TRUE(t);
  EXPECT_NEAR(in_celsius(t->best), 7.357589, 1e-6);
}

TEST(Exchange, RunsAfterAirThatCoolsEvenly) {
  // Air that cools by 1 K/h for ever: in the end the liquid is one time constant behind, 2.6 K warmer.
  const auto t =
      liquid_warmth(known(20.0), {{0.0 * hour, celsius(20.0)}, {48.0 * hour, celsius(-28.0)}}, 40.0 * hour, kExact);
  ASSERT_TRUE(t);
  EXPECT_NEAR(in_celsius(t->best), 20.0 - 40.0 + 2.6, 1e-5);
}

// The same by many small steps of the differential equation.
TEST(Exchange, IsWhatSmallStepsGive) {
  Random random = testing::seeded("Exchange.Steps");
  for (int i = 0; i < 30; ++i) {
    std::vector<AirAround> air{{0.0 * second, celsius(random.uniform(-10.0, 30.0))}};
    for (int k = 1; k < 5; ++k)
      air.push_back({air.back().after + random.uniform(0.5, 4.0) * hour, celsius(random.uniform(-10.0, 30.0))});
    const double until_s = random.uniform(0.1, 20.0) * 3600.0, tau_s = 2.6 * 3600.0;
    double t_c = random.uniform(-10.0, 30.0);
    const auto found = liquid_warmth(known(t_c), air, until_s * second, kExact);
    ASSERT_TRUE(found);
    const int steps = 40000;
    for (int k = 0; k < steps; ++k) {
      const double at_s = (k + 0.5) * until_s / steps;
      std::size_t piece = 0;
      while (piece + 1 < air.size() && air[piece + 1].after.in(second) <= at_s) ++piece;
      double around_c = in_celsius(air[piece].air);
      if (piece + 1 < air.size()) {
        const double from = air[piece].after.in(second), to = air[piece + 1].after.in(second);
        around_c += (in_celsius(air[piece + 1].air) - around_c) * (at_s - from) / (to - from);
      }
      t_c += (around_c - t_c) / tau_s * until_s / steps;
    }
    EXPECT_NEAR(in_celsius(found->best), t_c, 0.005);
  }
}

TEST(Exchange, KeepsItsLaws) {
  Random random = testing::seeded("Exchange.Laws");
  for (int i = 0; i < 300; ++i) {
    const double start = random.uniform(-20.0, 35.0), off = random.uniform(0.0, 3.0);
    const LiquidWarmth now{celsius(start - off), celsius(start), celsius(start + off)};
    std::vector<AirAround> air{{0.0 * second, celsius(random.uniform(-20.0, 30.0))},
                               {random.uniform(1.0, 6.0) * hour, celsius(random.uniform(-20.0, 30.0))}};
    const Duration after = random.uniform(0.0, 24.0) * hour;
    const LiquidWarmth then = liquid_warmth(now, air, after).value();
    EXPECT_LE(then.low, then.best);
    EXPECT_LE(then.best, then.high);
    std::vector<AirAround> warmer = air;
    for (AirAround& a : warmer) a.air = a.air + 1.0 * kelvin;
    EXPECT_GE(liquid_warmth(now, warmer, after)->best, then.best);
    const LiquidWarmth long_after = liquid_warmth(now, air, 48.0 * hour).value();
    EXPECT_NEAR(in_celsius(long_after.high), in_celsius(air.back().air), 0.01);
    EXPECT_NEAR(in_celsius(liquid_warmth(known(start), {{0.0 * second, celsius(start)}}, after)->best), start, 1e-9);
  }
}

TEST(Exchange, RefusesWhatMakesNoSense) {
  const std::vector<AirAround> still{{0.0 * second, celsius(5.0)}};
  expect_refused(liquid_warmth(known(10.0), still, 49.0 * hour), "propane.after_outside");
  expect_refused(liquid_warmth(known(10.0), still, -1.0 * hour), "propane.after_outside");
  expect_refused(liquid_warmth(known(80.0), still, 1.0 * hour), "propane.temperature_outside");
  expect_refused(liquid_warmth(known(10.0), {{0.0 * second, celsius(90.0)}}, 1.0 * hour),
                 "propane.temperature_outside");
  expect_refused(liquid_warmth({celsius(12.0), celsius(10.0), celsius(11.0)}, still, 1.0 * hour),
                 "propane.temperature_outside");
  expect_refused(liquid_warmth(known(10.0), still, 1.0 * hour, {3.0 * hour, 2.0 * hour, 4.0 * hour}),
                 "propane.exchange_outside");
  expect_refused(liquid_warmth(known(10.0), {{1.0 * hour, celsius(5.0)}}, 1.0 * hour), "propane.air_missing",
                 Errc::bad_input);
  expect_refused(liquid_warmth(known(10.0), {{0.0 * hour, celsius(5.0)}, {0.0 * hour, celsius(6.0)}}, 1.0 * hour),
                 "propane.air_order", Errc::bad_input);
  const auto none = liquid_warmth(known(10.0), {}, 1.0 * hour);
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().sentence.key, "propane.air_missing");
}

}  // namespace
}  // namespace pappus::propane
