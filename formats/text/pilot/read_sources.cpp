#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "formats/text/metar/metar.hpp"
#include "formats/text/pilot/flight_parts.hpp"

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

void read_report(const FlightParts& parts, const Table& table) {
  std::string text;
  // Without a time the day of a report cannot be told; that the time is missing has been.
  if (!table.need("text", text) || !parts.present) return;
  Parsed<std::vector<wind::SurfaceReport>> found = parse_metar(text, parts.present->at);
  const Value value = *table.find("text");
  for (Issue& issue : found.issues) {
    issue.where = parts.place_in_text(value, issue.where);
    parts.document.tell(std::move(issue));
  }
  if (!found.value) return;
  std::vector<wind::SurfaceReport>& reports = parts.out.flight.reports;
  reports.insert(reports.end(), std::make_move_iterator(found.value->begin()),
                 std::make_move_iterator(found.value->end()));
}

}  // namespace

void read_sources(const FlightParts& parts, const Table& root) {
  for (const Table& table : root.tables("wind")) read_ladder(parts, table);
  for (const Table& table : root.tables("report")) read_report(parts, table);
}

}  // namespace pappus::text
