#include "core/sheet/sections/landing.hpp"

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "core/air/humidity.hpp"
#include "core/balloon/landing.hpp"
#include "core/base/math.hpp"
#include "core/sheet/facts.hpp"
#include "core/sheet/limits/limits.hpp"
#include "core/sky/sun.hpp"

namespace pappus::sheet {
namespace {

constexpr HeightAgl kLowLayer = agl(150.0 * metre);  // what carries a balloon on its last approach (ours)
constexpr HeightAgl kBasketLayer = agl(50.0 * metre);
constexpr Length kEvery = 10.0 * metre;
constexpr Angle kTurnsMuch = 45.0 * degree;  // then the last drift is another one than the mean (ours)

Speed length_of(Speed east, Speed north) {
  return math::hypot(east.in(metre_per_second), north.in(metre_per_second)) * metre_per_second;
}

// The winds every ten metres of a layer; none where one of them is not known.
std::optional<std::vector<wind::Wind>> winds_between(const wind::WindProfile& winds, HeightAgl from, HeightAgl to) {
  std::vector<wind::Wind> out;
  for (HeightAgl h = from; h <= to; h = h + kEvery) {
    const auto w = winds.wind_at(above(winds.ground(), h));
    if (!w) return std::nullopt;
    out.push_back(*w);
  }
  return out;
}

std::optional<TrueBearing> mean_drift(const wind::WindProfile& winds) {
  const auto all = winds_between(winds, agl(Length{}), kLowLayer);
  if (!all) return std::nullopt;
  Speed east, north;
  for (const wind::Wind& w : *all) {
    east += w.east();
    north += w.north();
  }
  const double count = static_cast<double>(all->size());
  const auto from = wind::Wind::toward(east / count, north / count).direction_from();
  return from ? std::optional{from->reversed()} : std::nullopt;
}

std::optional<Speed> strongest(const wind::WindProfile& winds, HeightAgl from, HeightAgl to) {
  const auto all = winds_between(winds, from, to);
  if (!all) return std::nullopt;
  Speed most;
  for (const wind::Wind& w : *all) most = std::max(most, w.speed());
  return most;
}

Instant landing_time(const Facts& facts) { return facts.morning.flight.time.at + facts.morning.flight.planned; }

// ---- the surface wind

// The newest wind at the ground with its gust, and what may have become of it by landing: that depends on who saw it.
std::optional<balloon::SurfaceWindInputs::Seen> newest_seen(const Facts& facts) {
  if (!facts.surface_wind) return std::nullopt;
  const auto& held = *facts.surface_wind;
  balloon::SurfaceWindInputs::Seen seen{.wind = held.value, .gust = std::nullopt, .time = held.time, .spread = {}};
  wind::SourceKind kind = wind::SourceKind::seen;
  const auto is_it = [&](const wind::Source& source) { return source.time == held.time && source.name == held.name; };
  for (const wind::Ladder& ladder : facts.morning.flight.ladders)
    if (is_it(ladder.source)) kind = ladder.source.kind;
  for (const wind::SurfaceReport& report : facts.morning.flight.reports) {
    if (!is_it(report.source)) continue;
    kind = report.source.kind;
    seen.gust = report.gust;
  }
  seen.spread = wind::expected_spread(kind, landing_time(facts) - held.time);
  return seen;
}

// The strongest that any forecast which covers the landing has for the time from now to then.
std::optional<balloon::SurfaceWindInputs::Forecast> forecast_worst(const Facts& facts) {
  std::optional<balloon::SurfaceWindInputs::Forecast> out;
  const Instant landing = landing_time(facts);
  for (const wind::Forecast& forecast : facts.morning.flight.forecasts) {
    if (forecast.valid_from > landing || forecast.valid_to < landing) continue;
    const Instant from = std::min(landing, std::max(facts.morning.as_of.at, forecast.valid_from));
    const auto outlook = wind::worst_between(forecast, from, landing);
    if (!outlook) continue;
    for (const wind::Expected* expected : {&outlook->prevailing, &outlook->temporary}) {
      if (!expected->wind_speed) continue;
      if (!out) out = balloon::SurfaceWindInputs::Forecast{.wind = {}, .gust = std::nullopt};
      out->wind = std::max(out->wind, *expected->wind_speed);
      if (expected->gust) out->gust = std::max(out->gust.value_or(Speed{}), *expected->gust);
    }
  }
  return out;
}

void expect_surface_wind(const Facts& facts, LandingSection& out) {
  balloon::SurfaceWindInputs inputs;
  inputs.newest = newest_seen(facts);
  inputs.landing = landing_time(facts);
  if (facts.sun) inputs.sunrise = facts.sun->sunrise;
  inputs.aloft = strongest(facts.winds, balloon::kStirredFrom, balloon::kStirredTo);
  inputs.forecast = forecast_worst(facts);
  const auto expected = balloon::surface_wind_at_landing(inputs);
  out.surface_wind_reason = expected ? expected->reason : expected.error().sentence;
  if (expected && expected->wind)
    out.surface_wind = WindRangeLine{expected->wind->low, expected->wind->best, expected->wind->high};
}

// ---- time and fuel

void bound_time(const Facts& facts, LandingSection& out) {
  const Flight& flight = facts.morning.flight;
  balloon::LatestInputs inputs;
  inputs.lift_off = flight.time;
  inputs.planned = flight.planned;
  // The same minimum as the limit's: own, or else the usual one.
  if (const auto least = limits::fuel_reserve(facts).bound) inputs.reserve_minimum = least->value.si * second;
  if (facts.fuel && facts.reserves) {
    inputs.reserve = facts.reserves->smallest_side;
    if (facts.reserves->short_of > Mass{} && facts.fuel->flow_unlucky > MassFlow{})
      inputs.reserve = -(facts.reserves->short_of / facts.fuel->flow_unlucky);
  }
  if (facts.sun) {
    inputs.sunrise = facts.sun->sunrise;
    inputs.noon = facts.sun->transit;
    inputs.sunset = facts.sun->sunset;
    inputs.sun_stays_up = facts.sun->sun_always_up;
  }
  if (flight.highest) {
    const auto descent = balloon::descent_time(*flight.highest);
    if (!descent) {
      out.time_finding = descent.error().sentence;
      return;
    }
    inputs.descent = descent->high;
  } else {
    out.notes.push_back(say("landing.descent_note"));
  }
  const auto latest = balloon::latest_landing(inputs);
  if (!latest) {
    out.time_finding = latest.error().sentence;
    return;
  }
  out.land_by = latest->land_by;
  out.decide_by = latest->decide_by;
  for (const balloon::LandByTime& bound : latest->bounds)
    out.bounds.push_back({balloon::land_by_words(bound.what), bound.time});
  out.time_finding = latest->finding;
}

void keep_fuel(const Facts& facts, LandingSection& out) {
  if (!facts.fuel) {
    out.fuel_finding = facts.fuel.error().sentence;
    return;
  }
  balloon::LandingFuelInputs inputs{.flow = facts.fuel->flow_unlucky, .left = std::nullopt};
  if (facts.reserves)
    for (const balloon::SideReserve& side : facts.reserves->sides)
      inputs.left = std::min(inputs.left.value_or(side.left), side.left);
  const auto fuel = balloon::landing_fuel(inputs);
  if (!fuel) {
    out.fuel_finding = fuel.error().sentence;
    return;
  }
  out.fuel_to_land_with = fuel->needed;
  out.fuel_finding = fuel->finding;
}

// ---- room

void reckon_run(const Facts& facts, LandingSection& out) {
  const LandingPlan& plan = facts.morning.flight.landing;
  out.room = plan.room;
  if (!out.surface_wind) {
    out.run_finding = say("landing.run_unknown");
    out.room_finding = say("landing.room.unknown");
    return;
  }
  balloon::RunInputs inputs{
      .wind = out.surface_wind->high, .approach_wind = std::nullopt, .obstacle = plan.obstacle.value_or(Length{})};
  // The way down from over the obstacle is flown in the wind there, where that is known to be stronger.
  if (const auto over =
          winds_between(facts.winds, agl(Length{}), agl(balloon::obstacle_sum(inputs.obstacle, inputs.clearance)))) {
    Speed sum;
    for (const wind::Wind& w : *over) sum += w.speed();
    inputs.approach_wind = std::max(inputs.wind, sum / static_cast<double>(over->size()));
  }
  const auto run = balloon::run_needed(inputs);
  if (!run) {
    out.run_finding = run.error().sentence;
    out.room_finding = say("landing.room.unknown");
    return;
  }
  out.run = RunLine{inputs.wind,   run->approach.low, run->approach.high, run->reaction,
                    run->drag.low, run->drag.high,    run->total.low,     run->total.high};
  out.run_finding = balloon::run_words(*run, inputs.wind);
  if (!plan.obstacle)
    out.notes.push_back(say("landing.open_edge_note", {{"height", measure::height(inputs.clearance)}}));
  const Measure most = measure::length(run->total.high);
  if (!plan.room)
    out.room_finding = say("landing.room.look", {{"most", most}});
  else if (*plan.room >= run->total.high)
    out.room_finding = say("landing.room.enough", {{"room", measure::length(*plan.room)}, {"most", most}});
  else
    out.room_finding = say("landing.room.short", {{"room", measure::length(*plan.room)},
                                                  {"most", most},
                                                  {"missing", measure::length(run->total.high - *plan.room)}});
}

// ---- drift, sun, basket

void look_at_sun(const Facts& facts, LandingSection& out) {
  out.drift = mean_drift(facts.winds);
  if (const auto sun = sky::sun_at(landing_time(facts), facts.observer())) {
    out.sun_azimuth = sun->azimuth;
    out.sun_elevation = sun->elevation;
  }
  out.low_sun = balloon::low_sun({.drift = out.drift, .sun = out.sun_azimuth, .elevation = out.sun_elevation}).finding;
  const AltitudeAmsl ground = facts.winds.ground();
  if (!out.drift) return;
  if (const auto arc = wind::steerage(facts.winds, ground, above(ground, kLowLayer)); arc && arc->turn > kTurnsMuch)
    out.notes.push_back(
        say("landing.turns_note", {{"turn", measure::of(arc->turn)}, {"height", measure::of(kLowLayer)}}));
}

void place_people(const Facts& facts, LandingSection& out) {
  const balloon::Balloon& b = facts.morning.balloon;
  out.leads = b.basket.leads;
  out.standing.push_back(
      balloon::basket_words({.leads = b.basket.leads, .drift = out.drift, .vents = b.envelope.vents}));
  out.standing.push_back(say("landing.standing.people"));
  out.standing.push_back(say("landing.standing.leading_side"));
  out.standing.push_back(say("landing.standing.pilot"));
  for (const balloon::Line& line : b.lines)
    if (line.does == "parachute" || line.does == "rapid")
      out.standing.push_back(
          say("landing.standing.line", {{"does", line.does}, {"looks", line.looks}, {"side", line.side}}));
  out.standing.push_back(say("landing.standing.cylinders"));
}

// ---- the sink to expect

struct ChangeOfWind {
  Speed change;
  HeightAgl over;
};

// The larger of the changes from the ground to 50 m and to 150 m.
std::optional<ChangeOfWind> change_of_wind(const wind::WindProfile& winds) {
  std::optional<ChangeOfWind> out;
  const auto low = winds.wind_at(winds.ground());
  if (!low) return out;
  for (const HeightAgl height : {kBasketLayer, kLowLayer}) {
    const auto high = winds.wind_at(above(winds.ground(), height));
    if (!high) continue;
    const Speed change = length_of(high->east() - low->east(), high->north() - low->north());
    if (!out || change > out->change) out = ChangeOfWind{change, height};
  }
  return out;
}

void expect_sink(const Facts& facts, LandingSection& out) {
  const auto found = false_lift_near_ground(facts);
  if (!found) {
    out.sink_finding = found.error().sentence;
    return;
  }
  const balloon::FalseLift& lift = found->lift;
  out.sink = SinkLine{lift.change, lift.sink_low, lift.sink_best, lift.sink_high, lift.best, lift.mostly_gone};
  out.sink_finding = balloon::false_lift_words(lift, found->over);
  if (!lift.expect || !facts.lift) return;
  const auto loss = balloon::shear_loss({.outside = found->air,
                                         .inside_mean = facts.lift->levels.front().mean_needed,
                                         .volume = facts.morning.balloon.envelope.volume,
                                         .settings = facts.own.heat},
                                        lift.change);
  if (loss) out.notes.push_back(balloon::shear_words(*loss));
}

}  // namespace

Result<FalseLiftNearGround> false_lift_near_ground(const Facts& facts) {
  const auto change = change_of_wind(facts.winds);
  if (!change || !facts.columns) return fail(Errc::no_data, balloon::false_lift_words(std::nullopt, kLowLayer));
  const air::AirColumn& column = facts.columns->front();
  const auto sample = column.at(column.ground());
  if (!sample) return tl::unexpected{sample.error()};
  const auto density = air::density(sample->air);
  if (!density) return tl::unexpected{density.error()};
  const auto lift =
      balloon::false_lift({.change = change->change, .air = *density, .volume = facts.morning.balloon.envelope.volume});
  if (!lift) return tl::unexpected{lift.error()};
  return FalseLiftNearGround{change->over, sample->air, *lift};
}

LandingSection landing_section(const Facts& facts) {
  LandingSection out;
  expect_surface_wind(facts, out);
  bound_time(facts, out);
  keep_fuel(facts, out);
  reckon_run(facts, out);
  look_at_sun(facts, out);
  place_people(facts, out);
  expect_sink(facts, out);
  out.notes.push_back(say("landing.caution_note"));
  return out;
}

}  // namespace pappus::sheet
