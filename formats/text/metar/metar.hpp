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
///
/// Start     a station and a day and time ("XXXX 051658Z"), with METAR or SPECI and COR before them; without a name, one
///           of the next three groups must be known. Small letters are read as capitals. A terminal forecast (TAF) is
///           passed over.
/// End       '=', the next report, or an empty line that no known group follows.
/// Time      `near` tells which month a day and hour belong to: the reading closest to it is taken.
/// Value     the reports in the order found. Everything understood is given; what a report holds that was not
///           understood is told as an issue with its line and column (in characters, from 1). A report that says NIL,
///           or whose time cannot be read, gives no value and is told. Text without any report gives no value and says
///           so.
///           `text` holds the groups as pasted, one blank between them.
/// Wind      VRB and a swinging direction (180V260) both set `wind_variable`; only VRB leaves `wind` absent. A speed
///           beyond what is measured (P99KT, ABV49KT) is given as that bound.
/// Visibility `visibility` is the prevailing one, or the first that is given; a lower one by direction is
///           `visibility_lowest`. 9999 and CAVOK are 10 km or more; 0000 is below 50 m.
/// Cloud     CAVOK, NSC, NCD, SKC and CLR set `sky_clear`, unless a layer is reported beside them.
/// Temperature  tenths in remarks (T02940067) win over the whole degrees of the body that they round to; where they
///           contradict it, the body stands and the contradiction is told.
/// Pressure  with both Q and A, Q is taken if they agree within their rounding (1.4 hPa); else neither is.
/// Passed over  in silence: runway visual range and state, recent weather, wind shear, sea, rain and colour states,
///           groups of slashes (not reported), trends (a forecast, not an observation), and free remarks.
/// Laws      no text is refused with a crash and the work grows with its length; every issue of a report points into
///           `pasted`; a dew point given is at most 0.5 K above the temperature given.
/// Errors    bad_input: "issue.metar_none", "issue.metar_time", "issue.metar_wind", "issue.metar_visibility",
///           "issue.metar_temperature", "issue.metar_pressure", "issue.metar_cloud", "issue.metar_group";
///           "issue.metar_place" (an observed group after the pressure), "issue.metar_rest" (what follows is no
///           report). "issue.metar_dew_point": a dew point above the temperature by more than 0.5 K; it is dropped.
///           conflict: "issue.metar_repeated", "issue.metar_pressures", "issue.metar_tenths", "issue.metar_clear".
///           no_data: "issue.metar_nil".
Parsed<std::vector<wind::SurfaceReport>> parse_metar(std::string_view pasted, Instant near);

}  // namespace pappus::text
