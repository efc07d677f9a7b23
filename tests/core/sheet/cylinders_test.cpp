#include "core/sheet/cylinders.hpp"

#include <algorithm>

#include <gtest/gtest.h>

#include "core/propane/fill.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"

namespace pappus::sheet {
namespace {

using pappus::testing::at_clock;
using pappus::testing::good_morning;

double gallons(Volume v) { return v.in(us_gallon); }

std::vector<CylinderFacts> facts_of_cylinders(const Morning& morning) {
  return cylinders_of(morning, celsius(4.0), 853.0 * hectopascal);
}

const Limit* limit_of(const FlightSheet& sheet, std::string_view name) {
  const auto found =
      std::find_if(sheet.limits.begin(), sheet.limits.end(), [&](const Limit& l) { return l.name == name; });
  return found == sheet.limits.end() ? nullptr : &*found;
}

bool says(const CylinderFacts& c, std::string_view key) {
  return std::any_of(c.words.begin(), c.words.end(), [&](const Sentence& s) { return s.key == key; });
}

/// The book: filled at the level valve the evening before, then open in a flight of which nobody noted the fuel.
book::CylinderMemory used(Moment filled, Moment flown) {
  const std::vector<book::CylinderEvent> history{
      {1, filled.at, book::FillEvent{.cylinder = "1", .liquid = book::LiquidBand{celsius(12.0), celsius(12.0)}}},
      {2, flown.at, book::FlightEvent{.aloft = 52.0 * minute, .open = {{.cylinder = "1"}}}}};
  return book::remembered(history, "1", at_clock(4, 50).at);
}
book::CylinderMemory filled(Moment when) {
  const std::vector<book::CylinderEvent> history{
      {1, when.at, book::FillEvent{.cylinder = "1", .liquid = book::LiquidBand{celsius(12.0), celsius(12.0)}}}};
  return book::remembered(history, "1", at_clock(4, 50).at);
}

TEST(Cylinders, AFigureAloneStandsAsItIs) {
  const Morning morning = good_morning();
  for (const CylinderFacts& c : facts_of_cylinders(morning)) {
    ASSERT_TRUE(c.liquid_low && c.liquid_high && c.mass);
    EXPECT_EQ(c.liquid_low, c.liquid_high);
    EXPECT_EQ(c.mass_low, c.mass_high);
    EXPECT_FALSE(c.account.has_value());
    EXPECT_TRUE(c.words.empty());
    ASSERT_TRUE(c.pressure.has_value());
    EXPECT_LT(c.pressure->low, c.pressure->best);
    EXPECT_GT(c.pressure->high, c.pressure->best);
  }
  EXPECT_EQ(limit_of(sheet(morning), "cylinder_contents"), nullptr);
}

TEST(Cylinders, UsedAndNotRefilledIsNeverAFigure) {
  Morning morning = good_morning();
  morning.book = "lantern.book";
  morning.remembered = {{"1", used(at_clock(1, 0), at_clock(2, 0))}};
  const auto cylinders = facts_of_cylinders(morning);
  EXPECT_TRUE(cylinders[0].open);
  EXPECT_LT(gallons(*cylinders[0].liquid_low), 0.5);
  EXPECT_GT(gallons(*cylinders[0].liquid_high), 0.9 * gallons(cylinders[0].cylinder->level_fill));
  EXPECT_TRUE(says(cylinders[0], "cylinders.figure_no_proof"));
  EXPECT_FALSE(cylinders[1].open);

  const FlightSheet out = sheet(morning);
  EXPECT_EQ(out.book, "lantern.book");
  const Limit* contents = limit_of(out, "cylinder_contents");
  ASSERT_NE(contents, nullptr);
  EXPECT_EQ(contents->state, LimitState::not_known);
  EXPECT_EQ(contents->remedy->key, "account.next_weigh");
  EXPECT_NE(out.standing, Standing::nothing_against);
  EXPECT_NE(out.standing, Standing::with_care);
  // The load counts the most that may be in it, the fuel the least.
  EXPECT_EQ(std::count(out.load.cylinders_known.begin(), out.load.cylinders_known.end(), "1"), 0);
  ASSERT_TRUE(out.fuel.has_value());
  EXPECT_LT(out.fuel->by_cylinder[0].usable.in(kilogram), 0.5);
}

TEST(Cylinders, ATestThisMorningSettlesIt) {
  Morning morning = good_morning();
  morning.remembered = {{"1", used(at_clock(1, 0), at_clock(2, 0))}};
  for (FuelSeen& seen : morning.flight.fuel) {
    if (seen.cylinder != "1") continue;
    seen.seen = at_clock(4, 30);
    seen.valve = propane::Valve::liquid;
  }
  const auto cylinders = facts_of_cylinders(morning);
  EXPECT_FALSE(cylinders[0].open);
  EXPECT_GE(gallons(*cylinders[0].liquid_low), 0.97 * gallons(cylinders[0].cylinder->level_fill));
  EXPECT_EQ(limit_of(sheet(morning), "cylinder_contents")->state, LimitState::inside);
}

TEST(Cylinders, WhatWasReadBeforeTheBooksLastEntryDoesNotCount) {
  Morning morning = good_morning();
  morning.remembered = {{"1", used(at_clock(1, 0), at_clock(4, 0))}};
  for (FuelSeen& seen : morning.flight.fuel) {
    if (seen.cylinder != "1") continue;
    seen.seen = at_clock(3, 0);  // before the flight
    seen.valve = propane::Valve::liquid;
  }
  const auto cylinders = facts_of_cylinders(morning);
  EXPECT_TRUE(cylinders[0].open);
  EXPECT_TRUE(says(cylinders[0], "cylinders.book_later"));
}

TEST(Cylinders, OfARecordedFillAndAFigureTheLessCounts) {
  Morning morning = good_morning();
  const Volume level = morning.balloon.cylinders[0].level_fill;
  morning.remembered = {{"1", filled(at_clock(1, 0))}};
  const auto with_figure = [&](Volume figure) {
    for (FuelSeen& seen : morning.flight.fuel)
      if (seen.cylinder == "1") seen.liquid = figure;
    return facts_of_cylinders(morning)[0];
  };
  const CylinderFacts within = with_figure(level);
  EXPECT_FALSE(within.open);
  EXPECT_GT(*within.liquid_low, 0.9 * level);
  // A second hop of a morning whose first is not in the book yet.
  const CylinderFacts less = with_figure(0.5 * level);
  EXPECT_TRUE(says(less, "cylinders.figure_less"));
  EXPECT_EQ(*less.liquid_low, 0.5 * level);
  EXPECT_LT(*less.mass_low, 0.6 * *within.mass_low);
  EXPECT_EQ(*less.mass_high, *within.mass_high);
  const CylinderFacts more = with_figure(1.2 * level);
  EXPECT_TRUE(says(more, "cylinders.figure_more"));
  EXPECT_EQ(*more.liquid_low, *within.liquid_low);
  EXPECT_EQ(*more.liquid_high, *within.liquid_high);
}

TEST(Cylinders, WeighedNowNeedsNoBook) {
  Morning morning = good_morning();
  const balloon::Cylinder& first = morning.balloon.cylinders[0];
  const Volume truth = 0.6 * first.level_fill;
  const Mass inside = propane::mass_inside(first.shell, truth, celsius(8.0)).value();
  for (FuelSeen& seen : morning.flight.fuel) {
    if (seen.cylinder != first.id) continue;
    seen.liquid.reset();
    seen.temperature = celsius(8.0);
    seen.weighed = first.tare + inside;
  }
  const auto cylinders = facts_of_cylinders(morning);
  EXPECT_LE(*cylinders[0].liquid_low, truth);
  EXPECT_GE(*cylinders[0].liquid_high, truth);
  EXPECT_LT(gallons(*cylinders[0].liquid_high - *cylinders[0].liquid_low), 0.6);
}

TEST(Cylinders, ContradictionIsOutside) {
  Morning morning = good_morning();
  for (FuelSeen& seen : morning.flight.fuel) {
    if (seen.cylinder != morning.balloon.cylinders[0].id) continue;
    seen.liquid.reset();
    seen.temperature = celsius(8.0);
    seen.valve = propane::Valve::liquid;
    seen.weighed = morning.balloon.cylinders[0].tare + 5.0 * kilogram;
  }
  const FlightSheet out = sheet(morning);
  const Limit* contents = limit_of(out, "cylinder_contents");
  ASSERT_NE(contents, nullptr);
  EXPECT_EQ(contents->state, LimitState::outside);
  EXPECT_EQ(contents->finding.key, "limit.cylinder_contents.contradicted");
}

TEST(Cylinders, APlateThatTheRuleContradictsIsNeverGood) {
  Morning morning = good_morning();
  balloon::Cylinder& first = morning.balloon.cylinders[0];
  first.shell = 17.0 * us_gallon;  // common practice row: 15 gal at the valve of a shell that holds 17
  first.level_fill = 15.0 * us_gallon;
  for (FuelSeen& seen : morning.flight.fuel)
    if (seen.cylinder == first.id) seen.liquid = 15.0 * us_gallon;
  const FlightSheet out = sheet(morning);
  const Limit* contents = limit_of(out, "cylinder_contents");
  ASSERT_NE(contents, nullptr);
  EXPECT_EQ(contents->state, LimitState::outside);
  EXPECT_EQ(contents->finding.key, "limit.cylinder_contents.plate");
}

TEST(Cylinders, LiquidFollowsTheAirOfTheNight) {
  Morning morning = good_morning();
  for (FuelSeen& seen : morning.flight.fuel) {
    seen.temperature = celsius(18.0);
    seen.seen = Moment{morning.flight.time.at - 9.0 * hour, morning.flight.time.offset};
  }
  const auto cylinders = facts_of_cylinders(morning);
  EXPECT_TRUE(cylinders[0].temperature_reckoned);
  // 9 h are 3.5 times 2.6 h: 3 % of 14 K are left.
  EXPECT_NEAR(in_celsius(*cylinders[0].temperature), 4.0 + 14.0 * 0.0314, 0.05);
  // What was measured by volume keeps its density.
  const double density = *cylinders[0].mass / *cylinders[0].liquid / (1.0 * kilogram_per_cubic_metre);
  EXPECT_NEAR(density, propane::saturation_at(celsius(18.0)).value().liquid_density.in(kilogram_per_cubic_metre), 0.01);
}

TEST(Cylinders, StoodInTheOpenOrTheGaugeTellTheTemperature) {
  Morning morning = good_morning();
  for (FuelSeen& seen : morning.flight.fuel) {
    seen.temperature.reset();
    seen.outdoors = true;
  }
  EXPECT_NEAR(in_celsius(*facts_of_cylinders(morning)[0].temperature), 4.0, 1e-9);
  for (FuelSeen& seen : morning.flight.fuel) {
    seen.outdoors = false;
    seen.gauge_pressure = GaugePressure::at(80.0 * pound_per_square_inch);
  }
  const auto cylinders = facts_of_cylinders(morning);
  ASSERT_TRUE(cylinders[0].pressure.has_value());
  EXPECT_TRUE(cylinders[0].pressure->read);
  EXPECT_NEAR(cylinders[0].pressure->best.from_origin().in(pound_per_square_inch), 80.0, 1e-9);
  EXPECT_GT(in_celsius(*cylinders[0].temperature), 4.0);
  for (FuelSeen& seen : morning.flight.fuel) seen.gauge_pressure.reset();
  EXPECT_FALSE(facts_of_cylinders(morning)[0].temperature.has_value());
  EXPECT_FALSE(facts_of_cylinders(morning)[0].pressure.has_value());
}

}  // namespace
}  // namespace pappus::sheet
