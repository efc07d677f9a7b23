/// Winds and temperatures aloft as the US weather service forecasts them for fixed heights: FB (until 2011: FD).
///
///     DATA BASED ON 151200Z
///     VALID 151800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000
///
///     FT  3000    6000    9000   12000   18000   24000  30000  34000  39000
///     ZQA      2213+18 2110+13 1808+07 2216-06 2225-17 263333 264543 265654
///
/// Levels are feet above mean sea level, directions true and in tens of degrees, speeds knots. A forecast for a large
/// area and half a day: near the ground it says nothing, by rule.
///
/// Source    FAA-H-8083-11B, Balloon Flying Handbook, chapter 4 (group, omissions, 9900, speeds from 100 kt, 7799); the
///           layout of the bulletin and the station's place in it, and the sign above 24,000 ft: AC 00-45, Aviation
///           Weather Services (from memory).
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

/// What a forecast of "light and variable" (9900) stays below; it has no direction.
inline constexpr Speed kLightAndVariable = 5 * knot;

enum class FbWind {
  blank,               // no group stands there
  forecast,            // `wind` is given
  at_least,            // `wind` is given, its speed is a lower bound (7799: 199 kt or more)
  light_and_variable,  // below kLightAndVariable, from any direction: no `wind`
  unreadable           // a group stands there and was told as an issue
};

/// What one station's line says of one level.
struct FbGroup {
  AltitudeAmsl level;
  FbWind kind = FbWind::blank;
  std::optional<wind::Wind> wind = {};
  std::optional<Temperature> temperature = {};
  std::string text = {};  // as pasted; empty where blank
  Where where = {};       // of the text; line 0 where blank
};

struct FbStation {
  std::string id;               // three or four letters and figures
  std::vector<FbGroup> groups;  // one for each level of the bulletin, rising
  /// The groups did not stand under their levels (blanks lost on the way) and were laid against them from the highest
  /// level down.
  bool by_order = false;
  Where where = {};
};

struct FbBulletin {
  std::optional<Instant> based_on;  // of the computation
  Instant valid;
  std::optional<Instant> use_from, use_to;
  AltitudeAmsl negative_above = amsl(24000 * foot);  // above it temperatures carry no sign and are negative
  std::vector<AltitudeAmsl> levels;                  // rising
  std::vector<FbStation> stations;                   // in the order found, no two of one id
};

/// Finds every bulletin in `pasted`: each begins with its valid time, goes on with the line of levels ("FT 3000 ..."),
/// and holds the stations' lines that follow, with any other text between them.
///
/// Times     days and hours are the nearest to `near`; the period of use is the one around the valid time.
/// Lines     a line of levels or of a station may be broken in two where a narrow page wrapped it. Small letters are
///           read as capitals; '=' and sentences around are passed over.
/// Columns   a group belongs to the level under whose figures it stands: between the end of the level before and the
///           end of its own. Where a line does not keep to this, or a page has squeezed the blanks out, groups are laid
///           against the levels from the highest down, as only the lowest are left blank by rule; this is done only if
///           every level has its group, or if the groups without sign show which are above `negative_above`. Else it
///           is not known which level a group belongs to and the station is left out.
/// Wind      DDff; DD 51 to 86 is 50 more and the speed 100 kt more; with ff 99 the speed is at least that. 9900 is
///           light and variable: no direction is made up, `wind` stays absent. 01 to 04 knots are taken as written.
///           Refused: DD 00, 37 to 50 and 87 to 98, 99 with anything but 00, and ff 00 without 100 kt on top.
/// Temperature  two figures with their sign, or without it above `negative_above`. Without a sign at or below that it
///           is not known which sign was meant: it is left out and told. So is one at 3,000 ft or below, where none is
///           forecast.
/// Value     the bulletins that have at least one station. Everything understood is given; what was not is told.
/// Laws      no text is refused with a crash and the work grows with its length; every issue but "none" points into
///           `pasted`; every bulletin's stations have one group for each of its levels.
/// Errors    bad_input: "issue.fb_none", "issue.fb_time" (a valid time that is none), "issue.fb_levels" (the line of
///           levels), "issue.fb_no_valid" (levels without a valid time before them), "issue.fb_use" (the period of
///           use), "issue.fb_columns" (the station is left out), "issue.fb_group", "issue.fb_wind",
///           "issue.fb_sign", "issue.fb_temperature", "issue.fb_temperature_low".
///           conflict: "issue.fb_repeated" (a station told twice, differently; the first stands).
///           no_data: "issue.fb_hole" (a blank above a level that is not blank), "issue.fb_by_order" (a warning: the
///           groups were laid against the levels by their order).
Parsed<std::vector<FbBulletin>> parse_fb(std::string_view pasted, Instant near);

/// What the forecast's own rule says of a level above a station.
enum class FbRule { left_blank, given, either };
struct FbExpected {
  FbRule wind = FbRule::either, temperature = FbRule::either;
};
/// No wind within 1,500 ft of the station's elevation; no temperature within 2,500 ft of it, nor at the 3,000-ft level.
/// `either` at exactly these bounds, as published elevations are rounded.
/// Source    FAA-H-8083-11B chapter 4 (job check W19).
[[nodiscard]] FbExpected fb_expected(AltitudeAmsl level, AltitudeAmsl station_elevation);

/// The forecast of one station as a ladder: source kind forecast, named by the station, its time the valid time. Levels
/// of which neither wind nor temperature is known are left out: a gap is said, not filled.
///
/// `id` in any case. With the station's elevation known, groups are held against fb_expected(): one that stands where
/// the rule leaves a blank shows that columns have slipped, and the ladder is refused.
/// Errors    not_found: "issue.fb_station", with the stations there are. conflict: "issue.fb_slipped".
///           no_data: "issue.fb_blank", where no level has anything.
Result<wind::Ladder> ladder_of(const FbBulletin& bulletin, std::string_view id,
                               std::optional<AltitudeAmsl> station_elevation = {});

}  // namespace pappus::text
