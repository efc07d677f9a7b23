/// What pasted reports and forecasts have in common: the text cut into groups, the words of a heading, the month that a
/// day belongs to. For the decoders of aviation codes only.
///
/// Source    WMO-No. 306, Manual on Codes, volume I.1, FM 15 and FM 51.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"

namespace pappus::text::wmo {

/// So many unknown groups in a row are prose that follows a report without '='.
inline constexpr int kProse = 8;

struct Token {
  std::string_view group;  // in capitals
  std::string_view shown;  // as pasted
  int line = 1, column = 1;
  bool first_of_line = false;
  bool after_empty_line = false;
};

/// The pasted text cut into groups. '=' is a group of its own; what is no printable ASCII shows as '?'.
class Groups {
 public:
  explicit Groups(std::string_view pasted);
  Groups(const Groups&) = delete;  // tokens look into the strings
  Groups& operator=(const Groups&) = delete;
  ~Groups() = default;

  [[nodiscard]] std::size_t size() const { return tokens_.size(); }
  [[nodiscard]] const Token& operator[](std::size_t i) const { return tokens_[i]; }
  /// Empty beyond the last.
  [[nodiscard]] std::string_view at(std::size_t i) const {
    return i < tokens_.size() ? tokens_[i].group : std::string_view{};
  }
  /// The groups from `first` to before `end` as pasted, one blank between them.
  [[nodiscard]] std::string as_found(std::size_t first, std::size_t end) const;

 private:
  void cut(std::string_view pasted);

  std::string shown_, capitals_;
  std::vector<Token> tokens_;
};

/// At most 40 characters of it, then dots: what an issue shows.
std::string clipped(std::string_view text);

/// Digits alone, at least one.
bool is_figures(std::string_view text);
/// Four capitals or digits, a capital first. Stations that are spelt like weather exist; AUTO is none: it may stand
/// before a time gone astray.
bool is_station(std::string_view group);
/// "051658Z".
bool is_time(std::string_view group);
/// Meant as a time after the name and the station, though not one: "051658", "0516Z", "O51658Z".
bool is_bad_time(std::string_view group);
/// What follows the time in a forecast: "0518/0624", or "051818" in older ones.
bool is_validity(std::string_view group);
/// The name of a surface report: METAR or SPECI.
bool is_report_name(std::string_view group);

/// The instant nearest to `near` that has this day of the month, hour (24 ends the day) and minute. None where there is
/// none, or where `near` lies outside the years 1 to 9999.
std::optional<Instant> nearest(int day, int hour, int minute, Instant near);
/// As above for "051658Z"; hour 24 is refused.
std::optional<Instant> nearest(std::string_view ddhhmmz, Instant near);

}  // namespace pappus::text::wmo
