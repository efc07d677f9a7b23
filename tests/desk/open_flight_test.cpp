#include "desk/open_flight.hpp"

#include <map>

#include <gtest/gtest.h>

#include "formats/text/pilot/flight_file.hpp"

namespace pappus::desk {
namespace {

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

class Shelf : public Files {
 public:
  std::map<std::string, std::string> texts{
      {"a/flight.toml", kFlight}, {"a/pilot.toml", kPilot}, {"a/balloon.toml", kBalloon}};
  [[nodiscard]] Result<std::string> read(const std::string& path) const override {
    const auto found = texts.find(path);
    if (found == texts.end()) return fail(Errc::not_found, say("issue.file_missing"), path);
    return found->second;
  }
  [[nodiscard]] std::string beside(const std::string& file, const std::string& relative) const override {
    return file.substr(0, file.rfind('/') + 1) + relative;
  }
  [[nodiscard]] Result<void> write(const std::string& path, std::string_view /*text*/,
                                   std::string_view /*ours*/) const override {
    return fail(Errc::machine_failed, say("issue.file_unwritable"), path);
  }
};
class Still : public Clock {
 public:
  [[nodiscard]] Instant now() const override { return parse_moment("2027-05-16T04:50:00-09:00")->at; }
};

Parsed<sheet::Morning> open(const Shelf& shelf) { return open_flight("a/flight.toml", shelf, Still{}, std::nullopt); }

TEST(OpenFlight, ThePilotsFileFillsWhatTheFlightLeavesOpen) {
  const auto morning = open(Shelf{});
  ASSERT_TRUE(morning.value.has_value());
  const sheet::Flight& f = morning.value->flight;
  EXPECT_EQ(f.pilot.review, Date::of(2026, 9, 12));
  EXPECT_EQ(f.pilot.landings.size(), 3u);
  EXPECT_EQ(f.minimum.surface_wind, 6.0 * knot);
  EXPECT_EQ(f.minimum.visibility, 5.0 * kilometre);
}

TEST(OpenFlight, AMissingPilotsFileIsToldUnderTheFlightsKey) {
  Shelf shelf;
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
  Shelf shelf;
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
