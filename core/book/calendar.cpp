#include "core/book/calendar.hpp"

namespace pappus::book {
namespace {

constexpr int kLastYear = 9999;  // of Date

struct Month {
  int year, month;
};

Month month_after(Date d, int months) {
  const int since_year_0 = d.year() * 12 + d.month() - 1 + months;
  return {since_year_0 / 12, since_year_0 % 12 + 1};
}

// The day of that month, or the last one that it has.
Date day_of(Month m, int day) {
  if (m.year > kLastYear) return *Date::of(kLastYear, 12, 31);
  std::optional<Date> date = Date::of(m.year, m.month, day);
  while (!date) date = Date::of(m.year, m.month, --day);
  return *date;
}

}  // namespace

Date end_of_month(Date d) { return end_of_calendar_months(d, 0); }
Date end_of_calendar_months(Date d, int months) { return day_of(month_after(d, months), 31); }
Date months_after(Date d, int months) { return day_of(month_after(d, months), d.day()); }

}  // namespace pappus::book
