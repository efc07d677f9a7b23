#include "core/base/nearest.hpp"

#include <string>

#include <gtest/gtest.h>

namespace pappus {
namespace {

const std::vector<std::string_view> kKnown{"elevation", "qnh", "airspace", "above_field"};

TEST(Nearest, FindsWhatWasMeant) {
  EXPECT_EQ(nearest("elevaton", kKnown), "elevation");   // one dropped
  EXPECT_EQ(nearest("elevatoin", kKnown), "elevation");  // two swapped
  EXPECT_EQ(nearest("QNH", kKnown), "qnh");              // case
  EXPECT_EQ(nearest("above-field", kKnown), "above_field");
  EXPECT_EQ(nearest("air", kKnown), "airspace");  // its beginning
}

TEST(Nearest, NamesNothingWhereNothingIsNear) {
  EXPECT_EQ(nearest("burner", kKnown), "");
  EXPECT_EQ(nearest("", kKnown), "");
  EXPECT_EQ(nearest("qxz", kKnown), "");
  EXPECT_EQ(nearest("anything", {}), "");
}

TEST(Nearest, KnowsHowMuchOfAShortWordMayChange) {
  const std::vector<std::string_view> known{"at", "mass", "level_fill", "inspection", "turn-left", "us"};
  EXPECT_EQ(nearest("mas", known), "mass");
  EXPECT_EQ(nearest("MASS", known), "mass");
  EXPECT_EQ(nearest("msas", known), "mass");
  EXPECT_EQ(nearest("level-fill", known), "level_fill");
  EXPECT_EQ(nearest("levelfil", known), "level_fill");
  EXPECT_EQ(nearest("inspect", known), "inspection");
  EXPECT_EQ(nearest("mass_of_it", known), "mass");
  EXPECT_EQ(nearest("turn_left", known), "turn-left");
  EXPECT_EQ(nearest("usa", known), "us");
  EXPECT_EQ(nearest("by", known), "") << "two letters changed leave nothing of it";
  EXPECT_EQ(nearest("a", known), "at");
  EXPECT_EQ(nearest("colour", known), "");
  EXPECT_EQ(nearest("", known), "");
  EXPECT_EQ(nearest("mass", {}), "");
  EXPECT_EQ(nearest(std::string(100000, 'm'), known), "");
}

}  // namespace
}  // namespace pappus
