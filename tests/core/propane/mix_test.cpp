#include "core/propane/mix.hpp"

#include <algorithm>
#include <optional>
#include <string>

#include <gtest/gtest.h>

#include "core/propane/saturation.hpp"
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

Mix mix_of(const Row& row) {
  return {row["propane"], row["propylene"], row["ethane"], row["isobutane"], row["butane"]};
}

TEST(Mix, StandsWithinFourPerCentOfTheMultiFluidModel) {
  double worst = 0.0;
  for (const Row& row : read_table("mix_pressure.csv")) {
    const Temperature t = celsius(row["at_c"]);
    const double pure_pa = saturation_at(t)->pressure.in(pascal);
    const double of_row_pa = row.text("unit") == "ratio"
                                 ? row["value"] * pure_pa
                                 : (row["value"] * pound_per_square_inch + standard_atmosphere).in(pascal);
    const double off = 100.0 * (bubble_pressure(mix_of(row), t)->in(pascal) / of_row_pa - 1.0);
    EXPECT_NEAR(off, 0.0, row["within_percent"]) << row.where();
    worst = std::max(worst, off < 0.0 ? -off : off);
  }
  RecordProperty("worst_percent", std::to_string(worst));
}

TEST(Mix, ItsComponentsBoilWhereTheyShould) {
  for (const Row& row : read_table("mix_pure.csv")) {
    Mix mix{.propane = 0.0};
    (row.text("component") == "butane" ? mix.butane : mix.isobutane) = 1.0;
    const Pressure p = bubble_pressure(mix, celsius(row["at_c"])).value();
    expect_row(row, row.text("unit") == "gauge_psi" ? (p - standard_atmosphere).in(pound_per_square_inch) : p.in(bar));
  }
}

TEST(Mix, PurePropaneIsThatOfTheSaturationLine) {
  for (double t_c = -40.0; t_c <= 50.0; t_c += 5.0)
    EXPECT_EQ(bubble_pressure({}, celsius(t_c))->in(pascal), saturation_at(celsius(t_c))->pressure.in(pascal));
}

TEST(Mix, RisesWithWarmthAndEthaneAndFallsWithButane) {
  Random random = testing::seeded("Mix.Laws");
  for (int i = 0; i < 300; ++i) {
    const double others = random.uniform(0.0, 0.2), more = random.uniform(0.01, 0.05);
    const Temperature t = celsius(random.uniform(-40.0, 49.0));
    const Mix mix{.propane = 1.0 - others, .propylene = others};
    const Pressure p = bubble_pressure(mix, t).value();
    EXPECT_GT(bubble_pressure(mix, t + 0.5 * kelvin).value(), p);
    Mix lighter = mix, heavier = mix;
    lighter.propane -= more;
    lighter.ethane += more;
    heavier.propane -= more;
    heavier.butane += more;
    EXPECT_GT(bubble_pressure(lighter, t).value(), p);
    EXPECT_LT(bubble_pressure(heavier, t).value(), p);
  }
}

TEST(Mix, EthaneGoesOnWithoutAStepAtItsCriticalPoint) {
  const Mix mix{.propane = 0.9, .ethane = 0.1};
  const double below = bubble_pressure(mix, celsius(32.249))->in(pascal);
  const double above = bubble_pressure(mix, celsius(32.251))->in(pascal);
  EXPECT_NEAR(above / below, 1.0, 1e-4);
}

TEST(Mix, TheGaugesTemperatureHoldsTheTrueOne) {
  Random random = testing::seeded("Mix.Gauge");
  for (int i = 0; i < 300; ++i) {
    const Temperature t = celsius(random.uniform(-20.0, 35.0));
    const bool stated = random.below(2) == 0;
    const Mix mix{.propane = 0.95, .ethane = 0.03, .butane = 0.02};
    const std::optional<Mix> told = stated ? std::optional{mix} : std::nullopt;
    const PressureBand band = pressure_band(told, t).value();
    const Pressure true_pressure = band.low + random.uniform(0.0, 1.0) * (band.high - band.low);
    const Pressure ambient = random.uniform(750.0, 1030.0) * hectopascal;
    const Pressure error = random.uniform(-3.0, 3.0) * pound_per_square_inch;
    const auto found = liquid_temperature(gauge(true_pressure + error, ambient), ambient, told);
    ASSERT_TRUE(found);
    EXPECT_LE(found->low, t + 1e-6 * kelvin);
    EXPECT_GE(found->high, t - 1e-6 * kelvin);
    EXPECT_LE(found->low, found->best);
    EXPECT_LE(found->best, found->high);
  }
}

TEST(Mix, RefusesWhatIsNoMix) {
  expect_refused(bubble_pressure({.propane = 0.9}, celsius(10.0)), "propane.mix_sum");
  expect_refused(bubble_pressure({.propane = 1.1, .butane = -0.1}, celsius(10.0)), "propane.mix_sum");
  expect_refused(bubble_pressure({}, celsius(51.0)), "propane.temperature_outside");
  expect_refused(pressure_band(std::nullopt, celsius(-41.0)), "propane.temperature_outside");
  expect_refused(liquid_temperature(GaugePressure::at(400.0 * pound_per_square_inch), standard_atmosphere, {}),
                 "propane.pressure_outside");
}

}  // namespace
}  // namespace pappus::propane
