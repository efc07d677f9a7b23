// Any bytes at all as the evening's sheet: no crash, bounded memory, a value or a reason, and what was read can be
// judged at dawn.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "formats/text/evening/evening.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::fuzz::require;
using namespace pappus;

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes{reinterpret_cast<const char*>(data), size};
  static_cast<void>(text::is_json_object(bytes));
  const auto parsed = text::parse_evening(bytes, "evening.json");
  require(parsed.value.has_value() == parsed.issues.empty(), "a value or a reason");
  for (const Issue& issue : parsed.issues) {
    require(issue.where.file == "evening.json", "an issue names its file");
    require(!issue.wanted.empty(), "an issue says what would be right");
    require(issue.got.size() <= 90, "what was found is cut");
  }
  if (!parsed.value) return 0;
  require(parsed.value->people >= 0, "people are counted");
  for (const sheet::Tripwire& t : parsed.value->tripwires) {
    require(is_aloft(t.what) == t.height.has_value(), "a height where there has to be one");
    require(t.what == sheet::Watched::wind_from ? t.from && t.to : t.at_most || t.at_least, "something to judge by");
    for (const auto& m : {t.at_most, t.at_least, t.evening})
      require(!m || m->kind == kind_of(t.what), "amounts of the kind that is watched");
    require(t.state == sheet::TripwireState::set && !t.now && t.finding == Sentence{}, "judged by nobody yet");
  }
  return 0;
}
