#include "core/sheet/flight_sheet.hpp"

#include <algorithm>

#include "core/air/isa.hpp"
#include "core/sheet/facts.hpp"
#include "core/sheet/limits/limits.hpp"
#include "core/sheet/sections/climb.hpp"
#include "core/sheet/sections/supply.hpp"

namespace pappus::sheet {
namespace {

// About eight steps from the field to the highest height. Without the manual's limit there is no lift at the limit.
std::vector<LiftCurveLine> curve_of(const Facts& facts) {
  std::vector<LiftCurveLine> out;
  if (!facts.morning.balloon.envelope.crown_limit) return out;
  constexpr std::size_t steps = 8;
  const std::vector<balloon::LiftAt>& levels = facts.lift->levels;
  const std::size_t last = levels.size() - 1;
  for (std::size_t i = 0; i <= steps; ++i) {
    const balloon::LiftAt& level = levels[i * last / steps];
    const HeightAgl height = height_over(facts.morning.flight.field.elevation, level.altitude);
    if (!out.empty() && out.back().height == height) continue;  // a low flight has fewer levels than that
    out.push_back({height, level.ambient, level.crown_expected, facts.load.total + level.margin});
  }
  return out;
}

Measure flights_of(const book::Learned& learned) { return measure::count(static_cast<double>(learned.flights)); }

// Whose figures they are: the balloon's own, from so many flights, or the model's.
Sentence crown_note(const Facts& facts) {
  const auto& learned = facts.morning.learned;
  const Measure excess = measure::of(facts.own.crown_excess);
  if (learned && learned->crown.yours)
    return say("lift.crown_learned_note", {{"excess", excess}, {"flights", flights_of(learned->crown)}});
  return say("lift.crown_excess_note", {{"excess", excess}});
}
Sentence loss_note(const Facts& facts) {
  const auto& learned = facts.morning.learned;
  if (learned && learned->burn.yours)
    return say("fuel.learned_note", {{"loss", measure::ratio(facts.own.heat.loss)},
                                     {"uncertainty", measure::ratio(facts.own.heat.uncertainty)},
                                     {"flights", flights_of(learned->burn)}});
  return say("fuel.not_yours_note", {{"uncertainty", measure::ratio(facts.own.heat.uncertainty)}});
}

Result<LiftSection> lift_of(const Facts& facts) {
  if (!facts.lift) return tl::unexpected{facts.lift.error()};
  const balloon::LiftAt& worst = facts.lift->worst;
  const balloon::Envelope& envelope = facts.morning.balloon.envelope;
  LiftSection out;
  out.carried = facts.load.total;
  out.margin = worst.margin;
  out.gross_lift = facts.load.total + worst.margin;
  out.worst_altitude = worst.altitude;
  out.worst_height = height_over(facts.morning.flight.field.elevation, worst.altitude);
  out.ambient_there = worst.ambient;
  out.mean_temperature_needed = worst.mean_needed;
  out.crown_temperature_expected = worst.crown_expected;
  out.crown_temperature_limit = envelope.crown_limit;
  out.crown_excess = facts.own.crown_excess;
  out.temperature_aloft_assumed = facts.temperature_aloft_assumed;
  out.curve = curve_of(facts);
  out.notes.push_back(crown_note(facts));
  if (!envelope.crown_limit) out.notes.push_back(say("lift.no_crown_limit_note"));
  if (facts.temperature_aloft_assumed)
    out.notes.push_back(say("lift.aloft_assumed_note"));
  else if (worst.filling != air::Filling::measured)
    out.notes.push_back(say("lift.beyond_measured_note"));
  if (!facts.dew_point) out.notes.push_back(say("lift.dry_note"));
  return out;
}

Result<FuelSection> fuel_of(const Facts& facts) {
  if (!facts.fuel) return tl::unexpected{facts.fuel.error()};
  if (!facts.reserves) return tl::unexpected{facts.reserves.error()};
  const balloon::FlightFuel& f = *facts.fuel;
  FuelSection out;
  out.flow = f.flow;
  out.flow_unlucky = f.flow_unlucky;
  out.inflation = f.inflation;
  out.climbs = f.climbs;
  out.level = f.level;
  out.allowance = f.allowance;
  out.used = f.used;
  out.used_unlucky = f.used_unlucky;
  out.climb_count = f.climb_count;
  out.allowance_fraction = f.allowance_fraction;
  out.uncertainty_fraction = facts.own.heat.uncertainty;
  out.notes.push_back(loss_note(facts));
  if (const auto supply = supply_section(facts))
    out.order = supply->proposal;
  else
    out.order = {say("fuel.order_not_known"), supply.error().sentence};
  out.reserve = facts.reserves->smallest_side;
  out.missing = facts.reserves->short_of;
  for (const balloon::SideReserve& side : facts.reserves->sides)
    out.sides.push_back({side.group, side.usable, side.drawn, side.left, side.reserve});
  for (std::size_t i = 0; i < facts.cylinders.size(); ++i) {
    const CylinderFacts& c = facts.cylinders[i];
    const balloon::CylinderDraw& draw = facts.reserves->cylinders[i];
    CylinderLine line{.id = c.cylinder->id,
                      .group = c.cylinder->group,
                      .liquid = c.liquid,
                      .temperature = c.temperature,
                      .pressure = std::nullopt,
                      .mass = draw.liquid,
                      .usable = draw.usable,
                      .drawn = draw.drawn,
                      .left = draw.left,
                      .reserve = draw.reserve};
    if (c.pressure) {
      line.pressure = c.pressure->best;
      line.pressure_low = c.pressure->low;
      line.pressure_high = c.pressure->high;
    }
    line.liquid_low = c.liquid_low;
    line.liquid_high = c.liquid_high;
    line.open = c.open;
    if (c.account) line.next_test = c.account->next_test;
    line.words = c.words;
    out.by_cylinder.push_back(std::move(line));
  }
  return out;
}

HandlingSection handling_of(const Facts& facts) {
  const auto climb = climb_section(facts, Told::in_short);
  if (!climb) return {.words = {say("handling.not_known"), climb.error().sentence}};
  HandlingSection out{.climb_rate = climb->climb_rate,
                      .ceiling = climb->ceiling,
                      .first_minute = climb->first_minute,
                      .arrest_height = climb->arrest_height,
                      .arrest_height_two = std::nullopt,
                      .sink_most = climb->sink_most,
                      .words = {}};
  std::optional<Speed> stopped;
  for (const motion::Arrest& a : climb->arrests) {
    if (a.burners == 1 && a.height && a.height == out.arrest_height) stopped = a.sink;
    if (a.burners == 2 && stopped && a.sink == *stopped) out.arrest_height_two = a.height;
  }
  if (out.climb_rate) out.words.push_back(say("handling.climb", {{"rate", measure::vertical(*out.climb_rate)}}));
  if (out.ceiling)
    out.words.push_back(
        say("handling.ceiling",
            {{"height", measure::of(height_over(facts.morning.flight.field.elevation, *out.ceiling))}}));
  if (stopped && out.arrest_height_two)
    out.words.push_back(say("handling.arrest_two", {{"sink", measure::vertical(*stopped)},
                                                    {"one", measure::height(*out.arrest_height)},
                                                    {"two", measure::height(*out.arrest_height_two)}}));
  else if (stopped)
    out.words.push_back(
        say("handling.arrest", {{"sink", measure::vertical(*stopped)}, {"one", measure::height(*out.arrest_height)}}));
  if (out.sink_most) out.words.push_back(say("handling.flame_out", {{"sink", measure::vertical(*out.sink_most)}}));
  out.words.insert(out.words.end(), climb->reasons.begin(), climb->reasons.end());
  out.words.push_back(say("handling.caution"));
  return out;
}

WindSection winds_of(const Facts& facts) {
  const AltitudeAmsl ground = facts.morning.flight.field.elevation;
  WindSection winds = wind_section(facts.winds, facts.highest().value_or(ground));
  if (const auto top = highest_shown(facts))
    std::erase_if(winds.levels, [&](const WindLine& line) { return line.altitude > *top; });
  return winds;
}

std::optional<AirSection> air_of(const Facts& facts) {
  if (!facts.station_pressure || !facts.temperature) return std::nullopt;
  const auto height = air::pressure_altitude(*facts.station_pressure);
  // Without a dew point the air is taken as dry, which makes the density altitude too low by at most 60 m below 30 C.
  const Temperature t = facts.temperature->value;
  const Temperature dew = facts.dew_point ? std::min(facts.dew_point->value, t) : celsius(-60.0);
  const auto density =
      air::density({.temperature = t, .dew_point = std::min(dew, t), .pressure = *facts.station_pressure});
  if (!height || !density) return std::nullopt;
  const auto density_height = air::density_altitude(*density);
  if (!density_height) return std::nullopt;
  return AirSection{*facts.station_pressure, *height, *density_height};
}

std::optional<SunSection> sun_of(const Facts& facts) {
  if (!facts.sun) return std::nullopt;
  const auto local = [&](const std::optional<Instant>& t) {
    return t ? std::optional{Moment{*t, facts.morning.flight.time.offset}} : std::nullopt;
  };
  return SunSection{local(facts.sun->civil_dawn), local(facts.sun->sunrise), local(facts.sun->sunset),
                    local(facts.sun->civil_dusk), Moment{facts.sun->transit, facts.morning.flight.time.offset}};
}

Sentence line_for(Standing standing, const std::vector<Limit>& limits) {
  const auto count = [&](auto&& wanted) {
    return measure::count(static_cast<double>(std::count_if(limits.begin(), limits.end(), wanted)));
  };
  const Measure outside = count([](const Limit& l) { return l.state == LimitState::outside && !l.accepted; });
  const Measure unknown =
      count([](const Limit& l) { return l.state == LimitState::not_known && l.kind == LimitKind::must; });
  const Measure near = count([](const Limit& l) { return l.state == LimitState::near; });
  const Measure accepted = count([](const Limit& l) { return l.accepted.has_value(); });
  const Measure to_look =
      count([](const Limit& l) { return l.state == LimitState::not_known && l.kind == LimitKind::look; });
  return say("standing." + std::string(name_of(standing)),
             {{"outside", outside}, {"unknown", unknown}, {"near", near}, {"accepted", accepted}, {"look", to_look}});
}

// The usual cautions, shown wherever the figures are.
std::vector<Sentence> cautions_of(const Facts& facts) {
  std::vector<Sentence> out{say("caution.manual_first"), say("caution.pilot_decides"), say("caution.weather_changes")};
  if (facts.fuel)
    out.push_back(say("caution.fuel_model", {{"uncertainty", measure::ratio(facts.own.heat.uncertainty)}}));
  if (facts.morning.flight.hot) out.push_back(say("caution.hot"));
  out.push_back(say("caution.full_is_proven"));
  out.push_back(say("caution.pressure_is_not_quantity"));
  out.push_back(say("caution.power_lines"));
  return out;
}

// A limit set by law or by the flight manual can't be waved through: that an acceptance was tried is shown all the
// same.
void take_acceptances(const Facts& facts, std::vector<Limit>& limits) {
  for (const AcceptedLimit& accepted : facts.morning.flight.accepted)
    for (Limit& limit : limits) {
      if (limit.name != accepted.limit || limit.state != LimitState::outside) continue;
      if (may_be_accepted(limit))
        limit.accepted = Acceptance{accepted.reason, accepted.time};
      else
        limit.notes.push_back(say("limit.not_acceptable"));
    }
}

}  // namespace

const std::vector<std::string_view>& limit_names() {
  static const std::vector<std::string_view> names{"crown_temperature",
                                                   "gross_mass",
                                                   "people",
                                                   "basket_wall",
                                                   "extra_crew",
                                                   "cylinder_contents",
                                                   "fuel_reserve",
                                                   "fuel_reserve_rule",
                                                   "fuel_pressure",
                                                   "surface_wind",
                                                   "gust_spread",
                                                   "wind_difference_50m",
                                                   "wind_difference_150m",
                                                   "strongest_wind",
                                                   "winds_known",
                                                   "winds_age",
                                                   "thermals",
                                                   "light_launch",
                                                   "light_landing",
                                                   "dew_point_spread",
                                                   "visibility",
                                                   "cloud_base",
                                                   "storm_distance",
                                                   "forecast_weather",
                                                   "report_age",
                                                   "minimum_height",
                                                   "oxygen",
                                                   "locator",
                                                   "fitness",
                                                   "dates_pilot",
                                                   "dates_balloon",
                                                   "dates_cylinders"};
  return names;
}

WindSection wind_section(const wind::WindProfile& profile, AltitudeAmsl up_to) {
  WindSection out;
  for (const wind::Level& level : profile.levels()) {
    WindLine line;
    line.altitude = level.altitude;
    line.height = height_over(profile.ground(), level.altitude);
    line.from = level.wind.direction_from();
    line.speed = level.wind.speed();
    line.spread = level.spread;
    line.temperature = level.temperature;
    for (const wind::Source& source : level.sources) line.sources.push_back({source.kind, source.name, source.time});
    out.levels.push_back(std::move(line));
  }
  for (const wind::Gap& gap : profile.gaps(up_to)) out.gaps.push_back({gap.bottom, gap.top});
  if (const auto s = wind::steerage(profile, profile.ground(), up_to))
    out.steerage = SteerageLine{s->left, s->right, height_over(profile.ground(), s->left_at),
                                height_over(profile.ground(), s->right_at), s->turn};
  return out;
}

LoadSheet load_sheet(const Morning& morning) { return facts_of(morning).load; }
Result<LiftSection> lift_section(const Morning& morning) { return lift_of(facts_of(morning)); }
Result<FuelSection> fuel_section(const Morning& morning) { return fuel_of(facts_of(morning)); }
WindSection wind_section(const Morning& morning) { return winds_of(facts_of(morning)); }
Result<ReachSection> reach_section(const Morning& morning) { return reach_section(facts_of(morning)); }

FlightSheet sheet(const Morning& morning) {
  const Facts facts = facts_of(morning);
  FlightSheet out;
  out.as_of = morning.as_of;
  out.balloon = morning.balloon.name;
  out.field = morning.flight.field.name;
  out.time = morning.flight.time;
  out.planned = morning.flight.planned;
  out.book = morning.book;
  out.limits = limits::all(facts);
  take_acceptances(facts, out.limits);
  out.standing = standing_of(out.limits);
  out.standing_line = line_for(out.standing, out.limits);
  out.load = facts.load;
  if (auto lift = lift_of(facts)) out.lift = *std::move(lift);
  if (auto fuel = fuel_of(facts)) out.fuel = *std::move(fuel);
  out.handling = handling_of(facts);
  out.remedies = remedies_section(facts);
  out.winds = winds_of(facts);
  out.sources = sources_of(facts);
  out.pibals = pibals_of(facts);
  out.air = air_of(facts);
  out.sun = sun_of(facts);
  out.landing = landing_section(facts);
  if (auto reach = reach_section(facts)) out.reach = *std::move(reach);
  out.dates = facts.dates;
  out.cautions = cautions_of(facts);
  if (morning.evening) out.evening = morning.evening->as_of;
  out.tripwires = tripwires_of(facts, out);
  out.changes = changes_of(facts, out);
  out.message = message_of(facts, out);
  return out;
}

}  // namespace pappus::sheet
