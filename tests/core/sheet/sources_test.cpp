// What was told of the air: which source counts for what, what it beat, and how old it is.
#include <algorithm>
#include <functional>

#include <gtest/gtest.h>

#include "core/sheet/facts.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "core/sheet/sections/sources.hpp"
#include "tests/support/morning.hpp"

namespace pappus::sheet {
namespace {

using testing::at_clock;
using testing::good_morning;

SourceUse named_source(const std::vector<SourceUse>& sources, std::string_view name) {
  static const SourceUse none;
  for (const SourceUse& source : sources)
    if (source.name == name) return source;
  ADD_FAILURE() << "no source " << name;
  return none;
}

std::vector<SourceUse> told_of(const Morning& morning) { return sources_of(facts_of(morning)); }

bool says(const std::vector<Sentence>& sentences, std::string_view key) {
  return std::any_of(sentences.begin(), sentences.end(), [&](const Sentence& s) { return s.key == key; });
}

const Sentence& the(const std::vector<Sentence>& sentences, std::string_view key) {
  static const Sentence none;
  for (const Sentence& sentence : sentences)
    if (sentence.key == key) return sentence;
  ADD_FAILURE() << "nobody says " << key;
  return none;
}

Look wind_look(std::string words, int hour, int minute) {
  return {.what = "wind", .value = std::nullopt, .words = std::move(words), .time = at_clock(hour, minute)};
}

wind::Ladder forecast_winds(Moment valid) {
  wind::Ladder ladder{{wind::SourceKind::forecast, "ZQA", valid.at}, {}};
  for (const double height_m : {0.0, 100.0, 200.0, 400.0, 600.0, 800.0})
    ladder.rows.push_back({.altitude = amsl((1500.0 + height_m) * metre),
                           .wind = wind::Wind::from(TrueBearing::at(180.0 * degree), 20.0 * knot),
                           .temperature = celsius(10.0)});
  return ladder;
}

PibalSeen pibal(Moment released, bool rolls = false) {
  PibalSeen seen;
  seen.source = {wind::SourceKind::pibal, "first", released.at};
  seen.ascent.rise = wind::pibal::stated_rise_rate(1.5 * metre_per_second);
  for (int i = 1; i <= 6; ++i)
    seen.ascent.calls.push_back(
        {30.0 * i * second, wind::pibal::Azimuth{TrueBearing::at(60.0 * degree)}, 35.0 * degree});
  if (rolls) seen.ascent.seen = {wind::pibal::FlagKind::rolls};
  return seen;
}

// ---- the wind by eye

TEST(SurfaceFacts, ASignOfTheWindCountsWithItsUpperFigure) {
  Morning m = good_morning();
  m.flight.looks.push_back(wind_look("flags", 4, 46));
  const Facts facts = facts_of(m);
  ASSERT_TRUE(facts.surface_wind.has_value());
  EXPECT_EQ(facts.surface_wind->value, 8.0 * mile_per_hour);
  EXPECT_EQ(facts.surface_wind->time, at_clock(4, 46).at);
  const SourceUse report = named_source(sources_of(facts), "XSGB");
  EXPECT_EQ(the(report.beaten, "source.beaten.surface_wind_look"),
            say("source.beaten.surface_wind_look", {{"time", at_clock(4, 46)}}));
  EXPECT_TRUE(says(named_source(sources_of(facts), "flags").uses, "source.use.surface_wind"));
}

TEST(SurfaceFacts, ALookAtTheWindMayBeASpeed) {
  Morning m = good_morning();
  Look look = wind_look("6kt", 4, 46);
  look.value = measure::wind(6.0 * knot);
  m.flight.looks.push_back(look);
  EXPECT_EQ(facts_of(m).surface_wind->value, 6.0 * knot);
}

TEST(SurfaceFacts, TheLatestCountsBeItALookAReportOrALadder) {
  Morning m = good_morning();  // a ladder of 04:40, a report of 04:35
  m.flight.looks.push_back(wind_look("dust", 4, 38));
  EXPECT_EQ(facts_of(m).surface_wind->from.list, SourceList::ladder);
  EXPECT_EQ(the(named_source(told_of(m), "dust").beaten, "source.beaten.surface_wind"),
            say("source.beaten.surface_wind", {{"name", std::string{"pibal"}}, {"time", at_clock(4, 40)}}));
  m.flight.reports[0].source.time = at_clock(4, 44).at;
  EXPECT_EQ(facts_of(m).surface_wind->from.list, SourceList::report);
  m.flight.looks.back().time = at_clock(4, 45);
  EXPECT_EQ(facts_of(m).surface_wind->from.list, SourceList::look);
}

TEST(SurfaceFacts, AForecastForLaterDoesNotBeatWhatWasSeen) {
  Morning m = good_morning();
  m.flight.ladders.push_back(forecast_winds(at_clock(6, 0)));
  EXPECT_NEAR(facts_of(m).surface_wind->value.in(knot), 2.0, 1e-9);
  EXPECT_NEAR(in_celsius(facts_of(m).temperature->value), 3.0, 1e-9);
  m.flight.reports.clear();
  m.flight.ladders.erase(m.flight.ladders.begin());
  EXPECT_NEAR(facts_of(m).surface_wind->value.in(knot), 20.0, 1e-9);
}

TEST(SurfaceFacts, WordsThatAreNoSignGiveNoWind) {
  EXPECT_FALSE(wind_of(wind_look("from the lake", 4, 45)).has_value());
  EXPECT_EQ(wind_of(wind_look("smoke leans", 4, 45)), 3.0 * mile_per_hour);
}

// ---- pilot balloons

TEST(PibalFacts, ItsWindsJoinTheOthersAndBeatAForecast) {
  Morning m = good_morning();
  m.flight.ladders = {forecast_winds(at_clock(5, 0))};
  m.flight.reports.clear();
  m.flight.pibals = {pibal(at_clock(4, 40))};
  const Facts facts = facts_of(m);
  ASSERT_EQ(facts.ladders.size(), 2u);
  ASSERT_NE(facts.newest_ladder, nullptr);
  EXPECT_EQ(facts.newest_ladder->source.name, "first");
  // 1.5 m/s up and 35 degrees: 2.14 m/s toward 60 degrees at every height.
  const auto level = facts.winds.at(amsl(1650.0 * metre));
  ASSERT_TRUE(level.has_value());
  EXPECT_NEAR(level->wind.speed().in(metre_per_second), 1.5 / 0.70021, 0.01);
  EXPECT_NEAR(level->wind.direction_from()->from_north().in(degree), 240.0, 0.01);
  const auto sources = sources_of(facts);
  EXPECT_TRUE(says(named_source(sources, "first").uses, "source.use.winds"));
  const SourceUse forecast = named_source(sources, "ZQA");
  EXPECT_TRUE(says(forecast.beaten, "source.beaten.winds_seen"));
  // It serves below and above.
  EXPECT_TRUE(says(forecast.uses, "source.use.wind_ground"));
  EXPECT_TRUE(says(forecast.uses, "source.use.winds"));
}

TEST(PibalFacts, ItsLayersAndFlagsStandOnTheSheet) {
  Morning m = good_morning();
  m.flight.pibals = {pibal(at_clock(4, 40), true)};
  const FlightSheet s = sheet(m);
  ASSERT_EQ(s.pibals.size(), 1u);
  EXPECT_EQ(s.pibals[0].name, "first");
  EXPECT_EQ(s.pibals[0].layers.size(), 6u);
  EXPECT_EQ(s.pibals[0].layers[0].bottom, agl(Length{}));
  EXPECT_NEAR(s.pibals[0].layers[0].top.from_origin().in(metre), 45.0, 1e-9);
  EXPECT_TRUE(says(s.pibals[0].flags, "pibal.seen.rolls"));
}

TEST(PibalFacts, OneOfWhichNoCallServesSaysNothingAndBreaksNothing) {
  Morning m = good_morning();
  const std::size_t levels = sheet(m).winds.levels.size();
  m.flight.pibals = {pibal(at_clock(4, 45))};
  for (auto& call : m.flight.pibals[0].ascent.calls) call.elevation.reset();
  const FlightSheet s = sheet(m);
  ASSERT_EQ(s.pibals.size(), 1u);  // shown, so that its calls can be mended
  EXPECT_TRUE(s.pibals[0].layers.empty());
  EXPECT_EQ(s.winds.levels.size(), levels);
  const SourceUse unused = named_source(s.sources, "first");
  EXPECT_TRUE(unused.uses.empty());
}

// ---- which counts

TEST(Sources, OfWhatSeveralSayOfTheGroundExactlyOneIsUsed) {
  Morning m = good_morning();
  m.flight.field.qnh.reset();
  wind::SurfaceReport other = m.flight.reports[0];
  other.station = other.source.name = "XSGC";
  other.source.time = at_clock(4, 41).at;
  m.flight.reports.push_back(other);
  m.flight.looks.push_back(wind_look("leaves", 4, 20));
  m.flight.ladders.push_back(forecast_winds(at_clock(5, 0)));
  const auto sources = told_of(m);
  for (const char* figure : {"qnh", "temperature", "dew_point", "surface_wind", "weather"}) {
    const std::string key = std::string{"source.use."} + figure;
    EXPECT_EQ(std::count_if(sources.begin(), sources.end(), [&](const SourceUse& s) { return says(s.uses, key); }), 1)
        << figure;
  }
  EXPECT_TRUE(says(named_source(sources, "XSGB").beaten, "source.beaten.qnh"));
  EXPECT_TRUE(says(named_source(sources, "XSGB").beaten, "source.beaten.weather"));
  EXPECT_TRUE(says(named_source(sources, "XSGC").uses, "source.use.qnh"));
}

TEST(Sources, TheSettingTypedForTheFieldBeatsAReport) {
  EXPECT_TRUE(says(named_source(told_of(good_morning()), "XSGB").beaten, "source.beaten.qnh_typed"));
}

TEST(Sources, AWholeLadderThatIsBeatenIsUsedForNothing) {
  Morning m = good_morning();
  wind::Ladder old = m.flight.ladders[0];
  old.source = {wind::SourceKind::seen, "neighbour", at_clock(4, 20).at};
  for (wind::LadderRow& row : old.rows) row.temperature = *row.temperature + 1.0 * kelvin;
  m.flight.ladders.push_back(old);
  const SourceUse beaten = named_source(told_of(m), "neighbour");
  EXPECT_TRUE(beaten.uses.empty());
  const Sentence& winds = the(beaten.beaten, "source.beaten.winds_time");
  EXPECT_EQ(winds, say("source.beaten.winds_time", {{"name", std::string{"pibal"}},
                                                    {"time", at_clock(4, 40)},
                                                    {"low", measure::of(agl(Length{}))},
                                                    {"high", measure::of(agl(450.0 * metre))}}));
  EXPECT_TRUE(says(beaten.beaten, "source.beaten.temperatures"));
}

TEST(Sources, AgesAreToldAndOldOnesSaid) {
  Morning m = good_morning();
  m.flight.ladders.push_back(forecast_winds(at_clock(9, 0)));
  const auto fresh = told_of(m);
  EXPECT_EQ(named_source(fresh, "XSGB").age, 15.0 * minute);
  EXPECT_FALSE(named_source(fresh, "XSGB").old);
  EXPECT_EQ(named_source(fresh, "ZQA").age, -250.0 * minute) << "it speaks of a time ahead";
  EXPECT_FALSE(named_source(fresh, "ZQA").old);
  m.as_of = at_clock(5, 36);  // 61 min after the report, 56 after the ladder
  EXPECT_TRUE(named_source(told_of(m), "XSGB").old);
  EXPECT_TRUE(named_source(told_of(m), "pibal").old);
}

TEST(Sources, OfTwoLooksAtOneThingTheLaterCounts) {
  Morning m = good_morning();
  m.flight.looks.push_back({.what = "storm", .value = std::nullopt, .words = "far west", .time = at_clock(4, 30)});
  EXPECT_TRUE(says(named_source(told_of(m), "far west").beaten, "source.beaten.look"));
  EXPECT_TRUE(says(named_source(told_of(m), "none").uses, "source.use.look"));
}

TEST(Sources, HeightsBelowTheFieldAreSaidToBeLeftOut) {
  Morning m = good_morning();
  wind::Ladder sounding{{wind::SourceKind::sounding, "99123", at_clock(3, 0).at}, {}};
  sounding.rows = {{.altitude = amsl(300.0 * metre), .wind = wind::Wind{}, .temperature = celsius(9.0)},
                   {.altitude = amsl(3000.0 * metre), .wind = wind::Wind{}, .temperature = celsius(0.0)}};
  m.flight.ladders.push_back(sounding);
  const SourceUse told = named_source(told_of(m), "99123");
  EXPECT_TRUE(says(told.beaten, "source.beaten.below_field"));
  EXPECT_TRUE(says(told.uses, "source.use.winds_above"));  // 1500 m above the field, where nobody flies
}

// ---- the age of winds

Limit winds_age(const Morning& m) {
  for (const Limit& limit : sheet(m).limits)
    if (limit.name == "winds_age") return limit;
  ADD_FAILURE() << "no limit";
  return {};
}

TEST(WindsAge, AForecastForAFarTimeIsNotYoung) {
  Morning m = good_morning();
  m.flight.ladders = {forecast_winds(at_clock(6, 0))};
  EXPECT_EQ(winds_age(m).state, LimitState::inside);
  m.flight.ladders = {forecast_winds(at_clock(13, 0))};
  EXPECT_EQ(winds_age(m).state, LimitState::near);
  m.flight.ladders = {forecast_winds(at_clock(18, 0))};
  EXPECT_EQ(winds_age(m).state, LimitState::outside);
  EXPECT_EQ(winds_age(m).finding.key, "limit.winds_age.forecast");
}

// ---- aerodrome forecasts

wind::ForecastPeriod fair() {
  wind::ForecastPeriod p;
  p.from = at_clock(3, 0).at;
  p.to = at_clock(23, 0).at;
  p.wind = wind::Wind::from(TrueBearing::at(100.0 * degree), 4.0 * knot);
  p.wind_speed = 4.0 * knot;
  p.visibility = 10.0 * statute_mile;
  p.visibility_at_least = true;
  p.sky_clear = true;
  return p;
}

wind::Forecast taf() {
  wind::Forecast f;
  f.station = "XSGB";
  f.issued = at_clock(2, 30).at;
  f.valid_from = at_clock(3, 0).at;
  f.valid_to = at_clock(23, 0).at;
  f.periods = {fair()};
  return f;
}

std::optional<Limit> forecast_weather(const Morning& m) {
  for (const Limit& limit : sheet(m).limits)
    if (limit.name == "forecast_weather") return limit;
  return std::nullopt;
}

Limit judged(const std::function<void(wind::Forecast&)>& change) {
  Morning m = good_morning();
  m.flight.forecasts = {taf()};
  change(m.flight.forecasts[0]);
  auto limit = forecast_weather(m);
  EXPECT_TRUE(limit.has_value());
  return limit.value_or(Limit{});
}

TEST(ForecastWeather, StandsOnlyWhereAForecastIsGiven) {
  EXPECT_FALSE(forecast_weather(good_morning()).has_value());
  const Limit quiet = judged([](wind::Forecast&) {});
  EXPECT_EQ(quiet.state, LimitState::inside);
  EXPECT_EQ(quiet.kind, LimitKind::look);
  EXPECT_EQ(quiet.finding.key, "limit.forecast_weather.quiet");
  EXPECT_EQ(quiet.age, 140.0 * minute);
}

TEST(ForecastWeather, EachDangerIsOutsideEvenIfItMayPass) {
  for (const char* weather : {"TSRA", "-TSRA", "VCTS", "FZRA", "-FZDZ", "+RA", "+SHSN", "GR", "-SHPL", "SQ", "+FC"}) {
    EXPECT_EQ(judged([&](wind::Forecast& f) { f.periods[0].weather = {weather}; }).state, LimitState::outside)
        << weather;
    const auto as_tempo = [&](wind::Forecast& f) {
      wind::ForecastPeriod tempo;
      tempo.kind = wind::PeriodKind::prob_tempo;
      tempo.probability = 30;
      tempo.from = at_clock(5, 0).at;
      tempo.to = at_clock(7, 0).at;
      tempo.weather = {weather};
      f.periods.push_back(tempo);
    };
    EXPECT_EQ(judged(as_tempo).state, LimitState::outside) << weather;
  }
}

TEST(ForecastWeather, EachCautionIsNearAndSaid) {
  const auto expect_near = [](const char* said, const std::function<void(wind::ForecastPeriod&)>& change) {
    const Limit limit = judged([&](wind::Forecast& f) { change(f.periods[0]); });
    EXPECT_EQ(limit.state, LimitState::near) << said;
    EXPECT_EQ(limit.finding.key, std::string{"limit.forecast_weather."} + said);
    EXPECT_TRUE(limit.remedy.has_value());
  };
  expect_near("gust", [](auto& p) { p.gust = 15.0 * knot; });
  expect_near("wind", [](auto& p) { p.wind_speed = 9.0 * knot; });
  for (const char* weather : {"-RA", "FG", "FZFG", "BR", "SHRA", "DZ", "HZ"})
    expect_near("weather", [&](auto& p) { p.weather = {weather}; });
  expect_near("visibility", [](auto& p) {
    p.visibility = 3000.0 * metre;
    p.visibility_at_least = false;
  });
  const auto cloud = [](double base_ft, bool convective) {
    return wind::CloudLayer{wind::CloudAmount::scattered, agl(base_ft * foot), convective};
  };
  expect_near("cloud", [&](auto& p) {
    p.sky_clear = false;
    p.clouds = {cloud(1400.0, false)};
  });
  expect_near("convective", [&](auto& p) {
    p.sky_clear = false;
    p.clouds = {cloud(4000.0, true)};
  });
  expect_near("shear", [](auto& p) { p.shear.emplace_back(); });
  expect_near("incomplete", [](auto& p) { p.not_read = {"XX123"}; });
  expect_near("incomplete", [](auto& p) { p.visibility.reset(); });
}

TEST(ForecastWeather, SeveralAreAllSaid) {
  const Limit limit = judged([](wind::Forecast& f) {
    f.periods[0].gust = 15.0 * knot;
    f.periods[0].weather = {"TS", "BR"};
  });
  EXPECT_EQ(limit.finding.key, "limit.forecast_weather.thunderstorm");
  EXPECT_TRUE(says(limit.notes, "limit.forecast_weather.gust"));
  EXPECT_EQ(the(limit.notes, "limit.forecast_weather.weather"),
            say("limit.forecast_weather.weather", {{"weather", std::string{"BR"}}, {"station", std::string{"XSGB"}}}));
}

TEST(ForecastWeather, WhatSaysNothingOfTheFlightIsNotKnown) {
  EXPECT_EQ(judged([](wind::Forecast& f) { f.cancelled = true; }).finding.key, "limit.forecast_weather.cancelled");
  EXPECT_EQ(judged([](wind::Forecast& f) { f.periods.clear(); }).finding.key, "limit.forecast_weather.nil");
  const Limit later = judged([](wind::Forecast& f) { f.valid_from = at_clock(9, 0).at; });
  EXPECT_EQ(later.finding.key, "limit.forecast_weather.elsewhen");
  EXPECT_EQ(later.state, LimitState::not_known);
  // Lift-off 05:10, 40 min planned, half an hour after it: 06:20.
  const Limit partly = judged([](wind::Forecast& f) { f.valid_to = at_clock(6, 19).at; });
  EXPECT_EQ(partly.state, LimitState::not_known);
  EXPECT_EQ(partly.finding.key, "limit.forecast_weather.partly");
  EXPECT_EQ(judged([](wind::Forecast& f) { f.valid_to = at_clock(6, 20).at; }).state, LimitState::inside);
  const Limit partly_bad = judged([](wind::Forecast& f) {
    f.valid_to = at_clock(6, 0).at;
    f.periods[0].weather = {"TS"};
  });
  EXPECT_EQ(partly_bad.state, LimitState::outside);
}

TEST(ForecastWeather, TheNewestOfAPlaceCounts) {
  Morning m = good_morning();
  wind::Forecast stormy = taf(), fine = taf();
  stormy.periods[0].weather = {"TS"};
  fine.issued = at_clock(4, 0).at;
  m.flight.forecasts = {fine, stormy};
  EXPECT_EQ(forecast_weather(m)->state, LimitState::inside);
  const auto sources = told_of(m);
  EXPECT_TRUE(says(sources[sources.size() - 2].uses, "source.use.forecast"));
  EXPECT_TRUE(says(sources.back().beaten, "source.beaten.forecast"));
  // One taken back leaves nothing, not the one before it.
  m.flight.forecasts[0].cancelled = true;
  EXPECT_EQ(forecast_weather(m)->state, LimitState::not_known);
  EXPECT_TRUE(says(told_of(m)[sources.size() - 2].beaten, "source.beaten.forecast_silent"));
}

TEST(ForecastWeather, OfTwoPlacesTheWorseCounts) {
  Morning m = good_morning();
  wind::Forecast other = taf();
  other.station = "XSGC";
  other.periods[0].weather = {"TS"};
  m.flight.forecasts = {taf(), other};
  EXPECT_EQ(forecast_weather(m)->state, LimitState::outside);
  std::swap(m.flight.forecasts[0], m.flight.forecasts[1]);
  EXPECT_EQ(forecast_weather(m)->state, LimitState::outside);
}

}  // namespace
}  // namespace pappus::sheet
