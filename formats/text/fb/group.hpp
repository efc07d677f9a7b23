/// What one group of an FB line says, taken alone. Only fb.cpp uses this.
///
/// Source    FAA-H-8083-11B chapter 4.
#pragma once
#include <optional>
#include <string_view>

namespace pappus::text::detail {

/// The figures of "2213", "2213+18" or "750456", whatever they mean.
struct FbFigures {
  int direction = 0, speed = 0;         // DD, ff
  std::optional<int> temperature = {};  // TT with its sign, if it has one
  bool has_sign = false;
};
std::optional<FbFigures> read_fb_figures(std::string_view group);

/// What DDff means.
struct FbWindFigures {
  int from_deg = 0, speed_kt = 0;
  bool at_least = false, light_and_variable = false;
};
/// None for a DD that is no direction, and for a direction with a speed of nothing.
std::optional<FbWindFigures> fb_wind_of(const FbFigures& figures);

}  // namespace pappus::text::detail
