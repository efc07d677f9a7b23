// Any bytes at all as a pasted report: no crash, every issue points into the text, every value is one of the air on
// Earth, and reading a report's own text again gives the same report.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "formats/text/metar/metar.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::Instant;
using pappus::kelvin;
using pappus::Temperature;
using pappus::fuzz::require;
using pappus::wind::SurfaceReport;

void check_temperature(const std::optional<Temperature>& t) {
  require(!t || (pappus::in_celsius(*t) >= -90.1 && pappus::in_celsius(*t) <= 60.1), "temperature within its range");
}

void check(const SurfaceReport& r) {
  require(r.station.size() == 4, "a station has four characters");
  check_temperature(r.temperature);
  check_temperature(r.dew_point);
  if (r.temperature && r.dew_point)
    require(*r.dew_point - *r.temperature <= 0.500001 * kelvin, "dew point at most 0.5 K above the temperature");
  if (r.wind) require(r.wind_speed.has_value(), "a wind has a speed");
  if (r.wind_speed)
    require(*r.wind_speed >= pappus::Speed{} && *r.wind_speed <= 130 * pappus::metre_per_second, "wind");
  if (r.gust && r.wind_speed) require(*r.gust > *r.wind_speed, "a gust is above the mean wind");
  if (r.visibility)
    require(*r.visibility >= pappus::Length{} && *r.visibility < 2000 * pappus::kilometre, "visibility");
  require(!(r.visibility_at_least && r.visibility_below), "visibility is bounded on one side");
  require(!(r.sky_clear && !r.clouds.empty()), "a clear sky has no cloud");
  if (r.qnh)
    require(*r.qnh >= 850 * pappus::hectopascal && *r.qnh <= 1100 * pappus::hectopascal, "pressure within its range");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view pasted{reinterpret_cast<const char*>(data), size};
  const Instant near = Instant::from_unix_milliseconds(1'810'468'800'000);  // 2027-05-16
  const auto parsed = pappus::text::parse_metar(pasted, near);
  require(parsed.value || !parsed.issues.empty(), "silence is no answer");
  pappus::fuzz::require_inside(parsed.issues, pasted);
  if (!parsed.value) return 0;
  for (const SurfaceReport& r : *parsed.value) {
    check(r);
    const auto again = pappus::text::parse_metar(r.text, near);
    require(again.value && !again.value->empty(), "the text of a report holds it");
    require(again.value->front().station == r.station && again.value->front().source == r.source,
            "the text of a report gives it again");
  }
  return 0;
}
