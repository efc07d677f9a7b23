#include "faces/paper/markup.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::paper {
namespace {

TEST(Markup, ClosesWhatItOpensInOrder) {
  Markup to;
  {
    const auto outer = to.element("p", {{"class", "a\"b"}});
    to.leaf("b", "x < y & z");
  }
  EXPECT_EQ(to.str(), "<p class=\"a&quot;b\"><b>x &lt; y &amp; z</b></p>\n");
}

TEST(Markup, LeavesOrdinaryWordsAsTheyAre) {
  for (const char* text : {"", "215\xC2\xB0, 14.2 kt", "\xE2\x89\xA4 950 kg", "\xF0\x9F\x8E\x88", "line\nfeed"})
    EXPECT_EQ(escaped(text), text);
}

TEST(Markup, ReplacesWhatIsNoTextOrTurnsTextRound) {
  const std::string replaced = "\xEF\xBF\xBD";
  EXPECT_EQ(escaped(std::string(1, '\0')), replaced);
  EXPECT_EQ(escaped("\x1B"), replaced);
  EXPECT_EQ(escaped("\xC2\x85"), replaced);                                           // a control of the second set
  EXPECT_EQ(escaped("\xC0\xAF"), replaced + replaced);                                // overlong
  EXPECT_EQ(escaped("\xED\xA0\x80"), replaced + replaced + replaced);                 // a surrogate
  EXPECT_EQ(escaped("\xF4\x90\x80\x80"), replaced + replaced + replaced + replaced);  // beyond the last
  EXPECT_EQ(escaped("\xE2\x82"), replaced + replaced);                                // cut off
  EXPECT_EQ(escaped("\xE2\x80\xAE"
                    "abc"),
            replaced + "abc");
  EXPECT_EQ(escaped("\xE2\x81\xA7"), replaced);
}

TEST(Markup, NothingThatIsEscapedCanBecomeMarkup) {
  auto random = testing::seeded("Markup.Escaped");
  for (int i = 0; i < 2000; ++i) {
    std::string text;
    const std::size_t size = random.below(40);
    for (std::size_t k = 0; k < size; ++k) text += static_cast<char>(random.below(256));
    const std::string out = escaped(text);
    EXPECT_EQ(out.find_first_of("<>\"'"), std::string::npos);
    for (const char c : out) EXPECT_TRUE(static_cast<unsigned char>(c) >= 0x20 || c == '\n' || c == '\t');
    EXPECT_EQ(escaped(out).find_first_of("<>\"'"), std::string::npos);
  }
}

}  // namespace
}  // namespace pappus::paper
