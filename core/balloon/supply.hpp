/// What the cylinders deliver to the burners as they empty: pressure, power, minutes, and what a loss would leave.
///
/// Everything is for planning, on the unlucky side where one figure has to be given, and nothing here says that anyone
/// should warm or charge a cylinder, or open two valves. What is not known is said to be not known and never counts as
/// good.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/balloon/burn.hpp"
#include "core/balloon/draw.hpp"
#include "core/balloon/use_order.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/propane/mix.hpp"

namespace pappus::balloon {

struct SupplyCylinder {
  Cylinder fitted;
  Mass liquid;                                            // thought to be in it before inflation
  bool measured = false;                                  // proven by level valve or scale
  std::optional<Temperature> temperature = std::nullopt;  // of the liquid; absent: pressure is not known
  std::optional<Pressure> nitrogen = std::nullopt;        // of a charge that is already on it
  HeatCapacity wall = kUsualWall;
};

struct SupplyInputs {
  std::vector<SupplyCylinder> cylinders;  // in the file's order
  FlightFuel fuel;
  Duration planned;
  Burner burner;             // the one that is asked about
  Pressure ambient_field;    // air where it is launched and landed
  Pressure ambient_highest;  // at the highest height flown
  std::optional<propane::Mix> mix = std::nullopt;
  /// What the flight manual says of two open valves in one group. Absent: not allowed, and said so.
  std::optional<bool> both_open_allowed = std::nullopt;
  Duration minimum = 30.0 * minute;
  Duration grid = 5.0 * minute;
  MassFlow pilot_flow = 0.2 * kilogram_per_hour;  // of a vapour pilot light. 0.1 to 0.3, ours
};

/// Where the flight manual gives no range. Common practice, no source.
inline constexpr GaugePressure kUsualLowestPressure = GaugePressure::at(50.0 * pound_per_square_inch);
/// Two cylinders whose pressures differ by more let liquid pass from one to the other (a gauge's own error; ours).
inline constexpr Pressure kEqualisingPressure = 3.0 * pound_per_square_inch;

struct GaugeBand {
  GaugePressure low, best, high;
};

struct CylinderSupply {
  std::string id, group;
  Mass liquid, usable, stays_behind;
  /// Level flight on all of it: at the unlucky flow, at the flow itself, and at one that is as much lower as the
  /// unlucky one is higher.
  Duration lasts_low, lasts_best, lasts_high;
  std::optional<Temperature> temperature, temperature_spent;
  std::optional<GaugeBand> gauge, gauge_spent;  // at the field: now, and when it is spent
  /// Level flight on it at the flow itself, until the pressure may have fallen below the range (low end of the band),
  /// and until it will have (best estimate). Absent: not before it is spent, or the pressure is not known.
  std::optional<Duration> may_fall_after, falls_after;
  std::optional<Power> output_low, output, output_high, output_spent;  // at the highest height, valve fully open
};

struct GroupSupply {
  std::string group;
  std::vector<std::string> cylinders;
  Mass usable;
  Duration lasts_low, lasts_best;
  std::optional<GaugePressure> gauge_lowest, gauge_highest;  // best estimates of its cylinders; absent: not all known
  bool both_open = false;  // the flight manual allows two open valves, and there are two cylinders
};

struct SupplyPlan {
  std::vector<CylinderSupply> cylinders;
  std::vector<GroupSupply> groups;
  GaugePressure lowest_allowed;
  bool lowest_is_manual = false;   // else common practice
  UsePlan use;                     // the proposal
  int tried = 0;                   // ways of use
  std::vector<Sentence> proposal;  // it and why, for a pilot
  std::vector<Sentence> findings;  // cylinders, pressures, losses
  std::vector<Sentence> cautions;
};

/// Domain    that of use_plan; cylinders with a temperature that divide into liquid and vapour (errors of propane::
///           mass_inside are handed on), from -30 to 45 C ("supply.temperature_outside"), pilot flow 0 to 1 kg/h
///           ("supply.pilot_flow_outside"); air of 400 to 1100 hPa ("supply.ambient_outside"), not more at the highest
///           height than at the field ("supply.ambient_order", Errc::bad_input). Errors of draw_states, pressure_band,
///           burner_output and proposed_use are handed on.
/// Accuracy  minutes are as good as the flow, 25 %; pressures as the mix, -5 to +20 % where it is not known.
/// Laws      usable + stays_behind == liquid; lasts_low <= lasts_best <= lasts_high; a group's usable is the sum of its
///           cylinders; pressure when spent is below that at the start; more fuel never lasts fewer minutes.
///
/// Pressure  of the mix at the temperature of the liquid, the charge above it, less the air around. What stays behind
///           is usable_to of the level fill, and never less than the vapour that fills the shell in the end. Without a
///           temperature the density of 15 C is taken for masses, and no pressure is told.
Result<SupplyPlan> supply_plan(const SupplyInputs& inputs);

}  // namespace pappus::balloon

namespace pappus {
template <>
struct Description<balloon::GaugeBand> {
  static constexpr std::string_view name = "GaugeBand";
  static constexpr auto fields = Fields{field("gauge_pressure_low", &balloon::GaugeBand::low, "at least"),
                                        field("gauge_pressure", &balloon::GaugeBand::best, "best estimate"),
                                        field("gauge_pressure_high", &balloon::GaugeBand::high, "at most")};
};
template <>
struct Description<balloon::CylinderSupply> {
  static constexpr std::string_view name = "CylinderSupply";
  static constexpr auto fields = Fields{
      field("id", &balloon::CylinderSupply::id, "the cylinder"),
      field("group", &balloon::CylinderSupply::group, "its independent side"),
      field("liquid", &balloon::CylinderSupply::liquid, "thought to be in it before inflation"),
      field("usable", &balloon::CylinderSupply::usable, "of that"),
      field("stays_behind", &balloon::CylinderSupply::stays_behind, "the rest"),
      field("lasts_low", &balloon::CylinderSupply::lasts_low, "level flight on it, at the unlucky flow"),
      field("lasts", &balloon::CylinderSupply::lasts_best, "the same, best estimate"),
      field("lasts_high", &balloon::CylinderSupply::lasts_high, "the same, at a lucky flow"),
      field("temperature", &balloon::CylinderSupply::temperature, "of the liquid; null: not known, and no pressure is"),
      field("temperature_spent", &balloon::CylinderSupply::temperature_spent, "when it is spent"),
      field("at_start", &balloon::CylinderSupply::gauge, "pressure at the field"),
      field("when_spent", &balloon::CylinderSupply::gauge_spent, "pressure at the field when it is spent"),
      field("may_fall_after", &balloon::CylinderSupply::may_fall_after,
            "level flight on it until the low end of the pressure is below the range; null: not before it is spent"),
      field("falls_after", &balloon::CylinderSupply::falls_after, "the same for the best estimate"),
      field("output_low", &balloon::CylinderSupply::output_low, "of one burner at the highest height, at least"),
      field("output", &balloon::CylinderSupply::output, "the same, best estimate"),
      field("output_high", &balloon::CylinderSupply::output_high, "the same, at most"),
      field("output_spent", &balloon::CylinderSupply::output_spent, "best estimate when it is spent")};
};
template <>
struct Description<balloon::GroupSupply> {
  static constexpr std::string_view name = "GroupSupply";
  static constexpr auto fields =
      Fields{field("group", &balloon::GroupSupply::group, "cylinders that are manifolded"),
             field("cylinders", &balloon::GroupSupply::cylinders, "which"),
             field("usable", &balloon::GroupSupply::usable, "of all of them"),
             field("lasts_low", &balloon::GroupSupply::lasts_low, "level flight on it, at the unlucky flow"),
             field("lasts", &balloon::GroupSupply::lasts_best, "the same, best estimate"),
             field("gauge_pressure_lowest", &balloon::GroupSupply::gauge_lowest, "of its cylinders, best estimate"),
             field("gauge_pressure_highest", &balloon::GroupSupply::gauge_highest, "the same"),
             field("both_open", &balloon::GroupSupply::both_open, "the flight manual allows two open valves")};
};
template <>
struct Description<balloon::SupplyPlan> {
  static constexpr std::string_view name = "SupplyPlan";
  static constexpr auto fields = Fields{
      field("cylinders", &balloon::SupplyPlan::cylinders, "cylinder by cylinder"),
      field("groups", &balloon::SupplyPlan::groups, "side by side"),
      field("lowest_gauge_pressure", &balloon::SupplyPlan::lowest_allowed, "below it a burner is too weak"),
      field("lowest_is_manual", &balloon::SupplyPlan::lowest_is_manual, "from the flight manual, else common practice"),
      field("use", &balloon::SupplyPlan::use, "the order proposed and what a loss leaves in it"),
      field("tried", &balloon::SupplyPlan::tried, "ways of use that were compared"),
      field("proposal", &balloon::SupplyPlan::proposal, "the order in words, and why"),
      field("findings", &balloon::SupplyPlan::findings, "cylinders, pressures and losses in words"),
      field("cautions", &balloon::SupplyPlan::cautions, "what to look out for")};
};
}  // namespace pappus
