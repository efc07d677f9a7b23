/// The small answers: one struct for each verb that is not the sheet, described once for every face.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/air/altimetry.hpp"
#include "core/base/angle.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "desk/ports.hpp"

namespace pappus::desk {

/// `pappus air`: the air at a place.
struct AirQuestion {
  AltitudeAmsl elevation;
  Pressure qnh;
  Temperature temperature;
  std::optional<Temperature> dew_point;  // absent: dry air, and said to be
};
struct AirAnswer {
  Pressure station_pressure;
  Density density;
  std::optional<Density> density_cipm;
  Temperature virtual_temperature;
  PressureAltitude pressure_altitude;
  DensityAltitude density_altitude;
  std::vector<Sentence> notes;
};
Result<AirAnswer> answer(const AirQuestion& question);

/// `pappus propane`: pure propane at a temperature.
struct PropaneQuestion {
  Temperature temperature;
  Pressure ambient = standard_atmosphere;
};
struct PropaneAnswer {
  Pressure saturation_pressure;
  GaugePressure gauge_pressure;
  Density liquid_density, vapour_density;
  SpecificEnergy latent_heat;
  std::vector<Sentence> notes;
};
Result<PropaneAnswer> answer(const PropaneQuestion& question);

/// `pappus lift` without a flight: what a volume of hot air carries, dry air.
struct LiftQuestion {
  Volume volume;
  PressureAltitude pressure_altitude;
  Temperature temperature, envelope_temperature;
};
struct LiftAnswer {
  Mass gross_lift;
  Pressure pressure;
  std::vector<Sentence> notes;
};
Result<LiftAnswer> answer(const LiftQuestion& question);

/// `pappus sun`: the events of a solar day, and where the sun stands at a time of it.
struct SunQuestion {
  Position at;
  Date date;
  UtcOffset offset;
  std::optional<Moment> time;
};
struct SunAnswer {
  std::optional<Moment> civil_dawn, sunrise;
  Moment transit;
  std::optional<Moment> sunset, civil_dusk;
  std::optional<TrueBearing> azimuth;
  std::optional<Angle> elevation;
  std::vector<Sentence> notes;
};
Result<SunAnswer> answer(const SunQuestion& question);

/// `pappus variation`: how far a compass points from true north.
struct VariationQuestion {
  Position at;
  AltitudeAmsl elevation;
  Date date;
};
struct VariationAnswer {
  Angle declination;  // east positive
  Angle uncertainty;
  bool within_validity = true;
  Date valid_until;
  std::vector<Sentence> notes;
};
Result<VariationAnswer> answer(const VariationQuestion& question);

/// What a face says instead of an answer.
struct Refusal {
  std::vector<Issue> issues;
};

/// `pappus winds`: wind by height from pasted texts, tables and flight files.
struct WindsQuestion {
  /// Paths: flight files (.toml) with all their sources, tables (.csv), and texts of METAR, winds aloft (FB) and
  /// soundings; aerodrome forecasts (TAF) in them are passed over, as they give no wind by height.
  std::vector<std::string> sources;
  std::optional<Position> at;
  std::optional<AltitudeAmsl> elevation;
  std::optional<Moment> time;
  std::optional<Moment> now;
  std::optional<std::string> station;  // among several in a text
  std::optional<AltitudeAmsl> station_elevation;
  std::optional<std::string> columns;  // of tables: the map of formats/text/profile_csv
  // What a table is taken for, if nothing is said: the least trusted of all, for the time asked for.
  std::optional<wind::SourceKind> by;
  std::optional<Moment> seen;
};
struct WindsAnswer {
  Moment time;  // for which the winds were asked
  std::vector<sheet::WindLine> levels;
  std::vector<sheet::GapLine> gaps;
  std::optional<sheet::SteerageLine> steerage;
  std::vector<Issue> issues;
};
/// Elevation and time may be left out when a flight file among the sources gives them.
Parsed<WindsAnswer> answer(const WindsQuestion& question, const Files& files, const Clock& clock);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Description<desk::AirAnswer> {
  static constexpr std::string_view name = "AirAnswer";
  static constexpr auto fields = Fields{
      field("station_pressure", &desk::AirAnswer::station_pressure, "at the place"),
      field("density", &desk::AirAnswer::density, "ideal gas with the virtual temperature"),
      field("density_cipm", &desk::AirAnswer::density_cipm, "CIPM-2007, where it holds"),
      field("virtual_temperature", &desk::AirAnswer::virtual_temperature,
            "dry air of this temperature weighs the same"),
      field("pressure_altitude", &desk::AirAnswer::pressure_altitude,
            "where the standard atmosphere has this pressure"),
      field("density_altitude", &desk::AirAnswer::density_altitude, "where the standard atmosphere has this density"),
      field("notes", &desk::AirAnswer::notes, "how the figures came about")};
};
template <>
struct Description<desk::PropaneAnswer> {
  static constexpr std::string_view name = "PropaneAnswer";
  static constexpr auto fields =
      Fields{field("saturation_pressure", &desk::PropaneAnswer::saturation_pressure, "absolute"),
             field("gauge_pressure", &desk::PropaneAnswer::gauge_pressure, "over the air around the gauge"),
             field("liquid_density", &desk::PropaneAnswer::liquid_density, "of the saturated liquid"),
             field("vapour_density", &desk::PropaneAnswer::vapour_density, "of the saturated vapour"),
             field("latent_heat", &desk::PropaneAnswer::latent_heat, "of vaporisation"),
             field("notes", &desk::PropaneAnswer::notes, "to be read with the figures")};
};
template <>
struct Description<desk::LiftAnswer> {
  static constexpr std::string_view name = "LiftAnswer";
  static constexpr auto fields =
      Fields{field("gross_lift", &desk::LiftAnswer::gross_lift, "air displaced less air inside"),
             field("pressure", &desk::LiftAnswer::pressure, "of the air at that height"),
             field("notes", &desk::LiftAnswer::notes, "to be read with the figures")};
};
template <>
struct Description<desk::SunAnswer> {
  static constexpr std::string_view name = "SunAnswer";
  static constexpr auto fields = Fields{field("civil_dawn", &desk::SunAnswer::civil_dawn, "centre at -6 degrees"),
                                        field("sunrise", &desk::SunAnswer::sunrise, "upper limb, level horizon"),
                                        field("transit", &desk::SunAnswer::transit, "solar noon"),
                                        field("sunset", &desk::SunAnswer::sunset, "upper limb, level horizon"),
                                        field("civil_dusk", &desk::SunAnswer::civil_dusk, "centre at -6 degrees"),
                                        field("azimuth", &desk::SunAnswer::azimuth, "at the time asked for"),
                                        field("elevation", &desk::SunAnswer::elevation, "the same, with refraction"),
                                        field("notes", &desk::SunAnswer::notes, "to be read with the figures")};
};
template <>
struct Description<desk::VariationAnswer> {
  static constexpr std::string_view name = "VariationAnswer";
  static constexpr auto fields =
      Fields{field("declination", &desk::VariationAnswer::declination, "east positive: magnetic = true - declination"),
             field("uncertainty", &desk::VariationAnswer::uncertainty, "of the model, one standard deviation"),
             field("within_validity", &desk::VariationAnswer::within_validity, "the date lies in the model's years"),
             field("valid_until", &desk::VariationAnswer::valid_until, "the model's last day"),
             field("notes", &desk::VariationAnswer::notes, "to be read with the figures")};
};
template <>
struct Description<desk::Refusal> {
  static constexpr std::string_view name = "Refusal";
  static constexpr auto fields = Fields{field("issues", &desk::Refusal::issues, "why there is no answer")};
};
template <>
struct Description<desk::WindsAnswer> {
  static constexpr std::string_view name = "WindsAnswer";
  static constexpr auto fields = Fields{field("time", &desk::WindsAnswer::time, "for which the winds were asked"),
                                        field("levels", &desk::WindsAnswer::levels, "known winds by height"),
                                        field("gaps", &desk::WindsAnswer::gaps, "where the wind is not known"),
                                        field("steerage", &desk::WindsAnswer::steerage, "what choosing heights can do"),
                                        field("issues", &desk::WindsAnswer::issues, "what was not understood")};
};
}  // namespace pappus
