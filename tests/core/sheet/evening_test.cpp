#include "core/sheet/sections/evening.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::sheet {
namespace {

using testing::at_clock;
using testing::good_morning;

const Tripwire& find(const std::vector<Tripwire>& tripwires, Watched what) {
  const auto found =
      std::find_if(tripwires.begin(), tripwires.end(), [&](const Tripwire& t) { return t.what == what; });
  if (found == tripwires.end()) throw std::runtime_error("no tripwire watches " + std::string(name_of(what)));
  return *found;
}

bool has(const std::vector<Tripwire>& tripwires, Watched what) {
  return std::any_of(tripwires.begin(), tripwires.end(), [&](const Tripwire& t) { return t.what == what; });
}

const Change* find(const std::vector<Change>& changes, std::string_view what) {
  const auto found = std::find_if(changes.begin(), changes.end(), [&](const Change& c) { return c.what == what; });
  return found == changes.end() ? nullptr : &*found;
}

std::vector<std::string> keys(const std::vector<Sentence>& sentences) {
  std::vector<std::string> out;
  for (const Sentence& sentence : sentences) out.push_back(sentence.key);
  return out;
}

Tripwire own(Watched what, std::optional<Measure> most, std::optional<Measure> least) {
  Tripwire out;
  out.what = what;
  out.at_most = most;
  out.at_least = least;
  out.own = true;
  return out;
}

Tripwire sector(double from_deg, double to_deg, Length height = 300.0 * metre) {
  Tripwire out;
  out.what = Watched::wind_from;
  out.height = agl(height);
  out.from = TrueBearing::at(from_deg * degree);
  out.to = TrueBearing::at(to_deg * degree);
  out.own = true;
  return out;
}

// The same morning's sheet as of an hour before anything in it was seen.
Evening evening_of_morning(const Morning& morning) {
  Evening out = evening_of(sheet(morning));
  out.as_of = at_clock(3, 30);
  return out;
}

// That evening, and the same morning at dawn.
Morning dawn_after(const Morning& evening) {
  Morning out = evening;
  out.evening = evening_of_morning(evening);
  return out;
}

// Dawn judges one tripwire alone.
Tripwire judged(Morning morning, Tripwire tripwire) {
  Evening evening = evening_of_morning(morning);
  evening.tripwires = {std::move(tripwire)};
  morning.flight.tripwires.clear();
  morning.evening = std::move(evening);
  return sheet(morning).tripwires.at(0);
}

void warm(Morning& m, TemperatureDelta by) {
  for (auto& report : m.flight.reports) *report.temperature = *report.temperature + by;
  for (auto& ladder : m.flight.ladders)
    for (auto& row : ladder.rows) *row.temperature = *row.temperature + by;
}

LimitState crown(const Morning& m) { return sheet(m).limits.at(0).state; }

// ---- set in the evening

// The look at the cloud is later than the report, and would count.
Morning without_cloud_look(Morning m) {
  std::erase_if(m.flight.looks, [](const Look& look) { return look.what == "cloud"; });
  return m;
}

TEST(Tripwires, AreWorkedOutFromTheEveningsSheet) {
  const FlightSheet s = sheet(good_morning());
  const auto& t = s.tripwires;
  ASSERT_EQ(t.size(), 6u);
  for (const Tripwire& tripwire : t) {
    EXPECT_EQ(tripwire.state, TripwireState::set);
    EXPECT_FALSE(tripwire.own);
    EXPECT_FALSE(tripwire.now);
    EXPECT_TRUE(tripwire.evening) << name_of(tripwire.what);
    EXPECT_EQ(tripwire.condition, condition_of(tripwire));
    EXPECT_EQ(tripwire.finding.key, "tripwire.set");
  }
  EXPECT_EQ(find(t, Watched::surface_wind).at_most, measure::wind(8.0 * knot));  // the own minimum
  EXPECT_NEAR(find(t, Watched::surface_wind).evening->si, (2.0 * knot).in(metre_per_second), 1e-12);
  // 14 kt from 240 at 300 m; 5 kt more, and 25 degrees to either side.
  EXPECT_EQ(find(t, Watched::wind_speed).height, agl(300.0 * metre));
  EXPECT_NEAR(find(t, Watched::wind_speed).at_most->si, (19.0 * knot).in(metre_per_second), 1e-9);
  EXPECT_EQ(find(t, Watched::wind_from).from, TrueBearing::at(215.0 * degree));
  EXPECT_EQ(find(t, Watched::wind_from).to, TrueBearing::at(265.0 * degree));
  EXPECT_NEAR(find(t, Watched::dew_point_spread).at_least->si, 2.2, 0.002);
  EXPECT_NEAR(find(t, Watched::dew_point_spread).evening->si, 4.1, 1e-9);
  // 239 kg of people: 218 kg stated, 7 kg for each.
  EXPECT_NEAR(find(t, Watched::mass_aboard).evening->si, 239.0, 1e-9);
}

TEST(Tripwires, TheSurfaceWindIsTheOwnMinimumElseTheHandbooksAndNeverAboveTheManuals) {
  Morning m = good_morning();
  m.flight.minimum.surface_wind.reset();
  EXPECT_EQ(find(sheet(m).tripwires, Watched::surface_wind).at_most, measure::wind(7.0 * knot));
  m.flight.minimum.surface_wind = 12.0 * knot;
  m.balloon.envelope.launch_wind_limit = 9.0 * knot;
  EXPECT_EQ(find(sheet(m).tripwires, Watched::surface_wind).at_most, measure::wind(9.0 * knot));
}

TEST(Tripwires, TheWindAloftIsWatchedNoHigherThanIsFlown) {
  Morning m = good_morning();
  m.flight.highest = agl(150.0 * metre);
  EXPECT_EQ(find(sheet(m).tripwires, Watched::wind_speed).height, agl(150.0 * metre));
  EXPECT_NEAR(find(sheet(m).tripwires, Watched::wind_speed).at_most->si, (14.0 * knot).in(metre_per_second), 1e-9);
}

TEST(Tripwires, OfALightWindAloftTheDirectionIsNotWatched) {
  Morning m = good_morning();
  for (auto& row : m.flight.ladders[0].rows) row.wind = wind::Wind::from(TrueBearing::at(240.0 * degree), 2.0 * knot);
  EXPECT_TRUE(has(sheet(m).tripwires, Watched::wind_speed));
  EXPECT_FALSE(has(sheet(m).tripwires, Watched::wind_from));
}

TEST(Tripwires, TheWarmestIsWhereTheCrownMeetsItsLimit) {
  const Morning heavy = good_morning();
  const auto& t = sheet(heavy).tripwires;
  ASSERT_TRUE(has(t, Watched::temperature));
  const Temperature most = Temperature::at(find(t, Watched::temperature).at_most->si * kelvin);
  const TemperatureDelta room = most - celsius(3.2);
  EXPECT_GT(room, 0.0 * kelvin);
  Morning warmer = heavy;
  warm(warmer, room);
  EXPECT_NE(crown(warmer), LimitState::outside);
  Morning too_warm = heavy;  // told in whole degrees, downwards
  warm(too_warm, room + 1.2 * kelvin);
  EXPECT_EQ(crown(too_warm), LimitState::outside);
}

TEST(Tripwires, WarmthIsNotWatchedWhereNoMorningIsWarmEnoughOrTheCrownIsBeyondAlready) {
  Morning light = good_morning();
  light.flight.aboard.resize(1);
  light.balloon.envelope.volume = 140'000.0 * cubic_foot;
  EXPECT_FALSE(has(sheet(light).tripwires, Watched::temperature));
  Morning beyond = good_morning();
  warm(beyond, 30.0 * kelvin);
  beyond.balloon.kit.push_back({"ballast", 200.0 * kilogram});
  EXPECT_FALSE(has(sheet(beyond).tripwires, Watched::temperature));
}

TEST(Tripwires, TheMassAboardIsWhatWasCountedAndTheSmallerMargin) {
  Morning m = good_morning();
  m.balloon.envelope.gross_limit = load_sheet(m).total + 12.6 * kilogram;
  EXPECT_EQ(find(sheet(m).tripwires, Watched::mass_aboard).at_most, measure::of(251.0 * kilogram));
  m.balloon.envelope.gross_limit = load_sheet(m).total - 1.0 * kilogram;
  EXPECT_FALSE(has(sheet(m).tripwires, Watched::mass_aboard)) << "the limit itself says so";
}

TEST(Tripwires, WhatTheSheetDoesNotKnowIsNotWorkedOut) {
  Morning m = good_morning();
  m.flight.ladders.clear();
  m.flight.reports.clear();
  const auto t = sheet(m).tripwires;
  for (const Watched what : {Watched::wind_speed, Watched::wind_from, Watched::dew_point_spread, Watched::temperature})
    EXPECT_FALSE(has(t, what)) << name_of(what);
  EXPECT_EQ(find(t, Watched::surface_wind).finding.key, "tripwire.set_unknown");
}

TEST(Tripwires, OneOfThePilotsOwnStandsInForTheOneWorkedOut) {
  Morning m = good_morning();
  m.flight.tripwires = {own(Watched::surface_wind, measure::wind(6.0 * knot), std::nullopt), sector(200, 250)};
  m.flight.tripwires[1].height = agl(304.8 * metre);  // 1000 ft: the same wind
  auto t = sheet(m).tripwires;
  EXPECT_EQ(t.size(), 6u);
  EXPECT_TRUE(t[0].own && t[1].own);
  EXPECT_EQ(find(t, Watched::surface_wind).at_most, measure::wind(6.0 * knot));
  EXPECT_EQ(std::count_if(t.begin(), t.end(), [](const Tripwire& x) { return x.what == Watched::wind_from; }), 1);
  m.flight.tripwires[1].height = agl(200.0 * metre);
  t = sheet(m).tripwires;
  EXPECT_EQ(std::count_if(t.begin(), t.end(), [](const Tripwire& x) { return x.what == Watched::wind_from; }), 2);
}

TEST(Tripwires, OneThatIsPastAlreadyInTheEveningSaysSo) {
  Morning m = good_morning();
  m.flight.tripwires = {own(Watched::surface_wind, measure::wind(1.0 * knot), std::nullopt)};
  const Tripwire t = sheet(m).tripwires[0];
  EXPECT_EQ(t.state, TripwireState::set);
  EXPECT_EQ(t.finding.key, "tripwire.set_past");
}

// ---- judged at dawn

TEST(Tripwires, ADawnEqualToTheEveningHoldsAllAndChangesNothing) {
  const FlightSheet s = sheet(dawn_after(good_morning()));
  EXPECT_EQ(s.evening, at_clock(3, 30));
  ASSERT_EQ(s.tripwires.size(), 6u);
  for (const Tripwire& t : s.tripwires) {
    EXPECT_EQ(t.state, TripwireState::holds) << name_of(t.what);
    EXPECT_EQ(t.now, t.evening) << name_of(t.what);
    EXPECT_EQ(t.finding.key, "tripwire.holds_since");
  }
  EXPECT_TRUE(s.changes.empty());
}

TEST(Tripwires, ABoundMovedAcrossTheValueFlipsExactly) {
  Random random = testing::seeded("Tripwires.FlipsExactly");
  constexpr double step = 1e-6;
  for (int i = 0; i < 40; ++i) {
    Morning m = without_cloud_look(good_morning());
    m.flight.reports[0].wind_speed = random.uniform(1.0, 20.0) * knot;
    m.flight.reports[0].gust = *m.flight.reports[0].wind_speed + random.uniform(0.5, 10.0) * knot;
    m.flight.ladders[0].rows[0].wind.reset();
    m.flight.reports[0].temperature = celsius(random.uniform(-5.0, 15.0));
    m.flight.reports[0].dew_point = *m.flight.reports[0].temperature - random.uniform(0.1, 9.0) * kelvin;
    m.flight.ladders[0].rows[0].temperature.reset();
    m.flight.looks[0].value = measure::distance(random.uniform(0.5, 20.0) * kilometre);
    m.flight.reports[0].clouds = {{.amount = wind::CloudAmount::few, .base = agl(random.uniform(100, 3000) * metre)}};
    for (const Watched what : {Watched::surface_wind, Watched::gust, Watched::wind_speed, Watched::dew_point_spread,
                               Watched::visibility, Watched::cloud_base, Watched::temperature, Watched::mass_aboard}) {
      Tripwire t = own(what, Measure{0.0, kind_of(what)}, std::nullopt);
      if (is_aloft(what)) t.height = agl(300.0 * metre);
      const auto now = judged(m, t).now;
      ASSERT_TRUE(now) << name_of(what);
      ASSERT_EQ(now->kind, kind_of(what));
      const auto state = [&](std::optional<double> most, std::optional<double> least) {
        t.at_most = most ? std::optional{Measure{*most, now->kind}} : std::nullopt;
        t.at_least = least ? std::optional{Measure{*least, now->kind}} : std::nullopt;
        return judged(m, t).state;
      };
      const double v = now->si, above = v * (1.0 + step), below = v * (1.0 - step);
      EXPECT_EQ(state(v, {}), TripwireState::holds) << name_of(what);
      EXPECT_EQ(state(above, {}), TripwireState::holds) << name_of(what);
      EXPECT_EQ(state(below, {}), TripwireState::broken) << name_of(what);
      EXPECT_EQ(state({}, v), TripwireState::holds) << name_of(what);
      EXPECT_EQ(state({}, below), TripwireState::holds) << name_of(what);
      EXPECT_EQ(state({}, above), TripwireState::broken) << name_of(what);
      EXPECT_EQ(state(above, below), TripwireState::holds) << name_of(what);
      EXPECT_EQ(state(below, 0.5 * v), TripwireState::broken) << name_of(what);
    }
  }
}

TEST(Tripwires, ASectorRunsClockwiseFromOneEndToTheOther) {
  Random random = testing::seeded("Tripwires.Sector");
  Morning m = good_morning();
  m.flight.ladders[0].rows.resize(1);
  m.flight.ladders[0].rows[0].altitude = amsl(1800.0 * metre);
  for (int i = 0; i < 60; ++i) {
    const int from = static_cast<int>(random.below(360)), width = 1 + static_cast<int>(random.below(359));
    const int at = static_cast<int>(random.below(360));
    std::set<int> inside;  // walked degree by degree
    for (int d = from, steps = 0; steps <= width; ++steps, d = d == 359 ? 0 : d + 1) inside.insert(d);
    m.flight.ladders[0].rows[0].wind = wind::Wind::from(TrueBearing::at(at * degree), 12.0 * knot);
    const Tripwire t = judged(m, sector(from, from + width));
    EXPECT_EQ(t.state, inside.count(at) != 0 ? TripwireState::holds : TripwireState::broken)
        << at << " in " << from << " to " << from + width;
  }
}

TEST(Tripwires, TheUnknownNeverHolds) {
  Morning unknown = good_morning();
  unknown.flight.ladders.clear();
  unknown.flight.reports.clear();
  unknown.flight.looks.clear();
  for (const auto& [what, name] : Names<Watched>::all) {
    if (what == Watched::mass_aboard) continue;  // is always known
    Tripwire t = what == Watched::wind_from ? sector(0, 359)
                                            : own(what, Measure{1e9, kind_of(what)}, Measure{-1e9, kind_of(what)});
    if (is_aloft(what)) t.height = agl(300.0 * metre);
    const Tripwire dawn = judged(unknown, t);
    EXPECT_EQ(dawn.state, TripwireState::not_known) << name;
    EXPECT_EQ(dawn.finding.key, "tripwire.not_known") << name;
    EXPECT_FALSE(dawn.now) << name;
  }
}

TEST(Tripwires, WhatWasSeenBeforeTheEveningsSheetDoesNotHoldAtDawn) {
  Morning m = dawn_after(good_morning());
  m.evening->as_of = at_clock(4, 46);  // after the last look
  for (const Tripwire& t : sheet(m).tripwires) {
    const bool ages = t.what != Watched::mass_aboard;
    EXPECT_EQ(t.state, ages ? TripwireState::not_known : TripwireState::holds) << name_of(t.what);
    if (ages) {
      EXPECT_EQ(t.finding.key, "tripwire.stale_since");
    }
    EXPECT_TRUE(t.now);
  }
}

TEST(Tripwires, WhatIsToldOnOneSideOnlyIsJudgedOnThatSideOnly) {
  Morning m = good_morning();
  m.flight.looks.clear();
  wind::SurfaceReport& report = m.flight.reports[0];
  report.visibility = 10.0 * kilometre;
  report.visibility_at_least = true;
  const auto state = [&](Length least) {
    return judged(m, own(Watched::visibility, std::nullopt, measure::distance(least))).state;
  };
  EXPECT_EQ(state(10.0 * kilometre), TripwireState::holds);
  EXPECT_EQ(state(10.1 * kilometre), TripwireState::not_known);
  report.visibility_lowest = 4.0 * kilometre;  // in one direction: that is a figure
  EXPECT_EQ(state(5.0 * kilometre), TripwireState::broken);
  report.visibility_lowest.reset();
  report.visibility_at_least = false;
  report.visibility_below = true;
  EXPECT_EQ(state(10.1 * kilometre), TripwireState::broken);
  EXPECT_EQ(state(9.9 * kilometre), TripwireState::not_known);
}

TEST(Tripwires, AClearSkyHasNoBaseAndALayerWithoutOneHidesIt) {
  Morning m = without_cloud_look(good_morning());
  const Tripwire t = own(Watched::cloud_base, std::nullopt, measure::height(600.0 * metre));
  EXPECT_EQ(judged(m, t).state, TripwireState::not_known) << "a report that does not speak of cloud";
  m.flight.reports[0].sky_clear = true;
  EXPECT_EQ(judged(m, t).state, TripwireState::holds);
  EXPECT_EQ(judged(m, t).finding.key, "tripwire.clear");
  m.flight.reports[0].sky_clear = false;
  m.flight.reports[0].clouds = {{.amount = wind::CloudAmount::broken, .base = agl(900.0 * metre)},
                                {.amount = wind::CloudAmount::few, .base = agl(500.0 * metre)}};
  EXPECT_EQ(judged(m, t).state, TripwireState::broken) << "the lowest counts";
  m.flight.reports[0].clouds[1].base.reset();
  EXPECT_EQ(judged(m, t).state, TripwireState::not_known);
}

TEST(Tripwires, OfALookAndAReportTheLaterCounts) {
  Morning m = good_morning();  // reported at 4:35, looked at 4:45
  m.flight.reports[0].visibility = 2.0 * kilometre;
  const Tripwire visibility = own(Watched::visibility, std::nullopt, measure::distance(5.0 * kilometre));
  EXPECT_EQ(judged(m, visibility).state, TripwireState::holds);
  m.flight.reports[0].source.time = at_clock(4, 46).at;
  EXPECT_EQ(judged(m, visibility).state, TripwireState::broken);
  const Tripwire base = own(Watched::cloud_base, std::nullopt, measure::height(600.0 * metre));
  m.flight.reports[0].clouds = {{.amount = wind::CloudAmount::few, .base = agl(300.0 * metre)}};
  m.flight.looks.push_back({.what = "cloud", .value = std::nullopt, .words = "none", .time = at_clock(4, 47)});
  EXPECT_EQ(judged(m, base).state, TripwireState::holds);
  m.flight.looks.back().words = "some, over the ridge";  // tells no height: the report's may be too high
  EXPECT_EQ(judged(m, base).state, TripwireState::broken);
  m.flight.reports[0].clouds.clear();
  m.flight.reports[0].sky_clear = true;
  EXPECT_EQ(judged(m, base).state, TripwireState::not_known);
  EXPECT_EQ(judged(m, base).finding.key, "tripwire.not_known");
}

TEST(Tripwires, ABoundMovedAtDawnDoesNotCountAndANewOneDoes) {
  Morning evening = good_morning();
  evening.flight.tripwires = {own(Watched::surface_wind, measure::wind(6.0 * knot), std::nullopt)};
  Morning dawn = dawn_after(evening);
  dawn.flight.reports[0].wind_speed = 8.0 * knot;
  dawn.flight.ladders[0].rows[0].wind.reset();
  dawn.flight.tripwires = {own(Watched::surface_wind, measure::wind(10.0 * knot), std::nullopt),
                           own(Watched::gust, measure::wind(12.0 * knot), std::nullopt)};
  const auto t = sheet(dawn).tripwires;
  EXPECT_EQ(find(t, Watched::surface_wind).at_most, measure::wind(6.0 * knot));
  EXPECT_EQ(find(t, Watched::surface_wind).state, TripwireState::broken);
  EXPECT_EQ(find(t, Watched::surface_wind).finding.key, "tripwire.broken_since");
  EXPECT_EQ(find(t, Watched::gust).state, TripwireState::holds);
  EXPECT_EQ(find(t, Watched::gust).finding.key, "tripwire.holds");
}

// ---- what is kept

TEST(Evening, KeepsWholeSecondsAndTheFirstEveningsTripwires) {
  Morning m = good_morning();
  m.as_of.at = m.as_of.at + 0.6 * second;
  EXPECT_EQ(evening_of(sheet(m)).as_of.at, at_clock(4, 50).at + 1.0 * second);
  const Morning dawn = dawn_after(good_morning());
  const Evening again = evening_of(sheet(dawn));
  EXPECT_EQ(again.tripwires, dawn.evening->tripwires);
}

// ---- what changed

TEST(Changes, WithoutAnEveningThereAreNone) { EXPECT_TRUE(sheet(good_morning()).changes.empty()); }

TEST(Changes, TheStandingComesFirstThenTheWorst) {
  Morning m = dawn_after(good_morning());
  m.flight.reports[0].wind_speed = 9.0 * knot;  // outside the own minimum of 8 kt
  m.flight.ladders[0].rows[0].wind.reset();
  m.flight.reports[0].dew_point = *m.flight.reports[0].temperature - 2.0 * kelvin;  // near
  m.flight.fuel[2].liquid.reset();
  const auto changes = sheet(m).changes;
  ASSERT_GE(changes.size(), 4u);
  EXPECT_EQ(changes[0].what, "standing");
  EXPECT_TRUE(changes[0].worse);
  EXPECT_EQ(changes[1].what, "surface_wind");
  EXPECT_EQ(changes[1].words.key, "change.state_values");
  EXPECT_NEAR(changes[1].before->si, (2.0 * knot).in(metre_per_second), 1e-12);
  EXPECT_NEAR(changes[1].after->si, (9.0 * knot).in(metre_per_second), 1e-12);
  EXPECT_TRUE(changes[1].worse);
  ASSERT_NE(find(changes, "fuel_reserve"), nullptr);
  EXPECT_EQ(find(changes, "fuel_reserve")->words.key, "change.state_before");
  EXPECT_LT(find(changes, "fuel_reserve"), find(changes, "dew_point_spread")) << "not known before near";
  ASSERT_NE(find(changes, "cylinder"), nullptr);
  EXPECT_EQ(find(changes, "cylinder")->words, say("change.cylinder_unknown", {{"id", std::string("3")}}));
}

TEST(Changes, AValueIsToldFromItsThresholdOn) {
  const auto change = [](Speed now) {
    Morning m = dawn_after(good_morning());
    m.flight.reports[0].wind_speed = now;
    m.flight.ladders[0].rows[0].wind.reset();
    return sheet(m).changes;
  };
  EXPECT_EQ(find(change(3.9 * knot), "surface_wind"), nullptr);
  const auto told = change(4.0 * knot);
  ASSERT_NE(find(told, "surface_wind"), nullptr);
  EXPECT_EQ(find(told, "surface_wind")->words.key, "change.value");
  EXPECT_TRUE(find(told, "surface_wind")->worse);
  EXPECT_FALSE(find(change(0.0 * knot), "surface_wind")->worse);
}

TEST(Changes, PeopleLoadAndTimeAreToldOnce) {
  Morning m = dawn_after(good_morning());
  m.flight.aboard.push_back(m.flight.aboard[1]);
  m.flight.time = at_clock(5, 20);
  const auto changes = sheet(m).changes;
  ASSERT_NE(find(changes, "people_aboard"), nullptr);
  EXPECT_TRUE(find(changes, "people_aboard")->worse);
  EXPECT_EQ(find(changes, "people"), nullptr);
  ASSERT_NE(find(changes, "load"), nullptr);
  EXPECT_NEAR(find(changes, "load")->after->si - find(changes, "load")->before->si, 77.0, 1e-9);
  EXPECT_EQ(find(changes, "gross_mass"), nullptr);
  ASSERT_NE(find(changes, "time"), nullptr);
  EXPECT_FALSE(find(changes, "time")->worse);
}

TEST(Changes, ACylinderLeftBehindIsToldAsSuch) {
  Morning m = dawn_after(good_morning());
  m.balloon.cylinders.pop_back();
  m.flight.fuel.pop_back();
  const auto changes = sheet(m).changes;
  ASSERT_NE(find(changes, "cylinder"), nullptr);
  EXPECT_EQ(find(changes, "cylinder")->words.key, "change.cylinder_gone");
}

TEST(Changes, AgesMoveByThemselves) {
  Morning m = dawn_after(good_morning());
  m.as_of = at_clock(5, 5);
  const auto changes = sheet(m).changes;
  EXPECT_EQ(find(changes, "report_age"), nullptr);
  EXPECT_EQ(find(changes, "winds_age"), nullptr);
}

TEST(Changes, ALimitThatOnlyOneSheetJudgesIsTold) {
  Morning m = dawn_after(good_morning());
  m.evening->limits.push_back({"of_another_version", LimitState::inside, std::nullopt});
  std::erase_if(m.evening->limits, [](const EveningLimit& l) { return l.name == "light_launch"; });
  const auto changes = sheet(m).changes;
  ASSERT_NE(find(changes, "of_another_version"), nullptr);
  EXPECT_EQ(find(changes, "of_another_version")->words.key, "change.limit_gone");
  ASSERT_NE(find(changes, "light_launch"), nullptr);
  EXPECT_EQ(find(changes, "light_launch")->words.key, "change.limit_new");
}

TEST(Changes, AnotherStateIsAlwaysTold) {
  Random random = testing::seeded("Changes.AnotherState");
  for (int i = 0; i < 200; ++i) {
    Morning m = dawn_after(good_morning());
    auto& limit = m.evening->limits[random.below(m.evening->limits.size())];
    const LimitState before = limit.state;
    limit.state = static_cast<LimitState>(random.below(4));
    const auto changes = sheet(m).changes;
    EXPECT_EQ(find(changes, limit.name) != nullptr, limit.state != before) << limit.name;
  }
}

// ---- the word for the people who wait

TEST(Message, TheEveningTellsWhoWhereWhenTheConditionsAndTheNextWord) {
  Morning m = good_morning();
  m.as_of = Moment{at_clock(5, 10).at - 9.0 * hour, at_clock(5, 10).offset};
  for (auto& report : m.flight.reports) report.source.time = m.as_of.at;
  m.flight.ladders[0].source.time = m.as_of.at;
  const auto message = sheet(m).message;
  ASSERT_EQ(message.size(), 6u);
  EXPECT_EQ(keys(message), (std::vector<std::string>{"message.head", "message.with_care", "message.while_at_most",
                                                     "message.while_fog", "message.while_at_most", "message.next_by"}));
  EXPECT_EQ(message.back().arguments.at(0).value, ArgumentValue{at_clock(4, 10)});
}

TEST(Message, ThePilotsOwnConditionsComeFirst) {
  Morning m = good_morning();
  m.flight.tripwires = {sector(200, 250), own(Watched::visibility, std::nullopt, measure::distance(8.0 * kilometre)),
                        own(Watched::gust, measure::wind(9.0 * knot), measure::wind(1.0 * knot))};
  const auto told = keys(sheet(m).message);
  EXPECT_EQ((std::vector<std::string>{told.begin() + 2, told.begin() + 5}),
            (std::vector<std::string>{"message.while_sector", "message.while_at_least", "message.while_between"}));
}

TEST(Message, AnAnswerThatSpeaksAgainstTheFlightRaisesNoHopes) {
  Morning m = good_morning();
  m.flight.reports[0].wind_speed = 14.0 * knot;
  m.flight.ladders[0].rows[0].wind.reset();
  EXPECT_EQ(keys(sheet(m).message),
            (std::vector<std::string>{"message.head", "message.against", "message.next_at_field"}));
}

TEST(Message, DawnTellsWhetherTheEveningsAnswerStands) {
  const auto second_key = [](const Morning& m) { return keys(sheet(m).message).at(1); };
  const Morning good = dawn_after(good_morning());
  EXPECT_EQ(second_key(good), "message.hold");
  Morning windy = good;
  windy.flight.reports[0].wind_speed = 9.0 * knot;
  windy.flight.ladders[0].rows[0].wind.reset();
  EXPECT_EQ(second_key(windy), "message.broken_at_most");
  Morning foggy = good;
  foggy.flight.reports[0].dew_point = *foggy.flight.reports[0].temperature - 0.2 * kelvin;
  EXPECT_EQ(second_key(foggy), "message.broken_fog");
  Morning silent = good;
  silent.flight.ladders.clear();
  EXPECT_EQ(second_key(silent), "message.open");
  Morning short_of_fuel = good;
  for (auto& fuel : short_of_fuel.flight.fuel) fuel.liquid = 2.0 * us_gallon;
  EXPECT_EQ(second_key(short_of_fuel), "message.hold_but");
}

TEST(Message, HasOneToSixSentencesWhateverTheMorning) {
  Random random = testing::seeded("Message.Sentences");
  for (int i = 0; i < 60; ++i) {
    Morning m = good_morning();
    if (random.below(2) != 0) m.flight.ladders.clear();
    if (random.below(2) != 0) m.flight.reports.clear();
    if (random.below(2) != 0) m.flight.tripwires = {sector(10, 20), sector(10, 20, 500.0 * metre)};
    if (random.below(2) != 0) m.as_of.at = m.as_of.at - 10.0 * hour;
    if (random.below(2) != 0) m = dawn_after(m);
    const auto message = sheet(m).message;
    EXPECT_GE(message.size(), 1u);
    EXPECT_LE(message.size(), 6u);
  }
}

}  // namespace
}  // namespace pappus::sheet
