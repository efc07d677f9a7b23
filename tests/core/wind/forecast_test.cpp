#include "core/wind/forecast.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::wind {
namespace {

// Hours are counted from midnight UTC of one day; the forecast is valid from 06 to 18.
Instant at(double hours) { return instant_of(*Date::of(2027, 5, 16), 0, 0, 0.0, UtcOffset{}) + hours * hour; }

ForecastPeriod period(PeriodKind kind, double from, double to = 18) {
  ForecastPeriod p;
  p.kind = kind;
  p.from = at(from);
  p.to = at(to);
  return p;
}

ForecastPeriod with_wind(ForecastPeriod p, double knots, std::optional<double> gust_knots = std::nullopt) {
  p.wind_speed = knots * knot;
  p.wind = Wind::from(TrueBearing::at(270 * degree), knots * knot);
  p.gust.reset();
  if (gust_knots) p.gust = *gust_knots * knot;
  return p;
}
ForecastPeriod with_visibility(ForecastPeriod p, double metres) {
  p.visibility = metres * metre;
  return p;
}
ForecastPeriod with_cloud(ForecastPeriod p, CloudAmount amount, double feet) {
  p.clouds.push_back({amount, agl(feet * foot), false});
  return p;
}
ForecastPeriod with_weather(ForecastPeriod p, std::vector<std::string> weather) {
  p.weather = std::move(weather);
  return p;
}
ForecastPeriod without_cloud(ForecastPeriod p) {
  p.sky_clear = true;
  return p;
}

// 8 kt, 10 km, nothing else.
ForecastPeriod quiet_base() { return without_cloud(with_visibility(with_wind(period(PeriodKind::base, 6), 8), 10000)); }
// 4 kt, 9 km, nothing else, from an hour on.
ForecastPeriod quiet_from(double hours) {
  return without_cloud(with_visibility(with_wind(period(PeriodKind::from, hours), 4), 9000));
}

Forecast forecast(std::vector<ForecastPeriod> periods) {
  Forecast f;
  f.station = "ZZQA";
  f.issued = at(5);
  f.valid_from = at(6);
  f.valid_to = at(18);
  f.periods = std::move(periods);
  return f;
}

Outlook between(const Forecast& f, double from, double to) { return worst_between(f, at(from), at(to)).value(); }
double knots(const std::optional<Speed>& speed) { return speed ? speed->in(knot) : -1.0; }
double wind_between(const Forecast& f, double from, double to) {
  return knots(between(f, from, to).prevailing.wind_speed);
}

using Indices = std::vector<std::size_t>;
using Groups = std::vector<std::string>;

TEST(Forecast, SaysWhatItsBaseSays) {
  const Outlook o = between(forecast({quiet_base()}), 7, 9);
  EXPECT_TRUE(o.whole);
  EXPECT_EQ(o.from, at(7));
  EXPECT_EQ(o.to, at(9));
  EXPECT_TRUE(o.prevailing.is_complete());
  EXPECT_DOUBLE_EQ(knots(o.prevailing.wind_speed), 8.0);
  EXPECT_FALSE(o.prevailing.gust);
  EXPECT_EQ(o.prevailing.visibility, 10000 * metre);
  EXPECT_FALSE(o.prevailing.cloud_base || o.prevailing.ceiling || o.prevailing.thunderstorm);
  EXPECT_EQ(o.prevailing.periods, Indices{0});
  EXPECT_TRUE(o.temporary.periods.empty());
}

TEST(Forecast, AFromReplacesEverythingAtItsMoment) {
  const ForecastPeriod from = with_visibility(with_wind(period(PeriodKind::from, 10), 5), 4000);
  const Forecast f =
      forecast({with_weather(with_wind(quiet_base(), 12, 25), {"BR"}), with_cloud(from, CloudAmount::few, 900)});
  EXPECT_DOUBLE_EQ(wind_between(f, 7, 9.99), 12.0);
  EXPECT_EQ(between(f, 7, 9.99).prevailing.visibility, 10000 * metre);
  EXPECT_DOUBLE_EQ(wind_between(f, 7, 10), 12.0);
  EXPECT_EQ(between(f, 7, 10).prevailing.visibility, 4000 * metre);
  const Expected after = between(f, 10, 12).prevailing;
  EXPECT_DOUBLE_EQ(knots(after.wind_speed), 5.0);
  EXPECT_FALSE(after.gust);
  EXPECT_TRUE(after.weather.empty());
  EXPECT_EQ(after.cloud_base, agl(900 * foot));
  EXPECT_FALSE(after.ceiling);  // few is no ceiling
  EXPECT_EQ(after.periods, Indices{1});
}

TEST(Forecast, BothStatesCountWhileOneBecomesTheOther) {
  const Forecast easing = forecast({with_wind(quiet_base(), 15), with_wind(period(PeriodKind::becoming, 9, 11), 4)});
  EXPECT_DOUBLE_EQ(wind_between(easing, 7, 8), 15.0);
  EXPECT_DOUBLE_EQ(wind_between(easing, 9, 10), 15.0);
  EXPECT_DOUBLE_EQ(wind_between(easing, 10.9, 12), 15.0);
  EXPECT_DOUBLE_EQ(wind_between(easing, 11, 12), 4.0);
  const Forecast rising = forecast({quiet_base(), with_wind(period(PeriodKind::becoming, 9, 11), 20, 32)});
  EXPECT_DOUBLE_EQ(wind_between(rising, 7, 8.9), 8.0);
  EXPECT_DOUBLE_EQ(wind_between(rising, 7, 9), 20.0);  // it may have become so at once
  EXPECT_DOUBLE_EQ(knots(between(rising, 7, 9).prevailing.gust), 32.0);
}

TEST(Forecast, ABecomingReplacesOnlyWhatItNames) {
  Forecast f = forecast({with_weather(with_wind(quiet_base(), 10, 22), {"FG"}),
                         with_visibility(period(PeriodKind::becoming, 8, 9), 5000),
                         with_wind(period(PeriodKind::becoming, 10, 11), 6)});
  const Expected p = between(f, 9.5, 9.9).prevailing;
  EXPECT_DOUBLE_EQ(knots(p.gust), 22.0);
  EXPECT_EQ(p.visibility, 5000 * metre);
  EXPECT_EQ(p.weather, Groups{"FG"});
  EXPECT_FALSE(between(f, 11, 12).prevailing.gust);  // a wind without gust ends it
  EXPECT_EQ(between(f, 12, 14).prevailing.weather, Groups{"FG"});
  ForecastPeriod ends = period(PeriodKind::becoming, 12, 13);
  ends.weather_ends = true;
  f.periods.push_back(ends);
  EXPECT_EQ(between(f, 12.5, 14).prevailing.weather, Groups{"FG"});
  EXPECT_TRUE(between(f, 13, 14).prevailing.weather.empty());
}

TEST(Forecast, ABecomingFromTheFirstMomentEndsTheBase) {
  const Forecast f =
      forecast({with_visibility(quiet_base(), 500), with_visibility(period(PeriodKind::becoming, 6, 8), 9000)});
  EXPECT_EQ(between(f, 6, 7).prevailing.visibility, 500 * metre);
  EXPECT_EQ(between(f, 8, 9).prevailing.visibility, 9000 * metre);
}

TEST(Forecast, AFromEndsABecomingThatIsUnderWay) {
  const Forecast f = forecast({quiet_base(), with_wind(period(PeriodKind::becoming, 9, 11), 25), quiet_from(10)});
  EXPECT_DOUBLE_EQ(wind_between(f, 9, 9.5), 25.0);
  EXPECT_DOUBLE_EQ(wind_between(f, 10, 12), 4.0);
  EXPECT_DOUBLE_EQ(wind_between(f, 11.5, 12), 4.0);
}

TEST(Forecast, ABecomingAtTheMomentOfAFromChangesIt) {
  const Forecast f =
      forecast({quiet_base(), with_wind(quiet_from(10), 12), with_wind(period(PeriodKind::becoming, 10, 12), 3)});
  EXPECT_DOUBLE_EQ(wind_between(f, 11, 11.5), 12.0);
  EXPECT_DOUBLE_EQ(wind_between(f, 12, 13), 3.0);
}

TEST(Forecast, TwoChangesOfOneKindAtOneMomentBothCount) {
  const Forecast f = forecast({quiet_base(), with_wind(period(PeriodKind::becoming, 9, 10), 20),
                               with_wind(period(PeriodKind::becoming, 9, 10), 2)});
  EXPECT_DOUBLE_EQ(wind_between(f, 12, 13), 20.0);
}

TEST(Forecast, WhatMayComeAndGoStandsBesideWhatPrevails) {
  ForecastPeriod storm = with_weather(with_wind(period(PeriodKind::prob_tempo, 9, 11), 15, 35), {"BR", "TSRA"});
  storm.probability = 30;
  storm.clouds.push_back({CloudAmount::broken, agl(1200 * foot), true});
  const Forecast f = forecast({quiet_base(), storm, with_visibility(period(PeriodKind::inter, 10, 12), 800)});
  const Outlook o = between(f, 8, 9);
  EXPECT_DOUBLE_EQ(knots(o.prevailing.wind_speed), 8.0);
  EXPECT_FALSE(o.prevailing.gust || o.prevailing.thunderstorm || o.prevailing.convective);
  EXPECT_DOUBLE_EQ(knots(o.temporary.gust), 35.0);
  EXPECT_TRUE(o.temporary.thunderstorm && o.temporary.convective && o.temporary.is_complete());
  EXPECT_EQ(o.temporary.ceiling, agl(1200 * foot));
  EXPECT_EQ(o.temporary.weather, (Groups{"TSRA", "BR"}));  // the worst first
  EXPECT_FALSE(o.temporary.visibility);
  EXPECT_EQ(o.temporary.periods, Indices{1});
  EXPECT_EQ(between(f, 10, 10).temporary.periods, (Indices{1, 2}));
  EXPECT_EQ(between(f, 11, 13).temporary.periods, (Indices{1, 2}));  // its last moment belongs to it
  EXPECT_TRUE(between(f, 12.1, 13).temporary.periods.empty());
}

TEST(Forecast, KnowsNothingOutsideItsValidity) {
  const Forecast f = forecast({quiet_base()});
  for (const auto& [from, to] : {std::pair{2.0, 5.9}, std::pair{18.1, 20.0}}) {
    const auto outside = worst_between(f, at(from), at(to));
    ASSERT_FALSE(outside);
    EXPECT_EQ(outside.error().code, Errc::no_data);
    EXPECT_EQ(outside.error().sentence.key, "issue.forecast_outside");
  }
  const Outlook early = between(f, 4, 7);
  EXPECT_FALSE(early.whole);
  EXPECT_EQ(early.from, at(6));
  EXPECT_EQ(early.to, at(7));
  const Outlook late = between(f, 17, 19);
  EXPECT_FALSE(late.whole);
  EXPECT_EQ(late.from, at(17));
  EXPECT_EQ(late.to, at(18));
  EXPECT_TRUE(between(f, 6, 18).whole);
  EXPECT_TRUE(between(f, 18, 18).whole);
}

TEST(Forecast, SaysWhyItSaysNothing) {
  Forecast cancelled = forecast({});
  cancelled.cancelled = true;
  EXPECT_EQ(worst_between(cancelled, at(7), at(8)).error().sentence.key, "issue.forecast_cancelled");
  Forecast nil = forecast({quiet_base()});
  nil.nil = true;
  EXPECT_EQ(worst_between(nil, at(7), at(8)).error().sentence.key, "issue.forecast_nil");
  const Forecast no_base = forecast({with_wind(period(PeriodKind::tempo, 7, 9), 20)});
  EXPECT_EQ(worst_between(no_base, at(7), at(8)).error().sentence.key, "issue.forecast_nil");
  const auto backward = worst_between(forecast({quiet_base()}), at(9), at(8));
  EXPECT_EQ(backward.error().sentence.key, "issue.forecast_interval");
  EXPECT_EQ(backward.error().code, Errc::bad_call);
}

TEST(Forecast, WhatAStateDoesNotSayIsNotKnown) {
  const Forecast f = forecast({quiet_base(), with_wind(period(PeriodKind::from, 10), 3)});
  EXPECT_TRUE(between(f, 7, 9).prevailing.is_complete());
  const Expected p = between(f, 9, 11).prevailing;
  EXPECT_TRUE(p.wind_known);
  EXPECT_FALSE(p.visibility_known || p.clouds_known || p.is_complete());
  EXPECT_EQ(p.visibility, 10000 * metre);  // of the other state
  EXPECT_FALSE(between(f, 10, 11).prevailing.visibility);
  ForecastPeriod hidden = quiet_base();
  hidden.sky_clear = false;
  hidden.clouds.push_back({CloudAmount::vertical_visibility, std::nullopt, false});
  EXPECT_FALSE(between(forecast({hidden}), 7, 9).prevailing.clouds_known);
  ForecastPeriod windless = quiet_base();
  windless.wind.reset();
  windless.wind_speed.reset();
  EXPECT_FALSE(between(forecast({windless}), 7, 9).prevailing.wind_known);
}

TEST(Forecast, WhatWasNotReadIsDoubtedUntilEverythingIsSaidAnew) {
  ForecastPeriod half = with_wind(period(PeriodKind::becoming, 8, 9), 6);
  half.not_read.emplace_back("BKN01");
  const Forecast f =
      forecast({quiet_base(), half, without_cloud(with_wind(period(PeriodKind::becoming, 10, 11), 5)), quiet_from(14)});
  EXPECT_TRUE(between(f, 6, 7.9).prevailing.is_complete());
  EXPECT_EQ(between(f, 8, 8).prevailing.not_read, Groups{"BKN01"});
  EXPECT_FALSE(between(f, 12, 13).prevailing.is_complete());
  EXPECT_TRUE(between(f, 14, 15).prevailing.is_complete());
}

TEST(Forecast, AStatementWhoseTimesAreUnknownCountsThroughout) {
  ForecastPeriod becoming = with_wind(period(PeriodKind::becoming, 6, 18), 30);
  becoming.times_known = false;
  ForecastPeriod tempo = with_weather(period(PeriodKind::tempo, 6, 18), {"TSRA"});
  tempo.times_known = false;
  const Forecast f = forecast({quiet_base(), becoming, tempo, quiet_from(10)});
  for (const double from : {6.0, 9.0, 12.0, 18.0}) {
    const Outlook o = between(f, from, 18);
    EXPECT_DOUBLE_EQ(knots(o.prevailing.wind_speed), 30.0);
    EXPECT_FALSE(o.prevailing.times_known || o.prevailing.is_complete());
    EXPECT_TRUE(o.temporary.thunderstorm);
    EXPECT_FALSE(o.temporary.times_known);
  }
  const Forecast ends_nothing = forecast({with_wind(quiet_base(), 40), becoming});
  EXPECT_DOUBLE_EQ(wind_between(ends_nothing, 17, 18), 40.0);
}

TEST(Forecast, OfTwoEqualVisibilitiesBelowIsTheWorse) {
  ForecastPeriod at_least = with_visibility(period(PeriodKind::tempo, 7, 9), 800);
  at_least.visibility_at_least = true;
  ForecastPeriod below = with_visibility(period(PeriodKind::tempo, 7, 9), 800);
  below.visibility_below = true;
  for (const auto& periods : {std::vector{quiet_base(), at_least, below}, std::vector{quiet_base(), below, at_least}}) {
    const Expected t = between(forecast(periods), 7, 8).temporary;
    EXPECT_TRUE(t.visibility_below);
    EXPECT_FALSE(t.visibility_at_least);
  }
}

TEST(Forecast, PutsTheWorstWeatherFirst) {
  const Forecast f =
      forecast({with_weather(quiet_base(), {"HZ", "-RA", "+RA", "FZDZ", "VCTS", "FG", "SHSN", "HZ", "+TSRAGR"})});
  const Expected p = between(f, 7, 8).prevailing;
  EXPECT_EQ(p.weather, (Groups{"VCTS", "+TSRAGR", "FZDZ", "+RA", "SHSN", "-RA", "FG", "HZ"}));
  EXPECT_TRUE(p.thunderstorm);
  for (const char* other : {"DS", "+SS", "-RASN", "SQ"})
    EXPECT_FALSE(between(forecast({with_weather(quiet_base(), {other})}), 7, 8).prevailing.thunderstorm) << other;
}

TEST(Forecast, KeepsShearIcingAndTurbulence) {
  ForecastPeriod base = quiet_base();
  base.shear.push_back({agl(1500 * foot), Wind::from(TrueBearing::at(200 * degree), 35 * knot)});
  base.icing = {"620304"};
  base.turbulence = {"520004"};
  const Forecast f = forecast({base, with_wind(period(PeriodKind::becoming, 8, 9), 4), quiet_from(14)});
  const Expected p = between(f, 10, 11).prevailing;
  ASSERT_EQ(p.shear.size(), 1u);
  EXPECT_EQ(p.shear[0].height, agl(1500 * foot));
  EXPECT_EQ(p.icing, Groups{"620304"});
  EXPECT_EQ(p.turbulence, Groups{"520004"});
  const Expected after = between(f, 14, 15).prevailing;
  EXPECT_TRUE(after.shear.empty() && after.icing.empty() && after.turbulence.empty());
}

// Any forecast of the kind that is sent, and stranger ones.
Forecast any_forecast(Random& random) {
  const auto pick = [&](int low, int high) {
    return low + static_cast<int>(random.below(static_cast<std::size_t>(high - low + 1)));
  };
  static constexpr std::array<PeriodKind, 6> kinds{PeriodKind::from, PeriodKind::becoming,   PeriodKind::tempo,
                                                   PeriodKind::prob, PeriodKind::prob_tempo, PeriodKind::inter};
  std::vector<ForecastPeriod> periods;
  const int count = pick(0, 6);
  for (int i = 0; i <= count; ++i) {
    const int from = pick(5, 18), to = pick(from, 19);
    ForecastPeriod p = i == 0 ? period(PeriodKind::base, 6) : period(kinds[random.below(kinds.size())], from, to);
    p.times_known = i == 0 || pick(0, 9) > 0;
    if (pick(0, 3) > 0)
      p = with_wind(p, pick(0, 40), pick(0, 2) == 0 ? std::optional<double>{pick(41, 80)} : std::nullopt);
    if (pick(0, 3) > 0) p = with_visibility(p, 100 * pick(1, 100));
    p.visibility_at_least = p.visibility && pick(0, 3) == 0;
    if (pick(0, 2) > 0) p = with_cloud(p, pick(0, 1) == 0 ? CloudAmount::few : CloudAmount::broken, 100 * pick(0, 60));
    if (pick(0, 9) == 0) p.clouds.push_back({CloudAmount::overcast, std::nullopt, true});
    p.sky_clear = p.clouds.empty() && pick(0, 1) == 0;
    for (const char* weather : {"TSRA", "BR", "-SHRA"})
      if (pick(0, 3) == 0) p.weather.emplace_back(weather);
    p.weather_ends = p.weather.empty() && pick(0, 2) == 0;
    if (pick(0, 5) == 0) p.shear.push_back({agl(pick(1, 20) * 100.0 * foot), std::nullopt});
    if (pick(0, 9) == 0) p.not_read.push_back("X" + std::to_string(i));
    periods.push_back(p);
  }
  return forecast(std::move(periods));
}

template <class T>
bool holds_all(const std::vector<T>& whole, const std::vector<T>& part) {
  return std::all_of(part.begin(), part.end(),
                     [&](const T& one) { return std::find(whole.begin(), whole.end(), one) != whole.end(); });
}

void expect_not_better(const Expected& longer, const Expected& shorter) {
  ASSERT_TRUE(holds_all(longer.periods, shorter.periods));
  ASSERT_TRUE(!shorter.wind_speed || longer.wind_speed >= shorter.wind_speed);
  ASSERT_TRUE(!shorter.gust || longer.gust >= shorter.gust);
  ASSERT_TRUE(!shorter.visibility || longer.visibility.value() <= *shorter.visibility);
  ASSERT_TRUE(!shorter.cloud_base || longer.cloud_base.value() <= *shorter.cloud_base);
  ASSERT_TRUE(!shorter.ceiling || longer.ceiling.value() <= *shorter.ceiling);
  ASSERT_TRUE(holds_all(longer.weather, shorter.weather));
  ASSERT_TRUE(holds_all(longer.not_read, shorter.not_read));
  ASSERT_GE(longer.shear.size(), shorter.shear.size());
  ASSERT_GE(longer.thunderstorm, shorter.thunderstorm);
  ASSERT_GE(longer.convective, shorter.convective);
  ASSERT_GE(longer.wind_variable, shorter.wind_variable);
  ASSERT_LE(longer.wind_known, shorter.wind_known);
  ASSERT_LE(longer.visibility_known, shorter.visibility_known);
  ASSERT_LE(longer.clouds_known, shorter.clouds_known);
  ASSERT_LE(longer.times_known, shorter.times_known);
}

TEST(Forecast, ALongerIntervalIsNeverBetter) {
  Random random = testing::seeded("Forecast.LongerIsNeverBetter");
  int compared = 0;
  for (int i = 0; i < 2000; ++i) {
    const Forecast f = any_forecast(random);
    std::array<double, 4> t{};
    for (double& moment : t) moment = 4.0 + 0.5 * static_cast<double>(random.below(33));
    std::sort(t.begin(), t.end());
    const auto shorter = worst_between(f, at(t[1]), at(t[2]));
    const auto longer = worst_between(f, at(t[0]), at(t[3]));
    if (!shorter) continue;
    ++compared;
    ASSERT_TRUE(longer);
    ASSERT_LE(longer->whole, shorter->whole);
    expect_not_better(longer->prevailing, shorter->prevailing);
    expect_not_better(longer->temporary, shorter->temporary);
    if (HasFatalFailure()) return;
  }
  EXPECT_GT(compared, 1000);
}

template <class T, class Better>
std::optional<T> worse_of(const std::optional<T>& a, const std::optional<T>& b, Better better) {
  if (!a || !b) return a ? a : b;
  return better(*a, *b) ? b : a;
}

void expect_together(const Expected& a, const Expected& b, const Expected& both) {
  const auto weaker = [](Speed x, Speed y) { return x < y; };
  const auto farther = [](Length x, Length y) { return x > y; };
  const auto higher = [](HeightAgl x, HeightAgl y) { return x > y; };
  ASSERT_EQ(both.wind_speed, worse_of(a.wind_speed, b.wind_speed, weaker));
  ASSERT_EQ(both.gust, worse_of(a.gust, b.gust, weaker));
  ASSERT_EQ(both.visibility, worse_of(a.visibility, b.visibility, farther));
  ASSERT_EQ(both.cloud_base, worse_of(a.cloud_base, b.cloud_base, higher));
  ASSERT_EQ(both.ceiling, worse_of(a.ceiling, b.ceiling, higher));
  ASSERT_EQ(both.thunderstorm, a.thunderstorm || b.thunderstorm);
  ASSERT_EQ(both.is_complete(), a.is_complete() && b.is_complete());
  for (const std::string& group : both.weather)
    ASSERT_TRUE(holds_all(a.weather, Groups{group}) || holds_all(b.weather, Groups{group}));
}

TEST(Forecast, TwoAdjoiningIntervalsSayTogetherWhatTheOneOverBothSays) {
  Random random = testing::seeded("Forecast.AdjoiningIntervals");
  for (int i = 0; i < 2000; ++i) {
    const Forecast f = any_forecast(random);
    std::array<double, 3> t{};
    for (double& moment : t) moment = 6.0 + 0.5 * static_cast<double>(random.below(25));
    std::sort(t.begin(), t.end());
    const Outlook first = between(f, t[0], t[1]), second = between(f, t[1], t[2]), both = between(f, t[0], t[2]);
    expect_together(first.prevailing, second.prevailing, both.prevailing);
    expect_together(first.temporary, second.temporary, both.temporary);
    if (HasFatalFailure()) return;
  }
}

}  // namespace
}  // namespace pappus::wind
