#include "core/sheet/facts.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "core/book/balloon_dates.hpp"
#include "core/book/pilot_dates.hpp"
#include "core/sheet/defaults.hpp"
#include "core/wind/by_eye.hpp"

namespace pappus::sheet {
namespace {

Duration distance(Instant a, Instant b) { return a < b ? b - a : a - b; }

void reduce_pibals(Facts& facts) {
  const Flight& flight = facts.morning.flight;
  facts.ladders = flight.ladders;
  for (const PibalSeen& seen : flight.pibals) {
    // What is wrong with the readings has been told where they were read.
    PibalFacts known{&seen, wind::pibal::reduce(seen.ascent).value};
    facts.ladders.push_back(known.reduction ? wind::pibal::ladder(*known.reduction, flight.field.elevation, seen.source)
                                            : wind::Ladder{seen.source, {}});
    facts.pibals.push_back(std::move(known));
  }
}

template <class T>
void offer(std::optional<Sourced<T>>& held, const std::optional<T>& value, const wind::Source& source, SourceRef from,
           Instant lift_off) {
  if (!value) return;
  const bool forecast = source.kind == wind::SourceKind::forecast;
  const auto counts_first = [&] {
    if (forecast != held->forecast) return held->forecast;
    if (forecast) return distance(source.time, lift_off) < distance(held->time, lift_off);
    return source.time > held->time;
  };
  if (!held || counts_first()) held = Sourced<T>{*value, source.time, source.name, from, forecast};
}

void read_surface(Facts& facts) {
  const Flight& flight = facts.morning.flight;
  const Instant lift_off = flight.time.at;
  for (std::size_t i = 0; i < flight.reports.size(); ++i) {
    const wind::SurfaceReport& report = flight.reports[i];
    const SourceRef from{SourceList::report, i};
    offer(facts.temperature, report.temperature, report.source, from, lift_off);
    offer(facts.dew_point, report.dew_point, report.source, from, lift_off);
    offer(facts.qnh, report.qnh, report.source, from, lift_off);
    offer(facts.surface_wind, report.wind_speed, report.source, from, lift_off);
    if (facts.newest_report == nullptr || facts.newest_report->source.time < report.source.time)
      facts.newest_report = &report;
  }
  for (std::size_t i = 0; i < facts.ladders.size(); ++i) {
    const wind::Ladder& ladder = facts.ladders[i];
    for (const wind::LadderRow& row : ladder.rows) {
      if (abs(row.altitude - flight.field.elevation) > kSurfaceLayer) continue;
      const SourceRef from{SourceList::ladder, i};
      offer(facts.temperature, row.temperature, ladder.source, from, lift_off);
      if (row.wind) offer(facts.surface_wind, std::optional{row.wind->speed()}, ladder.source, from, lift_off);
    }
  }
  for (std::size_t i = 0; i < flight.looks.size(); ++i) {
    const Look& look = flight.looks[i];
    if (look.what == "wind")
      offer(facts.surface_wind, wind_of(look), {wind::SourceKind::seen, look.words, look.time.at},
            {SourceList::look, i}, lift_off);
  }
  // What the pilot typed for this field beats a report from elsewhere.
  if (flight.field.qnh)
    facts.qnh = Sourced<Pressure>{*flight.field.qnh, flight.as_of ? flight.as_of->at : facts.morning.as_of.at, {}};
}

void find_newest_ladder(Facts& facts) {
  const Instant lift_off = facts.morning.flight.time.at;
  const auto is_seen_first = [&](const wind::Source& source) {
    return source.kind != wind::SourceKind::forecast && distance(source.time, lift_off) <= wind::kSeenFirst;
  };
  const auto counts_first = [&](const wind::Source& a, const wind::Source& b) {
    if (is_seen_first(a) != is_seen_first(b)) return is_seen_first(a);
    if (is_seen_first(a)) return a.time > b.time;
    return distance(a.time, lift_off) < distance(b.time, lift_off);
  };
  for (const wind::Ladder& ladder : facts.ladders) {
    const bool windy = std::any_of(ladder.rows.begin(), ladder.rows.end(),
                                   [](const wind::LadderRow& row) { return row.wind.has_value(); });
    if (windy && (facts.newest_ladder == nullptr || counts_first(ladder.source, facts.newest_ladder->source)))
      facts.newest_ladder = &ladder;
  }
}

// The newest temperature known at each height above the field.
std::vector<air::TemperatureLevel> temperatures_above(const Facts& facts) {
  const Flight& flight = facts.morning.flight;
  std::vector<air::TemperatureLevel> levels =
      wind::temperatures_aloft(facts.ladders, flight.field.elevation, {}, flight.time.at);
  std::erase_if(levels, [&](const air::TemperatureLevel& level) {
    return level.altitude - flight.field.elevation <= kSurfaceLayer;
  });
  return levels;
}

}  // namespace

Result<std::vector<air::AirColumn>> columns_up_to(const Facts& facts, AltitudeAmsl highest, TemperatureDelta cooler) {
  if (!facts.qnh) return fail(Errc::no_data, say("fact.qnh_missing"));
  if (!facts.station_pressure) return tl::unexpected{facts.station_pressure.error()};
  if (!facts.temperature) return fail(Errc::no_data, say("fact.temperature_missing"));
  const Temperature ground = facts.temperature->value - cooler;
  air::AirColumn::Inputs inputs{.ground = facts.morning.flight.field.elevation,
                                .surface_pressure = *facts.station_pressure,
                                .surface_temperature = ground,
                                .dew_point = std::nullopt,
                                .aloft = temperatures_above(facts),
                                .above = air::Filling::standard,
                                .top = highest};
  for (air::TemperatureLevel& level : inputs.aloft) level.temperature = level.temperature - cooler;
  // A report's dew point above the temperature now typed for the field means the air has cooled since: saturated.
  if (facts.dew_point) inputs.dew_point = std::min(facts.dew_point->value, ground);

  std::vector<air::AirColumn> columns;
  for (const air::Filling filling : {air::Filling::standard, air::Filling::inversion}) {
    if (filling == air::Filling::inversion && !inputs.aloft.empty()) continue;
    inputs.above = filling;
    auto column = air::AirColumn::from(inputs);
    if (!column) return tl::unexpected{column.error()};
    columns.push_back(*std::move(column));
  }
  return columns;
}

namespace {

void build_columns(Facts& facts) {
  const Flight& flight = facts.morning.flight;
  if (!facts.qnh) return;
  facts.station_pressure = air::station_pressure(facts.qnh->value, flight.field.elevation);
  if (!facts.station_pressure) {
    facts.columns = tl::unexpected{facts.station_pressure.error()};
    return;
  }
  if (!facts.temperature) return;
  const auto highest = facts.highest();
  if (!highest) {
    facts.columns = fail(Errc::no_data, say("fact.highest_missing"));
    return;
  }
  facts.temperature_aloft_assumed = temperatures_above(facts).empty();
  facts.columns = columns_up_to(facts, *highest);
}

void add_up_load(Facts& facts) {
  const balloon::Balloon& b = facts.morning.balloon;
  LoadSheet& load = facts.load;
  const auto line = [&](Mass& part, Sentence what, Mass mass, std::optional<Sentence> note = {}) {
    load.lines.push_back(LoadLine{std::move(what), mass, std::move(note)});
    part += mass;
    load.total += mass;
  };
  line(load.empty, say("load.envelope"), b.envelope.mass);
  line(load.empty, say("load.basket"), b.basket.mass);
  for (std::size_t i = 0; i < b.burners.size(); ++i)
    line(load.empty, say("load.burner", {{"number", measure::count(static_cast<double>(i + 1))}}), b.burners[i].mass);
  for (const balloon::Kit& kit : b.kit) line(load.empty, say("load.kit", {{"what", kit.what}}), kit.mass);
  facts.load_known = true;
  for (const CylinderFacts& c : facts.cylinders) {
    line(load.empty, say("load.cylinder_empty", {{"id", c.cylinder->id}}), c.cylinder->tare);
    std::optional<Sentence> note;
    if (c.mass && !c.open) load.cylinders_known.push_back(c.cylinder->id);
    if (!c.mass) {
      facts.load_known = false;
      note = say("load.fuel_unknown");
    } else if (c.mass_high > c.mass) {
      note = say("load.fuel_at_most");
    } else if (c.temperature_assumed) {
      note = say("load.fuel_temperature_assumed", {{"temperature", measure::of(facts.temperature->value)}});
    }
    line(load.fuel, say("load.cylinder_fuel", {{"id", c.cylinder->id}}),
         c.mass_high.value_or(heaviest_contents(*c.cylinder)), std::move(note));
  }
  for (const people::Person& person : facts.morning.flight.aboard) {
    const people::LoadedPerson loaded = people::loaded(person);
    std::vector<Argument> what{{"role", Term{"word." + std::string(name_of(person.role))}}};
    if (!person.name.empty()) what.push_back({"name", person.name});
    std::optional<Sentence> note;
    if (loaded.clothing_added && loaded.bags_added)
      note = say("load.clothing_and_bags_added",
                 {{"clothing", measure::of(loaded.clothing)}, {"bags", measure::of(loaded.bags)}});
    else if (loaded.clothing_added)
      note =
          say("load.clothing_added", {{"clothing", measure::of(loaded.clothing)}, {"bags", measure::of(loaded.bags)}});
    else if (loaded.bags_added)
      note = say("load.bags_added", {{"bags", measure::of(loaded.bags)}});
    line(load.people, say(person.name.empty() ? "load.person" : "load.person_named", std::move(what)), loaded.total(),
         std::move(note));
    ++load.people_count;
  }
  load.gross_limit = b.envelope.gross_limit;
}

void work_out_lift(Facts& facts) {
  const auto planned = replanned(facts, {});
  facts.lift = planned ? planned->lift() : tl::unexpected{planned.error()};
}

void work_out_fuel(Facts& facts) {
  const auto planned = replanned(facts, {});
  facts.fuel = planned ? planned->fuel() : tl::unexpected{planned.error()};
  if (!facts.fuel) return;
  // Where the contents of a cylinder are not known, neither are the reserves.
  if (const auto cylinders = cylinder_fuel(facts))
    facts.reserves = balloon::reserves_at_landing(*cylinders, *facts.fuel);
  if (const auto cylinders = cylinder_fuel(facts, Counted::at_most))
    facts.reserves_at_most = balloon::reserves_at_landing(*cylinders, *facts.fuel);
}

// Whether an instant falls into the period that counts as night for passengers: between the sunset of one day and the
// sunrise of the next. Where the sun's times can't be told it is taken to.
bool is_night_for_passengers(const Facts& facts, const rules::NightPassengers& rule, Instant t) {
  const UtcOffset offset = facts.morning.flight.time.offset;
  const Date day = Moment{t, offset}.date();
  const auto before = sky::sun_day(day.plus_days(-1), offset, facts.observer());
  const auto on = sky::sun_day(day, offset, facts.observer());
  const auto after = sky::sun_day(day.plus_days(1), offset, facts.observer());
  if (!before || !on || !after || on->sun_never_up) return true;
  const auto between = [&](const sky::SunDay& one, const sky::SunDay& next) {
    return one.sunset && next.sunrise && book::is_night_landing(rule, t, *one.sunset, *next.sunrise);
  };
  return between(*before, *on) || between(*on, *after);
}

// What has to be current on the day of the flight. The mark on a cylinder needs no law to be read.
void look_up_dates(Facts& facts) {
  const Flight& flight = facts.morning.flight;
  const balloon::Balloon& balloon = facts.morning.balloon;
  const book::Outlook outlook{flight.time.date()};
  const rules::Set* set = flight.rules ? &rules::rules_of(*flight.rules) : nullptr;
  const auto take = [&](std::vector<book::Due> dues) {
    facts.dates.insert(facts.dates.end(), std::make_move_iterator(dues.begin()), std::make_move_iterator(dues.end()));
  };
  if (set != nullptr) {
    // Whoever isn't needed to fly the balloon, nor is taught to, is a passenger.
    const bool passengers = std::any_of(flight.aboard.begin(), flight.aboard.end(), [](const people::Person& person) {
      return person.role == people::Role::passenger || person.role == people::Role::crew;
    });
    book::FlightAsked asked{passengers, false, balloon.envelope.volume};
    if (passengers && set->night_passengers)
      for (const Instant t : {flight.time.at, flight.time.at + flight.planned})
        asked.at_night = asked.at_night || is_night_for_passengers(facts, *set->night_passengers, t);
    take(book::pilot_dates(*set, flight.pilot, asked, outlook));
    take(book::balloon_dates(*set, balloon, flight.pilot.for_hire.value_or(false), flight.planned, outlook));
  }
  const bool in_set = set != nullptr && set->cylinder_test;
  take(book::cylinder_dates(in_set ? *set->cylinder_test : rules::CylinderTest{}, balloon, outlook));
}

}  // namespace

std::optional<AltitudeAmsl> Facts::highest() const {
  if (!morning.flight.highest) return std::nullopt;
  return above(morning.flight.field.elevation, *morning.flight.highest);
}

sky::Observer Facts::observer() const {
  sky::Observer observer{.position = morning.flight.field.at,
                         .elevation = morning.flight.field.elevation.from_origin()};
  if (station_pressure) observer.pressure = *station_pressure;
  if (temperature) observer.temperature = temperature->value;
  return observer;
}

Mass carried_after(const Facts& facts, const balloon::Change& change) {
  Mass carried = facts.load.total - change.people_left;
  if (change.cylinder_left && *change.cylinder_left < facts.cylinders.size()) {
    const CylinderFacts& left = facts.cylinders[*change.cylinder_left];
    carried -= left.cylinder->tare + left.mass_high.value_or(heaviest_contents(*left.cylinder));
  }
  return carried;
}

Result<Replanned> replanned(const Facts& facts, const balloon::Change& change) {
  if (!facts.columns) return tl::unexpected{facts.columns.error()};
  Replanned out;
  out.highest = std::max(*facts.highest() - change.lower, facts.morning.flight.field.elevation);
  out.planned = facts.morning.flight.planned - change.shorter;
  out.carried = carried_after(facts, change);
  out.envelope = &facts.morning.balloon.envelope;
  out.own = facts.own;
  out.hot = facts.morning.flight.hot;
  if (change.cooler == TemperatureDelta{}) {
    out.columns = *facts.columns;
    return out;
  }
  auto columns = columns_up_to(facts, *facts.highest(), change.cooler);
  if (!columns) return tl::unexpected{columns.error()};
  out.columns = *std::move(columns);
  return out;
}

// Of two assumed columns the one with the hotter crown counts.
Result<balloon::FlightLift> Replanned::lift() const {
  Result<balloon::FlightLift> hottest = fail(Errc::no_data, say("fact.temperature_missing"));
  for (const air::AirColumn& column : columns) {
    // Without a limit in the flight manual the temperatures are still worked out; the limit itself says it is not
    // known.
    auto lift = balloon::flight_lift({.column = column,
                                      .highest = highest,
                                      .carried = carried,
                                      .volume = envelope->volume,
                                      .crown_limit = envelope->crown_limit.value_or(celsius(120.0)),
                                      .crown_excess = own.crown_excess});
    if (!lift) return lift;
    if (!hottest || lift->worst.crown_expected > hottest->worst.crown_expected) hottest = std::move(lift);
  }
  return hottest;
}

// Of two assumed columns the thirstier counts.
Result<balloon::FlightFuel> Replanned::fuel() const {
  Result<balloon::FlightFuel> thirstiest = fail(Errc::no_data, say("fact.temperature_missing"));
  for (const air::AirColumn& column : columns) {
    auto fuel = balloon::flight_fuel({.column = column,
                                      .highest = highest,
                                      .carried = carried,
                                      .volume = envelope->volume,
                                      .planned = planned,
                                      .settings = own.heat,
                                      .envelope_hot = hot});
    if (!fuel) return fuel;
    if (!thirstiest || fuel->used_unlucky > thirstiest->used_unlucky) thirstiest = std::move(fuel);
  }
  return thirstiest;
}

std::optional<std::vector<balloon::CylinderFuel>> cylinder_fuel(const Facts& facts, Counted counted) {
  std::vector<balloon::CylinderFuel> out;
  for (const CylinderFacts& c : facts.cylinders) {
    if (!c.mass) return std::nullopt;
    const Mass mass = counted == Counted::at_least ? *c.mass_low : *c.mass_high;
    const Volume liquid = counted == Counted::at_least ? *c.liquid_low : *c.liquid_high;
    // An empty cylinder has nothing that could stay behind.
    const Mass behind = liquid > Volume{} ? c.cylinder->usable_to * c.cylinder->level_fill * (mass / liquid) : Mass{};
    out.push_back(
        {.id = c.cylinder->id, .group = c.cylinder->group, .liquid = mass, .usable = std::max(Mass{}, mass - behind)});
  }
  return out;
}

Duration usual_reserve(const Facts& facts) {
  return facts.morning.balloon.cylinders.size() == 1 ? kDefaults.reserve_single_cylinder : kDefaults.reserve;
}
Duration reserve_held_to(const Facts& facts) {
  return facts.morning.flight.minimum.reserve.value_or(usual_reserve(facts));
}

std::optional<Speed> wind_of(const Look& look) {
  if (look.value && look.value->kind == MeasureKind::speed_wind) return look.value->si * metre_per_second;
  const auto sign = named<wind::EyeSign>(look.words);
  return sign ? std::optional{wind::wind_by_eye(*sign).high} : std::nullopt;
}

std::optional<AltitudeAmsl> highest_shown(const Facts& facts) {
  const auto highest = facts.highest();
  if (!highest) return std::nullopt;
  const AltitudeAmsl shown = *highest + kShownAbove;
  for (const wind::Level& level : facts.winds.levels())
    if (level.altitude >= *highest) return std::max(shown, level.altitude);
  return shown;
}

std::vector<const wind::Forecast*> newest_forecasts(const Flight& flight) {
  std::vector<const wind::Forecast*> out;
  for (const wind::Forecast& forecast : flight.forecasts) {
    const auto held =
        std::find_if(out.begin(), out.end(), [&](const wind::Forecast* f) { return f->station == forecast.station; });
    if (held == out.end())
      out.push_back(&forecast);
    else if ((*held)->issued <= forecast.issued)
      *held = &forecast;
  }
  return out;
}

Facts facts_of(const Morning& morning) {
  Facts facts{morning};
  const Flight& flight = morning.flight;
  reduce_pibals(facts);
  read_surface(facts);
  find_newest_ladder(facts);
  auto winds = wind::WindProfile::from(
      {.ground = flight.field.elevation, .time = flight.time.at, .ladders = facts.ladders, .reports = flight.reports});
  if (winds.value) facts.winds = *std::move(winds.value);
  build_columns(facts);
  facts.cylinders = cylinders_of(morning, facts.temperature ? std::optional{facts.temperature->value} : std::nullopt,
                                 facts.station_pressure ? std::optional{*facts.station_pressure} : std::nullopt);
  add_up_load(facts);
  work_out_lift(facts);
  work_out_fuel(facts);
  facts.sun = sky::sun_day(flight.time.date(), flight.time.offset, facts.observer());
  look_up_dates(facts);
  return facts;
}

}  // namespace pappus::sheet
