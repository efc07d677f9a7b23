#include "core/wind/by_eye.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "tests/support/table.hpp"

namespace pappus::wind {
namespace {

TEST(ByEye, MatchesTheHandbooksSigns) {
  std::size_t rows = 0;
  for (const auto& row : testing::read_table("wind_by_eye.csv")) {
    SCOPED_TRACE(row.text("source") + ": " + row.text("sign"));
    const auto sign = named<EyeSign>(row.text("sign"));
    ASSERT_TRUE(sign.has_value());
    EXPECT_NEAR(wind_by_eye(*sign).low.in(mile_per_hour), row["low_mph"], row["tolerance_mph"] + 1e-12);
    EXPECT_NEAR(wind_by_eye(*sign).high.in(mile_per_hour), row["high_mph"], row["tolerance_mph"] + 1e-12);
    ++rows;
  }
  EXPECT_EQ(rows, Names<EyeSign>::all.size()) << "every sign has its row";
}

TEST(ByEye, EverySignStandsOnceByRisingUpperFigure) {
  const auto signs = winds_by_eye();
  ASSERT_EQ(signs.size(), Names<EyeSign>::all.size());
  for (const auto& [sign, name] : Names<EyeSign>::all) {
    const auto is_it = [wanted = sign](const EyeWind& w) { return w.sign == wanted; };
    EXPECT_EQ(std::count_if(signs.begin(), signs.end(), is_it), 1) << name;
    EXPECT_EQ(wind_by_eye(sign).sign, sign) << name;
  }
  for (std::size_t i = 1; i < signs.size(); ++i) EXPECT_LE(signs[i - 1].high, signs[i].high);
  for (const EyeWind& w : signs) EXPECT_LE(w.low, w.high);
}

}  // namespace
}  // namespace pappus::wind
