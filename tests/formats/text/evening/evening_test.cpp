#include "formats/text/evening/evening.hpp"

#include <string>

#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "core/sheet/flight_sheet.hpp"
#include "formats/text/json/json_out.hpp"
#include "tests/formats/text/pilot/edited_file.hpp"
#include "tests/support/morning.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

using Json = nlohmann::ordered_json;
using testing::good_morning;
using testing::told;

sheet::Tripwire own_sector() {
  sheet::Tripwire out;
  out.what = sheet::Watched::wind_from;
  out.height = agl(1000.0 * foot);
  out.from = TrueBearing::at(340.5 * degree);
  out.to = TrueBearing::at(20.0 * degree);
  out.own = true;
  return out;
}

std::string kept(const sheet::Morning& morning, json::Layout layout = json::Layout::indented) {
  return json::to_json(sheet::sheet(morning), words::Reader{}, layout);
}

// A good morning with things that are not known, and figures that are not round.
sheet::Morning any_morning(Random& random) {
  sheet::Morning m = good_morning();
  m.as_of.at = m.as_of.at + random.uniform(0.0, 900.0) * second;
  m.flight.reports[0].wind_speed = random.uniform(0.0, 20.0) * knot;
  m.flight.aboard[1].mass = random.uniform(40.0, 120.0) * kilogram;
  if (random.below(3) == 0) m.flight.ladders.clear();
  if (random.below(3) == 0) m.flight.reports.clear();
  if (random.below(3) == 0) m.flight.fuel[random.below(3)].liquid.reset();
  if (random.below(3) == 0) m.flight.tripwires = {own_sector()};
  if (random.below(3) == 0)
    m.balloon.name =
        "\"Br\xC3\xBC"
        "cke\\\"\n";
  if (random.below(3) == 0) m.evening = evening_of(sheet::sheet(m));
  return m;
}

TEST(Evening, ReadBackItIsWhatWasInMemory) {
  Random random = testing::seeded("Evening.ReadBack");
  for (int i = 0; i < 60; ++i) {
    const sheet::Morning m = any_morning(random);
    const auto layout = random.below(2) == 0 ? json::Layout::compact : json::Layout::indented;
    const auto parsed = parse_evening(kept(m, layout), "evening.json");
    ASSERT_EQ(told(parsed.issues), "");
    EXPECT_EQ(*parsed.value, evening_of(sheet::sheet(m)));
  }
}

TEST(Evening, TheLanguageAndUnitsOfItsWordsDoNotCount) {
  const sheet::FlightSheet s = sheet::sheet(good_morning());
  const words::Reader metric{words::Language::en, words::Units::metric, {}, {}};
  EXPECT_EQ(*parse_evening(json::to_json(s, metric), "e").value, evening_of(s));
}

TEST(Evening, WhatItDoesNotKnowIsLeftAlone) {
  Json json = Json::parse(kept(good_morning()));
  json["of_another_version"] = {1, 2, {{"a", nullptr}}};
  json["limits"][0]["name"] = "of_another_version";
  json["tripwires"][0]["more"] = true;
  const auto parsed = parse_evening("\xEF\xBB\xBF \n" + json.dump(), "e");
  ASSERT_EQ(told(parsed.issues), "");
  EXPECT_EQ(parsed.value->limits[0].name, "of_another_version");
}

TEST(Evening, AFileIsKnownByItsFirstCharacter) {
  EXPECT_TRUE(is_json_object("{"));
  EXPECT_TRUE(is_json_object("\xEF\xBB\xBF\r\n\t {\"a\": 1}"));
  EXPECT_FALSE(is_json_object("balloon = \"a.toml\" # {"));
  EXPECT_FALSE(is_json_object("[field]"));
  EXPECT_FALSE(is_json_object(" \n"));
}

TEST(Evening, EveryFaultIsToldWithItsKey) {
  struct Fault {
    const char *pointer, *put;  // "" removes
    const char *issue, *key, *got, *wanted;
  };
  const Fault faults[] = {
      {"/as_of", "", "issue.evening_missing", "as_of", "", "a value"},
      {"/as_of", "\"yesterday\"", "issue.evening_moment", "as_of", "yesterday", "a time with its offset"},
      {"/time", "12", "issue.evening_kind", "time", "12", "a text"},
      {"/balloon", "null", "issue.evening_kind", "balloon", "null", "a text"},
      {"/standing", "\"with_car\"", "issue.evening_word", "standing", "with_car", "with_care"},
      {"/standing", "\"go\"", "issue.evening_word", "standing", "go", "one of nothing_against, with_care"},
      {"/limits", "{}", "issue.evening_kind", "limits", "object", "a list"},
      {"/limits/0", "7", "issue.evening_kind", "limits[1]", "7", "an object"},
      {"/limits/1/state", "\"in\"", "issue.evening_word", "limits[2].state", "in", "inside"},
      {"/limits/1/name", "", "issue.evening_missing", "limits[2].name", "", "a value"},
      {"/limits/1/value", "5", "issue.evening_kind", "limits[2].value", "5", "an object"},
      {"/limits/1/value/si", "\"5\"", "issue.evening_kind", "limits[2].value.si", "5", "a number"},
      {"/limits/1/value/unit", "\"lb\"", "issue.evening_unit", "limits[2].value.unit", "lb", "kg"},
      {"/limits/1/value/kind", "\"masses\"", "issue.evening_word", "limits[2].value.kind", "masses", "mass"},
      {"/load/total_kg", "", "issue.evening_missing", "load.total_kg", "", "a value"},
      {"/load/people_count", "2.5", "issue.evening_kind", "load.people_count", "2.5", "a whole number"},
      {"/load/people_count", "-1", "issue.evening_kind", "load.people_count", "-1", "a whole number"},
      {"/load/people_count", "99999999999", "issue.evening_kind", "load.people_count", "99999999999", "a whole number"},
      {"/load/cylinders_known/0", "1", "issue.evening_kind", "load.cylinders_known[1]", "1", "a text"},
      {"/tripwires/0/what", "\"surface_winds\"", "issue.evening_word", "tripwires[1].what", "surface_winds",
       "surface_wind"},
      {"/tripwires/0/own", "\"no\"", "issue.evening_kind", "tripwires[1].own", "no", "true or false"},
      {"/tripwires/0/at_most", "null", "issue.evening_bounds", "tripwires[1]", "object", "a bound"},
      {"/tripwires/0/at_most/kind", "\"speed_vertical\"", "issue.evening_unit", "tripwires[1].at_most", "object",
       "speed_wind"},
      {"/tripwires/0/height_agl_m", "300", "issue.evening_bounds", "tripwires[1]", "object", "a height"},
      {"/tripwires/1/height_agl_m", "null", "issue.evening_bounds", "tripwires[2]", "object", "a height"},
      {"/tripwires/2/to_true_deg", "null", "issue.evening_bounds", "tripwires[3]", "object", "a bound"},
      {"/tripwires/2/from_true_deg", "\"north\"", "issue.evening_kind", "tripwires[3].from_true_deg", "north",
       "a number"},
  };
  const Json good = Json::parse(kept(good_morning()));
  for (const Fault& fault : faults) {
    SCOPED_TRACE(std::string(fault.pointer) + " " + fault.put);
    Json json = good;
    const Json::json_pointer pointer{fault.pointer};
    if (fault.put[0] == '\0')
      json[pointer.parent_pointer()].erase(pointer.back());
    else
      json[pointer] = Json::parse(fault.put);
    const auto parsed = parse_evening(json.dump(), "evening.json");
    EXPECT_FALSE(parsed.value);
    ASSERT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
    const Issue& issue = parsed.issues[0];
    EXPECT_EQ(issue.code, Errc::bad_input);
    EXPECT_EQ(issue.sentence.key, fault.issue);
    EXPECT_EQ(issue.where.file, "evening.json");
    EXPECT_EQ(issue.where.key, fault.key);
    EXPECT_EQ(issue.got, fault.got);
    EXPECT_NE(issue.wanted.find(fault.wanted), std::string::npos) << issue.wanted;
  }
}

TEST(Evening, AllFaultsAreToldAtOnce) {
  Json json = Json::parse(kept(good_morning()));
  json.erase("field");
  json["standing"] = 1;
  json["limits"][3]["state"] = "x";
  EXPECT_EQ(parse_evening(json.dump(), "e").issues.size(), 3u);
}

TEST(Evening, WhatIsNoSheetIsTold) {
  const auto only = [](const std::string& text) {
    const auto parsed = parse_evening(text, "e");
    EXPECT_FALSE(parsed.value);
    EXPECT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
    return parsed.issues.at(0);
  };
  EXPECT_EQ(only("{}").sentence.key, "issue.evening_other");
  EXPECT_EQ(only(R"({"name": "x", "version": 3})").sentence.key, "issue.evening_other");
  EXPECT_EQ(only(R"({"issues": []})").sentence.key, "issue.evening_refusal");
  EXPECT_EQ(only(std::string(200, '[')).sentence.key, "issue.evening_too_deep");
  EXPECT_EQ(only(std::string(kLongestEvening + 1, ' ')).sentence.key, "issue.evening_too_long");
  EXPECT_EQ(only("{\"as_of\": 1e999}").sentence.key, "issue.evening_syntax");
  EXPECT_EQ(only("{\"as_of\": \"\xFF\"}").sentence.key, "issue.evening_syntax");
  EXPECT_EQ(only("").sentence.key, "issue.evening_syntax");
  const Issue broken = only("{\"as_of\": \"\xC3\xA4\",\n \"time\" 3}");
  EXPECT_EQ(broken.sentence.key, "issue.evening_syntax");
  EXPECT_EQ(broken.where, (Where{"e", 2, 9, ""}));
}

TEST(Evening, AnySlipIsReadOrTold) {
  Random random = testing::seeded("Evening.AnySlip");
  const std::string good = kept(good_morning(), json::Layout::compact);
  for (int i = 0; i < 300; ++i) {
    const auto parsed = parse_evening(testing::mutated(good, random), "e");
    EXPECT_NE(parsed.value.has_value(), !parsed.issues.empty());
  }
}

}  // namespace
}  // namespace pappus::text
