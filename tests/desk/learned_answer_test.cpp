#include "desk/learned_answer.hpp"

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include <gtest/gtest.h>

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
const std::string kFlightFile = R"(balloon = "least.toml"
as_of = 2027-05-15T04:50:00-09:00
time = 2027-05-15T05:10:00-09:00
planned = "45min"
[field]
name = "Meadow"
at = [38, -133]
elevation = "100m"
qnh = "1018hPa"
[highest]
above_field = "200m"
[[fuel]]
cylinder = "left"
liquid = "50L"
temperature = "8C"
seen = 2027-05-15T04:30:00-09:00
[[fuel]]
cylinder = "right"
liquid = "50L"
temperature = "8C"
seen = 2027-05-15T04:30:00-09:00
[[aboard]]
role = "pilot"
mass = "82kg"
[[aboard]]
role = "passenger"
mass = "75kg"
[[wind]]
by = "pibal"
seen = 2027-05-15T04:40:00-09:00
units = ["m agl", "deg true from", "kt", "C"]
rows = [[0, 100, 2, 6], [150, 215, 9, 8], [300, 240, 14, 7]]
)";

SaidFlight flown() { return {.aloft = 52.0 * minute, .cylinders = {"left", "right"}}; }

class Desk {
 public:
  Shelf files{{{"least.toml", kBalloon}, {"flight.toml", kFlightFile}}};
  testing::MemoryStores stores;
  BookAsked asked{.balloon_file = "least.toml"};

  Parsed<BookWritten> write(SaidFlight said, std::optional<std::int64_t> corrects = {}) const {
    return answer(BookEntry{.asked = asked, .at = {}, .by = "pilot", .corrects = corrects, .said = std::move(said)},
                  files, Still{}, &stores);
  }
  [[nodiscard]] Parsed<LearnedAnswer> learned() const { return answer(BookLearned{asked}, files, Still{}, &stores); }
  [[nodiscard]] book::FlightEvent event(std::size_t n) const {
    const auto& what = stores.books.at("least.book").events.at(n).what;
    return std::get<book::FlightEvent>(read_body(what.kind, what.body).value());
  }
};

bool has(const std::vector<Sentence>& all, std::string_view key) {
  return std::any_of(all.begin(), all.end(), [&](const Sentence& s) { return s.key == key; });
}
std::string first_issue(const Parsed<BookWritten>& parsed) {
  return parsed.value || parsed.issues.empty() ? std::string("none") : parsed.issues.front().sentence.key;
}

TEST(BookFlight, KeepsWhatWasMeasuredBesideWhatWasForetold) {
  const Desk desk;
  SaidFlight said = flown();
  said.burnt = 38.0 * kilogram;
  said.crown = celsius(96.0);
  said.as = "flight.toml";
  const auto written = desk.write(said);
  ASSERT_TRUE(written.value) << first_issue(written);
  EXPECT_EQ(written.value->entries.front().what.key, "book_event.flight_burnt");
  EXPECT_TRUE(has(written.value->notes, "book_note.burnt_and_foretold"));
  EXPECT_TRUE(has(written.value->notes, "book_note.crown_and_mean"));
  const book::FlightEvent event = desk.event(0);
  EXPECT_EQ(event.burnt->fuel, 38.0 * kilogram);
  EXPECT_NEAR(event.burnt->error.in(kilogram), 0.6, 1e-12);  // two cylinders, two weighings each
  EXPECT_EQ(event.crown->hottest, celsius(96.0));
  EXPECT_EQ(event.crown->error, 3.0 * kelvin);
  ASSERT_TRUE(event.foretold);
  EXPECT_GT(event.foretold->fuel, 10.0 * kilogram);
  EXPECT_LT(event.foretold->loss, event.foretold->fuel);
  EXPECT_GT(event.foretold->mean_needed, celsius(40.0));
}

TEST(BookFlight, TakesAVolumeAtItsTemperature) {
  const Desk desk;
  SaidFlight said = flown();
  said.burnt = 70.0 * litre;
  EXPECT_EQ(first_issue(desk.write(said)), "issue.option_missing");
  said.temperature = celsius(12.0);
  said.crown = celsius(90.0);
  said.crown_error = 5.0 * kelvin;
  const auto written = desk.write(said);
  ASSERT_TRUE(written.value) << first_issue(written);
  EXPECT_TRUE(has(written.value->notes, "book_note.not_foretold"));
  const book::FlightEvent event = desk.event(0);
  EXPECT_NEAR(event.burnt->fuel.in(kilogram), 70.0 * 0.511, 0.3);  // propane at 12 C: 511 kg/m3
  EXPECT_NEAR(event.burnt->error / event.burnt->fuel, 0.05, 1e-12);
  EXPECT_EQ(event.crown->error, 5.0 * kelvin);
  EXPECT_FALSE(event.foretold);
}

TEST(BookFlight, RefusesWhatCannotBeAndWritesNothing) {
  Desk desk;
  desk.files.texts["other.toml"] = kFlightFile;
  desk.files.texts["stranger.toml"] = kBalloon;
  auto& other = desk.files.texts["other.toml"];
  other.replace(other.find("least.toml"), 10, "stranger.toml");
  auto& stranger = desk.files.texts["stranger.toml"];
  stranger.replace(stranger.find("K-17"), 4, "K-18");
  desk.files.texts["highless.toml"] = kFlightFile;
  auto& highless = desk.files.texts["highless.toml"];
  highless.replace(highless.find("[highest]"), std::string("[highest]\nabove_field = \"200m\"\n").size(), "");
  const auto refused = [&](auto change) {
    SaidFlight said = flown();
    change(said);
    return first_issue(desk.write(said));
  };
  EXPECT_EQ(refused([](auto& s) { s.burnt = 0.0 * kilogram; }), "issue.book_burnt");
  EXPECT_EQ(refused([](auto& s) { s.burnt = 100.0 * kilogram; }), "issue.book_burnt");  // two of 72 L hold 83 kg
  EXPECT_EQ(refused([](auto& s) { s.crown = celsius(205.0); }), "issue.book_crown");
  EXPECT_EQ(refused([](auto& s) {
              s.crown = celsius(95.0);
              s.crown_error = TemperatureDelta{};
            }),
            "issue.book_crown");
  EXPECT_EQ(refused([](auto& s) { s.crown_error = 3.0 * kelvin; }), "issue.option_missing");
  EXPECT_EQ(refused([](auto& s) { s.as = "none.toml"; }), "issue.file_missing");
  EXPECT_EQ(refused([](auto& s) { s.as = "other.toml"; }), "issue.book_other_balloon");
  EXPECT_NE(refused([](auto& s) { s.as = "highless.toml"; }), "none");
  EXPECT_TRUE(desk.stores.books.empty());
}

// A flight that burnt `ratio` of the heat foretold.
void fly(const Desk& desk, double ratio, double crown_over_k) {
  SaidFlight said = flown();
  said.as = "flight.toml";
  ASSERT_TRUE(desk.write(said).value);
  const std::size_t last = desk.stores.books.at("least.book").events.size();
  const book::Foretold foretold = desk.event(last - 1).foretold.value();
  said.burnt = foretold.fuel + (ratio - 1.0) * foretold.loss;
  said.crown = foretold.mean_needed + crown_over_k * kelvin;
  ASSERT_TRUE(desk.write(said, static_cast<std::int64_t>(last)).value);  // as a correction, which takes its place
}

TEST(LearnedAnswer, IsNotYetYoursBeforeThreeFlights) {
  const Desk desk;
  fly(desk, 1.2, 14.0);
  fly(desk, 1.2, 14.0);
  const auto two = desk.learned();
  ASSERT_TRUE(two.value);
  EXPECT_EQ(two.value->burn.words.key, "learned.burn_not_yet");
  EXPECT_EQ(two.value->crown.words.key, "learned.crown_not_yet");
  EXPECT_FALSE(two.value->burn.yours);
  EXPECT_EQ(two.value->burn.flights, 2);
  EXPECT_TRUE(has(two.value->notes, "learned.how"));
  fly(desk, 1.2, 14.0);
  const auto three = desk.learned();
  ASSERT_TRUE(three.value);
  EXPECT_TRUE(three.value->burn.yours && three.value->crown.yours);
  EXPECT_EQ(three.value->burn.words.key, "learned.burn_yours");
  EXPECT_EQ(three.value->burn.flights, 3);
  EXPECT_GT(three.value->burn.ratio, 1.1);
  EXPECT_LT(three.value->burn.ratio, 1.2);
  EXPECT_LT(three.value->crown.excess, 18.0 * kelvin);
  EXPECT_LT(three.value->burn.ratio_spread, 0.25);
  EXPECT_FALSE(has(three.value->notes, "learned.how"));
}

TEST(LearnedAnswer, NamesOutliersByNumberAndDate) {
  const Desk desk;
  for (int i = 0; i < 6; ++i) fly(desk, 0.9, 12.0);
  fly(desk, 2.4, 75.0);
  const auto learned = desk.learned();
  ASSERT_TRUE(learned.value);
  ASSERT_EQ(learned.value->outliers.size(), 2u);
  for (const SetAside& one : learned.value->outliers) {
    EXPECT_EQ(one.event, 14);  // the correction of the seventh flight
    EXPECT_EQ(one.happened.at, Still{}.now());
  }
  EXPECT_EQ(learned.value->outliers[0].of, LearnedOf::burn);
  EXPECT_EQ(learned.value->outliers[0].words.key, "learned.burn_aside");
  EXPECT_EQ(learned.value->outliers[1].words.key, "learned.crown_aside");
  EXPECT_EQ(learned.value->burn.flights, 6);
}

TEST(LearnedAnswer, TellsWhatWasNotUnderstoodAndWhatWasNotCompared) {
  const Desk desk;
  fly(desk, 1.0, 20.0);
  SaidFlight bare = flown();
  bare.burnt = 30.0 * kilogram;
  ASSERT_TRUE(desk.write(bare).value);
  auto strange = desk.stores.books.at("least.book").events.back();
  strange.number += 1;
  strange.what.body = R"({"aloft_s": 60})";
  desk.stores.books.at("least.book").events.push_back(strange);
  const auto learned = desk.learned();
  ASSERT_TRUE(learned.value);
  ASSERT_EQ(learned.issues.size(), 1u);
  EXPECT_EQ(learned.issues.front().where.file, "least.book");
  EXPECT_EQ(learned.issues.front().where.key, "event[4].open");
  EXPECT_EQ(learned.value->issues.size(), 1u);
  EXPECT_TRUE(has(learned.value->notes, "learned.not_compared"));
  EXPECT_EQ(learned.value->burn.flights, 1);
}

TEST(LearnedAnswer, TakesABurnFromWeightsAndSaysSo) {
  const Desk desk;
  const auto weigh = [&](const char* id, double kg) {
    return answer(BookEntry{.asked = desk.asked, .at = {}, .said = SaidWeighing{{id}, kg * kilogram}}, desk.files,
                  Still{}, &desk.stores);
  };
  ASSERT_TRUE(weigh("left", 45.0).value && weigh("right", 45.0).value);
  SaidFlight said = flown();
  said.as = "flight.toml";
  ASSERT_TRUE(desk.write(said).value);
  EXPECT_EQ(desk.learned().value->burn.flights, 0);
  ASSERT_TRUE(weigh("left", 28.0).value && weigh("right", 28.0).value);
  const auto learned = desk.learned();
  EXPECT_EQ(learned.value->burn.flights, 1);
  EXPECT_TRUE(has(learned.value->notes, "learned.derived"));
}

TEST(LearnedAnswer, IsJsonAndNeedsABook) {
  const Desk desk;
  const auto without = desk.learned();
  ASSERT_FALSE(without.value);
  EXPECT_EQ(without.issues.front().sentence.key, "issue.book_not_there");
  for (int i = 0; i < 6; ++i) fly(desk, 0.9, 12.0);
  fly(desk, 2.4, 75.0);
  const std::string shown = json::to_json(desk.learned().value.value(), words::Reader{});
  for (const char* key : {"\"ratio\"", "\"excess_spread_k\"", "\"yours\": true", "\"of\": \"burn\"", "\"event\": 14"})
    EXPECT_NE(shown.find(key), std::string::npos) << key << shown;
  EXPECT_EQ(shown.find('<'), std::string::npos) << shown;  // a key without its text
  EXPECT_FALSE(json::json_schema_of<LearnedAnswer>().empty());
}

}  // namespace
}  // namespace pappus::desk
