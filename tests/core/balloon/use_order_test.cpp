#include "core/balloon/use_order.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <string>
#include <tuple>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/random.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::balloon {
namespace {

using testing::expect_refused;
using testing::seeded;

double kg(Mass m) { return m.in(kilogram); }
double minutes(Duration d) { return d.in(minute); }

UseCylinder cylinder(const std::string& id, const std::string& side, double usable_kg, bool measured = true) {
  return {id, side, usable_kg * kilogram, 1.0 * kilogram, 30.0 * kilogram, measured};
}

// Level flight takes 0.5 kg a minute on the unlucky side, and so does the flight; inflation takes 5 kg.
UseInputs flight(std::vector<UseCylinder> cylinders, double planned_min = 60.0) {
  UseInputs in;
  in.cylinders = std::move(cylinders);
  in.planned = planned_min * minute;
  in.fuel.inflation = 5.0 / (1.0 + kInflationUncertainty) * kilogram;
  in.fuel.used_unlucky = (5.0 + 0.5 * planned_min) * kilogram;
  in.fuel.flow = 0.4 * kilogram / (60.0 * second);
  in.fuel.flow_unlucky = 0.5 * kilogram / (60.0 * second);
  return in;
}

UseInputs random_flight(Random& random, std::size_t cylinders, std::size_t sides) {
  std::vector<UseCylinder> all;
  for (std::size_t i = 0; i < cylinders; ++i)
    all.push_back(cylinder(std::to_string(i + 1), std::string(1, static_cast<char>('A' + random.below(sides))),
                           random.uniform(4.0, 28.0), random.below(3) > 0));
  return flight(all, std::floor(random.uniform(20.0, 70.0)));
}

const UseLoss& loss(const UsePlan& plan, LossOf of, const std::string& name) {
  for (const UseLoss& l : plan.losses)
    if (l.of == of && l.name == name) return l;
  ADD_FAILURE() << "no such loss: " << name;
  return plan.losses.front();
}

// --- a scorer of its own: it draws by small sips and looks at every loss after each of them ---

struct Sipped {
  double worst_min = 1e9, smallest_side_min = 0.0, landing_share = 0.0;
  bool lands_well = false;
  int changes = 0;
};
Sipped sip(const UseInputs& in, const std::vector<Visit>& visits, int sips_each) {
  Sipped out;
  std::vector<double> left;
  std::map<std::string, double> had;
  for (const UseCylinder& c : in.cylinders) {
    left.push_back(kg(c.usable));
    had[c.side] += kg(c.usable);
  }
  const int sides = static_cast<int>(std::count_if(had.begin(), had.end(), [](auto& s) { return s.second > 0.0; }));
  const auto look = [&] {
    double all = 0.0;
    std::map<std::string, double> by_side;
    for (std::size_t i = 0; i < left.size(); ++i) {
      all += left[i];
      by_side[in.cylinders[i].side] += left[i];
    }
    // Where one side has all the fuel, its loss leaves nothing whatever is done.
    if (sides > 1)
      for (const auto& [side, mass] : by_side) out.worst_min = std::min(out.worst_min, (all - mass) / 0.5);
    for (const double one : left) out.worst_min = std::min(out.worst_min, (all - one) / 0.5);
    out.smallest_side_min = 1e9;
    for (const auto& [side, mass] : by_side)
      if (had[side] > 0.0) out.smallest_side_min = std::min(out.smallest_side_min, mass / 0.5);
  };
  look();
  std::size_t in_use = in.cylinders.size();
  for (const Visit& v : visits) {
    if (!(v.drawn > Mass{})) continue;
    if (in_use != in.cylinders.size() && in_use != v.cylinder) ++out.changes;
    in_use = v.cylinder;
    for (int s = 0; s < sips_each; ++s) {
      left[v.cylinder] -= kg(v.drawn) / sips_each;
      look();
    }
  }
  const UseCylinder& last = in.cylinders[in_use];
  out.landing_share = (left[in_use] + kg(last.behind)) / kg(last.full);
  out.lands_well = last.measured && out.landing_share > 1.0 / 3.0;
  return out;
}
auto whole(double value_min) { return std::floor(value_min + 1e-6); }
auto full_key(const Sipped& s) {
  return std::tuple{whole(s.worst_min), whole(s.smallest_side_min), s.lands_well, -s.changes};
}

std::vector<Visit> visits_of(const UseInputs& in, const UsePlan& plan) {
  std::vector<Visit> out;
  for (const UseLeg& leg : plan.legs)
    for (std::size_t i = 0; i < in.cylinders.size(); ++i)
      if (in.cylinders[i].id == leg.id) out.push_back({i, leg.drawn});
  return out;
}

TEST(UseOrder, ChangesHalfWayBetweenTwoEqualSides) {
  // 35 kg out of two of 25: each keeps 7.5 kg, and one change does it.
  const auto proposal = proposed_use(flight({cylinder("1", "A", 25.0), cylinder("2", "B", 25.0)})).value();
  const UsePlan& plan = proposal.plan;
  EXPECT_TRUE(proposal.all_orders);
  ASSERT_EQ(plan.legs.size(), 2u);
  EXPECT_EQ(plan.legs[0].id, "1");
  EXPECT_NEAR(kg(plan.legs[0].drawn), 17.5, 1e-9);
  EXPECT_NEAR(minutes(plan.legs[0].from), 0.0, 1e-9);
  EXPECT_NEAR(minutes(plan.legs[0].until), 25.0, 1e-9);  // 12.5 kg after inflation
  EXPECT_NEAR(minutes(plan.legs[1].until), 60.0, 1e-9);
  EXPECT_NEAR(minutes(plan.score.worst_after_loss), 15.0, 1e-9);
  EXPECT_NEAR(minutes(plan.score.smallest_side), 15.0, 1e-9);
  EXPECT_EQ(plan.score.changes, 1);
  EXPECT_EQ(plan.sides, 2);
  EXPECT_EQ(plan.short_of, Mass{});
}

TEST(UseOrder, TellsWhatALossLeavesAtEveryMoment) {
  // One after the other: cylinder 1 (20 kg) is spent 30 minutes after launch, cylinder 2 (30 kg) lands with 15.
  const UsePlan plan = use_in_turn(flight({cylinder("1", "A", 20.0), cylinder("2", "B", 30.0)}), {0, 1}).value();
  const UseLoss &one = loss(plan, LossOf::cylinder, "1"), &two = loss(plan, LossOf::cylinder, "2");
  ASSERT_EQ(plan.moments.size(), 13u);
  for (std::size_t i = 0; i < plan.moments.size(); ++i) {
    const double t = minutes(plan.moments[i]);
    EXPECT_NEAR(t, 5.0 * static_cast<double>(i), 1e-9);
    EXPECT_NEAR(minutes(one.left[i]), t <= 30.0 ? 60.0 : 60.0 - (t - 30.0), 1e-9) << t;
    EXPECT_NEAR(minutes(two.left[i]), t <= 30.0 ? 30.0 - t : 0.0, 1e-9) << t;
  }
  EXPECT_NEAR(minutes(one.worst), 30.0, 1e-9);
  EXPECT_NEAR(minutes(one.worst_from), 60.0, 1e-9);
  EXPECT_FALSE(one.too_late_after.has_value());  // 30 minutes is the own minimum, not less
  EXPECT_NEAR(minutes(two.worst), 0.0, 1e-9);
  EXPECT_NEAR(minutes(two.worst_from), 30.0, 1e-9);
  EXPECT_NEAR(minutes(two.too_late_after.value()), 0.0, 1e-9);

  UseInputs less = flight({cylinder("1", "A", 20.0), cylinder("2", "B", 30.0)});
  less.minimum = 12.0 * minute;
  const UsePlan lower = use_in_turn(less, {0, 1}).value();
  EXPECT_NEAR(minutes(loss(lower, LossOf::cylinder, "2").too_late_after.value()), 18.0, 1e-9);
  less.minimum = 40.0 * minute;
  const UsePlan higher = use_in_turn(less, {0, 1}).value();
  EXPECT_NEAR(minutes(loss(higher, LossOf::cylinder, "1").too_late_after.value()), 50.0, 1e-9);
  EXPECT_NEAR(minutes(loss(higher, LossOf::cylinder, "2").too_late_after.value()), 0.0, 1e-9);
}

TEST(UseOrder, KeepsAMeasuredCylinderForLandingWhereTheSidesDoNotSpeakAgainstIt) {
  // One side: the order can't help the side, and the third cylinder is the only one whose contents are proven.
  const UseInputs in =
      flight({cylinder("1", "A", 28.0, false), cylinder("2", "A", 28.0, false), cylinder("3", "A", 28.0, true)});
  const UsePlan plan = proposed_use(in).value().plan;
  EXPECT_EQ(plan.legs.back().id, "3");
  EXPECT_TRUE(plan.score.lands_well);
  EXPECT_EQ(plan.sides, 1);
  EXPECT_NEAR(minutes(loss(plan, LossOf::side, "A").worst), 0.0, 1e-9);
}

TEST(UseOrder, SaysNothingGoodWhereTheFuelDoesNotSuffice) {
  const UsePlan plan = proposed_use(flight({cylinder("1", "A", 10.0), cylinder("2", "B", 15.0)})).value().plan;
  EXPECT_NEAR(kg(plan.short_of), 10.0, 1e-9);
  EXPECT_EQ(plan.score.worst_after_loss, Duration{});
  EXPECT_EQ(plan.score.smallest_side, Duration{});
  for (const UseLoss& l : plan.losses) {
    for (const Duration d : l.left) EXPECT_EQ(d, Duration{});
    EXPECT_EQ(l.too_late_after.value(), Duration{});
  }
  double drawn = 0.0;
  for (const UseLeg& leg : plan.legs) drawn += kg(leg.drawn);
  EXPECT_NEAR(drawn, 25.0, 1e-9);
  EXPECT_NEAR(minutes(plan.legs.back().until), 40.0, 1e-6);  // then it is all gone
}

TEST(UseOrder, SumsAndNeverRises) {
  Random random = seeded("UseOrder.Laws");
  for (int i = 0; i < 200; ++i) {
    const UseInputs in = random_flight(random, 1 + random.below(5), 1 + random.below(3));
    const UsePlan plan = proposed_use(in).value().plan;
    double drawn = 0.0, all = 0.0;
    std::map<std::string, double> by_cylinder, usable;
    for (const UseCylinder& c : in.cylinders) {
      all += kg(c.usable);
      usable[c.id] = kg(c.usable);
    }
    Duration before;
    for (const UseLeg& leg : plan.legs) {
      EXPECT_GE(leg.from, before - 1e-6 * second);
      EXPECT_GE(leg.until, leg.from);
      before = leg.until;
      drawn += kg(leg.drawn);
      by_cylinder[leg.id] += kg(leg.drawn);
      EXPECT_NEAR(kg(leg.left), usable[leg.id] - by_cylinder[leg.id], 1e-9);
    }
    EXPECT_NEAR(drawn, std::min(all, kg(in.fuel.used_unlucky)), 1e-9);
    EXPECT_NEAR(kg(plan.short_of), std::max(0.0, kg(in.fuel.used_unlucky) - all), 1e-9);
    for (const UseLoss& l : plan.losses) {
      for (std::size_t m = 1; m < l.left.size(); ++m) EXPECT_LE(l.left[m], l.left[m - 1] + 1e-6 * second);
      EXPECT_NEAR(minutes(l.left.back()), minutes(l.worst), 1e-9);
      for (std::size_t m = 0; m < l.left.size(); ++m) {
        if (!l.too_late_after || plan.moments[m] < *l.too_late_after) {
          EXPECT_GE(l.left[m], in.minimum - 1e-6 * second);
        } else if (plan.moments[m] > *l.too_late_after + 1e-6 * second) {
          EXPECT_LE(l.left[m], in.minimum + 1e-6 * second);
        }
        if (plan.moments[m] >= l.worst_from) {
          EXPECT_NEAR(minutes(l.left[m]), minutes(l.worst), 1e-6);
        }
      }
      // A whole side never leaves more than one of its cylinders.
      for (const UseCylinder& c : in.cylinders) {
        if (l.of != LossOf::side || c.side != l.name) continue;
        for (std::size_t m = 0; m < l.left.size(); ++m)
          EXPECT_LE(l.left[m], loss(plan, LossOf::cylinder, c.id).left[m] + 1e-6 * second);
      }
    }
  }
}

TEST(UseOrder, NeverHasFewerMinutesWithMoreFuel) {
  Random random = seeded("UseOrder.MoreFuel");
  for (int i = 0; i < 200; ++i) {
    UseInputs in = random_flight(random, 2 + random.below(3), 2);
    const UsePlan before = proposed_use(in).value().plan;
    std::vector<std::size_t> order(in.cylinders.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const UsePlan turn_before = use_in_turn(in, order).value();
    in.cylinders[random.below(in.cylinders.size())].usable += random.uniform(0.1, 5.0) * kilogram;
    const UsePlan after = proposed_use(in).value().plan;
    EXPECT_GE(std::floor(minutes(after.score.worst_after_loss) + 1e-9),
              std::floor(minutes(before.score.worst_after_loss) + 1e-9));
    // Losing any cylinder but the one that got more, or that one, in a fixed order: never fewer minutes.
    const UsePlan turn_after = use_in_turn(in, order).value();
    for (std::size_t l = 0; l < turn_after.losses.size(); ++l)
      for (std::size_t m = 0; m < turn_after.moments.size(); ++m)
        EXPECT_GE(turn_after.losses[l].left[m], turn_before.losses[l].left[m] - 1e-6 * second);
  }
}

TEST(UseOrder, IsNotBeatenByAnyWayOfDrawing) {
  // Every way of drawing the fuel in six sips from any of up to three cylinders, scored apart.
  Random random = seeded("UseOrder.Brute");
  int held = 0;
  for (int i = 0; i < 60; ++i) {
    const UseInputs in = random_flight(random, 2 + random.below(2), 1 + random.below(3));
    const UsePlan plan = proposed_use(in).value().plan;
    if (plan.short_of > Mass{}) continue;
    const Sipped ours = sip(in, visits_of(in, plan), 40);
    EXPECT_NEAR(ours.worst_min, minutes(plan.score.worst_after_loss), 1e-6);
    EXPECT_NEAR(ours.smallest_side_min, minutes(plan.score.smallest_side), 1e-6);
    EXPECT_EQ(ours.lands_well, plan.score.lands_well);
    EXPECT_NEAR(ours.landing_share, plan.score.landing_share, 1e-9);
    EXPECT_EQ(ours.changes, plan.score.changes);
    const std::size_t n = in.cylinders.size();
    constexpr int quanta = 6;
    std::size_t ways = 1;
    for (int q = 0; q < quanta; ++q) ways *= n;
    for (std::size_t way = 0; way < ways; ++way) {
      std::vector<Visit> visits;
      std::vector<double> drawn(n, 0.0);
      for (std::size_t q = 0, rest = way; q < quanta; ++q, rest /= n) {
        visits.push_back({rest % n, in.fuel.used_unlucky / quanta});
        drawn[rest % n] += kg(visits.back().drawn);
      }
      bool possible = true;
      for (std::size_t c = 0; c < n; ++c) possible = possible && drawn[c] <= kg(in.cylinders[c].usable);
      if (!possible) continue;
      const Sipped other = sip(in, visits, 1);
      EXPECT_LE(std::tuple(whole(other.worst_min), whole(other.smallest_side_min)),
                std::tuple(whole(ours.worst_min), whole(ours.smallest_side_min)));
      ++held;
    }
  }
  EXPECT_GT(held, 1000);
}

TEST(UseOrder, IsNotBeatenByAnyOrderOfUseInTurn) {
  Random random = seeded("UseOrder.InTurn");
  for (int i = 0; i < 100; ++i) {
    const UseInputs in = random_flight(random, 2 + random.below(3), 1 + random.below(3));
    const UsePlan plan = proposed_use(in).value().plan;
    if (plan.short_of > Mass{}) continue;
    const Sipped ours = sip(in, visits_of(in, plan), 10);
    std::vector<std::size_t> order(in.cylinders.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    do {
      double rest = kg(in.fuel.used_unlucky);
      std::vector<Visit> visits;
      for (const std::size_t c : order) {
        const double here = std::min(rest, kg(in.cylinders[c].usable));
        visits.push_back({c, here * kilogram});
        rest -= here;
      }
      EXPECT_LE(full_key(sip(in, visits, 10)), full_key(ours));
    } while (std::next_permutation(order.begin(), order.end()));
  }
}

TEST(UseOrder, TakesTheFilesOrderAmongEqualsAndTheSameEveryTime) {
  const UseInputs in = flight({cylinder("c", "A", 20.0), cylinder("b", "B", 20.0), cylinder("a", "C", 20.0)}, 20.0);
  const UsePlan plan = proposed_use(in).value().plan;
  EXPECT_EQ(plan.legs.front().id, "c");
  Random random = seeded("UseOrder.Same");
  for (int i = 0; i < 20; ++i) {
    const UseInputs some = random_flight(random, 4, 2);
    const UsePlan a = proposed_use(some).value().plan, b = proposed_use(some).value().plan;
    ASSERT_EQ(a.legs.size(), b.legs.size());
    for (std::size_t l = 0; l < a.legs.size(); ++l) {
      EXPECT_EQ(a.legs[l].id, b.legs[l].id);
      EXPECT_EQ(a.legs[l].drawn, b.legs[l].drawn);
    }
  }
}

TEST(UseOrder, FallsBackToARuleWithMoreThanSixCylinders) {
  std::vector<UseCylinder> many;
  for (int i = 0; i < 8; ++i) many.push_back(cylinder(std::to_string(i), i % 2 == 0 ? "A" : "B", 15.0 + i));
  const auto proposal = proposed_use(flight(many)).value();
  EXPECT_FALSE(proposal.all_orders);
  EXPECT_GE(proposal.tried, 8 * 3);
  EXPECT_GT(proposal.plan.score.worst_after_loss, Duration{});
}

TEST(UseOrder, RefusesWhatCannotBe) {
  const UseInputs in = flight({cylinder("1", "A", 25.0), cylinder("2", "B", 25.0)});
  const auto with = [&](auto change) {
    UseInputs other = in;
    change(other);
    return proposed_use(other);
  };
  EXPECT_EQ(with([](UseInputs& u) { u.cylinders.clear(); }).error().sentence.key, "use.no_cylinders");
  EXPECT_EQ(with([](UseInputs& u) { u.fuel.flow_unlucky = MassFlow{}; }).error().sentence.key, "use.flow_unknown");
  expect_refused(with([](UseInputs& u) { u.cylinders[1].id = "1"; }), "use.same_id", Errc::bad_input);
  expect_refused(with([](UseInputs& u) { u.cylinders[1].usable = -1.0 * kilogram; }), "use.mass_outside");
  expect_refused(with([](UseInputs& u) { u.fuel.used_unlucky = std::nan("") * kilogram; }), "use.mass_outside");
  expect_refused(with([](UseInputs& u) { u.planned = 25.0 * hour; }), "use.time_outside");
  expect_refused(with([](UseInputs& u) { u.grid = Duration{}; }), "use.time_outside");
  expect_refused(with([](UseInputs& u) { u.minimum = -1.0 * minute; }), "use.time_outside");
  expect_refused(with([](UseInputs& u) {
                   for (int i = 0; i < 30; ++i) u.cylinders.push_back(cylinder("x" + std::to_string(i), "A", 1.0));
                 }),
                 "use.cylinders_outside");
  expect_refused(use_plan(in, {{0, 10.0 * kilogram}}), "use.visits_outside", Errc::bad_call);
  expect_refused(use_plan(in, {{0, 30.0 * kilogram}, {1, 5.0 * kilogram}}), "use.visits_outside", Errc::bad_call);
  expect_refused(use_plan(in, {{2, 35.0 * kilogram}}), "use.visits_outside", Errc::bad_call);
  expect_refused(use_in_turn(in, {0, 0}), "use.order_outside", Errc::bad_call);
  expect_refused(use_in_turn(in, {0}), "use.order_outside", Errc::bad_call);
  EXPECT_TRUE(use_plan(in, {{0, 20.0 * kilogram}, {1, 15.0 * kilogram}}).has_value());
}

}  // namespace
}  // namespace pappus::balloon
