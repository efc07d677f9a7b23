#include "core/base/describe.hpp"

#include <string>
#include <type_traits>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/quantity.hpp"

namespace pappus {
namespace {

enum class Side { left, right };
struct Line {
  Side side = Side::left;
  Mass mass;
};

}  // namespace

template <>
struct Names<Side> {
  static constexpr std::array<std::pair<Side, std::string_view>, 2> all{{{Side::left, "left"}, {Side::right, "right"}}};
};
template <>
struct Description<Line> {
  static constexpr std::string_view name = "Line";
  static constexpr auto fields =
      Fields{field("side", &Line::side, "where it hangs"), field("mass", &Line::mass, "what it weighs")};
};

namespace {

static_assert(Described<Line> && !Described<Side> && Named<Side> && !Named<int>);
static_assert(name_of(Side::right) == "right" && named<Side>("left") == Side::left);

TEST(Names, GoBothWays) {
  for (const auto& [value, name] : Names<Side>::all) {
    EXPECT_EQ(name_of(value), name);
    EXPECT_EQ(named<Side>(name), value);
  }
}

TEST(Names, RefuseWhatTheyDoNotKnow) {
  EXPECT_FALSE(named<Side>("Left").has_value());
  EXPECT_FALSE(named<Side>("").has_value());
  EXPECT_TRUE(name_of(static_cast<Side>(7)).empty());
}

TEST(Description, HasTheNameOfItsStruct) { EXPECT_EQ(Description<Line>::name, "Line"); }

TEST(Description, VisitsEveryFieldInOrder) {
  std::vector<std::string> names;
  for_each_field<Line>([&](const auto& f) { names.emplace_back(f.name); });
  EXPECT_EQ(names, (std::vector<std::string>{"side", "mass"}));
}

TEST(Description, ReachesTheMembers) {
  Line line{Side::right, 3.0 * kilogram};
  int seen = 0;
  for_each_field<Line>([&](const auto& f) {
    if constexpr (std::is_same_v<std::decay_t<decltype(line.*f.member)>, Mass>) {
      line.*f.member = 4.0 * kilogram;
      ++seen;
    }
  });
  EXPECT_EQ(seen, 1);
  EXPECT_EQ(line.mass, 4.0 * kilogram);
}

}  // namespace
}  // namespace pappus
