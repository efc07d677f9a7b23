#include "formats/text/pilot/pilot_file.hpp"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/formats/text/pilot/edited_file.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

using testing::Edit;
using testing::edited;
using testing::told;

const std::string kGood = R"(# pilot.toml
[pilot]
certificate = "commercial"
review = 2025-06-12
landings = [2027-02-15, 2027-03-06, 2027-04-11]
night_landings = [2027-01-09]
medical_until = 2028-05-31
for_hire = true
training_given = false
flights = [[2027-03-06, 0.8, 1, 2], [2027-04-11, "75min", 1, 1, "other class"]]
training_flight = 2025-10-04
check = 2026-09-19
supervised = [2027-04-12]
refresher = 2026-11-21
trained_volume = "3400m3"
locator = "plb"
[minimum]
surface_wind = "8kt"
reserve = "25min"
visibility = "5km"
spread = "2.5K"
cloud_base = "1500ft"
)";

const std::optional<Date> kToday = Date::of(2027, 5, 16);

PilotFile read_good(const std::string& text) {
  const Parsed<PilotFile> parsed = parse_pilot(text, "pilot.toml", kToday);
  EXPECT_EQ(told(parsed.issues), "");
  return parsed.value.value_or(PilotFile{});
}

TEST(PilotFile, EveryKeyIsRead) {
  const PilotFile file = read_good(kGood);
  const people::Pilot& p = file.pilot;
  EXPECT_EQ(p.certificate, "commercial");
  EXPECT_EQ(p.review, Date::of(2025, 6, 12));
  EXPECT_EQ(p.landings.size(), 3u);
  EXPECT_EQ(p.night_landings, std::vector<Date>{*Date::of(2027, 1, 9)});
  EXPECT_EQ(p.medical_until, Date::of(2028, 5, 31)) << "it may lie ahead";
  EXPECT_EQ(p.for_hire, true);
  EXPECT_EQ(p.training_given, false);
  ASSERT_EQ(p.log.flights.size(), 2u);
  EXPECT_EQ(p.log.flights[0].date, Date::of(2027, 3, 6));
  EXPECT_NEAR(p.log.flights[0].in_command.in(hour), 0.8, 1e-12);
  EXPECT_EQ(p.log.flights[0].take_offs, 1);
  EXPECT_EQ(p.log.flights[0].landings, 2);
  EXPECT_TRUE(p.log.flights[0].in_class);
  EXPECT_NEAR(p.log.flights[1].in_command.in(minute), 75.0, 1e-12);
  EXPECT_FALSE(p.log.flights[1].in_class);
  EXPECT_EQ(p.log.training_flight, Date::of(2025, 10, 4));
  EXPECT_EQ(p.log.check, Date::of(2026, 9, 19));
  EXPECT_EQ(p.log.supervised, std::vector<Date>{*Date::of(2027, 4, 12)});
  EXPECT_EQ(p.log.refresher, Date::of(2026, 11, 21));
  EXPECT_EQ(p.trained_volume, 3400.0 * cubic_metre);
  EXPECT_EQ(p.locator, people::Locator::plb);
  EXPECT_EQ(file.minimum.surface_wind, 8.0 * knot);
  EXPECT_EQ(file.minimum.reserve, 25.0 * minute);
  EXPECT_EQ(file.minimum.visibility, 5.0 * kilometre);
  EXPECT_EQ(file.minimum.spread, 2.5 * kelvin);
  EXPECT_EQ(file.minimum.cloud_base, 1500.0 * foot);
}

TEST(PilotFile, AnEmptyOneSaysNothing) {
  const PilotFile file = read_good("");
  EXPECT_FALSE(file.pilot.review || file.pilot.for_hire || file.pilot.locator || file.minimum.surface_wind);
  EXPECT_TRUE(file.pilot.landings.empty());
}

TEST(PilotFile, WithoutADayNothingIsHeldAgainstIt) {
  const std::string later = edited(kGood, "review = 2025-06-12", "review = 2031-06-12");
  EXPECT_FALSE(parse_pilot(later, "pilot.toml", kToday).value.has_value());
  EXPECT_TRUE(parse_pilot(later, "pilot.toml", std::nullopt).value.has_value());
}

const std::vector<Edit> kEdits{
    {"a review to come", "2025-06-12", "2027-05-17", "issue.done_later", "2027-05-17", "2027-05-17",
     "not after 2027-05-16"},
    {"a night landing to come", "2027-01-09", "2028-01-09", "issue.done_later", "2028-01-09", "2028-01-09",
     "not after 2027-05-16"},
    {"a flight to come", "[[2027-03-06", "[[2028-03-06", "issue.done_later", "2028-03-06", "2028-03-06",
     "not after 2027-05-16"},
    {"a training flight to come", "2025-10-04", "2028-10-04", "issue.done_later", "2028-10-04", "2028-10-04",
     "not after 2027-05-16"},
    {"a check to come", "2026-09-19", "2028-09-19", "issue.done_later", "2028-09-19", "2028-09-19",
     "not after 2027-05-16"},
    {"a supervised flight to come", "2027-04-12", "2028-04-12", "issue.done_later", "2028-04-12", "2028-04-12",
     "not after 2027-05-16"},
    {"a refresher to come", "2026-11-21", "2028-11-21", "issue.done_later", "2028-11-21", "2028-11-21",
     "not after 2027-05-16"},
    {"no day", "2028-05-31", "\"2028-02-30\"", "issue.date_unreadable", "\"2028-02-30\"", "2028-02-30", "a date"},
    {"hire in words", "for_hire = true", "for_hire = \"yes\"", "issue.value_kind", "\"yes\"", "yes", "true or false"},
    {"training in words", "training_given = false", "training_given = 0", "issue.value_kind", "0\nflights", "0",
     "true or false"},
    {"a short flight line", "0.8, 1, 2]", "0.8, 1]", "issue.pilot_flight", "[2027-03-06, 0.8, 1]",
     "[2027-03-06, 0.8, 1]", "date, hours in command"},
    {"hours of days", "0.8", "24.5", "issue.pilot_flight_hours", "24.5", "24.5", "0h to 24h"},
    {"landings below none", "1, 2]", "1, -2]", "issue.pilot_flight_count", "-2", "-2", "0 to 100"},
    {"landings by hundreds", "1, 2]", "101, 2]", "issue.pilot_flight_count", "101", "101", "0 to 100"},
    {"another word for the class", "\"other class\"", "\"gas\"", "issue.pilot_flight_class", "\"gas\"", "gas",
     "other class"},
    {"flights as one", "[[2027-03-06, 0.8, 1, 2], [2027-04-11, \"75min\", 1, 1, \"other class\"]]", "3",
     "issue.value_kind", "3\ntraining", "3", "a list of flights"},
    {"a small balloon", "\"3400m3\"", "\"34m3\"", "issue.pilot_trained_volume", "\"34m3\"", "34m3", "100m3 to 20000m3"},
    {"a bare volume", "\"3400m3\"", "3400", "issue.unit_missing", "3400\n", "3400", "m3 or ft3"},
    {"a beacon", "\"plb\"", "\"pbl\"", "issue.pilot_locator", "\"pbl\"", "pbl", "plb (one of elt, plb)"},
    {"own wind", "\"8kt\"", "\"80kt\"", "issue.minimum_surface_wind", "\"80kt\"", "80kt", "0kt to 50kt"},
    {"own reserve", "\"25min\"", "\"25h\"", "issue.minimum_reserve", "\"25h\"", "25h", "0min to 5h"},
    {"own visibility", "\"5km\"", "\"500km\"", "issue.minimum_visibility", "\"500km\"", "500km", "0m to 50km"},
    {"own spread", "\"2.5K\"", "\"25K\"", "issue.minimum_spread", "\"25K\"", "25K", "0K to 20K"},
    {"own spread as a point", "\"2.5K\"", "\"2.5C\"", "issue.unit_other_kind", "\"2.5C\"", "2.5C", "K"},
    {"own cloud base", "\"1500ft\"", "\"15km\"", "issue.minimum_cloud_base", "\"15km\"", "15km", "0m to 6000m"},
    {"a table of the flight", "[minimum]", "[fitness]\nfit = true\n[minimum]", "issue.key_unknown", "fitness",
     "fitness", "one of pilot, minimum"},
    {"a slip", "trained_volume", "traned_volume", "issue.key_unknown", "traned_volume", "traned_volume",
     "trained_volume"},
};

TEST(PilotFile, EachBrokenFileNamesItsRuleAndTheFile) {
  for (const Edit& edit : kEdits) {
    SCOPED_TRACE(std::string(edit.rule) + ": " + std::string(edit.put));
    const std::string text = edited(kGood, edit.find, edit.put);
    const Parsed<PilotFile> parsed = parse_pilot(text, "broken.toml", kToday);
    EXPECT_FALSE(parsed.value.has_value());
    EXPECT_EQ(parsed.issues.size(), 1u) << told(parsed.issues);
    if (parsed.issues.size() != 1) continue;
    testing::expect_issue(parsed.issues.front(), edit, "broken.toml", text);
  }
}

TEST(PilotFile, TheFlightGoesFirstKeyByKey) {
  sheet::Flight flight;
  flight.pilot.review = Date::of(2026, 1, 1);
  flight.pilot.for_hire = false;
  flight.minimum.surface_wind = 6.0 * knot;
  fill_from(flight, read_good(kGood));
  EXPECT_EQ(flight.pilot.review, Date::of(2026, 1, 1));
  EXPECT_EQ(flight.pilot.for_hire, false);
  EXPECT_EQ(flight.pilot.landings.size(), 3u);
  EXPECT_EQ(flight.minimum.surface_wind, 6.0 * knot);
  EXPECT_EQ(flight.minimum.cloud_base, 1500.0 * foot);
  const sheet::Flight once = flight;
  fill_from(flight, read_good(kGood));
  EXPECT_EQ(flight.pilot.landings, once.pilot.landings);
  EXPECT_EQ(flight.pilot.log.flights.size(), once.pilot.log.flights.size());
  EXPECT_EQ(flight.minimum.reserve, once.minimum.reserve);
}

TEST(PilotFile, AnySlipIsToldOrRead) {
  Random random = testing::seeded("PilotFile.AnySlip");
  for (int i = 0; i < 2000; ++i) {
    const std::string text = testing::mutated(kGood, random);
    const Parsed<PilotFile> parsed = parse_pilot(text, "pilot.toml", kToday);
    EXPECT_EQ(parsed.value.has_value(), parsed.issues.empty());
    for (const Issue& issue : parsed.issues) {
      EXPECT_FALSE(issue.sentence.key.empty());
      EXPECT_EQ(issue.where.file, "pilot.toml");
    }
  }
}

}  // namespace
}  // namespace pappus::text
