// Any bytes at all as pasted winds-aloft text: no crash, every issue points into the text, every bulletin has a group
// for each station and level, and a ladder rises.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "formats/text/fb/fb.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::fuzz::require;
using namespace pappus;
using namespace pappus::text;

void check(const FbBulletin& b) {
  require(!b.stations.empty() && !b.levels.empty(), "a bulletin has stations and levels");
  for (std::size_t k = 1; k < b.levels.size(); ++k) require(b.levels[k - 1] < b.levels[k], "levels rise");
  require(b.use_from.has_value() == b.use_to.has_value(), "a period of use has two ends");
  if (b.use_from) require(*b.use_from <= b.valid && b.valid <= *b.use_to, "the period of use holds the valid time");
  for (const FbStation& s : b.stations) {
    require(s.groups.size() == b.levels.size(), "one group for each level");
    for (const FbGroup& g : s.groups) {
      require(g.wind.has_value() == (g.kind == FbWind::forecast || g.kind == FbWind::at_least), "kinds with a wind");
      require(g.text.empty() == (g.kind == FbWind::blank), "a blank has no text");
      if (g.wind) require(g.wind->speed() > 0.5 * knot && g.wind->speed() < 199.5 * knot, "speeds that the code has");
      if (g.temperature)
        require(in_celsius(*g.temperature) > -90.1 && in_celsius(*g.temperature) < 60.1,
                "temperature within its range");
    }
    const auto ladder = ladder_of(b, s.id, amsl(1200 * metre));
    if (!ladder) continue;
    for (std::size_t k = 1; k < ladder->rows.size(); ++k)
      require(ladder->rows[k - 1].altitude < ladder->rows[k].altitude, "a ladder rises");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view pasted{reinterpret_cast<const char*>(data), size};
  const auto parsed = parse_fb(pasted, Instant::from_unix_milliseconds(1'810'468'800'000));  // 2027-05-16
  require(parsed.value || !parsed.issues.empty(), "silence is no answer");
  pappus::fuzz::require_inside(parsed.issues, pasted);
  if (!parsed.value) return 0;
  for (const FbBulletin& b : *parsed.value) check(b);
  return 0;
}
