#include "formats/text/pilot/toml_cursor.hpp"

#include <string>
#include <vector>

#include <gtest/gtest.h>

#include "tests/formats/text/pilot/edited_file.hpp"

namespace pappus::text {
namespace {

TEST(TomlTree, KeepsThePlaceOfEveryValue) {
  const auto tree = parse_toml("# first\nname = \"é\" # after\nlist = [1,\n  2.5]\n[[t]]\nwhen = 2027-01-02\n", "f");
  ASSERT_TRUE(tree.has_value());
  ASSERT_EQ(tree->members.size(), 3u);
  const TomlMember& list = tree->members[0];
  EXPECT_EQ(list.key, "list");
  EXPECT_EQ(list.line, 3);
  EXPECT_EQ(list.value.items.at(1).span.line, 4);
  EXPECT_EQ(list.value.items.at(1).span.column, 3);
  EXPECT_EQ(list.value.items.at(1).number, 2.5);
  EXPECT_EQ(tree->members[1].value.text, "é");
  EXPECT_EQ(tree->members[1].value.span.end_column, 11) << "columns count characters";
  EXPECT_EQ(tree->members[2].value.items.at(0).span.line, 5);
  EXPECT_EQ(tree->members[2].value.items.at(0).members.at(0).value.date, Date::of(2027, 1, 2));
}

TEST(TomlTree, ADepthThatWouldOverflowTheStackIsRefusedWithItsPlace) {
  std::string dotted = "x = 1\na";
  for (int i = 0; i < 100000; ++i) dotted += ".a";
  const auto deep = parse_toml(dotted + " = 1", "f");
  ASSERT_FALSE(deep.has_value());
  EXPECT_EQ(deep.error().sentence.key, "issue.toml_too_deep");
  EXPECT_EQ(deep.error().where.line, 2);
  EXPECT_EQ(deep.error().where.column, 34);  // the 17th dot
  EXPECT_FALSE(parse_toml("a = " + std::string(17, '[') + std::string(17, ']'), "f").has_value());
  EXPECT_TRUE(parse_toml("a = " + std::string(16, '[') + std::string(16, ']'), "f").has_value());
}

TEST(TomlTree, ACharacterBeyondAsciiBelongsInQuotes) {
  // Each of these leads the library itself into undefined behaviour.
  const auto bare = parse_toml("a = 1\nname = é\n", "f");
  ASSERT_FALSE(bare.has_value());
  EXPECT_EQ(bare.error().sentence.key, "issue.toml_character");
  EXPECT_EQ(bare.error().where, (Where{"f", 2, 8, {}}));
  EXPECT_EQ(bare.error().got, "name = é");
  const auto joined = parse_toml("s = \"\"\"\\\n  °\"\"\"\n", "f");
  ASSERT_FALSE(joined.has_value());
  EXPECT_EQ(joined.error().sentence.key, "issue.toml_joined_line");
  EXPECT_EQ(joined.error().where, (Where{"f", 2, 3, {}}));
  EXPECT_EQ(parse_toml("s\xc3\xb7 = 1", "f").error().sentence.key, "issue.toml_character");
  EXPECT_EQ(parse_toml("s = 9\"é\"", "f").error().sentence.key, "issue.toml_character");
  EXPECT_EQ(parse_toml("s = \"\"\"a\"\"\"\"\" é", "f").error().sentence.key, "issue.toml_character");
  EXPECT_EQ(parse_toml("\xef\xbb\xbfs = '°é' # °é\nt = \"\"\"°\\n°\\\n  x°\n°\"\"\"", "f").has_value(), true);
}

TEST(TomlTree, ACharacterInWhatOnlyLooksLikeAStringIsRefused) {
  // Here the library looks on from the bare word into the quotes; found by fuzzing.
  const auto mixed = parse_toml("rows = 9[\"\xcc\x8c e\"]\n", "f");
  ASSERT_FALSE(mixed.has_value());
  EXPECT_EQ(mixed.error().code, Errc::bad_input);
  EXPECT_EQ(mixed.error().where.line, 1);
  // Every kind of character that its search for blanks treats by itself, in such a place. None may be taken for a blank.
  for (const std::string_view c :
       {"\xc2\x80", "\xc2\x85", "\xc2\xa0", "\xc3\xa9", "\xcc\x8c", "\xe1\x9a\x80", "\xe1\xa0\x8e", "\xe2\x80\x80",
        "\xe2\x80\xa8", "\xe2\x81\xa0", "\xe3\x80\x80", "\xef\xbb\xbf", "\xef\xbc\x81", "\xf0\x9f\x8e\x88"}) {
    const std::string text(c);
    for (const std::string& toml : {"a = 9[\"" + text + "\"]", "a = 9." + text, "a = true[\"" + text + "\"]",
                                    "a = 1\n\"b\" \"" + text + "\"", "a = [1 \"" + text + "\"]"})
      EXPECT_FALSE(parse_toml(toml, "f").has_value()) << toml;
    const auto quoted = parse_toml("\"k" + text + "\" = \"x" + text + "y\" # " + text, "f");
    if (c == "\xc2\x80" || c == "\xc2\x85") continue;  // control characters
    ASSERT_TRUE(quoted.has_value()) << text;
    EXPECT_EQ(quoted->members.front().key, "k" + text);
    EXPECT_EQ(quoted->members.front().value.text, "x" + text + "y");
  }
}

TEST(TomlTree, MalformedUtf8IsRefused) {
  for (const std::string_view c : {"\x80", "\xc3", "\xc0\xaf", "\xe0\x80\x80", "\xed\xa0\x80", "\xe2\x80", "\xff"})
    EXPECT_FALSE(parse_toml("a = \"" + std::string(c) + "\"", "f").has_value());
}

TEST(TomlTree, DotsAndBracketsInStringsAndCommentsAreNoDepth) {
  const std::string many = std::string(50, '[') + std::string(50, '.') + std::string(50, '{');
  EXPECT_TRUE(parse_toml("# " + many + "\na = 1", "f").has_value());
  EXPECT_TRUE(parse_toml("a = \"\\\"" + many + "\"", "f").has_value());
  EXPECT_TRUE(parse_toml("a = '" + many + "'", "f").has_value());
  EXPECT_TRUE(parse_toml("a = \"\"\"\n\"\"" + many + "\n\"\"\"", "f").has_value());
  EXPECT_TRUE(parse_toml("a = '''\n''" + many + "\n'''", "f").has_value());
  EXPECT_TRUE(parse_toml("a = [1.5, 2.5, 1.5, 2.5, 1.5, 2.5, 1.5, 2.5, 1.5, 2.5, 1.5, 2.5, 1.5, 2.5, 1.5, 2.5, 1.5, "
                         "2.5]",
                         "f")
                  .has_value());
}

TEST(TomlDocument, TellsNothingWhereAllThatStandsThereWasAskedFor) {
  TomlDocument document{"a = \"1kg\"\n[b]\nc = 2\n", "f"};
  Mass mass;
  int count = 0;
  EXPECT_TRUE(document.root().need("a", mass));
  EXPECT_TRUE(document.root().table("b").need("c", count));
  EXPECT_EQ(mass, 1.0 * kilogram);
  EXPECT_EQ(count, 2);
  EXPECT_EQ(testing::told(document.finish()), "");
}

TEST(TomlDocument, AskingTwiceTellsAnUnknownKeyOnce) {
  TomlDocument document{"a = 1\nzz = 2\n", "f"};
  std::optional<int> count;
  document.root().may("a", count);
  document.root().may("a", count);
  EXPECT_EQ(testing::told(document.finish()), "2:1 zz issue.key_unknown got 'zz' wanted 'one of a'\n");
}

TEST(TomlDocument, ALineTooLongForAPersonIsNotQuoted) {
  const std::string text = "a = [" + std::string(3000, ' ') + "]\n";
  TomlDocument document{text, "f"};
  Mass mass;
  EXPECT_FALSE(document.root().need("a", mass));
  const std::vector<Issue> issues = document.finish();
  ASSERT_EQ(issues.size(), 1u);
  EXPECT_EQ(issues[0].got, "a list");
}

}  // namespace
}  // namespace pappus::text
