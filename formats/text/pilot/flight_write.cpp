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

void write_field(TomlLines& to, const sheet::Field& field) {
  to.table("field");
  to.words("name", field.name);
  to.raw("at",
         "[" + toml_number(field.at.latitude().in(degree)) + ", " + toml_number(field.at.longitude().in(degree)) + "]");
  to.quantity("elevation", field.elevation.from_origin().in(metre), Dimension::altitude);
  if (field.qnh) to.quantity("qnh", field.qnh->in(pascal), Dimension::air_pressure);
  if (field.airspace) to.words("airspace", name_of(*field.airspace));
}

void write_fuel(TomlLines& to, const sheet::FuelSeen& fuel) {
  to.one_of("fuel");
  to.words("cylinder", fuel.cylinder);
  if (fuel.liquid) to.quantity("liquid", fuel.liquid->in(cubic_metre), Dimension::volume);
  if (fuel.temperature) to.quantity("temperature", fuel.temperature->from_origin().in(kelvin), Dimension::temperature);
  if (fuel.seen) to.raw("seen", iso8601(*fuel.seen));
}

void write_person(TomlLines& to, const people::Person& person) {
  to.one_of("aboard");
  to.words("role", name_of(person.role));
  to.words_if_any("name", person.name);
  to.quantity("mass", person.mass.in(kilogram), Dimension::mass);
  if (person.basis != people::MassBasis::stated) to.words("basis", name_of(person.basis));
  if (person.bags) to.quantity("bags", person.bags->in(kilogram), Dimension::mass);
}

void write_look(TomlLines& to, const sheet::Look& look) {
  to.one_of("look");
  to.words("what", look.what);
  if (!look.words.empty() || !look.value)
    to.words("value", look.words);
  else
    to.quantity("value", look.value->si,
                look.value->kind == MeasureKind::speed_wind ? Dimension::speed : Dimension::distance);
  to.raw("time", iso8601(look.time));
}

void write_pilot(TomlLines& to, const people::Pilot& pilot) {
  if (!pilot.certificate && !pilot.review && pilot.landings.empty()) return;
  to.table("pilot");
  if (pilot.certificate) to.words("certificate", *pilot.certificate);
  if (pilot.review) to.raw("review", iso8601(*pilot.review));
  if (pilot.landings.empty()) return;
  std::string dates;
  for (const Date& date : pilot.landings) dates += (dates.empty() ? "" : ", ") + iso8601(date);
  to.raw("landings", "[" + dates + "]");
}

void write_minimum(TomlLines& to, const sheet::OwnMinimum& minimum) {
  if (!minimum.surface_wind && !minimum.reserve) return;
  to.table("minimum");
  if (minimum.surface_wind) to.quantity("surface_wind", minimum.surface_wind->in(metre_per_second), Dimension::speed);
  if (minimum.reserve) to.quantity("reserve", minimum.reserve->in(second), Dimension::duration);
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
  if (!is_kept("pilot")) write_pilot(to, flight.pilot);
  if (!is_kept("minimum")) write_minimum(to, flight.minimum);
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
