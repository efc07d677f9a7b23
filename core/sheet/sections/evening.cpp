// What dawn keeps of the evening's sheet, and what is different now.
#include "core/sheet/sections/evening.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "core/sheet/facts.hpp"

namespace pappus::sheet {
namespace {

// As it stands in JSON.
Moment whole_seconds(Moment m) {
  constexpr std::int64_t thousand = 1000;
  const std::int64_t ms = m.at.unix_milliseconds() + thousand / 2;
  const std::int64_t below = ms % thousand < 0 ? ms % thousand + thousand : ms % thousand;
  return Moment{Instant::from_unix_milliseconds(ms - below), m.offset};
}

// ---- how bad, and how far

int rank(Standing standing) {
  switch (standing) {
    case Standing::nothing_against: return 0;
    case Standing::with_care: return 1;
    case Standing::not_known: return 2;
    case Standing::against: return 3;
  }
  return 3;
}

int rank(LimitState state) {
  switch (state) {
    case LimitState::inside: return 0;
    case LimitState::near: return 1;
    case LimitState::not_known: return 2;
    case LimitState::outside: return 3;
  }
  return 3;
}

// From how much on a move is worth a word, in SI; ours.
double material(MeasureKind kind, double before) {
  switch (kind) {
    case MeasureKind::count: return 1.0;
    case MeasureKind::ratio: return 0.05;
    case MeasureKind::mass: return 10.0;
    case MeasureKind::speed_wind: return (2.0 * knot).in(metre_per_second);
    case MeasureKind::speed_vertical: return 0.5;
    case MeasureKind::temperature:
    case MeasureKind::temperature_delta: return 1.0;
    case MeasureKind::duration: return (5.0 * minute).in(second);
    case MeasureKind::pressure_fuel: return (5.0 * pound_per_square_inch).in(pascal);
    case MeasureKind::pressure_air: return 200.0;
    case MeasureKind::bearing_true:
    case MeasureKind::bearing_magnetic:
    case MeasureKind::angle: return 5.0;
    case MeasureKind::height:
    case MeasureKind::altitude:
    case MeasureKind::pressure_altitude:
    case MeasureKind::density_altitude: return 50.0;
    case MeasureKind::number:
    case MeasureKind::volume_gas:
    case MeasureKind::volume_liquid:
    case MeasureKind::length:
    case MeasureKind::distance:
    case MeasureKind::density:
    case MeasureKind::mass_flow:
    case MeasureKind::power:
    case MeasureKind::specific_energy: return 0.25 * std::abs(before);
  }
  return 0.25 * std::abs(before);
}

bool moved(const Measure& before, const Measure& after) {
  // A value that came through other arithmetic is not quite the same: 10 kg are reached by 9.9999999 kg.
  constexpr double hair = 1e-9;
  return before.kind == after.kind && before.si != after.si &&
         std::abs(after.si - before.si) >= material(before.kind, before.si) * (1.0 - hair);
}

// ---- one limit

Term title(const std::string& limit) { return Term{"limit." + limit + ".title"}; }
Term word(LimitState state) { return Term{"state." + std::string(name_of(state))}; }

bool is_worse(const Limit& now, double by) {
  if (!now.bound) return false;
  return now.bound->side == Side::at_most ? by > 0.0 : by < 0.0;
}

std::optional<Change> change_of(const EveningLimit& then, const Limit& now) {
  Change change{now.name, {}, then.value, now.value, rank(now.state) > rank(then.state)};
  std::vector<Argument> arguments{{"limit", title(now.name)}};
  if (then.state == now.state) {
    // Ages grow by themselves; the number of people and the load are told on their own.
    const bool is_told_elsewhere =
        now.name == "report_age" || now.name == "winds_age" || now.name == "people" || now.name == "gross_mass";
    if (is_told_elsewhere || !then.value || !now.value || !moved(*then.value, *now.value)) return std::nullopt;
    change.worse = is_worse(now, now.value->si - then.value->si);
    arguments.insert(arguments.end(), {{"before", *then.value}, {"after", *now.value}});
    change.words = say("change.value", std::move(arguments));
    return change;
  }
  arguments.insert(arguments.end(), {{"was", word(then.state)}, {"is", word(now.state)}});
  if (then.value) arguments.push_back({"before", *then.value});
  if (now.value) arguments.push_back({"after", *now.value});
  if (then.value && now.value)
    change.words = say("change.state_values", std::move(arguments));
  else if (then.value)
    change.words = say("change.state_before", std::move(arguments));
  else
    change.words = say(now.value ? "change.state_after" : "change.state", std::move(arguments));
  return change;
}

void limits_changed(const Evening& evening, const FlightSheet& sheet, std::vector<Change>& out) {
  for (const Limit& now : sheet.limits) {
    const auto then = std::find_if(evening.limits.begin(), evening.limits.end(),
                                   [&](const EveningLimit& l) { return l.name == now.name; });
    if (then == evening.limits.end()) {
      out.push_back({now.name, say("change.limit_new", {{"limit", title(now.name)}, {"is", word(now.state)}}),
                     std::nullopt, now.value, now.state != LimitState::inside});
    } else if (auto change = change_of(*then, now)) {
      out.push_back(*std::move(change));
    }
  }
  for (const EveningLimit& then : evening.limits) {
    if (std::any_of(sheet.limits.begin(), sheet.limits.end(), [&](const Limit& l) { return l.name == then.name; }))
      continue;
    // Of a sheet made by another version there may be one without a title.
    const auto& names = limit_names();
    const bool has_title = std::find(names.begin(), names.end(), then.name) != names.end();
    const ArgumentValue name = has_title ? ArgumentValue{title(then.name)} : ArgumentValue{then.name};
    out.push_back({then.name, say("change.limit_gone", {{"limit", name}, {"was", word(then.state)}}), then.value,
                   std::nullopt, true});
  }
}

void load_changed(const Evening& evening, const Facts& facts, const FlightSheet& sheet, std::vector<Change>& out) {
  const Measure people_then = measure::count(evening.people), people_now = measure::count(sheet.load.people_count);
  if (evening.people != sheet.load.people_count)
    out.push_back({"people_aboard", say("change.people", {{"before", people_then}, {"after", people_now}}), people_then,
                   people_now, sheet.load.people_count > evening.people});
  const Measure load_then = measure::of(evening.load), load_now = measure::of(sheet.load.total);
  if (moved(load_then, load_now))
    out.push_back({"load", say("change.load", {{"before", load_then}, {"after", load_now}}), load_then, load_now,
                   sheet.load.total > evening.load});
  const std::vector<std::string>& known = sheet.load.cylinders_known;
  for (const std::string& id : evening.cylinders) {
    if (std::find(known.begin(), known.end(), id) != known.end()) continue;
    const bool is_aboard = std::any_of(facts.cylinders.begin(), facts.cylinders.end(),
                                       [&](const CylinderFacts& c) { return c.cylinder->id == id; });
    out.push_back({"cylinder", say(is_aboard ? "change.cylinder_unknown" : "change.cylinder_gone", {{"id", id}}),
                   std::nullopt, std::nullopt, true});
  }
}

// The standing, then by what the limit has become, then what moved for the worse, then the rest.
int order(const Change& change, const FlightSheet& sheet) {
  constexpr int last = 5, moved_for_worse = 4;
  if (change.what == "standing") return 0;
  if (!change.worse) return last;
  const auto now =
      std::find_if(sheet.limits.begin(), sheet.limits.end(), [&](const Limit& l) { return l.name == change.what; });
  return now == sheet.limits.end() ? moved_for_worse : moved_for_worse - rank(now->state);
}

}  // namespace

Evening evening_of(const FlightSheet& sheet) {
  Evening out;
  out.as_of = whole_seconds(sheet.as_of);
  out.time = whole_seconds(sheet.time);
  out.balloon = sheet.balloon;
  out.field = sheet.field;
  out.standing = sheet.standing;
  for (const Limit& limit : sheet.limits) out.limits.push_back({limit.name, limit.state, limit.value});
  out.tripwires = sheet.tripwires;
  for (Tripwire& tripwire : out.tripwires) {
    tripwire.state = TripwireState::set;
    tripwire.now.reset();
    tripwire.condition = condition_of(tripwire);
    tripwire.finding = {};
  }
  out.load = sheet.load.total;
  out.people = sheet.load.people_count;
  out.cylinders = sheet.load.cylinders_known;
  return out;
}

std::vector<Change> changes_of(const Facts& facts, const FlightSheet& sheet) {
  std::vector<Change> out;
  if (!facts.morning.evening) return out;
  const Evening& evening = *facts.morning.evening;
  if (evening.standing != sheet.standing)
    out.push_back({"standing",
                   say("change.standing", {{"was", Term{"standing_word." + std::string(name_of(evening.standing))}},
                                           {"is", Term{"standing_word." + std::string(name_of(sheet.standing))}}}),
                   std::nullopt, std::nullopt, rank(sheet.standing) > rank(evening.standing)});
  if (evening.time.at != whole_seconds(sheet.time).at)
    out.push_back({"time", say("change.time", {{"before", evening.time}, {"after", sheet.time}}), std::nullopt,
                   std::nullopt, false});
  limits_changed(evening, sheet, out);
  load_changed(evening, facts, sheet, out);
  std::stable_sort(out.begin(), out.end(),
                   [&](const Change& a, const Change& b) { return order(a, sheet) < order(b, sheet); });
  return out;
}

}  // namespace pappus::sheet
