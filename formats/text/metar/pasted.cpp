#include "formats/text/metar/pasted.hpp"

#include <algorithm>
#include <cstdint>

#include "formats/text/metar/reader.hpp"

namespace pappus::text::wmo {
namespace {

constexpr std::size_t kShownLength = 40;

// Blanks, control characters (bulletins carry some), the no-break space, and the '>' of quoted mail.
std::size_t blank_length(std::string_view text, std::size_t at, bool start_of_line) {
  const char c = text[at];
  if ((c >= 0 && c <= ' ') || c == '\x7f' || (start_of_line && c == '>')) return 1;
  return c == '\xC2' && at + 1 < text.size() && text[at + 1] == '\xA0' ? 2 : 0;
}

}  // namespace

Groups::Groups(std::string_view pasted) : shown_{pasted}, capitals_{pasted} {
  for (char& c : shown_)
    if (c < '!' || c > '~') c = '?';
  for (std::size_t i = 0; i < shown_.size(); ++i) {
    const char c = shown_[i];
    capitals_[i] = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  }
  cut(pasted);
}

void Groups::cut(std::string_view pasted) {
  int line = 1, column = 1, breaks = 2;
  bool line_is_blank = true;
  std::size_t i = 0;
  while (i < pasted.size()) {
    const std::size_t blank = blank_length(pasted, i, line_is_blank);
    if (blank > 0) {
      if (pasted[i] == '\n') {
        ++line;
        column = 1;
        ++breaks;
        line_is_blank = true;
      } else {
        ++column;
      }
      i += blank;
      continue;
    }
    const std::size_t from = i;
    const int from_column = column;
    do {
      // A byte that continues a UTF-8 character is no column of its own.
      if ((static_cast<unsigned char>(pasted[i]) & 0xC0u) != 0x80u) ++column;
      ++i;
    } while (i < pasted.size() && pasted[from] != '=' && pasted[i] != '=' && blank_length(pasted, i, false) == 0);
    tokens_.push_back(Token{.group = std::string_view{capitals_}.substr(from, i - from),
                            .shown = std::string_view{shown_}.substr(from, i - from),
                            .line = line,
                            .column = from_column,
                            .first_of_line = line_is_blank,
                            .after_empty_line = breaks >= 2});
    line_is_blank = false;
    breaks = 0;
  }
}

std::string Groups::as_found(std::size_t first, std::size_t end) const {
  std::string text;
  for (std::size_t i = first; i < end; ++i) {
    if (i > first) text += ' ';
    text += tokens_[i].shown;
  }
  return text;
}

std::string clipped(std::string_view text) {
  return text.size() <= kShownLength ? std::string{text} : std::string{text.substr(0, kShownLength)} + "...";
}

bool is_figures(std::string_view text) { return !text.empty() && std::all_of(text.begin(), text.end(), is_digit); }

bool is_station(std::string_view group) {
  return group.size() == 4 && is_capital(group[0]) && group != "AUTO" &&
         std::all_of(group.begin(), group.end(), [](char c) { return is_capital(c) || is_digit(c); });
}

bool is_time(std::string_view group) {
  return group.size() == 7 && group.back() == 'Z' && is_figures(group.substr(0, 6));
}

bool is_bad_time(std::string_view group) {
  if (is_time(group) || group.size() < 4) return false;
  return (is_figures(group) && group.size() == 6) ||
         (group.back() == 'Z' && std::count_if(group.begin(), group.end(), is_digit) >= 3);
}

bool is_validity(std::string_view group) {
  return (group.size() == 6 && is_figures(group)) ||
         (group.size() == 9 && is_figures(group.substr(0, 4)) && group[4] == '/' && is_figures(group.substr(5)));
}

bool is_report_name(std::string_view group) { return group == "METAR" || group == "SPECI"; }

std::optional<Instant> nearest(int day, int hour, int minute, Instant near) {
  if (hour > 24 || minute > 59 || (hour == 24 && minute > 0)) return std::nullopt;
  constexpr std::int64_t day_ms = 86'400'000;
  const Instant first = instant_of(*Date::of(1, 1, 1), 0, 0, 0.0, UtcOffset{});
  const Instant last = instant_of(*Date::of(9999, 12, 31), 0, 0, 0.0, UtcOffset{});
  if (near < first || near > last) return std::nullopt;
  std::int64_t whole_days = near.unix_milliseconds() / day_ms;
  if (near.unix_milliseconds() % day_ms < 0) --whole_days;
  const Date today = Date::from_days_since_1970(whole_days);
  std::optional<Instant> best;
  // One month either way is enough: of two months in a row, one has 31 days.
  for (int step = -1; step <= 1; ++step) {
    const int month = 12 * today.year() + today.month() - 1 + step;
    const std::optional<Date> date = Date::of(month / 12, month % 12 + 1, day);
    if (!date) continue;
    const Instant candidate = instant_of(*date, 0, minute, 0.0, UtcOffset{}) + hour * pappus::hour;
    if (!best || abs(candidate - near) < abs(*best - near)) best = candidate;
  }
  return best;
}

std::optional<Instant> nearest(std::string_view ddhhmmz, Instant near) {
  const auto two = [&](std::size_t at) { return 10 * (ddhhmmz[at] - '0') + (ddhhmmz[at + 1] - '0'); };
  if (two(2) > 23) return std::nullopt;
  return nearest(two(0), two(2), two(4), near);
}

}  // namespace pappus::text::wmo
