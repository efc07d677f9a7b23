#include "core/propane/margins.hpp"

#include <gtest/gtest.h>

#include "core/base/random.hpp"
#include "core/propane/saturation.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::propane {
namespace {

using testing::expect_refused;

constexpr Pressure kPsi = pound_per_square_inch;
GaugePressure psi(double p) { return GaugePressure::at(p * kPsi); }
const Charge kCharge{.shell = 71.0 * litre, .liquid = 56.0 * litre, .at = celsius(5.0), .nitrogen = 40.0 * kPsi};

TEST(Margins, TheReliefTemperatureIsWhereTheUpperBandMeetsIt) {
  auto random = testing::seeded("Margins.Relief");
  for (int i = 0; i < 200; ++i) {
    const GaugePressure relief = psi(random.uniform(60.0, 270.0));
    const Temperature t = relief_temperature(relief, standard_atmosphere, std::nullopt).value();
    ASSERT_LT(t, celsius(50.0));
    EXPECT_NEAR((1.2 * saturation_at(t)->pressure - standard_atmosphere) / relief.from_origin(), 1.0, 1e-6);
    const Mix mix{.propane = 0.92, .propylene = 0.05, .ethane = 0.03};
    const Temperature stated = relief_temperature(relief, standard_atmosphere, mix).value();
    EXPECT_NEAR((pressure_band(mix, stated)->high - standard_atmosphere) / relief.from_origin(), 1.0, 1e-6);
  }
}

TEST(Margins, AboveTheMixsRangeItFollowsPurePropane) {
  // 375 psi over pure propane's band: 1.2 times the pure pressure of the handbook's equation.
  const Temperature t = relief_temperature(psi(375.0), standard_atmosphere, std::nullopt).value();
  EXPECT_NEAR(1.2 * saturation_at(t)->pressure.in(kPsi), 375.0 + standard_atmosphere.in(kPsi), 0.01);
  EXPECT_GT(t, celsius(55.0));
}

TEST(Margins, AHigherValveNeverOpensColderAndAChargeNeverLater) {
  auto random = testing::seeded("Margins.Order");
  for (int i = 0; i < 200; ++i) {
    const double a = random.uniform(100.0, 330.0), b = a + random.uniform(0.0, 40.0);
    const Temperature low = relief_temperature(psi(a), standard_atmosphere, std::nullopt).value();
    EXPECT_LE(low, relief_temperature(psi(b), standard_atmosphere, std::nullopt).value());
    Charge charge = kCharge;
    charge.liquid = random.uniform(0.1, 0.9) * charge.shell;
    charge.nitrogen = random.uniform(0.0, 40.0) * kPsi;
    const auto charged = relief_temperature(psi(a), standard_atmosphere, std::nullopt, charge);
    ASSERT_TRUE(charged);
    EXPECT_LE(*charged, low);
  }
}

TEST(Margins, AChargeIsItselfWhereItWasMadeAndGrowsWithWarmth) {
  EXPECT_NEAR(charge_at_most(kCharge, kCharge.at)->in(kPsi), 40.0, 1e-9);
  auto random = testing::seeded("Margins.Charge");
  for (int i = 0; i < 200; ++i) {
    const double cold = random.uniform(-30.0, 40.0), warm = cold + random.uniform(0.1, 10.0);
    EXPECT_LT(*charge_at_most(kCharge, celsius(cold)), *charge_at_most(kCharge, celsius(warm)));
  }
  // Without liquid it is the ideal gas alone.
  Charge gas = kCharge;
  gas.liquid = Volume{};
  EXPECT_NEAR(*charge_at_most(gas, celsius(50.0)) / gas.nitrogen, 323.15 / 278.15, 1e-12);
}

TEST(Margins, RefusesWhatIsNotAnswered) {
  expect_refused(relief_temperature(psi(900.0), standard_atmosphere, std::nullopt), "propane.relief_outside");
  expect_refused(relief_temperature(psi(1.0), standard_atmosphere, std::nullopt), "propane.relief_outside");
  Charge full = kCharge;
  full.liquid = full.shell;
  expect_refused(charge_at_most(full, celsius(10.0)), "propane.liquid_outside");
  expect_refused(relief_temperature(psi(300.0), standard_atmosphere, std::nullopt, full), "propane.liquid_outside");
  full.liquid = 0.95 * full.shell;
  expect_refused(charge_at_most(full, celsius(60.0)), "propane.liquid_full");
}

}  // namespace
}  // namespace pappus::propane
