#include "core/book/balloon_dates.hpp"

#include <gtest/gtest.h>

#include "core/book/pilot_dates.hpp"
#include "tests/core/book/book_rows.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::book {
namespace {

using rules::rules_of;
using rules::Which;
using testing::any_day;
using testing::day;
using testing::expect_due;
using testing::goodness;
using testing::read_table;
using testing::Row;
using testing::seeded;
using testing::words_of;

const rules::Set& us() { return rules_of(Which::us); }
const rules::Set& eu() { return rules_of(Which::eu); }

Due due_of(const Row& row) {
  const Outlook outlook{day(row.text("on"))};
  const std::string what = row.text("what"), done = row.text("done");
  if (what == "cylinder_test")
    return cylinder_test(*us().cylinder_test, balloon::Month{std::stoi(done.substr(0, 4)), std::stoi(done.substr(5))},
                         outlook);
  const Date date = day(done);
  if (what == "flight_review") return flight_review(*us().flight_review, date, outlook);
  if (what == "registration") return registration(*us().registration, date, outlook);
  if (what == "medical") return *medical(*us().medical, {.for_hire = true}, date, outlook);
  if (what == "annual") return annual(*us().annual, {{date}}, outlook);
  return inspection(*eu().inspection, {{date, true, 100.0 * hour}}, 150.0 * hour, outlook);
}

TEST(Dates, FollowTheTable) {
  for (const Row& row : read_table("dates.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    expect_due(row, due_of(row));
  }
}

TEST(HundredHours, FollowTheTable) {
  for (const Row& row : read_table("hundred_hours.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    std::vector<Inspection> inspections;
    for (std::string word : words_of(row.text("inspections"))) {
      const bool annual = word.front() == 'a';
      if (annual) word.erase(0, 1);
      inspections.push_back({day("2026-01-01").plus_days(30 * static_cast<std::int64_t>(inspections.size())), annual,
                             std::stod(word) * hour});
    }
    const Due due = hundred_hours(*us().hundred_hours, us().annual->counts_as_hundred_hours, inspections,
                                  row["at_landing_h"] * hour, Outlook{day("2027-01-01")});
    ASSERT_TRUE(due.at.has_value());
    EXPECT_NEAR(due.at->in(hour), row["due_h"], row["tolerance_h"]);
    EXPECT_EQ(name_of(due.state), row.text("state"));
    EXPECT_EQ(due.remedy.has_value(), due.state != DueState::current);
  }
}

TEST(HundredHours, AnAnnualDoesNotCountWhereTheRuleDoesNotSaySo) {
  const Due due = hundred_hours(*us().hundred_hours, false, {{day("2026-01-01"), true, 200.0 * hour}}, 250.0 * hour,
                                Outlook{day("2027-01-01")});
  EXPECT_EQ(due.state, DueState::not_known);
}

TEST(HundredHours, TellTheWayToTheInspectionFromMore) {
  const std::vector<Inspection> done{{day("2026-01-01"), false, 212.4 * hour}};
  const auto remedy = [&](double at_landing_h) {
    return hundred_hours(*us().hundred_hours, true, done, at_landing_h * hour, Outlook{day("2027-01-01")}).remedy->key;
  };
  EXPECT_EQ(remedy(318.0), "book.hundred_hours.on_the_way");
  EXPECT_EQ(remedy(323.0), "book.hundred_hours.renew");
}

TEST(HundredHours, AreNotKnownWhereTheHoursContradictEachOther) {
  const auto state = [&](const std::vector<Inspection>& inspections, std::optional<Duration> at_landing) {
    return hundred_hours(*us().hundred_hours, true, inspections, at_landing, Outlook{day("2027-01-01")}).state;
  };
  const Inspection one{day("2026-01-01"), false, 212.4 * hour}, less{day("2026-02-01"), false, 200.0 * hour};
  EXPECT_EQ(state({one, less}, 250.0 * hour), DueState::not_known);
  EXPECT_EQ(state({one}, 212.0 * hour), DueState::not_known);
  EXPECT_EQ(state({one}, std::nullopt), DueState::not_known);
  EXPECT_EQ(state({}, 250.0 * hour), DueState::not_known);
  EXPECT_EQ(state({{day("2026-01-01"), false, std::nullopt}}, 250.0 * hour), DueState::not_known);
  EXPECT_EQ(state({{day("2027-01-02"), false, 212.4 * hour}}, 250.0 * hour), DueState::not_known);
}

TEST(HundredHours, GetNoBetterWithHoursAndNeverExceedTheInterval) {
  Random random = seeded("HundredHours.NoBetter");
  for (int i = 0; i < 1000; ++i) {
    std::vector<Inspection> inspections;
    Duration at;
    Date date = any_day(random);
    for (std::uint64_t n = 1 + random.below(5); n > 0; --n) {
      at += random.uniform() * 130.0 * hour;
      inspections.push_back({date, random.below(2) == 0, at});
      date = date.plus_days(1 + static_cast<std::int64_t>(random.below(300)));
    }
    const Duration less = at + random.uniform() * 130.0 * hour, more = less + random.uniform() * 30.0 * hour;
    const Due one = hundred_hours(*us().hundred_hours, true, inspections, less, Outlook{date});
    const Due two = hundred_hours(*us().hundred_hours, true, inspections, more, Outlook{date});
    EXPECT_GE(goodness(one.state), goodness(two.state));
    EXPECT_LE(*one.at, at + us().hundred_hours->every);
    EXPECT_EQ(one.at, two.at);
  }
}

TEST(Annual, IgnoresInspectionsByHoursAndTakesTheLatest) {
  const Outlook outlook{day("2027-01-01")};
  EXPECT_EQ(annual(*us().annual, {{day("2026-05-01"), false}}, outlook).state, DueState::not_known);
  EXPECT_EQ(annual(*us().annual, {{day("2026-05-01")}, {day("2025-05-01")}}, outlook).until, day("2027-05-31"));
  EXPECT_EQ(annual(*us().annual, {{day("2026-05-01")}, {day("2027-05-01")}}, outlook).until, day("2027-05-31"));
  EXPECT_EQ(annual(*us().annual, {{day("2027-05-01")}}, outlook).finding.key, "book.after_flight");
}

TEST(Annual, DoneLaterIsDueNoEarlier) {
  Random random = seeded("Annual.DoneLater");
  for (int i = 0; i < 1000; ++i) {
    const Date done = any_day(random), later = done.plus_days(static_cast<std::int64_t>(random.below(60)));
    const Outlook outlook{later.plus_days(static_cast<std::int64_t>(random.below(500)))};
    EXPECT_LE(annual(*us().annual, {{done}}, outlook).until, annual(*us().annual, {{later}}, outlook).until);
    EXPECT_LE(registration(*us().registration, done, outlook).until,
              registration(*us().registration, later, outlook).until);
    EXPECT_LE(inspection(*eu().inspection, {{done}}, std::nullopt, outlook).until,
              inspection(*eu().inspection, {{later}}, std::nullopt, outlook).until);
  }
}

TEST(InspectionByDateAndHours, EndsWithWhicheverComesFirst) {  // R35
  const std::vector<Inspection> done{{day("2026-05-20"), true, 100.0 * hour}};
  const Outlook outlook{day("2027-01-01")};
  const auto at = [&](std::optional<Duration> hours) { return inspection(*eu().inspection, done, hours, outlook); };
  EXPECT_EQ(at(150.0 * hour).state, DueState::current);
  EXPECT_EQ(at(195.0 * hour).state, DueState::soon);
  EXPECT_EQ(at(210.0 * hour).state, DueState::soon);  // within the tolerance of 10 h
  EXPECT_EQ(at(210.0 * hour).notes.back().key, "book.inspection.tolerance");
  EXPECT_EQ(at(210.1 * hour).state, DueState::passed);
  EXPECT_EQ(at(std::nullopt).state, DueState::not_known);
  EXPECT_EQ(at(90.0 * hour).state, DueState::not_known);
  EXPECT_EQ(at(150.0 * hour).at, 200.0 * hour);
  EXPECT_EQ(inspection(*eu().inspection, {{day("2025-01-01")}}, std::nullopt, outlook).state, DueState::passed);
  EXPECT_FALSE(at(150.0 * hour).sure);
}

TEST(CylinderTest, IsReadFromTheMarkingOnly) {  // R44
  const Outlook outlook{day("2027-01-01")};
  EXPECT_EQ(cylinder_test(*us().cylinder_test, std::nullopt, outlook).state, DueState::not_known);
  EXPECT_EQ(cylinder_test(*us().cylinder_test, balloon::Month{2030, 13}, outlook).state, DueState::not_known);
  EXPECT_EQ(cylinder_test(*us().cylinder_test, balloon::Month{2026, 12}, outlook).state, DueState::passed);
  EXPECT_FALSE(cylinder_test(*us().cylinder_test, balloon::Month{2030, 3}, outlook).sure);
}

balloon::Balloon inspected() {
  balloon::Balloon b;
  b.envelope.inspection = day("2026-05-20");
  b.hours = 212.0 * hour;
  b.inspections = {{day("2026-08-01"), false, 150.0 * hour}};
  b.registration = day("2024-04-02");
  b.cylinders.resize(2);
  b.cylinders[0].id = "left";
  b.cylinders[0].test_due = balloon::Month{2026, 12};
  b.cylinders[1].id = "right";
  return b;
}

TEST(BalloonDates, TheInspectionBesideTheEnvelopeIsTakenWhereTheListHasNone) {
  balloon::Balloon b = inspected();
  EXPECT_EQ(inspections_of(b).size(), 2u);
  b.inspections.push_back({day("2026-05-20"), true, 120.0 * hour});
  EXPECT_EQ(inspections_of(b).size(), 2u);
  EXPECT_EQ(inspections_of(b).back().at, 120.0 * hour);
  b.envelope.inspection.reset();
  EXPECT_EQ(inspections_of(b).size(), 2u);
}

TEST(BalloonDates, TheInspectionByHoursIsAskedForHireOnly) {  // R4, R5, R7, R8
  const Outlook outlook{day("2027-01-01")};
  const auto dues = balloon_dates(us(), inspected(), false, 1.0 * hour, outlook);
  ASSERT_EQ(dues.size(), 2u);
  EXPECT_EQ(dues[0].what, "annual");
  EXPECT_EQ(dues[0].until, day("2027-05-31"));
  EXPECT_EQ(dues[0].notes.back().key, "book.records");
  EXPECT_EQ(dues[1].what, "registration");
  EXPECT_EQ(dues[1].until, day("2031-04-30"));
  const auto for_hire = balloon_dates(us(), inspected(), true, 1.0 * hour, outlook);
  ASSERT_EQ(for_hire.size(), 3u);
  EXPECT_EQ(for_hire[1].what, "hundred_hours");
  EXPECT_EQ(for_hire[1].at, 250.0 * hour);
  for (const Due& due : for_hire) EXPECT_EQ(due.subject, Subject::balloon);
}

TEST(BalloonDates, TheFlightItselfCountsAmongTheHours) {
  const Outlook outlook{day("2027-01-01")};
  balloon::Balloon b = inspected();
  b.hours = 249.5 * hour;
  EXPECT_EQ(balloon_dates(us(), b, true, 0.5 * hour, outlook)[1].state, DueState::soon);
  EXPECT_EQ(balloon_dates(us(), b, true, 0.6 * hour, outlook)[1].state, DueState::passed);
  b.hours.reset();
  EXPECT_EQ(balloon_dates(us(), b, true, 0.5 * hour, outlook)[1].state, DueState::not_known);
}

TEST(BalloonDates, EuropeanRulesAskForOneInspection) {  // R35
  const auto dues = balloon_dates(eu(), inspected(), true, 1.0 * hour, Outlook{day("2027-01-01")});
  ASSERT_EQ(dues.size(), 1u);
  EXPECT_EQ(dues[0].what, "inspection");
  EXPECT_EQ(dues[0].until, day("2027-08-01"));
  EXPECT_EQ(dues[0].at, 250.0 * hour);
}

TEST(BalloonDates, EachCylinderHasItsOwn) {  // R44
  const auto dues = cylinder_dates(*us().cylinder_test, inspected(), Outlook{day("2027-01-01")});
  ASSERT_EQ(dues.size(), 2u);
  EXPECT_EQ(dues[0].of, "left");
  EXPECT_EQ(dues[0].state, DueState::passed);
  EXPECT_EQ(dues[1].of, "right");
  EXPECT_EQ(dues[1].state, DueState::not_known);
}

TEST(DueStates, RankFromCurrentToPassed) {
  const std::vector<DueState> rising{DueState::current, DueState::soon, DueState::not_known, DueState::passed};
  for (std::size_t i = 0; i < rising.size(); ++i)
    for (std::size_t k = 0; k < rising.size(); ++k) EXPECT_EQ(is_worse(rising[i], rising[k]), i > k);
}

}  // namespace
}  // namespace pappus::book
