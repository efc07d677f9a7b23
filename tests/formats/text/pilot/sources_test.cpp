// Forecasts, tables and pilot balloons in a flight file, and looks at the wind.
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "core/sky/variation.hpp"
#include "formats/text/pilot/flight_file.hpp"
#include "formats/text/pilot/pibal_file.hpp"
#include "tests/formats/text/pilot/edited_file.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

using testing::Edit;
using testing::edited;
using testing::told;

const std::string kHead = R"(balloon = "b.toml"
as_of = 2027-05-16T04:50:00-09:00
time = 2027-05-16T05:10:00-09:00
planned = "45min"
[field]
name = "Meadow"
at = [38.9, -133.4]
elevation = "1500m"
[[aboard]]
role = "pilot"
mass = "82kg"
)";

const std::string kSources = R"([[forecast]]
station = "ZQA"
station_elevation = "4700ft"
text = """
TAF XSGB 161130Z 1612/1712 10004KT P6SM SKC=
VALID 161800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000
FT  3000    6000    9000   12000   18000   24000  30000  34000  39000
ZQA              2110+13 1808+07 2216-06 2225-17 263333 264543 265654
ZQB              2510+13 2808+07 2216-06 2225-17 263333 264543 265654
"""
[[profile]]
by = "forecast"
name = "the model"
time = 2027-05-16T06:00:00-09:00
columns = "height=1 m agl, from=2 deg magnetic, speed=3 kt; separator=blank"
text = """
0 100 2
150 215 9
"""
[[pibal]]
name = "first"
released = 2027-05-16T04:30:00-09:00
diameter = "12in"
mass = "3g"
bearings = "magnetic"
obstacles = "8deg"
seen = ["rolls", "climbs_then_dives"]
units = ["s", "deg", "deg"]
rows = [[30, 20.0, 39.8], [60, "", 37.5], [90, 32.5, 35]]
[[look]]
what = "wind"
value = "leaves"
time = 2027-05-16T04:45:00-09:00
)";
const std::string kGood = kHead + kSources;

Moment local(int hour, int minute) {
  const UtcOffset offset{-9 * 60};
  return Moment{instant_of(*Date::of(2027, 5, 16), hour, minute, 0.0, offset), offset};
}

Result<std::string> no_such_file(const std::string& path) {
  return fail(Errc::not_found, say("issue.file_not_found"), path, "");
}

FlightFile read_good(const std::string& text, const ReadBeside& beside = {}) {
  const Parsed<FlightFile> parsed = parse_flight(text, "flight.toml", beside);
  EXPECT_EQ(told(parsed.issues), "");
  return parsed.value.value();
}

TEST(FlightSources, TheExampleReadsToExactlyItsValues) {
  const sheet::Flight f = read_good(kGood).flight;
  ASSERT_EQ(f.forecasts.size(), 1u);
  EXPECT_EQ(f.forecasts[0].station, "XSGB");
  ASSERT_EQ(f.ladders.size(), 2u);
  EXPECT_EQ(f.ladders[0].source, (wind::Source{wind::SourceKind::forecast, "ZQA", local(9, 0).at}));
  EXPECT_EQ(f.ladders[0].rows.size(), 7u);
  EXPECT_EQ(f.ladders[1].source, (wind::Source{wind::SourceKind::forecast, "the model", local(6, 0).at}));
  const auto variation =
      sky::magnetic_field(f.field.at, 1500.0 * metre, sky::decimal_year(local(6, 0).at)).value().variation;
  ASSERT_EQ(f.ladders[1].rows.size(), 2u);
  const TrueBearing from = f.ladders[1].rows[1].wind->direction_from().value();
  EXPECT_NEAR((from - to_true(MagneticBearing::at(215.0 * degree), variation)).in(degree), 0.0, 1e-9);
  EXPECT_GT(variation.east.in(degree), 5.0) << "or the test would not see it";

  ASSERT_EQ(f.pibals.size(), 1u);
  EXPECT_EQ(f.pibals[0].source, (wind::Source{wind::SourceKind::pibal, "first", local(4, 30).at}));
  const wind::pibal::Ascent& ascent = f.pibals[0].ascent;
  EXPECT_EQ(ascent.rise.basis, wind::pibal::RiseBasis::size_and_mass);
  // 342 ft/min at sea level (FAA-H-8083-11B appendix D); in the thinner air of 1500 m it lifts less.
  EXPECT_NEAR(ascent.rise.rate.in(foot_per_minute), 335.0, 8.0);
  EXPECT_LT(ascent.rise.rate.in(foot_per_minute), 342.0);
  EXPECT_EQ(ascent.obstacles, 8.0 * degree);
  EXPECT_EQ(ascent.seen, (std::vector<wind::pibal::FlagKind>{wind::pibal::FlagKind::rolls,
                                                             wind::pibal::FlagKind::climbs_then_dives}));
  ASSERT_TRUE(ascent.variation.has_value());
  EXPECT_NEAR(ascent.variation->east.in(degree), variation.east.in(degree), 0.01);
  ASSERT_EQ(ascent.calls.size(), 3u);
  EXPECT_EQ(ascent.calls[0].since_release, 30.0 * second);
  EXPECT_EQ(std::get<MagneticBearing>(ascent.calls[0].azimuth.value()), MagneticBearing::at(20.0 * degree));
  EXPECT_EQ(ascent.calls[0].elevation, 39.8 * degree);
  EXPECT_FALSE(ascent.calls[1].azimuth.has_value());
  EXPECT_EQ(ascent.calls[1].elevation, 37.5 * degree);

  ASSERT_EQ(f.looks.size(), 1u);
  EXPECT_EQ(f.looks[0].words, "leaves");
  EXPECT_FALSE(f.looks[0].value.has_value());
}

TEST(FlightSources, OtherWaysToWriteTheSameAreRead) {
  const auto ascent = [](std::string_view find, std::string_view put) {
    return read_good(edited(kGood, find, put)).flight.pibals.at(0).ascent;
  };
  const double rate = ascent("\"3g\"", "\"3g\"").rise.rate.in(metre_per_second);
  EXPECT_NEAR(ascent("mass = \"3g\"", "balloons = 10\ntogether = \"30g\"").rise.rate.in(metre_per_second), rate, 1e-12);
  const auto stated = ascent("diameter = \"12in\"\nmass = \"3g\"", "rise = \"300ft/min\"");
  EXPECT_EQ(stated.rise.basis, wind::pibal::RiseBasis::stated);
  EXPECT_EQ(stated.rise.rate, 300.0 * foot_per_minute);
  EXPECT_EQ(ascent("diameter = \"12in\"\nmass = \"3g\"\n", "").rise.basis, wind::pibal::RiseBasis::nothing_known);
  EXPECT_EQ(ascent("\"magnetic\"\nobstacles", "\"magnetic\"\nvariation = \"-2.5deg\"\nobstacles").variation->east,
            -2.5 * degree);
  const auto by_true = ascent("bearings = \"magnetic\"", "bearings = \"true\"");
  EXPECT_EQ(std::get<TrueBearing>(by_true.calls[0].azimuth.value()), TrueBearing::at(20.0 * degree));
  EXPECT_FALSE(by_true.variation.has_value());
  EXPECT_EQ(ascent("[\"s\", \"deg\", \"deg\"]\nrows = [[30, 20.0, 39.8], [60, \"\", 37.5], [90",
                   "[\"min\", \"deg\", \"deg\"]\nrows = [[0.5, 20.0, 39.8], [1, \"\", 37.5], [1.5")
                .calls[2]
                .since_release,
            90.0 * second);
  const sheet::Look speed = read_good(edited(kGood, "\"leaves\"", "\"6mph\"")).flight.looks.at(0);
  EXPECT_EQ(speed.value, measure::wind(6.0 * mile_per_hour));
}

TEST(FlightSources, AReportAndAForecastAreReadAlike) {
  const sheet::Flight f = read_good(edited(kGood, "[[forecast]]", "[[report]]")).flight;
  EXPECT_EQ(f.forecasts.size(), 1u);
  EXPECT_EQ(f.ladders.size(), 2u);
}

TEST(FlightSources, FilesBesideTheFlightAreRead) {
  std::string text = edited(kHead, "[[aboard]]", "[[forecast]]\nfile = \"fb.txt\"\n[[aboard]]");
  text +=
      "[[profile]]\nby = \"sounding\"\ntime = 2027-05-16T04:00:00-09:00\nfile = \"run.csv\"\n"
      "columns = \"height=1 m amsl, from=2 deg true, speed=3 kt\"\n";
  std::vector<std::string> asked;
  const FlightFile file = read_good(text, [&](const std::string& path) -> Result<std::string> {
    asked.push_back(path);
    return path == "fb.txt" ? std::string{"TAF XSGB 161130Z 1612/1712 10004KT P6SM SKC="} : std::string{"1600,100,5\n"};
  });
  EXPECT_EQ(asked, (std::vector<std::string>{"fb.txt", "run.csv"}));
  EXPECT_EQ(file.flight.forecasts.size(), 1u);
  ASSERT_EQ(file.flight.ladders.size(), 1u);
  EXPECT_EQ(file.flight.ladders[0].source.name, "sounding");
  ASSERT_EQ(file.ladder_places.size(), 1u);
  EXPECT_EQ(file.ladder_places[0].key, "profile[1].time");
}

TEST(FlightSources, FaultsInAFileBesideNameItAndComeLast) {
  const std::string text = edited(kHead + "[[report]]\nfile = \"metar.txt\"\n", "\"45min\"", "45");
  const Parsed<FlightFile> parsed = parse_flight(text, "flight.toml", [](const std::string&) -> Result<std::string> {
    return std::string{"METAR XABC 161335Z 99900002KT 10SM CLR 03/M01 A3006"};
  });
  ASSERT_EQ(parsed.issues.size(), 2u) << told(parsed.issues);
  EXPECT_EQ(parsed.issues[0].where.key, "planned");
  EXPECT_EQ(parsed.issues[1].where, (Where{"metar.txt", 1, 20, "report[1].file"}));
  EXPECT_TRUE(is_warning(parsed.issues[1]));
}

TEST(FlightSources, AFileThatIsNotThereIsToldAtItsName) {
  const std::string text = kHead + "[[forecast]]\nfile = \"fb.txt\"\n";
  const Parsed<FlightFile> missing = parse_flight(text, "flight.toml", no_such_file);
  EXPECT_FALSE(missing.value.has_value());
  EXPECT_EQ(told(missing.issues), "13:8 forecast[1].file issue.file_not_found got 'fb.txt' wanted ''\n");
  const Parsed<FlightFile> alone = parse_flight(text, "flight.toml");
  EXPECT_EQ(
      told(alone.issues),
      "13:8 forecast[1].file issue.file_beside got 'fb.txt' wanted 'the text itself, as text = \"\"\"...\"\"\"'\n");
}

TEST(FlightSources, WhatOthersWroteIsAWarning) {
  const auto warned = [](std::string_view find, std::string_view put) {
    const Parsed<FlightFile> parsed = parse_flight(edited(kGood, find, put), "flight.toml");
    EXPECT_TRUE(parsed.value.has_value()) << put;
    return told(parsed.issues);
  };
  EXPECT_EQ(warned("10004KT", "9990004KT"),
            "16:28 forecast[1].text issue.taf_wind got '9990004KT' wanted 'a wind such as 30008KT, VRB02KT, 24015G25KT "
            "or 14003MPS'\n");
  EXPECT_EQ(warned("150 215 9", "150 215 x"),
            "29:9 profile[1].text issue.profile_number got 'x' wanted 'a number such as 12.5'\n");
  EXPECT_EQ(
      warned("[[30, 20.0, 39.8], [60, \"\", 37.5], [90, 32.5, 35]]", "[[30, 20, 5], [60, 20, \"\"]]"),
      "40:8 pibal[1].rows issue.pibal_no_layers got '[[30, 20, 5], [60, 20, \"\"]]' wanted 'a call with a bearing "
      "and an elevation above 15 deg'\n");
}

const std::vector<Edit> kEdits{
    // what is needed
    {"text", "[[look]]", "[[forecast]]\n[[look]]", "issue.key_missing", "[[forecast]]\n[[look]]", "",
     "or file = \"...\", a file beside this one"},
    {"profile.by", "by = \"forecast\"\n", "", "issue.key_missing", "[[profile]]", "",
     "one of forecast, sounding, seen, pibal"},
    {"profile.time", "time = 2027-05-16T06:00:00-09:00\n", "", "issue.key_missing", "[[profile]]", "", "offset"},
    {"profile.columns", "columns = \"height=1 m agl, from=2 deg magnetic, speed=3 kt; separator=blank\"\n", "",
     "issue.key_missing", "[[profile]]", "", "height=1 m agl"},
    {"pibal.released", "released = 2027-05-16T04:30:00-09:00\n", "", "issue.key_missing", "[[pibal]]", "", "offset"},
    {"pibal.bearings", "bearings = \"magnetic\"\n", "", "issue.key_missing", "[[pibal]]", "", "one of true, magnetic"},
    {"pibal.units", "units = [\"s\", \"deg\", \"deg\"]\n", "", "issue.key_missing", "[[pibal]]", "",
     "[\"s\", \"deg\", \"deg\"]"},
    {"pibal.rows", "rows = [[30, 20.0, 39.8], [60, \"\", 37.5], [90, 32.5, 35]]\n", "", "issue.key_missing",
     "[[pibal]]", "", "rows, such as"},
    {"pibal.mass", "mass = \"3g\"\n", "", "issue.key_missing", "[[pibal]]", "", "a small mass with a unit: g, oz"},
    {"pibal.diameter", "diameter = \"12in\"\n", "", "issue.key_missing", "[[pibal]]", "", "a size with a unit: in, cm"},
    {"pibal.together", "mass = \"3g\"\n", "balloons = 10\n", "issue.key_missing", "[[pibal]]", "", "a small mass"},
    {"pibal.balloons", "mass = \"3g\"\n", "together = \"30g\"\n", "issue.key_missing", "[[pibal]]", "",
     "a whole number"},
    // texts
    {"both", "station = \"ZQA\"", "file = \"x.txt\"", "issue.text_and_file", "\"x.txt\"", "x.txt",
     "either text or file"},
    {"no station", "station = \"ZQA\"\n", "", "issue.air_station_missing", "[[forecast]]", "", "one of ZQA, ZQB"},
    {"wrong station", "\"ZQA\"", "\"ZQC\"", "issue.air_station_unknown", "\"ZQC\"", "ZQC", "one of XSGB, ZQA, ZQB"},
    {"station elevation", "\"4700ft\"", "\"47000ft\"", "issue.field_elevation", "\"47000ft\"", "47000ft",
     "-430m to 6000m"},
    // profiles
    {"by", "by = \"forecast\"", "by = \"report\"", "issue.wind_by", "\"report\"", "report",
     "one of forecast, sounding, seen, pibal"},
    {"map", "speed=3 kt", "speed=3 furlong", "issue.profile_unit", "furlong", "furlong", ""},
    {"map without a wind", ", from=2 deg magnetic, speed=3 kt", "", "issue.profile_nothing_asked",
     "height=1 m agl; separator", "height=1 m agl; separator=blank", ""},
    {"column that is not there", "height=1 m agl, from", "height=ht m agl, from", "issue.profile_header", "0 100 2",
     "ht", ""},
    {"profile seen later", "by = \"forecast\"", "by = \"seen\"", "issue.seen_later", "2027-05-16T06:00:00-09:00",
     "2027-05-16T06:00:00-09:00", "not after as_of"},
    {"profile variation", "name = \"the model\"", "variation = \"200deg\"", "issue.pibal_variation", "\"200deg\"",
     "200deg", "-180deg to 180deg"},
    // pilot balloons
    {"released later", "04:30:00", "04:52:00", "issue.seen_later", "2027-05-16T04:52:00-09:00",
     "2027-05-16T04:52:00-09:00", "not after as_of"},
    {"diameter", "\"12in\"", "\"12ft\"", "issue.pibal_size", "\"12ft\"", "12ft", "15cm to 75cm"},
    {"mass", "\"3g\"", "\"3kg\"", "issue.pibal_mass_written", "\"3kg\"", "3kg", "0.5g to 100g"},
    {"mass of another kind", "\"3g\"", "\"3in\"", "issue.unit_other_kind", "\"3in\"", "3in", "g, oz"},
    {"too heavy to rise", "\"3g\"", "\"50g\"", "issue.pibal_no_lift", "\"50g\"", "50g", ""},
    {"two masses", "mass = \"3g\"", "mass = \"3g\"\ntogether = \"30g\"", "issue.pibal_mass_double", "\"3g\"", "3g",
     "mass, or balloons with together"},
    {"rise beside size", "mass = \"3g\"", "mass = \"3g\"\nrise = \"300ft/min\"", "issue.pibal_rise_double",
     "\"300ft/min\"", "300ft/min", "a rise rate, or diameter"},
    {"rise", "diameter = \"12in\"\nmass = \"3g\"", "rise = \"300m/s\"", "issue.pibal_rise", "\"300m/s\"", "300m/s",
     "50ft/min to 1500ft/min"},
    {"balloons", "mass = \"3g\"", "balloons = 0\ntogether = \"30g\"", "issue.pibal_balloons", "0\ntogether", "0",
     "1 to 1000"},
    {"together", "mass = \"3g\"", "balloons = 10\ntogether = \"30kg\"", "issue.pibal_together", "\"30kg\"", "30kg",
     "0.5g to 10kg"},
    {"bearings", "\"magnetic\"", "\"magnetc\"", "issue.pibal_bearings", "\"magnetc\"", "magnetc",
     "magnetic (one of true, magnetic)"},
    {"variation", "obstacles = \"8deg\"", "variation = \"181deg\"", "issue.pibal_variation", "\"181deg\"", "181deg",
     "-180deg to 180deg"},
    {"obstacles", "\"8deg\"", "\"80deg\"", "issue.pibal_obstacles", "\"80deg\"", "80deg", "0deg to 60deg"},
    {"sign", "\"rolls\"", "\"rols\"", "issue.pibal_sign", "\"rols\"", "rols", "rolls (one of rolls, fails_to_clear"},
    {"sign of the readings", "\"rolls\"", "\"call_lost\"", "issue.pibal_sign", "\"call_lost\"", "call_lost",
     "one of rolls"},
    {"units", "[\"s\", \"deg\", \"deg\"]", "[\"deg\", \"deg\", \"s\"]", "issue.pibal_units",
     "[\"deg\", \"deg\", \"s\"]", "[\"deg\", \"deg\", \"s\"]",
     "the time since the release, the bearing and the elevation"},
    {"no rows", "[[30, 20.0, 39.8], [60, \"\", 37.5], [90, 32.5, 35]]", "[]", "issue.pibal_rows", "[]\n[[look]]", "[]",
     "at least one row"},
    {"short row", "[90, 32.5, 35]", "[90, 32.5]", "issue.pibal_row_length", "[90, 32.5]", "[90, 32.5]", "three cells"},
    {"cell", "[90, 32.5, 35]", "[90, \"NE\", 35]", "issue.pibal_cell", "\"NE\"", "NE", "a number in the unit"},
    {"time", "[[30,", "[[0,", "issue.pibal_time", "0, 20.0", "0", "above 0, at most 2 h"},
    {"time lost", "[[30,", "[[\"\",", "issue.pibal_time", "\"\", 20.0", "", "above 0, at most 2 h"},
    {"azimuth", "32.5, 35", "361, 35", "issue.pibal_azimuth", "361", "361", "0 to 360"},
    {"elevation", "32.5, 35]", "32.5, 95]", "issue.pibal_angle", "95]", "95", "-89.9 to 89.9"},
    {"times fall", "[90,", "[60,", "issue.pibal_times_rise", "[60, 32.5, 35]", "[60, 32.5, 35]", "each call later"},
    {"unknown key", "obstacles =", "obstacle =", "issue.key_unknown", "obstacle =", "obstacle", "obstacles"},
    // the wind by eye
    {"sign of the wind", "\"leaves\"", "\"leafs\"", "issue.look_wind", "\"leafs\"", "leafs",
     "leaves (one of smoke leans, leaves, flags"},
    {"bare wind", "\"leaves\"", "6", "issue.unit_missing", "6\ntime", "6", "a speed with a unit"},
    {"wind", "\"leaves\"", "\"600kt\"", "issue.look_wind_speed", "\"600kt\"", "600kt", "0kt to 100kt"},
};

TEST(FlightSources, EachBrokenRuleIsToldWithItsPlaceAndWhatWouldBeRight) {
  for (const Edit& edit : kEdits) {
    SCOPED_TRACE(std::string(edit.rule) + ": " + std::string(edit.put));
    const std::string text = edited(kGood, edit.find, edit.put);
    const Parsed<FlightFile> parsed = parse_flight(text, "broken.toml", no_such_file);
    EXPECT_FALSE(parsed.value.has_value());
    EXPECT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
    if (parsed.issues.size() != 1) continue;
    const Issue& issue = parsed.issues.front();
    EXPECT_FALSE(is_warning(issue));
    const Where place = testing::place_of(text, edit.at);
    EXPECT_EQ(issue.sentence.key, edit.key);
    EXPECT_EQ(issue.where.line, place.line);
    EXPECT_EQ(issue.where.column, place.column);
    EXPECT_EQ(issue.got, edit.got);
    EXPECT_NE(issue.wanted.find(edit.wanted), std::string::npos) << issue.wanted;
  }
}

TEST(FlightSources, AFieldOfUnknownPlaceIsToldOnceAndNotForEverySource) {
  const Parsed<FlightFile> parsed =
      parse_flight(edited(edited(kGood, "at = [38.9, -133.4]\n", ""), "elevation = \"1500m\"\n", ""), "flight.toml");
  std::vector<std::string> keys;
  for (const Issue& issue : parsed.issues) keys.push_back(issue.where.key);
  EXPECT_EQ(keys, (std::vector<std::string>{"field.elevation", "field.at"}));
}

TEST(FlightSources, ACompassIsNotReadInAYearWithoutAModel) {
  std::string text = kGood;
  for (std::size_t at = 0; (at = text.find("2027-05-16T04:30", at)) != std::string::npos;) text.replace(at, 4, "2017");
  const Parsed<FlightFile> parsed = parse_flight(text, "flight.toml");
  ASSERT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
  EXPECT_EQ(parsed.issues[0].where.key, "pibal[1].bearings");
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.variation_year_range");
}

// Law: a value, or an issue that is more than a warning; never both; and a place for every ladder and pilot balloon.
TEST(FlightSources, EveryTextGivesEitherAValueOrAnIssue) {
  Random random = testing::seeded("FlightSources.ValueOrIssue");
  for (int i = 0; i < 1000; ++i) {
    const std::string text = testing::mutated(kGood, random);
    const Parsed<FlightFile> parsed = parse_flight(text, "mutated.toml", no_such_file);
    bool grave = false;
    for (const Issue& issue : parsed.issues) grave = grave || !is_warning(issue);
    ASSERT_NE(parsed.value.has_value(), grave) << text;
    if (!parsed.value) continue;
    ASSERT_EQ(parsed.value->ladder_places.size(), parsed.value->flight.ladders.size());
    ASSERT_EQ(parsed.value->pibal_places.size(), parsed.value->flight.pibals.size());
  }
}

// ---- files of pilot balloons alone

const std::string kAlone = R"([field]
at = [38.9, -133.4]
elevation = "1500m"
[[pibal]]
released = 2027-05-16T04:30:00-09:00
rise = "300ft/min"
bearings = "magnetic"
units = ["s", "deg", "deg"]
rows = [[30, 20, 40], [60, 22, 38]]
)";

TEST(PibalFile, IsReadWithoutAFlight) {
  const auto parsed = parse_pibal_file(kAlone, "p.toml");
  EXPECT_EQ(told(parsed.issues), "");
  ASSERT_EQ(parsed.value->size(), 1u);
  EXPECT_EQ(parsed.value->front().released, local(4, 30));
  EXPECT_TRUE(parsed.value->front().seen.ascent.variation.has_value());
  EXPECT_FALSE(is_flight_file(kAlone));
  EXPECT_TRUE(is_flight_file(kGood));
  EXPECT_FALSE(is_flight_file("not TOML at all = "));
}

TEST(PibalFile, ACompassWithoutPlaceOrTimeNeedsTheVariation) {
  for (const char* missing : {"at = [38.9, -133.4]\n", "released = 2027-05-16T04:30:00-09:00\n"}) {
    const std::string text = edited(kAlone, missing, "");
    const auto parsed = parse_pibal_file(text, "p.toml");
    ASSERT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.pibal_variation_unknown");
    EXPECT_EQ(parsed.issues[0].where.key, "pibal[1].bearings");
    EXPECT_TRUE(parse_pibal_file(edited(text, "units", "variation = \"13deg\"\nunits"), "p.toml").value.has_value());
  }
}

TEST(PibalFile, WithoutATableThereIsNothing) {
  const auto parsed = parse_pibal_file("[field]\nname = \"x\"\n", "p.toml");
  EXPECT_FALSE(parsed.value.has_value());
  ASSERT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
  EXPECT_EQ(parsed.issues[0].where.key, "pibal");
}

TEST(PibalCsv, IsReadWithAndWithoutAHeader) {
  for (const char* head : {"", "seconds,azimuth,elevation\n", "# by hand\n\nt,az,el\n", "\xEF\xBB\xBF"}) {
    const auto parsed =
        parse_pibal_csv(std::string{head} + "30,20.0,39.8\r\n60 , , 37.5\n90,-,nan\n", "c.csv", North::of_the_earth);
    EXPECT_EQ(told(parsed.issues), "") << head;
    ASSERT_EQ(parsed.value->size(), 3u) << head;
    EXPECT_EQ(parsed.value->at(0).since_release, 30.0 * second);
    EXPECT_EQ(std::get<TrueBearing>(*parsed.value->at(0).azimuth), TrueBearing::at(20.0 * degree));
    EXPECT_FALSE(parsed.value->at(1).azimuth.has_value());
    EXPECT_EQ(parsed.value->at(1).elevation, 37.5 * degree);
    EXPECT_FALSE(parsed.value->at(2).elevation.has_value());
  }
}

TEST(PibalCsv, EachFaultIsToldWithItsPlace) {
  const auto faults = [](const std::string& csv) {
    const auto parsed = parse_pibal_csv(csv, "c.csv", North::of_the_compass);
    EXPECT_FALSE(parsed.value.has_value()) << csv;
    return told(parsed.issues);
  };
  EXPECT_EQ(faults("30,20\n"), "1:1  issue.pibal_row_length got '30,20' wanted 'seconds,bearing,elevation'\n");
  EXPECT_EQ(faults("30,20,40\n60,NE,40\n"),
            "2:4  issue.pibal_cell got 'NE' wanted 'a number, or nothing for a call lost'\n");
  EXPECT_EQ(faults("30,20,40\n60, 400,40\n"), "2:5  issue.pibal_azimuth got '400' wanted '0 to 360'\n");
  EXPECT_EQ(faults("30,20,90\n"), "1:7  issue.pibal_angle got '90' wanted '-89.9 to 89.9'\n");
  EXPECT_EQ(faults("t,a,e\n,20,40\n"), "2:1  issue.pibal_time got '' wanted 'above 0, at most 2 h'\n");
  EXPECT_EQ(faults("60,20,40\n30,20,40\n"),
            "2:1  issue.pibal_times_rise got '30' wanted 'each call later than the one before'\n");
  EXPECT_EQ(faults("t,a,e\n"), "0:0  issue.pibal_rows got '' wanted 'a line such as 30,20.0,39.8'\n");
}

TEST(PibalCsv, StopsAtAFileThatIsAnother) {
  std::string csv;
  for (int i = 0; i < 1000; ++i) csv += "1,2\n";
  const auto parsed = parse_pibal_csv(csv, "c.csv", North::of_the_earth);
  ASSERT_EQ(parsed.issues.size(), 51u);
  EXPECT_EQ(parsed.issues.back().sentence.key, "issue.profile_many");
}

}  // namespace
}  // namespace pappus::text
