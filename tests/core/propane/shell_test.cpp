#include "core/propane/shell.hpp"

#include <limits>

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

Shell some_shell(Random& random) {
  return {.radius = random.uniform(0.1, 0.3) * metre,
          .tube = random.uniform(0.0, 1.0) * metre,
          .head_depth = random.uniform(0.05, 1.0)};
}
Attitude some_attitude(Random& random) { return random.below(2) == 0 ? Attitude::lying : Attitude::upright; }

TEST(Shell, MatchesTheTable) {
  for (const Row& row : read_table("shell_volumes.csv")) {
    const Shell shell{.radius = row["radius_m"] * metre, .tube = row["tube_m"] * metre};
    const Attitude attitude = row.text("attitude") == "lying" ? Attitude::lying : Attitude::upright;
    const Length level = row["level_of_height"] * height(shell, attitude).value();
    expect_row(row, liquid_below(shell, attitude, level).value().in(litre));
  }
}

// The shape again, slice by slice, with nothing shared but its measures.
TEST(Shell, IsTheSumOfItsSlices) {
  Random random = testing::seeded("Shell.Slices");
  for (int i = 0; i < 20; ++i) {
    const Shell shell = some_shell(random);
    const double r = shell.radius.in(metre), l = shell.tube.in(metre), a = shell.head_depth * r;
    const double level = random.uniform(0.0, l + 2.0 * a);
    double sum = 0.0;
    const int slices = 20000;
    for (int k = 0; k < slices; ++k) {
      const double z = (k + 0.5) * level / slices;
      const double off = z < a ? (a - z) / a : (z > a + l ? (z - a - l) / a : 0.0);
      sum += 3.14159265358979 * r * r * (1.0 - off * off) * level / slices;
    }
    EXPECT_NEAR(liquid_below(shell, Attitude::upright, level * metre)->in(litre), 1000.0 * sum, 0.01);
  }
}

TEST(Shell, LevelAndLiquidAreInverse) {
  Random random = testing::seeded("Shell.Inverse");
  for (int i = 0; i < 300; ++i) {
    const Shell shell = some_shell(random);
    const Attitude attitude = some_attitude(random);
    const Length top = height(shell, attitude).value();
    const Length level = random.uniform(0.01, 0.99) * top;
    const Volume liquid = liquid_below(shell, attitude, level).value();
    EXPECT_NEAR(level_of(shell, attitude, liquid)->in(metre), level.in(metre), 1e-9);
    EXPECT_GT(liquid_below(shell, attitude, level + 0.005 * top).value(), liquid);
    EXPECT_NEAR(liquid_below(shell, attitude, 0.5 * top)->in(litre), 0.5 * volume(shell)->in(litre), 1e-9);
    EXPECT_NEAR(liquid_below(shell, attitude, top)->in(litre), volume(shell)->in(litre), 1e-9);
    EXPECT_EQ(liquid_below(shell, attitude, 0.0 * metre)->in(litre), 0.0);
  }
}

TEST(Shell, IsFoundFromItsVolume) {
  const Shell shell = shell_of(18.75 * us_gallon, 0.19 * metre).value();
  EXPECT_NEAR(volume(shell)->in(us_gallon), 18.75, 1e-9);
  expect_refused(shell_of(5.0 * litre, 0.19 * metre), "propane.shell_too_small");
}

TEST(Shell, WithFlatEndsIsATube) {
  const Shell drum{.radius = 0.2 * metre, .tube = 0.5 * metre, .head_depth = 0.0};
  EXPECT_NEAR(liquid_below(drum, Attitude::upright, 0.25 * metre)->in(litre), 31.41592653589793, 1e-9);
  EXPECT_NEAR(liquid_below(drum, Attitude::lying, 0.2 * metre)->in(litre), 31.41592653589793, 1e-9);
}

TEST(Shell, RefusesWhatIsNoCylinder) {
  const double no_number = std::numeric_limits<double>::quiet_NaN();
  const Shell shell{.radius = 0.15 * metre, .tube = 0.5 * metre};
  for (const double bad : {0.0, -0.1, 3.0, no_number})
    expect_refused(volume({.radius = bad * metre, .tube = 0.5 * metre}), "propane.shell_outside");
  for (const double bad : {-0.1, 11.0, no_number})
    expect_refused(volume({.radius = 0.15 * metre, .tube = bad * metre}), "propane.shell_outside");
  for (const double bad : {-0.1, 1.1, no_number})
    expect_refused(volume({.radius = 0.15 * metre, .tube = 0.5 * metre, .head_depth = bad}), "propane.shell_outside");
  for (const double bad : {-0.001, 0.301, no_number})
    expect_refused(liquid_below(shell, Attitude::lying, bad * metre), "propane.level_outside");
  for (const double bad : {-0.001, 43.0, no_number})
    expect_refused(level_of(shell, Attitude::lying, bad * litre), "propane.liquid_outside");
}

}  // namespace
}  // namespace pappus::propane
