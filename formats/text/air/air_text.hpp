/// Whatever was pasted about the air: surface reports, aerodrome forecasts, winds aloft and soundings, told apart by what
/// they say of themselves, several in one text, with anything around them.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/wind/forecast.hpp"
#include "core/wind/observation.hpp"

namespace pappus::text {

/// Of which station the text is wanted.
struct StationWanted {
  std::optional<std::string> id = {};  // in any case
  /// Of that station: shows winds aloft whose columns have slipped.
  std::optional<AltitudeAmsl> elevation = {};
};

struct AirTold {
  std::vector<wind::SurfaceReport> reports;
  std::vector<wind::Forecast> forecasts;  // for aerodromes
  std::vector<wind::Ladder> ladders;      // winds aloft, one for each valid time; soundings
};

/// Reads `pasted` with the readers of METAR, TAF, FB and TEMP (see their headers: each passes over what is another's).
///
/// Time      `near` tells which month a day belongs to.
/// Station   named, it chooses among the stations of each kind. Where a kind has none of that name, its only station is
///           taken all the same, and all its aerodrome forecasts are; of several stations with winds aloft or soundings
///           none can be chosen. Surface reports are all taken.
/// Value     all that was understood; there is always one. What was not understood is told, and is_air_warning().
/// Errors    those of the readers, with line and column in `pasted`; that a reader found none is told of all of them
///           together, if none of them found any: "issue.air_none". With where.key "station": bad_input
///           "issue.air_station_missing" (several stations, none named), not_found "issue.air_station_unknown"; both
///           name the stations that there are.
/// Laws      a text that one reader understands gives what that reader gives.
Parsed<AirTold> read_air(std::string_view pasted, Instant near, const StationWanted& station = {});

/// An issue of what others wrote: the rest stands. Not so a station that cannot be chosen.
[[nodiscard]] bool is_air_warning(const Issue& issue);

}  // namespace pappus::text
