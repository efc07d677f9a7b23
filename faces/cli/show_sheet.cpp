#include <algorithm>

#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

using sheet::Limit;
using sheet::LimitState;

Tone tone_of(LimitState state) {
  switch (state) {
    case LimitState::inside: return Tone::plain;
    case LimitState::near: return Tone::care;
    case LimitState::outside: return Tone::bad;
    case LimitState::not_known: return Tone::care;
  }
  return Tone::bad;
}

// What stands against flying comes first.
int rank(const Limit& limit) {
  switch (limit.state) {
    case LimitState::outside: return limit.accepted ? 2 : 0;
    case LimitState::not_known: return limit.kind == sheet::LimitKind::must ? 1 : 3;
    case LimitState::near: return 2;
    case LimitState::inside: return 4;
  }
  return 0;
}

std::string source_text(const sheet::BoundSource& source, const words::Reader& reader) {
  return words::worded("authority." + std::string(name_of(source.kind)), reader);
}

std::string bound_text(const Limit& limit, const words::Reader& reader) {
  if (!limit.bound) return {};
  return words::worded(sheet::Side::at_most == limit.bound->side ? "show.at_most" : "show.at_least", reader) + " " +
         words::worded(limit.bound->value, reader);
}

struct Row {
  std::string state, limit, value, bound, whose, age;
};

void show_row(Terminal& to, const Row& row, Tone tone) {
  to.line("  " + to.toned(fitted(row.state, 10), tone) + fitted(row.limit, 20) + right(row.value, 11) + " " +
          fitted(row.bound, 13) + fitted(row.whose, 13) + right(row.age, 10));
}

void show_limit(Terminal& to, const Limit& limit, const words::Reader& reader) {
  const std::string state = words::worded("state." + std::string(name_of(limit.state)), reader);
  const Row row{.state = state,
                .limit = words::worded("limit." + limit.name + ".title", reader),
                .value = limit.value ? words::worded(*limit.value, reader) : "-",
                .bound = bound_text(limit, reader),
                .whose = source_text(limit.source, reader),
                .age = limit.age ? words::duration(*limit.age, reader) : ""};
  show_row(to, row, tone_of(limit.state));
  // An inside limit explains itself in its row; the others say what was found and what would settle it.
  if (limit.state != LimitState::inside) {
    to.paragraph(words::worded(limit.finding, reader), 12);
    if (limit.accepted)
      to.paragraph(
          words::worded(say("show.accepted", {{"reason", limit.accepted->reason}, {"time", limit.accepted->time}}),
                        reader),
          12);
    if (!limit.source.name.empty())
      to.paragraph(words::worded(say("show.bound_of", {{"source", limit.source.name}}), reader), 12);
    if (limit.remedy) to.paragraph(words::worded(*limit.remedy, reader), 15, "            ->");
    for (const Sentence& note : limit.notes) to.paragraph(words::worded(note, reader), 12);
  }
}

void show_limits(Terminal& to, const sheet::FlightSheet& s, const words::Reader& reader) {
  to.heading(words::worded("show.limits", reader));
  const auto column = [&](const char* key) { return words::worded("show.column_" + std::string(key), reader); };
  show_row(to, {column("state"), column("limit"), column("value"), column("bound"), column("whose"), column("age")},
           Tone::plain);
  std::vector<const Limit*> order;
  for (const Limit& limit : s.limits) order.push_back(&limit);
  std::stable_sort(order.begin(), order.end(), [](const Limit* a, const Limit* b) { return rank(*a) < rank(*b); });
  for (const Limit* limit : order) show_limit(to, *limit, reader);
}

void show_load(Terminal& to, const sheet::LoadSheet& load, const words::Reader& reader) {
  to.heading(words::worded("show.load", reader));
  for (const sheet::LoadLine& line : load.lines) {
    to.entry(words::worded(line.what, reader), words::worded(measure::of(line.mass), reader));
    if (line.note) to.paragraph(words::worded(*line.note, reader), 6);
  }
  to.entry(words::worded("show.load_total", reader), words::worded(measure::of(load.total), reader));
  if (load.gross_limit)
    to.entry(words::worded("show.gross_limit", reader), words::worded(measure::of(*load.gross_limit), reader));
}

void show_sun(Terminal& to, const sheet::SunSection& sun, const words::Reader& reader) {
  to.heading(words::worded("show.light", reader));
  const auto text = [&](const std::optional<Moment>& m) {
    return m ? words::clock(m->at, reader) : words::worded("word.none", reader);
  };
  to.paragraph(words::worded(say("show.light_line", {{"dawn", text(sun.civil_dawn)},
                                                     {"sunrise", text(sun.sunrise)},
                                                     {"sunset", text(sun.sunset)},
                                                     {"dusk", text(sun.civil_dusk)}}),
                             reader),
               2);
}

}  // namespace

void show_winds(Terminal& to, const std::vector<sheet::WindLine>& levels, const std::vector<sheet::GapLine>& gaps,
                const std::optional<sheet::SteerageLine>& steerage, const words::Reader& reader) {
  if (levels.empty()) to.paragraph(words::worded("show.no_winds", reader), 2);
  if (!levels.empty())
    to.line(
        "  " + right(words::worded("show.column_height", reader), 9) +
        right(words::worded("show.column_amsl", reader), 11) + right(words::worded("show.column_from", reader), 10) +
        right(words::worded("show.column_speed", reader), 9) + right(words::worded("show.column_spread", reader), 10) +
        right(words::worded("show.column_temperature", reader), 9) + "  " +
        words::worded("show.column_source", reader));
  for (auto level = levels.rbegin(); level != levels.rend(); ++level) {
    std::string sources;
    for (const sheet::SourceLine& source : level->sources)
      sources += (sources.empty() ? "" : ", ") + source.name + " " + words::clock(source.time, reader);
    to.line(
        "  " + right(words::worded(measure::of(level->height), reader), 9) +
        right(words::worded(measure::of(level->altitude), reader), 11) +
        right(level->from ? words::worded(measure::of(*level->from), reader) : words::worded("word.calm", reader), 10) +
        right(words::worded(measure::wind(level->speed), reader), 9) +
        right("+-" + words::worded(measure::wind(level->spread), reader), 10) +
        right(level->temperature ? words::worded(measure::of(*level->temperature), reader) : "-", 9) + "  " +
        fitted(sources, 18));
  }
  for (const sheet::GapLine& gap : gaps)
    to.paragraph(
        words::worded(say("show.gap", {{"bottom", measure::of(gap.bottom)}, {"top", measure::of(gap.top)}}), reader),
        2);
  if (steerage)
    to.paragraph(words::worded(say("show.steerage", {{"turn", measure::of(steerage->turn)},
                                                     {"left", measure::of(steerage->left_course)},
                                                     {"left_height", measure::of(steerage->left_height)},
                                                     {"right", measure::of(steerage->right_course)},
                                                     {"right_height", measure::of(steerage->right_height)}}),
                               reader),
                 2);
}

void show(Terminal& to, const sheet::LiftSection& lift, const words::Reader& reader) {
  to.heading(words::worded("show.lift_flight", reader));
  const auto entry = [&](std::string_view key, Measure m) {
    to.entry(words::worded(key, reader), words::worded(m, reader));
  };
  entry("show.worst_height", measure::of(lift.worst_height));
  entry("show.worst_altitude", measure::of(lift.worst_altitude));
  entry("show.ambient_there", measure::of(lift.ambient_there));
  entry("show.mean_needed", measure::of(lift.mean_temperature_needed));
  entry("show.crown_expected", measure::of(lift.crown_temperature_expected));
  if (lift.crown_temperature_limit) entry("show.crown_limit", measure::of(*lift.crown_temperature_limit));
  if (lift.crown_temperature_limit) {
    entry("show.gross_lift_there", measure::of(lift.gross_lift));
    entry("show.carried", measure::of(lift.carried));
    entry("show.margin", measure::of(lift.margin));
  }
  show_notes(to, lift.notes, reader);
}

void show(Terminal& to, const sheet::FuelSection& fuel, const words::Reader& reader) {
  to.heading(words::worded("show.fuel", reader));
  const auto entry = [&](std::string_view key, Measure m) {
    to.entry(words::worded(key, reader), words::worded(m, reader));
  };
  entry("show.flow", measure::of(fuel.flow));
  entry("show.flow_unlucky", measure::of(fuel.flow_unlucky));
  entry("show.fuel_inflation", measure::of(fuel.inflation));
  to.entry(words::worded(say("show.fuel_climbs", {{"count", measure::count(fuel.climb_count)}}), reader),
           words::worded(measure::of(fuel.climbs), reader));
  entry("show.fuel_level", measure::of(fuel.level));
  to.entry(words::worded(say("show.fuel_allowance", {{"fraction", measure::ratio(fuel.allowance_fraction)}}), reader),
           words::worded(measure::of(fuel.allowance), reader));
  entry("show.fuel_used", measure::of(fuel.used));
  entry("show.fuel_used_unlucky", measure::of(fuel.used_unlucky));
  if (fuel.missing > Mass{}) entry("show.fuel_missing", measure::of(fuel.missing));
  to.line();
  to.line("  " + fitted(words::worded("show.column_cylinder", reader), 12) +
          right(words::worded("show.column_side", reader), 5) + right(words::worded("show.column_liquid", reader), 11) +
          right(words::worded("show.column_pressure", reader), 10) +
          right(words::worded("show.column_usable", reader), 11) +
          right(words::worded("show.column_drawn", reader), 11) + right(words::worded("show.column_left", reader), 11));
  for (const sheet::CylinderLine& c : fuel.by_cylinder)
    to.line("  " + fitted(c.id, 12) + right(c.group, 5) +
            right(c.liquid_low ? words::worded(measure::liquid(*c.liquid_low), reader) : "-", 11) +
            right(c.pressure ? words::worded(measure::of(*c.pressure), reader) : "-", 10) +
            right(words::worded(measure::of(c.usable), reader), 11) +
            right(words::worded(measure::of(c.drawn), reader), 11) +
            right(words::worded(measure::of(c.left), reader), 11));
  for (const sheet::CylinderLine& c : fuel.by_cylinder) {
    if (c.words.empty()) continue;
    std::vector<Sentence> told{
        say("show.cylinder_between",
            {{"id", c.id}, {"low", measure::liquid(*c.liquid_low)}, {"high", measure::liquid(*c.liquid_high)}})};
    told.insert(told.end(), c.words.begin(), c.words.end());
    std::string text;
    for (const Sentence& one : told) text += (text.empty() ? "" : " ") + words::worded(one, reader);
    to.paragraph(text, 2);
  }
  for (const sheet::SideLine& side : fuel.sides)
    to.paragraph(words::worded(say("show.side", {{"group", side.group},
                                                 {"left", measure::of(side.left)},
                                                 {"reserve", measure::of(side.reserve)}}),
                               reader),
                 2);
  show_notes(to, fuel.notes, reader);
}

void show_order_of_use(Terminal& to, const sheet::FuelSection& fuel, const words::Reader& reader) {
  to.heading(words::worded("show.supply_order", reader));
  show_notes(to, fuel.order, reader);
}

void show(Terminal& to, const sheet::FlightSheet& s, const words::Reader& caller) {
  words::Reader reader = caller;
  reader.offset = s.as_of.offset;
  reader.today = s.as_of.date();
  to.line(to.toned(words::worded("show.sheet_title", reader), Tone::strong));
  words::Reader head = reader;
  head.today = s.time.date();  // is named: what is of another day, as the evening's as_of, is told with its own
  to.paragraph(words::worded(say("show.sheet_head", {{"balloon", s.balloon},
                                                     {"field", s.field},
                                                     {"date", s.time.date()},
                                                     {"time", s.time},
                                                     {"planned", measure::of(s.planned)},
                                                     {"as_of", s.as_of},
                                                     {"offset", iso8601(s.as_of.offset)}}),
                             head),
               0);
  to.heading(words::worded("show.standing", reader));
  const Tone tone = s.standing == sheet::Standing::against           ? Tone::bad
                    : s.standing == sheet::Standing::nothing_against ? Tone::good
                                                                     : Tone::care;
  to.line("  " + to.toned(words::worded("standing_word." + std::string(name_of(s.standing)), reader), tone));
  to.paragraph(words::worded(s.standing_line, reader), 2);
  show_changes(to, s, reader);
  show_limits(to, s, reader);
  if (s.remedies) show_remedies(to, *s.remedies, reader);
  if (s.lift) show(to, *s.lift, reader);
  to.heading(words::worded("show.handling", reader));
  show_notes(to, s.handling.words, reader);
  if (s.fuel) show(to, *s.fuel, reader);
  to.paragraph(s.book ? words::worded(say("show.book_used", {{"book", *s.book}}), reader)
                      : words::worded("show.no_book", reader),
               2);
  if (s.fuel) show_order_of_use(to, *s.fuel, reader);
  to.heading(words::worded("show.winds", reader));
  show_winds(to, s.winds.levels, s.winds.gaps, s.winds.steerage, reader);
  show_sources(to, s, reader);
  show_landing(to, s.landing, reader);
  if (s.reach) show_reach(to, *s.reach, reader);
  if (s.sun) show_sun(to, *s.sun, reader);
  show_dates(to, s.dates, reader);
  show_load(to, s.load, reader);
  to.heading(words::worded("show.cautions", reader));
  show_notes(to, s.cautions, reader);
}

}  // namespace pappus::cli
