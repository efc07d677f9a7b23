#include "formats/text/pilot/flight_file.hpp"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "formats/text/pilot/balloon_file.hpp"
#include "tests/formats/text/pilot/edited_file.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

using testing::Edit;
using testing::edited;
using testing::told;

// The file as the design prints it: every key in it must work as it stands.
const std::string kExample = R"(# flight.toml
balloon = "balloon.toml"
as_of = 2027-05-16T04:50:00-09:00    # when it was put together; --now wins over it, the clock comes last
time = 2027-05-16T05:10:00-09:00
planned = "60min"
rules = "us"                         # or "eu"; absent: look yourself
[field]
name = "..."
at = [38.90, -133.40]
elevation = "1500m"
qnh = "1018hPa"                      # or from a report; absent: not known, never a standard value
airspace = "G"
[[fuel]]                             # what is thought to be aboard; the book's memory wins when it is later
cylinder = "1"
liquid = "15gal"
temperature = "4C"
seen = 2027-05-16T04:30:00-09:00
[highest]
above_field = "300m"
[[aboard]]
role = "pilot"
mass = "82kg"
bags = "3kg"
[[wind]]                             # the typed ladder: units once
by = "pibal"
seen = 2027-05-16T04:40:00-09:00
units = ["m agl", "deg true from", "kt", "C"]
rows = [[0, 100, 2, 3], [150, 215, 9, 9], [300, 240, 14, 15]]
[[report]]                           # pasted; junk around it is fine
text = "METAR ..."
[[look]]                             # what the pilot saw
what = "visibility"
value = "10mi"
time = 2027-05-16T04:45:00-09:00
[pilot]
certificate = "commercial"
review = 2025-06-12
landings = [2027-02-15, 2027-03-06, 2027-04-11]
[minimum]                            # the pilot's own
surface_wind = "8kt"
reserve = "30min"
)";

// The same with a report that holds one.
const std::string kGood = edited(kExample, "METAR ...", "METAR XABC 161335Z 10002KT 10SM CLR 03/M01 A3006");

Moment local(int hour, int minute) {
  const UtcOffset offset{-9 * 60};
  return Moment{instant_of(*Date::of(2027, 5, 16), hour, minute, 0.0, offset), offset};
}

FlightFile read_good(const std::string& text) {
  const Parsed<FlightFile> parsed = parse_flight(text, "flight.toml");
  EXPECT_EQ(told(parsed.issues), "");
  return parsed.value.value();
}

TEST(FlightFile, WhatWasReadOfACylinderStandsBesideTheFigure) {
  const auto fuel = [](const std::string& more) {
    return read_good(edited(kGood, "temperature = \"4C\"", "temperature = \"4C\"\n" + more)).flight.fuel.at(0);
  };
  EXPECT_EQ(fuel("filled_at = \"12C\"").filled->coldest, celsius(12.0));
  const auto between = fuel("filled_between = [\"20C\", \"5C\"]").filled;
  EXPECT_EQ(between->coldest, celsius(5.0));
  EXPECT_EQ(between->warmest, celsius(20.0));
  EXPECT_EQ(fuel("valve = \"vapour\"").valve, propane::Valve::vapour);
  EXPECT_EQ(fuel("gauge = \"top\"").dial->at, propane::Dial::At::top);
  EXPECT_EQ(fuel("gauge = \"bottom\"").dial->at, propane::Dial::At::bottom);
  EXPECT_EQ(fuel("gauge = \"20%\"").dial->fraction, 0.2);
  EXPECT_EQ(fuel("weighed = \"41kg\"").weighed, 41.0 * kilogram);
  EXPECT_EQ(fuel("gauge_pressure = \"80psi\"").gauge_pressure->from_origin(), 80.0 * pound_per_square_inch);
  EXPECT_TRUE(fuel("charged = true").charged);
  EXPECT_TRUE(fuel("outdoors = true").outdoors);
}

TEST(FlightFile, TheExampleReadsToExactlyItsValues) {
  const FlightFile file = read_good(kGood);
  const sheet::Flight& f = file.flight;
  EXPECT_EQ(file.balloon, "balloon.toml");
  EXPECT_EQ(f.as_of, local(4, 50));
  EXPECT_EQ(f.time, local(5, 10));
  EXPECT_EQ(f.planned, 60.0 * minute);
  EXPECT_EQ(f.rules, sheet::RuleSet::us);
  EXPECT_EQ(f.field.name, "...");
  EXPECT_EQ(f.field.at.latitude(), 38.90 * degree);
  EXPECT_EQ(f.field.at.longitude(), -133.40 * degree);
  EXPECT_EQ(f.field.elevation, amsl(1500.0 * metre));
  EXPECT_EQ(f.field.qnh, 1018.0 * hectopascal);
  EXPECT_EQ(f.field.airspace, sheet::Airspace::g);
  ASSERT_EQ(f.fuel.size(), 1u);
  EXPECT_EQ(f.fuel[0].cylinder, "1");
  EXPECT_EQ(f.fuel[0].liquid, 15.0 * us_gallon);
  EXPECT_EQ(f.fuel[0].temperature, celsius(4.0));
  EXPECT_EQ(f.fuel[0].seen, local(4, 30));
  EXPECT_EQ(f.highest, agl(300.0 * metre));
  ASSERT_EQ(f.aboard.size(), 1u);
  EXPECT_EQ(f.aboard[0].role, people::Role::pilot);
  EXPECT_EQ(f.aboard[0].mass, 82.0 * kilogram);
  EXPECT_EQ(f.aboard[0].basis, people::MassBasis::stated);
  EXPECT_EQ(f.aboard[0].bags, 3.0 * kilogram);
  EXPECT_EQ(f.aboard[0].name, "");
  ASSERT_EQ(f.ladders.size(), 1u);
  const wind::Ladder& ladder = f.ladders[0];
  EXPECT_EQ(ladder.source, (wind::Source{wind::SourceKind::pibal, "pibal", local(4, 40).at}));
  ASSERT_EQ(ladder.rows.size(), 3u);
  EXPECT_EQ(ladder.rows[0].altitude, amsl(1500.0 * metre));
  EXPECT_EQ(ladder.rows[0].wind, wind::Wind::from(TrueBearing::at(100.0 * degree), 2.0 * knot));
  EXPECT_EQ(ladder.rows[0].temperature, celsius(3.0));
  EXPECT_EQ(ladder.rows[1].altitude, amsl(1650.0 * metre));
  EXPECT_EQ(ladder.rows[1].wind, wind::Wind::from(TrueBearing::at(215.0 * degree), 9.0 * knot));
  EXPECT_EQ(ladder.rows[1].temperature, celsius(9.0));
  EXPECT_EQ(ladder.rows[2].altitude, amsl(1800.0 * metre));
  EXPECT_EQ(ladder.rows[2].wind, wind::Wind::from(TrueBearing::at(240.0 * degree), 14.0 * knot));
  EXPECT_EQ(ladder.rows[2].temperature, celsius(15.0));
  ASSERT_EQ(f.reports.size(), 1u);
  EXPECT_EQ(f.reports[0].station, "XABC");
  EXPECT_EQ(f.reports[0].source.time, local(4, 35).at);
  ASSERT_EQ(f.looks.size(), 1u);
  EXPECT_EQ(f.looks[0].what, "visibility");
  EXPECT_EQ(f.looks[0].value, measure::distance(10.0 * statute_mile));
  EXPECT_EQ(f.looks[0].words, "10mi");
  EXPECT_EQ(f.looks[0].time, local(4, 45));
  EXPECT_EQ(f.pilot.certificate, "commercial");
  EXPECT_EQ(f.pilot.review, Date::of(2025, 6, 12));
  EXPECT_EQ(f.pilot.landings,
            (std::vector<Date>{*Date::of(2027, 2, 15), *Date::of(2027, 3, 6), *Date::of(2027, 4, 11)}));
  EXPECT_EQ(f.minimum.surface_wind, 8.0 * knot);
  EXPECT_EQ(f.minimum.reserve, 30.0 * minute);
}

TEST(FlightFile, TheExampleAsPrintedHasOnlyAReportThatHoldsNone) {
  const Parsed<FlightFile> parsed = parse_flight(kExample, "flight.toml");
  ASSERT_TRUE(parsed.value.has_value());
  EXPECT_TRUE(parsed.value->flight.reports.empty());
  ASSERT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
  EXPECT_TRUE(is_warning(parsed.issues[0]));
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.air_none");
  EXPECT_EQ(parsed.issues[0].where.line, 30);
  EXPECT_EQ(parsed.issues[0].where.key, "report[1].text");
}

const std::string kLeast = R"(balloon = "b.toml"
time = 2027-05-16T05:10:00-09:00
planned = "45min"
[field]
name = "Meadow"
at = [38, -133]
elevation = "10ft"
[[aboard]]
role = "pilot"
mass = "180lb"
)";

TEST(FlightFile, WhatIsAbsentStaysNotKnown) {
  const sheet::Flight f = read_good(kLeast).flight;
  EXPECT_FALSE(f.as_of.has_value());
  EXPECT_FALSE(f.rules.has_value());
  EXPECT_FALSE(f.field.qnh.has_value());
  EXPECT_FALSE(f.field.airspace.has_value());
  EXPECT_TRUE(f.fuel.empty());
  EXPECT_FALSE(f.highest.has_value());
  EXPECT_FALSE(f.aboard.at(0).bags.has_value());
  EXPECT_TRUE(f.ladders.empty());
  EXPECT_TRUE(f.reports.empty());
  EXPECT_TRUE(f.looks.empty());
  EXPECT_FALSE(f.pilot.certificate.has_value());
  EXPECT_FALSE(f.pilot.review.has_value());
  EXPECT_TRUE(f.pilot.landings.empty());
  EXPECT_FALSE(f.minimum.surface_wind.has_value());
  EXPECT_FALSE(f.minimum.reserve.has_value());
}

TEST(FlightFile, OtherWaysToWriteTheSameAreRead) {
  EXPECT_EQ(
      read_good(edited(kGood, "as_of = 2027-05-16T04:50:00-09:00", "as_of = 2027-05-16T13:50:00Z")).flight.as_of->at,
      local(4, 50).at);
  EXPECT_EQ(
      read_good(edited(kGood, "as_of = 2027-05-16T04:50:00-09:00", "as_of = \"2027-05-16T04:50-09:00\"")).flight.as_of,
      local(4, 50));
  EXPECT_EQ(read_good(edited(kGood, "as_of = 2027-05-16T04:50:00-09:00", "as_of = 2027-05-16 04:50:00.500-09:00"))
                .flight.as_of->at,
            local(4, 50).at + 0.5 * second);
  EXPECT_EQ(read_good(edited(kGood, "mass = \"82kg\"", "mass = \"82kg\"\nbasis = \"weighed\"\nname = \"Maren\""))
                .flight.aboard[0]
                .basis,
            people::MassBasis::weighed);
  EXPECT_EQ(read_good(edited(kGood, "by = \"pibal\"", "by = \"forecast\"\nname = \"model run of 12Z\""))
                .flight.ladders[0]
                .source.name,
            "model run of 12Z");
  EXPECT_EQ(
      read_good(edited(kGood, "at = [38.90, -133.40]", "at = [\n  38, # north\n  -133,\n]")).flight.field.at.latitude(),
      38.0 * degree);
  const sheet::Look look = read_good(edited(kGood, "what = \"visibility\"\nvalue = \"10mi\"",
                                            "what = \"dew\"\nvalue = \"none on the grass\""))
                               .flight.looks.at(0);
  EXPECT_EQ(look.words, "none on the grass");
  EXPECT_FALSE(look.value.has_value());
}

TEST(FlightFile, TheKeysOfGroundHeightAndFitnessAreRead) {
  std::string text = edited(kGood, "airspace = \"G\"",
                            "airspace = \"G\"\nground = \"sparse\"\nlocal_minimum_height = \"60m\"\nover_water = true");
  text = edited(text, "bags = \"3kg\"", "bags = \"3kg\"\nheight = \"1.60m\"");
  text = edited(text, "[minimum]", "[fitness]\nfit = false\ntime = 2027-05-16T04:45:00-09:00\n[minimum]");
  const FlightFile file = read_good(edited(text, "rules = \"us\"", "pilot_file = \"pilot.toml\"\nrules = \"us\""));
  const sheet::Flight& f = file.flight;
  EXPECT_EQ(file.pilot_file, "pilot.toml");
  EXPECT_EQ(f.field.ground, rules::Ground::sparse);
  EXPECT_EQ(f.field.local_minimum_height, agl(60.0 * metre));
  EXPECT_TRUE(f.field.over_water);
  EXPECT_EQ(f.aboard.at(0).height, 1.60 * metre);
  ASSERT_TRUE(f.fitness.has_value());
  EXPECT_FALSE(f.fitness->fit);
  EXPECT_EQ(f.fitness->time, local(4, 45));
  EXPECT_FALSE(read_good(kGood).flight.fitness.has_value());
}

TEST(FlightFile, CloudIsAHeightOrWords) {
  const auto look = [](const std::string& value) {
    return read_good(
               edited(kGood, "what = \"visibility\"\nvalue = \"10mi\"", "what = \"cloud\"\nvalue = \"" + value + "\""))
        .flight.looks.at(0);
  };
  EXPECT_EQ(look("2500ft").value, measure::height(2500.0 * foot));
  EXPECT_EQ(look("2500ft").words, "2500ft");
  EXPECT_FALSE(look("none").value.has_value());
  EXPECT_EQ(look("clear").words, "clear");
}

TEST(FlightFile, AStormIsADistanceOrWords) {
  const auto look = [](const std::string& value) {
    return read_good(
               edited(kGood, "what = \"visibility\"\nvalue = \"10mi\"", "what = \"storm\"\nvalue = \"" + value + "\""))
        .flight.looks.at(0);
  };
  EXPECT_EQ(look("40mi").value, measure::distance(40.0 * statute_mile));
  EXPECT_EQ(look("40mi").words, "40mi");
  EXPECT_FALSE(look("none").value.has_value());
  EXPECT_EQ(look("none").words, "none");
}

// ---- the plan

TEST(FlightFile, ThePlanIsRead) {
  const sheet::Flight flight =
      read_good(edited(edited(kGood, "[[wind]]",
                              "[[place]]\nname = \"Mill\"\nat = [38.95, -133.35]\n"
                              "[[place]]\nname = \"Ford\"\nat = [39, -133]\nradius = \"0.5km\"\n"
                              "[landing]\nobstacle = \"60ft\"\nroom = \"300m\"\n[[wind]]"),
                       "rules = \"us\"", "hot = true\nrules = \"us\""))
          .flight;
  EXPECT_TRUE(flight.hot);
  ASSERT_EQ(flight.places.size(), 2u);
  EXPECT_EQ(flight.places[0].name, "Mill");
  EXPECT_EQ(flight.places[0].at.latitude(), 38.95 * degree);
  EXPECT_EQ(flight.places[0].at.longitude(), -133.35 * degree);
  EXPECT_EQ(flight.places[0].radius, 100.0 * metre);
  EXPECT_EQ(flight.places[1].radius, 500.0 * metre);
  EXPECT_EQ(flight.landing.obstacle, 60.0 * foot);
  EXPECT_EQ(flight.landing.room, 300.0 * metre);
  const sheet::Flight without = read_good(kGood).flight;
  EXPECT_FALSE(without.hot || without.landing.obstacle || without.landing.room || !without.places.empty());
}

TEST(FlightFile, FiftyPlacesAreReadAndOneMoreIsRefused) {
  const auto with_places = [](int count) {
    std::string text = kGood;
    for (int i = 0; i < count; ++i) text += "[[place]]\nname = \"P" + std::to_string(i) + "\"\nat = [38.95, -133.35]\n";
    return parse_flight(text, "flight.toml");
  };
  const auto fifty = with_places(50);
  ASSERT_TRUE(fifty.value.has_value()) << told(fifty.issues);
  EXPECT_EQ(fifty.value->flight.places.size(), 50u);
  const auto more = with_places(51);
  EXPECT_FALSE(more.value.has_value());
  EXPECT_EQ(more.issues.at(0).sentence.key, "issue.place_many");
}

// ---- ladders

std::string with_ladder(const std::string& units, const std::string& rows) {
  return edited(edited(kGood, "units = [\"m agl\", \"deg true from\", \"kt\", \"C\"]", "units = " + units),
                "rows = [[0, 100, 2, 3], [150, 215, 9, 9], [300, 240, 14, 15]]", "rows = " + rows);
}

TEST(FlightFile, LaddersAreReadInEveryUnitAndOrder) {
  const auto row = [](const std::string& units, const std::string& rows) {
    return read_good(with_ladder(units, rows)).flight.ladders.at(0).rows.at(0);
  };
  const TrueBearing west = TrueBearing::at(270.0 * degree);
  const wind::LadderRow a = row(R"(["F", "mph", "deg true from", "ft amsl"])", "[[50, 10, 270, 6000]]");
  EXPECT_EQ(a.altitude, amsl(6000.0 * foot));
  EXPECT_EQ(a.wind, wind::Wind::from(west, 10.0 * mile_per_hour));
  EXPECT_EQ(a.temperature, fahrenheit(50.0));
  const wind::LadderRow b = row(R"(["ft agl", "deg true from", "m/s"])", "[[1000, 270, 5.5]]");
  EXPECT_EQ(b.altitude, above(amsl(1500.0 * metre), agl(1000.0 * foot)));
  EXPECT_EQ(b.wind, wind::Wind::from(west, 5.5 * metre_per_second));
  EXPECT_FALSE(b.temperature.has_value());
  const wind::LadderRow c = row(R"(["m amsl", "deg true from", "km/h"])", "[[1600, 270, 36]]");
  EXPECT_EQ(c.altitude, amsl(1600.0 * metre));
  EXPECT_EQ(c.wind, wind::Wind::from(west, 36.0 * kilometre_per_hour));
}

TEST(FlightFile, ACellThatIsNotKnownLeavesItsValueOut) {
  const std::string units = R"(["m agl", "deg true from", "kt", "C"])";
  const auto rows =
      read_good(with_ladder(units, R"([[0, "", 0, 3], [50, "", "", 4], [100, 215, 9, ""], [150, nan, nan, nan]])"))
          .flight.ladders.at(0)
          .rows;
  ASSERT_EQ(rows.size(), 4u);
  EXPECT_EQ(rows[0].wind, wind::Wind{}) << "calm needs no direction";
  EXPECT_FALSE(rows[1].wind.has_value());
  EXPECT_EQ(rows[1].temperature, celsius(4.0));
  EXPECT_TRUE(rows[2].wind.has_value());
  EXPECT_FALSE(rows[2].temperature.has_value());
  EXPECT_FALSE(rows[3].wind.has_value());
  EXPECT_FALSE(rows[3].temperature.has_value());
}

TEST(FlightFile, HalfAWindIsLeftOutAndTold) {
  const std::string text = with_ladder(R"(["m agl", "deg true from", "kt"])", R"([[0, 100, ""], [50, "", 7]])");
  const Parsed<FlightFile> parsed = parse_flight(text, "flight.toml");
  ASSERT_TRUE(parsed.value.has_value());
  EXPECT_EQ(told(parsed.issues),
            "28:9 wind[1].rows[1] issue.ladder_wind_half got '[0, 100, \"\"]' wanted 'direction and speed together'\n"
            "28:23 wind[1].rows[2] issue.ladder_wind_half got '[50, \"\", 7]' wanted 'direction and speed together'\n");
  for (const Issue& issue : parsed.issues) EXPECT_TRUE(is_warning(issue));
  for (const wind::LadderRow& row : parsed.value->flight.ladders.at(0).rows) EXPECT_FALSE(row.wind.has_value());
}

// ---- reports

TEST(FlightFile, FaultsInAReportPointIntoTheFileAndWithholdNothing) {
  const std::string line = "text = \"METAR XABC 161335Z 10002KT 10SM CLR 03/M01 A3006\"";
  const auto read = [&](std::string_view text) { return parse_flight(edited(kGood, line, text), "flight.toml"); };
  const auto in_block = read("text = \"\"\"\njunk\nMETAR XABC 161335Z 99900002KT 10SM CLR 03/M01 A3006\n\"\"\"");
  ASSERT_TRUE(in_block.value.has_value());
  EXPECT_EQ(in_block.value->flight.reports.size(), 1u);
  ASSERT_EQ(in_block.issues.size(), 1u) << told(in_block.issues);
  EXPECT_TRUE(is_warning(in_block.issues[0]));
  EXPECT_EQ(in_block.issues[0].where, (Where{"flight.toml", 32, 20, "report[1].text"}));
  // Text right behind the opening quotes stands in their line.
  const auto beside = read("text = '''METAR XABC 161335Z 99900002KT 10SM CLR 03/M01 A3006'''");
  ASSERT_EQ(beside.issues.size(), 1u) << told(beside.issues);
  EXPECT_EQ(beside.issues[0].where, (Where{"flight.toml", 30, 8 + 1 + 19, "report[1].text"}));
  const auto second_line = read("text = '''junk\nMETAR XABC 161335Z 99900002KT 10SM CLR 03/M01 A3006'''");
  ASSERT_EQ(second_line.issues.size(), 1u) << told(second_line.issues);
  EXPECT_EQ(second_line.issues[0].where, (Where{"flight.toml", 31, 20, "report[1].text"}));
}

TEST(FlightFile, OneTextMayHoldSeveralReports) {
  const std::string text = edited(kGood, "A3006\"", "A3006=\\nMETAR XDEF 161345Z 12003KT 10SM CLR 04/M01 A3006=\"");
  const FlightFile file = read_good(text);
  ASSERT_EQ(file.flight.reports.size(), 2u);
  EXPECT_EQ(file.flight.reports[1].station, "XDEF");
}

// ---- what is refused

const std::string kSecondFuel = "[[fuel]]\ncylinder = \"1\"\n[highest]";
const std::string kSecondPilot = "[[aboard]]\nrole = \"pilot\" # 2\nmass = \"70kg\"\n[[wind]]";

const std::string kPlan = R"([[place]]
name = "Mill"
at = [38.95, -133.35]
radius = "200m"
[landing]
obstacle = "60ft"
room = "400m"
[[wind]])";
// The good file with a plan in which one thing is made wrong.
std::string wrong_plan(std::string_view find, std::string_view put) { return edited(kPlan, find, put); }
const std::string kPlaceUnnamed = wrong_plan("name = \"Mill\"\n", "");
const std::string kPlaceNowhere = wrong_plan("at = [38.95, -133.35]\n", "");
const std::string kPlaceLatitude = wrong_plan("38.95", "138.95");
const std::string kPlaceLongitude = wrong_plan("-133.35", "-233.35");
const std::string kPlaceHalf = wrong_plan("[38.95, -133.35]", "[38.95]");
const std::string kPlaceFar = wrong_plan("-133.35", "-123.35");
const std::string kPlaceTiny = wrong_plan("200m", "9m");
const std::string kPlaceWide = wrong_plan("200m", "6km");
const std::string kPlaceBare = wrong_plan("\"200m\"", "200");
const std::string kPlaceTwice =
    "[[place]]\nname = \"Mill\"\nat = [38.9, -133.3]\n" + wrong_plan("\"Mill\"", "\"Mill\" # 2");
const std::string kObstacle = wrong_plan("\"60ft\"", "\"600m\"");
const std::string kObstacleBelow = wrong_plan("\"60ft\"", "\"-60ft\"");
const std::string kRoomShort = wrong_plan("\"400m\"", "\"4m\"");
const std::string kRoomLong = wrong_plan("\"400m\"", "\"400km\"");
const std::string kLandingKey = wrong_plan("obstacle", "obstacel");

const std::vector<Edit> kEdits{
    // ground, heights, fitness, own minima
    {"ground", "airspace = \"G\"", "ground = \"town\"\nairspace = \"G\"", "issue.field_ground", "\"town\"", "town",
     "one of congested, elsewhere, sparse"},
    {"local height", "airspace = \"G\"", "local_minimum_height = \"5km\"\nairspace = \"G\"",
     "issue.field_minimum_height", "\"5km\"", "5km", "0m to 3000m"},
    {"water in words", "airspace = \"G\"", "over_water = \"lake\"\nairspace = \"G\"", "issue.value_kind", "\"lake\"",
     "lake", "true or false"},
    {"person's height", "bags = \"3kg\"", "height = \"16m\"", "issue.aboard_height", "\"16m\"", "16m", "0.5m to 2.5m"},
    {"bare height", "bags = \"3kg\"", "height = 1.6", "issue.unit_missing", "1.6\n", "1.6", "a length with a unit"},
    {"cloud", "\"visibility\"\nvalue = \"10mi\"", "\"cloud\"\nvalue = \"25km\"", "issue.look_height", "\"25km\"",
     "25km", "0m to 12000m"},
    {"bare cloud", "\"visibility\"\nvalue = \"10mi\"", "\"cloud\"\nvalue = 2500", "issue.unit_missing", "2500\ntime",
     "2500", "a height with a unit"},
    {"fitness without an answer", "[minimum]", "[fitness]\ntime = 2027-05-16T04:45:00-09:00\n[minimum]",
     "issue.key_missing", "[fitness]", "", "true or false"},
    {"fitness without a time", "[minimum]", "[fitness]\nfit = true\n[minimum]", "issue.key_missing", "[fitness]", "",
     "a time with its offset"},
    {"fitness to come", "[minimum]", "[fitness]\nfit = true\ntime = 2027-05-16T05:00:00-09:00\n[minimum]",
     "issue.seen_later", "2027-05-16T05:00:00-09:00", "2027-05-16T05:00:00-09:00", "not after as_of"},
    {"fitness in words", "[minimum]", "[fitness]\nfit = \"well\"\ntime = 2027-05-16T04:45:00-09:00\n[minimum]",
     "issue.value_kind", "\"well\"", "well", "true or false"},
    {"own visibility", "reserve = \"30min\"", "visibility = \"60km\"", "issue.minimum_visibility", "\"60km\"", "60km",
     "0m to 50km"},
    {"own spread", "reserve = \"30min\"", "spread = \"21K\"", "issue.minimum_spread", "\"21K\"", "21K", "0K to 20K"},
    {"own cloud base", "reserve = \"30min\"", "cloud_base = \"7km\"", "issue.minimum_cloud_base", "\"7km\"", "7km",
     "0m to 6000m"},
    {"pilot file", "rules = \"us\"", "pilot_file = 3\nrules = \"us\"", "issue.value_kind", "3\nrules", "3",
     "a text in quotes"},
    // the plan
    {"hot in words", "rules = \"us\"", "hot = \"yes\"\nrules = \"us\"", "issue.value_kind", "\"yes\"", "yes",
     "true or false"},
    {"place.name", "[[wind]]", kPlaceUnnamed, "issue.key_missing", "[[place]]", "", "a text in quotes"},
    {"place.at", "[[wind]]", kPlaceNowhere, "issue.key_missing", "[[place]]", "", "[latitude, longitude]"},
    {"place latitude", "[[wind]]", kPlaceLatitude, "issue.field_latitude", "138.95", "138.95", "-90 to 90"},
    {"place longitude", "[[wind]]", kPlaceLongitude, "issue.field_longitude", "-233.35", "-233.35", "-180 to 180"},
    {"half a place", "[[wind]]", kPlaceHalf, "issue.field_position", "[38.95]", "[38.95]", "[latitude, longitude]"},
    {"a place far away", "[[wind]]", kPlaceFar, "issue.place_far", "[38.95, -123.35]", "[38.95, -123.35]",
     "within 300 km"},
    {"a tiny place", "[[wind]]", kPlaceTiny, "issue.place_radius", "\"9m\"", "9m", "10m to 5km"},
    {"a wide place", "[[wind]]", kPlaceWide, "issue.place_radius", "\"6km\"", "6km", "10m to 5km"},
    {"a bare radius", "[[wind]]", kPlaceBare, "issue.unit_missing", "200\n[landing]", "200", "a distance with a unit"},
    {"a place twice", "[[wind]]", kPlaceTwice, "issue.place_double", "\"Mill\" # 2", "Mill", "a name of its own"},
    {"obstacle", "[[wind]]", kObstacle, "issue.landing_obstacle", "\"600m\"", "600m", "0m to 300m"},
    {"obstacle below", "[[wind]]", kObstacleBelow, "issue.landing_obstacle", "\"-60ft\"", "-60ft", "0m to 300m"},
    {"room", "[[wind]]", kRoomShort, "issue.landing_room", "\"4m\"", "4m", "10m to 20km"},
    {"room", "[[wind]]", kRoomLong, "issue.landing_room", "\"400km\"", "400km", "10m to 20km"},
    {"landing key", "[[wind]]", kLandingKey, "issue.key_unknown", "obstacel", "obstacel", "obstacle"},
    // what is needed
    {"balloon", "balloon = \"balloon.toml\"\n", "", "issue.key_missing", "# flight.toml", "", "a text in quotes"},
    {"time", "time = 2027-05-16T05:10:00-09:00\n", "", "issue.key_missing", "# flight.toml", "",
     "a time with its offset"},
    {"planned", "planned = \"60min\"\n", "", "issue.key_missing", "# flight.toml", "", "a time span with a unit"},
    {"field.name", "name = \"...\"\n", "", "issue.key_missing", "[field]", "", "a text in quotes"},
    {"field.at", "at = [38.90, -133.40]\n", "", "issue.key_missing", "[field]", "", "[latitude, longitude] in degrees"},
    {"field.elevation", "elevation = \"1500m\"\n", "", "issue.key_missing", "[field]", "", "a height with a unit"},
    {"fuel.cylinder", "cylinder = \"1\"\n", "", "issue.key_missing", "[[fuel]]", "", "a text in quotes"},
    {"aboard.role", "role = \"pilot\"\n", "", "issue.key_missing", "[[aboard]]", "", "one of pilot, passenger"},
    {"aboard.mass", "mass = \"82kg\"\n", "", "issue.key_missing", "[[aboard]]", "", "a mass with a unit"},
    {"wind.by", "by = \"pibal\"\n", "", "issue.key_missing", "[[wind]]", "", "one of pibal, seen, report"},
    {"wind.seen", "seen = 2027-05-16T04:40:00-09:00\n", "", "issue.key_missing", "[[wind]]", "", "with its offset"},
    {"wind.units", "units = [\"m agl\", \"deg true from\", \"kt\", \"C\"]\n", "", "issue.key_missing", "[[wind]]", "",
     "\"deg true from\", a speed"},
    {"wind.rows", "rows = [[0, 100, 2, 3], [150, 215, 9, 9], [300, 240, 14, 15]]\n", "", "issue.key_missing",
     "[[wind]]", "", "rows, such as"},
    {"report.text", "text = \"METAR XABC 161335Z 10002KT 10SM CLR 03/M01 A3006\"\n", "", "issue.key_missing",
     "[[report]]", "", "a file beside this one"},
    {"look.what", "what = \"visibility\"\n", "", "issue.key_missing", "[[look]]", "", "one of visibility, cloud"},
    {"look.value", "value = \"10mi\"\n", "", "issue.key_missing", "[[look]]", "", "a distance with a unit"},
    {"look.time", "time = 2027-05-16T04:45:00-09:00\n", "", "issue.key_missing", "[[look]]", "", "with its offset"},
    // times and dates
    {"time without offset", "05:10:00-09:00", "05:10:00", "issue.moment_without_offset", "2027-05-16T05:10:00\n",
     "2027-05-16T05:10:00", "a time with its offset, such as 2027-05-16T05:10:00-09:00"},
    {"text without offset", "2027-05-16T05:10:00-09:00", "\"2027-05-16T05:10\"", "issue.moment_without_offset",
     "\"2027-05-16T05:10\"", "2027-05-16T05:10", "such as 2027-05-16T05:10:00-09:00"},
    {"a date for a time", "2027-05-16T05:10:00-09:00", "2027-05-16", "issue.moment_unreadable", "2027-05-16\n",
     "2027-05-16", "a time with its offset"},
    {"a clock for a time", "2027-05-16T05:10:00-09:00", "05:10:00", "issue.moment_unreadable", "05:10:00\n", "05:10:00",
     "a time with its offset"},
    {"words for a time", "2027-05-16T05:10:00-09:00", "\"dawn\"", "issue.moment_unreadable", "\"dawn\"", "dawn",
     "a time with its offset"},
    {"an offset beyond the Earth's", "05:10:00-09:00", "05:10:00-19:00", "issue.moment_unreadable",
     "2027-05-16T05:10:00-19:00", "2027-05-16T05:10:00-19:00", "a time with its offset"},
    {"no such day", "2025-06-12", "\"2025-02-30\"", "issue.date_unreadable", "\"2025-02-30\"", "2025-02-30", "a date"},
    {"a landing that is none", "2027-03-06", "3", "issue.date_unreadable", "3, 2027-04-11", "3", "a date"},
    {"a review to come", "2025-06-12", "2027-05-17", "issue.done_later", "2027-05-17", "2027-05-17",
     "not after 2027-05-16"},
    {"a landing to come", "2027-04-11", "2028-04-11", "issue.done_later", "2028-04-11", "2028-04-11",
     "not after 2027-05-16"},
    // seen in the future
    {"fuel seen later", "04:30:00", "04:52:00", "issue.seen_later", "2027-05-16T04:52:00-09:00",
     "2027-05-16T04:52:00-09:00", "not after as_of, 2027-05-16T04:50:00-09:00"},
    {"wind seen later", "04:40:00", "04:52:00", "issue.seen_later", "2027-05-16T04:52:00-09:00",
     "2027-05-16T04:52:00-09:00", "not after as_of"},
    {"look taken later", "04:45:00", "04:51:01", "issue.seen_later", "2027-05-16T04:51:01-09:00",
     "2027-05-16T04:51:01-09:00", "not after as_of"},
    // bounds
    {"planned", "\"60min\"", "\"4min\"", "issue.planned", "\"4min\"", "4min", "5min to 8h"},
    {"planned", "\"60min\"", "\"60h\"", "issue.planned", "\"60h\"", "60h", "5min to 8h"},
    {"elevation", "\"1500m\"", "\"-431m\"", "issue.field_elevation", "\"-431m\"", "-431m", "-430m to 6000m"},
    {"elevation", "\"1500m\"", "\"15000m\"", "issue.field_elevation", "\"15000m\"", "15000m", "-430m to 6000m"},
    {"qnh", "\"1018hPa\"", "\"849hPa\"", "issue.field_qnh", "\"849hPa\"", "849hPa", "850hPa to 1085hPa"},
    {"qnh", "\"1018hPa\"", "\"30.18hPa\"", "issue.field_qnh", "\"30.18hPa\"", "30.18hPa", "850hPa to 1085hPa"},
    {"qnh", "\"1018hPa\"", "\"1086hPa\"", "issue.field_qnh", "\"1086hPa\"", "1086hPa", "850hPa to 1085hPa"},
    {"latitude", "38.90", "138.90", "issue.field_latitude", "138.90", "138.90", "-90 to 90"},
    {"latitude", "38.90", "nan", "issue.field_latitude", "nan", "nan", "-90 to 90"},
    {"longitude", "-133.40", "-233.40", "issue.field_longitude", "-233.40", "-233.40", "-180 to 180"},
    {"position", "[38.90, -133.40]", "[38.90]", "issue.field_position", "[38.90]", "[38.90]", "[latitude, longitude]"},
    {"position", "[38.90, -133.40]", "[\"38N\", -133]", "issue.field_position", "[\"38N\", -133]", "[\"38N\", -133]",
     "[latitude, longitude]"},
    {"position", "[38.90, -133.40]", "\"38.90,-133.40\"", "issue.value_kind", "\"38.90,-133.40\"", "38.90,-133.40",
     "[latitude, longitude]"},
    {"airspace", "\"G\"", "\"H\"", "issue.field_airspace", "\"H\"", "H", "one of A, B, C, D, E, F, G"},
    {"airspace in small", "\"G\"", "\"g\"", "issue.field_airspace", "\"g\"", "g", "G (one of A"},
    {"rules", "\"us\"", "\"usa\"", "issue.rules", "\"usa\"", "usa", "us (one of us, eu)"},
    {"fuel liquid", "\"15gal\"", "\"1500gal\"", "issue.fuel_liquid", "\"1500gal\"", "1500gal", "0L to 500L"},
    {"fuel liquid", "\"15gal\"", "\"-1gal\"", "issue.fuel_liquid", "\"-1gal\"", "-1gal", "0L to 500L"},
    {"fuel temperature", "\"4C\"", "\"-51C\"", "issue.fuel_temperature", "\"-51C\"", "-51C", "-50C to 60C"},
    {"fuel temperature", "\"4C\"", "\"100C\"", "issue.fuel_temperature", "\"100C\"", "100C", "-50C to 60C"},
    {"fuel dial", "\"4C\"", "\"4C\"\ngauge = \"full\"", "issue.fuel_gauge", "\"full\"", "full",
     "\"top\" or \"bottom\""},
    {"fuel dial", "\"4C\"", "\"4C\"\ngauge = \"120%\"", "issue.fuel_gauge", "\"120%\"", "120%", "0% to 100%"},
    {"fuel valve", "\"4C\"", "\"4C\"\nvalve = \"wet\"", "issue.fuel_valve", "\"wet\"", "wet", "one of liquid, vapour"},
    {"fuel weight", "\"4C\"", "\"4C\"\nweighed = \"600kg\"", "issue.fuel_weighed", "\"600kg\"", "600kg",
     "1kg to 500kg"},
    {"fuel pressure", "\"4C\"", "\"4C\"\ngauge_pressure = \"500psi\"", "issue.fuel_gauge_pressure", "\"500psi\"",
     "500psi", "0psi to 400psi"},
    {"fill", "\"4C\"", "\"4C\"\nfilled_at = \"60C\"", "issue.fuel_temperature", "\"60C\"", "60C", "-40C to 50C"},
    {"fill between", "\"4C\"", "\"4C\"\nfilled_between = [\"5C\"]", "issue.fuel_between", "[\"5C\"]", "[\"5C\"]",
     "two temperatures"},
    {"fill twice", "\"4C\"", "\"4C\"\nfilled_at = \"9C\"\nfilled_between = [\"5C\", \"8C\"]", "issue.filled_twice",
     "[\"5C\", \"8C\"]", "[\"5C\", \"8C\"]", "filled_at or filled_between"},
    {"fuel twice", "[highest]", kSecondFuel, "issue.fuel_double", "\"1\"\n[highest]", "1", "one [[fuel]] for each"},
    {"highest", "\"300m\"", "\"9m\"", "issue.highest_above_field", "\"9m\"", "9m", "10m to 9000m"},
    {"highest", "\"300m\"", "\"30000m\"", "issue.highest_above_field", "\"30000m\"", "30000m", "10m to 9000m"},
    {"role", "\"pilot\"", "\"pilto\"", "issue.aboard_role", "\"pilto\"", "pilto", "pilot (one of pilot, passenger"},
    {"no pilot", "\"pilot\"", "\"passenger\"", "issue.aboard_no_pilot", "\"passenger\"", "passenger", "exactly one"},
    {"two pilots", "[[wind]]", kSecondPilot, "issue.aboard_pilots", "\"pilot\" # 2", "pilot", "exactly one"},
    {"person", "\"82kg\"", "\"14kg\"", "issue.aboard_mass", "\"14kg\"", "14kg", "15kg to 250kg"},
    {"person", "\"82kg\"", "\"820kg\"", "issue.aboard_mass", "\"820kg\"", "820kg", "15kg to 250kg"},
    {"bags", "\"3kg\"", "\"-3kg\"", "issue.aboard_bags", "\"-3kg\"", "-3kg", "0kg to 100kg"},
    {"bags", "\"3kg\"", "\"300kg\"", "issue.aboard_bags", "\"300kg\"", "300kg", "0kg to 100kg"},
    {"basis", "bags = \"3kg\"", "basis = \"wieghed\"", "issue.aboard_basis", "\"wieghed\"", "wieghed",
     "weighed (one of stated, weighed)"},
    {"surface wind", "\"8kt\"", "\"80kt\"", "issue.minimum_surface_wind", "\"80kt\"", "80kt", "0kt to 50kt"},
    {"reserve", "\"30min\"", "\"30h\"", "issue.minimum_reserve", "\"30h\"", "30h", "0min to 5h"},
    {"accepted limit", "reserve = \"30min\"",
     "reserve = \"30min\"\n[[accept]]\nlimit = \"report_ag\"\nreason = \"seen\"\ntime = 2027-05-16T04:48:00-09:00",
     "issue.accept_limit", "\"report_ag\"", "report_ag", "report_age (one of"},
    {"accepted without a reason", "reserve = \"30min\"",
     "reserve = \"30min\"\n[[accept]]\nlimit = \"report_age\"\nreason = \" \"\ntime = 2027-05-16T04:48:00-09:00",
     "issue.text_blank", "\" \"", " ", ""},
    {"look", "\"visibility\"", "\"visibilty\"", "issue.look_what", "\"visibilty\"", "visibilty", "visibility (one of"},
    {"visibility", "\"10mi\"", "\"-10mi\"", "issue.look_distance", "\"-10mi\"", "-10mi", "0m to 300km"},
    {"visibility", "\"10mi\"", "\"1000km\"", "issue.look_distance", "\"1000km\"", "1000km", "0m to 300km"},
    {"visibility in words", "\"10mi\"", "\"good\"", "issue.number_unreadable", "\"good\"", "good", "a distance"},
    {"bare visibility", "\"10mi\"", "10", "issue.unit_missing", "10\ntime", "10", "a distance with a unit"},
    {"storm", "\"visibility\"\nvalue = \"10mi\"", "\"storm\"\nvalue = \"400km\"", "issue.look_distance", "\"400km\"",
     "400km", "0m to 300km"},
    {"bare storm", "\"visibility\"\nvalue = \"10mi\"", "\"storm\"\nvalue = 40", "issue.unit_missing", "40\ntime", "40",
     "a distance with a unit"},
    {"dew as number", "\"visibility\"\nvalue = \"10mi\"", "\"dew\"\nvalue = 4", "issue.value_kind", "4\ntime", "4",
     "a text in quotes"},
    // ladders
    {"by", "\"pibal\"", "\"pybal\"", "issue.wind_by", "\"pybal\"", "pybal", "pibal (one of pibal, seen"},
    {"magnetic", "\"deg true from\"", "\"deg mag from\"", "issue.ladder_magnetic", "\"deg mag from\"", "deg mag from",
     "turned to true north"},
    {"unit", "\"m agl\"", "\"m alg\"", "issue.ladder_unit", "\"m alg\"", "m alg", "m agl (one of"},
    {"unit that says not above what", "\"m agl\"", "\"furlong\"", "issue.ladder_unit", "\"furlong\"", "furlong",
     "one of m agl, ft agl"},
    {"two speeds", "\"kt\", \"C\"", "\"kt\", \"mph\"", "issue.ladder_units_double", "\"mph\"", "mph",
     "a speed and maybe"},
    {"no speed", "\"kt\", \"C\"", "\"C\"", "issue.ladder_units_missing", "[\"m agl\"",
     "[\"m agl\", \"deg true from\", \"C\"]", "a speed and maybe"},
    {"units as text", "[\"m agl\", \"deg true from\", \"kt\", \"C\"]", "\"m agl\"", "issue.value_kind", "\"m agl\"",
     "m agl", "such as [\"m agl\""},
    {"short row", "[150, 215, 9, 9]", "[150, 215, 9]", "issue.ladder_row_length", "[150, 215, 9]", "[150, 215, 9]",
     "4 cells"},
    {"long row", "[150, 215, 9, 9]", "[150, 215, 9, 9, 9]", "issue.ladder_row_length", "[150, 215, 9, 9, 9]",
     "[150, 215, 9, 9, 9]", "4 cells"},
    {"no row", "[[0, 100, 2, 3], [150, 215, 9, 9], [300, 240, 14, 15]]", "[]", "issue.ladder_rows", "[]\n", "[]",
     "at least one row"},
    {"flat rows", "[[0, 100, 2, 3], [150, 215, 9, 9], [300, 240, 14, 15]]", "[0]", "issue.value_kind", "0]\n[[report]]",
     "0", "a row of numbers"},
    {"rows as text", "[[0, 100, 2, 3], [150, 215, 9, 9], [300, 240, 14, 15]]", "\"0 100 2 3\"", "issue.value_kind",
     "\"0 100 2 3\"", "0 100 2 3", "rows, such as"},
    {"falling", "[150, 215", "[350, 215", "issue.ladder_not_rising", "[300, 240", "[300, 240, 14, 15]",
     "each row higher"},
    {"same height", "[150, 215", "[300, 215", "issue.ladder_double", "[300, 240", "[300, 240, 14, 15]",
     "each row higher"},
    {"cell with unit", "[150, 215, 9, 9]", "[150, 215, \"9kt\", 9]", "issue.ladder_cell", "\"9kt\"", "9kt",
     "a number in the unit"},
    {"infinite cell", "[150, 215, 9, 9]", "[150, 215, inf, 9]", "issue.ladder_cell", "inf", "inf", "a number"},
    {"height not known", "[150, 215", "[\"\", 215", "issue.ladder_height", "\"\", 215", "", "above the field"},
    {"height below the field", "[[0, 100", "[[-1, 100", "issue.ladder_height", "-1, 100", "-1", "0 to 20000 m"},
    {"direction", "[150, 215", "[150, 361", "issue.ladder_direction", "361", "361", "0 to 360"},
    {"direction", "[150, 215", "[150, -5", "issue.ladder_direction", "-5", "-5", "0 to 360"},
    {"speed", "215, 9, 9]", "215, 151, 9]", "issue.ladder_speed", "151", "151", "0 to 150 kt"},
    {"speed", "215, 9, 9]", "215, -9, 9]", "issue.ladder_speed", "-9, 9", "-9", "0 to 150 kt"},
    {"temperature", "215, 9, 9]", "215, 9, 99]", "issue.ladder_temperature", "99]", "99", "-90 to 60 C"},
    {"temperature", "215, 9, 9]", "215, 9, -99]", "issue.ladder_temperature", "-99]", "-99", "-90 to 60 C"},
    // unknown keys
    {"root", "rules =", "rulse =", "issue.key_unknown", "rulse", "rulse", "rules"},
    {"field", "airspace =", "air_space =", "issue.key_unknown", "air_space", "air_space", "airspace"},
    {"fuel", "liquid =", "liqiud =", "issue.key_unknown", "liqiud", "liqiud", "liquid"},
    {"highest", "above_field =", "above =", "issue.key_unknown", "above =", "above", "above_field"},
    {"aboard", "bags =", "bag =", "issue.key_unknown", "bag =", "bag", "bags"},
    {"wind", "by =", "age = 3\nby =", "issue.key_unknown", "age", "age", "one of by, seen, name, units, rows"},
    {"report", "[[report]]", "[[report]]\nplace = \"x\"", "issue.key_unknown", "place", "place",
     "place, before the first table"},
    {"look", "[[look]]", "[[look]]\nwho = \"x\"", "issue.key_unknown", "who", "who", "one of what, value, time"},
    {"pilot", "landings =", "landing =", "issue.key_unknown", "landing =", "landing", "landings"},
    {"minimum", "surface_wind =", "wind_surface =", "issue.key_unknown", "wind_surface", "wind_surface",
     "one of surface_wind, reserve"},
    {"key of another table", "planned =", "qnh = \"1018hPa\"\nplanned =", "issue.key_unknown", "qnh", "qnh",
     "field.qnh"},
    // the text itself
    {"syntax", "planned = \"60min\"", "planned = 60min", "issue.toml_syntax", "min\nrules", "planned = 60min",
     "a line such as"},
};

TEST(FlightFile, EachBrokenRuleIsToldWithItsPlaceAndWhatWouldBeRight) {
  for (const Edit& edit : kEdits) {
    SCOPED_TRACE(std::string(edit.rule) + ": " + std::string(edit.put));
    const std::string text = edited(kGood, edit.find, edit.put);
    const Parsed<FlightFile> parsed = parse_flight(text, "broken.toml");
    EXPECT_FALSE(parsed.value.has_value());
    EXPECT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
    if (parsed.issues.size() != 1) continue;
    testing::expect_issue(parsed.issues.front(), edit, "broken.toml", text);
    EXPECT_FALSE(is_warning(parsed.issues.front()));
  }
}

TEST(FlightFile, AllFaultsAreToldAtOnceInTheOrderOfTheFile) {
  std::string text = edited(kGood, "\"60min\"", "60");
  text = edited(text, "airspace =", "airspce =");
  text = edited(text, "\"15gal\"", "\"15kg\"");
  text = edited(text, "\"82kg\"", "\"820kg\"");
  text = edited(text, "[150, 215, 9, 9]", "[150, 415, 9]");
  text = edited(text, "10002KT", "99900002KT");
  text = edited(text, "04:45:00-09:00", "04:45:00");
  const Parsed<FlightFile> parsed = parse_flight(text, "seven.toml");
  EXPECT_FALSE(parsed.value.has_value());
  std::vector<std::string> keys;
  std::vector<int> lines;
  for (const Issue& issue : parsed.issues) {
    keys.push_back(issue.sentence.key);
    lines.push_back(issue.where.line);
  }
  EXPECT_EQ(keys, (std::vector<std::string>{"issue.unit_missing", "issue.key_unknown", "issue.unit_other_kind",
                                            "issue.aboard_mass", "issue.ladder_row_length", "issue.metar_wind",
                                            "issue.moment_without_offset"}));
  EXPECT_EQ(lines, (std::vector<int>{5, 12, 15, 22, 28, 30, 34}));
}

TEST(FlightFile, AnEmptyFileTellsAllThatIsNeeded) {
  const Parsed<FlightFile> parsed = parse_flight("", "empty.toml");
  EXPECT_FALSE(parsed.value.has_value());
  std::vector<std::string> missing;
  for (const Issue& issue : parsed.issues) {
    EXPECT_EQ(issue.sentence.key, "issue.key_missing");
    missing.push_back(issue.where.key);
  }
  EXPECT_EQ(missing, (std::vector<std::string>{"balloon", "time", "planned", "field.name", "field.elevation",
                                               "field.at", "aboard"}));
}

TEST(FlightFile, WhatIsSeenWithinAMinuteOfWritingIsTaken) {
  EXPECT_EQ(read_good(edited(kGood, "04:45:00", "04:51:00")).flight.looks[0].time, local(4, 51));
  // After the planned lift-off is fine as long as it is not after the writing.
  std::string text = edited(kGood, "as_of = 2027-05-16T04:50:00", "as_of = 2027-05-16T05:40:00");
  text = edited(text, "04:45:00", "05:30:00");
  EXPECT_EQ(read_good(text).flight.looks[0].time, local(5, 30));
}

TEST(FlightFile, AForecastMayBeDatedAhead) {
  const std::string text = edited(edited(kGood, "\"pibal\"", "\"forecast\""), "04:40:00", "06:00:00");
  EXPECT_EQ(read_good(text).flight.ladders[0].source.time, local(6, 0).at);
}

TEST(FlightFile, ALadderOverAFieldOfUnknownElevationTellsOnlyTheElevation) {
  const Parsed<FlightFile> parsed = parse_flight(edited(kGood, "elevation = \"1500m\"\n", ""), "flight.toml");
  ASSERT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
  EXPECT_EQ(parsed.issues[0].where.key, "field.elevation");
}

// ---- cross check

const std::string kBalloon = R"(name = "B"
envelope = {volume = "105000ft3", mass = "120kg"}
basket = {mass = "85kg"}
burner = [{mass = "20kg"}]
[[cylinder]]
id = "1"
shell = "18.75gal"
level_fill = "15gal"
tare = "18kg"
[[cylinder]]
id = "left"
shell = "72L"
level_fill = "57L"
tare = "18kg"
)";

balloon::Balloon two_cylinders() { return parse_balloon(kBalloon, "balloon.toml").value.value(); }

TEST(CrossCheck, AGoodFlightHasNothingAgainstIt) {
  EXPECT_EQ(told(cross_check(two_cylinders(), read_good(kGood))), "");
  EXPECT_EQ(told(cross_check(two_cylinders(), read_good(kGood), local(4, 50).at)), "");
}

TEST(CrossCheck, AnUnknownCylinderIsRefusedWithTheNearest) {
  const auto issues = cross_check(two_cylinders(), read_good(edited(kGood, "cylinder = \"1\"", "cylinder = \"lfet\"")));
  ASSERT_EQ(issues.size(), 1u);
  EXPECT_EQ(issues[0].code, Errc::not_found);
  EXPECT_EQ(told(issues),
            "14:12 fuel[1].cylinder issue.fuel_cylinder_unknown got 'lfet' wanted 'left (one of 1, left)'\n");
  EXPECT_EQ(issues[0].where.file, "flight.toml");
}

TEST(CrossCheck, MoreLiquidThanTheShellHoldsIsRefused) {
  const auto at_most = cross_check(two_cylinders(), read_good(edited(kGood, "\"15gal\"", "\"18.75gal\"")));
  EXPECT_EQ(told(at_most), "");
  const auto issues = cross_check(two_cylinders(), read_good(edited(kGood, "\"15gal\"", "\"19gal\"")));
  ASSERT_EQ(issues.size(), 1u);
  EXPECT_EQ(issues[0].code, Errc::conflict);
  EXPECT_EQ(told(issues),
            "15:10 fuel[1].liquid issue.fuel_over_shell got '19gal' wanted 'at most the shell, 18.75gal'\n");
}

TEST(CrossCheck, WhatIsSeenAfterThePresentIsRefused) {
  const auto issues = cross_check(two_cylinders(), read_good(kGood), local(4, 20).at);
  EXPECT_EQ(told(issues),
            "17:8 fuel[1].seen issue.seen_later got '2027-05-16T13:30:00Z' wanted 'not after the present, "
            "2027-05-16T13:20:00Z'\n"
            "26:8 wind[1].seen issue.seen_later got '2027-05-16T13:40:00Z' wanted 'not after the present, "
            "2027-05-16T13:20:00Z'\n"
            "34:8 look[1].time issue.seen_later got '2027-05-16T13:45:00Z' wanted 'not after the present, "
            "2027-05-16T13:20:00Z'\n");
}

// Law: a value, or an issue that is more than a warning; never both.
TEST(FlightFile, EveryTextGivesEitherAValueOrAnIssue) {
  Random random = testing::seeded("FlightFile.ValueOrIssue");
  for (int i = 0; i < 2000; ++i) {
    const std::string text = testing::mutated(kGood, random);
    const Parsed<FlightFile> parsed = parse_flight(text, "mutated.toml");
    bool grave = false;
    for (const Issue& issue : parsed.issues) {
      grave = grave || !is_warning(issue);
      ASSERT_GE(issue.where.line, 1) << text;
    }
    ASSERT_NE(parsed.value.has_value(), grave) << text;
    if (!parsed.value) continue;
    ASSERT_EQ(parsed.value->fuel_places.size(), parsed.value->flight.fuel.size());
    ASSERT_EQ(parsed.value->ladder_places.size(), parsed.value->flight.ladders.size());
    ASSERT_EQ(parsed.value->look_places.size(), parsed.value->flight.looks.size());
    for (const wind::Ladder& ladder : parsed.value->flight.ladders)
      for (std::size_t k = 1; k < ladder.rows.size(); ++k)
        ASSERT_LT(ladder.rows[k - 1].altitude, ladder.rows[k].altitude) << text;
  }
}

TEST(FlightFile, TakesWhatThePilotAccepts) {
  const std::string text = edited(kGood, "reserve = \"30min\"",
                                  "reserve = \"30min\"\n[[accept]]\nlimit = \"report_age\"\nreason = \"looked from the "
                                  "hill\"\ntime = 2027-05-16T04:48:00-09:00");
  const auto parsed = parse_flight(text, "flight.toml");
  ASSERT_TRUE(parsed.value);
  ASSERT_EQ(parsed.value->flight.accepted.size(), 1u);
  EXPECT_EQ(parsed.value->flight.accepted[0].limit, "report_age");
  EXPECT_EQ(parsed.value->flight.accepted[0].reason, "looked from the hill");
}

}  // namespace
}  // namespace pappus::text
