/// What stands in the book of a balloon's cylinders: the body of an event and what it means, one as the other.
///
/// | kind         | keys of the body
/// |
/// |--------------|----------------------------------------------------------------------------------------------------| | `fill`       | `cylinder`; `coldest_k` and `warmest_k`, or `weighed_kg`, or all three                             |
/// | `flight`     | `aloft_s`; `open`, a list of `{cylinder}`, each maybe with `drawn_kg` and its relative `error`
/// | |              | `burnt_kg`, `burnt_error_kg`; `foretold_kg`, `foretold_loss_kg`, `foretold_error_kg`,
///  | |              | `mean_needed_k`, `mean_error_k`; `crown_k`, `crown_error_k`: each group whole or not at all
///    |
/// | `weighing`   | `cylinder`, `weighed_kg`
/// | | `level_test` | `cylinder`, `valve` (liquid, vapour), `coldest_k`, `warmest_k`, `tube_attitude`
///  |
///
/// An event names cylinders by the ids of the balloon file; its subject is the balloon (subject_of).
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/issue.hpp"
#include "core/book/cylinder_events.hpp"
#include "desk/store.hpp"

namespace pappus::desk {

using Happening = decltype(book::CylinderEvent::what);

/// The id under which a balloon's events are kept: its serial, or its name where it has none; cut to 64 bytes, and with
/// a blank for what no id may hold.
[[nodiscard]] std::string subject_of(const balloon::Balloon& balloon);

[[nodiscard]] std::string_view kind_of(const Happening& what);
/// One JSON object on one line, without what is not known.
[[nodiscard]] std::string body_of(const Happening& what);

/// Reads what body_of writes. Every key is checked: one too many, one too few, another sort of value, an amount that no
/// cylinder can have. The issue's key names the place in the body.
/// Domain    temperatures -40 to 50 C in order, masses above nothing and up to 1,000 kg, time aloft above nothing and
///           up to a day, burnt and foretold up to 10,000 kg, inside temperatures -40 to 250 C, a draw's error 0 to 1,
///           ids of 1 to 64 bytes, 1 to 64 cylinders open, none of them twice.
/// Laws      read_body(kind_of(w), body_of(w)) gives w back.
/// Errors    Errc::bad_input "issue.book_kind", "issue.book_syntax", "issue.book_missing", "issue.book_value",
///           "issue.book_key", "issue.book_amount".
Result<Happening> read_body(std::string_view kind, std::string_view body);

/// What counts of a balloon's events: those that nobody corrected, and the last correction of the others, whose place
/// they take.
struct CylinderHistory {
  std::vector<book::CylinderEvent> events;  // in the order of their numbers
  std::vector<Event> as_written;            // the same as the store gave them, with those that were not understood
  std::vector<Issue> not_understood;        // each under the key "event[NUMBER]..."
  std::vector<Instant> unknown;             // when what was not understood happened
};
/// Errors    of the store. A correction of what isn't there ("issue.book_correction") counts by itself and is told.
Result<CylinderHistory> cylinder_history(Store& store, const std::string& subject);

/// As book::remembered. What was not understood may have emptied any cylinder: where the last proof is not later, the
/// amount is open.
[[nodiscard]] book::CylinderMemory recalled(const CylinderHistory& history, std::string_view cylinder, Instant now);

}  // namespace pappus::desk
