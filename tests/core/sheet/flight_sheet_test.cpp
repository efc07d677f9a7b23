#include <gtest/gtest.h>

#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::sheet {
namespace {

using testing::good_morning;

TEST(FlightSheet, TheLoadIsTheSumOfItsLines) {
  const LoadSheet load = load_sheet(good_morning());
  Mass sum;
  for (const LoadLine& line : load.lines) sum += line.mass;
  EXPECT_DOUBLE_EQ(load.total.in(kilogram), sum.in(kilogram));
  EXPECT_NEAR(load.total.in(kilogram), (load.empty + load.people + load.fuel).in(kilogram), 1e-9);
}

TEST(FlightSheet, TheLoadCanBeDoneAgainByHand) {
  // 118 envelope, 86 basket, 28 burner, 18 kit, 3 x 20 cylinders; 3 people with 4 kg clothing and 3 kg bags each
  // (AMC1 BOP.ADD.600); 3 x 18 gal of propane at 8 C, 0.5176 kg/L by the equation of state.
  const LoadSheet load = load_sheet(good_morning());
  EXPECT_DOUBLE_EQ(load.empty.in(kilogram), 118.0 + 86.0 + 28.0 + 18.0 + 60.0);
  EXPECT_DOUBLE_EQ(load.people.in(kilogram), 78.0 + 70.0 + 70.0 + 3 * 7.0);
  EXPECT_NEAR(load.fuel.in(kilogram), 3 * 18 * 3.785411784 * 0.5176, 0.05);
}

TEST(FlightSheet, AStatedMassOfEightyIsCountedAsEightySeven) {
  Morning m = good_morning();  // R23: stated 80 kg -> at least 87 kg
  m.flight.aboard.resize(1);
  m.flight.aboard[0].mass = 80.0 * kilogram;
  EXPECT_DOUBLE_EQ(load_sheet(m).people.in(kilogram), 87.0);
  m.flight.aboard[0].basis = people::MassBasis::weighed;
  m.flight.aboard[0].bags = Mass{};
  EXPECT_DOUBLE_EQ(load_sheet(m).people.in(kilogram), 80.0);
}

TEST(FlightSheet, TheWorstHeightOfAnInversionIsAloft) {
  const auto lift = lift_section(good_morning());
  ASSERT_TRUE(lift);
  EXPECT_GT(lift->worst_height, agl(250.0 * metre));
  EXPECT_NEAR((lift->gross_lift - lift->carried).in(kilogram), lift->margin.in(kilogram), 1e-9);
  EXPECT_NEAR((lift->crown_temperature_expected - lift->mean_temperature_needed).in(kelvin), 20.0, 1e-9);
}

TEST(FlightSheet, FuelBySideIsFuelByCylinder) {
  const auto fuel = fuel_section(good_morning());
  ASSERT_TRUE(fuel);
  ASSERT_EQ(fuel->sides.size(), 2u);
  ASSERT_EQ(fuel->by_cylinder.size(), 3u);
  Mass drawn;
  for (const CylinderLine& c : fuel->by_cylinder) drawn += c.drawn;
  EXPECT_NEAR(drawn.in(kilogram), fuel->used_unlucky.in(kilogram), 1e-9);
  EXPECT_NEAR(fuel->used.in(kilogram), (fuel->inflation + fuel->climbs + fuel->level + fuel->allowance).in(kilogram),
              1e-9);
  EXPECT_EQ(fuel->reserve, std::min(fuel->sides[0].reserve, fuel->sides[1].reserve));
}

TEST(FlightSheet, WithoutTemperaturesAloftTheWorseOfTwoAirsCounts) {
  Morning m = good_morning();
  for (auto& row : m.flight.ladders[0].rows) row.temperature.reset();
  const auto assumed = lift_section(m);
  ASSERT_TRUE(assumed);
  EXPECT_TRUE(assumed->temperature_aloft_assumed);
  // Ten kelvin of inversion at 300 m make the air there warmer than the field's 3 C by ten.
  EXPECT_NEAR(in_celsius(assumed->ambient_there), 13.2, 1.5);
}

TEST(FlightSheet, TheSameMorningGivesTheSameSheet) {
  const FlightSheet a = sheet(good_morning()), b = sheet(good_morning());
  ASSERT_EQ(a.limits.size(), b.limits.size());
  for (std::size_t i = 0; i < a.limits.size(); ++i) {
    EXPECT_EQ(a.limits[i].value, b.limits[i].value);
    EXPECT_EQ(a.limits[i].state, b.limits[i].state);
  }
}

TEST(FlightSheet, MoreLoadNeverHelps) {
  Random random = testing::seeded("FlightSheet.MoreLoad");
  for (int i = 0; i < 60; ++i) {
    Morning m = good_morning();
    m.flight.aboard[1].mass = random.uniform(20.0, 120.0) * kilogram;
    const auto before = lift_section(m);
    const auto burnt = fuel_section(m);
    m.flight.aboard[1].mass += random.uniform(0.5, 30.0) * kilogram;
    const auto after = lift_section(m);
    const auto burns = fuel_section(m);
    ASSERT_TRUE(before && after && burnt && burns);
    EXPECT_LT(after->margin, before->margin);
    EXPECT_GT(after->crown_temperature_expected, before->crown_temperature_expected);
    EXPECT_GT(burns->used, burnt->used);
    EXPECT_LT(burns->reserve, burnt->reserve);
  }
}

}  // namespace
}  // namespace pappus::sheet
