/// Where the book is kept: events that are added and never changed, and people who can be forgotten.
///
/// An event carries ids, never a name. What was wrong is put right by a new event that says which one it corrects. Each
/// event's chain value is made of its own fields and of the one before it, so that a change anywhere is found.
#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"

namespace pappus::desk {

/// What is to be written down. `body` is one JSON object (UTF-8, at most 64 KiB); what stands in it is known to whoever
/// wrote it: desk/book_events.hpp. `subject` and `author` are ids of 1 to 64 bytes without control characters, `kind`
/// is a word of lower-case letters and underscores.
struct NewEvent {
  Instant happened;
  std::string author, kind, subject, body;
  std::optional<std::int64_t> corrects = std::nullopt;  // the number of the event that this one replaces
  friend bool operator==(const NewEvent&, const NewEvent&) = default;
};

struct Event {
  std::int64_t number = 0;  // from 1, without gaps
  Instant recorded;
  NewEvent what;
  std::string chain;  // SHA-256 in hexadecimal
  friend bool operator==(const Event&, const Event&) = default;
};

/// Which events are asked for; what is not given is any.
struct EventsWanted {
  std::optional<std::string> subject = std::nullopt;
  std::optional<std::string> kind = std::nullopt;
};

/// Someone an author id stands for. Kept apart, and can be forgotten without a trace in the events.
struct Person {
  std::string id, name, contact;
  friend bool operator==(const Person&, const Person&) = default;
};

/// What going through the whole chain showed.
struct ChainCheck {
  std::int64_t events = 0;                   // that are there
  std::optional<std::int64_t> first_broken;  // the first whose chain value, or number, does not follow
  std::string last;                          // the chain value of the last, to be written down elsewhere; or empty
};

class Store {
 public:
  virtual ~Store() = default;
  /// Adds one event. When this returns, it is on the disk and stays there whatever happens to the program or the
  /// machine's power; an Issue means that nothing was added.
  /// Errors    Errc::bad_input "issue.event_unusable" (a field outside its domain; argument `field`), Errc::not_found
  ///           "issue.event_not_there" (`corrects` names no event of the same subject), Errc::machine_failed
  ///           "issue.store_read_only", "issue.store_full", "issue.store_busy", "issue.store_failed" (argument
  ///           `detail`).
  virtual Result<Event> append(const NewEvent& event, Instant recorded) = 0;
  /// In the order of their numbers.
  virtual Result<std::vector<Event>> events(const EventsWanted& wanted) = 0;
  virtual Result<ChainCheck> verify() = 0;
  /// A whole copy at `path`, which is there completely or not at all.
  /// Errors    Errc::conflict "issue.store_conflict" where something is there; Errc::machine_failed as of append.
  virtual Result<void> backup(const std::string& path) = 0;

  /// Adds a person or replaces what is known of them. `id` as of an event; `name` of 1 to 256 bytes and `contact` of up
  /// to 1,024, without control characters.
  /// Errors    Errc::bad_input "issue.person_unusable" (argument `field`), Errc::machine_failed as of append.
  virtual Result<void> remember(const Person& person) = 0;
  /// In the order of their ids.
  virtual Result<std::vector<Person>> people() = 0;
  /// Errors    Errc::not_found "issue.person_not_there" for an id that nobody has, Errc::machine_failed as of append,
  ///           or "issue.store_not_wiped": forgotten, but the bytes could not be overwritten yet.
  virtual Result<void> forget(const std::string& id) = 0;
};

/// Opens books. A book is one file.
class Stores {
 public:
  virtual ~Stores() = default;
  enum class Open {
    existing,   // to read and to write
    create,     // the same, and made where there is none
    read_only,  // also from a place that can't be written to
  };
  /// Errors    Errc::not_found "issue.book_not_there" for `existing` and `read_only`; Errc::bad_input
  ///           "issue.book_not_one" (another kind of file), "issue.book_newer" (written by a later version);
  ///           Errc::machine_failed "issue.book_damaged" (its own integrity check failed; argument `detail`),
  ///           "issue.book_unsettled" (for `read_only`: what was written last can be read only where it can be put into
  ///           place, and this place can't be written to) and as of append.
  [[nodiscard]] virtual Result<std::unique_ptr<Store>> open(const std::string& path, Open how) const = 0;
};

}  // namespace pappus::desk
