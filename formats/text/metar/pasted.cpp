#include "formats/text/metar/pasted.hpp"

#include <algorithm>

namespace pappus::text::wmo {

bool is_station(std::string_view group) {
  return group.size() == 4 && is_capital(group[0]) && group != "AUTO" &&
         std::all_of(group.begin(), group.end(), [](char c) { return is_capital(c) || is_digit(c); });
}

bool is_bad_time(std::string_view group) {
  if (is_day_time(group) || group.size() < 4) return false;
  return (is_figures(group) && group.size() == 6) ||
         (group.back() == 'Z' && std::count_if(group.begin(), group.end(), is_digit) >= 3);
}

bool is_validity(std::string_view group) {
  return (group.size() == 6 && is_figures(group)) ||
         (group.size() == 9 && is_figures(group.substr(0, 4)) && group[4] == '/' && is_figures(group.substr(5)));
}

bool is_report_name(std::string_view group) { return group == "METAR" || group == "SPECI"; }

std::optional<Instant> nearest(int day, int hour, int minute, Instant near) {
  if (hour != 24) return nearest_instant({.day = day, .hours = hour, .minutes = minute}, near);
  if (minute > 0) return std::nullopt;
  const std::optional<Instant> begins = nearest_instant({.day = day}, near - 24.0 * pappus::hour);
  return begins ? std::optional{*begins + 24.0 * pappus::hour} : std::nullopt;
}

std::optional<Instant> nearest(std::string_view ddhhmmz, Instant near) {
  return nearest_instant(day_time_of(ddhhmmz), near);
}

}  // namespace pappus::text::wmo
