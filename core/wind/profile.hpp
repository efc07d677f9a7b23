/// Wind by height above one field at one time: interpolated where the air allows it, and not known elsewhere.
#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "core/air/column.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"

namespace pappus::wind {

/// A height interval in which the wind is not known. Its ends are known, unless they are the ground or the height up to
/// which was asked.
struct Gap {
  AltitudeAmsl bottom, top;
};

/// How far apart two known heights may stand for the wind between them to be taken as known (ours). A step is judged by
/// where its bottom lies: one that begins in the low layer must keep to the low layer's width, even if most of it lies
/// above. So a step that is allowed stays allowed when it is cut in two.
struct GapRule {
  Length low_layer_top = 500.0 * metre;  // above the field
  Length low = 500.0 * foot;             // widest step below that: 150 m, and a ladder typed every 500 ft
  Length high = 1000.0 * foot;           // widest step above it: 300 m, and a ladder typed every 1000 ft
};

/// Why one source counts before another where both speak of a height; the first that tells them apart.
enum class Precedence {
  seen,   // it was observed, not long before the time asked for; the other is a forecast, or old
  time,   // later; among forecasts and what is old: nearer to the time asked for
  error,  // of one time: the smaller own error
  fixed   // neither is better: by kind, name and content, so that the order of the lists never counts
};

/// How long what was observed counts before every forecast: winds seen are too old after that (ours; the same bound as
/// that of the limits on a flight sheet).
inline constexpr Duration kSeenFirst = 120.0 * minute;

/// What gave way: winds of one source over heights of which one that counts before it speaks too.
struct Superseded {
  Source source;
  Source by;
  Precedence why = Precedence::time;
  AltitudeAmsl lowest, highest;  // of the winds that gave way to `by`
  friend bool operator==(const Superseded&, const Superseded&) = default;
};

struct Level {
  AltitudeAmsl altitude;
  Wind wind;
  Speed spread;  // one standard deviation of the vector difference to be expected at the time asked for
  std::optional<Temperature> temperature;
  std::vector<Source> sources;
};

/// Down to this height above the ground the lowest known wind stands for the wind at the ground: the height at which
/// surface winds are measured (WMO-No. 8, chapter 5: 10 m).
inline constexpr Length kSurfaceWindHeight = 10.0 * metre;

/// Made from what was observed; then total: it answers or says that it does not know.
class WindProfile {
 public:
  struct Inputs {
    AltitudeAmsl ground;
    Instant time;  // for which the profile is wanted: the spread grows with the age of a source at that time
    std::vector<Ladder> ladders;
    std::vector<SurfaceReport> reports;  // a report's wind stands at the ground
    GapRule rule = {};
    Duration seen_first = kSeenFirst;
  };
  /// Of two sources that speak of one height, one counts and the other is told by superseded(); each serves where no
  /// source before it speaks. What was observed (every kind but forecast) at most `seen_first` from `time` counts before
  /// all else, the later before the older. Then come forecasts and older observations, the one nearer to `time` first:
  /// a forecast's time is the one for which it was made, and may lie on either side. Of two sources equal in that, the
  /// one with the smaller own error counts first (then by kind, name and content, so that the order of the lists never
  /// counts).
  ///
  /// What a source spans runs from its lowest to its highest known wind, less the steps between two of its winds that
  /// are too wide for `rule`: a source does not speak for a hole of its own. A report's wind spans the ground alone; a
  /// report of variable wind has no direction and gives no wind.
  ///
  /// Rows below the ground by more than 1 m are left out and told as issues, as are second rows of one altitude in one
  /// ladder and rows that hold no finite number; rows less than 1 m below stand at the ground. Rows may come in any
  /// order. Without any wind the profile is empty. There is always a value.
  ///
  /// Laws      the order of ladders, reports and rows does not matter; one more source never makes a height unknown
  ///           that was known; turning every wind by one angle turns every answer by it; every row with a wind is a
  ///           level or is superseded.
  static Parsed<WindProfile> from(Inputs inputs);

  [[nodiscard]] AltitudeAmsl ground() const { return ground_; }
  /// Rising, each at or above the ground.
  [[nodiscard]] const std::vector<Level>& levels() const { return levels_; }
  /// Who gave way to whom, and where: in the order of precedence of those who gave way, then of those they gave way to.
  /// A wind spanned by several sources gives way to the first of them. A source may serve at other heights.
  [[nodiscard]] const std::vector<Superseded>& superseded() const { return superseded_; }
  /// Every height interval between the ground and `up_to` in which the wind is not known, rising: below the lowest
  /// level (unless it stands within kSurfaceWindHeight of the ground), in steps wider than the rule allows, and above
  /// the highest level. Without any wind it is all one gap.
  /// Laws      from the ground to `up_to`, at() answers outside the gaps and at the levels, and nowhere else.
  [[nodiscard]] std::vector<Gap> gaps(AltitudeAmsl up_to) const;
  /// Wind linear in its components between neighbouring levels; from the ground to a lowest level within
  /// kSurfaceWindHeight of it, that level's wind. The spread between two levels is the larger of theirs: interpolating
  /// adds nothing, as the gap rule keeps the step short. The temperature is linear where both levels have one; the
  /// sources are those of both.
  /// Errors    Errc::no_data below the lowest, above the highest, and inside a gap.
  /// Laws      at a level's altitude the level's wind; every component lies between those of the neighbours.
  [[nodiscard]] Result<Level> at(AltitudeAmsl z) const;
  /// The wind of at(z) alone, without allocation: for those who ask often. None where at() has no data.
  [[nodiscard]] std::optional<Wind> wind_at(AltitudeAmsl z) const;

 private:
  struct Between;
  [[nodiscard]] std::optional<Between> between(AltitudeAmsl z) const;

  AltitudeAmsl ground_;
  GapRule rule_;
  std::vector<Level> levels_;
  std::vector<Superseded> superseded_;
};

/// The temperatures of all ladders, with or without a wind beside them, for the air column above `ground`: merged as
/// winds are (a ladder that counts first does so over the heights that its temperatures span), rising, no two of one
/// altitude. With the `time` of the flight what counts first is what counts for the winds, with kSeenFirst; without it,
/// the later of two, be it a forecast or not. Rows at the ground, within 1 m of it or below it are left out: the surface
/// temperature is a report's matter, and the column takes it on its own.
[[nodiscard]] std::vector<air::TemperatureLevel> temperatures_aloft(const std::vector<Ladder>& ladders,
                                                                    AltitudeAmsl ground, GapRule rule = {},
                                                                    std::optional<Instant> time = std::nullopt);

/// The expected vector difference between a wind seen `age` ago and now, one standard deviation:
/// sqrt(own error^2 + (1.5 m/s)^2 (age / 30 min)^(2/3)), at most 3.5 m/s. Ours, after a structure function with
/// exponent 2/3 (E. Lindborg 1999); own error 0.5 m/s for a pibal, 1 m/s otherwise, 2.5 m/s for a forecast. A source
/// that lies ahead of the time asked for is as far from it as one behind: the sign of `age` does not count. A row that
/// states a larger error of its own has it in the place of the kind's, on top of the same growth with age and without
/// the upper bound: LadderRow::spread.
/// Laws      grows with the age; never above 3.5 m/s; never below the own error.
Speed expected_spread(SourceKind kind, Duration age);

/// What choosing heights can do: the turn between the left-most and the right-most course made good over the known
/// heights.
struct Steerage {
  TrueBearing left, right;         // courses over the ground
  AltitudeAmsl left_at, right_at;  // where they are first met, from below
  Angle turn;                      // from left to right, clockwise, 0 to 360
};
/// Over the known winds of at least 1 kt from `low` to `high`, sampled every 10 m from `low` (from the ground, if that
/// is higher) and at `high`. Left and right bound the smallest arc that holds every course sampled. None where no such
/// wind is known.
/// Laws      every course sampled lies from left to right; turning every wind turns left and right and keeps `turn`.
std::optional<Steerage> steerage(const WindProfile& profile, AltitudeAmsl low, AltitudeAmsl high);

}  // namespace pappus::wind

namespace pappus {
template <>
struct Names<wind::Precedence> {
  static constexpr std::array<std::pair<wind::Precedence, std::string_view>, 4> all{
      {{wind::Precedence::seen, "seen"},
       {wind::Precedence::time, "time"},
       {wind::Precedence::error, "error"},
       {wind::Precedence::fixed, "fixed"}}};
};
}  // namespace pappus
