/// Takes one group of an aviation code apart, from left to right. For the readers of groups only.
#pragma once
#include <cstddef>
#include <optional>
#include <string_view>

#include "formats/text/tokens/tokens.hpp"

namespace pappus::text::wmo {

/// One word of a table.
struct Word {
  std::string_view code;
};

class Reader {
 public:
  explicit Reader(std::string_view group) : rest_{group} {}
  [[nodiscard]] bool done() const { return rest_.empty(); }
  [[nodiscard]] std::size_t digits_ahead() const {
    std::size_t n = 0;
    while (n < rest_.size() && is_digit(rest_[n])) ++n;
    return n;
  }
  bool take(std::string_view word) {
    if (rest_.substr(0, word.size()) != word) return false;
    rest_.remove_prefix(word.size());
    return true;
  }
  /// Exactly `count` digits, and what follows them is not a digit unless `more` allows it.
  std::optional<int> digits(std::size_t count, bool more = false) {
    const std::size_t ahead = digits_ahead();
    if (ahead < count || (ahead > count && !more)) return std::nullopt;
    int value = 0;
    for (std::size_t i = 0; i < count; ++i) value = 10 * value + (rest_[i] - '0');
    rest_.remove_prefix(count);
    return value;
  }
  /// As many digits as there are, at least `low` and at most `high` of them.
  std::optional<int> number(std::size_t low, std::size_t high) {
    const std::size_t ahead = digits_ahead();
    return ahead < low || ahead > high ? std::nullopt : digits(ahead);
  }
  /// The first word of a table that stands here; the longer ones must come first in the table.
  template <class Table>
  auto take_any(const Table& table) -> const typename Table::value_type* {
    for (const auto& entry : table)
      if (take(entry.code)) return &entry;
    return nullptr;
  }
  [[nodiscard]] bool only(std::string_view allowed) const {
    return rest_.find_first_not_of(allowed) == std::string_view::npos;
  }
  [[nodiscard]] std::size_t left() const { return rest_.size(); }

 private:
  std::string_view rest_;
};

}  // namespace pappus::text::wmo
