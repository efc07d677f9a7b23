/// Aerodrome forecasts as they are pasted: TAF.
///
/// Source    WMO-No. 306, Manual on Codes, volume I.1, FM 51 TAF; statute miles, wind shear and self-contained FM
///           groups after the practice of the United States and Canada, icing, turbulence and QNH after that of their
///           military aerodromes, INTER after that of Australia.
#pragma once
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/wind/forecast.hpp"

namespace pappus::text {

using Taf = wind::Forecast;

/// Finds every forecast in `pasted` (headers, mail text, line breaks and '=' around them are fine) and decodes each.
///
/// Start     a station and the day and time of issue ("XXXX 051658Z"), with TAF, AMD and COR before them; without the
///           name, a validity ("0518/0624", "051824") must follow. Small letters are read as capitals. A
///           surface report (METAR) is passed over.
/// End       '=', the next forecast or report, or an empty line that no known group follows.
/// Time      `near` tells which month the day of issue belongs to: the reading closest to it is taken; every other day
///           is the one closest to the issue. Hour 24 ends its day. The older forms are read where the validity has
///           them: "051824" and, after TAF, "1824"; then "TEMPO 2002" and "FM2030" name the next such hour.
/// Value     the forecasts in the order found. Everything understood is given; what was not is told as an issue with
///           its line and column (in characters, from 1) and kept in `not_read` of its period. A forecast whose issue
///           or validity cannot be read gives no value and is told. NIL ("FCST NOT AVBL" too) and CNL give a value without
///           periods. Text without any forecast gives no value and says so. `text` holds the groups as pasted, one
///           blank between them.
/// Periods   first the base, then each change group in the order written. PROB30 TEMPO is one period; PROB30 INTER is
///           `inter` with its probability. A change group whose times are missing or wrong is kept with those of the
///           forecast and `times_known` false; one outside the validity is kept as written.
/// Wind      VRB and a swinging direction (180V260) both set `wind_variable`; only VRB leaves `wind` absent. A speed
///           beyond what is measured (P99KT, ABV49KT) is given as that bound. Of "WND 33009KT AFT 1315" nothing but the
///           swing is taken; it is told.
/// Visibility of several in one period the lowest is taken, by direction or not. 9999 and CAVOK are 10 km or more; 0000
///           is below 50 m.
/// Weather   groups that were run together with a slash ("HZ/-RA") or a sign ("TSVCSH") are taken apart.
/// Passed over  in silence: remarks from RMK on; AMD, NXT, LAST, NEXT, LTD, FCST and NO AMDS with what follows them, up
///           to the next change group or temperature; NOSIG, colour states, slashes; T and Q rows of Australia.
/// Laws      no text is refused with a crash and the work grows with its length; every issue of a forecast points into
///           `pasted`; `valid_from` lies before `valid_to`, `from` not after `to`; a gust is above its mean wind.
/// Errors    bad_input: "issue.taf_none", "issue.taf_time", "issue.taf_validity", "issue.taf_period" (times of a change
///           group), "issue.taf_probability" (neither 30 nor 40; it is kept), "issue.taf_wind", "issue.taf_visibility",
///           "issue.taf_cloud", "issue.taf_shear", "issue.taf_temperature", "issue.taf_pressure", "issue.taf_group",
///           "issue.taf_rest" (what follows is no forecast), "issue.taf_empty" (a validity without any group).
///           conflict: "issue.taf_repeated" (the first one stands), "issue.taf_clear" (a clear sky and cloud, or no
///           weather and weather: what was named stands), "issue.taf_outside" (a period outside the validity).
Parsed<std::vector<Taf>> parse_taf(std::string_view pasted, Instant near);

}  // namespace pappus::text
