#include "core/people/aboard.hpp"

#include <gtest/gtest.h>

#include "tests/support/seeded.hpp"

namespace pappus::people {
namespace {

std::string any_text(Random& random) {
  return std::string(1 + random.below(5), static_cast<char>('a' + random.below(26)));
}

Pilot any_pilot(Random& random) {
  const auto day = [&] { return Date::from_days_since_1970(20000 + static_cast<std::int64_t>(random.below(1000))); };
  const auto maybe = [&] { return random.below(2) == 0; };
  Pilot p;
  if (maybe()) p.certificate = any_text(random);
  if (maybe()) p.review = day();
  if (maybe()) p.landings = {day(), day()};
  if (maybe()) p.night_landings = {day()};
  if (maybe()) p.medical_until = day();
  if (maybe()) p.for_hire = maybe();
  if (maybe()) p.training_given = maybe();
  if (maybe()) p.log.flights = {{day(), 1.0 * hour, 1, 1, maybe()}};
  if (maybe()) p.log.training_flight = day();
  if (maybe()) p.log.check = day();
  if (maybe()) p.log.supervised = {day()};
  if (maybe()) p.log.refresher = day();
  if (maybe()) p.trained_volume = random.uniform() * 5000.0 * cubic_metre;
  if (maybe()) p.locator = maybe() ? Locator::elt : Locator::plb;
  return p;
}

// Every key, so that one forgotten in the merge is seen.
void expect_same(const Pilot& a, const Pilot& b) {
  EXPECT_EQ(a.certificate, b.certificate);
  EXPECT_EQ(a.review, b.review);
  EXPECT_EQ(a.landings, b.landings);
  EXPECT_EQ(a.night_landings, b.night_landings);
  EXPECT_EQ(a.medical_until, b.medical_until);
  EXPECT_EQ(a.for_hire, b.for_hire);
  EXPECT_EQ(a.training_given, b.training_given);
  ASSERT_EQ(a.log.flights.size(), b.log.flights.size());
  for (std::size_t i = 0; i < a.log.flights.size(); ++i) {
    EXPECT_EQ(a.log.flights[i].date, b.log.flights[i].date);
    EXPECT_EQ(a.log.flights[i].in_class, b.log.flights[i].in_class);
  }
  EXPECT_EQ(a.log.training_flight, b.log.training_flight);
  EXPECT_EQ(a.log.check, b.log.check);
  EXPECT_EQ(a.log.supervised, b.log.supervised);
  EXPECT_EQ(a.log.refresher, b.log.refresher);
  EXPECT_EQ(a.trained_volume, b.trained_volume);
  EXPECT_EQ(a.locator, b.locator);
}

TEST(Pilot, FilledFromNothingOrFillingNothingIsUnchanged) {
  Random random = testing::seeded("Pilot.Filled");
  for (int i = 0; i < 300; ++i) {
    const Pilot own = any_pilot(random), usual = any_pilot(random);
    expect_same(filled_from(own, {}), own);
    expect_same(filled_from({}, usual), usual);
    const Pilot both = filled_from(own, usual);
    expect_same(filled_from(both, usual), both);
    if (own.review) {
      EXPECT_EQ(both.review, own.review);
    }
    if (!own.locator) {
      EXPECT_EQ(both.locator, usual.locator);
    }
  }
}

TEST(LoadedPerson, WeighsNoLessThanStatedAndAddsWhatItSays) {
  Random random = testing::seeded("LoadedPerson.Weighs");
  for (int i = 0; i < 300; ++i) {
    Person person;
    person.mass = (15.0 + 200.0 * random.uniform()) * kilogram;
    person.basis = random.below(2) == 0 ? MassBasis::stated : MassBasis::weighed;
    if (random.below(2) == 0) person.bags = random.uniform() * 20.0 * kilogram;
    const LoadedPerson l = loaded(person);
    EXPECT_GE(l.total(), person.mass);
    EXPECT_EQ(l.clothing_added, person.basis == MassBasis::stated);
    EXPECT_EQ(l.clothing, l.clothing_added ? kClothing : Mass{});
    EXPECT_EQ(l.bags, person.bags.value_or(kHandBaggage));
  }
}

}  // namespace
}  // namespace pappus::people
