#include "words/text_file.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::words {
namespace {

Texts texts(std::string_view toml) {
  const Parsed<Texts> parsed = read_texts(toml, "test.toml");
  for (const Issue& issue : parsed.issues) ADD_FAILURE() << issue.sentence.key << " line " << issue.where.line;
  return parsed.value.value_or(Texts{});
}

std::string text_of(const Texts& texts, std::string_view key) {
  const Text* text = texts.find(key);
  return text == nullptr ? "(none)" : text->text;
}

TEST(TextFile, JoinsTableAndNameIntoAKey) {
  const Texts t = texts("top = \"1\"\n[a.b]\n  c = \"2\"   # why\n[a.d]\nc.e=\"3\"\n");
  EXPECT_EQ(text_of(t, "top"), "1");
  EXPECT_EQ(text_of(t, "a.b.c"), "2");
  EXPECT_EQ(text_of(t, "a.d.c.e"), "3");
  EXPECT_EQ(t.all().size(), 3u);
  EXPECT_EQ(t.find("a.b"), nullptr);
  EXPECT_EQ(t.find(""), nullptr);
}

TEST(TextFile, SortsKeysAndKeepsLines) {
  const Texts t = texts("# first\r\nz = \"1\"\r\n\r\na = \"2\"");
  ASSERT_EQ(t.all().size(), 2u);
  EXPECT_EQ(t.all()[0].key, "a");
  EXPECT_EQ(t.all()[0].line, 4);
  EXPECT_EQ(t.all()[1].line, 2);
}

TEST(TextFile, ReadsTheFourEscapesAndNonAscii) {
  EXPECT_EQ(text_of(texts(R"(a = "\"q\" \\ \n\t # 5 °C")"), "a"), "\"q\" \\ \n\t # 5 °C");
}

TEST(TextFile, NamesTheLineAndColumnOfWhatItDoesNotUnderstand) {
  struct Case {
    const char* toml;
    const char* issue;
    int line, column;
  };
  for (const Case& c : {
           Case{"a = 1", "issue.text_line", 1, 5},
           Case{"\na = 'x'", "issue.text_line", 2, 5},
           Case{"a \"x\"", "issue.text_line", 1, 3},
           Case{"a = \"x", "issue.text_line", 1, 7},
           Case{"a = \"x\" y", "issue.text_line", 1, 9},
           Case{"a = \"\"\"x\"\"\"", "issue.text_line", 1, 7},
           Case{"a = \"x\ty\"", "issue.text_line", 1, 7},
           Case{"[a", "issue.text_line", 1, 3},
           Case{"[]", "issue.text_line", 1, 2},
           Case{"[a.]", "issue.text_line", 1, 4},
           Case{"[[a]]", "issue.text_line", 1, 2},
           Case{"A = \"x\"", "issue.text_line", 1, 1},
           Case{"a = \"\\u00e9\"", "issue.text_escape", 1, 8},
           Case{"a = \"x\\", "issue.text_escape", 1, 8},
           Case{"a = \"{\"", "issue.text_placeholder", 1, 1},
           Case{"a = \"}\"", "issue.text_placeholder", 1, 1},
           Case{"a = \"{}\"", "issue.text_placeholder", 1, 1},
           Case{"a = \"{b c}\"", "issue.text_placeholder", 1, 1},
           Case{"a = \"{b\"", "issue.text_placeholder", 1, 1},
           Case{"a = \"x\"\na = \"y\"", "issue.text_twice", 2, 1},
           Case{"[a]\n[b]\n[a]", "issue.text_twice", 3, 1},
           Case{"a = \"x\"\n[a]\nb = \"y\"", "issue.text_is_table", 3, 1},
       }) {
    SCOPED_TRACE(c.toml);
    const Parsed<Texts> parsed = read_texts(c.toml, "test.toml");
    ASSERT_EQ(parsed.issues.size(), 1u);
    EXPECT_EQ(parsed.issues[0].sentence.key, c.issue);
    EXPECT_EQ(parsed.issues[0].where, (Where{"test.toml", c.line, c.column, {}}));
    EXPECT_FALSE(parsed.issues[0].got.empty());
  }
}

TEST(TextFile, ReadsOnAfterALineThatItDoesNotUnderstand) {
  const Parsed<Texts> parsed = read_texts("a = 1\nb = \"x\"\nc\nd = \"y\"", "test.toml");
  EXPECT_EQ(parsed.issues.size(), 2u);
  EXPECT_EQ(text_of(*parsed.value, "b"), "x");
  EXPECT_EQ(text_of(*parsed.value, "d"), "y");
}

TEST(TextFile, SurvivesAnyBytes) {
  Random random = testing::seeded("TextFile.AnyBytes");
  constexpr std::string_view alphabet = "ab_.=[]{}\"\\#\n\r\t n\xC3\xB0\x01";
  for (int i = 0; i < 2000; ++i) {
    std::string toml;
    for (std::uint64_t n = random.below(60); n > 0; --n)
      toml += alphabet[static_cast<std::size_t>(random.below(alphabet.size()))];
    const Parsed<Texts> parsed = read_texts(toml, "test.toml");
    ASSERT_TRUE(parsed.value);
    for (const Text& text : parsed.value->all()) ASSERT_EQ(parsed.value->find(text.key), &text);
  }
}

TEST(TextFile, ListsPlaceholdersSortedAndOnce) {
  EXPECT_EQ(placeholders_in("{b} of {a}, {b}"), (std::vector<std::string>{"a", "b"}));
  EXPECT_TRUE(placeholders_in("none").empty());
}

TEST(CompareTexts, FindsEveryWayToBeIncomplete) {
  using What = TextDifference::What;
  const Texts en = texts("a = \"x\"\nb = \"{m} of {n}\"\nc = \"x\"\nd = \"{m}\"\n");
  const Texts es = texts("b = \"{m} de {k}\"\nc = \"\"\nd = \"sin {m}\"\ne = \"y\"\n");
  EXPECT_EQ(compare_texts(en, es),
            (std::vector<TextDifference>{
                {"a", What::missing}, {"b", What::placeholders}, {"c", What::empty}, {"e", What::surplus}}));
  EXPECT_EQ(compare_texts(es, en),
            (std::vector<TextDifference>{{"a", What::surplus}, {"b", What::placeholders}, {"e", What::missing}}));
}

TEST(CompareTexts, AcceptsAnotherOrderOfWords) {
  EXPECT_TRUE(compare_texts(texts("a = \"{m} of {n}\""), texts("a = \"{n}: {m}, {n}\"")).empty());
}

}  // namespace
}  // namespace pappus::words
