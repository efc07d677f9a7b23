#include "core/propane/pressurant.hpp"

#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/expect_refused.hpp"
#include "tests/support/expect_row.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::propane {
namespace {

using testing::expect_refused;
using testing::expect_row;
using testing::read_table;
using testing::Row;

constexpr Charge kRowsCharge{
    .shell = 40.0 * litre, .liquid = 32.0 * litre, .at = celsius(0.0), .nitrogen = 4.0 * bar, .saturated = false};

TEST(Pressurant, MatchesTheTable) {
  for (const Row& row : read_table("nitrogen.csv")) {
    const std::string what = row.text("what");
    if (what == "henry_mpa") {
      expect_row(row, nitrogen_henry(celsius(row["at_c"]))->in(pascal) / 1e6);
    } else if (what == "left_bar") {
      Charge charge = kRowsCharge;
      charge.saturated = true;
      expect_row(row, charge_left(charge, 12.0 * litre)->high.in(bar));
    } else if (what == "settled_fraction") {
      expect_row(row, charge_left(kRowsCharge, 32.0 * litre)->low / (4.0 * bar));
    } else {
      ADD_FAILURE() << row.where() << ": no such quantity";
    }
  }
}

// Step by step: a thousandth of the liquid leaves with what it holds, then gas and liquid come into balance again.
TEST(Pressurant, IsWhatSmallStepsGive) {
  Random random = testing::seeded("Pressurant.Steps");
  for (int i = 0; i < 20; ++i) {
    const double t_c = random.uniform(-20.0, 35.0), start = random.uniform(20.0, 34.0);
    const Charge charge{.shell = 40.0 * litre,
                        .liquid = start * litre,
                        .at = celsius(t_c),
                        .nitrogen = random.uniform(1.0, 5.0) * bar,
                        .saturated = true};
    const double end = random.uniform(2.0, start);
    // c from two known states: what a settled charge keeps of a quick one.
    Charge quick = charge;
    quick.saturated = false;
    const double kept = charge_left(quick, charge.liquid)->low / charge.nitrogen;
    const double c = (40.0 - start) * (1.0 / kept - 1.0) / start;
    double p = charge.nitrogen.in(bar);
    const int steps = 20000;
    const double dv = (start - end) / steps;
    for (int k = 0; k < steps; ++k) {
      const double v = start - k * dv;
      const double amount = p * (40.0 - v + c * v) - p * c * dv;
      p = amount / (40.0 - (v - dv) + c * (v - dv));
    }
    EXPECT_NEAR(charge_left(charge, end * litre)->high.in(bar), p, 1e-3 * p);
  }
}

TEST(Pressurant, FallsAsLiquidGoes) {
  Random random = testing::seeded("Pressurant.Laws");
  for (int i = 0; i < 300; ++i) {
    Charge charge = kRowsCharge;
    charge.at = celsius(random.uniform(-30.0, 40.0));
    charge.liquid = random.uniform(5.0, 36.0) * litre;
    charge.saturated = random.below(2) == 0;
    const Volume less = random.uniform(0.0, 0.9) * charge.liquid, more = less + 0.05 * charge.liquid;
    const ChargeLeft a = charge_left(charge, more).value(), b = charge_left(charge, less).value();
    EXPECT_LT(b.low, a.low);
    EXPECT_LT(b.high, a.high);
    EXPECT_LE(a.low, a.high);
    const ChargeLeft whole = charge_left(charge, charge.liquid).value();
    EXPECT_NEAR(whole.high.in(bar), 4.0, 1e-12);
    if (charge.saturated) {
      EXPECT_NEAR(whole.low.in(bar), 4.0, 1e-12);
    }
  }
}

TEST(Pressurant, RefusesWhatCannotBe) {
  const double no_number = std::numeric_limits<double>::quiet_NaN();
  expect_refused(nitrogen_henry(celsius(41.0)), "propane.temperature_outside");
  expect_refused(charge_left(kRowsCharge, 33.0 * litre), "propane.liquid_outside");
  expect_refused(charge_left(kRowsCharge, no_number * litre), "propane.liquid_outside");
  Charge full = kRowsCharge;
  full.liquid = full.shell;
  expect_refused(charge_left(full, 1.0 * litre), "propane.liquid_outside");
}

}  // namespace
}  // namespace pappus::propane
