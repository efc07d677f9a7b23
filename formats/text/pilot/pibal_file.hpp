/// Readings of pilot balloons as a pilot writes them down: [[pibal]] tables, in a flight file or in a file of their own,
/// and bare calls in CSV.
#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"
#include "core/sheet/morning.hpp"
#include "core/wind/pibal.hpp"
#include "formats/text/pilot/toml_cursor.hpp"

namespace pappus::text {

/// From which north bearings are counted.
enum class North { of_the_earth, of_the_compass };

/// From where a pilot balloon was released; what is absent is not known.
struct ReleasedFrom {
  std::optional<Position> at;
  std::optional<AltitudeAmsl> elevation;
};

struct PibalReadings {
  sheet::PibalSeen seen;
  std::optional<Moment> released;
};

/// Reads one [[pibal]] table.
///
///     [[pibal]]
///     released = 2027-05-16T04:30:00-09:00
///     diameter = "12in"                  # blown up; with mass = "3g", or balloons = 10 and together = "30g"
///     bearings = "magnetic"              # or "true"
///     obstacles = "8deg"                 # elevation of what stands downwind
///     seen = ["rolls"]                   # bad signs that no angle shows
///     units = ["s", "deg", "deg"]        # or "min": time since the release, bearing and elevation, in this order
///     rows = [[30, 20.0, 39.8], [60, "", 37.5]]
///
/// Needed    bearings, units, rows; released only where `needs_release`.
/// Rise rate `rise` as stated (10 % either way), or diameter and mass by the handbook's table for the standard
///           atmosphere's density at the elevation (sea level where that is absent); with none of them the handbook's
///           300 ft/min.
/// Bearings  by compass need the variation: `variation` (east positive) if given, else that of the magnetic model for
///           the place and the day of the release.
/// Rows      times rise. A cell "" or nan is a call lost.
/// Absent    name is "pibal".
/// Errors    those of toml_cursor.hpp and wind::pibal::rise_rate; "issue.pibal_bearings", "issue.pibal_rise",
///           "issue.pibal_size", "issue.pibal_mass_written", "issue.pibal_together", "issue.pibal_balloons",
///           "issue.pibal_variation", "issue.pibal_obstacles", "issue.pibal_sign", "issue.pibal_units",
///           "issue.pibal_rows", "issue.pibal_row_length", "issue.pibal_cell", "issue.pibal_time", "issue.pibal_azimuth",
///           "issue.pibal_angle"; conflict "issue.pibal_rise_double" (a rise rate and what it follows from),
///           "issue.pibal_mass_double", "issue.pibal_times_rise"; no_data "issue.pibal_variation_unknown", and
///           "issue.pibal_no_layers" where no call says anything: a warning, the readings stand.
std::optional<PibalReadings> read_pibal(const Table& table, const ReleasedFrom& from, bool needs_release);

/// A file of [[pibal]] tables, with maybe [field] (at, elevation, name) for where they were released. `file` names it in
/// issues.
Parsed<std::vector<PibalReadings>> parse_pibal_file(std::string_view toml, std::string_view file);

/// Whether a TOML text is a flight file rather than one of pilot balloons alone: it names its balloon.
[[nodiscard]] bool is_flight_file(std::string_view toml);

/// Calls in CSV: seconds since the release, bearing, elevation, in degrees; a line each, with maybe a header line. An
/// empty cell, '-' or nan is a call lost; lines that are empty or begin with '#' are passed over.
/// Errors    bad_input with line and column, "issue.pibal_row_length", "issue.pibal_cell", "issue.pibal_time",
///           "issue.pibal_azimuth", "issue.pibal_angle"; conflict "issue.pibal_times_rise"; no_data "issue.pibal_rows".
///           There is a value only without issues.
Parsed<std::vector<wind::pibal::Call>> parse_pibal_csv(std::string_view csv, std::string_view file, North north);

/// The rise rate of a balloon in the standard atmosphere at that elevation, at sea level where it is absent.
Result<wind::pibal::RiseRate> rise_rate_at(Length diameter, Mass mass, std::optional<AltitudeAmsl> elevation);

/// The variation by the magnetic model. Errors: no_data "issue.pibal_variation_unknown" where place or day is absent;
/// those of sky::magnetic_field.
Result<Variation> variation_at(const ReleasedFrom& from, std::optional<Instant> released);

}  // namespace pappus::text

namespace pappus {
template <>
struct Names<text::North> {
  static constexpr std::array<std::pair<text::North, std::string_view>, 2> all{
      {{text::North::of_the_earth, "true"}, {text::North::of_the_compass, "magnetic"}}};
};
}  // namespace pappus
