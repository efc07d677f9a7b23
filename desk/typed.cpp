#include "desk/typed.hpp"

#include <algorithm>

namespace pappus::desk {
namespace {

constexpr std::string_view kBlanks = " \t\r";

bool is_digit(char c) { return c >= '0' && c <= '9'; }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool is_unit(std::string_view word) {
  using text::Dimension;
  for (const Dimension dimension :
       {Dimension::length, Dimension::mass, Dimension::volume, Dimension::speed, Dimension::air_pressure,
        Dimension::fuel_pressure, Dimension::temperature, Dimension::duration, Dimension::power, Dimension::percent})
    if (text::parse_si("1" + std::string(word), dimension)) return true;
  return false;
}

std::optional<int> figures(std::string_view s) {
  if (s.empty() || s.size() > 2 || !std::all_of(s.begin(), s.end(), is_digit)) return std::nullopt;
  int value = 0;
  for (const char c : s) value = 10 * value + (c - '0');
  return value;
}

bool read_clock(std::string_view s, TypedTime& out) {
  const std::size_t colon = s.find(':');
  std::optional<int> hour, minute;
  if (colon != std::string_view::npos) {
    hour = figures(s.substr(0, colon));
    std::string_view rest = s.substr(colon + 1);
    if (rest.size() == 5 && rest.substr(2) == ":00") rest = rest.substr(0, 2);
    minute = rest.size() == 2 ? figures(rest) : std::nullopt;
  } else if (s.size() == 4) {
    hour = figures(s.substr(0, 2));
    minute = figures(s.substr(2));
  }
  if (!hour || !minute || *hour > 23 || *minute > 59) return false;
  out.hour = *hour;
  out.minute = *minute;
  return true;
}

Moment on(const TypedTime& time, Date date, UtcOffset offset) {
  return {instant_of(date, time.hour, time.minute, 0.0, offset), offset};
}

}  // namespace

std::string_view trimmed(std::string_view s) {
  const std::size_t first = s.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return s.substr(first, s.find_last_not_of(" \t\r\n") - first + 1);
}

std::vector<std::string_view> parts_of(std::string_view s, char mark) {
  std::vector<std::string_view> out;
  for (std::size_t at = 0; at <= s.size();) {
    const std::size_t end = std::min(s.find(mark, at), s.size());
    out.push_back(trimmed(s.substr(at, end - at)));
    at = end + 1;
  }
  return out;
}

std::vector<std::string_view> lines_of(std::string_view s) {
  std::vector<std::string_view> out = parts_of(s, '\n');
  out.erase(std::remove(out.begin(), out.end(), std::string_view{}), out.end());
  return out;
}

std::vector<std::string> words_of(std::string_view line) {
  std::vector<std::string> out;
  bool bare = false;  // the last word is a number without a unit
  const std::string marks = std::string(kBlanks) + ",";
  while (true) {
    const std::size_t first = line.find_first_not_of(marks);
    if (first == std::string_view::npos) return out;
    line.remove_prefix(first);
    const std::string_view word = line.substr(0, line.find_first_of(marks));
    if (bare && !is_digit(word.front()) && is_unit(word)) {
      out.back() += word;
      bare = false;
    } else {
      out.emplace_back(word);
      bare = text::parse_number(word).has_value();
    }
    line.remove_prefix(word.size());
  }
}

bool same_word(std::string_view a, std::string_view b) {
  return a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) { return lower(x) == lower(y); });
}

Result<double> in_unit_or(std::string_view typed, text::Dimension dimension, std::string_view unit) {
  typed = trimmed(typed);
  if (text::parse_number(typed)) return text::parse_si(std::string(typed) + std::string(unit), dimension);
  return text::parse_si(typed, dimension);
}

std::optional<TypedTime> typed_time(std::string_view typed) {
  std::string_view s = trimmed(typed);
  TypedTime out;
  if (s.size() > 10) {
    if (const auto date = parse_date(s.substr(0, 10)); date && (s[10] == ' ' || s[10] == 'T')) {
      out.date = date;
      s = trimmed(s.substr(11));
    }
  }
  const std::size_t mark = s.find_first_of(" +-Z");
  if (mark != std::string_view::npos) {
    out.offset = parse_offset(trimmed(s.substr(mark)));
    if (!out.offset) return std::nullopt;
    s = trimmed(s.substr(0, mark));
  }
  if (!read_clock(s, out)) return std::nullopt;
  return out;
}

Moment next_of(const TypedTime& time, Instant earliest, UtcOffset here) {
  const UtcOffset offset = time.offset.value_or(here);
  if (time.date) return on(time, *time.date, offset);
  const Date date = Moment{earliest, offset}.date();
  const Moment same_day = on(time, date, offset);
  return same_day.at < earliest ? on(time, date.plus_days(1), offset) : same_day;
}

Moment last_of(const TypedTime& time, Instant latest, UtcOffset here) {
  const UtcOffset offset = time.offset.value_or(here);
  if (time.date) return on(time, *time.date, offset);
  const Date date = Moment{latest, offset}.date();
  const Moment same_day = on(time, date, offset);
  return same_day.at > latest ? on(time, date.plus_days(-1), offset) : same_day;
}

}  // namespace pappus::desk
