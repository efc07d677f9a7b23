/// Moments in time, calendar dates and their ISO 8601 text.
///
/// An Instant is a point in UTC. A Moment is an instant together with the offset in which a person reads it. Nothing
/// here knows a clock or a time-zone rule: offsets are handed in.
#pragma once
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "core/base/quantity.hpp"

namespace pappus {

/// A point in time, UTC without leap seconds, resolution 1 ms.
class Instant {
 public:
  constexpr Instant() = default;
  [[nodiscard]] static constexpr Instant from_unix_milliseconds(std::int64_t ms) { return Instant{ms}; }
  [[nodiscard]] constexpr std::int64_t unix_milliseconds() const { return ms_; }
  friend constexpr Duration operator-(Instant a, Instant b) {
    return (static_cast<double>(a.ms_ - b.ms_) / 1000.0) * second;
  }
  /// Rounded to the nearest millisecond. Domain: |d| < 1e12 s.
  friend Instant operator+(Instant t, Duration d);
  friend Instant operator-(Instant t, Duration d) { return t + (-d); }
  friend constexpr auto operator<=>(Instant, Instant) = default;

 private:
  explicit constexpr Instant(std::int64_t ms) : ms_{ms} {}
  std::int64_t ms_ = 0;
};

/// A day of the proleptic Gregorian calendar. Always valid: made by `Date::of` or `date_of`.
class Date {
 public:
  constexpr Date() = default;
  /// None where there is no such day (2027-02-29), or outside the years 1 to 9999.
  [[nodiscard]] static std::optional<Date> of(int year, int month, int day);
  [[nodiscard]] static Date from_days_since_1970(std::int64_t days);
  [[nodiscard]] constexpr int year() const { return year_; }
  [[nodiscard]] constexpr int month() const { return month_; }
  [[nodiscard]] constexpr int day() const { return day_; }
  [[nodiscard]] std::int64_t days_since_1970() const;
  [[nodiscard]] Date plus_days(std::int64_t days) const { return from_days_since_1970(days_since_1970() + days); }
  friend constexpr auto operator<=>(Date, Date) = default;

 private:
  constexpr Date(int y, int m, int d) : year_{y}, month_{m}, day_{d} {}
  int year_ = 1970, month_ = 1, day_ = 1;
};

/// How far local clocks stand ahead of UTC.
struct UtcOffset {
  int minutes = 0;
  friend constexpr auto operator<=>(UtcOffset, UtcOffset) = default;
};

/// An instant as a person in a given offset reads it.
struct Moment {
  Instant at;
  UtcOffset offset;
  [[nodiscard]] Date date() const;
  /// Minutes since local midnight, 0 to 1439.
  [[nodiscard]] int minute_of_day() const;
  friend constexpr bool operator==(Moment, Moment) = default;
};

/// The instant of a local time of day; seconds may be 0 to 60 (a leap second is read as the next second).
[[nodiscard]] Instant instant_of(Date date, int hour, int minute, double seconds, UtcOffset offset);

/// "2027-05-16T04:50:00-09:00"; seconds are rounded to whole ones; offset zero prints "+00:00".
[[nodiscard]] std::string iso8601(Moment m);
/// "2027-05-16T13:50:00Z".
[[nodiscard]] std::string iso8601_utc(Instant t);
/// "2027-05-16".
[[nodiscard]] std::string iso8601(Date d);
/// "-09:00".
[[nodiscard]] std::string iso8601(UtcOffset o);

/// Reads date, 'T' (or one space), hours, minutes, optional seconds with a fraction, and 'Z' or an offset. None where
/// the text is anything else: a time without an offset is refused, as it names no instant.
[[nodiscard]] std::optional<Moment> parse_moment(std::string_view text);
/// Reads "YYYY-MM-DD".
[[nodiscard]] std::optional<Date> parse_date(std::string_view text);
/// Reads "Z", "+hh:mm", "-hh:mm" or "+hhmm", within 14 hours.
[[nodiscard]] std::optional<UtcOffset> parse_offset(std::string_view text);

}  // namespace pappus
