#include "core/sheet/sections/climb.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/air/isa.hpp"
#include "core/balloon/burner_output.hpp"
#include "core/balloon/lift.hpp"
#include "core/motion/body.hpp"
#include "core/motion/flight.hpp"
#include "core/motion/flight_air.hpp"
#include "core/propane/mix.hpp"
#include "core/propane/saturation.hpp"
#include "core/sheet/facts.hpp"
#include "core/sheet/sections/landing.hpp"

namespace pappus::sheet {
namespace {

constexpr Length kAirAbove = 6000.0 * metre;  // the most that a column holds
constexpr Length kFoldsAt = 500.0 * metre;
constexpr int kMostBurners = 4;

struct Liquid {
  Temperature coldest;
  bool measured;  // of every cylinder
};

// The coldest of what was given; where one cylinder's is not given, it may be as cold as the air.
Liquid coldest_liquid(const Facts& facts) {
  std::optional<Temperature> given;
  bool all = true;
  for (const CylinderFacts& c : facts.cylinders) {
    all = all && c.temperature.has_value();
    if (c.temperature) given = std::min(given.value_or(*c.temperature), *c.temperature);
  }
  const Temperature air = facts.temperature->value;
  if (all && given) return {*given, true};
  return {std::min(given.value_or(air), air), false};
}

Result<FlameLine> flame_of(const Facts& facts, Power rated, const air::AirColumn& column, AltitudeAmsl highest) {
  const auto [liquid, measured] = coldest_liquid(facts);
  const auto saturation = propane::pressure_band(std::nullopt, liquid);
  if (!saturation) return tl::unexpected{saturation.error()};
  const auto there = column.at(highest);
  if (!there) return tl::unexpected{there.error()};
  const auto height = air::pressure_altitude(there->air.pressure);
  if (!height) return tl::unexpected{height.error()};
  FlameLine out;
  out.rated = rated;
  out.liquid = liquid;
  out.measured = measured;
  out.pressure = std::max(propane::gauge(saturation->best, *facts.station_pressure), GaugePressure{});
  const auto output = balloon::burner_output({rated, out.pressure, liquid, *height});
  if (!output) return tl::unexpected{output.error()};
  out.power = output->low;
  out.flow = output->low / propane::kHigherHeatingValue;
  return out;
}

// The weakest of the burners; none where one is not known.
std::optional<Power> weakest(const std::vector<balloon::Burner>& burners) {
  std::optional<Power> out;
  for (const balloon::Burner& burner : burners) {
    if (!burner.power) return std::nullopt;
    if (!out || *burner.power < *out) out = burner.power;
  }
  return out;
}

struct Tried {
  air::AirColumn column;
  motion::FlightAir air;
  motion::Performance performance;
  std::optional<FlameLine> flame;
  motion::BodyInputs body;
};

Speed least_climb(const motion::Performance& p) {
  return std::min_element(p.climbs.begin(), p.climbs.end(),
                          [](const auto& a, const auto& b) { return a.climb < b.climb; })
      ->climb;
}

Result<Tried> tried_in(const Facts& facts, const air::AirColumn& column, AltitudeAmsl highest) {
  auto air = motion::FlightAir::from(column, {});
  if (!air) return tl::unexpected{air.error()};
  const balloon::Balloon& b = facts.morning.balloon;
  Tried out{column, *std::move(air), {}, std::nullopt, {}};
  if (const auto rated = weakest(b.burners)) {
    auto flame = flame_of(facts, *rated, column, highest);
    if (!flame) return tl::unexpected{flame.error()};
    out.flame = *flame;
  }
  out.body.volume = b.envelope.volume;
  out.body.mass = facts.load.total;
  out.body.crown_limit = b.envelope.crown_limit;
  out.body.settings.crown_excess = facts.own.crown_excess;
  out.body.heat = facts.own.heat;
  // Without a power nothing that depends on the flame is told; what is left holds with none.
  out.body.flame = out.flame ? out.flame->flow : MassFlow{};
  const int burners = std::clamp(static_cast<int>(b.burners.size()), 1, kMostBurners);
  auto performance = motion::performance({.body = out.body, .burners = burners, .highest = highest}, out.air);
  if (!performance) return tl::unexpected{performance.error()};
  out.performance = *std::move(performance);
  return out;
}

// Up at the usual rate, a hold, and down in time to land when the planned time is over.
Result<FlownPlan> flown_plan(const Facts& facts, const Tried& tried, AltitudeAmsl highest) {
  const Duration planned = facts.morning.flight.planned;
  motion::Plan plan;
  const Length height = highest - tried.air.ground();
  const Duration down = height / plan.pilot.sink, up = height / plan.pilot.climb;
  FlownPlan out;
  out.highest = highest;
  // Never before the top is reached: who plans less time than that flies longer.
  out.begins_down = std::max(up, planned - down);
  plan.from = tried.air.ground();
  plan.length = out.begins_down + down + 15.0 * minute;
  plan.legs = {{out.begins_down, highest}, {plan.length, plan.from}};
  motion::BodyInputs inputs = tried.body;
  const auto body = motion::Body::from(inputs, tried.air);
  if (!body) return tl::unexpected{body.error()};
  const auto flown = motion::fly(*body, tried.air, plan);
  if (!flown) return tl::unexpected{flown.error()};
  const motion::FlightPoint& end = flown->flown.end;
  out.length = end.at;
  out.fuel = end.fuel;
  if (const auto& touchdown = flown->flown.touchdown) {
    out.landed = true;
    out.touchdown_sink = touchdown->sink;
  }
  if (facts.fuel) out.reckoned = facts.fuel->climbs + facts.fuel->level;
  return out;
}

Result<balloon::LoadChart> chart_of(const Facts& facts, Temperature crown_limit) {
  const auto field = air::pressure_altitude(*facts.station_pressure);
  if (!field) return tl::unexpected{field.error()};
  balloon::LoadChartInputs in;
  const Length first = std::floor(field->from_origin() / kFoldsAt) * kFoldsAt;
  for (int i = 0; i <= 20; ++i) in.heights.push_back(PressureAltitude::at(first + 100.0 * i * metre));
  for (int i = 0; i <= 16; ++i) in.outside.push_back(celsius(-10.0 + 2.5 * i));
  in.volume = facts.morning.balloon.envelope.volume;
  in.inside_mean = crown_limit - facts.own.crown_excess;
  in.empty = facts.load.empty;
  in.gross_limit = facts.morning.balloon.envelope.gross_limit;
  return balloon::load_chart(in);
}

void add_false_lift(const Facts& facts, ClimbSection& out) {
  const auto found = false_lift_near_ground(facts);
  if (!found) {
    out.false_lift_finding = found.error().sentence;
    return;
  }
  const balloon::FalseLift& lift = found->lift;
  out.false_lift = FalseLiftLine{lift.change,   found->over,    lift.low,       lift.best,        lift.high,
                                 lift.sink_low, lift.sink_best, lift.sink_high, lift.mostly_gone, lift.expect};
  out.false_lift_finding = say(lift.expect ? "climb.false_lift" : "climb.no_false_lift",
                               {{"change", measure::wind(lift.change)}, {"over", measure::of(found->over)}});
}

// A part that is told, or else why it is not.
template <class T>
void take(std::optional<T>& into, Result<T> part, std::vector<Sentence>& reasons) {
  if (part)
    into = *std::move(part);
  else
    reasons.push_back(part.error().sentence);
}

void add_cautions(const Facts& facts, ClimbSection& out) {
  out.cautions.push_back(say("climb.manual_decides"));
  out.cautions.push_back(say("climb.drag"));
  if (!out.arrests.empty()) out.cautions.push_back(say("climb.no_notice"));
  if (std::any_of(out.arrests.begin(), out.arrests.end(), [](const auto& a) { return a.crown_too_hot; }) ||
      std::any_of(out.from_cold.begin(), out.from_cold.end(), [](const auto& a) { return a.crown_too_hot; }))
    out.cautions.push_back(say("climb.crown_too_hot"));
  if (!facts.load_known) out.cautions.push_back(say("climb.load_full"));
}

}  // namespace

Result<ClimbSection> climb_section(const Morning& morning) { return climb_section(facts_of(morning)); }

Result<ClimbSection> climb_section(const Facts& facts, Told told) {
  const Morning& morning = facts.morning;
  const auto highest = facts.highest();
  if (!highest) return fail(Errc::no_data, say("fact.highest_missing"));
  const AltitudeAmsl ground = morning.flight.field.elevation;
  const auto columns = columns_up_to(facts, ground + kAirAbove);
  if (!columns) return tl::unexpected{columns.error()};

  std::optional<Tried> worse;
  for (const air::AirColumn& column : *columns) {
    auto tried = tried_in(facts, column, *highest);
    if (!tried) return tl::unexpected{tried.error()};
    if (!worse || least_climb(tried->performance) < least_climb(worse->performance)) worse = *std::move(tried);
  }
  const motion::Performance& p = worse->performance;

  ClimbSection out;
  out.mass = facts.load.total;
  out.burners = static_cast<int>(morning.balloon.burners.size());
  out.field = ground;
  out.flame = worse->flame;
  out.flame_out = p.flame_out;
  out.sink_most = p.sink_most;
  const auto& crown_limit = morning.balloon.envelope.crown_limit;
  if (crown_limit) {
    out.climb_rate = least_climb(p);
    out.ceiling = p.ceiling;
    out.ceiling_looked_to = worse->air.top();
    out.climbs = p.climbs;
    if (told == Told::whole) take(out.load_chart, chart_of(facts, *crown_limit), out.reasons);
  } else {
    out.reasons.push_back(say("climb.no_crown_limit"));
  }
  if (out.flame) {
    out.arrests = p.arrests;
    out.from_cold = p.from_cold;
    for (const motion::Arrest& a : p.arrests)
      if (a.burners == 1 && abs(a.sink - 500.0 * foot_per_minute) < 1.0 * foot_per_minute) out.arrest_height = a.height;
    if (!crown_limit)
      for (auto* all : {&out.arrests, &out.from_cold})
        for (motion::Arrest& a : *all) a.crown_too_hot = false;
    if (crown_limit) out.first_minute = p.first_minute;
    if (told == Told::whole) take(out.flown, flown_plan(facts, *worse, *highest), out.reasons);
    if (!out.flame->measured)
      out.reasons.push_back(say("climb.pressure_from_air", {{"temperature", measure::of(out.flame->liquid)}}));
  } else {
    out.reasons.push_back(say("climb.no_power"));
  }
  if (facts.temperature_aloft_assumed) out.reasons.push_back(say("climb.aloft_assumed"));
  if (crown_limit) out.reasons.push_back(say("climb.air_above"));
  add_false_lift(facts, out);
  add_cautions(facts, out);
  return out;
}

}  // namespace pappus::sheet
