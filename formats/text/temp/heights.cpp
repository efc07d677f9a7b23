// Notation: p pressure, Tv virtual temperature, D thickness above the lowest level with a temperature.
#include "formats/text/temp/heights.hpp"

#include <optional>

#include "core/air/humidity.hpp"
#include "core/air/isa.hpp"
#include "core/base/math.hpp"

namespace pappus::text::detail {
namespace {

// Ours. A straight line between standard levels may miss an inversion: 5 K of the mean are 2 %.
constexpr double kThicknessAgrees = 0.04;
constexpr Length kHeightRounding = 20.0 * metre;

using Heights = std::vector<std::optional<Length>>;

// D of every level from the lowest to the highest that has a temperature.
Heights thickness_above_lowest(const std::vector<TempLevel>& levels) {
  Heights d(levels.size());
  std::optional<std::size_t> below;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (!levels[i].temperature) continue;
    if (!below) {
      d[i] = Length{};
    } else {
      const TempLevel& low = levels[*below];
      const Temperature low_virtual = virtual_temperature_of(low), high_virtual = virtual_temperature_of(levels[i]);
      const double whole = math::log(low.pressure / levels[i].pressure);
      for (std::size_t k = *below + 1; k <= i; ++k) {
        const double part = math::log(low.pressure / levels[k].pressure) / whole;
        const Temperature here = low_virtual + part * (high_virtual - low_virtual);
        d[k] = *d[*below] + thickness(low.pressure, low_virtual, levels[k].pressure, here);
      }
    }
    below = i;
  }
  return d;
}

bool is_reported(const TempLevel& level) { return level.height && !level.height_computed; }

}  // namespace

Length thickness(Pressure bottom, Temperature bottom_virtual, Pressure top, Temperature top_virtual) {
  const double mean_k = 0.5 * (bottom_virtual.from_origin() + top_virtual.from_origin()).in(kelvin);
  return (air::kDryAirConstant / air::kStandardGravity * mean_k * math::log(bottom / top)) * metre;
}

Temperature virtual_temperature_of(const TempLevel& level) {
  if (!level.dew_point) return *level.temperature;
  return air::virtual_temperature(
             {.temperature = *level.temperature, .dew_point = *level.dew_point, .pressure = level.pressure})
      .value_or(*level.temperature);
}

void fill_heights(std::vector<TempLevel>& levels) {
  const Heights d = thickness_above_lowest(levels);
  std::vector<std::size_t> known;
  for (std::size_t i = 0; i < levels.size(); ++i)
    if (is_reported(levels[i]) && d[i]) known.push_back(i);
  if (known.empty()) return;
  std::size_t above = 0;  // index in `known` of the first known level above i
  for (std::size_t i = 0; i < levels.size(); ++i) {
    while (above < known.size() && known[above] < i) ++above;
    if (levels[i].height || !d[i]) continue;
    const auto height = [&](std::size_t k) { return levels[known[k]].height->from_origin(); };
    const auto depth = [&](std::size_t k) { return *d[known[k]]; };
    Length h;
    if (above == 0) {
      h = height(0) - (depth(0) - *d[i]);
    } else if (above == known.size()) {
      h = height(above - 1) + (*d[i] - depth(above - 1));
    } else {
      const double part = (*d[i] - depth(above - 1)) / (depth(above) - depth(above - 1));
      h = height(above - 1) + part * (height(above) - height(above - 1));
    }
    levels[i].height = GeopotentialAltitude::at(h);
    levels[i].height_computed = true;
  }
}

std::vector<std::size_t> disagreeing_heights(const std::vector<TempLevel>& levels) {
  const Heights d = thickness_above_lowest(levels);
  std::vector<std::size_t> wrong;
  std::optional<std::size_t> below;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (!is_reported(levels[i]) || !d[i]) continue;
    if (below) {
      const Length reported = *levels[i].height - *levels[*below].height, computed = *d[i] - *d[*below];
      if (abs(reported - computed) > kThicknessAgrees * computed + kHeightRounding) wrong.push_back(i);
    }
    below = i;
  }
  return wrong;
}

}  // namespace pappus::text::detail
