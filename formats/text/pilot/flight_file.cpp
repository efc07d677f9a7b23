#include "formats/text/pilot/flight_file.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <tuple>
#include <utility>

#include "core/sheet/flight_sheet.hpp"
#include "formats/text/metar/metar.hpp"
#include "formats/text/pilot/toml_cursor.hpp"

namespace pappus::text {
namespace {

constexpr std::string_view kHalfWind = "issue.ladder_wind_half";
constexpr std::string_view kReportIssues = "issue.metar_";  // every key of the report reader begins with it

// Clocks are set by hand: what is seen up to this much after the file was put together is taken.
constexpr Duration kClockSlack = minute;
constexpr std::string_view kSeenLater = "issue.seen_later";

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

// In the unit in which it was probably written.
std::string shortest(Volume volume) {
  std::string best;
  for (const std::string_view unit : units_of(Dimension::volume)) {
    std::string text = print_si(volume.in(cubic_metre), Dimension::volume, unit);
    if (best.empty() || text.size() < best.size()) best = std::move(text);
  }
  return best;
}

// ---- the reader

// Reads one file; its parts share the document, the field's elevation and the time of writing.
class FlightReader {
 public:
  FlightReader(std::string_view toml, std::string_view file) : document_{toml, file} {}

  Parsed<FlightFile> read() {
    if (!document_.is_readable()) return {std::nullopt, document_.finish()};
    const Table root = document_.root();
    sheet::Flight& flight = out_.flight;
    root.need("balloon", out_.balloon);
    root.may("as_of", flight.as_of);
    const bool time = root.need("time", flight.time);
    root.need("planned", flight.planned, {"issue.planned", "5min", "8h"});
    root.may("rules", flight.rules, {"issue.rules"});
    if (flight.as_of)
      present_ = flight.as_of;
    else if (time)
      present_ = flight.time;
    read_field(root.table("field"));
    read_fuel(root.tables("fuel"));
    root.table("highest").may("above_field", flight.highest, {"issue.highest_above_field", "10m", "9000m"});
    read_aboard(root.need_tables("aboard", "at least one [[aboard]] with role = \"pilot\" and mass"));
    for (const Table& table : root.tables("wind")) read_ladder(table);
    for (const Table& table : root.tables("report")) read_report(table);
    for (const Table& table : root.tables("look")) read_look(table);
    read_pilot(root.table("pilot"));
    const Table minimum = root.table("minimum");
    minimum.may("surface_wind", flight.minimum.surface_wind, {"issue.minimum_surface_wind", "0kt", "50kt"});
    minimum.may("reserve", flight.minimum.reserve, {"issue.minimum_reserve", "0min", "5h"});

    for (const Table& table : root.tables("accept")) read_acceptance(table);

    std::vector<Issue> issues = document_.finish();
    if (!std::all_of(issues.begin(), issues.end(), is_warning)) return {std::nullopt, std::move(issues)};
    return {std::move(out_), std::move(issues)};
  }

 private:
  // A thing cannot be seen in the future.
  void check_seen(const Table& table, std::string_view key, const Moment& seen) const {
    const auto& as_of = out_.flight.as_of;
    if (as_of && seen.at > as_of->at + kClockSlack)
      table.refuse(key, Errc::bad_input, kSeenLater, "not after as_of, " + iso8601(*as_of));
  }

  // Nor can a day that has not come.
  void check_done(const Value& value, const Date& date) const {
    if (present_ && date > present_->date())
      value.refuse(Errc::bad_input, "issue.done_later", "not after " + iso8601(present_->date()));
  }

  void read_field(const Table& table) {
    sheet::Field& field = out_.flight.field;
    table.need("name", field.name);
    if (table.need("elevation", field.elevation, {"issue.field_elevation", "-430m", "6000m"}))
      ground_ = field.elevation;
    table.may("qnh", field.qnh, {"issue.field_qnh", "850hPa", "1085hPa"});
    table.may("airspace", field.airspace, {"issue.field_airspace"});
    constexpr std::string_view wanted = "[latitude, longitude] in degrees, such as [38.90, -133.40]";
    const auto at = table.find("at");
    if (!at) {
      table.missing("at", std::string(wanted));
      return;
    }
    const auto items = at->items(wanted);
    if (!items) return;
    const auto is_number = [](const Value& v) {
      return v.node().kind == TomlKind::integer || v.node().kind == TomlKind::number;
    };
    if (items->size() != 2 || !std::all_of(items->begin(), items->end(), is_number)) {
      at->refuse(Errc::bad_input, "issue.field_position", std::string(wanted));
      return;
    }
    const double latitude = (*items)[0].node().number, longitude = (*items)[1].node().number;
    if (const auto position = Position::at(latitude * degree, longitude * degree)) {
      field.at = *position;
      return;
    }
    const bool latitude_wrong = !(latitude >= -90.0 && latitude <= 90.0);
    if (latitude_wrong)
      (*items)[0].refuse(Errc::bad_input, "issue.field_latitude", "-90 to 90, latitude first");
    else
      (*items)[1].refuse(Errc::bad_input, "issue.field_longitude", "-180 to 180, longitude second");
  }

  void read_fuel(const std::vector<Table>& tables) {
    std::set<std::string> named;
    for (const Table& table : tables) {
      sheet::FuelSeen& fuel = out_.flight.fuel.emplace_back();
      if (table.need("cylinder", fuel.cylinder) && !named.insert(fuel.cylinder).second)
        table.refuse("cylinder", Errc::conflict, "issue.fuel_double", "one [[fuel]] for each cylinder");
      table.may("liquid", fuel.liquid, {"issue.fuel_liquid", "0L", "500L"});
      table.may("temperature", fuel.temperature, {"issue.fuel_temperature", "-50C", "60C"});
      if (table.may("seen", fuel.seen)) check_seen(table, "seen", *fuel.seen);
      out_.fuel_places.push_back({table.where("cylinder"), table.where("liquid"), table.where("seen")});
    }
  }

  void read_aboard(const std::vector<Table>& tables) {
    constexpr std::string_view wanted = "exactly one [[aboard]] with role = \"pilot\": the pilot in command";
    const Table* pilot = nullptr;
    bool all_roles = true;
    for (const Table& table : tables) {
      people::Person& person = out_.flight.aboard.emplace_back();
      const bool role = table.need("role", person.role, {"issue.aboard_role"});
      all_roles = all_roles && role;
      table.may("name", person.name);
      table.need("mass", person.mass, {"issue.aboard_mass", "15kg", "250kg"});
      table.may("basis", person.basis, {"issue.aboard_basis"});
      table.may("bags", person.bags, {"issue.aboard_bags", "0kg", "100kg"});
      if (!role || person.role != people::Role::pilot) continue;
      if (pilot != nullptr) table.refuse("role", Errc::conflict, "issue.aboard_pilots", std::string(wanted));
      pilot = &table;
    }
    // Where a role could not be read, that may be the pilot's, and it has been told.
    if (pilot == nullptr && !tables.empty() && all_roles)
      tables.front().refuse("role", Errc::bad_input, "issue.aboard_no_pilot", std::string(wanted));
  }

  void read_ladder(const Table& table) {
    wind::Ladder ladder;
    table.need("by", ladder.source.kind, {"issue.wind_by"});
    Moment seen;
    // A forecast is dated by the time it speaks of, which may lie ahead.
    if (table.need("seen", seen) && ladder.source.kind != wind::SourceKind::forecast) check_seen(table, "seen", seen);
    ladder.source.time = seen.at;
    ladder.source.name = std::string(name_of(ladder.source.kind));
    table.may("name", ladder.source.name);
    const auto units = table.find("units"), rows = table.find("rows");
    if (!units) table.missing("units", std::string(kWantedUnits));
    if (!rows) table.missing("rows", "rows, such as [[0, 100, 2, 3], [150, 215, 9, 9]]");
    if (units) {
      const auto columns = read_columns(*units);
      if (columns && rows) read_rows(*rows, *columns, ground_, ladder.rows);
    }
    out_.flight.ladders.push_back(std::move(ladder));
    out_.ladder_places.push_back(table.where("seen"));
  }

  void read_report(const Table& table) {
    std::string text;
    // Without a time the day of a report cannot be told; that the time is missing has been.
    if (!table.need("text", text) || !present_) return;
    Parsed<std::vector<wind::SurfaceReport>> found = parse_metar(text, present_->at);
    const Value value = *table.find("text");
    for (Issue& issue : found.issues) {
      issue.where = place_in_text(value, issue.where);
      document_.tell(std::move(issue));
    }
    if (!found.value) return;
    std::vector<wind::SurfaceReport>& reports = out_.flight.reports;
    reports.insert(reports.end(), std::make_move_iterator(found.value->begin()),
                   std::make_move_iterator(found.value->end()));
  }

  // The place in the file of a place in a text. Escapes move it; it never leaves the text's lines.
  Where place_in_text(const Value& value, const Where& inside) const {
    const TomlSpan& span = value.node().span;
    Where out = value.where();
    if (inside.line < 1) return out;
    if (span.line == span.end_line) {
      out.column = span.column + std::max(inside.column, 1);  // behind the quote
      return out;
    }
    // A line break right behind the opening quotes is not part of the text.
    const std::string_view opening = document_.rest_of_line(span.line, span.column);
    const bool text_starts_below = opening.find_first_not_of("\"'\r") == std::string_view::npos;
    const int first = text_starts_below ? span.line + 1 : span.line;
    out.line = std::min(first + inside.line - 1, span.end_line);
    constexpr int quotes = 3;
    out.column =
        out.line == span.line ? span.column + quotes + std::max(inside.column, 1) - 1 : std::max(inside.column, 1);
    return out;
  }

  // Visibility always is one; a storm is far or near, or "none" and other words.
  static bool is_distance(std::string_view what, const TomlNode& value) {
    if (what == "visibility") return true;
    const bool begins_as_number = value.kind != TomlKind::text || value.text.find_first_of("0123456789+-.") == 0;
    return what == "storm" && begins_as_number;
  }

  void read_look(const Table& table) {
    static const std::vector<std::string_view> known{"visibility", "cloud", "fog",   "dew",   "frost", "smoke",
                                                     "wind",       "storm", "stock", "wires", "people"};
    sheet::Look look;
    if (const auto what = table.find("what")) {
      if (const auto index = what->choice(known, {"issue.look_what"})) look.what = known[*index];
    } else {
      table.missing("what", one_of(known));
    }
    const auto value = table.find("value");
    if (!value) {
      table.missing("value", look.what == "visibility" ? wanted_for(Dimension::distance) : std::string(kWantedWords));
    } else if (is_distance(look.what, value->node())) {
      if (const auto si = value->quantity(Dimension::distance, {"issue.look_distance", "0m", "300km"})) {
        look.value = measure::distance(*si * metre);
        look.words = value->node().text;
      }
    } else if (const auto words = value->words()) {
      look.words = *words;
    }
    if (table.need("time", look.time)) check_seen(table, "time", look.time);
    out_.flight.looks.push_back(std::move(look));
    out_.look_places.push_back(table.where("time"));
  }

  void read_acceptance(const Table& table) {
    sheet::AcceptedLimit accepted;
    if (const auto limit = table.find("limit")) {
      if (const auto index = limit->choice(sheet::limit_names(), {"issue.accept_limit"}))
        accepted.limit = sheet::limit_names()[*index];
    } else {
      table.missing("limit", one_of(sheet::limit_names()));
    }
    table.need("reason", accepted.reason);
    if (table.need("time", accepted.time)) check_seen(table, "time", accepted.time);
    out_.flight.accepted.push_back(std::move(accepted));
  }

  void read_pilot(const Table& table) {
    people::Pilot& pilot = out_.flight.pilot;
    table.may("certificate", pilot.certificate);
    if (table.may("review", pilot.review)) check_done(*table.find("review"), *pilot.review);
    const auto landings = table.find("landings");
    if (!landings) return;
    const auto items = landings->items("a list of dates, such as [2027-02-15, 2027-03-06]");
    if (!items) return;
    for (const Value& item : *items)
      if (const auto date = item.date()) {
        check_done(item, *date);
        pilot.landings.push_back(*date);
      }
  }

  TomlDocument document_;
  FlightFile out_;
  std::optional<AltitudeAmsl> ground_;
  std::optional<Moment> present_;
};

}  // namespace

Parsed<FlightFile> parse_flight(std::string_view toml, std::string_view file) {
  return FlightReader{toml, file}.read();
}

bool is_warning(const Issue& issue) {
  const std::string_view key = issue.sentence.key;
  return key == kHalfWind || key.substr(0, kReportIssues.size()) == kReportIssues;
}

std::vector<Issue> cross_check(const balloon::Balloon& balloon, const FlightFile& file, std::optional<Instant> now) {
  std::vector<Issue> out;
  std::vector<std::string_view> ids;
  for (const balloon::Cylinder& cylinder : balloon.cylinders) ids.emplace_back(cylinder.id);
  const auto tell = [&out](Errc code, std::string_view key, const Where& where, std::string got, std::string wanted) {
    out.push_back(Issue{code, say(std::string(key), {{"got", got}}), where, got, std::move(wanted)});
  };
  const auto check_now = [&](const Where& where, Instant seen) {
    if (now && seen > *now + kClockSlack)
      tell(Errc::bad_input, kSeenLater, where, iso8601_utc(seen), "not after the present, " + iso8601_utc(*now));
  };
  const sheet::Flight& flight = file.flight;
  for (std::size_t i = 0; i < flight.fuel.size() && i < file.fuel_places.size(); ++i) {
    const sheet::FuelSeen& fuel = flight.fuel[i];
    const FuelPlaces& places = file.fuel_places[i];
    if (fuel.seen) check_now(places.seen, fuel.seen->at);
    const auto found = std::find(ids.begin(), ids.end(), fuel.cylinder);
    if (found == ids.end()) {
      const std::string_view near = nearest(fuel.cylinder, ids);
      tell(Errc::not_found, "issue.fuel_cylinder_unknown", places.cylinder, excerpt(fuel.cylinder),
           near.empty() ? one_of(ids) : std::string(near) + " (" + one_of(ids) + ")");
      continue;
    }
    const Volume shell = balloon.cylinders[static_cast<std::size_t>(found - ids.begin())].shell;
    if (fuel.liquid && *fuel.liquid > shell)
      tell(Errc::conflict, "issue.fuel_over_shell", places.liquid, shortest(*fuel.liquid),
           "at most the shell, " + shortest(shell));
  }
  for (std::size_t i = 0; i < flight.ladders.size() && i < file.ladder_places.size(); ++i)
    if (flight.ladders[i].source.kind != wind::SourceKind::forecast)
      check_now(file.ladder_places[i], flight.ladders[i].source.time);
  for (std::size_t i = 0; i < flight.looks.size() && i < file.look_places.size(); ++i)
    check_now(file.look_places[i], flight.looks[i].time.at);
  std::stable_sort(out.begin(), out.end(), [](const Issue& a, const Issue& b) {
    return std::tie(a.where.line, a.where.column) < std::tie(b.where.line, b.where.column);
  });
  return out;
}

}  // namespace pappus::text
