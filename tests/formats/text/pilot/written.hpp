/// Random values as people write them, and what two files must agree in.
#pragma once
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/instant.hpp"
#include "core/base/random.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::testing {

/// A text with everything in it that TOML gives a meaning to, never blank.
inline std::string any_words(Random& random, bool with_lines = false) {
  static constexpr std::array<std::string_view, 20> bits{
      "a",  "Lantern", " ", "\"",   "\\",     "'",      "#",      "=",          "[x]", "\"\"\"",
      "\t", "\x7f",    ",", "\x01", "\u00e9", "\u2014", "\u4e16", "\U0001F388", "\\n", "0"};
  std::string out = "w";
  const std::size_t count = random.below(8);
  for (std::size_t i = 0; i < count; ++i) {
    out += bits[random.below(bits.size())];
    if (with_lines && random.below(3) == 0) out += random.below(4) == 0 ? "\r\n" : "\n";
  }
  return out;
}

/// The SI value of a number of at most four digits in one of `units`, between two bounds as they would be written.
inline double typed_si(Random& random, text::Dimension dimension, const std::vector<std::string_view>& units,
                       std::string_view low, std::string_view high) {
  const double lowest = text::parse_si(low, dimension).value(), highest = text::parse_si(high, dimension).value();
  while (true) {
    const std::string_view unit = units[random.below(units.size())];
    const std::string number = std::to_string(random.below(10000));
    const std::size_t places = random.below(3);
    std::string text = number;
    if (places > 0) {
      text.insert(0, places + 1 > text.size() ? places + 1 - text.size() : 0, '0');
      text.insert(text.size() - places, ".");
    }
    const auto si = text::parse_si(text + std::string(unit), dimension);
    if (si && *si >= lowest && *si <= highest) return *si;
    // Bounds far from what four digits reach in this unit.
    if (random.below(50) == 0) return lowest + (highest - lowest) * 0.25;
  }
}

inline Date any_date(Random& random, Date latest) { return latest.plus_days(-static_cast<int>(random.below(3000))); }

/// Within 1e-12 of its size.
inline void expect_same(double a, double b, const char* what) {
  EXPECT_NEAR(a, b, 1.0e-12 * std::max(std::abs(a), std::abs(b))) << what;
}
template <class Q>
void expect_same(Q a, Q b, const char* what) {
  expect_same(a.in(Q::from_si(1.0)), b.in(Q::from_si(1.0)), what);
}
template <class Q, class Origin>
void expect_same(Point<Q, Origin> a, Point<Q, Origin> b, const char* what) {
  expect_same(a.from_origin(), b.from_origin(), what);
}
template <class T>
void expect_same(const std::optional<T>& a, const std::optional<T>& b, const char* what) {
  ASSERT_EQ(a.has_value(), b.has_value()) << what;
  if (a) expect_same(*a, *b, what);
}

}  // namespace pappus::testing
