/// Quantities as a pilot writes them: a number and its unit, "15gal", "29C", "1018hPa", "38min", "35%".
///
/// gal is US, mi statute, psi gauge for fuel; C and F are points on the scale. A bare number where a unit is needed is
/// refused with the units that would do. One table of units serves reading, printing and the manual.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/issue.hpp"
#include "core/base/measure.hpp"
#include "core/base/quantity.hpp"

namespace pappus::text {

/// What sort of thing a text is expected to be: decides which units will do.
enum class Dimension {
  length,
  altitude,
  distance,
  mass,
  volume,
  speed,
  air_pressure,
  fuel_pressure,
  temperature,
  temperature_delta,
  duration,
  power,
  percent,
  angle
};

/// Reads `written` as a `dimension` and gives its SI value (degrees for angles, a fraction of one for per cent, kelvin
/// from absolute zero for temperatures).
/// Accepts   one number (optional sign, digits with at most one point, optional exponent), optional blanks, one unit.
/// Errors    Errc::bad_input with `got` and `wanted` ("a length with a unit: m, ft, km, mi or NM, such as 1500ft");
///           "issue.unit_missing", "issue.unit_unknown", "issue.unit_other_kind", "issue.number_unreadable",
///           "issue.number_out_of_range" (not finite, or beyond what the dimension can mean: below absolute zero, a
///           negative mass).
Result<double> parse_si(std::string_view written, Dimension dimension);

Result<Length> parse_length(std::string_view written);
Result<Mass> parse_mass(std::string_view written);
Result<Volume> parse_volume(std::string_view written);
Result<Speed> parse_speed(std::string_view written);
Result<Pressure> parse_air_pressure(std::string_view written);
Result<GaugePressure> parse_fuel_pressure(std::string_view written);
Result<Temperature> parse_temperature(std::string_view written);
Result<Duration> parse_duration(std::string_view written);
Result<Power> parse_power(std::string_view written);
Result<double> parse_percent(std::string_view written);
Result<Angle> parse_angle(std::string_view written);

/// The shortest text in `unit` that parse_si reads back as the same value within 1e-12 relative.
/// Laws      parse_si(print_si(v, d, u), d) == v within 1e-12 relative.
std::string print_si(double si, Dimension dimension, std::string_view unit);

/// The units that will do, in the order they are offered.
std::vector<std::string_view> units_of(Dimension dimension);
/// The factor from a number in `unit` to SI; none for an unknown unit and for C and F.
std::optional<double> unit_factor(std::string_view unit, Dimension dimension);

}  // namespace pappus::text
