#include "words/words.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"
#include "words/text_file.hpp"

namespace pappus::words {
namespace {

const Reader kUs{};
const Reader kMetric{Language::en, Units::metric, {}, {}};

constexpr int kLastKind = static_cast<int>(MeasureKind::specific_energy);

struct Shown {
  Measure measure;
  const char* us;
  const char* metric;
};

// Conversions are by the definitions of the units (core/base/quantity.hpp); what is under test is unit, digits, marks.
const std::vector<Shown>& shown() {
  static const std::vector<Shown> all{
      {measure::number(1.25), "1.25", "1.25"},
      {measure::number(-0.004), "0.00", "0.00"},
      {measure::number(1.005), "1.01", "1.01"},  // the double is just below the half that was written
      {measure::number(-1.005), "-1.01", "-1.01"},
      {measure::count(12), "12", "12"},
      {measure::count(1234567), "1,234,567", "1,234,567"},
      {measure::ratio(0.35), "35%", "35%"},
      {measure::ratio(1.005), "101%", "101%"},
      {measure::of(99.94 * kilogram), "220 lb", "99.9 kg"},
      {measure::of(99.96 * kilogram), "220 lb", "100 kg"},
      {measure::of(18 * kilogram), "39.7 lb", "18.0 kg"},
      {measure::of(-1000 * pound), "-1,000 lb", "-454 kg"},
      {measure::gas(105000 * cubic_foot), "105,000 ft³", "2,973 m³"},
      {measure::liquid(15 * us_gallon), "15.0 gal", "56.8 L"},
      {measure::length(12 * foot), "12.0 ft", "3.7 m"},
      {measure::length(150 * foot), "150 ft", "45.7 m"},
      {measure::length(150 * metre), "492 ft", "150 m"},
      {measure::distance(0.25 * statute_mile), "0.25 mi", "0.40 km"},
      {measure::distance(2.25 * statute_mile), "2.25 mi", "3.6 km"},
      {measure::distance(2.996 * statute_mile), "3.0 mi", "4.8 km"},
      {measure::distance(9.96 * statute_mile), "10 mi", "16 km"},
      {measure::distance(30 * statute_mile), "30 mi", "48 km"},
      {measure::of(agl(199.4 * foot)), "199 ft", "61 m"},
      {measure::of(agl(199.6 * foot)), "200 ft", "61 m"},
      {measure::of(agl(204.9 * foot)), "200 ft", "62 m"},
      {measure::of(agl(205 * foot)), "210 ft", "62 m"},
      {measure::height(-35 * foot), "-35 ft", "-11 m"},
      {measure::of(amsl(1500 * foot)), "1,500 ft", "457 m"},
      {measure::of(amsl(-0.1 * foot)), "0 ft", "0 m"},
      {measure::of(PressureAltitude::at(4921 * foot)), "4,920 ft", "1,500 m"},
      {measure::of(DensityAltitude::at(2225 * metre)), "7,300 ft", "2,225 m"},
      {measure::wind(2.4 * knot), "2.4 kt", "2.4 kt"},
      {measure::wind(2.25 * knot), "2.3 kt", "2.3 kt"},
      {measure::wind(15 * knot), "15.0 kt", "15.0 kt"},
      {measure::vertical(500 * foot_per_minute), "500 ft/min", "2.5 m/s"},
      {measure::vertical(-1.0 * metre_per_second), "-200 ft/min", "-1.0 m/s"},
      {measure::vertical(-0.02 * metre_per_second), "0 ft/min", "0.0 m/s"},
      {measure::air(1018 * hectopascal), "30.06 inHg", "1018.0 hPa"},
      {measure::of(GaugePressure::at(63 * pound_per_square_inch)), "63 psi", "4.3 bar"},
      {measure::of(GaugePressure::at(50 * pound_per_square_inch)), "50 psi", "3.4 bar"},
      {measure::of(celsius(28)), "82 °F", "28.0 °C"},
      {measure::of(celsius(-40)), "-40 °F", "-40.0 °C"},
      {measure::of(fahrenheit(60)), "60 °F", "15.6 °C"},
      {measure::of(celsius(-17.8)), "0 °F", "-17.8 °C"},
      {measure::of(4.0 * kelvin), "7.2 F°", "4.0 K"},
      {measure::of(-4.0 * kelvin), "-7.2 F°", "-4.0 K"},
      {measure::of(0.0 * second), "0 s", "0 s"},
      {measure::of(95 * second), "95 s", "95 s"},
      {measure::of(119.6 * second), "2 min", "2 min"},
      {measure::of(38 * minute), "38 min", "38 min"},
      {measure::of(59.5 * minute), "1 h 00 min", "1 h 00 min"},
      {measure::of(65 * minute), "1 h 05 min", "1 h 05 min"},
      {measure::of(-65 * minute), "-1 h 05 min", "-1 h 05 min"},
      {measure::of(47.9 * hour), "47 h 54 min", "47 h 54 min"},
      {measure::of(76 * hour), "3 d 4 h", "3 d 4 h"},
      {measure::of(TrueBearing::at(215 * degree)), "215°", "215°"},
      {measure::of(TrueBearing::at(5.4 * degree)), "005°", "005°"},
      {measure::of(TrueBearing::at(359.6 * degree)), "360°", "360°"},
      {measure::of(TrueBearing::at(0.2 * degree)), "360°", "360°"},
      {measure::of(MagneticBearing::at(45 * degree)), "045° mag", "045° mag"},
      {{-90, MeasureKind::bearing_true}, "270°", "270°"},
      {measure::of(-12.35 * degree), "-12.4°", "-12.4°"},
      {measure::of(1.225 * kilogram_per_cubic_metre), "0.0765 lb/ft³", "1.225 kg/m³"},
      {measure::of(500 * kilogram_per_cubic_metre), "31.2 lb/ft³", "500.0 kg/m³"},
      {measure::of(60 * kilogram_per_hour), "132 lb/h", "60.0 kg/h"},
      {measure::of(120 * kilogram_per_hour), "265 lb/h", "120 kg/h"},
      {measure::of(5.4 * megawatt), "5.40 MW", "5.40 MW"},
      {measure::of(344000 * joule_per_kilogram), "148 Btu/lb", "344 kJ/kg"},
  };
  return all;
}

TEST(Words, ShowEveryKindInBothSystems) {
  std::set<MeasureKind> seen;
  for (const Shown& s : shown()) {
    EXPECT_EQ(worded(s.measure, kUs), s.us);
    EXPECT_EQ(worded(s.measure, kMetric), s.metric);
    seen.insert(s.measure.kind);
  }
  for (int kind = 0; kind <= kLastKind; ++kind) EXPECT_EQ(seen.count(static_cast<MeasureKind>(kind)), 1u) << kind;
}

TEST(Words, PartNumberAndUnitForTables) {
  const Figure height = figure(measure::height(1500 * foot), kUs);
  EXPECT_EQ(height.number, "1,500");
  EXPECT_EQ(height.unit, "ft");
  const Figure bearing = figure(measure::of(MagneticBearing::at(45 * degree)), kUs);
  EXPECT_EQ(bearing.number, "045");
  EXPECT_EQ(bearing.unit, "° mag");
  EXPECT_EQ(figure(measure::of(65 * minute), kUs).unit, "");
}

TEST(Words, NeverShowWhatIsNotANumber) {
  for (int kind = 0; kind <= kLastKind; ++kind)
    for (const double si : {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
                            -std::numeric_limits<double>::infinity()})
      for (const Reader& reader : {kUs, kMetric})
        EXPECT_EQ(worded(Measure{si, static_cast<MeasureKind>(kind)}, reader), "not known") << kind;
}

TEST(Words, ShowHugeNumbersWithoutExponentOrCrash) {
  EXPECT_EQ(worded(measure::count(1e15), kUs), "1,000,000,000,000,000");
  EXPECT_EQ(worded(measure::count(-1e18), kUs), "-1,000,000,000,000,000,000");
  for (int kind = 0; kind <= kLastKind; ++kind)
    for (const double si : {1e13, 1e300, -1e300, 1e-300, -1e-300}) {
      const std::string text = worded(Measure{si, static_cast<MeasureKind>(kind)}, kUs);
      EXPECT_FALSE(text.empty());
      EXPECT_EQ(text.find('e'), text == "not known" ? 8u : std::string::npos) << kind << " " << text;
    }
}

// A negative sign needs a digit other than nought.
TEST(Words, NeverShowMinusNought) {
  Random random = testing::seeded("Words.MinusNought");
  for (int i = 0; i < 5000; ++i) {
    const auto kind = static_cast<MeasureKind>(random.below(static_cast<std::size_t>(kLastKind) + 1));
    const double origin = kind == MeasureKind::temperature ? 273.15 : 0.0;
    const double si = origin - std::exp(random.uniform(-30.0, 3.0));
    const std::string text = figure(Measure{si, kind}, random.below(2) == 0 ? kUs : kMetric).number;
    if (text[0] == '-') {
      EXPECT_NE(text.find_first_of("123456789"), std::string::npos) << text;
    }
  }
}

TEST(Words, RoundToTheNearestStepAndNeverFallWhileTheAmountRises) {
  Random random = testing::seeded("Words.Monotone");
  for (int i = 0; i < 3000; ++i) {
    const double low = random.uniform(0.0, 400.0), high = low + random.uniform(0.0, 3.0);
    const auto feet = [](double ft) {
      const Figure f = figure(measure::height(ft * foot), kUs);
      EXPECT_EQ(f.unit, "ft");
      return std::stod(f.number);
    };
    EXPECT_LE(feet(low), feet(high)) << low << " " << high;
    EXPECT_LE(std::abs(feet(low) - low), low < 199.5 ? 0.5 + 1e-9 : 5.0 + 1e-9) << low;
  }
}

TEST(Words, TellTheTimeInTheReadersOffset) {
  const Instant t = parse_moment("2027-05-16T04:50:59-09:00")->at;
  Reader reader;
  EXPECT_EQ(clock(t, reader), "13:50");
  reader.offset = UtcOffset{-9 * 60};
  EXPECT_EQ(clock(t, reader), "04:50");
  reader.today = Date::of(2027, 5, 16);
  EXPECT_EQ(clock(t, reader), "04:50");
  reader.today = Date::of(2027, 5, 17);
  EXPECT_EQ(clock(t, reader), "2027-05-16 04:50");
  reader.offset = UtcOffset{10 * 60 + 15};
  EXPECT_EQ(clock(t, reader), "00:05");
}

TEST(Words, PutArgumentsIntoPlaceholders) {
  EXPECT_EQ(worded(say("issue.latitude_range", {{"got", measure::of(95.0 * degree)}}), kUs),
            "a latitude of 95.0° does not exist");
  EXPECT_EQ(worded(say("issue_form.at", {{"what", Term{"word.pilot"}}, {"where", *Date::of(2027, 5, 16)}}), kUs),
            "2027-05-16: pilot");
  EXPECT_EQ(
      worded(say("issue_form.at", {{"where", *parse_moment("2027-05-16T04:50:00-09:00")}, {"what", "{where}"}}), kUs),
      "13:50: {where}");  // what a pilot typed is never read as a text
}

TEST(Words, ShowWhatIsMissing) {
  EXPECT_EQ(worded("no.such_key", kUs), "<no.such_key>");
  EXPECT_EQ(worded(say("no.such_key"), kUs), "<no.such_key>");
  EXPECT_EQ(worded(say("issue_form.plain", {{"finding", Term{"word.no_such_word"}}}), kUs), "<word.no_such_word>.");
  EXPECT_EQ(worded(say("issue_form.at", {{"where", "here"}}), kUs), "here: {what}");
}

TEST(Words, TellAnIssueWithItsPlaceAndWhatWouldBeRight) {
  Issue issue{Errc::bad_input,
              say("issue.text_line"),
              {"flight.toml", 17, 3, "cylinder[1].tare"},
              "18",
              "a mass with a unit, such as 18kg"};
  const std::string finding = worded("issue.text_line", kUs);
  EXPECT_EQ(worded(issue, kUs),
            "flight.toml:17:3 cylinder[1].tare: " + finding + "; got \"18\", wanted a mass with a unit, such as 18kg.");
  issue.where = {"flight.toml", 17, 0, {}};
  issue.got.clear();
  EXPECT_EQ(worded(issue, kUs), "flight.toml:17: " + finding + "; wanted a mass with a unit, such as 18kg.");
  issue.where = {{}, 0, 0, "cylinder[1].tare"};
  issue.wanted.clear();
  EXPECT_EQ(worded(issue, kUs), "cylinder[1].tare: " + finding + ".");
  issue.where = {};
  issue.got = "x";
  EXPECT_EQ(worded(issue, kUs), finding + "; got \"x\".");
  issue.sentence = say("issue_form.plain", {{"finding", "so"}});
  issue.got.clear();
  EXPECT_EQ(worded(issue, kUs), "so.");  // a finding that brings its own full stop
}

TEST(Words, ShowWhatWasPastedOnOneLineAndCut) {
  const Issue issue{Errc::bad_input, say("issue.text_line"), {}, "a\nb\x1b[31m" + std::string(100, 'c'), {}};
  const std::string text = worded(issue, kUs);
  EXPECT_EQ(text.find_first_of("\n\x1b"), std::string::npos);
  EXPECT_NE(text.find("\"a b [31m" + std::string(72, 'c') + "...\""), std::string::npos) << text;
  std::string degrees;
  for (int i = 0; i < 90; ++i) degrees += "°";
  EXPECT_NE(worded(Issue{Errc::bad_input, say("issue.text_line"), {}, degrees, {}}, kUs)
                .find("\"" + degrees.substr(0, 160) + "...\""),
            std::string::npos);  // never inside a character
}

TEST(Words, CountInTheReadersUnitAndBack) {
  EXPECT_NEAR(counted(measure::height(304.8 * metre), kUs), 1000.0, 1e-9);
  EXPECT_NEAR(counted(measure::of(celsius(20.0)), kUs), 68.0, 1e-9);
  EXPECT_NEAR(counted(measure::wind(1.0 * knot), kMetric), 1.0, 1e-12);
  for (int k = 0; k <= kLastKind; ++k)
    for (const Reader& reader : {kUs, kMetric})
      for (const double si : {-40.0, 0.0, 0.3, 273.15, 8.0e4}) {
        const Measure back =
            measured(counted({si, static_cast<MeasureKind>(k)}, reader), static_cast<MeasureKind>(k), reader);
        EXPECT_EQ(back.kind, static_cast<MeasureKind>(k));
        EXPECT_NEAR(back.si, si, 1e-12 * std::max(300.0, std::abs(si))) << k;
      }
}

TEST(Texts, AreReadWithoutAnIssueInEveryLanguage) {
  for (const auto& [language, name] : Names<Language>::all) {
    for (const Issue& issue : text_issues(language)) ADD_FAILURE() << worded(issue, kUs);
    EXPECT_FALSE(keys(language).empty()) << name;
  }
}

TEST(Texts, AreCompleteInEveryLanguage) {
  for (const auto& [language, name] : Names<Language>::all)
    for (const TextDifference& d : compare_texts(texts_of(Language::en), texts_of(language)))
      ADD_FAILURE() << name << ": " << d.key << " " << static_cast<int>(d.what);
}

TEST(Texts, SpanishPartsThousandsByABlankAndKeepsThePoint) {
  const Reader metric{Language::es, Units::metric, {}, {}};
  const Reader us{Language::es, Units::us, {}, {}};
  EXPECT_EQ(worded(measure::height(1800.0 * metre), metric), "1\u00a0800 m");
  EXPECT_EQ(worded(measure::wind(2.25 * knot), metric), "2.3 kt");
  EXPECT_EQ(worded(measure::height(24000.0 * foot), us), "24\u00a0000 ft");
  EXPECT_EQ(worded(measure::air(1018.0 * hectopascal), metric), "1018.0 hPa");
  EXPECT_EQ(worded(say("limit.surface_wind.found", {{"value", measure::wind(2.0 * knot)}, {"name", "pibal"}}), us),
            "2.0 kt según pibal.");
}

TEST(Texts, ListTheirKeysAndPlaceholders) {
  const std::vector<std::string> all = keys(Language::en);
  EXPECT_TRUE(std::is_sorted(all.begin(), all.end()));
  EXPECT_TRUE(std::binary_search(all.begin(), all.end(), "word.pilot"));
  EXPECT_EQ(placeholders(Language::en, "issue_form.at"), (std::vector<std::string>{"what", "where"}));
  EXPECT_TRUE(placeholders(Language::en, "no.such_key").empty());
}

}  // namespace
}  // namespace pappus::words
