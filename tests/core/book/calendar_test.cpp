#include "core/book/calendar.hpp"

#include <array>

#include <gtest/gtest.h>

#include "tests/core/book/book_rows.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::book {
namespace {

using testing::any_day;
using testing::day;
using testing::seeded;

// A calendar of its own: days of months from a table, leap years by the rule of 1582, months counted one by one.
int days_in(int year, int month) {
  constexpr std::array<int, 12> days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  const bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return days[static_cast<std::size_t>(month - 1)] + (leap && month == 2 ? 1 : 0);
}

TEST(Calendar, AgreesWithAnotherCalendar) {
  Random random = seeded("Calendar.Another");
  for (int i = 0; i < 3000; ++i) {
    const Date d = any_day(random);
    const int months = static_cast<int>(random.below(200));
    int year = d.year(), month = d.month();
    for (int k = 0; k < months; ++k) {
      month = month == 12 ? 1 : month + 1;
      year += month == 1 ? 1 : 0;
    }
    const int last = days_in(year, month);
    EXPECT_EQ(end_of_calendar_months(d, months), Date::of(year, month, last)) << iso8601(d) << " " << months;
    EXPECT_EQ(months_after(d, months), Date::of(year, month, d.day() < last ? d.day() : last)) << iso8601(d);
    EXPECT_EQ(end_of_month(d), Date::of(d.year(), d.month(), days_in(d.year(), d.month())));
  }
}

TEST(Calendar, NeverFallsWithTheDayOrTheMonths) {
  Random random = seeded("Calendar.NeverFalls");
  for (int i = 0; i < 3000; ++i) {
    const Date d = any_day(random), later = d.plus_days(static_cast<std::int64_t>(random.below(70)));
    const int months = static_cast<int>(random.below(100));
    EXPECT_LE(months_after(d, months), months_after(later, months));
    EXPECT_LE(months_after(d, months), months_after(d, months + 1));
    EXPECT_LE(end_of_calendar_months(d, months), end_of_calendar_months(later, months));
    EXPECT_LE(months_after(d, months), end_of_calendar_months(d, months));
  }
}

TEST(Calendar, EndsWithTheYear9999) {
  EXPECT_EQ(end_of_calendar_months(day("9999-12-01"), 1), day("9999-12-31"));
  EXPECT_EQ(months_after(day("9990-05-05"), 1200), day("9999-12-31"));
}

}  // namespace
}  // namespace pappus::book
