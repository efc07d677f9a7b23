// Each limit is spoiled on its own, from a morning on which nothing is outside.
#include <algorithm>
#include <functional>

#include <gtest/gtest.h>

#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"

namespace pappus::sheet {
namespace {

using testing::at_clock;
using testing::good_morning;

Limit find(const FlightSheet& s, std::string_view name) {
  for (const Limit& limit : s.limits)
    if (limit.name == name) return limit;
  ADD_FAILURE() << "no limit " << name;
  return {};
}

struct Spoiled {
  const char* what;
  const char* limit;
  LimitState state;
  std::function<void(Morning&)> spoil;
};

const std::vector<Spoiled>& spoiled() {
  static const std::vector<Spoiled> all{
      {"an envelope near its crown limit", "crown_temperature", LimitState::near,
       [](Morning& m) { m.balloon.envelope.crown_limit = celsius(116.0); }},
      {"an envelope that must be too hot", "crown_temperature", LimitState::outside,
       [](Morning& m) { m.balloon.envelope.crown_limit = celsius(75.0); }},
      {"no crown limit", "crown_temperature", LimitState::not_known,
       [](Morning& m) { m.balloon.envelope.crown_limit.reset(); }},
      {"no temperature aloft", "crown_temperature", LimitState::near,
       [](Morning& m) {
         for (auto& r : m.flight.ladders[0].rows) r.temperature.reset();
       }},
      {"no altimeter setting", "crown_temperature", LimitState::not_known,
       [](Morning& m) {
         m.flight.field.qnh.reset();
         m.flight.reports[0].qnh.reset();
       }},
      {"no air temperature at all", "crown_temperature", LimitState::not_known,
       [](Morning& m) {
         m.flight.reports[0].temperature.reset();
         for (auto& r : m.flight.ladders[0].rows) r.temperature.reset();
       }},
      {"a load over the gross limit", "gross_mass", LimitState::outside,
       [](Morning& m) { m.balloon.envelope.gross_limit = 500.0 * kilogram; }},
      {"a load close to the gross limit", "gross_mass", LimitState::near,
       [](Morning& m) { m.balloon.envelope.gross_limit = 1.02 * load_sheet(m).total; }},
      {"no gross limit", "gross_mass", LimitState::not_known,
       [](Morning& m) { m.balloon.envelope.gross_limit.reset(); }},
      {"as many people as the basket takes", "people", LimitState::near,
       [](Morning& m) { m.balloon.basket.people = 3; }},
      {"one person too many", "people", LimitState::outside, [](Morning& m) { m.balloon.basket.people = 2; }},
      {"nobody knows how many the basket takes", "people", LimitState::not_known,
       [](Morning& m) { m.balloon.basket.people.reset(); }},
      {"a flight that eats into the reserve", "fuel_reserve", LimitState::outside,
       [](Morning& m) { m.flight.planned = 2.0 * hour; }},
      {"cylinders of unknown contents", "fuel_reserve", LimitState::not_known,
       [](Morning& m) { m.flight.fuel.pop_back(); }},
      {"cold fuel", "fuel_pressure", LimitState::outside,
       [](Morning& m) {
         for (auto& f : m.flight.fuel) f.temperature = celsius(-8.0);
       }},
      {"fuel of unknown temperature", "fuel_pressure", LimitState::not_known,
       [](Morning& m) { m.flight.fuel[1].temperature.reset(); }},
      {"fuel hotter than the manual's range", "fuel_pressure", LimitState::outside,
       [](Morning& m) { m.flight.fuel[2].temperature = celsius(36.0); }},
      {"cool fuel and no range in the manual", "fuel_pressure", LimitState::near,
       [](Morning& m) { m.balloon.burners[0].pressure.reset(); }},
      {"hot fuel and no range in the manual", "fuel_pressure", LimitState::near,
       [](Morning& m) {
         m.balloon.burners[0].pressure.reset();
         for (auto& f : m.flight.fuel) f.temperature = celsius(36.0);
       }},
      {"wind above the own minimum", "surface_wind", LimitState::outside,
       [](Morning& m) {
         m.flight.ladders[0].rows[0].wind = wind::Wind::from(TrueBearing::at(100.0 * degree), 9.0 * knot);
       }},
      {"wind near what pilots like", "surface_wind", LimitState::near,
       [](Morning& m) {
         m.flight.ladders[0].rows[0].wind = wind::Wind::from(TrueBearing::at(100.0 * degree), 7.5 * knot);
       }},
      {"no surface wind", "surface_wind", LimitState::not_known,
       [](Morning& m) {
         m.flight.ladders[0].rows.erase(m.flight.ladders[0].rows.begin());
         m.flight.reports.clear();
       }},
      {"no bound for the wind", "surface_wind", LimitState::not_known,
       [](Morning& m) {
         m.flight.minimum.surface_wind.reset();
         m.balloon.envelope.launch_wind_limit.reset();
       }},
      {"gusts", "gust_spread", LimitState::near, [](Morning& m) { m.flight.reports[0].gust = 9.0 * knot; }},
      {"hard gusts", "gust_spread", LimitState::outside, [](Morning& m) { m.flight.reports[0].gust = 14.0 * knot; }},
      {"no report of gusts", "gust_spread", LimitState::not_known, [](Morning& m) { m.flight.reports.clear(); }},
      {"a wind that turns hard above the basket", "wind_difference_50m", LimitState::near,
       [](Morning& m) {
         m.flight.ladders[0].rows[1].wind = wind::Wind::from(TrueBearing::at(280.0 * degree), 9.0 * knot);
       }},
      {"a jet just above the basket", "wind_difference_50m", LimitState::outside,
       [](Morning& m) {
         m.flight.ladders[0].rows[1].wind = wind::Wind::from(TrueBearing::at(280.0 * degree), 20.0 * knot);
       }},
      {"a wind that turns hard below 150 m", "wind_difference_150m", LimitState::near,
       [](Morning& m) {
         m.flight.ladders[0].rows[2].wind = wind::Wind::from(TrueBearing::at(280.0 * degree), 18.0 * knot);
       }},
      {"a night jet", "wind_difference_150m", LimitState::outside,
       [](Morning& m) {
         m.flight.ladders[0].rows[2].wind = wind::Wind::from(TrueBearing::at(280.0 * degree), 30.0 * knot);
       }},
      {"no winds above the basket", "wind_difference_50m", LimitState::not_known,
       [](Morning& m) { m.flight.ladders.clear(); }},
      {"a long flight into the morning", "thermals", LimitState::near,
       [](Morning& m) { m.flight.time = at_clock(6, 30); }},
      {"a late start", "thermals", LimitState::outside, [](Morning& m) { m.flight.time = at_clock(7, 30); }},
      {"an early evening start", "thermals", LimitState::outside, [](Morning& m) { m.flight.time = at_clock(15, 30); }},
      {"an evening start", "thermals", LimitState::inside, [](Morning& m) { m.flight.time = at_clock(17, 15); }},
      {"a storm on the horizon", "storm_distance", LimitState::near,
       [](Morning& m) { m.flight.looks[1].value = measure::distance(25.0 * statute_mile); }},
      {"a storm in the next valley", "storm_distance", LimitState::outside,
       [](Morning& m) { m.flight.looks[1].value = measure::distance(8.0 * statute_mile); }},
      {"a reported storm", "storm_distance", LimitState::outside,
       [](Morning& m) { m.flight.reports[0].weather = {"VCTS"}; }},
      {"a storm noted in words", "storm_distance", LimitState::not_known,
       [](Morning& m) { m.flight.looks[1].words = "towering to the west"; }},
      {"nobody looked for storms", "storm_distance", LimitState::not_known,
       [](Morning& m) { m.flight.looks.resize(1); }},
      {"a hole in the ladder", "winds_known", LimitState::not_known,
       [](Morning& m) { m.flight.ladders[0].rows.erase(m.flight.ladders[0].rows.begin() + 2); }},
      {"a ladder that ends below the flight", "winds_known", LimitState::not_known,
       [](Morning& m) { m.flight.highest = agl(900.0 * metre); }},
      {"no highest height", "winds_known", LimitState::not_known, [](Morning& m) { m.flight.highest.reset(); }},
      {"an hour-old ladder", "winds_age", LimitState::near,
       [](Morning& m) { m.flight.ladders[0].source.time = at_clock(3, 50).at; }},
      {"a ladder of the night", "winds_age", LimitState::outside,
       [](Morning& m) { m.flight.ladders[0].source.time = at_clock(2, 0).at; }},
      {"a forecast of the evening", "winds_age", LimitState::near,
       [](Morning& m) {
         m.flight.ladders[0].source.kind = wind::SourceKind::forecast;
         m.flight.ladders[0].source.time = at_clock(4, 40).at - 7.0 * hour;
       }},
      {"no ladder", "winds_age", LimitState::not_known, [](Morning& m) { m.flight.ladders.clear(); }},
      {"lift-off in twilight", "light_launch", LimitState::near, [](Morning& m) { m.flight.time = at_clock(4, 25); }},
      {"lift-off at night", "light_launch", LimitState::outside, [](Morning& m) { m.flight.time = at_clock(3, 30); }},
      {"landing after sunset", "light_landing", LimitState::outside,
       [](Morning& m) { m.flight.time = at_clock(18, 30); }},
      {"air close to fog", "dew_point_spread", LimitState::near,
       [](Morning& m) { m.flight.reports[0].dew_point = celsius(1.0); }},
      {"fog's air", "dew_point_spread", LimitState::outside,
       [](Morning& m) { m.flight.reports[0].dew_point = celsius(3.0); }},
      {"the handbook's own figure", "dew_point_spread", LimitState::outside,
       [](Morning& m) { m.flight.reports[0].dew_point = celsius(2.1); }},
      {"no dew point", "dew_point_spread", LimitState::not_known,
       [](Morning& m) { m.flight.reports[0].dew_point.reset(); }},
      {"haze below the rule's minimum", "visibility", LimitState::outside,
       [](Morning& m) { m.flight.looks[0].value = measure::distance(0.75 * statute_mile); }},
      {"nobody looked", "visibility", LimitState::not_known, [](Morning& m) { m.flight.looks.clear(); }},
      {"no airspace named", "visibility", LimitState::not_known, [](Morning& m) { m.flight.field.airspace.reset(); }},
      {"an airspace without flight by sight", "visibility", LimitState::not_known,
       [](Morning& m) { m.flight.field.airspace = Airspace::a; }},
      {"a look older than the report", "visibility", LimitState::near,
       [](Morning& m) { m.flight.looks[0].time = at_clock(4, 4); }},
      {"fog at the next place, after the look", "visibility", LimitState::outside,
       [](Morning& m) {
         m.flight.looks[0].time = at_clock(4, 4);
         m.flight.reports[0].visibility = 0.25 * statute_mile;
       }},
      {"fog at the next place, and the field still clear", "visibility", LimitState::near,
       [](Morning& m) { m.flight.reports[0].visibility = 0.25 * statute_mile; }},
      {"fog at the next place and nobody looked", "visibility", LimitState::outside,
       [](Morning& m) {
         m.flight.looks.clear();
         m.flight.reports[0].visibility = 0.25 * statute_mile;
       }},
      {"less than the pilot's own visibility", "visibility", LimitState::outside,
       [](Morning& m) { m.flight.minimum.visibility = 12.0 * statute_mile; }},
      {"haze, and higher up the rule asks for more", "visibility", LimitState::outside,
       [](Morning& m) {
         m.flight.field.airspace = Airspace::e;
         m.flight.looks[0].value = measure::distance(2.5 * statute_mile);
       }},
      {"cloud below the flight", "cloud_base", LimitState::outside,
       [](Morning& m) { m.flight.looks[2].value = measure::height(250.0 * metre); }},
      {"cloud at the highest height", "cloud_base", LimitState::outside,
       [](Morning& m) { m.flight.looks[2].value = measure::height(300.0 * metre); }},
      {"cloud just above the flight", "cloud_base", LimitState::near,
       [](Morning& m) { m.flight.looks[2].value = measure::height(350.0 * metre); }},
      {"cloud high above", "cloud_base", LimitState::inside,
       [](Morning& m) { m.flight.looks[2].value = measure::height(1500.0 * metre); }},
      {"cloud nearer than the airspace lets", "cloud_base", LimitState::outside,
       [](Morning& m) {
         m.flight.field.airspace = Airspace::e;  // 500 ft below cloud
         m.flight.looks[2].value = measure::height(430.0 * metre);
       }},
      {"cloud lower than the pilot likes", "cloud_base", LimitState::outside,
       [](Morning& m) {
         m.flight.minimum.cloud_base = 2000.0 * metre;
         m.flight.looks[2].value = measure::height(1500.0 * metre);
       }},
      {"nobody looked for cloud", "cloud_base", LimitState::not_known, [](Morning& m) { m.flight.looks.resize(2); }},
      {"cloud in words", "cloud_base", LimitState::not_known,
       [](Morning& m) { m.flight.looks[2].words = "grey to the east"; }},
      {"a clear report and nobody looked", "cloud_base", LimitState::not_known,
       [](Morning& m) {
         m.flight.looks.resize(2);
         m.flight.reports[0].sky_clear = true;
       }},
      {"a report of low cloud and nobody looked", "cloud_base", LimitState::outside,
       [](Morning& m) {
         m.flight.looks.resize(2);
         m.flight.reports[0].clouds = {{wind::CloudAmount::broken, agl(700.0 * foot), false}};
       }},
      {"low cloud reported after the look", "cloud_base", LimitState::outside,
       [](Morning& m) {
         m.flight.looks[2].time = at_clock(4, 4);
         m.flight.reports[0].clouds = {{wind::CloudAmount::overcast, agl(700.0 * foot), false}};
       }},
      {"no highest height for the cloud", "cloud_base", LimitState::not_known,
       [](Morning& m) { m.flight.highest.reset(); }},
      {"nothing said of the ground", "minimum_height", LimitState::not_known,
       [](Morning& m) { m.flight.field.ground.reset(); }},
      {"too low over a town", "minimum_height", LimitState::outside,
       [](Morning& m) { m.flight.field.ground = rules::Ground::congested; }},  // 300 m is 984 ft
      {"high enough over a town", "minimum_height", LimitState::inside,
       [](Morning& m) {
         m.flight.field.ground = rules::Ground::congested;
         m.flight.highest = agl(310.0 * metre);
       }},
      {"a low flight", "minimum_height", LimitState::outside,
       [](Morning& m) { m.flight.highest = agl(150.0 * metre); }},
      {"a low flight that a local rule allows", "minimum_height", LimitState::inside,
       [](Morning& m) {
         m.flight.highest = agl(150.0 * metre);
         m.flight.field.local_minimum_height = agl(50.0 * metre);
       }},
      {"a low flight over empty country", "minimum_height", LimitState::not_known,
       [](Morning& m) {
         m.flight.highest = agl(150.0 * metre);
         m.flight.field.ground = rules::Ground::sparse;
       }},
      {"a flight into thin air", "oxygen", LimitState::near,
       [](Morning& m) { m.flight.highest = agl(2600.0 * metre); }},  // 13,450 ft for up to 40 minutes
      {"thin air for no more than half an hour", "oxygen", LimitState::inside,
       [](Morning& m) {
         m.flight.highest = agl(2600.0 * metre);
         m.flight.planned = 30.0 * minute;
       }},
      {"a flight that everyone needs oxygen for", "oxygen", LimitState::outside,
       [](Morning& m) { m.flight.highest = agl(3300.0 * metre); }},
      {"oxygen in the kit", "oxygen", LimitState::near,
       [](Morning& m) {
         m.flight.highest = agl(3300.0 * metre);
         m.balloon.kit.push_back({"Oxygen, two bottles", 6.0 * kilogram});
       }},
      {"thin air of which nothing is known", "oxygen", LimitState::not_known,
       [](Morning& m) {
         m.flight.highest = agl(2600.0 * metre);
         m.flight.field.qnh.reset();
         m.flight.reports[0].qnh.reset();
       }},
      {"a child behind the wall", "basket_wall", LimitState::outside,
       [](Morning& m) {
         m.balloon.basket.wall = 1.15 * metre;
         m.flight.aboard[1].height = 1.10 * metre;
       }},
      {"everyone over the wall", "basket_wall", LimitState::inside,
       [](Morning& m) {
         m.balloon.basket.wall = 1.15 * metre;
         m.flight.aboard[1].height = 1.60 * metre;
       }},
      {"twenty passengers and one crew", "extra_crew", LimitState::outside,
       [](Morning& m) {
         m.flight.rules = RuleSet::eu;
         m.flight.aboard.resize(21, m.flight.aboard[1]);
       }},
      {"twenty passengers and two crew", "extra_crew", LimitState::inside,
       [](Morning& m) {
         m.flight.rules = RuleSet::eu;
         m.flight.aboard.resize(21, m.flight.aboard[1]);
         m.flight.aboard.push_back(m.flight.aboard[1]);
         m.flight.aboard.back().role = people::Role::crew;
       }},
      {"water and no beacon named", "locator", LimitState::not_known,
       [](Morning& m) {
         m.flight.rules = RuleSet::eu;
         m.flight.field.over_water = true;
       }},
      {"six over water with a personal beacon", "locator", LimitState::inside,
       [](Morning& m) {
         m.flight.rules = RuleSet::eu;
         m.flight.field.over_water = true;
         m.flight.pilot.locator = people::Locator::plb;
         m.flight.aboard.resize(6, m.flight.aboard[1]);
       }},
      {"seven over water with a personal beacon", "locator", LimitState::outside,
       [](Morning& m) {
         m.flight.rules = RuleSet::eu;
         m.flight.field.over_water = true;
         m.flight.pilot.locator = people::Locator::plb;
         m.flight.aboard.resize(7, m.flight.aboard[1]);
       }},
      {"nobody asked the pilot", "fitness", LimitState::not_known, [](Morning& m) { m.flight.fitness.reset(); }},
      {"a pilot with a fever", "fitness", LimitState::outside, [](Morning& m) { m.flight.fitness->fit = false; }},
      {"fit last night", "fitness", LimitState::near,
       [](Morning& m) {
         m.flight.fitness->time = {at_clock(4, 0).at - 8.0 * hour, at_clock(4, 0).offset};
       }},
      {"no review known", "dates_pilot", LimitState::not_known, [](Morning& m) { m.flight.pilot.review.reset(); }},
      {"a review of three years ago", "dates_pilot", LimitState::outside,
       [](Morning& m) { m.flight.pilot.review = Date::of(2024, 5, 16); }},
      {"a review that ends with the month", "dates_pilot", LimitState::near,
       [](Morning& m) { m.flight.pilot.review = Date::of(2025, 5, 2); }},
      {"the third landing back 91 days ago", "dates_pilot", LimitState::outside,
       [](Morning& m) { m.flight.pilot.landings[0] = *Date::of(2027, 2, 14); }},
      {"two landings and passengers", "dates_pilot", LimitState::not_known,
       [](Morning& m) { m.flight.pilot.landings.resize(2); }},
      {"two landings and nobody but the pilot", "dates_pilot", LimitState::inside,
       [](Morning& m) {
         m.flight.pilot.landings.resize(2);
         m.flight.aboard.resize(1);
       }},
      {"for hire without a medical", "dates_pilot", LimitState::not_known,
       [](Morning& m) { m.flight.pilot.for_hire = true; }},
      {"for hire with a medical that ran out", "dates_pilot", LimitState::outside,
       [](Morning& m) {
         m.flight.pilot.for_hire = true;
         m.flight.pilot.medical_until = Date::of(2027, 5, 15);
       }},
      {"passengers before dawn and no night landings", "dates_pilot", LimitState::not_known,
       [](Morning& m) { m.flight.time = at_clock(3, 0); }},
      {"no rules for the pilot", "dates_pilot", LimitState::not_known, [](Morning& m) { m.flight.rules.reset(); }},
      {"an annual of last year", "dates_balloon", LimitState::outside,
       [](Morning& m) {
         m.balloon.inspections = {{*Date::of(2026, 4, 30), true, 120.0 * hour}};
       }},
      {"no inspection known", "dates_balloon", LimitState::not_known,
       [](Morning& m) { m.balloon.inspections.clear(); }},
      {"a registration of eight years ago", "dates_balloon", LimitState::outside,
       [](Morning& m) { m.balloon.registration = Date::of(2019, 5, 1); }},
      {"for hire over the hundred hours", "dates_balloon", LimitState::outside,
       [](Morning& m) {
         m.flight.pilot.for_hire = true;
         m.balloon.hours = 298.0 * hour;
       }},
      {"for hire and the hours not known", "dates_balloon", LimitState::not_known,
       [](Morning& m) {
         m.flight.pilot.for_hire = true;
         m.balloon.hours.reset();
       }},
      {"a cylinder past its mark", "dates_cylinders", LimitState::outside,
       [](Morning& m) {
         m.balloon.cylinders[1].test_due = balloon::Month{2027, 4};
       }},
      {"a cylinder in the month of its mark", "dates_cylinders", LimitState::near,
       [](Morning& m) {
         m.balloon.cylinders[1].test_due = balloon::Month{2027, 5};
       }},
      {"a cylinder without a mark", "dates_cylinders", LimitState::not_known,
       [](Morning& m) { m.balloon.cylinders[2].test_due.reset(); }},
      {"a cylinder past its mark and no rules", "dates_cylinders", LimitState::outside,
       [](Morning& m) {
         m.flight.rules.reset();
         m.balloon.cylinders[1].test_due = balloon::Month{2027, 4};
       }},
      {"air closer to fog than the pilot likes", "dew_point_spread", LimitState::outside,
       [](Morning& m) { m.flight.minimum.spread = 5.0 * kelvin; }},
      {"landing in twilight under European rules", "light_landing", LimitState::near,
       [](Morning& m) {
         m.flight.rules = RuleSet::eu;
         m.flight.time = at_clock(18, 30);
       }},
      {"landing at night under European rules", "light_landing", LimitState::outside,
       [](Morning& m) {
         m.flight.rules = RuleSet::eu;
         m.flight.time = at_clock(19, 30);
       }},
      {"a report an hour and ten old", "report_age", LimitState::near,
       [](Morning& m) { m.flight.reports[0].source.time = at_clock(3, 40).at; }},
      {"a stale report", "report_age", LimitState::outside,
       [](Morning& m) { m.flight.reports[0].source.time = at_clock(3, 10).at; }},
      {"a report from the future", "report_age", LimitState::not_known,
       [](Morning& m) { m.flight.reports[0].source.time = at_clock(6, 0).at; }},
      {"no report", "report_age", LimitState::not_known, [](Morning& m) { m.flight.reports.clear(); }},
  };
  return all;
}

TEST(Limits, AGoodMorningHasNothingOutsideAndEverythingKnown) {
  const FlightSheet s = sheet(good_morning());
  for (const Limit& limit : s.limits) {
    EXPECT_NE(limit.state, LimitState::outside) << limit.name;
    EXPECT_NE(limit.state, LimitState::not_known) << limit.name;
  }
  EXPECT_EQ(s.standing, Standing::with_care);
}

TEST(Limits, EachSpoiledMorningEndsWithTheRightLimit) {
  for (const Spoiled& row : spoiled()) {
    SCOPED_TRACE(row.what);
    Morning m = good_morning();
    row.spoil(m);
    const FlightSheet s = sheet(m);
    const Limit limit = find(s, row.limit);
    EXPECT_EQ(name_of(limit.state), name_of(row.state));
    EXPECT_FALSE(limit.finding.key.empty());
    if (row.state != LimitState::inside) {
      EXPECT_TRUE(limit.remedy || row.state == LimitState::near) << "no remedy told";
    }
    EXPECT_EQ(s.standing, standing_of(s.limits));
    if (row.state == LimitState::outside) {
      EXPECT_EQ(s.standing, Standing::against);
    }
  }
}

// A morning on which every limit has something to say.
Morning full_morning() {
  Morning m = good_morning();
  m.flight.rules = RuleSet::eu;
  m.flight.highest = agl(2600.0 * metre);
  m.flight.field.over_water = true;
  m.balloon.basket.wall = 1.15 * metre;
  m.flight.aboard[1].height = 1.60 * metre;
  m.flight.aboard.resize(21, m.flight.aboard[1]);
  m.flight.forecasts.emplace_back().station = "XSGB";
  m.flight.fuel[0].valve = propane::Valve::liquid;
  return m;
}

std::vector<std::string_view> names_of(const FlightSheet& s) {
  std::vector<std::string_view> names;
  for (const Limit& limit : s.limits) names.emplace_back(limit.name);
  return names;
}

TEST(Limits, NamesAreUniqueAndOnlyThoseThatDependOnTheFlightMayBeMissing) {
  const FlightSheet empty = sheet(Morning{}), good = sheet(good_morning());
  const std::vector<std::string_view> always = names_of(empty);
  EXPECT_EQ(names_of(good), always);
  std::vector<std::string_view> sorted = limit_names();
  std::sort(sorted.begin(), sorted.end());
  EXPECT_EQ(std::adjacent_find(sorted.begin(), sorted.end()), sorted.end());
  for (const std::string_view name : limit_names()) {
    const bool depends = name == "fuel_reserve_rule" || name == "basket_wall" || name == "extra_crew" ||
                         name == "oxygen" || name == "locator" || name == "forecast_weather" ||
                         name == "cylinder_contents";
    EXPECT_EQ(std::count(always.begin(), always.end(), name), depends ? 0 : 1) << name;
  }
}

TEST(Limits, AnEmptyMorningIsNotKnownAndNeverGood) {
  const FlightSheet s = sheet(Morning{});
  EXPECT_TRUE(s.standing == Standing::not_known || s.standing == Standing::against);
  for (const Limit& limit : s.limits)
    if (limit.kind == LimitKind::must && limit.value == std::nullopt) {
      EXPECT_NE(limit.state, LimitState::inside) << limit.name;
    }
}

TEST(Limits, TheEuropeanReserveStandsBesideTheOwnMinimum) {
  Morning m = good_morning();
  m.flight.rules = RuleSet::eu;
  m.flight.minimum.reserve = 10.0 * minute;
  const FlightSheet s = sheet(m);
  const Limit law = find(s, "fuel_reserve_rule");
  EXPECT_EQ(law.source.kind, Authority::law);
  EXPECT_DOUBLE_EQ(law.bound->value.si, 1800.0);  // AMC1 BOP.BAS.110: 30 min
  EXPECT_EQ(find(s, "fuel_reserve").source.kind, Authority::own_minimum);
  // The rule asks for all sides together, the default for each.
  EXPECT_GT(law.value->si, find(s, "fuel_reserve").value->si);
}

TEST(Limits, NoNumberOfMinutesIsShownAsUnitedStatesLaw) {
  Morning m = good_morning();
  m.flight.minimum.reserve.reset();
  const Limit limit = find(sheet(m), "fuel_reserve");
  EXPECT_EQ(limit.source.kind, Authority::ours);  // 14 CFR 91.151 does not reach balloons
  for (const Limit& other : sheet(m).limits) EXPECT_NE(other.name, "fuel_reserve_rule");
}

TEST(Limits, ASingleCylinderAsksForFifteenMinutes) {
  Morning m = good_morning();
  m.flight.rules = RuleSet::eu;
  m.flight.minimum.reserve.reset();
  m.balloon.cylinders.resize(1);
  m.flight.fuel.resize(1);
  EXPECT_DOUBLE_EQ(find(sheet(m), "fuel_reserve_rule").bound->value.si, 900.0);  // AMC1 BOP.BAS.110
  EXPECT_DOUBLE_EQ(find(sheet(m), "fuel_reserve").bound->value.si, 900.0);
}

TEST(Limits, AReportNeverStandsInForLooking) {
  Morning m = good_morning();
  m.flight.looks.clear();
  const Limit limit = find(sheet(m), "visibility");
  EXPECT_EQ(limit.state, LimitState::not_known);
  EXPECT_EQ(limit.value, std::nullopt);
  EXPECT_FALSE(limit.notes.empty());  // what the report says is told
}

TEST(Limits, ThePilotMayAcceptWhatHabitSetsAndNothingElse) {
  Morning m = good_morning();
  m.flight.reports[0].source.time = at_clock(3, 10).at;  // stale: ours
  m.balloon.basket.people = 2;                           // too many: the flight manual's
  ASSERT_EQ(sheet(m).standing, Standing::against);
  m.flight.accepted = {{"report_age", "looked at the sky from the hill", at_clock(4, 48)},
                       {"people", "they are small", at_clock(4, 48)}};
  const FlightSheet s = sheet(m);
  ASSERT_TRUE(find(s, "report_age").accepted);
  EXPECT_EQ(find(s, "report_age").accepted->reason, "looked at the sky from the hill");
  EXPECT_FALSE(find(s, "people").accepted);
  EXPECT_EQ(s.standing, Standing::against);
  m.balloon.basket.people = 5;
  EXPECT_EQ(sheet(m).standing, Standing::with_care);
}

TEST(Limits, AnAcceptanceOfWhatIsNotOutsideChangesNothing) {
  Morning m = good_morning();
  m.flight.accepted = {{"report_age", "no need", at_clock(4, 48)}};
  EXPECT_FALSE(find(sheet(m), "report_age").accepted);
}

TEST(Limits, EveryNameIsKnownToTheReader) {
  const FlightSheet s = sheet(full_morning());
  EXPECT_EQ(names_of(s), limit_names());
}

// ---- own minima

TEST(Limits, AnOwnMinimumNeverHidesALawOrAManual) {
  Morning m = good_morning();  // own 8 kt, flight manual 15 kt
  m.flight.reports[0].source.time = at_clock(4, 45).at;
  m.flight.reports[0].wind_speed = 10.0 * knot;
  EXPECT_EQ(find(sheet(m), "surface_wind").source.kind, Authority::own_minimum);
  m.flight.accepted = {{"surface_wind", "sheltered", at_clock(4, 48)}};
  EXPECT_TRUE(find(sheet(m), "surface_wind").accepted);
  m.flight.reports[0].wind_speed = 16.0 * knot;
  const Limit beyond = find(sheet(m), "surface_wind");
  EXPECT_EQ(beyond.source.kind, Authority::flight_manual);
  EXPECT_EQ(beyond.bound->value, measure::wind(15.0 * knot));
  EXPECT_FALSE(beyond.accepted);
}

TEST(Limits, AStricterOwnVisibilityCanBeAcceptedAndTheLawsCannot) {
  Morning m = good_morning();
  m.flight.minimum.visibility = 5.0 * kilometre;
  m.flight.looks[0].value = measure::distance(3.0 * kilometre);
  m.flight.accepted = {{"visibility", "the valley is known", at_clock(4, 48)}};
  const Limit own = find(sheet(m), "visibility");
  EXPECT_EQ(own.source.kind, Authority::own_minimum);
  EXPECT_TRUE(own.accepted);
  m.flight.looks[0].value = measure::distance(1.5 * kilometre);  // below 1 SM too
  const Limit law = find(sheet(m), "visibility");
  EXPECT_EQ(law.source.name, "14 CFR 91.155");
  EXPECT_FALSE(law.accepted);
}

bool has_note(const Limit& limit, std::string_view key) {
  return std::any_of(limit.notes.begin(), limit.notes.end(), [&](const Sentence& note) { return note.key == key; });
}

TEST(Limits, ALaxerOwnMinimumChangesNothingAndIsSaid) {
  Morning m = good_morning();
  m.flight.minimum = {.surface_wind = 20.0 * knot,
                      .reserve = 20.0 * minute,
                      .visibility = 1.0 * kilometre,
                      .spread = 0.5 * kelvin,
                      .cloud_base = 100.0 * metre};
  const FlightSheet s = sheet(m);
  for (const char* name : {"surface_wind", "visibility", "dew_point_spread", "cloud_base"}) {
    EXPECT_NE(find(s, name).source.kind, Authority::own_minimum) << name;
    EXPECT_TRUE(has_note(find(s, name), "limit.own_laxer")) << name;
  }
  EXPECT_EQ(find(s, "surface_wind").bound->value, measure::wind(15.0 * knot));
  EXPECT_TRUE(has_note(find(s, "fuel_reserve"), "limit.fuel_reserve.own_laxer"));
}

// ---- the law's and nobody else's

TEST(Limits, NothingOfTheLawCanBeAccepted) {
  Morning m = good_morning();
  m.flight.looks[0].value = measure::distance(0.75 * statute_mile);
  m.flight.looks[2].value = measure::height(200.0 * metre);
  m.flight.field.ground = rules::Ground::congested;
  m.flight.fitness->fit = false;
  m.flight.pilot.review = Date::of(2024, 5, 16);
  m.balloon.registration = Date::of(2019, 5, 1);
  m.balloon.cylinders[1].test_due = balloon::Month{2027, 4};
  const std::vector<std::string> names{"visibility",  "cloud_base",    "minimum_height", "fitness",
                                       "dates_pilot", "dates_balloon", "dates_cylinders"};
  for (const std::string& name : names) m.flight.accepted.push_back({name, "no", at_clock(4, 48)});
  const FlightSheet s = sheet(m);
  for (const std::string& name : names) {
    EXPECT_EQ(find(s, name).state, LimitState::outside) << name;
    EXPECT_EQ(find(s, name).source.kind, Authority::law) << name;
    EXPECT_FALSE(find(s, name).accepted) << name;
    EXPECT_TRUE(has_note(find(s, name), "limit.not_acceptable")) << name;
  }
}

TEST(Limits, WhoIsShorterThanTheWallMayBeTaken) {  // AMC1 BOP.BAS.120 lets the pilot refuse, and forbids nothing
  Morning m = full_morning();
  m.flight.aboard[1].height = 1.0 * metre;
  m.flight.accepted = {{"basket_wall", "stands on a step", at_clock(4, 48)}};
  const Limit limit = find(sheet(m), "basket_wall");
  EXPECT_EQ(limit.state, LimitState::outside);
  EXPECT_EQ(limit.source.name, "AMC1 BOP.BAS.120");
  EXPECT_TRUE(limit.accepted);
}

TEST(Limits, WhatIsNotSureIsToBeCheckedLocally) {
  Morning m = full_morning();
  m.flight.highest = agl(2600.0 * metre);
  const FlightSheet s = sheet(m);
  for (const Limit& limit : s.limits)
    if (limit.source.kind == Authority::law && limit.source.name.substr(0, 5) == "SERA.") {
      EXPECT_TRUE(has_note(limit, "limit.check_locally")) << limit.name;
    }
  EXPECT_TRUE(has_note(find(s, "oxygen"), "limit.check_locally"));
  EXPECT_TRUE(has_note(find(s, "minimum_height"), "limit.local_first"));
  EXPECT_TRUE(has_note(find(s, "dates_cylinders"), "limit.check_locally"));
  EXPECT_FALSE(has_note(find(sheet(good_morning()), "visibility"), "limit.check_locally"));
}

TEST(Limits, TheRuleAtTheHighestHeightCountsToo) {  // R14: clear of cloud up to 1,200 ft, above it 500 ft below
  Morning m = good_morning();
  m.flight.looks[2].value = measure::height(2000.0 * metre);
  EXPECT_NEAR(find(sheet(m), "cloud_base").bound->value.si, 300.0, 0.01);
  m.flight.highest = agl(400.0 * metre);
  EXPECT_NEAR(find(sheet(m), "cloud_base").bound->value.si, 400.0 + 152.4, 0.01);
}

TEST(Limits, ByNightTheRuleAsksForMore) {  // G low: 3 SM by night (from memory), 1 SM by day
  Morning m = good_morning();
  EXPECT_NEAR(find(sheet(m), "visibility").bound->value.si, 1609.344, 0.01);
  m.flight.time = at_clock(3, 30);
  EXPECT_NEAR(find(sheet(m), "visibility").bound->value.si, 3.0 * 1609.344, 0.01);
}

TEST(Limits, APersonalBeaconAndATransmitterDifferAtSeven) {  // R28
  Morning m = full_morning();
  m.flight.pilot.locator = people::Locator::elt;
  EXPECT_EQ(find(sheet(m), "locator").state, LimitState::inside);
  m.flight.rules = RuleSet::us;
  for (const Limit& limit : sheet(m).limits) EXPECT_NE(limit.name, "locator");
}

// ---- dates

TEST(Dates, TheWorstIsNamedAndTheOthersAreTold) {
  Morning m = good_morning();
  m.flight.pilot.review.reset();                        // not known
  m.flight.pilot.landings[0] = *Date::of(2027, 2, 14);  // passed
  const FlightSheet s = sheet(m);
  const Limit limit = find(s, "dates_pilot");
  EXPECT_EQ(limit.state, LimitState::outside);
  EXPECT_EQ(limit.source.name, "14 CFR 61.57(a)");
  EXPECT_EQ(limit.finding.key, "limit.dates.passed");
  EXPECT_EQ(limit.finding.arguments.at(0).value, ArgumentValue{Term{"book.passenger_recency.title"}});
  EXPECT_TRUE(has_note(limit, "limit.dates.also"));
  EXPECT_EQ(limit.kind, LimitKind::must);
  EXPECT_GE(s.dates.size(), 7u);  // review, landings, annual, registration, three cylinders
}

TEST(Dates, AreCountedOnTheDayOfTheFlight) {
  Morning m = good_morning();
  m.flight.pilot.landings = {*Date::of(2027, 2, 15), *Date::of(2027, 4, 14), *Date::of(2027, 4, 25)};
  m.as_of = {at_clock(4, 50).at - 24.0 * hour, at_clock(4, 50).offset};
  EXPECT_EQ(find(sheet(m), "dates_pilot").state, LimitState::near);  // day 90
  m.flight.time = {m.flight.time.at + 24.0 * hour, m.flight.time.offset};
  EXPECT_EQ(find(sheet(m), "dates_pilot").state, LimitState::outside);  // day 91
}

TEST(Dates, WithoutRulesOnlyTheMarksOnCylindersAreRead) {
  Morning m = good_morning();
  m.flight.rules.reset();
  const FlightSheet s = sheet(m);
  EXPECT_EQ(find(s, "dates_pilot").kind, LimitKind::look);
  EXPECT_EQ(find(s, "dates_balloon").state, LimitState::not_known);
  EXPECT_EQ(find(s, "dates_cylinders").state, LimitState::inside);
  EXPECT_EQ(s.dates.size(), 3u);
}

TEST(Dates, AnEveningLandingAtNightAsksForNightLandings) {  // R2
  Morning m = good_morning();
  const auto asked = [&](const Moment& time) {
    m.flight.time = time;
    const FlightSheet s = sheet(m);
    return std::any_of(s.dates.begin(), s.dates.end(), [](const auto& due) { return due.what == "night_recency"; });
  };
  EXPECT_FALSE(asked(at_clock(5, 10)));
  EXPECT_FALSE(asked(at_clock(18, 30)));
  EXPECT_TRUE(asked(at_clock(20, 0)));
  EXPECT_TRUE(asked(at_clock(0, 30)));
  m.flight.aboard.resize(1);
  EXPECT_FALSE(asked(at_clock(20, 0)));
}

}  // namespace
}  // namespace pappus::sheet
