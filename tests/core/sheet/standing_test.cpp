#include <limits>

#include <gtest/gtest.h>

#include "core/sheet/limit.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::sheet {
namespace {

constexpr std::array kStates{LimitState::inside, LimitState::near, LimitState::outside, LimitState::not_known};
constexpr std::array kKinds{LimitKind::must, LimitKind::look};
constexpr std::array kAuthorities{Authority::law,         Authority::flight_manual,   Authority::handbook,
                                  Authority::own_minimum, Authority::common_practice, Authority::ours,
                                  Authority::pilot};

Limit random_limit(Random& random) {
  Limit limit;
  limit.state = kStates[random.below(kStates.size())];
  limit.kind = kKinds[random.below(kKinds.size())];
  limit.source.kind = kAuthorities[random.below(kAuthorities.size())];
  if (random.below(2) == 0) limit.accepted = Acceptance{"seen and judged", {}};
  return limit;
}

TEST(Standing, NeverSpeaksForFlyingWhileAMustIsOutsideOrNotKnown) {
  Random random = testing::seeded("Standing.Never");
  int checked = 0;
  for (int i = 0; i < 20'000; ++i) {
    std::vector<Limit> limits(random.below(12));
    for (Limit& limit : limits) limit = random_limit(random);
    bool barred = false;
    for (const Limit& limit : limits) {
      const bool waved =
          limit.accepted && limit.source.kind != Authority::law && limit.source.kind != Authority::flight_manual;
      if (limit.kind == LimitKind::must && limit.state == LimitState::not_known) barred = true;
      if (limit.state == LimitState::outside && !waved) barred = true;
    }
    const Standing standing = standing_of(limits);
    const bool speaks_for = standing == Standing::nothing_against || standing == Standing::with_care;
    EXPECT_EQ(speaks_for, !barred);
    if (barred) ++checked;
  }
  EXPECT_GT(checked, 1000);
}

TEST(Standing, TakesTheGravestOfItsLimits) {
  const auto with = [](LimitState state, LimitKind kind) {
    Limit limit;
    limit.state = state;
    limit.kind = kind;
    return limit;
  };
  const Limit inside = with(LimitState::inside, LimitKind::must);
  const Limit near = with(LimitState::near, LimitKind::must);
  const Limit outside = with(LimitState::outside, LimitKind::must);
  const Limit unknown = with(LimitState::not_known, LimitKind::must);
  const Limit look = with(LimitState::not_known, LimitKind::look);
  EXPECT_EQ(standing_of({}), Standing::nothing_against);
  EXPECT_EQ(standing_of({inside, inside}), Standing::nothing_against);
  EXPECT_EQ(standing_of({inside, near}), Standing::with_care);
  EXPECT_EQ(standing_of({inside, look}), Standing::with_care);
  EXPECT_EQ(standing_of({near, unknown}), Standing::not_known);
  EXPECT_EQ(standing_of({unknown, outside}), Standing::against);
}

TEST(Standing, AcceptanceDoesNotReachLawOrFlightManual) {
  for (const Authority authority : kAuthorities) {
    Limit limit;
    limit.state = LimitState::outside;
    limit.source.kind = authority;
    limit.accepted = Acceptance{"known ground", {}};
    const bool fixed = authority == Authority::law || authority == Authority::flight_manual;
    EXPECT_EQ(may_be_accepted(limit), !fixed) << name_of(authority);
    EXPECT_EQ(standing_of({limit}), fixed ? Standing::against : Standing::with_care) << name_of(authority);
  }
}

TEST(Standing, AValueOnItsBoundIsNotBeyondIt) {
  const Bound most{measure::number(10.0), Side::at_most}, soft{measure::number(8.0), Side::at_most};
  EXPECT_EQ(state_against(8.0, soft, most), LimitState::inside);
  EXPECT_EQ(state_against(8.5, soft, most), LimitState::near);
  EXPECT_EQ(state_against(10.0, soft, most), LimitState::near);
  EXPECT_EQ(state_against(10.5, soft, most), LimitState::outside);
  const Bound least{measure::number(5.0), Side::at_least};
  EXPECT_EQ(state_against(5.0, std::nullopt, least), LimitState::inside);
  EXPECT_EQ(state_against(4.9, std::nullopt, least), LimitState::outside);
  EXPECT_EQ(state_against(std::numeric_limits<double>::quiet_NaN(), soft, most), LimitState::not_known);
}

}  // namespace
}  // namespace pappus::sheet
