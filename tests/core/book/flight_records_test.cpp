#include "core/book/flight_records.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "core/air/column.hpp"
#include "core/balloon/lift.hpp"
#include "tests/core/balloon/morning_air.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::book {
namespace {

Instant hours(int h) { return Instant::from_unix_milliseconds(h * std::int64_t{3'600'000}); }

double normal(Random& random) {
  double sum = -6.0;
  for (int i = 0; i < 12; ++i) sum += random.uniform();
  return sum;
}

const Foretold kForetold{.fuel = 40.0 * kilogram,
                         .loss = 30.0 * kilogram,
                         .error = 2.0 * kilogram,
                         .mean_needed = celsius(80.0),
                         .mean_error = 3.0 * kelvin};

FlightEvent flight(std::vector<std::string> open) {
  FlightEvent out{.aloft = 50.0 * minute, .open = {}};
  for (std::string& id : open) out.open.push_back({std::move(id)});
  return out;
}
FlightEvent measured(double burnt_kg, double crown_c) {
  FlightEvent out = flight({"1"});
  out.burnt = BurntNoted{burnt_kg * kilogram, 0.5 * kilogram};
  out.foretold = kForetold;
  out.crown = CrownNoted{celsius(crown_c), 4.0 * kelvin};
  return out;
}

TEST(FlightRecords, AreDoneByHand) {
  const FlightRecords r = flight_records({{3, hours(1), measured(43.0, 105.0)}}, hours(2));
  ASSERT_EQ(r.burn.size(), 1u);
  ASSERT_EQ(r.crown.size(), 1u);
  EXPECT_EQ(r.flights, 1);
  EXPECT_EQ(r.burn[0].event, 3);
  EXPECT_EQ(r.burn[0].happened, hours(1));
  EXPECT_FALSE(r.burn[0].derived);
  EXPECT_NEAR(r.burn[0].record.value, 1.1, 1e-12);  // 3 kg more, on 30 kg
  EXPECT_NEAR(r.burn[0].record.error, std::hypot(0.5, 2.0) / 30.0, 1e-12);
  EXPECT_NEAR(r.crown[0].record.value, 25.0, 1e-9);
  EXPECT_NEAR(r.crown[0].record.error, 5.0, 1e-12);
}

TEST(FlightRecords, WhatNothingWasForetoldForIsCountedAndNotCompared) {
  FlightEvent bare = measured(43.0, 105.0);
  bare.foretold.reset();
  const FlightRecords r = flight_records(
      {{1, hours(1), bare}, {2, hours(2), flight({"1"})}, {3, hours(9), measured(40.0, 100.0)}}, hours(3));
  EXPECT_TRUE(r.burn.empty());
  EXPECT_TRUE(r.crown.empty());
  EXPECT_EQ(r.flights, 2);  // the third is still to come
  EXPECT_EQ(r.not_compared, 1);
}

TEST(FlightRecords, TakesABurnThatNobodyNotedFromWeights) {
  FlightEvent flown = flight({"1", "2"});
  flown.foretold = kForetold;
  const std::vector<CylinderEvent> good{
      {1, hours(1), FillEvent{"1", {}, 46.0 * kilogram}},
      {2, hours(1), FillEvent{"2", LiquidBand{celsius(5), celsius(9)}, {}}},
      {3, hours(2), WeighingEvent{"2", 45.0 * kilogram}},
      {4, hours(3), LevelTestEvent{.cylinder = "1", .valve = {}, .liquid = {}, .tube_attitude = true}},
      {5, hours(4), flown},
      {6, hours(5), WeighingEvent{"1", 26.0 * kilogram}},
      {7, hours(6), WeighingEvent{"2", 22.0 * kilogram}}};
  const FlightRecords r = flight_records(good, hours(9));
  ASSERT_EQ(r.burn.size(), 1u);
  EXPECT_TRUE(r.burn[0].derived);
  EXPECT_NEAR(r.burn[0].record.value, 1.1, 1e-12);                          // 20 and 23 kg
  EXPECT_NEAR(r.burn[0].record.error, std::hypot(0.6, 2.0) / 30.0, 1e-12);  // 0.3 kg, four weighings

  const auto without = [&](const CylinderEvent& added) {
    std::vector<CylinderEvent> events = good;
    events.push_back(added);
    return flight_records(events, hours(9)).burn.size();
  };
  const Instant between = Instant::from_unix_milliseconds(4 * std::int64_t{3'600'000} + 1);
  EXPECT_EQ(without({8, between, FillEvent{"1", {}, 46.0 * kilogram}}), 0u);  // filled before it was weighed
  EXPECT_EQ(without({8, between, flight({"2"})}), 0u);                        // flown before it was weighed
  EXPECT_EQ(without({8, between, flight({"3"})}), 1u);
  EXPECT_EQ(without({8, hours(3), FillEvent{"2", LiquidBand{celsius(5), celsius(9)}, {}}}), 0u);  // after the weight
  for (std::size_t gone : {0u, 2u, 5u, 6u}) {
    std::vector<CylinderEvent> events = good;
    events.erase(events.begin() + static_cast<std::ptrdiff_t>(gone));
    EXPECT_TRUE(flight_records(events, hours(9)).burn.empty()) << gone;
  }
  // Heavier after it than before: no burn.
  std::vector<CylinderEvent> odd = good;
  odd[5].what = WeighingEvent{"1", 90.0 * kilogram};
  EXPECT_TRUE(flight_records(odd, hours(9)).burn.empty());
}

TEST(FlightRecords, DoNotDependOnTheOrderOfTheList) {
  Random random = testing::seeded("FlightRecords.Order");
  for (int i = 0; i < 100; ++i) {
    std::vector<CylinderEvent> events;
    for (int n = 1; n <= 12; ++n) {
      const Instant when = hours(static_cast<int>(random.below(8)));
      if (random.below(2) == 0)
        events.push_back({n, when, measured(random.uniform(20.0, 60.0), random.uniform(80.0, 120.0))});
      else
        events.push_back({n, when, WeighingEvent{"1", random.uniform(20.0, 50.0) * kilogram}});
    }
    const FlightRecords one = flight_records(events, hours(6));
    std::reverse(events.begin(), events.end());
    const FlightRecords other = flight_records(events, hours(6));
    ASSERT_EQ(one.burn.size(), other.burn.size());
    for (std::size_t k = 0; k < one.burn.size(); ++k) EXPECT_EQ(one.burn[k].event, other.burn[k].event);
    for (std::size_t k = 1; k < one.burn.size(); ++k) EXPECT_LE(one.burn[k - 1].happened, one.burn[k].happened);
  }
}

// A flight made with a loss of its own, told by the model that knows of none, gives that loss back.
TEST(FlightRecords, GiveTheLossBackThatAFlightWasMadeWith) {
  Random random = testing::seeded("FlightRecords.Loss");
  for (int i = 0; i < 20; ++i) {
    const auto column = balloon::testing::standard_day(amsl(random.uniform(0.0, 1500.0) * metre));
    balloon::FlightFuelInputs inputs{.column = column,
                                     .highest = column.ground() + 200.0 * metre,
                                     .carried = 500.0 * kilogram,
                                     .volume = 2600.0 * cubic_metre,
                                     .planned = random.uniform(20.0, 90.0) * minute};
    const auto foretold = balloon::flight_fuel(inputs);
    inputs.settings.loss = random.uniform(0.6, 1.6);
    const auto burnt = balloon::flight_fuel(inputs);
    ASSERT_TRUE(foretold && burnt);
    FlightEvent event = measured(burnt->used.in(kilogram), 100.0);
    event.foretold->fuel = foretold->used;
    event.foretold->loss = foretold->level + foretold->allowance;
    const FlightRecords r = flight_records({{1, hours(1), event}}, hours(1));
    ASSERT_EQ(r.burn.size(), 1u);
    EXPECT_NEAR(r.burn[0].record.value, inputs.settings.loss, 1e-9);
  }
}

TEST(LearnedFigures, AreTheGuessWithoutRecords) {
  const LearnedFigures none, learned = learned_figures({}).value();
  EXPECT_DOUBLE_EQ(none.burn.value, learned.burn.value);
  EXPECT_DOUBLE_EQ(none.burn.spread, learned.burn.spread);
  EXPECT_DOUBLE_EQ(none.burn.next, learned.burn.next);
  EXPECT_DOUBLE_EQ(none.crown.value, learned.crown.value);
  EXPECT_DOUBLE_EQ(none.crown.spread, learned.crown.spread);
  EXPECT_DOUBLE_EQ(none.crown.next, learned.crown.next);
  EXPECT_FALSE(none.burn.yours || none.crown.yours || learned.burn.yours || learned.crown.yours);
  EXPECT_EQ(kCrownExcess.value * kelvin, balloon::kCrownExcess);
  EXPECT_EQ(kBurnRatio.spread, balloon::HeatSettings{}.uncertainty);
}

TEST(LearnedFigures, RefuseARecordThatIsNoNumber) {
  FlightRecords records;
  records.crown.push_back({1, hours(1), {std::numeric_limits<double>::quiet_NaN(), 1.0}, false});
  const auto refused = learned_figures(records);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().sentence.key, "book.record_unusable");
}

TEST(LearnedFigures, SetAsideWhatNoBalloonShows) {
  FlightRecords records;
  for (const double value : {0.6, 0.2, 0.6, 0.6, 2.9, 3.2})
    records.burn.push_back({static_cast<std::int64_t>(records.burn.size()), hours(1), {value, 0.08}, false});
  for (const double value : {-21.0, 70.0}) records.crown.push_back({9, hours(1), {value, 4.0}, false});
  const LearnedFigures learned = learned_figures(records).value();
  EXPECT_EQ(learned.burn.outliers, (std::vector<std::size_t>{1, 4, 5}));  // one of them is far from the others only
  EXPECT_EQ(learned.burn.flights, 3);
  EXPECT_EQ(learned.crown.outliers, (std::vector<std::size_t>{0, 1}));
  EXPECT_EQ(learned.crown.value, kCrownExcess.value);
}

// 200 balloons, 12 flights each of which one is 5 standard deviations off.
TEST(LearnedFigures, FindTheTruthBesideAPlantedOutlier) {
  Random random = testing::seeded("LearnedFigures.Simulated");
  const int balloons = 200, flights = 12;
  int burn_within = 0, crown_within = 0, burn_found = 0, crown_found = 0;
  for (int b = 0; b < balloons; ++b) {
    const double loss = kBurnRatio.value + kBurnRatio.spread * normal(random);
    const double excess_k = kCrownExcess.value + kCrownExcess.spread * normal(random);
    const auto odd = static_cast<int>(random.below(flights));
    const double side = random.below(2) == 0 ? 5.0 : -5.0;
    std::vector<CylinderEvent> events;
    for (int n = 0; n < flights; ++n) {
      Foretold told{.fuel = random.uniform(30.0, 60.0) * kilogram,
                    .loss = {},
                    .error = random.uniform(1.0, 3.0) * kilogram,
                    .mean_needed = celsius(random.uniform(70.0, 95.0)),
                    .mean_error = 3.0 * kelvin};
      told.loss = random.uniform(0.6, 0.8) * told.fuel;
      const double weighed_kg = random.uniform(0.4, 1.5), part_kg = told.loss.in(kilogram);
      const double burn_sd =
          std::hypot(std::hypot(weighed_kg, told.error.in(kilogram)) / part_kg, kBurnRatio.between_flights);
      const double crown_sd = std::hypot(std::hypot(3.0, 3.0), kCrownExcess.between_flights);
      const double shown = loss + burn_sd * (n == odd ? side : normal(random));
      FlightEvent one = flight({"1"});
      one.burnt = BurntNoted{told.fuel + (shown - 1.0) * told.loss, weighed_kg * kilogram};
      one.crown = CrownNoted{told.mean_needed + (excess_k + crown_sd * (n == odd ? side : normal(random))) * kelvin,
                             3.0 * kelvin};
      one.foretold = told;
      events.push_back({n + 1, hours(n), one});
    }
    const LearnedFigures learned = learned_figures(flight_records(events, hours(flights))).value();
    const auto found = [&](const Learned& l) {
      return std::count(l.outliers.begin(), l.outliers.end(), static_cast<std::size_t>(odd)) == 1;
    };
    burn_found += found(learned.burn) ? 1 : 0;
    crown_found += found(learned.crown) ? 1 : 0;
    burn_within += std::abs(learned.burn.value - loss) <= 2.0 * learned.burn.spread ? 1 : 0;
    crown_within += std::abs(learned.crown.value - excess_k) <= 2.0 * learned.crown.spread ? 1 : 0;
    EXPECT_LT(learned.burn.spread, 0.25 * kBurnRatio.spread);
    EXPECT_LT(learned.crown.spread, 0.25 * kCrownExcess.spread);
    EXPECT_LT(learned.burn.next, kBurnRatio.spread);
    EXPECT_LT(learned.crown.next, kCrownExcess.spread);
    EXPECT_TRUE(learned.burn.yours && learned.crown.yours);
  }
  RecordProperty("burn_within", burn_within);
  RecordProperty("crown_within", crown_within);
  RecordProperty("burn_found", burn_found);
  RecordProperty("crown_found", crown_found);
  EXPECT_GE(burn_within, 0.90 * balloons);
  EXPECT_GE(crown_within, 0.90 * balloons);
  EXPECT_GE(burn_found, 0.95 * balloons);
  EXPECT_GE(crown_found, 0.95 * balloons);
}

TEST(OwnFigures, LeaveAloneWhatIsNotYetYours) {
  LearnedFigures two;
  two.burn = learn(kBurnRatio, {{1.3, 0.05}, {1.3, 0.05}}).value();
  two.crown = learn(kCrownExcess, {{9.0, 3.0}, {9.0, 3.0}}).value();
  balloon::HeatSettings given;
  given.emissivity = 0.5;
  const OwnFigures own = own_figures(two, given);
  EXPECT_EQ(own.heat.loss, 1.0);
  EXPECT_EQ(own.heat.uncertainty, 0.25);
  EXPECT_EQ(own.heat.emissivity, 0.5);
  EXPECT_EQ(own.crown_excess, balloon::kCrownExcess);
  EXPECT_EQ(own.crown_uncertainty, 8.0 * kelvin);
}

TEST(OwnFigures, TakeWhatIsYours) {
  LearnedFigures learned;
  learned.burn = learn(kBurnRatio, std::vector<FlightRecord>(6, {1.3, 0.05})).value();
  learned.crown = learn(kCrownExcess, std::vector<FlightRecord>(6, {9.0, 3.0})).value();
  const OwnFigures own = own_figures(learned);
  EXPECT_EQ(own.heat.loss, learned.burn.value);
  EXPECT_DOUBLE_EQ(own.heat.uncertainty * own.heat.loss, learned.burn.next);
  EXPECT_LT(own.heat.uncertainty, 0.25);
  EXPECT_EQ(own.crown_excess, learned.crown.value * kelvin);
  EXPECT_EQ(own.crown_uncertainty, learned.crown.next * kelvin);
  learned.crown.value = -3.0;
  EXPECT_EQ(own_figures(learned).crown_excess, TemperatureDelta{});
}

TEST(OwnFigures, AnUnbelievableLossIsRefusedByTheHeatBalance) {
  LearnedFigures learned;
  learned.burn.yours = true;
  for (const double value : {-0.1, 0.0, 0.2, 3.1}) {
    learned.burn.value = value;
    const auto flow = balloon::level_flow({{celsius(15.0), celsius(4.0), standard_atmosphere},
                                           celsius(80.0),
                                           2180.0 * cubic_metre,
                                           own_figures(learned).heat});
    EXPECT_FALSE(flow) << value;
  }
}

}  // namespace
}  // namespace pappus::book
