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

TEST(Limits, AGoodMorningHasNothingOutsideAndOneToLookAt) {
  const FlightSheet s = sheet(good_morning());
  int unknown = 0;
  for (const Limit& limit : s.limits) {
    EXPECT_NE(limit.state, LimitState::outside) << limit.name;
    if (limit.state == LimitState::not_known) ++unknown;
  }
  EXPECT_EQ(unknown, 1);
  EXPECT_EQ(find(s, "dates").state, LimitState::not_known);
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

TEST(Limits, NamesAreUniqueAndEverySheetHasThemAll) {
  const FlightSheet s = sheet(Morning{});
  std::vector<std::string> names;
  for (const Limit& limit : s.limits) names.push_back(limit.name);
  std::sort(names.begin(), names.end());
  EXPECT_EQ(std::adjacent_find(names.begin(), names.end()), names.end());
  EXPECT_EQ(names.size(), sheet(good_morning()).limits.size());
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
  Morning m = good_morning();
  m.flight.rules = RuleSet::eu;  // the set with the most limits
  std::vector<std::string_view> names;
  const FlightSheet s = sheet(m);
  for (const Limit& limit : s.limits) names.emplace_back(limit.name);
  EXPECT_EQ(names, limit_names());
}

}  // namespace
}  // namespace pappus::sheet
