#include <cmath>
#include <cstdint>
#include <cstdio>
#include <limits>

#include "core/base/angle.hpp"
#include "words/words.hpp"

namespace pappus::words {
namespace {

constexpr double kEver = std::numeric_limits<double>::infinity();

/// Below `below` (as rounded) a number has `digits` after the point; -1 rounds to tens.
struct Tier {
  double below = kEver;
  int digits = 0;
};
using Tiers = std::array<Tier, 3>;

constexpr Tiers always(int digits) { return {{{kEver, digits}, {}, {}}}; }
constexpr Tiers tenths_below(double limit) { return {{{limit, 1}, {kEver, 0}, {}}}; }

/// A reader's unit. The number shown is (si - origin) / unit + offset.
struct Style {
  std::string_view symbol;
  Tiers tiers;
  double unit = 1.0;
  double origin = 0.0;
  double offset = 0.0;
  bool spaced = true;   // a blank between number and symbol
  bool grouped = true;  // thousands parted
};

constexpr Tiers kLongWay{{{3.0, 2}, {10.0, 1}, {kEver, 0}}};   // visibilities are reported in quarters of a mile
constexpr Tiers kHeightInFeet{{{200.0, 0}, {kEver, -1}, {}}};  // near the ground every foot counts
constexpr double kBtuPerPound = 2326.0;                        // J/kg, exact by the International Table Btu
constexpr Density kPoundPerCubicFoot = pound / cubic_foot;

// What both readers see alike, and the metric rest.
Style metric_style(MeasureKind kind) {
  switch (kind) {
    case MeasureKind::number: return {"", always(2)};
    case MeasureKind::count: return {"", always(0)};
    case MeasureKind::ratio: return {.symbol = "%", .tiers = always(0), .unit = 0.01, .spaced = false};
    case MeasureKind::mass: return {"kg", tenths_below(100.0)};
    case MeasureKind::volume_gas: return {"m³", always(0)};
    case MeasureKind::volume_liquid: return {"L", always(1), litre.in(cubic_metre)};
    case MeasureKind::length: return {"m", tenths_below(100.0)};
    case MeasureKind::distance: return {"km", kLongWay, kilometre.in(metre)};
    case MeasureKind::height:
    case MeasureKind::altitude:
    case MeasureKind::pressure_altitude:
    case MeasureKind::density_altitude: return {"m", always(0)};
    case MeasureKind::speed_wind: return {"kt", always(1), knot.in(metre_per_second)};
    case MeasureKind::speed_vertical: return {"m/s", always(1)};
    case MeasureKind::pressure_air:
      return {.symbol = "hPa", .tiers = always(1), .unit = hectopascal.in(pascal), .grouped = false};
    case MeasureKind::pressure_fuel: return {"bar", always(1), bar.in(pascal)};
    case MeasureKind::temperature: return {"°C", always(1), 1.0, ice_point.from_origin().in(kelvin)};
    case MeasureKind::temperature_delta: return {"K", always(1)};
    case MeasureKind::duration: return {"s", always(0)};
    case MeasureKind::bearing_true:
    case MeasureKind::bearing_magnetic: return {.symbol = "°", .tiers = always(0), .spaced = false};
    case MeasureKind::angle: return {.symbol = "°", .tiers = always(1), .spaced = false};
    case MeasureKind::density: return {"kg/m³", {{{10.0, 3}, {kEver, 1}, {}}}};
    case MeasureKind::mass_flow: return {"kg/h", tenths_below(100.0), kilogram_per_hour.in(kilogram_per_second)};
    case MeasureKind::power: return {"MW", always(2), megawatt.in(watt)};
    case MeasureKind::specific_energy: return {"kJ/kg", always(0), 1000.0};
  }
  return {};
}

Style us_style(MeasureKind kind) {
  switch (kind) {
    case MeasureKind::mass: return {"lb", tenths_below(100.0), pound.in(kilogram)};
    case MeasureKind::volume_gas: return {"ft³", always(0), cubic_foot.in(cubic_metre)};
    case MeasureKind::volume_liquid: return {"gal", always(1), us_gallon.in(cubic_metre)};
    case MeasureKind::length: return {"ft", tenths_below(100.0), foot.in(metre)};
    case MeasureKind::distance: return {"mi", kLongWay, statute_mile.in(metre)};
    case MeasureKind::height:
    case MeasureKind::altitude:
    case MeasureKind::pressure_altitude:
    case MeasureKind::density_altitude: return {"ft", kHeightInFeet, foot.in(metre)};
    case MeasureKind::speed_vertical: return {"ft/min", always(-1), foot_per_minute.in(metre_per_second)};
    case MeasureKind::pressure_air: return {"inHg", always(2), inch_of_mercury.in(pascal)};
    case MeasureKind::pressure_fuel: return {"psi", always(0), pound_per_square_inch.in(pascal)};
    case MeasureKind::temperature:
      return {"°F", always(0), rankine.in(kelvin), ice_point.from_origin().in(kelvin), 32.0};
    case MeasureKind::temperature_delta: return {"F°", always(1), rankine.in(kelvin)};
    case MeasureKind::density:
      return {"lb/ft³", {{{1.0, 4}, {kEver, 1}, {}}}, kPoundPerCubicFoot.in(kilogram_per_cubic_metre)};
    case MeasureKind::mass_flow: return {"lb/h", tenths_below(100.0), (pound / hour).in(kilogram_per_second)};
    case MeasureKind::specific_energy: return {"Btu/lb", always(0), kBtuPerPound};
    case MeasureKind::number:
    case MeasureKind::count:
    case MeasureKind::ratio:
    case MeasureKind::speed_wind:
    case MeasureKind::duration:
    case MeasureKind::bearing_true:
    case MeasureKind::bearing_magnetic:
    case MeasureKind::angle:
    case MeasureKind::power: return metric_style(kind);
  }
  return {};
}

Style style_of(MeasureKind kind, Units units) { return units == Units::us ? us_style(kind) : metric_style(kind); }

constexpr std::string_view kNoBreakSpace = "\xC2\xA0";

std::string_view thousands_mark(Language language) {
  switch (language) {
    case Language::en: return ",";
    case Language::es: return kNoBreakSpace;
  }
  return ",";
}

// Halves go up; 1e-12 makes up for what a unit's way to SI and back takes from a half. Domain: x >= 0.
double rounded(double x) { return std::floor(x * (1.0 + 1e-12) + 0.5); }

double power_of_ten(int digits) {
  double p = 1.0;
  for (int i = 0; i < digits; ++i) p *= 10.0;
  return p;
}

// The whole number of steps (10^-digits) nearest to x. Domain: x >= 0.
double steps(double x, int digits) {
  return digits < 0 ? rounded(x / power_of_ten(-digits)) : rounded(x * power_of_ten(digits));
}

// A double of this size is a whole number, and tenths of it no longer fit a 64-bit integer.
constexpr double kHuge = 9.0e15;

std::string digits_of(double whole) {
  if (whole < kHuge) return std::to_string(static_cast<std::int64_t>(whole));
  char text[320];
  const int n = std::snprintf(text, sizeof text, "%.0f", whole);
  return {text, static_cast<std::size_t>(n)};
}

std::string parted(std::string_view digits, std::string_view mark) {
  std::string out;
  for (std::size_t i = 0; i < digits.size(); ++i) {
    if (i > 0 && (digits.size() - i) % 3 == 0) out += mark;
    out += digits[i];
  }
  return out;
}

std::string number_text(double x, const Style& style, std::string_view thousands) {
  const double size = std::abs(x);
  int digits = 0;
  double count = size;
  if (size < 1.0e12) {
    for (const Tier& tier : style.tiers) {
      digits = tier.digits;
      count = steps(size, digits);
      if (count * (digits < 0 ? power_of_ten(-digits) : 1.0 / power_of_ten(digits)) < tier.below) break;
    }
  }
  std::string whole = digits_of(count);
  std::string fraction;
  if (digits > 0) {
    const auto places = static_cast<std::size_t>(digits);
    if (whole.size() <= places) whole.insert(0, places + 1 - whole.size(), '0');
    fraction = '.' + whole.substr(whole.size() - places);
    whole.resize(whole.size() - places);
  } else if (digits < 0 && count > 0.0) {
    whole.append(static_cast<std::size_t>(-digits), '0');
  }
  if (style.grouped) whole = parted(whole, thousands);
  return (x < 0.0 && count > 0.0 ? "-" : "") + whole + fraction;
}

std::string bearing_text(double degrees) {
  const double d = wrapped(degrees * degree).in(degree);
  int whole = static_cast<int>(rounded(d));
  if (whole == 0) whole = 360;  // as winds are reported: 000 would mean calm
  char text[16];
  std::snprintf(text, sizeof text, "%03d", whole);
  return text;
}

std::string two_units(double count, double per, const char* big, const char* small, int width) {
  char text[64];
  const double whole = std::floor(count / per);
  std::snprintf(text, sizeof text, "%.0f %s %0*.0f %s", whole, big, width, count - whole * per, small);
  return text;
}

std::string duration_text(double seconds) {
  const double size = std::abs(seconds);
  const double whole_seconds = rounded(size), minutes = rounded(size / 60.0), hours = rounded(size / 3600.0);
  std::string text;
  if (whole_seconds < 120.0)
    text = digits_of(whole_seconds) + " s";
  else if (minutes < 60.0)
    text = digits_of(minutes) + " min";
  else if (minutes < 48.0 * 60.0)
    text = two_units(minutes, 60.0, "h", "min", 2);
  else if (size < 1.0e15)
    text = two_units(hours, 24.0, "d", "h", 1);
  else
    text = digits_of(std::floor(size / 86'400.0)) + " d";
  return seconds < 0.0 && whole_seconds > 0.0 ? "-" + text : text;
}

}  // namespace

Figure figure(Measure measure, const Reader& reader) {
  if (!std::isfinite(measure.si)) return {worded("word.not_known", reader), {}};
  if (measure.kind == MeasureKind::duration) return {duration_text(measure.si), {}};
  const Style style = style_of(measure.kind, reader.units);
  if (measure.kind == MeasureKind::bearing_true) return {bearing_text(measure.si), std::string(style.symbol)};
  if (measure.kind == MeasureKind::bearing_magnetic)
    return {bearing_text(measure.si), std::string(style.symbol) + " " + worded("unit.magnetic", reader)};
  const double x = (measure.si - style.origin) / style.unit + style.offset;
  if (!std::isfinite(x)) return {worded("word.not_known", reader), {}};
  return {number_text(x, style, thousands_mark(reader.language)), std::string(style.symbol)};
}

std::string worded(Measure measure, const Reader& reader) {
  const Figure f = figure(measure, reader);
  if (f.unit.empty()) return f.number;
  return f.number + (style_of(measure.kind, reader.units).spaced ? " " : "") + f.unit;
}

double counted(Measure measure, const Reader& reader) {
  const Style style = style_of(measure.kind, reader.units);
  return (measure.si - style.origin) / style.unit + style.offset;
}

Measure measured(double count, MeasureKind kind, const Reader& reader) {
  const Style style = style_of(kind, reader.units);
  return {(count - style.offset) * style.unit + style.origin, kind};
}

std::string duration(Duration d, const Reader& reader) { return worded(measure::of(d), reader); }

}  // namespace pappus::words
