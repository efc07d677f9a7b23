#include "formats/text/pilot/flight_write.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace pappus::text {
namespace {

constexpr std::string_view kNotKnown = "\"\"";

// ---- one wind ladder: a column is written in the unit in which its cells take the fewest digits

struct Column {
  std::string_view unit;
  std::vector<std::string> cells;
};

int digits_of(const Column& column) {
  int sum = 0;
  for (const std::string& cell : column.cells) sum += digits_shown(cell);
  return sum;
}

// `in(row, unit)` gives the number, or none where the cell is not known.
template <class In>
Column column_of(const wind::Ladder& ladder, const std::vector<std::string_view>& units, In in) {
  Column best;
  for (const std::string_view unit : units) {
    Column column{unit, {}};
    for (const wind::LadderRow& row : ladder.rows) {
      const std::optional<double> number = in(row, unit);
      column.cells.push_back(number ? toml_number(*number) : std::string(kNotKnown));
    }
    if (best.cells.empty() || digits_of(column) < digits_of(best)) best = std::move(column);
  }
  return best;
}

std::vector<Column> columns_of(const wind::Ladder& ladder, AltitudeAmsl ground, Taste taste) {
  const bool us = taste == Taste::us;
  using Names = std::vector<std::string_view>;
  std::vector<Column> out;
  const bool all_above = std::all_of(ladder.rows.begin(), ladder.rows.end(),
                                     [&](const wind::LadderRow& row) { return row.altitude >= ground; });
  Names heights = us ? Names{"ft agl", "m agl", "ft amsl", "m amsl"} : Names{"m agl", "ft agl", "m amsl", "ft amsl"};
  if (!all_above) heights.erase(heights.begin(), heights.begin() + 2);
  out.push_back(column_of(ladder, heights, [&](const wind::LadderRow& row, std::string_view unit) {
    const Length height = unit.ends_with("agl") ? row.altitude - ground : row.altitude.from_origin();
    return std::optional{height.in(unit.front() == 'f' ? foot : metre)};
  }));
  out.push_back(column_of(ladder, {"deg true from"}, [](const wind::LadderRow& row, std::string_view) {
    if (!row.wind) return std::optional<double>{};
    const auto from = row.wind->direction_from();
    return std::optional{from ? from->from_north().in(degree) : 0.0};
  }));
  const Names speeds = us ? Names{"kt", "mph", "m/s", "km/h"} : Names{"kt", "m/s", "km/h", "mph"};
  out.push_back(column_of(ladder, speeds, [](const wind::LadderRow& row, std::string_view unit) {
    if (!row.wind) return std::optional<double>{};
    if (!row.wind->direction_from()) return std::optional{0.0};
    return std::optional{row.wind->speed().in(unit == "kt"    ? knot
                                              : unit == "mph" ? mile_per_hour
                                              : unit == "m/s" ? metre_per_second
                                                              : kilometre_per_hour)};
  }));
  const bool warm = std::any_of(ladder.rows.begin(), ladder.rows.end(),
                                [](const wind::LadderRow& row) { return row.temperature.has_value(); });
  if (!warm) return out;
  out.push_back(
      column_of(ladder, us ? Names{"F", "C"} : Names{"C", "F"}, [](const wind::LadderRow& row, std::string_view unit) {
        if (!row.temperature) return std::optional<double>{};
        return std::optional{unit == "C" ? in_celsius(*row.temperature) : in_fahrenheit(*row.temperature)};
      }));
  return out;
}

void write_ladder(TomlLines& to, const wind::Ladder& ladder, const sheet::Flight& flight) {
  to.one_of("wind");
  to.words("by", name_of(ladder.source.kind));
  if (ladder.source.name != name_of(ladder.source.kind)) to.words_if_any("name", ladder.source.name);
  to.raw("seen", iso8601(Moment{ladder.source.time, flight.time.offset}));
  const std::vector<Column> columns = columns_of(ladder, flight.field.elevation, to.taste());
  std::string units;
  for (const Column& column : columns) units += (units.empty() ? "" : ", ") + toml_text(column.unit);
  to.raw("units", "[" + units + "]");
  std::string rows = "[\n";
  for (std::size_t i = 0; i < ladder.rows.size(); ++i) {
    std::string row;
    for (const Column& column : columns) row += (row.empty() ? "" : ", ") + column.cells[i];
    rows += "  [" + row + "],\n";
  }
  to.raw("rows", rows + "]");
}

// ---- the rest, in the order of the file

std::string list_of(Position at) {
  return "[" + toml_number(at.latitude().in(degree)) + ", " + toml_number(at.longitude().in(degree)) + "]";
}

void write_field(TomlLines& to, const sheet::Field& field) {
  to.table("field");
  to.words("name", field.name);
  to.raw("at",
         "[" + toml_number(field.at.latitude().in(degree)) + ", " + toml_number(field.at.longitude().in(degree)) + "]");
  to.quantity("elevation", field.elevation.from_origin().in(metre), Dimension::altitude);
  if (field.qnh) to.quantity("qnh", field.qnh->in(pascal), Dimension::air_pressure);
  if (field.airspace) to.words("airspace", name_of(*field.airspace));
  if (field.ground) to.words("ground", name_of(*field.ground));
  if (field.local_minimum_height)
    to.quantity("local_minimum_height", field.local_minimum_height->from_origin().in(metre), Dimension::altitude);
  if (field.over_water) to.raw("over_water", "true");
}

void write_fuel(TomlLines& to, const sheet::FuelSeen& fuel) {
  to.one_of("fuel");
  to.words("cylinder", fuel.cylinder);
  if (fuel.liquid) to.quantity("liquid", fuel.liquid->in(cubic_metre), Dimension::volume);
  if (fuel.temperature) to.quantity("temperature", fuel.temperature->from_origin().in(kelvin), Dimension::temperature);
  if (fuel.seen) to.raw("seen", iso8601(*fuel.seen));
  const auto degrees = [&](Temperature t) {
    return toml_text(toml_quantity(t.from_origin().in(kelvin), Dimension::temperature, to.taste()));
  };
  if (fuel.filled && fuel.filled->coldest == fuel.filled->warmest)
    to.raw("filled_at", degrees(fuel.filled->coldest));
  else if (fuel.filled)
    to.raw("filled_between", "[" + degrees(fuel.filled->coldest) + ", " + degrees(fuel.filled->warmest) + "]");
  if (fuel.valve) to.words("valve", name_of(*fuel.valve));
  if (fuel.dial && fuel.dial->at == propane::Dial::At::reading)
    to.quantity("gauge", fuel.dial->fraction, Dimension::percent);
  else if (fuel.dial)
    to.words("gauge", fuel.dial->at == propane::Dial::At::top ? "top" : "bottom");
  if (fuel.weighed) to.quantity("weighed", fuel.weighed->in(kilogram), Dimension::mass);
  if (fuel.gauge_pressure)
    to.quantity("gauge_pressure", fuel.gauge_pressure->from_origin().in(pascal), Dimension::fuel_pressure);
  if (fuel.charged) to.raw("charged", "true");
  if (fuel.outdoors) to.raw("outdoors", "true");
}

void write_person(TomlLines& to, const people::Person& person) {
  to.one_of("aboard");
  to.words("role", name_of(person.role));
  to.words_if_any("name", person.name);
  to.quantity("mass", person.mass.in(kilogram), Dimension::mass);
  if (person.basis != people::MassBasis::stated) to.words("basis", name_of(person.basis));
  if (person.bags) to.quantity("bags", person.bags->in(kilogram), Dimension::mass);
  if (person.height) to.quantity("height", person.height->in(metre), Dimension::length);
}

void write_look(TomlLines& to, const sheet::Look& look) {
  to.one_of("look");
  to.words("what", look.what);
  const auto dimension = [&] {
    if (look.value->kind == MeasureKind::speed_wind) return Dimension::speed;
    return look.value->kind == MeasureKind::height ? Dimension::altitude : Dimension::distance;
  };
  if (!look.words.empty() || !look.value)
    to.words("value", look.words);
  else
    to.quantity("value", look.value->si, dimension());
  to.raw("time", iso8601(look.time));
}

std::string list_of(const std::vector<Date>& dates) {
  std::string out;
  for (const Date& date : dates) out += (out.empty() ? "" : ", ") + iso8601(date);
  return "[" + out + "]";
}

std::string row_of(const people::LoggedFlight& flight) {
  return "[" + iso8601(flight.date) + ", " + toml_number(flight.in_command.in(hour)) + ", " +
         std::to_string(flight.take_offs) + ", " + std::to_string(flight.landings) +
         (flight.in_class ? "]" : ", \"other class\"]");
}

void write_pilot(TomlLines& to, const people::Pilot& pilot) {
  TomlLines table{to.taste()};
  const auto date = [&](std::string_view key, const std::optional<Date>& day) {
    if (day) table.raw(key, iso8601(*day));
  };
  const auto dates = [&](std::string_view key, const std::vector<Date>& days) {
    if (!days.empty()) table.raw(key, list_of(days));
  };
  const auto truth = [&](std::string_view key, const std::optional<bool>& is_so) {
    if (is_so) table.raw(key, *is_so ? "true" : "false");
  };
  if (pilot.certificate) table.words("certificate", *pilot.certificate);
  date("review", pilot.review);
  dates("landings", pilot.landings);
  dates("night_landings", pilot.night_landings);
  date("medical_until", pilot.medical_until);
  truth("for_hire", pilot.for_hire);
  truth("training_given", pilot.training_given);
  std::string rows;
  for (const people::LoggedFlight& flight : pilot.log.flights) rows += "  " + row_of(flight) + ",\n";
  if (!rows.empty()) table.raw("flights", "[\n" + rows + "]");
  date("training_flight", pilot.log.training_flight);
  date("check", pilot.log.check);
  dates("supervised", pilot.log.supervised);
  date("refresher", pilot.log.refresher);
  if (pilot.trained_volume) table.quantity("trained_volume", pilot.trained_volume->in(cubic_metre), Dimension::volume);
  if (pilot.locator) table.words("locator", name_of(*pilot.locator));
  to.table_if_any("pilot", table);
}

void write_minimum(TomlLines& to, const sheet::OwnMinimum& minimum) {
  TomlLines table{to.taste()};
  if (minimum.surface_wind)
    table.quantity("surface_wind", minimum.surface_wind->in(metre_per_second), Dimension::speed);
  if (minimum.reserve) table.quantity("reserve", minimum.reserve->in(second), Dimension::duration);
  if (minimum.visibility) table.quantity("visibility", minimum.visibility->in(metre), Dimension::distance);
  if (minimum.spread) table.quantity("spread", minimum.spread->in(kelvin), Dimension::temperature_delta);
  if (minimum.cloud_base) table.quantity("cloud_base", minimum.cloud_base->in(metre), Dimension::altitude);
  to.table_if_any("minimum", table);
}

void write_place(TomlLines& to, const sheet::Place& place) {
  to.one_of("place");
  to.words("name", place.name);
  to.raw("at", list_of(place.at));
  if (place.radius != sheet::Place{}.radius) to.quantity("radius", place.radius.in(metre), Dimension::distance);
}

void write_landing(TomlLines& to, const sheet::LandingPlan& plan) {
  TomlLines table{to.taste()};
  if (plan.obstacle) table.quantity("obstacle", plan.obstacle->in(metre), Dimension::altitude);
  if (plan.room) table.quantity("room", plan.room->in(metre), Dimension::distance);
  to.table_if_any("landing", table);
}

void write_pasted(TomlLines& to, const Pasted& pasted) {
  to.one_of("report");
  if (pasted.station) to.words("station", *pasted.station);
  to.words("text", pasted.text);
}

}  // namespace

std::string write_flight(const FlightFile& file, const FlightWriting& how) {
  const sheet::Flight& flight = file.flight;
  const auto is_kept = [&](std::string_view key) {
    return std::any_of(how.kept.begin(), how.kept.end(), [&](const TomlMember& m) { return m.key == key; });
  };
  TomlLines to{how.taste};
  to.words("balloon", file.balloon);
  if (flight.as_of) to.raw("as_of", iso8601(*flight.as_of));
  to.raw("time", iso8601(flight.time));
  to.quantity("planned", flight.planned.in(second), Dimension::duration);
  if (flight.rules) to.words("rules", name_of(*flight.rules));
  if (file.pilot_file && !is_kept("pilot_file")) to.words("pilot_file", *file.pilot_file);
  if (flight.hot && !is_kept("hot")) to.raw("hot", "true");
  for (const TomlMember& member : how.kept)
    if (!is_headed(member.value)) to.member(member);
  write_field(to, flight.field);
  for (const sheet::FuelSeen& fuel : flight.fuel) write_fuel(to, fuel);
  if (flight.highest) {
    to.table("highest");
    to.quantity("above_field", flight.highest->from_origin().in(metre), Dimension::altitude);
  }
  for (const people::Person& person : flight.aboard) write_person(to, person);
  for (const wind::Ladder& ladder : flight.ladders) write_ladder(to, ladder, flight);
  for (const Pasted& pasted : how.pasted) write_pasted(to, pasted);
  if (how.pasted.empty())
    for (const wind::SurfaceReport& report : flight.reports) write_pasted(to, {report.text});
  for (const sheet::Look& look : flight.looks) write_look(to, look);
  if (!is_kept("place"))
    for (const sheet::Place& place : flight.places) write_place(to, place);
  if (!is_kept("landing")) write_landing(to, flight.landing);
  if (!is_kept("pilot")) write_pilot(to, flight.pilot);
  if (!is_kept("minimum")) write_minimum(to, flight.minimum);
  if (flight.fitness && !is_kept("fitness")) {
    to.table("fitness");
    to.raw("fit", flight.fitness->fit ? "true" : "false");
    to.raw("time", iso8601(flight.fitness->time));
  }
  for (const sheet::AcceptedLimit& accepted : flight.accepted) {
    to.one_of("accept");
    to.words("limit", accepted.limit);
    to.words("reason", accepted.reason);
    to.raw("time", iso8601(accepted.time));
  }
  for (const TomlMember& member : how.kept)
    if (is_headed(member.value)) to.member(member);
  return to.text();
}

}  // namespace pappus::text
