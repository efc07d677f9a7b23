#include "desk/open_flight.hpp"

#include <map>

#include <gtest/gtest.h>

#include "formats/text/pilot/flight_file.hpp"
#include "tests/support/shelf.hpp"

namespace pappus::desk {
namespace {

using testing::Shelf;
using testing::Still;

const std::string kFlight = R"(balloon = "balloon.toml"
pilot_file = "pilot.toml"
time = 2027-05-16T05:10:00-09:00
planned = "45min"
[field]
name = "Meadow"
at = [38, -133]
elevation = "10ft"
[[aboard]]
role = "pilot"
mass = "180lb"
[pilot]
review = 2026-09-12
[minimum]
surface_wind = "6kt"
)";
const std::string kPilot = R"([pilot]
review = 2024-01-01
landings = [2027-02-15, 2027-03-06, 2027-04-11]
[minimum]
surface_wind = "9kt"
visibility = "5km"
)";
const std::string kBalloon = R"(name = "Least"
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

Shelf shelf_of_all() {
  return Shelf{{{"a/flight.toml", kFlight}, {"a/pilot.toml", kPilot}, {"a/balloon.toml", kBalloon}}};
}

Parsed<sheet::Morning> open(const Shelf& shelf) { return open_flight("a/flight.toml", shelf, Still{}, std::nullopt); }

TEST(OpenFlight, ThePilotsFileFillsWhatTheFlightLeavesOpen) {
  const auto morning = open(shelf_of_all());
  ASSERT_TRUE(morning.value.has_value());
  const sheet::Flight& f = morning.value->flight;
  EXPECT_EQ(f.pilot.review, Date::of(2026, 9, 12));
  EXPECT_EQ(f.pilot.landings.size(), 3u);
  EXPECT_EQ(f.minimum.surface_wind, 6.0 * knot);
  EXPECT_EQ(f.minimum.visibility, 5.0 * kilometre);
}

TEST(OpenFlight, AMissingPilotsFileIsToldUnderTheFlightsKey) {
  Shelf shelf = shelf_of_all();
  shelf.texts.erase("a/pilot.toml");
  const auto morning = open(shelf);
  EXPECT_FALSE(morning.value.has_value());
  ASSERT_EQ(morning.issues.size(), 1u);
  EXPECT_EQ(morning.issues[0].code, Errc::not_found);
  EXPECT_EQ(morning.issues[0].where.file, "a/flight.toml");
  EXPECT_EQ(morning.issues[0].where.key, "pilot_file");
  EXPECT_EQ(morning.issues[0].got, "a/pilot.toml");
}

TEST(OpenFlight, AFaultInThePilotsFileNamesThatFile) {
  Shelf shelf = shelf_of_all();
  shelf.texts["a/pilot.toml"] = "[pilot]\nlandings = [2027-05-17]\n";
  const auto morning = open(shelf);
  EXPECT_FALSE(morning.value.has_value());
  ASSERT_EQ(morning.issues.size(), 1u);
  EXPECT_EQ(morning.issues[0].sentence.key, "issue.done_later");
  EXPECT_EQ(morning.issues[0].where.file, "a/pilot.toml");
  EXPECT_EQ(morning.issues[0].where.line, 2);
}

}  // namespace
}  // namespace pappus::desk
