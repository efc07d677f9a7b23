#include "core/book/pilot_dates.hpp"

#include <gtest/gtest.h>

#include "tests/core/book/book_rows.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::book {
namespace {

using rules::rules_of;
using rules::Which;
using testing::any_day;
using testing::day;
using testing::day_of;
using testing::days_of;
using testing::expect_due;
using testing::goodness;
using testing::read_table;
using testing::Row;
using testing::seeded;
using testing::words_of;

const rules::Set& us() { return rules_of(Which::us); }
const rules::Set& eu() { return rules_of(Which::eu); }

TEST(PilotDates, RecentLandingsFollowTheTable) {
  for (const Row& row : read_table("recency.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const Outlook outlook{day(row.text("on"))};
    const std::vector<Date> landings = days_of(row.text("landings"));
    expect_due(row, row.text("what") == "night_recency" ? night_recency(*us().night_passengers, landings, outlook)
                                                        : passenger_recency(*us().passengers, landings, outlook));
  }
}

// "2026-01-10:3:5x" is 3 h with five landings, in another class.
LoggedFlight flight_of(const std::string& word) {
  LoggedFlight flight;
  const std::size_t one = word.find(':'), two = word.find(':', one + 1);
  flight.date = day(word.substr(0, one));
  flight.in_command = std::stod(word.substr(one + 1, two - one - 1)) * hour;
  flight.landings = flight.take_offs = std::stoi(word.substr(two + 1));
  flight.in_class = word.back() != 'x';
  return flight;
}

TEST(PilotDates, EuropeanRecencyFollowsTheTable) {
  for (const Row& row : read_table("recency_eu.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const Outlook outlook{day(row.text("on"))};
    PilotLog log;
    for (const std::string& word : words_of(row.text("flights"))) log.flights.push_back(flight_of(word));
    log.training_flight = day_of(row, "training");
    log.check = day_of(row, "check");
    log.supervised = days_of(row.text("supervised"));
    log.refresher = day_of(row, "refresher");
    const std::string what = row.text("what");
    expect_due(row, what == "recency"       ? recency(*eu().recency, log, outlook)
                    : what == "other_class" ? other_class_recency(*eu().other_class, log, outlook)
                                            : commercial_recency(*eu().commercial, log, outlook));
  }
}

TEST(PilotDates, TenShortFlightsAddUpWithoutRounding) {
  PilotLog log;
  for (int i = 0; i < 30; ++i) log.flights.push_back({day("2026-12-01"), 0.1 * hour});
  EXPECT_EQ(other_class_recency(*eu().other_class, log, Outlook{day("2027-01-01")}).state, DueState::current);
}

TEST(PilotDates, OneLandingMoreNeverMakesThemWorse) {
  Random random = seeded("PilotDates.OneLandingMore");
  for (int i = 0; i < 2000; ++i) {
    const Outlook outlook{any_day(random)};
    const auto near = [&] { return outlook.on.plus_days(5 - static_cast<std::int64_t>(random.below(130))); };
    std::vector<Date> landings;
    for (std::uint64_t n = random.below(6); n > 0; --n) landings.push_back(near());
    std::vector<Date> more = landings;
    more.insert(more.begin() + static_cast<std::ptrdiff_t>(random.below(more.size() + 1)), near());
    const Due before = passenger_recency(*us().passengers, landings, outlook);
    const Due after = passenger_recency(*us().passengers, more, outlook);
    EXPECT_GE(goodness(after.state), goodness(before.state));
    EXPECT_GE(after.until, before.until);  // none is before every day
    // Counted once more, without sorting: the landings of the ninety days before the flight and of its own day.
    int within = 0;
    for (const Date d : landings) within += d <= outlook.on && d.plus_days(90) >= outlook.on ? 1 : 0;
    EXPECT_EQ(goodness(before.state) > 0, within >= 3);
  }
}

TEST(PilotDates, MoreExperienceNeverMakesThemWorse) {
  Random random = seeded("PilotDates.MoreExperience");
  for (int i = 0; i < 2000; ++i) {
    const Outlook outlook{any_day(random)};
    const auto near = [&](std::uint64_t days) {
      return outlook.on.plus_days(5 - static_cast<std::int64_t>(random.below(static_cast<std::size_t>(days))));
    };
    const auto flight = [&] {
      return LoggedFlight{near(900), (0.5 + 2.0 * random.uniform()) * hour, 2, 1 + static_cast<int>(random.below(4)),
                          random.below(2) == 0};
    };
    PilotLog log;
    for (std::uint64_t n = random.below(8); n > 0; --n) log.flights.push_back(flight());
    if (random.below(3) > 0) log.training_flight = near(1800);
    if (random.below(3) > 0) log.check = near(900);
    if (random.below(3) > 0) log.supervised.push_back(near(220));
    PilotLog more = log;
    switch (random.below(3)) {
      case 0: more.flights.push_back(flight()); break;
      case 1: more.training_flight = std::max(more.training_flight.value_or(day("1990-01-01")), near(1800)); break;
      default: more.supervised.push_back(near(220)); break;
    }
    // A date after the flight is none, so that moving an earlier one there is no experience more.
    if (more.training_flight && *more.training_flight > outlook.on) more.training_flight = log.training_flight;
    EXPECT_GE(goodness(recency(*eu().recency, more, outlook).state),
              goodness(recency(*eu().recency, log, outlook).state));
    EXPECT_GE(goodness(other_class_recency(*eu().other_class, more, outlook).state),
              goodness(other_class_recency(*eu().other_class, log, outlook).state));
    EXPECT_GE(goodness(commercial_recency(*eu().commercial, more, outlook).state),
              goodness(commercial_recency(*eu().commercial, log, outlook).state));
  }
}

TEST(PilotDates, ALaterReviewIsDueNoEarlier) {
  Random random = seeded("PilotDates.LaterReview");
  for (int i = 0; i < 1000; ++i) {
    const Date done = any_day(random), later = done.plus_days(static_cast<std::int64_t>(random.below(60)));
    const Outlook outlook{later.plus_days(static_cast<std::int64_t>(random.below(900)))};
    const Due one = flight_review(*us().flight_review, done, outlook);
    const Due two = flight_review(*us().flight_review, later, outlook);
    EXPECT_LE(one.until, two.until);
    EXPECT_LE(goodness(one.state), goodness(two.state));
  }
}

TEST(PilotDates, WhatIsMissingIsNotKnown) {
  const Outlook outlook{day("2027-05-16")};
  std::vector<Due> all = pilot_dates(us(), people::Pilot{}, {}, outlook);
  for (const Due& due : pilot_dates(eu(), people::Pilot{}, {}, outlook)) all.push_back(due);
  all.push_back(other_class_recency(*eu().other_class, PilotLog{}, outlook));
  all.push_back(commercial_recency(*eu().commercial, PilotLog{}, outlook));
  all.push_back(*medical(*us().medical, {.for_hire = true}, std::nullopt, outlook));
  all.push_back(training_group(*eu().groups, std::nullopt, 3000.0 * cubic_metre));
  EXPECT_EQ(all.size(), 7u);
  for (const Due& due : all) {
    EXPECT_EQ(due.state, DueState::not_known) << due.what;
    EXPECT_FALSE(due.until.has_value()) << due.what;
    EXPECT_TRUE(due.remedy.has_value()) << due.what;
  }
}

TEST(PilotDates, ADateAfterTheFlightIsNoExperience) {
  const Outlook outlook{day("2027-05-16")};
  const Due due = flight_review(*us().flight_review, day("2027-05-17"), outlook);
  EXPECT_EQ(due.state, DueState::not_known);
  EXPECT_EQ(due.finding.key, "book.after_flight");
  EXPECT_EQ(flight_review(*us().flight_review, day("2027-05-16"), outlook).state, DueState::current);
}

TEST(PilotDates, TheNightPeriodIncludesItsEnds) {  // R2
  const auto at = [](int hours, int minutes) {
    return instant_of(day("2027-05-16"), hours, minutes, 0.0, UtcOffset{});
  };
  const Instant sunset = at(3, 0), sunrise = at(12, 0);
  const rules::NightPassengers& rule = *us().night_passengers;
  EXPECT_FALSE(is_night_landing(rule, at(3, 59), sunset, sunrise));
  EXPECT_TRUE(is_night_landing(rule, at(4, 0), sunset, sunrise));
  EXPECT_TRUE(is_night_landing(rule, at(11, 0), sunset, sunrise));
  EXPECT_FALSE(is_night_landing(rule, at(11, 1), sunset, sunrise));
}

TEST(PilotDates, AMedicalIsAskedForHireOnlyAndFromItsDay) {  // R9
  const Date valid = day("2030-01-01");
  const rules::Medical& rule = *us().medical;
  EXPECT_EQ(rule.since, day("2023-05-22"));
  EXPECT_FALSE(medical(rule, {}, valid, Outlook{day("2027-05-16")}).has_value());
  EXPECT_FALSE(medical(rule, {.for_hire = true}, valid, Outlook{day("2023-05-21")}).has_value());
  EXPECT_TRUE(medical(rule, {.for_hire = true}, valid, Outlook{day("2023-05-22")}).has_value());
  EXPECT_FALSE(
      medical(rule, {.for_hire = true, .flight_training = true}, valid, Outlook{day("2027-05-16")}).has_value());
}

TEST(PilotDates, ATrainingFlightCoversItsGroupAndSmallerOnes) {  // R29, R33
  const rules::Groups& groups = *eu().groups;
  EXPECT_EQ(training_group(groups, 3400.0 * cubic_metre, 3400.0 * cubic_metre).state, DueState::current);
  EXPECT_EQ(training_group(groups, 3400.0 * cubic_metre, 3401.0 * cubic_metre).state, DueState::passed);
  EXPECT_EQ(training_group(groups, 6000.0 * cubic_metre, 2000.0 * cubic_metre).state, DueState::current);
  EXPECT_FALSE(training_group(groups, 6000.0 * cubic_metre, 2000.0 * cubic_metre).sure);
}

TEST(PilotDates, TheFlightFileIsEnoughUnderAmericanRules) {
  people::Pilot pilot;
  pilot.review = day("2026-06-12");
  pilot.landings = {day("2027-03-15"), day("2027-04-06"), day("2027-05-11")};
  for (const Due& due : pilot_dates(us(), pilot, {}, Outlook{day("2027-05-13")})) {
    EXPECT_EQ(due.state, DueState::current) << due.what;
    EXPECT_TRUE(due.sure);
    EXPECT_EQ(due.subject, Subject::pilot);
  }
}

std::vector<std::string> asked(const rules::Set& set, const people::Pilot& pilot, const FlightAsked& flight) {
  std::vector<std::string> out;
  for (const Due& due : pilot_dates(set, pilot, flight, Outlook{day("2027-05-16")})) out.push_back(due.what);
  return out;
}

TEST(PilotDates, OnlyWhatTheFlightNeedsIsAsked) {  // R1, R2, R9, R29 to R31, R33
  using Names = std::vector<std::string>;
  people::Pilot pilot;
  EXPECT_EQ(asked(us(), pilot, {.passengers = false, .at_night = true}), Names{"flight_review"});
  EXPECT_EQ(asked(us(), pilot, {.at_night = true}), (Names{"flight_review", "passenger_recency", "night_recency"}));
  EXPECT_EQ(asked(eu(), pilot, {.envelope = 3000.0 * cubic_metre}), (Names{"recency", "training_group"}));
  pilot.for_hire = true;
  EXPECT_EQ(asked(us(), pilot, {}), (Names{"flight_review", "passenger_recency", "medical"}));
  EXPECT_EQ(asked(eu(), pilot, {}), (Names{"recency", "commercial"}));
  pilot.training_given = true;
  EXPECT_EQ(asked(us(), pilot, {}), (Names{"flight_review", "passenger_recency"}));
  pilot.log.flights = {{day("2027-03-06"), 1.0 * hour, 1, 1, false}};
  EXPECT_EQ(asked(eu(), pilot, {}), (Names{"recency", "other_class", "commercial"}));
}

}  // namespace
}  // namespace pappus::book
