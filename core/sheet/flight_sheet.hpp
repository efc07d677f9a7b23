/// The flight sheet: the whole answer for one balloon, the people aboard, one morning's air and one field.
///
/// Everything before it gathers what it needs; everything after it shows it. Terminal, JSON, page and paper show this
/// one value. It decides nothing: it says what stands against flying, and the pilot decides.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/balloon/burn.hpp"
#include "core/balloon/lift.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/book/due.hpp"
#include "core/propane/account.hpp"
#include "core/sheet/limit.hpp"
#include "core/sheet/morning.hpp"
#include "core/sheet/sections/evening.hpp"
#include "core/sheet/sections/landing.hpp"
#include "core/sheet/sections/reach.hpp"
#include "core/sheet/sections/remedies.hpp"
#include "core/sheet/sections/sources.hpp"
#include "core/wind/profile.hpp"

namespace pappus::sheet {

/// One line of the load sheet, so that the sum can be done again by hand.
struct LoadLine {
  Sentence what;
  Mass mass;
  std::optional<Sentence> note;  // what was added or assumed
};

struct LoadSheet {
  std::vector<LoadLine> lines;
  Mass empty;   // envelope, basket, burners, kit, empty cylinders
  Mass people;  // with clothing and bags
  Mass fuel;    // all liquid aboard, before inflation
  Mass total;
  int people_count = 0;
  std::vector<std::string> cylinders_known;  // the contents of the others are not known and counted as full
  std::optional<Mass> gross_limit;
};

/// Lift at one height of the flight.
struct LiftCurveLine {
  HeightAgl height;
  Temperature ambient, crown_expected;
  Mass gross_lift;  // with the crown at its limit
};

/// Lift at the worst height flown, in figures.
struct LiftSection {
  Mass gross_lift;  // at the worst height, with the crown at its limit
  Mass carried;
  Mass margin;
  AltitudeAmsl worst_altitude;
  HeightAgl worst_height;
  Temperature ambient_there;
  Temperature mean_temperature_needed;
  Temperature crown_temperature_expected;
  std::optional<Temperature> crown_temperature_limit;
  TemperatureDelta crown_excess;
  bool temperature_aloft_assumed = false;
  std::vector<LiftCurveLine> curve;  // from the field to the highest height
  std::vector<Sentence> notes;
};

struct CylinderLine {
  std::string id, group;
  std::optional<Volume> liquid;
  std::optional<Temperature> temperature;
  std::optional<GaugePressure> pressure;  // pure propane at that temperature, in the field's air
  Mass mass, usable, drawn, left;
  std::optional<Duration> reserve;
  std::optional<Volume> liquid_low = std::nullopt, liquid_high = std::nullopt;
  std::optional<GaugePressure> pressure_low = std::nullopt, pressure_high = std::nullopt;
  bool open = false;                                          // used and not refilled, as far as anyone knows
  std::optional<propane::NextTest> next_test = std::nullopt;  // none: nothing was accounted for
  std::vector<Sentence> words = {};
};
struct SideLine {
  std::string group;
  Mass usable, drawn, left;
  Duration reserve;
};

/// Fuel for the flight, judged at one standard deviation of the stated uncertainty on the unlucky side.
struct FuelSection {
  MassFlow flow, flow_unlucky;
  Mass inflation, climbs, level, allowance, used, used_unlucky;
  int climb_count = 0;
  double allowance_fraction = 0.0;
  double uncertainty_fraction = 0.0;
  Duration reserve;  // on the smallest independent side
  Mass missing;
  std::vector<SideLine> sides;
  std::vector<CylinderLine> by_cylinder;
  std::vector<Sentence> notes;  // whose heat loss it is
  std::vector<Sentence> order;  // of use: a proposal and why, or why there is none
};

/// What the balloon does in this air, in short: `pappus climb` tells all of it.
struct HandlingSection {
  std::optional<Speed> climb_rate =
      std::nullopt;  // steady, at the worst height, with the crown at its limit; none: no limit known
  std::optional<AltitudeAmsl> ceiling = std::nullopt;  // none: above all air that was looked at, or no limit known
  std::optional<Length> first_minute = std::nullopt;   // none: no burner's power or no limit known
  std::optional<Length> arrest_height =
      std::nullopt;  // to stop 500 ft/min with one burner; none: its power is not known
  std::optional<Length> arrest_height_two = std::nullopt;  // with two, where there are two
  std::optional<Speed> sink_most = std::nullopt;           // without a flame
  std::vector<Sentence> words;
};

struct SourceLine {
  wind::SourceKind kind = wind::SourceKind::seen;
  std::string name;
  Instant time;
};
struct WindLine {
  AltitudeAmsl altitude;
  HeightAgl height;
  std::optional<TrueBearing> from;
  Speed speed;
  Speed spread;
  std::optional<Temperature> temperature;
  std::vector<SourceLine> sources;
};
struct GapLine {
  AltitudeAmsl bottom, top;
};
struct SteerageLine {
  TrueBearing left_course, right_course;
  HeightAgl left_height, right_height;
  Angle turn;
};
struct WindSection {
  std::vector<WindLine> levels;
  std::vector<GapLine> gaps;
  std::optional<SteerageLine> steerage;
};

struct SunSection {
  std::optional<Moment> civil_dawn, sunrise, sunset, civil_dusk;
  Moment transit;
};

struct AirSection {
  Pressure station_pressure;
  PressureAltitude pressure_altitude;
  DensityAltitude density_altitude;
};

struct FlightSheet {
  Moment as_of;
  std::string balloon, field;
  Moment time;
  Duration planned;
  Standing standing = Standing::not_known;
  Sentence standing_line;
  std::optional<Moment> evening;  // when the evening's sheet was made, if dawn was given it
  std::vector<Change> changes;    // since then
  std::vector<Tripwire> tripwires;
  std::vector<Sentence> message;    // for the people who wait for a word
  std::optional<std::string> book;  // what was remembered comes from it; none: nothing was
  std::vector<Limit> limits;
  LoadSheet load;
  std::optional<LiftSection> lift;
  std::optional<FuelSection> fuel;
  HandlingSection handling;
  std::optional<RemediesSection> remedies;
  WindSection winds;
  std::vector<SourceUse> sources;
  std::vector<PibalSection> pibals;
  std::optional<AirSection> air;
  std::optional<SunSection> sun;
  LandingSection landing;
  std::optional<ReachSection> reach;
  std::vector<book::Due> dates;
  std::vector<Sentence> cautions;
};

/// The whole sheet. Total: what is missing in the morning becomes a limit that is not known, never an error.
/// Laws      the standing is standing_of(limits); the load's total is the sum of its lines; the same morning gives the
///           same sheet.
[[nodiscard]] FlightSheet sheet(const Morning& morning);

/// The name of every limit that a sheet may hold, in the order in which they are worked out.
[[nodiscard]] const std::vector<std::string_view>& limit_names();

/// The sections that can be asked for alone. Errors say what is missing.
[[nodiscard]] LoadSheet load_sheet(const Morning& morning);
[[nodiscard]] Result<LiftSection> lift_section(const Morning& morning);
[[nodiscard]] Result<FuelSection> fuel_section(const Morning& morning);
[[nodiscard]] WindSection wind_section(const Morning& morning);
[[nodiscard]] Result<ReachSection> reach_section(const Morning& morning);
/// The same for a profile that was not made from a flight.
[[nodiscard]] WindSection wind_section(const wind::WindProfile& profile, AltitudeAmsl up_to);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Description<sheet::LoadLine> {
  static constexpr std::string_view name = "LoadLine";
  static constexpr auto fields = Fields{field("what", &sheet::LoadLine::what, "what is carried"),
                                        field("mass", &sheet::LoadLine::mass, "its mass"),
                                        field("note", &sheet::LoadLine::note, "what was added or assumed")};
};
template <>
struct Description<sheet::LoadSheet> {
  static constexpr std::string_view name = "LoadSheet";
  static constexpr auto fields =
      Fields{field("lines", &sheet::LoadSheet::lines, "line by line, so that the sum can be done again by hand"),
             field("empty", &sheet::LoadSheet::empty, "envelope, basket, burners, kit, empty cylinders"),
             field("people", &sheet::LoadSheet::people, "people with clothing and bags"),
             field("fuel", &sheet::LoadSheet::fuel, "all liquid aboard before inflation"),
             field("total", &sheet::LoadSheet::total, "the sum"),
             field("people_count", &sheet::LoadSheet::people_count, "how many fly"),
             field("cylinders_known", &sheet::LoadSheet::cylinders_known, "cylinders whose contents are known"),
             field("gross_limit", &sheet::LoadSheet::gross_limit, "the flight manual's gross mass limit")};
};
template <>
struct Description<sheet::LiftCurveLine> {
  static constexpr std::string_view name = "LiftCurveLine";
  static constexpr auto fields =
      Fields{field("height", &sheet::LiftCurveLine::height, "above the field"),
             field("ambient", &sheet::LiftCurveLine::ambient, "air temperature there"),
             field("crown_expected", &sheet::LiftCurveLine::crown_expected, "to carry the load there"),
             field("gross_lift", &sheet::LiftCurveLine::gross_lift, "with the crown at its limit")};
};
template <>
struct Description<sheet::LiftSection> {
  static constexpr std::string_view name = "LiftSection";
  static constexpr auto fields = Fields{
      field("gross_lift", &sheet::LiftSection::gross_lift, "at the worst height flown, with the crown at its limit"),
      field("carried", &sheet::LiftSection::carried, "the load's total"),
      field("margin", &sheet::LiftSection::margin, "what more could be carried there; negative: too heavy"),
      field("worst_altitude", &sheet::LiftSection::worst_altitude, "where lift is least for the heat allowed"),
      field("worst_height", &sheet::LiftSection::worst_height, "the same above the field"),
      field("ambient_there", &sheet::LiftSection::ambient_there, "air temperature there"),
      field("mean_temperature_needed", &sheet::LiftSection::mean_temperature_needed, "mean inside, to carry the load"),
      field("crown_temperature_expected", &sheet::LiftSection::crown_temperature_expected, "mean plus the excess"),
      field("crown_temperature_limit", &sheet::LiftSection::crown_temperature_limit, "the flight manual's limit"),
      field("crown_excess", &sheet::LiftSection::crown_excess,
            "how much hotter than the mean the crown is taken to be"),
      field("temperature_aloft_assumed", &sheet::LiftSection::temperature_aloft_assumed,
            "no temperature aloft was known: a standard lapse and an inversion were both tried and the worse counts"),
      field("curve", &sheet::LiftSection::curve, "lift by height"),
      field("notes", &sheet::LiftSection::notes, "how the figures came about")};
};
template <>
struct Description<sheet::CylinderLine> {
  static constexpr std::string_view name = "CylinderLine";
  static constexpr auto fields = Fields{
      field("id", &sheet::CylinderLine::id, "the cylinder"),
      field("group", &sheet::CylinderLine::group, "its independent side"),
      field("liquid", &sheet::CylinderLine::liquid, "liquid thought to be in it, best estimate"),
      field("liquid_low", &sheet::CylinderLine::liquid_low, "at least; the same for a figure that nobody proved"),
      field("liquid_high", &sheet::CylinderLine::liquid_high, "at most"),
      field("temperature", &sheet::CylinderLine::temperature, "of the liquid at lift-off"),
      field("gauge_pressure", &sheet::CylinderLine::pressure, "as read, or pure propane at that temperature"),
      field("gauge_pressure_low", &sheet::CylinderLine::pressure_low, "over mix and temperature, at least"),
      field("gauge_pressure_high", &sheet::CylinderLine::pressure_high, "at most"),
      field("open", &sheet::CylinderLine::open, "used and not refilled, as far as anyone knows"),
      field("next_test", &sheet::CylinderLine::next_test, "the one test that narrows most; null: no evidence"),
      field("words", &sheet::CylinderLine::words, "how the contents are known"),
      field("mass", &sheet::CylinderLine::mass, "mass of the liquid that is counted on: at least"),
      field("usable", &sheet::CylinderLine::usable, "less what stays behind"),
      field("drawn", &sheet::CylinderLine::drawn, "for the flight, on the unlucky side"),
      field("left", &sheet::CylinderLine::left, "at landing"),
      field("reserve", &sheet::CylinderLine::reserve, "level flight on what is left")};
};
template <>
struct Description<sheet::SideLine> {
  static constexpr std::string_view name = "SideLine";
  static constexpr auto fields = Fields{field("group", &sheet::SideLine::group, "the independent side"),
                                        field("usable", &sheet::SideLine::usable, "usable fuel"),
                                        field("drawn", &sheet::SideLine::drawn, "for the flight"),
                                        field("left", &sheet::SideLine::left, "at landing"),
                                        field("reserve", &sheet::SideLine::reserve, "level flight on what is left")};
};
template <>
struct Description<sheet::FuelSection> {
  static constexpr std::string_view name = "FuelSection";
  static constexpr auto fields = Fields{
      field("flow", &sheet::FuelSection::flow, "level flight at the thirstiest height"),
      field("flow_unlucky", &sheet::FuelSection::flow_unlucky, "one standard deviation more"),
      field("inflation", &sheet::FuelSection::inflation, "to bring the envelope to flying temperature"),
      field("climbs", &sheet::FuelSection::climbs, "for the climbs counted"),
      field("level", &sheet::FuelSection::level, "for the planned time"),
      field("allowance", &sheet::FuelSection::allowance, "for manoeuvring and shear"),
      field("used", &sheet::FuelSection::used, "the sum, best estimate"),
      field("used_unlucky", &sheet::FuelSection::used_unlucky, "the sum one standard deviation up"),
      field("climb_count", &sheet::FuelSection::climb_count, "climbs counted"),
      field("allowance_fraction", &sheet::FuelSection::allowance_fraction, "of the level fuel"),
      field("uncertainty_fraction", &sheet::FuelSection::uncertainty_fraction, "one standard deviation of the flow"),
      field("reserve", &sheet::FuelSection::reserve, "level flight left on the smallest independent side"),
      field("missing", &sheet::FuelSection::missing, "fuel that the flight needs and nobody has"),
      field("sides", &sheet::FuelSection::sides, "by independent side"),
      field("by_cylinder", &sheet::FuelSection::by_cylinder, "by cylinder"),
      field("notes", &sheet::FuelSection::notes, "whose heat loss it is"),
      field("order", &sheet::FuelSection::order, "of use: a proposal and why, or why there is none")};
};
template <>
struct Description<sheet::HandlingSection> {
  using A = sheet::HandlingSection;
  static constexpr std::string_view name = "HandlingSection";
  static constexpr auto fields =
      Fields{field("climb_rate", &A::climb_rate, "steady, at the worst height, with the crown at its limit"),
             field("ceiling", &A::ceiling, "null: above all air that was looked at, or not known"),
             field("first_minute", &A::first_minute, "height gained from the ground, all burners"),
             field("arrest_height", &A::arrest_height, "lost in stopping 500 ft/min with one burner"),
             field("arrest_height_two", &A::arrest_height_two, "the same with two"),
             field("sink_most", &A::sink_most, "without a flame"),
             field("words", &A::words, "the same in words")};
};
template <>
struct Description<sheet::SourceLine> {
  static constexpr std::string_view name = "SourceLine";
  static constexpr auto fields = Fields{field("kind", &sheet::SourceLine::kind, "what sort of source"),
                                        field("name", &sheet::SourceLine::name, "which"),
                                        field("time", &sheet::SourceLine::time, "when it was seen")};
};
template <>
struct Description<sheet::WindLine> {
  static constexpr std::string_view name = "WindLine";
  static constexpr auto fields = Fields{
      field("altitude", &sheet::WindLine::altitude, "above mean sea level"),
      field("height", &sheet::WindLine::height, "above the field"),
      field("from", &sheet::WindLine::from, "where it comes from; null when calm"),
      field("speed", &sheet::WindLine::speed, "wind speed"),
      field("spread", &sheet::WindLine::spread, "one standard deviation of the vector difference to be expected"),
      field("temperature", &sheet::WindLine::temperature, "air temperature there"),
      field("sources", &sheet::WindLine::sources, "what it rests on")};
};
template <>
struct Description<sheet::GapLine> {
  static constexpr std::string_view name = "GapLine";
  static constexpr auto fields =
      Fields{field("bottom", &sheet::GapLine::bottom, "the last known height below"),
             field("top", &sheet::GapLine::top, "the first known height above, or the highest height flown")};
};
template <>
struct Description<sheet::SteerageLine> {
  static constexpr std::string_view name = "SteerageLine";
  static constexpr auto fields =
      Fields{field("left_course", &sheet::SteerageLine::left_course, "the left-most course over the ground"),
             field("right_course", &sheet::SteerageLine::right_course, "the right-most course"),
             field("left_height", &sheet::SteerageLine::left_height, "where the left-most is found"),
             field("right_height", &sheet::SteerageLine::right_height, "where the right-most is found"),
             field("turn", &sheet::SteerageLine::turn, "from left to right, clockwise")};
};
template <>
struct Description<sheet::WindSection> {
  static constexpr std::string_view name = "WindSection";
  static constexpr auto fields =
      Fields{field("levels", &sheet::WindSection::levels, "known winds by height"),
             field("gaps", &sheet::WindSection::gaps, "where the wind is not known, up to the highest height flown"),
             field("steerage", &sheet::WindSection::steerage, "what choosing heights can do")};
};
template <>
struct Description<sheet::SunSection> {
  static constexpr std::string_view name = "SunSection";
  static constexpr auto fields = Fields{field("civil_dawn", &sheet::SunSection::civil_dawn, "centre at -6 degrees"),
                                        field("sunrise", &sheet::SunSection::sunrise, "upper limb, level horizon"),
                                        field("transit", &sheet::SunSection::transit, "solar noon"),
                                        field("sunset", &sheet::SunSection::sunset, "upper limb, level horizon"),
                                        field("civil_dusk", &sheet::SunSection::civil_dusk, "centre at -6 degrees")};
};
template <>
struct Description<sheet::AirSection> {
  static constexpr std::string_view name = "AirSection";
  static constexpr auto fields =
      Fields{field("station_pressure", &sheet::AirSection::station_pressure, "at the field"),
             field("pressure_altitude", &sheet::AirSection::pressure_altitude, "of the field"),
             field("density_altitude", &sheet::AirSection::density_altitude, "of the field, moist air")};
};
template <>
struct Description<sheet::FlightSheet> {
  static constexpr std::string_view name = "FlightSheet";
  static constexpr auto fields =
      Fields{field("as_of", &sheet::FlightSheet::as_of, "the present, as far as the sheet knows"),
             field("balloon", &sheet::FlightSheet::balloon, "which balloon"),
             field("field", &sheet::FlightSheet::field, "from where"),
             field("time", &sheet::FlightSheet::time, "planned lift-off"),
             field("planned", &sheet::FlightSheet::planned, "planned flight time"),
             field("standing", &sheet::FlightSheet::standing, "what stands against flying, in one word"),
             field("standing_line", &sheet::FlightSheet::standing_line, "the same in one line"),
             field("evening", &sheet::FlightSheet::evening, "when the evening's sheet was made"),
             field("changes", &sheet::FlightSheet::changes, "what changed since the evening, the worst first"),
             field("tripwires", &sheet::FlightSheet::tripwires, "conditions under which the answer stands"),
             field("message", &sheet::FlightSheet::message, "for the people who wait for a word"),
             field("book", &sheet::FlightSheet::book, "the book whose memory was used; null: none"),
             field("limits", &sheet::FlightSheet::limits, "every limit"),
             field("load", &sheet::FlightSheet::load, "the load sheet"),
             field("lift", &sheet::FlightSheet::lift, "lift at the worst height; null when not known"),
             field("fuel", &sheet::FlightSheet::fuel, "fuel for the flight; null when not known"),
             field("handling", &sheet::FlightSheet::handling, "climb and descent in short"),
             field("remedies", &sheet::FlightSheet::remedies, "what would bring load and fuel inside"),
             field("winds", &sheet::FlightSheet::winds, "wind by height"),
             field("sources", &sheet::FlightSheet::sources, "what was told of the air, with its age"),
             field("pibals", &sheet::FlightSheet::pibals, "pilot balloons, layer by layer"),
             field("air", &sheet::FlightSheet::air, "the air at the field; null when not known"),
             field("sun", &sheet::FlightSheet::sun, "the sun's events"),
             field("landing", &sheet::FlightSheet::landing, "the landing card"),
             field("reach", &sheet::FlightSheet::reach, "ground within reach; null when not known"),
             field("dates", &sheet::FlightSheet::dates, "what has to be current, and until when"),
             field("cautions", &sheet::FlightSheet::cautions, "to be read with the figures")};
};
}  // namespace pappus
