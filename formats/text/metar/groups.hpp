/// What one group of an aviation code says, taken alone: the groups that reports and forecasts share. For the decoders
/// of these codes only.
///
/// Every reader takes one group in capitals and answers none where the group is of another kind or misspelt. Ranges are
/// the business of the caller: "39908KT" reads as a wind from 399 degrees.
/// Source    WMO-No. 306 volume I.1, FM 15, regulation named at each reader as 15.n; FMH-1 chapter 12.
#pragma once
#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"

namespace pappus::text::wmo {

/// 15.5. dddff(f)Gff(f) with its unit; VRB; '/' for what was not reported.
struct WindGroup {
  bool variable = false;
  std::optional<int> direction_deg;
  std::optional<int> speed, gust;
  Speed unit = knot;
};
std::optional<WindGroup> read_wind(std::string_view group);
/// What a wind group says of the air: only what obeys the rules, and for each rule broken, what would be right.
struct SurfaceWind {
  std::optional<wind::Wind> wind;  // absent where the direction is variable, missing or wrong
  std::optional<Speed> speed, gust;
  bool variable = false;
  std::vector<std::string_view> wanted;
};
SurfaceWind interpret(const WindGroup& group);
/// 15.5.3. "180V260": whether the group has this form with directions up to 360.
bool is_swing(std::string_view group);

enum class Beyond { no, at_least, below };
struct VisibilityGroup {
  Length distance;
  Beyond beyond = Beyond::no;
  bool directional = false;
};
/// 15.6. "4000", "4000NE", "9999NDV".
std::optional<VisibilityGroup> read_visibility_metres(std::string_view group);
/// FMH-1 12.6.6. "10SM", "1/2SM", "M1/4SM", "P6SM".
std::optional<VisibilityGroup> read_visibility_miles(std::string_view group);
/// The miles in front of a fraction: the "1" of "1 1/2SM".
std::optional<int> read_whole_miles(std::string_view group);
/// Whether the group is a fraction of a mile that whole miles may stand before.
bool is_fraction_of_mile(std::string_view group);

/// Metres, or miles with the fraction that may stand in the next group ("1", "1/2SM").
struct VisibilityRead {
  VisibilityGroup visibility;
  std::size_t groups = 1;  // how many of the two it takes
};
std::optional<VisibilityRead> read_visibility(std::string_view group, std::string_view next);

/// 15.8 and code table 4678. "-SHRA", "VCFG", "FZDZ".
bool is_weather(std::string_view group);

/// 15.9. "SCT030", "BKN017TCU", "FEW///CB", "VV002", "//////CB".
std::optional<wind::CloudLayer> read_cloud(std::string_view group);
/// 15.9.1.1: no layer to report ("NSC", "NCD", "SKC", "CLR").
bool is_clear_sky(std::string_view group);

/// 15.11. "02/M01", "12/", "///M05".
struct TemperatureGroup {
  std::optional<double> temperature_c, dew_point_c;
};
std::optional<TemperatureGroup> read_temperature(std::string_view group);
/// FMH-1 12.7.2.d: tenths, "T02940067" or "T0294".
std::optional<TemperatureGroup> read_tenths(std::string_view group);

/// 15.12. "Q1013", "A2992"; '/' for what was not reported.
struct PressureGroup {
  bool in_inches = false;
  std::optional<Pressure> value;
};
std::optional<PressureGroup> read_pressure(std::string_view group);

/// Known, but nothing that a balloon pilot's surface report keeps: modifiers, runways, recent weather, sea, rain and
/// colour states, slashes.
bool is_passed_over(std::string_view group);
/// As above, for the words that may follow "WS": "ALL", "RWY", "RWY11", "R11L".
bool is_wind_shear_word(std::string_view group);
/// Whether a forecast begins here: "NOSIG", "TEMPO", "FM1200".
bool is_trend(std::string_view group);

/// What a group that no reader took was most likely meant to be, by its shape.
enum class Likeness { wind, visibility, cloud, temperature, pressure, none };
Likeness likeness(std::string_view group);
/// What would be right, for a group of that shape: "a wind such as 30008KT". Domain: not `none`.
std::string_view wanted(Likeness likeness);

/// Whether any reader takes the group.
bool is_known(std::string_view group);

}  // namespace pappus::text::wmo
