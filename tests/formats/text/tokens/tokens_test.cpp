#include "formats/text/tokens/tokens.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

TEST(Tokens, GroupsKeepTheirPlace) {
  const Groups groups{"> ab  \xC3\xA9t 12=x\n\n\tC\xC2\xA0z"};
  ASSERT_EQ(groups.size(), 7u);
  EXPECT_EQ(groups.at(0), "AB");
  EXPECT_EQ(groups[0].shown, "ab");
  EXPECT_EQ(groups[0].column, 3);
  EXPECT_TRUE(groups[0].first_of_line && groups[0].after_empty_line);
  EXPECT_EQ(groups[1].shown, "??t");  // a character of two bytes is one column
  EXPECT_EQ(groups[1].column, 7);
  EXPECT_EQ(groups[2].column, 10);
  EXPECT_EQ(groups.at(3), "=");
  EXPECT_EQ(groups.at(4), "X");
  EXPECT_EQ(groups[5].line, 3);
  EXPECT_EQ(groups[5].column, 2);
  EXPECT_TRUE(groups[5].first_of_line && groups[5].after_empty_line);
  EXPECT_EQ(groups[6].column, 4);
  EXPECT_FALSE(groups[6].first_of_line);
  EXPECT_EQ(groups.at(7), "");
  EXPECT_EQ(groups.shown(2, 5), "12 = x");
}

TEST(Tokens, ADayAndTimeIsSixFiguresAndAZ) {
  EXPECT_TRUE(is_day_time("051658Z"));
  for (const char* other : {"", "051658", "05165Z", "0516589Z", "O51658Z", "051658z"}) EXPECT_FALSE(is_day_time(other));
  const DayTime t = day_time_of("051658Z");
  EXPECT_EQ(t.day, 5);
  EXPECT_EQ(t.hours, 16);
  EXPECT_EQ(t.minutes, 58);
}

TEST(Tokens, TheNearestInstantIsNearerThanAnyOtherOfItsName) {
  Random random = testing::seeded("Tokens.Nearest");
  for (int i = 0; i < 2000; ++i) {
    const Instant near = Instant::from_unix_milliseconds(static_cast<std::int64_t>(random.below(4'000'000'000)) * 1000);
    const DayTime t{.day = 1 + static_cast<int>(random.below(31)),
                    .hours = static_cast<int>(random.below(24)),
                    .minutes = static_cast<int>(random.below(60))};
    const std::optional<Instant> found = nearest_instant(t, near);
    ASSERT_TRUE(found);
    const Moment m{.at = *found, .offset = {}};
    ASSERT_EQ(m.date().day(), t.day);
    ASSERT_EQ(m.minute_of_day(), 60 * t.hours + t.minutes);
    for (int days = -70; days <= 70; ++days) {
      const Instant other = *found + days * 24 * hour;
      if ((Moment{.at = other, .offset = {}}).date().day() == t.day) {
        ASSERT_LE(abs(*found - near), abs(other - near));
      }
    }
  }
}

TEST(Tokens, AnImpossibleDayOrTimeHasNoInstant) {
  const Instant near = instant_of(*Date::of(2027, 5, 16), 13, 0, 0.0, UtcOffset{});
  EXPECT_FALSE(nearest_instant({.day = 0, .hours = 1, .minutes = 0}, near));
  EXPECT_FALSE(nearest_instant({.day = 32, .hours = 1, .minutes = 0}, near));
  EXPECT_FALSE(nearest_instant({.day = 3, .hours = 24, .minutes = 0}, near));
  EXPECT_FALSE(nearest_instant({.day = 3, .hours = 1, .minutes = 60}, near));
  EXPECT_FALSE(nearest_instant({.day = 3, .hours = 1, .minutes = 0}, Instant::from_unix_milliseconds(INT64_MAX)));
}

}  // namespace
}  // namespace pappus::text
