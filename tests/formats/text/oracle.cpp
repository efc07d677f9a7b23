#include "tests/formats/text/oracle.hpp"

#include <algorithm>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <utility>

#include <gtest/gtest.h>

namespace pappus::text::oracle {
namespace {

bool same(const std::string& field, const std::string& a, const std::string& b) {
  if (a == b) return true;
  if (field != "wind_speed_m_s" && field != "gust_m_s" && field != "pressure_hpa") return false;
  if (a.empty() || b.empty()) return false;
  const double apart = std::strtod(a.c_str(), nullptr) - std::strtod(b.c_str(), nullptr);
  const double allowed = field == "pressure_hpa" ? 0.0101 : 0.00101;
  return apart <= allowed && apart >= -allowed;
}

std::string key_of(const Cells& place, const std::vector<std::string>& key, const std::string& field,
                   const std::string& ours, const std::string& theirs) {
  std::string all;
  for (const std::string& column : key) all += place.at(column) + ',';
  return all + field + ',' + ours + ',' + theirs;
}

}  // namespace

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

std::vector<Cells> rows_of(const std::string& name) {
  const std::string path = std::string{PAPPUS_SOURCE_DIR} + "/tests/data-external/" + name;
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

std::string print_number(double value, int digits) {
  char text[40];
  std::snprintf(text, sizeof text, "%.*f", digits, value);
  return std::string{text} == "-0.0" ? "0.0" : std::string{text};
}

std::string print_speed(std::optional<Speed> v) { return v ? print_number(v->in(metre_per_second), 3) : ""; }
std::string print_celsius(std::optional<Temperature> v) { return v ? print_number(in_celsius(*v), 1) : ""; }

std::string print_direction(const std::optional<wind::Wind>& wind, bool variable) {
  if (!wind) return variable ? "VRB" : "";
  const auto from = wind->direction_from();
  if (!from) return "calm";
  const double degrees = from->from_north().in(degree);
  return print_number(degrees < 0.5 ? 360.0 : degrees, 0);  // north is 360 in a report
}

std::string print_visibility(std::optional<Length> v, bool at_least, bool below) {
  return v ? (at_least ? ">" : below ? "<" : "") + print_number(v->in(metre), 1) : "";
}

std::string print_clouds(const std::vector<wind::CloudLayer>& clouds) {
  static const std::map<wind::CloudAmount, std::string> names{
      {wind::CloudAmount::few, "FEW"},       {wind::CloudAmount::scattered, "SCT"},
      {wind::CloudAmount::broken, "BKN"},    {wind::CloudAmount::overcast, "OVC"},
      {wind::CloudAmount::not_known, "///"}, {wind::CloudAmount::vertical_visibility, "VV"}};
  std::string all;
  for (const wind::CloudLayer& layer : clouds) {
    if (!all.empty()) all += ' ';
    all += names.at(layer.amount) + "@" + (layer.base ? print_number(layer.base->from_origin().in(foot), 0) : "/");
    if (layer.convective) all += '!';
  }
  return all;
}

Differences::Differences(const std::string& table, std::vector<std::string> key) : key_{std::move(key)} {
  for (const Cells& row : rows_of(table)) {
    EXPECT_FALSE(row.at("reason").empty()) << row.at("line");
    const std::string listed = key_of(row, key_, row.at("field"), row.at("ours"), row.at("theirs"));
    EXPECT_TRUE(listed_.emplace(listed, false).second) << "listed twice: " << listed;
  }
}

void Differences::compare(const Cells& place, const std::string& field, const std::string& ours,
                          const std::string& theirs, const std::string& report) {
  ++compared_;
  if (same(field, ours, theirs)) return;
  const std::string key = key_of(place, key_, field, ours, theirs);
  const auto found = listed_.find(key);
  if (found == listed_.end()) {
    ADD_FAILURE() << "unlisted: " << key << "\n  " << report;
  } else {
    found->second = true;
  }
}

void Differences::expect_all_met() const {
  for (const auto& [key, met] : listed_) EXPECT_TRUE(met) << "no longer differs: " << key;
}

}  // namespace pappus::text::oracle
