/// Winds and temperatures by height from a table of text, whatever its columns: the reader is told what they are.
///
///     height=1 m agl, from=2 deg true, speed=3 kt, temperature=4 C; skip=1; separator=comma; missing=-9999
///     height="Height MSL" ft amsl, east=u m/s, north=v m/s; separator=semicolon; decimal=comma
///
/// Nothing is guessed from the table: not the unit, not what a height is above, not what stands for a missing value.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"

namespace pappus::text {

enum class ProfileQuality {
  height_amsl,
  height_agl,
  from_true,      // the direction that the wind comes from
  from_magnetic,  // the same by compass
  toward_true,    // the direction that it blows to
  speed,
  east,   // components of the wind, toward east and north
  north,  //
  temperature
};

/// One column as the map states it.
struct ProfileColumn {
  ProfileQuality quality = ProfileQuality::height_amsl;
  std::string unit;        // as text/quantity names it
  std::size_t number = 0;  // from 1; 0 where the column is found by `name`
  std::string name = {};   // as it stands in the table's header line
};

/// A column map, checked when made.
struct ProfileMap {
  std::vector<ProfileColumn> columns;  // no quality twice
  int skip = 0;                        // lines passed over before anything is read
  char separator = ',';                // ' ' stands for any run of blanks and tabs
  char decimal = '.';
  std::vector<std::string> missing;  // cells that stand for no value, besides the empty cell and nan
};

/// Reads a column map.
///
/// Syntax    columns, then settings, all parted by ';'. Columns are parted by ',':  quality=WHERE UNIT [REFERENCE].
///           WHERE is a column's number from 1, or its name in the table's header line, in "quotes" where the name holds
///           a blank or one of , ; = or is a number.
///           Qualities and their references: height (m, ft, km; amsl or agl), from (deg; true or magnetic), toward
///           (deg; true), speed, east, north (kt, m/s, mph, km/h, ft/min; none), temperature (C, F, K; none).
///           Settings: skip=N (0 to 1000), separator=comma, semicolon, tab, blank, bar or colon; decimal=point or
///           comma; missing=TEXT (several, or several times, in "quotes" with a blank or one of , ; inside; a number stands for
///           every way to write it).
/// Needed    a height, and a wind or a temperature. A wind is from or toward with a speed, or east with north.
/// Lines     with a column that is named, the first line behind those skipped is the header line.
/// Errors    bad_input, where.key "columns", where.column the place in `spec`: "issue.profile_map_empty",
///           "issue.profile_quality", "issue.profile_where", "issue.profile_unit", "issue.profile_reference",
///           "issue.profile_setting", "issue.profile_value" (of a setting), "issue.profile_quotes". conflict:
///           "issue.profile_double" (a quality or setting twice, two kinds of wind, two columns in one place),
///           "issue.profile_decimal" (the decimal comma is the separator too). no_data: "issue.profile_height_missing",
///           "issue.profile_wind_incomplete", "issue.profile_nothing_asked".
/// Laws      print_profile_map() of what was read is read again as the same.
Parsed<ProfileMap> parse_profile_map(std::string_view spec);
/// The map in the syntax above.
[[nodiscard]] std::string print_profile_map(const ProfileMap& map);

/// What a table does not say of itself.
struct ProfileContext {
  wind::Source source;
  std::optional<AltitudeAmsl> ground = {};  // needed for heights above ground
  std::optional<Variation> variation = {};  // needed for directions by compass
};

/// Reads a table. Cells may stand in "quotes" ("" for a quote inside) and have blanks around; lines that are empty or
/// begin with '#' are passed over, and so is a byte order mark.
///
/// Value     the rows with a height and a wind or a temperature, rising; none where no such row is found. Cells that
///           are missing leave their value absent; a speed of zero is calm, whatever its direction, and a speed alone
///           gives no wind. A row with a fault in its height is left out, else the faulty value alone is.
/// Domain    altitudes -500 to 30,000 m, directions 0 to 360 degrees, speeds 0 to 150 m/s, temperatures -95 to 60 C.
/// Errors    bad_call: "issue.profile_ground_needed", "issue.profile_variation_needed". bad_input, with line and column
///           (in characters): "issue.profile_header" (a named column is not there, or twice), "issue.profile_short" (a
///           row without the column), "issue.profile_number", "issue.profile_range", "issue.profile_row_height" (a row
///           with values but without a height), "issue.profile_open_quotes"; "issue.profile_none" (no row gives
///           anything). conflict: "issue.profile_row_double" (a second row of one altitude; the first stands). After
///           50 faults "issue.profile_many", and reading stops: the map is likely wrong.
/// Laws      no table is refused with a crash and the work grows with its length (times its logarithm); rows rise
///           strictly.
Parsed<wind::Ladder> parse_profile_csv(std::string_view table, const ProfileMap& map, const ProfileContext& context);

}  // namespace pappus::text
