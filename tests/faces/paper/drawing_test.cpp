#include "faces/paper/drawing.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::paper {
namespace {

constexpr words::Reader kUs{words::Language::en, words::Units::us, {}, std::nullopt};
constexpr words::Reader kMetric{words::Language::en, words::Units::metric, {}, std::nullopt};

std::string labels_of(const Axis& axis) {
  std::string out;
  for (const Axis::Tick& tick : axis.ticks()) out += (out.empty() ? "" : " ") + tick.label;
  return out;
}

TEST(Drawing, TicksStandAtTheReadersRoundNumbers) {
  const double high = (980.0 * foot).in(metre);
  EXPECT_EQ(labels_of(Axis(MeasureKind::height, 0.0, high, 0.0, 100.0, 6, kUs)), "0 200 400 600 800 1,000");
  EXPECT_EQ(labels_of(Axis(MeasureKind::height, 0.0, high, 0.0, 100.0, 8, kMetric)), "0 50 100 150 200 250 300");
  EXPECT_EQ(labels_of(Axis(MeasureKind::temperature, 276.0, 394.0, 0.0, 100.0, 5, kMetric)), "0 50 100 150");
  EXPECT_EQ(labels_of(Axis(MeasureKind::bearing_true, 300.0, 450.0, 0.0, 100.0, 5, kUs)), "270° 315° 360° 045° 090°");
}

TEST(Drawing, AnAxisHoldsItsRangeWithFewEnoughTicks) {
  auto random = testing::seeded("Drawing.Axis");
  for (int i = 0; i < 2000; ++i) {
    const double low = random.uniform(-50.0, 2000.0), high = low + random.uniform(0.0, 3000.0);
    const int most = 3 + static_cast<int>(random.below(7));
    for (const words::Reader& reader : {kUs, kMetric}) {
      const Axis axis{MeasureKind::height, low, high, 10.0, 310.0, most, reader};
      EXPECT_GE(axis.ticks().size(), 2u);
      EXPECT_LE(axis.ticks().size(), static_cast<std::size_t>(most));
      EXPECT_NEAR(axis.ticks().front().at, 10.0, 1e-6);
      EXPECT_NEAR(axis.ticks().back().at, 310.0, 1e-6);
      for (const double x : {low, high}) {
        EXPECT_GE(axis.at(x), 10.0 - 1e-6);
        EXPECT_LE(axis.at(x), 310.0 + 1e-6);
      }
    }
  }
}

TEST(Drawing, HatchingKeepsToItsBox) {
  EXPECT_TRUE(hatched({10.0, 10.0, 10.0, 40.0}, 6.0).empty());
  const std::string d = hatched({10.0, 20.0, 30.0, 25.0}, 6.0).d();
  EXPECT_EQ(d, "M11 25L16 20M17 25L22 20M23 25L28 20M29 25L30 24");
}

TEST(Drawing, RingsReachTheFarthest) {
  const auto round = rings(MeasureKind::distance, 17'000.0, 4, kMetric);
  ASSERT_EQ(round.size(), 4u);
  EXPECT_EQ(round.front().label, "5.0 km");
  EXPECT_EQ(round.back().label, "20 km");
  EXPECT_TRUE(rings(MeasureKind::distance, 0.0, 4, kMetric).empty());
}

TEST(Drawing, LabelsLeaveEachOtherRoom) {
  Labels labels{{0.0, 0.0, 100.0, 100.0}};
  EXPECT_TRUE(labels.take({10.0, 10.0, 30.0, 20.0}));
  EXPECT_FALSE(labels.take({25.0, 15.0, 40.0, 25.0}));
  EXPECT_TRUE(labels.take({30.0, 10.0, 40.0, 20.0}));
  EXPECT_FALSE(labels.take({90.0, 10.0, 101.0, 20.0}));
}

TEST(Drawing, NamesAreCutByCharactersNotBytes) {
  EXPECT_EQ(shortened("Quarry", 6), "Quarry");
  EXPECT_EQ(shortened("Quarry", 5), "Quar\xE2\x80\xA6");
  EXPECT_EQ(shortened("\xC3\xA4\xC3\xB6\xC3\xBC\xC3\xA4", 3), "\xC3\xA4\xC3\xB6\xE2\x80\xA6");
}

TEST(Drawing, CoordinatesAreTenths) {
  EXPECT_EQ(px(12.34), "12.3");
  EXPECT_EQ(px(-0.04), "0");
  EXPECT_EQ(px(-0.25), "-0.3");
  EXPECT_EQ(px(7.0), "7");
}

}  // namespace
}  // namespace pappus::paper
