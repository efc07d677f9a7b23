#include "core/base/nearest.hpp"

#include <gtest/gtest.h>

namespace pappus {
namespace {

const std::vector<std::string_view> kKnown{"elevation", "qnh", "airspace", "above_field"};

TEST(Nearest, FindsWhatWasMeant) {
  EXPECT_EQ(nearest("elevaton", kKnown), "elevation");    // one dropped
  EXPECT_EQ(nearest("elevatoin", kKnown), "elevation");   // two swapped
  EXPECT_EQ(nearest("QNH", kKnown), "qnh");               // case
  EXPECT_EQ(nearest("above-field", kKnown), "above_field");
  EXPECT_EQ(nearest("air", kKnown), "airspace");          // its beginning
}

TEST(Nearest, NamesNothingWhereNothingIsNear) {
  EXPECT_EQ(nearest("burner", kKnown), "");
  EXPECT_EQ(nearest("", kKnown), "");
  EXPECT_EQ(nearest("qxz", kKnown), "");
  EXPECT_EQ(nearest("anything", {}), "");
}

}  // namespace
}  // namespace pappus
