/// What the tables of dates have in common.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/random.hpp"
#include "core/book/due.hpp"
#include "tests/support/table.hpp"

namespace pappus::testing {

inline Date day(std::string_view text) {
  const std::optional<Date> date = parse_date(text);
  if (!date) throw std::runtime_error("not a date: " + std::string(text));
  return *date;
}

inline std::optional<Date> day_of(const Row& row, std::string_view column) {
  return row.has(column) ? std::optional<Date>{day(row.text(column))} : std::nullopt;
}

inline std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    words.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return words;
}

inline std::vector<Date> days_of(const std::string& text) {
  std::vector<Date> days;
  for (const std::string& word : words_of(text)) days.push_back(day(word));
  return days;
}

/// Any day of the years 2000 to 2099.
inline Date any_day(Random& random) {
  return Date::from_days_since_1970(10957 + static_cast<std::int64_t>(random.below(36525)));
}

/// The state and the last good day of a row; and what every answer owes its reader.
inline void expect_due(const Row& row, const book::Due& due) {
  EXPECT_EQ(name_of(due.state), row.text("state"));
  EXPECT_EQ(due.until, day_of(row, "until"));
  EXPECT_EQ(due.what, row.text("what"));
  EXPECT_FALSE(due.paragraph.empty());
  EXPECT_FALSE(due.finding.key.empty());
  EXPECT_EQ(due.remedy.has_value(), due.state != book::DueState::current);
}

/// How good a state is; not known is no better than passed.
inline int goodness(book::DueState state) {
  return state == book::DueState::current ? 2 : state == book::DueState::soon ? 1 : 0;
}

}  // namespace pappus::testing
