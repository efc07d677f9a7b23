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

/// Settings of the heat balance, each with its default and where it comes from (physics: see docs/accuracy.md).
struct HeatSettings {
  double area_factor = 1.05;  // fabric over a natural shape's 4.916 V^(2/3): seams, bulges, skirt. Ours
  double emissivity = 0.87;   // coated fabric
  double solar_absorptivity = 0.6;
  HeatFlux beam = {};  // direct sun on the projected disc; none before sunrise
  Speed relative_air = 0.5 * metre_per_second;
  double cloud_fraction = 0.0;
  double efficiency = 0.90;   // of combustion heat that stays inside. Ours
  double entrainment = 20.0;  // kg of air drawn through the mouth per kg of fuel. Ours
  double uncertainty = 0.25;  // one standard deviation, relative, of the level flow
};

struct LevelFlow {
  Area area;
  Temperature fabric;
  HeatFlux flux;
  Power loss;
  MassFlow flow;
  double uncertainty = 0.25;  // relative, one standard deviation
};

/// Fuel flow that holds height with a mean inside temperature.
/// Domain    inside 5 to 150 K above outside; outside it Errc::out_of_range.
/// Accuracy  25 % (1 sigma). Regression rows HEAT of tests/data/heat.csv are our own figures from independent
/// arithmetic. Source    correlations after L. A. Carlson and W. J. Horn, J. Aircraft 20 (1983) 900, as restated in
/// docs/accuracy.md.
struct LevelFlowInputs {
  air::MoistAir outside;
  Temperature inside_mean;
  Volume volume;
  HeatSettings settings = {};
};
Result<LevelFlow> level_flow(const LevelFlowInputs& inputs);

/// Fuel to bring a cold-inflated envelope to flying temperature: (pV/R) c_p ln(T_i/T_a) / (efficiency x heating value),
/// and 30 % for what is lost at the mouth (ours).
Result<Mass> inflation_fuel(const LevelFlowInputs& inputs);

/// How a flight's fuel is made up. Judged at one standard deviation on the unlucky side.
struct FlightFuel {
  Mass inflation, climbs, level, allowance;
  Mass used;          // their sum
  Mass used_unlucky;  // one standard deviation more
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
};
/// One climb from the field to the highest height, and one more for each further 20 minutes begun (ours). A climb costs
/// the heat that the rising hot air loses to expansion, 12 K/km at common temperatures, and what the hotter air aloft
/// asks.
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
/// are level), and within a side in proportion to what is usable.
/// Laws      drawn + left == usable on each side and cylinder; the sum drawn is used_unlucky or all there is.
Reserves reserves_at_landing(const std::vector<CylinderFuel>& cylinders, const FlightFuel& fuel);

}  // namespace pappus::balloon
