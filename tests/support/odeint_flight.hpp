/// The equations of core/motion/flight.hpp written a second time and solved by Boost.Odeint: what the kernels are held
/// against.
///
/// Nothing but the body's numbers and the air's cells is shared with the kernel. The inside's temperature is the state,
/// not the gas; the air is that at the height where it is, not one foreseen for a step; the steps are those of the
/// solver. Commands (flame and vent) are given: whoever works the burner is not part of the equations.
#pragma once
#include <cstddef>
#include <optional>
#include <vector>

#include "core/motion/flight.hpp"

namespace pappus::motion::testing {

/// SI throughout.
struct Command {
  double until_s, flow_kg_s;
  bool vent;
};
/// As a flight's track tells them, equal ones joined.
std::vector<Command> commands_of(const Flown& flown);

struct OdeintState {
  double z_m, w_m_s, t_k, pending_j, fuel_kg, east_m, north_m, u_m_s, v_m_s;
};
struct OdeintFlown {
  std::vector<OdeintState> at;  // the end of each command that it was in the air for
  std::optional<Touchdown> touchdown;
  OdeintState end{};  // where it touched down, else after the last command
  long long evaluations = 0;
};

/// As fly() begins it.
OdeintState odeint_start(const Body& body, const FlightAir& air, const Plan& plan, const Perturbation& perturbation);

/// Dormand and Prince's fifth order, started afresh at each command. `tolerance` is absolute and relative.
OdeintFlown odeint_fly(const Body& body, const FlightAir& air, const Perturbation& perturbation,
                       const OdeintState& start, const std::vector<Command>& commands, double tolerance);

}  // namespace pappus::motion::testing
