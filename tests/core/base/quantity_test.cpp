#include "core/base/quantity.hpp"

#include <type_traits>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus {
namespace {

// What must not compile stands in tests/compile_fail; here is what the types and constants promise.
static_assert(std::is_same_v<decltype(metre / second), Speed>);
static_assert(std::is_same_v<decltype(metre / metre), double>);
static_assert(std::is_same_v<decltype(pascal * cubic_metre), Energy>);
static_assert(std::is_same_v<decltype(amsl(1.0 * metre) - amsl(2.0 * metre)), Length>);
static_assert(std::is_same_v<decltype(celsius(1.0) - celsius(2.0)), TemperatureDelta>);
static_assert(!std::is_convertible_v<double, Length> && !std::is_constructible_v<Length, double>);
static_assert(sizeof(Length) == sizeof(double) && std::is_trivially_copyable_v<AltitudeAmsl>);

TEST(Quantity, UnitsHaveTheirDefinedSizes) {
  // NIST SP 811 (2008) appendix B.8; the exact ones by the agreement of 1959 and the definitions of litre and gallon.
  EXPECT_DOUBLE_EQ((1.0 * foot).in(metre), 0.3048);
  EXPECT_DOUBLE_EQ((1.0 * statute_mile).in(foot), 5280.0);
  EXPECT_DOUBLE_EQ((1.0 * nautical_mile).in(metre), 1852.0);
  EXPECT_DOUBLE_EQ((1.0 * us_gallon).in(cubic_metre), 231.0 * 0.0254 * 0.0254 * 0.0254);
  EXPECT_DOUBLE_EQ((1.0 * cubic_foot).in(us_gallon), 1728.0 / 231.0);
  EXPECT_DOUBLE_EQ((1.0 * pound).in(kilogram), 0.45359237);
  EXPECT_NEAR((1.0 * pound_per_square_inch).in(pascal), 0.45359237 * 9.80665 / (0.0254 * 0.0254), 1e-9);
  EXPECT_NEAR((1.0 * inch_of_mercury).in(pascal), 3386.389, 0.0005);
  EXPECT_DOUBLE_EQ((1.0 * knot).in(metre_per_second), 1852.0 / 3600.0);
  EXPECT_DOUBLE_EQ((1.0 * mile_per_hour).in(metre_per_second), 0.44704);
  EXPECT_DOUBLE_EQ((100.0 * foot_per_minute).in(metre_per_second), 0.508);
}

TEST(Quantity, NamesTheUnitOnTheWayInAndOut) {
  const Speed climb = 500.0 * (foot / minute);
  EXPECT_DOUBLE_EQ(climb.in(foot / minute), 500.0);
  EXPECT_DOUBLE_EQ(climb.in(metre / second), 2.54);
}

TEST(Quantity, AddsAndComparesWithinOneKind) {
  Length l = 1.0 * kilometre;
  l += 500.0 * metre;
  l -= 1.0 * kilometre;
  EXPECT_EQ(l, 500.0 * metre);
  EXPECT_LT(l, 1.0 * nautical_mile);
  EXPECT_EQ(abs(-l), l);
  EXPECT_EQ(abs(l), l);
  EXPECT_EQ(Length{}, 0.0 * metre);
}

TEST(Point, HasAnOriginAndSubtractsToAnAmount) {
  EXPECT_EQ(amsl(450.0 * metre) - amsl(300.0 * metre), 150.0 * metre);
  EXPECT_EQ(above(amsl(300.0 * metre), agl(150.0 * metre)), amsl(450.0 * metre));
  EXPECT_EQ(height_over(amsl(300.0 * metre), amsl(450.0 * metre)), agl(150.0 * metre));
}

TEST(Temperature, HasThreeScalesWithOneOrigin) {
  EXPECT_DOUBLE_EQ(celsius(0.0).from_origin().in(kelvin), 273.15);
  EXPECT_DOUBLE_EQ(in_celsius(fahrenheit(212.0)), 100.0);
  EXPECT_DOUBLE_EQ(in_celsius(fahrenheit(-40.0)), -40.0);
  EXPECT_NEAR(in_fahrenheit(celsius(37.0)), 98.6, 1e-9);
  EXPECT_DOUBLE_EQ((9.0 * rankine).in(kelvin), 5.0);
}

TEST(Quantity, ComesBackThroughAnyUnit) {
  Random random = testing::seeded("Quantity.RoundTrip");
  for (int i = 0; i < 1000; ++i) {
    const double v = random.uniform(-1e5, 1e5);
    EXPECT_DOUBLE_EQ((v * foot).in(foot), v);
    EXPECT_DOUBLE_EQ((v * pound_per_square_inch).in(pound_per_square_inch), v);
    EXPECT_NEAR(in_fahrenheit(fahrenheit(v)), v, 1e-9);
  }
}

}  // namespace
}  // namespace pappus
