#include "core/base/instant.hpp"

#include <chrono>
#include <cstdio>

namespace pappus {
namespace {

constexpr std::int64_t kMillisecondsPerDay = 86'400'000;

// The two digits at `at`, or none.
std::optional<int> digits(std::string_view s, std::size_t at, std::size_t count) {
  if (at + count > s.size()) return std::nullopt;
  int value = 0;
  for (std::size_t i = at; i < at + count; ++i) {
    if (s[i] < '0' || s[i] > '9') return std::nullopt;
    value = 10 * value + (s[i] - '0');
  }
  return value;
}

std::int64_t floor_div(std::int64_t a, std::int64_t b) {
  const std::int64_t q = a / b;
  return a % b < 0 ? q - 1 : q;
}

std::string print(const char* format, int a, int b, int c) {
  char text[32];
  const int n = std::snprintf(text, sizeof text, format, a, b, c);
  return std::string(text, static_cast<std::size_t>(n));
}

std::string clock_text(std::int64_t second_of_day) {
  const int s = static_cast<int>(second_of_day);
  return print("T%02d:%02d:%02d", s / 3600, s / 60 % 60, s % 60);
}

}  // namespace

Instant operator+(Instant t, Duration d) {
  const double ms = d.in(second)*1000.0;
  return Instant{t.ms_ + static_cast<std::int64_t>(ms < 0.0 ? ms - 0.5 : ms + 0.5)};
}

std::optional<Date> Date::of(int year, int month, int day) {
  if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1) return std::nullopt;
  const std::chrono::year_month_day d{std::chrono::year{year}, std::chrono::month{static_cast<unsigned>(month)},
                                      std::chrono::day{static_cast<unsigned>(day)}};
  if (!d.ok()) return std::nullopt;
  return Date{year, month, day};
}

Date Date::from_days_since_1970(std::int64_t days) {
  const std::chrono::year_month_day d{std::chrono::sys_days{std::chrono::days{static_cast<int>(days)}}};
  return Date{static_cast<int>(d.year()), static_cast<int>(static_cast<unsigned>(d.month())),
              static_cast<int>(static_cast<unsigned>(d.day()))};
}

std::int64_t Date::days_since_1970() const {
  const std::chrono::year_month_day d{std::chrono::year{year_}, std::chrono::month{static_cast<unsigned>(month_)},
                                      std::chrono::day{static_cast<unsigned>(day_)}};
  return std::chrono::sys_days{d}.time_since_epoch().count();
}

Date Moment::date() const {
  return Date::from_days_since_1970(
      floor_div(at.unix_milliseconds() + std::int64_t{offset.minutes} * 60'000, kMillisecondsPerDay));
}

int Moment::minute_of_day() const {
  const std::int64_t local = at.unix_milliseconds() + std::int64_t{offset.minutes} * 60'000;
  return static_cast<int>((local - floor_div(local, kMillisecondsPerDay) * kMillisecondsPerDay) / 60'000);
}

Instant instant_of(Date date, int hour, int minute, double seconds, UtcOffset offset) {
  const std::int64_t midnight = date.days_since_1970() * kMillisecondsPerDay;
  const std::int64_t minutes = std::int64_t{hour} * 60 + minute - offset.minutes;
  return Instant::from_unix_milliseconds(midnight + minutes * 60'000) + seconds * second;
}

std::string iso8601(Date d) { return print("%04d-%02d-%02d", d.year(), d.month(), d.day()); }

std::string iso8601(UtcOffset o) {
  const int m = o.minutes < 0 ? -o.minutes : o.minutes;
  return (o.minutes < 0 ? "-" : "+") + print("%02d:%02d", m / 60, m % 60, 0);
}

std::string iso8601(Moment m) {
  const std::int64_t local_seconds =
      floor_div(m.at.unix_milliseconds() + 500, 1000) + std::int64_t{m.offset.minutes} * 60;
  const std::int64_t day = floor_div(local_seconds, 86'400);
  return iso8601(Date::from_days_since_1970(day)) + clock_text(local_seconds - day * 86'400) + iso8601(m.offset);
}

std::string iso8601_utc(Instant t) {
  std::string s = iso8601(Moment{t, UtcOffset{0}});
  s.resize(s.size() - 6);
  return s + "Z";
}

std::optional<Date> parse_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto y = digits(text, 0, 4), m = digits(text, 5, 2), d = digits(text, 8, 2);
  if (!y || !m || !d) return std::nullopt;
  return Date::of(*y, *m, *d);
}

std::optional<UtcOffset> parse_offset(std::string_view text) {
  if (text == "Z" || text == "z") return UtcOffset{0};
  if ((text.size() != 6 && text.size() != 5) || (text[0] != '+' && text[0] != '-')) return std::nullopt;
  if (text.size() == 6 && text[3] != ':') return std::nullopt;
  const auto h = digits(text, 1, 2), m = digits(text, text.size() - 2, 2);
  if (!h || !m || *m > 59 || *h * 60 + *m > 14 * 60) return std::nullopt;
  const int minutes = *h * 60 + *m;
  return UtcOffset{text[0] == '-' ? -minutes : minutes};
}

std::optional<Moment> parse_moment(std::string_view text) {
  if (text.size() < 17 || (text[10] != 'T' && text[10] != 't' && text[10] != ' ')) return std::nullopt;
  const auto date = parse_date(text.substr(0, 10));
  const auto h = digits(text, 11, 2), m = digits(text, 14, 2);
  if (!date || !h || !m || text[13] != ':' || *h > 23 || *m > 59) return std::nullopt;
  double seconds = 0.0;
  std::size_t at = 16;
  if (at < text.size() && text[at] == ':') {
    const auto s = digits(text, at + 1, 2);
    if (!s || *s > 60) return std::nullopt;
    seconds = *s;
    at += 3;
    if (at < text.size() && (text[at] == '.' || text[at] == ',')) {
      double place = 0.1;
      const std::size_t first = ++at;
      for (; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at, place /= 10.0)
        seconds += place * (text[at] - '0');
      if (at == first) return std::nullopt;
    }
  }
  const auto offset = parse_offset(text.substr(at));
  if (!offset) return std::nullopt;
  return Moment{instant_of(*date, *h, *m, seconds, *offset), *offset};
}

}  // namespace pappus
