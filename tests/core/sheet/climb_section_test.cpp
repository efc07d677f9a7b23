#include "core/sheet/sections/climb.hpp"

#include <algorithm>
#include <string>

#include <gtest/gtest.h>

#include "core/balloon/lift.hpp"
#include "core/propane/saturation.hpp"
#include "core/sheet/facts.hpp"
#include "tests/support/morning.hpp"

namespace pappus::sheet {
namespace {

using pappus::testing::good_morning;

double kg(Mass m) { return m.in(kilogram); }
bool says(const std::vector<Sentence>& all, const std::string& key) {
  return std::any_of(all.begin(), all.end(), [&](const Sentence& s) { return s.key == key; });
}

// The test morning's burner has no power noted: two that have one.
Morning with_power() {
  Morning m = good_morning();
  balloon::Burner burner = m.balloon.burners.front();
  burner.power = 5.4 * megawatt;
  m.balloon.burners = {burner, burner};
  return m;
}

TEST(ClimbSection, TellsClimbArrestFlameOutChartAndPlan) {
  const Morning morning = with_power();
  const auto answer = climb_section(morning);
  ASSERT_TRUE(answer.has_value()) << answer.error().sentence.key;
  const ClimbSection& a = *answer;
  EXPECT_EQ(a.burners, 2);
  ASSERT_TRUE(a.climb_rate && a.arrest_height && a.first_minute && a.load_chart && a.flame && a.flown && a.sink_most);
  for (const motion::ClimbAt& c : a.climbs) EXPECT_LE(*a.climb_rate, c.climb);
  EXPECT_EQ(a.climbs.front().altitude, morning.flight.field.elevation);
  EXPECT_EQ(a.climbs.back().altitude, above(morning.flight.field.elevation, *morning.flight.highest));
  // One burner and two from four descents, and after at least one time without flame.
  ASSERT_EQ(a.arrests.size(), 8u);
  EXPECT_GE(a.from_cold.size(), 2u);
  EXPECT_NEAR(a.arrests[2].sink.in(foot_per_minute), 500.0, 1e-6);
  EXPECT_EQ(a.arrests[2].burners, 1);
  EXPECT_EQ(a.arrests[2].height, a.arrest_height);
  EXPECT_LE(*a.arrests[3].height, *a.arrest_height);
  EXPECT_TRUE(says(a.cautions, "climb.manual_decides"));
  EXPECT_TRUE(says(a.cautions, "climb.drag"));
  EXPECT_TRUE(says(a.cautions, "climb.no_notice"));
}

TEST(ClimbSection, FlameIsTheLowerLawOfTheWeakestBurnerOverTheHeatOfTheFuel) {
  Morning morning = with_power();
  morning.balloon.burners[1].power = 4.0 * megawatt;
  morning.flight.fuel[2].temperature = celsius(3.0);
  const FlameLine f = *climb_section(morning).value().flame;
  EXPECT_EQ(f.rated, 4.0 * megawatt);
  EXPECT_TRUE(f.measured);
  // The coldest cylinder, by the published saturation line, in the air of the field.
  const auto station = *facts_of(morning).station_pressure;
  const double gauge_pa = (propane::saturation_at(celsius(3.0)).value().pressure - station).in(pascal);
  EXPECT_NEAR(f.pressure.from_origin().in(pascal), gauge_pa, 1e-6 * gauge_pa);
  EXPECT_NEAR(f.flow.in(kilogram_per_second)*50.33e6, f.power.in(watt), 1.0);
  // At most in proportion to pressure over 110 psi, and less for the height.
  EXPECT_LT(f.power.in(watt), 4.0e6 * gauge_pa / (110.0 * 6894.757));
  EXPECT_GT(f.power.in(watt), 0.7 * 4.0e6 * gauge_pa / (110.0 * 6894.757));
  morning.flight.fuel[0].temperature.reset();
  const ClimbSection unknown = climb_section(morning).value();
  EXPECT_FALSE(unknown.flame->measured);
  EXPECT_TRUE(says(unknown.reasons, "climb.pressure_from_air"));
}

TEST(ClimbSection, WithoutAPowerNothingOfTheFlameIsTold) {
  Morning morning = with_power();
  morning.balloon.burners[1].power.reset();
  const ClimbSection a = climb_section(morning).value();
  EXPECT_FALSE(a.flame || a.arrest_height || a.first_minute || a.flown);
  EXPECT_TRUE(a.arrests.empty() && a.from_cold.empty());
  EXPECT_TRUE(says(a.reasons, "climb.no_power"));
  EXPECT_FALSE(says(a.cautions, "climb.no_notice"));
  // What needs no flame stays what it is with one.
  const ClimbSection with = climb_section(with_power()).value();
  EXPECT_EQ(a.climb_rate, with.climb_rate);
  EXPECT_EQ(a.sink_most, with.sink_most);
  ASSERT_EQ(a.flame_out.size(), with.flame_out.size());
  for (std::size_t i = 0; i < a.flame_out.size(); ++i) EXPECT_EQ(a.flame_out[i].lost, with.flame_out[i].lost);
}

TEST(ClimbSection, WithoutACrownLimitNoClimbIsTold) {
  Morning morning = with_power();
  morning.balloon.envelope.crown_limit.reset();
  const ClimbSection a = climb_section(morning).value();
  EXPECT_FALSE(a.climb_rate || a.ceiling || a.ceiling_looked_to || a.first_minute || a.load_chart);
  EXPECT_TRUE(a.climbs.empty());
  EXPECT_TRUE(says(a.reasons, "climb.no_crown_limit"));
  EXPECT_TRUE(a.arrest_height && a.sink_most);
  for (const motion::Arrest& x : a.arrests) EXPECT_FALSE(x.crown_too_hot) << "there is no limit to pass";
}

TEST(ClimbSection, OneBurnerIsNeverToldAsTwo) {
  Morning morning = with_power();
  morning.balloon.burners.pop_back();
  const ClimbSection a = climb_section(morning).value();
  ASSERT_EQ(a.arrests.size(), 4u);
  for (const motion::Arrest& x : a.arrests) EXPECT_EQ(x.burners, 1);
  for (const motion::Arrest& x : a.from_cold) EXPECT_EQ(x.burners, 1);
}

TEST(ClimbSection, LoadChartIsThatOfTheEmptyBalloonAndItsLimits) {
  const Morning morning = with_power();
  const balloon::LoadChart chart = *climb_section(morning).value().load_chart;
  const Mass empty = facts_of(morning).load.empty;
  EXPECT_EQ(chart.inside_mean, *morning.balloon.envelope.crown_limit - balloon::kCrownExcess);
  EXPECT_NEAR(kg(*chart.most), kg(*morning.balloon.envelope.gross_limit - empty), 1e-9);
  EXPECT_EQ(chart.heights.size(), 21u);
  EXPECT_EQ(chart.outside.size(), 17u);
  for (const auto& row : chart.left)
    for (const Mass left : row) EXPECT_LE(left, *chart.most);
}

TEST(ClimbSection, FliesTheHeightPlanAndPutsItBesideWhatIsReckoned) {
  const Morning morning = with_power();
  const FlownPlan f = *climb_section(morning).value().flown;
  EXPECT_TRUE(f.landed);
  ASSERT_TRUE(f.reckoned && f.touchdown_sink);
  EXPECT_NEAR(f.length.in(minute), morning.flight.planned.in(minute), 5.0);
  // Two models of one balloon: within a third of each other, or one of them is wrong.
  EXPECT_NEAR(f.fuel / *f.reckoned, 1.0, 0.34);
  // Heavier burns more.
  Morning heavier = with_power();
  heavier.flight.aboard.push_back(heavier.flight.aboard.back());
  EXPECT_GT(climb_section(heavier).value().flown->fuel, f.fuel);
}

TEST(ClimbSection, MoreMassNeverClimbsBetter) {
  Morning heavier = with_power();
  heavier.flight.aboard.push_back(heavier.flight.aboard.back());
  const ClimbSection a = climb_section(with_power()).value(), b = climb_section(heavier).value();
  EXPECT_LT(*b.climb_rate, *a.climb_rate);
  EXPECT_GT(b.mass, a.mass);
}

TEST(ClimbSection, SaysWhatIsMissing) {
  Morning no_height = with_power();
  no_height.flight.highest.reset();
  const auto refused = climb_section(no_height);
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().sentence.key, "fact.highest_missing");
  Morning calm = with_power();
  calm.flight.ladders.clear();
  for (auto& report : calm.flight.reports) report.temperature.reset();
  const auto no_air = climb_section(calm);
  ASSERT_FALSE(no_air.has_value());
  EXPECT_EQ(no_air.error().code, Errc::no_data);
}

}  // namespace
}  // namespace pappus::sheet
