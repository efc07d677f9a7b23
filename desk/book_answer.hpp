/// `pappus book`: what happens to a balloon's cylinders is written down, and what is remembered of them.
///
/// A verb has one answer; this one has an answer for each thing that can be done with a book, as `pappus lift` has two.
/// Reading never makes a book; writing does.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/book/cylinder_events.hpp"
#include "core/propane/account.hpp"
#include "desk/ports.hpp"
#include "desk/store.hpp"

namespace pappus::desk {

/// The book of a balloon file where no other is named: beside it, "lantern.book" for "lantern.toml".
[[nodiscard]] std::string default_book(std::string_view balloon_file);

/// Which book, and the present.
struct BookAsked {
  std::string balloon_file;
  std::optional<std::string> book = std::nullopt;  // absent: default_book(balloon_file)
  std::optional<Moment> now = std::nullopt;        // absent: the clock
};

/// The balloon of its file; what is wrong with that file is told in `issues`.
[[nodiscard]] std::optional<balloon::Balloon> balloon_of(const BookAsked& asked, const Files& files,
                                                         std::vector<Issue>& issues);

/// Opens it. Errors: Errc::machine_failed "issue.no_store" without stores, those of Stores::open; the issue names the
/// file.
Result<std::unique_ptr<Store>> open_book(const BookAsked& asked, Stores::Open how, const Stores* stores);

// --- what is said to have happened

/// Filled to the level valve with the liquid in this band, or by weight: one of the two at least.
struct SaidFill {
  std::vector<std::string> cylinders;
  std::optional<book::LiquidBand> liquid = std::nullopt;
  std::optional<Mass> weighed = std::nullopt;
};
/// `drawn` with one cylinder only. Volumes come with the temperature of the liquid: without it they are no mass.
struct SaidFlight {
  Duration aloft;
  std::vector<std::string> cylinders;  // open in the flight
  std::optional<Volume> drawn = std::nullopt;
  std::optional<Temperature> temperature = std::nullopt;
  std::optional<std::variant<Mass, Volume>> burnt =
      std::nullopt;                                            // in all, with inflation: weighed, or what a refill took
  std::optional<std::string> as = std::nullopt;                // the flight file it was flown by
  std::optional<Temperature> crown = std::nullopt;             // the hottest seen
  std::optional<TemperatureDelta> crown_error = std::nullopt;  // absent: book::RecordErrors::crown
};
struct SaidWeighing {
  std::vector<std::string> cylinders;  // one
  Mass weighed;
};
struct SaidLevelTest {
  std::vector<std::string> cylinders;
  propane::Valve valve;
  Temperature temperature;
  bool other_attitude = false;
};
struct BookEntry {
  BookAsked asked;
  std::optional<Moment> at = std::nullopt;  // when it happened; a flight: when it ended; absent: now
  std::string by = "pilot";                 // an author's id
  std::optional<std::int64_t> corrects = std::nullopt;
  std::variant<SaidFill, SaidFlight, SaidWeighing, SaidLevelTest> said;
};

/// One event as it was written.
struct EntryLine {
  std::int64_t number = 0;
  Moment happened;
  std::string by, kind;
  Sentence what;
  std::optional<std::int64_t> corrects;
  std::string chain;  // its first 12 digits
};
struct BookWritten {
  std::string book, subject;
  std::vector<EntryLine> entries;
  std::vector<Sentence> notes;
};
/// Everything is checked before the first event is written: cylinders against the balloon file, amounts against what
/// such a cylinder can hold, the time against the present. Events of several cylinders are written one by one: where
/// the machine fails between two, those before stand, and both are told.
/// With a flight file, what the model foretold for that flight is written down with it; warnings of that file are told
/// beside the answer.
/// Errors    Errc::bad_call what is missing or said twice ("issue.option_missing", "issue.book_one_cylinder",
///           "issue.book_twice"); Errc::not_found "issue.fuel_cylinder_unknown"; Errc::bad_input "issue.book_future",
///           "issue.book_weight", "issue.book_aloft", "issue.book_burnt", "issue.book_crown",
///           "issue.book_other_balloon" (the flight file's); those of foretold(), of account() for temperatures, of the
///           files and the store.
Parsed<BookWritten> answer(const BookEntry& entry, const Files& files, const Clock& clock, const Stores* stores);

// --- what is remembered

enum class Remembered {
  not_on_record,      // nothing was written of it that shows how much there is
  as_proven,          // nothing was drawn since the last proof
  drawn,              // all that was drawn since is on record
  used_not_refilled,  // open in a flight since, and nobody noted how much was drawn
  not_known,          // tested since without a word of the amount, or something was not understood
};
struct RememberedCylinder {
  std::string id;
  Remembered state = Remembered::not_on_record;
  Sentence words;
  std::optional<book::Proof> proof;
  std::optional<Moment> since;  // of the proof
  int flights = 0;              // since
  Duration flown;               // with it open since
  Mass mass_low, mass_best, mass_high;
  Volume liquid_volume_low, liquid_volume_best, liquid_volume_high;
  propane::NextTest next_test = propane::NextTest::none;
  std::vector<Sentence> contradictions;
};
struct BookShown {
  std::string book, balloon, subject;
  std::vector<RememberedCylinder> cylinders;
  std::vector<EntryLine> events;  // the last ten that count, newest first
  std::vector<Issue> issues;      // what was not understood
  std::vector<Sentence> notes;
};
/// `temperature` of the liquid now; without it the volumes are wide.
struct BookShow {
  BookAsked asked;
  std::optional<Temperature> temperature = std::nullopt;
};
Parsed<BookShown> answer(const BookShow& question, const Files& files, const Clock& clock, const Stores* stores);

/// What the history says of a cylinder, as a state.
[[nodiscard]] Remembered state_of(const book::CylinderMemory& memory);

// --- the book itself

struct BookVerified {
  std::string book;
  std::int64_t events = 0;
  bool whole = false;
  std::optional<std::int64_t> first_broken;
  std::string last;  // the chain's last link
  Sentence words;
};
Result<BookVerified> verify_book(const BookAsked& asked, const Stores* stores);

struct BookCopied {
  std::string book, copy;
  std::int64_t events = 0;
  std::string last;
};
Result<BookCopied> back_up_book(const BookAsked& asked, const std::string& to, const Stores* stores);

/// Whom ids stand for. Without `remember` and `forget` it only reads.
struct BookPeople {
  BookAsked asked;
  std::optional<Person> remember = std::nullopt;
  std::optional<std::string> forget = std::nullopt;  // an id
};
struct PeopleKnown {
  std::string book;
  std::vector<Person> people;
  std::vector<Sentence> notes;  // what was done
};
Result<PeopleKnown> answer(const BookPeople& question, const Stores* stores);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Names<desk::Remembered> {
  static constexpr std::array<std::pair<desk::Remembered, std::string_view>, 5> all{
      {{desk::Remembered::not_on_record, "not_on_record"},
       {desk::Remembered::as_proven, "as_proven"},
       {desk::Remembered::drawn, "drawn"},
       {desk::Remembered::used_not_refilled, "used_not_refilled"},
       {desk::Remembered::not_known, "not_known"}}};
};
template <>
struct Description<desk::EntryLine> {
  using A = desk::EntryLine;
  static constexpr std::string_view name = "EntryLine";
  static constexpr auto fields = Fields{field("number", &A::number, "in the book"),
                                        field("happened", &A::happened, "when; of a flight: its end"),
                                        field("by", &A::by, "the author's id"),
                                        field("kind", &A::kind, "fill, flight, weighing, level_test"),
                                        field("what", &A::what, "in words"),
                                        field("corrects", &A::corrects, "the event whose place it takes"),
                                        field("chain", &A::chain, "its link of the chain, the first 12 digits")};
};
template <>
struct Description<desk::BookWritten> {
  using A = desk::BookWritten;
  static constexpr std::string_view name = "BookWritten";
  static constexpr auto fields =
      Fields{field("book", &A::book, "the file"), field("subject", &A::subject, "the id of the balloon in it"),
             field("entries", &A::entries, "what was written"), field("notes", &A::notes, "to be read with it")};
};
template <>
struct Description<desk::RememberedCylinder> {
  using A = desk::RememberedCylinder;
  static constexpr std::string_view name = "RememberedCylinder";
  static constexpr auto fields =
      Fields{field("id", &A::id, "in the balloon file"),
             field("state", &A::state, "what the book says of it"),
             field("words", &A::words, "the same in words"),
             field("proof", &A::proof, "what the amount rests on; null: nothing"),
             field("since", &A::since, "when that was"),
             field("flights", &A::flights, "with it open since"),
             field("flown", &A::flown, "time aloft in these"),
             field("mass_low", &A::mass_low, "liquid and vapour, at least"),
             field("mass_best", &A::mass_best, "best estimate"),
             field("mass_high", &A::mass_high, "at most"),
             field("liquid_volume_low", &A::liquid_volume_low, "at the liquid's temperature now, at least"),
             field("liquid_volume_best", &A::liquid_volume_best, "best estimate"),
             field("liquid_volume_high", &A::liquid_volume_high, "at most"),
             field("next_test", &A::next_test, "the one test that narrows most"),
             field("contradictions", &A::contradictions, "what can't all be true")};
};
template <>
struct Description<desk::BookShown> {
  using A = desk::BookShown;
  static constexpr std::string_view name = "BookShown";
  static constexpr auto fields = Fields{field("book", &A::book, "the file"),
                                        field("balloon", &A::balloon, "its name"),
                                        field("subject", &A::subject, "the id of the balloon in it"),
                                        field("cylinders", &A::cylinders, "what is remembered of each"),
                                        field("events", &A::events, "the last that count, newest first"),
                                        field("issues", &A::issues, "what was not understood"),
                                        field("notes", &A::notes, "to be read with it")};
};
template <>
struct Description<desk::BookVerified> {
  using A = desk::BookVerified;
  static constexpr std::string_view name = "BookVerified";
  static constexpr auto fields =
      Fields{field("book", &A::book, "the file"),
             field("events", &A::events, "that are there"),
             field("whole", &A::whole, "every link follows from the one before"),
             field("first_broken", &A::first_broken, "the first event that doesn't; or null"),
             field("last", &A::last, "the last link, to be written down elsewhere"),
             field("words", &A::words, "the same in words")};
};
template <>
struct Description<desk::BookCopied> {
  using A = desk::BookCopied;
  static constexpr std::string_view name = "BookCopied";
  static constexpr auto fields =
      Fields{field("book", &A::book, "the file"), field("copy", &A::copy, "its copy"),
             field("events", &A::events, "in it"), field("last", &A::last, "the last link of the chain")};
};
template <>
struct Description<desk::Person> {
  using A = desk::Person;
  static constexpr std::string_view name = "Person";
  static constexpr auto fields =
      Fields{field("id", &A::id, "as it stands in events"), field("name", &A::name, "whom it stands for"),
             field("contact", &A::contact, "empty where none was given")};
};
template <>
struct Description<desk::PeopleKnown> {
  using A = desk::PeopleKnown;
  static constexpr std::string_view name = "PeopleKnown";
  static constexpr auto fields =
      Fields{field("book", &A::book, "the file"), field("people", &A::people, "whom ids stand for"),
             field("notes", &A::notes, "what was done")};
};
}  // namespace pappus
