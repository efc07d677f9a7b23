#include "core/book/balloon_dates.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "core/base/measure.hpp"
#include "core/book/calendar.hpp"

namespace pappus::book {
namespace {

std::vector<Inspection> oldest_first(std::vector<Inspection> inspections, Date day) {
  inspections.erase(
      std::remove_if(inspections.begin(), inspections.end(), [day](const Inspection& i) { return i.done > day; }),
      inspections.end());
  std::stable_sort(inspections.begin(), inspections.end(),
                   [](const Inspection& a, const Inspection& b) { return a.done < b.done; });
  return inspections;
}

// Of those done up to the day; where all lie after it, the first of them, so that it can be said.
std::optional<Date> last_done(const std::vector<Inspection>& inspections, Date day, bool annual_only) {
  std::optional<Date> last, after;
  for (const Inspection& i : inspections) {
    if (annual_only && !i.annual) continue;
    if (i.done > day)
      after = after ? std::min(*after, i.done) : i.done;
    else
      last = last ? std::max(*last, i.done) : i.done;
  }
  return last ? last : after;
}

// Time in service is kept and read in hours and tenths, never in days.
Measure in_hours(Duration d) { return measure::number(d.in(hour)); }

Sentence hours_found(DueState state, Duration at, Duration at_landing) {
  if (state == DueState::passed)
    return say("book.hours_over", {{"at", in_hours(at)}, {"over", in_hours(at_landing - at)}});
  return say("book.hours_left", {{"at", in_hours(at)}, {"left", in_hours(at - at_landing)}});
}

DueState worse(DueState a, DueState b) { return is_worse(a, b) ? a : b; }

}  // namespace

Due annual(const rules::Annual& rule, const std::vector<Inspection>& inspections, const Outlook& outlook) {
  return due_after(
      "annual", rule.rule, last_done(inspections, outlook.on, true), outlook,
      [&](Date d) { return end_of_calendar_months(d, rule.calendar_months); }, say("book.annual.ask"),
      say("book.annual.renew"));
}

Due hundred_hours(const rules::HundredHours& rule, bool annual_counts, const std::vector<Inspection>& inspections,
                  std::optional<Duration> at_landing, const Outlook& outlook) {
  std::optional<Duration> at, last;
  bool without_hours = false, falling = false;
  for (const Inspection& i : oldest_first(inspections, outlook.on)) {
    if (i.annual && !annual_counts) continue;
    if (!i.at) {
      without_hours = true;
      continue;
    }
    falling = falling || (last && *i.at < *last);
    last = i.at;
    at = (at ? std::min(*at, *i.at) : *i.at) + rule.every;
  }
  const auto not_known = [&](Sentence why) {
    return due_not_known("hundred_hours", rule.rule, std::move(why), say("book.hundred_hours.ask"));
  };
  if (!at || !at_landing) return not_known(say("book.no_hours"));
  if (falling || *last > *at_landing) return not_known(say("book.hours_fall"));
  Due due;
  due.what = "hundred_hours";
  due.at = at;
  due.state = state_at(outlook, *at_landing, *at);
  due.paragraph = rule.rule.paragraph;
  due.sure = rule.rule.sure;
  due.finding = hours_found(due.state, *at, *at_landing);
  if (due.state == DueState::passed && *at_landing - *at <= rule.excess)
    due.remedy = say("book.hundred_hours.on_the_way", {{"excess", measure::of(rule.excess)}});
  else if (due.state != DueState::current)
    due.remedy = say("book.hundred_hours.renew");
  if (without_hours) due.notes.push_back(say("book.without_hours"));
  return due;
}

Due inspection(const rules::Inspection& rule, const std::vector<Inspection>& inspections,
               std::optional<Duration> at_landing, const Outlook& outlook) {
  const std::optional<Date> done = last_done(inspections, outlook.on, false);
  Due due = due_after(
      "inspection", rule.rule, done, outlook, [&](Date d) { return months_after(d, rule.months); },
      say("book.inspection.ask"), say("book.inspection.renew"));
  if (!due.until) return due;
  bool tolerated = false;
  if (due.state == DueState::passed && outlook.on <= months_after(*due.until, rule.tolerance_months)) {
    due.state = DueState::soon;
    tolerated = true;
  }
  std::optional<Duration> done_at;
  for (const Inspection& i : inspections)
    if (i.done == *done && i.at) done_at = done_at ? std::max(*done_at, *i.at) : *i.at;
  const bool contradiction = done_at && at_landing && *done_at > *at_landing;
  DueState hours_state = DueState::not_known;
  if (done_at && at_landing && !contradiction) {
    due.at = *done_at + rule.every;
    hours_state = state_at(outlook, *at_landing, *due.at);
    if (hours_state == DueState::passed &&
        state_at(outlook, *at_landing, *due.at + rule.tolerance) != DueState::passed) {
      hours_state = DueState::soon;
      tolerated = true;
    }
    due.notes.push_back(hours_found(state_at(outlook, *at_landing, *due.at), *due.at, *at_landing));
  } else {
    due.notes.push_back(contradiction ? say("book.hours_fall") : say("book.no_hours"));
  }
  due.state = worse(due.state, hours_state);
  if (due.state == DueState::not_known)
    due.remedy = say("book.inspection.ask");
  else if (due.state != DueState::current)
    due.remedy = say("book.inspection.renew");
  if (tolerated && due.state != DueState::passed) due.notes.push_back(say("book.inspection.tolerance"));
  return due;
}

Due registration(const rules::Registration& rule, std::optional<Date> issued, const Outlook& outlook) {
  return due_after(
      "registration", rule.rule, issued, outlook, [&](Date d) { return end_of_calendar_months(d, 12 * rule.years); },
      say("book.registration.ask"), say("book.registration.renew"));
}

Due cylinder_test(const rules::CylinderTest& rule, std::optional<balloon::Month> marked, const Outlook& outlook) {
  const std::optional<Date> first = marked ? Date::of(marked->year, marked->month, 1) : std::nullopt;
  if (!first) return due_not_known("cylinder_test", rule.rule, say("book.no_date"), say("book.cylinder_test.ask"));
  return due_by_date("cylinder_test", rule.rule, end_of_month(*first), outlook, say("book.cylinder_test.renew"));
}

std::vector<Inspection> inspections_of(const balloon::Balloon& balloon) {
  std::vector<Inspection> out = balloon.inspections;
  const auto& beside = balloon.envelope.inspection;
  if (beside && std::none_of(out.begin(), out.end(), [&](const Inspection& i) { return i.done == *beside; }))
    out.push_back({*beside, true, std::nullopt});
  return out;
}

std::vector<Due> balloon_dates(const rules::Set& set, const balloon::Balloon& balloon, bool for_hire, Duration planned,
                               const Outlook& outlook) {
  const std::vector<Inspection> inspections = inspections_of(balloon);
  std::optional<Duration> at_landing;
  if (balloon.hours) at_landing = *balloon.hours + planned;
  std::vector<Due> dates;
  if (set.annual) {
    dates.push_back(annual(*set.annual, inspections, outlook));
    if (set.records) {
      const Measure years = measure::count(set.records->years);
      dates.back().notes.push_back(say("book.records", {{"years", years}, {"paragraph", set.records->rule.paragraph}}));
    }
  }
  if (set.hundred_hours && for_hire) {
    const bool annual_counts = set.annual && set.annual->counts_as_hundred_hours;
    dates.push_back(hundred_hours(*set.hundred_hours, annual_counts, inspections, at_landing, outlook));
  }
  if (set.inspection) dates.push_back(inspection(*set.inspection, inspections, at_landing, outlook));
  if (set.registration) dates.push_back(registration(*set.registration, balloon.registration, outlook));
  for (Due& due : dates) due.subject = Subject::balloon;
  return dates;
}

std::vector<Due> cylinder_dates(const rules::CylinderTest& rule, const balloon::Balloon& balloon,
                                const Outlook& outlook) {
  std::vector<Due> dates;
  for (const balloon::Cylinder& cylinder : balloon.cylinders) {
    Due due = cylinder_test(rule, cylinder.test_due, outlook);
    due.subject = Subject::cylinder;
    due.of = cylinder.id;
    dates.push_back(std::move(due));
  }
  return dates;
}

}  // namespace pappus::book
