#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "formats/text/air/air_text.hpp"
#include "formats/text/pilot/flight_parts.hpp"
#include "formats/text/pilot/pibal_file.hpp"
#include "formats/text/profile_csv/profile_csv.hpp"

namespace pappus::text {
namespace {

constexpr std::string_view kHalfWind = "issue.ladder_wind_half";

// ---- one wind ladder

enum class Quality { height_agl, height_amsl, direction, speed, temperature_c, temperature_f };

struct ColumnUnit {
  std::string_view written;
  Quality quality;
  double factor;  // to SI
};
constexpr std::array<ColumnUnit, 11> kColumnUnits{{
    {"m agl", Quality::height_agl, 1.0},
    {"ft agl", Quality::height_agl, foot.in(metre)},
    {"m amsl", Quality::height_amsl, 1.0},
    {"ft amsl", Quality::height_amsl, foot.in(metre)},
    {"deg true from", Quality::direction, 1.0},
    {"kt", Quality::speed, knot.in(metre_per_second)},
    {"m/s", Quality::speed, 1.0},
    {"mph", Quality::speed, mile_per_hour.in(metre_per_second)},
    {"km/h", Quality::speed, kilometre_per_hour.in(metre_per_second)},
    {"C", Quality::temperature_c, 1.0},
    {"F", Quality::temperature_f, 1.0},
}};
constexpr std::string_view kMagneticDirection = "deg mag from";
constexpr std::string_view kWantedUnits =
    "a height, \"deg true from\", a speed and maybe a temperature, such as [\"m agl\", \"deg true from\", \"kt\", "
    "\"C\"]";

// Which column holds what; a column that is absent is none.
struct Columns {
  std::size_t count = 0;
  std::optional<std::size_t> height, direction, speed, temperature;
  std::vector<const ColumnUnit*> units;
};

std::optional<std::size_t>& place_of(Columns& columns, Quality quality) {
  switch (quality) {
    case Quality::height_agl:
    case Quality::height_amsl: return columns.height;
    case Quality::direction: return columns.direction;
    case Quality::speed: return columns.speed;
    case Quality::temperature_c:
    case Quality::temperature_f: return columns.temperature;
  }
  return columns.temperature;
}

std::optional<Columns> read_columns(const Value& value) {
  const auto items = value.items(kWantedUnits);
  if (!items) return std::nullopt;
  std::vector<std::string_view> known;
  for (const ColumnUnit& unit : kColumnUnits) known.push_back(unit.written);
  Columns columns;
  columns.count = items->size();
  bool good = true;
  for (std::size_t i = 0; i < items->size(); ++i) {
    const Value& item = (*items)[i];
    if (item.node().kind == TomlKind::text && item.node().text == kMagneticDirection) {
      item.refuse(Errc::bad_input, "issue.ladder_magnetic", "directions turned to true north, and \"deg true from\"");
      good = false;
      continue;
    }
    const auto index = item.choice(known, {"issue.ladder_unit"});
    if (!index) {
      good = false;
      continue;
    }
    const ColumnUnit& unit = kColumnUnits[*index];
    columns.units.push_back(&unit);
    std::optional<std::size_t>& place = place_of(columns, unit.quality);
    if (place) {
      item.refuse(Errc::conflict, "issue.ladder_units_double", std::string(kWantedUnits));
      good = false;
    }
    place = i;
  }
  if (!good) return std::nullopt;
  if (columns.height && columns.direction && columns.speed) return columns;
  value.refuse(Errc::bad_input, "issue.ladder_units_missing", std::string(kWantedUnits));
  return std::nullopt;
}

// A cell: none where it is refused, not finite where it is not known.
std::optional<double> read_cell(const Value& cell) {
  const TomlNode& node = cell.node();
  if (node.kind == TomlKind::integer || (node.kind == TomlKind::number && !std::isinf(node.number))) return node.number;
  if (node.kind == TomlKind::text && node.text.empty()) return std::nan("");
  cell.refuse(Errc::bad_input, "issue.ladder_cell",
              "a number in the unit of its column, or \"\" where it is not known");
  return std::nullopt;
}

struct CellRule {
  std::string_view issue;
  double low, high;  // SI
  std::string_view wanted;
};
constexpr CellRule kAgl{"issue.ladder_height", 0.0, 20000.0, "0 to 20000 m above the field"};
constexpr CellRule kAmsl{"issue.ladder_height", -430.0, 20000.0, "-430 to 20000 m above mean sea level"};
constexpr CellRule kDirection{"issue.ladder_direction", 0.0, 360.0, "0 to 360"};
constexpr CellRule kSpeed{"issue.ladder_speed", 0.0, 150.0 * knot.in(metre_per_second), "0 to 150 kt"};
constexpr CellRule kTemperature{"issue.ladder_temperature", 183.15, 333.15, "-90 to 60 C"};

const CellRule& rule_of(Quality quality) {
  switch (quality) {
    case Quality::height_agl: return kAgl;
    case Quality::height_amsl: return kAmsl;
    case Quality::direction: return kDirection;
    case Quality::speed: return kSpeed;
    case Quality::temperature_c:
    case Quality::temperature_f: return kTemperature;
  }
  return kTemperature;
}

double to_si(double number, const ColumnUnit& unit) {
  if (unit.quality == Quality::temperature_c) return celsius(number).from_origin().in(kelvin);
  if (unit.quality == Quality::temperature_f) return fahrenheit(number).from_origin().in(kelvin);
  return number * unit.factor;
}

// The cells of a row in SI, not finite where not known; none where something is refused.
std::optional<std::vector<double>> read_cells(const Value& row, const Columns& columns) {
  const auto items = row.items("a row of numbers, such as [150, 215, 9, 9]");
  if (!items) return std::nullopt;
  if (items->size() != columns.count) {
    row.refuse(Errc::bad_input, "issue.ladder_row_length",
               std::to_string(columns.count) + " cells, one for each of `units`");
    return std::nullopt;
  }
  std::vector<double> cells;
  for (std::size_t i = 0; i < items->size(); ++i) {
    const Value& item = (*items)[i];
    const auto number = read_cell(item);
    if (!number) continue;
    const ColumnUnit& unit = *columns.units[i];
    const CellRule& rule = rule_of(unit.quality);
    const double si = to_si(*number, unit);
    const bool unknown_height = std::isnan(si) && i == columns.height;
    if (unknown_height || si < rule.low || si > rule.high)
      item.refuse(Errc::bad_input, rule.issue, std::string(rule.wanted));
    else
      cells.push_back(si);
  }
  if (cells.size() != columns.count) return std::nullopt;
  return cells;
}

std::optional<wind::Wind> wind_of(double direction_deg, double speed_m_s) {
  if (speed_m_s == 0.0) return wind::Wind{};
  if (std::isnan(direction_deg) || std::isnan(speed_m_s)) return std::nullopt;
  return wind::Wind::from(TrueBearing::at(direction_deg * degree), speed_m_s * metre_per_second);
}

void read_rows(const Value& value, const Columns& columns, std::optional<AltitudeAmsl> ground,
               std::vector<wind::LadderRow>& out) {
  const auto items = value.items("rows, such as [[0, 100, 2, 3], [150, 215, 9, 9]]");
  if (!items) return;
  if (items->empty()) value.refuse(Errc::bad_input, "issue.ladder_rows", "at least one row");
  std::optional<double> below;
  for (const Value& row : *items) {
    const auto cells = read_cells(row, columns);
    if (!cells) continue;
    const double height = (*cells)[*columns.height];
    const double direction = (*cells)[*columns.direction], speed = (*cells)[*columns.speed];
    if (below && height <= *below) {
      row.refuse(Errc::conflict, height == *below ? "issue.ladder_double" : "issue.ladder_not_rising",
                 "each row higher than the one before");
      continue;
    }
    below = height;
    wind::LadderRow found;
    const bool is_agl = columns.units[*columns.height]->quality == Quality::height_agl;
    if (is_agl && !ground) continue;  // the missing elevation has been told
    found.altitude = is_agl ? above(*ground, agl(height * metre)) : amsl(height * metre);
    found.wind = wind_of(direction, speed);
    if (!found.wind && std::isnan(direction) != std::isnan(speed))
      row.refuse(Errc::no_data, kHalfWind, "direction and speed together");
    if (columns.temperature && !std::isnan((*cells)[*columns.temperature]))
      found.temperature = Temperature::at((*cells)[*columns.temperature] * kelvin);
    out.push_back(found);
  }
}

void read_ladder(const FlightParts& parts, const Table& table) {
  wind::Ladder ladder;
  table.need("by", ladder.source.kind, {"issue.wind_by"});
  Moment seen;
  // A forecast is dated by the time it speaks of, which may lie ahead.
  if (table.need("seen", seen) && ladder.source.kind != wind::SourceKind::forecast)
    parts.check_seen(table, "seen", seen);
  ladder.source.time = seen.at;
  ladder.source.name = std::string(name_of(ladder.source.kind));
  table.may("name", ladder.source.name);
  const auto units = table.find("units"), rows = table.find("rows");
  if (!units) table.missing("units", std::string(kWantedUnits));
  if (!rows) table.missing("rows", "rows, such as [[0, 100, 2, 3], [150, 215, 9, 9]]");
  if (units) {
    const auto columns = read_columns(*units);
    if (columns && rows) read_rows(*rows, *columns, parts.ground, ladder.rows);
  }
  parts.out.flight.ladders.push_back(std::move(ladder));
  parts.out.ladder_places.push_back(table.where("seen"));
}

// ---- texts that others wrote

// A text in the file, or in one beside it.
struct TextFound {
  Value value;       // that holds it, or names it
  std::string text;  // all of it
  std::string file;  // empty where it stands in the flight file
};

std::optional<TextFound> read_text(const FlightParts& parts, const Table& table, std::string_view wanted) {
  const auto text = table.find("text"), file = table.find("file");
  if (text && file) {
    file->refuse(Errc::conflict, "issue.text_and_file", "either text or file");
    return std::nullopt;
  }
  if (!text && !file) {
    table.missing("text", std::string(wanted));
    return std::nullopt;
  }
  const Value& value = text ? *text : *file;
  auto words = value.words();
  if (!words) return std::nullopt;
  if (text) return TextFound{value, std::move(*words), {}};
  if (!parts.read_beside) {
    value.refuse(Errc::no_data, "issue.file_beside", "the text itself, as text = \"\"\"...\"\"\"");
    return std::nullopt;
  }
  auto read = parts.read_beside(*words);
  if (!read) {
    read.error().got = *words;
    value.refuse(std::move(read.error()));
    return std::nullopt;
  }
  return TextFound{value, std::move(*read), std::move(*words)};
}

void tell_inside(const FlightParts& parts, const TextFound& found, Issue issue) {
  if (found.file.empty())
    issue.where = parts.place_in_text(found.value, issue.where);
  else
    issue.where = {found.file, issue.where.line, issue.where.column, found.value.where().key};
  parts.document.tell(std::move(issue));
}

template <class T>
void append(std::vector<T>& to, std::vector<T>& from) {
  to.insert(to.end(), std::make_move_iterator(from.begin()), std::make_move_iterator(from.end()));
}

// What a text holds shows by itself, whether it was called a report or a forecast.
void read_air_told(const FlightParts& parts, const Table& table) {
  StationWanted station;
  table.may("station", station.id);
  table.may("station_elevation", station.elevation, {"issue.field_elevation", "-430m", "6000m"});
  const auto found = read_text(parts, table, "text = \"...\" as pasted, or file = \"...\", a file beside this one");
  // Without a time the day of a report cannot be told; that the time is missing has been.
  if (!found || !parts.present) return;
  Parsed<AirTold> read = read_air(found->text, parts.present->at, station);
  for (Issue& issue : read.issues) {
    if (issue.where.key == "station") {
      issue.where = table.where("station");
      parts.document.tell(std::move(issue));
    } else {
      tell_inside(parts, *found, std::move(issue));
    }
  }
  if (!read.value) return;
  sheet::Flight& flight = parts.out.flight;
  append(flight.reports, read.value->reports);
  append(flight.forecasts, read.value->forecasts);
  // Such a ladder is dated by its own text.
  parts.out.ladder_places.resize(parts.out.ladder_places.size() + read.value->ladders.size());
  append(flight.ladders, read.value->ladders);
}

constexpr std::array<wind::SourceKind, 4> kProfileKinds{wind::SourceKind::forecast, wind::SourceKind::sounding,
                                                        wind::SourceKind::seen, wind::SourceKind::pibal};

std::optional<wind::SourceKind> read_profile_kind(const Table& table) {
  std::vector<std::string_view> names;
  for (const wind::SourceKind kind : kProfileKinds) names.push_back(name_of(kind));
  const auto by = table.find("by");
  if (!by) {
    table.missing("by", one_of(names));
    return std::nullopt;
  }
  const auto index = by->choice(names, {"issue.wind_by"});
  return index ? std::optional{kProfileKinds[*index]} : std::nullopt;
}

// A map's faults stand in the text of the map.
std::optional<ProfileMap> read_map(const FlightParts& parts, const Table& table) {
  constexpr std::string_view wanted =
      "which column holds what, such as \"height=1 m agl, from=2 deg true, speed=3 kt, temperature=4 C\"";
  const auto columns = table.find("columns");
  if (!columns) {
    table.missing("columns", std::string(wanted));
    return std::nullopt;
  }
  const auto spec = columns->words();
  if (!spec) return std::nullopt;
  Parsed<ProfileMap> map = parse_profile_map(*spec);
  for (Issue& issue : map.issues) {
    issue.where = parts.place_in_text(*columns, {{}, 1, issue.where.column, {}});
    parts.document.tell(std::move(issue));
  }
  return std::move(map.value);
}

bool asks_for(const ProfileMap& map, ProfileQuality quality) {
  return std::any_of(map.columns.begin(), map.columns.end(),
                     [quality](const ProfileColumn& column) { return column.quality == quality; });
}

void read_profile(const FlightParts& parts, const Table& table) {
  const auto kind = read_profile_kind(table);
  Moment time;
  const bool timed = table.need("time", time);
  if (timed && kind && *kind != wind::SourceKind::forecast) parts.check_seen(table, "time", time);
  std::string name = kind ? std::string(name_of(*kind)) : std::string{};
  table.may("name", name);
  const auto variation = table.find("variation");
  std::optional<double> east_deg;
  if (variation) east_deg = variation->quantity(Dimension::angle, {"issue.pibal_variation", "-180deg", "180deg"});
  const auto map = read_map(parts, table);
  const auto found = read_text(parts, table, "text = \"...\", or file = \"...\", a table beside this file");
  if (!kind || !timed || !map || !found || (variation && !east_deg)) return;

  ProfileContext context{{*kind, name, time.at}, parts.ground, std::nullopt};
  // The missing place or elevation has been told.
  if (asks_for(*map, ProfileQuality::height_agl) && !parts.ground) return;
  if (east_deg) context.variation = Variation{*east_deg * degree};
  if (asks_for(*map, ProfileQuality::from_magnetic) && !context.variation) {
    if (!parts.at || !parts.ground) return;
    auto computed = variation_at({parts.at, parts.ground}, time.at);
    if (!computed) {
      table.find("columns")->refuse(std::move(computed.error()));
      return;
    }
    context.variation = *computed;
  }
  Parsed<wind::Ladder> ladder = parse_profile_csv(found->text, *map, context);
  for (Issue& issue : ladder.issues) tell_inside(parts, *found, std::move(issue));
  if (!ladder.value) return;
  parts.out.flight.ladders.push_back(std::move(*ladder.value));
  parts.out.ladder_places.push_back(table.where("time"));
}

void read_pibal_seen(const FlightParts& parts, const Table& table) {
  auto readings = read_pibal(table, {parts.at, parts.ground}, true);
  if (!readings) return;
  parts.check_seen(table, "released", *readings->released);
  parts.out.flight.pibals.push_back(std::move(readings->seen));
  parts.out.pibal_places.push_back(table.where("released"));
}

}  // namespace

void read_sources(const FlightParts& parts, const Table& root) {
  for (const Table& table : root.tables("wind")) read_ladder(parts, table);
  for (const Table& table : root.tables("report")) read_air_told(parts, table);
  for (const Table& table : root.tables("forecast")) read_air_told(parts, table);
  for (const Table& table : root.tables("profile")) read_profile(parts, table);
  for (const Table& table : root.tables("pibal")) read_pibal_seen(parts, table);
}

}  // namespace pappus::text
