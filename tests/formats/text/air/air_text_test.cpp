#include "formats/text/air/air_text.hpp"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "formats/text/fb/fb.hpp"
#include "formats/text/taf/taf.hpp"
#include "formats/text/temp/temp.hpp"
#include "tests/formats/text/oracle.hpp"

namespace pappus::text {
namespace {

const Instant kNear = instant_of(*Date::of(2027, 5, 16), 13, 50, 0.0, UtcOffset{});

const std::string kMetar = "METAR XSGB 161335Z 10002KT 10SM CLR 03/M01 A3006=\n";
const std::string kTaf = "TAF XSGB 161130Z 1612/1712 10004KT P6SM SKC FM162000 22010KT P6SM SCT250=\n";
const std::string kOtherTaf = "TAF XSGC 161130Z 1612/1712 VRB03KT P6SM SKC=\n";
const std::string kFbHead =
    "DATA BASED ON 161200Z\n"
    "VALID 161800Z   FOR USE 1400-2100Z. TEMPS NEG ABV 24000\n\n"
    "FT  3000    6000    9000   12000   18000   24000  30000  34000  39000\n";
const std::string kZqa = "ZQA              2110+13 1808+07 2216-06 2225-17 263333 264543 265654\n";
const std::string kZqb = "ZQB 2110 2213+18 2110+13 1808+07 2216-06 2225-17 263333 264543 265654\n";
const std::string kTemp = "TTAA 66121 99123 99013 14256 24008 00131 13456 24510 92798 11456 25012 85512 06256 26015=\n";

Parsed<AirTold> read(const std::string& pasted, const StationWanted& station = {}) {
  return read_air(pasted, kNear, station);
}

std::vector<std::string> keys(const std::vector<Issue>& issues) {
  std::vector<std::string> out;
  for (const Issue& issue : issues) out.push_back(issue.sentence.key);
  return out;
}

TEST(AirText, TellsApartWhatIsPastedTogether) {
  const auto read_all =
      read("Good morning,\nhere is the weather:\n" + kMetar + kTaf + kFbHead + kZqa + "\n" + kTemp + "\nRegards");
  EXPECT_EQ(keys(read_all.issues), std::vector<std::string>{});
  const AirTold& told = read_all.value.value();
  ASSERT_EQ(told.reports.size(), 1u);
  EXPECT_EQ(told.reports[0].station, "XSGB");
  ASSERT_EQ(told.forecasts.size(), 1u);
  EXPECT_EQ(told.forecasts[0].station, "XSGB");
  ASSERT_EQ(told.ladders.size(), 2u);
  EXPECT_EQ(told.ladders[0].source.kind, wind::SourceKind::forecast);
  EXPECT_EQ(told.ladders[0].source.name, "ZQA");
  EXPECT_EQ(told.ladders[1].source.kind, wind::SourceKind::sounding);
}

TEST(AirText, SaysNoneOnlyIfNoReaderFoundAny) {
  for (const std::string& text : {kMetar, kTaf, kFbHead + kZqa, kTemp})
    EXPECT_EQ(keys(read(text).issues), std::vector<std::string>{}) << text;
  for (const std::string& text : {std::string{}, std::string{"nothing to be found here"}}) {
    const auto nothing = read(text);
    EXPECT_EQ(keys(nothing.issues), std::vector<std::string>{"issue.air_none"}) << text;
    EXPECT_TRUE(is_air_warning(nothing.issues[0]));
    EXPECT_TRUE(nothing.value.has_value());
  }
}

TEST(AirText, OfSeveralStationsTheOneNamedIsTaken) {
  const auto told = read(kFbHead + kZqa + kZqb, {"zqb", {}});
  EXPECT_EQ(keys(told.issues), std::vector<std::string>{});
  ASSERT_EQ(told.value->ladders.size(), 1u);
  EXPECT_EQ(told.value->ladders[0].source.name, "ZQB");
  const auto tafs = read(kTaf + kOtherTaf, {"XSGC", {}});
  ASSERT_EQ(tafs.value->forecasts.size(), 1u);
  EXPECT_EQ(tafs.value->forecasts[0].station, "XSGC");
  EXPECT_EQ(read(kTaf + kOtherTaf).value->forecasts.size(), 2u) << "none named: all are taken";
}

TEST(AirText, ANameAmongTheWindsAloftLeavesTheAerodromesAlone) {
  const auto told = read(kTaf + kOtherTaf + kFbHead + kZqa + kZqb, {"ZQA", {}});
  EXPECT_EQ(keys(told.issues), std::vector<std::string>{});
  EXPECT_EQ(told.value->forecasts.size(), 2u);
  ASSERT_EQ(told.value->ladders.size(), 1u);
  EXPECT_EQ(told.value->ladders[0].source.name, "ZQA");
}

TEST(AirText, SeveralStationsWithoutANameAreToldWithThoseThereAre) {
  const auto told = read(kFbHead + kZqa + kZqb);
  ASSERT_EQ(keys(told.issues), std::vector<std::string>{"issue.air_station_missing"});
  EXPECT_EQ(told.issues[0].where.key, "station");
  EXPECT_EQ(told.issues[0].wanted, "one of ZQA, ZQB");
  EXPECT_FALSE(is_air_warning(told.issues[0]));
  EXPECT_TRUE(told.value->ladders.empty());
}

TEST(AirText, AWrongStationIsToldWithThoseThereAre) {
  const auto told = read(kMetar + kTaf + kFbHead + kZqa + kZqb, {"ZQC", {}});
  ASSERT_EQ(keys(told.issues), std::vector<std::string>{"issue.air_station_unknown"});
  EXPECT_EQ(told.issues[0].code, Errc::not_found);
  EXPECT_EQ(told.issues[0].got, "ZQC");
  EXPECT_EQ(told.issues[0].wanted, "one of XSGB, ZQA, ZQB");
  EXPECT_FALSE(is_air_warning(told.issues[0]));
}

TEST(AirText, TheElevationOfTheStationShowsColumnsThatSlipped) {
  // At 5,000 ft nothing may stand at 6,000 ft.
  EXPECT_EQ(keys(read(kFbHead + kZqa, {"ZQA", amsl(5000.0 * foot)}).issues), std::vector<std::string>{});
  const auto slipped = read(kFbHead + kZqb, {"ZQB", amsl(5000.0 * foot)});
  ASSERT_EQ(keys(slipped.issues), std::vector<std::string>{"issue.fb_slipped"});
  EXPECT_TRUE(is_air_warning(slipped.issues[0]));
  EXPECT_TRUE(slipped.value->ladders.empty());
}

TEST(AirText, WhatWasNotUnderstoodPointsIntoTheText) {
  const auto told = read("hello\nMETAR XSGB 161335Z 99900002KT 10SM CLR 03/M01 A3006=\n");
  ASSERT_EQ(keys(told.issues), std::vector<std::string>{"issue.metar_wind"});
  EXPECT_EQ(told.issues[0].where.line, 2);
  EXPECT_EQ(told.issues[0].where.column, 20);
  EXPECT_TRUE(is_air_warning(told.issues[0]));
}

// Real reports and forecasts, one a line: no reader takes another's for its own.
TEST(AirText, NoReaderTakesRealTextsOfAnotherForItsOwn) {
  const std::vector<std::string> reports = oracle::lines_of(oracle::shared_file("metar.txt"));
  const std::vector<std::string> forecasts = oracle::lines_of(oracle::shared_file("taf.txt"));
  if (reports.empty() || forecasts.empty()) GTEST_SKIP() << "no real reports at " << oracle::shared_file("metar.txt");
  const auto expect_no_winds_aloft = [](const std::string& line) {
    EXPECT_EQ(keys(parse_fb(line, kNear).issues), std::vector<std::string>{"issue.fb_none"}) << line;
    EXPECT_EQ(keys(parse_temp(line, kNear).issues), std::vector<std::string>{"issue.temp_none"}) << line;
  };
  for (const std::string& line : reports) {
    EXPECT_FALSE(parse_taf(line, kNear).value.has_value()) << line;
    expect_no_winds_aloft(line);
  }
  for (const std::string& line : forecasts) expect_no_winds_aloft(line);
}

}  // namespace
}  // namespace pappus::text
