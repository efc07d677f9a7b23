#include "desk/book_events.hpp"

#include <array>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/random.hpp"
#include "tests/support/memory_store.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::desk {
namespace {

using book::CylinderUse;
using book::FillEvent;
using book::FlightEvent;
using book::LevelTestEvent;
using book::WeighingEvent;

Instant hours(int h) { return Instant::from_unix_milliseconds(h * std::int64_t{3'600'000}); }

Happening random_happening(Random& random) {
  const auto id = [&] { return std::array<std::string, 4>{"1", "left \"A\"", "größe", "{[,"}[random.below(4)]; };
  const auto kg = [&] { return random.uniform(0.001, 1000.0) * kilogram; };
  const auto band = [&] {
    const Temperature low = celsius(random.uniform(-40.0, 40.0));
    return book::LiquidBand{low, low + random.uniform(0.0, 9.0) * kelvin};
  };
  switch (random.below(4)) {
    case 0: {
      FillEvent fill{.cylinder = id()};
      if (random.below(2) == 0) fill.weighed = kg();
      if (!fill.weighed || random.below(2) == 0) fill.liquid = band();
      return fill;
    }
    case 1: {
      FlightEvent flight{.aloft = random.uniform(1.0, 86400.0) * second, .open = {}};
      for (std::size_t i = 0, n = 1 + random.below(4); i < n; ++i) {
        CylinderUse use{.cylinder = std::to_string(i)};
        if (random.below(2) == 0) {
          use.drawn = random.uniform(0.0, 1000.0) * kilogram;
          use.error = random.uniform();
        }
        flight.open.push_back(use);
      }
      const auto error_k = [&] { return random.uniform(0.1, 30.0) * kelvin; };
      if (random.below(2) == 0) flight.burnt = book::BurntNoted{kg(), kg()};
      if (random.below(2) == 0) {
        const Mass fuel = random.uniform(1.0, 1000.0) * kilogram;
        flight.foretold =
            book::Foretold{fuel, random.uniform(0.1, 1.0) * fuel, kg(), celsius(random.uniform(0.0, 200.0)), error_k()};
      }
      if (random.below(2) == 0) flight.crown = book::CrownNoted{celsius(random.uniform(0.0, 200.0)), error_k()};
      return flight;
    }
    case 2: return WeighingEvent{id(), kg()};
    default:
      return LevelTestEvent{id(), random.below(2) == 0 ? propane::Valve::liquid : propane::Valve::vapour, band(),
                            random.below(2) == 0};
  }
}

TEST(BookEvents, WhatIsWrittenReadsBack) {
  Random random = testing::seeded("BookEvents.RoundTrip");
  for (int i = 0; i < 2000; ++i) {
    const Happening what = random_happening(random);
    const std::string body = body_of(what);
    const auto read = read_body(kind_of(what), body);
    ASSERT_TRUE(read) << body << " " << read.error().sentence.key << " " << read.error().where.key;
    EXPECT_TRUE(*read == what) << body;
    EXPECT_EQ(body.find('\n'), std::string::npos);
  }
}

TEST(BookEvents, TheBodyIsAsTheHeaderSays) {
  EXPECT_EQ(body_of(FillEvent{"1", book::LiquidBand{celsius(10), celsius(15)}}),
            R"({"cylinder":"1","coldest_k":283.15,"warmest_k":288.15})");
  EXPECT_EQ(body_of(FillEvent{"1", {}, 46.0 * kilogram}), R"({"cylinder":"1","weighed_kg":46})");
  EXPECT_EQ(body_of(FlightEvent{52.0 * minute, {{"1", 5.5 * kilogram, 0.25}, {"2"}}}),
            R"({"aloft_s":3120,"open":[{"cylinder":"1","drawn_kg":5.5,"error":0.25},{"cylinder":"2"}]})");
  FlightEvent learned{52.0 * minute, {{"2"}}};
  learned.burnt = book::BurntNoted{38.0 * kilogram, 0.5 * kilogram};
  learned.foretold = book::Foretold{36.0 * kilogram, 27.0 * kilogram, 2.0 * kilogram, celsius(80), 3.0 * kelvin};
  learned.crown = book::CrownNoted{celsius(100), 3.0 * kelvin};
  EXPECT_EQ(body_of(learned), R"({"aloft_s":3120,"open":[{"cylinder":"2"}],"burnt_kg":38,"burnt_error_kg":0.5,)"
                              R"("foretold_kg":36,"foretold_loss_kg":27,"foretold_error_kg":2,"mean_needed_k":353.15,)"
                              R"("mean_error_k":3,"crown_k":373.15,"crown_error_k":3})");
  EXPECT_EQ(body_of(LevelTestEvent{"1", propane::Valve::vapour, {celsius(4), celsius(4)}}),
            R"({"cylinder":"1","valve":"vapour","coldest_k":277.15,"warmest_k":277.15,"tube_attitude":true})");
}

TEST(BookEvents, EveryKeyIsChecked) {
  struct Wrong {
    const char *kind, *body, *issue, *place;
  };
  for (const Wrong& wrong : std::vector<Wrong>{
           {"emptied", "{}", "issue.book_kind", ""},
           {"fill", "", "issue.book_syntax", ""},
           {"fill", "[]", "issue.book_syntax", ""},
           {"fill", "{\"cylinder\": \"1\"", "issue.book_syntax", ""},
           {"weighing", R"({"cylinder": "1", "weighed_kg": 1e999})", "issue.book_syntax", ""},
           {"fill", R"({"cylinder": "1"})", "issue.book_missing", "coldest_k"},
           {"fill", R"({"cylinder": "1", "coldest_k": 283})", "issue.book_missing", "warmest_k"},
           {"fill", R"({"coldest_k": 283, "warmest_k": 283})", "issue.book_missing", "cylinder"},
           {"fill", R"({"cylinder": 1, "coldest_k": 283, "warmest_k": 283})", "issue.book_value", "cylinder"},
           {"fill", R"({"cylinder": "", "coldest_k": 283, "warmest_k": 283})", "issue.book_value", "cylinder"},
           {"fill", R"({"cylinder": "1", "coldest_k": 12, "warmest_k": 283})", "issue.book_amount", "coldest_k"},
           {"fill", R"({"cylinder": "1", "coldest_k": 290, "warmest_k": 283})", "issue.book_amount", "coldest_k"},
           {"fill", R"({"cylinder": "1", "coldest": 283, "warmest_k": 283})", "issue.book_key", "coldest"},
           {"weighing", R"({"cylinder": "1", "weighed_kg": "46kg"})", "issue.book_value", "weighed_kg"},
           {"weighing", R"({"cylinder": "1", "weighed_kg": 0})", "issue.book_amount", "weighed_kg"},
           {"weighing", R"({"cylinder": "1", "weighed_kg": 46, "by": "x"})", "issue.book_key", "by"},
           {"level_test",
            R"({"cylinder": "1", "valve": "wet", "coldest_k": 283, "warmest_k": 283, "tube_attitude": true})",
            "issue.book_value", "valve"},
           {"level_test",
            R"({"cylinder": "1", "valve": "liquid", "coldest_k": 283, "warmest_k": 283, "tube_attitude": 1})",
            "issue.book_value", "tube_attitude"},
           {"flight", R"({"aloft_s": 0, "open": [{"cylinder": "1"}]})", "issue.book_amount", "aloft_s"},
           {"flight", R"({"aloft_s": 60, "open": []})", "issue.book_value", "open"},
           {"flight", R"({"aloft_s": 60, "open": [3]})", "issue.book_value", "open[1]"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1"}, {"cylinder": "1"}]})", "issue.book_value",
            "open[2].cylinder"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1", "drawn_kg": 5}]})", "issue.book_missing",
            "open[1].error"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1", "error": 0.2}]})", "issue.book_missing",
            "open[1].drawn_kg"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1"}], "burnt_kg": 38})", "issue.book_missing",
            "burnt_error_kg"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1"}], "burnt_kg": 0, "burnt_error_kg": 1})",
            "issue.book_amount", "burnt_kg"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1"}], "mean_needed_k": 350})", "issue.book_missing",
            "foretold_kg"},
           {"flight",
            R"({"aloft_s": 60, "open": [{"cylinder": "1"}], "foretold_kg": 30, "foretold_loss_kg": 31,)"
            R"("foretold_error_kg": 1, "mean_needed_k": 350, "mean_error_k": 3})",
            "issue.book_amount", "foretold_loss_kg"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1"}], "crown_k": 96, "crown_error_k": 3})",
            "issue.book_amount", "crown_k"},
           {"flight", R"({"aloft_s": 60, "open": [{"cylinder": "1"}], "crown_error_k": 3})", "issue.book_missing",
            "crown_k"},
       }) {
    const auto read = read_body(wrong.kind, wrong.body);
    ASSERT_FALSE(read) << wrong.body;
    EXPECT_EQ(read.error().sentence.key, wrong.issue) << wrong.body;
    EXPECT_EQ(read.error().where.key, wrong.place) << wrong.body;
  }
  EXPECT_FALSE(read_body("fill", std::string(60'000, '[')));
  EXPECT_EQ(read_body("fill", R"({"cylinder": "1", "coldest": 283})").error().wanted, "coldest_k");
}

TEST(BookEvents, TheSubjectIsTheSerialOrTheName) {
  balloon::Balloon b;
  b.name = "Lantern";
  EXPECT_EQ(subject_of(b), "Lantern");
  b.serial = "K-17\t3";
  EXPECT_EQ(subject_of(b), "K-17 3");
  b.serial = std::string(63, 'x') + "ö";
  EXPECT_EQ(subject_of(b), std::string(63, 'x'));
}

class Pages {
 public:
  std::int64_t write(const Happening& what, int at_h, std::optional<std::int64_t> corrects = std::nullopt) {
    return write(std::string(kind_of(what)), body_of(what), at_h, corrects);
  }
  std::int64_t write(std::string kind, std::string body, int at_h,
                     std::optional<std::int64_t> corrects = std::nullopt) {
    return store.append({hours(at_h), "pilot", std::move(kind), "K-17", std::move(body), corrects}, hours(99))->number;
  }
  [[nodiscard]] CylinderHistory history() { return cylinder_history(store, "K-17").value(); }

  testing::MemoryBooks books{{"b", {}}};
  testing::MemoryStore store{books, "b", false};
};

FillEvent fill(double t_c) { return {"1", book::LiquidBand{celsius(t_c), celsius(t_c)}}; }
const FlightEvent kFlown{52.0 * minute, {{"1"}}};

TEST(BookEvents, ACorrectionTakesThePlaceOfWhatItCorrects) {
  Pages pages;
  const auto wrong = pages.write(fill(30), 1);
  pages.write(kFlown, 2);
  const auto better = pages.write(fill(12), 1, wrong);
  EXPECT_EQ(pages.history().events.size(), 2u);
  EXPECT_EQ(pages.history().events[0].number, 2);
  EXPECT_EQ(std::get<FillEvent>(pages.history().events[1].what), fill(12));
  // A correction corrected, and the first event corrected once more: the last word counts, once.
  pages.write(fill(13), 1, better);
  EXPECT_EQ(std::get<FillEvent>(pages.history().events[1].what), fill(13));
  pages.write(WeighingEvent{"1", 45.0 * kilogram}, 3, wrong);
  const CylinderHistory h = pages.history();
  ASSERT_EQ(h.events.size(), 2u);
  EXPECT_EQ(std::get<WeighingEvent>(h.events[1].what).weighed, 45.0 * kilogram);
  EXPECT_EQ(h.as_written.size(), 2u);
  EXPECT_TRUE(h.not_understood.empty());
  EXPECT_EQ(recalled(h, "1", hours(50)).proof, book::Proof::weighing);
}

TEST(BookEvents, WhatIsNotUnderstoodIsToldAndLeavesTheAmountOpen) {
  Pages pages;
  pages.write(fill(12), 1);
  const auto strange = pages.write("emptied", R"({"cylinder": "1"})", 2);
  const auto spoilt = pages.write("fill", R"({"cylinder": "1", "coldest_k": "cold"})", 2);
  CylinderHistory h = pages.history();
  ASSERT_EQ(h.not_understood.size(), 2u);
  EXPECT_EQ(h.not_understood[0].where.key, "event[2]");
  EXPECT_EQ(h.not_understood[0].sentence.key, "issue.book_kind");
  EXPECT_EQ(h.not_understood[1].where.key, "event[3].coldest_k");
  EXPECT_TRUE(recalled(h, "1", hours(50)).evidence.used_since);
  EXPECT_FALSE(recalled(h, "1", hours(1)).evidence.used_since);
  // A proof after it settles the matter; so do corrections.
  pages.write(WeighingEvent{"1", 45.0 * kilogram}, 3);
  EXPECT_FALSE(recalled(pages.history(), "1", hours(50)).evidence.used_since);
  pages.write(fill(10), 2, spoilt);
  pages.write(kFlown, 2, strange);
  h = pages.history();
  EXPECT_TRUE(h.not_understood.empty() && h.unknown.empty());
  EXPECT_EQ(h.events.size(), 4u);
}

TEST(BookEvents, ACorrectionThatIsNotUnderstoodHidesWhatItCorrects) {
  Pages pages;
  const auto wrong = pages.write(fill(12), 1);
  pages.write("fill", "{}", 1, wrong);
  const CylinderHistory h = pages.history();
  EXPECT_TRUE(h.events.empty());
  EXPECT_EQ(h.not_understood.size(), 1u);
  EXPECT_TRUE(recalled(h, "1", hours(50)).evidence.used_since);
}

TEST(BookEvents, ACorrectionOfWhatIsNotThereCountsAndIsTold) {
  Pages pages;
  pages.write(fill(12), 1);
  pages.books.at("b").events[0].what.corrects = 7;
  const CylinderHistory h = pages.history();
  EXPECT_EQ(h.events.size(), 1u);
  ASSERT_EQ(h.not_understood.size(), 1u);
  EXPECT_EQ(h.not_understood[0].sentence.key, "issue.book_correction");
}

TEST(BookEvents, AnotherBalloonsEventsAreNotRead) {
  Pages pages;
  pages.write(fill(12), 1);
  EXPECT_TRUE(cylinder_history(pages.store, "K-18")->events.empty());
}

}  // namespace
}  // namespace pappus::desk
