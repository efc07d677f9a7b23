// The kernel's arithmetic against solutions in closed form, with all else switched off.
#include "core/motion/detail/kernel.hpp"

#include <cmath>
#include <cstdint>
#include <string>

#include <gtest/gtest.h>

#include "core/balloon/landing.hpp"
#include "tests/core/motion/support.hpp"
#include "tests/support/table.hpp"

namespace pappus::motion::detail {
namespace {

using pappus::testing::read_table;
using pappus::testing::Row;

/// One flight of the bare kernel: still air of one temperature and density, no flame, no loss, no vent, unless set.
struct Bare {
  AirCell cell{288.15, 0.0, 1.225 * 288.15, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0};
  KernelBody body{};
  KernelPilot pilot{0.0, 4.0, 8.0, 1.0 / 40.0, 2.5, 2.5, 0.0, 0.0};
  double z = 1000.0, w = 0.0, gas = 0.0, pending = 0.0, fuel = 0.0, x = 0.0, y = 0.0, u = 0.0, v = 0.0;
  double burning = 0.0, look = 0.0, flow = 0.0, vent = 0.0, flying = 1.0, touch = 0.0, sink = 0.0, up = 1.0;
  double mass = 500.0, loss = 1.0, drag_up = 0.5, drag_down = 0.8, flow_most = 0.0, east = 0.0, north = 0.0, out = 1e9;
  double leg_until = 1e9, leg_z = 1000.0;
  std::int32_t leg = 0, leg_last = 0;

  Bare() {
    body.volume_m3 = 2180.4;
    body.fabric_m2 = 1.0;
    body.half_section_m2 = 0.5 * 224.7;
    body.added_mass = 0.5;
    body.drag_side = 0.5;
    body.per_mixing_1_s = 0.125;
    body.net_j_kg = 4e7;
    body.mean_most_k = 400.0;
    inside(355.0);
  }
  void inside(double t_k) { gas = cell.f0 * body.volume_m3 / t_k; }
  [[nodiscard]] double temperature() const { return cell.f0 * body.volume_m3 / gas; }
  void run(double seconds) {
    const KernelAir air{&cell, 0.0, 0.0, 0.05};
    KernelFlights f{};
    f.count = 1;
    f.z_m = &z, f.w_m_s = &w, f.gas_kg = &gas, f.pending_j = &pending, f.fuel_kg = &fuel, f.east_m = &x, f.north_m = &y;
    f.u_m_s = &u, f.v_m_s = &v, f.burning_s = &burning, f.look_in_s = &look, f.flow_kg_s = &flow, f.vent = &vent;
    f.flying = &flying, f.touch_s = &touch, f.touch_sink_m_s = &sink, f.been_up = &up, f.mass_kg = &mass,
    f.loss = &loss;
    f.drag_up = &drag_up, f.drag_down = &drag_down, f.flow_most_kg_s = &flow_most, f.wind_east_m_s = &east;
    f.wind_north_m_s = &north, f.flame_out_s = &out, f.leg_until_s = &leg_until, f.leg_z_m = &leg_z, f.leg = &leg;
    f.leg_last = &leg_last;
    scalar::run(air, body, pilot, f, 0.0, static_cast<std::int32_t>(std::lround(seconds / kStep)), nullptr);
  }
};

double step_answer(const std::string& what) {
  // 50 kg too much lift, the mass moved 4007 kg.
  Bare b;
  const double gas = 2165.0;
  b.gas = gas;
  const double air = 1.225 * b.body.volume_m3;
  b.mass = air - gas - 50.0;
  b.body.added_mass = (4007.0 - b.mass - gas) / air;
  b.run(10.0);
  return what == "step_speed_m_s" ? b.w : b.z - 1000.0;
}

double answer(const std::string& what) {
  if (what == "step_speed_m_s" || what == "step_height_m") return step_answer(what);
  if (what == "launch_speed_m_s" || what == "launch_ten_half_times") {
    // The half time is 2 M / (rho C A W): the mass that gives it.
    Bare b;
    b.cell.east0_m_s = 5.0;
    const double half_time = what == "launch_speed_m_s" ? 11.6458 : 12.0;
    const double moved = half_time * 1.225 * 0.5 * 224.7 * 5.0 / 2.0;
    b.inside(355.0);
    const double air = 1.225 * b.body.volume_m3;
    b.mass = air - b.gas;  // in balance: it stays where it is
    b.body.added_mass = (moved - b.mass - b.gas) / air;
    b.run(what == "launch_speed_m_s" ? 60.0 : 120.0);
    return what == "launch_speed_m_s" ? b.u : b.u / 5.0;
  }
  if (what == "drop_m_s") {
    // A basket without a balloon: no volume, no drag. 36 in is fallen through in less than a step, so the fall goes on
    // for one and the speed at 36 in is that of the same acceleration.
    Bare b;
    b.body.volume_m3 = 1e-9;
    b.body.half_section_m2 = 0.0;
    b.inside(288.15);
    b.run(2.0);
    const double g = -b.w / 2.0;
    EXPECT_NEAR(1000.0 - b.z, 0.5 * g * 4.0, 1e-9);
    return std::sqrt(2.0 * g * 36.0 * 0.0254);
  }
  if (what == "crown_lift") {
    const auto lift = balloon::false_lift(
        {.change = 10.0 * metre_per_second, .air = 1.2 * kilogram_per_cubic_metre, .volume = 2000.0 * cubic_metre});
    const double section = 1.336 * std::cbrt(2000.0) * std::cbrt(2000.0);
    return lift.value().high.in(kilogram)*kGravity / (0.5 * 1.2 * 100.0 * section);
  }
  if (what == "cold_terminal_m_s") {
    Bare b;
    b.inside(288.15);
    b.z = 5000.0;
    b.run(200.0);
    return -b.w;
  }
  if (what == "cooling_k") {
    Bare b;
    b.body.heat.h[2] = 4850.0;
    b.inside(355.5);
    b.run(120.0);
    return b.temperature();
  }
  ADD_FAILURE() << "no such quantity: " << what;
  return 0.0;
}

TEST(Kernel, MatchesClosedForms) {
  for (const Row& row : read_table("motion_forms.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    EXPECT_NEAR(answer(row.text("quantity")), row["value"], row["tolerance"]);
  }
}

TEST(Kernel, IsOfTheFourthOrder) {
  // w = w_t tanh(t / tau) with tau 2 M / (rho C_D A w_t). The step is fixed; a mass moved twice as large makes it half
  // as long.
  const auto error = [](double steps_in_tau, double taus) {
    const double gas = 2165.0, air = 1.225 * 2180.4, excess = 50.0, k = 0.5 * 224.7 * 1.225 * 0.5;
    const double most = std::sqrt(kGravity * excess / k);
    const double tau = steps_in_tau * kStep;
    Bare b;
    b.gas = gas;
    b.mass = air - gas - excess;
    b.body.added_mass = (tau * k * most - b.mass - gas) / air;
    b.run(taus * tau);
    return b.w - most * std::tanh(taus);
  };
  for (const double steps : {4.0, 8.0, 16.0}) {
    SCOPED_TRACE(steps);
    EXPECT_NEAR(error(steps, 1.0) / error(2.0 * steps, 1.0), 16.0, 1.6);
  }
}

TEST(Kernel, RisingHotAirCoolsByTwelveKelvinAKilometre) {
  // No loss: dT/dz = -(g / c_p) T / Ta (docs/accuracy.md). Held in a slow climb by little drag and little lift.
  Bare b;
  // p falls by g rho: f' = -g f / (R Ta).
  b.cell.f1_m = -kGravity / (kGasConstant * 288.15) * b.cell.f0;
  b.body.drag_side = 0.0;
  b.inside(355.15);
  b.mass = 1.225 * b.body.volume_m3 - b.gas - 5.0;
  b.z = 0.0;
  const double before = b.temperature();
  b.run(20.0);
  const double f = b.cell.f0 + b.cell.f1_m * b.z;
  const double after = f * b.body.volume_m3 / b.gas;
  ASSERT_GT(b.z, 1.0);
  EXPECT_NEAR((after - before) / b.z, -kGravity / kHeatCapacity * 355.15 / 288.15, 2e-5);
}

}  // namespace
}  // namespace pappus::motion::detail
