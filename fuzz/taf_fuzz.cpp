// Any bytes at all as a pasted forecast: no crash, every issue points into the text, every value is one of the air on
// Earth, reading a forecast's own text again gives the same forecast, and its worst over a part is never worse than
// over the whole.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "formats/text/taf/taf.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::Instant;
using pappus::Length;
using pappus::Speed;
using pappus::fuzz::require;
using pappus::text::Taf;
using pappus::wind::Expected;
using pappus::wind::ForecastPeriod;
using pappus::wind::PeriodKind;

void check(const ForecastPeriod& p) {
  require(p.from <= p.to, "a period ends after it begins");
  if (p.wind) require(p.wind_speed.has_value(), "a wind has a speed");
  if (p.wind_speed) require(*p.wind_speed >= Speed{} && *p.wind_speed <= 130 * pappus::metre_per_second, "wind");
  if (p.gust && p.wind_speed) require(*p.gust > *p.wind_speed, "a gust is above the mean wind");
  if (p.visibility) require(*p.visibility >= Length{} && *p.visibility < 2000 * pappus::kilometre, "visibility");
  require(!(p.visibility_at_least && p.visibility_below), "visibility is bounded on one side");
  require(!(p.sky_clear && !p.clouds.empty()), "a clear sky has no cloud");
  require(!(p.weather_ends && !p.weather.empty()), "weather that ends is none");
  if (p.lowest_qnh)
    require(*p.lowest_qnh >= 850 * pappus::hectopascal && *p.lowest_qnh <= 1100 * pappus::hectopascal, "pressure");
}

void check_not_better(const Expected& longer, const Expected& shorter) {
  require(longer.periods.size() >= shorter.periods.size(), "a longer interval sees every period of a shorter");
  require(longer.wind_speed >= shorter.wind_speed && longer.gust >= shorter.gust, "a longer interval is no calmer");
  require(!shorter.visibility || *longer.visibility <= *shorter.visibility, "a longer interval is no clearer");
  require(!shorter.cloud_base || *longer.cloud_base <= *shorter.cloud_base, "a longer interval has no higher cloud");
  require(longer.weather.size() >= shorter.weather.size(), "a longer interval has no less weather");
  require(longer.thunderstorm >= shorter.thunderstorm, "a longer interval has no fewer storms");
  require(shorter.is_complete() || !longer.is_complete(), "a longer interval has no less doubt");
}

void check(const Taf& taf) {
  require(taf.station.size() == 4, "a station has four characters");
  require(taf.periods.empty() == (taf.cancelled || taf.nil), "a forecast says something, or that it does not");
  const auto whole = pappus::wind::worst_between(taf, taf.valid_from, taf.valid_to);
  require(whole.has_value() == !taf.periods.empty(), "a forecast with periods has a worst");
  if (taf.periods.empty()) return;
  require(taf.valid_from < taf.valid_to, "the validity ends after it begins");
  require(taf.periods.front().kind == PeriodKind::base, "the base comes first");
  for (const ForecastPeriod& p : taf.periods) check(p);
  for (double hours = 0.0; hours < 6.0; hours += 1.5) {
    const Instant from = taf.valid_from + hours * pappus::hour;
    const auto part = pappus::wind::worst_between(taf, from, from + 1.0 * pappus::hour);
    if (!part) continue;
    check_not_better(whole->prevailing, part->prevailing);
    check_not_better(whole->temporary, part->temporary);
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view pasted{reinterpret_cast<const char*>(data), size};
  const Instant near = Instant::from_unix_milliseconds(1'810'468'800'000);  // 2027-05-16
  const auto parsed = pappus::text::parse_taf(pasted, near);
  require(parsed.value || !parsed.issues.empty(), "silence is no answer");
  pappus::fuzz::require_inside(parsed.issues, pasted);
  if (!parsed.value) return 0;
  for (const Taf& taf : *parsed.value) {
    check(taf);
    const auto again = pappus::text::parse_taf(taf.text, near);
    require(again.value && !again.value->empty(), "the text of a forecast holds it");
    const Taf& same = again.value->front();
    require(same.station == taf.station && same.issued == taf.issued && same.periods.size() == taf.periods.size(),
            "the text of a forecast gives it again");
  }
  return 0;
}
