#include "formats/text/pilot/balloon_file.hpp"

#include <cmath>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "formats/text/pilot/toml_cursor.hpp"

namespace pappus::text {
namespace {

using balloon::Balloon;
using balloon::Burner;
using balloon::Cylinder;

void read_envelope(const Table& table, balloon::Envelope& out) {
  table.need("volume", out.volume, {"issue.envelope_volume", "100m3", "20000m3"});
  table.need("mass", out.mass, {"issue.envelope_mass", "5kg", "1500kg"});
  table.may("crown_limit", out.crown_limit, {"issue.crown_limit", "60C", "180C"});
  table.may("gross_limit", out.gross_limit, {"issue.gross_limit", "50kg", "10000kg"});
  table.may("launch_wind_limit", out.launch_wind_limit, {"issue.launch_wind_limit", "1kt", "50kt"});
  if (const auto hours = table.find("fabric_hours"))
    if (const auto si = hours->quantity_or_bare(Dimension::duration, "h", {"issue.fabric_hours", "0h", "5000h"}))
      out.fabric_hours = Duration::from_si(*si);
  table.may("inspection", out.inspection);
  const auto vents = table.find("vents");
  if (!vents) return;
  const auto items = vents->items("a list of vents, such as [\"parachute\", \"rapid\"]");
  if (!items) return;
  std::set<balloon::Vent> seen;
  for (const Value& item : *items) {
    const auto vent = Written<balloon::Vent>::read(item, {"issue.vent"});
    if (!vent) continue;
    if (!seen.insert(*vent).second) item.refuse(Errc::conflict, "issue.vent_double", "each vent once");
    out.vents.push_back(*vent);
  }
}

void read_line(const Table& table, balloon::Line& out) {
  table.need("does", out.does);
  table.may("looks", out.looks);
  table.may("side", out.side);
}

void read_basket(const Table& table, balloon::Basket& out) {
  table.need("mass", out.mass, {"issue.basket_mass", "1kg", "1500kg"});
  table.may("people", out.people, {"issue.basket_people", "1", "40"});
  table.may("leads", out.leads);
  if (const auto wall = table.find("wall"))
    if (const auto si = wall->quantity(Dimension::length, {"issue.basket_wall", "0.5m", "2m"})) out.wall = *si * metre;
}

constexpr Rule kServiceHours{"issue.balloon_hours", "0h", "20000h"};
constexpr std::string_view kWantedInspection =
    "date and time in service, such as [2027-03-20, 198.4]; one that was no annual ends with \"hours\"";

// [date, hours], and a word where it was one by time in service only.
std::optional<balloon::Inspection> read_inspection(const Value& row) {
  const auto items = row.items(kWantedInspection);
  if (!items) return std::nullopt;
  constexpr std::size_t least = 2, most = 3;
  if (items->size() < least || items->size() > most) {
    row.refuse(Errc::bad_input, "issue.inspection_entry", std::string(kWantedInspection));
    return std::nullopt;
  }
  balloon::Inspection out;
  const auto date = (*items)[0].date();
  const auto hours = (*items)[1].quantity_or_bare(Dimension::duration, "h", kServiceHours);
  if (items->size() == most) {
    const auto kind = (*items)[2].choice({"annual", "hours"}, {"issue.inspection_kind"});
    if (!kind) return std::nullopt;
    out.annual = *kind == 0;
  }
  if (!date || !hours) return std::nullopt;
  out.done = *date;
  out.at = Duration::from_si(*hours);
  return out;
}

void read_service(const Table& root, Balloon& out) {
  if (const auto hours = root.find("hours"))
    if (const auto si = hours->quantity_or_bare(Dimension::duration, "h", kServiceHours))
      out.hours = Duration::from_si(*si);
  root.may("registration", out.registration);
  const auto inspections = root.find("inspections");
  if (!inspections) return;
  const auto rows = inspections->items("a list of inspections, such as [[2027-03-20, 198.4]]");
  if (!rows) return;
  for (const Value& row : *rows)
    if (const auto inspection = read_inspection(row)) out.inspections.push_back(*inspection);
}

std::optional<balloon::PressureRange> read_pressure(const Value& value) {
  constexpr std::string_view wanted = "the lowest and the highest, such as [\"50psi\", \"150psi\"]";
  constexpr Rule rule{"issue.burner_pressure", "1psi", "500psi"};
  const auto items = value.items(wanted);
  if (!items) return std::nullopt;
  if (items->size() != 2) {
    value.refuse(Errc::bad_input, "issue.burner_pressure_pair", std::string(wanted));
    return std::nullopt;
  }
  const auto low = Written<GaugePressure>::read((*items)[0], rule);
  const auto high = Written<GaugePressure>::read((*items)[1], rule);
  if (!low || !high) return std::nullopt;
  if (*low < *high) return balloon::PressureRange{*low, *high};
  value.refuse(Errc::bad_input, "issue.burner_pressure_pair", std::string(wanted));
  return std::nullopt;
}

void read_burner(const Table& table, Burner& out) {
  table.need("mass", out.mass, {"issue.burner_mass", "1kg", "150kg"});
  table.may("power", out.power, {"issue.burner_power", "100kW", "20MW"});
  table.may("quiet", out.quiet);
  table.may("pilot_light", out.pilot_light, {"issue.pilot_light"});
  if (const auto pressure = table.find("pressure")) out.pressure = read_pressure(*pressure);
}

void read_kit(const Table& table, balloon::Kit& out) {
  table.need("what", out.what);
  table.need("mass", out.mass, {"issue.kit_mass", "0kg", "500kg"});
}

void read_cylinder(const Table& table, Cylinder& out) {
  table.need("id", out.id);
  const bool shell = table.need("shell", out.shell, {"issue.cylinder_shell", "5L", "500L"});
  const bool fill = table.need("level_fill", out.level_fill, {"issue.cylinder_level_fill", "1L", "500L"});
  if (shell && fill && out.level_fill > out.shell)
    table.refuse("level_fill", Errc::conflict, "issue.level_fill_over_shell",
                 "at most the shell, " + table.find("shell")->written());
  table.need("tare", out.tare, {"issue.cylinder_tare", "1kg", "200kg"});
  table.may("gauge_span", out.gauge_span, {"issue.gauge_span", "0%", "100%"});
  table.may("gauge_reads", out.gauge_reads, {"issue.gauge_reads"});
  table.may("attitude", out.attitude, {"issue.cylinder_attitude"});
  if (!table.may("group", out.group)) out.group = out.id;
  table.may("relief", out.relief, {"issue.cylinder_relief", "50psi", "1000psi"});
  table.may("test_due", out.test_due);
  table.may("usable_to", out.usable_to, {"issue.usable_to", "0%", "50%"});
}

// Rules that hold between cylinders.
void check_cylinders(const std::vector<Table>& tables, const std::vector<Cylinder>& cylinders) {
  std::set<std::string> ids, alone;
  for (std::size_t i = 0; i < cylinders.size(); ++i) {
    const std::string& id = cylinders[i].id;
    if (id.empty()) continue;  // told already
    if (!ids.insert(id).second)
      tables[i].refuse("id", Errc::conflict, "issue.cylinder_id_double", "an id of its own for each cylinder");
    if (!tables[i].find("group")) alone.insert(id);
  }
  // A cylinder without a group is a group under its own id: that must not be another's letter by accident.
  for (std::size_t i = 0; i < cylinders.size(); ++i)
    if (tables[i].find("group") && alone.count(cylinders[i].group) > 0)
      tables[i].refuse("group", Errc::conflict, "issue.cylinder_group_is_id",
                       "a group that is not the id of a cylinder without group");
}

template <class T>
void read_each(const std::vector<Table>& tables, std::vector<T>& out, void (*read)(const Table&, T&)) {
  for (const Table& table : tables) read(table, out.emplace_back());
}

Mass empty_mass(const Balloon& b) {
  Mass sum = b.envelope.mass + b.basket.mass;
  for (const Burner& burner : b.burners) sum += burner.mass;
  for (const balloon::Kit& kit : b.kit) sum += kit.mass;
  for (const Cylinder& cylinder : b.cylinders) sum += cylinder.tare;
  return sum;
}

}  // namespace

Parsed<Balloon> parse_balloon(std::string_view toml, std::string_view file) {
  TomlDocument document{toml, file};
  if (!document.is_readable()) return {std::nullopt, document.finish()};
  Balloon out;
  const Table root = document.root();
  root.need("name", out.name);
  root.may("serial", out.serial);
  root.may("year", out.year, {"issue.balloon_year", "1950", "2100"});
  read_service(root, out);
  const Table envelope = root.table("envelope");
  read_envelope(envelope, out.envelope);
  read_each(root.tables("line"), out.lines, read_line);
  read_basket(root.table("basket"), out.basket);
  read_each(root.need_tables("burner", "at least one [[burner]] with its mass"), out.burners, read_burner);
  read_each(root.tables("kit"), out.kit, read_kit);
  const std::vector<Table> cylinders =
      root.need_tables("cylinder", "at least one [[cylinder]] with id, shell, level_fill and tare");
  read_each(cylinders, out.cylinders, read_cylinder);
  root.table("supply").may("both_valves_open", out.both_valves_open);
  check_cylinders(cylinders, out.cylinders);
  const Mass empty = empty_mass(out);
  if (out.envelope.gross_limit && *out.envelope.gross_limit <= empty)
    envelope.refuse("gross_limit", Errc::conflict, "issue.gross_limit_under_empty",
                    "more than the balloon weighs without fuel and people: " +
                        print_si(std::round(empty.in(kilogram)), Dimension::mass, "kg"));
  std::vector<Issue> issues = document.finish();
  if (!issues.empty()) return {std::nullopt, std::move(issues)};
  return {std::move(out), {}};
}

}  // namespace pappus::text
