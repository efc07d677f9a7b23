#include "formats/text/temp/temp.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "core/air/isa.hpp"
#include "core/base/math.hpp"
#include "formats/text/temp/group.hpp"
#include "formats/text/temp/heights.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::text {
namespace {

using Soundings = Parsed<std::vector<TempSounding>>;

const Instant kNear = instant_of(*Date::of(2027, 5, 16), 13, 0, 0.0, UtcOffset{});

Soundings read(const std::string& pasted) { return parse_temp(pasted, kNear); }

TempSounding one(const std::string& pasted) {
  const Soundings parsed = read(pasted);
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " at " << issue.got;
  if (!parsed.value || parsed.value->size() != 1) {
    ADD_FAILURE() << "not one sounding: " << pasted;
    return {};
  }
  return parsed.value->front();
}

// An inversion above a cold ground at 245 m. Heights of the standard levels: 985 hPa at 245 m and the hypsometric
// equation, by arithmetic of its own, rounded as the code rounds.
const std::string kPartA =
    "TTAA 66121 99123 99985 14220 24008 00117 ///// ///// 92778 15258 24510 85490 11056 25014 70081 01260 26020 50570 "
    "15762 27035 40/// ///// ///// 88999 77999 31313 47808 81130=\n";
const std::string kPartB =
    "TTBB 66128 99123 00985 14220 11960 16056 22925 15258 33850 11056 44700 01260 55640 03730 66500 15762 21212 00985 "
    "24008 11960 24516 22700 26020 31313 47808 81130 41414 85500=\n";

const TempLevel& level_at(const TempSounding& sounding, double hpa) {
  for (const TempLevel& level : sounding.levels)
    if (abs(level.pressure - hpa * hectopascal) < 0.1 * hectopascal) return level;
  throw std::runtime_error("no level " + std::to_string(hpa));
}

void expect_wind(const std::optional<wind::Wind>& wind, double from_deg, Speed speed, double tolerance) {
  ASSERT_TRUE(wind);
  EXPECT_NEAR((*wind->direction_from() - TrueBearing::at(from_deg * degree)).in(degree), 0.0, tolerance);
  EXPECT_NEAR((wind->speed() - speed).in(knot), 0.0, tolerance);
}

TEST(Temp, ReadsEveryGroupOfTheTable) {
  for (const testing::Row& row : testing::read_table("temp_groups.csv")) {
    const std::string group = row.text("group"), what = row.text("what");
    SCOPED_TRACE(row.where() + ": " + group);
    if (what == "height") {
      const auto level = detail::standard_level(group);
      ASSERT_TRUE(level);
      const auto height = detail::read_height(group, detail::standard_level(*level));
      ASSERT_EQ(height.has_value(), row.has("value"));
      if (height) {
        EXPECT_NEAR(height->in(metre), row["value"], row["tolerance"]);
      }
    } else if (what == "pressure") {
      const auto hpa = detail::read_pressure_hpa(group);
      ASSERT_EQ(hpa.has_value(), row.has("value"));
      if (hpa) {
        EXPECT_NEAR(*hpa, row["value"], row["tolerance"]);
      }
    } else if (what == "temperature") {
      const auto read = detail::read_temp_temperature(group);
      ASSERT_TRUE(read);
      ASSERT_EQ(read->temperature_c.has_value(), row.has("value"));
      ASSERT_EQ(read->depression_k.has_value(), row.has("second"));
      if (read->temperature_c) {
        EXPECT_NEAR(*read->temperature_c, row["value"], row["tolerance"]);
      }
      if (read->depression_k) {
        EXPECT_NEAR(*read->depression_k, row["second"], row["tolerance"]);
      }
    } else {
      ASSERT_EQ(what, "wind");
      const auto read = detail::read_temp_wind(group, knot);
      ASSERT_TRUE(read);
      ASSERT_EQ(read->wind.has_value(), row.has("value"));
      if (read->wind) expect_wind(read->wind, row["value"], row["second"] * knot, row["tolerance"]);
    }
  }
}

TEST(Temp, KnowsTheHeightsOfTheStandardAtmosphere) {
  for (std::size_t i = 0; i < detail::standard_level_count(); ++i) {
    const detail::StandardLevel& level = detail::standard_level(i);
    const auto standard = air::pressure_altitude(level.hpa * hectopascal);
    if (!standard) continue;  // above the tropopause
    EXPECT_NEAR(level.standard_height_m, standard->from_origin().in(metre), 1.0) << level.hpa;
  }
}

TEST(Temp, ReadsPartAAlone) {
  const TempSounding s = one("USZZ01 ZZZZ 161200\n" + kPartA);
  EXPECT_EQ(s.station, "99123");
  EXPECT_EQ(iso8601_utc(s.time), "2027-05-16T12:00:00Z");
  EXPECT_TRUE(s.has_part_a);
  EXPECT_FALSE(s.has_part_b);
  ASSERT_EQ(s.levels.size(), 7u);
  const TempLevel& surface = level_at(s, 985);
  EXPECT_EQ(surface.kind, TempLevelKind::surface);
  EXPECT_EQ(surface.temperature, celsius(14.2));
  EXPECT_NEAR(in_celsius(*surface.dew_point), 12.2, 1e-9);
  expect_wind(surface.wind, 240, 8 * knot, 1e-9);
  EXPECT_TRUE(surface.height_computed);
  EXPECT_NEAR(surface.height->from_origin().in(metre), 245.0, 4.0);  // no level between: the inversion is not seen
  EXPECT_EQ(level_at(s, 850).height->from_origin(), 1490 * metre);
  EXPECT_FALSE(level_at(s, 850).height_computed);
  expect_wind(level_at(s, 925).wind, 245, 10 * knot, 1e-9);
  EXPECT_FALSE(level_at(s, 1000).temperature);  // below the ground
  EXPECT_FALSE(level_at(s, 400).height);
}

TEST(Temp, JoinsPartsAAndB) {
  for (const std::string& pasted : {kPartA + kPartB, kPartB + "\n\nand this came later:\n\n" + kPartA}) {
    const TempSounding s = one(pasted);
    EXPECT_TRUE(s.has_part_a && s.has_part_b);
    ASSERT_EQ(s.levels.size(), 9u);
    const TempLevel& inversion = level_at(s, 960);
    EXPECT_TRUE(inversion.height_computed);
    EXPECT_NEAR(inversion.height->from_origin().in(metre), 463.0, 1.0);
    EXPECT_EQ(inversion.temperature, celsius(16.0));
    expect_wind(inversion.wind, 245, 16 * knot, 1e-9);
    EXPECT_NEAR(level_at(s, 985).height->from_origin().in(metre), 245.0, 1.0);
    EXPECT_NEAR(level_at(s, 640).height->from_origin().in(metre), 3795.8, 5.0);  // 500 hPa is told to 10 m
    EXPECT_EQ(level_at(s, 640).temperature, celsius(-3.7));
  }
}

TEST(Temp, ASoundingBecomesALadder) {
  const auto ladder = ladder_of(one(kPartA + kPartB));
  ASSERT_TRUE(ladder);
  EXPECT_EQ(ladder->source, (wind::Source{wind::SourceKind::sounding, "99123",
                                          instant_of(*Date::of(2027, 5, 16), 12, 0, 0.0, UtcOffset{})}));
  ASSERT_EQ(ladder->rows.size(), 7u);  // neither the level below the ground nor the one without data
  EXPECT_NEAR(ladder->rows[0].altitude.from_origin().in(metre), 245.0, 1.0);
  // Geopotential 5700 m is 5705 m above the sea: h / (1 - h / 6356766 m).
  EXPECT_NEAR(ladder->rows[6].altitude.from_origin().in(metre), 5705.1, 0.1);
  EXPECT_FALSE(ladder->rows[5].wind);
  EXPECT_TRUE(ladder->rows[5].temperature);
  for (std::size_t i = 1; i < ladder->rows.size(); ++i)
    EXPECT_GT(ladder->rows[i].altitude, ladder->rows[i - 1].altitude);
}

TEST(Temp, PartBAloneHasNoHeights) {
  const Soundings parsed = read(kPartB);
  ASSERT_TRUE(parsed.value);
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.temp_no_heights");
  EXPECT_EQ(parsed.issues[0].code, Errc::no_data);
  EXPECT_EQ(ladder_of(parsed.value->front()).error().sentence.key, "issue.temp_empty");
}

TEST(Temp, TheDaySaysTheUnitOfTheWind) {
  EXPECT_NEAR(level_at(one(kPartA), 850).wind->speed().in(knot), 14.0, 1e-9);
  std::string metres = kPartA;
  metres.replace(metres.find("66121"), 5, "16121");
  EXPECT_NEAR(level_at(one(metres), 850).wind->speed().in(metre_per_second), 14.0, 1e-9);
}

TEST(Temp, AboveTheLastLevelWithAWindNoneIsLookedFor) {
  // Id 7: winds up to 700 hPa.
  const TempSounding s =
      one("TTAA 66127 99123 99985 14220 24008 85490 11056 25014 70081 01260 26020 50570 15762 40731 "
          "28967 30930 45368 25049 54567=");
  EXPECT_TRUE(level_at(s, 700).wind);
  EXPECT_FALSE(level_at(s, 500).wind);
  EXPECT_EQ(level_at(s, 300).temperature, celsius(-45.3));
  EXPECT_EQ(level_at(s, 250).height->from_origin(), 10490 * metre);
  // Id '/': no wind at all.
  EXPECT_FALSE(level_at(one("TTAA 6612/ 99123 99985 14220 85490 11056 70081 01260="), 850).wind);
  // Id 2 stands for 200 or 250 hPa: the wind of 200 may be missing.
  const TempSounding upper =
      one("TTAA 66122 99123 30930 45368 27050 25049 54567 27555 20193 55567 15376 56567 10632 60567=");
  EXPECT_TRUE(level_at(upper, 250).wind);
  EXPECT_FALSE(level_at(upper, 200).wind);
  EXPECT_EQ(level_at(upper, 150).height->from_origin(), 13760 * metre);
}

TEST(Temp, PassesOverTheOtherParts) {
  EXPECT_EQ(one("TTCC 66125 99123 70847 62574 28030=\n" + kPartA +
                "TTDD 6612/ 99123 11895 63774=\nPPBB 66120 99123 90012 "
                "24008 25010=\n")
                .levels.size(),
            7u);
}

TEST(Temp, SmallLettersAndWrappedLinesAreRead) {
  std::string wrapped = kPartA;
  std::replace(wrapped.begin(), wrapped.end(), ' ', '\n');
  EXPECT_EQ(one(wrapped).levels.size(), 7u);
  std::string small = "> " + kPartA;
  small.replace(2, 4, "ttaa");
  EXPECT_EQ(one(small).levels.size(), 7u);
}

struct Broken {
  std::string good, bad;
  std::string_view key, got;
  Errc code = Errc::bad_input;
};

void expect_broken(const std::string& whole, const Broken& broken) {
  std::string pasted = whole;
  pasted.replace(pasted.find(broken.good), broken.good.size(), broken.bad);
  SCOPED_TRACE(pasted);
  const Soundings parsed = read(pasted);
  ASSERT_EQ(parsed.issues.size(), 1u);
  const Issue& issue = parsed.issues.front();
  EXPECT_EQ(issue.sentence.key, broken.key);
  EXPECT_EQ(issue.got, broken.got);
  EXPECT_EQ(issue.code, broken.code);
  EXPECT_FALSE(issue.wanted.empty());
  std::size_t line_start = 0;
  for (int line = 1; line < issue.where.line; ++line) line_start = pasted.find('\n', line_start) + 1;
  EXPECT_EQ(pasted.substr(line_start + static_cast<std::size_t>(issue.where.column) - 1, broken.got.size()),
            broken.got);
}

TEST(Temp, NamesTheRuleThatABrokenPartABreaks) {
  static const std::array<Broken, 22> cases{
      {{"66121", "82121", "issue.temp_time", "82121"},
       {"66121", "66241", "issue.temp_time", "66241"},
       {"66121", "6612", "issue.temp_time", "6612"},
       {"66121", "00121", "issue.temp_time", "00121"},
       {" 99123", " 9912", "issue.temp_station", "9912"},
       {" 99985 14220 24008", " NIL", "issue.temp_nil", "99123", Errc::no_data},
       {"99985", "99385", "issue.temp_pressure", "99385"},
       {"99985", "9985", "issue.temp_group", "9985"},
       {"92778", "9Z778", "issue.temp_group", "9Z778"},
       {"92778 15258", "15258", "issue.temp_group", "15258"},
       {"50570 15762 27035 40/// ///// /////", "50570 40/// ///// /////", "issue.temp_pair", "50570"},
       {"11056", "1l056", "issue.temp_temperature", "1l056"},
       {"11056", "71056", "issue.temp_temperature", "71056"},
       {"11056", "97156", "issue.temp_temperature", "97156"},
       {"11056", "11053", "issue.temp_dew_point", "11053"},
       {"25014", "37014", "issue.temp_wind", "37014"},
       {"25014", "00014", "issue.temp_wind", "00014"},
       {"25014", "36514", "issue.temp_wind", "36514"},
       {"11056 25014", "25014", "issue.temp_pair", "25014"},
       {"11056 25014", "11056", "issue.temp_pair", "11056"},
       {"85490", "85390", "issue.temp_thickness", "70081", Errc::conflict},
       {"24008 00117", "24008 12345 00117", "issue.temp_group", "12345"}}};
  for (const Broken& broken : cases) {
    // Heights of 850 hPa 100 m off disagree with the levels below and above: both are told.
    if (broken.key == "issue.temp_thickness") {
      std::string pasted = kPartA;
      pasted.replace(pasted.find(broken.good), broken.good.size(), broken.bad);
      const Soundings parsed = read(pasted);
      ASSERT_GE(parsed.issues.size(), 1u);
      for (const Issue& issue : parsed.issues) EXPECT_EQ(issue.sentence.key, broken.key);
      EXPECT_EQ(parsed.issues.back().got, broken.got);
      EXPECT_EQ(parsed.issues.back().code, broken.code);
    } else {
      expect_broken(kPartA, broken);
    }
  }
}

TEST(Temp, NamesTheRuleThatABrokenPartBBreaks) {
  static const std::array<Broken, 11> cases{
      {{"11960 16056", "12960 16056", "issue.temp_group", "12960"},
       {"11960 16056", "1I960 16056", "issue.temp_group", "1I960"},
       {"11960 16056", "11990 16056", "issue.temp_pressure", "11990"},
       {"11960 16056", "22960 16056", "issue.temp_group", "22960"},
       {"11960 16056 ", "", "issue.temp_order", "22925"},
       {"33850 11056", "33850", "issue.temp_pair", "33850"},
       {"16056", "96056", "issue.temp_temperature", "96056"},
       {"16056", "16O56", "issue.temp_pair", "11960"},
       {"66500 15762", "66500", "issue.temp_pair", "66500"},
       {"24516", "37516", "issue.temp_wind", "37516"},
       {"22700 26020", "22700 27020", "issue.temp_conflict", "22700", Errc::conflict}}};
  for (const Broken& broken : cases) {
    expect_broken(kPartA + kPartB, broken);
  }
}

TEST(Temp, KeepsNothingOfWhatItCannotTrust) {
  const auto with = [](const std::string& good, const std::string& bad) {
    std::string pasted = kPartA;
    pasted.replace(pasted.find(good), good.size(), bad);
    return level_at(read(pasted).value.value().at(0), 850);
  };
  const TempLevel pair = with("11056 25014", "25014");
  EXPECT_FALSE(pair.temperature || pair.dew_point || pair.wind);
  EXPECT_TRUE(pair.height);
  EXPECT_FALSE(with("11056", "11053").dew_point);
  EXPECT_TRUE(with("11056", "11053").temperature);
  EXPECT_FALSE(with("25014", "37014").wind);
  EXPECT_TRUE(with("25014", "37014").temperature);
}

TEST(Temp, AHeightThatDoesNotRiseIsLeftOut) {
  // 1000 hPa at 480 m and 925 hPa at 300 m: without temperatures nothing but their order can be held against them.
  const Soundings parsed = read("TTAA 66128 99123 00480 ///// 24008 92300 ///// 24510 85490 ///// 25014=");
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.temp_height");
  EXPECT_FALSE(level_at(parsed.value->front(), 925).height);
}

TEST(Temp, APartToldTwiceStandsOnce) {
  EXPECT_EQ(one(kPartA + kPartA).levels.size(), 7u);
  std::string other = kPartA;
  other.replace(other.find("25014"), 5, "25015");
  const Soundings parsed = read(kPartA + other);
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.temp_repeated");
  expect_wind(level_at(parsed.value->front(), 850).wind, 250, 14 * knot, 1e-9);
}

TEST(Temp, SeveralStationsAreKeptApart) {
  std::string other = kPartA;
  other.replace(other.find("99123"), 5, "99124");
  const Soundings parsed = read(kPartA + other + kPartB);
  EXPECT_TRUE(parsed.issues.empty());
  ASSERT_EQ(parsed.value->size(), 2u);
  EXPECT_TRUE(parsed.value->at(0).has_part_b);
  EXPECT_FALSE(parsed.value->at(1).has_part_b);
}

TEST(Temp, PassesOverProseThatFollowsWithoutAnEnd) {
  const Soundings parsed = read(
      "TTAA 66121 99123 99985 14220 24008 92778 15258 24510\nwe shall meet at the usual place and look at what the "
      "wind "
      "does");
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.temp_group");
  EXPECT_EQ(parsed.issues[0].got, "we");
  EXPECT_EQ(parsed.value->front().levels.size(), 2u);
}

// A temperature may look like the mark of a level: 15258 like 150 hPa.
TEST(Temp, AMisprintInAMarkCostsItsLevelAlone) {
  const TempSounding good = one(kPartA);
  for (const std::string mark : {"99985", "00117", "92778", "85490", "70081", "50570"}) {
    std::string pasted = kPartA;
    pasted.replace(pasted.find(mark), 5, "X" + mark.substr(1));
    const auto levels = read(pasted).value.value().at(0).levels;
    EXPECT_EQ(levels.size(), good.levels.size() - 1) << mark;
    for (const TempLevel& level : levels) {
      EXPECT_EQ(level.temperature, level_at(good, level.pressure.in(hectopascal)).temperature) << mark;
      EXPECT_EQ(level.wind, level_at(good, level.pressure.in(hectopascal)).wind) << mark;
    }
  }
}

TEST(Temp, TellsThatATextHoldsNoSounding) {
  for (const std::string pasted :
       {"", " \n", "=", "TTAA", "TTAA and TTBB are parts", "METAR ZZQA 161250Z 30008KT", "TTCC 66125 99123 70847"}) {
    const Soundings parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.temp_none") << pasted;
  }
}

// Soundings whose heights others have worked out: a check of the hypsometric equation.
TEST(Temp, HeightsAgreeWithSoundingsOfOthers) {
  const auto& rows = testing::read_table("temp_sounding.csv");
  for (const std::string name : {"measured", "warm and moist"}) {
    std::vector<TempLevel> levels;
    std::vector<const testing::Row*> of_it;
    for (const testing::Row& row : rows) {
      if (row.text("sounding") != name) continue;
      of_it.push_back(&row);
      levels.push_back({.kind = TempLevelKind::significant,
                        .pressure = row["pressure_hpa"] * hectopascal,
                        .temperature = celsius(row["temperature_c"]),
                        .dew_point = celsius(row["dew_point_c"])});
    }
    ASSERT_GE(levels.size(), 12u) << name;
    levels[0].height = GeopotentialAltitude::at((*of_it[0])["height_m"] * metre);
    detail::fill_heights(levels);
    double worst_m = 0.0;
    for (std::size_t i = 0; i < levels.size(); ++i) {
      SCOPED_TRACE(of_it[i]->where());
      const double off_m = levels[i].height->from_origin().in(metre) - (*of_it[i])["height_m"];
      EXPECT_NEAR(off_m, 0.0, (*of_it[i])["tolerance"]);
      worst_m = std::max(worst_m, std::abs(off_m));
    }
    RecordProperty(name == "measured" ? "worst_measured_m" : "worst_moist_m", std::to_string(worst_m));
  }
}

TEST(Temp, LayersOnTopOfEachOtherAddUp) {
  Random random = testing::seeded("Temp.Thickness");
  for (int i = 0; i < 1000; ++i) {
    const double bottom = 600 + 450 * random.uniform(), top = 100 + 400 * random.uniform();
    const double middle = top + (bottom - top) * random.uniform();
    const Temperature t0 = celsius(-40 + 70 * random.uniform()), t1 = celsius(-70 + 60 * random.uniform());
    const double part = math::log(bottom / middle) / math::log(bottom / top);
    const Temperature tm = t0 + part * (t1 - t0);
    const Length whole = detail::thickness(bottom * hectopascal, t0, top * hectopascal, t1);
    const Length lower = detail::thickness(bottom * hectopascal, t0, middle * hectopascal, tm);
    const Length upper = detail::thickness(middle * hectopascal, tm, top * hectopascal, t1);
    ASSERT_NEAR((lower + upper).in(metre), whole.in(metre), 1e-6);
    ASSERT_GT(lower, Length{});
  }
}

void expect_lawful(const std::string& pasted, const Soundings& parsed) {
  ASSERT_TRUE(parsed.value || !parsed.issues.empty());
  std::vector<int> columns(1);
  for (const char c : pasted) {
    if (c == '\n') {
      columns.push_back(0);
    } else {
      ++columns.back();
    }
  }
  for (const Issue& issue : parsed.issues) {
    ASSERT_FALSE(issue.wanted.empty());
    if (issue.sentence.key == "issue.temp_none") continue;
    ASSERT_GE(issue.where.line, 1);
    ASSERT_LE(static_cast<std::size_t>(issue.where.line), columns.size());
    ASSERT_GE(issue.where.column, 1);
    ASSERT_LE(issue.where.column, columns[static_cast<std::size_t>(issue.where.line) - 1]);
    ASSERT_FALSE(issue.got.empty());
  }
  if (!parsed.value) return;
  for (const TempSounding& s : *parsed.value) {
    ASSERT_EQ(s.station.size(), 5u);
    for (std::size_t i = 0; i < s.levels.size(); ++i) {
      const TempLevel& level = s.levels[i];
      if (i > 0) {
        ASSERT_LT(level.pressure, s.levels[i - 1].pressure);
      }
      if (level.dew_point) {
        ASSERT_TRUE(level.temperature && *level.dew_point <= *level.temperature);
      }
      if (level.wind) {
        ASSERT_LE(level.wind->speed(), 150.001 * metre_per_second);
      }
    }
    const auto ladder = ladder_of(s);
    if (!ladder) continue;
    for (std::size_t i = 1; i < ladder->rows.size(); ++i)
      ASSERT_GT(ladder->rows[i].altitude, ladder->rows[i - 1].altitude);
  }
}

TEST(Temp, IsLawfulForAnyText) {
  Random random = testing::seeded("Temp.AnyText");
  static const std::array<std::string_view, 44> scraps{
      "TTAA",  "TTBB",  "TTCC",  "66121", "6612/", "82121", "99123", "NIL",   "99985", "99013", "00117",
      "92778", "85490", "70081", "50570", "40731", "30930", "25049", "20193", "15376", "10632", "88999",
      "77999", "31313", "21212", "51515", "00985", "11960", "22925", "33///", "14220", "11056", "97199",
      "24008", "25514", "/////", "=",     "\n",    "\n\n",  "word",  "1O056", "\xFF",  "123",   "00000"};
  for (int i = 0; i < 4000; ++i) {
    std::string text = random.below(3) == 0 ? "TTAA 66121 99123 " : random.below(2) == 0 ? "TTBB 66121 99123 " : "";
    const std::uint64_t count = random.below(40);
    for (std::uint64_t k = 0; k < count; ++k) {
      text += scraps[random.below(scraps.size())];
      if (random.below(20) != 0) text += ' ';
      if (random.below(30) == 0 && !text.empty())
        text[random.below(text.size())] = static_cast<char>(random.below(256));
    }
    SCOPED_TRACE(text);
    expect_lawful(text, read(text));
    if (HasFatalFailure()) return;
  }
}

// One group changed in one figure never costs more than its own level, except in the header.
TEST(Temp, AMisprintIsLawful) {
  Random random = testing::seeded("Temp.Misprint");
  for (int i = 0; i < 3000; ++i) {
    std::string text = kPartA + kPartB;
    const std::size_t at = random.below(text.size());
    text[at] = "0123456789/ X"[random.below(13)];
    SCOPED_TRACE(text);
    expect_lawful(text, read(text));
    if (HasFatalFailure()) return;
  }
}

std::string figures(int value, int width) {
  std::string digits = std::to_string(value);
  digits.insert(0, static_cast<std::size_t>(std::max(0, width - static_cast<int>(digits.size()))), '0');
  return digits;
}

// One level of the air that a message is printed from; its temperature is one that the code can say exactly.
struct Truth {
  int hpa = 0;
  int tenths = 0;      // even where positive, odd where negative
  int depression = 0;  // as coded
  double height_m = 0.0;
  int from_deg = 0, speed = 0;
  bool surface = false, standard = false;
  [[nodiscard]] std::string temperature_group() const { return figures(std::abs(tenths), 3) + figures(depression, 2); }
  [[nodiscard]] std::string wind_group() const {
    return figures(from_deg / 10, 2) + figures(speed + (from_deg % 10 == 5 ? 500 : 0), 3);
  }
  [[nodiscard]] TempLevel level() const {
    const double depression_k = depression <= 50 ? depression / 10.0 : depression - 50;
    return {.kind = TempLevelKind::significant,
            .pressure = hpa * hectopascal,
            .temperature = celsius(tenths / 10.0),
            .dew_point = celsius(tenths / 10.0 - depression_k)};
  }
};

std::vector<Truth> random_air(Random& random) {
  const auto pick = [&](int low, int high) {
    return low + static_cast<int>(random.below(static_cast<std::size_t>(high) - static_cast<std::size_t>(low) + 1));
  };
  std::vector<Truth> air(1);
  air[0].hpa = pick(870, 1045);
  air[0].surface = true;
  std::vector<int> pressures;
  for (const int standard : {1000, 925, 850, 700, 500, 400, 300})
    if (standard < air[0].hpa) pressures.push_back(standard);
  for (int i = pick(0, 8); i > 0; --i) pressures.push_back(pick(310, air[0].hpa - 1));
  std::sort(pressures.rbegin(), pressures.rend());
  pressures.erase(std::unique(pressures.begin(), pressures.end()), pressures.end());
  for (const int hpa : pressures) {
    air.emplace_back();
    air.back().hpa = hpa;
    air.back().standard =
        hpa == 1000 || hpa == 925 || hpa == 850 || hpa == 700 || hpa == 500 || hpa == 400 || hpa == 300;
  }
  air[0].height_m = pick(-20, 60) + (1013.0 - air[0].hpa) * 8.3;
  for (std::size_t i = 0; i < air.size(); ++i) {
    Truth& t = air[i];
    const double mean_c = 15.0 - 0.0065 * 44330.8 * (1.0 - math::pow(t.hpa / 1013.25, 0.190263));
    t.tenths = static_cast<int>(10 * mean_c) + pick(-40, 40);
    if ((t.tenths > 0 && t.tenths % 2 != 0) || (t.tenths < 0 && t.tenths % 2 == 0)) t.tenths += 1;
    if (t.tenths == 0) t.tenths = 2;
    t.depression = pick(0, 1) == 0 ? pick(0, 50) : pick(56, 80);
    t.from_deg = 5 * pick(1, 72);
    t.speed = pick(1, 120);
    if (i == 0) continue;
    // The hypsometric equation by many thin layers.
    const Truth& below = air[i - 1];
    const double t0 = detail::virtual_temperature_of(below.level()).from_origin().in(kelvin);
    const double t1 = detail::virtual_temperature_of(t.level()).from_origin().in(kelvin);
    const double step = math::log(1.0 * below.hpa / t.hpa) / 200;
    double sum = 0.0;
    for (int k = 0; k < 200; ++k) sum += step * (t0 + (t1 - t0) * (k + 0.5) / 200);
    t.height_m = below.height_m + 287.053 / 9.80665 * sum;
  }
  return air;
}

TEST(Temp, GivesBackTheAirThatAMessageWasPrintedFrom) {
  Random random = testing::seeded("Temp.RoundTrip");
  double worst_m = 0.0;
  for (int i = 0; i < 2000; ++i) {
    const std::vector<Truth> air = random_air(random);
    const bool knots = random.below(2) == 0;
    std::string a = std::string{"TTAA "} + (knots ? "66" : "16") + "123 99123";
    std::string b = std::string{"TTBB "} + (knots ? "66" : "16") + "128 99123", winds = " 21212";
    int number = 0;
    for (const Truth& t : air) {
      if (t.surface) a += " 99" + figures(t.hpa % 1000, 3) + " " + t.temperature_group() + " " + t.wind_group();
      if (t.standard) {
        const int height = static_cast<int>(std::lround(t.height_m));
        const std::string coded = t.hpa == 1000 ? figures(height < 0 ? 500 - height : height, 3)
                                  : t.hpa > 500 ? figures(height % 1000, 3)
                                                : figures(static_cast<int>(std::lround(t.height_m / 10)) % 1000, 3);
        a += " " + figures(t.hpa / 10 % 100, 2) + coded + " " + t.temperature_group() + " " + t.wind_group();
      }
      const std::string mark = std::string(2, static_cast<char>('0' + number)) + figures(t.hpa % 1000, 3);
      number = number % 9 + 1;
      b += " " + mark + " " + t.temperature_group();
      winds += " " + mark + " " + t.wind_group();
    }
    const std::string text = random.below(2) == 0 ? a + " 88999 77999=\n" + b + winds + " 31313 47808=\n"
                                                  : b + winds + " 51515 10164\n\nhello\n\n" + a + "=\n";
    SCOPED_TRACE(text);
    const TempSounding s = one(text);
    ASSERT_EQ(s.levels.size(), air.size());
    for (std::size_t k = 0; k < air.size(); ++k) {
      const TempLevel& level = s.levels[k];
      ASSERT_EQ(level.pressure, air[k].hpa * hectopascal);
      ASSERT_NEAR(in_celsius(*level.temperature), air[k].tenths / 10.0, 1e-9);
      ASSERT_NEAR((*level.dew_point - *air[k].level().dew_point).in(kelvin), 0.0, 1e-9);
      expect_wind(level.wind, air[k].from_deg, air[k].speed * (knots ? knot : metre_per_second), 1e-6);
      const double off_m = std::abs(level.height->from_origin().in(metre)-air[k].height_m);
      // Standard levels are told to 1 m or 10 m, and what lies between is fitted to them.
      ASSERT_LE(off_m, air[k].hpa >= 700 ? 0.6 : 6.0);
      worst_m = std::max(worst_m, off_m);
    }
    expect_lawful(text, read(text));
    if (HasFatalFailure()) return;
  }
  RecordProperty("worst_m", std::to_string(worst_m));
}

}  // namespace
}  // namespace pappus::text
