#include "formats/text/temp/group.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "formats/text/tokens/tokens.hpp"

namespace pappus::text::detail {
namespace {

// Jet streams reach about 110 m/s (from memory); what is beyond this is another group.
constexpr Speed kStrongestWind = 150 * metre_per_second;

// Heights: U.S. Standard Atmosphere 1976 (from memory; held against core/air up to 250 hPa in the tests).
constexpr std::array<StandardLevel, 11> kLevels{{{"00", 1000, 111, 1, 1000},
                                                 {"92", 925, 762, 1, 1000},
                                                 {"85", 850, 1457, 1, 1000},
                                                 {"70", 700, 3012, 1, 1000},
                                                 {"50", 500, 5574, 10, 10000},
                                                 {"40", 400, 7185, 10, 10000},
                                                 {"30", 300, 9164, 10, 10000},
                                                 {"25", 250, 10363, 10, 10000},
                                                 {"20", 200, 11784, 10, 10000},
                                                 {"15", 150, 13608, 10, 10000},
                                                 {"10", 100, 16180, 10, 10000}}};

}  // namespace

bool is_temp_group(std::string_view group) {
  return group.size() == 5 && std::all_of(group.begin(), group.end(), [](char c) { return is_digit(c) || c == '/'; });
}

std::optional<std::size_t> standard_level(std::string_view group) {
  if (!is_temp_group(group)) return std::nullopt;
  for (std::size_t i = 0; i < kLevels.size(); ++i)
    if (group.substr(0, 2) == kLevels[i].mark) return i;
  return std::nullopt;
}

const StandardLevel& standard_level(std::size_t i) { return kLevels[i]; }
std::size_t standard_level_count() { return kLevels.size(); }

std::optional<Length> read_height(std::string_view group, const StandardLevel& level) {
  if (!is_temp_group(group) || !is_figures(group.substr(2))) return std::nullopt;
  const int figures = number_of(group.substr(2));
  if (level.mark == kLevels.front().mark) return (figures > 500 ? 500 - figures : figures) * metre;
  const double coded_m = figures * level.unit_m;
  return (coded_m + level.period_m * std::round((level.standard_height_m - coded_m) / level.period_m)) * metre;
}

std::optional<double> read_pressure_hpa(std::string_view group) {
  if (!is_temp_group(group) || !is_figures(group.substr(2))) return std::nullopt;
  const int figures = number_of(group.substr(2));
  return figures < 100 ? figures + 1000 : figures;
}

std::optional<TemperatureFigures> read_temp_temperature(std::string_view group) {
  constexpr int most_tenths = 50, fewest_degrees = 56;
  if (!is_temp_group(group)) return std::nullopt;
  TemperatureFigures read;
  if (is_figures(group.substr(0, 3))) {
    const int tenths = number_of(group.substr(0, 3));
    read.temperature_c = (tenths % 2 == 0 ? tenths : -tenths) / 10.0;
  }
  if (is_figures(group.substr(3))) {
    const int coded = number_of(group.substr(3));
    if (coded <= most_tenths) {
      read.depression_k = coded / 10.0;
    } else if (coded >= fewest_degrees) {
      read.depression_k = coded - most_tenths;
    } else {
      read.bad_depression = true;
    }
  }
  return read;
}

std::optional<TempWind> read_temp_wind(std::string_view group, Speed unit) {
  constexpr int five_degrees_more = 500;
  if (!is_temp_group(group)) return std::nullopt;
  if (!is_figures(group)) return TempWind{};
  const int coded = number_of(group.substr(2));
  const bool more = coded >= five_degrees_more;
  const int from_deg = 10 * number_of(group.substr(0, 2)) + (more ? 5 : 0);
  const Speed speed = (more ? coded - five_degrees_more : coded) * unit;
  if (from_deg > 360 || speed > kStrongestWind) return std::nullopt;
  if (from_deg == 0 && speed > Speed{}) return std::nullopt;  // north is 360
  if (speed == Speed{}) return TempWind{.wind = wind::Wind{}};
  return TempWind{.wind = wind::Wind::from(TrueBearing::at(from_deg * degree), speed)};
}

}  // namespace pappus::text::detail
