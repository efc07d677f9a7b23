#include "core/book/learned.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <variant>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::book {
namespace {

// A normal number by the sum of twelve even ones: enough for what is asked here.
double normal(Random& random) {
  double sum = -6.0;
  for (int i = 0; i < 12; ++i) sum += random.uniform();
  return sum;
}

TEST(Learned, WithoutRecordsIsTheGuess) {
  const Learned l = learn(kBurnRatio, {}).value();
  EXPECT_EQ(l.value, 1.0);
  EXPECT_DOUBLE_EQ(l.spread, 0.25);
  EXPECT_FALSE(l.yours);
  EXPECT_EQ(l.flights, 0);
}

TEST(Learned, IsTheWeightedMeanDoneByHand) {
  // Prior 1 +- 0.25; two flights of 0.8 with an error of 0.1 and 0.1 between flights: variance 0.02 each.
  // (16 x 1 + 50 x 0.8 + 50 x 0.8) / (16 + 50 + 50) = 96 / 116.
  const Learned l = learn(kBurnRatio, {{0.8, 0.1}, {0.8, 0.1}}).value();
  EXPECT_NEAR(l.value, 96.0 / 116.0, 1e-12);
  EXPECT_NEAR(l.spread, 1.0 / std::sqrt(116.0), 1e-12);
  EXPECT_NEAR(l.next, std::sqrt(1.0 / 116.0 + 0.01), 1e-12);
  EXPECT_FALSE(l.yours);
}

TEST(Learned, FindsTheTruthAndItsErrorIsHonest) {
  Random random = testing::seeded("Learned.Coverage");
  int within_one = 0, within_two = 0;
  const int count = 2000;
  for (int i = 0; i < count; ++i) {
    const double truth = 1.0 + 0.25 * normal(random);
    std::vector<FlightRecord> records;
    for (int k = 0; k < 12; ++k) {
      const double error = random.uniform(0.03, 0.2);
      records.push_back({truth + std::hypot(error, 0.10) * normal(random), error});
    }
    const Learned l = learn(kBurnRatio, records).value();
    within_one += std::abs(l.value - truth) <= l.spread;
    within_two += std::abs(l.value - truth) <= 2.0 * l.spread;
    EXPECT_TRUE(l.yours);
  }
  EXPECT_NEAR(within_one, 0.683 * count, 0.04 * count);
  EXPECT_NEAR(within_two, 0.954 * count, 0.02 * count);
}

TEST(Learned, SetsAsideWhatLiesFarFromTheOthers) {
  std::vector<FlightRecord> records(9, {0.9, 0.05});
  records.insert(records.begin() + 4, {2.5, 0.05});  // a cylinder that nobody wrote down
  const Learned l = learn(kBurnRatio, records).value();
  ASSERT_EQ(l.outliers.size(), 1u);
  EXPECT_EQ(l.outliers.front(), 4u);
  EXPECT_EQ(l.flights, 9);
  EXPECT_NEAR(l.value, 0.9, 0.02);
}

TEST(Learned, KeepsItsLaws) {
  Random random = testing::seeded("Learned.Laws");
  for (int i = 0; i < 300; ++i) {
    std::vector<FlightRecord> records;
    for (std::size_t k = random.below(20); k > 0; --k)
      records.push_back({random.uniform(0.6, 1.4), random.uniform(0.02, 0.3)});
    const Learned l = learn(kBurnRatio, records).value();
    double low = kBurnRatio.value, high = kBurnRatio.value;
    for (const FlightRecord& r : records) {
      low = std::min(low, r.value);
      high = std::max(high, r.value);
    }
    EXPECT_GE(l.value, low);
    EXPECT_LE(l.value, high);
    EXPECT_LE(l.spread, kBurnRatio.spread);
    EXPECT_EQ(static_cast<std::size_t>(l.flights) + l.outliers.size(), records.size());
    std::vector<FlightRecord> backwards(records.rbegin(), records.rend());
    const Learned b = learn(kBurnRatio, backwards).value();
    EXPECT_NEAR(b.value, l.value, 1e-12);
    EXPECT_NEAR(b.spread, l.spread, 1e-12);
    EXPECT_EQ(b.outliers.size(), l.outliers.size());
  }
}

TEST(Learned, RefusesRecordsThatAreNone) {
  const double no_number = std::numeric_limits<double>::quiet_NaN();
  for (const FlightRecord bad :
       {FlightRecord{no_number, 0.1}, FlightRecord{1.0, 0.0}, FlightRecord{1.0, -0.1}, FlightRecord{1.0, no_number}}) {
    const auto refused = learn(kBurnRatio, {{1.0, 0.1}, bad});
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, Errc::bad_input);
    EXPECT_EQ(refused.error().sentence.key, "book.record_unusable");
    EXPECT_EQ(std::get<Measure>(refused.error().sentence.arguments.front().value).si, 2.0);
  }
}

}  // namespace
}  // namespace pappus::book
