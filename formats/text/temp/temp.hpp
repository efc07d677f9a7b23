/// What a radiosonde sent down: a TEMP message, its parts A (TTAA, standard levels) and B (TTBB, significant levels).
///
///     TTAA 66121 99123 99013 14256 24008 00131 13456 24510 92798 ...
///     TTBB 66128 99123 00013 14256 11985 16060 ... 21212 00013 24008 ...
///
/// Two soundings a day are flown at few places: this is the air of a region some hours ago, but it is measured air, and
/// it shows inversions that a forecast for fixed heights cannot.
///
/// Source    WMO-No. 306, Manual on Codes, volume I.1, FM 35 TEMP (from memory, the format seen); physics.md section 9.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"

namespace pappus::text {

enum class TempLevelKind { surface, standard, significant };

struct TempLevel {
  TempLevelKind kind = TempLevelKind::significant;
  Pressure pressure;
  std::optional<GeopotentialAltitude> height = {};
  bool height_computed = false;  // by the hypsometric equation; else as reported
  std::optional<Temperature> temperature = {}, dew_point = {};
  std::optional<wind::Wind> wind = {};
};

struct TempSounding {
  std::string station;  // block and station number, five figures
  Instant time;         // the hour that the message names; the balloon leaves up to an hour before it
  bool has_part_a = false, has_part_b = false;
  std::vector<TempLevel> levels;  // pressure falling, no two of one pressure
};

/// Finds every TTAA and TTBB in `pasted` (bulletin headings, mail text and '=' around them are fine) and joins the parts
/// of one station and time. Small letters are read as capitals.
///
/// Time      YYGGId: day (50 more: winds in knots, else m/s), hour, and the last standard level with a wind; the day is
///           the one nearest to `near`.
/// Pressure  99PPP at the surface, the thousands dropped, 500 to 1099 hPa; nnPPP at significant levels, 100 to 1099.
/// Height    of standard levels: metres without their thousands up to 700 hPa, at 1000 hPa 500 more for below sea
///           level; decametres without their ten-thousands from 500 hPa up. What was dropped is what brings the height
///           closest to the standard atmosphere's.
/// Temperature  TTTaDD: tenths even for plus, odd for minus, so that a tenth may be off by one; DD to 50 tenths of the
///           dew-point depression, 56 to 99 whole degrees and 50 more.
/// Wind      ddfff: 500 more on the speed for five degrees more; 00000 is calm.
/// Computed heights  of levels that give only a pressure, by the hypsometric equation with the virtual temperature
///           (linear in the logarithm of pressure between the levels that have a temperature; dry where no dew point is
///           given), fitted to the reported heights below and above; beyond the lowest and highest reported height on
///           one side only. Not computed beyond the levels that have a temperature, nor from part B alone, which
///           reports no height.
/// Accuracy  of a computed height 0.4 % of the distance from the reported one for each kelvin of error in the mean
///           virtual temperature; leaving the vapour out costs up to 1 % of it in warm, wet air.
/// Misprints a group out of place costs its level, not the ones above: reading goes on at the next mark of a level behind
///           which the groups are in step.
/// Passed over  in silence: parts C and D (above 100 hPa), the tropopause (88), greatest winds (77, 66), and the
///           sections from 31313 on (radiation correction, time of release, clouds, regional groups).
/// Value     the soundings in the order found. Everything understood is given; what was not is told.
/// Laws      no text is refused with a crash and the work grows with its length (times its logarithm); every issue but
///           "none" points into `pasted`; pressures fall from level to level; a dew point is never above the
///           temperature; a computed height lies between the reported ones around it.
/// Errors    bad_input: "issue.temp_none", "issue.temp_time", "issue.temp_station", "issue.temp_pressure",
///           "issue.temp_height" (not above the level below), "issue.temp_temperature", "issue.temp_dew_point",
///           "issue.temp_wind", "issue.temp_order" (a significant level out of its count; it stands), "issue.temp_pair" (a group is missing: which, is not known, and both temperature and
///           wind of the level are left out), "issue.temp_group" (it is left out, with all up to the next level that is surely one).
///           conflict: "issue.temp_repeated" (a part told twice, differently; the first stands), "issue.temp_conflict"
///           (A and B give one level differently; A stands), "issue.temp_thickness" (two reported heights lie further
///           apart, or less far, than the temperatures between them allow, by more than 4 % and 20 m (ours); both
///           stand). no_data: "issue.temp_nil", "issue.temp_no_heights" (no level has a height).
Parsed<std::vector<TempSounding>> parse_temp(std::string_view pasted, Instant near);

/// The levels with a height and a wind or a temperature as a ladder: source kind sounding, named by the station, its
/// time the sounding's. Geopotential heights are turned into metres above mean sea level (4 m more at 5 km).
/// Errors    no_data: "issue.temp_empty", where no level has both.
Result<wind::Ladder> ladder_of(const TempSounding& sounding);

}  // namespace pappus::text
