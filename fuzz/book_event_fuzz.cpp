// Any bytes at all as the body of an event in the book: no crash, bounded memory, a value or a reason, and what was
// read is written as it reads back. The first line is the kind.
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "desk/book_events.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::fuzz::require;
using namespace pappus;

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes{reinterpret_cast<const char*>(data), size};
  const std::size_t line = bytes.find('\n');
  if (line == std::string_view::npos) return 0;
  const auto what = desk::read_body(bytes.substr(0, line), bytes.substr(line + 1));
  if (!what) {
    require(!what.error().wanted.empty(), "an issue says what would be right");
    require(what.error().got.size() <= 90, "what was found is cut");
    return 0;
  }
  require(desk::kind_of(*what) == bytes.substr(0, line), "the kind is the one that was said");
  const auto again = desk::read_body(desk::kind_of(*what), desk::body_of(*what));
  require(again && *again == *what, "what was read is written as it reads back");
  return 0;
}
