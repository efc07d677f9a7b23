/// Pasted weather text cut into groups, each with its place; and the day and hour that such text gives without a month.
///
/// Readers of METAR, TAF, FB and TEMP share this, so that all of them treat mail quotes, no-break spaces and control
/// characters alike and count columns in one way.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"

namespace pappus::text {

struct Token {
  std::string_view group;  // in capitals
  std::string_view shown;  // as pasted; what is no printable ASCII shows as '?'
  int line = 1, column = 1;
  bool first_of_line = false;
  bool after_empty_line = false;
};

/// The groups of a pasted text, in order.
///
/// Blanks, tabs, control characters, the no-break space and the '>' of quoted mail at the start of a line separate
/// groups; '=' is a group of its own. Lines and columns count from 1, columns in characters: a UTF-8 character is one,
/// and so is a tab.
/// Laws      work and memory grow with the length of the text; every token points into it.
class Groups {
 public:
  explicit Groups(std::string_view pasted);
  Groups(const Groups&) = delete;  // tokens look into the strings
  Groups& operator=(const Groups&) = delete;
  ~Groups() = default;

  [[nodiscard]] std::size_t size() const { return tokens_.size(); }
  /// Shape: i < size().
  [[nodiscard]] const Token& operator[](std::size_t i) const { return tokens_[i]; }
  /// The group in capitals; empty beyond the last.
  [[nodiscard]] std::string_view at(std::size_t i) const {
    return i < tokens_.size() ? tokens_[i].group : std::string_view{};
  }
  /// The groups from `first` up to but without `end`, as pasted, one blank between them.
  [[nodiscard]] std::string shown(std::size_t first, std::size_t end) const;

 private:
  void cut(std::string_view pasted);

  std::string shown_, capitals_;
  std::vector<Token> tokens_;
};

/// The place of a token, for an Issue.
[[nodiscard]] Where where(const Token& token);
/// At most 40 characters, then "...": what an issue shows of a group.
[[nodiscard]] std::string clipped(std::string_view text);

[[nodiscard]] constexpr bool is_digit(char c) { return c >= '0' && c <= '9'; }
[[nodiscard]] constexpr bool is_capital(char c) { return c >= 'A' && c <= 'Z'; }
/// Digits only, and at least one.
[[nodiscard]] bool is_figures(std::string_view text);
/// The number that `figures` spells. Domain: is_figures(figures), at most 9 of them.
[[nodiscard]] int number_of(std::string_view figures);

/// Six figures and a Z: "051658Z".
[[nodiscard]] bool is_day_time(std::string_view group);

/// A day of some month and a time of day, UTC.
struct DayTime {
  int day = 0, hours = 0, minutes = 0;
};
/// "051658" or "051658Z" taken apart, whatever the figures mean. Domain: starts with six figures.
[[nodiscard]] DayTime day_time_of(std::string_view ddhhmm);
/// The instant nearest to `near` that has this day of the month, hour and minute; the earlier of two that are equally
/// near. None where there is none (day 32, hour 24, minute 60), or with a `near` outside the years 1 to 9999.
[[nodiscard]] std::optional<Instant> nearest_instant(DayTime t, Instant near);

}  // namespace pappus::text
