// Any bytes at all as a pasted sounding: no crash, every issue points into the text, pressures fall, and a ladder rises.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "formats/text/temp/temp.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::fuzz::require;
using namespace pappus;
using namespace pappus::text;

void check(const TempSounding& s) {
  require(s.station.size() == 5, "a station has five figures");
  require(s.has_part_a || s.has_part_b, "a sounding has a part");
  for (std::size_t i = 0; i < s.levels.size(); ++i) {
    const TempLevel& level = s.levels[i];
    require(level.pressure >= 99.9 * hectopascal && level.pressure < 1100 * hectopascal, "pressure within its range");
    if (i > 0) require(level.pressure < s.levels[i - 1].pressure, "pressures fall");
    if (level.temperature)
      require(in_celsius(*level.temperature) > -95.1 && in_celsius(*level.temperature) < 60.1,
              "temperature within its range");
    if (level.dew_point) require(level.temperature && *level.dew_point <= *level.temperature, "dew point not above");
    if (level.wind) require(level.wind->speed() < 150.1 * metre_per_second, "wind within its range");
    if (level.height) require(std::isfinite(level.height->from_origin().in(metre)), "a height is finite");
  }
  const auto ladder = ladder_of(s);
  if (!ladder) return;
  for (std::size_t i = 1; i < ladder->rows.size(); ++i)
    require(ladder->rows[i - 1].altitude < ladder->rows[i].altitude, "a ladder rises");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view pasted{reinterpret_cast<const char*>(data), size};
  const auto parsed = parse_temp(pasted, Instant::from_unix_milliseconds(1'810'468'800'000));  // 2027-05-16
  require(parsed.value || !parsed.issues.empty(), "silence is no answer");
  pappus::fuzz::require_inside(parsed.issues, pasted);
  if (!parsed.value) return 0;
  for (const TempSounding& s : *parsed.value) check(s);
  return 0;
}
