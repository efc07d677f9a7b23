/// The landing card: planned before lift-off, because most people who are hurt are hurt in landing.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/air/humidity.hpp"
#include "core/balloon/landing.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"

namespace pappus::sheet {

struct Facts;

struct WindRangeLine {
  Speed low, best, high;
};
struct LandByLine {
  Sentence what;
  Moment time;
};
struct RunLine {
  Speed wind;  // for which it was worked out
  Length approach_low, approach_high, reaction, drag_low, drag_high, total_low, total_high;
};
struct SinkLine {
  Speed change;  // of the wind, from above to the ground
  Speed sink_low, sink_best, sink_high;
  Mass lift_lost;
  Duration mostly_gone;
};
struct LandingSection {
  std::optional<WindRangeLine> surface_wind;
  Sentence surface_wind_reason;
  std::optional<Moment> land_by, decide_by;
  std::vector<LandByLine> bounds;  // what bounds the time, the earliest first
  Sentence time_finding;
  std::optional<Mass> fuel_to_land_with;  // for the tries that are kept in hand
  Sentence fuel_finding;
  std::optional<RunLine> run;
  Sentence run_finding;
  std::optional<Length> room;  // of the field in mind, where it is given
  Sentence room_finding;
  std::optional<TrueBearing> drift;  // of the mean wind in the lowest 150 m
  std::optional<TrueBearing> sun_azimuth;
  std::optional<Angle> sun_elevation;
  Sentence low_sun;
  std::string leads;               // the side of the basket that meets the ground first
  std::vector<Sentence> standing;  // who and what stands where
  std::optional<SinkLine> sink;
  Sentence sink_finding;
  std::vector<Sentence> notes;
};

/// For a landing when the planned time is over. A layer of wind counts only where it is known throughout: a drift or a
/// strongest wind of the known half would be a guess. Where who stands and what lies is common practice, it says so.
/// Total: what is not known is said in its sentence, and no sentence is empty.
/// Laws      surface_wind rises from low to high; land_by is the first of `bounds`; more wind never needs less run.
[[nodiscard]] LandingSection landing_section(const Facts& facts);

/// What the wind's change just above the ground does to lift: the larger of the changes from the ground to 50 m and to
/// 150 m.
struct FalseLiftNearGround {
  HeightAgl over;
  air::MoistAir air;  // at the field
  balloon::FalseLift lift;
};
/// Errors    Errc::no_data with the words to show where the wind or the air is not known; those of false_lift.
[[nodiscard]] Result<FalseLiftNearGround> false_lift_near_ground(const Facts& facts);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Description<sheet::WindRangeLine> {
  static constexpr std::string_view name = "WindRangeLine";
  static constexpr auto fields = Fields{field("low", &sheet::WindRangeLine::low, "at least"),
                                        field("best", &sheet::WindRangeLine::best, "best guess"),
                                        field("high", &sheet::WindRangeLine::high, "to be planned for")};
};
template <>
struct Description<sheet::LandByLine> {
  static constexpr std::string_view name = "LandByLine";
  static constexpr auto fields = Fields{field("what", &sheet::LandByLine::what, "what bounds the time"),
                                        field("time", &sheet::LandByLine::time, "to be down by")};
};
template <>
struct Description<sheet::RunLine> {
  static constexpr std::string_view name = "RunLine";
  static constexpr auto fields =
      Fields{field("wind", &sheet::RunLine::wind, "at the ground, for which it was worked out"),
             field("approach_low", &sheet::RunLine::approach_low, "coming down from over the obstacle"),
             field("approach_high", &sheet::RunLine::approach_high, "the same, slowly"),
             field("reaction", &sheet::RunLine::reaction, "travelled before anything is done"),
             field("drag_low", &sheet::RunLine::drag_low, "dragged after the touch, advisory"),
             field("drag_high", &sheet::RunLine::drag_high, "the same at worst, advisory"),
             field("total_low", &sheet::RunLine::total_low, "the sum, advisory"),
             field("total_high", &sheet::RunLine::total_high, "the sum at worst, advisory")};
};
template <>
struct Description<sheet::SinkLine> {
  static constexpr std::string_view name = "SinkLine";
  static constexpr auto fields =
      Fields{field("change", &sheet::SinkLine::change, "of the wind, from above to the ground"),
             field("sink_low", &sheet::SinkLine::sink_low, "when the false lift is gone"),
             field("sink_best", &sheet::SinkLine::sink_best, "the same, best guess"),
             field("sink_high", &sheet::SinkLine::sink_high, "the same at worst"),
             field("lift_lost", &sheet::SinkLine::lift_lost, "best guess"),
             field("mostly_gone", &sheet::SinkLine::mostly_gone, "after this a quarter of it is left")};
};
template <>
struct Description<sheet::LandingSection> {
  static constexpr std::string_view name = "LandingSection";
  static constexpr auto fields =
      Fields{field("surface_wind", &sheet::LandingSection::surface_wind, "expected at the ground at landing"),
             field("surface_wind_reason", &sheet::LandingSection::surface_wind_reason, "why"),
             field("land_by", &sheet::LandingSection::land_by, "the latest landing"),
             field("decide_by", &sheet::LandingSection::decide_by, "the latest time to begin"),
             field("bounds", &sheet::LandingSection::bounds, "what bounds the time"),
             field("time_finding", &sheet::LandingSection::time_finding, "the same in words"),
             field("fuel_to_land_with", &sheet::LandingSection::fuel_to_land_with, "for the approaches kept in hand"),
             field("fuel_finding", &sheet::LandingSection::fuel_finding, "the same in words"),
             field("run", &sheet::LandingSection::run, "room needed"),
             field("run_finding", &sheet::LandingSection::run_finding, "the same in words"),
             field("room", &sheet::LandingSection::room, "of the field in mind"),
             field("room_finding", &sheet::LandingSection::room_finding, "the run against the room, in words"),
             field("drift", &sheet::LandingSection::drift, "direction moved toward near the ground"),
             field("sun_azimuth", &sheet::LandingSection::sun_azimuth, "at landing"),
             field("sun_elevation", &sheet::LandingSection::sun_elevation, "at landing"),
             field("low_sun", &sheet::LandingSection::low_sun, "the drift against the sun, in words"),
             field("leads", &sheet::LandingSection::leads, "the side of the basket that meets the ground first"),
             field("standing", &sheet::LandingSection::standing, "who and what stands where"),
             field("sink", &sheet::LandingSection::sink, "to expect where the wind changes near the ground"),
             field("sink_finding", &sheet::LandingSection::sink_finding, "the same in words"),
             field("notes", &sheet::LandingSection::notes, "to be read with the figures")};
};
}  // namespace pappus
