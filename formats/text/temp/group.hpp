/// What one group of a TEMP says, taken alone. Only temp.cpp uses this.
///
/// A group has five characters, figures or '/' for what was not measured. Every reader answers none where the group is
/// not of its form.
/// Source    WMO-No. 306 volume I.1, FM 35 (from memory).
#pragma once
#include <cstddef>
#include <optional>
#include <string_view>

#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"

namespace pappus::text::detail {

[[nodiscard]] bool is_temp_group(std::string_view group);

/// A standard level: its mark, pressure, its height in the standard atmosphere, and the unit and period in which its
/// height is coded.
struct StandardLevel {
  std::string_view mark;
  double hpa, standard_height_m, unit_m, period_m;
};
/// The level whose mark the group begins with; none for another group. `i` counts from 1000 hPa.
[[nodiscard]] std::optional<std::size_t> standard_level(std::string_view group);
[[nodiscard]] const StandardLevel& standard_level(std::size_t i);
[[nodiscard]] std::size_t standard_level_count();
/// The height in a group "85hhh" of that level; none with slashes.
[[nodiscard]] std::optional<Length> read_height(std::string_view group, const StandardLevel& level);

/// "hhh" of a pressure group, the thousands added where they were dropped; none with slashes.
[[nodiscard]] std::optional<double> read_pressure_hpa(std::string_view group);

/// TTTaDD. The parts are none with slashes; `depression_k` also where DD has no meaning (51 to 55).
struct TemperatureFigures {
  std::optional<double> temperature_c = {}, depression_k = {};
  bool bad_depression = false;
};
[[nodiscard]] std::optional<TemperatureFigures> read_temp_temperature(std::string_view group);

/// ddfff. None where it is no wind; a wind without value with slashes.
struct TempWind {
  std::optional<wind::Wind> wind = {};
};
[[nodiscard]] std::optional<TempWind> read_temp_wind(std::string_view group, Speed unit);

}  // namespace pappus::text::detail
