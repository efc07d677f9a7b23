#include "store/chain.hpp"

#include <cstdint>
#include <limits>
#include <set>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::store {
namespace {

using desk::NewEvent;

Instant at(std::int64_t ms) { return Instant::from_unix_milliseconds(ms); }

NewEvent event(std::int64_t happened, std::string author, std::string kind, std::string subject, std::string body,
               std::optional<std::int64_t> corrects = std::nullopt) {
  NewEvent out;
  out.happened = at(happened);
  out.author = std::move(author);
  out.kind = std::move(kind);
  out.subject = std::move(subject);
  out.body = std::move(body);
  out.corrects = corrects;
  return out;
}

// The values were worked out from the layout in the header with another implementation of SHA-256 (hashlib of Python).
TEST(Chain, GivesTheValuesThatAnybodyGetsFromTheDescription) {
  const auto first =
      chain_value({}, 1, at(1810560600000), event(1810557000000, "p-1", "fill", "cyl-1", "{\"litres\":56.8}"));
  EXPECT_EQ(hexadecimal(first), "743b73606408922ff4f8cf1719947061bfc9e01e35533083a69e73a1f625d94d");
  const auto second =
      chain_value(first, 2, at(1810560600001), event(-1, "p-1", "fill", "cyl-1", "{\"note\":\"\xC3\xB1\"}", 1));
  EXPECT_EQ(hexadecimal(second), "8eb9a3f0f930e7ff72d7a506ef880e0d1f355824bb6fe058d99c00dd50784029");
  using Limits = std::numeric_limits<std::int64_t>;
  const auto third = chain_value(second, 3, at(Limits::min()), event(Limits::max(), "a", "b", "c", "{}"));
  EXPECT_EQ(hexadecimal(third), "c765bf2e0d55701f1d92f437ea46eab829aafaad3e5ac3324398dd92f049e27b");
}

// What stands beside each other in two ways must not come out the same.
TEST(Chain, EveryFieldAndEveryBoundaryCounts) {
  std::set<std::string> seen;
  int made = 0;
  const auto add = [&](const ChainValue& previous, std::int64_t number, std::int64_t recorded, const NewEvent& what) {
    ++made;
    seen.insert(hexadecimal(chain_value(previous, number, at(recorded), what)));
  };
  add({}, 1, 2, event(3, "ab", "cd", "ef", "{}"));
  add({1}, 1, 2, event(3, "ab", "cd", "ef", "{}"));
  add({}, 12, 2, event(3, "ab", "cd", "ef", "{}"));
  add({}, 1, 23, event(3, "ab", "cd", "ef", "{}"));
  add({}, 1, 2, event(33, "ab", "cd", "ef", "{}"));
  add({}, 1, 2, event(-3, "ab", "cd", "ef", "{}"));
  add({}, 1, 3, event(2, "ab", "cd", "ef", "{}"));
  add({}, 1, 2, event(3, "a", "bcd", "ef", "{}"));
  add({}, 1, 2, event(3, "abc", "d", "ef", "{}"));
  add({}, 1, 2, event(3, "ab", "cde", "f", "{}"));
  add({}, 1, 2, event(3, "ab", "cd", "ef{", "}"));
  add({}, 1, 2, event(3, "ab", "cd", "ef", "{} "));
  add({}, 1, 2, event(3, "ab", "cd", "ef", "{}", 0));
  add({}, 1, 2, event(3, "ab", "cd", "ef", "{}", 1));
  add({}, 1, 2, event(3, "ab", "cd", "ef", "{}0"));
  EXPECT_EQ(static_cast<int>(seen.size()), made);
}

TEST(Chain, HexadecimalIsTwoDigitsAByte) {
  ChainValue value{};
  value[0] = 0x0A;
  value[1] = 0xF0;
  value[31] = 0xFF;
  EXPECT_EQ(hexadecimal(value), "0af0" + std::string(58, '0') + "ff");
}

}  // namespace
}  // namespace pappus::store
