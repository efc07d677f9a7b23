#include "core/motion/body.hpp"

#include <cmath>
#include <cstddef>
#include <iterator>

#include <gtest/gtest.h>

#include "core/balloon/lift.hpp"
#include "tests/core/motion/support.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::motion {
namespace {

using pappus::testing::expect_refused;
using pappus::testing::seeded;
using testing::column_of;
using testing::sport_balloon;

TEST(Body, FitsTheHeatModelOverBalloonsAndMornings) {
  Random random = seeded("Body.Fit");
  double worst = 0.0;
  for (int i = 0; i < 60; ++i) {
    const FlightAir air =
        FlightAir::from(column_of(random.uniform(0.0, 2000.0), random.uniform(-15.0, 32.0), 3000.0), {}).value();
    BodyInputs inputs = sport_balloon();
    inputs.volume = random.uniform(900.0, 9000.0) * cubic_metre;
    inputs.heat.emissivity = random.uniform(0.4, 0.95);
    if (i % 3 == 0) inputs.heat.beam = random.uniform(0.0, 700.0) * watt_per_square_metre;
    const auto body = Body::from(inputs, air);
    ASSERT_TRUE(body.has_value()) << body.error().sentence.key;
    worst = std::max(worst, body->fit_error());
  }
  RecordProperty("worst_fit", std::to_string(worst));
  EXPECT_LT(worst, 0.09);
}

TEST(Body, AnOwnLossCountsOnceWhicheverWayItComes) {
  const FlightAir air = FlightAir::from(column_of(300.0, 12.0, 3000.0), {}).value();
  BodyInputs inputs = sport_balloon();
  const Body plain = Body::from(inputs, air).value();
  inputs.heat.loss = 1.3;  // the flux that is fitted holds it
  const Body own = Body::from(inputs, air).value();
  EXPECT_EQ(own.inputs().settings.loss, 1.0);
  for (std::size_t i = 0; i < std::size(plain.kernel().heat.h); ++i)
    EXPECT_NEAR(own.kernel().heat.h[i], 1.3 * plain.kernel().heat.h[i], 1e-9 * std::abs(plain.kernel().heat.h[i]));
  EXPECT_NEAR(own.fit_error(), plain.fit_error(), 1e-9);
}

TEST(Body, CarriesWhatLiftSays) {
  const air::AirColumn column = column_of(300.0, 12.0, 3000.0);
  const FlightAir air = FlightAir::from(column, {}).value();
  const Body body = Body::from(sport_balloon(), air).value();
  for (const double up : {0.0, 37.0, 400.0, 1500.0}) {
    const AltitudeAmsl z = air.ground() + up * metre;
    const auto here = column.at(z).value().air;
    const auto needed = balloon::mean_temperature_needed({here, 506.0 * kilogram, sport_balloon().volume}).value();
    EXPECT_NEAR(body.carrying(air.at(z), 506.0 * kilogram)->from_origin().in(kelvin), needed.from_origin().in(kelvin),
                0.01);
    EXPECT_NEAR(body.excess(air.at(z), needed, 506.0 * kilogram).in(kilogram), 0.0, 0.05);
  }
  EXPECT_FALSE(body.carrying(air.at(air.ground()), 2600.0 * kilogram).has_value());
}

TEST(Body, RefusesSettingsOutsideTheirRanges) {
  const FlightAir air = FlightAir::from(column_of(300.0, 12.0, 3000.0), {}).value();
  const auto refused = [&](auto change, const char* key) {
    BodyInputs inputs = sport_balloon();
    change(inputs);
    expect_refused(Body::from(inputs, air), key);
  };
  refused([](BodyInputs& b) { b.settings.drag_up = 0.0; }, "motion.drag_up_outside");
  refused([](BodyInputs& b) { b.settings.drag_down = std::nan(""); }, "motion.drag_down_outside");
  refused([](BodyInputs& b) { b.settings.drag_side = 3.0; }, "motion.drag_side_outside");
  refused([](BodyInputs& b) { b.settings.added_mass = -0.1; }, "motion.added_mass_outside");
  refused([](BodyInputs& b) { b.settings.mixing = 0.5 * second; }, "motion.mixing_outside");
  refused([](BodyInputs& b) { b.settings.vent = 51.0 * square_metre; }, "motion.vent_outside");
  refused([](BodyInputs& b) { b.settings.vent_discharge = 0.2; }, "motion.vent_discharge_outside");
  refused([](BodyInputs& b) { b.settings.crown_excess = 61.0 * kelvin; }, "motion.crown_excess_outside");
  refused([](BodyInputs& b) { b.settings.loss = 0.2; }, "motion.loss_outside");
  refused([](BodyInputs& b) { b.mass = 20.0 * kilogram; }, "motion.mass_outside");
  refused([](BodyInputs& b) { b.flame = 3.0 * kilogram_per_second; }, "motion.flame_outside");
  refused([](BodyInputs& b) { b.volume = 10.0 * cubic_metre; }, "burn.volume_outside");
}

}  // namespace
}  // namespace pappus::motion
