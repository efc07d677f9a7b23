#include "store/usable.hpp"

#include <string>
#include <vector>

#include <gtest/gtest.h>

namespace pappus::store {
namespace {

using desk::NewEvent;
using desk::Person;

NewEvent good() {
  NewEvent out;
  out.author = "p-1";
  out.kind = "cylinder_filled";
  out.subject = "cylinder 1";
  out.body = "{}";
  return out;
}

struct Case {
  std::string what, text;
};

const std::vector<Case> kBadLines = {
    {"nothing", ""},
    {"65 bytes", std::string(65, 'x')},
    {"33 letters of two bytes",
     [] {
       std::string out;
       for (int i = 0; i < 33; ++i) out += "\xC3\xB1";
       return out;
     }()},
    {"a zero byte", std::string("a\0b", 3)},
    {"a tab", "a\tb"},
    {"a new line", "a\n"},
    {"delete", "a\x7F"},
    {"a control character of two bytes", "a\xC2\x85"},
    {"a byte alone", "a\x80"},
    {"a letter cut off", "a\xC3"},
    {"a slash in two bytes", "a\xC0\xAF"},
    {"a slash in three bytes", "a\xE0\x80\xAF"},
    {"half of a pair", "a\xED\xA0\x80"},
    {"beyond Unicode", "a\xF4\x90\x80\x80"},
    {"five bytes", "a\xF8\x88\x80\x80\x80"},
};

const std::vector<Case> kGoodLines = {
    {"one byte", "x"},         {"64 bytes", std::string(64, 'x')}, {"a letter of two", "\xC3\xB1"},
    {"three", "\xE2\x82\xAC"}, {"four", "\xF0\x9F\x8E\x88"},       {"a quote and a space", "a' \"b"},
};

void expect_field(const Result<void>& result, const std::string& key, const std::string& field,
                  const std::string& what) {
  ASSERT_FALSE(result.has_value()) << what;
  EXPECT_EQ(result.error().code, Errc::bad_input) << what;
  EXPECT_EQ(result.error().sentence.key, key) << what;
  ASSERT_EQ(result.error().sentence.arguments.size(), 1u) << what;
  EXPECT_EQ(result.error().sentence.arguments[0], (Argument{"field", field})) << what;
  EXPECT_FALSE(result.error().wanted.empty()) << what;
  for (const char c : result.error().got) EXPECT_TRUE(static_cast<unsigned char>(c) >= 0x20 && c != 0x7F) << what;
  EXPECT_LE(result.error().got.size(), 64u) << what;
}

TEST(Usable, IdsAreShortLines) {
  ASSERT_TRUE(check_usable(good()));
  for (const Case& c : kBadLines) {
    NewEvent event = good();
    event.author = c.text;
    expect_field(check_usable(event), "issue.event_unusable", "author", c.what);
    event = good();
    event.subject = c.text;
    expect_field(check_usable(event), "issue.event_unusable", "subject", c.what);
    expect_field(check_usable(Person{c.text, "Odile", ""}), "issue.person_unusable", "id", c.what);
  }
  for (const Case& c : kGoodLines) {
    NewEvent event = good();
    event.author = event.subject = c.text;
    EXPECT_TRUE(check_usable(event)) << c.what;
    EXPECT_TRUE(check_usable(Person{c.text, c.text, c.text})) << c.what;
  }
}

TEST(Usable, AKindIsOneWord) {
  for (const char* const kind : {"a", "_", "fill", "cylinder_filled"}) {
    NewEvent event = good();
    event.kind = kind;
    EXPECT_TRUE(check_usable(event)) << kind;
  }
  for (const std::string& kind : {std::string{}, std::string{"Fill"}, std::string{"a b"}, std::string{"a1"},
                                  std::string{"a-b"}, std::string{"\xC3\xB1"}, std::string(65, 'a')}) {
    NewEvent event = good();
    event.kind = kind;
    expect_field(check_usable(event), "issue.event_unusable", "kind", kind);
  }
}

TEST(Usable, ABodyIsTextOfAtMost64KiB) {
  NewEvent event = good();
  event.body = "{" + std::string((64u << 10) - 2, ' ') + "}";
  EXPECT_TRUE(check_usable(event));
  event.body = "{" + std::string((64u << 10) - 1, ' ') + "}";
  expect_field(check_usable(event), "issue.event_unusable", "body", "too long");
  event.body = "{\"a\":\"\xFF\"}";
  expect_field(check_usable(event), "issue.event_unusable", "body", "not UTF-8");
  event.body = std::string("{}\0x", 4);
  expect_field(check_usable(event), "issue.event_unusable", "body", "a zero byte");
  event.body = "{\n\t\"a\": 1\n}";
  EXPECT_TRUE(check_usable(event));
}

TEST(Usable, APersonHasANameAndMayHaveAContact) {
  EXPECT_TRUE(check_usable(Person{"p-1", std::string(256, 'x'), std::string(1024, 'x')}));
  expect_field(check_usable(Person{"p-1", "", ""}), "issue.person_unusable", "name", "no name");
  expect_field(check_usable(Person{"p-1", std::string(257, 'x'), ""}), "issue.person_unusable", "name", "257 bytes");
  expect_field(check_usable(Person{"p-1", "a\nb", ""}), "issue.person_unusable", "name", "two lines");
  expect_field(check_usable(Person{"p-1", "a", std::string(1025, 'x')}), "issue.person_unusable", "contact", "1025");
  expect_field(check_usable(Person{"p-1", "a", "\xC3"}), "issue.person_unusable", "contact", "not UTF-8");
}

}  // namespace
}  // namespace pappus::store
