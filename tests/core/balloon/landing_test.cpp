#include "core/balloon/landing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "core/air/humidity.hpp"
#include "core/air/isa.hpp"
#include "core/balloon/burn.hpp"
#include "core/balloon/lift.hpp"
#include "core/base/math.hpp"
#include "core/propane/saturation.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::balloon {
namespace {

using pappus::testing::expect_refused;
using pappus::testing::read_table;
using pappus::testing::Row;
using pappus::testing::seeded;

const double kNan = std::numeric_limits<double>::quiet_NaN();

double feet(Length l) { return l.in(foot); }
double metres(Length l) { return l.in(metre); }
double knots(Speed s) { return s.in(knot); }
double kg(Mass m) { return m.in(kilogram); }
double minutes(Duration d) { return d.in(minute); }

Speed speed_of(const Row& row, double value, const std::string& unit_column) {
  const std::string unit = row.text(unit_column);
  return value * (unit == "mph" ? mile_per_hour : unit == "kt" ? knot : metre_per_second);
}

double measure_named(const Sentence& s, const std::string& name) {
  for (const Argument& a : s.arguments)
    if (a.name == name) return std::get<Measure>(a.value).si;
  return kNan;
}

TEST(Landing, KeepsToTheHandbookAndTheRule) {
  for (const Row& row : read_table("landing.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const std::string quantity = row.text("quantity");
    const Speed wind = row.has("wind") ? speed_of(row, row["wind"], "wind_unit") : Speed{};
    const Length a = row.has("a_ft") ? row["a_ft"] * foot : Length{};
    const Length b = row.has("b_ft") ? row["b_ft"] * foot : Length{};
    double got = kNan;
    if (quantity == "travelled_ft") got = feet(travelled(wind, row["seconds"] * second));
    if (quantity == "slant_ft") got = feet(slant_distance(a, b));
    if (quantity == "height_for_slant_ft") got = feet(height_for_slant(a, b));
    if (quantity == "launch_distance_ft") got = feet(launch_distance(wind));
    if (quantity == "launch_distance_preferred_ft") got = feet(launch_distance_preferred(wind));
    if (quantity == "obstacle_sum_ft") got = feet(obstacle_sum(a, b));
    if (quantity == "first_minute_ft") got = feet(first_minute_distance(wind));
    if (quantity == "wake_ft") got = feet(wake_length(a, wind).value());
    if (quantity == "flare_fpm") got = flare_limit(a).in(foot_per_minute);
    if (quantity == "congested_above_ft") {
      const auto lowest = congested_minimum({{a, amsl(b)}});
      got = lowest ? feet(lowest->from_origin()) : -1.0;
    }
    EXPECT_NEAR(got, row["value"], row["tolerance"]);
  }
}

TEST(Landing, HoldsTheDragAgainstTheFewReports) {
  for (const Row& row : read_table("drag_reports.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const double low = feet(drag_distance(speed_of(row, row["wind_low"], "wind_unit")).value().low);
    const double high = feet(drag_distance(speed_of(row, row["wind_high"], "wind_unit")).value().high);
    const bool below = row["drag_high_ft"] <= high + row["tolerance_ft"];
    const bool inside = below && row["drag_low_ft"] >= low - row["tolerance_ft"];
    EXPECT_EQ(row.text("use") == "range" ? inside : below, row.text("hit") == "yes") << low << " to " << high << " ft";
  }
}

TEST(FalseLift, MatchesTheFiguresOfIndependentArithmetic) {
  for (const Row& row : read_table("false_lift.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto lift = false_lift(
        {speed_of(row, row["change"], "change_unit"), 1.225 * kilogram_per_cubic_metre, 77'000.0 * cubic_foot});
    ASSERT_TRUE(lift.has_value());
    const std::string quantity = row.text("quantity");
    const double got = quantity == "low_kg"        ? kg(lift->low)
                       : quantity == "best_kg"     ? kg(lift->best)
                       : quantity == "high_kg"     ? kg(lift->high)
                       : quantity == "half_time_s" ? lift->mostly_gone.in(second)
                                                   : kNan;
    EXPECT_NEAR(got, row["value"], row["tolerance"]);
  }
}

// 14.5 lb for each 1000 ft3 in standard air at sea level, under a sky as over a vapour pressure of 8 hPa.
LevelFlowInputs level_case(Volume volume) {
  const air::MoistAir air{celsius(15.0), air::dew_point(8.0 * hectopascal).value(), standard_atmosphere};
  const Mass load = volume.in(1000.0 * cubic_foot) * 14.5 * pound;
  return {air,
          mean_temperature_needed({{air.temperature, air::kDryDewPoint, air.pressure}, load, volume}).value(),
          volume,
          {}};
}

TEST(ShearLoss, StandsBesideThePublishedFigure) {
  const LevelFlowInputs level = level_case(77'000.0 * cubic_foot);
  for (const Row& row : read_table("shear_loss.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto loss = shear_loss(level, speed_of(row, row["change"], "change_unit")).value();
    const std::string quantity = row.text("quantity");
    // With nothing burnt all of the loss in level flight is lift lost: that for a ratio of one more.
    const double per_ratio = shear_loss(level, kShearPrinted)->lift_high.in(kilogram / minute) / 0.73;
    const double got = quantity == "own"           ? loss.ratio_low
                       : quantity == "high"        ? loss.ratio_high
                       : quantity == "lift_kg_min" ? per_ratio
                                                   : kNan;
    ASSERT_TRUE(std::isfinite(got)) << quantity;
    EXPECT_NE(std::abs(got - row["value"]) <= row["tolerance"], row.has("known_failing")) << got;
  }
}

TEST(LandingFuel, StandsBesideTheHandbooksApproach) {
  const Mass per_gallon = propane::saturation_at(celsius(15.0)).value().liquid_density * us_gallon;
  for (const Row& row : read_table("landing_fuel.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    ASSERT_EQ(row.text("quantity"), "one_try_us_gal");
    const LevelFlow level = level_flow(level_case(row["volume_ft3"] * cubic_foot)).value();
    const LandingFuel fuel = landing_fuel({.flow = (1.0 + level.uncertainty) * level.flow, .left = {}}).value();
    EXPECT_NEAR(fuel.one_try / per_gallon, row["value"], row["tolerance"]);
  }
}

// --- Distances

TEST(SlantDistance, IsNeverLessThanEitherLegAndHasAnInverse) {
  Random random = seeded("SlantDistance.Laws");
  for (int i = 0; i < 1000; ++i) {
    const Length x = random.uniform(0.0, 1000.0) * metre, z = random.uniform(0.0, 1000.0) * metre;
    EXPECT_GE(slant_distance(x, z), std::max(x, z));
    EXPECT_EQ(slant_distance(x, z), slant_distance(z, x));
    const Length height = height_for_slant(x, z);
    EXPECT_EQ(height > Length{}, z > x);
    if (height > Length{}) {
      EXPECT_NEAR(metres(slant_distance(x, height)), metres(z), 1e-9);
    }
  }
}

TEST(CongestedMinimum, FollowsTheHighestObstacleWithinTheRadius) {
  const std::vector<Obstacle> three{
      {1500.0 * foot, amsl(300.0 * foot)}, {500.0 * foot, amsl(220.0 * foot)}, {2400.0 * foot, amsl(900.0 * foot)}};
  EXPECT_NEAR(feet(congested_minimum(three)->from_origin()), 1300.0, 1e-9);
  // 600 m and 1,000 ft, as SERA.5005(f) has it: the same obstacle counts up to 1,968.5 ft.
  const CongestedRule eu{600.0 * metre, 1000.0 * foot};
  EXPECT_TRUE(congested_minimum({{1968.0 * foot, amsl(Length{})}}, eu).has_value());
  EXPECT_FALSE(congested_minimum({{1969.0 * foot, amsl(Length{})}}, eu).has_value());
  EXPECT_FALSE(congested_minimum({}).has_value());
  Random random = seeded("CongestedMinimum.OneMore");
  std::vector<Obstacle> all;
  std::optional<AltitudeAmsl> before;
  for (int i = 0; i < 200; ++i) {
    all.push_back({random.uniform(0.0, 4000.0) * foot, amsl(random.uniform(0.0, 800.0) * foot)});
    const auto now = congested_minimum(all);
    if (before) {
      ASSERT_TRUE(now.has_value());
      EXPECT_GE(*now, *before);
    }
    before = now;
  }
}

TEST(WakeLength, IsRefusedWhereNothingIsPrinted) {
  EXPECT_EQ(feet(wake_length(30.0 * foot, 3.0 * knot).value()), feet(300.0 * foot));
  expect_refused(wake_length(1001.0 * metre, 8.0 * knot), Errc::out_of_range, "landing.obstacle_outside", "1001m",
                 "0m .. 1000m");
  EXPECT_FALSE(wake_length(30.0 * foot, 10.1 * knot).has_value());
  EXPECT_FALSE(wake_length(30.0 * foot, kNan * knot).has_value());
}

// --- Descent and run

TEST(DescentTime, TakesTheScheduleInThreeParts) {
  // From 500 ft: 100 ft at 500, 100 ft at 400, 300 ft at 300 or 200 ft/min: 0.2 + 0.25 + 1.0 or 1.5 min.
  const DurationRange t = descent_time(agl(500.0 * foot)).value();
  EXPECT_NEAR(minutes(t.low), 1.45, 1e-12);
  EXPECT_NEAR(minutes(t.high), 1.95, 1e-12);
  // From 350 ft: 50 ft at 400, 300 ft at 300 or 200.
  EXPECT_NEAR(minutes(descent_time(agl(350.0 * foot)).value().low), 0.125 + 1.0, 1e-12);
  // From 100 ft: 20 or 30 s.
  EXPECT_NEAR(descent_time(agl(100.0 * foot)).value().low.in(second), 20.0, 1e-9);
  EXPECT_NEAR(descent_time(agl(100.0 * foot)).value().high.in(second), 30.0, 1e-9);
  EXPECT_EQ(minutes(descent_time(HeightAgl{}).value().high), 0.0);
}

TEST(DescentTime, RisesWithHeightAndIsHeightOverRateWithOneRate) {
  Random random = seeded("DescentTime.Laws");
  for (int i = 0; i < 500; ++i) {
    const Length h = random.uniform(0.0, 900.0) * metre;
    const DurationRange t = descent_time(agl(h)).value(), higher = descent_time(agl(h + 1.0 * metre)).value();
    EXPECT_LE(t.low, t.high);
    EXPECT_GT(higher.low, t.low);
    EXPECT_GT(higher.high, t.high);
    const Speed one = random.uniform(100.0, 600.0) * foot_per_minute;
    DescentSchedule even;
    even.high = even.middle = even.last_fast = even.last_slow = one;
    EXPECT_NEAR(descent_time(agl(h), even).value().high.in(second), (h / one).in(second), 1e-9);
  }
}

TEST(DescentTime, RefusesHeightsAndSchedulesThatCannotBe) {
  expect_refused(descent_time(agl(6001.0 * metre)), Errc::out_of_range, "landing.descent_height_outside", "6001m",
                 "0m .. 6000m");
  EXPECT_FALSE(descent_time(agl(-1.0 * metre)).has_value());
  DescentSchedule s;
  s.last_slow = 310.0 * foot_per_minute;
  const auto slow = descent_time(agl(100.0 * metre), s);
  ASSERT_FALSE(slow.has_value());
  EXPECT_EQ(slow.error().code, Errc::bad_input);
  EXPECT_EQ(slow.error().sentence.key, "landing.schedule_outside");
  s = {};
  s.last_from = agl(450.0 * foot);
  EXPECT_FALSE(descent_time(agl(100.0 * metre), s).has_value());
  s = {};
  s.high = Speed{};
  EXPECT_FALSE(descent_time(agl(100.0 * metre), s).has_value());
}

TEST(DragDistance, IsHalfTheDeflationAndASlide) {
  // 10 kt is 5.14444 m/s, W^2 = 26.4653.
  // low  5.14444 x 4 / 2 + 26.4653 / (2 x 0.6 x 9.80665) = 10.2889 + 2.2489 = 12.5378 m
  // high 5.14444 x 10 / 2 + 26.4653 / (2 x 0.3 x 9.80665) = 25.7222 + 4.4979 = 30.2201 m
  const LengthRange drag = drag_distance(10.0 * knot).value();
  EXPECT_NEAR(metres(drag.low), 12.5378, 1e-3);
  EXPECT_NEAR(metres(drag.high), 30.2201, 1e-3);
}

TEST(DragDistance, GrowsFasterThanTheWindAndSlowerThanItsSquare) {
  Random random = seeded("DragDistance.Laws");
  EXPECT_EQ(metres(drag_distance(Speed{}).value().high), 0.0);
  for (int i = 0; i < 500; ++i) {
    const Speed wind = random.uniform(0.1, 14.0) * metre_per_second;
    const LengthRange one = drag_distance(wind).value(), two = drag_distance(2.0 * wind).value();
    EXPECT_LT(one.low, one.high);
    EXPECT_GT(two.low, 2.0 * one.low);
    EXPECT_LT(two.high, 4.0 * one.high);
  }
  EXPECT_FALSE(drag_distance(-0.1 * knot).has_value());
  EXPECT_FALSE(drag_distance(30.1 * metre_per_second).has_value());
  const auto icy = drag_distance(5.0 * knot, {4.0 * second, 10.0 * second, 0.0, 0.6});
  expect_refused(icy, Errc::bad_input, "landing.drag_settings_outside", "0", "0.01 .. 2");
  EXPECT_FALSE(drag_distance(5.0 * knot, {4.0 * second, 3.0 * second, 0.3, 0.6}).has_value());
}

TEST(RunNeeded, AddsApproachReactionAndDrag) {
  // Over trees of 50 ft with 150 ft above them, 8 kt = 4.11556 m/s:
  // 200 ft at 300 ft/min 40 s, at 200 ft/min 60 s; approach 164.622 or 246.933 m; reaction 10 s: 41.1556 m
  // drag low 4.11556 x 2 + 16.9378 / 11.76798 = 8.2311 + 1.4393 = 9.6704 m
  // drag high 4.11556 x 5 + 16.9378 / 5.88399 = 20.5778 + 2.8786 = 23.4564 m
  // total 215.448 to 311.545 m
  const RunNeeded run =
      run_needed({.wind = 8.0 * knot, .approach_wind = {}, .obstacle = 50.0 * foot, .clearance = 150.0 * foot}).value();
  EXPECT_NEAR(run.descent.low.in(second), 40.0, 1e-9);
  EXPECT_NEAR(run.descent.high.in(second), 60.0, 1e-9);
  EXPECT_NEAR(metres(run.approach.low), 164.622, 1e-3);
  EXPECT_NEAR(metres(run.approach.high), 246.933, 1e-3);
  EXPECT_NEAR(metres(run.reaction), 41.1556, 1e-3);
  EXPECT_NEAR(metres(run.drag.low), 9.6704, 1e-3);
  EXPECT_NEAR(metres(run.drag.high), 23.4564, 1e-3);
  EXPECT_NEAR(metres(run.total.low), 215.448, 2e-3);
  EXPECT_NEAR(metres(run.total.high), 311.545, 2e-3);
}

TEST(RunNeeded, NeverShrinksWithMoreWindObstacleOrClearance) {
  Random random = seeded("RunNeeded.Laws");
  for (int i = 0; i < 500; ++i) {
    RunInputs in;
    in.wind = random.uniform(0.1, 10.0) * metre_per_second;
    in.obstacle = random.uniform(0.0, 100.0) * metre;
    in.clearance = random.uniform(10.0, 100.0) * metre;
    const RunNeeded run = run_needed(in).value();
    EXPECT_NEAR(metres(run.total.low), metres(run.approach.low + run.reaction + run.drag.low), 1e-9);
    EXPECT_NEAR(metres(run.total.high), metres(run.approach.high + run.reaction + run.drag.high), 1e-9);
    EXPECT_LE(run.total.low, run.total.high);
    const auto more = [&](auto change) {
      RunInputs other = in;
      change(other);
      const RunNeeded r = run_needed(other).value();
      EXPECT_GT(r.total.low, run.total.low);
      EXPECT_GT(r.total.high, run.total.high);
    };
    more([](RunInputs& x) { x.wind = 1.1 * x.wind; });
    more([](RunInputs& x) { x.approach_wind = 1.1 * x.wind; });
    more([](RunInputs& x) { x.obstacle += 1.0 * metre; });
    more([](RunInputs& x) { x.clearance += 1.0 * metre; });
    more([](RunInputs& x) { x.reaction += 1.0 * second; });
    in.wind = Speed{};
    EXPECT_EQ(metres(run_needed(in).value().total.high), 0.0);
  }
}

TEST(RunNeeded, IsWordedByItsParts) {
  const RunNeeded run = run_needed({.wind = 8.0 * knot, .approach_wind = {}, .obstacle = 50.0 * foot}).value();
  const Sentence words = run_words(run, 8.0 * knot);
  EXPECT_EQ(words.key, "landing.run.needs");
  EXPECT_NEAR(measure_named(words, "wind"), 4.11556, 1e-5);
  EXPECT_EQ(measure_named(words, "low"), metres(run.total.low));
  EXPECT_EQ(measure_named(words, "high"), metres(run.total.high));
  EXPECT_NEAR(measure_named(words, "approach") + measure_named(words, "reaction") + measure_named(words, "drag"),
              metres(run.total.high), 1e-9);
}

TEST(RunNeeded, RefusesWhatItDoesNotCover) {
  const auto key = [](const RunInputs& in) {
    const auto run = run_needed(in);
    return run.has_value() ? "a value" : run.error().sentence.key;
  };
  EXPECT_EQ(key({.wind = -1.0 * knot, .approach_wind = {}, .obstacle = {}}), "landing.wind_outside");
  EXPECT_EQ(key({.wind = kNan * knot, .approach_wind = 3.0 * knot, .obstacle = {}}), "landing.wind_outside");
  EXPECT_EQ(key({.wind = 3.0 * knot, .approach_wind = 31.0 * metre_per_second, .obstacle = {}}),
            "landing.wind_outside");
  EXPECT_EQ(key({.wind = 3.0 * knot, .approach_wind = {}, .obstacle = -1.0 * foot}), "landing.obstacle_outside");
  EXPECT_EQ(key({.wind = 3.0 * knot, .approach_wind = {}, .obstacle = 960.0 * metre}), "landing.obstacle_outside");
  EXPECT_EQ(key({.wind = 3.0 * knot, .approach_wind = {}, .obstacle = {}, .reaction = -1.0 * second}),
            "landing.reaction_outside");
}

// --- The surface wind at landing

const Instant kSunrise = instant_of(*Date::of(2027, 5, 16), 5, 0, 0.0, {});

// 4 kt seen at sunrise, 20 kt above.
SurfaceWindInputs stirred_morning(Duration landing_after_sunrise) {
  return {.newest = SurfaceWindInputs::Seen{4.0 * knot, {}, kSunrise, 2.0 * knot},
          .landing = kSunrise + landing_after_sunrise,
          .sunrise = kSunrise,
          .aloft = 20.0 * knot,
          .forecast = {}};
}

TEST(SurfaceWindAtLanding, HoldsTheWindUntilTheSunStirsTheAir) {
  for (const double at : {-60.0, 0.0, 15.0}) {
    const auto early = surface_wind_at_landing(stirred_morning(at * minute)).value();
    ASSERT_TRUE(early.wind.has_value());
    EXPECT_NEAR(knots(early.wind->low), 2.0, 1e-9);
    EXPECT_NEAR(knots(early.wind->best), 4.0, 1e-9);
    EXPECT_NEAR(knots(early.wind->high), 6.0, 1e-9);
    EXPECT_EQ(early.cause, WindCause::seen);
    EXPECT_EQ(early.reason.key, "landing.surface_wind.early");
  }
}

TEST(SurfaceWindAtLanding, LetsTheWindAboveComeDown) {
  // An hour after sunrise all of the 20 kt may come down. Best guess: a third of the way, (60 - 30) / (120 - 30), from
  // 4 to 0.66 x 20 = 13.2 kt: 4 + 9.2 / 3 = 7.067 kt.
  const auto hour_later = surface_wind_at_landing(stirred_morning(60.0 * minute)).value();
  EXPECT_NEAR(knots(hour_later.wind->low), 2.0, 1e-9);
  EXPECT_NEAR(knots(hour_later.wind->best), 7.0667, 1e-3);
  EXPECT_NEAR(knots(hour_later.wind->high), 20.0, 1e-9);
  EXPECT_EQ(hour_later.cause, WindCause::aloft);
  EXPECT_EQ(hour_later.reason.key, "landing.surface_wind.aloft");
  EXPECT_NEAR(measure_named(hour_later.reason, "after"), 3600.0, 1e-9);
  // Half an hour after: 6 + (30 - 15) / 45 x 14 = 10.667 kt at worst; the best guess has not moved.
  const auto half = surface_wind_at_landing(stirred_morning(30.0 * minute)).value();
  EXPECT_NEAR(knots(half.wind->best), 4.0, 1e-9);
  EXPECT_NEAR(knots(half.wind->high), 10.6667, 1e-3);
  // From two hours on all that is likely has come down.
  for (const double at : {120.0, 240.0})
    EXPECT_NEAR(knots(surface_wind_at_landing(stirred_morning(at * minute)).value().wind->best), 13.2, 1e-9);
}

TEST(SurfaceWindAtLanding, DoesNotCountTwiceWhatHadComeDown) {
  // Seen 75 minutes after sunrise, half of the stirring is over. At 97.5 minutes another quarter: half of what was
  // left, 4 + 0.5 x 9.2 = 8.6 kt.
  SurfaceWindInputs in = stirred_morning(97.5 * minute);
  in.newest->time = kSunrise + 75.0 * minute;
  EXPECT_NEAR(knots(surface_wind_at_landing(in).value().wind->best), 8.6, 1e-9);
  // Seen after two hours, all of it is in what was seen; only the worst case still has the wind above.
  in.newest->time = kSunrise + 120.0 * minute;
  in.landing = kSunrise + 150.0 * minute;
  EXPECT_NEAR(knots(surface_wind_at_landing(in).value().wind->best), 4.0, 1e-9);
  EXPECT_NEAR(knots(surface_wind_at_landing(in).value().wind->high), 20.0, 1e-9);
}

TEST(SurfaceWindAtLanding, TakesGustsAndForecastsAsWarnings) {
  SurfaceWindInputs in = stirred_morning(Duration{});
  in.newest->gust = 11.0 * knot;
  EXPECT_NEAR(knots(surface_wind_at_landing(in).value().wind->high), 13.0, 1e-9);
  in.forecast = SurfaceWindInputs::Forecast{9.0 * knot, 18.0 * knot};
  const auto warned = surface_wind_at_landing(in).value();
  EXPECT_NEAR(knots(warned.wind->best), 9.0, 1e-9);
  EXPECT_NEAR(knots(warned.wind->high), 18.0, 1e-9);
  EXPECT_EQ(warned.cause, WindCause::forecast);
  EXPECT_EQ(warned.reason.key, "landing.surface_wind.forecast");
  in.forecast = SurfaceWindInputs::Forecast{1.0 * knot, {}};  // a calm forecast calms nothing
  EXPECT_NEAR(knots(surface_wind_at_landing(in).value().wind->high), 13.0, 1e-9);
  in = stirred_morning(90.0 * minute);
  in.aloft = 3.0 * knot;
  const auto calm_above = surface_wind_at_landing(in).value();
  EXPECT_NEAR(knots(calm_above.wind->high), 6.0, 1e-9);
  EXPECT_EQ(calm_above.reason.key, "landing.surface_wind.seen");
}

TEST(SurfaceWindAtLanding, IsNotKnownWithoutWhatItRestsOn) {
  const auto key = [](const SurfaceWindInputs& in) {
    const auto out = surface_wind_at_landing(in).value();
    EXPECT_FALSE(out.wind.has_value());
    EXPECT_FALSE(out.cause.has_value());
    return out.reason.key;
  };
  SurfaceWindInputs in = stirred_morning(60.0 * minute);
  in.forecast = SurfaceWindInputs::Forecast{9.0 * knot, {}};
  in.newest.reset();
  EXPECT_EQ(key(in), "landing.surface_wind.unknown_newest");
  in = stirred_morning(60.0 * minute);
  in.sunrise.reset();
  EXPECT_EQ(key(in), "landing.surface_wind.unknown_sunrise");
  in = stirred_morning(60.0 * minute);
  in.aloft.reset();
  EXPECT_EQ(key(in), "landing.surface_wind.unknown_aloft");
  in.landing = kSunrise + 15.0 * minute;  // nothing comes down so early
  EXPECT_TRUE(surface_wind_at_landing(in).value().wind.has_value());
}

TEST(SurfaceWindAtLanding, NeverGivesLessForMoreWindOrALaterLanding) {
  Random random = seeded("SurfaceWindAtLanding.Laws");
  for (int i = 0; i < 3000; ++i) {
    SurfaceWindInputs in = stirred_morning(random.uniform(-60.0, 300.0) * minute);
    in.newest->wind = random.uniform(0.0, 15.0) * knot;
    in.newest->spread = random.uniform(0.0, 7.0) * knot;
    in.newest->time = kSunrise + random.uniform(-120.0, 200.0) * minute;
    if (random.uniform() < 0.5) in.newest->gust = in.newest->wind + random.uniform(0.0, 10.0) * knot;
    in.aloft = random.uniform(0.0, 40.0) * knot;
    if (random.uniform() < 0.5) in.forecast = SurfaceWindInputs::Forecast{random.uniform(0.0, 20.0) * knot, {}};
    const auto range = surface_wind_at_landing(in).value().wind.value();
    EXPECT_LE(range.low, range.best);
    EXPECT_LE(range.best, range.high + 1e-12 * knot);
    const auto no_less = [&](auto change) {
      SurfaceWindInputs other = in;
      change(other);
      const auto r = surface_wind_at_landing(other).value().wind.value();
      EXPECT_GE(r.low, range.low);
      EXPECT_GE(r.best, range.best - 1e-12 * knot);
      EXPECT_GE(r.high, range.high - 1e-12 * knot);
    };
    no_less([&](SurfaceWindInputs& x) { x.aloft = *x.aloft + random.uniform(0.0, 5.0) * knot; });
    no_less([&](SurfaceWindInputs& x) { x.landing = x.landing + random.uniform(0.0, 60.0) * minute; });
    no_less([&](SurfaceWindInputs& x) {
      x.forecast = SurfaceWindInputs::Forecast{in.forecast ? in.forecast->wind : Speed{}, 18.0 * knot};
    });
  }
}

TEST(SurfaceWindAtLanding, RefusesWindsAndSettingsThatCannotBe) {
  SurfaceWindInputs in = stirred_morning(60.0 * minute);
  in.aloft = 61.0 * metre_per_second;
  EXPECT_EQ(surface_wind_at_landing(in).error().sentence.key, "landing.wind_outside");
  in = stirred_morning(60.0 * minute);
  in.newest->gust = kNan * knot;
  EXPECT_FALSE(surface_wind_at_landing(in).has_value());
  in = stirred_morning(60.0 * minute);
  in.stir.likely_all = 40.0 * minute;  // before the worst case is over
  expect_refused(surface_wind_at_landing(in), Errc::bad_input, "landing.stir_settings_outside", "2400s",
                 "3600s .. 86400s");
}

// --- The low sun

TrueBearing bearing(double degrees) { return TrueBearing::at(degrees * degree); }

TEST(LowSun, IsAheadWithinThirtyDegreesAndBelowFifteen) {
  const auto state = [](double drift, double sun, double elevation) {
    return low_sun({bearing(drift), bearing(sun), elevation * degree}).state;
  };
  EXPECT_EQ(state(90.0, 90.0, 5.0), SunAhead::into_sun);
  EXPECT_EQ(state(90.0, 120.0, 5.0), SunAhead::into_sun);
  EXPECT_EQ(state(90.0, 60.0, 5.0), SunAhead::into_sun);
  EXPECT_EQ(state(90.0, 121.0, 5.0), SunAhead::clear);
  EXPECT_EQ(state(350.0, 15.0, 5.0), SunAhead::into_sun);  // across north
  EXPECT_EQ(state(270.0, 90.0, 5.0), SunAhead::clear);
  EXPECT_EQ(state(90.0, 90.0, 14.9), SunAhead::into_sun);
  EXPECT_EQ(state(90.0, 90.0, 15.0), SunAhead::clear);
  EXPECT_EQ(state(90.0, 90.0, -0.2), SunAhead::into_sun);  // the upper limb is still up
  EXPECT_EQ(state(90.0, 90.0, -0.3), SunAhead::down);
}

TEST(LowSun, SaysWhichWayAndWhatIsMissing) {
  const LowSun into = low_sun({bearing(80.0), bearing(95.0), 8.0 * degree});
  EXPECT_NEAR(into.off_course->in(degree), 15.0, 1e-9);
  EXPECT_EQ(into.finding.key, "landing.sun.into");
  EXPECT_EQ(low_sun({{}, bearing(95.0), 8.0 * degree}).finding.key, "landing.sun.no_drift");
  EXPECT_EQ(low_sun({bearing(80.0), {}, 8.0 * degree}).finding.key, "landing.sun.unknown");
  EXPECT_EQ(low_sun({bearing(80.0), bearing(95.0), {}}).state, SunAhead::not_known);
  EXPECT_EQ(low_sun({bearing(80.0), bearing(95.0), kNan * degree}).state, SunAhead::not_known);
  // With the sun gone nothing needs to be known of the drift.
  EXPECT_EQ(low_sun({{}, bearing(95.0), -3.0 * degree}).state, SunAhead::down);
}

TEST(LowSun, DoesNotDependOnWhereNorthIs) {
  Random random = seeded("LowSun.Turn");
  for (int i = 0; i < 1000; ++i) {
    const double drift = random.uniform(0.0, 360.0), off = random.uniform(-180.0, 180.0);
    if (std::abs(std::abs(off) - 30.0) < 1e-6) continue;  // the edge, where rounding may decide
    const double turn = random.uniform(0.0, 360.0);
    const Angle elevation = random.uniform(-2.0, 20.0) * degree;
    EXPECT_EQ(low_sun({bearing(drift), bearing(drift + off), elevation}).state,
              low_sun({bearing(drift + turn), bearing(drift + off + turn), elevation}).state);
  }
}

// --- The basket

TEST(Basket, TurnsItsLeadingSideAlongTheDrift) {
  const auto words = [](std::string leads, std::optional<TrueBearing> drift, std::vector<Vent> vents) {
    return basket_words({std::move(leads), drift, std::move(vents)});
  };
  const Sentence turn = words("long side", bearing(140.0), {Vent::parachute, Vent::turn_left});
  EXPECT_EQ(turn.key, "landing.basket.turn");
  EXPECT_NEAR(measure_named(turn, "drift"), 140.0, 1e-9);
  EXPECT_EQ(std::get<std::string>(turn.arguments.front().value), "long side");
  EXPECT_EQ(words("long side", bearing(140.0), {Vent::turn_right}).key, "landing.basket.turn");
  EXPECT_EQ(words("long side", bearing(140.0), {Vent::rapid}).key, "landing.basket.no_turning_vent");
  EXPECT_EQ(words("long side", {}, {Vent::turn_left}).key, "landing.basket.no_drift");
  EXPECT_EQ(words("long side", bearing(kNan), {}).key, "landing.basket.no_drift");
  EXPECT_EQ(words("", bearing(140.0), {Vent::turn_left}).key, "landing.basket.unknown");
}

// --- False lift

TEST(FalseLift, GoesWithTheSquareOfTheChange) {
  Random random = seeded("FalseLift.Laws");
  for (int i = 0; i < 500; ++i) {
    const FalseLiftInputs in{random.uniform(0.1, 15.0) * metre_per_second,
                             random.uniform(0.9, 1.35) * kilogram_per_cubic_metre,
                             random.uniform(800.0, 12'000.0) * cubic_metre};
    const FalseLift lift = false_lift(in).value();
    FalseLiftInputs twice = in;
    twice.change = 2.0 * in.change;
    const FalseLift four = false_lift(twice).value();
    EXPECT_NEAR(kg(four.best), 4.0 * kg(lift.best), 1e-9 * kg(four.best));
    EXPECT_NEAR(four.sink_best / lift.sink_best, 2.0, 1e-12);
    EXPECT_NEAR(lift.mostly_gone / four.mostly_gone, 2.0, 1e-12);
    EXPECT_LT(lift.low, lift.best);
    EXPECT_LT(lift.best, lift.high);
    EXPECT_LT(lift.sink_low, lift.sink_best);
    EXPECT_LT(lift.sink_best, lift.sink_high);
    FalseLiftInputs other = in;
    other.volume = 2.0 * in.volume;
    other.air = 0.9 * in.air;
    EXPECT_EQ(false_lift(other)->sink_best, lift.sink_best);
    // The sink is that at which drag carries the lift that is gone: 1/2 rho 0.8 A w^2 = m g.
    const double area = 1.336 * math::pow(in.volume.in(cubic_metre), 2.0 / 3.0);
    const double w = lift.sink_high.in(metre_per_second);
    EXPECT_NEAR(0.5 * in.air.in(kilogram_per_cubic_metre)*0.8 * area * w * w, kg(lift.high) * 9.80665,
                1e-9 * kg(lift.high) * 9.80665);
  }
}

TEST(FalseLift, IsNoneWithoutAChange) {
  const FalseLift none = false_lift({Speed{}, 1.2 * kilogram_per_cubic_metre, 2600.0 * cubic_metre}).value();
  EXPECT_EQ(kg(none.high), 0.0);
  EXPECT_EQ(none.sink_high, Speed{});
  EXPECT_EQ(none.mostly_gone, Duration{});
  EXPECT_FALSE(none.expect);
}

TEST(FalseLift, IsWordedByWhetherItMatters) {
  const auto key = [](Speed change) {
    return false_lift_words(*false_lift({change, 1.2 * kilogram_per_cubic_metre, 2600.0 * cubic_metre}),
                            agl(50.0 * metre))
        .key;
  };
  EXPECT_EQ(key(9.9 * mile_per_hour), "landing.false_lift.slight");
  EXPECT_EQ(key(10.1 * mile_per_hour), "landing.false_lift.expect");
  const Sentence unknown = false_lift_words({}, agl(150.0 * metre));
  EXPECT_EQ(unknown.key, "landing.false_lift.unknown");
  EXPECT_EQ(measure_named(unknown, "height"), 150.0);
}

TEST(FalseLift, RefusesWhatItDoesNotCover) {
  const auto key = [](double w, double rho, double v) {
    const auto lift = false_lift({w * metre_per_second, rho * kilogram_per_cubic_metre, v * cubic_metre});
    return lift.has_value() ? "a value" : lift.error().sentence.key;
  };
  EXPECT_EQ(key(-0.1, 1.2, 2000.0), "landing.change_outside");
  EXPECT_EQ(key(41.0, 1.2, 2000.0), "landing.change_outside");
  EXPECT_EQ(key(5.0, 0.2, 2000.0), "landing.density_outside");
  EXPECT_EQ(key(5.0, 1.2, 50.0), "landing.volume_outside");
  EXPECT_EQ(key(5.0, 1.2, kNan), "landing.volume_outside");
}

// --- Heat lost in a change of wind

TEST(ShearLoss, CostsNoLessForMoreChange) {
  Random random = seeded("ShearLoss.Laws");
  for (int i = 0; i < 200; ++i) {
    const LevelFlowInputs level = level_case(random.uniform(1000.0, 10'000.0) * cubic_metre);
    const Speed change = random.uniform(0.0, 18.0) * metre_per_second;
    const ShearLoss loss = shear_loss(level, change).value();
    const ShearLoss more = shear_loss(level, change + 1.0 * metre_per_second).value();
    EXPECT_GE(loss.ratio_low, 1.0);
    EXPECT_LE(loss.ratio_low, loss.ratio_high);
    EXPECT_LE(loss.lift_low, loss.lift_high);
    EXPECT_GE(more.ratio_low, loss.ratio_low);
    EXPECT_GE(more.ratio_high, loss.ratio_high);
    EXPECT_EQ(loss.above_print, change > kShearPrinted);
  }
  const ShearLoss none = shear_loss(level_case(2600.0 * cubic_metre), Speed{}).value();
  EXPECT_EQ(none.ratio_high, 1.0);
  EXPECT_EQ(none.lift_high, MassFlow{});
}

TEST(ShearLoss, IsWordedAndRefused) {
  const LevelFlowInputs level = level_case(2600.0 * cubic_metre);
  EXPECT_EQ(shear_words(*shear_loss(level, kShearPrinted)).key, "landing.shear.loss");
  const Sentence above = shear_words(*shear_loss(level, 5.0 * metre_per_second));
  EXPECT_EQ(above.key, "landing.shear.above_print");
  EXPECT_NEAR(measure_named(above, "high"), 0.73, 1e-12);
  EXPECT_NEAR(measure_named(above, "lift_high"),
              shear_loss(level, 5.0 * metre_per_second)->lift_high.in(kilogram / minute), 1e-9);
  EXPECT_EQ(shear_words({}).key, "landing.shear.unknown");
  expect_refused(shear_loss(level, 20.5 * metre_per_second), Errc::out_of_range, "landing.shear_outside", "20.5m/s",
                 "0m/s .. 20m/s");
  LevelFlowInputs cold = level;
  cold.inside_mean = celsius(16.0);
  EXPECT_EQ(shear_loss(cold, Speed{}).error().sentence.key, "burn.inside_excess_outside");
}

// --- The fuel to land with

TEST(LandingFuel, IsThatOfTwoMoreTries) {
  // 36 kg/h for 5 min is 3 kg, 15 % more 3.45 kg; two of them 6.9 kg.
  const MassFlow flow = 36.0 * kilogram_per_hour;
  const LandingFuel two = landing_fuel({.flow = flow, .left = 7.0 * kilogram}).value();
  EXPECT_NEAR(kg(two.one_try), 3.45, 1e-12);
  EXPECT_NEAR(kg(two.needed), 6.9, 1e-12);
  EXPECT_EQ(two.tries_left, 2);
  EXPECT_EQ(two.finding.key, "landing.fuel.enough");
  const LandingFuel one = landing_fuel({.flow = flow, .left = 6.8 * kilogram}).value();
  EXPECT_EQ(one.tries_left, 1);
  EXPECT_EQ(one.finding.key, "landing.fuel.short");
  EXPECT_NEAR(measure_named(one.finding, "left"), 6.8, 1e-12);
  EXPECT_EQ(landing_fuel({.flow = flow, .left = Mass{}})->tries_left, 0);
  const LandingFuel unknown = landing_fuel({.flow = flow, .left = {}}).value();
  EXPECT_FALSE(unknown.tries_left.has_value());
  EXPECT_EQ(unknown.finding.key, "landing.fuel.unknown");
  EXPECT_NEAR(measure_named(unknown.finding, "needed"), 6.9, 1e-12);
}

TEST(LandingFuel, LeavesNoTryUncounted) {
  Random random = seeded("LandingFuel.Laws");
  for (int i = 0; i < 1000; ++i) {
    LandingFuelInputs in{.flow = random.uniform(10.0, 80.0) * kilogram_per_hour, .left = {}};
    in.each_try = random.uniform(1.0, 15.0) * minute;
    in.more_tries = static_cast<int>(random.below(11));
    const Mass needed = landing_fuel(in)->needed;
    in.left = needed;  // just enough is enough
    EXPECT_EQ(landing_fuel(in)->finding.key, "landing.fuel.enough");
    in.left = random.uniform(0.0, 60.0) * kilogram;
    const LandingFuel fuel = landing_fuel(in).value();
    EXPECT_NEAR(kg(fuel.needed), in.more_tries * kg(fuel.one_try), 1e-12);
    EXPECT_LE(*fuel.tries_left * kg(fuel.one_try), kg(*in.left) * (1.0 + 1e-11));
    EXPECT_GT((*fuel.tries_left + 1) * kg(fuel.one_try), kg(*in.left));
  }
}

TEST(LandingFuel, RefusesWhatCannotBe) {
  const auto refused = [](auto spoil) {
    LandingFuelInputs in{.flow = 30.0 * kilogram_per_hour, .left = {}};
    spoil(in);
    const auto fuel = landing_fuel(in);
    return !fuel.has_value() && fuel.error().code == Errc::bad_input &&
           fuel.error().sentence.key == "landing.fuel_outside";
  };
  EXPECT_FALSE(refused([](LandingFuelInputs&) {}));
  EXPECT_TRUE(refused([](LandingFuelInputs& x) { x.flow = MassFlow{}; }));
  EXPECT_TRUE(refused([](LandingFuelInputs& x) { x.flow = kNan * kilogram_per_hour; }));
  EXPECT_TRUE(refused([](LandingFuelInputs& x) { x.left = -1.0 * kilogram; }));
  EXPECT_TRUE(refused([](LandingFuelInputs& x) { x.each_try = Duration{}; }));
  EXPECT_TRUE(refused([](LandingFuelInputs& x) { x.more_tries = -1; }));
  EXPECT_TRUE(refused([](LandingFuelInputs& x) { x.allowance_fraction = 2.1; }));
}

// --- The latest time

Instant clock(int hours, int minutes_past) { return instant_of(*Date::of(2027, 5, 16), hours, minutes_past, 0.0, {}); }

// Off at 05:30, an hour planned; 50 minutes left on the weakest side; the sun from 05:00 to 20:00.
LatestInputs latest_morning() {
  LatestInputs in{.lift_off = {clock(5, 30), UtcOffset{-540}},
                  .planned = 60.0 * minute,
                  .reserve = 50.0 * minute,
                  .sunrise = clock(5, 0),
                  .noon = clock(12, 30),
                  .sunset = clock(20, 0),
                  .descent = {}};
  return in;
}

TEST(LatestLanding, NamesTheEarliestOfFourBounds) {
  const LatestLanding latest = latest_landing(latest_morning()).value();
  ASSERT_EQ(latest.bounds.size(), 4U);
  EXPECT_EQ(latest.bounds[0].what, LandBy::planned);
  EXPECT_EQ(latest.bounds[0].time.at, clock(6, 30));
  EXPECT_EQ(latest.bounds[1].what, LandBy::fuel);
  EXPECT_EQ(latest.bounds[1].time.at, clock(6, 50));  // 06:30 and 50 - 30 minutes
  EXPECT_EQ(latest.bounds[2].what, LandBy::thermals);
  EXPECT_EQ(latest.bounds[2].time.at, clock(7, 0));
  EXPECT_EQ(latest.bounds[3].what, LandBy::sunset);
  EXPECT_EQ(latest.land_by.at, clock(6, 30));
  EXPECT_EQ(latest.decide_by.at, clock(6, 15));  // three tries of five minutes
  EXPECT_EQ(latest.decide_by.offset.minutes, -540);
  EXPECT_TRUE(latest.not_known.empty());
  EXPECT_EQ(latest.finding.key, "landing.latest.planned");
  EXPECT_EQ(land_by_words(latest.bounds[0].what).key, "landing.by.planned");
  EXPECT_EQ(land_by_words(latest.bounds[1].what).key, "landing.by.fuel");
  EXPECT_EQ(land_by_words(latest.bounds[2].what).key, "landing.by.thermals");
  EXPECT_EQ(land_by_words(latest.bounds[3].what).key, "landing.by.sunset");
}

TEST(LatestLanding, CountsTheDescentAndEveryTry) {
  LatestInputs in = latest_morning();
  // From 1500 ft: 2 min to 500 ft at 500 ft/min, and 1.95 min from there. Four tries of 6 min: 06:30 less 27.95 min.
  in.descent = descent_time(agl(1500.0 * foot)).value().high;
  in.tries = 4;
  in.each_try = 6.0 * minute;
  EXPECT_NEAR((clock(6, 30) - latest_landing(in)->decide_by.at).in(minute), 27.95, 1e-9);
  in.descent = -1.0 * minute;
  expect_refused(latest_landing(in), Errc::bad_input, "landing.latest_outside", "-60s", "0s .. 86400s");
}

TEST(LatestLanding, LetsEachOfThemBind) {
  LatestInputs in = latest_morning();
  in.reserve = 10.0 * minute;
  EXPECT_EQ(latest_landing(in)->bounds.front().what, LandBy::fuel);
  EXPECT_EQ(latest_landing(in)->land_by.at, clock(6, 10));
  in = latest_morning();
  in.planned = 150.0 * minute;
  EXPECT_EQ(latest_landing(in)->finding.key, "landing.latest.thermals");
  in = latest_morning();
  in.lift_off.at = clock(19, 30);  // evening: the window of the morning does not count
  EXPECT_EQ(latest_landing(in)->finding.key, "landing.latest.sunset");
  EXPECT_EQ(latest_landing(in)->bounds.size(), 3U);
  EXPECT_TRUE(latest_landing(in)->not_known.empty());
}

TEST(LatestLanding, SaysWhenABoundIsNotKnown) {
  LatestInputs in = latest_morning();
  in.reserve.reset();
  in.sunset.reset();
  in.sunrise.reset();
  const LatestLanding latest = latest_landing(in).value();
  EXPECT_EQ(latest.not_known, (std::vector<LandBy>{LandBy::fuel, LandBy::sunset, LandBy::thermals}));
  EXPECT_EQ(latest.finding.key, "landing.latest.planned_at_best");
  in.sun_stays_up = true;
  EXPECT_EQ(latest_landing(in)->not_known, (std::vector<LandBy>{LandBy::fuel, LandBy::thermals}));
}

TEST(LatestLanding, IsNeverLaterThanAnyBound) {
  Random random = seeded("LatestLanding.Laws");
  for (int i = 0; i < 1000; ++i) {
    LatestInputs in = latest_morning();
    in.lift_off.at = clock(5, 0) + random.uniform(0.0, 15.0) * hour;
    in.planned = random.uniform(0.0, 180.0) * minute;
    in.reserve = random.uniform(-60.0, 120.0) * minute;
    in.tries = 1 + static_cast<int>(random.below(10));
    in.descent = random.uniform(0.0, 20.0) * minute;
    const LatestLanding latest = latest_landing(in).value();
    for (const LandByTime& b : latest.bounds) EXPECT_LE(latest.land_by.at, b.time.at);
    // Instants are kept to the millisecond.
    EXPECT_NEAR((latest.land_by.at - latest.decide_by.at).in(second), in.descent.in(second) + 300.0 * in.tries, 1.1e-3);
    for (std::size_t k = 1; k < latest.bounds.size(); ++k)
      EXPECT_LE(latest.bounds[k - 1].time.at, latest.bounds[k].time.at);
  }
  LatestInputs in = latest_morning();
  in.tries = 0;
  expect_refused(latest_landing(in), Errc::bad_input, "landing.latest_outside", "0", "1 .. 10");
  in = latest_morning();
  in.planned = kNan * minute;
  EXPECT_FALSE(latest_landing(in).has_value());
}

}  // namespace
}  // namespace pappus::balloon
