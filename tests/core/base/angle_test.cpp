#include "core/base/angle.hpp"

#include <cmath>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus {
namespace {

using testing::seeded;

Angle deg(double d) { return d * degree; }

TEST(Angle, IsHeldInTheDegreesThatWereTyped) {
  for (const double d : {0.1, 211.0, 359.9, 1e-3}) EXPECT_EQ(deg(d).in(degree), d);
  EXPECT_DOUBLE_EQ((pi * radian).in(degree), 180.0);
  EXPECT_DOUBLE_EQ(deg(90.0).in(radian), pi / 2);
}

TEST(Angle, WrappedLiesInTheCircleAndIsTheSameDirection) {
  Random random = seeded("Angle.Wrapped");
  for (int i = 0; i < 10'000; ++i) {
    const double d = random.uniform(-1e5, 1e5);
    const double w = wrapped(deg(d)).in(degree);
    ASSERT_GE(w, 0.0) << d;
    ASSERT_LT(w, 360.0) << d;
    const double turns = (d - w) / 360.0;
    ASSERT_NEAR(turns, std::floor(turns + 0.5), 1e-12) << d;
    ASSERT_EQ(wrapped(deg(w)), deg(w)) << d;
  }
}

TEST(Angle, WrappedAtTheEdges) {
  EXPECT_EQ(wrapped(deg(0.0)), deg(0.0));
  EXPECT_EQ(wrapped(deg(360.0)), deg(0.0));
  EXPECT_EQ(wrapped(deg(-360.0)), deg(0.0));
  EXPECT_EQ(wrapped(deg(720.5)), deg(0.5));
  EXPECT_EQ(wrapped(deg(-1.0)), deg(359.0));
  EXPECT_EQ(wrapped(deg(-1e-20)), deg(0.0));  // 360 - 1e-20 rounds to 360, which is not in the circle
  EXPECT_LT(wrapped(deg(-1e-13)), deg(360.0));
}

TEST(Angle, ShortWayNeverTurnsMoreThanHalfACircle) {
  Random random = seeded("Angle.ShortWay");
  for (int i = 0; i < 10'000; ++i) {
    const Angle a = deg(random.uniform(-1e5, 1e5));
    const Angle s = short_way(a);
    ASSERT_GT(s, deg(-180.0));
    ASSERT_LE(s, deg(180.0));
    ASSERT_NEAR(short_way(wrapped(s) - wrapped(a)).in(degree), 0.0, 1e-9);
  }
  EXPECT_EQ(short_way(deg(180.0)), deg(180.0));
  EXPECT_EQ(short_way(deg(-180.0)), deg(180.0));
  EXPECT_EQ(short_way(deg(181.0)), deg(-179.0));
  EXPECT_EQ(short_way(deg(-10.0)), deg(-10.0));
}

TEST(Angle, SineAndCosineLieOnTheCircle) {
  Random random = seeded("Angle.Circle");
  for (int i = 0; i < 1000; ++i) {
    const Angle a = deg(random.uniform(-720.0, 720.0));
    ASSERT_NEAR(sin(a) * sin(a) + cos(a) * cos(a), 1.0, 1e-15);
    ASSERT_NEAR(tan(a) * cos(a), sin(a), 1e-14);
  }
  EXPECT_DOUBLE_EQ(sin(deg(30.0)), 0.5);
  EXPECT_DOUBLE_EQ(cos(deg(60.0)), 0.5);
}

TEST(Bearing, IsWrappedAndReversesToItself) {
  Random random = seeded("Bearing.Reversed");
  for (int i = 0; i < 1000; ++i) {
    const TrueBearing b = TrueBearing::at(deg(random.uniform(-1000.0, 1000.0)));
    ASSERT_GE(b.from_north(), deg(0.0));
    ASSERT_LT(b.from_north(), deg(360.0));
    ASSERT_NEAR((b.reversed().reversed() - b).in(degree), 0.0, 1e-9);
    ASSERT_NEAR(std::abs((b.reversed() - b).in(degree)), 180.0, 1e-9);
  }
}

TEST(Bearing, DifferenceIsTheTurnFromTheSecondToTheFirst) {
  const auto at = [](double d) { return TrueBearing::at(deg(d)); };
  EXPECT_EQ(at(10.0) - at(350.0), deg(20.0));
  EXPECT_EQ(at(350.0) - at(10.0), deg(-20.0));
  EXPECT_EQ(at(180.0) - at(0.0), deg(180.0));
}

TEST(Variation, EastIsLeastMagneticIsBest) {
  const Variation east{deg(10.0)}, west{deg(-5.0)};
  EXPECT_EQ(to_magnetic(TrueBearing::at(deg(90.0)), east).from_north(), deg(80.0));
  EXPECT_EQ(to_magnetic(TrueBearing::at(deg(90.0)), west).from_north(), deg(95.0));
  EXPECT_EQ(to_magnetic(TrueBearing::at(deg(5.0)), east).from_north(), deg(355.0));
  EXPECT_EQ(to_true(MagneticBearing::at(deg(355.0)), east).from_north(), deg(5.0));
}

TEST(Variation, ThereAndBackIsWhereItBegan) {
  Random random = seeded("Variation.RoundTrip");
  for (int i = 0; i < 10'000; ++i) {
    const Variation v{deg(random.uniform(-180.0, 180.0))};
    const TrueBearing b = TrueBearing::at(deg(random.uniform(0.0, 360.0)));
    ASSERT_NEAR((to_true(to_magnetic(b, v), v) - b).in(degree), 0.0, 1e-12);
  }
}

}  // namespace
}  // namespace pappus
