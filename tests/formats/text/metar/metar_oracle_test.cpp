// Real reports, decoded by us and by another decoder (tools/oracles/metar_oracle.mjs). The reports are not part of the
// project: they are looked for in $PAPPUS_SHARED_DATA, else in ../shared/data beside the source tree, and the test
// reports itself as skipped where they are absent. Every difference stands in
// tests/data-external/metar_differences.csv with its reason; an unlisted one fails, and so does one that is gone.
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "formats/text/metar/metar.hpp"

namespace pappus::text {
namespace {

const std::string kTables = std::string{PAPPUS_SOURCE_DIR} + "/tests/data-external/";

// The reports tell no month: all of their days exist in this one.
const Instant kNear = instant_of(*Date::of(2018, 10, 15), 0, 0, 0.0, UtcOffset{});

std::string shared_file(const char* name) {
  const char* set = std::getenv("PAPPUS_SHARED_DATA");
  const std::string folder = set != nullptr ? std::string{set} : std::string{PAPPUS_SOURCE_DIR} + "/../shared/data";
  return folder + "/reports/" + name;
}

std::vector<std::string> lines_of(const std::string& path) {
  std::ifstream file{path};
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) lines.push_back(line);
  return lines;
}

using Cells = std::map<std::string, std::string>;

// The rows of a CSV with a header; '#' starts a comment; cells with a comma are quoted.
std::vector<Cells> rows_of(const std::string& path) {
  std::vector<Cells> rows;
  std::vector<std::string> header;
  for (const std::string& line : lines_of(path)) {
    if (line.empty() || line.front() == '#') continue;
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (const char c : line) {
      if (c == '"') {
        quoted = !quoted;
      } else if (c == ',' && !quoted) {
        cells.emplace_back();
      } else {
        cells.back() += c;
      }
    }
    if (header.empty()) {
      header = cells;
      continue;
    }
    EXPECT_EQ(cells.size(), header.size()) << path << ": " << line;
    Cells row;
    for (std::size_t i = 0; i < std::min(cells.size(), header.size()); ++i) row[header[i]] = cells[i];
    rows.push_back(row);
  }
  return rows;
}

std::string fnv1a64(const std::string& text) {
  std::uint64_t hash = 0xcbf29ce484222325u;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 0x100000001b3u;
  char printed[17];
  std::snprintf(printed, sizeof printed, "%016llx", static_cast<unsigned long long>(hash));
  return printed;
}

std::string printed(double value, int digits) {
  char text[40];
  std::snprintf(text, sizeof text, "%.*f", digits, value);
  return std::string{text} == "-0.0" ? "0.0" : std::string{text};
}

std::string print_speed(std::optional<Speed> v) { return v ? printed(v->in(metre_per_second), 3) : ""; }
std::string print_celsius(std::optional<Temperature> v) { return v ? printed(in_celsius(*v), 1) : ""; }

std::string print_clouds(const std::vector<wind::CloudLayer>& clouds) {
  static const std::map<wind::CloudAmount, std::string> names{
      {wind::CloudAmount::few, "FEW"},       {wind::CloudAmount::scattered, "SCT"},
      {wind::CloudAmount::broken, "BKN"},    {wind::CloudAmount::overcast, "OVC"},
      {wind::CloudAmount::not_known, "///"}, {wind::CloudAmount::vertical_visibility, "VV"}};
  std::string all;
  for (const wind::CloudLayer& layer : clouds) {
    if (!all.empty()) all += ' ';
    all += names.at(layer.amount) + "@" + (layer.base ? printed(layer.base->from_origin().in(foot), 0) : "/");
    if (layer.convective) all += '!';
  }
  return all;
}

// Our reading, in the words of the oracle's table.
Cells ours_of(const wind::SurfaceReport& r) {
  Cells cells;
  std::string& from = cells["wind_from_deg"];
  if (r.wind && r.wind->direction_from()) {
    const double degrees = r.wind->direction_from()->from_north().in(degree);
    from = printed(degrees < 0.5 ? 360.0 : degrees, 0);  // north is 360 in a report
  } else if (r.wind) {
    from = "calm";
  } else if (r.wind_variable) {
    from = "VRB";
  }
  cells["wind_speed_m_s"] = print_speed(r.wind_speed);
  cells["gust_m_s"] = print_speed(r.gust);
  std::string& visibility = cells["visibility_m"];
  if (r.visibility) {
    visibility = r.visibility_at_least ? ">" : r.visibility_below ? "<" : "";
    visibility += printed(r.visibility->in(metre), 1);
  }
  cells["visibility_lowest_m"] = r.visibility_lowest ? printed(r.visibility_lowest->in(metre), 1) : "";
  cells["clouds"] = print_clouds(r.clouds);
  cells["temperature_c"] = print_celsius(r.temperature);
  cells["dew_point_c"] = print_celsius(r.dew_point);
  cells["pressure_hpa"] = r.qnh ? printed(r.qnh->in(hectopascal), 2) : "";
  return cells;
}

// Equal, or two numbers apart by no more than the last digit printed (speeds 0.001 m/s, pressures 0.01 hPa).
bool same(const std::string& field, const std::string& a, const std::string& b) {
  if (a == b) return true;
  if (field != "wind_speed_m_s" && field != "gust_m_s" && field != "pressure_hpa") return false;
  if (a.empty() || b.empty()) return false;
  const double apart = std::strtod(a.c_str(), nullptr) - std::strtod(b.c_str(), nullptr);
  const double allowed = field == "pressure_hpa" ? 0.0101 : 0.00101;
  return apart <= allowed && apart >= -allowed;
}

TEST(MetarOracle, DiffersFromAnotherDecoderOnlyWhereItIsExplained) {
  const std::vector<std::string> reports = lines_of(shared_file("metar.txt"));
  if (reports.empty()) GTEST_SKIP() << "no reports at " << shared_file("metar.txt");
  std::map<std::string, bool> listed;  // to whether it was met
  for (const Cells& row : rows_of(kTables + "metar_differences.csv")) {
    EXPECT_FALSE(row.at("reason").empty()) << row.at("line");
    const std::string key =
        row.at("line") + "," + row.at("hash") + "," + row.at("field") + "," + row.at("ours") + "," + row.at("theirs");
    EXPECT_TRUE(listed.emplace(key, false).second) << "listed twice: " << key;
  }
  int compared = 0;
  for (const Cells& theirs : rows_of(kTables + "metar_oracle.csv")) {
    const std::size_t line = std::strtoul(theirs.at("line").c_str(), nullptr, 10);
    ASSERT_LE(line, reports.size());
    const std::string& text = reports[line - 1];
    ASSERT_EQ(fnv1a64(text), theirs.at("hash")) << "line " << line << " is not the report that was compared";
    const auto parsed = parse_metar(text, kNear);
    ASSERT_TRUE(parsed.value) << text;
    ASSERT_EQ(parsed.value->size(), 1u) << text;
    for (const auto& [field, our_text] : ours_of(parsed.value->front())) {
      ++compared;
      const std::string& their_text = theirs.at(field);
      if (same(field, our_text, their_text)) continue;
      const std::string key =
          theirs.at("line") + "," + theirs.at("hash") + "," + field + "," + our_text + "," + their_text;
      const auto found = listed.find(key);
      if (found == listed.end()) {
        ADD_FAILURE() << "unlisted: " << key << "\n  " << text;
      } else {
        found->second = true;
      }
    }
  }
  EXPECT_EQ(compared, 284 * 9);
  for (const auto& [key, met] : listed) EXPECT_TRUE(met) << "no longer differs: " << key;
}

TEST(MetarOracle, TakesNoForecastForAReport) {
  const std::vector<std::string> lines = lines_of(shared_file("taf.txt"));
  if (lines.empty()) GTEST_SKIP() << "no forecasts at " << shared_file("taf.txt");
  int forecasts = 0;
  for (const std::string& line : lines) {
    if (line.substr(0, 3) != "TAF") continue;
    ++forecasts;
    EXPECT_FALSE(parse_metar(line, kNear).value) << line;
    EXPECT_FALSE(parse_metar(line.substr(4), kNear).value) << line;  // its name cut off
  }
  EXPECT_GT(forecasts, 150);
}

}  // namespace
}  // namespace pappus::text
