#include "core/balloon/shape.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <gtest/gtest.h>

#include "tests/support/expect_row.hpp"
#include "tests/support/table.hpp"

namespace pappus::balloon {
namespace {

using pappus::testing::expect_row;
using pappus::testing::read_table;
using pappus::testing::Row;

constexpr double kPi = 3.14159265358979323846;

struct Drawn {
  double miss, gore, height, volume, area, widest, moment, widest_z, below_widest;
};

// A meridian from the mouth upwards, lengths in (load / specific lift)^(1/3): dtheta/ds = -2 pi cos theta0 r z, until
// it is level at the crown. `miss` is the radius there; where it meets the axis before it is level, what is missing of
// the angle, below zero.
Drawn drawn(double theta0, double step) {
  using State = std::array<double, 6>;  // theta, r, z, volume, area, moment
  const auto rate = [&](const State& y) {
    const double r = y[1], z = y[2], c = std::cos(y[0]);
    return State{
        -2.0 * kPi * std::cos(theta0) * r * z, std::sin(y[0]), c, kPi * r * r * c, 2.0 * kPi * r, kPi * r * r * c * z};
  };
  const auto moved = [](const State& y, const State& k, double h) {
    State out = y;
    for (std::size_t i = 0; i < y.size(); ++i) out[i] += h * k[i];
    return out;
  };
  State y{theta0, 0.0, 0.0, 0.0, 0.0, 0.0};
  double s = 0.0, widest = 0.0, widest_z = 0.0, below_widest = 0.0;
  const auto stepped = [&](const State& from, double h) {
    const State k1 = rate(from), k2 = rate(moved(from, k1, 0.5 * h)), k3 = rate(moved(from, k2, 0.5 * h)),
                k4 = rate(moved(from, k3, h));
    State out = from;
    for (std::size_t i = 0; i < out.size(); ++i) out[i] += h / 6.0 * (k1[i] + 2.0 * k2[i] + 2.0 * k3[i] + k4[i]);
    return out;
  };
  State before = y;
  while (y[0] > -0.5 * kPi && y[1] >= 0.0 && s < 4.0) {
    before = y;
    y = stepped(y, step);
    s += step;
    widest = std::max(widest, y[1]);
    if (before[0] > 0.0 && y[0] <= 0.0) {
      const double part = before[0] / (before[0] - y[0]);
      widest_z = before[2] + part * (y[2] - before[2]);
      below_widest = before[3] + part * (y[3] - before[3]);
    }
  }
  if (y[1] < 0.0) return {-(y[0] + 0.5 * kPi), s, y[2], y[3], y[4], widest, y[5], widest_z, below_widest};
  // The last step ends where the tape is level; the widest place is met between steps by a parabola's worth: the step
  // is small.
  double h = step;
  State end = y;
  for (int i = 0; i < 20; ++i) {
    h -= (end[0] + 0.5 * kPi) / rate(end)[0];
    end = stepped(before, h);
  }
  // At the crown the tape is level and the radius runs out one for one.
  return {end[1], s - step + h + end[1], end[2], end[3], end[4], widest, end[5], widest_z, below_widest};
}

TEST(NaturalShape, SolvesItsEquations) {
  const double step = 2e-4;
  double low = 0.7, high = 1.0;  // rad; too steep a mouth ends past the axis, too flat a one before it
  ASSERT_LT(drawn(low, step).miss * drawn(high, step).miss, 0.0);
  const double sign = drawn(low, step).miss;
  ASSERT_NE(sign, 0.0);
  for (int i = 0; i < 45; ++i) {
    const double middle = 0.5 * (low + high);
    (drawn(middle, step).miss * sign > 0.0 ? low : high) = middle;
  }
  const Drawn d = drawn(sign > 0.0 ? low : high, step);  // the side on which it ends level
  const double third = std::cbrt(d.volume);
  const auto solved = [&](const std::string& what) {
    if (what == "half_angle_deg") return 0.5 * (low + high) * 180.0 / kPi;
    if (what == "gore") return d.gore;
    if (what == "height") return d.height;
    if (what == "volume") return d.volume;
    if (what == "area") return d.area / (third * third);
    if (what == "diameter") return 2.0 * d.widest / third;
    if (what == "section") return kPi * d.widest * d.widest / (third * third);
    if (what == "height_over_diameter") return d.height / (2.0 * d.widest);
    return d.moment / d.volume / d.height;
  };
  const auto held = [](const std::string& what) {
    if (what == "half_angle_deg") return kNaturalShape.half_angle_deg;
    if (what == "gore") return kNaturalShape.gore;
    if (what == "height") return kNaturalShape.height;
    if (what == "volume") return 1.0;
    if (what == "area") return kNaturalShape.area;
    if (what == "diameter") return kNaturalShape.diameter;
    if (what == "section") return kNaturalShape.section;
    if (what == "height_over_diameter") return kNaturalShape.height / kNaturalShape.diameter;
    return kNaturalShape.centroid;
  };
  // Across the widest place the tapes carry the load and what the gas below it pushes down.
  EXPECT_NEAR(1.0 / std::cos(0.5 * (low + high)), 1.0 + d.widest_z * kPi * d.widest * d.widest - d.below_widest, 2e-6);
  for (const Row& row : read_table("shape.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    expect_row(row, solved(row.text("quantity")));
    expect_row(row, held(row.text("quantity")));
  }
}

TEST(EnvelopeSize, GrowsWithTheVolume) {
  const EnvelopeSize one = envelope_size(1000.0 * cubic_metre), eight = envelope_size(8000.0 * cubic_metre);
  EXPECT_NEAR(eight.fabric / one.fabric, 4.0, 1e-12);
  EXPECT_NEAR(eight.section / one.section, 4.0, 1e-12);
  EXPECT_NEAR(eight.diameter / one.diameter, 2.0, 1e-12);
  EXPECT_NEAR(eight.height / one.height, 2.0, 1e-12);
  EXPECT_NEAR(eight.gore / one.gore, 2.0, 1e-12);
  EXPECT_NEAR(one.diameter.in(metre), 13.04369, 1e-5);
}

}  // namespace
}  // namespace pappus::balloon
