#include "core/balloon/supply.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "core/air/isa.hpp"
#include "core/balloon/burner_output.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/saturation.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::balloon {
namespace {

using testing::expect_refused;
using testing::seeded;

static_assert(Described<SupplyPlan> && Described<UsePlan> && Described<CylinderSupply> && Described<GroupSupply>);

double kg(Mass m) { return m.in(kilogram); }
double minutes(Duration d) { return d.in(minute); }
double psi(GaugePressure p) { return p.from_origin().in(pound_per_square_inch); }

SupplyCylinder cylinder(const std::string& id, const std::string& group, double liquid_kg,
                        std::optional<double> t_c = 15.0) {
  SupplyCylinder c;
  c.fitted.id = id;
  c.fitted.group = group;
  c.fitted.shell = 71.0 * litre;
  c.fitted.level_fill = 56.8 * litre;
  c.fitted.tare = 18.0 * kilogram;
  c.fitted.usable_to = 0.05;
  c.liquid = liquid_kg * kilogram;
  c.measured = true;
  if (t_c) c.temperature = celsius(*t_c);
  return c;
}

// An hour at 36 kg/h, 45 on the unlucky side.
SupplyInputs morning(std::vector<SupplyCylinder> cylinders) {
  SupplyInputs in;
  in.cylinders = std::move(cylinders);
  in.fuel.inflation = 4.0 * kilogram;
  in.fuel.used = 40.0 * kilogram;
  in.fuel.used_unlucky = (45.0 + 4.0 * (1.0 + kInflationUncertainty)) * kilogram;
  in.fuel.flow = 36.0 * kilogram_per_hour;
  in.fuel.flow_unlucky = 45.0 * kilogram_per_hour;
  in.planned = 60.0 * minute;
  in.burner.power = 5.4 * megawatt;
  in.burner.pilot_light = PilotLight::liquid;
  in.ambient_field = 900.0 * hectopascal;
  in.ambient_highest = 850.0 * hectopascal;
  return in;
}

SupplyInputs three_cylinders() {
  return morning({cylinder("1", "A", 28.0), cylinder("2", "A", 28.0), cylinder("3", "B", 28.0)});
}

bool says(const std::vector<Sentence>& all, const std::string& key) {
  return std::any_of(all.begin(), all.end(), [&](const Sentence& s) { return s.key == key; });
}
const Sentence& said(const std::vector<Sentence>& all, const std::string& key) {
  for (const Sentence& s : all)
    if (s.key == key) return s;
  ADD_FAILURE() << "not said: " << key;
  return all.front();
}
std::string text_of(const Sentence& s, const std::string& name) {
  for (const Argument& a : s.arguments)
    if (a.name == name) return std::get<std::string>(a.value);
  return {};
}
double si_of(const Sentence& s, const std::string& name) {
  for (const Argument& a : s.arguments)
    if (a.name == name) return std::get<Measure>(a.value).si;
  ADD_FAILURE() << s.key << " has no " << name;
  return 0.0;
}

TEST(Supply, AddsUpCylinderByCylinder) {
  const SupplyPlan plan = supply_plan(three_cylinders()).value();
  ASSERT_EQ(plan.cylinders.size(), 3u);
  ASSERT_EQ(plan.groups.size(), 2u);
  // 5 % of the level fill is 1.44 kg; the vapour that fills the shell in the end is less.
  const double behind =
      0.05 * 0.0568 * propane::saturation_at(celsius(15.0)).value().liquid_density.in(kilogram_per_cubic_metre);
  double sum = 0.0;
  for (const CylinderSupply& c : plan.cylinders) {
    EXPECT_NEAR(kg(c.usable + c.stays_behind), kg(c.liquid), 1e-12);
    EXPECT_NEAR(kg(c.stays_behind), behind, 1e-6);
    EXPECT_NEAR(minutes(c.lasts_best), kg(c.usable) / 36.0 * 60.0, 1e-9);
    EXPECT_NEAR(minutes(c.lasts_low), kg(c.usable) / 45.0 * 60.0, 1e-9);
    EXPECT_NEAR(minutes(c.lasts_high), kg(c.usable) / 28.8 * 60.0, 1e-9);
    sum += kg(c.usable);
  }
  EXPECT_NEAR(kg(plan.groups[0].usable + plan.groups[1].usable), sum, 1e-12);
  EXPECT_EQ(plan.groups[0].cylinders, (std::vector<std::string>{"1", "2"}));
  EXPECT_EQ(plan.use.sides, 2);
  EXPECT_TRUE(says(plan.proposal, "supply.proposal"));
  EXPECT_TRUE(says(plan.proposal, "supply.why_sides"));
  EXPECT_TRUE(says(plan.proposal, "supply.tried_all"));
  // Every leg is told, in its order.
  std::vector<std::string> told, legs;
  for (const Sentence& s : plan.proposal)
    if (s.key.rfind("supply.use_", 0) == 0) told.push_back(text_of(s, "id"));
  for (const UseLeg& leg : plan.use.legs) legs.push_back(leg.id);
  EXPECT_EQ(told, legs);
}

TEST(Supply, LeavesBehindAtLeastTheVapourThatFillsTheShell) {
  SupplyInputs in = three_cylinders();
  for (SupplyCylinder& c : in.cylinders) c.fitted.usable_to = 0.0;
  const CylinderSupply c = supply_plan(in).value().cylinders[0];
  // 71 l of vapour at 15.81 kg/m3, less the 15.8 l of it that stand above the liquid already.
  EXPECT_NEAR(kg(c.stays_behind), 0.01581 * (71.0 - (71.0 - 28.0 / 0.507503)), 0.001);
  // A cylinder with next to nothing in it has nothing usable.
  in.cylinders[0].liquid = 0.3 * kilogram;
  const SupplyPlan low = supply_plan(in).value();
  EXPECT_GE(low.cylinders[0].usable, Mass{});
  EXPECT_LT(kg(low.cylinders[0].usable), 0.3);
  in.cylinders[0].liquid = Mass{};
  const SupplyPlan empty = supply_plan(in).value();
  EXPECT_EQ(empty.cylinders[0].usable, Mass{});
  EXPECT_EQ(empty.cylinders[0].lasts_high, Duration{});
  EXPECT_FALSE(empty.cylinders[0].gauge_spent.has_value());
}

TEST(Supply, ShowsThePressureOfTheMixAboveTheAirAroundIt) {
  const SupplyPlan plan = supply_plan(three_cylinders()).value();
  const Pressure pure = propane::saturation_at(celsius(15.0)).value().pressure;
  const GaugeBand gauge = plan.cylinders[0].gauge.value();
  EXPECT_NEAR(psi(gauge.best), (pure - 900.0 * hectopascal).in(pound_per_square_inch), 1e-6);
  EXPECT_NEAR(psi(gauge.low), (0.95 * pure - 900.0 * hectopascal).in(pound_per_square_inch), 1e-6);
  EXPECT_NEAR(psi(gauge.high), (1.20 * pure - 900.0 * hectopascal).in(pound_per_square_inch), 1e-6);
  for (const CylinderSupply& c : plan.cylinders) {
    EXPECT_LT(*c.temperature_spent, *c.temperature);
    EXPECT_LT(c.gauge_spent->low, c.gauge->low);
    EXPECT_LT(c.gauge_spent->best, c.gauge->best);
    EXPECT_LT(*c.output_spent, *c.output);
    EXPECT_LE(*c.output_low, *c.output);
    EXPECT_LE(*c.output, *c.output_high);
  }
  // At the highest height the gauge stands higher by what the air is thinner, and the burner loses by the height.
  const PressureAltitude z = air::pressure_altitude(850.0 * hectopascal).value();
  const auto there = burner_output({5.4 * megawatt, propane::gauge(pure, 850.0 * hectopascal), celsius(15.0), z});
  EXPECT_NEAR(plan.cylinders[0].output->in(watt), there.value().best.in(watt), 1.0);

  SupplyInputs known = three_cylinders();
  known.mix = propane::Mix{};
  const GaugeBand narrow = supply_plan(known).value().cylinders[0].gauge.value();
  EXPECT_GT(narrow.low, gauge.low);
  EXPECT_LT(narrow.high, gauge.high);
}

TEST(Supply, TellsWhenThePressureFallsBelowTheRange) {
  const auto at = [](double t_c, std::optional<double> lowest_psi = std::nullopt) {
    SupplyInputs in = morning({cylinder("1", "A", 28.0, t_c), cylinder("2", "B", 28.0, t_c)});
    in.mix = propane::Mix{};
    if (lowest_psi)
      in.burner.pressure = PressureRange{GaugePressure::at(*lowest_psi * pound_per_square_inch),
                                         GaugePressure::at(150.0 * pound_per_square_inch)};
    return supply_plan(in).value();
  };
  const SupplyPlan warm = at(20.0), cool = at(0.0), cold = at(-10.0);
  EXPECT_FALSE(warm.cylinders[0].may_fall_after.has_value());
  EXPECT_FALSE(warm.lowest_is_manual);
  EXPECT_TRUE(says(warm.findings, "supply.bound_usual"));
  EXPECT_TRUE(warm.cautions.empty());
  // 55.8 psi at 0 C over 900 hPa: it falls to 50 on the way.
  const CylinderSupply& one = cool.cylinders[0];
  ASSERT_TRUE(one.falls_after.has_value());
  EXPECT_GT(*one.falls_after, Duration{});
  EXPECT_LT(*one.falls_after, one.lasts_best);
  EXPECT_LT(*one.may_fall_after, *one.falls_after);
  EXPECT_TRUE(says(cool.cautions, "supply.falls_below"));
  // There, by the draw itself, the gauge stands at 50 psi.
  const SupplyCylinder c = cylinder("1", "A", 28.0, 0.0);
  const Volume liquid = c.liquid / propane::saturation_at(celsius(0.0)).value().liquid_density;
  const DrawState then =
      draw_liquid({c.fitted.shell, propane::mass_inside(c.fitted.shell, liquid, celsius(0.0)).value(), celsius(0.0)},
                  *one.falls_after * (36.0 * kilogram_per_hour))
          .value();
  EXPECT_NEAR(psi(propane::gauge(then.saturation, 900.0 * hectopascal)), 50.0, 0.05);

  EXPECT_EQ(cold.cylinders[0].falls_after.value(), Duration{});
  EXPECT_TRUE(says(cold.cautions, "supply.below_now"));
  // The manual's own range counts before common practice.
  const SupplyPlan manual = at(20.0, 100.0);
  EXPECT_TRUE(manual.lowest_is_manual);
  EXPECT_TRUE(says(manual.findings, "supply.bound_manual"));
  EXPECT_FALSE(says(manual.findings, "supply.bound_usual"));
  EXPECT_TRUE(manual.cylinders[0].falls_after.has_value());
  EXPECT_FALSE(says(manual.cautions, "supply.may_be_above_now"));
  EXPECT_TRUE(says(at(35.0, 50.0).cautions, "supply.may_be_above_now"));  // about 165 psi against 150
}

TEST(Supply, SaysWhatIsNotKnown) {
  SupplyInputs in = morning({cylinder("1", "A", 28.0, std::nullopt), cylinder("2", "A", 28.0)});
  in.burner.power = std::nullopt;
  const SupplyPlan plan = supply_plan(in).value();
  const CylinderSupply& one = plan.cylinders[0];
  EXPECT_FALSE(one.gauge || one.gauge_spent || one.temperature_spent || one.output || one.falls_after);
  EXPECT_GT(one.lasts_low, Duration{});
  EXPECT_EQ(text_of(said(plan.cautions, "supply.pressure_unknown"), "id"), "1");
  EXPECT_TRUE(says(plan.findings, "supply.power_unknown"));
  EXPECT_FALSE(says(plan.findings, "supply.output"));
  EXPECT_FALSE(plan.groups[0].gauge_lowest || plan.groups[0].gauge_highest);
  EXPECT_TRUE(says(plan.findings, "supply.both_open_not_said"));
  EXPECT_FALSE(plan.groups[0].both_open);
  EXPECT_TRUE(says(plan.proposal, "supply.why_one_side"));
  in.both_open_allowed = true;
  EXPECT_TRUE(says(supply_plan(in).value().cautions, "supply.equalising_unknown"));
}

TEST(Supply, CautionsWhereTwoOpenValvesLetLiquidPass) {
  SupplyInputs in = morning({cylinder("1", "A", 25.0, 5.0), cylinder("2", "A", 25.0, 15.0), cylinder("3", "B", 25.0)});
  const auto with = [&](std::optional<bool> allowed) {
    in.both_open_allowed = allowed;
    return supply_plan(in).value();
  };
  const SupplyPlan silent = with(std::nullopt), forbidden = with(false), allowed = with(true);
  EXPECT_TRUE(says(silent.findings, "supply.both_open_not_said"));
  EXPECT_FALSE(says(silent.cautions, "supply.equalising"));
  EXPECT_TRUE(says(forbidden.findings, "supply.both_open_not_allowed"));
  EXPECT_FALSE(says(forbidden.cautions, "supply.equalising"));
  EXPECT_TRUE(says(allowed.findings, "supply.both_open_allowed"));
  EXPECT_TRUE(allowed.groups[0].both_open);
  EXPECT_FALSE(allowed.groups[1].both_open);  // alone
  const Sentence& caution = said(allowed.cautions, "supply.equalising");
  EXPECT_EQ(text_of(caution, "from"), "2");
  EXPECT_EQ(text_of(caution, "to"), "1");
  const double expected_pa =
      (propane::saturation_at(celsius(15.0)).value().pressure - propane::saturation_at(celsius(5.0)).value().pressure)
          .in(pascal);
  EXPECT_NEAR(si_of(caution, "difference"), expected_pa, 1.0);
  // As warm as each other: nothing to warn of.
  in.cylinders[0].temperature = in.cylinders[1].temperature;
  EXPECT_FALSE(says(with(true).cautions, "supply.equalising"));
}

TEST(Supply, CountsAChargeAndAPilotLight) {
  SupplyInputs in = three_cylinders();
  const GaugeBand plain = supply_plan(in).value().cylinders[0].gauge.value();
  in.cylinders[0].nitrogen = 3.0 * bar;
  const SupplyPlan charged = supply_plan(in).value();
  EXPECT_GT(charged.cylinders[0].gauge->best, plain.best);
  EXPECT_NEAR((charged.cylinders[0].gauge->high - plain.high).in(bar), 3.0, 1e-6);
  EXPECT_TRUE(says(charged.cautions, "supply.charged"));
  EXPECT_FALSE(says(charged.cautions, "supply.charged_vapour_pilot"));
  in.burner.pilot_light = PilotLight::vapour;
  EXPECT_TRUE(says(supply_plan(in).value().cautions, "supply.charged_vapour_pilot"));
  // A vapour pilot light cools the cylinder a little more.
  EXPECT_LT(*supply_plan(in).value().cylinders[1].temperature_spent, *charged.cylinders[1].temperature_spent);
}

TEST(Supply, TellsNoReserveWhereTheFuelDoesNotSuffice) {
  const SupplyPlan plan = supply_plan(morning({cylinder("1", "A", 20.0), cylinder("2", "B", 20.0)})).value();
  EXPECT_TRUE(says(plan.cautions, "supply.short"));
  EXPECT_NEAR(si_of(said(plan.cautions, "supply.short"), "mass"), kg(plan.use.short_of), 1e-12);
  EXPECT_TRUE(says(plan.proposal, "supply.use_to_the_end"));
  for (const char* key : {"supply.why_sides", "supply.lands_well", "supply.lands_low"})
    EXPECT_FALSE(says(plan.proposal, key)) << key;
  for (const char* key : {"supply.loss_enough", "supply.loss_late", "supply.loss_always"})
    EXPECT_FALSE(says(plan.findings, key)) << key;
}

TEST(Supply, TellsEachLossInWords) {
  const SupplyPlan plan = supply_plan(three_cylinders()).value();
  // Losing side A and losing cylinders 1, 2 and 3: four losses, each told once.
  std::size_t told = 0;
  for (const Sentence& s : plan.findings) told += s.key.rfind("supply.loss_", 0) == 0 ? 1 : 0;
  EXPECT_EQ(told, 4u);
  EXPECT_EQ(plan.use.losses.size(), 4u);
  for (const UseLoss& loss : plan.use.losses) {
    const bool side = loss.of == LossOf::side;
    const std::string key = !loss.too_late_after                 ? "supply.loss_enough"
                            : *loss.too_late_after == Duration{} ? "supply.loss_always"
                                                                 : "supply.loss_late";
    const std::string full = key + (side ? "_side" : "");
    bool found = false;
    for (const Sentence& s : plan.findings)
      found = found || (s.key == full && text_of(s, "name") == loss.name && si_of(s, "worst") == loss.worst.in(second));
    EXPECT_TRUE(found) << loss.name;
  }
}

TEST(Supply, NeverLastsFewerMinutesWithMoreFuel) {
  Random random = seeded("Supply.MoreFuel");
  for (int i = 0; i < 60; ++i) {
    SupplyInputs in = morning({});
    const std::size_t n = 1 + random.below(4);
    for (std::size_t c = 0; c < n; ++c) {
      in.cylinders.push_back(cylinder(std::to_string(c), random.below(2) == 0 ? "A" : "B", random.uniform(2.0, 26.0),
                                      random.uniform(-30.0, 45.0)));
      in.cylinders.back().fitted.usable_to = random.uniform(0.0, 0.1);
    }
    const SupplyPlan before = supply_plan(in).value();
    const std::size_t more = random.below(n);
    in.cylinders[more].liquid += random.uniform(0.1, 2.0) * kilogram;
    const SupplyPlan after = supply_plan(in).value();
    for (std::size_t c = 0; c < n; ++c) {
      EXPECT_GE(after.cylinders[c].lasts_low, before.cylinders[c].lasts_low);
      EXPECT_LE(after.cylinders[c].lasts_low, after.cylinders[c].lasts_best);
      EXPECT_LE(after.cylinders[c].lasts_best, after.cylinders[c].lasts_high);
    }
    EXPECT_GT(after.cylinders[more].lasts_best, before.cylinders[more].lasts_best - 1e-9 * second);
    EXPECT_LE(after.use.short_of, before.use.short_of);
  }
}

TEST(Supply, RefusesWhatCannotBe) {
  const SupplyInputs in = three_cylinders();
  const auto with = [&](auto change) {
    SupplyInputs other = in;
    change(other);
    return supply_plan(other);
  };
  expect_refused(with([](SupplyInputs& s) { s.ambient_field = 1200.0 * hectopascal; }), "supply.ambient_outside");
  expect_refused(with([](SupplyInputs& s) { s.ambient_highest = std::nan("") * pascal; }), "supply.ambient_outside");
  expect_refused(with([](SupplyInputs& s) { s.ambient_highest = 950.0 * hectopascal; }), "supply.ambient_order",
                 Errc::bad_input);
  expect_refused(with([](SupplyInputs& s) { s.pilot_flow = 2.0 * kilogram_per_hour; }), "supply.pilot_flow_outside");
  expect_refused(with([](SupplyInputs& s) { s.cylinders[1].temperature = celsius(50.0); }),
                 "supply.temperature_outside");
  EXPECT_EQ(with([](SupplyInputs& s) { s.fuel.flow = MassFlow{}; }).error().sentence.key, "use.flow_unknown");
  EXPECT_EQ(with([](SupplyInputs& s) { s.cylinders.clear(); }).error().sentence.key, "use.no_cylinders");
  expect_refused(with([](SupplyInputs& s) { s.cylinders[0].liquid = 40.0 * kilogram; }), "propane.liquid_outside");
  expect_refused(with([](SupplyInputs& s) { s.cylinders[1].fitted.id = "1"; }), "use.same_id", Errc::bad_input);
}

}  // namespace
}  // namespace pappus::balloon
