// Real reports, decoded by us and by another decoder (tools/oracles/metar_oracle.mjs). The test reports itself as
// skipped where the reports are absent. Every difference stands in tests/data-external/metar_differences.csv with its
// reason; an unlisted one fails, and so does one that is gone.
#include <cstdlib>
#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "formats/text/metar/metar.hpp"
#include "tests/formats/text/oracle.hpp"

namespace pappus::text {
namespace {

using oracle::Cells;

// The reports tell no month: all of their days exist in this one.
const Instant kNear = instant_of(*Date::of(2018, 10, 15), 0, 0, 0.0, UtcOffset{});

// Our reading, in the words of the oracle's table.
Cells ours_of(const wind::SurfaceReport& r) {
  return {{"wind_from_deg", oracle::print_direction(r.wind, r.wind_variable)},
          {"wind_speed_m_s", oracle::print_speed(r.wind_speed)},
          {"gust_m_s", oracle::print_speed(r.gust)},
          {"visibility_m", oracle::print_visibility(r.visibility, r.visibility_at_least, r.visibility_below)},
          {"visibility_lowest_m", oracle::print_visibility(r.visibility_lowest, false, false)},
          {"clouds", oracle::print_clouds(r.clouds)},
          {"temperature_c", oracle::print_celsius(r.temperature)},
          {"dew_point_c", oracle::print_celsius(r.dew_point)},
          {"pressure_hpa", r.qnh ? oracle::print_number(r.qnh->in(hectopascal), 2) : ""}};
}

TEST(MetarOracle, DiffersFromAnotherDecoderOnlyWhereItIsExplained) {
  const std::string file = oracle::shared_file("metar.txt");
  const std::vector<std::string> reports = oracle::lines_of(file);
  if (reports.empty()) GTEST_SKIP() << "no reports at " << file;
  oracle::Differences differences{"metar_differences.csv", {"line", "hash"}};
  for (const Cells& theirs : oracle::rows_of("metar_oracle.csv")) {
    const std::size_t line = std::strtoul(theirs.at("line").c_str(), nullptr, 10);
    ASSERT_LE(line, reports.size());
    const std::string& text = reports[line - 1];
    ASSERT_EQ(oracle::fnv1a64(text), theirs.at("hash")) << "line " << line << " is not the report that was compared";
    const auto parsed = parse_metar(text, kNear);
    ASSERT_TRUE(parsed.value) << text;
    ASSERT_EQ(parsed.value->size(), 1u) << text;
    for (const auto& [field, ours] : ours_of(parsed.value->front()))
      differences.compare(theirs, field, ours, theirs.at(field), text);
  }
  EXPECT_EQ(differences.compared(), 284 * 9);
  differences.expect_all_met();
}

TEST(MetarOracle, TakesNoForecastForAReport) {
  const std::string file = oracle::shared_file("taf.txt");
  const std::vector<std::string> lines = oracle::lines_of(file);
  if (lines.empty()) GTEST_SKIP() << "no forecasts at " << file;
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
