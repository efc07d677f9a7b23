#include "core/book/pilot_dates.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>
#include <string>
#include <utility>

#include "core/base/measure.hpp"
#include "core/book/calendar.hpp"

namespace pappus::book {
namespace {

// Whole seconds add without rounding: ten flights of six minutes are an hour.
std::int64_t whole_seconds(Duration d) { return static_cast<std::int64_t>(std::round(d.in(second))); }

Measure count(int n) { return measure::count(n); }

// The dates up to the day, newest first.
std::vector<Date> newest_first(std::vector<Date> dates, Date day) {
  dates.erase(std::remove_if(dates.begin(), dates.end(), [day](Date d) { return d > day; }), dates.end());
  std::stable_sort(dates.begin(), dates.end(), std::greater<>{});
  return dates;
}

std::vector<LoggedFlight> newest_first(std::vector<LoggedFlight> flights, Date day) {
  const auto later = [day](const LoggedFlight& f) { return f.date > day; };
  flights.erase(std::remove_if(flights.begin(), flights.end(), later), flights.end());
  std::stable_sort(flights.begin(), flights.end(),
                   [](const LoggedFlight& a, const LoggedFlight& b) { return a.date > b.date; });
  return flights;
}

// The day of the flight that completes what is asked for, counted from the newest: when it drops out, so does the
// whole. None where the list does not have enough.
template <class Enough>
std::optional<Date> completed_on(const std::vector<LoggedFlight>& flights, Enough&& enough) {
  LoggedFlight sum{Date{}, Duration{}, 0, 0, true};
  for (const LoggedFlight& flight : flights) {
    sum.in_command += static_cast<double>(whole_seconds(flight.in_command)) * second;
    sum.take_offs += flight.take_offs;
    sum.landings += flight.landings;
    if (enough(sum)) return flight.date;
  }
  return std::nullopt;
}

std::optional<Date> months_on(std::optional<Date> date, int months) {
  if (!date) return std::nullopt;
  return months_after(*date, months);
}

std::optional<Date> up_to(std::optional<Date> date, Date day) { return date && *date <= day ? date : std::nullopt; }

// How far a way leads. `known`: every part of it is; else `until` is a day that it cannot outlast, or none.
struct Way {
  bool known = false;
  std::optional<Date> until;
};

Way single(std::optional<Date> until) { return {until.has_value(), until}; }

// Both are needed: the earlier end counts, and an end that is known bounds the whole.
Way both(const Way& a, const Way& b) {
  if (!a.until) return {false, b.until};
  if (!b.until) return {false, a.until};
  return {a.known && b.known, std::min(*a.until, *b.until)};
}

// One is enough: the later end of those known. Known not to outlast a day only where both are.
Way either(const Way& a, const Way& b, Date day) {
  const auto holds = [day](const Way& w) { return w.known && *w.until >= day; };
  if (holds(a) || holds(b)) {
    std::optional<Date> best;
    for (const Way& w : {a, b})
      if (w.known && (!best || *w.until > *best)) best = w.until;
    return {true, best};
  }
  if (!a.until || !b.until) return {};
  return {a.known && b.known, std::max(*a.until, *b.until)};
}

// A way that is not known in full may still be known to have ended.
Due due_of(std::string what, const rules::Rule& rule, const Way& way, const Outlook& outlook, Sentence ask,
           const Sentence& renew) {
  if (way.until && (way.known || *way.until < outlook.on))
    return due_by_date(std::move(what), rule, *way.until, outlook, renew);
  return due_not_known(std::move(what), rule, say("book.not_enough"), std::move(ask));
}

void note_later(Due& due, bool some) {
  if (some) due.notes.push_back(say("book.later_left_out"));
}

template <class Recent>
Due landings_due(std::string what, const Recent& rule, const std::vector<Date>& landings, const Outlook& outlook,
                 Sentence ask, Sentence renew) {
  const std::vector<Date> counted = newest_first(landings, outlook.on);
  const auto needed = static_cast<std::size_t>(std::max(rule.take_offs, rule.landings));
  Due due = counted.size() < needed
                ? due_not_known(std::move(what), rule.rule,
                                say("book.landings_known", {{"known", count(static_cast<int>(counted.size()))},
                                                            {"needed", count(rule.landings)}}),
                                std::move(ask))
                : due_by_date(std::move(what), rule.rule, counted[needed - 1].plus_days(rule.days), outlook,
                              std::move(renew));
  due.notes.push_back(say("book.take_off_each"));
  note_later(due, counted.size() < landings.size());
  return due;
}

}  // namespace

Due flight_review(const rules::FlightReview& rule, std::optional<Date> done, const Outlook& outlook) {
  return due_after(
      "flight_review", rule.rule, done, outlook,
      [&](Date d) { return end_of_calendar_months(d, rule.calendar_months); }, say("book.flight_review.ask"),
      say("book.flight_review.renew", {{"flight", measure::of(rule.flight)}, {"ground", measure::of(rule.ground)}}));
}

Due passenger_recency(const rules::Passengers& rule, const std::vector<Date>& landings, const Outlook& outlook) {
  return landings_due(
      "passenger_recency", rule, landings, outlook,
      say("book.passenger_recency.ask", {{"landings", count(rule.landings)}, {"days", count(rule.days)}}),
      say("book.passenger_recency.renew", {{"landings", count(rule.landings)}, {"days", count(rule.days)}}));
}

Due night_recency(const rules::NightPassengers& rule, const std::vector<Date>& night_landings, const Outlook& outlook) {
  return landings_due(
      "night_recency", rule, night_landings, outlook,
      say("book.night_recency.ask", {{"landings", count(rule.landings)}, {"days", count(rule.days)}}),
      say("book.night_recency.renew", {{"landings", count(rule.landings)}, {"days", count(rule.days)}}));
}

bool is_night_landing(const rules::NightPassengers& rule, Instant landing, Instant sunset, Instant next_sunrise) {
  return landing >= sunset + rule.after_sunset && landing <= next_sunrise - rule.before_sunrise;
}

std::optional<Due> medical(const rules::Medical& rule, FlightPurpose purpose, std::optional<Date> valid_through,
                           const Outlook& outlook) {
  if (!purpose.for_hire || purpose.flight_training || outlook.on < rule.since) return std::nullopt;
  Sentence ask = say("book.medical.ask", {{"class", count(rule.medical_class)}});
  if (!valid_through) return due_not_known("medical", rule.rule, say("book.no_date"), std::move(ask));
  return due_by_date("medical", rule.rule, *valid_through, outlook,
                     say("book.medical.renew", {{"class", count(rule.medical_class)}}));
}

Due recency(const rules::Recency& rule, const PilotLog& log, const Outlook& outlook) {
  const Date day = outlook.on;
  const std::vector<LoggedFlight> flights = newest_first(log.flights, day);
  const auto completed = completed_on(flights, [&](const LoggedFlight& sum) {
    return sum.in_command >= rule.in_command && sum.take_offs >= rule.take_offs && sum.landings >= rule.landings;
  });
  const Way flown = both(single(months_on(completed, rule.months)),
                         single(months_on(up_to(log.training_flight, day), rule.training_months)));
  const Way checked = single(months_on(up_to(log.check, day), rule.check_months));
  Due due = due_of("recency", rule.rule, either(flown, checked, day), outlook, say("book.recency.ask"),
                   say("book.recency.renew", {{"hours", measure::of(rule.in_command)},
                                              {"landings", count(rule.landings)},
                                              {"months", count(rule.months)},
                                              {"training", count(rule.training_months)}}));
  note_later(due, flights.size() < log.flights.size() || (log.training_flight && *log.training_flight > day) ||
                      (log.check && *log.check > day));
  return due;
}

Due other_class_recency(const rules::OtherClass& rule, const PilotLog& log, const Outlook& outlook) {
  std::vector<LoggedFlight> flights = newest_first(log.flights, outlook.on);
  const bool some_later = flights.size() < log.flights.size();
  flights.erase(std::remove_if(flights.begin(), flights.end(), [](const LoggedFlight& f) { return !f.in_class; }),
                flights.end());
  const auto completed =
      completed_on(flights, [&](const LoggedFlight& sum) { return sum.in_command >= rule.in_command; });
  Due due =
      due_of("other_class", rule.rule, single(months_on(completed, rule.months)), outlook, say("book.other_class.ask"),
             say("book.other_class.renew", {{"hours", measure::of(rule.in_command)}, {"months", count(rule.months)}}));
  note_later(due, some_later);
  return due;
}

Due commercial_recency(const rules::Commercial& rule, const PilotLog& log, const Outlook& outlook) {
  const Date day = outlook.on;
  const auto days_on = [&](std::optional<Date> d) {
    return d ? std::optional<Date>{d->plus_days(rule.days)} : std::nullopt;
  };
  const std::vector<LoggedFlight> flights = newest_first(log.flights, day);
  std::optional<Date> completed;
  for (int i = 0, in_class = 0; i < static_cast<int>(flights.size()) && !completed; ++i) {
    const LoggedFlight& flight = flights[static_cast<std::size_t>(i)];
    in_class += flight.in_class ? 1 : 0;
    if (i + 1 >= rule.flights && in_class >= rule.flights_in_class) completed = flight.date;
  }
  const std::vector<Date> supervised = newest_first(log.supervised, day);
  const auto needed = static_cast<std::size_t>(rule.supervised);
  const std::optional<Date> watched =
      supervised.size() >= needed ? std::optional<Date>{supervised[needed - 1]} : std::nullopt;
  const Way flown = either(single(days_on(completed)), single(days_on(watched)), day);
  const Way checked = either(single(months_on(up_to(log.check, day), rule.check_months)),
                             single(months_on(up_to(log.refresher, day), rule.check_months)), day);
  Due due =
      due_of("commercial", rule.rule, both(flown, checked), outlook, say("book.commercial.ask"),
             say("book.commercial.renew",
                 {{"flights", count(rule.flights)}, {"days", count(rule.days)}, {"months", count(rule.check_months)}}));
  note_later(due, flights.size() < log.flights.size() || supervised.size() < log.supervised.size() ||
                      (log.check && *log.check > day) || (log.refresher && *log.refresher > day));
  return due;
}

Due training_group(const rules::Groups& groups, std::optional<Volume> trained, std::optional<Volume> flown) {
  if (!trained || !flown)
    return due_not_known("training_group", groups.rule, say("book.training_group.not_known"),
                         say("book.training_group.ask"));
  const rules::Group trained_group = group_of(groups, *trained), flown_group = group_of(groups, *flown);
  const std::string flown_name{name_of(flown_group)};
  Due due;
  due.what = "training_group";
  due.paragraph = groups.rule.paragraph;
  due.sure = groups.rule.sure;
  due.state = flown_group <= trained_group ? DueState::current : DueState::passed;
  due.finding =
      say("book.training_group.found", {{"flown", flown_name}, {"trained", std::string(name_of(trained_group))}});
  if (due.state == DueState::passed) due.remedy = say("book.training_group.renew", {{"flown", flown_name}});
  return due;
}

std::vector<Due> pilot_dates(const rules::Set& set, const people::Pilot& pilot, const FlightAsked& asked,
                             const Outlook& outlook) {
  const FlightPurpose purpose{pilot.for_hire.value_or(false), pilot.training_given.value_or(false)};
  std::vector<Due> dates;
  if (set.flight_review) dates.push_back(flight_review(*set.flight_review, pilot.review, outlook));
  if (set.passengers && asked.passengers) dates.push_back(passenger_recency(*set.passengers, pilot.landings, outlook));
  if (set.night_passengers && asked.passengers && asked.at_night)
    dates.push_back(night_recency(*set.night_passengers, pilot.night_landings, outlook));
  if (set.medical)
    if (auto due = medical(*set.medical, purpose, pilot.medical_until, outlook)) dates.push_back(*std::move(due));
  if (set.recency) dates.push_back(recency(*set.recency, pilot.log, outlook));
  const auto& flights = pilot.log.flights;
  const bool other_class = std::any_of(flights.begin(), flights.end(), [](const auto& f) { return !f.in_class; });
  if (set.other_class && other_class) dates.push_back(other_class_recency(*set.other_class, pilot.log, outlook));
  if (set.commercial && purpose.for_hire) dates.push_back(commercial_recency(*set.commercial, pilot.log, outlook));
  if (set.groups && asked.envelope) dates.push_back(training_group(*set.groups, pilot.trained_volume, asked.envelope));
  for (Due& due : dates) due.subject = Subject::pilot;
  return dates;
}

}  // namespace pappus::book
