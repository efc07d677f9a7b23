#include "formats/text/fb/fb.hpp"

#include <array>
#include <map>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::text {
namespace {

using Bulletins = Parsed<std::vector<FbBulletin>>;

const Instant kNear = instant_of(*Date::of(2027, 5, 15), 13, 0, 0.0, UtcOffset{});

Instant on(int month, int day, int hours) {
  return instant_of(*Date::of(2027, month, day), hours, 0, 0.0, UtcOffset{});
}

const std::string kHead =
    "DATA BASED ON 151200Z\n"
    "VALID 151800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\n\n"
    "FT  3000    6000    9000   12000   18000   24000  30000  34000  39000\n";
// Each group ends under the end of its level's figures.
const std::string kPlain = "ZQA 2110 2213+18 2110+13 1808+07 2216-06 2225-17 263333 264543 265654\n";
const std::string kHigh = "ZQB              9900+13 1808+07 2216-06 2225-17 263333 264543 731960\n";
constexpr std::size_t kPlainLine = 5;

Bulletins read(const std::string& pasted) { return parse_fb(pasted, kNear); }

FbBulletin one(const std::string& pasted) {
  const Bulletins parsed = read(pasted);
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " at " << issue.got;
  if (!parsed.value || parsed.value->size() != 1) {
    ADD_FAILURE() << "not one forecast: " << pasted;
    return {};
  }
  return parsed.value->front();
}

// What is at one level of the one station.
FbGroup group_at(const FbBulletin& bulletin, double level_ft) {
  for (const FbGroup& group : bulletin.stations.at(0).groups)
    if (abs(group.level - amsl(level_ft * foot)) < 0.1 * foot) return group;
  ADD_FAILURE() << "no level " << level_ft;
  return {};
}

std::string kind_of(const FbGroup& group) {
  static const std::map<FbWind, std::string> names{{FbWind::blank, "blank"},
                                                   {FbWind::forecast, "forecast"},
                                                   {FbWind::at_least, "at_least"},
                                                   {FbWind::light_and_variable, "light_and_variable"},
                                                   {FbWind::unreadable, "unreadable"}};
  return names.at(group.kind);
}

// A line of kHead's table with this group at its level.
std::string line_with(int level_ft, const std::string& group) {
  static const std::array<std::pair<int, const char*>, 9> plain{{{3000, "2110"},
                                                                 {6000, "2213+18"},
                                                                 {9000, "2110+13"},
                                                                 {12000, "1808+07"},
                                                                 {18000, "2216-06"},
                                                                 {24000, "2225-17"},
                                                                 {30000, "263333"},
                                                                 {34000, "264543"},
                                                                 {39000, "265654"}}};
  std::string line = "ZQA";
  for (const auto& [level, text] : plain) {
    const std::string shown = level == level_ft ? group : text;
    const std::size_t width = std::string{text}.size();
    line += ' ' + shown;
    if (shown.size() < width) line.append(width - shown.size(), ' ');
  }
  return line + "\n";
}

TEST(Fb, ReadsEveryGroupOfTheTable) {
  for (const testing::Row& row : testing::read_table("fb_groups.csv")) {
    SCOPED_TRACE(row.where() + ": " + row.text("group"));
    const Bulletins parsed = read(kHead + line_with(static_cast<int>(row["level_ft"]), row.text("group")));
    ASSERT_TRUE(parsed.value);
    // A sign where none is needed makes the group too wide for its place.
    EXPECT_EQ(parsed.issues.size(), row.text("id") == "FB-10" ? 1u : 0u);
    const FbGroup group = group_at(parsed.value->front(), row["level_ft"]);
    EXPECT_EQ(kind_of(group), row.text("kind"));
    EXPECT_EQ(group.text, row.text("group"));
    ASSERT_EQ(group.wind.has_value(), row.has("speed_kt"));
    if (group.wind) {
      const TrueBearing expected = TrueBearing::at(row["from_deg"] * degree);
      EXPECT_NEAR((*group.wind->direction_from() - expected).in(degree), 0.0, row["tolerance"]);
      EXPECT_NEAR(group.wind->speed().in(knot), row["speed_kt"], row["tolerance"]);
    }
    ASSERT_EQ(group.temperature.has_value(), row.has("temperature_c"));
    if (group.temperature) {
      EXPECT_NEAR(in_celsius(*group.temperature), row["temperature_c"], row["tolerance"]);
    }
  }
}

TEST(Fb, ReadsAWholeForecastWithTextAroundIt) {
  const FbBulletin b = one("Good morning, valid for today:\n000\nFBUS31 ZZZZ 151358\nFB1ZZ1\n" + kHead + kPlain +
                           kHigh + "\nThat is all.\n");
  EXPECT_EQ(b.based_on, on(5, 15, 12));
  EXPECT_EQ(b.valid, on(5, 15, 18));
  EXPECT_EQ(b.use_from, on(5, 15, 14));
  EXPECT_EQ(b.use_to, on(5, 15, 21));
  ASSERT_EQ(b.levels.size(), 9u);
  EXPECT_EQ(b.levels.front(), amsl(3000 * foot));
  EXPECT_EQ(b.levels.back(), amsl(39000 * foot));
  ASSERT_EQ(b.stations.size(), 2u);
  EXPECT_EQ(b.stations[1].id, "ZQB");
  EXPECT_EQ(b.stations[1].groups[0].kind, FbWind::blank);
  EXPECT_EQ(b.stations[1].groups[1].kind, FbWind::blank);
  EXPECT_EQ(b.stations[1].groups[2].kind, FbWind::light_and_variable);
  EXPECT_FALSE(b.stations[0].by_order);
}

TEST(Fb, AStationBecomesALadder) {
  const FbBulletin b = one(kHead + kPlain + kHigh);
  const auto ladder = ladder_of(b, "zqb");
  ASSERT_TRUE(ladder);
  EXPECT_EQ(ladder->source, (wind::Source{wind::SourceKind::forecast, "ZQB", on(5, 15, 18)}));
  ASSERT_EQ(ladder->rows.size(), 7u);
  EXPECT_EQ(ladder->rows[0].altitude, amsl(9000 * foot));
  EXPECT_FALSE(ladder->rows[0].wind);  // light and variable: no direction is made up
  EXPECT_EQ(ladder->rows[0].temperature, celsius(13));
  EXPECT_EQ(ladder->rows[6].wind, wind::Wind::from(TrueBearing::at(230 * degree), 119 * knot));
  const auto none = ladder_of(b, "ZQC");
  ASSERT_FALSE(none);
  EXPECT_EQ(none.error().code, Errc::not_found);
  EXPECT_EQ(none.error().wanted, "one of ZQA, ZQB");
}

// Job check W19.
TEST(Fb, KnowsWhatTheForecastLeavesBlank) {
  const auto expected = [](double level, double station) {
    return fb_expected(amsl(level * foot), amsl(station * foot));
  };
  EXPECT_EQ(expected(6000, 4501).wind, FbRule::left_blank);
  EXPECT_EQ(expected(6000, 4499).wind, FbRule::given);
  EXPECT_EQ(expected(6000, 4500).wind, FbRule::either);
  EXPECT_EQ(expected(6000, 3501).temperature, FbRule::left_blank);
  EXPECT_EQ(expected(6000, 3499).temperature, FbRule::given);
  EXPECT_EQ(expected(6000, 3500).temperature, FbRule::either);
  EXPECT_EQ(expected(3000, 100).wind, FbRule::given);
  EXPECT_EQ(expected(3000, 100).temperature, FbRule::left_blank);
}

TEST(Fb, ALadderAgainstTheRuleOfBlanksIsRefused) {
  const FbBulletin b = one(kHead + kPlain);
  EXPECT_TRUE(ladder_of(b, "ZQA", amsl(1200 * foot)));
  const auto wind = ladder_of(b, "ZQA", amsl(1600 * foot));
  ASSERT_FALSE(wind);
  EXPECT_EQ(wind.error().sentence.key, "issue.fb_slipped");
  EXPECT_EQ(wind.error().code, Errc::conflict);
  EXPECT_EQ(wind.error().got, "2110");
  EXPECT_EQ(wind.error().where, (Where{"", kPlainLine, 5, ""}));
  const FbBulletin high = one(kHead + kHigh);
  EXPECT_TRUE(ladder_of(high, "ZQB", amsl(6400 * foot)));
  EXPECT_EQ(ladder_of(high, "ZQB", amsl(6600 * foot)).error().got, "9900+13");  // its temperature
}

TEST(Fb, GroupsBelongToTheLevelTheyStandUnder) {
  // A wind alone stands at the left of its place.
  const FbBulletin b = one(kHead + "ZQA      2213    2110+13 1808+07 2216-06 2225-17 263333 264543 265654\n");
  EXPECT_EQ(group_at(b, 3000).kind, FbWind::blank);
  EXPECT_EQ(group_at(b, 6000).wind, wind::Wind::from(TrueBearing::at(220 * degree), 13 * knot));
  EXPECT_FALSE(group_at(b, 6000).temperature);
}

TEST(Fb, ASqueezedPageIsReadByOrderWhereThatIsCertain) {
  const std::string head = "VALID 151800Z FOR USE 1400-2100Z. TEMPS NEG ABV 24000\n";
  const std::string levels = "FT 3000 6000 9000 12000 18000 24000 30000 34000 39000\n";
  // Those without a sign can only be the three above 24,000 ft.
  for (const std::string& table :
       std::vector<std::string>{levels + "ZQA 2213 2110+13 1808+07 2216-06 2225-17 263333 264543 265654\n",
                                "FT  3000    6000    9000   12000   18000   24000  30000  34000  39000\n"
                                "ZQA 2213 2110+13 1808+07 2216-06 2225-17 263333 264543 265654\n",
                                std::string{"FT 3000 6000 9000 12000 18000\n24000 30000 34000 39000\n"
                                            "ZQA 2213 2110+13 1808+07 2216-06\n2225-17 263333 264543 265654\n"}}) {
    SCOPED_TRACE(table);
    const Bulletins parsed = read(head + table);
    ASSERT_TRUE(parsed.value);
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.fb_by_order");
    EXPECT_TRUE(parsed.value->front().stations[0].by_order);
    EXPECT_EQ(group_at(parsed.value->front(), 3000).kind, FbWind::blank);
    EXPECT_EQ(group_at(parsed.value->front(), 6000).text, "2213");
    EXPECT_EQ(group_at(parsed.value->front(), 39000).text, "265654");
  }
}

TEST(Fb, ALineThatCannotBeLaidAgainstTheLevelsIsLeftOut) {
  const std::string head = "VALID 151800Z\n";
  for (const std::string& table : {// Cut off on the right, and nothing tells which levels are left.
                                   std::string{"FT 3000 6000 9000 12000 18000 24000 30000\nZQA 2213 2110+13 1808+07\n"},
                                   // No level above 24,000 ft to count from.
                                   std::string{"FT 3000 6000 9000 12000\nZQA 2110+13 1808+07 1810+01\n"},
                                   // More groups than levels.
                                   std::string{"FT 3000 6000\nZQA 2110 1808+07 1810+01\n"}}) {
    SCOPED_TRACE(table);
    const Bulletins parsed = read(head + table);
    EXPECT_FALSE(parsed.value);
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.fb_columns");
    EXPECT_EQ(parsed.issues[0].got, "ZQA");
  }
}

TEST(Fb, SeveralForecastsInOneTextAreKeptApart) {
  const Bulletins parsed =
      read(kHead + kPlain + "\nDATA BASED ON 151200Z\nVALID 160000Z   FOR USE 2100-0600Z. TEMPS NEG ABV 24000\n" +
           kHead.substr(kHead.find("FT")) + kHigh);
  EXPECT_TRUE(parsed.issues.empty());
  ASSERT_EQ(parsed.value->size(), 2u);
  EXPECT_EQ(parsed.value->at(1).valid, on(5, 16, 0));
  EXPECT_EQ(parsed.value->at(1).use_from, on(5, 15, 21));
  EXPECT_EQ(parsed.value->at(1).use_to, on(5, 16, 6));
  EXPECT_EQ(parsed.value->at(1).based_on, on(5, 15, 12));
  EXPECT_EQ(parsed.value->at(1).stations.at(0).id, "ZQB");
}

TEST(Fb, ASecondTableOfTheSameTimesIsAForecastOfItsOwn) {
  const Bulletins parsed = read(kHead + kPlain + "FT  1000    1500    2000\nZQC 2110    2210    2310\n");
  EXPECT_TRUE(parsed.issues.empty());
  ASSERT_EQ(parsed.value->size(), 2u);
  EXPECT_EQ(parsed.value->at(1).valid, parsed.value->at(0).valid);
  EXPECT_EQ(parsed.value->at(1).levels.size(), 3u);
  EXPECT_EQ(parsed.value->at(1).stations.at(0).groups[1].text, "2210");
}

TEST(Fb, TheSignIsImpliedAboveTheStatedLevel) {
  const FbBulletin b =
      one("VALID 151800Z FOR USE 1400-2100Z. TEMPS NEG ABV 18000\nFT  3000   18000   24000\n"
          "ZQA 2110 2216-06  222517\n");
  EXPECT_EQ(group_at(b, 24000).temperature, celsius(-17));
  EXPECT_EQ(b.negative_above, amsl(18000 * foot));
}

TEST(Fb, SmallLettersAndMailQuotesAreRead) {
  const FbBulletin b =
      one("> valid 151800z   for use 1400-2100z. temps neg abv 24000\n> ft  3000    6000    9000\n> zqa      2213+18 "
          "2110+13\n");
  EXPECT_EQ(b.stations.at(0).id, "ZQA");
  EXPECT_EQ(group_at(b, 6000).text, "2213+18");
}

// What is wrong, in kPlain or the head, and the rule that it breaks.
struct Broken {
  std::string good, bad;
  std::string_view key, got;
  Errc code = Errc::bad_input;
};

TEST(Fb, NamesTheRuleThatABrokenLineBreaks) {
  static const std::array<Broken, 24> cases{
      {{"2213+18", "22I3+18", "issue.fb_group", "22I3+18"},
       {"2213+18", "2213+1", "issue.fb_group", "2213+1"},
       {"2213+18", "2213*18", "issue.fb_group", "2213*18"},
       {"2213+18", "3713+18", "issue.fb_wind", "3713+18"},
       {"2213+18", "5013+18", "issue.fb_wind", "5013+18"},
       {"2213+18", "8713+18", "issue.fb_wind", "8713+18"},
       {"2213+18", "9813+18", "issue.fb_wind", "9813+18"},
       {"2213+18", "0013+18", "issue.fb_wind", "0013+18"},
       {"2213+18", "0000+18", "issue.fb_wind", "0000+18"},
       {"2213+18", "9905+18", "issue.fb_wind", "9905+18"},
       {"2213+18", "2200+18", "issue.fb_wind", "2200+18"},
       {"2213+18", " 221318", "issue.fb_sign", "221318"},
       {"2213+18", "2213+65", "issue.fb_temperature", "2213+65"},
       {"263333", "263395", "issue.fb_temperature", "263395"},
       {"2110 2213+18", "2110+18     ", "issue.fb_by_order", "ZQA", Errc::no_data},
       {"2216-06", "       ", "issue.fb_hole", "ZQA", Errc::no_data},
       {"265654", "", "issue.fb_columns", "ZQA"},
       {"151800Z", "321800Z", "issue.fb_time", "321800Z"},
       {"151800Z", "15180Z", "issue.fb_time", "15180Z"},
       {"151200Z", "991200Z", "issue.fb_time", "991200Z"},
       {"1400-2100Z", "1400-21OOZ", "issue.fb_use", "1400-21OOZ."},
       {"ABV 24000", "ABV 24OOO", "issue.fb_negative", "24OOO"},
       {" 6000 ", " 6OOO ", "issue.fb_levels", "6OOO"},
       {"VALID 151800Z ", "", "issue.fb_no_valid", "FT"}}};
  for (const Broken& broken : cases) {
    std::string pasted = kHead + kPlain;
    pasted.replace(pasted.find(broken.good), broken.good.size(), broken.bad);
    SCOPED_TRACE(pasted);
    const Bulletins parsed = read(pasted);
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
}

TEST(Fb, ALineCutOffStandsWhereItsPlacesCanBeSeen) {
  const Bulletins parsed = read(kHead + "ZQA      2213+18 2110+13 1808+07\n");
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.fb_hole");
  EXPECT_EQ(group_at(parsed.value->front(), 12000).text, "1808+07");
  EXPECT_EQ(group_at(parsed.value->front(), 18000).kind, FbWind::blank);
}

TEST(Fb, KeepsNothingOfWhatItCannotTrust) {
  const auto with = [](const std::string& good, const std::string& bad) {
    std::string pasted = kHead + kPlain;
    pasted.replace(pasted.find(good), good.size(), bad);
    return group_at(read(pasted).value.value().at(0), 6000);
  };
  EXPECT_FALSE(with("2213+18", "22I3+18").wind);
  EXPECT_EQ(with("2213+18", "22I3+18").kind, FbWind::unreadable);
  EXPECT_FALSE(with("2213+18", "3713+18").wind);
  EXPECT_EQ(with("2213+18", "3713+18").temperature, celsius(18));  // what was understood stands
  EXPECT_FALSE(with("2213+18", " 221318").temperature);
  EXPECT_TRUE(with("2213+18", " 221318").wind);
}

TEST(Fb, NoTemperatureIsTakenWhereNoneIsForecast) {
  const Bulletins parsed = read("VALID 151800Z\nFT     3000    6000    9000\nZQA 2110+20 2213+18 2110+13\n");
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.fb_temperature_low");
  EXPECT_FALSE(group_at(parsed.value->front(), 3000).temperature);
  EXPECT_TRUE(group_at(parsed.value->front(), 3000).wind);
}

TEST(Fb, AStationToldTwiceStandsOnce) {
  EXPECT_EQ(one(kHead + kPlain + kPlain).stations.size(), 1u);
  const Bulletins parsed = read(kHead + kPlain + "ZQA 9900" + kPlain.substr(8));
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.fb_repeated");
  EXPECT_EQ(group_at(parsed.value->front(), 3000).text, "2110");
}

TEST(Fb, ALadderWithoutAnythingIsRefused) {
  const Bulletins parsed = read("VALID 151800Z\nFT  3000\nZQA 9900\n");
  ASSERT_TRUE(parsed.value);
  EXPECT_EQ(ladder_of(parsed.value->front(), "ZQA").error().sentence.key, "issue.fb_blank");
}

TEST(Fb, TellsThatATextHoldsNoForecast) {
  for (const std::string pasted : {"", "  \n\n", "=", "VALID", "valid until noon, based on experience", "FT", "FT 30",
                                   "METAR ZZQA 161250Z 30008KT CAVOK", "for use", "VALID 151800Z and nothing else"}) {
    const Bulletins parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.fb_none") << pasted;
  }
}

void expect_lawful(const std::string& pasted, const Bulletins& parsed) {
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
    if (issue.sentence.key == "issue.fb_none") continue;
    ASSERT_GE(issue.where.line, 1);
    ASSERT_LE(static_cast<std::size_t>(issue.where.line), columns.size());
    ASSERT_GE(issue.where.column, 1);
    ASSERT_LE(issue.where.column, columns[static_cast<std::size_t>(issue.where.line) - 1]);
    ASSERT_FALSE(issue.got.empty());
  }
  if (!parsed.value) return;
  for (const FbBulletin& b : *parsed.value) {
    ASSERT_FALSE(b.stations.empty());
    for (std::size_t k = 1; k < b.levels.size(); ++k) ASSERT_LT(b.levels[k - 1], b.levels[k]);
    if (b.use_from) {
      ASSERT_TRUE(*b.use_from <= b.valid && b.valid <= *b.use_to);
    }
    for (const FbStation& s : b.stations) {
      ASSERT_EQ(s.groups.size(), b.levels.size());
      for (std::size_t k = 0; k < s.groups.size(); ++k) {
        const FbGroup& g = s.groups[k];
        ASSERT_EQ(g.level, b.levels[k]);
        ASSERT_EQ(g.wind.has_value(), g.kind == FbWind::forecast || g.kind == FbWind::at_least);
        ASSERT_EQ(g.text.empty(), g.kind == FbWind::blank);
        if (g.wind) {
          ASSERT_LT(g.wind->speed(), 199.5 * knot);
        }
        if (g.temperature) {
          ASSERT_TRUE(*g.temperature >= celsius(-90) && *g.temperature <= celsius(60));
        }
      }
    }
  }
}

TEST(Fb, IsLawfulForAnyText) {
  Random random = testing::seeded("Fb.AnyText");
  static const std::array<std::string_view, 34> scraps{
      "DATA", "BASED", "ON",      "151200Z", "VALID",   "151800Z", "321800Z", "FOR USE", "1400-2100Z.",
      "9Z",   "TEMPS", "NEG ABV", "24000",   "\nFT",    "3000",    "6000",    "9000",    "30000",
      "\nZQ", "\nZQA", "\nZQB",   "9900",    "2213+18", "2213-18", "731960",  "7799",    "99999999999999",
      "\n",   "\n\n",  "      ",  "=",       "////",    "\xFF",    "\xC2\xA0"};
  for (int i = 0; i < 4000; ++i) {
    std::string text = random.below(2) == 0 ? kHead : "";
    const std::uint64_t count = random.below(30);
    for (std::uint64_t k = 0; k < count; ++k) {
      text += scraps[random.below(scraps.size())];
      if (random.below(5) != 0) text += ' ';
      if (random.below(20) == 0 && !text.empty())
        text[random.below(text.size())] = static_cast<char>(random.below(256));
    }
    SCOPED_TRACE(text);
    expect_lawful(text, read(text));
    if (HasFatalFailure()) return;
  }
}

// A forecast printed from fields of our choice, aligned as the weather service does, or with its blanks squeezed.
struct Expected {
  std::optional<wind::Wind> wind;
  std::optional<int> celsius_degrees;
  FbWind kind = FbWind::blank;
};
using Lines = std::map<std::string, std::vector<Expected>>;

std::string figures(int value) { return (value < 10 ? "0" : "") + std::to_string(value); }

std::string print_group(Random& random, int level_ft, bool with_temperature, Expected& expected) {
  const auto pick = [&](int low, int high) {
    return low + static_cast<int>(random.below(static_cast<std::size_t>(high) - static_cast<std::size_t>(low) + 1));
  };
  std::string group;
  if (pick(0, 5) == 0) {
    group = "9900";
    expected.kind = FbWind::light_and_variable;
  } else {
    const int tens = pick(1, 36), speed = pick(0, 2) == 0 ? pick(100, 199) : pick(5, 99);
    group = speed < 100 ? figures(tens) + figures(speed) : figures(tens + 50) + figures(speed - 100);
    expected.wind = wind::Wind::from(TrueBearing::at(10 * tens * degree), speed * knot);
    expected.kind = speed == 199 ? FbWind::at_least : FbWind::forecast;
  }
  if (!with_temperature) return group;
  const int t = level_ft > 24000 ? -pick(0, 80) : pick(-60, 40);
  expected.celsius_degrees = t;
  if (level_ft > 24000) return group + figures(-t);
  return group + (t < 0 ? "-" + figures(-t) : "+" + figures(t));
}

TEST(Fb, GivesBackTheFieldsThatAForecastWasPrintedFrom) {
  Random random = testing::seeded("Fb.RoundTrip");
  static const std::array<int, 9> levels{3000, 6000, 9000, 12000, 18000, 24000, 30000, 34000, 39000};
  for (int i = 0; i < 1000; ++i) {
    const bool squeezed = random.below(3) == 0;
    Lines expected;
    std::string text = squeezed ? "VALID 151800Z\nFT 3000 6000 9000 12000 18000 24000 30000 34000 39000\n" : kHead;
    const auto count = 1 + random.below(5);
    for (std::uint64_t s = 0; s < count; ++s) {
      const std::string id = std::string{"ZQ"} + static_cast<char>('A' + static_cast<char>(s));
      const double elevation_ft = static_cast<double>(random.below(9000));
      std::vector<Expected> groups;
      std::string line = id;
      for (const int level : levels) {
        groups.emplace_back();
        const FbExpected rule = fb_expected(amsl(level * foot), amsl(elevation_ft * foot));
        const bool low = level <= 24000;
        const std::size_t width = level == 3000 ? 4 : low ? 7 : 6;
        std::string group;
        if (rule.wind != FbRule::left_blank)
          group = print_group(random, level, rule.temperature != FbRule::left_blank, groups.back());
        if (squeezed && group.empty()) continue;
        line += ' ' + group;
        if (!squeezed) line.append(width - group.size(), ' ');
      }
      expected[id] = groups;
      text += line + (random.below(2) == 0 ? "\n" : "\r\n");
      if (random.below(4) == 0) text += "\nsome words between\n";
    }
    SCOPED_TRACE(text);
    const Bulletins parsed = read(text);
    ASSERT_TRUE(parsed.value);
    for (const Issue& issue : parsed.issues) ASSERT_EQ(issue.sentence.key, "issue.fb_by_order") << issue.got;
    ASSERT_EQ(parsed.value->size(), 1u);
    ASSERT_EQ(parsed.value->front().stations.size(), expected.size());
    for (const FbStation& station : parsed.value->front().stations) {
      for (std::size_t k = 0; k < levels.size(); ++k) {
        const FbGroup& group = station.groups[k];
        const Expected& e = expected.at(station.id)[k];
        ASSERT_EQ(group.kind, e.kind) << station.id << ' ' << levels[k];
        ASSERT_EQ(group.wind, e.wind);
        ASSERT_EQ(group.temperature.has_value(), e.celsius_degrees.has_value());
        if (e.celsius_degrees) {
          ASSERT_EQ(*group.temperature, celsius(*e.celsius_degrees));
        }
      }
    }
    expect_lawful(text, parsed);
    if (HasFatalFailure()) return;
  }
}

// Whatever is done to the blanks of a page, no group ever ends up at another level.
TEST(Fb, LostBlanksNeverMoveAGroupToAnotherLevel) {
  Random random = testing::seeded("Fb.LostBlanks");
  const std::string line = "ZQA      2213    2110+13 1808+07 2216-06 2225-17 263333 264543 265654\n";
  const FbBulletin good = one(kHead + line);
  for (int i = 0; i < 2000; ++i) {
    std::string text = kHead + line;
    const std::uint64_t lost = 1 + random.below(20);
    for (std::uint64_t k = 0; k < lost; ++k) {
      const std::size_t at = text.find(' ', kHead.find("FT") + random.below(text.size() - kHead.find("FT")));
      if (at != std::string::npos && (text[at - 1] == ' ' || text[at + 1] == ' ')) text.erase(at, 1);
    }
    SCOPED_TRACE(text);
    const Bulletins parsed = read(text);
    if (!parsed.value) continue;
    for (std::size_t k = 0; k < good.levels.size(); ++k)
      ASSERT_EQ(parsed.value->front().stations.at(0).groups.at(k).text, good.stations[0].groups[k].text);
  }
}

}  // namespace
}  // namespace pappus::text
