#include "core/base/position.hpp"

#include <gtest/gtest.h>

#include "core/base/math.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus {
namespace {

Position at(double latitude, double longitude) { return Position::at(latitude * degree, longitude * degree).value(); }

TEST(Position, ADegreeIsAsLongAsPublished) {
  for (const auto& row : testing::read_table("degree_length.csv")) {
    SCOPED_TRACE(row.text("id"));
    const double phi = row["latitude_deg"];
    EXPECT_NEAR(displacement(at(phi, 0.0), at(phi, 1.0)).east.in(metre), row["longitude_m"], row["tolerance_m"]);
    EXPECT_NEAR(displacement(at(phi - 0.5, 7.0), at(phi + 0.5, 7.0)).north.in(metre), row["latitude_m"],
                row["tolerance_m"]);
  }
}

TEST(Position, ALongWayIsThatOfTheLineOfConstantBearing) {
  for (const auto& row : testing::read_table("rhumb.csv")) {
    SCOPED_TRACE(row.text("id"));
    const GroundOffset way = displacement(at(row["from_latitude_deg"], row["from_longitude_deg"]),
                                          at(row["to_latitude_deg"], row["to_longitude_deg"]));
    EXPECT_NEAR(way.east.in(metre), row["east_m"], row["tolerance_m"]);
    EXPECT_NEAR(way.north.in(metre), row["north_m"], row["tolerance_m"]);
  }
}

TEST(Position, TheWayBackIsTheReverse) {
  Random random = testing::seeded("Position.WayBack");
  for (int i = 0; i < 1000; ++i) {
    const double phi = random.uniform(-70.0, 70.0), lambda = random.uniform(-180.0, 180.0);
    const Position a = at(phi, lambda);
    const GroundOffset by{random.uniform(-1.0e5, 1.0e5) * metre, random.uniform(-1.0e5, 1.0e5) * metre};
    const auto b = displaced(a, by);
    ASSERT_TRUE(b);
    const GroundOffset there = displacement(a, *b), back = displacement(*b, a);
    EXPECT_NEAR(there.east.in(metre), by.east.in(metre), 1e-3);
    EXPECT_NEAR(there.north.in(metre), by.north.in(metre), 1e-3);
    EXPECT_NEAR(back.east.in(metre), -by.east.in(metre), 1e-3);
    EXPECT_NEAR(back.north.in(metre), -by.north.in(metre), 1e-3);
  }
}

TEST(Position, TheAntimeridianIsCrossedTheShortWay) {
  EXPECT_NEAR(displacement(at(0.0, 179.9), at(0.0, -179.9)).east.in(kilometre), 22.264, 0.001);
  const auto across = displaced(at(10.0, 179.99), {5.0 * kilometre, Length{}});
  ASSERT_TRUE(across);
  EXPECT_LT(across->longitude(), Angle{});
}

TEST(Position, NoWayLeadsPastAPole) {
  EXPECT_EQ(displaced(at(89.9, 0.0), {Length{}, 20.0 * kilometre}).error().code, Errc::bad_input);
}

}  // namespace
}  // namespace pappus
