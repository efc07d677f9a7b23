/// Counting in months, in the two ways that rules do.
#pragma once
#include "core/base/instant.hpp"

namespace pappus::book {

/// The last day of a date's month.
[[nodiscard]] Date end_of_month(Date d);

/// Calendar months: the last day of the month that lies so many months later, whatever the day of `d`.
/// Example   12 April 2023 and 24 months: 30 April 2025.
/// Domain    `months` from 0 to 1200; the calendar's last day is 9999-12-31 and stands for all later ones.
/// Laws      never falls as `d` or `months` rises; the same for every day of a month.
[[nodiscard]] Date end_of_calendar_months(Date d, int months);

/// Months from day to day: the same day so many months later, or the last day of a month that has no such day.
/// Example   31 January and 1 month: 28 or 29 February.
/// Domain, laws  as above, but for the last law; at most end_of_calendar_months().
[[nodiscard]] Date months_after(Date d, int months);

}  // namespace pappus::book
