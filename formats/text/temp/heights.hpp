/// Heights of the levels that report only a pressure. Only temp.cpp uses this.
///
/// It stands here and not in core/air because it works on pairs of reported levels, not on a column above a field.
#pragma once
#include <cstddef>
#include <vector>

#include "core/base/quantity.hpp"
#include "formats/text/temp/temp.hpp"

namespace pappus::text::detail {

/// The thickness of a layer between two pressures, in geopotential metres: R/g Tv ln(p0/p1) with the mean of the two
/// virtual temperatures, which is exact where the virtual temperature is linear in ln p.
/// Domain    positive pressures and temperatures.
/// Laws      two layers on top of each other are as thick as the one that they make, where Tv is linear in ln p.
/// Source    hydrostatic equation and ideal gas; R and g of the U.S. Standard Atmosphere 1976.
[[nodiscard]] Length thickness(Pressure bottom, Temperature bottom_virtual, Pressure top, Temperature top_virtual);

/// The virtual temperature of a level; its temperature where it has no dew point, or one that the vapour formula does
/// not cover. Domain: the level has a temperature.
[[nodiscard]] Temperature virtual_temperature_of(const TempLevel& level);

/// Computes the heights that are missing, as the header of temp.hpp says.
/// Shape     `levels` with strictly falling pressure.
void fill_heights(std::vector<TempLevel>& levels);

/// The levels (by index) whose reported height does not agree with the one below and the temperatures between.
[[nodiscard]] std::vector<std::size_t> disagreeing_heights(const std::vector<TempLevel>& levels);

}  // namespace pappus::text::detail
