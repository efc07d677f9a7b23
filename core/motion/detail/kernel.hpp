/// The arithmetic of flights as plain numbers: what the kernels of all instruction sets share. SI throughout.
///
/// Nothing here is for callers: they use flight.hpp and many.hpp. A kernel file is compiled once for each instruction
/// set and holds no inline function or template with a name that another object file could share: a linker keeps one of
/// equals, and the one kept could need a processor that is not there.
#pragma once
#include <cstdint>

namespace pappus::motion::detail {

/// The air between two heights `spacing` apart: values at the lower one and by the metre above it.
struct AirCell {
  double t0_k, t1_k_m;                              // temperature
  double f0, f1_m, f2_m2;                           // p (1 - 0.378 e / p) / R, kg K / m3: density times temperature
  double east0_m_s, east1_s, north0_m_s, north1_s;  // wind
};
struct KernelAir {
  const AirCell* cells;
  double last_cell;  // index of the highest, as a number
  double ground_m, per_spacing_1_m;
};

/// Heat flux through the fabric in W/m2, by d = inside - outside and a = outside - 288.15 in kelvin, s the speed of the
/// air past it in m/s, f as in AirCell: h[0] + h[1] a + d (h[2] + d (h[3] + h[4] d + h[5] s) + h[6] a +
/// s (h[7] + s (h[8] + h[9] s)) + h[10] (f - f_ref)).
struct HeatFit {
  double h[11];
  double f_ref;
};

/// After some seconds: what share of the heat under way still is, and for how many seconds' worth of flame there is.
struct Mixing {
  double stays, adds_s;
};

struct KernelBody {
  double volume_m3, fabric_m2;
  double half_section_m2;  // half of the area across: drag is this times rho C_D v |v|
  double added_mass;       // of the air displaced
  double drag_side;
  double per_mixing_1_s;  // of the heat under way: what share of it arrives in a second
  Mixing half_step, whole_step;
  double net_j_kg, net_per_kelvin_j_kg_k;
  double vent_m2;  // discharge coefficient times area, times sqrt(2 g height)
  double crown_excess_k;
  double mean_most_k;       // the pilot's: no hotter than this
  double still_air2_m2_s2;  // square of the air past the fabric in level flight
  HeatFit heat;
};

/// How the one at the burner works.
struct KernelPilot {
  double continuous;      // above zero: a flame of any size all the time
  double burn_s, look_s;  // one burn; from one look to the next
  double settle_1_s;      // of what is missing in height, how much a second
  double climb_most_m_s, sink_most_m_s;
  double vents;  // above zero: they may be opened
  double vent_over_k;
};

/// The flights of one call, side by side. Every pointer is to `count` values; what changes is written back.
struct KernelFlights {
  std::int32_t count;  // a multiple of the kernel's width
  // State.
  double *z_m, *w_m_s, *gas_kg, *pending_j, *fuel_kg, *east_m, *north_m, *u_m_s, *v_m_s;
  double *burning_s, *look_in_s, *flow_kg_s,
      *vent;       // the hand: seconds of this burn left, to the next look, what is open
  double* flying;  // 1, or 0 when it has come down
  double *touch_s, *touch_sink_m_s;
  double* been_up;  // 1 once it was above the ground by kOffTheGround
  // What differs between flights.
  const double *mass_kg, *loss, *drag_up, *drag_down, *flow_most_kg_s, *wind_east_m_s, *wind_north_m_s, *flame_out_s;
  // Heights to hold: of flight i those from leg_first[i] on, each until its time; the last one for ever.
  const double *leg_until_s, *leg_z_m;
  std::int32_t* leg;  // the one that is flown now
  const std::int32_t* leg_last;
};

/// What went in and out, summed along: for one flight at a time. Without the step in which it comes down, which ends
/// within.
struct KernelLedger {
  double gas_in_kg, gas_out_kg, vented_kg;
  double fuel_heat_j, arrived_j, lost_j, carried_in_j;  // carried_in: by the air that came in, less that which left
};

inline constexpr double kStep = 2.0;          // s
inline constexpr double kOffTheGround = 1.0;  // m
inline constexpr double kGravity = 9.80665;
inline constexpr double kHeatCapacity = 1006.0;  // J/(kg K), dry air at constant pressure
inline constexpr double kGasConstant = 287.0528;

/// Runs `steps` steps of kStep from `from_s`. `ledger` only with a width of one, else null.
using Kernel = void (*)(const KernelAir&, const KernelBody&, const KernelPilot&, const KernelFlights&, double from_s,
                        std::int32_t steps, KernelLedger* ledger);

namespace scalar {
void run(const KernelAir&, const KernelBody&, const KernelPilot&, const KernelFlights&, double from_s,
         std::int32_t steps, KernelLedger*);
}
namespace baseline {
void run(const KernelAir&, const KernelBody&, const KernelPilot&, const KernelFlights&, double from_s,
         std::int32_t steps, KernelLedger*);
}
#if defined(__x86_64__)
namespace avx2 {
void run(const KernelAir&, const KernelBody&, const KernelPilot&, const KernelFlights&, double from_s,
         std::int32_t steps, KernelLedger*);
}
namespace avx512 {
void run(const KernelAir&, const KernelBody&, const KernelPilot&, const KernelFlights&, double from_s,
         std::int32_t steps, KernelLedger*);
}
#endif

}  // namespace pappus::motion::detail
