// Any bytes at all as a column map (the first line) and a table (the rest): no crash, a map that is printed is read
// again, every row of a ladder is in its domain, and rows rise.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "formats/text/profile_csv/profile_csv.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::fuzz::require;
using namespace pappus;
using namespace pappus::text;

void check(const wind::Ladder& ladder) {
  require(!ladder.rows.empty(), "a ladder has rows");
  for (std::size_t i = 0; i < ladder.rows.size(); ++i) {
    const wind::LadderRow& row = ladder.rows[i];
    require(row.wind || row.temperature, "a row says something");
    require(row.altitude >= amsl(-500 * metre) && row.altitude <= amsl(30 * kilometre), "altitude within its range");
    if (i > 0) require(ladder.rows[i - 1].altitude < row.altitude, "rows rise");
    if (row.wind) require(row.wind->speed() < 213 * metre_per_second, "wind within its range");
    if (row.temperature)
      require(in_celsius(*row.temperature) > -95.1 && in_celsius(*row.temperature) < 60.1,
              "temperature within its range");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view all{reinterpret_cast<const char*>(data), size};
  const std::size_t end = all.find('\n');
  const auto map = parse_profile_map(all.substr(0, end));
  require(map.value.has_value() == map.issues.empty(), "a map or what is wrong with it");
  if (!map.value) return 0;
  const std::string printed = print_profile_map(*map.value);
  const auto again = parse_profile_map(printed);
  require(again.value && print_profile_map(*again.value) == printed, "a printed map is read again as the same");
  const std::string_view table = end == std::string_view::npos ? std::string_view{} : all.substr(end + 1);
  const auto parsed = parse_profile_csv(
      table, *map.value, {.source = {}, .ground = amsl(300 * metre), .variation = Variation{.east = -3 * degree}});
  require(parsed.value || !parsed.issues.empty(), "silence is no answer");
  require(parsed.issues.size() < 200'000, "issues are few");
  if (parsed.value) check(*parsed.value);
  return 0;
}
