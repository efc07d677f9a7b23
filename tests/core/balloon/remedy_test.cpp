#include "core/balloon/remedy.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include <gtest/gtest.h>

#include "core/air/column.hpp"
#include "core/balloon/lift.hpp"
#include "core/base/math.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::balloon {
namespace {

using pappus::testing::expect_refused;
using pappus::testing::seeded;

const double kNan = std::numeric_limits<double>::quiet_NaN();

double kg(Mass m) { return m.in(kilogram); }

const Remedy* found_of(const Remedies& all, RemedyKind kind, std::optional<std::size_t> cylinder = {}) {
  const auto it = std::find_if(all.found.begin(), all.found.end(), [&](const Remedy& r) {
    return r.kind == kind && (!cylinder || r.change.cylinder_left == cylinder);
  });
  return it == all.found.end() ? nullptr : &*it;
}

const NoRemedy* none_of(const Remedies& all, RemedyKind kind, std::optional<std::size_t> cylinder = {}) {
  const auto it = std::find_if(all.none.begin(), all.none.end(), [&](const NoRemedy& r) {
    return r.kind == kind && (!cylinder || r.cylinder == cylinder);
  });
  return it == all.none.end() ? nullptr : &*it;
}

FlightFuel fuel_of(double used_kg, double flow_kg_h = 30.0) {
  FlightFuel f;
  f.used = f.used_unlucky = used_kg * kilogram;
  f.flow = f.flow_unlucky = flow_kg_h * kilogram_per_hour;
  return f;
}

CylinderFuel cylinder(std::string id, std::string group, double usable_kg) {
  return {std::move(id), std::move(group), usable_kg * kilogram, usable_kg * kilogram};
}

// 50 kg too heavy. One kilogram left is worth 1 kg; 100 m lower 20 kg; 1 K cooler 8 kg; ten minutes shorter 4 kg; each
// cylinder 45 kg, but the small one 20 kg.
Result<double> plain_margin(const Change& c) {
  double m = -50.0 + kg(c.people_left) + 20.0 * (c.lower / (100.0 * metre)) + 8.0 * c.cooler.in(kelvin) +
             4.0 * (c.shorter / (10.0 * minute));
  if (c.cylinder_left) m += *c.cylinder_left == 2 ? 20.0 : 60.0;
  return m;
}

RemedyInputs plain() {
  RemedyInputs in;
  in.margin = plain_margin;
  in.fuel = [](const Change&) { return Result<FlightFuel>{fuel_of(25.0)}; };
  in.cylinders = {cylinder("1", "A", 20.0), cylinder("2", "B", 20.0), cylinder("3", "B", 10.0)};
  in.people_most = 160.0 * kilogram;
  in.lower_most = 600.0 * metre;
  in.shorter_most = 30.0 * minute;
  return in;
}

TEST(Remedies, FindsTheSmallestAmountOfEachKind) {
  const Remedies all = remedies(plain()).value();
  EXPECT_FALSE(all.inside_already);
  EXPECT_EQ(all.finding, say("remedy.some", {{"count", measure::count(5.0)}}));
  // 50 kg; 250 m; 6.25 K, in half kelvins 6.5; 30 minutes are worth 12 kg only.
  EXPECT_EQ(kg(found_of(all, RemedyKind::leave_people)->change.people_left), 50.0);
  EXPECT_EQ(found_of(all, RemedyKind::lower)->change.lower.in(metre), 250.0);
  EXPECT_EQ(found_of(all, RemedyKind::cooler)->change.cooler.in(kelvin), 6.5);
  ASSERT_NE(none_of(all, RemedyKind::shorter), nullptr);
  EXPECT_NEAR(*none_of(all, RemedyKind::shorter)->margin, -38.0, 1e-9);
  EXPECT_EQ(none_of(all, RemedyKind::shorter)->words.key, "remedy.shorter_not_enough");
  EXPECT_NE(found_of(all, RemedyKind::leave_cylinder, 0), nullptr);
  EXPECT_NEAR(*none_of(all, RemedyKind::leave_cylinder, 2)->margin, -30.0, 1e-9);
}

TEST(Remedies, PutsTheCheapestFirst) {
  const Remedies all = remedies(plain()).value();
  // lower 2.5; cylinder 2 keeps both sides: 4; one person's mass 12; cylinder 1 takes side A with it: 14; 6.5 K: 52.
  ASSERT_EQ(all.found.size(), 5U);
  EXPECT_EQ(all.found[0].kind, RemedyKind::lower);
  EXPECT_NEAR(all.found[0].cost, 2.5, 1e-12);
  EXPECT_EQ(all.found[1].change.cylinder_left, 1U);
  EXPECT_NEAR(all.found[1].cost, 4.0, 1e-12);
  EXPECT_EQ(all.found[2].kind, RemedyKind::leave_people);
  EXPECT_NEAR(all.found[2].cost, 12.0, 1e-12);
  EXPECT_EQ(all.found[3].change.cylinder_left, 0U);
  EXPECT_NEAR(all.found[3].cost, 14.0, 1e-12);
  EXPECT_EQ(all.found[4].kind, RemedyKind::cooler);
  EXPECT_NEAR(all.found[4].cost, 52.0, 1e-12);
  // Whoever weighs it otherwise gets another order.
  RemedyInputs in = plain();
  in.costs.lower_100_m = 100.0;
  EXPECT_EQ(remedies(in)->found.front().kind, RemedyKind::leave_cylinder);
}

TEST(Remedies, SaysWhatLeavingACylinderCosts) {
  const Remedies all = remedies(plain()).value();
  const Remedy& keeps = *found_of(all, RemedyKind::leave_cylinder, 1);
  EXPECT_EQ(keeps.independence->sides_before, 2);
  EXPECT_EQ(keeps.independence->sides_after, 2);
  EXPECT_EQ(kg(keeps.independence->usable_left), 20.0);
  ASSERT_EQ(keeps.words.size(), 3U);
  EXPECT_EQ(keeps.words[0].key, "remedy.leave_cylinder");
  EXPECT_EQ(keeps.words[1].key, "remedy.sides_kept");
  EXPECT_EQ(keeps.words[2].key, "remedy.reserves");
  // Before: sides of 20 and 30 kg less 25 kg, level at 12.5 kg each, 25 min at 30 kg/h. After: 20 and 10 kg less 25 kg,
  // 2.5 kg each, 5 min.
  EXPECT_NEAR(keeps.independence->before->smallest_side.in(minute), 25.0, 1e-9);
  EXPECT_NEAR(keeps.independence->after.smallest_side.in(minute), 5.0, 1e-9);
  const Remedy& loses = *found_of(all, RemedyKind::leave_cylinder, 0);
  EXPECT_EQ(loses.independence->sides_after, 1);
  EXPECT_EQ(loses.words[1].key, "remedy.one_side_left");
}

TEST(Remedies, LeavesNoCylinderThatTheFlightNeeds) {
  RemedyInputs in = plain();
  in.fuel = [](const Change&) { return Result<FlightFuel>{fuel_of(35.0)}; };  // 50 kg aboard, 30 without cylinder 1
  const Remedies thirsty = remedies(in).value();
  ASSERT_NE(none_of(thirsty, RemedyKind::leave_cylinder, 0), nullptr);
  EXPECT_EQ(none_of(thirsty, RemedyKind::leave_cylinder, 0)->words.key, "remedy.cylinder_fuel_short");
  in.fuel = nullptr;
  EXPECT_EQ(none_of(*remedies(in), RemedyKind::leave_cylinder, 0)->words.key, "remedy.cylinder_fuel_unknown");
  in = plain();
  in.cylinders = {cylinder("1", "", 20.0), cylinder("empty", "", 0.0)};
  EXPECT_EQ(none_of(*remedies(in), RemedyKind::leave_cylinder, 0)->words.key, "remedy.last_cylinder");
  // The flight as planned may have no answer; what the lighter one keeps is told all the same.
  in = plain();
  in.fuel = [](const Change& c) -> Result<FlightFuel> {
    if (!c.cylinder_left) return fail(Errc::out_of_range, say("lift.load_outside"));
    return fuel_of(25.0);
  };
  const Remedies heavy = remedies(in).value();
  EXPECT_FALSE(found_of(heavy, RemedyKind::leave_cylinder, 1)->independence->before.has_value());
  EXPECT_EQ(found_of(heavy, RemedyKind::leave_cylinder, 1)->words[2].key, "remedy.reserve_after");
}

TEST(Remedies, ChoosesFewPeopleAndOfTheLastTheLightest) {
  RemedyInputs in = plain();
  in.people = {48.0 * kilogram, 95.0 * kilogram, 61.0 * kilogram, 70.0 * kilogram};
  const auto who = [&] {
    const Remedies all = remedies(in).value();
    const Remedy* r = found_of(all, RemedyKind::leave_people);
    return r ? r->people : std::vector<std::size_t>{};
  };
  EXPECT_EQ(who(), (std::vector<std::size_t>{2}));  // 50 kg: 61 will do, 48 will not
  in.margin = [](const Change& c) { return Result<double>{kg(c.people_left) - 150.0}; };
  EXPECT_EQ(who(), (std::vector<std::size_t>{1, 2}));  // 95 + 61 = 156; 95 + 48 would be 143
  const Remedies two = remedies(in).value();
  EXPECT_NEAR(kg(found_of(two, RemedyKind::leave_people)->change.people_left), 156.0, 1e-9);
  EXPECT_NEAR(found_of(two, RemedyKind::leave_people)->margin, 6.0, 1e-9);
  in.margin = [](const Change& c) { return Result<double>{kg(c.people_left) - 274.0}; };
  EXPECT_EQ(who().size(), 4U);  // everybody, and no gram less
  in.margin = [](const Change& c) { return Result<double>{kg(c.people_left) - 275.0}; };
  EXPECT_TRUE(who().empty());
  EXPECT_EQ(none_of(*remedies(in), RemedyKind::leave_people)->words.key, "remedy.people_not_enough");
}

TEST(Remedies, HasNothingToMendInside) {
  RemedyInputs in = plain();
  in.margin = [](const Change&) { return Result<double>{0.0}; };
  const Remedies all = remedies(in).value();
  EXPECT_TRUE(all.inside_already);
  EXPECT_EQ(all.finding.key, "remedy.inside");
  EXPECT_TRUE(all.found.empty());
  EXPECT_TRUE(all.none.empty());
}

TEST(Remedies, TakesWhatIsNotKnownAsOutside) {
  RemedyInputs in = plain();
  in.margin = [](const Change&) -> Result<double> { return fail(Errc::no_data, say("fact.qnh_missing")); };
  const Remedies unknown = remedies(in).value();
  EXPECT_TRUE(unknown.found.empty());
  EXPECT_EQ(unknown.finding.key, "remedy.none");
  ASSERT_EQ(unknown.none.size(), 7U);  // four amounts and three cylinders
  for (const NoRemedy& n : unknown.none) EXPECT_FALSE(n.margin.has_value());
  in.margin = [](const Change&) { return Result<double>{kNan}; };
  EXPECT_TRUE(remedies(in)->found.empty());
  // No answer before 30 kg and beyond 130 kg: between, the smallest inside is still met.
  in.margin = [](const Change& c) -> Result<double> {
    if (kg(c.people_left) < 30.0 || kg(c.people_left) > 130.0)
      return fail(Errc::out_of_range, say("lift.load_outside"));
    return kg(c.people_left) - 41.5;
  };
  const Remedies between = remedies(in).value();
  EXPECT_EQ(kg(found_of(between, RemedyKind::leave_people)->change.people_left), 42.0);
}

TEST(Remedies, RefusesSettingsThatCannotBe) {
  RemedyInputs in = plain();
  in.margin = nullptr;
  expect_refused(remedies(in), Errc::bad_call, "remedy.no_margin", "", "a margin to ask");
  const auto refused = [](auto spoil) {
    RemedyInputs bad = plain();
    spoil(bad);
    const auto all = remedies(bad);
    return !all.has_value() && all.error().sentence.key == "remedy.setting_outside" &&
           all.error().code == Errc::bad_input;
  };
  EXPECT_TRUE(refused([](RemedyInputs& x) { x.steps.people = Mass{}; }));
  EXPECT_TRUE(refused([](RemedyInputs& x) { x.steps.people = 0.0001 * kilogram; }));  // too many steps
  EXPECT_TRUE(refused([](RemedyInputs& x) { x.lower_most = -1.0 * metre; }));
  EXPECT_TRUE(refused([](RemedyInputs& x) { x.cooler_most = kNan * kelvin; }));
  EXPECT_TRUE(refused([](RemedyInputs& x) { x.costs.person = -1.0; }));
  EXPECT_TRUE(refused([](RemedyInputs& x) { x.people = {-60.0 * kilogram}; }));
  expect_refused(independence(plain().cylinders, 3, fuel_of(1.0), fuel_of(1.0)), Errc::bad_call,
                 "remedy.no_such_cylinder", "3", "an index below 3");
}

TEST(Remedies, AreInsideAndOneStepLessIsNot) {
  Random random = seeded("Remedies.Smallest");
  for (int i = 0; i < 300; ++i) {
    // Each amount counts by its own power, between half and twice, so that the margin bends both ways.
    const double power = random.uniform(0.5, 2.0), deficit = random.uniform(1.0, 60.0);
    const double lift = random.uniform(0.05, 0.5);
    int asked = 0;
    RemedyInputs in = plain();
    in.cylinders = {};
    in.margin = [&](const Change& c) -> Result<double> {
      ++asked;
      const double x = kg(c.people_left) / 160.0 + c.lower.in(metre) / 600.0 + c.cooler.in(kelvin) / 15.0 +
                       c.shorter.in(minute) / 30.0;
      return 120.0 * lift * math::pow(x, power) - 0.3 * deficit;
    };
    const Remedies all = remedies(in).value();
    EXPECT_LE(asked, 4 * 30);
    EXPECT_EQ(all.found.size() + all.none.size(), 4U);
    for (std::size_t k = 0; k < all.found.size(); ++k) {
      const Remedy& r = all.found[k];
      EXPECT_GE(in.margin(r.change).value(), 0.0);
      EXPECT_EQ(in.margin(r.change).value(), r.margin);
      Change less = r.change;
      if (r.kind == RemedyKind::leave_people) less.people_left -= in.steps.people;
      if (r.kind == RemedyKind::lower) less.lower -= in.steps.lower;
      if (r.kind == RemedyKind::cooler) less.cooler -= in.steps.cooler;
      if (r.kind == RemedyKind::shorter) less.shorter -= in.steps.shorter;
      EXPECT_LT(in.margin(less).value(), 0.0);
      if (k > 0) {
        EXPECT_LE(all.found[k - 1].cost, r.cost);
      }
    }
  }
}

TEST(Independence, IsLostWithTheLastFuelOfASide) {
  Random random = seeded("Independence.Laws");
  const std::vector<std::string> groups{"A", "B", "C", ""};
  for (int i = 0; i < 500; ++i) {
    std::vector<CylinderFuel> all;
    const std::size_t n = 1 + random.below(5);
    double total = 0.0;
    for (std::size_t k = 0; k < n; ++k) {
      all.push_back(cylinder(std::to_string(k), groups[random.below(4)],
                             random.uniform() < 0.2 ? 0.0 : random.uniform(1.0, 30.0)));
      total += kg(all.back().usable);
    }
    const std::size_t left = random.below(n);
    const FlightFuel fuel = fuel_of(random.uniform(0.0, 60.0));
    const Independence out = independence(all, left, fuel, fuel).value();
    bool another = false;
    for (std::size_t k = 0; k < n; ++k)
      if (k != left && !all[left].group.empty() && all[k].group == all[left].group && all[k].usable > Mass{})
        another = true;
    const bool lost = all[left].usable > Mass{} && !another;
    EXPECT_EQ(out.sides_before - out.sides_after, lost ? 1 : 0);
    double drawn = 0.0;
    for (const SideReserve& s : out.after.sides) drawn += kg(s.drawn);
    EXPECT_LE(drawn, total - kg(out.usable_left) + 1e-9);
    EXPECT_EQ(out.after.cylinders.size(), n - 1);
  }
}

// --- With the real lift and burn, on a dawn with an inversion

// An invented balloon of 2600 m3 at a field of 300 m: 10 K warmer at 300 m above it.
constexpr Volume kVolume = 2600.0 * cubic_metre;
const AltitudeAmsl kField = amsl(300.0 * metre);

struct Dawn {
  Mass carried = 700.0 * kilogram;
  Mass cylinder_full = 70.0 * kilogram;
  Length highest = 400.0 * metre;
  Duration planned = 60.0 * minute;
  bool envelope_hot = false;

  [[nodiscard]] air::AirColumn column(TemperatureDelta cooler) const {
    const double less = cooler.in(kelvin);
    return air::AirColumn::from({.ground = kField,
                                 .surface_pressure = 980.0 * hectopascal,
                                 .surface_temperature = celsius(12.0 - less),
                                 .dew_point = celsius(6.0 - less),
                                 .aloft = {{kField + 300.0 * metre, celsius(22.0 - less)}},
                                 .above = air::Filling::standard,
                                 .top = kField + 1500.0 * metre})
        .value();
  }
  [[nodiscard]] Mass load(const Change& c) const {
    return carried - c.people_left - (c.cylinder_left ? cylinder_full : Mass{});
  }
  [[nodiscard]] Result<double> lift_margin(const Change& c) const {
    const auto air = column(c.cooler);
    const auto lift = flight_lift({.column = air,
                                   .highest = kField + highest - c.lower,
                                   .carried = load(c),
                                   .volume = kVolume,
                                   .crown_limit = celsius(121.0)});
    if (!lift) return tl::unexpected{lift.error()};
    return kg(lift->worst.margin);
  }
  [[nodiscard]] Result<FlightFuel> fuel(const Change& c) const {
    const auto air = column(c.cooler);
    return flight_fuel({.column = air,
                        .highest = kField + highest - c.lower,
                        .carried = load(c),
                        .volume = kVolume,
                        .planned = planned - c.shorter,
                        .envelope_hot = envelope_hot});
  }
};

TEST(Remedies, AgreeWithLiftOnARealColumn) {
  const Dawn flight;
  RemedyInputs in;
  in.margin = [&](const Change& c) { return flight.lift_margin(c); };
  in.people_most = 240.0 * kilogram;
  in.lower_most = 300.0 * metre;
  const double short_kg = -flight.lift_margin({}).value();
  ASSERT_GT(short_kg, 20.0);  // too heavy, as it was meant to be
  ASSERT_LT(short_kg, 200.0);
  const Remedies all = remedies(in).value();
  ASSERT_NE(found_of(all, RemedyKind::leave_people), nullptr) << short_kg;
  ASSERT_NE(found_of(all, RemedyKind::cooler), nullptr) << short_kg;
  // The margin is gross lift less the load: a kilogram left is a kilogram of it.
  EXPECT_EQ(kg(found_of(all, RemedyKind::leave_people)->change.people_left), std::ceil(short_kg));
  const double drop = found_of(all, RemedyKind::cooler)->change.cooler.in(kelvin);
  EXPECT_GE(flight.lift_margin({.cooler = drop * kelvin}).value(), 0.0);
  EXPECT_LT(flight.lift_margin({.cooler = (drop - 0.5) * kelvin}).value(), 0.0);
  // Each kelvin is worth about m_air / T = 2600 x 1.11 / 290, 10 kg: the drop is the shortage by that, within a fifth.
  EXPECT_NEAR(drop, short_kg / 10.0, 0.2 * short_kg / 10.0 + 0.5);
  // Below the inversion's top the air is cooler: lower helps here, or it says by how much it does not.
  const Remedy* lower = found_of(all, RemedyKind::lower);
  if (lower != nullptr)
    EXPECT_GE(flight.lift_margin(lower->change).value(), 0.0);
  else
    EXPECT_LT(*none_of(all, RemedyKind::lower)->margin, 0.0);
}

TEST(Remedies, HoldLiftAndReserveTogether) {
  // Two cylinders of 48 kg usable on one side and one on the other; 15 minutes asked for on each side. The margin is
  // the smaller of kilograms of lift and minutes of reserve.
  Dawn flight;
  flight.carried = 640.0 * kilogram;
  const std::vector<CylinderFuel> cylinders{cylinder("1", "A", 48.0), cylinder("2", "A", 48.0),
                                            cylinder("3", "B", 48.0)};
  RemedyInputs in;
  in.cylinders = cylinders;
  in.fuel = [&](const Change& c) { return flight.fuel(c); };
  in.people_most = 240.0 * kilogram;
  in.lower_most = 300.0 * metre;
  in.shorter_most = 45.0 * minute;
  in.margin = [&](const Change& c) -> Result<double> {
    const auto lift = flight.lift_margin(c);
    if (!lift) return lift;
    const auto fuel = flight.fuel(c);
    if (!fuel) return tl::unexpected{fuel.error()};
    std::vector<CylinderFuel> aboard = cylinders;
    if (c.cylinder_left) aboard.erase(aboard.begin() + static_cast<std::ptrdiff_t>(*c.cylinder_left));
    const Reserves left = reserves_at_landing(aboard, *fuel);
    const double reserve_min = left.short_of > Mass{} ? -60.0 : left.smallest_side.in(minute)-15.0;
    return std::min(*lift, reserve_min);
  };
  const Remedies all = remedies(in).value();
  for (const Remedy& r : all.found) {
    EXPECT_GE(in.margin(r.change).value(), 0.0);
    if (r.independence) {
      EXPECT_EQ(r.independence->after.short_of, Mass{});
      // The lighter flight burns less, so that the fuel drawn is less than that of the flight as planned.
      EXPECT_LT(flight.fuel(r.change)->used_unlucky, flight.fuel({})->used_unlucky);
    }
  }
  // A lower flight is still the flight; either cylinder of side A leaves both sides; the one of side B takes it along.
  using Step = std::pair<RemedyKind, std::optional<std::size_t>>;
  std::vector<Step> order;
  for (const Remedy& r : all.found) order.emplace_back(r.kind, r.change.cylinder_left);
  EXPECT_EQ(order, (std::vector<Step>{{RemedyKind::lower, {}},
                                      {RemedyKind::leave_cylinder, 0},
                                      {RemedyKind::leave_cylinder, 1},
                                      {RemedyKind::leave_people, {}},
                                      {RemedyKind::leave_cylinder, 2},
                                      {RemedyKind::cooler, {}}}));
  // A shorter flight does nothing for lift.
  ASSERT_NE(none_of(all, RemedyKind::shorter), nullptr);
  EXPECT_LT(*none_of(all, RemedyKind::shorter)->margin, 0.0);
  EXPECT_NE(found_of(all, RemedyKind::leave_people), nullptr);
}

TEST(Remedies, ServeASecondHop) {
  // Landed with 21 and 20 kg usable; 160 kg of people got out, 210 kg came in. Half an hour more, and 15 minutes of
  // reserve.
  Dawn hop;
  hop.carried = 480.0 * kilogram - 160.0 * kilogram + 210.0 * kilogram;
  hop.planned = 30.0 * minute;
  const std::vector<CylinderFuel> now{cylinder("1", "A", 21.0), cylinder("2", "B", 20.0)};
  RemedyInputs in;
  in.cylinders = now;
  in.fuel = [&](const Change& c) { return hop.fuel(c); };
  in.people = {70.0 * kilogram, 62.0 * kilogram, 78.0 * kilogram};  // those who came
  in.shorter_most = 15.0 * minute;
  in.cooler_most = {};
  in.margin = [&](const Change& c) -> Result<double> {
    const auto lift = hop.lift_margin(c);
    if (!lift) return lift;
    const auto fuel = hop.fuel(c);
    if (!fuel) return tl::unexpected{fuel.error()};
    std::vector<CylinderFuel> aboard = now;
    if (c.cylinder_left) aboard.erase(aboard.begin() + static_cast<std::ptrdiff_t>(*c.cylinder_left));
    const Reserves left = reserves_at_landing(aboard, *fuel);
    return std::min(*lift, left.short_of > Mass{} ? -60.0 : left.smallest_side.in(minute)-15.0);
  };
  const double cold = in.margin({}).value();
  hop.envelope_hot = true;
  const double hot = in.margin({}).value();
  // Inflation would have cost minutes on each side that a hot envelope keeps; still they are too few.
  EXPECT_GT(hot, cold + 3.0);
  EXPECT_LT(hot, 0.0);
  const Remedies all = remedies(in).value();
  EXPECT_FALSE(all.inside_already);
  // A shorter hop, or one of the three waits for the next one: the lightest that will do. Neither cylinder can stay.
  ASSERT_EQ(all.found.size(), 2U);
  EXPECT_EQ(all.found.front().kind, RemedyKind::shorter);
  const Remedy& wait = all.found.back();
  EXPECT_EQ(wait.kind, RemedyKind::leave_people);
  ASSERT_EQ(wait.people.size(), 1U);
  for (const Mass m : in.people) EXPECT_EQ(in.margin({.people_left = m}).value() >= 0.0, m >= wait.change.people_left);
  EXPECT_EQ(none_of(all, RemedyKind::leave_cylinder, 0)->margin, std::optional{-60.0});
  EXPECT_EQ(none_of(all, RemedyKind::leave_cylinder, 1)->margin, std::optional{-60.0});
}

TEST(Remedies, ShortenAFlightForWhichFuelIsShort) {
  // A light flight with two cylinders of 17 kg, 30 minutes asked for on each side: only time is missing.
  Dawn flight;
  flight.carried = 550.0 * kilogram;
  flight.planned = 75.0 * minute;
  const std::vector<CylinderFuel> cylinders{cylinder("1", "A", 34.0), cylinder("2", "B", 34.0)};
  RemedyInputs in;
  in.margin = [&](const Change& c) -> Result<double> {
    const auto fuel = flight.fuel(c);
    if (!fuel) return tl::unexpected{fuel.error()};
    const Reserves left = reserves_at_landing(cylinders, *fuel);
    return left.smallest_side.in(minute)-30.0 - 0.001 * left.short_of.in(kilogram);
  };
  in.shorter_most = 60.0 * minute;
  in.cooler_most = {};
  ASSERT_LT(in.margin({}).value(), 0.0);
  const Remedies all = remedies(in).value();
  const Remedy* shorter = found_of(all, RemedyKind::shorter);
  ASSERT_NE(shorter, nullptr);
  EXPECT_GE(in.margin(shorter->change).value(), 0.0);
  EXPECT_LT(in.margin({.shorter = shorter->change.shorter - 1.0 * minute}).value(), 0.0);
  EXPECT_EQ(all.found.size(), 1U);
  EXPECT_TRUE(all.none.empty());
}

}  // namespace
}  // namespace pappus::balloon
