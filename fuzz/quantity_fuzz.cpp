// Any bytes at all as a quantity of each dimension: no crash, a value that the dimension can mean or an issue that says
// what would be right, and what is printed is read back.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

#include "formats/text/quantity/quantity_text.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::fuzz::require;
using pappus::text::Dimension;

constexpr std::array<Dimension, 18> kDimensions{Dimension::length,       Dimension::altitude,
                                                Dimension::distance,     Dimension::mass,
                                                Dimension::volume,       Dimension::speed,
                                                Dimension::air_pressure, Dimension::fuel_pressure,
                                                Dimension::temperature,  Dimension::temperature_delta,
                                                Dimension::duration,     Dimension::power,
                                                Dimension::percent,      Dimension::angle,
                                                Dimension::size,         Dimension::light_mass,
                                                Dimension::fuel_flow,    Dimension::liquid_flow};

void check(std::string_view written, Dimension dimension) {
  const auto si = pappus::text::parse_si(written, dimension);
  if (!si) {
    require(!si.error().wanted.empty(), "an issue says what would be right");
    require(si.error().got.size() <= 80, "an issue quotes no more than fits a line");
    return;
  }
  require(std::isfinite(*si), "a value is finite");
  if (dimension == Dimension::mass || dimension == Dimension::temperature) require(*si >= 0.0, "no less than nothing");
  // Numbers near the ends of what a double holds lose digits, or all of them, in another unit.
  const double size = std::abs(*si);
  if (size > 1.0e290 || (size < 1.0e-290 && size > 0.0)) return;
  for (const std::string_view unit : pappus::text::units_of(dimension)) {
    const std::string text = pappus::text::print_si(*si, dimension, unit);
    const auto back = pappus::text::parse_si(text, dimension);
    require(back.has_value(), "what is printed can be read");
    const double scale = dimension == Dimension::temperature ? size + 273.15 : size;
    require(std::abs(*back - *si) <= 1.0e-12 * scale, "what is printed is read back");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes(data, data + size);
  for (const Dimension dimension : kDimensions) check(bytes, dimension);
  const auto number = pappus::text::parse_number(bytes);
  require(!number || !std::isnan(*number), "a number is one");
  return 0;
}
