// Reading and printing go through two tables: every unit once with its factor, and every dimension with the units it
// offers. Factors are those of core/base/quantity.hpp, so that "15gal" and 15 * us_gallon are the same bits.
#include "formats/text/quantity/quantity_text.hpp"

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <utility>

namespace pappus::text {
namespace {

enum class Scale { factor, percent, celsius, fahrenheit };

struct Unit {
  std::string_view name;
  double factor;  // to SI; degrees for angles
  Scale scale = Scale::factor;
};

// A thermochemical British thermal unit differs by 0.07 %; the trade's tables use the International Table one.
// Source: NIST SP 811 (2008), appendix B.8.
constexpr double kBtuPerHourW = 1055.05585262 / 3600.0;

constexpr std::array<Unit, 44> kUnits{{
    {"m", 1.0},
    {"ft", foot.in(metre)},
    {"km", kilometre.in(metre)},
    {"mi", statute_mile.in(metre)},
    {"NM", nautical_mile.in(metre)},
    {"in", foot.in(metre) / 12.0},
    {"cm", 0.01},
    {"kg", 1.0},
    {"lb", pound.in(kilogram)},
    {"g", 0.001},
    {"oz", pound.in(kilogram) / 16.0},
    {"gal", us_gallon.in(cubic_metre)},
    {"L", litre.in(cubic_metre)},
    {"m3", 1.0},
    {"ft3", cubic_foot.in(cubic_metre)},
    {"kt", knot.in(metre_per_second)},
    {"m/s", 1.0},
    {"mph", mile_per_hour.in(metre_per_second)},
    {"km/h", kilometre_per_hour.in(metre_per_second)},
    {"ft/min", foot_per_minute.in(metre_per_second)},
    {"hPa", hectopascal.in(pascal)},
    {"inHg", inch_of_mercury.in(pascal)},
    {"mbar", hectopascal.in(pascal)},
    {"kPa", kilopascal.in(pascal)},
    {"Pa", 1.0},
    {"bar", bar.in(pascal)},
    {"psi", pound_per_square_inch.in(pascal)},
    {"C", 1.0, Scale::celsius},
    {"F", 1.0, Scale::fahrenheit},
    {"K", 1.0},
    {"min", minute.in(second)},
    {"h", hour.in(second)},
    {"s", 1.0},
    {"MW", megawatt.in(watt)},
    {"kW", 1000.0},
    {"W", 1.0},
    {"BTU/h", kBtuPerHourW},
    {"kg/h", kilogram_per_hour.in(kilogram_per_second)},
    {"lb/h", (pound / hour).in(kilogram_per_second)},
    {"kg/s", 1.0},
    {"gal/h", (us_gallon / hour).in(cubic_metre / second)},
    {"L/h", (litre / hour).in(cubic_metre / second)},
    {"%", 0.01, Scale::percent},
    {"deg", 1.0},
}};

constexpr std::array<std::pair<std::string_view, std::string_view>, 14> kSpellings{{
    {"kts", "kt"},
    {"fpm", "ft/min"},
    {"l", "L"},
    {"mb", "mbar"},
    {"psig", "psi"},
    {"m\u00b3", "m3"},
    {"ft\u00b3", "ft3"},
    {"\u00b0C", "C"},
    {"\u00b0F", "F"},
    {"\u00baC", "C"},  // the masculine ordinal sign, which stands beside the degree sign on Spanish keyboards
    {"\u00baF", "F"},
    {"\u00b0", "deg"},
    {"\u00ba", "deg"},
    {"nmi", "NM"},
}};

struct Sort {
  Dimension dimension;
  std::string_view phrase, example;
  std::array<std::string_view, 6> units;  // in the order offered; the rest is empty
  double lowest;                          // SI
  bool lowest_itself = true;              // whether `lowest` is allowed
};
constexpr double kNone = -1.0e300;

constexpr std::array<Sort, 18> kSorts{{
    {Dimension::length, "a length", "1500ft", {"m", "ft", "km", "mi", "NM"}, kNone},
    {Dimension::altitude, "a height", "1500ft", {"m", "ft", "km"}, kNone},
    {Dimension::distance, "a distance", "10mi", {"m", "km", "mi", "NM", "ft"}, 0.0},
    {Dimension::mass, "a mass", "82kg", {"kg", "lb", "g"}, 0.0},
    {Dimension::volume, "a volume", "15gal", {"gal", "L", "m3", "ft3"}, 0.0},
    {Dimension::speed, "a speed", "7kt", {"kt", "m/s", "mph", "km/h", "ft/min"}, 0.0},
    {Dimension::air_pressure, "an air pressure", "1018hPa", {"hPa", "inHg", "mbar", "kPa", "Pa", "bar"}, 0.0, false},
    {Dimension::fuel_pressure, "a fuel pressure", "90psi", {"psi", "bar", "kPa"}, -standard_atmosphere.in(pascal)},
    {Dimension::temperature, "a temperature", "4C", {"C", "F", "K"}, 0.0},
    {Dimension::temperature_delta, "a temperature difference", "20K", {"K"}, kNone},
    {Dimension::duration, "a time span", "38min", {"min", "h", "s"}, 0.0},
    {Dimension::power, "a power", "5.4MW", {"MW", "kW", "W", "BTU/h"}, 0.0},
    {Dimension::percent, "a percentage", "35%", {"%"}, 0.0},
    {Dimension::angle, "an angle", "30deg", {"deg"}, kNone},
    {Dimension::size, "a size", "12in", {"in", "cm", "m", "ft"}, 0.0},
    {Dimension::light_mass, "a small mass", "3g", {"g", "oz", "kg", "lb"}, 0.0},
    {Dimension::fuel_flow, "a fuel flow", "30kg/h", {"kg/h", "lb/h", "kg/s"}, 0.0},
    {Dimension::liquid_flow, "a flow of liquid", "15gal/h", {"gal/h", "L/h"}, 0.0},
}};

const Sort& sort_of(Dimension dimension) {
  for (const Sort& sort : kSorts)
    if (sort.dimension == dimension) return sort;
  return kSorts.front();  // every enumerator has its row
}

std::string_view plain_spelling(std::string_view unit) {
  for (const auto& [spelled, name] : kSpellings)
    if (spelled == unit) return name;
  return unit;
}

const Unit* any_unit(std::string_view written) {
  const std::string_view name = plain_spelling(written);
  for (const Unit& unit : kUnits)
    if (unit.name == name) return &unit;
  return nullptr;
}

bool is_offered(const Sort& sort, const Unit& unit) {
  for (const std::string_view name : sort.units)
    if (name == unit.name) return true;
  return false;
}

double to_si(double number, const Unit& unit) {
  switch (unit.scale) {
    case Scale::factor: return number * unit.factor;
    case Scale::percent: return number / 100.0;  // 35 / 100 is 0.35; 35 * 0.01 is not
    case Scale::celsius: return celsius(number).from_origin().in(kelvin);
    case Scale::fahrenheit: return fahrenheit(number).from_origin().in(kelvin);
  }
  return number;
}

double from_si(double si, const Unit& unit) {
  switch (unit.scale) {
    case Scale::factor: return si / unit.factor;
    case Scale::percent: return si * 100.0;
    case Scale::celsius: return in_celsius(Temperature::at(si * kelvin));
    case Scale::fahrenheit: return in_fahrenheit(Temperature::at(si * kelvin));
  }
  return si;
}

bool is_blank(char c) { return c == ' ' || c == '\t'; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view s) {
  while (!s.empty() && is_blank(s.front())) s.remove_prefix(1);
  while (!s.empty() && is_blank(s.back())) s.remove_suffix(1);
  return s;
}

// A number at the front of a text: its digits without the point, the power of ten they are to be multiplied by, and how
// many characters it took (0 where there is none).
struct Scanned {
  std::string digits;  // with the sign
  int power = 0;
  std::size_t length = 0;
};

constexpr std::size_t kLongestNumber = 400;
constexpr int kLargestPower = 9999;

Scanned scan_number(std::string_view s) {
  Scanned out;
  std::size_t at = 0;
  if (at < s.size() && (s[at] == '+' || s[at] == '-')) {
    if (s[at] == '-') out.digits = "-";
    ++at;
  }
  bool point = false, any = false;
  for (; at < s.size() && (is_digit(s[at]) || (s[at] == '.' && !point)); ++at) {
    if (s[at] == '.') {
      point = true;
      continue;
    }
    any = true;
    out.digits += s[at];
    if (point) --out.power;
  }
  if (!any || at > kLongestNumber) return {};
  // "5e3m" has an exponent; a letter e without digits behind it belongs to a unit.
  if (at < s.size() && (s[at] == 'e' || s[at] == 'E')) {
    std::size_t e = at + 1;
    const bool minus = e < s.size() && s[e] == '-';
    if (e < s.size() && (s[e] == '+' || s[e] == '-')) ++e;
    if (e < s.size() && is_digit(s[e])) {
      int exponent = 0;
      for (; e < s.size() && is_digit(s[e]); ++e)
        if (exponent < kLargestPower) exponent = exponent * 10 + (s[e] - '0');
      out.power += minus ? -exponent : exponent;
      at = e;
    }
  }
  out.length = at;
  return out;
}

// strtod rounds correctly, but looks for the point of the locale: it is given none.
double value_of(const Scanned& number) {
  const std::string text = number.digits + "e" + std::to_string(number.power);
  return std::strtod(text.c_str(), nullptr);
}

tl::unexpected<Issue> refuse(std::string_view key, std::string_view written, const Sort& sort,
                             std::string_view unit = {}) {
  std::vector<Argument> arguments{{"got", excerpt(written)}};
  if (!unit.empty()) arguments.push_back({"unit", excerpt(unit)});
  return fail(Errc::bad_input, say(std::string(key), std::move(arguments)), excerpt(written),
              wanted_for(sort.dimension));
}

template <class Q>
Result<Q> amount(std::string_view written, Dimension dimension) {
  return parse_si(written, dimension).map([](double si) { return Q::from_si(si); });
}

// "1.25e-7" taken apart and set again without an exponent where that is short; printf's point may be of any locale.
std::string plain_decimal(const char* scientific) {
  std::string digits;
  const char* c = scientific;
  const bool negative = *c == '-';
  for (; *c != '\0' && *c != 'e'; ++c)
    if (is_digit(*c)) digits += *c;
  const int exponent = *c == 'e' ? std::atoi(c + 1) : 0;
  while (digits.size() > 1 && digits.back() == '0') digits.pop_back();
  const int count = static_cast<int>(digits.size());
  std::string out = negative ? "-" : "";
  if (exponent < -6 || exponent > 14) {
    out += digits.substr(0, 1);
    if (count > 1) out += "." + digits.substr(1);
    return out + "e" + std::to_string(exponent);
  }
  if (exponent < 0) return out + "0." + std::string(static_cast<std::size_t>(-exponent - 1), '0') + digits;
  const auto whole = static_cast<std::size_t>(exponent) + 1;
  if (count <= exponent + 1) return out + digits + std::string(whole - digits.size(), '0');
  return out + digits.substr(0, whole) + "." + digits.substr(whole);
}

}  // namespace

std::string excerpt(std::string_view found, std::size_t most) {
  std::string out(found);
  if (out.size() > most) {
    std::size_t end = most > 3 ? most - 3 : 0;
    while (end > 0 && (static_cast<unsigned char>(out[end]) & 0xC0u) == 0x80u) --end;
    out = out.substr(0, end) + "...";
  }
  for (char& c : out)
    if (static_cast<unsigned char>(c) < 0x20u || c == 0x7f) c = ' ';
  return out;
}

std::optional<double> parse_number(std::string_view written) {
  const Scanned number = scan_number(written);
  if (number.length == 0 || number.length != written.size()) return std::nullopt;
  return value_of(number);
}

Result<double> parse_si(std::string_view written, Dimension dimension) {
  const Sort& sort = sort_of(dimension);
  const std::string_view text = trimmed(written);
  const Scanned number = scan_number(text);
  if (number.length == 0) return refuse("issue.number_unreadable", written, sort);
  const std::string_view name = trimmed(text.substr(number.length));
  if (name.empty()) return refuse("issue.unit_missing", written, sort);
  // "1,500ft" and "1.2.3m": what follows is no unit but the rest of a number.
  if (is_digit(name.front()) || name.front() == ',' || name.front() == '.')
    return refuse("issue.number_unreadable", written, sort);
  const Unit* unit = any_unit(name);
  if (unit == nullptr) return refuse("issue.unit_unknown", written, sort, name);
  if (!is_offered(sort, *unit)) return refuse("issue.unit_other_kind", written, sort, name);
  double si = to_si(value_of(number), *unit);
  // -459.67 F is absolute zero, and comes out a few ulp below it.
  if (dimension == Dimension::temperature && si < 0.0 && si > -1.0e-9) si = 0.0;
  if (!std::isfinite(si) || si < sort.lowest || (si == sort.lowest && !sort.lowest_itself))
    return refuse("issue.number_out_of_range", written, sort);
  return si;
}

Result<Length> parse_length(std::string_view written) { return amount<Length>(written, Dimension::length); }
Result<Length> parse_size(std::string_view written) { return amount<Length>(written, Dimension::size); }
Result<Mass> parse_light_mass(std::string_view written) { return amount<Mass>(written, Dimension::light_mass); }
Result<Mass> parse_mass(std::string_view written) { return amount<Mass>(written, Dimension::mass); }
Result<Volume> parse_volume(std::string_view written) { return amount<Volume>(written, Dimension::volume); }
Result<Speed> parse_speed(std::string_view written) { return amount<Speed>(written, Dimension::speed); }
Result<Pressure> parse_air_pressure(std::string_view written) {
  return amount<Pressure>(written, Dimension::air_pressure);
}
Result<GaugePressure> parse_fuel_pressure(std::string_view written) {
  return amount<Pressure>(written, Dimension::fuel_pressure).map([](Pressure p) { return GaugePressure::at(p); });
}
Result<Temperature> parse_temperature(std::string_view written) {
  return amount<TemperatureDelta>(written, Dimension::temperature).map([](TemperatureDelta t) {
    return Temperature::at(t);
  });
}
Result<Duration> parse_duration(std::string_view written) { return amount<Duration>(written, Dimension::duration); }
Result<Power> parse_power(std::string_view written) { return amount<Power>(written, Dimension::power); }
Result<double> parse_percent(std::string_view written) { return parse_si(written, Dimension::percent); }
Result<Angle> parse_angle(std::string_view written) {
  return parse_si(written, Dimension::angle).map([](double d) { return Angle::from_degrees(d); });
}

Result<FuelFlow> parse_fuel_flow(std::string_view written) {
  auto by_mass = amount<MassFlow>(written, Dimension::fuel_flow);
  if (by_mass) return FuelFlow{*by_mass};
  if (const auto by_volume = amount<VolumeFlow>(written, Dimension::liquid_flow)) return FuelFlow{*by_volume};
  Issue issue = by_mass.error();
  issue.wanted += "; or " + wanted_for(Dimension::liquid_flow);
  return tl::unexpected(std::move(issue));
}

std::string print_si(double si, Dimension dimension, std::string_view unit) {
  const Unit* known = any_unit(unit);
  if (known == nullptr || !is_offered(sort_of(dimension), *known) || !std::isfinite(si)) return {};
  const double number = from_si(si, *known);
  if (!std::isfinite(number)) return {};
  const double scale = dimension == Dimension::temperature ? std::abs(si) + 273.15 : std::abs(si);
  constexpr int enough = 17;  // digits that tell any two doubles apart
  for (int digits = 1; digits <= enough; ++digits) {
    std::array<char, 40> scientific{};
    std::snprintf(scientific.data(), scientific.size(), "%.*e", digits - 1, number);
    std::string text = plain_decimal(scientific.data()) + std::string(known->name);
    const auto back = parse_si(text, dimension);
    if (back && std::abs(*back - si) <= 1.0e-12 * scale) return text;
  }
  return {};
}

std::vector<std::string_view> units_of(Dimension dimension) {
  std::vector<std::string_view> out;
  for (const std::string_view name : sort_of(dimension).units)
    if (!name.empty()) out.push_back(name);
  return out;
}

std::optional<double> unit_factor(std::string_view unit, Dimension dimension) {
  const Unit* known = any_unit(unit);
  if (known == nullptr || !is_offered(sort_of(dimension), *known)) return std::nullopt;
  if (known->scale == Scale::celsius || known->scale == Scale::fahrenheit) return std::nullopt;
  return known->factor;
}

std::string wanted_for(Dimension dimension) {
  const Sort& sort = sort_of(dimension);
  const std::vector<std::string_view> units = units_of(dimension);
  std::string out = std::string(sort.phrase) + " with a unit: ";
  for (std::size_t i = 0; i < units.size(); ++i) {
    if (i > 0) out += i + 1 == units.size() ? " or " : ", ";
    out += units[i];
  }
  return out + ", such as " + std::string(sort.example);
}

}  // namespace pappus::text
