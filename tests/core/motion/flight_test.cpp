#include "core/motion/flight.hpp"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "tests/core/motion/support.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::motion {
namespace {

using pappus::testing::expect_refused;
using pappus::testing::seeded;
using testing::column_of;
using testing::morning_flight;
using testing::sport_balloon;
using testing::turning_wind;

double metres(AltitudeAmsl z) { return z.from_origin().in(metre); }

FlightAir morning_air() { return FlightAir::from(column_of(300.0, 12.0, 3000.0), turning_wind(300.0)).value(); }

TEST(Fly, HoldsTheHeightsOfItsPlan) {
  const FlightAir air = morning_air();
  const Body body = Body::from(sport_balloon(), air).value();
  const Plan plan = morning_flight(300.0);
  const auto flown = fly(body, air, plan).value().flown;
  ASSERT_FALSE(flown.touchdown.has_value());
  for (std::size_t leg = 0; leg < plan.legs.size(); ++leg) {
    // By the last five minutes of a leg it is there, and it stays within what human burns can hold.
    for (const FlightPoint& p : flown.track) {
      if (p.at > plan.legs[leg].until - 5.0 * minute && p.at < plan.legs[leg].until) {
        EXPECT_NEAR(metres(p.altitude), metres(plan.legs[leg].height), 45.0) << p.at.in(minute);
      }
    }
  }
}

TEST(Fly, LosesNothingOnTheWay) {
  Random random = seeded("Fly.Balance");
  for (int i = 0; i < 40; ++i) {
    const double ground = random.uniform(0.0, 1500.0);
    const double c = random.uniform(-10.0, 28.0);
    const auto column =
        column_of(ground, c, 3000.0,
                  i % 2 == 0 ? std::vector<air::TemperatureLevel>{}
                             : std::vector<air::TemperatureLevel>{{amsl((ground + 250.0) * metre), celsius(c + 6.0)},
                                                                  {amsl((ground + 1500.0) * metre), celsius(c - 3.0)}});
    const FlightAir air = FlightAir::from(column, turning_wind(ground)).value();
    BodyInputs inputs = sport_balloon();
    inputs.mass = random.uniform(380.0, 500.0) * kilogram;
    const Body body = Body::from(inputs, air).value();
    Plan plan = morning_flight(ground);
    plan.pilot.hand = i % 3 == 0 ? Hand::continuous : Hand::human;
    plan.pilot.vents = i % 4 < 2;
    const auto flown = fly(body, air, plan);
    ASSERT_TRUE(flown.has_value()) << flown.error().sentence.key;
    EXPECT_LT(std::abs(flown->balance.gas), 1e-9);
    EXPECT_LT(std::abs(flown->balance.energy), 1e-6);
  }
}

TEST(Fly, ComesDownWhenTheFlameGoesOut) {
  const FlightAir air = morning_air();
  const Body body = Body::from(sport_balloon(), air).value();
  Plan plan = morning_flight(300.0);
  plan.from = amsl(700.0 * metre);
  plan.legs = {{30.0 * minute, amsl(700.0 * metre)}};
  plan.length = 30.0 * minute;
  plan.flame_out = 5.0 * minute;
  const auto flown = fly(body, air, plan).value().flown;
  ASSERT_TRUE(flown.touchdown.has_value());
  EXPECT_GT(flown.touchdown->at, 6.0 * minute);
  EXPECT_LT(flown.touchdown->at, 20.0 * minute);
  EXPECT_GT(flown.touchdown->sink, 1.0 * metre_per_second);
  EXPECT_EQ(metres(flown.end.altitude), metres(air.ground()));
  const double burnt = flown.end.fuel.in(kilogram);
  for (const FlightPoint& p : flown.track) {
    if (p.at > 5.0 * minute + 2.0 * second) {
      EXPECT_EQ(p.fuel.in(kilogram), burnt);
    }
  }
}

TEST(Fly, MoreLossAndMoreMassBurnMore) {
  const FlightAir air = morning_air();
  const Body body = Body::from(sport_balloon(), air).value();
  Plan plan = morning_flight(300.0);
  plan.pilot.hand = Hand::continuous;
  plan.pilot.vents = false;
  const auto burnt = [&](Perturbation p) { return fly(body, air, plan, p).value().flown.end.fuel.in(kilogram); };
  const double as_reckoned = burnt({});
  EXPECT_GT(burnt({.loss = 1.2}), 1.1 * as_reckoned);
  EXPECT_LT(burnt({.loss = 0.8}), 0.9 * as_reckoned);
  EXPECT_GT(burnt({.more = 40.0 * kilogram}), as_reckoned);
}

TEST(Fly, WindCarriesIt) {
  const FlightAir air = morning_air();
  const Body body = Body::from(sport_balloon(), air).value();
  Plan plan = morning_flight(300.0);
  plan.from = amsl(900.0 * metre);
  plan.with_the_wind = true;
  plan.legs = {{20.0 * minute, amsl(900.0 * metre)}};
  plan.length = 20.0 * minute;
  const auto here = air.at(plan.from);
  const auto one = fly(body, air, plan).value().flown.end;
  EXPECT_NEAR(one.east / plan.length / here.east, 1.0, 0.03);
  EXPECT_NEAR(one.north / plan.length / here.north, 1.0, 0.06);
  const auto blown = fly(body, air, plan, {.east = 2.0 * metre_per_second}).value().flown.end;
  EXPECT_NEAR((blown.east - one.east) / plan.length / (1.0 * metre_per_second), 2.0, 0.02);
}

TEST(Fly, RefusesWhatItCannotFly) {
  const FlightAir air = morning_air();
  const Body body = Body::from(sport_balloon(), air).value();
  const Plan good = morning_flight(300.0);
  const auto refused = [&](auto change, const char* key) {
    Plan plan = good;
    change(plan);
    expect_refused(fly(body, air, plan), key);
  };
  const auto impossible = [&](auto change, const char* key) {
    Plan plan = good;
    change(plan);
    const auto flown = fly(body, air, plan);
    ASSERT_FALSE(flown.has_value());
    EXPECT_EQ(flown.error().sentence.key, key);
    EXPECT_EQ(flown.error().code, Errc::bad_input);
  };
  impossible([](Plan& p) { p.legs.clear(); }, "motion.plan_no_legs");
  impossible([](Plan& p) { p.legs[1].until = p.legs[0].until; }, "motion.plan_order");
  refused([](Plan& p) { p.legs[1].height = amsl(3250.0 * metre); }, "motion.plan_height");
  refused([](Plan& p) { p.from = amsl(200.0 * metre); }, "motion.plan_height");
  refused([](Plan& p) { p.length = 25.0 * hour; }, "motion.plan_length");
  refused([](Plan& p) { p.inside = celsius(300.0); }, "motion.plan_inside");
  refused([](Plan& p) { p.climb = 30.0 * metre_per_second; }, "motion.plan_climb");
  refused([](Plan& p) { p.pilot.burn = 1.0 * second; }, "motion.burn_outside");
  refused([](Plan& p) { p.pilot.look = 61.0 * second; }, "motion.look_outside");
  refused([](Plan& p) { p.pilot.settle = 1.0 * second; }, "motion.settle_outside");
  refused([](Plan& p) { p.pilot.climb = 11.0 * metre_per_second; }, "motion.climb_outside");
  refused([](Plan& p) { p.pilot.sink = Speed{}; }, "motion.sink_outside");
  refused([](Plan& p) { p.pilot.vent_over = -1.0 * kelvin; }, "motion.vent_over_outside");
  const auto heavy = fly(body, air, good, {.more = 3000.0 * kilogram});
  ASSERT_FALSE(heavy.has_value());
  EXPECT_EQ(heavy.error().sentence.key, "motion.not_carried");
}

TEST(FlyMany, AllLanesGiveTheBytesOfTheScalarTwin) {
  const FlightAir air = morning_air();
  const Body body = Body::from(sport_balloon(), air).value();
  Random random = seeded("FlyMany.Lanes");
  std::vector<Plan> plans;
  std::vector<Perturbation> perturbations;
  for (int i = 0; i < 29; ++i) {  // no whole number of lanes
    Plan plan = morning_flight(300.0);
    for (Leg& leg : plan.legs) leg.height = leg.height + random.uniform(-100.0, 100.0) * metre;
    if (i % 5 == 0) plan.flame_out = random.uniform(10.0, 60.0) * minute;
    if (i % 7 == 0) plan.legs.resize(2);
    plans.push_back(plan);
    perturbations.push_back({.more = random.uniform(-40.0, 20.0) * kilogram,
                             .loss = random.uniform(0.7, 1.3),
                             .drag = random.uniform(0.7, 1.3),
                             .flame = random.uniform(0.8, 1.2),
                             .east = random.uniform(-2.0, 2.0) * metre_per_second,
                             .north = random.uniform(-2.0, 2.0) * metre_per_second});
  }
  const auto scalar = fly_many(body, air, plans, perturbations, Lanes::scalar).value();
  int landed = 0;
  for (std::size_t i = 0; i < plans.size(); ++i) {
    const auto alone = fly(body, air, plans[i], perturbations[i]).value().flown;
    EXPECT_EQ(metres(alone.end.altitude), metres(scalar[i].end.altitude));
    EXPECT_EQ(alone.end.east.in(metre), scalar[i].end.east.in(metre));
    EXPECT_EQ(alone.end.fuel.in(kilogram), scalar[i].end.fuel.in(kilogram));
    landed += scalar[i].touchdown ? 1 : 0;
  }
  EXPECT_GT(landed, 2);
  EXPECT_LT(landed, 29);
  for (const Lanes lanes : lanes_here()) {
    SCOPED_TRACE(std::string(name_of(lanes)));
    const auto many = fly_many(body, air, plans, perturbations, lanes).value();
    for (std::size_t i = 0; i < plans.size(); ++i) {
      const FlightPoint &a = scalar[i].end, &b = many[i].end;
      EXPECT_EQ(metres(a.altitude), metres(b.altitude));
      EXPECT_EQ(a.climb.in(metre_per_second), b.climb.in(metre_per_second));
      EXPECT_EQ(a.inside.from_origin().in(kelvin), b.inside.from_origin().in(kelvin));
      EXPECT_EQ(a.east.in(metre), b.east.in(metre));
      EXPECT_EQ(a.north.in(metre), b.north.in(metre));
      EXPECT_EQ(a.fuel.in(kilogram), b.fuel.in(kilogram));
      ASSERT_EQ(scalar[i].touchdown.has_value(), many[i].touchdown.has_value());
      if (scalar[i].touchdown) {
        EXPECT_EQ(scalar[i].touchdown->at.in(second), many[i].touchdown->at.in(second));
        EXPECT_EQ(scalar[i].touchdown->sink.in(metre_per_second), many[i].touchdown->sink.in(metre_per_second));
      }
    }
  }
}

TEST(FlyMany, RefusesWhatDoesNotGoTogether) {
  const FlightAir air = morning_air();
  const Body body = Body::from(sport_balloon(), air).value();
  const Plan plan = morning_flight(300.0);
  Plan other = plan;
  other.pilot.burn = 6.0 * second;
  EXPECT_EQ(fly_many(body, air, {plan, other}, {{}, {}}, Lanes::scalar).error().sentence.key, "motion.plan_differs");
  EXPECT_EQ(fly_many(body, air, {plan}, {{}, {}}, Lanes::scalar).error().sentence.key, "motion.plan_pairs");
  EXPECT_TRUE(fly_many(body, air, {}, {}, Lanes::scalar).value().empty());
}

}  // namespace
}  // namespace pappus::motion
