#include "desk/learned_answer.hpp"

#include <algorithm>
#include <cstddef>
#include <iterator>
#include <utility>

#include "core/base/measure.hpp"

namespace pappus::desk {
namespace {

Measure count(std::size_t n) { return measure::count(static_cast<double>(n)); }
Measure count(int n) { return measure::count(n); }

Sentence burn_words(const book::Learned& l) {
  const Argument ratio{"ratio", measure::ratio(l.value)}, spread{"spread", measure::ratio(l.spread)},
      next{"next", measure::ratio(l.next)}, flights{"flights", count(l.flights)};
  if (l.yours) return say("learned.burn_yours", {ratio, spread, next, flights});
  return say("learned.burn_not_yet", {ratio, spread, next, flights, {"needed", count(book::kFlightsToBeYours)}});
}
Sentence crown_words(const book::Learned& l) {
  const auto k = [](double value) { return measure::of(value * kelvin); };
  const Argument excess{"excess", k(l.value)}, spread{"spread", k(l.spread)}, next{"next", k(l.next)},
      flights{"flights", count(l.flights)};
  if (l.yours) return say("learned.crown_yours", {excess, spread, next, flights});
  return say("learned.crown_not_yet", {excess, spread, next, flights, {"needed", count(book::kFlightsToBeYours)}});
}
Sentence aside_words(const LearnedOutlier& one) {
  if (one.of == LearnedOf::burn) return say("learned.burn_aside", {{"ratio", measure::ratio(one.value)}});
  return say("learned.crown_aside", {{"excess", measure::of(one.value * kelvin)}});
}

std::vector<Sentence> notes_of(const LearnedFromBook& learned) {
  const book::FlightRecords& records = learned.records;
  std::vector<Sentence> out;
  const auto derived = static_cast<std::size_t>(
      std::count_if(records.burn.begin(), records.burn.end(), [](const auto& one) { return one.derived; }));
  if (derived > 0) out.push_back(say("learned.derived", {{"flights", count(derived)}}));
  if (records.not_compared > 0) out.push_back(say("learned.not_compared", {{"flights", count(records.not_compared)}}));
  if (!learned.figures.burn.yours || !learned.figures.crown.yours) out.push_back(say("learned.how"));
  return out;
}

}  // namespace

Result<LearnedFromBook> learned_from(const CylinderHistory& history, Instant now, UtcOffset offset) {
  LearnedFromBook out;
  out.records = book::flight_records(history.events, now);
  auto figures = book::learned_figures(out.records);
  if (!figures) return tl::unexpected(std::move(figures.error()));
  out.figures = *std::move(figures);
  const auto take = [&](LearnedOf of, const std::vector<std::size_t>& places,
                        const std::vector<book::DatedRecord>& records) {
    for (const std::size_t place : places) {
      const book::DatedRecord& one = records[place];
      out.outliers.push_back({of, one.event, Moment{one.happened, offset}, one.record.value});
    }
  };
  take(LearnedOf::burn, out.figures.burn.outliers, out.records.burn);
  take(LearnedOf::crown, out.figures.crown.outliers, out.records.crown);
  return out;
}

Parsed<LearnedAnswer> answer(const BookLearned& question, const Files& files, const Clock& clock,
                             const Stores* stores) {
  Parsed<LearnedAnswer> out;
  const auto balloon = balloon_of(question.asked, files, out.issues);
  if (!balloon) return out;
  const auto refuse = [&](const Issue& issue) {
    out.issues.push_back(issue);
    return out;
  };
  const Moment now = question.asked.now.value_or(Moment{clock.now(), UtcOffset{}});
  const auto store = open_book(question.asked, Stores::Open::read_only, stores);
  if (!store) return refuse(store.error());
  LearnedAnswer a{.book = question.asked.book.value_or(default_book(question.asked.balloon_file)),
                  .balloon = balloon->name,
                  .subject = subject_of(*balloon),
                  .burn = {},
                  .crown = {},
                  .outliers = {},
                  .issues = {},
                  .notes = {}};
  const auto history = cylinder_history(**store, a.subject);
  if (!history) return refuse(history.error());
  const auto learned = learned_from(*history, now.at, now.offset);
  if (!learned) return refuse(learned.error());
  const book::Learned &burn = learned->figures.burn, &crown = learned->figures.crown;
  a.burn = {burn.value, burn.spread, burn.next, burn.flights, burn.yours, burn_words(burn)};
  a.crown = {crown.value * kelvin, crown.spread * kelvin, crown.next * kelvin,
             crown.flights,        crown.yours,           crown_words(crown)};
  for (const LearnedOutlier& one : learned->outliers)
    a.outliers.push_back({one.of, one.event, one.happened, aside_words(one)});
  a.notes = notes_of(*learned);
  a.issues = history->not_understood;
  for (Issue& issue : a.issues) issue.where.file = a.book;
  std::copy(a.issues.begin(), a.issues.end(), std::back_inserter(out.issues));
  out.value = std::move(a);
  return out;
}

}  // namespace pappus::desk
