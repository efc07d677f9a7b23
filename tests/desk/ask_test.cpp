#include "desk/ask.hpp"

#include <map>

#include <gtest/gtest.h>

#include "formats/text/pilot/balloon_file.hpp"
#include "formats/text/pilot/balloon_write.hpp"
#include "tests/support/morning.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::desk {
namespace {

using testing::at_clock;
using Script = std::map<std::string, std::string>;  // answers by key

const std::string kReport = "SALTGRASS\nMETAR XSGB 161335Z AUTO 10002KT 10SM CLR 03/M01 A3006\n";

Script good_answers() {
  return {{"field", "Saltgrass Field, 38.90, -133.40, 1500m"},
          {"time", "05:20"},
          {"planned", "40"},
          {"aboard", "pilot Maren 78kg+4kg, Odile 64kg, Tavi 83kg w"},
          {"fuel", "18 full -"},
          {"fuel_temperature", "46F"},
          {"highest", "1000"},
          {"reports", kReport},
          {"winds", "pibal 04:40\n1000 240/14 12C\nsfc 100 2 3C\n"},
          {"looks", "10 few high none"},
          {"rules", "g US"},
          {"qnh", "3006"}};
}

FlightRoundInputs inputs(words::Units units = words::Units::us) {
  FlightRoundInputs out;
  out.balloon = testing::good_morning().balloon;
  out.balloon_path = "balloon.toml";
  out.now = at_clock(4, 50);
  out.reader.units = units;
  return out;
}

std::string told(const Heard& heard) {
  std::string out;
  for (const Issue& issue : heard.issues) out += issue.sentence.key + " ";
  return out;
}

// Goes through a round; gives the questions that were asked, in their order.
std::vector<std::string> go_through(Round& round, const Script& script) {
  std::vector<std::string> asked;
  while (const auto prompt = round.next()) {
    asked.push_back(prompt->key);
    const auto answer = script.find(prompt->key);
    const Heard heard = round.answer(answer == script.end() ? "" : answer->second);
    EXPECT_TRUE(heard.taken) << prompt->key << ": " << told(heard);
    if (!heard.taken || asked.size() > 20) break;
  }
  return asked;
}

sheet::Flight flight_of(const Round& round) {
  auto parsed = text::parse_flight(round.file(), "flight.toml");
  EXPECT_TRUE(parsed.value) << round.file();
  return parsed.value ? parsed.value->flight : sheet::Flight{};
}

// A round that stands at the question of that key, everything before it answered well.
void go_to(Round& round, std::string_view key, const Script& script) {
  while (round.next() && round.next()->key != key) {
    const std::string open = round.next()->key;
    const auto answer = script.find(open);
    ASSERT_TRUE(round.answer(answer == script.end() ? "" : answer->second).taken) << open;
  }
  ASSERT_TRUE(round.next()) << "never asked: " << key;
}

TEST(AskFlight, AFirstMorningTakesAtMostTwelveAnswers) {
  FlightRound round{inputs()};
  const auto asked = go_through(round, good_answers());
  EXPECT_EQ(asked, (std::vector<std::string>{"field", "time", "planned", "aboard", "fuel", "fuel_temperature",
                                             "highest", "reports", "winds", "looks", "rules"}));
  EXPECT_LE(asked.size(), static_cast<std::size_t>(kMostQuestions));
}

TEST(AskFlight, WithoutAReportTheAltimeterSettingIsTheTwelfth) {
  FlightRound round{inputs()};
  Script script = good_answers();
  script.erase("reports");
  const auto asked = go_through(round, script);
  EXPECT_EQ(asked.size(), 12u);
  EXPECT_EQ(asked.back(), "qnh");
  EXPECT_NEAR(flight_of(round).field.qnh->in(inch_of_mercury), 30.06, 1e-9);
}

TEST(AskFlight, TheAnswersAreInTheFile) {
  FlightRound round{inputs()};
  go_through(round, good_answers());
  const sheet::Flight f = flight_of(round);
  EXPECT_EQ(f.as_of, at_clock(4, 50));
  EXPECT_EQ(f.time, at_clock(5, 20));
  EXPECT_EQ(f.planned, 40.0 * minute);
  EXPECT_EQ(f.field.name, "Saltgrass Field");
  EXPECT_EQ(f.field.elevation, amsl(1500.0 * metre));
  EXPECT_EQ(f.field.airspace, sheet::Airspace::g);
  EXPECT_EQ(f.rules, sheet::RuleSet::us);
  ASSERT_EQ(f.fuel.size(), 3u);  // the third has a temperature only
  EXPECT_EQ(f.fuel[0].liquid, 18.0 * us_gallon);
  EXPECT_EQ(f.fuel[1].liquid, inputs().balloon.cylinders[1].level_fill);
  EXPECT_FALSE(f.fuel[2].liquid);
  EXPECT_NEAR(in_fahrenheit(*f.fuel[2].temperature), 46.0, 1e-9);
  EXPECT_EQ(f.fuel[0].seen, at_clock(4, 50));
  EXPECT_EQ(f.highest, agl(1000.0 * foot));
  ASSERT_EQ(f.aboard.size(), 3u);
  EXPECT_EQ(f.aboard[0].role, people::Role::pilot);
  EXPECT_EQ(f.aboard[0].bags, 4.0 * kilogram);
  EXPECT_EQ(f.aboard[2].basis, people::MassBasis::weighed);
  EXPECT_EQ(f.aboard[2].name, "Tavi");
  ASSERT_EQ(f.ladders.size(), 1u);
  EXPECT_EQ(f.ladders[0].source.kind, wind::SourceKind::pibal);
  EXPECT_EQ(f.ladders[0].source.time, at_clock(4, 40).at);
  ASSERT_EQ(f.ladders[0].rows.size(), 2u);  // put in order of height
  EXPECT_EQ(f.ladders[0].rows[0].altitude, f.field.elevation);
  EXPECT_NEAR(f.ladders[0].rows[1].wind->speed().in(knot), 14.0, 1e-9);
  ASSERT_EQ(f.reports.size(), 1u);
  ASSERT_EQ(f.looks.size(), 3u);
  EXPECT_EQ(f.looks[1].words, "few high");
  EXPECT_EQ(f.looks[2].words, "none");
}

TEST(AskFlight, AFieldsNameMayHoldCommasAndOneTooMany) {
  for (const auto& [typed, name] : std::vector<std::pair<std::string, std::string>>{
           {"Saltgrass, lower end, 38.90, -133.40, 1500m", "Saltgrass, lower end"},
           {"Saltgrass Field, , 38.90, -133.40, 1500m", "Saltgrass Field"}}) {
    FlightRound round{inputs()};
    Script script = good_answers();
    script["field"] = typed;
    go_through(round, script);
    EXPECT_EQ(flight_of(round).field.name, name);
  }
}

TEST(AskFlight, BareNumbersAreInTheReadersUnits) {
  FlightRound round{inputs(words::Units::metric)};
  Script script = good_answers();
  script["field"] = "Home, 38.9N, 133.4W, 1500";
  script["aboard"] = "78, Odile 64";
  script["fuel"] = "60 60 60";
  script["highest"] = "300";
  script["winds"] = "150 215 9";
  script["looks"] = "16 900 40";
  go_through(round, script);
  const sheet::Flight f = flight_of(round);
  EXPECT_EQ(f.field.elevation, amsl(1500.0 * metre));
  EXPECT_EQ(f.field.at, Position::at(38.9 * degree, -133.4 * degree));
  EXPECT_EQ(f.aboard[0].mass, 78.0 * kilogram);
  EXPECT_NEAR(f.fuel[0].liquid->in(litre), 60.0, 1e-9);
  EXPECT_EQ(f.highest, agl(300.0 * metre));
  EXPECT_NEAR((f.ladders[0].rows[0].altitude - f.field.elevation).in(metre), 150.0, 1e-9);
  EXPECT_EQ(f.looks[0].value, measure::distance(16.0 * kilometre));
  EXPECT_EQ(f.looks[1].value, measure::height(900.0 * metre));
  EXPECT_EQ(f.looks[2].value, measure::distance(40.0 * kilometre));
}

TEST(AskFlight, TheFirstOfWhomNobodyIsCalledPilotIsIt) {
  FlightRound round{inputs()};
  go_to(round, "aboard", good_answers());
  const Heard heard = round.answer("Maren 170, Odile 140");
  ASSERT_TRUE(heard.taken);
  ASSERT_EQ(heard.notes.size(), 1u);
  EXPECT_EQ(heard.notes[0].key, "ask.note_pilot");
}

TEST(AskFlight, AGaugeIsReadAsPropaneAndSaidToBe) {
  FlightRound round{inputs()};
  go_to(round, "fuel_temperature", good_answers());
  const Heard heard = round.answer("90psi");
  ASSERT_TRUE(heard.taken);
  ASSERT_EQ(heard.notes.size(), 1u);
  EXPECT_EQ(heard.notes[0].key, "ask.note_pressure");
  Script rest = good_answers();
  go_through(round, rest);
  // 90 psi over the 845 hPa of 1500 m is 7.05 bar: 13 C on the saturation line.
  EXPECT_NEAR(in_celsius(*flight_of(round).fuel[0].temperature), 13.8, 0.5);
}

TEST(AskFlight, ADirectionByCompassIsTurnedToTrueNorth) {
  FlightRound round{inputs()};
  Script script = good_answers();
  script["winds"] = "500 200mag 9\n1000 200 9";
  go_through(round, script);
  const sheet::Flight f = flight_of(round);
  const double turned = f.ladders[0].rows[0].wind->direction_from()->from_north().in(degree);
  EXPECT_GT(turned, 205.0);  // the needle points well east of true north off this coast
  EXPECT_LT(turned, 220.0);
  EXPECT_NEAR(f.ladders[0].rows[1].wind->direction_from()->from_north().in(degree), 200.0, 1e-9);
}

TEST(AskFlight, LiftOffIsProposedAtTheFirstFullTenMinutesAfterSunrise) {
  const auto proposed = [](int hour, int minute) {
    FlightRoundInputs in = inputs();
    in.now = at_clock(hour, minute);
    FlightRound round{in};
    EXPECT_TRUE(round.answer(good_answers()["field"]).taken);
    const auto prompt = round.next();
    return prompt->remembered.value_or("none");
  };
  // Sunrise at the field is some seconds after 04:40 on both days.
  EXPECT_EQ(proposed(2, 0), "04:50");
  EXPECT_EQ(proposed(4, 50), "05:10");  // with 20 minutes to get ready
  EXPECT_EQ(proposed(7, 15), "07:40");
  EXPECT_EQ(proposed(20, 0), "2027-05-17 04:40");
}

// ---- wrong answers

TEST(AskFlight, AWrongAnswerIsToldAndTheQuestionStandsAgain) {
  const std::vector<std::tuple<std::string, std::string, std::string>> cases{
      {"field", "", "issue.ask_needed"},
      {"field", "Home", "issue.ask_field"},
      {"field", "Home, x, y, 1500m", "issue.position_unreadable"},
      {"field", "Home, 38, -133, 1500kg", "issue.unit_other_kind"},
      {"field", "Home, 38, -133, 9000m", "issue.field_elevation"},
      {"field", ", 38, -133, 1500m", "issue.ask_field"},
      {"time", "25:10", "issue.time_unreadable"},
      {"time", "2027-09-16 05:10", "issue.ask_time_far"},
      {"planned", "", "issue.ask_needed"},
      {"planned", "1", "issue.planned"},
      {"planned", "40kg", "issue.unit_other_kind"},
      {"aboard", "Odile", "issue.ask_person"},
      {"aboard", "pilot 10kg", "issue.aboard_mass"},
      {"aboard", "pilot 78kg, pilot 80kg", "issue.aboard_pilots"},
      {"aboard", "pilot 78kg+500kg", "issue.aboard_bags"},
      {"aboard", "pilot 78kg+", "issue.number_unreadable"},
      {"fuel", "18 18", "issue.ask_fuel_count"},
      {"fuel", "18 18 30", "issue.fuel_over_shell"},
      {"fuel", "18 18 18kg", "issue.unit_other_kind"},
      {"fuel_temperature", "46", "issue.ask_temperature"},
      {"fuel_temperature", "46F 46F", "issue.ask_temperature_count"},
      {"fuel_temperature", "100C", "issue.fuel_temperature"},
      {"fuel_temperature", "900psi", "issue.ask_pressure"},
      {"highest", "3", "issue.highest_above_field"},
      {"reports", "good morning\n", "issue.air_none"},
      {"winds", "500 215\n", "issue.ask_wind_row"},
      {"winds", "500 400 9\n", "issue.ask_wind_row"},
      {"winds", "500 215 9 8\n", "issue.unit_missing"},
      {"winds", "500 215 900\n", "issue.ladder_speed"},
      {"winds", "500 215 9\n500 220 9\n", "issue.ladder_double"},
      {"looks", "10 clear", "issue.ask_looks"},
      {"looks", "far clear none", "issue.number_unreadable"},
      {"rules", "us H", "issue.ask_rules"},
  };
  for (const auto& [key, answer, issue] : cases) {
    SCOPED_TRACE(key + ": " + answer);
    FlightRound round{inputs()};
    go_to(round, key, good_answers());
    const Prompt before = *round.next();
    const Heard heard = round.answer(answer);
    EXPECT_FALSE(heard.taken);
    ASSERT_FALSE(heard.issues.empty());
    EXPECT_EQ(heard.issues[0].sentence.key, issue);
    EXPECT_EQ(heard.issues[0].where, Where{});  // in no file that anybody has seen
    ASSERT_TRUE(round.next());
    EXPECT_EQ(round.next()->key, key);
    EXPECT_EQ(round.next()->number, before.number);
    // Nothing of it is kept.
    go_through(round, good_answers());
    EXPECT_EQ(flight_of(round).aboard.size(), 3u);
  }
}

TEST(AskFlight, AWrongAltimeterSettingIsTold) {
  Script script = good_answers();
  script.erase("reports");
  for (const char* wrong : {"low", "700", "30kg"}) {
    FlightRound round{inputs()};
    go_to(round, "qnh", script);
    EXPECT_FALSE(round.answer(wrong).taken) << wrong;
  }
  for (const char* right : {"30.06", "A3006", "3006", "Q1018", "1018", "1018hPa", "30.06inHg", "q1018"}) {
    FlightRound round{inputs()};
    go_to(round, "qnh", script);
    EXPECT_TRUE(round.answer(right).taken) << right;
    EXPECT_NEAR(flight_of(round).field.qnh->in(hectopascal), 1018.0, 0.2) << right;
  }
}

TEST(AskFlight, OnlyTheWrongLinesOfWindsAreTypedAgain) {
  FlightRound round{inputs()};
  go_to(round, "winds", good_answers());
  const Heard heard = round.answer("pibal 04:40\nsfc 100 2\n200 xx 4\n500 215 9\n");
  EXPECT_FALSE(heard.taken);
  ASSERT_EQ(heard.issues.size(), 1u);
  EXPECT_EQ(heard.issues[0].got, "200 xx 4");
  ASSERT_TRUE(round.answer("200 160 4\n").taken);
  go_through(round, good_answers());
  EXPECT_EQ(flight_of(round).ladders.at(0).rows.size(), 3u);
}

TEST(AskFlight, WhatAReportHoldsAndNobodyUnderstandsIsToldAndTaken) {
  FlightRound round{inputs()};
  go_to(round, "reports", good_answers());
  const Heard heard = round.answer("METAR XSGB 161335Z 10002KT 10SM QQQQ/1 CLR 03/M01 A3006\n");
  EXPECT_TRUE(heard.taken);
  EXPECT_EQ(told(heard), "issue.metar_group ");
  ASSERT_EQ(heard.notes.size(), 1u);
  EXPECT_EQ(heard.notes[0].key, "ask.note_report");
}

TEST(AskFlight, GoingBackOpensTheQuestionBefore) {
  FlightRound round{inputs()};
  EXPECT_EQ(told(round.answer("<")), "issue.ask_first ");
  go_to(round, "fuel", good_answers());
  EXPECT_TRUE(round.answer("<").taken);
  EXPECT_EQ(round.next()->key, "aboard");
  EXPECT_FALSE(round.next()->remembered);  // it was never said before
  EXPECT_TRUE(round.answer("pilot 90kg").taken);
  EXPECT_EQ(round.next()->key, "fuel");
  EXPECT_EQ(round.next()->number, 5);
  go_through(round, good_answers());
  EXPECT_EQ(flight_of(round).aboard.size(), 1u);
}

// ---- memory

const char* const kLast = R"(# as the pilot wrote it
balloon = "balloon.toml"
as_of = 2027-05-09T04:50:00-09:00
time = 2027-05-09T05:10:00-09:00
planned = "40min"
rules = "us"
[field]
name = "Saltgrass Field"
at = [38.90, -133.40]
elevation = "1500m"
qnh = "1009hPa"
airspace = "G"
[[fuel]]
cylinder = "1"
liquid = "9gal"
temperature = "30C"
[highest]
above_field = "300m"
[[aboard]]
role = "pilot"
name = "Maren"
mass = "78kg"
[[aboard]]
role = "passenger"
mass = "64kg"
basis = "weighed"
[[wind]]
by = "seen"
seen = 2027-05-09T04:40:00-09:00
units = ["m agl", "deg true from", "kt"]
rows = [[0, 100, 2]]
[[look]]
what = "storm"
value = "none"
time = 2027-05-09T04:40:00-09:00
[pilot]
certificate = "commercial"
landings = [2027-02-20]
[minimum]
surface_wind = "8kt"
[[accept]]
limit = "surface_wind"
reason = "short walk"
time = 2027-05-09T04:45:00-09:00
)";

TEST(AskFlight, WhatDoesNotAgeIsRememberedAndTheRestIsNot) {
  FlightRoundInputs in = inputs();
  in.last = kLast;
  FlightRound round{in};
  EXPECT_TRUE(round.forgotten().empty());
  std::map<std::string, std::string> remembered;
  std::vector<std::string> asked;
  while (const auto prompt = round.next()) {
    asked.push_back(prompt->key);
    if (prompt->remembered) remembered[prompt->key] = *prompt->remembered;
    ASSERT_TRUE(round.answer("").taken) << prompt->key;
  }
  EXPECT_EQ(remembered, (std::map<std::string, std::string>{{"field", "Saltgrass Field"},
                                                            {"time", "05:10"},
                                                            {"planned", "40min"},
                                                            {"aboard", "pilot Maren 78kg, passenger 64kgw"},
                                                            {"highest", "300m"}}));
  EXPECT_EQ(asked.size(), 11u);  // rules and airspace are known, the altimeter setting is not
  const sheet::Flight f = flight_of(round);
  EXPECT_EQ(f.aboard.size(), 2u);
  EXPECT_EQ(f.aboard[1].basis, people::MassBasis::weighed);
  EXPECT_EQ(f.field.airspace, sheet::Airspace::g);
  EXPECT_EQ(f.pilot.certificate, "commercial");
  EXPECT_EQ(f.minimum.surface_wind, 8.0 * knot);
  EXPECT_FALSE(f.field.qnh);
  EXPECT_TRUE(f.fuel.empty() && f.ladders.empty() && f.looks.empty() && f.reports.empty() && f.accepted.empty());
  EXPECT_EQ(f.as_of, at_clock(4, 50));
}

TEST(AskFlight, WhatIsRememberedCanBeTypedAsItIsShown) {
  FlightRoundInputs in = inputs();
  in.last = kLast;
  FlightRound by_enter{in}, by_typing{in};
  while (const auto prompt = by_typing.next()) {
    ASSERT_TRUE(by_enter.answer("").taken);
    ASSERT_TRUE(by_typing.answer(prompt->remembered.value_or("")).taken) << prompt->key;
  }
  EXPECT_EQ(by_enter.file(), by_typing.file());
}

TEST(AskFlight, ANewFieldBringsNoAirspaceAlong) {
  FlightRoundInputs in = inputs();
  in.last = kLast;
  FlightRound round{in};
  const auto asked = go_through(round, {{"field", "Other, 40, -132, 20m"}});
  EXPECT_EQ(asked.size(), 12u);
  EXPECT_FALSE(flight_of(round).field.airspace);
  EXPECT_EQ(flight_of(round).rules, sheet::RuleSet::us);
}

TEST(AskFlight, PlacesTooFarFromANewFieldAreLeftOutAndNamed) {
  FlightRoundInputs in = inputs();
  in.last = std::string("pilot_file = \"pilot.toml\"\n") + kLast +
            "[[place]]\nname = \"Meadow\"\nat = [38.95, -133.35]\n[landing]\nobstacle = \"12m\"\n";
  FlightRound near{in}, far{in};
  EXPECT_TRUE(near.answer("Close by, 38.8, -133.3, 1500m").issues.empty());
  const Heard heard = far.answer("Other, 48, -132, 20m");
  EXPECT_TRUE(heard.taken);
  ASSERT_EQ(heard.issues.size(), 1u);
  EXPECT_EQ(heard.issues[0].where.key, "place");
  go_through(near, {});
  go_through(far, {});
  EXPECT_EQ(flight_of(near).places.size(), 1u);
  EXPECT_TRUE(flight_of(far).places.empty());
  EXPECT_EQ(flight_of(far).landing.obstacle, 12.0 * metre);
  EXPECT_NE(far.file().find("pilot_file = \"pilot.toml\""), std::string::npos);
}

TEST(AskFlight, AFileThatCannotBeReadIsSaidToBeForgotten) {
  for (const char* last : {"balloon = ", "balloon = \"b.toml\"\n", "time = 3\n"}) {
    FlightRoundInputs in = inputs();
    in.last = last;
    FlightRound round{in};
    ASSERT_EQ(round.forgotten().size(), 1u) << last;
    EXPECT_EQ(round.forgotten()[0].sentence.key, "issue.ask_forgotten");
    EXPECT_FALSE(round.next()->remembered);
  }
}

TEST(AskFlight, ATableThatDoesNotHoldAnyMoreIsLeftOutAndNamed) {
  FlightRoundInputs in = inputs();
  in.last = kLast;
  const std::string day = "2027-02-20";
  in.last->replace(in.last->find(day), day.size(), "2029-02-20");  // a landing that has not come
  FlightRound round{in};
  ASSERT_EQ(round.forgotten().size(), 1u);
  EXPECT_EQ(round.forgotten()[0].where.key, "pilot");
  go_through(round, {});
  EXPECT_FALSE(flight_of(round).pilot.certificate);
  EXPECT_EQ(flight_of(round).minimum.surface_wind, 8.0 * knot);
}

TEST(AskFlight, TheBalloonAndTheTimeOfAFileAreFound) {
  EXPECT_EQ(balloon_named_in(kLast), "balloon.toml");
  EXPECT_EQ(iso8601(*lift_off_in(kLast)), "2027-05-09T05:10:00-09:00");
  EXPECT_FALSE(balloon_named_in("balloon = 3\n"));
  EXPECT_FALSE(lift_off_in("nothing here"));
}

TEST(AskFlight, WhateverIsTypedTheFileStandsAtTheEnd) {
  auto random = testing::seeded("AskFlight.Anything");
  const std::vector<std::string> bits{"18",   "full",  "-",     "78kg",  "pilot", "Odile", ",",    "38.9",
                                      "-133", "1500m", "05:10", "us",    "G",     "calm",  "sfc",  "215",
                                      "9kt",  "3C",    "\n",    "\"",    "\\",    "none",  "10mi", "<",
                                      "w",    "+4",    "A3006", kReport, "\xff",  "[x]",   "#"};
  int finished = 0;
  for (int i = 0; i < 120; ++i) {
    FlightRoundInputs in = inputs(random.below(2) == 0 ? words::Units::us : words::Units::metric);
    if (random.below(2) == 0) in.last = kLast;
    FlightRound round{in};
    for (int tries = 0; tries < 150 && round.next(); ++tries) {
      std::string typed;
      for (std::size_t n = random.below(6); n > 0; --n) typed += bits[random.below(bits.size())] + " ";
      const Script good = good_answers();
      if (random.below(3) == 0) typed = good.at(round.next()->key);
      EXPECT_LE(round.next()->number, kMostQuestions);
      const Heard heard = round.answer(typed);
      EXPECT_TRUE(heard.taken || !heard.issues.empty()) << typed;
    }
    if (round.next()) continue;
    ++finished;
    const auto parsed = text::parse_flight(round.file(), "flight.toml");
    ASSERT_TRUE(parsed.value) << round.file();
    for (const Issue& issue : text::cross_check(in.balloon, *parsed.value, in.now.at))
      EXPECT_TRUE(text::is_warning(issue)) << issue.sentence.key;
  }
  EXPECT_GT(finished, 80);
}

// ---- the balloon

Script balloon_answers() {
  return {{"name", "Lantern"},
          {"volume", "105000"},
          {"envelope", "260"},
          {"basket", "190 5"},
          {"burners", "31 31"},
          {"burner_pressure", "50-150psi"},
          {"groups", "1+2 3"},
          {"cylinders", "2x 22.5 18 44 5%\n20gal 16gal 19kg\n"},
          {"kit", "scoop 11, instruments and ropes 29"},
          {"crown_limit", "250"},
          {"launch_wind_limit", "15"},
          {"gross_limit", "2100"}};
}

TEST(AskBalloon, ANewBalloonTakesAtMostTwelveAnswers) {
  BalloonRound round{{}};
  EXPECT_EQ(go_through(round, balloon_answers()).size(), 12u);
  const auto parsed = text::parse_balloon(round.file(), "balloon.toml");
  ASSERT_TRUE(parsed.value) << round.file();
  const balloon::Balloon& b = *parsed.value;
  EXPECT_EQ(b.name, "Lantern");
  EXPECT_NEAR(b.envelope.volume.in(cubic_foot), 105000.0, 1e-6);
  EXPECT_NEAR(in_fahrenheit(*b.envelope.crown_limit), 250.0, 1e-9);
  EXPECT_EQ(b.basket.people, 5);
  ASSERT_EQ(b.burners.size(), 2u);
  EXPECT_NEAR(b.burners[1].pressure->high.from_origin().in(pound_per_square_inch), 150.0, 1e-9);
  ASSERT_EQ(b.cylinders.size(), 3u);
  EXPECT_EQ(b.cylinders[0].group, b.cylinders[1].group);
  EXPECT_NE(b.cylinders[0].group, b.cylinders[2].group);
  EXPECT_NEAR(b.cylinders[1].usable_to, 0.05, 1e-12);
  EXPECT_EQ(b.cylinders[2].tare, 19.0 * kilogram);
  ASSERT_EQ(b.kit.size(), 2u);
  EXPECT_EQ(b.kit[1].what, "instruments and ropes");
}

TEST(AskBalloon, WhatNeedNotBeKnownMayStayBlank) {
  BalloonRound round{{}};
  Script script = balloon_answers();
  for (const char* key : {"burner_pressure", "groups", "kit", "crown_limit", "launch_wind_limit", "gross_limit"})
    script.erase(key);
  go_through(round, script);
  const auto parsed = text::parse_balloon(round.file(), "balloon.toml");
  ASSERT_TRUE(parsed.value);
  EXPECT_FALSE(parsed.value->envelope.gross_limit);
  EXPECT_EQ(parsed.value->cylinders[1].group, "2");
}

TEST(AskBalloon, OneCylinderIsNotAskedForItsSide) {
  BalloonRound round{{}};
  Script script = balloon_answers();
  script["cylinders"] = "22.5 18 44";
  EXPECT_EQ(go_through(round, script).size(), 11u);
}

TEST(AskBalloon, WhatIsNotAskedStaysAsItWas) {
  balloon::Balloon before = testing::good_morning().balloon;
  before.lines = {{"parachute", "red", "right"}};
  before.cylinders[1].test_due = balloon::Month{2031, 5};
  BalloonRound round{{.reader = {}, .last = before}};
  const auto asked = go_through(round, {{"cylinders", "3x 22.5 17 44\n"}, {"gross_limit", "-"}});
  EXPECT_EQ(asked.size(), 12u);
  const auto parsed = text::parse_balloon(round.file(), "balloon.toml");
  ASSERT_TRUE(parsed.value);
  balloon::Balloon after = *parsed.value;
  EXPECT_EQ(after.lines.size(), 1u);
  EXPECT_EQ(after.cylinders[1].test_due, before.cylinders[1].test_due);
  EXPECT_EQ(after.cylinders[1].group, "A");
  EXPECT_NEAR(after.cylinders[1].level_fill.in(us_gallon), 17.0, 1e-9);
  EXPECT_FALSE(after.envelope.gross_limit);
  EXPECT_EQ(after.envelope.crown_limit, before.envelope.crown_limit);
}

TEST(AskBalloon, EnterAloneWritesTheBalloonAgain) {
  const balloon::Balloon before = testing::good_morning().balloon;
  BalloonRound round{{.reader = {}, .last = before}};
  go_through(round, {});
  EXPECT_EQ(round.file(), text::write_balloon(before, text::Taste::us));
}

TEST(AskBalloon, AWrongAnswerIsToldAndTheQuestionStandsAgain) {
  const std::vector<std::tuple<std::string, std::string, std::string>> cases{
      {"name", "", "issue.ask_needed"},
      {"volume", "105000kg", "issue.unit_other_kind"},
      {"volume", "5", "issue.envelope_volume"},
      {"basket", "190 x", "issue.ask_basket"},
      {"basket", "190 99", "issue.basket_people"},
      {"burners", "31 x", "issue.number_unreadable"},
      {"burner_pressure", "50", "issue.ask_pressure_range"},
      {"burner_pressure", "50-150", "issue.unit_missing"},
      {"burner_pressure", "150-50psi", "issue.burner_pressure_pair"},
      {"cylinders", "22.5 18", "issue.ask_cylinder"},
      {"cylinders", "18 22.5 44", "issue.level_fill_over_shell"},
      {"cylinders", "2x", "issue.ask_cylinder"},
      {"cylinders", "2x 22.5 18 44\n;\n", "issue.ask_cylinder"},
      {"cylinders", ",", "issue.ask_cylinder"},
      {"groups", "1+4", "issue.ask_groups"},
      {"groups", "1+1", "issue.ask_groups"},
      {"kit", "scoop", "issue.ask_kit"},
      {"crown_limit", "900", "issue.crown_limit"},
      {"gross_limit", "300", "issue.gross_limit_under_empty"},
  };
  for (const auto& [key, answer, issue] : cases) {
    SCOPED_TRACE(key + ": " + answer);
    BalloonRound round{{}};
    go_to(round, key, balloon_answers());
    const Heard heard = round.answer(answer);
    EXPECT_FALSE(heard.taken);
    ASSERT_FALSE(heard.issues.empty());
    EXPECT_EQ(heard.issues[0].sentence.key, issue);
    EXPECT_EQ(round.next()->key, key);
  }
}

TEST(Ask, EveryQuestionHasItsWords) {
  for (const words::Units units : {words::Units::us, words::Units::metric}) {
    FlightRoundInputs in = inputs(units);
    FlightRound flight{in};
    BalloonRound balloon{{.reader = in.reader}};
    Script script = good_answers();
    script.erase("reports");
    const auto check = [&](Round& round, const Script& answers) {
      while (const auto prompt = round.next()) {
        const std::string text = words::worded(prompt->question, in.reader);
        EXPECT_EQ(text.find_first_of("<{"), std::string::npos) << text;
        const auto answer = answers.find(prompt->key);
        ASSERT_TRUE(round.answer(answer == answers.end() ? "" : answer->second).taken) << prompt->key;
      }
    };
    check(flight, script);
    Script figures = balloon_answers();
    if (units == words::Units::metric) {
      figures["volume"] = "3000";
      figures["crown_limit"] = "121";
    }
    check(balloon, figures);
  }
}

}  // namespace
}  // namespace pappus::desk
