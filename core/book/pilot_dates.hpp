/// Whether the pilot is current: review, recent landings, medical, and the recent experience of European rules.
///
/// Every function is total: what is missing makes the answer not known, never current. A date after the day of the
/// flight is no experience; it is left out, and said to be. In each, 'the day' is that of the flight.
///
/// Days count like this: something done on day D counts on every day up to D + n days (n = 90: the ninetieth day after
/// still counts, the ninety-first doesn't; the day of the flight itself is none of the ninety). Months that aren't
/// calendar months count from day to day in the same way (core/book/calendar.hpp).
#pragma once
#include <optional>
#include <vector>

#include "core/base/instant.hpp"
#include "core/book/due.hpp"
#include "core/people/aboard.hpp"
#include "core/rules/rules.hpp"

namespace pappus::book {

/// Good to the end of the calendar month.
/// Laws      a later review is never due earlier.
/// Source    14 CFR 61.56.
[[nodiscard]] Due flight_review(const rules::FlightReview& rule, std::optional<Date> done, const Outlook& outlook);

/// Take-offs and landings to carry passengers, as sole handler of the controls, same category and class: `landings` has
/// one date for each. Each is taken to have had a take-off of its own, and that is noted. Fewer dates than the rule
/// asks for: not known, as a list of dates need not be all there is.
/// Laws      one landing more never makes the state worse or `until` earlier; the order of dates doesn't matter.
/// Source    14 CFR 61.57(a).
[[nodiscard]] Due passenger_recency(const rules::Passengers& rule, const std::vector<Date>& landings,
                                    const Outlook& outlook);

/// The same between one hour after sunset and one hour before sunrise; each landing to a full stop.
/// Laws      as above.
/// Source    14 CFR 61.57(b).
[[nodiscard]] Due night_recency(const rules::NightPassengers& rule, const std::vector<Date>& night_landings,
                                const Outlook& outlook);

/// Whether a landing falls into the period that counts as night for passengers, both ends included.
[[nodiscard]] bool is_night_landing(const rules::NightPassengers& rule, Instant landing, Instant sunset,
                                    Instant next_sunrise);

struct FlightPurpose {
  bool for_hire = false;
  bool flight_training = false;  // given by the pilot, for hire or not
};
/// The medical certificate, good through the day that stands on it or that its class allows. None where none is asked
/// for: not for hire, to give flight training, or before the rule came into force.
/// Source    14 CFR 61.3 and 61.23, as changed by 87 FR 71218.
[[nodiscard]] std::optional<Due> medical(const rules::Medical& rule, FlightPurpose purpose,
                                         std::optional<Date> valid_through, const Outlook& outlook);

using people::LoggedFlight;
using people::PilotLog;

/// (Hours and take-offs and landings in command, AND a training flight) OR a proficiency check.
/// Three answers: one way that holds is enough; passed only where both ways are known to have ended; else not known.
/// Laws      one flight more, or a later training flight or check, never makes the state worse.
/// Source    BFCL.160(a).
[[nodiscard]] Due recency(const rules::Recency& rule, const PilotLog& log, const Outlook& outlook);

/// Hours in command in another class: only flights with `in_class` count.
/// Source    BFCL.160(b).
[[nodiscard]] Due other_class_recency(const rules::OtherClass& rule, const PilotLog& log, const Outlook& outlook);

/// (Flights in command, some in the class, OR flights under supervision) AND (a check OR a refresher).
/// Source    BFCL.215(d).
[[nodiscard]] Due commercial_recency(const rules::Commercial& rule, const PilotLog& log, const Outlook& outlook);

/// Whether the balloon is in a group up to that of the last training flight or check. No date.
/// Source    BFCL.160, BFCL.150.
[[nodiscard]] Due training_group(const rules::Groups& groups, std::optional<Volume> trained,
                                 std::optional<Volume> flown);

/// What the pilot's dates are asked for.
struct FlightAsked {
  bool passengers = true;
  bool at_night = false;  // take-off or landing falls into the period that counts as night for passengers
  std::optional<Volume> envelope = std::nullopt;
};
/// What the pilot needs for this flight under one law: recent landings only with passengers, those at night only at night,
/// a medical certificate and commercial recency only for hire, recency in another class only where the log holds more
/// than one class.
[[nodiscard]] std::vector<Due> pilot_dates(const rules::Set& set, const people::Pilot& pilot, const FlightAsked& asked,
                                           const Outlook& outlook);

}  // namespace pappus::book
