// Flights of the kernel beside those of Boost.Odeint on the same equations.
#include "core/motion/flight.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include <gtest/gtest.h>

#include "tests/core/motion/support.hpp"
#include "tests/support/odeint_flight.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::motion {
namespace {

using pappus::testing::seeded;
using testing::Command;
using testing::commands_of;
using testing::odeint_fly;
using testing::odeint_start;
using testing::OdeintFlown;
using testing::OdeintState;

double metres(AltitudeAmsl z) { return z.from_origin().in(metre); }

/// The largest differences, over all flights compared.
struct Differences {
  double aside_m = 0.0, height_m = 0.0, touch_s = 0.0, sink_m_s = 0.0;
  void widen(const Differences& d) {
    aside_m = std::max(aside_m, d.aside_m);
    height_m = std::max(height_m, d.height_m);
    touch_s = std::max(touch_s, d.touch_s);
    sink_m_s = std::max(sink_m_s, d.sink_m_s);
  }
};
struct Worst {
  Differences kernel, coarse;  // of the kernel, and of the solver with the tolerance 1e-4, from the solver with 1e-11
  int flights = 0, landed = 0;
};
constexpr double kFine = 1e-11, kCoarse = 1e-4;

struct Air {
  double ground_m, ground_c;
  std::vector<air::TemperatureLevel> aloft;
  std::vector<WindLevel> winds;
};

AltitudeAmsl over(const Air& a, double m) { return amsl((a.ground_m + m) * metre); }
FlightAir made(const Air& a) {
  return FlightAir::from(testing::column_of(a.ground_m, a.ground_c, 3000.0, a.aloft), a.winds).value();
}

/// Somewhere between a frosty valley and a summer plateau.
Air drawn(Random& random) {
  Air a;
  a.ground_m = random.uniform(0.0, 1500.0);
  a.ground_c = random.uniform(-12.0, 28.0);
  a.winds = testing::turning_wind(a.ground_m);
  return a;
}
/// Ten kelvins warmer at 250 m.
void invert(Air& a) {
  a.aloft = {{over(a, 250.0), celsius(a.ground_c + 10.0)}, {over(a, 1500.0), celsius(a.ground_c + 1.0)}};
}
/// Calm below 100 m, 25 kt more 150 m above (where the handbook warns), turned back at 600 m.
void shear(Air& a) {
  a.winds = {{over(a, 0.0), Speed{}, Speed{}},
             {over(a, 100.0), 1.0 * metre_per_second, Speed{}},
             {over(a, 250.0), 12.9 * metre_per_second, 2.0 * metre_per_second},
             {over(a, 600.0), -4.0 * metre_per_second, 9.0 * metre_per_second}};
}
Plan drawn_plan(Random& random, const Air& a) {
  Plan plan = testing::morning_flight(a.ground_m);
  for (Leg& leg : plan.legs) leg.height = leg.height + random.uniform(-20.0, 150.0) * metre;
  return plan;
}
Perturbation drawn_change(Random& random) {
  return {.more = random.uniform(-80.0, 20.0) * kilogram,
          .loss = random.uniform(0.8, 1.2),
          .drag = random.uniform(0.7, 1.3),
          .flame = random.uniform(0.85, 1.1),
          .east = random.uniform(-2.0, 2.0) * metre_per_second,
          .north = random.uniform(-2.0, 2.0) * metre_per_second};
}

// In height a tenth of a metre. Aside the aim is half a metre, which two flights in three keep: a millimetre of height
// held wrong for 90 minutes is half a metre aside where the wind grows by 0.1 m/s each metre.
constexpr double kHeight = 0.12, kAside = 1.2, kAsideInShear = 7.0;  // m

void compare(const Air& a, const Plan& plan, const Perturbation& change, double aside_m, Worst& worst) {
  const FlightAir air = made(a);
  const Body body = Body::from(testing::sport_balloon(), air).value();
  const auto flown = fly(body, air, plan, change);
  ASSERT_TRUE(flown.has_value()) << flown.error().sentence.key;
  const Flown& kernel = flown->flown;
  const std::vector<Command> commands = commands_of(kernel);
  const OdeintState start = odeint_start(body, air, plan, change);
  const OdeintFlown fine = odeint_fly(body, air, change, start, commands, kFine);
  const OdeintFlown coarse = odeint_fly(body, air, change, start, commands, kCoarse);

  ASSERT_EQ(kernel.touchdown.has_value(), fine.touchdown.has_value());
  ASSERT_EQ(fine.at.size() + (fine.touchdown ? 1U : 0U), commands.size());
  Differences of_kernel, of_coarse;
  const auto beside = [&](const FlightPoint& p, const OdeintState& s) {
    of_kernel.widen({.aside_m = std::max(std::abs(p.east.in(metre)-s.east_m), std::abs(p.north.in(metre)-s.north_m)),
                     .height_m = std::abs(metres(p.altitude) - s.z_m)});
  };
  for (std::size_t i = 0; i < fine.at.size(); ++i) {
    const auto step = static_cast<std::size_t>(std::lround(commands[i].until_s / detail::kStep));
    beside(kernel.track[step], fine.at[i]);
    if (i >= coarse.at.size()) continue;
    const OdeintState &s = coarse.at[i], &t = fine.at[i];
    of_coarse.widen({.aside_m = std::max(std::abs(s.east_m - t.east_m), std::abs(s.north_m - t.north_m)),
                     .height_m = std::abs(s.z_m - t.z_m)});
  }
  beside(kernel.end, fine.end);
  if (fine.touchdown) {
    of_kernel.touch_s = std::abs((kernel.touchdown->at - fine.touchdown->at).in(second));
    of_kernel.sink_m_s = std::abs((kernel.touchdown->sink - fine.touchdown->sink).in(metre_per_second));
  }
  EXPECT_LT(of_kernel.height_m, kHeight);
  EXPECT_LT(of_kernel.aside_m, aside_m);
  EXPECT_LT(of_kernel.touch_s, 1.0);
  EXPECT_LT(of_kernel.sink_m_s, 0.05);
  ++worst.flights;
  worst.landed += fine.touchdown ? 1 : 0;
  worst.kernel.widen(of_kernel);
  worst.coarse.widen(of_coarse);
}

void record(const Worst& w) {
  const auto put = [](const char* name, double value) { ::testing::Test::RecordProperty(name, std::to_string(value)); };
  ::testing::Test::RecordProperty("flights", w.flights);
  put("worst_aside_m", w.kernel.aside_m);
  put("worst_height_m", w.kernel.height_m);
  put("worst_touchdown_s", w.kernel.touch_s);
  put("worst_sink_m_s", w.kernel.sink_m_s);
  put("worst_aside_of_1e-4_m", w.coarse.aside_m);
  put("worst_height_of_1e-4_m", w.coarse.height_m);
}

Worst mornings(const char* name, int flights, Hand hand, bool inverted, bool sheared) {
  Random random = seeded(name);
  Worst worst;
  for (int i = 0; i < flights; ++i) {
    SCOPED_TRACE("flight " + std::to_string(i));
    Air a = drawn(random);
    if (inverted && i % 2 == 1) invert(a);
    if (sheared) shear(a);
    Plan plan = drawn_plan(random, a);
    plan.pilot.hand = hand;
    plan.pilot.vents = i % 3 != 2;
    compare(a, plan, drawn_change(random), sheared ? kAsideInShear : kAside, worst);
  }
  record(worst);
  return worst;
}

TEST(FlightOracle, AgreesOverNinetyMinutesOfBurns) {
  const Worst worst = mornings("FlightOracle.Burns", 16, Hand::human, true, false);
  EXPECT_EQ(worst.flights, 16);
  // Nearer to the solution than the solver itself is with the tolerance that its speed is measured at.
  EXPECT_LT(worst.kernel.height_m, worst.coarse.height_m);
}

TEST(FlightOracle, AgreesOverNinetyMinutesOfASteadyFlame) {
  EXPECT_EQ(mornings("FlightOracle.Flame", 8, Hand::continuous, true, false).flights, 8);
}

TEST(FlightOracle, AgreesOverBurnsInStrongShear) {
  EXPECT_EQ(mornings("FlightOracle.ShearBurns", 6, Hand::human, true, true).flights, 6);
}

TEST(FlightOracle, AgreesOverASteadyFlameInStrongShear) {
  EXPECT_EQ(mornings("FlightOracle.ShearFlame", 4, Hand::continuous, true, true).flights, 4);
}

TEST(FlightOracle, AgreesOnHotAndColdDays) {
  Worst worst;
  for (const double c : {-25.0, -15.0, 30.0, 36.0}) {
    for (const Hand hand : {Hand::human, Hand::continuous}) {
      SCOPED_TRACE(std::to_string(c) + (hand == Hand::human ? " human" : " continuous"));
      const Air a{200.0, c, {}, testing::turning_wind(200.0)};
      Plan plan = testing::morning_flight(200.0);
      plan.pilot.hand = hand;
      compare(a, plan, {.more = -120.0 * kilogram}, kAside, worst);
    }
  }
  record(worst);
  EXPECT_EQ(worst.flights, 8);
}

TEST(FlightOracle, AgreesOnComingDownWithoutAFlame) {
  Random random = seeded("FlightOracle.FlameOut");
  Worst worst;
  for (int i = 0; i < 12; ++i) {
    SCOPED_TRACE("flight " + std::to_string(i));
    Air a = drawn(random);
    if (i % 3 == 1) invert(a);
    if (i % 3 == 2) shear(a);
    Plan plan = drawn_plan(random, a);
    plan.flame_out = random.uniform(25.0, 80.0) * minute;
    plan.pilot.hand = i % 2 == 0 ? Hand::human : Hand::continuous;
    compare(a, plan, drawn_change(random), i % 3 == 2 ? kAsideInShear : kAside, worst);
  }
  record(worst);
  EXPECT_EQ(worst.landed, 12);
}

}  // namespace
}  // namespace pappus::motion
