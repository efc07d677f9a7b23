// Notation: z altitude m, w climb m/s, T inside K, h heat under way J, x east m, y north m, u and v their speeds; f
// density times temperature; V volume m3.
#include "tests/support/odeint_flight.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>

namespace pappus::motion::testing {
namespace {

namespace odeint = boost::numeric::odeint;

enum : std::size_t { kZ, kW, kT, kH, kFuel, kX, kY, kU, kV, kStates };
using State = std::array<double, kStates>;

State packed(const OdeintState& s) {
  return {s.z_m, s.w_m_s, s.t_k, s.pending_j, s.fuel_kg, s.east_m, s.north_m, s.u_m_s, s.v_m_s};
}
OdeintState unpacked(const State& s) { return {s[kZ], s[kW], s[kT], s[kH], s[kFuel], s[kX], s[kY], s[kU], s[kV]}; }

double squared(double x) { return x * x; }

class Equations {
 public:
  Equations(const Body& body, const FlightAir& air, const Perturbation& p) : body_{body.kernel()}, air_{air.kernel()} {
    const BodyInputs& in = body.inputs();
    mass_kg_ = (in.mass + p.more).in(kilogram);
    loss_ = in.settings.loss * p.loss;
    drag_up_ = in.settings.drag_up * p.drag;
    drag_down_ = in.settings.drag_down * p.drag;
    east_m_s_ = p.east.in(metre_per_second);
    north_m_s_ = p.north.in(metre_per_second);
  }
  void set(const Command& c) {
    flow_kg_s_ = c.flow_kg_s;
    vent_m2_ = c.vent ? body_.vent_m2 : 0.0;
  }
  [[nodiscard]] double ground_m() const { return air_.ground_m; }
  [[nodiscard]] long long evaluations() const { return evaluations_; }

  void operator()(const State& s, State& rate, double /*time_s*/) {
    ++evaluations_;
    constexpr double c_p = detail::kHeatCapacity, c_v = detail::kHeatCapacity - detail::kGasConstant;
    const double volume = body_.volume_m3;
    // The air where it is.
    const double place = std::clamp((s[kZ] - air_.ground_m) * air_.per_spacing_1_m, 0.0, air_.last_cell);
    const int index = static_cast<int>(place);
    const detail::AirCell& cell = air_.cells[index];
    const double above = s[kZ] - (air_.ground_m + index / air_.per_spacing_1_m);
    const double t_air = cell.t0_k + cell.t1_k_m * above;
    const double f = cell.f0 + cell.f1_m * above + cell.f2_m2 * above * above;
    const double f_rate = (cell.f1_m + 2.0 * cell.f2_m2 * above) * s[kW];
    const double wind_x = cell.east0_m_s + cell.east1_s * above + east_m_s_ - s[kU];
    const double wind_y = cell.north0_m_s + cell.north1_s * above + north_m_s_ - s[kV];
    const double rho_air = f / t_air, rho_gas = f / s[kT];

    // Force.
    const double mass = mass_kg_ - s[kFuel];
    const double moved = mass + rho_gas * volume + body_.added_mass * rho_air * volume;
    const double lift = detail::kGravity * volume * (rho_air - rho_gas);
    const double c_d = s[kW] >= 0.0 ? drag_up_ : drag_down_;
    double force = lift - detail::kGravity * mass - rho_air * body_.half_section_m2 * c_d * s[kW] * std::abs(s[kW]);
    const bool stands = s[kZ] <= air_.ground_m && s[kW] <= 0.0;
    if (stands) force = std::max(force, 0.0);
    const double slip = std::sqrt(squared(wind_x) + squared(wind_y));
    const double aside = rho_air * body_.half_section_m2 * body_.drag_side * slip / moved;

    // Heat.
    const double excess = s[kT] - t_air;
    const double past = std::sqrt(squared(slip) + squared(s[kW]) + body_.still_air2_m2_s2);
    const double loss_w = loss_ * body_.fabric_m2 * flux_w_m2(excess, t_air - 288.15, past, f);
    const double flame_w = flow_kg_s_ * (body_.net_j_kg - body_.net_per_kelvin_j_kg_k * excess);
    const double arrives_w = s[kH] * body_.per_mixing_1_s;
    const double vent_kg_s = vent_m2_ > 0.0 ? vent_m2_ * std::sqrt(std::max(rho_air - rho_gas, 0.0) * rho_gas) : 0.0;
    const double t_crown = s[kT] + body_.crown_excess_k;
    const double owed_w = c_v * volume * f_rate - arrives_w + loss_w + c_p * vent_kg_s * t_crown;
    const double mouth_kg_s = owed_w / (c_p * (owed_w < 0.0 ? s[kT] : t_air));
    const double gas_kg_s = mouth_kg_s - vent_kg_s;

    rate[kZ] = s[kW];
    rate[kW] = force / moved;
    rate[kT] = s[kT] * (f_rate / f - gas_kg_s * s[kT] / (f * volume));
    rate[kH] = flame_w - arrives_w;
    rate[kFuel] = flow_kg_s_;
    rate[kX] = s[kU];
    rate[kY] = s[kV];
    rate[kU] = aside * wind_x;
    rate[kV] = aside * wind_y;
  }

 private:
  [[nodiscard]] double flux_w_m2(double d, double a, double s, double f) const {
    const double* h = body_.heat.h;
    const double by_size = h[2] * d + h[3] * d * d + h[4] * d * d * d + h[5] * d * d * s;
    const double by_speed = d * s * (h[7] + h[8] * s + h[9] * s * s);
    return h[0] + h[1] * a + by_size + h[6] * d * a + by_speed + h[10] * d * (f - body_.heat.f_ref);
  }

  detail::KernelBody body_;
  detail::KernelAir air_;
  double mass_kg_, loss_, drag_up_, drag_down_, east_m_s_, north_m_s_;
  double flow_kg_s_ = 0.0, vent_m2_ = 0.0;
  long long evaluations_ = 0;
};

using Dopri5 = odeint::runge_kutta_dopri5<State>;

// Where in a step it comes to the ground: the step is halved until it ends there.
struct Meeting {
  double after_s;
  State state;
};
Meeting met_ground(Equations& equations, const State& from, double step_s) {
  double low = 0.0, high = step_s;
  State state = from;
  for (int i = 0; i < 50; ++i) {
    const double middle = 0.5 * (low + high);
    state = from;
    Dopri5{}.do_step(std::ref(equations), state, 0.0, middle);
    (state[kZ] <= equations.ground_m() ? high : low) = middle;
  }
  return {high, state};
}

}  // namespace

std::vector<Command> commands_of(const Flown& flown) {
  std::vector<Command> all;
  for (std::size_t i = 1; i < flown.track.size(); ++i) {
    // The point of a touchdown has its own time within the step; the command goes on to the step's end.
    const double until_s = detail::kStep * static_cast<double>(i);
    const double flow_kg_s = flown.track[i].flame.in(kilogram_per_second);
    const bool vent = flown.track[i].venting;
    if (!all.empty() && all.back().flow_kg_s == flow_kg_s && all.back().vent == vent) {
      all.back().until_s = until_s;
    } else {
      all.push_back({until_s, flow_kg_s, vent});
    }
  }
  return all;
}

OdeintState odeint_start(const Body& body, const FlightAir& air, const Plan& plan, const Perturbation& p) {
  const FlightAir::Sample here = air.at(plan.from);
  const Temperature inside = plan.inside ? *plan.inside : body.carrying(here, body.inputs().mass + p.more).value();
  const double moving = plan.with_the_wind ? 1.0 : 0.0;
  OdeintState s{};
  s.z_m = plan.from.from_origin().in(metre);
  s.w_m_s = plan.climb.in(metre_per_second);
  s.t_k = inside.from_origin().in(kelvin);
  s.u_m_s = moving * (here.east + p.east).in(metre_per_second);
  s.v_m_s = moving * (here.north + p.north).in(metre_per_second);
  return s;
}

OdeintFlown odeint_fly(const Body& body, const FlightAir& air, const Perturbation& perturbation,
                       const OdeintState& start, const std::vector<Command>& commands, double tolerance) {
  constexpr double kFirst = 2.0;  // s, after each command
  Equations equations{body, air, perturbation};
  const double ground_m = equations.ground_m();
  OdeintFlown out;
  out.at.reserve(commands.size());
  State s = packed(start);
  double now = 0.0;
  bool been_up = s[kZ] > ground_m + detail::kOffTheGround;
  auto stepper = odeint::make_controlled<Dopri5>(tolerance, tolerance);
  for (const Command& command : commands) {
    equations.set(command);
    stepper.reset();
    double step_s = kFirst;
    while (now < command.until_s) {
      const bool last = now + step_s >= command.until_s;
      double used_s = last ? command.until_s - now : step_s;
      const double tried_s = used_s;
      const State before = s;
      double time_s = now;
      if (stepper.try_step(std::ref(equations), s, time_s, used_s) == odeint::fail) {
        step_s = used_s;
        continue;
      }
      step_s = used_s;  // what it thinks best for the next
      if (s[kZ] <= ground_m && before[kZ] > ground_m) {
        const Meeting meeting = met_ground(equations, before, tried_s);
        s = meeting.state;
        if (been_up) {
          out.touchdown = Touchdown{(now + meeting.after_s) * second, -s[kW] * metre_per_second};
          out.end = unpacked(s);
          out.evaluations = equations.evaluations();
          return out;
        }
        s[kZ] = ground_m;
        s[kW] = 0.0;
        now += meeting.after_s;
        stepper.reset();
        continue;
      }
      now = last ? command.until_s : time_s;
      been_up = been_up || s[kZ] > ground_m + detail::kOffTheGround;
    }
    out.at.push_back(unpacked(s));
  }
  out.end = unpacked(s);
  out.evaluations = equations.evaluations();
  return out;
}

}  // namespace pappus::motion::testing
