#include "formats/text/profile_csv/profile_csv.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "formats/text/quantity/quantity_text.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

const Instant kSeen = instant_of(*Date::of(2027, 5, 16), 12, 40, 0.0, UtcOffset{});

ProfileContext context() {
  return {.source = {.kind = wind::SourceKind::sounding, .name = "mast", .time = kSeen},
          .ground = amsl(1500 * metre),
          .variation = Variation{.east = 12 * degree}};
}

ProfileMap map_of(const std::string& spec) {
  const Parsed<ProfileMap> parsed = parse_profile_map(spec);
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " at " << issue.got;
  return parsed.value.value_or(ProfileMap{});
}

std::vector<wind::LadderRow> rows_of(const std::string& table, const std::string& spec) {
  const auto parsed = parse_profile_csv(table, map_of(spec), context());
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " at " << issue.got;
  return parsed.value.value_or(wind::Ladder{}).rows;
}

void expect_wind(const std::optional<wind::Wind>& wind, double from_deg, double speed_kt) {
  ASSERT_TRUE(wind);
  EXPECT_NEAR((*wind->direction_from() - TrueBearing::at(from_deg * degree)).in(degree), 0.0, 1e-9);
  EXPECT_NEAR(wind->speed().in(knot), speed_kt, 1e-9);
}

TEST(ProfileCsv, ReadsColumnsByNumber) {
  const auto parsed = parse_profile_csv(
      "height,dir,speed,t\n0,100,2,3\n300,240,14,15\n150,215,9,9\n",
      map_of("height=1 m agl, from=2 deg true, speed=3 kt, temperature=4 C; skip=1; separator=,"), context());
  EXPECT_TRUE(parsed.issues.empty());
  ASSERT_TRUE(parsed.value);
  EXPECT_EQ(parsed.value->source, context().source);
  const auto& rows = parsed.value->rows;
  ASSERT_EQ(rows.size(), 3u);
  EXPECT_EQ(rows[0].altitude, amsl(1500 * metre));
  EXPECT_EQ(rows[1].altitude, amsl(1650 * metre));  // rising, whatever their order
  expect_wind(rows[1].wind, 215, 9);
  EXPECT_EQ(rows[2].temperature, celsius(15));
}

TEST(ProfileCsv, ReadsColumnsByName) {
  const auto rows = rows_of("# made by hand\n\n  \"Height, MSL\" ;u;v ; T [F]\n1000;-3,5;1e1;50\n2000;nan;;41\n",
                            "height=\"Height, MSL\" ft amsl, east=u m/s, north=v m/s, temperature=\"T [F]\" F; "
                            "separator=semicolon; decimal=comma");
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].altitude, amsl(1000 * foot));
  EXPECT_EQ(rows[0].wind, wind::Wind::toward(-3.5 * metre_per_second, 10 * metre_per_second));
  EXPECT_NEAR(in_celsius(*rows[0].temperature), 10.0, 1e-9);
  EXPECT_FALSE(rows[1].wind);
  EXPECT_NEAR(in_celsius(*rows[1].temperature), 5.0, 1e-9);
}

// Lines as they stand in sounding_ATS.asc of the NCAR graphics library 6.6.2 (Debian libncarg-data).
TEST(ProfileCsv, ReadsColumnsPartedByBlanks) {
  const auto rows = rows_of(
      "845.65  21.42   3.31    29.97   1704    3.1     69\n"
      "830.76  19.99   1.16    28.1    1857    1.5     237\n"
      "  817.06\t21.61   -4.62   16.52   2001    5.1     6  \n",
      "height=5 m amsl, speed=6 m/s, from=7 deg true, temperature=2 C; separator=blank");
  ASSERT_EQ(rows.size(), 3u);
  EXPECT_EQ(rows[2].altitude, amsl(2001 * metre));
  expect_wind(rows[2].wind, 6, (5.1 * metre_per_second).in(knot));
  EXPECT_EQ(rows[0].temperature, celsius(21.42));
}

TEST(ProfileCsv, TakesADirectionAsItIsStated) {
  expect_wind(rows_of("100,350,5\n", "height=1 m amsl, from=2 deg magnetic, speed=3 kt")[0].wind, 2, 5);
  expect_wind(rows_of("100,350,5\n", "height=1 m amsl, toward=2 deg true, speed=3 kt")[0].wind, 170, 5);
  expect_wind(rows_of("100,0,5\n", "height=1 m amsl, from=2 deg true, speed=3 kt")[0].wind, 360, 5);
}

TEST(ProfileCsv, AMissingValueIsAbsent) {
  const auto rows =
      rows_of("h,d,s,t\n100,-9999,5,10\n200,180,-9999.0,NaN\n300,180,,11\n400,,0,M\n500,-9999,-9999,M\n-9999,,,\n",
              "height=h m amsl, from=d deg true, speed=s kt, temperature=t C; missing=-9999 M");
  ASSERT_EQ(rows.size(), 3u);
  EXPECT_FALSE(rows[0].wind);
  EXPECT_EQ(rows[0].temperature, celsius(10));
  EXPECT_EQ(rows[1].altitude, amsl(300 * metre));
  EXPECT_EQ(rows[2].wind, wind::Wind{});  // no speed: calm
  EXPECT_FALSE(rows[2].temperature);
}

TEST(ProfileCsv, PassesOverMarksOfTheFile) {
  EXPECT_EQ(rows_of("\xEF\xBB\xBFheight,t\r\n100,5\r\n\r\n# end", "height=height m amsl, temperature=t C").size(), 1u);
  EXPECT_EQ(
      rows_of("title\nsubtitle\nh\tt\n\"100\"\t5", "height=h m amsl, temperature=t C; skip=2; separator=tab").size(),
      1u);
  EXPECT_EQ(rows_of("\"say \"\"no|yes\"\"\"|100|5", "height=2 m amsl, temperature=3 C; separator=bar").size(), 1u);
}

struct BrokenMap {
  std::string spec;
  std::string_view key, got;
  int column = 1;
  Errc code = Errc::bad_input;
};

TEST(ProfileCsv, NamesTheRuleThatABrokenMapBreaks) {
  static const std::array<BrokenMap, 32> cases{
      {{"", "issue.profile_map_empty", ""},
       {"; skip=1", "issue.profile_map_empty", ""},
       {"height=1 m amsl, wind=2 kt", "issue.profile_quality", "wind=2 kt", 18},
       {"height=1 m amsl,, temperature=2 C", "issue.profile_quality", "", 17},
       {"height 1 m amsl", "issue.profile_quality", "height 1 m amsl"},
       {"height= m", "issue.profile_unit", "height= m"},
       {"height=0 m amsl", "issue.profile_where", "0", 8},
       {"height=1001 m amsl", "issue.profile_where", "1001", 8},
       {"height=\"\" m amsl", "issue.profile_where", "\"\" m amsl", 8},
       {"height=\"h m amsl", "issue.profile_quotes", "\"h m amsl", 8},
       {"height=1 kt amsl", "issue.profile_unit", "kt", 10},
       {"height=1 furlong amsl", "issue.profile_unit", "furlong", 10},
       {"height=1 m amsl, speed=2", "issue.profile_unit", "speed=2", 18},
       {"temperature=2 deg", "issue.profile_unit", "deg", 15},
       {"height=1 m", "issue.profile_reference", "height=1 m"},
       {"height=1 m true", "issue.profile_reference", "true", 12},
       {"from=1 deg", "issue.profile_reference", "from=1 deg"},
       {"toward=1 deg magnetic", "issue.profile_reference", "magnetic", 14},
       {"speed=1 kt true", "issue.profile_reference", "true", 12},
       {"height=1 m amsl temperature=2 C", "issue.profile_reference", "temperature=2 C", 17},
       {"height=1 m amsl, height=2 ft agl", "issue.profile_double", "height=2 ft agl", 18, Errc::conflict},
       {"height=1 m amsl, temperature=1 C", "issue.profile_double", "temperature=1 C", 18, Errc::conflict},
       {"height=1 m amsl, temperature=2 C; skip=1; skip=2", "issue.profile_double", "skip=2", 43, Errc::conflict},
       {"height=1 m amsl, temperature=2 C; skip=-1", "issue.profile_value", "skip=-1", 35},
       {"height=1 m amsl, temperature=2 C; separator=x", "issue.profile_value", "separator=x", 35},
       {"height=1 m amsl, temperature=2 C; missing=", "issue.profile_value", "missing=", 35},
       {"height=1 m amsl, temperature=2 C; missing=a\"b\"", "issue.profile_value", "missing=a\"b\"", 35},
       {"height=a\"b\" m amsl", "issue.profile_where", "a\"b\" m amsl", 8},
       {"height=1 m amsl, temperature=2 C; decimals=comma", "issue.profile_setting", "decimals=comma", 35},
       {"height=1 m amsl, temperature=2 C; decimal=comma", "issue.profile_decimal",
        "height=1 m amsl, temperature=2 C; dec...", 1, Errc::conflict},
       {"temperature=2 C", "issue.profile_height_missing", "temperature=2 C", 1, Errc::no_data},
       {"height=1 m amsl", "issue.profile_nothing_asked", "height=1 m amsl", 1, Errc::no_data}}};
  for (const BrokenMap& broken : cases) {
    SCOPED_TRACE(broken.spec);
    const Parsed<ProfileMap> parsed = parse_profile_map(broken.spec);
    EXPECT_FALSE(parsed.value);
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, broken.key);
    EXPECT_EQ(parsed.issues[0].got, broken.got);
    EXPECT_EQ(parsed.issues[0].code, broken.code);
    EXPECT_EQ(parsed.issues[0].where, (Where{"", 1, broken.column, "columns"}));
    EXPECT_FALSE(parsed.issues[0].wanted.empty());
  }
  for (const std::string wind : {"from=2 deg true", "speed=2 kt", "east=2 m/s", "north=2 m/s"}) {
    const Parsed<ProfileMap> parsed = parse_profile_map("height=1 m amsl, " + wind);
    ASSERT_EQ(parsed.issues.size(), 1u) << wind;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.profile_wind_incomplete");
  }
  EXPECT_EQ(parse_profile_map("height=1 m amsl, from=2 deg true, speed=3 kt, east=4 m/s, north=5 m/s")
                .issues.at(0)
                .sentence.key,
            "issue.profile_double");
}

TEST(ProfileCsv, TellsAllFaultsOfAMapAtOnce) {
  EXPECT_EQ(parse_profile_map("height=1 kt amsl, wind=2, speed=3 kt true; skip=x; missing=").issues.size(), 5u);
}

struct BrokenTable {
  std::string table;
  std::string_view key, got;
  int line = 0, column = 0;
  std::size_t rows_left = 1;
  Errc code = Errc::bad_input;
};

TEST(ProfileCsv, NamesTheRuleThatABrokenTableBreaks) {
  const std::string good = "height,d,s,t\n100,180,5,10\n";
  static const std::array<BrokenTable, 17> cases{
      {{good + "200,190,x,11\n", "issue.profile_number", "x", 3, 9, 2},
       {good + "2OO,190,6,11\n", "issue.profile_number", "2OO", 3, 1, 1},
       {good + "200,190,6,-9999\n", "issue.profile_range", "-9999", 3, 11, 2},
       {good + "200,361,6,11\n", "issue.profile_range", "361", 3, 5, 2},
       {good + "200,-1,6,11\n", "issue.profile_range", "-1", 3, 5, 2},
       {good + "200,190,-6,11\n", "issue.profile_range", "-6", 3, 9, 2},
       {good + "200,190,300,11\n", "issue.profile_range", "300", 3, 9, 2},
       {good + "31000,190,6,11\n", "issue.profile_range", "31000", 3, 1, 1},
       {good + "-501,190,6,11\n", "issue.profile_range", "-501", 3, 1, 1},
       {good + "1e999,190,6,11\n", "issue.profile_range", "1e999", 3, 1, 1},
       {good + "200,190\n", "issue.profile_short", "200,190", 3, 1, 1},
       {good + " \xC3\xA9,\"190,6,11\n", "issue.profile_open_quotes", "190,6,11", 3, 4, 1},
       {good + ",190,6,11\n", "issue.profile_row_height", "", 3, 1, 1},
       {good + "100.0,190,6,11\n", "issue.profile_row_double", "100.0", 3, 1, 1, Errc::conflict},
       {"height,d,s\n100,180,5\n", "issue.profile_header", "t", 1, 1, 0},
       {"height,d,s,t,t\n100,180,5,4,4\n", "issue.profile_header", "t", 1, 12, 0},
       {"height,d,s,t\n\n# nothing\n", "issue.profile_none", "", 0, 0, 0}}};
  const ProfileMap map = map_of("height=height m amsl, from=d deg true, speed=s kt, temperature=t C");
  for (const BrokenTable& broken : cases) {
    SCOPED_TRACE(broken.table);
    const auto parsed = parse_profile_csv(broken.table, map, context());
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, broken.key);
    EXPECT_EQ(parsed.issues[0].got, broken.got);
    EXPECT_EQ(parsed.issues[0].code, broken.code);
    EXPECT_EQ(parsed.issues[0].where, (Where{"", broken.line, broken.column, ""}));
    EXPECT_FALSE(parsed.issues[0].wanted.empty());
    EXPECT_EQ(parsed.value ? parsed.value->rows.size() : 0u, broken.rows_left);
    EXPECT_EQ(parsed.value.has_value(), broken.rows_left > 0);
  }
}

TEST(ProfileCsv, AsksForWhatTheTableDoesNotSay) {
  const ProfileMap map = map_of("height=1 m agl, from=2 deg magnetic, speed=3 kt");
  const auto parsed = parse_profile_csv("100,180,5\n", map, {.source = context().source});
  EXPECT_FALSE(parsed.value);
  ASSERT_EQ(parsed.issues.size(), 2u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.profile_ground_needed");
  EXPECT_EQ(parsed.issues[1].sentence.key, "issue.profile_variation_needed");
  EXPECT_EQ(parsed.issues[0].code, Errc::bad_call);
}

TEST(ProfileCsv, StopsWhereTheMapIsLikelyWrong) {
  std::string table;
  for (int i = 0; i < 1000; ++i) table += "a,b\n";
  const auto parsed = parse_profile_csv(table, map_of("height=1 m amsl, temperature=2 C"), context());
  EXPECT_FALSE(parsed.value);
  ASSERT_EQ(parsed.issues.size(), 51u);
  EXPECT_EQ(parsed.issues.back().sentence.key, "issue.profile_many");
}

void expect_lawful(const std::string& table, const Parsed<wind::Ladder>& parsed) {
  ASSERT_TRUE(parsed.value || !parsed.issues.empty());
  const auto lines = std::count(table.begin(), table.end(), '\n') + 1;
  for (const Issue& issue : parsed.issues) {
    ASSERT_FALSE(issue.wanted.empty());
    ASSERT_LE(issue.where.line, lines);
    ASSERT_EQ(issue.where.line > 0, issue.where.column > 0);
  }
  if (!parsed.value) return;
  ASSERT_FALSE(parsed.value->rows.empty());
  for (std::size_t i = 0; i < parsed.value->rows.size(); ++i) {
    const wind::LadderRow& row = parsed.value->rows[i];
    ASSERT_TRUE(row.wind || row.temperature);
    ASSERT_TRUE(row.altitude >= amsl(-500 * metre) && row.altitude <= amsl(30000 * metre));
    if (i > 0) {
      ASSERT_LT(parsed.value->rows[i - 1].altitude, row.altitude);
    }
    if (row.wind) {
      ASSERT_LE(row.wind->speed(), 213 * metre_per_second);
    }
  }
}

TEST(ProfileCsv, IsLawfulForAnyMapAndTable) {
  Random random = testing::seeded("ProfileCsv.Any");
  static const std::array<std::string_view, 33> scraps{"height",
                                                       "from",
                                                       "speed",
                                                       "east",
                                                       "temperature",
                                                       "=",
                                                       "1",
                                                       "2",
                                                       "3",
                                                       " m",
                                                       " ft",
                                                       " kt",
                                                       " deg",
                                                       " C",
                                                       " amsl",
                                                       " agl",
                                                       " true",
                                                       ",",
                                                       ", ",
                                                       ";",
                                                       "skip=1",
                                                       "separator=",
                                                       "blank",
                                                       "tab",
                                                       "\"",
                                                       "decimal=comma",
                                                       "missing=-9999",
                                                       "-9999",
                                                       "1.5",
                                                       "\xC3\xA9",
                                                       "\n",
                                                       "\xFF",
                                                       "nan"};
  static const std::array<std::string_view, 4> maps{
      "height=1 m agl, from=2 deg true, speed=3 kt, temperature=4 C; missing=-9999",
      "height=1 ft amsl, east=2 m/s, north=3 m/s; separator=blank",
      "height=from m amsl, temperature=speed C; skip=1; separator=semicolon; decimal=comma",
      "height=1 km amsl, toward=2 deg true, speed=3 mph; separator=tab"};
  const auto any_text = [&](std::uint64_t most) {
    std::string text;
    for (std::uint64_t k = random.below(static_cast<std::size_t>(most)); k > 0; --k)
      text += scraps[random.below(scraps.size())];
    return text;
  };
  for (int i = 0; i < 3000; ++i) {
    const std::string spec = random.below(2) == 0 ? any_text(14) : std::string{maps[random.below(maps.size())]};
    const std::string table = any_text(40);
    SCOPED_TRACE(spec + "\n" + table);
    const Parsed<ProfileMap> map = parse_profile_map(spec);
    ASSERT_NE(map.value.has_value(), !map.issues.empty());
    for (const Issue& issue : map.issues) ASSERT_FALSE(issue.wanted.empty());
    if (map.value) expect_lawful(table, parse_profile_csv(table, *map.value, context()));
    if (HasFatalFailure()) return;
  }
}

bool same(const ProfileMap& a, const ProfileMap& b) {
  return a.skip == b.skip && a.separator == b.separator && a.decimal == b.decimal && a.missing == b.missing &&
         std::equal(a.columns.begin(), a.columns.end(), b.columns.begin(), b.columns.end(),
                    [](const ProfileColumn& x, const ProfileColumn& y) {
                      return x.quality == y.quality && x.unit == y.unit && x.number == y.number && x.name == y.name;
                    });
}

TEST(ProfileCsv, APrintedMapIsReadAgainAsTheSame) {
  for (const std::string spec :
       {"height=1 m agl, from=2 deg true, speed=3 kt, temperature=4 C; skip=1; separator=comma; missing=-9999 M",
        "HEIGHT = \"Height, MSL; =\" ft amsl ,toward=d deg TRUE,speed=s km/h; separator=Semicolon; decimal=comma",
        "height=h km amsl, from=2 deg magnetic, speed=\"3\" m/s; separator=blank; missing=x; missing=\"y; z\" 7",
        "height=1 m amsl, east=u kts, north=v kts, temperature=9 \xC2\xB0"
        "C; separator=|"}) {
    SCOPED_TRACE(spec);
    const ProfileMap map = map_of(spec);
    EXPECT_TRUE(same(map_of(print_profile_map(map)), map)) << print_profile_map(map);
  }
}

TEST(ProfileCsv, GivesBackTheRowsThatATableWasPrintedFrom) {
  Random random = testing::seeded("ProfileCsv.RoundTrip");
  const auto pick = [&](int low, int high) {
    return low + static_cast<int>(random.below(static_cast<std::size_t>(high) - static_cast<std::size_t>(low) + 1));
  };
  static const std::array<std::pair<const char*, std::string>, 5> separators{
      {{"comma", ","}, {"semicolon", ";"}, {"tab", "\t"}, {"blank", "  "}, {"bar", " | "}}};
  for (int i = 0; i < 500; ++i) {
    const auto& [word, separator] = separators[random.below(separators.size())];
    const bool comma = word != std::string{"comma"} && pick(0, 1) == 0, agl = pick(0, 1) == 0, named = pick(0, 1) == 0;
    const bool feet = pick(0, 1) == 0, fahrenheit_scale = pick(0, 1) == 0, metres_per_second = pick(0, 1) == 0;
    const auto print = [&](double value) {
      char text[40];
      std::snprintf(text, sizeof text, "%.1f", value);
      std::string out = text;
      if (comma) std::replace(out.begin(), out.end(), '.', ',');
      return pick(0, 5) == 0 ? '"' + out + '"' : out;
    };
    // Columns in an order of their own, with one between that nobody asked for.
    std::array<std::string, 4> names{"h", "d", "s", "t"};
    std::array<std::size_t, 4> order{0, 1, 2, 3};
    for (std::size_t k = 3; k > 0; --k) std::swap(order[k], order[random.below(k + 1)]);
    std::array<std::string, 4> where;
    for (std::size_t k = 0; k < 4; ++k) {
      const auto at = static_cast<std::size_t>(std::find(order.begin(), order.end(), k) - order.begin());
      where[k] = named ? names[k] : std::to_string(at + 2);
    }
    const std::string spec = "height=" + where[0] + (feet ? " ft " : " m ") + (agl ? "agl" : "amsl") +
                             ", from=" + where[1] + " deg true, speed=" + where[2] +
                             (metres_per_second ? " m/s" : " kt") + ", temperature=" + where[3] +
                             (fahrenheit_scale ? " F" : " C") + "; separator=" + word +
                             (comma ? "; decimal=comma" : "") + "; missing=-9999; skip=1";
    std::string table = "some title\n";
    if (named) {
      table += "no";
      for (const std::size_t k : order) table += separator + names[k];
      table += "\n";
    }
    std::vector<wind::LadderRow> expected;
    double height = pick(0, 300);
    for (int rows = pick(1, 12); rows > 0; --rows) {
      height += pick(1, 5000) / 10.0;
      const double from = pick(0, 3600) / 10.0, speed = pick(1, 500) / 10.0, t = pick(-200, 350) / 10.0;
      const bool no_wind = pick(0, 4) == 0;
      const std::array<std::string, 4> cells{print(height), no_wind ? "-9999" : print(from), print(speed), print(t)};
      table += std::to_string(rows);
      for (const std::size_t k : order) table += separator + cells[k];
      table += pick(0, 1) == 0 ? "\n" : "\r\n";
      wind::LadderRow row;
      const Length h = height * (feet ? foot : metre);
      row.altitude = agl ? amsl(1500 * metre) + h : amsl(h);
      if (!no_wind)
        row.wind =
            wind::Wind::from(TrueBearing::at(from * degree), speed * (metres_per_second ? metre_per_second : knot));
      row.temperature = fahrenheit_scale ? fahrenheit(t) : celsius(t);
      expected.push_back(row);
    }
    SCOPED_TRACE(spec + "\n" + table);
    const auto rows = rows_of(table, spec);
    ASSERT_EQ(rows.size(), expected.size());
    for (std::size_t k = 0; k < rows.size(); ++k) {
      ASSERT_NEAR((rows[k].altitude - expected[k].altitude).in(metre), 0.0, 1e-3);
      ASSERT_EQ(rows[k].wind.has_value(), expected[k].wind.has_value());
      if (rows[k].wind) {
        ASSERT_NEAR((rows[k].wind->east() - expected[k].wind->east()).in(metre_per_second), 0.0, 1e-6);
        ASSERT_NEAR((rows[k].wind->north() - expected[k].wind->north()).in(metre_per_second), 0.0, 1e-6);
      }
      ASSERT_NEAR((*rows[k].temperature - *expected[k].temperature).in(kelvin), 0.0, 1e-6);
    }
  }
}

}  // namespace
}  // namespace pappus::text
