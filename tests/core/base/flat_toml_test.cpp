#include "core/base/flat_toml.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus {
namespace {

std::vector<FlatEntry> entries(std::string_view toml) {
  const Parsed<std::vector<FlatEntry>> parsed = read_flat_toml(toml, "test.toml");
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " line " << issue.where.line;
  return parsed.value.value_or(std::vector<FlatEntry>{});
}

TEST(FlatToml, KnowsTextsNumbersAndTruths) {
  const auto all = entries("[a]\nb = \"-1\"\nc = -1.50 # why\nd = true\ne=false");
  ASSERT_EQ(all.size(), 4u);
  EXPECT_EQ(all[0].kind, FlatKind::text);
  EXPECT_EQ(number_of(all[0]), std::nullopt);
  EXPECT_EQ(all[1].key, "a.c");
  EXPECT_EQ(all[1].kind, FlatKind::number);
  EXPECT_EQ(all[1].value, "-1.50");
  EXPECT_EQ(all[1].line, 3);
  EXPECT_EQ(all[1].column, 5);
  EXPECT_EQ(number_of(all[1]), -1.5);
  EXPECT_EQ(all[2].kind, FlatKind::truth);
  EXPECT_EQ(all[3].value, "false");
}

TEST(FlatToml, ReadsDecimalsCorrectlyRounded) {
  const auto all = entries("a = 0.1\nb = 1609.344\nc = 0\nd = 123456789012345\ne = 0.30000000000000");
  EXPECT_EQ(number_of(all[0]), 0.1);
  EXPECT_EQ(number_of(all[1]), 1609.344);
  EXPECT_EQ(number_of(all[2]), 0.0);
  EXPECT_EQ(number_of(all[3]), 123456789012345.0);
  EXPECT_EQ(number_of(all[4]), 0.3);
  EXPECT_EQ(number_of(entries("a = 1234567890123456")[0]), std::nullopt);
}

TEST(FlatToml, NamesTheColumnOfABareValueItDoesNotUnderstand) {
  struct Case {
    const char* toml;
    int column;
  };
  for (const Case& c : {Case{"a = 07", 5}, Case{"a = .5", 5}, Case{"a = 5.", 5}, Case{"a = -", 5}, Case{"a = +1", 5},
                        Case{"a = 1e3", 6}, Case{"a = 1_000", 6}, Case{"a = yes", 5}, Case{"a = truth", 5},
                        Case{"a = 2023-05-22", 9}, Case{"a =", 4}, Case{"a = [1]", 5}}) {
    SCOPED_TRACE(c.toml);
    const auto parsed = read_flat_toml(c.toml, "test.toml");
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, "issue.text_line");
    EXPECT_EQ(parsed.issues[0].where, (Where{"test.toml", 1, c.column, {}}));
    EXPECT_TRUE(parsed.value->empty());
  }
}

TEST(FlatToml, SurvivesAnyBytes) {
  Random random = testing::seeded("FlatToml.AnyBytes");
  constexpr std::string_view alphabet = "ab_.=[]\"\\#\n\r\t 0179-tru e\xC3\xB0\x01";
  for (int i = 0; i < 2000; ++i) {
    std::string toml;
    for (std::uint64_t n = random.below(60); n > 0; --n)
      toml += alphabet[static_cast<std::size_t>(random.below(alphabet.size()))];
    const auto parsed = read_flat_toml(toml, "test.toml");
    ASSERT_TRUE(parsed.value);
    for (std::size_t k = 1; k < parsed.value->size(); ++k)
      ASSERT_LE((*parsed.value)[k - 1].key, (*parsed.value)[k].key);
    for (const FlatEntry& entry : *parsed.value) {
      std::size_t digits = 0;
      for (const char c : entry.value) digits += c >= '0' && c <= '9' ? 1 : 0;
      ASSERT_EQ(number_of(entry).has_value(), entry.kind == FlatKind::number && digits <= 15) << entry.value;
    }
  }
}

}  // namespace
}  // namespace pappus
