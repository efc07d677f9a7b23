#include "core/balloon/load_chart.hpp"

#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "core/air/humidity.hpp"
#include "core/air/isa.hpp"
#include "core/balloon/lift.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::balloon {
namespace {

using pappus::testing::expect_refused;
using pappus::testing::read_table;
using pappus::testing::Row;
using pappus::testing::seeded;

double kg(Mass m) { return m.in(kilogram); }

LoadChartInputs random_inputs(Random& random) {
  LoadChartInputs in;
  const int heights = static_cast<int>(random.uniform(1.0, 9.0)), columns = static_cast<int>(random.uniform(1.0, 9.0));
  for (int i = 0; i < heights; ++i)
    in.heights.push_back(PressureAltitude::at((-300.0 + 600.0 * i + random.uniform(0.0, 200.0)) * metre));
  for (int i = 0; i < columns; ++i) in.outside.push_back(celsius(-30.0 + 8.0 * i + random.uniform(0.0, 4.0)));
  in.volume = random.uniform(600.0, 12'000.0) * cubic_metre;
  in.inside_mean = celsius(random.uniform(60.0, 130.0));
  in.empty = random.uniform(50.0, 900.0) * kilogram;
  return in;
}

// Every published row is one cell, with nothing to carry.
TEST(LoadChart, MatchesThePublishedFigures) {
  for (const Row& row : read_table("lift.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto chart = load_chart({.heights = {PressureAltitude::at(row["pressure_altitude_m"] * metre)},
                                   .outside = {celsius(row["ambient_c"])},
                                   .volume = row["volume_m3"] * cubic_metre,
                                   .inside_mean = celsius(row["inside_c"]),
                                   .empty = Mass{}});
    ASSERT_TRUE(chart.has_value());
    EXPECT_NEAR(kg(chart->left[0][0]), row["lift_kg"], row["tolerance_kg"]);
  }
}

TEST(LoadChart, IsGrossLiftLessWhatIsEmptyInEveryCell) {
  Random random = seeded("LoadChart.GrossLift");
  for (int n = 0; n < 200; ++n) {
    const LoadChartInputs in = random_inputs(random);
    const LoadChart chart = load_chart(in).value();
    ASSERT_EQ(chart.left.size(), in.heights.size());
    for (std::size_t h = 0; h < in.heights.size(); ++h) {
      ASSERT_EQ(chart.left[h].size(), in.outside.size());
      for (std::size_t t = 0; t < in.outside.size(); ++t) {
        const Mass lift = gross_lift({{in.outside[t], air::kDryDewPoint, air::pressure_at(in.heights[h]).value()},
                                      in.inside_mean,
                                      in.volume})
                              .value();
        // The dry dew point still holds 2e-7 of vapour.
        EXPECT_NEAR(kg(chart.left[h][t] + in.empty), kg(lift), 1e-6 * kg(lift));
      }
    }
  }
}

TEST(LoadChart, FallsWithHeightAndWithTheOutsideTemperature) {
  Random random = seeded("LoadChart.Falls");
  for (int n = 0; n < 200; ++n) {
    const LoadChart chart = load_chart(random_inputs(random)).value();
    for (std::size_t h = 0; h < chart.left.size(); ++h)
      for (std::size_t t = 0; t < chart.left[h].size(); ++t) {
        if (h > 0) {
          EXPECT_LT(chart.left[h][t], chart.left[h - 1][t]);
        }
        if (t > 0) {
          EXPECT_LT(chart.left[h][t], chart.left[h][t - 1]);
        }
      }
  }
}

TEST(LoadChart, LeavesNoMoreThanTheGrossMassLimit) {
  Random random = seeded("LoadChart.Limit");
  int capped = 0, open = 0;
  for (int n = 0; n < 200; ++n) {
    LoadChartInputs in = random_inputs(random);
    const LoadChart free = load_chart(in).value();
    EXPECT_FALSE(free.most.has_value());
    in.gross_limit = in.empty + random.uniform(50.0, 3000.0) * kilogram;
    const LoadChart held = load_chart(in).value();
    ASSERT_EQ(held.most, *in.gross_limit - in.empty);
    for (std::size_t h = 0; h < held.left.size(); ++h)
      for (std::size_t t = 0; t < held.left[h].size(); ++t) {
        const bool above = free.left[h][t] > *held.most;
        ++(above ? capped : open);
        EXPECT_EQ(held.left[h][t], above ? *held.most : free.left[h][t]);
      }
  }
  EXPECT_GT(capped, 100);
  EXPECT_GT(open, 100);
}

TEST(LoadChart, RefusesWhatItCannotAnswerFor) {
  const LoadChartInputs good{.heights = {PressureAltitude::at(500.0 * metre)},
                             .outside = {celsius(10.0)},
                             .volume = 2600.0 * cubic_metre,
                             .inside_mean = celsius(100.0),
                             .empty = 300.0 * kilogram};
  ASSERT_TRUE(load_chart(good).has_value());
  const double nan = std::numeric_limits<double>::quiet_NaN();
  for (const double c : {101.0, -81.0, nan}) {
    LoadChartInputs in = good;
    in.outside.push_back(celsius(c));
    expect_refused(load_chart(in), "load_chart.outside_outside");
  }
  for (const double c : {201.0, nan}) {
    LoadChartInputs in = good;
    in.inside_mean = celsius(c);
    expect_refused(load_chart(in), "load_chart.inside_outside");
  }
  for (const double m3 : {0.5, 100'001.0, nan}) {
    LoadChartInputs in = good;
    in.volume = m3 * cubic_metre;
    expect_refused(load_chart(in), "load_chart.volume_outside");
  }
  for (const double empty : {-1.0, 20'001.0, nan}) {
    LoadChartInputs in = good;
    in.empty = empty * kilogram;
    expect_refused(load_chart(in), "load_chart.empty_outside");
  }
  LoadChartInputs high = good;
  high.heights.push_back(PressureAltitude::at(12'000.0 * metre));
  expect_refused(load_chart(high), "air.altitude_outside_standard");
}

}  // namespace
}  // namespace pappus::balloon
