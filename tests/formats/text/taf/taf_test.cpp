#include "formats/text/taf/taf.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <string>
#include <utility>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::text {
namespace {

using wind::CloudAmount;
using wind::ForecastPeriod;
using wind::PeriodKind;
using Tafs = Parsed<std::vector<Taf>>;

const Instant kNear = instant_of(*Date::of(2027, 5, 16), 13, 0, 0.0, UtcOffset{});

Tafs read(std::string_view pasted) { return parse_taf(pasted, kNear); }

// The one forecast of `pasted`, which must raise no issue.
Taf one(std::string_view pasted) {
  const Tafs parsed = read(pasted);
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " at " << issue.got;
  if (!parsed.value || parsed.value->size() != 1) {
    ADD_FAILURE() << "not one forecast: " << pasted;
    return {};
  }
  return parsed.value->front();
}

// The one issue of `pasted`.
Issue issue_of(std::string_view pasted) {
  const Tafs parsed = read(pasted);
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
    all += layer.base ? std::to_string(static_cast<int>(layer.base->from_origin().in(foot) + 0.5)) : "-";
    if (layer.convective) all += " convective";
  }
  return all;
}

std::string joined(const std::vector<std::string>& groups) {
  std::string all;
  for (const std::string& group : groups) all += (all.empty() ? "" : " ") + group;
  return all;
}

const wind::ForecastTemperature& extreme(const Taf& taf, bool highest) {
  for (const wind::ForecastTemperature& t : taf.temperatures)
    if (t.highest == highest) return t;
  throw std::runtime_error("no such temperature");
}

double number_of(const Taf& taf, const std::string& quantity) {
  const ForecastPeriod& p = taf.periods.back();
  if (quantity == "wind_variable") return p.wind_variable ? 1.0 : 0.0;
  if (quantity == "sky_clear") return p.sky_clear ? 1.0 : 0.0;
  if (quantity == "weather_ends") return p.weather_ends ? 1.0 : 0.0;
  if (quantity == "visibility_at_least") return p.visibility_at_least ? 1.0 : 0.0;
  if (quantity == "visibility_below") return p.visibility_below ? 1.0 : 0.0;
  if (quantity == "wind_from_deg") return p.wind.value().direction_from().value().from_north().in(degree);
  if (quantity == "wind_speed_m_s") return p.wind_speed.value().in(metre_per_second);
  if (quantity == "gust_m_s") return p.gust.value().in(metre_per_second);
  if (quantity == "visibility_m") return p.visibility.value().in(metre);
  if (quantity == "shear_height_m") return p.shear.at(0).height.value().from_origin().in(metre);
  if (quantity == "shear_from_deg") return p.shear.at(0).wind.value().direction_from().value().from_north().in(degree);
  if (quantity == "shear_speed_m_s") return p.shear.at(0).wind.value().speed().in(metre_per_second);
  if (quantity == "qnh_hpa") return p.lowest_qnh.value().in(hectopascal);
  if (quantity == "highest_c") return in_celsius(extreme(taf, true).temperature);
  if (quantity == "lowest_c") return in_celsius(extreme(taf, false).temperature);
  if (quantity == "probability") return p.probability.value();
  throw std::runtime_error("no quantity " + quantity);
}

// Whether the period says nothing.
bool is_bare(const ForecastPeriod& p) {
  return !p.wind && !p.wind_speed && !p.gust && !p.wind_variable && !p.visibility && p.clouds.empty() && !p.sky_clear &&
         p.weather.empty() && !p.weather_ends && p.shear.empty() && p.icing.empty() && p.turbulence.empty() &&
         !p.lowest_qnh && p.not_read.empty();
}

std::string text_of(const Taf& taf, const std::string& quantity) {
  const ForecastPeriod& p = taf.periods.back();
  if (quantity == "cloud") return in_words(p.clouds);
  if (quantity == "weather") return joined(p.weather);
  if (quantity == "icing") return joined(p.icing);
  if (quantity == "turbulence") return joined(p.turbulence);
  if (quantity == "kind") return std::string{name_of(p.kind)};
  if (quantity == "from") return iso8601_utc(p.from);
  if (quantity == "to") return iso8601_utc(p.to);
  if (quantity == "highest_at") return iso8601_utc(extreme(taf, true).at);
  if (quantity == "lowest_at") return iso8601_utc(extreme(taf, false).at);
  if (quantity == "wind") return !p.wind ? "absent" : *p.wind == wind::Wind{} ? "calm" : "some";
  if (quantity == "shear") return p.shear.size() == 1 && !p.shear[0].height && !p.shear[0].wind ? "no figures" : "some";
  throw std::runtime_error("no quantity " + quantity);
}

TEST(Taf, ReadsEveryGroupOfTheTable) {
  for (const testing::Row& row : testing::read_table("taf_groups.csv")) {
    SCOPED_TRACE(row.where() + ": " + row.text("groups"));
    const Taf taf = one("TAF ZZQA 161130Z 1612/1718 " + row.text("groups") + "=");
    ASSERT_FALSE(taf.periods.empty());
    const std::string quantity = row.text("quantity");
    if (row.has("value")) {
      EXPECT_NEAR(number_of(taf, quantity), row["value"], row["tolerance"]);
    } else if (quantity == "passed_over") {
      EXPECT_EQ(taf.periods.size(), 1u);
      EXPECT_TRUE(is_bare(taf.periods.front()));
    } else {
      EXPECT_EQ(text_of(taf, quantity), row.text("text"));
    }
  }
}

TEST(Taf, ReadsAWholeForecast) {
  const Taf taf =
      one("TAF AMD ZZQA 161130Z 1612/1718 30008G19KT 9999 -SHRA SCT015CB BKN030 QNH2992INS WS015/32035KT TX24/1615Z\n"
          "  TEMPO 1612/1614 1500 +TSRA BKN008CB\n"
          "  FM161800 VRB03KT P6SM SKC\n"
          "  PROB30 TEMPO 1702/1706 0500 FG VV001\n"
          "  BECMG 1706/1708 12010KT NSW FEW030 RMK NXT FCST BY 161800Z=");
  EXPECT_EQ(taf.station, "ZZQA");
  EXPECT_EQ(iso8601_utc(taf.issued), "2027-05-16T11:30:00Z");
  EXPECT_EQ(iso8601_utc(taf.valid_from), "2027-05-16T12:00:00Z");
  EXPECT_EQ(iso8601_utc(taf.valid_to), "2027-05-17T18:00:00Z");
  EXPECT_TRUE(taf.amended);
  EXPECT_FALSE(taf.corrected || taf.cancelled || taf.nil);
  ASSERT_EQ(taf.periods.size(), 5u);
  const ForecastPeriod& base = taf.periods[0];
  EXPECT_EQ(base.kind, PeriodKind::base);
  EXPECT_EQ(base.from, taf.valid_from);
  EXPECT_EQ(iso8601_utc(base.to), "2027-05-16T18:00:00Z");  // until the next from
  EXPECT_NEAR(base.wind->direction_from()->from_north().in(degree), 300.0, 1e-9);
  EXPECT_EQ(base.wind_speed, 8 * knot);
  EXPECT_EQ(base.gust, 19 * knot);
  EXPECT_EQ(in_words(base.clouds), "scattered 1500 convective, broken 3000");
  EXPECT_EQ(base.shear.size(), 1u);
  EXPECT_EQ(base.text, "30008G19KT 9999 -SHRA SCT015CB BKN030 QNH2992INS WS015/32035KT TX24/1615Z");
  EXPECT_EQ(taf.periods[1].kind, PeriodKind::tempo);
  EXPECT_EQ(taf.periods[1].text, "TEMPO 1612/1614 1500 +TSRA BKN008CB");
  EXPECT_FALSE(taf.periods[1].wind_speed);
  EXPECT_EQ(iso8601_utc(taf.periods[2].to), "2027-05-17T18:00:00Z");
  EXPECT_EQ(taf.periods[3].kind, PeriodKind::prob_tempo);
  EXPECT_EQ(taf.periods[3].probability, 30);
  EXPECT_TRUE(taf.periods[4].weather_ends);
  EXPECT_EQ(taf.periods[4].text, "BECMG 1706/1708 12010KT NSW FEW030");
  ASSERT_EQ(taf.temperatures.size(), 1u);
  for (const ForecastPeriod& p : taf.periods) EXPECT_TRUE(p.times_known && p.not_read.empty());
}

TEST(Taf, FindsForecastsInTheMidstOfOtherText) {
  const Tafs parsed = read(
      "Good morning,\n"
      "here is the TAF I found, and the report:\n\n"
      "FTZZ31 ZZQA 161100\n"
      "TAF\n"
      "TAF COR ZZQA 161130Z 1612/1718\n"
      "  30008KT 9999\r\n"
      "\tFEW030=\n"
      "METAR ZZQA 161250Z 30008KT 4000 TEMPO 1500=\n"
      "ZZQB 161120Z 1612/1712 31005KT CAVOK\n"
      "     FM161800 VRB02KT 9999 NSC\n"
      "> taf amd zzqc 161153z 1612/1712 02003kt p6sm skc amd not sked\n\n"
      "See you at the field, TAF or not.\n");
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " at " << issue.got;
  ASSERT_EQ(parsed.value->size(), 3u);
  EXPECT_EQ(parsed.value->at(0).station, "ZZQA");
  EXPECT_TRUE(parsed.value->at(0).corrected);
  EXPECT_EQ(parsed.value->at(0).text, "TAF TAF COR ZZQA 161130Z 1612/1718 30008KT 9999 FEW030");
  EXPECT_EQ(parsed.value->at(1).station, "ZZQB");
  EXPECT_EQ(parsed.value->at(1).periods.size(), 2u);
  EXPECT_EQ(parsed.value->at(2).station, "ZZQC");
  EXPECT_TRUE(parsed.value->at(2).amended);
  EXPECT_EQ(parsed.value->at(2).text, "taf amd zzqc 161153z 1612/1712 02003kt p6sm skc amd not sked");
}

TEST(Taf, StartsANewForecastWithoutAnEndSign) {
  const Tafs parsed = read(
      "ZZQA 161130Z 1612/1712 30008KT ZZQB 161130Z 1612/1712 31008KT RMK NEXT 161800Z\n"
      "AMD ZZQC 161140Z 1612/1712 32008KT\nMETAR ZZQD 161250Z 33008KT");
  EXPECT_TRUE(parsed.issues.empty());
  ASSERT_EQ(parsed.value->size(), 3u);
  EXPECT_EQ(parsed.value->at(1).text, "ZZQB 161130Z 1612/1712 31008KT RMK NEXT 161800Z");
  EXPECT_TRUE(parsed.value->at(2).amended);
  for (const Taf& taf : *parsed.value) EXPECT_EQ(taf.periods.size(), 1u);
}

TEST(Taf, ReadsOnAfterAnEmptyLineThatAKnownGroupFollows) {
  EXPECT_EQ(one("TAF ZZQA 161130Z 1612/1712 30008KT\n\nFM161800 VRB02KT\n\nSee you").periods.size(), 2u);
  EXPECT_EQ(one("TAF ZZQA 161130Z 1612/1712 30008KT AMD NOT SKED\n\nFM161800 VRB02KT").periods.size(), 2u);
}

TEST(Taf, PassesOverSurfaceReports) {
  EXPECT_FALSE(read("METAR ZZQA 161250Z 30008KT 9999 TEMPO 1500=").value);
  EXPECT_FALSE(read("ZZQA 161250Z 30008KT 9999 BECMG 1500=").value);
}

TEST(Taf, ReadsTheOlderForms) {
  const Taf dated = one("TAF ZZQA 161130Z 161812 30008KT TEMPO 2002 TSRA FM0330 31005KT BECMG 0608 NSW=");
  EXPECT_EQ(iso8601_utc(dated.valid_from), "2027-05-16T18:00:00Z");
  EXPECT_EQ(iso8601_utc(dated.valid_to), "2027-05-17T12:00:00Z");
  ASSERT_EQ(dated.periods.size(), 4u);
  EXPECT_EQ(iso8601_utc(dated.periods[1].from), "2027-05-16T20:00:00Z");
  EXPECT_EQ(iso8601_utc(dated.periods[1].to), "2027-05-17T02:00:00Z");
  EXPECT_EQ(iso8601_utc(dated.periods[2].from), "2027-05-17T03:30:00Z");
  EXPECT_EQ(iso8601_utc(dated.periods[3].to), "2027-05-17T08:00:00Z");
  EXPECT_EQ(one("ZZQA 161130Z 161212 30008KT=").valid_to - one("ZZQA 161130Z 161212 30008KT=").valid_from, 24.0 * hour);
  const Taf hours = one("TAF ZZQA 162330Z 0024 30008KT TEMPO 2124 TSRA=");
  EXPECT_EQ(iso8601_utc(hours.valid_from), "2027-05-17T00:00:00Z");
  EXPECT_EQ(iso8601_utc(hours.valid_to), "2027-05-18T00:00:00Z");
  EXPECT_EQ(iso8601_utc(hours.periods[1].to), "2027-05-18T00:00:00Z");
  EXPECT_FALSE(read("ZZQA 162330Z 0024 30008KT=").value);  // without its name it reads as a report of 24 m visibility
}

TEST(Taf, TakesTheMonthNearestToNow) {
  const auto time = [](const std::string& times, const char* near) {
    const auto parsed = parse_taf("TAF ZZQA " + times + " 30008KT=", parse_moment(near)->at);
    if (!parsed.value) return std::string{"none"};
    const Taf& taf = parsed.value->front();
    return iso8601_utc(taf.issued) + " " + iso8601_utc(taf.valid_from) + " " + iso8601_utc(taf.valid_to);
  };
  EXPECT_EQ(time("312330Z 0100/0124", "2027-01-01T00:20:00Z"),
            "2026-12-31T23:30:00Z 2027-01-01T00:00:00Z 2027-01-02T00:00:00Z");
  EXPECT_EQ(time("281730Z 2818/2924", "2028-02-28T18:00:00Z"),
            "2028-02-28T17:30:00Z 2028-02-28T18:00:00Z 2028-03-01T00:00:00Z");
  EXPECT_EQ(time("281730Z 2818/0124", "2027-02-28T18:00:00Z"),
            "2027-02-28T17:30:00Z 2027-02-28T18:00:00Z 2027-03-02T00:00:00Z");
  EXPECT_EQ(time("302330Z 3024/0124", "2027-05-01T00:00:00Z"),
            "2027-04-30T23:30:00Z 2027-05-01T00:00:00Z 2027-05-02T00:00:00Z");
}

TEST(Taf, RefusesAPresentOutsideTheCalendar) {
  for (const std::int64_t ms : {INT64_MAX, INT64_MIN, std::int64_t{253'402'300'800'000}}) {
    const auto parsed = parse_taf("TAF ZZQA 161130Z 1612/1712 CAVOK", Instant::from_unix_milliseconds(ms));
    EXPECT_FALSE(parsed.value);
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.taf_time");
  }
}

TEST(Taf, KeepsAForecastThatSaysNothing) {
  for (const std::string_view pasted : {"TAF ZZQA 161130Z NIL=", "TAF ZZQA 161130Z 1612/1712 NIL=",
                                        "TAF ZZQA 161130Z 1612/1712 FCST NOT AVBL DUE NO OBS"}) {
    const Taf taf = one(pasted);
    EXPECT_TRUE(taf.nil && !taf.cancelled && taf.periods.empty()) << pasted;
  }
  for (const std::string_view pasted : {"TAF AMD ZZQA 161130Z 1612/1712 CNL=", "TAF ZZQA 161130Z AMD CNL="}) {
    const Taf taf = one(pasted);
    EXPECT_TRUE(taf.cancelled && taf.amended && !taf.nil && taf.periods.empty()) << pasted;
  }
}

TEST(Taf, SaysWhereAndWhatItDidNotUnderstand) {
  const Tafs parsed =
      read("hello\n\n  TAF ZZQA 161130Z 1612/1712 30008KT\n 9999 \xC3\xA9t\xC3\xA9 BLAH TEMPO 1612/1614 BKN01=\n");
  ASSERT_EQ(parsed.issues.size(), 3u);
  EXPECT_EQ(parsed.issues[0].where, (Where{"", 4, 7, ""}));
  EXPECT_EQ(parsed.issues[1].where, (Where{"", 4, 11, ""}));  // columns are characters, not bytes
  EXPECT_EQ(parsed.issues[1].sentence, say("issue.taf_group", {{"group", "BLAH"}, {"station", "ZZQA"}}));
  EXPECT_EQ(joined(parsed.value->front().periods[0].not_read), "??t?? BLAH");
  EXPECT_EQ(joined(parsed.value->front().periods[1].not_read), "BKN01");
}

// What is wrong, the rule that it breaks, and where; the rest of the forecast stands.
struct Broken {
  std::string_view groups, key, got;
  Errc code = Errc::bad_input;
};

TEST(Taf, NamesTheRuleThatABrokenGroupBreaks) {
  static const std::array<Broken, 43> cases{
      {{"3O008KT", "issue.taf_wind", "3O008KT"},
       {"37008KT", "issue.taf_wind", "37008KT"},
       {"00008KT", "issue.taf_wind", "00008KT"},
       {"30008G05KT", "issue.taf_wind", "30008G05KT"},
       {"300300KT", "issue.taf_wind", "300300KT"},
       {"/////KT", "issue.taf_wind", "/////KT"},
       {"30008KT 31008KT", "issue.taf_repeated", "31008KT", Errc::conflict},
       {"99999", "issue.taf_visibility", "99999"},
       {"11/2SM", "issue.taf_visibility", "11/2SM"},
       {"RAIN", "issue.taf_group", "RAIN"},
       {"HZ/RAIN", "issue.taf_group", "HZ/RAIN"},
       {"TS/", "issue.taf_group", "TS/"},
       {"BKN30", "issue.taf_cloud", "BKN30"},
       {"SCT20TCU", "issue.taf_cloud", "SCT20TCU"},
       {"CAVOK FEW030", "issue.taf_clear", "CAVOK", Errc::conflict},
       {"CAVOK -RA", "issue.taf_clear", "CAVOK", Errc::conflict},
       {"CAVOK -RA FEW030", "issue.taf_clear", "CAVOK", Errc::conflict},
       {"NSC FEW030", "issue.taf_clear", "NSC", Errc::conflict},
       {"NSW -RA", "issue.taf_clear", "NSW", Errc::conflict},
       {"WS20/05065KT", "issue.taf_shear", "WS20/05065KT"},
       {"WS020/05065", "issue.taf_shear", "WS020/05065"},
       {"WS020/40065KT", "issue.taf_shear", "WS020/40065KT"},
       {"WS020/050399KT", "issue.taf_shear", "WS020/050399KT"},
       {"QNH29921NS", "issue.taf_pressure", "QNH29921NS"},
       {"QNH3992INS", "issue.taf_pressure", "QNH3992INS"},
       {"QNH2992INS QNH2993INS", "issue.taf_repeated", "QNH2993INS", Errc::conflict},
       {"TX75/1614Z", "issue.taf_temperature", "TX75/1614Z"},
       {"TX25/1625Z", "issue.taf_temperature", "TX25/1625Z"},
       {"TX25/0014Z", "issue.taf_temperature", "TX25/0014Z"},
       {"TN5/1614Z", "issue.taf_temperature", "TN5/1614Z"},
       {"WND 33009KT AFT 1615", "issue.taf_group", "WND 33009KT AFT 1615"},
       {"FM16180 30008KT", "issue.taf_period", "FM16180"},
       {"FM161860 30008KT", "issue.taf_period", "FM161860"},
       {"FM1618O0 30008KT", "issue.taf_period", "FM1618O0"},
       {"FM181200 30008KT", "issue.taf_outside", "FM181200", Errc::conflict},
       {"TEMPO 3000 RA", "issue.taf_period", "TEMPO"},
       {"TEMPO 1618/1616 RA", "issue.taf_period", "1618/1616"},
       {"BECMG 1615/1 30008KT", "issue.taf_period", "1615/1"},
       {"BECMG 1615/1625 30008KT", "issue.taf_period", "1615/1625"},
       {"PROB50 1614/1616 RA", "issue.taf_probability", "PROB50"},
       {"PROB3 1614/1616 RA", "issue.taf_probability", "PROB3"},
       {"TEMPO 1610/1616 RA", "issue.taf_outside", "1610/1616", Errc::conflict},
       {"TEMPO 1716/1720 RA", "issue.taf_outside", "1716/1720", Errc::conflict}}};
  for (const Broken& broken : cases) {
    const std::string pasted = "TAF ZZQA 161130Z 1612/1718 " + std::string{broken.groups} + " RMK END=";
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

// What cannot be trusted is left out and remembered, so that nobody takes the rest for all.
TEST(Taf, RemembersInItsPeriodWhatItCannotTrust) {
  const auto last = [](const char* groups) {
    return read("TAF ZZQA 161130Z 1612/1718 30008KT " + std::string{groups} + "=").value->front().periods.back();
  };
  const ForecastPeriod gust = last("FM161800 30008G05KT");
  EXPECT_EQ(gust.wind_speed, 8 * knot);
  EXPECT_FALSE(gust.gust);
  EXPECT_EQ(joined(gust.not_read), "30008G05KT");
  EXPECT_FALSE(last("FM161800 30010G300KT").wind_speed);
  EXPECT_EQ(joined(last("31008KT").not_read), "31008KT");
  EXPECT_EQ(last("31008KT").wind_speed, 8 * knot);
  EXPECT_FALSE(last("CAVOK FEW030").sky_clear);
  EXPECT_FALSE(last("NSW -RA").weather_ends);
  EXPECT_FALSE(last("CAVOK -RA FEW030").sky_clear || last("CAVOK -RA FEW030").weather_ends);
  const ForecastPeriod unknown = last("BECMG 1615/1 017 22030KT");
  EXPECT_FALSE(unknown.times_known);
  EXPECT_EQ(unknown.wind_speed, 30 * knot);
  EXPECT_EQ(iso8601_utc(unknown.from), "2027-05-16T12:00:00Z");
  EXPECT_EQ(iso8601_utc(unknown.to), "2027-05-17T18:00:00Z");
  const ForecastPeriod shear = last("WS020/40065KT");
  EXPECT_TRUE(shear.shear.at(0).height);
  EXPECT_FALSE(shear.shear.at(0).wind);
  EXPECT_FALSE(last("QNH3992INS").lowest_qnh);
}

TEST(Taf, TellsTimesThatCannotBeRead) {
  for (const std::string_view pasted :
       {"TAF ZZQA 321130Z 1612/1712 CAVOK=", "TAF ZZQA 161260Z 1612/1712 CAVOK=", "TAF ZZQA 161130 1612/1712 CAVOK=",
        "TAF ZZQA 1612/1712 CAVOK=", "TAF ZZQA NIL="}) {
    const Tafs parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.taf_time") << pasted;
  }
  for (const std::string_view pasted :
       {"TAF ZZQA 161130Z 30008KT 9999=", "TAF ZZQA 161130Z 1612/1612 CAVOK=", "TAF ZZQA 161130Z 1712/1612 CAVOK=",
        "TAF ZZQA 161130Z 1612/2012 CAVOK=", "TAF ZZQA 161130Z 0612/0712 CAVOK=", "TAF ZZQA 161130Z 1625/1712 CAVOK=",
        "TAF ZZQA 161130Z", "TAF ZZQA 161130Z 163012 CAVOK"}) {
    const Tafs parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.taf_validity") << pasted;
  }
}

TEST(Taf, TellsAForecastThatEndsAfterItsValidity) {
  const Issue issue = issue_of("TAF ZZQA 161130Z 1612/1712=");
  EXPECT_EQ(issue.sentence.key, "issue.taf_empty");
  EXPECT_EQ(issue.code, Errc::no_data);
}

TEST(Taf, TellsThatATextHoldsNoForecast) {
  for (const std::string_view pasted : {"", "   \n\n", "=", "no wind at all this morning", "TAF", "TAF ZZQA",
                                        "ZZQA 161130Z", "TAF or not", "METAR ZZQA 161250Z CAVOK"}) {
    const Tafs parsed = read(pasted);
    EXPECT_FALSE(parsed.value) << pasted;
    ASSERT_EQ(parsed.issues.size(), 1u) << pasted;
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.taf_none") << pasted;
  }
}

TEST(Taf, StopsInProseThatFollowsWithoutAnEnd) {
  const Tafs parsed = read(
      "TAF ZZQA 161130Z 1612/1712 30008KT CAVOK\nwe shall meet at the usual place and then look at what the wind does "
      "before anything is unpacked");
  ASSERT_EQ(parsed.issues.size(), 9u);
  EXPECT_EQ(parsed.issues[8].sentence.key, "issue.taf_rest");
  EXPECT_EQ(parsed.value->front().periods[0].wind_speed, 8 * knot);
}

// The laws of the header.
void expect_lawful(std::string_view pasted, const Tafs& parsed) {
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
    if (issue.sentence.key == "issue.taf_none") continue;
    ASSERT_GE(issue.where.line, 1);
    ASSERT_LE(static_cast<std::size_t>(issue.where.line), columns.size());
    ASSERT_GE(issue.where.column, 1);
    ASSERT_LE(issue.where.column, columns[static_cast<std::size_t>(issue.where.line) - 1]);
    ASSERT_FALSE(issue.got.empty());
    ASSERT_FALSE(issue.wanted.empty());
  }
  if (!parsed.value) return;
  ASSERT_FALSE(parsed.value->empty());
  for (const Taf& taf : *parsed.value) {
    ASSERT_EQ(taf.station.size(), 4u);
    ASSERT_EQ(taf.periods.empty(), taf.cancelled || taf.nil);
    if (taf.periods.empty()) continue;
    ASSERT_LT(taf.valid_from, taf.valid_to);
    ASSERT_EQ(taf.periods.front().kind, PeriodKind::base);
    for (const ForecastPeriod& p : taf.periods) {
      ASSERT_LE(p.from, p.to);
      if (p.gust && p.wind_speed) {
        ASSERT_GT(*p.gust, *p.wind_speed);
      }
      ASSERT_FALSE(p.sky_clear && !p.clouds.empty());
      ASSERT_FALSE(p.weather_ends && !p.weather.empty());
    }
  }
}

TEST(Taf, IsLawfulForAnyText) {
  Random random = testing::seeded("Taf.AnyText");
  static const std::array<std::string_view, 54> scraps{
      "TAF",       "AMD",     "COR",       "NIL",        "CNL",      "ZZQA",       "ZZQB",
      "161130Z",   "991250Z", "1612/1718", "161218",     "1218",     "30008KT",    "VRB02KT",
      "0000",      "9999",    "CAVOK",     "1",          "1/2SM",    "P6SM",       "-RA",
      "VCTS",      "FEW010",  "VV///",     "NSC",        "NSW",      "TEMPO",      "BECMG",
      "INTER",     "PROB30",  "PROB",      "30",         "FM161800", "FM1800",     "FM99",
      "1614/1616", "1614/1",  "1416",      "TX25/1614Z", "TN",       "QNH2992INS", "WS020/05065KT",
      "WSCONDS",   "620304",  "RMK",       "FCST",       "NOT",      "AVBL",       "=",
      "METAR",     "\n",      "\n\n",      "\xC2\xA0",   "WND"};
  for (int i = 0; i < 3000; ++i) {
    std::string text = random.below(2) == 0 ? "TAF ZZQA 161130Z 1612/1718 " : "";
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

// A forecast printed from fields of our choice, in a random dress.
struct Printed {
  std::string text;
  Taf expected;
};

std::string figures(int value, int width) {
  std::string digits = std::to_string(value);
  return std::string(
             static_cast<std::size_t>(width) - std::min<std::size_t>(digits.size(), static_cast<std::size_t>(width)),
             '0') +
         digits;
}

class Printer {
 public:
  explicit Printer(Random& random) : random_{random} {}

  Printed print() {
    Taf& taf = printed_.expected;
    groups_ = {"TAF"};
    taf.amended = pick(0, 3) == 0;
    if (taf.amended) groups_.emplace_back("AMD");
    groups_.emplace_back("ZZQA");
    groups_.emplace_back("161130Z");
    length_ = pick(6, 30);
    taf.valid_from = at(0);
    taf.valid_to = at(length_);
    groups_.push_back(span(0, length_));
    period(PeriodKind::base, 0, length_);
    const int changes = pick(0, 5);
    int last_from = 0;
    for (int i = 0; i < changes; ++i) {
      const int from = pick(0, length_ - 1), to = pick(from + 1, length_);
      switch (pick(0, 5)) {
        case 0:
          if (last_from + 1 >= length_) break;
          last_from = pick(last_from + 1, length_ - 1);
          groups_.push_back("FM" + day_hour(last_from) + "00");
          period(PeriodKind::from, last_from, length_);
          break;
        case 1: change({"BECMG"}, PeriodKind::becoming, from, to); break;
        case 2: change({"TEMPO"}, PeriodKind::tempo, from, to); break;
        case 3: change({"PROB40"}, PeriodKind::prob, from, to, 40); break;
        case 4: change({"PROB30", "TEMPO"}, PeriodKind::prob_tempo, from, to, 30); break;
        default: change({"INTER"}, PeriodKind::inter, from, to); break;
      }
    }
    // A base or from period lasts until the next from.
    std::optional<Instant> next;
    for (auto p = taf.periods.rbegin(); p != taf.periods.rend(); ++p) {
      if (p->kind != PeriodKind::base && p->kind != PeriodKind::from) continue;
      if (next) p->to = *next;
      next = p->from;
    }
    if (pick(0, 2) == 0) groups_.emplace_back(pick(0, 1) == 0 ? "RMK FREE 4 ALL TEMPO" : "AMD NOT SKED");
    static constexpr std::array<const char*, 4> blanks{" ", "\n", "\r\n  ", "\t"};
    for (const std::string& group : groups_) printed_.text += group + blanks[random_.below(blanks.size())];
    printed_.text += "=";
    return printed_;
  }

 private:
  int pick(int low, int high) {
    return low + static_cast<int>(random_.below(static_cast<std::size_t>(high - low + 1)));
  }
  // Hours are counted from 12 UTC on the 16th.
  static Instant at(int hours) { return instant_of(*Date::of(2027, 5, 16), 12, 0, 0.0, UtcOffset{}) + hours * hour; }
  static std::string day_hour(int hours) { return figures(16 + (12 + hours) / 24, 2) + figures((12 + hours) % 24, 2); }
  std::string span(int from, int to) {
    std::string end = day_hour(to);
    if (end.substr(2) == "00" && pick(0, 1) == 0) end = figures(15 + (12 + to) / 24, 2) + "24";
    return day_hour(from) + "/" + end;
  }
  void change(const std::vector<std::string>& words, PeriodKind kind, int from, int to,
              std::optional<int> probability = std::nullopt) {
    groups_.insert(groups_.end(), words.begin(), words.end());
    groups_.push_back(span(from, to));
    period(kind, from, to);
    printed_.expected.periods.back().probability = probability;
  }
  void period(PeriodKind kind, int from, int to) {
    ForecastPeriod p;
    p.kind = kind;
    p.from = at(from);
    p.to = at(to);
    if (kind == PeriodKind::base || pick(0, 3) > 0) add_wind(p);
    if (pick(0, 3) > 0) add_visibility(p);
    add_weather_and_cloud(p);
    if (pick(0, 5) == 0) {
      const int hundreds = pick(1, 20), direction = 10 * pick(1, 36), speed = pick(20, 99);
      groups_.push_back("WS" + figures(hundreds, 3) + "/" + figures(direction, 3) + figures(speed, 2) + "KT");
      p.shear.push_back(
          {agl(hundreds * 100 * foot), wind::Wind::from(TrueBearing::at(direction * degree), speed * knot)});
    }
    if (pick(0, 5) == 0) {
      groups_.emplace_back("620304");
      p.icing.emplace_back("620304");
    }
    if (pick(0, 5) == 0) {
      const int t = pick(-40, 45), when = pick(0, length_);
      groups_.push_back(std::string{t < 0 ? "TNM" : "TX"} + figures(t < 0 ? -t : t, 2) + "/" + day_hour(when) + "Z");
      printed_.expected.temperatures.push_back({t >= 0, celsius(t), at(when)});
    }
    printed_.expected.periods.push_back(p);
  }
  void add_wind(ForecastPeriod& p) {
    static constexpr std::array<std::pair<const char*, Speed>, 3> units{
        {{"KT", knot}, {"MPS", metre_per_second}, {"KMH", kilometre_per_hour}}};
    const auto& [unit, speed_unit] = units[random_.below(3)];
    const int direction = 10 * pick(1, 36), speed = pick(1, 60);
    p.wind_variable = pick(0, 4) == 0;
    std::string group = (p.wind_variable ? "VRB" : figures(direction, 3)) + figures(speed, 2);
    if (!p.wind_variable) p.wind = wind::Wind::from(TrueBearing::at(direction * degree), speed * speed_unit);
    p.wind_speed = speed * speed_unit;
    if (pick(0, 2) == 0) {
      const int gust = speed + pick(5, 50);
      group += "G" + figures(gust, 2);
      p.gust = gust * speed_unit;
    }
    groups_.push_back(group + unit);
  }
  void add_visibility(ForecastPeriod& p) {
    if (pick(0, 1) == 0) {
      const int metres = 50 * pick(1, 199);
      groups_.push_back(figures(metres, 4));
      p.visibility = metres * metre;
    } else {
      groups_.emplace_back("1 3/4SM");
      p.visibility = 1.75 * statute_mile;
    }
  }
  void add_weather_and_cloud(ForecastPeriod& p) {
    for (const char* weather : {"-SHRA", "BR", "VCTS"}) {
      if (pick(0, 3) != 0) continue;
      groups_.emplace_back(weather);
      p.weather.emplace_back(weather);
    }
    if (p.weather.empty() && pick(0, 3) == 0) {
      groups_.emplace_back("NSW");
      p.weather_ends = true;
    }
    static constexpr std::array<std::pair<const char*, CloudAmount>, 3> amounts{
        {{"FEW", CloudAmount::few}, {"BKN", CloudAmount::broken}, {"VV", CloudAmount::vertical_visibility}}};
    const int layers = pick(0, 3);
    for (int i = 0; i < layers; ++i) {
      const auto& [code, amount] = amounts[random_.below(amounts.size())];
      const int hundreds = pick(0, 400);
      const bool convective = pick(0, 4) == 0;
      groups_.push_back(code + figures(hundreds, 3) + (convective ? "CB" : ""));
      p.clouds.push_back({amount, agl(hundreds * 100 * foot), convective});
    }
    if (layers == 0 && pick(0, 1) == 0) {
      groups_.emplace_back("NSC");
      p.sky_clear = true;
    }
  }

  Random& random_;
  std::vector<std::string> groups_;
  int length_ = 0;
  Printed printed_;
};

TEST(Taf, GivesBackTheFieldsThatAForecastWasPrintedFrom) {
  Random random = testing::seeded("Taf.RoundTrip");
  for (int i = 0; i < 2000; ++i) {
    const Printed printed = Printer{random}.print();
    SCOPED_TRACE(printed.text);
    const Tafs parsed = read(printed.text);
    ASSERT_TRUE(parsed.issues.empty()) << parsed.issues.front().sentence.key << " at " << parsed.issues.front().got;
    ASSERT_TRUE(parsed.value && parsed.value->size() == 1);
    const Taf& taf = parsed.value->front();
    const Taf& e = printed.expected;
    ASSERT_EQ(taf.amended, e.amended);
    ASSERT_EQ(taf.valid_from, e.valid_from);
    ASSERT_EQ(taf.valid_to, e.valid_to);
    ASSERT_EQ(taf.temperatures.size(), e.temperatures.size());
    for (std::size_t k = 0; k < e.temperatures.size(); ++k) {
      ASSERT_EQ(taf.temperatures[k].highest, e.temperatures[k].highest);
      ASSERT_EQ(taf.temperatures[k].temperature, e.temperatures[k].temperature);
      ASSERT_EQ(taf.temperatures[k].at, e.temperatures[k].at);
    }
    ASSERT_EQ(taf.periods.size(), e.periods.size());
    for (std::size_t k = 0; k < e.periods.size(); ++k) {
      const ForecastPeriod& got = taf.periods[k];
      const ForecastPeriod& want = e.periods[k];
      ASSERT_EQ(got.kind, want.kind);
      ASSERT_EQ(got.probability, want.probability);
      ASSERT_EQ(got.from, want.from);
      ASSERT_EQ(got.to, want.to);
      ASSERT_TRUE(got.times_known && got.not_read.empty());
      ASSERT_EQ(got.wind, want.wind);
      ASSERT_EQ(got.wind_speed, want.wind_speed);
      ASSERT_EQ(got.gust, want.gust);
      ASSERT_EQ(got.wind_variable, want.wind_variable);
      ASSERT_EQ(got.visibility.has_value(), want.visibility.has_value());
      if (want.visibility) {
        ASSERT_NEAR(got.visibility->in(metre), want.visibility->in(metre), 1e-9);
      }
      ASSERT_EQ(in_words(got.clouds), in_words(want.clouds));
      ASSERT_EQ(got.sky_clear, want.sky_clear);
      ASSERT_EQ(joined(got.weather), joined(want.weather));
      ASSERT_EQ(got.weather_ends, want.weather_ends);
      ASSERT_EQ(got.shear.size(), want.shear.size());
      if (!want.shear.empty()) {
        ASSERT_EQ(got.shear[0].height, want.shear[0].height);
        ASSERT_EQ(got.shear[0].wind, want.shear[0].wind);
      }
      ASSERT_EQ(got.icing, want.icing);
    }
    expect_lawful(printed.text, parsed);
    if (HasFatalFailure()) return;
  }
}

}  // namespace
}  // namespace pappus::text
