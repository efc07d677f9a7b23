#include "core/base/refusal.hpp"

#include <limits>

#include <gtest/gtest.h>

namespace pappus {
namespace {

TEST(Refusal, WritesAMeasureAsFilesReadIt) {
  EXPECT_EQ(written(measure::of(celsius(28.0))), "28C");
  EXPECT_EQ(written(measure::of(celsius(-0.25))), "-0.25C");
  EXPECT_EQ(written(measure::air(1018.0 * hectopascal)), "1018hPa");
  EXPECT_EQ(written(measure::of(amsl(1500.0 * metre))), "1500m");
  EXPECT_EQ(written(measure::ratio(0.35)), "35%");
  EXPECT_EQ(written(measure::number(2.5)), "2.5");
  EXPECT_EQ(written(measure::of(18.0 * kilogram)), "18kg");
}

TEST(Refusal, DoesNotShowAValueBeyondABoundAsTheBound) {
  EXPECT_EQ(written(measure::of(amsl(6000.00001 * metre))), "6000.00001m");
}

TEST(Refusal, NamesValueAndBounds) {
  const Measure value = measure::of(celsius(61.0)), low = measure::of(celsius(-80.0)),
                high = measure::of(celsius(60.0));
  const Issue issue = refuse_outside("some.key", value, low, high).value();
  EXPECT_EQ(issue.code, Errc::out_of_range);
  EXPECT_EQ(issue.sentence, say("some.key", {{"value", value}, {"low", low}, {"high", high}}));
  EXPECT_EQ(issue.got, "61C");
  EXPECT_EQ(issue.wanted, "-80C .. 60C");
}

TEST(Refusal, SaysWhenTheValueIsNoNumber) {
  EXPECT_EQ(written(measure::number(std::numeric_limits<double>::infinity())), "inf");
}

}  // namespace
}  // namespace pappus
