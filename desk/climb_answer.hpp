/// `pappus climb`: what this balloon can do on this flight: up, down, and when the flame is out.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "core/balloon/load_chart.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/motion/performance.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::desk {

/// What one burner gives on this flight, on the unlucky side.
struct FlameLine {
  Power rated;             // of the weakest burner, at 110 psi
  Power power;             // at this pressure and at the highest height: the lower of two laws
  MassFlow flow;           // power over the higher heating value
  GaugePressure pressure;  // of the coldest cylinder, at the field
  Temperature liquid;      // in that cylinder
  bool measured = false;   // given for every cylinder; else no warmer than the air
};

/// The flight's height plan flown by hand: up, a hold, down to land when the planned time is over.
struct FlownPlan {
  AltitudeAmsl highest;
  Duration begins_down;  // after lift-off
  Duration length;       // until it stood on the ground; else all that was flown
  bool landed = false;
  std::optional<Speed> touchdown_sink;
  Mass fuel;                     // burnt on the way
  std::optional<Mass> reckoned;  // the same by `pappus burn`: climbs and level flight, no inflation, no allowance
};

/// What a change of wind just above the field does to lift.
struct FalseLiftLine {
  Speed change;
  HeightAgl over;
  Mass lift_low, lift, lift_high;
  Speed sink_low, sink, sink_high;
  Duration mostly_gone;
  bool expect = false;
};

struct ClimbAnswer {
  std::optional<Speed> climb_rate;
  std::optional<Length> arrest_height;
  Mass mass;
  int burners = 0;
  std::optional<FlameLine> flame;
  std::optional<AltitudeAmsl> ceiling;
  std::optional<AltitudeAmsl> ceiling_looked_to;
  AltitudeAmsl field;
  std::vector<motion::ClimbAt> climbs;
  std::optional<Length> first_minute;
  Length first_minute_floor = 300.0 * foot;
  std::vector<motion::Arrest> arrests, from_cold;
  std::vector<motion::FlameOut> flame_out;
  std::optional<Speed> sink_most;
  std::optional<balloon::LoadChart> load_chart;
  std::optional<FalseLiftLine> false_lift;
  Sentence false_lift_finding;
  std::optional<FlownPlan> flown;
  std::vector<Sentence> reasons;  // why something is not known
  std::vector<Sentence> cautions;
};

/// Air       that of the sheet, carried on to 6000 m above the field with the standard lapse. Where temperatures aloft are not
///           known, both ways of assuming them are tried and the one with the smaller climb counts.
/// Flame     the weakest burner's rated power by burner_output, its lower law, at the pressure of the coldest cylinder and the
///           highest height. Not known, and null with all that depends on it, where one burner's power is not.
/// Crown     without a limit no climb, ceiling, first minute or load chart is told.
/// Errors    those of sheet facts ("fact.*") and of motion::performance.
[[nodiscard]] Result<ClimbAnswer> climb_answer(const sheet::Morning& morning);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Description<desk::FlameLine> {
  static constexpr std::string_view name = "FlameLine";
  static constexpr auto fields = Fields{
      field("rated", &desk::FlameLine::rated, "of the weakest burner, at 110 psi, higher heating value"),
      field("power", &desk::FlameLine::power, "at this pressure and at the highest height, the lower of two laws"),
      field("flow", &desk::FlameLine::flow, "liquid for that power"),
      field("gauge_pressure", &desk::FlameLine::pressure, "of the coldest cylinder, at the field"),
      field("liquid_temperature", &desk::FlameLine::liquid, "in that cylinder"),
      field("measured", &desk::FlameLine::measured,
            "given for every cylinder; false: the coldest of what was given and of the air")};
};
template <>
struct Description<desk::FlownPlan> {
  static constexpr std::string_view name = "FlownPlan";
  static constexpr auto fields =
      Fields{field("highest", &desk::FlownPlan::highest, "climbed to and held"),
             field("begins_down", &desk::FlownPlan::begins_down, "after lift-off"),
             field("length", &desk::FlownPlan::length, "until it stood on the ground; else all that was flown"),
             field("landed", &desk::FlownPlan::landed, "within that time"),
             field("touchdown_sink", &desk::FlownPlan::touchdown_sink, "null: it did not land"),
             field("fuel", &desk::FlownPlan::fuel, "burnt on the way"),
             field("reckoned", &desk::FlownPlan::reckoned,
                   "climbs and level flight as `pappus burn` reckons them, without inflation and allowance")};
};
template <>
struct Description<desk::FalseLiftLine> {
  static constexpr std::string_view name = "FalseLiftLine";
  static constexpr auto fields =
      Fields{field("change", &desk::FalseLiftLine::change, "of the wind, from the field to `over`"),
             field("over", &desk::FalseLiftLine::over, "the height over which it changes"),
             field("lift_low", &desk::FalseLiftLine::lift_low, "borrowed while it lasts, at least"),
             field("lift", &desk::FalseLiftLine::lift, "the same, best estimate"),
             field("lift_high", &desk::FalseLiftLine::lift_high, "the same, at most"),
             field("sink_low", &desk::FalseLiftLine::sink_low, "when it is gone and nothing was burnt meanwhile"),
             field("sink", &desk::FalseLiftLine::sink, "the same, best estimate"),
             field("sink_high", &desk::FalseLiftLine::sink_high, "the same, at most"),
             field("mostly_gone", &desk::FalseLiftLine::mostly_gone, "by then a quarter of it is left"),
             field("expect", &desk::FalseLiftLine::expect, "the change is large enough to matter")};
};
template <>
struct Description<desk::ClimbAnswer> {
  static constexpr std::string_view name = "ClimbAnswer";
  static constexpr auto fields = Fields{
      field("climb_rate", &desk::ClimbAnswer::climb_rate,
            "the least steady climb from the field to the highest height, crown at its limit; null: no limit known"),
      field(
          "arrest_height", &desk::ClimbAnswer::arrest_height,
          "lost in stopping a steady descent of 500 ft/min with one burner, valve fully open; null: not known, or not "
          "stopped within three minutes"),
      field("mass", &desk::ClimbAnswer::mass, "all that flies, at lift-off"),
      field("burners", &desk::ClimbAnswer::burners, "fitted"),
      field("flame", &desk::ClimbAnswer::flame, "of one burner; null: power not known"),
      field("ceiling", &desk::ClimbAnswer::ceiling,
            "where the crown's limit no longer carries it; null: none below ceiling_looked_to, or not known"),
      field("ceiling_looked_to", &desk::ClimbAnswer::ceiling_looked_to, "null: no limit known"),
      field("field", &desk::ClimbAnswer::field, "where it takes off"),
      field("climbs", &desk::ClimbAnswer::climbs, "with the crown at its limit; empty: no limit known"),
      field("first_minute", &desk::ClimbAnswer::first_minute,
            "height gained from standing in balance, all burners; null: limit or power not known"),
      field("first_minute_floor", &desk::ClimbAnswer::first_minute_floor,
            "14 CFR 31.17, of a balloon at its greatest mass: a floor for sanity"),
      field("arrests", &desk::ClimbAnswer::arrests, "steady descents stopped; empty: power not known"),
      field("from_cold", &desk::ClimbAnswer::from_cold,
            "the same after a time without flame from level flight; empty: power not known"),
      field("flame_out", &desk::ClimbAnswer::flame_out, "sink and height lost without a flame, from level flight"),
      field("sink_most", &desk::ClimbAnswer::sink_most, "without a flame, until it is down or for ten minutes"),
      field("load_chart", &desk::ClimbAnswer::load_chart, "for people and fuel; null: no limit known"),
      field("false_lift", &desk::ClimbAnswer::false_lift, "where the wind changes above the field; null: not known"),
      field("false_lift_finding", &desk::ClimbAnswer::false_lift_finding, "the same in words"),
      field("flown", &desk::ClimbAnswer::flown, "the height plan flown by hand; null: see the reasons"),
      field("reasons", &desk::ClimbAnswer::reasons, "why something is not known, and what was assumed"),
      field("cautions", &desk::ClimbAnswer::cautions, "to be read with the figures")};
};
}  // namespace pappus
