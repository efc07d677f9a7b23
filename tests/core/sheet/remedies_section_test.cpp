#include "core/sheet/sections/remedies.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "core/sheet/facts.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::sheet {
namespace {

using testing::good_morning;

people::Person passenger(std::string name, double kg) {
  people::Person p;
  p.name = std::move(name);
  p.mass = kg * kilogram;
  return p;
}

std::optional<RemediesSection> remedies_of(const Morning& morning) { return remedies_section(facts_of(morning)); }

// The morning with a change made in it, as a pilot would type it.
Morning made(const RemedyLine& change, Morning m) {
  if (change.lower) m.flight.highest = *m.flight.highest - *change.lower;
  if (change.shorter) m.flight.planned -= *change.shorter;
  if (change.cylinder) {
    std::erase_if(m.balloon.cylinders, [&](const balloon::Cylinder& c) { return c.id == *change.cylinder; });
    std::erase_if(m.flight.fuel, [&](const FuelSeen& f) { return f.cylinder == *change.cylinder; });
  }
  for (const std::string& name : change.who)
    m.flight.aboard.erase(std::find_if(m.flight.aboard.begin(), m.flight.aboard.end(),
                                       [&](const people::Person& p) { return p.name == name; }));
  if (change.cooler) {
    for (auto& ladder : m.flight.ladders)
      for (auto& row : ladder.rows)
        if (row.temperature) row.temperature = *row.temperature - *change.cooler;
    for (auto& report : m.flight.reports) report.temperature = *report.temperature - *change.cooler;
  }
  return m;
}

TEST(RemediesSection, IsEmptyWhereNothingIsOutside) { EXPECT_FALSE(remedies_of(good_morning())); }

TEST(RemediesSection, EveryChangeFoundBringsItInsideWhenItIsMade) {
  std::vector<Morning> mornings;
  for (const double kg : {60.0, 110.0, 170.0}) {
    Morning m = good_morning();
    m.flight.aboard = {m.flight.aboard[0], passenger("A", 70.0), passenger("B", 64.0), passenger("C", kg),
                       passenger("D", 95.0)};
    m.balloon.envelope.gross_limit = 800.0 * kilogram;
    mornings.push_back(m);
    m = good_morning();
    m.flight.aboard = {m.flight.aboard[0], passenger("A", 70.0), passenger("B", kg)};
    m.balloon.envelope.crown_limit = celsius(95.0);
    mornings.push_back(m);
    m.balloon.envelope.crown_limit = celsius(121.0);
    m.flight.planned = 80.0 * minute + kg * second;
    mornings.push_back(m);
  }
  int made_count = 0;
  for (const Morning& m : mornings) {
    const auto remedies = remedies_of(m);
    ASSERT_TRUE(remedies);
    EXPECT_FALSE(remedies->finding.key.empty());
    for (const RemedyLine& change : remedies->found) {
      ++made_count;
      ASSERT_FALSE(change.words.empty());
      const FlightSheet after = sheet(made(change, m));
      for (const Limit& limit : after.limits) {
        if (std::count(remedies->limits.begin(), remedies->limits.end(), limit.name) == 0) continue;
        EXPECT_NE(limit.state, LimitState::outside) << limit.name << " " << change.words[0].key;
      }
    }
  }
  EXPECT_GE(made_count, 9);
}

TEST(RemediesSection, OnePersonTooManyIsOnePersonToLeave) {
  Morning m = good_morning();
  m.balloon.basket.people = 2;  // three are aboard
  m.flight.aboard = {m.flight.aboard[0], passenger("Heavy", 90.0), passenger("Light", 50.0)};
  const auto remedies = remedies_of(m);
  ASSERT_TRUE(remedies);
  EXPECT_EQ(remedies->limits, std::vector<std::string>{"people"});
  ASSERT_EQ(remedies->found.size(), 1u);
  EXPECT_EQ(remedies->found[0].kind, balloon::RemedyKind::leave_people);
  EXPECT_EQ(remedies->found[0].who, std::vector<std::string>{"Light"});
}

TEST(RemediesSection, NeitherThePilotNorAnInstructorIsLeftBehind) {
  Morning m = good_morning();
  m.flight.aboard[1].role = people::Role::instructor;
  m.flight.aboard[2].role = people::Role::student;
  m.flight.aboard[2].name = "S";
  m.balloon.basket.people = 1;
  const auto remedies = remedies_of(m);
  ASSERT_TRUE(remedies);
  EXPECT_TRUE(remedies->found.empty());
  EXPECT_TRUE(remedies->limits.empty());
}

TEST(RemediesSection, ALoadThatNoHeatCarriesHasRemediesToo) {
  Morning m = good_morning();
  m.balloon.envelope.volume = 45'000.0 * cubic_foot;
  m.flight.aboard = {m.flight.aboard[0]};
  for (int i = 0; i < 6; ++i) m.flight.aboard.push_back(passenger("P" + std::to_string(i), 90.0));
  const Facts facts = facts_of(m);
  ASSERT_FALSE(facts.lift);
  const auto remedies = remedies_section(facts);
  ASSERT_TRUE(remedies);
  EXPECT_TRUE(!remedies->found.empty() || !remedies->none.empty());
}

TEST(RemediesSection, WhatIsNotKnownIsNotJudgedAndSaid) {
  Morning m = good_morning();
  m.balloon.envelope.gross_limit = 600.0 * kilogram;
  m.flight.fuel.pop_back();  // the contents of one cylinder
  const auto remedies = remedies_of(m);
  ASSERT_TRUE(remedies);
  const auto noted = [&](std::string_view key) {
    return std::any_of(remedies->notes.begin(), remedies->notes.end(), [&](const Sentence& s) { return s.key == key; });
  };
  EXPECT_TRUE(noted("remedies.cylinders_unknown"));
  EXPECT_TRUE(noted("remedies.not_judged"));
  for (const RemedyLine& line : remedies->found) EXPECT_NE(line.kind, balloon::RemedyKind::leave_cylinder);
}

TEST(RemediesSection, ASideThatLacksItsReserveIsNotCuredByLeavingIt) {
  Morning m = good_morning();
  const std::string alone = m.balloon.cylinders.back().id;  // a side of its own
  for (FuelSeen& fuel : m.flight.fuel)
    if (fuel.cylinder == alone) fuel.liquid = 3.0 * us_gallon;
  const auto remedies = remedies_of(m);
  ASSERT_TRUE(remedies);
  for (const RemedyLine& line : remedies->found) EXPECT_NE(line.cylinder, alone);
  EXPECT_FALSE(remedies->none.empty());
}

TEST(RemediesSection, WithoutTheAirOnlyMassAndPeopleAreMended) {
  Morning m = good_morning();
  m.flight.field.qnh.reset();
  m.flight.reports.clear();
  m.balloon.envelope.gross_limit = 600.0 * kilogram;
  m.flight.aboard[1].name = "A";
  m.flight.aboard[2].name = "B";
  const auto remedies = remedies_of(m);
  ASSERT_TRUE(remedies);
  for (const RemedyLine& line : remedies->found) EXPECT_EQ(line.kind, balloon::RemedyKind::leave_people);
}

TEST(RemediesSection, ALighterLoadNeverMakesThemNeeded) {
  Random random = testing::seeded("RemediesSection.Lighter");
  for (int i = 0; i < 30; ++i) {
    Morning m = good_morning();
    m.balloon.envelope.crown_limit = celsius(random.uniform(90.0, 121.0));
    m.flight.aboard[1].mass = random.uniform(30.0, 200.0) * kilogram;
    m.flight.planned = random.uniform(20.0, 80.0) * minute;
    if (remedies_of(m)) continue;
    m.flight.aboard[1].mass = m.flight.aboard[1].mass * random.uniform(0.2, 1.0);
    EXPECT_FALSE(remedies_of(m));
  }
}

TEST(Replanned, WithNothingChangedIsTheFlight) {
  const Morning m = good_morning();
  const Facts facts = facts_of(m);
  const auto same = replanned(facts, {});
  ASSERT_TRUE(same);
  EXPECT_EQ(same->lift()->worst.crown_expected, facts.lift->worst.crown_expected);
  EXPECT_EQ(same->fuel()->used, facts.fuel->used);
  EXPECT_EQ(same->carried, facts.load.total);
}

TEST(Replanned, ACylinderLeftTakesItsContentsWithIt) {
  const Morning m = good_morning();
  const Facts facts = facts_of(m);
  balloon::Change change;
  change.cylinder_left = 2;
  Morning without = m;
  without.balloon.cylinders.pop_back();
  without.flight.fuel.pop_back();
  EXPECT_NEAR(carried_after(facts, change).in(kilogram), load_sheet(without).total.in(kilogram), 1e-9);
}

TEST(HotEnvelope, NeedsNoFuelForInflationAndSaysSo) {
  Morning m = good_morning();
  const auto cold = fuel_section(m);
  m.flight.hot = true;
  const auto hot = fuel_section(m);
  ASSERT_TRUE(cold && hot);
  EXPECT_EQ(hot->inflation, Mass{});
  EXPECT_NEAR((cold->used - hot->used).in(kilogram), cold->inflation.in(kilogram), 1e-9);
  const auto cautions = sheet(m).cautions;
  EXPECT_TRUE(std::any_of(cautions.begin(), cautions.end(), [](const Sentence& s) { return s.key == "caution.hot"; }));
}

TEST(LiftCurve, RunsFromTheFieldToTheHighestHeight) {
  Morning m = good_morning();
  const auto lift = lift_section(m);
  ASSERT_TRUE(lift);
  ASSERT_EQ(lift->curve.size(), 9u);
  EXPECT_EQ(lift->curve.front().height, agl(Length{}));
  EXPECT_EQ(lift->curve.back().height, agl(300.0 * metre));
  for (std::size_t i = 1; i < lift->curve.size(); ++i) EXPECT_GT(lift->curve[i].height, lift->curve[i - 1].height);
  for (const LiftCurveLine& line : lift->curve) {
    EXPECT_GE(line.gross_lift, lift->gross_lift - 1e-9 * kilogram) << "the worst height has the least";
    EXPECT_LE(line.crown_expected, lift->crown_temperature_expected);
  }
  m.balloon.envelope.crown_limit.reset();
  EXPECT_TRUE(lift_section(m)->curve.empty()) << "no lift at a limit that is not known";
  m = good_morning();
  m.flight.highest = agl(50.0 * metre);
  const auto low = lift_section(m)->curve;
  EXPECT_EQ(low.size(), 4u);  // 0, 20, 40 and 50 m
}

}  // namespace
}  // namespace pappus::sheet
