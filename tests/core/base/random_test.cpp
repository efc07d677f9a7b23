#include "core/base/random.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus {
namespace {

// Known answers of the paper's reference implementation (Random123 kat_vectors, philox4x32 10 rounds; from memory).
TEST(Random, GivesTheKnownAnswers) {
  using Block = std::array<std::uint32_t, 4>;
  EXPECT_EQ(philox({0, 0, 0, 0}, {0, 0}), (Block{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}));
  EXPECT_EQ(philox({0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, {0xffffffff, 0xffffffff}),
            (Block{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}));
  EXPECT_EQ(philox({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}),
            (Block{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}));
}

TEST(Random, DependsOnlyOnSeedItemAndDraw) {
  Random a{7, 3}, b{7, 3}, c{7, 4};
  const double first = a.uniform();
  EXPECT_EQ(first, b.uniform());
  EXPECT_NE(first, c.uniform());
}

TEST(Random, UniformHasTheMomentsOfItsLaw) {
  Random r = testing::seeded("Random.Uniform");
  double sum = 0, square = 0;
  constexpr int n = 100'000;
  for (int i = 0; i < n; ++i) {
    const double u = r.uniform();
    ASSERT_GE(u, 0.0);
    ASSERT_LT(u, 1.0);
    sum += u;
    square += u * u;
  }
  EXPECT_NEAR(sum / n, 0.5, 5 * 0.2887 / 316.0);
  EXPECT_NEAR(square / n, 1.0 / 3.0, 5 * 0.298 / 316.0);
}

TEST(Random, NormalHasTheMomentsOfItsLaw) {
  Random r = testing::seeded("Random.Normal");
  double sum = 0, square = 0;
  constexpr int n = 100'000;
  for (int i = 0; i < n; ++i) {
    const double x = r.normal();
    sum += x;
    square += x * x;
  }
  EXPECT_NEAR(sum / n, 0.0, 5 / 316.0);
  EXPECT_NEAR(square / n, 1.0, 5 * 1.414 / 316.0);
}

}  // namespace
}  // namespace pappus
