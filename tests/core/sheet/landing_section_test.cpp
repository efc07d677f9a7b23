#include "core/sheet/sections/landing.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "core/balloon/landing.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"

namespace pappus::sheet {
namespace {

using testing::at_clock;
using testing::good_morning;

LandingSection landing(const Morning& morning) { return sheet(morning).landing; }

std::vector<Sentence> sentences(const LandingSection& l) {
  std::vector<Sentence> out{l.surface_wind_reason, l.time_finding, l.fuel_finding, l.run_finding,
                            l.room_finding,        l.low_sun,      l.sink_finding};
  for (const auto* list : {&l.standing, &l.notes}) out.insert(out.end(), list->begin(), list->end());
  for (const LandByLine& bound : l.bounds) out.push_back(bound.what);
  return out;
}

bool says(const std::vector<Sentence>& all, std::string_view key) {
  return std::any_of(all.begin(), all.end(), [&](const Sentence& s) { return s.key == key; });
}

TEST(LandingSection, IsFullOnAGoodMorning) {
  const LandingSection l = landing(good_morning());
  ASSERT_TRUE(l.surface_wind && l.land_by && l.decide_by && l.fuel_to_land_with && l.run && l.drift && l.sun_azimuth &&
              l.sun_elevation && l.sink);
  for (const Sentence& s : sentences(l)) EXPECT_FALSE(s.key.empty());
  EXPECT_LE(l.surface_wind->low, l.surface_wind->best);
  EXPECT_LE(l.surface_wind->best, l.surface_wind->high);
  EXPECT_EQ(l.land_by, l.bounds.front().time);
  for (const LandByLine& bound : l.bounds) EXPECT_LE(l.land_by->at, bound.time.at);
  EXPECT_EQ(l.leads, "long side");
  EXPECT_EQ(l.run->wind, l.surface_wind->high) << "room is planned for the worst wind";
  EXPECT_NEAR(l.run->total_high.in(metre), (l.run->approach_high + l.run->reaction + l.run->drag_high).in(metre), 1e-9);
}

TEST(LandingSection, TheTimeToBeginLeavesTheDescentAndThreeTries) {
  const LandingSection l = landing(good_morning());
  // 300 m are 984.25 ft: 584.25 at 500 ft/min, 100 at 400, 300 at 200 = 1.1685 + 0.25 + 1.5 min; three tries of 5 min.
  EXPECT_EQ(*l.land_by, at_clock(5, 50));
  EXPECT_NEAR((l.land_by->at - l.decide_by->at).in(minute), 15.0 + 2.9185, 0.001);
}

TEST(LandingSection, TheDriftIsThatOfTheMeanWindNearTheGround) {
  Morning m = good_morning();
  m.flight.reports.clear();
  for (auto& row : m.flight.ladders[0].rows) row.wind = wind::Wind::from(TrueBearing::at(255.0 * degree), 6.0 * knot);
  const LandingSection l = landing(m);
  ASSERT_TRUE(l.drift);
  EXPECT_NEAR(l.drift->from_north().in(degree), 75.0, 1e-6);
  // Sunrise was at 05:00 or so: toward the east-north-east it stands low and ahead.
  EXPECT_EQ(l.low_sun.key, "landing.sun.into");
  EXPECT_FALSE(says(l.notes, "landing.turns_note"));
}

TEST(LandingSection, AForecastForTheLandingCountsAndOneForAnotherTimeDoesNot) {
  const auto with_forecast = [](int from_hour, int to_hour) {
    Morning m = good_morning();
    wind::Forecast forecast;
    forecast.station = "XSGB";
    forecast.issued = at_clock(3, 0).at;
    forecast.valid_from = at_clock(from_hour, 0).at;
    forecast.valid_to = at_clock(to_hour, 0).at;
    wind::ForecastPeriod base;
    base.from = forecast.valid_from;
    base.to = forecast.valid_to;
    base.wind_speed = 18.0 * knot;
    base.gust = 28.0 * knot;
    forecast.periods = {base};
    m.flight.forecasts = {forecast};
    return landing(m);
  };
  const LandingSection without = landing(good_morning());
  const LandingSection covered = with_forecast(4, 12);
  EXPECT_EQ(covered.surface_wind->high, 28.0 * knot);
  EXPECT_EQ(covered.surface_wind->best, 18.0 * knot);
  EXPECT_EQ(covered.surface_wind_reason.key, "landing.surface_wind.forecast");
  EXPECT_GT(covered.run->total_high, without.run->total_high) << "more wind needs more room";
  const LandingSection later = with_forecast(7, 12);
  EXPECT_EQ(later.surface_wind->high, without.surface_wind->high);
}

TEST(LandingSection, TheRoomIsHeldAgainstTheWorst) {
  Morning m = good_morning();
  EXPECT_EQ(landing(m).room_finding.key, "landing.room.look");
  EXPECT_TRUE(says(landing(m).notes, "landing.open_edge_note"));
  m.flight.landing = {.obstacle = 60.0 * foot, .room = 100.0 * metre};
  const LandingSection small = landing(m);
  EXPECT_EQ(small.room_finding.key, "landing.room.short");
  EXPECT_FALSE(says(small.notes, "landing.open_edge_note"));
  m.flight.landing.room = small.run->total_high;
  EXPECT_EQ(landing(m).room_finding.key, "landing.room.enough");
}

struct Missing {
  const char* what;
  void (*take)(Morning&);
  std::vector<std::string_view> told;
};

TEST(LandingSection, WhatIsMissingIsSaid) {
  const std::vector<Missing> all{
      {"winds",
       [](Morning& m) {
         m.flight.ladders.clear();
         m.flight.reports.clear();
       },
       {"landing.surface_wind.unknown_newest", "landing.run_unknown", "landing.room.unknown",
        "landing.false_lift.unknown", "landing.basket.no_drift"}},
      {"winds aloft", [](Morning& m) { m.flight.ladders.clear(); }, {"landing.surface_wind.unknown_aloft"}},
      {"a leading side", [](Morning& m) { m.balloon.basket.leads.clear(); }, {"landing.basket.unknown"}},
      {"fuel", [](Morning& m) { m.flight.fuel.pop_back(); }, {"landing.fuel.unknown"}},
      {"a highest height",
       [](Morning& m) { m.flight.highest.reset(); },
       {"landing.descent_note", "fact.highest_missing"}},
  };
  for (const Missing& missing : all) {
    SCOPED_TRACE(missing.what);
    Morning m = good_morning();
    missing.take(m);
    const std::vector<Sentence> said = sentences(landing(m));
    for (const Sentence& s : said) EXPECT_FALSE(s.key.empty());
    for (const std::string_view key : missing.told) EXPECT_TRUE(says(said, key)) << key;
  }
}

TEST(LandingSection, FuelThatIsNotKnownMayBoundTheTimeEarlier) {
  Morning m = good_morning();
  m.flight.fuel.clear();
  EXPECT_EQ(landing(m).time_finding.key, "landing.latest.planned_at_best");
}

TEST(LandingSection, TheVentLinesAreNamedAsTheyLook) {
  Morning m = good_morning();
  m.balloon.lines = {{"rapid", "red", "left"}, {"turn-left", "green", "right"}};
  const auto standing = landing(m).standing;
  EXPECT_EQ(std::count_if(standing.begin(), standing.end(),
                          [](const Sentence& s) { return s.key == "landing.standing.line"; }),
            1);
}

}  // namespace
}  // namespace pappus::sheet
