#include "core/balloon/landing.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <utility>

#include "core/base/math.hpp"
#include "core/base/refusal.hpp"

// Notation: W wind m/s, h height m, mu friction, g gravity m/s2, A the envelope's section m2, V its volume m3, C lift
// coefficient on A, rho density kg/m3.

namespace pappus::balloon {
namespace {

constexpr double kGravity = 9.80665;  // m/s2, exact by convention
constexpr Length kHighestObstacle = 1000.0 * metre;
constexpr Length kHighestDescent = 6000.0 * metre;
constexpr Speed kStrongestLandingWind = 30.0 * metre_per_second;
constexpr Speed kStrongestWind = 60.0 * metre_per_second;

Result<void> wind_within(Speed wind, Speed most) {
  return within({"landing.wind_outside", measure::wind(wind), measure::wind(Speed{}), measure::wind(most)});
}

Result<void> obstacle_within(Length height) {
  return within({"landing.obstacle_outside", measure::height(height), measure::height(Length{}),
                 measure::height(kHighestObstacle)});
}

struct Ranged {
  Measure value, low, high;
};

/// The first setting that lies outside its range, or outside what the setting before it leaves.
Result<void> settings_within(const char* key, std::initializer_list<Ranged> settings) {
  for (const Ranged& s : settings)
    if (!(s.value.si >= s.low.si && s.value.si <= s.high.si))
      return refuse_outside(key, s.value, s.low, s.high, Errc::bad_input);
  return {};
}

/// From 0 at `from` to 1 at `to`, straight. Domain: from <= to; where they are one it is a step.
double risen(Duration t, Duration from, Duration to) {
  if (!(t > from)) return 0.0;
  return t >= to ? 1.0 : (t - from) / (to - from);
}

}  // namespace

Length slant_distance(Length horizontal, Length vertical) {
  return math::hypot(horizontal.in(metre), vertical.in(metre)) * metre;
}

Length height_for_slant(Length horizontal, Length slant) {
  const double x = horizontal.in(metre), s = slant.in(metre);
  return s > std::abs(x) ? math::sqrt((s - x) * (s + x)) * metre : Length{};
}

Result<Length> wake_length(Length obstacle, Speed wind) {
  if (auto ok = obstacle_within(obstacle); !ok) return tl::unexpected{ok.error()};
  if (auto ok = within(
          {"landing.wake_wind_outside", measure::wind(wind), measure::wind(Speed{}), measure::wind(10.0 * knot)});
      !ok)
    return tl::unexpected{ok.error()};
  return 10.0 * obstacle;
}

std::optional<AltitudeAmsl> congested_minimum(const std::vector<Obstacle>& obstacles, const CongestedRule& rule) {
  std::optional<AltitudeAmsl> highest;
  for (const Obstacle& o : obstacles)
    if (o.distance <= rule.radius && (!highest || o.top > *highest)) highest = o.top;
  if (!highest) return std::nullopt;
  return *highest + rule.above;
}

Result<DurationRange> descent_time(HeightAgl from, const DescentSchedule& s) {
  if (auto ok = within({"landing.descent_height_outside", measure::of(from), measure::of(HeightAgl{}),
                        measure::of(agl(kHighestDescent))});
      !ok)
    return tl::unexpected{ok.error()};
  const Measure slowest = measure::vertical(10.0 * foot_per_minute),
                fastest = measure::vertical(2000.0 * foot_per_minute);
  if (auto ok =
          settings_within("landing.schedule_outside",
                          {{measure::vertical(s.high), slowest, fastest},
                           {measure::vertical(s.middle), slowest, fastest},
                           {measure::vertical(s.last_fast), slowest, fastest},
                           {measure::vertical(s.last_slow), slowest, measure::vertical(s.last_fast)},
                           {measure::of(s.middle_from), measure::of(HeightAgl{}), measure::of(agl(kHighestObstacle))},
                           {measure::of(s.last_from), measure::of(HeightAgl{}), measure::of(s.middle_from)}});
      !ok)
    return tl::unexpected{ok.error()};
  const Length top = from.from_origin();
  const Length last = std::min(top, s.last_from.from_origin());
  const Length middle = std::min(top, s.middle_from.from_origin()) - last;
  const Length high = top - last - middle;
  const Duration above = high / s.high + middle / s.middle;
  return DurationRange{above + last / s.last_fast, above + last / s.last_slow};
}

Result<LengthRange> drag_distance(Speed wind, const DragSettings& s) {
  if (auto ok = wind_within(wind, kStrongestLandingWind); !ok) return tl::unexpected{ok.error()};
  const Measure long_time = measure::of(600.0 * second);
  if (auto ok =
          settings_within("landing.drag_settings_outside",
                          {{measure::of(s.deflation_short), measure::of(Duration{}), long_time},
                           {measure::of(s.deflation_long), measure::of(s.deflation_short), long_time},
                           {measure::number(s.friction_low), measure::number(0.01), measure::number(2.0)},
                           {measure::number(s.friction_high), measure::number(s.friction_low), measure::number(2.0)}});
      !ok)
    return tl::unexpected{ok.error()};
  const double w = wind.in(metre_per_second);
  const auto slide = [&](double friction) { return w * w / (2.0 * friction * kGravity) * metre; };
  return LengthRange{0.5 * (wind * s.deflation_short) + slide(s.friction_high),
                     0.5 * (wind * s.deflation_long) + slide(s.friction_low)};
}

Result<RunNeeded> run_needed(const RunInputs& in) {
  const Speed approach_wind = in.approach_wind.value_or(in.wind);
  if (auto ok = wind_within(approach_wind, kStrongestLandingWind); !ok) return tl::unexpected{ok.error()};
  for (const Length height : {in.obstacle, in.clearance, obstacle_sum(in.obstacle, in.clearance)})
    if (auto ok = obstacle_within(height); !ok) return tl::unexpected{ok.error()};
  if (auto ok = within(
          {"landing.reaction_outside", measure::of(in.reaction), measure::of(Duration{}), measure::of(600.0 * second)});
      !ok)
    return tl::unexpected{ok.error()};
  const auto descent = descent_time(agl(obstacle_sum(in.obstacle, in.clearance)), in.schedule);
  if (!descent) return tl::unexpected{descent.error()};
  const auto drag = drag_distance(in.wind, in.drag);
  if (!drag) return tl::unexpected{drag.error()};

  RunNeeded run;
  run.descent = *descent;
  run.approach = {travelled(approach_wind, descent->low), travelled(approach_wind, descent->high)};
  run.reaction = travelled(in.wind, in.reaction);
  run.drag = *drag;
  run.total = {run.approach.low + run.reaction + run.drag.low, run.approach.high + run.reaction + run.drag.high};
  return run;
}

Sentence run_words(const RunNeeded& run, Speed wind) {
  return say("landing.run.needs", {{"wind", measure::wind(wind)},
                                   {"low", measure::length(run.total.low)},
                                   {"high", measure::length(run.total.high)},
                                   {"approach", measure::length(run.approach.high)},
                                   {"reaction", measure::length(run.reaction)},
                                   {"drag", measure::length(run.drag.high)}});
}

Result<SurfaceWindExpected> surface_wind_at_landing(const SurfaceWindInputs& in) {
  std::vector<Speed> given;
  if (in.newest) {
    given.insert(given.end(), {in.newest->wind, in.newest->spread});
    if (in.newest->gust) given.push_back(*in.newest->gust);
  }
  if (in.aloft) given.push_back(*in.aloft);
  if (in.forecast) {
    given.push_back(in.forecast->wind);
    if (in.forecast->gust) given.push_back(*in.forecast->gust);
  }
  for (const Speed s : given)
    if (auto ok = wind_within(s, kStrongestWind); !ok) return tl::unexpected{ok.error()};
  const StirSettings& stir = in.stir;
  // These orders keep the worst case ahead of the best guess at every moment.
  const Measure day = measure::of(24.0 * hour);
  if (auto ok =
          settings_within("landing.stir_settings_outside",
                          {{measure::of(stir.first), measure::of(Duration{}), day},
                           {measure::of(stir.worst_all), measure::of(stir.first), day},
                           {measure::of(stir.likely_from), measure::of(stir.first), day},
                           {measure::of(stir.likely_all), measure::of(std::max(stir.likely_from, stir.worst_all)), day},
                           {measure::ratio(stir.share_likely), measure::ratio(0.0), measure::ratio(1.0)}});
      !ok)
    return tl::unexpected{ok.error()};

  SurfaceWindExpected out;
  if (!in.newest) {
    out.reason = say("landing.surface_wind.unknown_newest");
    return out;
  }
  if (!in.sunrise) {
    out.reason = say("landing.surface_wind.unknown_sunrise");
    return out;
  }
  const Duration after = in.landing - *in.sunrise;
  const bool stirred = after > stir.first;
  if (stirred && !in.aloft) {
    out.reason =
        say("landing.surface_wind.unknown_aloft",
            {{"low", measure::of(kStirredFrom)}, {"high", measure::of(kStirredTo)}, {"after", measure::of(after)}});
    return out;
  }

  const Speed wind = in.newest->wind;
  SurfaceWindExpected::Range range;
  range.low = std::max(Speed{}, wind - in.newest->spread);
  range.best = wind;
  range.high = std::max(wind, in.newest->gust.value_or(wind)) + in.newest->spread;
  out.cause = WindCause::seen;
  out.reason =
      stirred ? say("landing.surface_wind.seen", {{"wind", measure::wind(wind)}, {"aloft", measure::wind(*in.aloft)}})
              : say("landing.surface_wind.early", {{"wind", measure::wind(wind)}});
  if (stirred) {
    const double seen_at = risen(in.newest->time - *in.sunrise, stir.likely_from, stir.likely_all);
    const double landing_at = risen(after, stir.likely_from, stir.likely_all);
    const double since = seen_at < 1.0 ? std::max(0.0, (landing_at - seen_at) / (1.0 - seen_at)) : 0.0;
    const Speed mixed = stir.share_likely * *in.aloft;
    if (mixed > wind) range.best += since * (mixed - wind);
    if (*in.aloft > range.high) {
      range.high += risen(after, stir.first, stir.worst_all) * (*in.aloft - range.high);
      out.cause = WindCause::aloft;
      out.reason = say("landing.surface_wind.aloft", {{"wind", measure::wind(wind)},
                                                      {"aloft", measure::wind(*in.aloft)},
                                                      {"low", measure::of(kStirredFrom)},
                                                      {"high", measure::of(kStirredTo)},
                                                      {"after", measure::of(after)}});
    }
  }
  if (in.forecast) {
    range.best = std::max(range.best, in.forecast->wind);
    const Speed strongest = std::max(in.forecast->wind, in.forecast->gust.value_or(in.forecast->wind));
    if (strongest > range.high) {
      range.high = strongest;
      out.cause = WindCause::forecast;
      out.reason =
          say("landing.surface_wind.forecast", {{"wind", measure::wind(wind)}, {"forecast", measure::wind(strongest)}});
    }
  }
  out.wind = range;
  return out;
}

LowSun low_sun(const LowSunInputs& in) {
  const auto answer = [](SunAhead state, std::optional<Angle> off, Sentence finding) {
    return LowSun{state, off, std::move(finding)};
  };
  const bool sun_known = in.sun && in.elevation && std::isfinite(in.elevation->in(degree)) &&
                         std::isfinite(in.sun->from_north().in(degree));
  if (!sun_known) return answer(SunAhead::not_known, {}, say("landing.sun.unknown"));
  if (*in.elevation <= kSunGone) return answer(SunAhead::down, {}, say("landing.sun.down"));
  if (!in.drift || !std::isfinite(in.drift->from_north().in(degree)))
    return answer(SunAhead::not_known, {}, say("landing.sun.no_drift", {{"sun", measure::of(*in.sun)}}));
  const Angle off = *in.sun - *in.drift;
  const bool ahead = off <= kSunAhead && off >= -kSunAhead;
  const bool into = ahead && *in.elevation < kSunLow;
  return answer(into ? SunAhead::into_sun : SunAhead::clear, off,
                say(into ? "landing.sun.into" : "landing.sun.clear", {{"drift", measure::of(*in.drift)},
                                                                      {"sun", measure::of(*in.sun)},
                                                                      {"elevation", measure::of(*in.elevation)}}));
}

Sentence basket_words(const BasketInputs& in) {
  if (in.leads.empty()) return say("landing.basket.unknown");
  if (!in.drift || !std::isfinite(in.drift->from_north().in(degree)))
    return say("landing.basket.no_drift", {{"side", in.leads}});
  const bool turns = std::any_of(in.vents.begin(), in.vents.end(),
                                 [](Vent v) { return v == Vent::turn_left || v == Vent::turn_right; });
  return say(turns ? "landing.basket.turn" : "landing.basket.no_turning_vent",
             {{"side", in.leads}, {"drift", measure::of(*in.drift)}});
}

Result<FalseLift> false_lift(const FalseLiftInputs& in) {
  constexpr double section = 1.336;  // of V^(2/3): a natural shape without fabric weight
  constexpr double lift_low = 0.15, lift_best = 0.3, lift_high = 11.0 / 16.0;
  constexpr double drag_descending = 0.8;
  constexpr double drag_sideways = 0.5;
  if (auto ok = within({"landing.change_outside", measure::wind(in.change), measure::wind(Speed{}),
                        measure::wind(40.0 * metre_per_second)});
      !ok)
    return tl::unexpected{ok.error()};
  if (auto ok = within({"landing.density_outside", measure::of(in.air), measure::of(0.3 * kilogram_per_cubic_metre),
                        measure::of(1.6 * kilogram_per_cubic_metre)});
      !ok)
    return tl::unexpected{ok.error()};
  if (auto ok = within({"landing.volume_outside", measure::gas(in.volume), measure::gas(100.0 * cubic_metre),
                        measure::gas(50'000.0 * cubic_metre)});
      !ok)
    return tl::unexpected{ok.error()};
  const double w = in.change.in(metre_per_second), rho = in.air.in(kilogram_per_cubic_metre);
  const double v = in.volume.in(cubic_metre);
  const double area = section * math::pow(v, 2.0 / 3.0);
  const auto lift = [&](double c) { return 0.5 * rho * w * w * area * c / kGravity * kilogram; };
  const auto sink = [&](double c) { return math::sqrt(c / drag_descending) * in.change; };
  FalseLift out;
  out.change = in.change;
  out.low = lift(lift_low);
  out.best = lift(lift_best);
  out.high = lift(lift_high);
  out.sink_low = sink(lift_low);
  out.sink_best = sink(lift_best);
  out.sink_high = sink(lift_high);
  // Nothing there, nothing to fade: the time is left at zero.
  if (w > 0.0) out.mostly_gone = 2.0 * 1.5 * v / (drag_sideways * area * w) * second;
  out.expect = in.change > kFalseLiftMatters;
  return out;
}

Sentence false_lift_words(const std::optional<FalseLift>& lift, HeightAgl over) {
  if (!lift) return say("landing.false_lift.unknown", {{"height", measure::of(over)}});
  if (!lift->expect)
    return say(
        "landing.false_lift.slight",
        {{"height", measure::of(over)}, {"change", measure::wind(lift->change)}, {"best", measure::of(lift->best)}});
  return say("landing.false_lift.expect", {{"height", measure::of(over)},
                                           {"change", measure::wind(lift->change)},
                                           {"best", measure::of(lift->best)},
                                           {"high", measure::of(lift->high)},
                                           {"sink", measure::vertical(lift->sink_best)},
                                           {"time", measure::of(lift->mostly_gone)}});
}

Result<ShearLoss> shear_loss(const LevelFlowInputs& level, Speed change) {
  constexpr double air_heat_capacity = 1006.0;  // J/(kg K), as in the heat balance
  if (auto ok = within({"landing.shear_outside", measure::wind(change), measure::wind(Speed{}),
                        measure::wind(20.0 * metre_per_second)});
      !ok)
    return tl::unexpected{ok.error()};
  const auto held = level_flow(level);
  if (!held) return tl::unexpected{held.error()};
  LevelFlowInputs swept = level;
  swept.settings.relative_air = std::max(level.settings.relative_air, change);
  const auto more = level_flow(swept);
  if (!more) return tl::unexpected{more.error()};
  ShearLoss out;
  // Free and forced convection are added by their cubes and rise together; the bound is for rounding.
  out.ratio_low = std::max(1.0, more->loss / held->loss);
  const double printed = 1.0 + (kShearRatioPrinted - 1.0) * std::min(1.0, change / kShearPrinted);
  out.ratio_high = std::max(out.ratio_low, printed);
  out.above_print = change > kShearPrinted;
  const double t_a_k = level.outside.temperature.from_origin().in(kelvin);
  const auto lift = [&](double ratio) {
    return (ratio - 1.0) * held->loss.in(watt) / (air_heat_capacity * t_a_k) * kilogram_per_second;
  };
  out.lift_low = lift(out.ratio_low);
  out.lift_high = lift(out.ratio_high);
  return out;
}

Sentence shear_words(const std::optional<ShearLoss>& loss) {
  if (!loss) return say("landing.shear.unknown");
  return say(loss->above_print ? "landing.shear.above_print" : "landing.shear.loss",
             {{"low", measure::ratio(loss->ratio_low - 1.0)},
              {"high", measure::ratio(loss->ratio_high - 1.0)},
              {"lift_low", measure::of(loss->lift_low * minute)},
              {"lift_high", measure::of(loss->lift_high * minute)}});
}

Result<LandingFuel> landing_fuel(const LandingFuelInputs& in) {
  const Measure none = measure::of(Mass{}), most = measure::of(10'000.0 * kilogram);
  if (auto ok = settings_within(
          "landing.fuel_outside",
          {{measure::of(in.flow), measure::of(1.0e-4 * kilogram_per_second), measure::of(1.0 * kilogram_per_second)},
           {measure::of(in.left.value_or(Mass{})), none, most},
           {measure::of(in.each_try), measure::of(second), measure::of(hour)},
           {measure::count(in.more_tries), measure::count(0.0), measure::count(10.0)},
           {measure::ratio(in.allowance_fraction), measure::ratio(0.0), measure::ratio(2.0)}});
      !ok)
    return tl::unexpected{ok.error()};
  LandingFuel out;
  out.one_try = (1.0 + in.allowance_fraction) * (in.flow * in.each_try);
  out.needed = in.more_tries * out.one_try;
  const std::vector<Argument> asked{{"tries", measure::count(in.more_tries)}, {"needed", measure::of(out.needed)}};
  if (!in.left) {
    out.finding = say("landing.fuel.unknown", asked);
    return out;
  }
  // Just enough for a number of tries is enough for it, whatever the last digit of the quotient says.
  out.tries_left = static_cast<int>(std::floor(*in.left / out.one_try * (1.0 + 1.0e-12)));
  std::vector<Argument> known = asked;
  known.push_back({"left", measure::of(*in.left)});
  known.push_back({"tries_left", measure::count(*out.tries_left)});
  out.finding = say(*out.tries_left >= in.more_tries ? "landing.fuel.enough" : "landing.fuel.short", std::move(known));
  return out;
}

namespace {

const char* finding_of(LandBy what, bool complete) {
  switch (what) {
    case LandBy::planned: return complete ? "landing.latest.planned" : "landing.latest.planned_at_best";
    case LandBy::fuel: return complete ? "landing.latest.fuel" : "landing.latest.fuel_at_best";
    case LandBy::sunset: return complete ? "landing.latest.sunset" : "landing.latest.sunset_at_best";
    case LandBy::thermals: return complete ? "landing.latest.thermals" : "landing.latest.thermals_at_best";
  }
  return "";
}

}  // namespace

Sentence land_by_words(LandBy what) {
  switch (what) {
    case LandBy::planned: return say("landing.by.planned");
    case LandBy::fuel: return say("landing.by.fuel");
    case LandBy::sunset: return say("landing.by.sunset");
    case LandBy::thermals: return say("landing.by.thermals");
  }
  return {};
}

Result<LatestLanding> latest_landing(const LatestInputs& in) {
  const Measure none = measure::of(Duration{}), day = measure::of(24.0 * hour);
  if (auto ok = settings_within("landing.latest_outside",
                                {{measure::of(in.planned), none, day},
                                 {measure::of(in.window), none, day},
                                 {measure::of(in.reserve_minimum), none, day},
                                 {measure::of(in.reserve.value_or(Duration{})), measure::of(-24.0 * hour), day},
                                 {measure::of(in.descent), none, day},
                                 {measure::of(in.each_try), none, measure::of(hour)},
                                 {measure::count(in.tries), measure::count(1.0), measure::count(10.0)}});
      !ok)
    return tl::unexpected{ok.error()};
  LatestLanding out;
  const auto bound = [&](LandBy what, Instant t) { out.bounds.push_back({what, {t, in.lift_off.offset}}); };
  const Instant planned_end = in.lift_off.at + in.planned;
  bound(LandBy::planned, planned_end);
  if (in.reserve)
    bound(LandBy::fuel, planned_end + (*in.reserve - in.reserve_minimum));
  else
    out.not_known.push_back(LandBy::fuel);
  if (in.sunset)
    bound(LandBy::sunset, *in.sunset);
  else if (!in.sun_stays_up)
    out.not_known.push_back(LandBy::sunset);
  // After noon the air calms towards sunset, which is a bound already.
  const bool afternoon = in.noon && in.lift_off.at >= *in.noon;
  if (in.noon && in.sunrise && !afternoon)
    bound(LandBy::thermals, *in.sunrise + in.window);
  else if (!afternoon)
    out.not_known.push_back(LandBy::thermals);

  std::stable_sort(out.bounds.begin(), out.bounds.end(),
                   [](const LandByTime& a, const LandByTime& b) { return a.time.at < b.time.at; });
  out.land_by = out.bounds.front().time;
  out.decide_by = {out.land_by.at - (in.descent + in.tries * in.each_try), in.lift_off.offset};
  out.finding = say(finding_of(out.bounds.front().what, out.not_known.empty()),
                    {{"land_by", out.land_by}, {"decide_by", out.decide_by}, {"tries", measure::count(in.tries)}});
  return out;
}

}  // namespace pappus::balloon
