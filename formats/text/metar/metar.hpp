/// Surface weather reports as they are pasted: METAR and SPECI.
///
/// Source    WMO-No. 306, Manual on Codes, volume I.1, FM 15 METAR and FM 16 SPECI; US practice after the Federal
///           Meteorological Handbook No. 1 (statute miles, inches of mercury, remarks).
#pragma once
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/wind/observation.hpp"

namespace pappus::text {

/// Finds every report in `pasted` (headers, mail text, line breaks and '=' around them are fine) and decodes each.
/// `near` tells which month a day and hour belong to: the reading closest to it is taken.
/// Everything understood is given; what a report holds that was not understood is told as an issue with its line and
/// column. Text without any report gives no value and says so.
/// Tenths of temperature and dew point in remarks (T02940067) win over the whole degrees of the body.
/// Errors    "issue.metar_none", "issue.metar_time", "issue.metar_wind", "issue.metar_visibility",
///           "issue.metar_temperature", "issue.metar_pressure", "issue.metar_cloud", "issue.metar_group"; a dew point
///           above the temperature by more than 0.5 K is told as "issue.metar_dew_point" and dropped.
Parsed<std::vector<wind::SurfaceReport>> parse_metar(std::string_view pasted, Instant near);

}  // namespace pappus::text
