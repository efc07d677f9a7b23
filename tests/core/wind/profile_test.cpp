#include "core/wind/profile.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "core/base/math.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::wind {
namespace {

using pappus::testing::seeded;

constexpr AltitudeAmsl kField = amsl(1500.0 * metre);
const Instant kNow = Instant::from_unix_milliseconds(1'810'000'000'000);

AltitudeAmsl up(double m) { return kField + m * metre; }
Wind from(double deg, double kt) { return Wind::from(TrueBearing::at(deg * degree), kt * knot); }
double m_s(Speed v) { return v.in(metre_per_second); }

struct Seen {
  double height_m, from_deg, kt;
};

// A drawn ladder: heights above the field, direction, knots.
Ladder ladder(std::string name, double minutes_ago, const std::vector<Seen>& rows,
              SourceKind kind = SourceKind::pibal) {
  Ladder l{{kind, std::move(name), kNow - minutes_ago * minute}, {}};
  for (const Seen& r : rows) l.rows.push_back({up(r.height_m), from(r.from_deg, r.kt), std::nullopt});
  return l;
}

SurfaceReport report(double minutes_ago, std::optional<Wind> wind) {
  SurfaceReport r;
  r.source = {SourceKind::report, "field", kNow - minutes_ago * minute};
  r.wind = wind;
  return r;
}

WindProfile profile(std::vector<Ladder> ladders, std::vector<SurfaceReport> reports = {}) {
  auto parsed =
      WindProfile::from({.ground = kField, .time = kNow, .ladders = std::move(ladders), .reports = std::move(reports)});
  EXPECT_TRUE(parsed.issues.empty());
  return std::move(*parsed.value);
}

std::vector<double> heights(const WindProfile& p) {
  std::vector<double> h;
  for (const Level& level : p.levels()) h.push_back(std::round((level.altitude - kField).in(metre)*1e6) / 1e6);
  return h;
}

std::vector<std::pair<double, double>> holes(const WindProfile& p, double up_to_m) {
  std::vector<std::pair<double, double>> out;
  for (const Gap& g : p.gaps(up(up_to_m))) out.emplace_back((g.bottom - kField).in(metre), (g.top - kField).in(metre));
  return out;
}
using Holes = std::vector<std::pair<double, double>>;

std::string name_at(const WindProfile& p, double height_m) {
  const auto level = p.at(up(height_m));
  return level ? level->sources.front().name : "not known";
}

TEST(WindProfile, AnswersWithTheLevelAtALevel) {
  const auto p = profile({ladder("dawn", 10, {{0, 100, 2}, {150, 215, 9}, {300, 240, 14}})});
  ASSERT_EQ(p.levels().size(), 3u);
  for (const Level& level : p.levels()) {
    const auto at = p.at(level.altitude).value();
    EXPECT_EQ(at.wind, level.wind);
    EXPECT_EQ(at.spread, level.spread);
    EXPECT_EQ(at.sources, level.sources);
  }
  EXPECT_EQ(p.levels()[1].wind, from(215, 9));
  EXPECT_EQ(p.levels()[1].sources.front().name, "dawn");
}

TEST(WindProfile, GoesStraightBetweenTheComponentsOfNeighbours) {
  const auto p = profile({ladder("dawn", 10, {{0, 180, 4}, {100, 270, 8}})});
  const auto quarter = p.at(up(25.0)).value().wind;
  EXPECT_NEAR(m_s(quarter.east()), 0.25 * m_s(from(270, 8).east()), 1e-12);
  EXPECT_NEAR(m_s(quarter.north()), 0.75 * m_s(from(180, 4).north()), 1e-12);
}

TEST(WindProfile, NeverInterpolatesAcrossAGap) {
  // The low layer ends 500 m above the field: 500 ft below it, 1000 ft above, and a step is judged by its bottom.
  const auto p = profile({ladder("dawn", 10,
                                 {{0, 90, 3},
                                  {150, 100, 3},
                                  {303, 110, 3},
                                  {420, 110, 3},
                                  {480, 110, 3},
                                  {640, 120, 3},
                                  {940, 130, 3},
                                  {1246, 140, 3}})});
  EXPECT_EQ(holes(p, 1246), (Holes{{150, 303}, {480, 640}, {940, 1246}}));
  EXPECT_TRUE(p.at(up(150.0)).has_value());
  EXPECT_FALSE(p.at(up(150.1)).has_value());
  EXPECT_EQ(p.at(up(200.0)).error().code, Errc::no_data);
  EXPECT_EQ(p.at(up(200.0)).error().sentence.key, "issue.wind_not_known");
  EXPECT_TRUE(p.at(up(303.0)).has_value());
  EXPECT_TRUE(p.at(up(790.0)).has_value());
}

TEST(WindProfile, TakesAStepOfJustTheRulesWidth) {
  // A ladder typed every 500 ft, then every 1000 ft; 1500.3 + 152.4 - 1500.3 is more than 152.4 by a rounding.
  const AltitudeAmsl field = amsl(4922.2441 * foot);
  Ladder l{{SourceKind::pibal, "dawn", kNow}, {}};
  for (const double h : {0.0, 500.0, 1000.0, 1500.0, 2000.0, 3000.0, 4000.0})
    l.rows.push_back({field + h * foot, from(200, 5), std::nullopt});
  const auto p = *WindProfile::from({.ground = field, .time = kNow, .ladders = {l}, .reports = {}}).value;
  EXPECT_TRUE(p.gaps(field + 4000.0 * foot).empty());
}

TEST(WindProfile, KnowsNothingBelowItsLowestLevelUnlessThatIsTheSurfaceWind) {
  const auto high = profile({ladder("dawn", 10, {{11, 90, 3}, {120, 100, 3}})});
  EXPECT_FALSE(high.at(kField).has_value());
  EXPECT_FALSE(high.at(up(10.9)).has_value());
  EXPECT_EQ(holes(high, 100), (Holes{{0, 11}}));
  const auto low = profile({ladder("dawn", 10, {{10, 90, 3}, {120, 100, 3}})});
  EXPECT_EQ(low.at(kField).value().wind, from(90, 3));
  EXPECT_EQ(low.at(kField).value().altitude, kField);
  EXPECT_TRUE(holes(low, 100).empty());
  EXPECT_FALSE(low.at(kField - 0.1 * metre).has_value());
  EXPECT_FALSE(low.at(up(120.1)).has_value());
}

TEST(WindProfile, WithoutAnyWindIsOneGap) {
  const auto p = profile({}, {report(5, std::nullopt)});
  EXPECT_TRUE(p.levels().empty());
  EXPECT_FALSE(p.at(kField).has_value());
  EXPECT_EQ(holes(p, 300), (Holes{{0, 300}}));
  EXPECT_TRUE(holes(p, 0).empty());
  EXPECT_FALSE(steerage(p, kField, up(300)).has_value());
}

TEST(WindProfile, CutsGapsWhereTheQuestionEnds) {
  const auto p = profile({ladder("dawn", 10, {{0, 90, 3}, {400, 100, 3}})});
  EXPECT_EQ(holes(p, 300), (Holes{{0, 300}}));
  EXPECT_EQ(holes(p, 600), (Holes{{0, 400}, {400, 600}}));
}

TEST(WindProfile, LetsALaterSourceBeatAnOlderOneOverWhatItSpans) {
  const auto p = profile({ladder("evening", 300, {{0, 50, 1}, {100, 60, 2}, {200, 70, 3}, {300, 80, 4}, {400, 90, 5}}),
                          ladder("dawn", 20, {{110, 200, 9}, {210, 210, 9}})});
  EXPECT_EQ(heights(p), (std::vector<double>{0, 100, 110, 210, 300, 400}));
  EXPECT_EQ(name_at(p, 100), "evening");
  EXPECT_EQ(name_at(p, 150), "dawn");
  EXPECT_EQ(name_at(p, 300), "evening");
  // Between the two both are named.
  const auto seam = p.at(up(250.0)).value();
  ASSERT_EQ(seam.sources.size(), 2u);
  EXPECT_EQ(seam.sources[0].name, "dawn");
  EXPECT_EQ(seam.sources[1].name, "evening");
}

TEST(WindProfile, LetsAnOlderSourceServeInsideAHoleOfALaterOne) {
  // The later ladder has nothing between 150 and 450 m: it does not speak for those heights.
  const auto p = profile({ladder("evening", 300, {{0, 50, 1}, {100, 60, 2}, {300, 80, 4}, {500, 90, 5}}),
                          ladder("dawn", 20, {{0, 200, 9}, {150, 200, 9}, {450, 210, 9}, {600, 210, 9}})});
  EXPECT_EQ(heights(p), (std::vector<double>{0, 150, 300, 450, 600}));
  EXPECT_EQ(name_at(p, 300), "evening");
  EXPECT_TRUE(p.gaps(up(600)).empty());
}

TEST(WindProfile, TakesAReportsWindAsTheWindAtTheGround) {
  const auto p =
      profile({ladder("dawn", 40, {{0, 90, 3}, {120, 100, 8}})}, {report(70, from(10, 5)), report(12, from(30, 6))});
  EXPECT_EQ(heights(p), (std::vector<double>{0, 120}));
  EXPECT_EQ(p.at(kField).value().wind, from(30, 6));
  EXPECT_EQ(name_at(p, 0), "field");
  const auto older = profile({ladder("dawn", 10, {{0, 90, 3}, {120, 100, 8}})}, {report(12, from(30, 6))});
  EXPECT_EQ(name_at(older, 0), "dawn");
}

TEST(WindProfile, TakesNoWindFromAReportThatGivesNoDirection) {
  SurfaceReport variable = report(5, std::nullopt);
  variable.wind_variable = true;
  variable.wind_speed = 3.0 * knot;
  const auto p = profile({ladder("evening", 300, {{0, 50, 4}, {100, 60, 5}})}, {variable});
  EXPECT_EQ(name_at(p, 0), "evening");
  EXPECT_TRUE(profile({}, {variable}).levels().empty());
  // Calm is a wind: nothing, from nowhere.
  const auto calm = profile({}, {report(5, Wind{})});
  EXPECT_EQ(m_s(calm.at(kField).value().wind.speed()), 0.0);
}

TEST(WindProfile, TellsRowsBelowTheGroundAndLeavesThemOut) {
  const auto parsed = WindProfile::from(
      {.ground = kField,
       .time = kNow,
       .ladders = {ladder("dawn", 10, {{-30, 90, 3}, {-1.001, 95, 3}, {-0.9, 100, 3}, {100, 110, 3}})},
       .reports = {}});
  ASSERT_EQ(parsed.issues.size(), 2u);
  EXPECT_EQ(parsed.issues[0].code, Errc::bad_input);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.wind_row_below_ground");
  EXPECT_EQ(parsed.issues[0].where.key, "ladders[0].rows[0]");
  EXPECT_EQ(parsed.issues[0].got, "1470m");
  EXPECT_EQ(parsed.issues[0].wanted, ">= 1500m");
  EXPECT_EQ(parsed.issues[1].where.key, "ladders[0].rows[1]");
  EXPECT_EQ(heights(*parsed.value), (std::vector<double>{0, 100}));
  EXPECT_EQ(parsed.value->at(kField).value().wind, from(100, 3));
}

TEST(WindProfile, TellsDoubledRowsAndRowsThatAreNoNumbers) {
  Ladder l = ladder("dawn", 10, {{0, 90, 3}, {100, 100, 3}, {100, 200, 4}, {200, 110, 3}});
  l.rows[3].wind = Wind::toward(std::numeric_limits<double>::quiet_NaN() * metre_per_second, Speed{});
  const auto parsed = WindProfile::from(
      {.ground = kField,
       .time = kNow,
       .ladders = {l},
       .reports = {report(5, Wind::toward(Speed{}, std::numeric_limits<double>::infinity() * metre_per_second))}});
  ASSERT_EQ(parsed.issues.size(), 3u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.wind_row_not_finite");
  EXPECT_EQ(parsed.issues[0].where.key, "ladders[0].rows[3]");
  EXPECT_EQ(parsed.issues[1].sentence.key, "issue.wind_row_doubled");
  EXPECT_EQ(parsed.issues[1].code, Errc::conflict);
  EXPECT_EQ(parsed.issues[1].where.key, "ladders[0].rows[2]");
  EXPECT_EQ(parsed.issues[2].where.key, "reports[0]");
  EXPECT_EQ(heights(*parsed.value), (std::vector<double>{0, 100}));
  EXPECT_EQ(parsed.value->at(up(100)).value().wind, from(100, 3));
}

TEST(WindProfile, KeepsTheTemperaturesThatStandBesideItsWinds) {
  Ladder l = ladder("dawn", 10, {{0, 90, 3}, {100, 100, 3}, {200, 110, 3}});
  l.rows[0].temperature = celsius(2.0);
  l.rows[1].temperature = celsius(6.0);
  const auto p = profile({l});
  EXPECT_NEAR(in_celsius(*p.at(up(25.0)).value().temperature), 3.0, 1e-9);
  EXPECT_FALSE(p.at(up(150.0)).value().temperature.has_value());
}

TEST(WindProfile, SpreadsAsFarAsTheWorseOfTwoNeighbours) {
  const auto p = profile(
      {ladder("evening", 300, {{200, 70, 3}}, SourceKind::forecast), ladder("dawn", 20, {{0, 200, 9}, {110, 200, 9}})});
  const Speed fresh = expected_spread(SourceKind::pibal, 20.0 * minute);
  const Speed stale = expected_spread(SourceKind::forecast, 300.0 * minute);
  EXPECT_LT(fresh, stale);
  EXPECT_EQ(p.at(up(60)).value().spread, fresh);
  EXPECT_EQ(p.at(up(111)).value().spread, stale);
  EXPECT_EQ(p.at(up(200)).value().spread, stale);
}

std::size_t below(Random& random, std::size_t n) { return static_cast<std::size_t>(random.below(n)); }

// Ladders of random rows, times and kinds above the field.
std::vector<Ladder> random_ladders(Random& random, std::size_t count) {
  std::vector<Ladder> ladders;
  const SourceKind kinds[] = {SourceKind::pibal, SourceKind::seen, SourceKind::forecast, SourceKind::sounding};
  for (std::size_t i = 0; i < count; ++i) {
    std::vector<Seen> rows;
    // Heights in whole multiples of 10 m meet now and then, and times too.
    double h = 10.0 * static_cast<double>(below(random, 20));
    const auto n = 1 + below(random, 6);
    for (std::uint64_t k = 0; k < n; ++k) {
      rows.push_back({h, random.uniform(0.0, 360.0), random.uniform(0.0, 20.0)});
      h += 10.0 * static_cast<double>(1 + below(random, 25));
    }
    ladders.push_back(
        ladder(std::to_string(i), 30.0 * static_cast<double>(below(random, 6)), rows, kinds[below(random, 4)]));
  }
  return ladders;
}

TEST(WindProfile, HasComponentsBetweenThoseOfTheNeighbours) {
  Random random = seeded("WindProfile.Bounded");
  int answered = 0;
  for (int i = 0; i < 200; ++i) {
    const auto p = profile(random_ladders(random, 1 + below(random, 3)));
    for (int k = 0; k < 30; ++k) {
      const AltitudeAmsl z = up(random.uniform(-20.0, 1200.0));
      const auto at = p.at(z);
      EXPECT_EQ(p.wind_at(z), at ? std::optional{at->wind} : std::nullopt);
      if (!at) continue;
      EXPECT_EQ(at->altitude, z);
      const auto above =
          std::find_if(p.levels().begin(), p.levels().end(), [&](const Level& level) { return level.altitude >= z; });
      ASSERT_NE(above, p.levels().end());
      const auto below = above == p.levels().begin() ? above : above - 1;
      ++answered;
      EXPECT_LE(std::min(below->wind.east(), above->wind.east()), at->wind.east());
      EXPECT_GE(std::max(below->wind.east(), above->wind.east()), at->wind.east());
      EXPECT_LE(std::min(below->wind.north(), above->wind.north()), at->wind.north());
      EXPECT_GE(std::max(below->wind.north(), above->wind.north()), at->wind.north());
    }
  }
  EXPECT_GT(answered, 500);
}

TEST(WindProfile, AnswersOutsideItsGapsAndAtItsLevelsAndNowhereElse) {
  Random random = seeded("WindProfile.Gaps");
  int known = 0, unknown = 0;
  for (int i = 0; i < 200; ++i) {
    const auto p = profile(random_ladders(random, below(random, 4)));
    const AltitudeAmsl up_to = up(random.uniform(50.0, 1200.0));
    const auto gaps = p.gaps(up_to);
    for (std::size_t k = 0; k < gaps.size(); ++k) {
      EXPECT_LT(gaps[k].bottom, gaps[k].top);
      EXPECT_GE(gaps[k].bottom, kField);
      EXPECT_LE(gaps[k].top, up_to);
      if (k > 0) {
        EXPECT_LE(gaps[k - 1].top, gaps[k].bottom);
      }
    }
    std::vector<AltitudeAmsl> asked;
    for (int k = 0; k < 40; ++k) asked.push_back(up(random.uniform(0.0, (up_to - kField).in(metre))));
    for (const Level& level : p.levels())
      if (level.altitude <= up_to) asked.push_back(level.altitude);
    for (const AltitudeAmsl z : asked) {
      const bool is_level =
          std::any_of(p.levels().begin(), p.levels().end(), [&](const Level& l) { return l.altitude == z; });
      const bool in_gap =
          std::any_of(gaps.begin(), gaps.end(), [&](const Gap& g) { return g.bottom <= z && z <= g.top; });
      EXPECT_EQ(p.at(z).has_value(), is_level || !in_gap) << (z - kField).in(metre);
      ++(in_gap ? unknown : known);
    }
  }
  EXPECT_GT(known, 500);
  EXPECT_GT(unknown, 500);
}

TEST(WindProfile, DoesNotCareInWhatOrderItIsTold) {
  Random random = seeded("WindProfile.Order");
  for (int i = 0; i < 200; ++i) {
    auto ladders = random_ladders(random, 4);
    std::vector<SurfaceReport> reports{report(30, from(20, 4)), report(30, from(60, 4))};
    const auto p = profile(ladders, reports);
    for (std::size_t k = ladders.size() - 1; k > 0; --k) std::swap(ladders[k], ladders[below(random, k + 1)]);
    for (Ladder& l : ladders)
      for (std::size_t k = l.rows.size() - 1; k > 0; --k) std::swap(l.rows[k], l.rows[below(random, k + 1)]);
    std::swap(reports[0], reports[1]);
    const auto q = profile(ladders, reports);
    ASSERT_EQ(p.levels().size(), q.levels().size());
    for (std::size_t k = 0; k < p.levels().size(); ++k) {
      EXPECT_EQ(p.levels()[k].altitude, q.levels()[k].altitude);
      EXPECT_EQ(p.levels()[k].wind, q.levels()[k].wind);
      EXPECT_EQ(p.levels()[k].sources, q.levels()[k].sources);
    }
    EXPECT_EQ(p.superseded(), q.superseded());
  }
}

TEST(WindProfile, NeverForgetsAHeightWhenOneMoreSourceIsAdded) {
  Random random = seeded("WindProfile.Monotonic");
  int kept = 0;
  for (int i = 0; i < 300; ++i) {
    auto ladders = random_ladders(random, 2);
    const auto before = profile(ladders);
    ladders.push_back(random_ladders(random, 1).front());
    ladders.back().source.name = "one more";
    const auto after = profile(ladders);
    for (double h = 0.0; h <= 1200.0; h += 7.0) {
      if (!before.at(up(h))) continue;
      EXPECT_TRUE(after.at(up(h)).has_value()) << h;
      ++kept;
    }
  }
  EXPECT_GT(kept, 5000);
}

TEST(WindProfile, AnswersWithTheLatestThatWasSeenAtItsOwnHeights) {
  Random random = seeded("WindProfile.Latest");
  for (int i = 0; i < 200; ++i) {
    auto ladders = random_ladders(random, 3);
    Ladder latest = random_ladders(random, 1).front();
    latest.source.name = "latest";
    latest.source.kind = SourceKind::seen;
    latest.source.time = kNow + 1.0 * second;
    ladders.push_back(latest);
    const auto p = profile(ladders);
    for (const LadderRow& row : latest.rows) EXPECT_EQ(p.at(row.altitude).value().wind, *row.wind);
  }
}

TEST(WindProfile, LetsWhatWasSeenBeatALaterForecastWhereBothSpeak) {
  // The forecast is for 200 minutes after the flight: later than the pibal, and it speaks up to 600 m.
  const auto forecast = [](double minutes_ago) {
    return ladder("model", minutes_ago, {{0, 50, 4}, {100, 60, 8}, {250, 65, 9}, {400, 70, 10}, {600, 80, 12}},
                  SourceKind::forecast);
  };
  const auto pibal = [](double minutes_ago) {
    return ladder("pibal", minutes_ago, {{20, 200, 4}, {120, 210, 9}, {260, 220, 9}});
  };
  for (const double forecast_ago : {-200.0, 0.0, 300.0}) {
    const auto p = profile({forecast(forecast_ago), pibal(120)});
    EXPECT_EQ(heights(p), (std::vector<double>{0, 20, 120, 260, 400, 600}));
    EXPECT_EQ(name_at(p, 120), "pibal");
    EXPECT_EQ(name_at(p, 400), "model");
    ASSERT_EQ(p.superseded().size(), 1u);
    EXPECT_EQ(p.superseded()[0],
              (Superseded{forecast(forecast_ago).source, pibal(120).source, Precedence::seen, up(100), up(250)}));
  }
  // A minute older, the pibal is stale: whichever is nearer to the flight counts.
  const auto stale = profile({forecast(-60), pibal(121)});
  EXPECT_EQ(heights(stale), (std::vector<double>{0, 100, 250, 400, 600}));
  ASSERT_EQ(stale.superseded().size(), 1u);
  EXPECT_EQ(stale.superseded()[0],
            (Superseded{pibal(121).source, forecast(-60).source, Precedence::time, up(20), up(260)}));
  EXPECT_EQ(name_at(profile({forecast(-200), pibal(121)}), 120), "pibal");
  // The bound can be set.
  const auto strict = WindProfile::from({.ground = kField,
                                         .time = kNow,
                                         .ladders = {forecast(-20), pibal(40)},
                                         .reports = {},
                                         .seen_first = 30.0 * minute});
  EXPECT_EQ(name_at(*strict.value, 120), "model");
}

TEST(WindProfile, TakesTheForecastThatIsForATimeNearerToTheFlight) {
  const auto before = ladder("before", 60, {{0, 50, 4}, {100, 60, 8}}, SourceKind::forecast);
  const auto after = ladder("after", -90, {{0, 150, 4}, {100, 160, 8}}, SourceKind::forecast);
  EXPECT_EQ(name_at(profile({after, before}), 50), "before");
}

TEST(WindProfile, TellsWhichOlderOneWasBeaten) {
  const auto p =
      profile({ladder("first", 60, {{0, 50, 1}, {100, 60, 2}, {200, 70, 3}, {300, 80, 4}}),
               ladder("second", 30, {{100, 90, 5}, {200, 100, 5}}), ladder("third", 10, {{0, 90, 5}, {110, 100, 5}})},
              {report(10, from(30, 6))});
  // Each once: at the ground the pibal of the same minute beats the report, as its own error is smaller.
  struct Told {
    std::string source, by;
    Precedence why;
    double low_m, high_m;
    bool operator==(const Told&) const = default;
  };
  std::vector<Told> told;
  for (const Superseded& s : p.superseded())
    told.push_back({s.source.name, s.by.name, s.why, (s.lowest - kField).in(metre), (s.highest - kField).in(metre)});
  EXPECT_EQ(told, (std::vector<Told>{{"field", "third", Precedence::error, 0, 0},
                                     {"second", "third", Precedence::time, 100, 100},
                                     {"first", "third", Precedence::time, 0, 100},
                                     {"first", "second", Precedence::time, 200, 200}}));
  EXPECT_TRUE(profile({ladder("first", 60, {{0, 50, 1}}), ladder("second", 30, {{100, 90, 5}})}).superseded().empty());
}

TEST(WindProfile, MakesEveryRowALevelOrTellsWhatBeatIt) {
  Random random = seeded("WindProfile.Superseded");
  int beaten = 0;
  for (int i = 0; i < 300; ++i) {
    const auto ladders = random_ladders(random, 1 + below(random, 4));
    const auto p = profile(ladders);
    for (const Ladder& l : ladders)
      for (const LadderRow& row : l.rows) {
        const bool serves = std::any_of(p.levels().begin(), p.levels().end(), [&](const Level& level) {
          return level.altitude == row.altitude && level.sources.front() == l.source;
        });
        const bool told = std::any_of(p.superseded().begin(), p.superseded().end(), [&](const Superseded& s) {
          return s.source == l.source && s.lowest <= row.altitude && row.altitude <= s.highest;
        });
        EXPECT_TRUE(serves || told);
        beaten += serves ? 0 : 1;
      }
    for (const Superseded& s : p.superseded()) {
      EXPECT_FALSE(s.source == s.by);
      EXPECT_FALSE(s.by.kind == SourceKind::forecast && s.source.kind != SourceKind::forecast &&
                   kNow - s.source.time <= kSeenFirst);
      if (s.why == Precedence::time) {
        EXPECT_GT(s.by.time, s.source.time);  // none lies ahead here
      }
    }
  }
  EXPECT_GT(beaten, 200);
}

Wind turned(Wind w, Angle by) {
  // Clockwise, seen from above.
  return Wind::toward(cos(by) * w.east() + sin(by) * w.north(), -sin(by) * w.east() + cos(by) * w.north());
}

TEST(WindProfile, TurnsWithItsWinds) {
  Random random = seeded("WindProfile.Equivariance");
  int steered = 0;
  for (int i = 0; i < 200; ++i) {
    auto ladders = random_ladders(random, 2);
    const auto p = profile(ladders);
    const Angle by = random.uniform(0.0, 360.0) * degree;
    for (Ladder& l : ladders)
      for (LadderRow& row : l.rows) row.wind = turned(*row.wind, by);
    const auto q = profile(ladders);
    for (double h = 0.0; h < 800.0; h += 13.0) {
      const auto a = p.wind_at(up(h)), b = q.wind_at(up(h));
      ASSERT_EQ(a.has_value(), b.has_value());
      if (!a) continue;
      EXPECT_NEAR(m_s(turned(*a, by).east()), m_s(b->east()), 1e-12);
      EXPECT_NEAR(m_s(turned(*a, by).north()), m_s(b->north()), 1e-12);
    }
    const auto s = steerage(p, kField, up(800)), t = steerage(q, kField, up(800));
    ASSERT_EQ(s.has_value(), t.has_value());
    if (!s) continue;
    ++steered;
    EXPECT_NEAR(short_way(t->turn - s->turn).in(degree), 0.0, 1e-6);
    EXPECT_NEAR((t->left - TrueBearing::at(s->left.from_north() + by)).in(degree), 0.0, 1e-6);
    EXPECT_NEAR((t->right - TrueBearing::at(s->right.from_north() + by)).in(degree), 0.0, 1e-6);
  }
  EXPECT_GT(steered, 100);
}

TEST(TemperaturesAloft, AreMergedAsWindsAreAndNeedNoWind) {
  Ladder old = ladder("evening", 300, {{0, 90, 3}, {100, 90, 3}, {200, 90, 3}, {400, 90, 3}});
  for (LadderRow& row : old.rows) row.temperature = celsius(20.0);
  Ladder fresh{{SourceKind::sounding, "dawn", kNow}, {}};
  fresh.rows = {{up(-40.0), std::nullopt, celsius(1.0)},
                {up(0.5), std::nullopt, celsius(1.0)},
                {up(80.0), std::nullopt, celsius(5.0)},
                {up(150.0), from(90, 3), std::nullopt},
                {up(220.0), std::nullopt, celsius(4.0)}};
  const auto levels = temperatures_aloft({fresh, old}, kField);
  ASSERT_EQ(levels.size(), 3u);  // 80, 220 of the later; 400 of the older; nothing at the ground or below
  EXPECT_EQ(levels[0].altitude, up(80.0));
  EXPECT_EQ(levels[1].temperature, celsius(4.0));
  EXPECT_EQ(levels[2].altitude, up(400.0));
  EXPECT_EQ(levels[2].temperature, celsius(20.0));
  EXPECT_TRUE(temperatures_aloft({}, kField).empty());
}

TEST(TemperaturesAloft, OfWhatWasSeenCountBeforeALaterForecastWhenTheTimeIsKnown) {
  Ladder seen = ladder("dawn", 60, {{100, 90, 3}, {200, 90, 3}}, SourceKind::seen);
  Ladder model = ladder("model", -120, {{150, 90, 3}, {250, 90, 3}}, SourceKind::forecast);
  for (LadderRow& row : seen.rows) row.temperature = celsius(9.0);
  for (LadderRow& row : model.rows) row.temperature = celsius(3.0);
  const auto with_time = temperatures_aloft({seen, model}, kField, {}, kNow);
  ASSERT_EQ(with_time.size(), 3u);  // 100 and 200 seen, 250 forecast
  EXPECT_EQ(with_time[1].temperature, celsius(9.0));
  const auto without = temperatures_aloft({seen, model}, kField);
  ASSERT_EQ(without.size(), 3u);  // 100 seen, 150 and 250 forecast
  EXPECT_EQ(without[1].temperature, celsius(3.0));
}

TEST(TemperaturesAloft, MakeAColumnThatIsAccepted) {
  Random random = seeded("TemperaturesAloft.Column");
  for (int i = 0; i < 100; ++i) {
    auto ladders = random_ladders(random, 3);
    for (Ladder& l : ladders)
      for (LadderRow& row : l.rows)
        if (random.uniform() < 0.7) row.temperature = celsius(random.uniform(-5.0, 15.0));
    air::AirColumn::Inputs in{.ground = kField,
                              .surface_pressure = 850.0 * hectopascal,
                              .surface_temperature = celsius(5.0),
                              .dew_point = {},
                              .aloft = temperatures_aloft(ladders, kField),
                              .above = air::Filling::standard,
                              .top = up(1500.0)};
    EXPECT_TRUE(air::AirColumn::from(in).has_value());
  }
}

TEST(ExpectedSpread, GrowsWithAgeFromTheOwnErrorAndIsCapped) {
  // At half an hour: sqrt(own^2 + 1.5^2). Ours (regression: computed from the printed equation).
  EXPECT_NEAR(m_s(expected_spread(SourceKind::pibal, 30.0 * minute)), 1.58113883, 1e-8);
  EXPECT_NEAR(m_s(expected_spread(SourceKind::report, 30.0 * minute)), 1.80277564, 1e-8);
  EXPECT_NEAR(m_s(expected_spread(SourceKind::forecast, 30.0 * minute)), 2.91547595, 1e-8);
  // Eight times the age doubles the part that grows, squared: (8)^(2/3) = 4.
  EXPECT_NEAR(m_s(expected_spread(SourceKind::pibal, 240.0 * minute)), math::sqrt(0.25 + 2.25 * 4.0), 1e-9);
  for (const auto& [kind, name] : Names<SourceKind>::all) {
    Speed before = expected_spread(kind, Duration{});
    EXPECT_NEAR(m_s(before), kind == SourceKind::pibal ? 0.5 : kind == SourceKind::forecast ? 2.5 : 1.0, 1e-15) << name;
    for (double age = 1.0; age < 2000.0; age *= 1.3) {
      const Speed now = expected_spread(kind, age * minute);
      EXPECT_GE(now, before);
      EXPECT_LE(now, 3.5 * metre_per_second);
      EXPECT_EQ(now, expected_spread(kind, -age * minute));
      before = now;
    }
    EXPECT_EQ(m_s(before), 3.5);
  }
}

TEST(Steerage, IsTheTurnFromTheLeftMostToTheRightMostCourse) {
  // Courses 350 (from 170) at the ground, 20 (from 200) at 150 m, 60 (from 240) at 300 m.
  const auto p = profile({ladder("dawn", 10, {{0, 170, 5}, {150, 200, 9}, {300, 240, 14}})});
  const auto s = steerage(p, kField, up(300)).value();
  EXPECT_NEAR(s.left.from_north().in(degree), 350.0, 1e-9);
  EXPECT_NEAR(s.right.from_north().in(degree), 60.0, 1e-9);
  EXPECT_NEAR(s.turn.in(degree), 70.0, 1e-9);
  EXPECT_EQ(s.left_at, kField);
  EXPECT_EQ(s.right_at, up(300));
  EXPECT_NEAR(steerage(p, kField, up(150)).value().turn.in(degree), 30.0, 1e-9);
}

TEST(Steerage, CountsNoWindBelowOneKnotAndNothingUnknown) {
  const auto weak = profile({ladder("dawn", 10, {{0, 170, 0.9}, {100, 170, 0.9}})});
  EXPECT_FALSE(steerage(weak, kField, up(100)).has_value());
  const auto just = profile({ladder("dawn", 10, {{0, 170, 1.0}, {100, 170, 1.0}})});
  EXPECT_NEAR(steerage(just, kField, up(100)).value().turn.in(degree), 0.0, 1e-9);
  // The hole from 100 to 300 m is not steered in; its ends are.
  const auto holed = profile({ladder("dawn", 10, {{0, 10, 5}, {100, 20, 5}, {300, 90, 5}})});
  const auto s = steerage(holed, kField, up(300)).value();
  EXPECT_NEAR(s.turn.in(degree), 80.0, 1e-9);
  EXPECT_NEAR(steerage(holed, kField, up(290)).value().turn.in(degree), 10.0, 1e-9);
  EXPECT_FALSE(steerage(holed, up(110), up(290)).has_value());
  EXPECT_FALSE(steerage(holed, up(100), up(0)).has_value());
}

TEST(Steerage, HoldsEveryCourseSampled) {
  Random random = seeded("Steerage.Contains");
  int sampled = 0;
  for (int i = 0; i < 300; ++i) {
    const auto p = profile(random_ladders(random, 2));
    const AltitudeAmsl low = up(random.uniform(-50.0, 200.0)), high = up(random.uniform(200.0, 900.0));
    const auto s = steerage(p, low, high);
    int here = 0;
    for (AltitudeAmsl z = std::max(low, kField); z <= high; z = z + 10.0 * metre) {
      const auto w = p.wind_at(z);
      if (!w || w->speed() < 1.001 * knot) continue;
      ASSERT_TRUE(s.has_value());
      const Angle past_left = wrapped(w->direction_from()->reversed().from_north() - s->left.from_north());
      EXPECT_TRUE(past_left <= s->turn + 1e-6 * degree || past_left >= (360.0 - 1e-6) * degree)
          << past_left.in(degree) << " of " << s->turn.in(degree);
      ++here;
    }
    sampled += here;
    if (!s) continue;
    // What it names is there.
    EXPECT_NEAR((p.wind_at(s->left_at)->direction_from()->reversed() - s->left).in(degree), 0.0, 1e-9);
    EXPECT_NEAR((p.wind_at(s->right_at)->direction_from()->reversed() - s->right).in(degree), 0.0, 1e-9);
    EXPECT_NEAR(wrapped(s->right.from_north() - s->left.from_north()).in(degree), s->turn.in(degree), 1e-9);
  }
  EXPECT_GT(sampled, 2000);
}

}  // namespace
}  // namespace pappus::wind
