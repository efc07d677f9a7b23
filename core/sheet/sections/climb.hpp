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

namespace pappus::sheet {

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

struct ClimbSection {
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

/// Air       that of the sheet, carried on to 6000 m above the field with the standard lapse. Where temperatures aloft
///           are not known, both ways of assuming them are tried and the one with the smaller climb counts.
/// Flame     the weakest burner's rated power by burner_output, its lower law, at the pressure of the coldest cylinder
///           and the highest height. Not known, and null with all that depends on it, where one burner's power is not.
/// Crown     without a limit no climb, ceiling, first minute or load chart is told.
/// Errors    those of sheet facts ("fact.*") and of motion::performance.
[[nodiscard]] Result<ClimbSection> climb_section(const Morning& morning);
struct Facts;
/// In short, for the sheet: without load chart and height plan, which are the dearest and stand on no sheet.
enum class Told { whole, in_short };
[[nodiscard]] Result<ClimbSection> climb_section(const Facts& facts, Told told = Told::whole);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Description<sheet::FlameLine> {
  static constexpr std::string_view name = "FlameLine";
  static constexpr auto fields = Fields{
      field("rated", &sheet::FlameLine::rated, "of the weakest burner, at 110 psi, higher heating value"),
      field("power", &sheet::FlameLine::power, "at this pressure and at the highest height, the lower of two laws"),
      field("flow", &sheet::FlameLine::flow, "liquid for that power"),
      field("gauge_pressure", &sheet::FlameLine::pressure, "of the coldest cylinder, at the field"),
      field("liquid_temperature", &sheet::FlameLine::liquid, "in that cylinder"),
      field("measured", &sheet::FlameLine::measured,
            "given for every cylinder; false: the coldest of what was given and of the air")};
};
template <>
struct Description<sheet::FlownPlan> {
  static constexpr std::string_view name = "FlownPlan";
  static constexpr auto fields =
      Fields{field("highest", &sheet::FlownPlan::highest, "climbed to and held"),
             field("begins_down", &sheet::FlownPlan::begins_down, "after lift-off"),
             field("length", &sheet::FlownPlan::length, "until it stood on the ground; else all that was flown"),
             field("landed", &sheet::FlownPlan::landed, "within that time"),
             field("touchdown_sink", &sheet::FlownPlan::touchdown_sink, "null: it did not land"),
             field("fuel", &sheet::FlownPlan::fuel, "burnt on the way"),
             field("reckoned", &sheet::FlownPlan::reckoned,
                   "climbs and level flight as `pappus burn` reckons them, without inflation and allowance")};
};
template <>
struct Description<sheet::FalseLiftLine> {
  static constexpr std::string_view name = "FalseLiftLine";
  static constexpr auto fields =
      Fields{field("change", &sheet::FalseLiftLine::change, "of the wind, from the field to `over`"),
             field("over", &sheet::FalseLiftLine::over, "the height over which it changes"),
             field("lift_low", &sheet::FalseLiftLine::lift_low, "borrowed while it lasts, at least"),
             field("lift", &sheet::FalseLiftLine::lift, "the same, best estimate"),
             field("lift_high", &sheet::FalseLiftLine::lift_high, "the same, at most"),
             field("sink_low", &sheet::FalseLiftLine::sink_low, "when it is gone and nothing was burnt meanwhile"),
             field("sink", &sheet::FalseLiftLine::sink, "the same, best estimate"),
             field("sink_high", &sheet::FalseLiftLine::sink_high, "the same, at most"),
             field("mostly_gone", &sheet::FalseLiftLine::mostly_gone, "by then a quarter of it is left"),
             field("expect", &sheet::FalseLiftLine::expect, "the change is large enough to matter")};
};
template <>
struct Description<sheet::ClimbSection> {
  static constexpr std::string_view name = "ClimbSection";
  static constexpr auto fields = Fields{
      field("climb_rate", &sheet::ClimbSection::climb_rate,
            "the least steady climb from the field to the highest height, crown at its limit; null: no limit known"),
      field(
          "arrest_height", &sheet::ClimbSection::arrest_height,
          "lost in stopping a steady descent of 500 ft/min with one burner, valve fully open; null: not known, or not "
          "stopped within three minutes"),
      field("mass", &sheet::ClimbSection::mass, "all that flies, at lift-off"),
      field("burners", &sheet::ClimbSection::burners, "fitted"),
      field("flame", &sheet::ClimbSection::flame, "of one burner; null: power not known"),
      field("ceiling", &sheet::ClimbSection::ceiling,
            "where the crown's limit no longer carries it; null: none below ceiling_looked_to, or not known"),
      field("ceiling_looked_to", &sheet::ClimbSection::ceiling_looked_to, "null: no limit known"),
      field("field", &sheet::ClimbSection::field, "where it takes off"),
      field("climbs", &sheet::ClimbSection::climbs, "with the crown at its limit; empty: no limit known"),
      field("first_minute", &sheet::ClimbSection::first_minute,
            "height gained from standing in balance, all burners; null: limit or power not known"),
      field("first_minute_floor", &sheet::ClimbSection::first_minute_floor,
            "14 CFR 31.17, of a balloon at its greatest mass: a floor for sanity"),
      field("arrests", &sheet::ClimbSection::arrests, "steady descents stopped; empty: power not known"),
      field("from_cold", &sheet::ClimbSection::from_cold,
            "the same after a time without flame from level flight; empty: power not known"),
      field("flame_out", &sheet::ClimbSection::flame_out, "sink and height lost without a flame, from level flight"),
      field("sink_most", &sheet::ClimbSection::sink_most, "without a flame, until it is down or for ten minutes"),
      field("load_chart", &sheet::ClimbSection::load_chart, "for people and fuel; null: no limit known"),
      field("false_lift", &sheet::ClimbSection::false_lift, "where the wind changes above the field; null: not known"),
      field("false_lift_finding", &sheet::ClimbSection::false_lift_finding, "the same in words"),
      field("flown", &sheet::ClimbSection::flown, "the height plan flown by hand; null: see the reasons"),
      field("reasons", &sheet::ClimbSection::reasons, "why something is not known, and what was assumed"),
      field("cautions", &sheet::ClimbSection::cautions, "to be read with the figures")};
};
}  // namespace pappus
