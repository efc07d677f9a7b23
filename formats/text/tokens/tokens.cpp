#include "formats/text/tokens/tokens.hpp"

#include <algorithm>
#include <cstdint>

namespace pappus::text {
namespace {

constexpr std::size_t kShownLength = 40;

// The length of the blank that stands at `at`; 0 where none does.
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

std::string Groups::shown(std::size_t first, std::size_t end) const {
  std::string text;
  for (std::size_t i = first; i < end; ++i) {
    if (i > first) text += ' ';
    text += tokens_[i].shown;
  }
  return text;
}

Where where(const Token& token) { return Where{.file = {}, .line = token.line, .column = token.column, .key = {}}; }

std::string clipped(std::string_view text) {
  return text.size() <= kShownLength ? std::string{text} : std::string{text.substr(0, kShownLength)} + "...";
}

bool is_figures(std::string_view text) { return !text.empty() && std::all_of(text.begin(), text.end(), is_digit); }

int number_of(std::string_view figures) {
  int value = 0;
  for (const char c : figures) value = 10 * value + (c - '0');
  return value;
}

bool is_day_time(std::string_view group) {
  return group.size() == 7 && group.back() == 'Z' && is_figures(group.substr(0, 6));
}

DayTime day_time_of(std::string_view ddhhmm) {
  return {.day = number_of(ddhhmm.substr(0, 2)),
          .hours = number_of(ddhhmm.substr(2, 2)),
          .minutes = number_of(ddhhmm.substr(4, 2))};
}

std::optional<Instant> nearest_instant(DayTime t, Instant near) {
  if (t.hours > 23 || t.minutes > 59) return std::nullopt;
  constexpr std::int64_t day_ms = 86'400'000;
  const Instant first = instant_of(*Date::of(1, 1, 1), 0, 0, 0.0, UtcOffset{});
  const Instant last = instant_of(*Date::of(9999, 12, 31), 0, 0, 0.0, UtcOffset{});
  if (near < first || near > last) return std::nullopt;
  std::int64_t whole_days = near.unix_milliseconds() / day_ms;
  if (near.unix_milliseconds() % day_ms < 0) --whole_days;
  const Date today = Date::from_days_since_1970(whole_days);
  std::optional<Instant> best;
  // Two months either way: from 1 March, 31 January is nearer than 31 March.
  for (int step = -2; step <= 2; ++step) {
    const int month = 12 * today.year() + today.month() - 1 + step;
    const std::optional<Date> date = Date::of(month / 12, month % 12 + 1, t.day);
    if (!date) continue;
    const Instant candidate = instant_of(*date, t.hours, t.minutes, 0.0, UtcOffset{});
    if (!best || abs(candidate - near) < abs(*best - near)) best = candidate;
  }
  return best;
}

}  // namespace pappus::text
