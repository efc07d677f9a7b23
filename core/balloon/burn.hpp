/// What it burns: heat lost in level flight, fuel for a flight, and what is left on each independent side.
///
/// A model with one fabric node and published convection correlations; its uncertainty is 25 % (one standard deviation)
/// until a balloon's own records narrow it. The figures are for planning: the flight manual and the pilot decide.
#pragma once
#include <string>
#include <vector>

#include "core/air/column.hpp"
#include "core/air/humidity.hpp"
#include "core/balloon/balloon.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::balloon {

/// Settings of the heat balance, each with its default and where it comes from (physics: see docs/accuracy.md). What
/// lies outside a setting's range is refused with "burn.<setting>_outside".
struct HeatSettings {
  double area_factor = 1.05;  // fabric over a natural shape's 4.916 V^(2/3): seams, bulges, skirt. 0.8 to 1.5. Ours
  double emissivity = 0.87;   // outside, coated fabric. 0 to 1
  double solar_absorptivity = 0.6;              // 0 to 1
  HeatFlux beam = {};                           // direct sun on the projected disc; none before sunrise. To 1400 W/m2
  Speed relative_air = 0.5 * metre_per_second;  // past the envelope. 0 to 20 m/s
  double cloud_fraction = 0.0;                  // 0 to 1
  double efficiency = 0.90;                     // of combustion heat that stays inside. 0.5 to 1. Ours
  double entrainment = 20.0;                    // kg of air drawn through the mouth per kg of fuel. 0 to 100. Ours
  double uncertainty = 0.25;                    // one standard deviation, relative, of the level flow. 0 to 2
  double inside_convection = 0.325;             // Nu / Ra^(1/3) inside; 0.13 in the low case. 0.05 to 1
  double gas_emissivity = 0.0;                  // of the hot gas (CO2, H2O); 0.25 in the low case. 0 to 1. Ours
  double loss = 1.0;                            // the balloon's own heat loss over the model's: its records. 0.3 to 3
};

struct LevelFlow {
  Area area;
  Temperature fabric;
  HeatFlux flux;
  Power loss;
  MassFlow flow;
  double uncertainty = 0.25;  // relative, one standard deviation
};

/// Envelope volumes that are answered for. Figures were compared from 1,800 to 6,000 m3 (tests/data/heat.csv).
inline constexpr Volume kSmallestEnvelope = 100.0 * cubic_metre;
inline constexpr Volume kLargestEnvelope = 50'000.0 * cubic_metre;

/// Fuel flow that holds height with a mean inside temperature.
/// Domain    inside 5 to 150 K above outside ("burn.inside_excess_outside"), envelopes of 100 to 50,000 m3
///           ("burn.volume_outside"); outside it Errc::out_of_range, as where the sun alone holds the balloon up
///           ("burn.sun_alone_holds"): no fuel flow then means anything. Errors of the humidity are handed on.
/// Accuracy  25 % (1 sigma). Regression rows HEAT of tests/data/heat.csv are our own figures from independent
///           arithmetic; published rules of thumb stand in tests/data/burn_sanity.csv, hits and misses.
/// Laws      rises with the inside temperature, with the volume and with the relative air; falls with sun and cloud;
///           goes with `loss` in proportion, at the same temperature of the fabric.
/// Source    correlations after L. A. Carlson and W. J. Horn, J. Aircraft 20 (1983) 900, as restated in
///           docs/accuracy.md; clear sky after Brunt.
struct LevelFlowInputs {
  air::MoistAir outside;
  Temperature inside_mean;
  Volume volume;
  HeatSettings settings = {};
};
Result<LevelFlow> level_flow(const LevelFlowInputs& inputs);

/// The heat that leaves through the fabric, for one square metre of it: level_flow's own, below zero where the sun
/// brings in more than is lost. Domain and errors of level_flow, but "burn.sun_alone_holds".
Result<HeatFlux> envelope_flux(const LevelFlowInputs& inputs);

/// What one kilogram of fuel leaves inside: (efficiency) x (heat) less what the air drawn in with it carries away. That
/// air comes in cold and leaves through the mouth, taken to be half-way between inside and outside.
struct NetHeat {
  SpecificEnergy cold;             // with inside as cold as outside
  double per_kelvin_j_kg_k = 0.0;  // less for each kelvin of excess
};
[[nodiscard]] NetHeat net_heat(const HeatSettings& settings);

/// What is lost at the mouth while the envelope fills, as a fraction of the heat that stays (ours).
inline constexpr double kInflationLoss = 0.30;
/// One standard deviation of the inflation's fuel, relative to it (ours): a gust or a second try costs minutes of
/// flame.
inline constexpr double kInflationUncertainty = 0.30;
/// What is left of a burner's output at a pressure altitude, as a fraction of that at sea level: 4 % lost for each
/// 1,000 ft.
/// Domain    -2,000 to 20,000 ft; outside it Errc::out_of_range ("burn.output_altitude_outside"). Not above 1.
/// Source    FAA-H-8083-11B ch. 3, Performance: 12 % lost at 3,000 ft (W29).
Result<double> burner_output_left(PressureAltitude altitude);

/// Fuel to bring a cold-inflated envelope to flying temperature: (pV/R) c_p ln(T_i/T_a) / (efficiency x heating value),
/// and kInflationLoss of it. Domain and errors as of level_flow.
Result<Mass> inflation_fuel(const LevelFlowInputs& inputs);

/// How a flight's fuel is made up. Judged at one standard deviation on the unlucky side: climbs, level and allowance
/// times (1 + settings.uncertainty), and inflation times (1 + kInflationUncertainty). The two are added, not combined
/// as if independent: one burner, one fuel and one morning are behind both, and a pilot can add them by hand.
struct FlightFuel {
  Mass inflation, climbs, level, allowance;
  Mass used;          // their sum
  Mass used_unlucky;  // one standard deviation more, as above
  MassFlow flow;      // level, at the thirstiest height flown
  MassFlow flow_unlucky;
  int climb_count = 0;
  double allowance_fraction = 0.0;
};
struct FlightFuelInputs {
  const air::AirColumn& column;
  AltitudeAmsl highest;
  Mass carried;
  Volume volume;
  Duration planned;
  double allowance_fraction = 0.15;  // of the level fuel, for manoeuvring and shear. Ours
  HeatSettings settings = {};
  bool envelope_hot = false;  // it stands inflated and hot: no inflation to pay for
};
/// Fuel for a flight of `planned` from the column's ground to `highest`, with all of `carried` aboard to the end.
///
/// - level: level_flow at the mean temperature that the load needs, at each of levels_flown(); the thirstiest of them
///   counts for the whole time.
/// - climbs: one from the field to the highest height, and one more for each further 20 minutes begun (ours): 1 up to
///   20 min, 3 for 60 min. A climb costs the heat that the rising hot air loses to expansion, 12 K/km at common
///   temperatures, and what the hotter air aloft asks: -V dp + (p V / R) c_p d ln T needed, level by level, and never
///   less than nothing. The extra heat that makes a balloon climb fast is left to the allowance.
/// - allowance: a fraction of level.
/// - inflation: inflation_fuel at the field for the temperature needed there; none with `envelope_hot`, for a second
///   hop before which the envelope stayed up and hot while people changed. What it burns standing there is level
///   flight: count that time into `planned`, or let it stand in the fuel that is given as aboard now.
///
/// Domain    `highest` within the column ("burn.highest_outside"), planned 0 to 24 h ("burn.planned_outside"),
///           allowance 0 to 2 ("burn.allowance_outside"); else Errc::out_of_range. Errors of the column, of
///           mean_temperature_needed and of level_flow are handed on: a load so light that it needs less than 5 K is
///           one.
/// Laws      used is the sum of its parts; more time, more load and (by whole levels of 20 m) more height never need
///           less.
Result<FlightFuel> flight_fuel(const FlightFuelInputs& inputs);

/// What is thought to be in one cylinder when the burner is lit.
struct CylinderFuel {
  std::string id, group;
  Mass liquid;  // all liquid
  Mass usable;  // less what stays behind
};

/// One independent side: the cylinders of one group.
struct SideReserve {
  std::string group;
  Mass usable, drawn, left;  // drawn and left at one standard deviation on the unlucky side
  Duration reserve;          // level flight on what is left, at the unlucky flow
};
struct CylinderDraw {
  std::string id, group;
  Mass liquid, usable, drawn, left;
  Duration reserve;
};
struct Reserves {
  std::vector<SideReserve> sides;       // in the order of first mention
  std::vector<CylinderDraw> cylinders;  // in the order given
  Duration smallest_side;               // the reserve on the worst side
  Mass short_of;                        // how much fuel is missing for the flight itself; zero when it is enough
};
/// Draws the flight's fuel so that the smallest side keeps as much as it can (drawn from the fullest sides until they
/// are level), and within a side in proportion to what is usable. A cylinder without a group is a side of its own,
/// named for its id. `usable` below zero counts as nothing. With no flow known (not above zero) every reserve is zero:
/// how long fuel lasts is then not known, and not known is not shown as good.
/// Laws      drawn + left == usable on each side and cylinder; the sum drawn is used_unlucky or all there is; a side's
///           cylinders sum to the side; no other way of drawing leaves a larger smallest side among the sides drawn
///           from. When the fuel does not suffice, short_of is what is missing and every reserve is zero.
Reserves reserves_at_landing(const std::vector<CylinderFuel>& cylinders, const FlightFuel& fuel);

}  // namespace pappus::balloon
