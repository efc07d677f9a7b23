#include "core/base/instant.hpp"

#include <cstdint>
#include <optional>
#include <string>

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus {
namespace {

using testing::seeded;

constexpr std::int64_t kDayMs = 86'400'000;

Instant at_ms(std::int64_t ms) { return Instant::from_unix_milliseconds(ms); }

TEST(Instant, ADifferenceAddedGivesTheOtherInstant) {
  Random random = seeded("Instant.Difference");
  for (int i = 0; i < 10'000; ++i) {
    const Instant a = at_ms(static_cast<std::int64_t>(random.uniform(-1e14, 1e14)));
    const Instant b = at_ms(static_cast<std::int64_t>(random.uniform(-1e14, 1e14)));
    ASSERT_EQ(a + (b - a), b);
    ASSERT_EQ(b - (b - a), a);
    ASSERT_EQ(a<b, (b - a)> 0.0 * second);
  }
}

TEST(Instant, AddingRoundsToTheNearestMillisecondOnBothSidesOfZero) {
  EXPECT_EQ((at_ms(0) + 0.0014 * second).unix_milliseconds(), 1);
  EXPECT_EQ((at_ms(0) + 0.0016 * second).unix_milliseconds(), 2);
  EXPECT_EQ((at_ms(0) - 0.0014 * second).unix_milliseconds(), -1);
  EXPECT_EQ((at_ms(0) - 0.0016 * second).unix_milliseconds(), -2);
  EXPECT_EQ((at_ms(0) + 1.0 * hour).unix_milliseconds(), 3'600'000);
}

TEST(Date, KnowsLeapYears) {
  for (const int year : {2024, 2028, 2000, 2400, 4}) EXPECT_TRUE(Date::of(year, 2, 29)) << year;
  for (const int year : {2027, 2100, 1900, 2200, 1}) EXPECT_FALSE(Date::of(year, 2, 29)) << year;
}

TEST(Date, RefusesDaysThatDoNotExist) {
  EXPECT_FALSE(Date::of(2027, 0, 1));
  EXPECT_FALSE(Date::of(2027, 13, 1));
  EXPECT_FALSE(Date::of(2027, 1, 0));
  EXPECT_FALSE(Date::of(2027, 1, 32));
  EXPECT_FALSE(Date::of(2027, 4, 31));
  EXPECT_FALSE(Date::of(2027, -1, 1));
  EXPECT_FALSE(Date::of(2027, 1, -1));
  EXPECT_FALSE(Date::of(0, 1, 1));
  EXPECT_FALSE(Date::of(-5, 1, 1));
  EXPECT_FALSE(Date::of(10'000, 1, 1));
  EXPECT_FALSE(Date::of(65'536 + 2027, 1, 1));
  EXPECT_TRUE(Date::of(1, 1, 1));
  EXPECT_TRUE(Date::of(9999, 12, 31));
}

TEST(Date, CountsDaysFrom1970) {
  EXPECT_EQ(Date{}.days_since_1970(), 0);
  EXPECT_EQ(Date::of(2000, 1, 1)->days_since_1970(), 10'957);  // 30 years with 7 leap days
  EXPECT_EQ(Date::of(1969, 12, 31)->days_since_1970(), -1);
  EXPECT_EQ(Date::of(2027, 2, 28)->plus_days(1), *Date::of(2027, 3, 1));
  EXPECT_EQ(Date::of(2028, 2, 28)->plus_days(1), *Date::of(2028, 2, 29));
  EXPECT_EQ(Date::of(2027, 1, 1)->plus_days(-1), *Date::of(2026, 12, 31));
}

TEST(Date, DaysThereAndBackForTheWholeCalendar) {
  const std::int64_t first = Date::of(1, 1, 1)->days_since_1970(), last = Date::of(9999, 12, 31)->days_since_1970();
  EXPECT_EQ(last - first + 1, 3'652'059);  // 9999 years of 365 days and 2424 leap days
  Date before = Date::from_days_since_1970(first);
  for (std::int64_t d = first + 1; d <= last; d += 37) {
    const Date date = Date::from_days_since_1970(d);
    ASSERT_EQ(date.days_since_1970(), d);
    ASSERT_LT(before, date);
    ASSERT_EQ(Date::of(date.year(), date.month(), date.day()), date);
    before = date;
  }
}

TEST(Moment, ReadsTheDateAndTheMinuteInItsOwnOffset) {
  const Moment evening = parse_moment("2027-05-16T20:30:59-07:00").value();
  EXPECT_EQ(iso8601(evening.date()), "2027-05-16");
  EXPECT_EQ(evening.minute_of_day(), 20 * 60 + 30);
  const Moment utc{evening.at, UtcOffset{0}};
  EXPECT_EQ(iso8601(utc.date()), "2027-05-17");
  EXPECT_EQ(utc.minute_of_day(), 3 * 60 + 30);
  const Moment before_1970{at_ms(-1), UtcOffset{0}};
  EXPECT_EQ(iso8601(before_1970.date()), "1969-12-31");
  EXPECT_EQ(before_1970.minute_of_day(), 23 * 60 + 59);
}

TEST(Iso8601, PrintedAndReadAgainIsTheSameToTheSecond) {
  Random random = seeded("Iso8601.RoundTrip");
  const std::int64_t first = Date::of(1, 1, 2)->days_since_1970() * kDayMs;
  const std::int64_t last = Date::of(9999, 12, 30)->days_since_1970() * kDayMs;
  for (int i = 0; i < 10'000; ++i) {
    const auto seconds = static_cast<std::int64_t>(
        random.uniform(static_cast<double>(first) / 1000.0, static_cast<double>(last) / 1000.0));
    const Moment m{at_ms(seconds * 1000), UtcOffset{static_cast<int>(random.below(2 * 14 * 60 + 1)) - 14 * 60}};
    const std::string text = iso8601(m);
    ASSERT_EQ(text.size(), 25u) << text;
    ASSERT_EQ(parse_moment(text), m) << text;
    ASSERT_EQ(parse_moment(iso8601_utc(m.at)), (Moment{m.at, UtcOffset{0}})) << text;
    ASSERT_EQ(parse_date(text.substr(0, 10)), m.date()) << text;
    ASSERT_EQ(parse_offset(text.substr(19)), m.offset) << text;
  }
}

TEST(Iso8601, PrintsAsTheStandardShows) {
  const Moment m{instant_of(*Date::of(2027, 5, 16), 4, 50, 0.0, UtcOffset{-9 * 60}), UtcOffset{-9 * 60}};
  EXPECT_EQ(iso8601(m), "2027-05-16T04:50:00-09:00");
  EXPECT_EQ(iso8601_utc(m.at), "2027-05-16T13:50:00Z");
  EXPECT_EQ(iso8601(Moment{m.at, UtcOffset{0}}), "2027-05-16T13:50:00+00:00");
  EXPECT_EQ(iso8601(UtcOffset{345}), "+05:45");
  EXPECT_EQ(iso8601(UtcOffset{-210}), "-03:30");
  EXPECT_EQ(iso8601(UtcOffset{-1}), "-00:01");
  EXPECT_EQ(iso8601(*Date::of(7, 1, 2)), "0007-01-02");
}

TEST(Iso8601, RoundsSecondsIntoTheNextMinuteDayAndYear) {
  EXPECT_EQ(iso8601_utc(parse_moment("2027-12-31T23:59:59.499Z")->at), "2027-12-31T23:59:59Z");
  EXPECT_EQ(iso8601_utc(parse_moment("2027-12-31T23:59:59.5Z")->at), "2028-01-01T00:00:00Z");
  EXPECT_EQ(iso8601_utc(at_ms(-500)), "1970-01-01T00:00:00Z");
  EXPECT_EQ(iso8601_utc(at_ms(-501)), "1969-12-31T23:59:59Z");
}

TEST(ParseMoment, ReadsTheFormsItPromises) {
  const Instant wanted = instant_of(*Date::of(2027, 5, 16), 13, 50, 0.0, UtcOffset{});
  for (const char* text :
       {"2027-05-16T13:50:00Z", "2027-05-16T13:50Z", "2027-05-16 13:50Z", "2027-05-16t13:50:00z",
        "2027-05-16T04:50:00-09:00", "2027-05-16T04:50-0900", "2027-05-16T19:35:00+05:45", "2027-05-17T03:50+14:00",
        "2027-05-16T13:50:00.000Z", "2027-05-16T13:50:00,0Z", "2027-05-16T13:49:60Z"}) {
    const auto moment = parse_moment(text);
    ASSERT_TRUE(moment) << text;
    EXPECT_EQ(moment->at, wanted) << text;
  }
  EXPECT_EQ(parse_moment("2027-05-16T13:50:00.1239Z")->at - wanted, 0.124 * second);
  EXPECT_EQ(parse_moment("2027-05-16T04:50-0900")->offset.minutes, -540);
}

TEST(ParseMoment, RefusesEverythingElse) {
  for (const char* text : {"",
                           "now",
                           "2027-05-16",
                           "2027-05-16T13:50",
                           "2027-05-16T13:50:00",
                           "2027-05-16T13Z",
                           "2027-05-16T1350Z",
                           "2027-05-16T24:00Z",
                           "2027-05-16T13:60Z",
                           "2027-05-16T13:50:61Z",
                           "2027-05-16T13:50:00.Z",
                           "2027-05-16T13:50:0Z",
                           "2027-05-16T13:50:00Z ",
                           " 2027-05-16T13:50:00Z",
                           "2027-05-16T13:50:00 Z",
                           "2027-05-16T13:50:00+15:00",
                           "2027-05-16T13:50:00+09:60",
                           "2027-05-16T13:50:00+9:00",
                           "2027-05-16T13:50:00+14:01",
                           "2027-05-16T13:50:00-",
                           "2027-05-16T13:50:00UTC",
                           "2027/05/16T13:50:00Z",
                           "-027-05-16T13:50:00Z",
                           "-2027-05-16T13:50:00Z",
                           "2027-02-29T13:50:00Z",
                           "2027-13-01T13:50:00Z",
                           "0000-01-01T00:00:00Z",
                           "27-05-16T13:50:00Z",
                           "2027-05-16X13:50:00Z",
                           "2027-05-16T13:50:00Z2027",
                           "2027-05-16T-1:50:00Z",
                           "2027-05-16T13.50:00Z"})
    EXPECT_FALSE(parse_moment(text)) << text;
}

TEST(ParseMoment, NoTextOfTheseLettersMakesItStumble) {
  Random random = seeded("ParseMoment.Noise");
  constexpr std::string_view letters = "0123456789-:T Z+.,";
  int read = 0;
  for (int i = 0; i < 50'000; ++i) {
    // A good text with a few letters changed, cut or added: what is read must print and read again as the same.
    std::string text = "2027-05-16T04:50:00.25-09:00";
    for (std::uint64_t n = random.below(4); n > 0; --n)
      text[random.below(text.size())] = letters[random.below(letters.size())];
    if (random.below(4) == 0) text.resize(random.below(text.size() + 1));
    const auto moment = parse_moment(text);
    if (!moment) continue;
    ++read;
    const auto again = parse_moment(iso8601(*moment));
    ASSERT_TRUE(again) << text;
    ASSERT_LE(abs(again->at - moment->at), 0.5 * second) << text;
  }
  EXPECT_GT(read, 1000);
}

TEST(ParseDate, ReadsOneFormOnly) {
  EXPECT_EQ(parse_date("2027-05-16"), Date::of(2027, 5, 16));
  EXPECT_EQ(parse_date("0001-01-01"), Date::of(1, 1, 1));
  for (const char* text : {"", "2027-5-16", "20270516", "2027-05-16 ", "2027-05-1a", "2027-02-30", "-027-05-16",
                           "-2027-05-16", "+2027-05-16", "2027-00-10", "0000-05-16", "2027.05.16", "16-05-2027"})
    EXPECT_FALSE(parse_date(text)) << text;
}

TEST(ParseOffset, ReadsOffsetsWithinFourteenHours) {
  EXPECT_EQ(parse_offset("Z"), UtcOffset{0});
  EXPECT_EQ(parse_offset("+00:00"), UtcOffset{0});
  EXPECT_EQ(parse_offset("-00:30"), UtcOffset{-30});
  EXPECT_EQ(parse_offset("+0545"), UtcOffset{345});
  EXPECT_EQ(parse_offset("-14:00"), UtcOffset{-840});
  for (const char* text : {"", "0", "09:00", "+9", "+09", "+9:00", "+14:01", "-99:00", "+09:60", "+09.00", "+09:000",
                           "ZZ", "UTC", "+-900", "+0a:00", "--9:00"})
    EXPECT_FALSE(parse_offset(text)) << text;
}

TEST(InstantOf, ALeapSecondIsReadAsTheNextSecond) {
  EXPECT_EQ(instant_of(*Date::of(2016, 12, 31), 23, 59, 60.0, UtcOffset{}),
            instant_of(*Date::of(2017, 1, 1), 0, 0, 0.0, UtcOffset{}));
}

TEST(InstantOf, TheOffsetIsTakenOff) {
  Random random = seeded("InstantOf.Offset");
  for (int i = 0; i < 1000; ++i) {
    const Date date = Date::from_days_since_1970(static_cast<std::int64_t>(random.below(40'000)) - 20'000);
    const int h = static_cast<int>(random.below(24)), m = static_cast<int>(random.below(60));
    const UtcOffset offset{static_cast<int>(random.below(1681)) - 840};
    const Moment moment{instant_of(date, h, m, 30.0, offset), offset};
    ASSERT_EQ(moment.date(), date);
    ASSERT_EQ(moment.minute_of_day(), h * 60 + m);
    ASSERT_EQ(moment.at + offset.minutes * minute, instant_of(date, h, m, 30.0, UtcOffset{}));
  }
}

}  // namespace
}  // namespace pappus
