#include "formats/text/pilot/balloon_file.hpp"

#include <set>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/formats/text/pilot/edited_file.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

using balloon::Balloon;
using testing::Edit;

// The file as the design prints it: every key in it must work as it stands.
const std::string kGood = R"(# balloon.toml
name = "..."
serial = "..."
year = 2019
[envelope]
volume = "105000ft3"
mass = "120kg"
crown_limit = "121C"                 # flight manual
gross_limit = "950kg"                # flight manual
launch_wind_limit = "15kt"           # flight manual
fabric_hours = 212
inspection = 2026-05-20              # last annual
vents = ["parachute", "rapid", "turn-left", "turn-right"]
[[line]]                             # what a hand will reach for: per balloon, never assumed
does = "parachute"
looks = "round, plain"
side = "pilot, right"
[basket]
mass = "85kg"
people = 4
leads = "long side"                  # the side that meets the ground first
[[burner]]
mass = "20kg"
power = "5.4MW"                      # each, higher heating value, at 110 psi
quiet = true
pilot_light = "vapour"
pressure = ["50psi", "150psi"]       # only if the flight manual says so
[[kit]]                              # scoop, instruments, ropes, cart left behind: anything that flies
what = "scoop, instruments, ropes"
mass = "15kg"
[[cylinder]]
id = "1"
shell = "18.75gal"
level_fill = "15gal"
tare = "18kg"
gauge_span = "35%"                   # of the shell
attitude = "lying"
group = "A"                          # manifolded with the others of A
relief = "375psi"
test_due = "2030-03"                 # from the marking on the cylinder
usable_to = "5%"                     # of the level fill; what stays behind
[supply]
both_valves_open = false             # of two cylinders in one group; only if the flight manual says so
)";

const std::string kLeast = R"(name = "Least"
[envelope]
volume = "2180m3"
mass = "90kg"
[basket]
mass = "60kg"
[[burner]]
mass = "18kg"
[[cylinder]]
id = "left"
shell = "72L"
level_fill = "57L"
tare = "20kg"
)";

TEST(BalloonFile, TheExampleReadsToExactlyItsValues) {
  const Parsed<Balloon> parsed = parse_balloon(kGood, "balloon.toml");
  EXPECT_EQ(testing::told(parsed.issues), "");
  ASSERT_TRUE(parsed.value.has_value());
  const Balloon& b = *parsed.value;
  EXPECT_EQ(b.name, "...");
  EXPECT_EQ(b.serial, "...");
  EXPECT_EQ(b.year, 2019);
  EXPECT_EQ(b.envelope.volume, 105000.0 * cubic_foot);
  EXPECT_EQ(b.envelope.mass, 120.0 * kilogram);
  EXPECT_EQ(b.envelope.crown_limit, celsius(121.0));
  EXPECT_EQ(b.envelope.gross_limit, 950.0 * kilogram);
  EXPECT_EQ(b.envelope.launch_wind_limit, 15.0 * knot);
  EXPECT_EQ(b.envelope.fabric_hours, 212.0 * hour);
  EXPECT_EQ(b.envelope.inspection, Date::of(2026, 5, 20));
  EXPECT_EQ(b.envelope.vents, (std::vector<balloon::Vent>{balloon::Vent::parachute, balloon::Vent::rapid,
                                                          balloon::Vent::turn_left, balloon::Vent::turn_right}));
  ASSERT_EQ(b.lines.size(), 1u);
  EXPECT_EQ(b.lines[0].does, "parachute");
  EXPECT_EQ(b.lines[0].looks, "round, plain");
  EXPECT_EQ(b.lines[0].side, "pilot, right");
  EXPECT_EQ(b.basket.mass, 85.0 * kilogram);
  EXPECT_EQ(b.basket.people, 4);
  EXPECT_EQ(b.basket.leads, "long side");
  ASSERT_EQ(b.burners.size(), 1u);
  EXPECT_EQ(b.burners[0].mass, 20.0 * kilogram);
  EXPECT_EQ(b.burners[0].power, 5.4 * megawatt);
  EXPECT_TRUE(b.burners[0].quiet);
  EXPECT_EQ(b.burners[0].pilot_light, balloon::PilotLight::vapour);
  ASSERT_TRUE(b.burners[0].pressure.has_value());
  EXPECT_EQ(b.burners[0].pressure->low, GaugePressure::at(50.0 * pound_per_square_inch));
  EXPECT_EQ(b.burners[0].pressure->high, GaugePressure::at(150.0 * pound_per_square_inch));
  ASSERT_EQ(b.kit.size(), 1u);
  EXPECT_EQ(b.kit[0].what, "scoop, instruments, ropes");
  EXPECT_EQ(b.kit[0].mass, 15.0 * kilogram);
  ASSERT_EQ(b.cylinders.size(), 1u);
  const balloon::Cylinder& c = b.cylinders[0];
  EXPECT_EQ(c.id, "1");
  EXPECT_EQ(c.shell, 18.75 * us_gallon);
  EXPECT_EQ(c.level_fill, 15.0 * us_gallon);
  EXPECT_EQ(c.tare, 18.0 * kilogram);
  EXPECT_EQ(c.gauge_span, 0.35);
  EXPECT_EQ(c.attitude, balloon::Attitude::lying);
  EXPECT_EQ(c.group, "A");
  EXPECT_EQ(c.relief, GaugePressure::at(375.0 * pound_per_square_inch));
  EXPECT_EQ(c.test_due, (balloon::Month{2030, 3}));
  EXPECT_EQ(c.usable_to, 0.05);
  EXPECT_EQ(b.both_valves_open, false);
}

TEST(BalloonFile, WhatIsAbsentStaysNotKnown) {
  const Parsed<Balloon> parsed = parse_balloon(kLeast, "least.toml");
  EXPECT_EQ(testing::told(parsed.issues), "");
  ASSERT_TRUE(parsed.value.has_value());
  const Balloon& b = *parsed.value;
  EXPECT_EQ(b.serial, "");
  EXPECT_FALSE(b.year.has_value());
  EXPECT_FALSE(b.envelope.crown_limit.has_value());
  EXPECT_FALSE(b.envelope.gross_limit.has_value());
  EXPECT_FALSE(b.envelope.launch_wind_limit.has_value());
  EXPECT_FALSE(b.envelope.fabric_hours.has_value());
  EXPECT_FALSE(b.envelope.inspection.has_value());
  EXPECT_TRUE(b.envelope.vents.empty());
  EXPECT_TRUE(b.lines.empty());
  EXPECT_TRUE(b.kit.empty());
  EXPECT_FALSE(b.basket.people.has_value());
  EXPECT_FALSE(b.burners.at(0).power.has_value());
  EXPECT_FALSE(b.burners.at(0).quiet);
  EXPECT_FALSE(b.burners.at(0).pilot_light.has_value());
  EXPECT_FALSE(b.burners.at(0).pressure.has_value());
  const balloon::Cylinder& c = b.cylinders.at(0);
  EXPECT_EQ(c.group, "left") << "a cylinder without a group is a group of its own";
  EXPECT_FALSE(c.gauge_span.has_value());
  EXPECT_FALSE(c.attitude.has_value());
  EXPECT_FALSE(c.relief.has_value());
  EXPECT_FALSE(c.test_due.has_value());
  EXPECT_EQ(c.usable_to, 0.0);
  EXPECT_FALSE(b.both_valves_open.has_value());
}

TEST(BalloonFile, OtherWaysToWriteTheSameAreRead) {
  const auto reads = [](std::string_view find, std::string_view put) {
    const Parsed<Balloon> parsed = parse_balloon(testing::edited(kGood, find, put), "balloon.toml");
    EXPECT_EQ(testing::told(parsed.issues), "") << put;
    return parsed.value.value();
  };
  EXPECT_EQ(reads("fabric_hours = 212", "fabric_hours = 212.5").envelope.fabric_hours, 212.5 * hour);
  EXPECT_EQ(reads("fabric_hours = 212", "fabric_hours = \"212h\"").envelope.fabric_hours, 212.0 * hour);
  EXPECT_EQ(reads("2026-05-20 ", "\"2026-05-20\" ").envelope.inspection, Date::of(2026, 5, 20));
  EXPECT_EQ(reads("\"2030-03\"", "2030-03-31").cylinders[0].test_due, (balloon::Month{2030, 3}));
  EXPECT_EQ(reads("\"2030-03\"", "\"2030-03-31\"").cylinders[0].test_due, (balloon::Month{2030, 3}));
  EXPECT_EQ(reads("\"105000ft3\"", "\"2973.3 m³\"").envelope.volume, 2973.3 * cubic_metre);
  EXPECT_EQ(reads("\"121C\"", "\"120°C\"").envelope.crown_limit, celsius(120.0));
  EXPECT_EQ(reads("[basket]\nmass = \"85kg\"", "[basket]\n\"mass\" = '85kg'").basket.mass, 85.0 * kilogram);
  // Line ends of another system, and a mark of byte order before the text.
  std::string windows = "\xef\xbb\xbf";
  for (const char c : kGood) windows += c == '\n' ? std::string("\r\n") : std::string(1, c);
  EXPECT_EQ(testing::told(parse_balloon(windows, "balloon.toml").issues), "");
}

TEST(BalloonFile, HoursInspectionsAndTheWallAreRead) {
  const Parsed<Balloon> parsed = parse_balloon(
      testing::edited(testing::edited(kGood, "year = 2019",
                                      "year = 2019\nhours = 212.4\nregistration = 2024-04-02\n"
                                      "inspections = [[2026-05-20, 150], [2026-11-02, \"198.5h\", \"hours\"]]"),
                      "people = 4", "people = 4\nwall = \"1.15m\""),
      "balloon.toml");
  EXPECT_EQ(testing::told(parsed.issues), "");
  ASSERT_TRUE(parsed.value.has_value());
  const Balloon& b = *parsed.value;
  EXPECT_NEAR(b.hours->in(hour), 212.4, 1e-9);
  EXPECT_EQ(b.registration, Date::of(2024, 4, 2));
  ASSERT_EQ(b.inspections.size(), 2u);
  EXPECT_EQ(b.inspections[0].done, Date::of(2026, 5, 20));
  EXPECT_EQ(b.inspections[0].at, 150.0 * hour);
  EXPECT_TRUE(b.inspections[0].annual);
  EXPECT_NEAR(b.inspections[1].at->in(hour), 198.5, 1e-9);
  EXPECT_FALSE(b.inspections[1].annual);
  EXPECT_EQ(b.basket.wall, 1.15 * metre);
}

const std::vector<Edit> kEdits{
    // hours and dates
    {"hours", "year = 2019", "year = 2019\nhours = -1", "issue.balloon_hours", "-1", "-1", "0h to 20000h"},
    {"hours", "year = 2019", "year = 2019\nhours = \"20001h\"", "issue.balloon_hours", "\"20001h\"", "20001h",
     "0h to 20000h"},
    {"registration", "year = 2019", "year = 2019\nregistration = 2024", "issue.date_unreadable", "2024", "2024",
     "a date"},
    {"one date for inspections", "year = 2019", "year = 2019\ninspections = 2026-05-20", "issue.value_kind",
     "2026-05-20", "2026-05-20", "a list of inspections"},
    {"inspection without hours", "year = 2019", "year = 2019\ninspections = [[2026-05-21]]", "issue.inspection_entry",
     "[2026-05-21]", "[2026-05-21]", "date and time in service"},
    {"hours of an inspection", "year = 2019", "year = 2019\ninspections = [[2026-05-21, 90000]]", "issue.balloon_hours",
     "90000", "90000", "0h to 20000h"},
    {"kind of an inspection", "year = 2019", "year = 2019\ninspections = [[2026-05-21, 90, \"100h\"]]",
     "issue.inspection_kind", "\"100h\"", "100h", "one of annual, hours"},
    {"wall", "people = 4", "people = 4\nwall = \"0.4m\"", "issue.basket_wall", "\"0.4m\"", "0.4m", "0.5m to 2m"},
    {"wall", "people = 4", "people = 4\nwall = \"2.1m\"", "issue.basket_wall", "\"2.1m\"", "2.1m", "0.5m to 2m"},
    // what is needed
    {"name", "name = \"...\"\n", "", "issue.key_missing", "# balloon.toml", "", "a text in quotes"},
    {"envelope.volume", "volume = \"105000ft3\"\n", "", "issue.key_missing", "[envelope]", "", "gal, L, m3 or ft3"},
    {"envelope.mass", "mass = \"120kg\"\n", "", "issue.key_missing", "[envelope]", "", "a mass with a unit"},
    {"basket.mass", "mass = \"85kg\"\n", "", "issue.key_missing", "[basket]", "", "a mass with a unit"},
    {"burner.mass", "mass = \"20kg\"\n", "", "issue.key_missing", "[[burner]]", "", "a mass with a unit"},
    {"kit.mass", "mass = \"15kg\"\n", "", "issue.key_missing", "[[kit]]", "", "a mass with a unit"},
    {"kit.what", "what = \"scoop, instruments, ropes\"\n", "", "issue.key_missing", "[[kit]]", "", "a text"},
    {"line.does", "does = \"parachute\"\n", "", "issue.key_missing", "[[line]]", "", "a text in quotes"},
    {"cylinder.id", "id = \"1\"\n", "", "issue.key_missing", "[[cylinder]]", "", "a text in quotes"},
    {"cylinder.shell", "shell = \"18.75gal\"\n", "", "issue.key_missing", "[[cylinder]]", "", "a volume"},
    {"cylinder.level_fill", "level_fill = \"15gal\"\n", "", "issue.key_missing", "[[cylinder]]", "", "a volume"},
    {"cylinder.tare", "tare = \"18kg\"\n", "", "issue.key_missing", "[[cylinder]]", "", "a mass"},
    // a unit is needed
    {"bare integer", "\"120kg\"", "120", "issue.unit_missing", "120\n", "120", "kg, lb or g, such as 82kg"},
    {"bare float", "\"5.4MW\"", "5.4", "issue.unit_missing", "5.4 ", "5.4", "MW, kW, W or BTU/h"},
    {"bare text", "\"120kg\"", "\"120\"", "issue.unit_missing", "\"120\"", "120", "kg, lb or g"},
    {"other kind", "\"120kg\"", "\"120gal\"", "issue.unit_other_kind", "\"120gal\"", "120gal", "kg, lb or g"},
    {"unknown unit", "\"120kg\"", "\"120stone\"", "issue.unit_unknown", "\"120stone\"", "120stone", "kg, lb or g"},
    {"no number", "\"120kg\"", "\"heavy\"", "issue.number_unreadable", "\"heavy\"", "heavy", "kg, lb or g"},
    // another kind of value
    {"text for count", "people = 4", "people = \"4\"", "issue.value_kind", "\"4\"", "4", "a whole number"},
    {"float for count", "people = 4", "people = 4.0", "issue.value_kind", "4.0", "4.0", "a whole number"},
    {"number for text", "name = \"...\"", "name = 12", "issue.value_kind", "12\n", "12", "a text in quotes"},
    {"text for truth", "quiet = true", "quiet = \"yes\"", "issue.value_kind", "\"yes\"", "yes", "true or false"},
    {"truth for mass", "\"120kg\"", "true", "issue.value_kind", "true", "true", "a mass with a unit"},
    {"list for mass", "\"120kg\"", "[\"120kg\"]", "issue.value_kind", "[\"120kg\"]", "[\"120kg\"]", "a mass"},
    {"text for list", "[\"50psi\", \"150psi\"]", "\"50psi\"", "issue.value_kind", "\"50psi\"", "50psi", "\"150psi\""},
    {"text for vents", "[\"parachute\", \"rapid\", \"turn-left\", \"turn-right\"]", "\"parachute\"", "issue.value_kind",
     "\"parachute\"", "parachute", "a list of vents"},
    {"number for word", "\"lying\"", "2", "issue.value_kind", "2\ngroup", "2", "lying, upright"},
    {"table for text", "name = \"...\"", "name = {a = 1}", "issue.value_kind", "{a", "{a = 1}", "a text"},
    {"blank", "name = \"...\"", "name = \" \"", "issue.text_blank", "\" \"", " ", "a text in quotes"},
    {"kit as one table", "[[kit]]", "[kit]", "issue.value_kind", "[kit]", "[kit]", "[[kit]]"},
    {"basket as many", "[basket]", "[[basket]]", "issue.value_kind", "[[basket]]", "[[basket]]", "[basket]"},
    {"no date", "2026-05-20 ", "\"May 2026\" ", "issue.date_unreadable", "\"May 2026\"", "May 2026", "2027-05-16"},
    {"no month", "\"2030-03\"", "\"2030-13\"", "issue.month_unreadable", "\"2030-13\"", "2030-13", "\"2030-03\""},
    {"month as number", "\"2030-03\"", "2030", "issue.month_unreadable", "2030   ", "2030", "\"2030-03\""},
    // unknown keys
    {"near", "volume =", "volme =", "issue.key_unknown", "volme", "volme", "volume"},
    {"hyphen", "level_fill =", "level-fill =", "issue.key_unknown", "level-fill", "level-fill", "level_fill"},
    {"swapped", "serial =", "seiral =", "issue.key_unknown", "seiral", "seiral", "serial"},
    {"shorter", "inspection =", "inspect =", "issue.key_unknown", "inspect", "inspect", "inspection"},
    {"longer", "leads =", "leads_with =", "issue.key_unknown", "leads_with", "leads_with", "leads"},
    {"wrong table", "launch_wind_limit", "tare = \"18kg\"\nlaunch_wind_limit", "issue.key_unknown", "tare", "tare",
     "cylinder[1].tare"},
    {"top level key below", "leads =", "serial = \"2\"\nleads =", "issue.key_unknown", "serial = \"2\"", "serial",
     "serial, before the first table"},
    {"nothing near", "leads =", "colour = \"red\"\nleads =", "issue.key_unknown", "colour", "colour",
     "one of mass, people, leads"},
    {"unknown table", "[basket]", "[paint]\nx = 1\n[basket]", "issue.key_unknown", "paint", "paint",
     "one of name, serial"},
    // words of a list
    {"vent", "\"rapid\"", "\"rappid\"", "issue.vent", "\"rappid\"", "rappid", "rapid (one of parachute, rapid"},
    {"vent twice", "\"rapid\"", "\"parachute\"", "issue.vent_double", "\"parachute\", \"turn-left\"", "parachute",
     "each vent once"},
    {"pilot light", "\"vapour\"", "\"vapor\"", "issue.pilot_light", "\"vapor\"", "vapor",
     "vapour (one of vapour, liquid)"},
    {"attitude", "\"lying\"", "\"sideways\"", "issue.cylinder_attitude", "\"sideways\"", "sideways",
     "one of lying, upright"},
    // bounds, each from below and from above
    {"year", "2019", "1919", "issue.balloon_year", "1919", "1919", "1950 to 2100"},
    {"year", "2019", "20190", "issue.balloon_year", "20190", "20190", "1950 to 2100"},
    {"volume", "105000ft3", "99m3", "issue.envelope_volume", "\"99m3\"", "99m3", "100m3 to 20000m3"},
    {"volume", "105000ft3", "105000m3", "issue.envelope_volume", "\"105000m3\"", "105000m3", "100m3 to 20000m3"},
    {"envelope mass", "\"120kg\"", "\"-120kg\"", "issue.envelope_mass", "\"-120kg\"", "-120kg", "5kg to 1500kg"},
    {"envelope mass", "\"120kg\"", "\"1501kg\"", "issue.envelope_mass", "\"1501kg\"", "1501kg", "5kg to 1500kg"},
    {"crown", "\"121C\"", "\"59C\"", "issue.crown_limit", "\"59C\"", "59C", "60C to 180C"},
    {"crown", "\"121C\"", "\"250C\"", "issue.crown_limit", "\"250C\"", "250C", "60C to 180C"},
    {"crown below absolute zero", "\"121C\"", "\"-300C\"", "issue.crown_limit", "\"-300C\"", "-300C", "60C to 180C"},
    {"gross", "\"950kg\"", "\"10001kg\"", "issue.gross_limit", "\"10001kg\"", "10001kg", "50kg to 10000kg"},
    {"gross", "\"950kg\"", "\"49kg\"", "issue.gross_limit", "\"49kg\"", "49kg", "50kg to 10000kg"},
    {"launch wind", "\"15kt\"", "\"51kt\"", "issue.launch_wind_limit", "\"51kt\"", "51kt", "1kt to 50kt"},
    {"launch wind", "\"15kt\"", "\"0kt\"", "issue.launch_wind_limit", "\"0kt\"", "0kt", "1kt to 50kt"},
    {"fabric hours", "212", "-1", "issue.fabric_hours", "-1", "-1", "0h to 5000h"},
    {"fabric hours", "212", "\"5001h\"", "issue.fabric_hours", "\"5001h\"", "5001h", "0h to 5000h"},
    {"fabric hours", "212", "nan", "issue.fabric_hours", "nan", "nan", "0h to 5000h"},
    {"basket mass", "\"85kg\"", "\"0kg\"", "issue.basket_mass", "\"0kg\"", "0kg", "1kg to 1500kg"},
    {"basket mass", "\"85kg\"", "\"8500kg\"", "issue.basket_mass", "\"8500kg\"", "8500kg", "1kg to 1500kg"},
    {"people", "people = 4", "people = 0", "issue.basket_people", "0\nleads", "0", "1 to 40"},
    {"people", "people = 4", "people = 41", "issue.basket_people", "41", "41", "1 to 40"},
    {"people beyond int", "people = 4", "people = 4000000000000000000", "issue.basket_people", "4000000000000000000",
     "4000000000000000000", "1 to 40"},
    {"burner mass", "\"20kg\"", "\"0.5kg\"", "issue.burner_mass", "\"0.5kg\"", "0.5kg", "1kg to 150kg"},
    {"burner mass", "\"20kg\"", "\"200kg\"", "issue.burner_mass", "\"200kg\"", "200kg", "1kg to 150kg"},
    {"burner power", "\"5.4MW\"", "\"5.4kW\"", "issue.burner_power", "\"5.4kW\"", "5.4kW", "100kW to 20MW"},
    {"burner power", "\"5.4MW\"", "\"54MW\"", "issue.burner_power", "\"54MW\"", "54MW", "100kW to 20MW"},
    {"pressure low", "\"50psi\"", "\"0psi\"", "issue.burner_pressure", "\"0psi\"", "0psi", "1psi to 500psi"},
    {"pressure high", "\"150psi\"", "\"1500psi\"", "issue.burner_pressure", "\"1500psi\"", "1500psi", "1psi to 500psi"},
    {"pressure upside down", "[\"50psi\", \"150psi\"]", "[\"150psi\", \"50psi\"]", "issue.burner_pressure_pair",
     "[\"150psi\"", "[\"150psi\", \"50psi\"]", "the lowest and the highest"},
    {"pressure alone", "[\"50psi\", \"150psi\"]", "[\"50psi\"]", "issue.burner_pressure_pair", "[\"50psi\"]",
     "[\"50psi\"]", "the lowest and the highest"},
    {"kit mass", "\"15kg\"", "\"-15kg\"", "issue.kit_mass", "\"-15kg\"", "-15kg", "0kg to 500kg"},
    {"kit mass", "\"15kg\"", "\"501kg\"", "issue.kit_mass", "\"501kg\"", "501kg", "0kg to 500kg"},
    {"shell", "\"18.75gal\"", "\"1875gal\"", "issue.cylinder_shell", "\"1875gal\"", "1875gal", "5L to 500L"},
    {"shell", "\"18.75gal\"", "\"1gal\"", "issue.cylinder_shell", "\"1gal\"", "1gal", "5L to 500L"},
    {"level fill", "\"15gal\"", "\"0.1gal\"", "issue.cylinder_level_fill", "\"0.1gal\"", "0.1gal", "1L to 500L"},
    {"level fill", "\"15gal\"", "\"150gal\"", "issue.cylinder_level_fill", "\"150gal\"", "150gal", "1L to 500L"},
    {"level fill over shell", "\"15gal\"", "\"18.76gal\"", "issue.level_fill_over_shell", "\"18.76gal\"", "18.76gal",
     "at most the shell, 18.75gal"},
    {"tare", "\"18kg\"", "\"0.5kg\"", "issue.cylinder_tare", "\"0.5kg\"", "0.5kg", "1kg to 200kg"},
    {"tare", "\"18kg\"", "\"201kg\"", "issue.cylinder_tare", "\"201kg\"", "201kg", "1kg to 200kg"},
    {"gauge span", "\"35%\"", "\"101%\"", "issue.gauge_span", "\"101%\"", "101%", "0% to 100%"},
    {"gauge span", "\"35%\"", "\"-1%\"", "issue.gauge_span", "\"-1%\"", "-1%", "0% to 100%"},
    {"relief", "\"375psi\"", "\"0psi\"", "issue.cylinder_relief", "\"0psi\"", "0psi", "50psi to 1000psi"},
    {"relief", "\"375psi\"", "\"3750psi\"", "issue.cylinder_relief", "\"3750psi\"", "3750psi", "50psi to 1000psi"},
    {"usable to", "\"5%\"", "\"51%\"", "issue.usable_to", "\"51%\"", "51%", "0% to 50%"},
    {"usable to", "\"5%\"", "\"-5%\"", "issue.usable_to", "\"-5%\"", "-5%", "0% to 50%"},
    // rules between values: 120 + 85 + 20 + 15 + 18 = 258 kg
    {"gross under empty", "\"950kg\"", "\"258kg\"", "issue.gross_limit_under_empty", "\"258kg\"", "258kg", "258kg"},
    {"id twice", "[[cylinder]]\n",
     "[[cylinder]]\nid = \"1\"\nshell = \"72L\"\nlevel_fill = \"57L\"\ntare = \"20kg\"\n[[cylinder]] # second\n",
     "issue.cylinder_id_double", "\"1\"\nshell = \"18.75gal\"", "1", "an id of its own"},
    {"group is an id", "[[cylinder]]\n",
     "[[cylinder]]\nid = \"A\"\nshell = \"72L\"\nlevel_fill = \"57L\"\ntare = \"20kg\"\n[[cylinder]] # second\n",
     "issue.cylinder_group_is_id", "\"A\"      ", "A", "not the id of a cylinder without group"},
    // the text itself
    {"syntax", "mass = \"120kg\"", "mass = 120kg", "issue.toml_syntax", "kg\n", "mass = 120kg", "mass = \"82kg\""},
    {"unclosed", "\"120kg\"", "\"120kg", "issue.toml_syntax", "\ncrown_limit", "mass = \"120kg", "mass = \"82kg\""},
    {"key twice", "people = 4", "people = 4\npeople = 5", "issue.toml_syntax", "5\nleads", "people = 5",
     "mass = \"82kg\""},
    {"too deep", "people = 4", "x = [[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]", "issue.toml_too_deep", "[]]]]]]]",
     "x = [[[[[[[[[[[[[[[[[]]]]]]]]]]]]]]]]]", "at most 16 deep"},
    {"key too deep", "people = 4", "a.b.c.d.e.f.g.h.i.j.k.l.m.n.o.p.q.r = 1", "issue.toml_too_deep", ".r = 1",
     "a.b.c.d.e.f.g.h.i.j.k.l.m.n.o.p.q.r = 1", "at most 16 deep"},
};

TEST(BalloonFile, EachBrokenRuleIsToldWithItsPlaceAndWhatWouldBeRight) {
  for (const Edit& edit : kEdits) {
    SCOPED_TRACE(std::string(edit.rule) + ": " + std::string(edit.put));
    const std::string text = testing::edited(kGood, edit.find, edit.put);
    const Parsed<Balloon> parsed = parse_balloon(text, "broken.toml");
    EXPECT_FALSE(parsed.value.has_value());
    std::vector<Issue> issues = parsed.issues;
    // A key written wrongly is missing as well where it is needed.
    if (edit.key == "issue.key_unknown")
      std::erase_if(issues, [](const Issue& i) { return i.sentence.key == "issue.key_missing"; });
    EXPECT_EQ(issues.size(), 1u) << testing::told(issues);
    if (issues.size() == 1) testing::expect_issue(issues.front(), edit, "broken.toml", text);
  }
}

TEST(BalloonFile, ListsThatMustNotBeEmptyAreToldMissing) {
  const std::string start =
      "name = \"x\"\nenvelope = {volume = \"2180m3\", mass = \"90kg\"}\nbasket = {mass = \"60kg\"}\n";
  const std::string told = testing::told(parse_balloon(start + "burner = []\n", "empty.toml").issues);
  EXPECT_EQ(told,
            "1:1 cylinder issue.key_missing got '' wanted 'at least one [[cylinder]] with id, shell, level_fill and "
            "tare'\n"
            "4:10 burner issue.key_missing got '' wanted 'at least one [[burner]] with its mass'\n");
}

TEST(BalloonFile, AnEmptyFileTellsAllThatIsNeeded) {
  const Parsed<Balloon> parsed = parse_balloon("", "empty.toml");
  EXPECT_FALSE(parsed.value.has_value());
  std::set<std::string> missing;
  for (const Issue& issue : parsed.issues) {
    EXPECT_EQ(issue.sentence.key, "issue.key_missing");
    EXPECT_EQ(issue.where.line, 1);
    missing.insert(issue.where.key);
  }
  EXPECT_EQ(missing,
            (std::set<std::string>{"name", "envelope.volume", "envelope.mass", "basket.mass", "burner", "cylinder"}));
}

TEST(BalloonFile, AllFaultsAreToldAtOnceInTheOrderOfTheFile) {
  std::string text = testing::edited(kGood, "year = 2019", "year = 19");
  text = testing::edited(text, "\"105000ft3\"", "105000");
  text = testing::edited(text, "crown_limit", "crwn_limit");
  text = testing::edited(text, "people = 4", "people = 44");
  text = testing::edited(text, "\"150psi\"", "\"15bar\", \"20bar\"");
  text = testing::edited(text, "\"lying\"", "\"lyin\"");
  const Parsed<Balloon> parsed = parse_balloon(text, "six.toml");
  EXPECT_FALSE(parsed.value.has_value());
  EXPECT_EQ(testing::told(parsed.issues),
            "4:8 year issue.balloon_year got '19' wanted '1950 to 2100'\n"
            "6:10 envelope.volume issue.unit_missing got '105000' wanted 'a volume with a unit: gal, L, m3 or ft3, "
            "such as 15gal'\n"
            "8:1 envelope.crwn_limit issue.key_unknown got 'crwn_limit' wanted 'crown_limit'\n"
            "20:10 basket.people issue.basket_people got '44' wanted '1 to 40'\n"
            "27:12 burner[1].pressure issue.burner_pressure_pair got '[\"50psi\", \"15bar\", \"20bar\"]' wanted 'the "
            "lowest and the highest, such as [\"50psi\", \"150psi\"]'\n"
            "37:12 cylinder[1].attitude issue.cylinder_attitude got 'lyin' wanted 'lying (one of lying, upright)'\n");
}

TEST(BalloonFile, KeysOfListsCountFromOne) {
  const std::string text = kLeast + "[[cylinder]]\nid = \"right\"\nshell = \"72L\"\nlevel_fill = \"57L\"\ntare = 20\n";
  const Parsed<Balloon> parsed = parse_balloon(text, "two.toml");
  ASSERT_EQ(parsed.issues.size(), 1u) << testing::told(parsed.issues);
  EXPECT_EQ(parsed.issues[0].where, (Where{"two.toml", 18, 8, "cylinder[2].tare"}));
}

TEST(BalloonFile, AFileTooLargeForAPersonIsNotRead) {
  const std::string text = kGood + std::string(std::size_t{300} * 1024, '#');
  const Parsed<Balloon> parsed = parse_balloon(text, "large.toml");
  ASSERT_EQ(parsed.issues.size(), 1u);
  EXPECT_EQ(parsed.issues[0].sentence.key, "issue.file_too_large");
  EXPECT_EQ(parsed.issues[0].wanted, "at most 262144 bytes");
}

// Law: a value or an issue, never neither and never both.
TEST(BalloonFile, EveryTextGivesEitherAValueOrAnIssue) {
  Random random = testing::seeded("BalloonFile.ValueOrIssue");
  for (int i = 0; i < 2000; ++i) {
    const std::string text = testing::mutated(kGood, random);
    const Parsed<Balloon> parsed = parse_balloon(text, "mutated.toml");
    ASSERT_NE(parsed.value.has_value(), !parsed.issues.empty()) << text;
    for (std::size_t k = 0; k < parsed.issues.size(); ++k) {
      ASSERT_GE(parsed.issues[k].where.line, 1) << text;
      ASSERT_TRUE(k == 0 || parsed.issues[k - 1].where.line <= parsed.issues[k].where.line) << text;
    }
  }
}

}  // namespace
}  // namespace pappus::text
