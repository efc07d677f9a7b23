#include "formats/text/pilot/pibal_file.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/air/isa.hpp"
#include "core/sky/variation.hpp"
#include "formats/text/pilot/flight_parts.hpp"

namespace pappus::text {
namespace {

namespace pibal = wind::pibal;

constexpr std::string_view kWantedUnits =
    "the time since the release, the bearing and the elevation: [\"s\", \"deg\", \"deg\"], or \"min\" for \"s\"";
constexpr std::string_view kWantedRows = "rows, such as [[30, 20.0, 39.8], [60, \"\", 37.5]]";
constexpr std::string_view kWantedRow = "a row of three cells: time, bearing, elevation";
constexpr std::string_view kWantedCell = "a number in the unit of its column, or \"\" for a call lost";
constexpr std::size_t kCells = 3;

// The bad signs that the handbook tells a pilot to look for, in the order of FlagKind; the rest comes of the readings.
const std::vector<std::string_view>& signs() {
  static const std::vector<std::string_view> names = [] {
    std::vector<std::string_view> out;
    for (const auto& [kind, name] : Names<pibal::FlagKind>::all)
      if (kind <= pibal::FlagKind::jumps_in_direction) out.push_back(name);
    return out;
  }();
  return names;
}

// One cell of a call, not finite where it is lost.
struct CellRule {
  std::string_view issue, wanted;
  double low, high;  // s, degrees; both inclusive
};
// A toy balloon is out of sight long before two hours have passed.
constexpr std::array<CellRule, kCells> kCellRules{{{"issue.pibal_time", "above 0, at most 2 h", 0.1, 7200.0},
                                                   {"issue.pibal_azimuth", "0 to 360", 0.0, 360.0},
                                                   {"issue.pibal_angle", "-89.9 to 89.9", -89.9, 89.9}}};

bool is_lost(double cell) { return std::isnan(cell); }
bool keeps(const CellRule& rule, double cell) { return cell >= rule.low && cell <= rule.high; }

pibal::Call call_of(const std::array<double, kCells>& cells, North north) {
  pibal::Call call;
  call.since_release = cells[0] * second;
  if (!is_lost(cells[1])) {
    if (north == North::of_the_compass)
      call.azimuth = MagneticBearing::at(cells[1] * degree);
    else
      call.azimuth = TrueBearing::at(cells[1] * degree);
  }
  if (!is_lost(cells[2])) call.elevation = cells[2] * degree;
  return call;
}

// ---- [[pibal]]

std::optional<double> number_of(const Table& table, std::string_view key, Dimension dimension, const Rule& rule) {
  const auto value = table.find(key);
  return value ? value->quantity(dimension, rule) : std::nullopt;
}

// The mass of one of them, and the key under which it stands; none after it was told what is missing or wrong.
std::optional<std::pair<Mass, std::string_view>> read_mass(const Table& table) {
  const auto mass = table.find("mass"), balloons = table.find("balloons"), together = table.find("together");
  if (mass) {
    if (balloons || together)
      mass->refuse(Errc::conflict, "issue.pibal_mass_double", "mass, or balloons with together");
    const auto si = mass->quantity(Dimension::light_mass, {"issue.pibal_mass_written", "0.5g", "100g"});
    if (!si || balloons || together) return std::nullopt;
    return std::pair{*si * kilogram, std::string_view{"mass"}};
  }
  if (!balloons && !together) {
    table.missing("mass", wanted_for(Dimension::light_mass) + "; or balloons = 10 and together = \"30g\"");
    return std::nullopt;
  }
  int count = 0;
  const bool counted = table.need("balloons", count, {"issue.pibal_balloons", "1", "1000"});
  if (!together) {
    table.missing("together", wanted_for(Dimension::light_mass));
    return std::nullopt;
  }
  const auto si = together->quantity(Dimension::light_mass, {"issue.pibal_together", "0.5g", "10kg"});
  if (!counted || !si) return std::nullopt;
  return std::pair{pibal::mean_mass(*si * kilogram, count), std::string_view{"together"}};
}

std::optional<pibal::RiseRate> read_rise(const Table& table, std::optional<AltitudeAmsl> elevation) {
  // Each is looked for, so that none is told as unknown.
  bool sized = false;
  for (const std::string_view key : {"diameter", "mass", "balloons", "together"})
    if (table.find(key)) sized = true;
  Speed stated;
  if (const auto rise = table.find("rise")) {
    if (sized) {
      rise->refuse(Errc::conflict, "issue.pibal_rise_double", "a rise rate, or diameter and mass");
      return std::nullopt;
    }
    if (!table.may("rise", stated, {"issue.pibal_rise", "50ft/min", "1500ft/min"})) return std::nullopt;
    return pibal::stated_rise_rate(stated);
  }
  if (!sized) return pibal::default_rise_rate();
  const auto diameter = number_of(table, "diameter", Dimension::size, {"issue.pibal_size", "15cm", "75cm"});
  if (!table.find("diameter")) table.missing("diameter", wanted_for(Dimension::size));
  const auto mass = read_mass(table);
  if (!diameter || !mass) return std::nullopt;
  auto rate = rise_rate_at(*diameter * metre, mass->first, elevation);
  if (rate) return *rate;
  const Value written = *table.find(mass->second);
  rate.error().got = written.written();  // not the lift that it comes to
  written.refuse(std::move(rate.error()));
  return std::nullopt;
}

// The factor of the times; none after it was told what is wrong.
std::optional<double> read_units(const Table& table) {
  const auto units = table.find("units");
  if (!units) {
    table.missing("units", std::string(kWantedUnits));
    return std::nullopt;
  }
  const auto items = units->items(kWantedUnits);
  if (!items) return std::nullopt;
  const auto is = [&](std::size_t i, std::string_view unit) {
    return (*items)[i].node().kind == TomlKind::text && (*items)[i].node().text == unit;
  };
  if (items->size() == kCells && (is(0, "s") || is(0, "min")) && is(1, "deg") && is(2, "deg"))
    return is(0, "min") ? minute.in(second) : 1.0;
  units->refuse(Errc::bad_input, "issue.pibal_units", std::string(kWantedUnits));
  return std::nullopt;
}

// In SI and degrees; none where something is refused.
std::optional<std::array<double, kCells>> read_cells(const Value& row, double time_factor) {
  const auto items = row.items(kWantedRow);
  if (!items) return std::nullopt;
  if (items->size() != kCells) {
    row.refuse(Errc::bad_input, "issue.pibal_row_length", std::string(kWantedRow));
    return std::nullopt;
  }
  std::array<double, kCells> cells{};
  bool good = true;
  for (std::size_t i = 0; i < kCells; ++i) {
    const Value& item = (*items)[i];
    const TomlNode& node = item.node();
    const bool is_number = node.kind == TomlKind::integer || node.kind == TomlKind::number;
    if (!is_number && !(node.kind == TomlKind::text && node.text.empty())) {
      item.refuse(Errc::bad_input, "issue.pibal_cell", std::string(kWantedCell));
      good = false;
      continue;
    }
    cells[i] = (is_number ? node.number : std::nan("")) * (i == 0 ? time_factor : 1.0);
    if ((is_lost(cells[i]) && i > 0) || keeps(kCellRules[i], cells[i])) continue;
    item.refuse(Errc::bad_input, kCellRules[i].issue, std::string(kCellRules[i].wanted));
    good = false;
  }
  return good ? std::optional{cells} : std::nullopt;
}

// True if nothing was refused.
bool read_rows(const Table& table, std::optional<double> time_factor, North north, std::vector<pibal::Call>& out) {
  const auto rows = table.find("rows");
  if (!rows) {
    table.missing("rows", std::string(kWantedRows));
    return false;
  }
  const auto items = rows->items(kWantedRows);
  if (!items) return false;
  if (items->empty()) {
    rows->refuse(Errc::bad_input, "issue.pibal_rows", "at least one row");
    return false;
  }
  if (!time_factor) return false;
  bool good = true;
  double before_s = 0.0;
  for (const Value& row : *items) {
    const auto cells = read_cells(row, *time_factor);
    if (!cells) {
      good = false;
      continue;
    }
    if ((*cells)[0] <= before_s) {
      row.refuse(Errc::conflict, "issue.pibal_times_rise", "each call later than the one before");
      good = false;
    }
    before_s = std::max(before_s, (*cells)[0]);
    out.push_back(call_of(*cells, north));
  }
  return good;
}

void read_signs(const Table& table, std::vector<pibal::FlagKind>& out) {
  const auto seen = table.find("seen");
  if (!seen) return;
  const auto items = seen->items("a list of bad signs, such as [\"rolls\"]");
  if (!items) return;
  for (const Value& item : *items)
    if (const auto index = item.choice(signs(), {"issue.pibal_sign"}))
      out.push_back(Names<pibal::FlagKind>::all[*index].first);
}

// True unless bearings by compass stay without it, which is told.
bool read_variation(const Table& table, const ReleasedFrom& from, const PibalReadings& readings, North north,
                    std::optional<Variation>& out) {
  const auto given = table.find("variation");
  if (given) {
    const auto east = given->quantity(Dimension::angle, {"issue.pibal_variation", "-180deg", "180deg"});
    if (!east) return false;
    out = Variation{*east * degree};
    return true;
  }
  if (north == North::of_the_earth) return true;
  auto found = variation_at(from, readings.released ? std::optional{readings.released->at} : std::nullopt);
  if (!found) {
    table.find("bearings")->refuse(std::move(found.error()));
    return false;
  }
  out = *found;
  return true;
}

}  // namespace

Result<pibal::RiseRate> rise_rate_at(Length diameter, Mass mass, std::optional<AltitudeAmsl> elevation) {
  pibal::Balloon balloon{diameter, mass};
  if (elevation) {
    const auto air = air::isa_at(GeopotentialAltitude::at(elevation->from_origin()));
    if (!air) return tl::unexpected<Issue>{air.error()};
    balloon.outside = air->density;
  }
  return pibal::rise_rate(balloon);
}

Result<Variation> variation_at(const ReleasedFrom& from, std::optional<Instant> released) {
  if (!from.at || !released)
    return fail(Errc::no_data, say("issue.pibal_variation_unknown"), {},
                "the variation, east positive, or the place and the time of the release");
  const Length height = from.elevation ? from.elevation->from_origin() : Length{};
  const auto field = sky::magnetic_field(*from.at, height, sky::decimal_year(*released));
  if (!field) return tl::unexpected<Issue>{field.error()};
  return field->variation;
}

std::optional<PibalReadings> read_pibal(const Table& table, const ReleasedFrom& from, bool needs_release) {
  PibalReadings readings;
  pibal::Ascent& ascent = readings.seen.ascent;
  wind::Source& source = readings.seen.source;
  source.kind = wind::SourceKind::pibal;
  source.name = name_of(source.kind);
  table.may("name", source.name);
  bool good = true;
  if (needs_release) {
    Moment released;
    good = table.need("released", released);
    if (good) readings.released = released;
  } else {
    table.may("released", readings.released);
    good = readings.released || !table.find("released");
  }
  if (readings.released) source.time = readings.released->at;
  North north = North::of_the_earth;
  const bool oriented = table.need("bearings", north, {"issue.pibal_bearings"});
  // Without the place or the time, which have been told, the variation cannot be found: that alone is no news.
  const bool place_told = needs_release && (!from.at || !readings.released) && !table.find("variation");
  const bool turned = oriented && (place_told || read_variation(table, from, readings, north, ascent.variation));
  if (!oriented) (void)table.find("variation");
  const auto rise = read_rise(table, from.elevation);
  if (rise) ascent.rise = *rise;
  if (const auto obstacles =
          number_of(table, "obstacles", Dimension::angle, {"issue.pibal_obstacles", "0deg", "60deg"}))
    ascent.obstacles = *obstacles * degree;
  read_signs(table, ascent.seen);
  const bool called = read_rows(table, read_units(table), north, ascent.calls);
  if (!good || !turned || !rise || !called || (place_told && north == North::of_the_compass)) return std::nullopt;
  const auto reduced = pibal::reduce(ascent);
  if (!reduced.value || reduced.value->layers.empty())
    table.refuse("rows", Errc::no_data, "issue.pibal_no_layers", "a call with a bearing and an elevation above 15 deg");
  return readings;
}

Parsed<std::vector<PibalReadings>> parse_pibal_file(std::string_view toml, std::string_view file) {
  TomlDocument document{toml, file};
  if (!document.is_readable()) return {std::nullopt, document.finish()};
  const Table root = document.root();
  ReleasedFrom from;
  if (root.find("field")) {
    const Table field = root.table("field");
    std::string name;
    field.may("name", name);
    field.may("elevation", from.elevation, {"issue.field_elevation", "-430m", "6000m"});
    if (field.find("at")) from.at = read_position(field, "at");
  }
  std::vector<PibalReadings> out;
  for (const Table& table : root.need_tables("pibal", "at least one [[pibal]] with bearings, units and rows"))
    if (auto readings = read_pibal(table, from, false)) out.push_back(std::move(*readings));
  std::vector<Issue> issues = document.finish();
  if (!std::all_of(issues.begin(), issues.end(), is_warning)) return {std::nullopt, std::move(issues)};
  return {std::move(out), std::move(issues)};
}

bool is_flight_file(std::string_view toml) {
  const auto root = parse_toml(toml, {});
  return root && std::any_of(root->members.begin(), root->members.end(),
                             [](const TomlMember& member) { return member.key == "balloon"; });
}

// ---- CSV

namespace {

constexpr std::size_t kMostFaults = 50;  // the file is likely another one

struct CsvCell {
  std::string_view text;
  int column = 1;
};

std::vector<CsvCell> cells_of(std::string_view line) {
  std::vector<CsvCell> out;
  int column = 1;
  for (;;) {
    const std::size_t end = line.find(',');
    std::string_view cell = line.substr(0, end);
    int begins = column;
    column += static_cast<int>(cell.size()) + 1;
    while (!cell.empty() && std::string_view{" \t\r"}.find(cell.front()) != std::string_view::npos) {
      cell.remove_prefix(1);
      ++begins;
    }
    while (!cell.empty() && std::string_view{" \t\r"}.find(cell.back()) != std::string_view::npos)
      cell.remove_suffix(1);
    out.push_back({cell, begins});
    if (end == std::string_view::npos) return out;
    line.remove_prefix(end + 1);
  }
}

// None where the cell is no number; not finite where the call is lost.
std::optional<double> number_in(std::string_view cell) {
  if (cell.empty() || cell == "-" || cell == "nan" || cell == "NaN") return std::nan("");
  return parse_number(cell);
}

}  // namespace

Parsed<std::vector<pibal::Call>> parse_pibal_csv(std::string_view csv, std::string_view file, North north) {
  Parsed<std::vector<pibal::Call>> parsed;
  std::vector<pibal::Call> calls;
  const auto tell = [&](Errc code, std::string_view key, int line, int column, std::string_view got,
                        std::string wanted) {
    const std::string shown = excerpt(got);
    parsed.issues.push_back({code,
                             say(std::string(key), {{"got", shown}}),
                             {std::string(file), line, column, {}},
                             shown,
                             std::move(wanted)});
  };
  if (csv.substr(0, 3) == "\xEF\xBB\xBF") csv.remove_prefix(3);
  double before_s = 0.0;
  bool may_be_header = true;
  for (int line = 1; !csv.empty(); ++line) {
    if (parsed.issues.size() >= kMostFaults) {
      tell(Errc::bad_input, "issue.profile_many", line, 1, csv.substr(0, csv.find('\n')), "seconds,bearing,elevation");
      break;
    }
    const std::size_t end = csv.find('\n');
    const std::string_view text = csv.substr(0, end);
    csv = end == std::string_view::npos ? std::string_view{} : csv.substr(end + 1);
    const std::vector<CsvCell> cells = cells_of(text);
    if ((cells.size() == 1 && cells[0].text.empty()) || cells[0].text.substr(0, 1) == "#") continue;
    if (std::exchange(may_be_header, false) && !number_in(cells[0].text)) continue;
    if (cells.size() != kCells) {
      tell(Errc::bad_input, "issue.pibal_row_length", line, 1, text, "seconds,bearing,elevation");
      continue;
    }
    std::array<double, kCells> found{};
    bool good = true;
    for (std::size_t i = 0; i < kCells; ++i) {
      const auto number = number_in(cells[i].text);
      found[i] = number.value_or(0.0);
      if (number && ((is_lost(*number) && i > 0) || keeps(kCellRules[i], *number))) continue;
      tell(Errc::bad_input, number ? kCellRules[i].issue : "issue.pibal_cell", line, cells[i].column, cells[i].text,
           std::string(number ? kCellRules[i].wanted : "a number, or nothing for a call lost"));
      good = false;
    }
    if (!good) continue;
    if (found[0] <= before_s)
      tell(Errc::conflict, "issue.pibal_times_rise", line, cells[0].column, cells[0].text,
           "each call later than the one before");
    before_s = std::max(before_s, found[0]);
    calls.push_back(call_of(found, north));
  }
  if (calls.empty() && parsed.issues.empty())
    tell(Errc::no_data, "issue.pibal_rows", 0, 0, {}, "a line such as 30,20.0,39.8");
  if (parsed.issues.empty()) parsed.value = std::move(calls);
  return parsed;
}

}  // namespace pappus::text
