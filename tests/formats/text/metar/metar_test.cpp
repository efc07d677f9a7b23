#include "formats/text/metar/metar.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::text {
namespace {

using wind::CloudAmount;
using wind::SurfaceReport;
using Reports = Parsed<std::vector<SurfaceReport>>;

const Instant kNear = instant_of(*Date::of(2027, 5, 16), 13, 0, 0.0, UtcOffset{});

Reports read(std::string_view pasted) { return parse_metar(pasted, kNear); }

// The one report of `pasted`, which must raise no issue.
SurfaceReport one(std::string_view pasted) {
  const Reports parsed = read(pasted);
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " at " << issue.got;
  if (!parsed.value || parsed.value->size() != 1) {
    ADD_FAILURE() << "not one report: " << pasted;
    return {};
  }
  return parsed.value->front();
}

// The one issue of `pasted`.
Issue issue_of(std::string_view pasted) {
  const Reports parsed = read(pasted);
  EXPECT_EQ(parsed.issues.size(), 1u) << pasted;
  return parsed.issues.empty() ? Issue{} : parsed.issues.front();
}

std::string in_words(const std::vector<wind::CloudLayer>& clouds) {
  static const std::map<CloudAmount, std::string> names{
      {CloudAmount::few, "few"},           {CloudAmount::scattered, "scattered"},
      {CloudAmount::broken, "broken"},     {CloudAmount::overcast, "overcast"},
      {CloudAmount::not_known, "unknown"}, {CloudAmount::vertical_visibility, "vertical"}};
  std::string all;
  for (const wind::CloudLayer& layer : clouds) {
    if (!all.empty()) all += ", ";
    all += names.at(layer.amount) + ' ';
    all += layer.base ? std::to_string(static_cast<int>(std::lround(layer.base->from_origin().in(foot)))) : "-";
    if (layer.convective) all += " convective";
  }
  return all;
}

std::string joined(const std::vector<std::string>& groups) {
  std::string all;
  for (const std::string& group : groups) all += (all.empty() ? "" : " ") + group;
  return all;
}

double number_of(const SurfaceReport& r, const std::string& quantity) {
  if (quantity == "wind_variable") return r.wind_variable ? 1.0 : 0.0;
  if (quantity == "sky_clear") return r.sky_clear ? 1.0 : 0.0;
  if (quantity == "visibility_at_least") return r.visibility_at_least ? 1.0 : 0.0;
  if (quantity == "visibility_below") return r.visibility_below ? 1.0 : 0.0;
  if (quantity == "wind_from_deg") return r.wind.value().direction_from().value().from_north().in(degree);
  if (quantity == "wind_speed_m_s") return r.wind_speed.value().in(metre_per_second);
  if (quantity == "gust_m_s") return r.gust.value().in(metre_per_second);
  if (quantity == "visibility_m") return r.visibility.value().in(metre);
  if (quantity == "visibility_lowest_m") return r.visibility_lowest.value().in(metre);
  if (quantity == "temperature_c") return in_celsius(r.temperature.value());
  if (quantity == "dew_point_c") return in_celsius(r.dew_point.value());
  if (quantity == "qnh_hpa") return r.qnh.value().in(hectopascal);
  throw std::runtime_error("no quantity " + quantity);
}

// Whether the report holds nothing but its station and time.
bool is_bare(const SurfaceReport& r) {
  return !r.wind && !r.wind_speed && !r.gust && !r.wind_variable && !r.visibility && !r.visibility_lowest &&
         r.clouds.empty() && !r.sky_clear && !r.temperature && !r.dew_point && !r.qnh && r.weather.empty();
}

TEST(Metar, ReadsEveryGroupOfTheTable) {
  for (const testing::Row& row : testing::read_table("metar_groups.csv")) {
    SCOPED_TRACE(row.where() + ": " + row.text("groups"));
    const SurfaceReport r = one("METAR ZZQA 161250Z " + row.text("groups") + "=");
    const std::string quantity = row.text("quantity"), text = row.text("text");
    if (row.has("value")) {
      // North may come out on either side of zero.
      const double off = number_of(r, quantity) - row["value"];
      EXPECT_NEAR(quantity == "wind_from_deg" && off > 180.0 ? off - 360.0 : off, 0.0, row["tolerance"]);
    } else if (quantity == "cloud") {
      EXPECT_EQ(in_words(r.clouds), text);
    } else if (quantity == "weather") {
      EXPECT_EQ(joined(r.weather), text);
    } else if (quantity == "wind" && text == "calm") {
      EXPECT_EQ(r.wind, wind::Wind{});
    } else if (text == "absent") {
      const std::map<std::string, bool> present{{"wind", r.wind.has_value()},
                                                {"temperature", r.temperature.has_value()},
                                                {"dew_point", r.dew_point.has_value()},
                                                {"qnh", r.qnh.has_value()}};
      EXPECT_FALSE(present.at(quantity));
    } else {
      ASSERT_EQ(quantity, "passed_over");
      EXPECT_TRUE(is_bare(r));
    }
  }
}

TEST(Metar, ReadsAWholeReport) {
  const SurfaceReport r = one(
      "SPECI ZZQA 161250Z AUTO 30008G19KT 270V340 3000 1200NE R24/0900D -SHRA BR FEW008 SCT015CB BKN030 17/15 Q1009 "
      "RESHRA WS RWY24 TEMPO 1500 +TSRA RMK T01740146 CB W=");
  EXPECT_EQ(r.station, "ZZQA");
  EXPECT_EQ(r.source, (wind::Source{wind::SourceKind::report, "ZZQA",
                                    instant_of(*Date::of(2027, 5, 16), 12, 50, 0.0, UtcOffset{})}));
  EXPECT_TRUE(r.automatic);
  EXPECT_NEAR(r.wind->direction_from()->from_north().in(degree), 300.0, 1e-9);
  EXPECT_NEAR(r.wind->speed().in(knot), 8.0, 1e-12);
  EXPECT_EQ(r.wind_speed, 8 * knot);
  EXPECT_EQ(r.gust, 19 * knot);
  EXPECT_TRUE(r.wind_variable);
  EXPECT_EQ(r.visibility, 3000 * metre);
  EXPECT_EQ(r.visibility_lowest, 1200 * metre);
  EXPECT_FALSE(r.visibility_at_least || r.visibility_below || r.sky_clear);
  EXPECT_EQ(joined(r.weather), "-SHRA BR");
  EXPECT_EQ(in_words(r.clouds), "few 800, scattered 1500 convective, broken 3000");
  EXPECT_EQ(r.temperature, celsius(17.4));
  EXPECT_EQ(r.dew_point, celsius(14.6));
  EXPECT_EQ(r.qnh, 1009 * hectopascal);
}

TEST(Metar, FindsReportsInTheMidstOfOtherText) {
  const Reports parsed = read(
      "Good morning,\n"
      "here is what I found at 1300:\n\n"
      "SAZZ31 ZZQA 161300\n"
      "METAR ZZQA 161250Z 30008KT\n"
      "  9999 FEW030\r\n"
      "\t12/08 Q1013=\n"
      "ZZQB 161255Z AUTO 31005KT CAVOK 13/07 Q1014 NOSIG\n"
      "> zzqc 161253z cor 02003kt 10sm clr 14/06 a2996 rmk ao2\n\n"
      "See you at the field, METAR or not.\n");
  EXPECT_TRUE(parsed.issues.empty());
  ASSERT_EQ(parsed.value->size(), 3u);
  EXPECT_EQ(parsed.value->at(0).station, "ZZQA");
  EXPECT_EQ(parsed.value->at(0).text, "METAR ZZQA 161250Z 30008KT 9999 FEW030 12/08 Q1013");
  EXPECT_EQ(parsed.value->at(1).station, "ZZQB");
  EXPECT_TRUE(parsed.value->at(1).automatic);
  EXPECT_EQ(parsed.value->at(2).station, "ZZQC");
  EXPECT_EQ(parsed.value->at(2).text, "zzqc 161253z cor 02003kt 10sm clr 14/06 a2996 rmk ao2");
  EXPECT_EQ(parsed.value->at(2).temperature, celsius(14));
}

TEST(Metar, ReadsOnAfterAnEmptyLineThatAKnownGroupFollows) {
  EXPECT_EQ(one("ZZQA 161250Z 30008KT 9999\n\nTSRA 12/08\n\nSee you").weather.at(0), "TSRA");
  EXPECT_EQ(one("ZZQA 161250Z 30008KT 12/08 A2996\n\nRMK T01230081").temperature, celsius(12.3));
}

TEST(Metar, StartsANewReportWithoutAnEndSign) {
  const Reports parsed =
      read("ZZQA 161250Z 30008KT A2996 ZZQB 161255Z 31005KT A2997 RMK AO2 METAR ZZQC 161300Z VRB02KT");
  EXPECT_TRUE(parsed.issues.empty());
  ASSERT_EQ(parsed.value->size(), 3u);
  EXPECT_EQ(parsed.value->at(2).station, "ZZQC");
  // In remarks a word and a time may stand for something else.
  EXPECT_EQ(one("ZZQA 161250Z 30008KT A2996 RMK LAST STAFFED NEXT 171200Z RMK").text,
            "ZZQA 161250Z 30008KT A2996 RMK LAST STAFFED NEXT 171200Z RMK");
}

// Found by the fuzz target: a report began that the next line, a forecast or a word of the code cut off at once.
TEST(Metar, StartsNoReportThatHoldsNoGroup) {
  EXPECT_FALSE(read("ZZQA 161250Z hello\n\nthere /////").value);
  EXPECT_FALSE(read("ZZQA 161250Z TAF 30008KT").value);
  EXPECT_EQ(one("ZZQA 161250Z ZZQB 161255Z CAVOK").station, "ZZQB");
  const Reports parsed = read("ZZQA 161250Z AUTO 161253Z 30008KT");
  EXPECT_EQ(parsed.value->size(), 1u);
  EXPECT_EQ(parsed.value->front().station, "ZZQA");
}

TEST(Metar, KnowsAStationThatIsSpeltLikeWeather) {
  EXPECT_EQ(one("METAR HZBR 161250Z CAVOK=").station, "HZBR");
  const Reports parsed = read("ZZQA 161250Z CAVOK HZBR 161250Z TSRA=");
  ASSERT_EQ(parsed.value->size(), 2u);
  EXPECT_TRUE(parsed.value->at(0).weather.empty());
  EXPECT_EQ(parsed.value->at(1).station, "HZBR");
  EXPECT_EQ(one("ZZQA 161250Z HZBR 161250Z TSRA=").station, "HZBR");
}

TEST(Metar, PassesOverForecasts) {
  EXPECT_EQ(one("TAF ZZQA 161130Z 1612/1712 30008KT 9999 BKN020\nTEMPO 1614/1618 TSRA\nMETAR ZZQA 161250Z CAVOK")
                .weather.size(),
            0u);
  EXPECT_EQ(one("METAR ZZQA 161250Z CAVOK\nTAF AMD ZZQA 161130Z 30008KT TSRA=").weather.size(), 0u);
  EXPECT_FALSE(read("ZZQA 161130Z 1612/1712 30008KT 9999 TSRA=").value);
  EXPECT_FALSE(read("ZZQA 161130Z 161212 30008KT 9999 TSRA=").value);
}

TEST(Metar, TakesTheMonthNearestToNow) {
  const auto time = [](std::string_view ddhhmm, const char* near) {
    const auto parsed = parse_metar("METAR ZZQA " + std::string{ddhhmm} + "Z CAVOK", parse_moment(near)->at);
    return parsed.value ? iso8601_utc(parsed.value->front().source.time) : "none";
  };
  EXPECT_EQ(time("161250", "2027-05-16T13:00:00Z"), "2027-05-16T12:50:00Z");
  EXPECT_EQ(time("170010", "2027-05-16T23:50:00Z"), "2027-05-17T00:10:00Z");
  EXPECT_EQ(time("312350", "2027-01-01T00:20:00Z"), "2026-12-31T23:50:00Z");
  EXPECT_EQ(time("010010", "2026-12-31T23:50:00Z"), "2027-01-01T00:10:00Z");
  EXPECT_EQ(time("290600", "2028-03-01T00:00:00Z"), "2028-02-29T06:00:00Z");
  EXPECT_EQ(time("290600", "2027-03-01T00:00:00Z"), "2027-03-29T06:00:00Z");  // no such day in February
  EXPECT_EQ(time("310600", "2027-02-14T00:00:00Z"), "2027-01-31T06:00:00Z");
  EXPECT_EQ(time("310600", "2027-04-30T00:00:00Z"), "2027-03-31T06:00:00Z");
}

TEST(Metar, RefusesAPresentOutsideTheCalendar) {
  for (const std::int64_t ms : {INT64_MAX, INT64_MIN, std::int64_t{253'402'300'800'000}}) {
    const auto parsed = parse_metar("METAR ZZQA 161250Z CAVOK", Instant::from_unix_milliseconds(ms));
    EXPECT_FALSE(parsed.value);
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.metar_time");
  }
}

TEST(Metar, SaysWhereAndWhatItDidNotUnderstand) {
  const Reports parsed = read("hello\n\n  METAR ZZQA 161250Z 30008KT\n 9999 \xC3\xA9t\xC3\xA9 BLAH 12/08 Q1013=\n");
  ASSERT_EQ(parsed.issues.size(), 2u);
  EXPECT_EQ(parsed.issues[0].where, (Where{"", 4, 7, ""}));
  EXPECT_EQ(parsed.issues[1].where, (Where{"", 4, 11, ""}));  // columns are characters, not bytes
  EXPECT_EQ(parsed.issues[1].code, Errc::bad_input);
  EXPECT_EQ(parsed.issues[1].sentence, say("issue.metar_group", {{"group", "BLAH"}, {"station", "ZZQA"}}));
  EXPECT_EQ(parsed.issues[1].got, "BLAH");
  EXPECT_FALSE(parsed.issues[1].wanted.empty());
  EXPECT_EQ(parsed.value->front().qnh, 1013 * hectopascal);
}

// What is wrong, the rule that it breaks, and where; the rest of the report stands.
struct Broken {
  std::string_view groups, key, got;
  Errc code = Errc::bad_input;
};

TEST(Metar, NamesTheRuleThatABrokenGroupBreaks) {
  static const std::array<Broken, 41> cases{
      {{"3O008KT", "issue.metar_wind", "3O008KT"},
       {"30008", "issue.metar_visibility", "30008"},
       {"37008KT", "issue.metar_wind", "37008KT"},
       {"00008KT", "issue.metar_wind", "00008KT"},
       {"30008G05KT", "issue.metar_wind", "30008G05KT"},
       {"300300KT", "issue.metar_wind", "300300KT"},
       {"30010G300KT", "issue.metar_wind", "30010G300KT"},
       {"30008GKT", "issue.metar_wind", "30008GKT"},
       {"30008KT 31008KT", "issue.metar_repeated", "31008KT", Errc::conflict},
       {"30008KT 400V010", "issue.metar_group", "400V010"},
       {"99999", "issue.metar_visibility", "99999"},
       {"4000X", "issue.metar_visibility", "4000X"},
       {"11/2SM", "issue.metar_visibility", "11/2SM"},
       {"1/3SM", "issue.metar_visibility", "1/3SM"},
       {"0/2SM", "issue.metar_visibility", "0/2SM"},
       {"3000 5000", "issue.metar_repeated", "5000", Errc::conflict},
       {"1 9999", "issue.metar_group", "1"},
       {"RAIN", "issue.metar_group", "RAIN"},
       {"SHFG", "issue.metar_group", "SHFG"},
       {"MI", "issue.metar_group", "MI"},
       {"VC", "issue.metar_group", "VC"},
       {"RASNDZGR", "issue.metar_group", "RASNDZGR"},
       {"RERAIN", "issue.metar_group", "RERAIN"},
       {"OVC", "issue.metar_cloud", "OVC"},
       {"BKN30", "issue.metar_cloud", "BKN30"},
       {"SCT030XX", "issue.metar_cloud", "SCT030XX"},
       {"CAVOK FEW030", "issue.metar_clear", "CAVOK", Errc::conflict},
       {"1O/05", "issue.metar_temperature", "1O/05"},
       {"12/5", "issue.metar_temperature", "12/5"},
       {"75/05", "issue.metar_temperature", "75/05"},
       {"M05/M95", "issue.metar_temperature", "M05/M95"},
       {"12/08 13/08", "issue.metar_repeated", "13/08", Errc::conflict},
       {"12/13", "issue.metar_dew_point", "12/13"},
       {"Q113", "issue.metar_pressure", "Q113"},
       {"Q0700", "issue.metar_pressure", "Q0700"},
       {"A3992", "issue.metar_pressure", "A3992"},
       {"Q1013 A2960", "issue.metar_pressures", "A2960", Errc::conflict},
       {"Q1013 Q1014", "issue.metar_repeated", "Q1014", Errc::conflict},
       {"Q1013 TSRA", "issue.metar_place", "TSRA"},
       {"29/07 A3005 RMK T03940067", "issue.metar_tenths", "T03940067", Errc::conflict},
       {"T02940067", "issue.metar_group", "T02940067"}}};
  for (const Broken& broken : cases) {
    const std::string pasted = "METAR ZZQA 161250Z " + std::string{broken.groups} + " RMK END=";
    SCOPED_TRACE(pasted);
    const Issue issue = issue_of(pasted);
    EXPECT_EQ(issue.sentence.key, broken.key);
    EXPECT_EQ(issue.got, broken.got);
    EXPECT_EQ(issue.code, broken.code);
    EXPECT_EQ(issue.where.line, 1);
    EXPECT_EQ(pasted.substr(static_cast<std::size_t>(issue.where.column) - 1, broken.got.size()), broken.got);
    EXPECT_FALSE(issue.wanted.empty());
    EXPECT_TRUE(read(pasted).value);
  }
}

TEST(Metar, KeepsNothingOfWhatItCannotTrust) {
  EXPECT_FALSE(read("METAR ZZQA 161250Z Q1013 A2960=").value->front().qnh);
  EXPECT_FALSE(read("METAR ZZQA 161250Z Q0700=").value->front().qnh);
  EXPECT_FALSE(read("METAR ZZQA 161250Z 30010G300KT=").value->front().wind_speed);
  const SurfaceReport no_direction = read("METAR ZZQA 161250Z 37008KT=").value->front();
  EXPECT_FALSE(no_direction.wind);
  EXPECT_EQ(no_direction.wind_speed, 8 * knot);
  const SurfaceReport low_gust = read("METAR ZZQA 161250Z 30008G05KT=").value->front();
  EXPECT_EQ(low_gust.wind_speed, 8 * knot);
  EXPECT_FALSE(low_gust.gust);
  const SurfaceReport wet = read("METAR ZZQA 161250Z 12/13=").value->front();
  EXPECT_EQ(wet.temperature, celsius(12));
  EXPECT_FALSE(wet.dew_point);
  const SurfaceReport cloudy = read("METAR ZZQA 161250Z CAVOK FEW030CB=").value->front();
  EXPECT_FALSE(cloudy.sky_clear);
  EXPECT_EQ(cloudy.clouds.size(), 1u);
  EXPECT_EQ(read("METAR ZZQA 161250Z 29/07 RMK T03940067=").value->front().temperature, celsius(29));
  EXPECT_EQ(read("METAR ZZQA 161250Z 3000 5000=").value->front().visibility, 3000 * metre);
  EXPECT_TRUE(read("METAR ZZQA 161250Z Q1013 TSRA=").value->front().weather.empty());
}

TEST(Metar, HoldsADewPointAgainstTheTenths) {
  EXPECT_EQ(one("METAR ZZQA 161250Z 12/12 RMK T01180123=").dew_point, celsius(12.3));  // 0.5 K above: both rounded
  EXPECT_EQ(issue_of("METAR ZZQA 161250Z 12/12 RMK T01160123=").sentence.key, "issue.metar_dew_point");
  // Only the remarks give temperatures: the issue points there.
  EXPECT_EQ(issue_of("METAR ZZQA 161250Z CAVOK RMK AO2 T00100050=").got, "T00100050");
}

TEST(Metar, TellsAReportThatHasNoContent) {
  for (const std::string_view pasted : {"METAR ZZQA 161250Z NIL=", "METAR ZZQA NIL=", "ZZQA 161250Z COR NIL="}) {
    const Reports parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.metar_nil");
    EXPECT_EQ(parsed.issues[0].code, Errc::no_data);
  }
  const Reports beside = read("METAR ZZQA NIL= METAR ZZQB 161250Z CAVOK=");
  EXPECT_EQ(beside.value->size(), 1u);
  EXPECT_EQ(beside.issues.size(), 1u);
}

TEST(Metar, TellsATimeThatCannotBeRead) {
  for (const std::string_view pasted :
       {"METAR ZZQA 321250Z CAVOK=", "METAR ZZQA 001250Z CAVOK=", "METAR ZZQA 162450Z CAVOK=",
        "METAR ZZQA 161260Z CAVOK=", "METAR ZZQA 161250 CAVOK=", "METAR ZZQA 1612Z CAVOK=", "METAR ZZQA 1612O0Z CAVOK=",
        "ZZQA 991250Z CAVOK="}) {
    const Reports parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.metar_time") << pasted;
    EXPECT_EQ(parsed.issues[0].wanted, "day, hour and minute as ddhhmmZ, such as 051658Z");
  }
}

TEST(Metar, TellsThatATextHoldsNoReport) {
  for (const std::string_view pasted : {"", "   \n\n", "=", "no wind at all this morning", "METAR", "METAR ZZQA",
                                        "from 161250Z until noon", "METAR data were late", "ZZQA 161250Z"}) {
    const Reports parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.metar_none") << pasted;
    EXPECT_EQ(parsed.issues[0].code, Errc::bad_input);
  }
}

TEST(Metar, SeparatesGroupsByWhateverIsBlank) {
  EXPECT_EQ(one("\x01\r\r\nMETAR\xC2\xA0ZZQA\xC2\xA0"
                "161250Z\t30008KT\x0B"
                "CAVOK\x03")
                .wind_speed,
            8 * knot);
  EXPECT_EQ(one("> > ZZQA 161250Z 30008KT\n> > TSRA=").weather.at(0), "TSRA");
}

TEST(Metar, StopsInProseThatFollowsWithoutAnEnd) {
  const Reports parsed = read(
      "METAR ZZQA 161250Z 30008KT CAVOK 12/08 Q1013\nwe shall meet at the usual place and then look at what the wind "
      "does before anything is unpacked");
  ASSERT_EQ(parsed.issues.size(), 9u);
  for (std::size_t i = 0; i < 8; ++i) EXPECT_EQ(parsed.issues[i].sentence.key, "issue.metar_group");
  EXPECT_EQ(parsed.issues[8].sentence.key, "issue.metar_rest");
  EXPECT_EQ(parsed.value->front().qnh, 1013 * hectopascal);
}

// Every issue that names a place names one inside the text.
void expect_lawful(std::string_view pasted, const Reports& parsed) {
  std::vector<int> columns(1);
  for (const char c : pasted) {
    if (c == '\n') {
      columns.push_back(0);
    } else {
      ++columns.back();
    }
  }
  ASSERT_TRUE(parsed.value || !parsed.issues.empty());
  for (const Issue& issue : parsed.issues) {
    if (issue.sentence.key == "issue.metar_none") continue;
    ASSERT_GE(issue.where.line, 1);
    ASSERT_LE(static_cast<std::size_t>(issue.where.line), columns.size());
    ASSERT_GE(issue.where.column, 1);
    ASSERT_LE(issue.where.column, columns[static_cast<std::size_t>(issue.where.line) - 1]);
    ASSERT_FALSE(issue.got.empty());
    ASSERT_FALSE(issue.wanted.empty());
  }
  if (!parsed.value) return;
  ASSERT_FALSE(parsed.value->empty());
  for (const SurfaceReport& r : *parsed.value) {
    ASSERT_EQ(r.station.size(), 4u);
    if (r.temperature && r.dew_point) {
      ASSERT_LE((*r.dew_point - *r.temperature).in(kelvin), 0.5 + 1e-6);
    }
  }
}

TEST(Metar, IsLawfulForAnyText) {
  Random random = testing::seeded("Metar.AnyText");
  static const std::array<std::string_view, 44> scraps{
      "METAR", "SPECI",   "COR",   "AUTO",  "NIL",   "ZZQA",  "ZZQB",  "161250Z",  "991250Z",  "30008KT",   "VRB02KT",
      "0000",  "9999",    "CAVOK", "1",     "1/2SM", "P6SM",  "-RA",   "VCTS",     "FEW010",   "VV///",     "//////CB",
      "12/08", "M05/M70", "12/40", "Q1013", "A2992", "A2500", "NOSIG", "TEMPO",    "RMK",      "T02940067", "=",
      "TAF",   "WS",      "RWY11", "R24/",  "BLU",   "\n",    "\n\n",  "\xC2\xA0", "\xFF\xFE", "$",         "/"};
  for (int i = 0; i < 3000; ++i) {
    std::string text;
    const std::uint64_t count = random.below(30);
    for (std::uint64_t k = 0; k < count; ++k) {
      text += scraps[random.below(scraps.size())];
      if (random.below(5) != 0) text += ' ';
      if (random.below(20) == 0 && !text.empty())
        text[random.below(text.size())] = static_cast<char>(random.below(256));
    }
    SCOPED_TRACE(text);
    expect_lawful(text, read(text));
    if (HasFatalFailure()) return;
  }
}

// A report printed from fields of our choice, in a random dress.
struct Printed {
  std::string text;
  SurfaceReport expected;
};

std::string figures(int value, int width) {
  std::string digits = std::to_string(value);
  return std::string(
             static_cast<std::size_t>(width) - std::min<std::size_t>(digits.size(), static_cast<std::size_t>(width)),
             '0') +
         digits;
}

Printed print_random(Random& random) {
  const auto pick = [&](int low, int high) {
    return low + static_cast<int>(random.below(static_cast<std::size_t>(high - low) + 1));
  };
  const auto celsius_text = [](int t) { return (t < 0 ? "M" : "") + figures(t < 0 ? -t : t, 2); };
  Printed p;
  std::vector<std::string> groups{"METAR", "ZZQA", "161250Z"};
  if (pick(0, 1) == 0) {
    groups.emplace_back("AUTO");
    p.expected.automatic = true;
  }
  if (pick(0, 9) > 0) {
    static constexpr std::array<std::pair<const char*, Speed>, 3> units{
        {{"KT", knot}, {"MPS", metre_per_second}, {"KMH", kilometre_per_hour}}};
    const auto& [unit, speed_unit] = units[random.below(3)];
    const int from = 10 * pick(1, 36), speed = pick(1, 60);
    std::string group = figures(from, 3) + figures(speed, 2);
    p.expected.wind = wind::Wind::from(TrueBearing::at(from * degree), speed * speed_unit);
    p.expected.wind_speed = speed * speed_unit;
    if (pick(0, 2) == 0) {
      const int gust = speed + pick(5, 50);
      group += "G" + figures(gust, 2);
      p.expected.gust = gust * speed_unit;
    }
    groups.push_back(group + unit);
  }
  if (pick(0, 1) == 0) {
    const int metres = 50 * pick(1, 199);
    groups.push_back(figures(metres, 4));
    p.expected.visibility = metres * metre;
  } else {
    const int sixteenths = pick(1, 80);
    const int whole = sixteenths / 16;
    int over = sixteenths % 16, under = 16;
    while (over != 0 && over % 2 == 0) {
      over /= 2;
      under /= 2;
    }
    if (over == 0) {
      groups.push_back(std::to_string(whole) + "SM");
    } else {
      if (whole > 0) groups.push_back(std::to_string(whole));
      groups.push_back(std::to_string(over) + "/" + std::to_string(under) + "SM");
    }
    p.expected.visibility = (sixteenths / 16.0) * statute_mile;
  }
  if (pick(0, 3) == 0) groups.emplace_back("R24L/0900V1500U");
  for (const char* weather : {"-SHRA", "BR", "VCTS"}) {
    if (pick(0, 3) != 0) continue;
    groups.emplace_back(weather);
    p.expected.weather.emplace_back(weather);
  }
  static constexpr std::array<std::pair<const char*, CloudAmount>, 5> amounts{
      {{"FEW", CloudAmount::few},
       {"SCT", CloudAmount::scattered},
       {"BKN", CloudAmount::broken},
       {"OVC", CloudAmount::overcast},
       {"VV", CloudAmount::vertical_visibility}}};
  const int layers = pick(0, 4);
  for (int i = 0; i < layers; ++i) {
    const auto& [code, amount] = amounts[random.below(amounts.size())];
    const int hundreds = pick(0, 400);
    const bool convective = pick(0, 4) == 0;
    groups.push_back(code + figures(hundreds, 3) + (convective ? "CB" : ""));
    p.expected.clouds.push_back({amount, agl(hundreds * 100 * foot), convective});
  }
  if (layers == 0) {
    groups.emplace_back("NSC");
    p.expected.sky_clear = true;
  }
  const int t = pick(-40, 45), dew = t - pick(0, 30);
  groups.push_back(celsius_text(t) + "/" + celsius_text(dew));
  p.expected.temperature = celsius(t);
  p.expected.dew_point = celsius(dew);
  if (pick(0, 1) == 0) {
    const int q = pick(900, 1080);
    groups.push_back("Q" + figures(q, 4));
    p.expected.qnh = q * hectopascal;
  } else {
    const int a = pick(2700, 3150);
    groups.push_back("A" + figures(a, 4));
    p.expected.qnh = a * (0.01 * inch_of_mercury);
  }
  for (const char* passed : {"RERA", "W15/S4", "BLU", "TEMPO 0500 FG 99/99"})
    if (pick(0, 4) == 0) groups.emplace_back(passed);
  if (pick(0, 1) == 0) {
    // Tenths that round to the body's degrees.
    const int tenths = 10 * t + pick(-4, 4), dew_tenths = std::min(10 * dew + pick(-4, 4), tenths);
    const auto part = [](int v) { return (v < 0 ? "1" : "0") + figures(v < 0 ? -v : v, 3); };
    groups.push_back("RMK AO2 T" + part(tenths) + part(dew_tenths) + " FREE 4 ALL");
    p.expected.temperature = celsius(tenths / 10.0);
    p.expected.dew_point = celsius(dew_tenths / 10.0);
  }
  static constexpr std::array<const char*, 4> blanks{" ", "\n", "\r\n  ", "\t"};
  for (const std::string& group : groups) p.text += group + blanks[random.below(blanks.size())];
  p.text += "=";
  return p;
}

TEST(Metar, GivesBackTheFieldsThatAReportWasPrintedFrom) {
  Random random = testing::seeded("Metar.RoundTrip");
  for (int i = 0; i < 2000; ++i) {
    const Printed p = print_random(random);
    SCOPED_TRACE(p.text);
    const Reports parsed = read(p.text);
    ASSERT_TRUE(parsed.issues.empty()) << parsed.issues.front().sentence.key << " at " << parsed.issues.front().got;
    ASSERT_TRUE(parsed.value && parsed.value->size() == 1);
    const SurfaceReport& r = parsed.value->front();
    const SurfaceReport& e = p.expected;
    ASSERT_EQ(r.automatic, e.automatic);
    ASSERT_EQ(r.wind, e.wind);
    ASSERT_EQ(r.wind_speed, e.wind_speed);
    ASSERT_EQ(r.gust, e.gust);
    ASSERT_FALSE(r.wind_variable || r.visibility_at_least || r.visibility_below || r.visibility_lowest);
    ASSERT_NEAR(r.visibility.value().in(metre), e.visibility->in(metre), 1e-9);
    ASSERT_EQ(joined(r.weather), joined(e.weather));
    ASSERT_EQ(in_words(r.clouds), in_words(e.clouds));
    ASSERT_EQ(r.sky_clear, e.sky_clear);
    ASSERT_EQ(r.temperature, e.temperature);
    ASSERT_EQ(r.dew_point, e.dew_point);
    ASSERT_NEAR(r.qnh.value().in(pascal), e.qnh->in(pascal), 1e-6);
  }
}

// One group changed in one letter never makes another report of what the other groups say.
TEST(Metar, AMisprintInOneGroupLeavesTheOthersAsTheyAre) {
  Random random = testing::seeded("Metar.Misprint");
  const std::string good = "METAR ZZQA 161250Z 30008KT 3000 -RA SCT015 BKN030 17/15 Q1009 RMK AO2=";
  const std::size_t from = good.find("3000 "), to = good.find(" 17/15");
  for (int i = 0; i < 2000; ++i) {
    std::string text = good;
    const std::size_t at = from + random.below(to - from);
    if (text[at] == ' ') continue;
    text[at] = static_cast<char>('A' + static_cast<char>(random.below(26)));
    SCOPED_TRACE(text);
    const Reports parsed = read(text);
    ASSERT_TRUE(parsed.value);
    const SurfaceReport& r = parsed.value->front();
    ASSERT_EQ(r.wind_speed, 8 * knot);
    ASSERT_EQ(r.temperature, celsius(17));
    ASSERT_EQ(r.qnh, 1009 * hectopascal);
    expect_lawful(text, parsed);
    if (HasFatalFailure()) return;
  }
}

}  // namespace
}  // namespace pappus::text
