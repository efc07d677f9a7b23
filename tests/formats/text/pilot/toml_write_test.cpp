#include "formats/text/pilot/toml_write.hpp"

#include <string>

#include <gtest/gtest.h>

#include "tests/formats/text/pilot/written.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

// The text of `key` in a document.
std::string read_back(const std::string& toml, std::string_view key) {
  const auto root = parse_toml(toml, "test.toml");
  if (!root) return "not read: " + root.error().got;
  for (const TomlMember& member : root->members)
    if (member.key == key) return member.value.text;
  return "not there";
}

// Two trees agree, wherever their values stand.
void expect_same_tree(const TomlNode& a, const TomlNode& b) {
  ASSERT_EQ(static_cast<int>(a.kind), static_cast<int>(b.kind));
  EXPECT_EQ(a.text, b.text);
  EXPECT_EQ(a.integer, b.integer);
  EXPECT_TRUE(a.number == b.number || (std::isnan(a.number) && std::isnan(b.number))) << a.number << " " << b.number;
  EXPECT_EQ(a.truth, b.truth);
  EXPECT_EQ(a.date, b.date);
  EXPECT_EQ(a.moment, b.moment);
  ASSERT_EQ(a.items.size(), b.items.size());
  for (std::size_t i = 0; i < a.items.size(); ++i) expect_same_tree(a.items[i], b.items[i]);
  ASSERT_EQ(a.members.size(), b.members.size());
  for (std::size_t i = 0; i < a.members.size(); ++i) {
    EXPECT_EQ(a.members[i].key, b.members[i].key);
    expect_same_tree(a.members[i].value, b.members[i].value);
  }
}

std::string written(const TomlNode& root) {
  TomlLines to{Taste::metric};
  for (const bool headed : {false, true})
    for (const TomlMember& member : root.members)
      if (is_headed(member.value) == headed) to.member(member);
  return to.text();
}

TEST(TomlWrite, ATextIsReadBackToItsBytes) {
  auto random = testing::seeded("TomlWrite.Text");
  for (int i = 0; i < 3000; ++i) {
    const std::string text = testing::any_words(random, i % 2 == 0);
    SCOPED_TRACE(toml_text(text));
    EXPECT_EQ(read_back("x = " + toml_text(text) + "\n", "x"), text);
  }
}

TEST(TomlWrite, TextsThatEndOrBeginOddlyAreReadBack) {
  for (const std::string text : {"", "\n", "\n\n", "\"", "\"\"\"", "\\", "a\\", "a\n\"", "a\n\"\"\"\n", "\na", " \n ",
                                 "a\r\n", "\r", "a \\\n  b", "\x1f\n", "\u00e9\n\u00e9"})
    EXPECT_EQ(read_back("x = " + toml_text(text) + "\n", "x"), text);
}

TEST(TomlWrite, BytesThatAreNoCharacterAreMarked) {
  const std::string mark = "\xef\xbf\xbd";
  for (const std::string bad :
       {"\xff", "\xc3", "\xe9", "\xc0\x80", "\xed\xa0\x80", "\xf5\x80\x80\x80", "\xe0\x80\x80"}) {
    const std::string back = read_back("x = " + toml_text("a" + bad + "z") + "\n", "x");
    EXPECT_EQ(back.substr(0, 1 + mark.size()), "a" + mark);
    EXPECT_EQ(back.back(), 'z');
  }
}

TEST(TomlWrite, ANumberIsAsShortAsItWasWritten) {
  EXPECT_EQ(toml_number(0.0), "0");
  EXPECT_EQ(toml_number(-0.0), "0");
  EXPECT_EQ(toml_number(215.00000000000003), "215");
  EXPECT_EQ(toml_number(152.4000000000001), "152.4");
  EXPECT_EQ(toml_number(-133.4), "-133.4");
  EXPECT_EQ(toml_number(38.123456), "38.123456");
}

TEST(TomlWrite, AQuantityIsWrittenInTheUnitItWasProbablySaidIn) {
  const auto of = [](const char* typed, Dimension d, Taste taste = Taste::us) {
    return toml_quantity(parse_si(typed, d).value(), d, taste);
  };
  EXPECT_EQ(of("82kg", Dimension::mass), "82kg");
  EXPECT_EQ(of("180lb", Dimension::mass, Taste::metric), "180lb");
  EXPECT_EQ(of("1500ft", Dimension::altitude, Taste::metric), "1500ft");
  EXPECT_EQ(of("300m", Dimension::altitude), "300m");
  EXPECT_EQ(of("18gal", Dimension::volume, Taste::metric), "18gal");
  EXPECT_EQ(of("68L", Dimension::volume), "68L");
  EXPECT_EQ(of("105000ft3", Dimension::volume, Taste::metric), "105000ft3");
  EXPECT_EQ(of("45F", Dimension::temperature, Taste::metric), "45F");
  EXPECT_EQ(of("8C", Dimension::temperature), "8C");
  EXPECT_EQ(of("1018hPa", Dimension::air_pressure), "1018hPa");
  EXPECT_EQ(of("30.06inHg", Dimension::air_pressure, Taste::metric), "30.06inHg");
  EXPECT_EQ(of("1h", Dimension::duration), "60min");
  EXPECT_EQ(of("0m", Dimension::altitude), "0ft");
  EXPECT_EQ(of("0m", Dimension::altitude, Taste::metric), "0m");
}

TEST(TomlWrite, WhatADimensionCannotMeanIsNotWritten) {
  EXPECT_EQ(toml_quantity(std::nan(""), Dimension::mass, Taste::us), "");
  EXPECT_EQ(toml_quantity(-1.0, Dimension::mass, Taste::us), "");
}

TEST(TomlWrite, ADocumentIsReadBackToTheSameTree) {
  const char* const document = R"(
b = true
date = 2027-02-15
empty = []
list = [1, 2.5, "three", [4, -5], nan, -inf, 1e300]
text = "é \" \\ # ="
when = 2027-05-16T05:10:00-09:00
"odd key" = 1
"" = 2
[a]
plain = 1
[a.b]
x = "1"
[a.c]
[[place]]
at = [38.9, -133.4]
name = """
several
lines"""
[[place]]
[[place.inner]]
k = {m = 1, "n o" = {p = "q"}}
[[place.inner]]
k = -9223372036854775807
)";
  const auto first = parse_toml(document, "test.toml");
  ASSERT_TRUE(first.has_value()) << first.error().got;
  const auto second = parse_toml(written(*first), "test.toml");
  ASSERT_TRUE(second.has_value()) << written(*first);
  expect_same_tree(*first, *second);
}

}  // namespace
}  // namespace pappus::text
