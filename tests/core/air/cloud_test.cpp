#include "core/air/cloud.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::air {
namespace {

using testing::read_table;
using testing::Row;

TEST(CloudBase, MatchesThePublishedTable) {
  for (const Row& row : read_table("cloud_base.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto base = cloud_base_from_spread(fahrenheit(row["temperature_f"]), fahrenheit(row["dew_point_f"]));
    ASSERT_TRUE(base.has_value());
    EXPECT_NEAR(base->from_origin().in(foot), row["base_ft"], row["tolerance_ft"]);
  }
}

TEST(CloudBase, RisesWithTheTemperatureAndFallsWithTheDewPoint) {
  Random random = testing::seeded("CloudBase.Rises");
  for (int i = 0; i < 1000; ++i) {
    const TemperatureDelta more = random.uniform() * 5.0 * kelvin;
    const Temperature dew = celsius(-40.0 + 60.0 * random.uniform());
    const Temperature t = dew + more + random.uniform() * 20.0 * kelvin;
    const auto base = cloud_base_from_spread(t, dew);
    ASSERT_TRUE(base.has_value());
    EXPECT_GE(*base, HeightAgl{});
    EXPECT_GE(cloud_base_from_spread(t + more, dew).value(), *base);
    EXPECT_LE(cloud_base_from_spread(t, dew + more).value(), *base);
  }
}

TEST(CloudBase, RefusesWhatNoAirIs) {
  EXPECT_EQ(cloud_base_from_spread(celsius(61.0), celsius(10.0)).error().sentence.key,
            "air.temperature_outside_vapour");
  EXPECT_EQ(cloud_base_from_spread(celsius(10.0), celsius(-81.0)).error().sentence.key, "air.dew_point_outside");
  EXPECT_EQ(cloud_base_from_spread(celsius(10.0), celsius(10.1)).error().sentence.key,
            "air.dew_point_above_temperature");
  EXPECT_EQ(cloud_base_from_spread(celsius(10.0), celsius(10.04)).value(), HeightAgl{});
}

}  // namespace
}  // namespace pappus::air
