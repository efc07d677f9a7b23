#include "core/book/log.hpp"

#include <gtest/gtest.h>

#include "tests/support/expect_row.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::book {
namespace {

using testing::read_table;
using testing::Row;

TEST(Log, FollowsTheTable) {
  for (const Row& row : read_table("log.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    if (row.text("what") == "tenths") {
      testing::expect_row(row, logged_tenths(row["input"] * minute));
      continue;
    }
    const std::optional<int> number = ax_class(row["input"] * cubic_metre);
    ASSERT_EQ(number.has_value(), row.has("value"));
    if (number) testing::expect_row(row, *number);
  }
}

TEST(Log, TenthsNeverFallShortNorFarAbove) {
  Random random = testing::seeded("Log.Tenths");
  for (int i = 0; i < 1000; ++i) {
    const Duration flown = static_cast<double>(random.below(36000)) * second;
    const Duration logged = logged_tenths(flown) * 0.1 * hour;
    EXPECT_GE((logged - flown).in(second), -1e-6);
    EXPECT_LT((logged - flown).in(second), 360.0);
    EXPECT_LE(logged_tenths(flown), logged_tenths(flown + 1.0 * second));
  }
  EXPECT_EQ(logged_tenths(-5.0 * minute), 0);
}

TEST(Log, AnHourMadeOfPartsIsTenTenths) {
  Duration sum;
  for (int i = 0; i < 10; ++i) sum += 0.1 * hour;
  EXPECT_EQ(logged_tenths(sum), 10);
}

}  // namespace
}  // namespace pappus::book
