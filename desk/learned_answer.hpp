/// `pappus book learned`: what a balloon's own flights say of its heat loss and of its crown.
#pragma once
#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/book/flight_records.hpp"
#include "desk/book_answer.hpp"
#include "desk/book_events.hpp"
#include "desk/ports.hpp"
#include "desk/store.hpp"

namespace pappus::desk {

enum class LearnedOf { burn, crown };

/// A flight that was set aside for one figure.
struct LearnedOutlier {
  LearnedOf of = LearnedOf::burn;
  std::int64_t event = 0;  // its number
  Moment happened;
  double value = 0.0;  // over the model's, or in kelvins
};
struct LearnedFromBook {
  book::LearnedFigures figures;
  std::vector<LearnedOutlier> outliers;  // burn, then crown, each in the order of the flights
  book::FlightRecords records;
};
/// What counts of a history up to `now`: corrections have taken their places (cylinder_history). What was not
/// understood stays in `history.not_understood`, for whoever asks to tell. Dates are in `offset`.
/// Errors    those of book::learned_figures.
Result<LearnedFromBook> learned_from(const CylinderHistory& history, Instant now, UtcOffset offset);

// --- the answer

struct LearnedBurn {
  double ratio = 1.0, ratio_spread = 0.0, ratio_next = 0.0;
  int flights = 0;
  bool yours = false;
  Sentence words;
};
struct LearnedCrown {
  TemperatureDelta excess, excess_spread, excess_next;
  int flights = 0;
  bool yours = false;
  Sentence words;
};
struct SetAside {
  LearnedOf of = LearnedOf::burn;
  std::int64_t event = 0;
  Moment happened;
  Sentence words;  // what it showed, and what to look at
};
struct LearnedAnswer {
  std::string book, balloon, subject;
  LearnedBurn burn;
  LearnedCrown crown;
  std::vector<SetAside> outliers;
  std::vector<Issue> issues;  // what was not understood
  std::vector<Sentence> notes;
};
struct BookLearned {
  BookAsked asked;
};
/// Errors    of the files and the store; a book that is not there is one ("issue.book_not_there").
Parsed<LearnedAnswer> answer(const BookLearned& question, const Files& files, const Clock& clock, const Stores* stores);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Names<desk::LearnedOf> {
  static constexpr std::array<std::pair<desk::LearnedOf, std::string_view>, 2> all{
      {{desk::LearnedOf::burn, "burn"}, {desk::LearnedOf::crown, "crown"}}};
};
template <>
struct Description<desk::LearnedBurn> {
  using A = desk::LearnedBurn;
  static constexpr std::string_view name = "LearnedBurn";
  static constexpr auto fields =
      Fields{field("ratio", &A::ratio, "heat lost over what the model says"),
             field("ratio_spread", &A::ratio_spread, "one standard deviation of the balloon's own figure"),
             field("ratio_next", &A::ratio_next, "one standard deviation of what the next flight will show"),
             field("flights", &A::flights, "that count"),
             field("yours", &A::yours, "from three flights at least; else the guess still weighs most"),
             field("words", &A::words, "the same in words")};
};
template <>
struct Description<desk::LearnedCrown> {
  using A = desk::LearnedCrown;
  static constexpr std::string_view name = "LearnedCrown";
  static constexpr auto fields =
      Fields{field("excess", &A::excess, "hottest crown over the mean that the load needed"),
             field("excess_spread", &A::excess_spread, "one standard deviation of the balloon's own figure"),
             field("excess_next", &A::excess_next, "one standard deviation of what the next flight will show"),
             field("flights", &A::flights, "that count"),
             field("yours", &A::yours, "from three flights at least; else the guess still weighs most"),
             field("words", &A::words, "the same in words")};
};
template <>
struct Description<desk::SetAside> {
  using A = desk::SetAside;
  static constexpr std::string_view name = "SetAside";
  static constexpr auto fields = Fields{field("of", &A::of, "which figure"), field("event", &A::event, "in the book"),
                                        field("happened", &A::happened, "the flight's end"),
                                        field("words", &A::words, "what it showed, and what to look at")};
};
template <>
struct Description<desk::LearnedAnswer> {
  using A = desk::LearnedAnswer;
  static constexpr std::string_view name = "LearnedAnswer";
  static constexpr auto fields = Fields{field("book", &A::book, "the file"),
                                        field("balloon", &A::balloon, "its name"),
                                        field("subject", &A::subject, "the id of the balloon in it"),
                                        field("burn", &A::burn, "its own heat loss"),
                                        field("crown", &A::crown, "how much hotter its crown is"),
                                        field("outliers", &A::outliers, "flights far from all others, set aside"),
                                        field("issues", &A::issues, "what was not understood"),
                                        field("notes", &A::notes, "to be read with it")};
};
}  // namespace pappus
