#include "desk/burn_answer.hpp"

#include <algorithm>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/morning.hpp"

namespace pappus::desk {
namespace {

using pappus::testing::good_morning;

bool says(const std::vector<Sentence>& all, const std::string& key) {
  return std::any_of(all.begin(), all.end(), [&](const Sentence& s) { return s.key == key; });
}

TEST(BurnAnswer, PutsTheSupplyBesideTheFuelOfTheSheet) {
  const sheet::Morning morning = good_morning();
  const BurnAnswer a = burn_answer(morning).value();
  const sheet::FuelSection fuel = sheet::fuel_section(morning).value();
  EXPECT_EQ(a.fuel.used_unlucky, fuel.used_unlucky);
  EXPECT_EQ(a.fuel.reserve, fuel.reserve);
  ASSERT_TRUE(a.supply.has_value());
  ASSERT_EQ(a.supply->cylinders.size(), a.fuel.by_cylinder.size());
  for (std::size_t i = 0; i < a.fuel.by_cylinder.size(); ++i) {
    EXPECT_EQ(a.supply->cylinders[i].id, a.fuel.by_cylinder[i].id);
    EXPECT_EQ(a.supply->cylinders[i].liquid, a.fuel.by_cylinder[i].mass);
    EXPECT_TRUE(a.supply->cylinders[i].gauge.has_value());
  }
  // What is drawn on the legs of the order is what the flight is reckoned to use, on the unlucky side.
  Mass drawn;
  for (const balloon::UseLeg& leg : a.supply->use.legs) drawn += leg.drawn;
  EXPECT_NEAR(drawn.in(kilogram), fuel.used_unlucky.in(kilogram), 1e-6);
  EXPECT_TRUE(a.supply->lowest_is_manual);
  EXPECT_TRUE(says(a.notes, "caution.manual_first"));
}

TEST(BurnAnswer, TakesTheManualsWordOnTwoOpenValves) {
  sheet::Morning morning = good_morning();
  const auto open_on = [&](std::optional<bool> said) {
    morning.balloon.both_valves_open = said;
    return *burn_answer(morning).value().supply;
  };
  const balloon::SupplyPlan silent = open_on(std::nullopt), no = open_on(false), yes = open_on(true);
  const auto told = [](const balloon::SupplyPlan& plan, const std::string& key) {
    return says(plan.findings, key) || says(plan.cautions, key) || says(plan.proposal, key);
  };
  EXPECT_TRUE(told(silent, "supply.both_open_not_said"));
  EXPECT_TRUE(told(no, "supply.both_open_not_allowed"));
  EXPECT_TRUE(told(yes, "supply.both_open_allowed"));
  const auto any_open = [](const balloon::SupplyPlan& plan) {
    return std::any_of(plan.groups.begin(), plan.groups.end(), [](const auto& g) { return g.both_open; });
  };
  EXPECT_FALSE(any_open(silent));
  EXPECT_FALSE(any_open(no));
  EXPECT_TRUE(any_open(yes));
}

TEST(BurnAnswer, HoldsLossesAgainstThePilotsOwnReserve) {
  sheet::Morning strict = good_morning(), lax = good_morning();
  strict.flight.minimum.reserve = 3.0 * hour;
  lax.flight.minimum.reserve = 1.0 * second;
  const balloon::SupplyPlan few = *burn_answer(lax).value().supply, many = *burn_answer(strict).value().supply;
  const auto late = [](const balloon::SupplyPlan& plan) {
    return std::count_if(plan.use.losses.begin(), plan.use.losses.end(),
                         [](const auto& loss) { return loss.too_late_after.has_value(); });
  };
  EXPECT_LT(late(few), late(many));
}

TEST(BurnAnswer, ABurnerWithoutAPowerIsTheOneAskedAbout) {
  sheet::Morning morning = good_morning();
  balloon::Burner strong = morning.balloon.burners.front();
  strong.power = 5.4 * megawatt;
  morning.balloon.burners = {strong, strong};
  EXPECT_TRUE(burn_answer(morning).value().supply->cylinders[0].output.has_value());
  morning.balloon.burners[1].power.reset();
  EXPECT_FALSE(burn_answer(morning).value().supply->cylinders[0].output.has_value());
}

TEST(BurnAnswer, WhatIsNotKnownIsRefusedOrToldAndNeverGuessed) {
  sheet::Morning unknown = good_morning();
  unknown.flight.fuel[1].liquid.reset();
  const auto refused = burn_answer(unknown);
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().sentence.key, "fact.fuel_missing");
  // Liquid colder than the supply can tell: the fuel stands, the supply does not, and the notes say why.
  sheet::Morning cold = good_morning();
  cold.flight.fuel[0].temperature = celsius(-35.0);
  const auto answer = burn_answer(cold);
  ASSERT_TRUE(answer.has_value());
  EXPECT_FALSE(answer->supply.has_value());
  EXPECT_TRUE(says(answer->notes, "supply.temperature_outside"));
}

}  // namespace
}  // namespace pappus::desk
