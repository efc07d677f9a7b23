#include "core/propane/fill.hpp"

#include <limits>
#include <string>

#include <gtest/gtest.h>

#include "core/propane/saturation.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/expect_row.hpp"
#include "tests/support/propane_eos.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::propane {
namespace {

namespace eos = testing::propane_eos;
using testing::expect_refused;
using testing::expect_row;
using testing::read_table;
using testing::Row;

const Volume kShell = 18.75 * us_gallon;

TEST(Fill, MatchesTheTable) {
  int rows = 0;
  for (const Row& row : read_table("fill.csv")) {
    const std::string what = row.text("what");
    ++rows;
    if (what == "bar_per_k") {
      expect_row(row, liquid_full_pascal_per_kelvin(celsius(row["filled_c"])).value() / 1e5);
      continue;
    }
    if (what == "most_at_40f_gal") {
      expect_row(row, most_liquid_at_40f(100.0 * us_gallon, 0.510, kMostFillingDensity, 1.031).in(us_gallon));
      continue;
    }
    const Mass total = mass_inside(kShell, row["liquid_fraction"] * kShell, celsius(row["filled_c"])).value();
    if (what == "fraction")
      expect_row(row, inside_at(kShell, total, celsius(row["at_c"]))->liquid_fraction);
    else if (what == "full_c")
      expect_row(row, in_celsius(liquid_full_temperature(kShell, total).value()));
    else
      ADD_FAILURE() << row.where() << ": no such quantity";
  }
  EXPECT_GE(rows, 17);
}

TEST(Fill, KeepsItsMassBetweenTemperatures) {
  Random random = testing::seeded("Fill.Mass");
  for (int i = 0; i < 500; ++i) {
    const Volume liquid = random.uniform(0.34, 0.8) * kShell;
    const Temperature filled = celsius(random.uniform(-30.0, 40.0)), later = celsius(random.uniform(-30.0, 50.0));
    const Mass total = mass_inside(kShell, liquid, filled).value();
    EXPECT_NEAR(inside_at(kShell, total, filled)->liquid.in(litre), liquid.in(litre), 1e-9);
    const Inside then = inside_at(kShell, total, later).value();
    EXPECT_NEAR((then.liquid_mass + then.vapour_mass).in(kilogram), total.in(kilogram), 1e-9);
    EXPECT_EQ(then.liquid > liquid, later > filled) << in_celsius(filled) << " to " << in_celsius(later);
  }
}

TEST(Fill, IsFullOfLiquidWhereItIsSaidToBe) {
  Random random = testing::seeded("Fill.Full");
  for (int i = 0; i < 200; ++i) {
    const Mass total =
        mass_inside(kShell, random.uniform(0.83, 0.95) * kShell, celsius(random.uniform(-10.0, 20.0))).value();
    const Temperature full = liquid_full_temperature(kShell, total).value();
    if (full <= kWarmestSaturation) {
      EXPECT_GT(inside_at(kShell, total, full - 0.01 * kelvin)->liquid_fraction, 0.999);
      expect_refused(inside_at(kShell, total, full + 0.01 * kelvin), "propane.liquid_full");
    }
  }
}

// A rigid shell full of liquid keeps its density: pressure rises as the equation of state says at that density.
TEST(Fill, PressureBeyondFullIsThatOfTheEquation) {
  for (double t_c = -10.0; t_c <= 50.0; t_c += 2.5) {
    const double t_k = t_c + 273.15, rho = eos::saturation_at(t_k).liquid_mol_m3;
    const double slope =
        (eos::state_at(t_k + 0.01, rho).pressure_pa - eos::state_at(t_k - 0.01, rho).pressure_pa) / 0.02;
    EXPECT_NEAR(liquid_full_pascal_per_kelvin(celsius(t_c)).value() / slope, 1.0, 0.01) << t_c;
  }
}

TEST(Fill, PlateAndRuleAgreeAtAboutFourFifths) {
  // Common practice, no source: 15 gal at the valve of a shell that holds 18.75, and 17 or so of a full one.
  EXPECT_FALSE(plate_check(kShell, 15.0 * us_gallon)->disagree);
  EXPECT_NEAR(plate_check(kShell, 15.0 * us_gallon)->fraction, 0.8, 1e-12);
  EXPECT_TRUE(plate_check(kShell, 15.2 * us_gallon)->disagree);
  EXPECT_TRUE(plate_check(17.0 * us_gallon, 15.0 * us_gallon)->disagree);
  EXPECT_NEAR(plate_check(kShell, 15.0 * us_gallon)->density, 0.419, 0.001);
}

TEST(Fill, TheRulesWaterIsThatOfTheRule) {
  EXPECT_NEAR(kFillingWater.in(pound / us_gallon), 8.32828, 1e-9);  // WAC 296-307-40029 (W38)
  EXPECT_EQ(kMostFillingDensity, 0.42);                             // 29 CFR 1910.110 H-23, 0.504 to 0.510 (W37)
  // 42 % of the water that 100 gal hold, as propane.
  EXPECT_NEAR(filling_density(100.0 * us_gallon, 0.42 * 832.828 * pound), 0.42, 1e-12);
}

TEST(Fill, RefusesWhatCannotBe) {
  const double no_number = std::numeric_limits<double>::quiet_NaN();
  expect_refused(mass_inside(kShell, kShell + 1.0 * litre, celsius(10.0)), "propane.liquid_outside");
  expect_refused(mass_inside(kShell, no_number * litre, celsius(10.0)), "propane.liquid_outside");
  expect_refused(mass_inside(0.0 * litre, 0.0 * litre, celsius(10.0)), "propane.liquid_outside");
  expect_refused(mass_inside(kShell, 1.0 * litre, celsius(90.0)), "propane.temperature_outside");
  expect_refused(inside_at(kShell, 0.1 * kilogram, celsius(10.0)), "propane.no_liquid");
  expect_refused(inside_at(kShell, no_number * kilogram, celsius(10.0)), "propane.no_liquid");
  expect_refused(inside_at(kShell, 60.0 * kilogram, celsius(10.0)), "propane.liquid_full");
  expect_refused(liquid_full_temperature(kShell, 10.0 * kilogram), "propane.never_full");
  expect_refused(liquid_full_temperature(kShell, 60.0 * kilogram), "propane.liquid_full");
  expect_refused(liquid_full_pascal_per_kelvin(celsius(51.0)), "propane.temperature_outside");
  expect_refused(plate_check(kShell, 20.0 * us_gallon), "propane.liquid_outside");
}

}  // namespace
}  // namespace pappus::propane
