/// One flight by force and heat, and many at once.
///
/// The envelope is open: its pressure is that of the air, so that what the flame adds drives air out of the mouth, and
/// cooling or sinking draws cold air in. With f = p (1 - 0.378 e / p) / R, so that densities are f / T:
///
///     lift     g V f (1/Ta - 1/T)          moved   M = mass + f V (1/T + C_m / Ta)
///     up       M w' = lift - g mass - 1/2 rho C_D A w |w|
///     aside    M u' = 1/2 rho C_s A |W - u| (W - u)
///     heat     h' = P - h / tau            what the flame gave and has not yet lifted
///     owed     c_v V f' - h / tau + (fabric's loss) + c_p (vent) T_crown = c_p (mouth) T_x
///     gas      mouth - vent                 T_x: inside's going out, outside's coming in
///     inside   m' = gas, T = f V / m
///
/// Source    first law for an open volume; drag, added mass and natural shape as in docs/accuracy.md. Checked against
///           Boost.Odeint on the same equations and against the closed forms of tests/data/motion_forms.csv.
/// The step is 2 s, by Runge and Kutta's fourth order, made good where the mouth's flow turns; the air met in a step is
/// that foreseen for its middle.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/motion/body.hpp"
#include "core/motion/flight_air.hpp"

namespace pappus::motion {

/// A height to hold until a time from the start.
struct Leg {
  Duration until;
  AltitudeAmsl height;
};

/// How the burner is worked: in burns of a few seconds with a wait for what they do, or with a flame of any size.
enum class Hand { human, continuous };
struct Pilot {
  Hand hand = Hand::human;
  Duration burn = 4.0 * second;           // handbook: a burn lasts 3 to 5 s. 2 to 60 s, in steps of 2 s
  Duration look = 8.0 * second;           // before the next, so that the last can be felt. 0 to 60 s
  Duration settle = 40.0 * second;        // in which a missing height is made up. 5 to 600 s. Ours
  Speed climb = 500.0 * foot_per_minute;  // at most. 0.1 to 10 m/s
  Speed sink = 500.0 * foot_per_minute;   // at most. 0.1 to 10 m/s
  bool vents = false;
  TemperatureDelta vent_over = 8.0 * kelvin;  // hotter than wanted by this much, and rising: the vent. 0 to 50 K
};

struct Plan {
  AltitudeAmsl from;
  std::optional<Temperature> inside = std::nullopt;  // mean; none: just what carries it at `from`
  Speed climb = {};                                  // to begin with
  bool with_the_wind = true;                         // else it stands still at first
  std::vector<Leg> legs;                             // at least one; the last is held for ever
  Duration length;
  std::optional<Duration> flame_out = std::nullopt;  // no burner from then on
  Pilot pilot = {};
};

/// What may be different from what was reckoned with.
struct Perturbation {
  Mass more = {};  // mass
  double loss = 1.0, drag = 1.0, flame = 1.0;
  Speed east = {}, north = {};  // more wind
};

struct FlightPoint {
  Duration at;
  AltitudeAmsl altitude;
  Speed climb;
  Temperature inside;
  Length east, north;
  Mass fuel;             // burnt so far
  Energy under_way;      // heat that has not yet lifted
  MassFlow flame;        // in the step that led here
  bool venting = false;  // the same
};
struct Touchdown {
  Duration at;
  Speed sink;
};
struct Flown {
  std::vector<FlightPoint> track;      // of one flight: the start, each step, the end
  FlightPoint end;                     // at the touchdown, if there is one
  std::optional<Touchdown> touchdown;  // after it has been off the ground; the flight ends there
};

/// Whether nothing was lost on the way: what is inside at the end against the beginning and all that passed.
struct Balance {
  double gas = 0.0;     // relative to all gas that passed
  double energy = 0.0;  // relative to all heat that passed
};

/// Domain    heights of the plan from the air's ground to 100 m below its top, a length up to 24 h, at least one leg,
///           and times that rise ("motion.plan_<what>"); the pilot's settings as above ("motion.<setting>_outside"); a
///           mass that some temperature up to 200 C carries, where none is given ("motion.not_carried",
///           Errc::out_of_range). A flight that leaves the air is Errc::out_of_range ("motion.air_left").
/// Accuracy  against a solution of the same equations with small steps, the burner worked alike, over 90 minutes:
///           height 0.12 m, place 1.2 m (half a metre in most without strong shear), 7 m where the wind grows by 25 kt
///           in 150 m; touchdown 1 s and 0.05 m/s. Against a real balloon see Body. In the step of touching down the
///           climb changes evenly.
/// Laws      gas and energy balance within 1e-6 (the step of touching down apart); the same inputs give the same bytes
///           on every machine.
struct FlownWithBalance {
  Flown flown;
  Balance balance;
};
Result<FlownWithBalance> fly(const Body& body, const FlightAir& air, const Plan& plan,
                             const Perturbation& perturbation = {});

/// Instruction sets that a kernel was built for. All give the same bytes.
enum class Lanes { scalar, baseline, avx2, avx512 };
[[nodiscard]] std::vector<Lanes> lanes_here();  // that this machine can run, the widest last
[[nodiscard]] int width_of(Lanes lanes);

/// Many flights of one body in one air: without tracks. plans and perturbations are paired; all plans have the pilot
/// and the length of the first ("motion.plan_differs", "motion.plan_pairs", Errc::bad_call). Domain and errors of fly.
/// A flight that ends outside the air is an error as in fly, told for the first of them.
Result<std::vector<Flown>> fly_many(const Body& body, const FlightAir& air, const std::vector<Plan>& plans,
                                    const std::vector<Perturbation>& perturbations, Lanes lanes);

}  // namespace pappus::motion

namespace pappus {
template <>
struct Names<motion::Lanes> {
  static constexpr std::array<std::pair<motion::Lanes, std::string_view>, 4> all{{{motion::Lanes::scalar, "scalar"},
                                                                                  {motion::Lanes::baseline, "baseline"},
                                                                                  {motion::Lanes::avx2, "avx2"},
                                                                                  {motion::Lanes::avx512, "avx512"}}};
};
}  // namespace pappus
