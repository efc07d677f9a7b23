#include "desk/book_answer.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "desk/cylinder_answer.hpp"
#include "formats/text/json/json_out.hpp"
#include "tests/support/memory_store.hpp"
#include "tests/support/shelf.hpp"

namespace pappus::desk {
namespace {

using testing::Shelf;
using testing::Still;

const std::string kBalloon = R"(name = "Least"
serial = "K-17"
[envelope]
volume = "2180m3"
mass = "90kg"
[basket]
mass = "60kg"
[[burner]]
mass = "18kg"
[[cylinder]]
id = "left"
shell = "72L"
level_fill = "57L"
tare = "20kg"
[[cylinder]]
id = "right"
shell = "72L"
level_fill = "57L"
tare = "20kg"
)";

Moment at(const char* text) { return parse_moment(text).value(); }
book::LiquidBand band(double low_c, double high_c) { return {celsius(low_c), celsius(high_c)}; }

// One morning's desk: a balloon file, a clock and books.
class Desk {
 public:
  Shelf files{{{"a/least.toml", kBalloon}, {"-", kBalloon}}};
  testing::MemoryStores stores;
  BookAsked asked{.balloon_file = "a/least.toml"};

  template <class Said>
  Parsed<BookWritten> write(Said said, const char* when = nullptr, std::optional<std::int64_t> corrects = {}) const {
    BookEntry entry{.asked = asked, .at = {}, .by = "pilot", .corrects = corrects, .said = std::move(said)};
    if (when != nullptr) entry.at = at(when);
    return answer(entry, files, Still{}, &stores);
  }
  [[nodiscard]] Parsed<BookShown> show(std::optional<Temperature> t = {}) const {
    return answer(BookShow{asked, t}, files, Still{}, &stores);
  }
  [[nodiscard]] Parsed<CylinderAnswer> cylinder(CylinderQuestion q = {}) const {
    q.balloon_file = "a/least.toml";
    if (!q.cylinder) q.cylinder = "left";
    return answer(q, files, Still{}, &stores);
  }
};

constexpr const char* kEvening = "2027-05-15T18:10:00-09:00";
constexpr const char* kFlight = "2027-05-15T20:00:00-09:00";
constexpr const char* kNight = "2027-05-15T22:00:00-09:00";
const SaidFill kFill{.cylinders = {"left"}, .liquid = band(12, 12), .weighed = {}};
const SaidFlight kFlown{.aloft = 52.0 * minute, .cylinders = {"left", "right"}, .drawn = {}, .temperature = {}};

bool has(const std::vector<Sentence>& all, std::string_view key) {
  return std::any_of(all.begin(), all.end(), [&](const Sentence& s) { return s.key == key; });
}
template <class T>
std::string first_issue(const Parsed<T>& parsed) {
  return parsed.value || parsed.issues.empty() ? std::string("none") : parsed.issues.front().sentence.key;
}

TEST(BookAnswer, TheBookStandsBesideTheBalloonFile) {
  EXPECT_EQ(default_book("a/lantern.toml"), "a/lantern.book");
  EXPECT_EQ(default_book("lantern"), "lantern.book");
  EXPECT_EQ(default_book(".toml"), ".toml.book");
}

TEST(BookAnswer, WritesOneEventForEachCylinderFilled) {
  const Desk desk;
  const auto written =
      desk.write(SaidFill{.cylinders = {"left", "right"}, .liquid = band(5, 15), .weighed = {}}, kEvening);
  ASSERT_TRUE(written.value);
  EXPECT_EQ(written.value->book, "a/least.book");
  EXPECT_EQ(written.value->subject, "K-17");
  ASSERT_EQ(written.value->entries.size(), 2u);
  EXPECT_EQ(written.value->entries[1].number, 2);
  EXPECT_EQ(written.value->entries[1].what.key, "book_event.fill_between");
  EXPECT_EQ(written.value->entries[1].chain.size(), 12u);
  const auto& events = desk.stores.books.at("a/least.book").events;
  ASSERT_EQ(events.size(), 2u);
  EXPECT_EQ(events[0].what.happened, at(kEvening).at);
  EXPECT_EQ(events[0].recorded, Still{}.now());
  EXPECT_EQ(events[0].what.author, "pilot");
  EXPECT_EQ(events[0].what.kind, "fill");
  EXPECT_EQ(events[0].chain.substr(0, 12), written.value->entries[0].chain);
}

TEST(BookAnswer, ReadingMakesNoBook) {
  const Desk desk;
  EXPECT_EQ(first_issue(desk.show()), "issue.book_not_there");
  EXPECT_FALSE(verify_book(desk.asked, &desk.stores));
  EXPECT_FALSE(back_up_book(desk.asked, "copy", &desk.stores));
  EXPECT_FALSE(answer(BookPeople{desk.asked, {}, {}}, &desk.stores));
  EXPECT_FALSE(answer(BookPeople{desk.asked, {}, "x"}, &desk.stores));
  EXPECT_TRUE(desk.cylinder().value);
  // Nor does a correction, nor what is refused.
  EXPECT_EQ(first_issue(desk.write(kFill, kEvening, 3)), "issue.book_not_there");
  EXPECT_EQ(first_issue(desk.write(SaidFill{{"lefd"}, band(5, 5), {}})), "issue.fuel_cylinder_unknown");
  EXPECT_EQ(desk.stores.created, 0);
  EXPECT_EQ(desk.show().issues.front().where.file, "a/least.book");
}

TEST(BookAnswer, ASlipIsRefusedBeforeAnythingIsWritten) {
  const Desk desk;
  const auto kg = [](double m) { return m * kilogram; };
  const std::vector<std::pair<Parsed<BookWritten>, std::string>> slips{
      {desk.write(SaidFill{{}, band(5, 5), {}}), "issue.option_missing"},
      {desk.write(SaidFill{{"left"}, {}, {}}), "issue.option_missing"},
      {desk.write(SaidFill{{"left", "left"}, band(5, 5), {}}), "issue.book_twice"},
      {desk.write(SaidFill{{"left"}, band(5, 90), {}}), "propane.temperature_outside"},
      {desk.write(SaidFill{{"left"}, {}, kg(12)}), "issue.book_weight"},
      {desk.write(SaidFill{{"left"}, {}, kg(80)}), "issue.book_weight"},
      {desk.write(SaidFill{{"left", "right"}, {}, kg(46)}), "issue.book_one_cylinder"},
      {desk.write(SaidWeighing{{"left", "right"}, kg(46)}), "issue.book_one_cylinder"},
      {desk.write(SaidWeighing{{"left"}, kg(19)}), "issue.book_weight"},
      {desk.write(SaidFlight{Duration{}, {"left"}, {}, {}}), "issue.book_aloft"},
      {desk.write(SaidFlight{52.0 * hour, {"left"}, {}, {}}), "issue.book_aloft"},
      {desk.write(SaidFlight{52.0 * minute, {}, {}, {}}), "issue.option_missing"},
      {desk.write(SaidFlight{52.0 * minute, {"left"}, 10.0 * litre, {}}), "issue.option_missing"},
      {desk.write(SaidFlight{52.0 * minute, {"left"}, {}, celsius(8)}), "issue.option_missing"},
      {desk.write(SaidFlight{52.0 * minute, {"left", "right"}, 10.0 * litre, celsius(8)}), "issue.book_one_cylinder"},
      {desk.write(SaidFlight{52.0 * minute, {"left"}, 100.0 * litre, celsius(8)}), "propane.liquid_outside"},
      {desk.write(SaidLevelTest{{"left"}, propane::Valve::liquid, celsius(-60), false}), "propane.temperature_outside"},
      {desk.write(kFill, "2027-05-16T05:00:00-09:00"), "issue.book_future"},
      {desk.write(SaidFill{{"left", "right"}, band(5, 5), {}}, kEvening, 1), "issue.book_one_cylinder"},
  };
  for (const auto& [said, key] : slips) EXPECT_EQ(first_issue(said), key);
  EXPECT_TRUE(desk.stores.books.empty());
  EXPECT_EQ(desk.write(SaidFill{{"lefd"}, band(5, 5), {}}).issues.front().wanted, "left");
}

TEST(BookAnswer, WhatStopsHalfwayIsTold) {
  const Desk desk;
  desk.stores.books["a/least.book"].room = 1;
  const auto half = desk.write(SaidFill{.cylinders = {"left", "right"}, .liquid = band(5, 5)}, kEvening);
  ASSERT_TRUE(half.value);
  EXPECT_EQ(half.value->entries.size(), 1u);
  EXPECT_TRUE(has(half.value->notes, "book_note.not_all"));
  ASSERT_EQ(half.issues.size(), 1u);
  EXPECT_EQ(half.issues[0].sentence.key, "issue.store_full");
  const auto none = desk.write(kFill, kEvening);
  EXPECT_FALSE(none.value);
  EXPECT_EQ(first_issue(none), "issue.store_full");
}

TEST(BookAnswer, WithoutAStoreItSaysSo) {
  const Desk desk;
  BookEntry entry{.asked = desk.asked, .at = {}, .by = "pilot", .corrects = {}, .said = kFill};
  EXPECT_EQ(first_issue(answer(entry, desk.files, Still{}, nullptr)), "issue.no_store");
  EXPECT_EQ(verify_book(desk.asked, nullptr).error().sentence.key, "issue.no_store");
  CylinderQuestion q{.balloon_file = "a/least.toml", .cylinder = "left"};
  const auto looked = answer(q, desk.files, Still{}, nullptr);
  ASSERT_TRUE(looked.value);
  EXPECT_TRUE(has(looked.value->notes, "remembered.not_looked"));
  q.book = "my.book";
  EXPECT_EQ(first_issue(answer(q, desk.files, Still{}, nullptr)), "issue.no_store");
}

TEST(BookAnswer, ShowsWhatIsRememberedOfEach) {
  const Desk desk;
  ASSERT_TRUE(desk.write(kFill, kEvening).value);
  auto shown = desk.show(celsius(10)).value.value();
  ASSERT_EQ(shown.cylinders.size(), 2u);
  EXPECT_EQ(shown.cylinders[0].state, Remembered::as_proven);
  EXPECT_EQ(shown.cylinders[0].proof, book::Proof::fill);
  EXPECT_EQ(shown.cylinders[0].since->at, at(kEvening).at);
  // 57 L at 12 C: 0.511 kg a litre, and the vapour above (from memory, within the valve's error).
  EXPECT_NEAR(shown.cylinders[0].mass_best.in(kilogram), 29.3, 0.5);
  EXPECT_EQ(shown.cylinders[1].state, Remembered::not_on_record);
  EXPECT_FALSE(shown.cylinders[1].proof || shown.cylinders[1].since);

  const auto flown = desk.write(kFlown, kFlight);
  ASSERT_TRUE(flown.value);
  EXPECT_TRUE(has(flown.value->notes, "book_note.amount_open"));
  shown = desk.show().value.value();
  EXPECT_EQ(shown.cylinders[0].state, Remembered::used_not_refilled);
  EXPECT_EQ(shown.cylinders[0].flights, 1);
  EXPECT_LT(shown.cylinders[0].mass_low.in(kilogram), 2.0);
  EXPECT_EQ(shown.cylinders[1].state, Remembered::used_not_refilled);
  EXPECT_TRUE(has(shown.notes, "book_note.no_temperature"));

  ASSERT_TRUE(desk.write(SaidLevelTest{{"left"}, propane::Valve::vapour, celsius(8), false}, kNight).value);
  EXPECT_EQ(desk.show().value->cylinders[0].state, Remembered::not_known);
  ASSERT_TRUE(desk.write(SaidWeighing{{"left"}, 41.2 * kilogram}, kNight).value);
  shown = desk.show().value.value();
  EXPECT_EQ(shown.cylinders[0].state, Remembered::as_proven);
  EXPECT_EQ(shown.cylinders[0].proof, book::Proof::weighing);
  EXPECT_NEAR(shown.cylinders[0].mass_best.in(kilogram), 21.2, 1e-9);
  // Newest first.
  ASSERT_EQ(shown.events.size(), 4u);
  EXPECT_EQ(shown.events[0].number, 4);
  EXPECT_EQ(shown.events[3].kind, "fill");
}

TEST(BookAnswer, ANotedDrawCountsWithTheErrorOfAVolume) {
  const Desk desk;
  ASSERT_TRUE(desk.write(SaidFill{{"left"}, {}, 49.0 * kilogram}, kEvening).value);
  const auto flown = desk.write(SaidFlight{52.0 * minute, {"left"}, 20.0 * litre, celsius(10)}, kFlight);
  ASSERT_TRUE(flown.value);
  EXPECT_FALSE(has(flown.value->notes, "book_note.amount_open"));
  const auto shown = desk.show().value.value();
  EXPECT_EQ(shown.cylinders[0].state, Remembered::drawn);
  // 20 L of liquid at 10 C weigh 10.3 kg (0.5148 kg a litre: NIST, from memory), 5 per cent off at most.
  EXPECT_NEAR(shown.cylinders[0].mass_best.in(kilogram), 29.0 - 10.3, 0.1);
  EXPECT_NEAR((shown.cylinders[0].mass_high - shown.cylinders[0].mass_low).in(kilogram), 2 * (0.3 + 0.515), 0.1);
}

TEST(BookAnswer, ACorrectionTakesItsPlace) {
  const Desk desk;
  ASSERT_TRUE(desk.write(SaidWeighing{{"left"}, 46.0 * kilogram}, kEvening).value);
  const auto corrected = desk.write(SaidWeighing{{"left"}, 41.0 * kilogram}, kEvening, 1);
  ASSERT_TRUE(corrected.value);
  EXPECT_EQ(corrected.value->entries[0].corrects, 1);
  const auto shown = desk.show().value.value();
  EXPECT_NEAR(shown.cylinders[0].mass_best.in(kilogram), 21.0, 1e-9);
  EXPECT_EQ(shown.events.size(), 1u);
  EXPECT_EQ(first_issue(desk.write(kFill, kEvening, 9)), "issue.event_not_there");
}

TEST(BookAnswer, TellsWhatItDoesNotUnderstandAndWhomItDoesNotKnow) {
  Desk desk;
  ASSERT_TRUE(desk.write(kFill, kEvening).value);
  ASSERT_TRUE(desk.write(kFlown, kFlight).value);
  const auto store = desk.stores.open("a/least.book", Stores::Open::existing).value();
  ASSERT_TRUE(store->append({at(kNight).at, "pilot", "emptied", "K-17", "{}"}, Still{}.now()));
  std::string& balloon = desk.files.texts["a/least.toml"];
  balloon.replace(balloon.find("\"right\""), 7, "\"third\"");
  const auto shown = desk.show();
  ASSERT_TRUE(shown.value);
  ASSERT_EQ(shown.issues.size(), 1u);
  EXPECT_EQ(shown.issues[0].where.key, "event[3]");
  EXPECT_EQ(shown.issues[0].where.file, "a/least.book");
  EXPECT_EQ(shown.value->events[0].what.key, "book_event.not_understood");
  EXPECT_TRUE(has(shown.value->notes, "book_note.strange"));
  EXPECT_EQ(shown.value->cylinders[1].state, Remembered::not_known);
}

TEST(BookAnswer, WhatIsStillToComeDoesNotCount) {
  Desk desk;
  ASSERT_TRUE(desk.write(kFill, kEvening).value);
  desk.asked.now = at("2027-05-15T12:00:00-09:00");
  const auto shown = desk.show().value.value();
  EXPECT_EQ(shown.cylinders[0].state, Remembered::not_on_record);
  EXPECT_TRUE(has(shown.notes, "book_note.later"));
}

TEST(BookAnswer, ABrokenChainIsToldAndNotCopied) {
  const Desk desk;
  ASSERT_TRUE(desk.write(kFill, kEvening).value);
  ASSERT_TRUE(desk.write(kFlown, kFlight).value);
  auto check = verify_book(desk.asked, &desk.stores).value();
  EXPECT_TRUE(check.whole);
  EXPECT_EQ(check.events, 2);
  const auto copy = back_up_book(desk.asked, "copy.book", &desk.stores).value();
  EXPECT_EQ(copy.events, 2);
  EXPECT_EQ(copy.last, check.last);
  EXPECT_EQ(desk.stores.books.at("copy.book").events, desk.stores.books.at("a/least.book").events);
  EXPECT_EQ(back_up_book(desk.asked, "copy.book", &desk.stores).error().code, Errc::conflict);
  desk.stores.books.at("a/least.book").events[0].what.body[1] = ' ';
  check = verify_book(desk.asked, &desk.stores).value();
  EXPECT_FALSE(check.whole);
  EXPECT_EQ(check.first_broken, 1);
  EXPECT_EQ(check.words.key, "book_note.broken");
  EXPECT_EQ(back_up_book(desk.asked, "other.book", &desk.stores).error().sentence.key, "issue.book_broken");
}

TEST(BookAnswer, PeopleAreKnownAndForgotten) {
  const Desk desk;
  const auto known = answer(BookPeople{desk.asked, Person{"p1", "A. Nobody", ""}, {}}, &desk.stores).value();
  ASSERT_EQ(known.people.size(), 1u);
  EXPECT_TRUE(has(known.notes, "book_note.person"));
  EXPECT_EQ(answer(BookPeople{desk.asked, {}, {}}, &desk.stores)->people.front().name, "A. Nobody");
  EXPECT_EQ(answer(BookPeople{desk.asked, {}, "p2"}, &desk.stores).error().code, Errc::not_found);
  EXPECT_TRUE(answer(BookPeople{desk.asked, {}, "p1"}, &desk.stores)->people.empty());
}

// --- the cylinder that is asked about

TEST(BookAnswer, TheCylinderRemembersItsFill) {
  const Desk desk;
  const auto bare = desk.cylinder();
  ASSERT_TRUE(bare.value);
  EXPECT_TRUE(has(bare.value->notes, "remembered.no_book"));
  EXPECT_FALSE(bare.value->book);
  ASSERT_TRUE(desk.write(kFill, kEvening).value);
  const auto filled = desk.cylinder();
  ASSERT_TRUE(filled.value);
  EXPECT_EQ(filled.value->book, "a/least.book");
  EXPECT_TRUE(has(filled.value->notes, "remembered.fill"));
  EXPECT_TRUE(has(filled.value->reasons, "account.filled_at"));
  EXPECT_LT(filled.value->mass_high - filled.value->mass_low, bare.value->mass_high - bare.value->mass_low);
  const auto without = desk.cylinder({.no_book = true});
  EXPECT_EQ(without.value->mass_high, bare.value->mass_high);
  EXPECT_FALSE(has(without.value->notes, "remembered.fill"));
  EXPECT_EQ(first_issue(desk.cylinder({.book = "other.book"})), "issue.book_not_there");
  EXPECT_EQ(first_issue(desk.cylinder({.book = "a/least.book", .no_book = true})), "issue.option_missing");
}

TEST(BookAnswer, WhatTheCallSaysIsLaterThanTheBook) {
  const Desk desk;
  ASSERT_TRUE(desk.write(SaidFill{{"left"}, {}, 49.0 * kilogram}, kEvening).value);
  // A draw adds.
  auto drawn = desk.cylinder({.drawn = {20.0 * litre}, .temperature = celsius(10)});
  ASSERT_TRUE(drawn.value);
  EXPECT_NEAR(drawn.value->mass_best.in(kilogram), 29.0 - 10.3, 0.1);
  // A flight leaves it open.
  EXPECT_LT(desk.cylinder({.flown_since = 52.0 * minute}).value->mass_low.in(kilogram), 2.0);
  ASSERT_TRUE(desk.write(kFlown, kFlight).value);
  const auto used = desk.cylinder();
  EXPECT_TRUE(has(used.value->notes, "remembered.flown"));
  EXPECT_TRUE(has(used.value->reasons, "account.used"));
  EXPECT_LT(used.value->mass_low.in(kilogram), 2.0);
  // A fill in the call takes the place of all of it.
  const auto filled = desk.cylinder({.filled = propane::Filled{celsius(8), celsius(8)}});
  EXPECT_TRUE(has(filled.value->notes, "remembered.call_fill"));
  EXPECT_FALSE(has(filled.value->reasons, "account.used"));
  EXPECT_GT(filled.value->mass_low.in(kilogram), 27.0);
  // A weight now says what it is, whatever is remembered.
  EXPECT_NEAR(desk.cylinder({.weighed = 41.0 * kilogram}).value->mass_best.in(kilogram), 21.0, 1e-9);
}

TEST(BookAnswer, SaysWhatAFlightLeftOfTheMemory) {
  const auto words = [](book::CylinderMemory m) {
    m.flights_since = 1;
    return memory_words(m, UtcOffset{}).back().key;
  };
  book::CylinderMemory m;
  m.used_not_refilled = true;
  EXPECT_EQ(words(m), "remembered.flown_baseless");
  m.proof = book::Proof::fill;
  m.last_proof = Instant{};
  EXPECT_EQ(words(m), "remembered.flown_noted");
  m.evidence.used_since = true;
  EXPECT_EQ(words(m), "remembered.flown");
  m.used_not_refilled = false;
  EXPECT_EQ(words(m), "remembered.flown_tested");
  EXPECT_EQ(memory_words(m, UtcOffset{}).back().key, "remembered.not_known");
}

TEST(BookAnswer, EveryAnswerIsJson) {
  const Desk desk;
  const words::Reader reader;
  const auto written = desk.write(kFill, kEvening);
  ASSERT_TRUE(written.value);
  EXPECT_NE(json::to_json(*written.value, reader).find("\"number\": 1"), std::string::npos);
  const std::string shown = json::to_json(desk.show().value.value(), reader);
  for (const char* key : {"\"mass_low_kg\"", "\"liquid_volume_best_m3\"", "\"flown_s\"", "\"state\": \"as_proven\""})
    EXPECT_NE(shown.find(key), std::string::npos) << key;
  EXPECT_EQ(shown.find('<'), std::string::npos) << shown;  // a key without its text
  EXPECT_NE(json::to_json(verify_book(desk.asked, &desk.stores).value(), reader).find("\"first_broken\": null"),
            std::string::npos);
  EXPECT_FALSE(json::json_schema_of<BookShown>().empty());
}

}  // namespace
}  // namespace pappus::desk
