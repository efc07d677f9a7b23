#include "core/balloon/draw.hpp"

#include <cmath>
#include <functional>

#include <gtest/gtest.h>

#include "core/propane/fill.hpp"
#include "core/propane/liquid_heat.hpp"
#include "core/propane/saturation.hpp"
#include "tests/support/expect_refused.hpp"
#include "tests/support/propane_eos.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::balloon {
namespace {

namespace eos = testing::propane_eos;
using testing::expect_refused;
using testing::read_table;
using testing::Row;
using testing::seeded;

constexpr Volume kShell = 40.0 * litre;

Contents filled(double fraction, double t_c, HeatCapacity wall = kUsualWall, Volume shell = kShell) {
  const Temperature t = celsius(t_c);
  return {shell, propane::mass_inside(shell, fraction * shell, t).value(), t, wall};
}

Mass liquid_of(const Contents& c) { return propane::inside_at(c.shell, c.total, c.temperature).value().liquid_mass; }

double c_of(const Result<DrawState>& state) { return in_celsius(state.value().temperature); }

// From 80 % of the shell to 10 % of it.
Mass from_80_to_10(const Contents& c) { return 0.875 * liquid_of(c); }

TEST(Draw, MatchesIndependentArithmeticForVapour) {
  for (const Row& row : read_table("draw_vapour.csv")) {
    SCOPED_TRACE(row.where());
    // 16 kg of liquid, at the rate at which the draw begins.
    const Temperature t = celsius(row["temperature_c"]);
    const Volume liquid = row["liquid_kg"] * kilogram / propane::saturation_at(t).value().liquid_density;
    const Contents c{row["shell_l"] * litre, propane::mass_inside(row["shell_l"] * litre, liquid, t).value(), t,
                     row["wall_j_k"] * joule_per_kelvin};
    const Mass little = 0.01 * kilogram;
    const double change_k = c_of(draw_vapour(c, little)) - row["temperature_c"];
    EXPECT_NEAR(change_k * (row["drawn_kg"] * kilogram / little), row["change_k"], row["tolerance_k"]);
  }
}

TEST(Draw, CoolsWhenLiquidLeavesAndLessWithAWall) {
  for (const double t_c : {-10.0, 0.0, 15.0, 30.0}) {
    const Contents bare = filled(0.8, t_c, HeatCapacity{}), walled = filled(0.8, t_c);
    const double without = c_of(draw_liquid(bare, from_80_to_10(bare)));
    const double with = c_of(draw_liquid(walled, from_80_to_10(walled)));
    RecordProperty("from " + std::to_string(t_c), std::to_string(without) + " " + std::to_string(with));
    EXPECT_LT(without, with);
    EXPECT_LT(with, t_c);
    EXPECT_GT(without, t_c - 15.0);
  }
}

// Plain summing of what leaves over many small steps, by Simpson's rule.
double left_j(const Contents& c, Mass drawn, double share) {
  constexpr int n = 400;
  const auto states = draw_states(c, drawn, n + 1, share).value();
  double sum = 0.0;
  for (int i = 0; i <= n; ++i) {
    const Temperature t = states[static_cast<std::size_t>(i)].temperature;
    const double h = propane::liquid_heat(t).value().enthalpy.in(joule_per_kilogram) +
                     share * propane::saturation_at(t).value().latent_heat.in(joule_per_kilogram);
    sum += (i == 0 || i == n ? 1.0 : i % 2 == 1 ? 4.0 : 2.0) * h;
  }
  return sum * drawn.in(kilogram) / n / 3.0;
}

TEST(Draw, KeepsMassVolumeAndEnergy) {
  Random random = seeded("Draw.Balance");
  for (int i = 0; i < 60; ++i) {
    const Contents c = filled(random.uniform(0.3, 0.82), random.uniform(-20.0, 35.0),
                              random.uniform(4000.0, 25'000.0) * joule_per_kelvin, random.uniform(20.0, 90.0) * litre);
    const bool vapour = i % 2 == 1;
    const Mass drawn = random.uniform(0.02, vapour ? 0.15 : 1.0) * most_drawn(c).value();
    const DrawState before = draw_states(c, drawn, 2).value().front();
    const DrawState after = (vapour ? draw_vapour(c, drawn) : draw_liquid(c, drawn)).value();
    EXPECT_NEAR((after.liquid + after.vapour + drawn).in(kilogram), c.total.in(kilogram), 1e-9);
    EXPECT_NEAR(propane::mass_inside(c.shell, after.liquid_volume, after.temperature).value().in(kilogram),
                (after.liquid + after.vapour).in(kilogram), 1e-6);
    const double all_j = c.total.in(kilogram)*3.5e5;  // the heat that would boil it all, about
    const double gap_j =
        before.internal_energy.in(joule)-after.internal_energy.in(joule)-left_j(c, drawn, vapour ? 1.0 : 0.0);
    EXPECT_NEAR(gap_j / all_j, 0.0, 1e-6) << i;
  }
}

TEST(Draw, AgreesWithTheFullEquationOfState) {
  // The same balance from the full equation: another enthalpy, another saturation line, plain halving in the
  // temperature.
  const double shell_m3 = kShell.in(cubic_metre);
  struct Full {
    double energy_j, liquid_enthalpy, vapour_enthalpy;
  };
  const auto full = [&](double t_k, double mass_kg, double wall_j_k) {
    const eos::Saturated s = eos::saturation_at(t_k);
    const double rho_l = s.liquid_mol_m3 * eos::kMolarMass, rho_v = s.vapour_mol_m3 * eos::kMolarMass;
    const double h_l = eos::state_at(t_k, s.liquid_mol_m3).enthalpy / eos::kMolarMass;
    const double h_v = eos::state_at(t_k, s.vapour_mol_m3).enthalpy / eos::kMolarMass;
    const double vapour_kg = (shell_m3 - mass_kg / rho_l) / (1.0 / rho_v - 1.0 / rho_l);
    return Full{(mass_kg - vapour_kg) * (h_l - s.pressure_pa / rho_l) + vapour_kg * (h_v - s.pressure_pa / rho_v) +
                    wall_j_k * t_k,
                h_l, h_v};
  };
  for (const double t_c : {0.0, 15.0, 30.0})
    for (const double wall_j_k : {0.0, 12'000.0})
      for (const bool vapour : {false, true}) {
        const Contents c = filled(0.8, t_c, wall_j_k * joule_per_kelvin);
        const Mass drawn = vapour ? 1.0 * kilogram : from_80_to_10(c);
        double mass_kg = c.total.in(kilogram), t_k = t_c + 273.15;
        constexpr int steps = 100;
        const double dm_kg = drawn.in(kilogram) / steps;
        for (int i = 0; i < steps; ++i) {
          const Full was = full(t_k, mass_kg, wall_j_k);
          mass_kg -= dm_kg;
          double low = t_k - 5.0, high = t_k + 0.5;
          for (int halving = 0; halving < 45; ++halving) {
            const double middle = 0.5 * (low + high);
            const Full now = full(middle, mass_kg, wall_j_k);
            const double out = vapour ? 0.5 * (was.vapour_enthalpy + now.vapour_enthalpy)
                                      : 0.5 * (was.liquid_enthalpy + now.liquid_enthalpy);
            (now.energy_j < was.energy_j - out * dm_kg ? low : high) = middle;
          }
          t_k = 0.5 * (low + high);
        }
        const auto state = vapour ? draw_vapour(c, drawn) : draw_liquid(c, drawn);
        EXPECT_NEAR(c_of(state), t_k - 273.15, 0.002) << t_c << " C, " << wall_j_k << " J/K, vapour " << vapour;
      }
}

TEST(Draw, CoolsMoreTheMoreIsDrawnTheLighterTheWallAndAsVapour) {
  Random random = seeded("Draw.Monotonic");
  for (int i = 0; i < 60; ++i) {
    const HeatCapacity wall = random.uniform(5000.0, 30'000.0) * joule_per_kelvin;
    const double fraction = random.uniform(0.4, 0.82), t_c = random.uniform(-20.0, 35.0);
    const Contents c = filled(fraction, t_c, wall);
    const Mass some = random.uniform(0.05, 0.10) * liquid_of(c), more = some + 0.3 * kilogram;
    EXPECT_LT(c_of(draw_liquid(c, more)), c_of(draw_liquid(c, some)));
    EXPECT_LT(c_of(draw_vapour(c, more)), c_of(draw_vapour(c, some)));
    EXPECT_LT(c_of(draw_vapour(c, some)), c_of(draw_liquid(c, some)));
    EXPECT_GT(c_of(draw_liquid(filled(fraction, t_c, 1.5 * wall), more)), c_of(draw_liquid(c, more)));
  }
}

TEST(Draw, GivesStatesEvenlyOnTheWay) {
  const Contents c = filled(0.8, 15.0);
  const Mass drawn = 12.0 * kilogram;
  for (const double share : {0.0, 1.0}) {
    const Mass all = share > 0.5 ? 0.2 * drawn : drawn;
    const auto states = draw_states(c, all, 13, share).value();
    ASSERT_EQ(states.size(), 13u);
    EXPECT_EQ(states.front().temperature, c.temperature);
    EXPECT_EQ(states.back().drawn, all);
    for (std::size_t i = 1; i < states.size(); ++i) {
      EXPECT_NEAR((states[i].drawn - states[i - 1].drawn).in(kilogram), all.in(kilogram) / 12.0, 1e-9);
      EXPECT_LT(states[i].temperature, states[i - 1].temperature);
      EXPECT_LT(states[i].saturation, states[i - 1].saturation);
    }
    EXPECT_NEAR(in_celsius(states.back().temperature), c_of(share > 0.5 ? draw_vapour(c, all) : draw_liquid(c, all)),
                1e-4);
  }
}

TEST(Draw, TellsWhatIsLeftOfACharge) {
  Contents c = filled(0.8, 10.0);
  EXPECT_FALSE(draw_liquid(c, 1.0 * kilogram).value().nitrogen.has_value());
  c.nitrogen = 4.0 * bar;
  const auto states = draw_states(c, 0.9 * liquid_of(c), 10).value();
  EXPECT_NEAR(states.front().nitrogen.value().high.in(bar), 4.0, 1e-9);
  for (std::size_t i = 1; i < states.size(); ++i) {
    EXPECT_LT(states[i].nitrogen.value().high, states[i - 1].nitrogen.value().high);
    EXPECT_LE(states[i].nitrogen.value().low, states[i].nitrogen.value().high);
  }
}

TEST(Draw, RefusesWhatCannotBe) {
  const Contents c = filled(0.8, 15.0);
  expect_refused(draw_liquid(c, -0.1 * kilogram), "draw.drawn_outside");
  expect_refused(draw_liquid(c, most_drawn(c).value() + 0.01 * kilogram), "draw.drawn_outside");
  expect_refused(draw_vapour(c, std::nan("") * kilogram), "draw.drawn_outside");
  EXPECT_NEAR(most_drawn(c).value().in(kilogram), (c.total - 15.8129 * kilogram_per_cubic_metre * kShell).in(kilogram),
              0.001);
  const DrawState spent = draw_liquid(c, most_drawn(c).value()).value();
  EXPECT_GT(spent.liquid, Mass{});  // what condensed while it cooled
  EXPECT_LT(spent.liquid, 0.2 * kilogram);
  Contents walled = c;
  walled.wall = -1.0 * joule_per_kelvin;
  expect_refused(draw_liquid(walled, Mass{}), "draw.wall_outside");
  walled.wall = 100'001.0 * joule_per_kelvin;
  expect_refused(draw_liquid(walled, Mass{}), "draw.wall_outside");
  Contents charged = c;
  charged.nitrogen = -1.0 * bar;
  expect_refused(draw_liquid(charged, Mass{}), "draw.nitrogen_outside");
  charged.nitrogen = 21.0 * bar;
  expect_refused(draw_liquid(charged, Mass{}), "draw.nitrogen_outside");
  expect_refused(draw_states(c, Mass{}, 1), "draw.states_outside");
  expect_refused(draw_states(c, Mass{}, 1001), "draw.states_outside");
  expect_refused(draw_states(c, Mass{}, 2, 1.1), "draw.share_outside");
  // All of it as vapour, with no wall to lend warmth: colder than anything here is answered for.
  const Contents bare = filled(0.5, 0.0, HeatCapacity{});
  expect_refused(draw_vapour(bare, 0.9 * liquid_of(bare)), "propane.temperature_outside");
  Contents over = c;
  over.total = 30.0 * kilogram;
  EXPECT_FALSE(draw_liquid(over, Mass{}).has_value());
}

}  // namespace
}  // namespace pappus::balloon
