// Real forecasts, decoded by us and by another decoder (tools/oracles/taf_oracle.mjs). The test reports itself as
// skipped where the forecasts are absent. Every difference stands in tests/data-external/taf_differences.csv with its
// reason; an unlisted one fails, and so does one that is gone.
#include <algorithm>
#include <cstdlib>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/describe.hpp"
#include "formats/text/taf/taf.hpp"
#include "tests/formats/text/oracle.hpp"

namespace pappus::text {
namespace {

using oracle::Cells;
using wind::PeriodKind;

// The forecasts tell no month. One of them goes from the 30th to the 1st: this month has thirty days.
const Instant kNear = instant_of(*Date::of(2018, 9, 15), 0, 0, 0.0, UtcOffset{});

std::string ddhhmm(Instant t) {
  const std::string iso = iso8601_utc(t);  // 2018-09-15T00:00:00Z
  return iso.substr(8, 2) + iso.substr(11, 2) + iso.substr(14, 2);
}

std::string with_blank(std::string text, const std::string& more) {
  if (!text.empty() && !more.empty()) text += ' ';
  return text + more;
}

std::string print_shear(const std::vector<wind::WindShear>& layers) {
  std::string all;
  for (const wind::WindShear& s : layers)
    all = with_blank(all, oracle::print_number(s.height.value().from_origin().in(foot), 0) + "@" +
                              oracle::print_direction(s.wind, false) + "/" +
                              oracle::print_number(s.wind.value().speed().in(metre_per_second), 3));
  return all;
}

std::string print_extremes(const Taf& taf) {
  std::string all;
  for (const bool highest : {true, false})
    for (const wind::ForecastTemperature& t : taf.temperatures)
      if (t.highest == highest)
        all = with_blank(
            all, (highest ? "TX" : "TN") + oracle::print_number(in_celsius(t.temperature), 0) + "@" + ddhhmm(t.at));
  return all;
}

std::string print_marks(const Taf& taf) {
  std::string all = taf.amended ? "amendment" : "";
  if (taf.corrected) all = with_blank(all, "corrected");
  if (taf.cancelled) all = with_blank(all, "canceled");
  return taf.nil ? with_blank(all, "nil") : all;
}

// Our reading of one group, in the words of the oracle's table.
Cells ours_of(const Taf& taf, std::size_t group) {
  wind::ForecastPeriod p;  // a cancelled forecast has none
  p.from = taf.valid_from;
  p.to = taf.valid_to;
  if (group < taf.periods.size()) p = taf.periods[group];
  Cells cells;
  cells["kind"] = std::string{name_of(p.kind)};
  cells["probability"] = p.probability ? std::to_string(*p.probability) : "";
  cells["from"] = ddhhmm(p.from);
  cells["to"] = p.kind == PeriodKind::from ? "" : ddhhmm(group == 0 ? taf.valid_to : p.to);
  cells["wind_from_deg"] = oracle::print_direction(p.wind, p.wind_variable);
  cells["wind_speed_m_s"] = oracle::print_speed(p.wind_speed);
  cells["gust_m_s"] = oracle::print_speed(p.gust);
  cells["visibility_m"] = oracle::print_visibility(p.visibility, p.visibility_at_least, p.visibility_below);
  cells["clouds"] = p.sky_clear ? "clear" : oracle::print_clouds(p.clouds);
  std::string weather;
  for (const std::string& w : p.weather) weather = with_blank(weather, w);
  cells["weather"] = p.weather_ends ? with_blank(weather, "NSW") : weather;
  cells["shear"] = print_shear(p.shear);
  cells["extremes"] = group == 0 ? print_extremes(taf) : "";
  cells["marks"] = group == 0 ? print_marks(taf) : "";
  return cells;
}

TEST(TafOracle, DiffersFromAnotherDecoderOnlyWhereItIsExplained) {
  const std::string file = oracle::shared_file("taf.txt");
  const std::vector<std::string> lines = oracle::lines_of(file);
  if (lines.empty()) GTEST_SKIP() << "no forecasts at " << file;
  oracle::Differences differences{"taf_differences.csv", {"line", "hash", "group"}};
  const std::vector<Cells> rows = oracle::rows_of("taf_oracle.csv");
  int forecasts = 0;
  std::size_t i = 0;
  while (i < rows.size()) {
    const std::size_t line = std::strtoul(rows[i].at("line").c_str(), nullptr, 10);
    ASSERT_LE(line, lines.size());
    const std::string& text = lines[line - 1];
    ASSERT_EQ(oracle::fnv1a64(text), rows[i].at("hash")) << "line " << line << " is not the forecast that was compared";
    std::vector<Cells> theirs;
    for (; i < rows.size() && rows[i].at("line") == std::to_string(line); ++i) theirs.push_back(rows[i]);
    const Cells place{{"line", theirs[0].at("line")}, {"hash", theirs[0].at("hash")}, {"group", "0"}};
    const auto parsed = parse_taf(text, kNear);
    const bool refused = !theirs[0].at("refused").empty();
    if (!parsed.value || refused) {
      differences.compare(place, "forecast", parsed.value ? "read" : "none", refused ? "none" : "read", text);
      continue;
    }
    ++forecasts;
    ASSERT_EQ(parsed.value->size(), 1u) << text;
    const Taf& taf = parsed.value->front();
    const std::size_t groups = std::max<std::size_t>(taf.periods.size(), 1);
    differences.compare(place, "groups", std::to_string(groups), std::to_string(theirs.size()), text);
    for (std::size_t group = 0; group < std::min(groups, theirs.size()); ++group)
      for (const auto& [field, ours] : ours_of(taf, group))
        differences.compare(theirs[group], field, ours, theirs[group].at(field), text);
  }
  EXPECT_GE(forecasts, 198);
  differences.expect_all_met();
}

}  // namespace
}  // namespace pappus::text
