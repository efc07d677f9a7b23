#include "formats/text/quantity/quantity_text.hpp"

#include <array>
#include <cmath>
#include <set>
#include <string>
#include <variant>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::text {
namespace {

struct NamedDimension {
  std::string_view name;
  Dimension dimension;
};
constexpr std::array<NamedDimension, 18> kDimensions{{{"length", Dimension::length},
                                                      {"altitude", Dimension::altitude},
                                                      {"distance", Dimension::distance},
                                                      {"mass", Dimension::mass},
                                                      {"volume", Dimension::volume},
                                                      {"speed", Dimension::speed},
                                                      {"air_pressure", Dimension::air_pressure},
                                                      {"fuel_pressure", Dimension::fuel_pressure},
                                                      {"temperature", Dimension::temperature},
                                                      {"temperature_delta", Dimension::temperature_delta},
                                                      {"duration", Dimension::duration},
                                                      {"power", Dimension::power},
                                                      {"percent", Dimension::percent},
                                                      {"angle", Dimension::angle},
                                                      {"size", Dimension::size},
                                                      {"light_mass", Dimension::light_mass},
                                                      {"fuel_flow", Dimension::fuel_flow},
                                                      {"liquid_flow", Dimension::liquid_flow}}};

Dimension dimension_named(std::string_view name) {
  for (const NamedDimension& known : kDimensions)
    if (known.name == name) return known.dimension;
  ADD_FAILURE() << "no dimension " << name;
  return Dimension::length;
}

// The key of the issue, or nothing where the text was read.
std::string key_of(const Result<double>& result) { return result ? std::string{} : result.error().sentence.key; }

TEST(QuantityText, ReadsEveryUnitWithItsPublishedFactor) {
  for (const testing::Row& row : testing::read_table("units.csv")) {
    SCOPED_TRACE(row.where());
    const std::string written = row.text("written");
    const auto si = parse_si(written, dimension_named(row.text("dimension")));
    ASSERT_TRUE(si) << written << ": " << si.error().sentence.key;
    EXPECT_NEAR(*si, row["si"], row["tolerance_relative"] * std::abs(row["si"])) << written;
  }
}

TEST(QuantityText, TheTableOfFactorsCoversEveryUnitOffered) {
  std::set<std::string> covered;
  for (const testing::Row& row : testing::read_table("units.csv")) {
    const std::string written = row.text("written");
    covered.insert(written.substr(written.find_first_not_of("-.0123456789")));
  }
  for (const NamedDimension& known : kDimensions)
    for (const std::string_view unit : units_of(known.dimension))
      EXPECT_EQ(covered.count(std::string(unit)), 1u) << unit << " is offered for " << known.name << " and untested";
}

TEST(QuantityText, ReadsAFlowOfFuelByMassOrByVolume) {
  EXPECT_EQ(std::get<MassFlow>(parse_fuel_flow("30kg/h").value()), 30.0 * kilogram_per_hour);
  EXPECT_EQ(std::get<VolumeFlow>(parse_fuel_flow("15gal/h").value()), 15.0 * us_gallon / hour);
  const auto refused = parse_fuel_flow("30kg");
  ASSERT_FALSE(refused);
  EXPECT_NE(refused.error().wanted.find("kg/h"), std::string::npos);
  EXPECT_NE(refused.error().wanted.find("gal/h"), std::string::npos);
  EXPECT_FALSE(parse_fuel_flow("-1gal/h"));
}

TEST(QuantityText, GivesTheSameBitsAsTheUnitsOfCore) {
  EXPECT_EQ(parse_volume("15gal").value(), 15.0 * us_gallon);
  EXPECT_EQ(parse_volume("105000ft3").value(), 105000.0 * cubic_foot);
  EXPECT_EQ(parse_length("1500ft").value(), 1500.0 * foot);
  EXPECT_EQ(parse_mass("82kg").value(), 82.0 * kilogram);
  EXPECT_EQ(parse_speed("7kt").value(), 7.0 * knot);
  EXPECT_EQ(parse_air_pressure("1018hPa").value(), 1018.0 * hectopascal);
  EXPECT_EQ(parse_fuel_pressure("90psi").value(), GaugePressure::at(90.0 * pound_per_square_inch));
  EXPECT_EQ(parse_temperature("29C").value(), celsius(29.0));
  EXPECT_EQ(parse_temperature("190F").value(), fahrenheit(190.0));
  EXPECT_EQ(parse_duration("38min").value(), 38.0 * minute);
  EXPECT_EQ(parse_power("5.4MW").value(), 5.4 * megawatt);
  EXPECT_EQ(parse_percent("35%").value(), 0.35);
  EXPECT_EQ(parse_angle("-12.5deg").value(), -12.5 * degree);
  EXPECT_EQ(parse_size("12in").value(), foot);
  EXPECT_EQ(parse_light_mass("3g").value(), 0.003 * kilogram);
}

TEST(QuantityText, ReadsTheSpellingsMetInTheWild) {
  const auto same = [](std::string_view a, std::string_view b, Dimension d) {
    EXPECT_EQ(parse_si(a, d).value(), parse_si(b, d).value()) << a;
  };
  same("7kts", "7kt", Dimension::speed);
  same("500fpm", "500ft/min", Dimension::speed);
  same("60l", "60L", Dimension::volume);
  same("1018mb", "1018hPa", Dimension::air_pressure);
  same("90psig", "90psi", Dimension::fuel_pressure);
  same("2600m³", "2600m3", Dimension::volume);
  same("77000ft³", "77000ft3", Dimension::volume);
  same("4 °C", "4C", Dimension::temperature);
  same("4ºC", "4C", Dimension::temperature);
  same("60°F", "60F", Dimension::temperature);
  same("30°", "30deg", Dimension::angle);
  same("5nmi", "5NM", Dimension::distance);
  same("1ft", "12in", Dimension::size);
  same("254cm", "100in", Dimension::size);
  same("1lb", "16oz", Dimension::light_mass);
  same("  15 \t gal ", "15gal", Dimension::volume);
  same("+15gal", "15gal", Dimension::volume);
  same("1.5e3ft", "1500ft", Dimension::length);
  same("1.5E+3ft", "1500ft", Dimension::length);
  same("15e-1m", "1.5m", Dimension::length);
  same(".5h", "30min", Dimension::duration);
  same("5.h", "300min", Dimension::duration);
  same("00015gal", "15gal", Dimension::volume);
}

struct Refused {
  std::string_view written;
  Dimension dimension;
  std::string_view key;
  std::string_view wanted_part;
};

TEST(QuantityText, RefusesWithWhatWouldBeRight) {
  const std::array<Refused, 38> table{{
      // bare numbers
      {"15", Dimension::volume, "issue.unit_missing", "gal, L, m3 or ft3, such as 15gal"},
      {"1500", Dimension::length, "issue.unit_missing", "a length with a unit: m, ft, km, mi or NM, such as 1500ft"},
      {"1e3", Dimension::mass, "issue.unit_missing", "kg, lb or g, such as 82kg"},
      {"20 ", Dimension::temperature, "issue.unit_missing", "C, F or K"},
      // another kind of thing
      {"15kg", Dimension::volume, "issue.unit_other_kind", "a volume with a unit"},
      {"15gal", Dimension::mass, "issue.unit_other_kind", "a mass with a unit"},
      {"29.92psi", Dimension::air_pressure, "issue.unit_other_kind", "hPa, inHg"},
      {"90hPa", Dimension::fuel_pressure, "issue.unit_other_kind", "psi, bar or kPa"},
      {"20C", Dimension::temperature_delta, "issue.unit_other_kind", "unit: K, such as 20K"},
      {"5NM", Dimension::altitude, "issue.unit_other_kind", "m, ft or km"},
      {"5kg", Dimension::percent, "issue.unit_other_kind", "35%"},
      // no unit at all
      {"15galons", Dimension::volume, "issue.unit_unknown", "gal"},
      {"15GAL", Dimension::volume, "issue.unit_unknown", "gal"},
      {"5.4mW", Dimension::power, "issue.unit_unknown", "MW"},
      {"15 gal 3", Dimension::volume, "issue.unit_unknown", "gal"},
      {"10 -C", Dimension::temperature, "issue.unit_unknown", "C"},
      {"10e", Dimension::length, "issue.unit_unknown", "m"},
      {"10em", Dimension::length, "issue.unit_unknown", "m"},
      {"1h30min", Dimension::duration, "issue.unit_unknown", "38min"},
      {"0x10m", Dimension::length, "issue.unit_unknown", "m"},
      // no number
      {"", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"   ", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"gal", Dimension::volume, "issue.number_unreadable", "15gal"},
      {"abc", Dimension::volume, "issue.number_unreadable", "15gal"},
      {".m", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"-m", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"--5m", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"1.2.3m", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"1,5m", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"1 500ft", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"infm", Dimension::length, "issue.number_unreadable", "1500ft"},
      {"nan kg", Dimension::mass, "issue.number_unreadable", "82kg"},
      // beyond what the thing can mean
      {"-1kg", Dimension::mass, "issue.number_out_of_range", "82kg"},
      {"-274C", Dimension::temperature, "issue.number_out_of_range", "4C"},
      {"-460F", Dimension::temperature, "issue.number_out_of_range", "4C"},
      {"1e400m", Dimension::length, "issue.number_out_of_range", "1500ft"},
      {"0hPa", Dimension::air_pressure, "issue.number_out_of_range", "1018hPa"},
      {"-15psi", Dimension::fuel_pressure, "issue.number_out_of_range", "90psi"},
  }};
  for (const Refused& row : table) {
    SCOPED_TRACE(std::string(row.written));
    const auto result = parse_si(row.written, row.dimension);
    ASSERT_FALSE(result);
    EXPECT_EQ(result.error().code, Errc::bad_input);
    EXPECT_EQ(result.error().sentence.key, row.key);
    EXPECT_EQ(result.error().got, row.written.substr(0, result.error().got.size()));
    EXPECT_NE(result.error().wanted.find(row.wanted_part), std::string::npos) << result.error().wanted;
  }
}

TEST(QuantityText, NegativeAmountsAreRefusedWhereTheyMeanNothing) {
  for (const Dimension d : {Dimension::distance, Dimension::mass, Dimension::volume, Dimension::speed,
                            Dimension::duration, Dimension::power, Dimension::percent}) {
    const std::string text = "-1" + std::string(units_of(d).front());
    EXPECT_EQ(key_of(parse_si(text, d)), "issue.number_out_of_range") << text;
  }
  EXPECT_EQ(parse_si("-10m", Dimension::length).value(), -10.0);
  EXPECT_EQ(parse_si("-0kg", Dimension::mass).value(), 0.0);
}

TEST(QuantityText, AbsoluteZeroIsReadInEveryScale) {
  EXPECT_EQ(parse_si("-273.15C", Dimension::temperature).value(), 0.0);
  EXPECT_NEAR(parse_si("-459.67F", Dimension::temperature).value(), 0.0, 1e-12);
  EXPECT_GE(parse_si("-459.67F", Dimension::temperature).value(), 0.0);
  EXPECT_EQ(parse_si("0K", Dimension::temperature).value(), 0.0);
}

TEST(QuantityText, NumbersAreCorrectlyRoundedAndBounded) {
  EXPECT_EQ(parse_number("0.1"), 0.1);
  EXPECT_EQ(parse_number("9007199254740993"), 9007199254740992.0);  // a tie: to even
  EXPECT_EQ(parse_number("2.2250738585072014e-308"), 2.2250738585072014e-308);
  EXPECT_EQ(parse_number("1e-99999"), 0.0);
  EXPECT_TRUE(std::isinf(parse_number("1e99999").value()));
  EXPECT_TRUE(parse_number(std::string(400, '1')).has_value());
  EXPECT_FALSE(parse_number(std::string(401, '1')).has_value());
  for (const char* text : {"", " 1", "1 ", "1m", "0x1", "1e", "e1", "inf", "nan", "1_000"})
    EXPECT_FALSE(parse_number(text).has_value()) << text;
}

TEST(QuantityText, PrintsTheShortestTextThatSaysTheSame) {
  EXPECT_EQ(print_si((15.0 * us_gallon).in(cubic_metre), Dimension::volume, "gal"), "15gal");
  EXPECT_EQ(print_si((18.75 * us_gallon).in(cubic_metre), Dimension::volume, "gal"), "18.75gal");
  EXPECT_EQ(print_si((105000.0 * cubic_foot).in(cubic_metre), Dimension::volume, "ft3"), "105000ft3");
  EXPECT_EQ(print_si(0.35, Dimension::percent, "%"), "35%");
  EXPECT_EQ(print_si(277.15, Dimension::temperature, "C"), "4C");
  EXPECT_EQ(print_si(fahrenheit(-12.5).from_origin().in(kelvin), Dimension::temperature, "F"), "-12.5F");
  EXPECT_EQ(print_si(0.0, Dimension::mass, "kg"), "0kg");
  EXPECT_EQ(print_si(0.001, Dimension::length, "m"), "0.001m");
  EXPECT_EQ(print_si(1.25e-9, Dimension::length, "m"), "1.25e-9m");
  EXPECT_EQ(print_si(-3e20, Dimension::length, "m"), "-3e20m");
  EXPECT_EQ(print_si(7.0, Dimension::speed, "kts").substr(13), print_si(7.0, Dimension::speed, "kt").substr(13));
}

TEST(QuantityText, PrintsNothingWhereThereIsNothingToSay) {
  EXPECT_EQ(print_si(1.0, Dimension::mass, "gal"), "");
  EXPECT_EQ(print_si(1.0, Dimension::mass, "stone"), "");
  EXPECT_EQ(print_si(std::nan(""), Dimension::mass, "kg"), "");
  EXPECT_EQ(print_si(INFINITY, Dimension::length, "m"), "");
  EXPECT_EQ(print_si(-1.0, Dimension::mass, "kg"), "");
}

// Law: parse_si(print_si(v, d, u), d) == v within 1e-12 relative.
TEST(QuantityText, WhatIsPrintedIsReadBack) {
  Random random = testing::seeded("QuantityText.PrintedIsReadBack");
  for (const NamedDimension& known : kDimensions) {
    for (const std::string_view unit : units_of(known.dimension)) {
      for (int i = 0; i < 200; ++i) {
        const double number = std::pow(10.0, random.uniform(-9.0, 9.0));
        const bool may_be_negative = known.dimension == Dimension::length || known.dimension == Dimension::altitude ||
                                     known.dimension == Dimension::angle;
        const double v = may_be_negative && random.uniform() < 0.5 ? -number : number;
        const std::string text = print_si(v, known.dimension, unit);
        const auto back = parse_si(text, known.dimension);
        ASSERT_TRUE(back) << text;
        const double scale = known.dimension == Dimension::temperature ? std::abs(v) + 273.15 : std::abs(v);
        ASSERT_NEAR(*back, v, 1e-12 * scale) << text;
      }
    }
  }
}

// Law: a text that a person would write is printed as it was written.
TEST(QuantityText, WhatIsWrittenIsPrintedBack) {
  Random random = testing::seeded("QuantityText.WrittenIsPrintedBack");
  for (const NamedDimension& known : kDimensions)
    for (const std::string_view unit : units_of(known.dimension))
      for (int i = 0; i < 50; ++i) {
        std::string text = std::to_string(1 + random.below(9999));
        if (random.below(2) == 0) text += "." + std::to_string(1 + random.below(9));
        text += unit;
        const auto si = parse_si(text, known.dimension);
        ASSERT_TRUE(si) << text;
        ASSERT_EQ(print_si(*si, known.dimension, unit), text);
      }
}

TEST(QuantityText, FactorsAreGivenWhereThereIsOne) {
  EXPECT_EQ(unit_factor("ft", Dimension::length), 0.3048);
  EXPECT_EQ(unit_factor("kts", Dimension::speed), knot.in(metre_per_second));
  EXPECT_EQ(unit_factor("%", Dimension::percent), 0.01);
  EXPECT_EQ(unit_factor("K", Dimension::temperature), 1.0);
  EXPECT_FALSE(unit_factor("C", Dimension::temperature).has_value());
  EXPECT_FALSE(unit_factor("F", Dimension::temperature).has_value());
  EXPECT_FALSE(unit_factor("gal", Dimension::mass).has_value());
  EXPECT_FALSE(unit_factor("furlong", Dimension::length).has_value());
}

TEST(QuantityText, AnExcerptIsOneShortLineOfWholeCharacters) {
  EXPECT_EQ(excerpt("15gal"), "15gal");
  EXPECT_EQ(excerpt("a\nb\tc\x7f"), "a b c ");
  EXPECT_EQ(excerpt(std::string(80, 'x')), std::string(80, 'x'));
  EXPECT_EQ(excerpt(std::string(81, 'x')), std::string(77, 'x') + "...");
  std::string degrees;
  for (int i = 0; i < 60; ++i) degrees += "°";
  std::string expected;
  for (int i = 0; i < 38; ++i) expected += "°";
  EXPECT_EQ(excerpt(degrees), expected + "...");  // 77 bytes would end inside a sign
}

}  // namespace
}  // namespace pappus::text
