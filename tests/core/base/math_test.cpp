#include "core/base/math.hpp"

#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "core/base/angle.hpp"
#include "tests/support/seeded.hpp"

namespace pappus {
namespace {

using testing::seeded;

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kNan = std::numeric_limits<double>::quiet_NaN();

// The doubles in their order as integers: neighbours differ by 1, and -0 and +0 are the same.
std::int64_t place_among_doubles(double x) {
  std::int64_t bits = 0;
  std::memcpy(&bits, &x, sizeof bits);
  return bits < 0 ? std::numeric_limits<std::int64_t>::min() - bits : bits;
}

std::int64_t ulps_apart(double a, double b) {
  if (std::isnan(a) || std::isnan(b))
    return std::isnan(a) && std::isnan(b) ? 0 : std::numeric_limits<std::int64_t>::max();
  const std::int64_t d = place_among_doubles(a) - place_among_doubles(b);
  return d < 0 ? -d : d;
}

constexpr int kDraws = 20'000;
constexpr std::int64_t kUlps = 2;  // each library claims to be within 1 of the true value

template <class Ours, class Theirs>
void expect_equal_results(const char* name, double low, double high, Ours ours, Theirs theirs) {
  Random random = seeded(std::string("Math.") + name);
  for (int i = 0; i < kDraws; ++i) {
    const double x = random.uniform(low, high);
    ASSERT_LE(ulps_apart(ours(x), theirs(x)), kUlps) << name << "(" << x << ")";
  }
}

// glibc 2.36 is up to 3 ulp off in cbrt (-907298711.07130933); its extended precision, rounded, is not.
double host_cbrt(double x) { return static_cast<double>(std::cbrt(static_cast<long double>(x))); }

// Arguments of every magnitude, from 1e-300 to 1e300.
double any_magnitude(Random& random) { return std::pow(10.0, random.uniform(-300.0, 300.0)); }

TEST(Math, FunctionsOfOneNumberAgreeWithTheHostsLibrary) {
  expect_equal_results(
      "exp", -740.0, 709.0, [](double x) { return math::exp(x); }, [](double x) { return std::exp(x); });
  expect_equal_results(
      "log", 1e-3, 1e6, [](double x) { return math::log(x); }, [](double x) { return std::log(x); });
  expect_equal_results(
      "sqrt", 0.0, 1e12, [](double x) { return math::sqrt(x); }, [](double x) { return std::sqrt(x); });
  expect_equal_results(
      "cbrt", -1e9, 1e9, [](double x) { return math::cbrt(x); }, [](double x) { return host_cbrt(x); });
  expect_equal_results(
      "sin", -1e5, 1e5, [](double x) { return math::sin(x); }, [](double x) { return std::sin(x); });
  expect_equal_results(
      "cos", -1e5, 1e5, [](double x) { return math::cos(x); }, [](double x) { return std::cos(x); });
  expect_equal_results(
      "tan", -1e5, 1e5, [](double x) { return math::tan(x); }, [](double x) { return std::tan(x); });
  expect_equal_results(
      "asin", -1.0, 1.0, [](double x) { return math::asin(x); }, [](double x) { return std::asin(x); });
  expect_equal_results(
      "acos", -1.0, 1.0, [](double x) { return math::acos(x); }, [](double x) { return std::acos(x); });
  expect_equal_results(
      "atan", -1e3, 1e3, [](double x) { return math::atan(x); }, [](double x) { return std::atan(x); });
}

TEST(Math, FunctionsOfOneNumberAgreeAtEveryMagnitude) {
  Random random = seeded("Math.Magnitudes");
  for (int i = 0; i < kDraws; ++i) {
    const double x = any_magnitude(random);
    ASSERT_LE(ulps_apart(math::log(x), std::log(x)), kUlps) << x;
    ASSERT_LE(ulps_apart(math::cbrt(x), host_cbrt(x)), kUlps) << x;
    ASSERT_EQ(math::sqrt(x), std::sqrt(x)) << x;
    ASSERT_LE(ulps_apart(math::sin(x), std::sin(x)), kUlps) << x;
    ASSERT_LE(ulps_apart(math::cos(x), std::cos(x)), kUlps) << x;
    ASSERT_LE(ulps_apart(math::tan(x), std::tan(x)), kUlps) << x;
    ASSERT_LE(ulps_apart(math::atan(x), std::atan(x)), kUlps) << x;
  }
}

TEST(Math, FunctionsOfTwoNumbersAgreeWithTheHostsLibrary) {
  Random random = seeded("Math.TwoNumbers");
  for (int i = 0; i < kDraws; ++i) {
    const double x = random.uniform(-1e3, 1e3), y = random.uniform(-1e3, 1e3);
    ASSERT_LE(ulps_apart(math::atan2(y, x), std::atan2(y, x)), kUlps) << y << ", " << x;
    ASSERT_LE(ulps_apart(math::hypot(x, y), std::hypot(x, y)), kUlps) << x << ", " << y;
    ASSERT_EQ(math::fmod(x, y), std::fmod(x, y)) << x << ", " << y;
    const double base = random.uniform(0.0, 50.0), power = random.uniform(-100.0, 100.0);
    ASSERT_LE(ulps_apart(math::pow(base, power), std::pow(base, power)), kUlps) << base << ", " << power;
    const double big = any_magnitude(random), other = any_magnitude(random);
    ASSERT_LE(ulps_apart(math::hypot(big, other), std::hypot(big, other)), kUlps) << big << ", " << other;
    ASSERT_LE(ulps_apart(math::atan2(big, other), std::atan2(big, other)), kUlps) << big << ", " << other;
  }
}

TEST(Math, GivesTheExactValuesThatAreExact) {
  EXPECT_EQ(math::exp(0.0), 1.0);
  EXPECT_EQ(math::log(1.0), 0.0);
  EXPECT_EQ(math::pow(2.0, 10.0), 1024.0);
  EXPECT_EQ(math::pow(0.0, 0.0), 1.0);
  EXPECT_EQ(math::pow(-2.0, 3.0), -8.0);
  EXPECT_EQ(math::sqrt(2.25), 1.5);
  EXPECT_EQ(math::cbrt(-27.0), -3.0);
  EXPECT_EQ(math::sin(0.0), 0.0);
  EXPECT_EQ(math::cos(0.0), 1.0);
  EXPECT_EQ(math::asin(1.0), pi / 2);
  EXPECT_EQ(math::acos(-1.0), pi);
  EXPECT_EQ(math::atan2(0.0, -1.0), pi);
  EXPECT_EQ(math::atan2(-0.0, -1.0), -pi);
  EXPECT_EQ(math::atan2(0.0, 0.0), 0.0);
  EXPECT_EQ(math::hypot(3.0, 4.0), 5.0);
  EXPECT_EQ(math::fmod(-7.5, 2.0), -1.5);
  EXPECT_TRUE(std::signbit(math::sin(-0.0)));
  EXPECT_TRUE(std::signbit(math::fmod(-4.0, 2.0)));
}

TEST(Math, GoesToTheLimitsWithoutSurprise) {
  EXPECT_EQ(math::exp(710.0), kInfinity);
  EXPECT_EQ(math::exp(-kInfinity), 0.0);
  EXPECT_GT(math::exp(-740.0), 0.0);  // subnormal, not flushed
  EXPECT_EQ(math::log(0.0), -kInfinity);
  EXPECT_EQ(math::log(kInfinity), kInfinity);
  EXPECT_EQ(math::atan(kInfinity), pi / 2);
  EXPECT_EQ(math::hypot(1e200, 1e200), std::hypot(1e200, 1e200));  // the square would overflow
  EXPECT_EQ(math::hypot(-kInfinity, kNan), kInfinity);
  EXPECT_EQ(math::pow(0.0, -1.0), kInfinity);
  EXPECT_EQ(math::sqrt(std::numeric_limits<double>::denorm_min()),
            std::sqrt(std::numeric_limits<double>::denorm_min()));
}

TEST(Math, SaysNotANumberWhereThereIsNone) {
  EXPECT_TRUE(std::isnan(math::log(-1.0)));
  EXPECT_TRUE(std::isnan(math::sqrt(-1.0)));
  EXPECT_TRUE(std::isnan(math::pow(-2.0, 0.5)));
  EXPECT_TRUE(std::isnan(math::asin(1.0000001)));
  EXPECT_TRUE(std::isnan(math::acos(-1.0000001)));
  EXPECT_TRUE(std::isnan(math::sin(kInfinity)));
  EXPECT_TRUE(std::isnan(math::cos(kInfinity)));
  EXPECT_TRUE(std::isnan(math::tan(-kInfinity)));
  EXPECT_TRUE(std::isnan(math::fmod(1.0, 0.0)));
  EXPECT_TRUE(std::isnan(math::exp(kNan)));
  EXPECT_TRUE(std::isnan(math::atan2(kNan, 1.0)));
  EXPECT_TRUE(std::isnan(math::cbrt(kNan)));
}

}  // namespace
}  // namespace pappus
