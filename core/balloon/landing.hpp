/// The landing card's arithmetic: room, wind, sun, time and the sink to expect.
///
/// Most people who are hurt in balloons are hurt in landing, so it is planned before lift-off. What the handbook prints
/// is the handbook's; what is marked 'ours' is this project's choice, and what is marked advisory must never be read as
/// a promise of room: no published law was found for it. What each was held against, hits and misses, stands in
/// tests/data/landing.csv, drag_reports.csv, false_lift.csv and shear_loss.csv.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/balloon/burn.hpp"
#include "core/base/angle.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"

namespace pappus::balloon {

// --- Distances -------------------------------------------------------------------------------------------------------

/// What the wind carries a balloon in a time. The handbook's reaction: 10 s, that is 73 ft at 5 mph and 220 ft at 15.
[[nodiscard]] constexpr Length travelled(Speed wind, Duration time) { return wind * time; }

/// Distance along the straight line to a thing that lies `horizontal` away and `vertical` below.
/// Laws      never less than either leg; the order of the legs does not matter.
[[nodiscard]] Length slant_distance(Length horizontal, Length vertical);
/// How high one must be above a thing that lies `horizontal` away to be `slant` from it; zero where it is far enough.
/// Laws      slant_distance(horizontal, height) == slant wherever the height is above zero.
[[nodiscard]] Length height_for_slant(Length horizontal, Length slant);

/// How far upwind of an obstacle to lift off: 100 ft for each knot. Source: FAA-H-8083-11B ch. 6.
[[nodiscard]] constexpr Length launch_distance(Speed wind) { return wind.in(knot)*100.0 * foot; }
/// The same as an FAA safety leaflet would rather have it: it prints 1,500 ft at 10 kt. That the figure grows with the
/// wind as the other does is ours.
[[nodiscard]] constexpr Length launch_distance_preferred(Speed wind) { return wind.in(knot)*150.0 * foot; }
/// What a lift-off covers in its first minute by the rule of AC 91-71: 100 ft for each mile per hour. The wind itself
/// goes 88 ft, so the rule has 14 % in hand.
[[nodiscard]] constexpr Length first_minute_distance(Speed wind) { return wind.in(mile_per_hour)*100.0 * foot; }
/// What must be climbed before an obstacle is reached: its height, and 200 ft unless said otherwise (AC 91-71).
[[nodiscard]] constexpr Length obstacle_sum(Length obstacle, Length clearance = 200.0 * foot) {
  return obstacle + clearance;
}

/// How far downwind of an obstacle the air is still rough: ten times its height, printed for 8 to 10 kt
/// (FAA-H-8083-11B ch. 4). In less wind the same length is given, on the safe side (ours).
/// Domain    obstacle 0 to 1000 m ("landing.obstacle_outside"), wind 0 to 10 kt ("landing.wake_wind_outside"): nothing
///           is printed above, and the wake does not get shorter there. Outside it Errc::out_of_range.
Result<Length> wake_length(Length obstacle, Speed wind);

/// A thing that stands up, as seen from above: how far away, and where its top is.
struct Obstacle {
  Length distance;  // horizontal
  AltitudeAmsl top;
};
/// A minimum height over a congested area. The defaults are 14 CFR 91.119(b).
struct CongestedRule {
  Length radius = 2000.0 * foot;
  Length above = 1000.0 * foot;
};
/// The lowest altitude over a congested area: `above` the highest obstacle within `radius`, one at the very edge
/// counted. None where no obstacle stands within it; there the rule's other minimum holds.
/// Laws      one more obstacle never lowers it.
[[nodiscard]] std::optional<AltitudeAmsl> congested_minimum(const std::vector<Obstacle>& obstacles,
                                                            const CongestedRule& rule = {});

// --- Descent and run -------------------------------------------------------------------------------------------------

/// Levelling off: no faster than as many feet per minute as there are feet to go. Source: FAA-H-8083-11B ch. 7.
/// Domain    at or above the target; below it the answer is negative: a climb.
[[nodiscard]] constexpr Speed flare_limit(Length above_target) { return above_target / minute; }

/// How fast to come down, by height above the landing: at most `high` from 500 ft (and above, ours), `middle` from
/// 400 ft, and near the ground between `last_slow` and `last_fast`. That "near the ground" is below 300 ft is ours.
/// Source    FAA-H-8083-11B: 500 ft/min from 500 ft, 400 from 400 ft, 300 to 200 near the ground.
struct DescentSchedule {
  Speed high = 500.0 * foot_per_minute;
  HeightAgl middle_from = agl(400.0 * foot);
  Speed middle = 400.0 * foot_per_minute;
  HeightAgl last_from = agl(300.0 * foot);
  Speed last_fast = 300.0 * foot_per_minute;
  Speed last_slow = 200.0 * foot_per_minute;
};

/// What is not known exactly has two ends.
struct LengthRange {
  Length low, high;
};
struct DurationRange {
  Duration low, high;
};

/// The time from `from` to the ground: at `last_fast` near it, and at `last_slow`.
/// Domain    0 to 6000 m ("landing.descent_height_outside"); every rate of the schedule 10 to 2000 ft/min,
///           last_slow no faster than last_fast, last_from no higher than middle_from ("landing.schedule_outside",
///           Errc::bad_input).
/// Laws      rises with the height; the low end is no more than the high end; with one rate it is height over rate.
Result<DurationRange> descent_time(HeightAgl from, const DescentSchedule& schedule = {});

/// The drag of a basket over the ground. Ours, advisory: two isolated reports are all there is to hold it against.
struct DragSettings {
  Duration deflation_short = 4.0 * second, deflation_long = 10.0 * second;
  double friction_low = 0.3, friction_high = 0.6;
};
/// W t / 2 + W^2 / (2 mu g): the wind for half the time of deflation, and then a slide. Skips after the first touch are
/// not in it.
/// Domain    wind 0 to 30 m/s ("landing.wind_outside"); times 0 to 600 s and friction 0.01 to 2, each pair rising
///           ("landing.drag_settings_outside", Errc::bad_input).
/// Laws      rises with the wind; nothing in still air; twice the wind takes two to four times as much; low <= high.
Result<LengthRange> drag_distance(Speed wind, const DragSettings& settings = {});

/// How much room a landing takes, counted from over an obstacle at the near edge of the field.
struct RunInputs {
  Speed wind;                          // at the ground
  std::optional<Speed> approach_wind;  // mean from the obstacle's top down; the wind at the ground where absent
  Length obstacle;                     // its height; 0 for an open edge
  Length clearance = 200.0 * foot;     // above it. AC 91-71, for lift-off; taken for landing too (ours)
  Duration reaction = 10.0 * second;   // FAA-H-8083-11B ch. 8
  DescentSchedule schedule = {};
  DragSettings drag = {};
};
struct RunNeeded {
  DurationRange descent;
  LengthRange approach;  // covered while coming down from over the obstacle
  Length reaction;
  LengthRange drag;   // advisory
  LengthRange total;  // advisory, as the drag is
};
/// Domain    winds 0 to 30 m/s ("landing.wind_outside"), obstacle and clearance 0 to 1000 m each, together too
///           ("landing.obstacle_outside"), reaction 0 to 600 s ("landing.reaction_outside"); and of its parts.
/// Laws      the total is the sum of the parts; more wind, more obstacle, more clearance never need less; nothing in
///           still air.
Result<RunNeeded> run_needed(const RunInputs& inputs);
/// The run in words, with its parts, and that it is advisory.
[[nodiscard]] Sentence run_words(const RunNeeded& run, Speed wind);

// --- The surface wind at landing -------------------------------------------------------------------------------------

/// Between these heights blows what can come down once the inversion breaks (ours).
inline constexpr HeightAgl kStirredFrom = agl(150.0 * metre);
inline constexpr HeightAgl kStirredTo = agl(300.0 * metre);
/// How the sun stirs the air, as time after sunrise (ours; FAA-H-8083-11B has winds shift 15 to 30 minutes after
/// sunrise, ch. 6, and a launch window of two hours, ch. 3). Until `first` nothing comes down; from `likely_from` to
/// `likely_all` the best guess goes from the wind at the ground to what is left of the wind above; from `first` to
/// `worst_all` the worst case goes to all of the wind above.
struct StirSettings {
  Duration first = 15.0 * minute, worst_all = 60.0 * minute;
  Duration likely_from = 30.0 * minute, likely_all = 120.0 * minute;
  /// What reaches 10 m of the wind at 200 m in well mixed air: ln(10 / 0.03) / ln(200 / 0.03), the logarithmic profile
  /// over open fields (roughness 0.03 m).
  double share_likely = 0.66;
};

struct SurfaceWindInputs {
  struct Seen {
    Speed wind;
    std::optional<Speed> gust;
    Instant time;
    Speed spread;  // what it may have changed by landing, one standard deviation: wind::expected_spread
  };
  struct Forecast {
    Speed wind;  // the strongest mean wind between now and the landing
    std::optional<Speed> gust;
  };
  std::optional<Seen> newest;  // the newest wind at the ground
  Instant landing;
  std::optional<Instant> sunrise;  // of the day of the landing
  std::optional<Speed> aloft;      // the strongest wind from kStirredFrom to kStirredTo
  std::optional<Forecast> forecast;
  StirSettings stir = {};
};
enum class WindCause { seen, aloft, forecast };
struct SurfaceWindExpected {
  struct Range {
    Speed low, best, high;
  };
  std::optional<Range> wind;       // none: not known
  std::optional<WindCause> cause;  // what sets `high`
  Sentence reason;                 // why that wind, or why it is not known
};
/// The wind at the ground at landing (ours, simple).
/// - low: the newest wind less its spread, not below zero;
/// - best: the newest wind; between `likely_from` and `likely_all` it goes over to share_likely of the wind above,
///   if that is stronger. What had come down already when the wind was seen is in it and is not counted twice;
/// - high: the newest wind or its gust, whichever is more, and the spread; between `first` and `worst_all` it goes over
///   to all of the wind above, if that is stronger. It does not come back in the evening: calm is not counted on;
/// - a forecast raises best to its wind and high to its gust, and lowers nothing.
/// Not known without a newest wind or a sunrise, and without a wind above where the landing comes later than `first`
/// after sunrise: a forecast for somewhere else does not stand in for what blows over this field.
/// Domain    speeds 0 to 60 m/s ("landing.wind_outside"); times of `stir` rising in each pair, `first` no later than
///           likely_from, worst_all no later than likely_all, share 0 to 1 ("landing.stir_settings_outside",
///           Errc::bad_input).
/// Laws      low <= best <= high; more wind above, more forecast, or (the spread held) a later landing never gives
///           less.
Result<SurfaceWindExpected> surface_wind_at_landing(const SurfaceWindInputs& inputs);

// --- The low sun -----------------------------------------------------------------------------------------------------

/// Wires and rising ground cannot be seen against a low sun (bounds ours).
inline constexpr Angle kSunAhead = 30.0 * degree;
inline constexpr Angle kSunLow = 15.0 * degree;
/// The upper limb stands on a level horizon: the sun's radius below it.
inline constexpr Angle kSunGone = -0.27 * degree;

enum class SunAhead { clear, into_sun, down, not_known };
struct LowSun {
  SunAhead state = SunAhead::not_known;
  std::optional<Angle> off_course;  // from the drift to the sun, clockwise positive
  Sentence finding;
};
/// The drift against the sun at landing: into the sun when it stands within kSunAhead of the direction of drift, the
/// edge counted, below kSunLow and not yet gone. `elevation` is the apparent one. Not known without a drift, as in calm
/// air, or without the sun's place.
/// Laws      turning drift and sun together changes nothing but rounding.
struct LowSunInputs {
  std::optional<TrueBearing> drift;  // the direction moved toward
  std::optional<TrueBearing> sun;
  std::optional<Angle> elevation;
};
[[nodiscard]] LowSun low_sun(const LowSunInputs& inputs);

// --- The basket ------------------------------------------------------------------------------------------------------

/// Which side of the basket should meet the ground first, and which way that side must face: along the drift.
/// Told apart: with a turning vent (either hand will do: a balloon turns all the way round), without one noted, with no
/// drift known, and with no leading side noted.
struct BasketInputs {
  std::string leads;                 // Basket::leads; empty: not noted
  std::optional<TrueBearing> drift;  // at the ground, the direction moved toward
  std::vector<Vent> vents;           // Envelope::vents
};
[[nodiscard]] Sentence basket_words(const BasketInputs& inputs);

// --- False lift ------------------------------------------------------------------------------------------------------

/// What passing through a change of wind does to lift. While the balloon and the air about it move apart, the flow over
/// the crown lifts; as the balloon takes up the new wind this fades, and it is heavy by as much.
struct FalseLift {
  Speed change;
  Mass low, best, high;                  // lift while it lasts, with a coefficient of 0.15, 0.3 and 11/16
  Speed sink_low, sink_best, sink_high;  // the steady sink when it is gone and nothing was burnt meanwhile
  Duration mostly_gone;                  // by then a quarter of it is left
  bool expect = false;                   // the change is above kFalseLiftMatters
};
/// Below about 10 mph an FAA safety leaflet sees no trouble.
inline constexpr Speed kFalseLiftMatters = 10.0 * mile_per_hour;

/// Lift rho dW^2 A C / (2 g) on A = 1.336 V^(2/3), the natural shape's section. The sink is that at which drag with a
/// coefficient of 0.8 carries that weight: dW sqrt(C / 0.8). The lift fades as 1 / (1 + t / t_h)^2 with
/// t_h = 2 M / (rho 0.5 A dW); the mass moved, M, is the balloon with its air and half as much air again about it: in
/// balance 1.5 rho V.
/// Domain    change 0 to 40 m/s ("landing.change_outside"), density 0.3 to 1.6 kg/m3 ("landing.density_outside"),
///           volume 100 to 50,000 m3 ("landing.volume_outside"); outside it Errc::out_of_range.
/// Accuracy  a factor of two: see low and high. 11/16 is the bound for a hemisphere on a plane (potential flow).
/// Laws      lift goes with the square of the change, the sink with the change; the sink does not depend on volume or
///           air; no change, no lift.
struct FalseLiftInputs {
  Speed change;  // length of the vector difference between the wind above and the wind at the ground
  Density air;
  Volume volume;
};
Result<FalseLift> false_lift(const FalseLiftInputs& inputs);

/// What to expect of a change of wind between the ground and `over`. None given: not known.
[[nodiscard]] Sentence false_lift_words(const std::optional<FalseLift>& lift, HeightAgl over);

// --- Heat lost in a change of wind -----------------------------------------------------------------------------------

/// What the air moving past the envelope takes away in heat while a change of wind is passed, beside the false lift.
struct ShearLoss {
  double ratio_low = 1.0;   // heat lost, of that in level flight: level_flow in a smooth stream
  double ratio_high = 1.0;  // the same after the FAA leaflet, whose boundary layer is swept off
  MassFlow lift_low;        // lift lost in a time, beside what level flight must burn back
  MassFlow lift_high;
  bool above_print = false;  // the change is above what the leaflet prints for: ratio_high may be too small
};
/// The leaflet's one figure, 1.73 at 7.5 mph. Straight from 1 in still air up to it, and held above it (ours).
inline constexpr Speed kShearPrinted = 7.5 * mile_per_hour;
inline constexpr double kShearRatioPrinted = 1.73;

/// Of an envelope that holds height as `level` says, while air moves past it at `change`: at most the whole change, on
/// the way in. An open envelope that lacks the heat rate dQ loses lift at dQ / (c_p T_outside), whatever its size.
/// Domain    change 0 to 20 m/s ("landing.shear_outside"); errors of level_flow are handed on.
/// Accuracy  the two ratios disagree by more than half; the truth is taken to lie between them.
/// Laws      1 <= ratio_low <= ratio_high; no change, no loss; more change never costs less.
/// Source    heat balance of level_flow; FAA safety leaflet; first law for an open envelope at constant pressure.
Result<ShearLoss> shear_loss(const LevelFlowInputs& level, Speed change);

/// None given: not known.
[[nodiscard]] Sentence shear_words(const std::optional<ShearLoss>& loss);

// --- The fuel to land with -------------------------------------------------------------------------------------------

/// An approach, from the height of a look round to the ground or away from it again (ours).
inline constexpr Duration kEachTry = 5.0 * minute;
/// Fuel, and time, for a couple more tries after the first: FAA-H-8083-11B ch. 8.
inline constexpr int kMoreTries = 2;

struct LandingFuelInputs {
  MassFlow flow;             // level, on the unlucky side: FlightFuel::flow_unlucky
  std::optional<Mass> left;  // at landing on the weakest side: the least SideReserve::left. None: not known
  Duration each_try = kEachTry;
  int more_tries = kMoreTries;
  double allowance_fraction = 0.15;  // of level, for stopping the descent and climbing away. As for the flight
};
struct LandingFuel {
  Mass one_try, needed;           // needed: for all of more_tries
  std::optional<int> tries_left;  // whole tries that `left` is good for
  Sentence finding;
};
/// The fuel that should be left when the balloon touches down: what the tries it may yet need would burn. A climb of
/// 500 ft away from a field asks about 0.1 kg of a 77,000 ft3 envelope beyond level flight: within the allowance.
/// Domain    flow 0.0001 to 1 kg/s, left 0 to 10,000 kg, each_try 1 s to 1 h, more_tries 0 to 10, allowance 0 to 2
///           ("landing.fuel_outside", Errc::bad_input).
/// Laws      needed = more_tries x one_try; tries_left x one_try is no more than is left, one more try would be.
/// Accuracy  that of level_flow. The handbook's own approach (W47) takes 2 US gal, tests/data/landing_fuel.csv.
Result<LandingFuel> landing_fuel(const LandingFuelInputs& inputs);

// --- The latest time -------------------------------------------------------------------------------------------------

enum class LandBy { planned, fuel, sunset, thermals };
/// What bounds the time, as a line of a list: "fuel", "sunset".
[[nodiscard]] Sentence land_by_words(LandBy what);

struct LatestInputs {
  Moment lift_off;
  Duration planned;
  std::optional<Duration> reserve;           // on the weakest side after the planned time; below zero: short
  Duration reserve_minimum = 30.0 * minute;  // what must be left of it
  std::optional<Instant> sunrise, noon, sunset;
  bool sun_stays_up = false;         // then there is no sunset to land by
  Duration window = 120.0 * minute;  // after sunrise. FAA-H-8083-11B ch. 3
  Duration descent;                  // from the height flown to the approaches: descent_time, its high end
  Duration each_try = kEachTry;
  int tries = 1 + kMoreTries;
};
struct LandByTime {
  LandBy what;
  Moment time;
};
struct LatestLanding {
  std::vector<LandByTime> bounds;  // rising; the first one binds
  std::vector<LandBy> not_known;   // each could come earlier than all of them
  Moment land_by, decide_by;       // decide_by: earlier by the descent and all the tries
  Sentence finding;
};
/// When to be down, and when at the latest to begin: the earliest of what is planned, what the fuel allows, sunset, and
/// the end of the calm hours (that one for lift-offs before solar noon only).
/// The fuel allows the planned time and what the weakest side has above the minimum, as if all were drawn from it: on
/// the safe side where there are others.
/// Domain    planned, window, minimum and descent 0 to 24 h, each_try 0 to 1 h, tries 1 to 10, reserve -24 to 24 h;
///           outside it Errc::bad_input ("landing.latest_outside").
/// Laws      land_by is no later than any bound; decide_by = land_by - descent - tries x each_try.
Result<LatestLanding> latest_landing(const LatestInputs& inputs);

}  // namespace pappus::balloon
