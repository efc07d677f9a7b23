#include "core/wind/observation.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::wind {
namespace {

using pappus::testing::read_table;
using pappus::testing::Row;
using pappus::testing::seeded;

TEST(Wind, IsNamedForWhereItComesFrom) {
  for (const Row& row : read_table("wind_direction.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const Wind wind = Wind::toward(row["east_m_s"] * metre_per_second, row["north_m_s"] * metre_per_second);
    ASSERT_TRUE(wind.direction_from().has_value());
    const Angle off = *wind.direction_from() - TrueBearing::at(row["from_deg"] * degree);
    EXPECT_NEAR(off.in(degree), 0.0, row["tolerance_deg"]);
    EXPECT_NEAR(wind.speed().in(metre_per_second), row["speed_m_s"], 1e-12);
  }
}

TEST(Wind, ComesBackFromItsComponents) {
  Random random = seeded("Wind.RoundTrip");
  for (int i = 0; i < 1000; ++i) {
    const TrueBearing from = TrueBearing::at(random.uniform(0.0, 360.0) * degree);
    const Speed speed = random.uniform(0.02, 40.0) * metre_per_second;
    const Wind wind = Wind::from(from, speed);
    EXPECT_NEAR(wind.speed() / speed, 1.0, 1e-14);
    EXPECT_NEAR((*wind.direction_from() - from).in(degree), 0.0, 1e-11);
  }
}

TEST(Wind, OfCalmAirComesFromNowhere) {
  EXPECT_FALSE(Wind{}.direction_from().has_value());
  EXPECT_FALSE(Wind::toward(0.0099 * metre_per_second, Speed{}).direction_from().has_value());
  EXPECT_TRUE(Wind::toward(0.0101 * metre_per_second, Speed{}).direction_from().has_value());
}

}  // namespace
}  // namespace pappus::wind
