/// What hot air carries, and how hot it must be for what it carries.
#pragma once
#include <vector>

#include "core/air/column.hpp"
#include "core/air/humidity.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::balloon {

/// Gross lift: the mass of air displaced less the mass of air inside.
/// L = (p V / R)(1 - 0.378 e/p)(1/T_outside - 1/T_inside), with one mean inside temperature.
/// Domain    inside at or above outside, up to 200 C ("lift.inside_temperature_outside"), volume 1 to 100,000 m3
///           ("lift.volume_outside"); outside it Errc::out_of_range. Errors of the humidity are handed on.
/// Accuracy  1 % given the mean temperature (the combustion products add 0.3 to 0.6 % and are left out).
/// Laws      rises with the inside temperature; falls with humidity and with height.
/// Source    ideal gas; handbook example W1 (FAA-H-8083-11B fig. 3-13) within its 2 %.
struct LiftInputs {
  air::MoistAir outside;
  Temperature inside_mean;
  Volume volume;
};
Result<Mass> gross_lift(const LiftInputs& inputs);

/// The mean inside temperature at which gross lift equals `carried`: its inverse.
/// Errors    Errc::out_of_range where no temperature up to 200 C would carry it, and for a negative load
///           ("lift.load_outside", which tells the most that could be carried); and those of gross_lift.
/// Laws      gross_lift at the temperature answered is `carried`; rises with the load.
struct CarryInputs {
  air::MoistAir outside;
  Mass carried;
  Volume volume;
};
Result<Temperature> mean_temperature_needed(const CarryInputs& inputs);

/// The crown reads hotter than the mean: what is added until a balloon's own records say better. Ours; 5 to 20 K were
/// seen, no published profile was found.
inline constexpr TemperatureDelta kCrownExcess = 20.0 * kelvin;

/// The altitudes at which a flight is looked at: every 20 m from the field, and `highest`. Domain: finite, and
/// `highest` at or above the field (below it, `highest` alone).
[[nodiscard]] std::vector<AltitudeAmsl> levels_flown(AltitudeAmsl field, AltitudeAmsl highest);

/// Lift at one altitude of a flight.
struct LiftAt {
  AltitudeAmsl altitude;
  Temperature ambient;
  Temperature mean_needed;
  Temperature crown_expected;
  Mass margin;  // what more could be carried before the expected crown temperature meets its limit; negative: too heavy
  air::Filling filling = air::Filling::measured;
};

struct FlightLift {
  std::vector<LiftAt> levels;  // from the ground to the highest height flown, rising
  LiftAt worst;                // the level with the hottest crown expected; the lowest of equals
  /// The mean temperature that puts the crown at its limit.
  Temperature mean_allowed;
};

/// Lift at every height flown, and at the worst of them: a dawn inversion takes lift away aloft.
/// Levels stand 20 m apart and at both ends; between them the crown stays within 20 m's worth of the steepest lapse, so
/// a 10 K inversion over 300 m is met within 0.7 K.
/// Errors    Errc::out_of_range when the column does not reach `highest` ("lift.highest_outside"), no temperature
/// carries
///           the load ("lift.load_outside"), or the crown's limit less its excess is no mean temperature between 0 and
///           200 C ("lift.crown_limit_outside").
/// Laws      the margin at a level is gross_lift at `mean_allowed` less the load; it is negative exactly where the
///           crown expected is above its limit.
struct FlightLiftInputs {
  const air::AirColumn& column;
  AltitudeAmsl highest;
  Mass carried;
  Volume volume;
  Temperature crown_limit;
  TemperatureDelta crown_excess = kCrownExcess;
};
Result<FlightLift> flight_lift(const FlightLiftInputs& inputs);

}  // namespace pappus::balloon
