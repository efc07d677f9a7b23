#include <string>

#include <gtest/gtest.h>

#include "formats/text/pilot/flight_file.hpp"
#include "tests/formats/text/pilot/edited_file.hpp"

namespace pappus::text {
namespace {

using sheet::Tripwire;
using sheet::Watched;
using testing::Edit;
using testing::edited;
using testing::told;

const std::string kGood = R"(balloon = "balloon.toml"
time = 2027-05-16T05:10:00-09:00
planned = "60min"
[field]
name = "field"
at = [38.90, -133.40]
elevation = "1500m"
[[aboard]]
role = "pilot"
mass = "82kg"
[[tripwire]]
what = "surface_wind"
at_most = "6kt"
[[tripwire]]
what = "wind_from"
height = "300m"
from = "200deg"
to = "250deg"
[[tripwire]]
what = "wind_speed"
height = "1000ft"
at_least = "3kt"
at_most = "18kt"
[[tripwire]]
what = "dew_point_spread"
at_least = "2K"
[[tripwire]]
what = "temperature"
at_most = "20C"
[[tripwire]]
what = "visibility"
at_least = "5mi"
[[tripwire]]
what = "cloud_base"
at_least = "600m"
[[tripwire]]
what = "mass_aboard"
at_most = "500lb"
[[tripwire]]
what = "gust"
at_most = "12kt"
)";

TEST(TripwireFile, EveryQuantityIsReadInItsUnit) {
  const auto parsed = parse_flight(kGood, "flight.toml");
  ASSERT_EQ(told(parsed.issues), "");
  const auto& t = parsed.value->flight.tripwires;
  ASSERT_EQ(t.size(), 9u);
  for (const Tripwire& tripwire : t) {
    EXPECT_TRUE(tripwire.own);
    EXPECT_EQ(tripwire.state, sheet::TripwireState::set);
    EXPECT_EQ(tripwire.condition, condition_of(tripwire));
  }
  EXPECT_EQ(t[0].at_most, measure::wind(6.0 * knot));
  EXPECT_EQ(t[1].height, agl(300.0 * metre));
  EXPECT_EQ(t[1].from, TrueBearing::at(200.0 * degree));
  EXPECT_EQ(t[1].to, TrueBearing::at(250.0 * degree));
  EXPECT_EQ(t[2].height, agl(1000.0 * foot));
  EXPECT_EQ(t[2].at_least, measure::wind(3.0 * knot));
  EXPECT_EQ(t[2].at_most, measure::wind(18.0 * knot));
  EXPECT_EQ(t[3].at_least, measure::of(2.0 * kelvin));
  EXPECT_EQ(t[4].at_most, measure::of(celsius(20.0)));
  EXPECT_EQ(t[5].at_least, measure::distance(5.0 * statute_mile));
  EXPECT_EQ(t[6].at_least, measure::height(600.0 * metre));
  EXPECT_EQ(t[7].at_most, measure::of(500.0 * pound));
  EXPECT_EQ(t[8].at_most, measure::wind(12.0 * knot));
}

TEST(TripwireFile, TwoHeightsAreTwoThings) {
  const std::string text =
      edited(kGood, "what = \"gust\"\nat_most", "what = \"wind_speed\"\nheight = \"100m\"\nat_most");
  EXPECT_EQ(told(parse_flight(text, "flight.toml").issues), "");
}

TEST(TripwireFile, EveryFaultIsToldWithItsRule) {
  const Edit edits[] = {
      {"what is watched is a word of the list", "\"gust\"", "\"gusts\"", "issue.tripwire_what", "\"gusts\"", "gusts",
       "gust (one of"},
      {"what is needed", "what = \"gust\"\n", "", "issue.key_missing", "[[tripwire]]\nat_most", "", "one of"},
      {"a bound has a unit", "\"6kt\"", "\"6\"", "issue.unit_missing", "\"6\"", "6", "kt"},
      {"a bound's unit is one of its quantity", "\"6kt\"", "\"6C\"", "issue.unit_other_kind", "\"6C\"", "6C", "kt"},
      {"a spread is in K, as C reads like a point", "\"2K\"", "\"2C\"", "issue.unit_other_kind", "\"2C\"", "2C", "K"},
      {"a bare number has no unit", "\"12kt\"", "12", "issue.unit_missing", "12\n", "12", "kt"},
      {"an amount needs a bound", "at_most = \"12kt\"\n", "", "issue.key_missing", "[[tripwire]]\nwhat = \"gust\"", "",
       "at_most or at_least"},
      {"both bounds leave something between", "at_least = \"3kt\"", "at_least = \"30kt\"", "issue.tripwire_empty",
       "\"30kt\"", "30kt", "no more than at_most"},
      {"a bound can be meant", "\"12kt\"", "\"400kt\"", "issue.tripwire_bound", "\"400kt\"", "400kt", "80kt"},
      {"a wind aloft has a height", "height = \"1000ft\"\n", "", "issue.key_missing",
       "[[tripwire]]\nwhat = \"wind_speed\"", "", "ft"},
      {"a height is flown at", "\"1000ft\"", "\"1000km\"", "issue.tripwire_height", "\"1000km\"", "1000km", "9000m"},
      {"a surface quantity has no height", "at_most = \"12kt\"", "at_most = \"12kt\"\nheight = \"10m\"",
       "issue.tripwire_no_height", "\"10m\"", "10m", "no height"},
      {"a sector has a beginning", "from = \"200deg\"\n", "", "issue.key_missing", "[[tripwire]]\nwhat = \"wind_from\"",
       "", "200deg"},
      {"a sector has an end", "to = \"250deg\"\n", "", "issue.key_missing", "[[tripwire]]\nwhat = \"wind_from\"", "",
       "200deg"},
      {"a sector has a width", "\"250deg\"", "\"200deg\" ", "issue.tripwire_no_width", "\"200deg\" ", "200deg",
       "another direction"},
      {"a direction is on the circle", "\"250deg\"", "\"370deg\"", "issue.tripwire_direction", "\"370deg\"", "370deg",
       "360deg"},
      {"a direction has a unit", "\"250deg\"", "\"250\"", "issue.unit_missing", "\"250\"", "250", "deg"},
      {"a sector has no bound", "to = \"250deg\"", "to = \"250deg\"\nat_most = \"5kt\"", "issue.tripwire_no_amount",
       "\"5kt\"", "5kt", "from and to"},
      {"an amount has no sector", "at_most = \"12kt\"", "at_most = \"12kt\"\nto = \"250deg\" ",
       "issue.tripwire_no_sector", "\"250deg\" ", "250deg", "at_most or at_least"},
      {"a thing is watched once", "what = \"gust\"", "what = \"surface_wind\" ", "issue.tripwire_double",
       "\"surface_wind\" ", "surface_wind", "one [[tripwire]]"},
      {"there is no other key", "at_most = \"12kt\"", "at_moost = \"12kt\"\nat_most = \"12kt\"", "issue.key_unknown",
       "at_moost", "at_moost", "at_most"},
      {"tripwires are a list", "[[tripwire]]\nwhat = \"gust\"\nat_most = \"12kt\"\n", "[[tripwire]]\n",
       "issue.key_missing", "[[tripwire]]\n\n", "", "one of"},
  };
  for (const Edit& edit : edits) {
    SCOPED_TRACE(edit.rule);
    std::string text = edited(kGood, edit.find, edit.put);
    if (edit.rule == "tripwires are a list") text += "\n";
    const auto parsed = parse_flight(text, "flight.toml");
    EXPECT_FALSE(parsed.value);
    ASSERT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
    testing::expect_issue(parsed.issues[0], edit, "flight.toml", text);
    EXPECT_EQ(parsed.issues[0].where.key.substr(0, 8), "tripwire");
  }
}

}  // namespace
}  // namespace pappus::text
