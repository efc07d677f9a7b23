#include "desk/foretold.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "core/sheet/facts.hpp"
#include "tests/support/morning.hpp"

namespace pappus::desk {
namespace {

TEST(Foretold, IsTheSheetsOwnFigureForTheTimePlanned) {
  const sheet::Morning morning = testing::good_morning();
  const sheet::Facts facts = sheet::facts_of(morning);
  const auto told = foretold(morning, morning.flight.planned);
  ASSERT_TRUE(told);
  ASSERT_FALSE(told->temperature_assumed);
  EXPECT_TRUE(told->load_known);
  EXPECT_EQ(told->foretold.fuel, facts.fuel->used);
  EXPECT_EQ(told->foretold.loss, facts.fuel->level + facts.fuel->allowance);
  EXPECT_NEAR(told->foretold.error.in(kilogram), 0.05 * facts.fuel->used.in(kilogram), 1e-9);
  EXPECT_EQ(told->foretold.mean_needed, facts.lift->worst.mean_needed);
  EXPECT_EQ(told->foretold.mean_error, 3.0 * kelvin);
}

TEST(Foretold, TakesTheTimeReallyAloft) {
  const sheet::Morning morning = testing::good_morning();
  Mass before;
  for (const double minutes : {5.0, 20.0, 40.0, 90.0}) {
    const auto told = foretold(morning, minutes * minute);
    ASSERT_TRUE(told);
    EXPECT_GT(told->foretold.fuel, before);
    before = told->foretold.fuel;
  }
}

TEST(Foretold, IsWiderWhereTheTemperatureAloftIsNotKnown) {
  sheet::Morning morning = testing::good_morning();
  for (wind::Ladder& ladder : morning.flight.ladders)
    for (auto& row : ladder.rows) row.temperature.reset();
  const sheet::Facts facts = sheet::facts_of(morning);
  ASSERT_TRUE(facts.temperature_aloft_assumed);
  const auto told = foretold(morning, morning.flight.planned);
  ASSERT_TRUE(told);
  EXPECT_TRUE(told->temperature_assumed);
  EXPECT_LT(told->foretold.fuel, facts.fuel->used);  // the sheet takes the thirstier of the two
  EXPECT_GT(told->foretold.error.in(kilogram), 0.05 * told->foretold.fuel.in(kilogram));
  EXPECT_GT(told->foretold.mean_error, 3.0 * kelvin);
}

TEST(Foretold, SaysWhatIsMissing) {
  sheet::Morning morning = testing::good_morning();
  morning.flight.highest.reset();
  const auto told = foretold(morning, 40.0 * minute);
  ASSERT_FALSE(told);
  EXPECT_FALSE(told.error().sentence.key.empty());
  sheet::Morning full = testing::good_morning();
  full.flight.fuel.clear();
  const auto unknown = foretold(full, 40.0 * minute);
  ASSERT_TRUE(unknown);
  EXPECT_FALSE(unknown->load_known);
}

}  // namespace
}  // namespace pappus::desk
