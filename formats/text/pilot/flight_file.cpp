#include "formats/text/pilot/flight_file.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <tuple>
#include <utility>

#include "core/sheet/flight_sheet.hpp"
#include "core/wind/by_eye.hpp"
#include "formats/text/air/air_text.hpp"
#include "formats/text/pilot/flight_parts.hpp"
#include "formats/text/pilot/toml_cursor.hpp"

namespace pappus::text {
namespace {

constexpr std::string_view kHalfWind = "issue.ladder_wind_half";
constexpr std::string_view kNoLayers = "issue.pibal_no_layers";
// What is wrong with a row of a table that others wrote.
constexpr std::array<std::string_view, 7> kTableIssues{
    "issue.profile_short",      "issue.profile_number",      "issue.profile_range", "issue.profile_row_height",
    "issue.profile_row_double", "issue.profile_open_quotes", "issue.profile_none"};

constexpr std::string_view kSeenLater = "issue.seen_later";

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
  FlightReader(std::string_view toml, std::string_view file, const ReadBeside& beside)
      : document_{toml, file}, parts_{document_, out_, std::nullopt, std::nullopt, std::nullopt, beside} {}

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
      parts_.present = flight.as_of;
    else if (time)
      parts_.present = flight.time;
    read_field(root.table("field"));
    read_fuel(root.tables("fuel"));
    root.table("highest").may("above_field", flight.highest, {"issue.highest_above_field", "10m", "9000m"});
    read_aboard(root.need_tables("aboard", "at least one [[aboard]] with role = \"pilot\" and mass"));
    read_sources(parts_, root);
    for (const Table& table : root.tables("look")) read_look(table);
    read_pilot(parts_, root);
    read_plan(parts_, root);
    read_tripwires(parts_, root);
    for (const Table& table : root.tables("accept")) read_acceptance(table);

    std::vector<Issue> issues = document_.finish();
    if (!std::all_of(issues.begin(), issues.end(), is_warning)) return {std::nullopt, std::move(issues)};
    return {std::move(out_), std::move(issues)};
  }

 private:
  void read_field(const Table& table) {
    sheet::Field& field = out_.flight.field;
    table.need("name", field.name);
    if (table.need("elevation", field.elevation, {"issue.field_elevation", "-430m", "6000m"}))
      parts_.ground = field.elevation;
    table.may("qnh", field.qnh, {"issue.field_qnh", "850hPa", "1085hPa"});
    table.may("airspace", field.airspace, {"issue.field_airspace"});
    table.may("ground", field.ground, {"issue.field_ground"});
    table.may("local_minimum_height", field.local_minimum_height, {"issue.field_minimum_height", "0m", "3000m"});
    table.may("over_water", field.over_water);
    parts_.at = read_position(table, "at");
    if (parts_.at) field.at = *parts_.at;
  }

  void read_fuel(const std::vector<Table>& tables) {
    std::set<std::string> named;
    for (const Table& table : tables) {
      sheet::FuelSeen& fuel = out_.flight.fuel.emplace_back();
      if (table.need("cylinder", fuel.cylinder) && !named.insert(fuel.cylinder).second)
        table.refuse("cylinder", Errc::conflict, "issue.fuel_double", "one [[fuel]] for each cylinder");
      table.may("liquid", fuel.liquid, {"issue.fuel_liquid", "0L", "500L"});
      table.may("temperature", fuel.temperature, {"issue.fuel_temperature", "-50C", "60C"});
      if (table.may("seen", fuel.seen)) parts_.check_seen(table, "seen", *fuel.seen);
      read_fuel_evidence(table, fuel);
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
      if (const auto height = table.find("height"))
        if (const auto si = height->quantity(Dimension::length, {"issue.aboard_height", "0.5m", "2.5m"}))
          person.height = *si * metre;
      if (!role || person.role != people::Role::pilot) continue;
      if (pilot != nullptr) table.refuse("role", Errc::conflict, "issue.aboard_pilots", std::string(wanted));
      pilot = &table;
    }
    // Where a role could not be read, that may be the pilot's, and it has been told.
    if (pilot == nullptr && !tables.empty() && all_roles)
      tables.front().refuse("role", Errc::bad_input, "issue.aboard_no_pilot", std::string(wanted));
  }

  static bool begins_as_number(const TomlNode& value) {
    return value.kind != TomlKind::text || value.text.find_first_of("0123456789+-.") == 0;
  }
  // Visibility always is one; a storm is far or near, or "none" and other words.
  static bool is_distance(std::string_view what, const TomlNode& value) {
    return what == "visibility" || (what == "storm" && begins_as_number(value));
  }

  // The wind at the ground: a speed, or one of the handbook's signs.
  static void read_wind_look(const Value& value, sheet::Look& look) {
    const TomlNode& node = value.node();
    if (begins_as_number(node)) {
      if (const auto si = value.quantity(Dimension::speed, {"issue.look_wind_speed", "0kt", "100kt"})) {
        look.value = measure::wind(*si * metre_per_second);
        look.words = node.text;
      }
      return;
    }
    static const std::vector<std::string_view> signs = Written<wind::EyeSign>::names();
    if (const auto index = value.choice(signs, {"issue.look_wind"})) look.words = signs[*index];
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
    } else if (look.what == "wind") {
      read_wind_look(*value, look);
    } else if (is_distance(look.what, value->node())) {
      if (const auto si = value->quantity(Dimension::distance, {"issue.look_distance", "0m", "300km"})) {
        look.value = measure::distance(*si * metre);
        look.words = value->node().text;
      }
    } else if (look.what == "cloud" && begins_as_number(value->node())) {
      if (const auto si = value->quantity(Dimension::altitude, {"issue.look_height", "0m", "12000m"})) {
        look.value = measure::height(*si * metre);
        look.words = value->node().text;
      }
    } else if (const auto words = value->words()) {
      look.words = *words;
    }
    if (table.need("time", look.time)) parts_.check_seen(table, "time", look.time);
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
    if (table.need("time", accepted.time)) parts_.check_seen(table, "time", accepted.time);
    out_.flight.accepted.push_back(std::move(accepted));
  }

  TomlDocument document_;
  FlightFile out_;
  FlightParts parts_;
};

}  // namespace

Parsed<FlightFile> parse_flight(std::string_view toml, std::string_view file, const ReadBeside& read_beside) {
  return FlightReader{toml, file, read_beside}.read();
}

bool is_warning(const Issue& issue) {
  const std::string_view key = issue.sentence.key;
  return key == kHalfWind || key == kNoLayers || is_air_warning(issue) ||
         std::find(kTableIssues.begin(), kTableIssues.end(), key) != kTableIssues.end();
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
    if (file.ladder_places[i].line > 0 && flight.ladders[i].source.kind != wind::SourceKind::forecast)
      check_now(file.ladder_places[i], flight.ladders[i].source.time);
  for (std::size_t i = 0; i < flight.pibals.size() && i < file.pibal_places.size(); ++i)
    check_now(file.pibal_places[i], flight.pibals[i].source.time);
  for (std::size_t i = 0; i < flight.looks.size() && i < file.look_places.size(); ++i)
    check_now(file.look_places[i], flight.looks[i].time.at);
  std::stable_sort(out.begin(), out.end(), [](const Issue& a, const Issue& b) {
    return std::tie(a.where.line, a.where.column) < std::tie(b.where.line, b.where.column);
  });
  return out;
}

}  // namespace pappus::text
