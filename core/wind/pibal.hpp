/// Winds from a pilot balloon followed with one instrument: how fast it rises, and what timed sights of it say.
///
/// Nothing measures the height: it is the rise rate times the time. So an error of the rise rate scales every wind and
/// every height, rising or sinking air spoils both, and a sight near the horizon says little about the distance. The
/// answer therefore carries an error with every layer, and names what looks wrong.
///
///     const auto rise = pibal::rise_rate({.diameter = 12.0 * pibal::inch, .mass = 3.0 * pibal::gram});
///     const auto flown = pibal::reduce({.calls = calls, .rise = *rise, .variation = variation});
///     const Ladder ladder = pibal::ladder(*flown.value, field_elevation, {SourceKind::pibal, "pibal", released_at});
#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/wind/observation.hpp"

namespace pappus::wind::pibal {

// What balloons of this size are sold and weighed in.
inline constexpr Length inch = foot / 12.0;  // exact
inline constexpr Mass gram = 0.001 * kilogram;
inline constexpr Mass ounce = pound / 16.0;  // exact, avoirdupois

// ---- How fast it rises ----

/// What a rise rate rests on.
enum class RiseBasis { stated, size_and_mass, nothing_known };

struct RiseRate {
  Speed rate;
  double relative_sigma = 0.0;  // one standard deviation, as a share of the rate; the same through the whole ascent
  RiseBasis basis = RiseBasis::nothing_known;
  bool extrapolated = false;  // from a size or mass outside the handbook's table
};

/// The air for which the handbook's table holds: standard, at sea level.
inline constexpr Density kTableDensity = 1.225 * kilogram_per_cubic_metre;

/// The coefficient of the handbook's toy balloons in classic_rise_rate(), and the net lift of the helium in them by its
/// volume, taken for a sphere: fitted to the table of FAA-H-8083-11A appendix D, which they give back within 1 ft/min.
inline constexpr Speed kToyBalloonCoefficient = 222.1 * foot_per_minute;
inline constexpr Density kHeliumLift = 1.0345 * kilogram_per_cubic_metre;

/// A toy balloon filled with helium. The diameter is that of the sphere it is taken for.
struct Balloon {
  Length diameter;
  Mass mass;                        // of the empty balloon
  Density outside = kTableDensity;  // the air it rises in; its lift falls with it
};

/// v = k (l^3 / L^2)^0.208, free lift l and total lift L = l + mass counted in grams. k is a speed, and its unit
/// matters: 72 m/min for the 30 g weather balloon; the 276 and 279 found beside it are ft/min.
/// Domain    free lift and mass positive; otherwise Errc::out_of_range.
/// Accuracy  the tolerance in every row of tests/data/pibal_free_lift.csv.
/// Laws      linear in k; grows with the free lift, falls with the mass.
/// Source    the weather service's form, from memory.
Result<Speed> classic_rise_rate(Speed k, Mass free_lift, Mass balloon);

/// Of a toy balloon that was blown up to `diameter` in the air `outside`.
///
/// The lift of its volume falls with the density. The speed at which a given lift balances the drag of a balloon of a
/// given mass of gas grows with (1.225 kg/m3 / density)^(1/6), as the drag is that of a sphere: at_density().
/// Domain    diameter 15 to 75 cm, mass 0.5 to 100 g, density 0.6 to 1.5 kg/m3; outside it, and for a balloon too heavy
///           to rise, Errc::out_of_range. The table covers 9 to 18 in and 2.5 to 7.77 g: outside that the answer is
///           marked extrapolated.
/// Accuracy  within 1 ft/min of every row of the handbook that we have seen (tests/data/pibal_rise.csv). One standard
///           deviation of a real one is taken as 10 % (vertical air motion of 0.1 m/s and a diameter read to 3 %; ours),
///           15 % where extrapolated.
/// Laws      at the table's density, the table; the rate grows with the diameter and falls with the mass.
/// Source    FAA-H-8083-11B appendix D; same rows in FAA-H-8083-11A.
Result<RiseRate> rise_rate(const Balloon& balloon);

/// What the rise rate of a balloon of constant mass becomes in other air: (1.225 kg/m3 / density)^(1/6), 1.6 % more for
/// every 1000 m. Domain: density positive.
Speed at_density(Speed at_table_density, Density outside);

/// A rate that was measured, or stated by whoever fills the balloons.
RiseRate stated_rise_rate(Speed rate, double relative_sigma = 0.10);
/// If nothing is known: 300 ft/min (FAA-H-8083-11B ch. 3), 15 % either way.
RiseRate default_rise_rate();

/// The mass of one of `count` balloons weighed together: one alone is too light for most scales. Domain: count > 0.
Mass mean_mass(Mass together, int count);

/// The height above the place of release. Laws: linear in both.
HeightAgl height_after(Duration since_release, Speed rate);

// ---- What the sights say ----

/// Toward the balloon, from where it was released.
using Azimuth = std::variant<TrueBearing, MagneticBearing>;

/// One call. Either angle may be missing: a call lost is a gap, not a fault.
struct Call {
  Duration since_release;
  std::optional<Azimuth> azimuth;
  std::optional<Angle> elevation;
};

/// One standard deviation of what a person reads, each call by itself (ours: hand compass, clinometer, a spoken call).
struct Errors {
  Angle compass = 5.0 * degree;
  Angle clinometer = 2.0 * degree;
  Duration call = 2.0 * second;
};

/// What may speak against a layer, a call, or the whole ascent.
enum class FlagKind {
  // the handbook's bad signs (FAA-H-8083-11B ch. 6)
  rolls,               // along the ground
  fails_to_clear,      // what stands downwind
  climbs_then_dives,   // or is caught by a wind three times that below: one instrument cannot tell the two apart
  jumps_in_speed,      // from one layer to the next
  jumps_in_direction,  // likewise
  // of the readings
  call_lost,              // one angle or both missing: the layer reaches across it
  call_doubtful,          // does not fit the calls before and after it; left out
  low_elevation,          // the distance is hardly known; left out
  near_overhead,          // the direction says little; the distance is short, and the place still good
  rise_rate_not_known,    // the default was used
  rise_rate_extrapolated  // the balloon is outside the handbook's table
};

/// Where a sign begins. All ours: the handbook names the signs and gives no numbers.
struct Thresholds {
  Angle low_elevation = 15.0 * degree;  // physics: the distance error grows with 1 / sin^2
  Angle near_overhead = 85.0 * degree;  //
  Angle rolling = 5.0 * degree;         // of the first call: it drifted eleven times as far as it rose
  Speed speed_jump = 4.0 * metre_per_second;
  Angle direction_jump = 45.0 * degree;
  Speed direction_matters = 2.0 * metre_per_second;  // of both winds, for their directions to be compared
  double significant = 2.0;                          // standard deviations, for a jump or a dive
  double doubtful = 3.0;                             // standard deviations, for a call to be left out
  double shear_per_s = 0.02;  // one standard deviation of the wind's change by height, of one component
};

struct Ascent {
  std::vector<Call> calls;  // in any order; one written after a later one is told, as its time may be misheard
  RiseRate rise;
  std::optional<Variation> variation = std::nullopt;  // needed for magnetic azimuths
  Errors errors = {};
  std::optional<Angle> obstacles = std::nullopt;  // elevation of what stands downwind, as seen from the release
  std::vector<FlagKind> seen = {};                // bad signs that the pilot saw and no angle shows
  Thresholds thresholds = {};
};

struct Flag {
  FlagKind kind = FlagKind::rolls;
  std::optional<Duration> at;  // of the call, since the release; none for the whole ascent
  Sentence sentence;
};

/// Where the balloon stood at a call that served. The first is the release: known exactly.
struct Fix {
  Duration since_release;
  HeightAgl height;
  Length east, north;
  // Covariance of the place, from elevation, azimuth and timing. The rise rate's share is common to all and left out.
  Area east_east, east_north, north_north;
};

/// The mean wind between two calls that served.
struct Layer {
  HeightAgl bottom, top;
  Wind wind;
  Speed spread;                 // one standard deviation of the vector: sqrt(sigma_east^2 + sigma_north^2)
  std::vector<FlagKind> flags;  // each at most once, in the order of FlagKind
};

struct Reduction {
  RiseRate rise;
  std::vector<Fix> fixes;     // rising
  std::vector<Layer> layers;  // rising, each from one fix to the next
  std::vector<Flag> flags;    // by kind, then time
};

/// Layer winds from the calls: distance = height / tan(elevation), wind = difference of two places / time between.
///
/// The observer stands where the balloon was released, on level ground; heights count from there.
///
/// A call is left out as doubtful when it misses the straight way between its neighbours by more than errors and a usual
/// change of wind explain, and the ways of the two fixes before it and of the two after it both miss it on the same
/// side: where the wind changes, those two lead to it. The worst goes first, then all are judged again. The last call
/// has no neighbour after it: a wrong one there shows as a jump. The first cannot be told from a shear at the ground. How
/// many are found is in docs/pibal-coverage.md; an
/// error of timing is seldom among them, as it moves the place little (below).
///
/// The spread of a layer holds the errors of elevation, azimuth and time of its two calls, and that of the rise rate:
/// the wind's own scale, and the wind's change over the height that is misjudged by it. An error of timing does nothing
/// in a wind that is the same at all heights, as the angles then stand still.
///
/// Domain    calls after the release, elevations below 90 degrees: others are told and left out, as are two calls of
///           one time; calls not written in the order of their times are told and taken in it. A rise rate and errors that are no positive numbers, and a magnetic azimuth without variation:
///           no value, and an issue. Without a usable call there are no layers, and an issue.
/// Accuracy  with exact readings, the layer's mean wind; measured with rough ones in docs/pibal-coverage.md.
/// Laws      turning every azimuth turns every wind and keeps the rest. Scaling the rise rate scales winds, spreads and
///           heights alike, and finds the same calls doubtful. The order of the calls changes no wind. The
///           steps between fixes add up to the last fix.
/// Source    single-theodolite reduction as in every handbook of upper-air observation; error terms derived here.
Parsed<Reduction> reduce(const Ascent& ascent);

/// How layers become rows of a ladder.
struct LadderRule {
  // Neighbouring layers are joined until their common wind is known this well or they are as thick as may be: two sights
  // 30 s apart tell little of the wind between them when the balloon is far away. Ours.
  Speed well_known = 1.5 * metre_per_second;
  Length thickest = 150.0 * metre;
  Speed worst = 3.5 * metre_per_second;  // a wind known less well is left out: it counts as not known
};

/// Rows at the middle of each layer, with the layer's spread. A layer thicker than `thickest` (calls lost) still gives
/// one row, at its middle.
/// Laws      rows rise strictly; where every layer is well known, one row a layer with the layer's own wind.
Ladder ladder(const Reduction& reduction, AltitudeAmsl ground, Source source, LadderRule rule = {});

}  // namespace pappus::wind::pibal

namespace pappus {
template <>
struct Names<wind::pibal::RiseBasis> {
  static constexpr std::array<std::pair<wind::pibal::RiseBasis, std::string_view>, 3> all{
      {{wind::pibal::RiseBasis::stated, "stated"},
       {wind::pibal::RiseBasis::size_and_mass, "size_and_mass"},
       {wind::pibal::RiseBasis::nothing_known, "nothing_known"}}};
};
template <>
struct Names<wind::pibal::FlagKind> {
  static constexpr std::array<std::pair<wind::pibal::FlagKind, std::string_view>, 11> all{
      {{wind::pibal::FlagKind::rolls, "rolls"},
       {wind::pibal::FlagKind::fails_to_clear, "fails_to_clear"},
       {wind::pibal::FlagKind::climbs_then_dives, "climbs_then_dives"},
       {wind::pibal::FlagKind::jumps_in_speed, "jumps_in_speed"},
       {wind::pibal::FlagKind::jumps_in_direction, "jumps_in_direction"},
       {wind::pibal::FlagKind::call_lost, "call_lost"},
       {wind::pibal::FlagKind::call_doubtful, "call_doubtful"},
       {wind::pibal::FlagKind::low_elevation, "low_elevation"},
       {wind::pibal::FlagKind::near_overhead, "near_overhead"},
       {wind::pibal::FlagKind::rise_rate_not_known, "rise_rate_not_known"},
       {wind::pibal::FlagKind::rise_rate_extrapolated, "rise_rate_extrapolated"}}};
};
}  // namespace pappus
