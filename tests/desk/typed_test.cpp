#include "desk/typed.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::desk {
namespace {

using Words = std::vector<std::string>;
constexpr UtcOffset kHere{-9 * 60};

Instant at(int hour, int minute, int day = 16) { return instant_of(*Date::of(2027, 5, day), hour, minute, 0.0, kHere); }

std::string shown(std::optional<TypedTime> time, Instant earliest) {
  return time ? iso8601(next_of(*time, earliest, kHere)) : "none";
}

TEST(Typed, AUnitThatStandsAloneBelongsToItsNumber) {
  EXPECT_EQ(words_of("18 gal 15.5 gal, 12"), (Words{"18gal", "15.5gal", "12"}));
  EXPECT_EQ(words_of("500 ft 215 9 kt 8 C"), (Words{"500ft", "215", "9kt", "8C"}));
  EXPECT_EQ(words_of("full full -"), (Words{"full", "full", "-"}));
  EXPECT_EQ(words_of("18gal gal"), (Words{"18gal", "gal"}));
  EXPECT_EQ(words_of("  \t "), Words{});
}

TEST(Typed, ABareNumberIsInTheUnitAskedFor) {
  EXPECT_EQ(in_unit_or("18", text::Dimension::volume, "gal"), text::parse_si("18gal", text::Dimension::volume));
  EXPECT_EQ(in_unit_or("18 L", text::Dimension::volume, "gal"), text::parse_si("18L", text::Dimension::volume));
  EXPECT_EQ(in_unit_or("18kg", text::Dimension::volume, "gal").error().sentence.key, "issue.unit_other_kind");
  EXPECT_EQ(in_unit_or("", text::Dimension::volume, "gal").error().sentence.key, "issue.number_unreadable");
}

TEST(Typed, ATimeOfDayIsTheNextOne) {
  const Instant now = at(4, 50);
  for (const char* text : {"05:10", "0510", "5:10", " 05:10 ", "05:10-09:00", "05:10 -09:00", "2027-05-16 05:10",
                           "2027-05-16T05:10:00-09:00"})
    EXPECT_EQ(shown(typed_time(text), now), "2027-05-16T05:10:00-09:00") << text;
  EXPECT_EQ(shown(typed_time("04:40"), now), "2027-05-17T04:40:00-09:00");
  EXPECT_EQ(shown(typed_time("14:10Z"), now), "2027-05-16T14:10:00+00:00");
  EXPECT_EQ(shown(typed_time("2027-05-20 04:40"), now), "2027-05-20T04:40:00-09:00");
}

TEST(Typed, OrTheLastOne) {
  EXPECT_EQ(iso8601(last_of(*typed_time("04:40"), at(4, 50), kHere)), "2027-05-16T04:40:00-09:00");
  EXPECT_EQ(iso8601(last_of(*typed_time("23:50"), at(0, 20), kHere)), "2027-05-15T23:50:00-09:00");
}

TEST(Typed, WhatIsNoTimeIsRefused) {
  for (const char* text : {"", "24:00", "05:60", "5", "510", "05:1", "05:10x", "now", "05:10 -15:00",
                           "2027-02-30 05:10", "-05:10", "05:10:30", "12345"})
    EXPECT_FALSE(typed_time(text)) << text;
}

TEST(Typed, NothingTypedIsACrash) {
  auto random = testing::seeded("Typed.Anything");
  for (int i = 0; i < 5000; ++i) {
    std::string text;
    for (std::size_t n = random.below(24); n > 0; --n) text += "0159:-+TZ .,=wft\n"[random.below(17)];
    for (const std::string& word : words_of(text)) EXPECT_FALSE(word.empty());
    for (const std::string_view line : lines_of(text)) EXPECT_EQ(trimmed(line), line);
    if (const auto time = typed_time(text)) {
      const Moment next = next_of(*time, at(4, 50), kHere);
      if (time->date) continue;
      EXPECT_TRUE(next.at >= at(4, 50) && next.at < at(4, 50) + 24.0 * hour) << text;
    }
  }
}

}  // namespace
}  // namespace pappus::desk
