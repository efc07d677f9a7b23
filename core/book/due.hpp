/// A date or a count of hours up to which something holds, and what to do about it.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/rules/rules.hpp"

namespace pappus::book {

enum class DueState {
  current,
  soon,       // current, but not for long; or over, within what the rule itself tolerates
  passed,     // not current on the day asked about
  not_known,  // something needed is not there: never taken as current
};

/// Whose date it is.
enum class Subject { pilot, balloon, cylinder };

struct Due {
  std::string what;            // stable key: "flight_review"
  std::optional<Date> until;   // the last day on which it holds, if nothing is added
  std::optional<Duration> at;  // the time in service up to which it holds, for what is counted in hours
  DueState state = DueState::not_known;
  std::string paragraph;
  bool sure = false;  // false: show 'check locally'
  Sentence finding;
  std::optional<Sentence> remedy;
  std::vector<Sentence> notes;
  Subject subject = Subject::pilot;
  std::string of;  // which one, where there are several: a cylinder's id
};

/// From the best to the worst: current, soon, not known, passed.
[[nodiscard]] bool is_worse(DueState a, DueState b);

/// Which day is asked about, and when an end is worth a word. Ours: 30 days, 10 hours.
struct Outlook {
  Date on;  // of the flight, not of the asking
  int soon_days = 30;
  Duration soon_hours = 10.0 * hour;
};

/// passed: `until` lies before the day; soon: within soon_days, the last one included.
/// Laws      a later `until` is never a worse state.
[[nodiscard]] DueState state_on(const Outlook& outlook, Date until);

/// For what a rule counts in time in service: passed when `hours` lie above `at`.
[[nodiscard]] DueState state_at(const Outlook& outlook, Duration hours, Duration at);

/// What holds through a date. Current needs no remedy; the others get `renew`.
[[nodiscard]] Due due_by_date(std::string what, const rules::Rule& rule, Date until, const Outlook& outlook,
                              Sentence renew);

/// What can't be told, why, and what would tell it.
[[nodiscard]] Due due_not_known(std::string what, const rules::Rule& rule, Sentence why, Sentence ask);

/// The Due of something done on one day and good for a while: not known without the day, or with one after the flight.
/// `good_through` turns the day into the last good one.
template <class GoodThrough>
[[nodiscard]] Due due_after(std::string what, const rules::Rule& rule, std::optional<Date> done, const Outlook& outlook,
                            GoodThrough&& good_through, Sentence ask, Sentence renew) {
  if (!done) return due_not_known(std::move(what), rule, say("book.no_date"), std::move(ask));
  if (*done > outlook.on)
    return due_not_known(std::move(what), rule, say("book.after_flight", {{"date", *done}}), std::move(ask));
  return due_by_date(std::move(what), rule, good_through(*done), outlook, std::move(renew));
}

}  // namespace pappus::book

namespace pappus {
template <>
struct Names<book::DueState> {
  static constexpr std::array<std::pair<book::DueState, std::string_view>, 4> all{
      {{book::DueState::current, "current"},
       {book::DueState::soon, "soon"},
       {book::DueState::passed, "passed"},
       {book::DueState::not_known, "not_known"}}};
};
template <>
struct Names<book::Subject> {
  static constexpr std::array<std::pair<book::Subject, std::string_view>, 3> all{
      {{book::Subject::pilot, "pilot"}, {book::Subject::balloon, "balloon"}, {book::Subject::cylinder, "cylinder"}}};
};
template <>
struct Description<book::Due> {
  static constexpr std::string_view name = "Due";
  static constexpr auto fields =
      Fields{field("what", &book::Due::what, "what has to be current"),
             field("until", &book::Due::until, "the last day on which it holds"),
             field("at", &book::Due::at, "the time in service up to which it holds"),
             field("state", &book::Due::state, "whether it is current on the day of the flight"),
             field("paragraph", &book::Due::paragraph, "the rule"),
             field("sure", &book::Due::sure, "false: check locally"),
             field("finding", &book::Due::finding, "what was found, in words"),
             field("remedy", &book::Due::remedy, "what would settle or cure it"),
             field("notes", &book::Due::notes, "how it was counted"),
             field("subject", &book::Due::subject, "whose date it is"),
             field("of", &book::Due::of, "which one, where there are several")};
};
}  // namespace pappus
