/// Quantities as a pilot writes them: a number and its unit, "15gal", "29C", "1018hPa", "38min", "35%".
///
/// gal is US, mi statute, psi gauge for fuel; C and F are points on the scale. A bare number where a unit is needed is
/// refused with the units that would do. One table of units serves reading, printing and the manual.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/issue.hpp"
#include "core/base/measure.hpp"
#include "core/base/quantity.hpp"

namespace pappus::text {

/// What sort of thing a text is expected to be: decides which units will do and which sign it may have.
enum class Dimension {
  length,             // may be negative: a height below something
  altitude,           // may be negative; m, ft or km
  distance,           // across country: not negative
  mass,               // not negative
  volume,             // not negative
  speed,              // a magnitude: not negative
  air_pressure,       // absolute: above zero
  fuel_pressure,      // gauge: not below an absolute vacuum
  temperature,        // a point: not below absolute zero
  temperature_delta,  // a difference, in K only, as 5C reads like a point
  duration,           // not negative
  power,              // not negative
  percent,            // not negative; may exceed 100 %
  angle,              // may be negative
  size,               // of what is held in a hand, a pilot balloon: not negative
  light_mass,         // likewise
  fuel_flow,          // of mass: not negative
  liquid_flow         // of volume: not negative
};

/// Reads `written` as a `dimension` and gives its SI value (degrees for angles, a fraction of one for per cent, kelvin
/// from absolute zero for temperatures).
/// Accepts   one number (optional sign, digits with at most one point, optional exponent), optional blanks, one unit;
///           blanks around. Units are case-sensitive (MW is not mW). Spellings met in the wild are read too: kts, fpm,
///           l, mb, psig, m³, ft³, and C, F, deg with a degree sign.
/// Accuracy  the number is correctly rounded; the product with the factor is within 1 ulp.
/// Errors    Errc::bad_input with `got` and `wanted` ("a length with a unit: m, ft, km, mi or NM, such as 1500ft");
///           "issue.unit_missing", "issue.unit_unknown", "issue.unit_other_kind", "issue.number_unreadable",
///           "issue.number_out_of_range" (not finite, or beyond what the dimension can mean: below absolute zero, a
///           negative mass). Each has the argument `got`, those of units also `unit`.
/// Laws      needs no locale: the answer is the same whatever the program around it has set.
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
Result<Length> parse_size(std::string_view written);
Result<Mass> parse_light_mass(std::string_view written);

/// What flows out of a cylinder, by mass or by volume of liquid: "30kg/h", "15gal/h".
using VolumeFlow = Quantity<3, 0, -1, 0>;
using FuelFlow = std::variant<MassFlow, VolumeFlow>;
/// Errors    as parse_si; `wanted` has the units of both.
Result<FuelFlow> parse_fuel_flow(std::string_view written);

/// The shortest text in `unit` that parse_si reads back as the same value within 1e-12 relative.
/// Domain    a finite value that the dimension can mean, and one of units_of(dimension) or a spelling of it; for
///           anything else the text is empty.
/// Laws      parse_si(print_si(v, d, u), d) == v within 1e-12 relative (a temperature: or within 1e-12 of 273 K).
std::string print_si(double si, Dimension dimension, std::string_view unit);

/// The units that will do, in the order they are offered.
std::vector<std::string_view> units_of(Dimension dimension);
/// The factor from a number in `unit` to SI; none for an unknown unit and for C and F.
std::optional<double> unit_factor(std::string_view unit, Dimension dimension);
/// What would be right, as `wanted` says it: "a volume with a unit: gal, L, m3 or ft3, such as 15gal".
std::string wanted_for(Dimension dimension);

/// What was found, fit for an Issue: one line without control characters, at most `most` bytes, never cut inside a
/// UTF-8 character, "..." where it was cut.
std::string excerpt(std::string_view found, std::size_t most = 80);

/// Reads a bare decimal number and nothing else; correctly rounded. None for anything else; infinite when too large.
/// Accepts   an optional sign, digits with at most one point, an optional exponent; at most 400 characters.
std::optional<double> parse_number(std::string_view written);

}  // namespace pappus::text
