// The answers of `pappus book` as a person reads them.
#include <string>

#include "desk/book_answer.hpp"
#include "desk/learned_answer.hpp"
#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

void show_entry(Terminal& to, const desk::EntryLine& entry, const words::Reader& reader) {
  words::Reader there = reader;
  there.offset = entry.happened.offset;
  const std::string place = "  " + right(std::to_string(entry.number), 4);
  std::string text = words::clock(entry.happened.at, there) + "  " + words::worded(entry.what, reader) + " (" +
                     entry.by + ", " + entry.chain + ")";
  if (entry.corrects)
    text += " " + words::worded(say("book_event.corrects", {{"number", std::to_string(*entry.corrects)}}), reader);
  to.paragraph(text, 8, place);
}

std::string range(Measure low, Measure best, Measure high, const words::Reader& reader) {
  return words::worded(say("show.low_best_high", {{"low", low}, {"best", best}, {"high", high}}), reader);
}

}  // namespace

void show(Terminal& to, const desk::BookWritten& a, const words::Reader& reader) {
  to.heading(words::worded("show.book_written", reader));
  to.entry(words::worded("show.book", reader), a.book);
  for (const desk::EntryLine& entry : a.entries) show_entry(to, entry, reader);
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::BookShown& a, const words::Reader& reader) {
  to.heading(words::worded(say("show.book_of", {{"balloon", a.balloon}}), reader));
  to.entry(words::worded("show.book", reader), a.book);
  for (const desk::RememberedCylinder& c : a.cylinders) {
    to.line();
    to.line("  " + words::worded(say("show.book_cylinder", {{"id", c.id}}), reader));
    to.paragraph(range(measure::of(c.mass_low), measure::of(c.mass_best), measure::of(c.mass_high), reader), 6,
                 "    " + words::worded("show.accounted_mass", reader) + ": ");
    to.paragraph(range(measure::liquid(c.liquid_volume_low), measure::liquid(c.liquid_volume_best),
                       measure::liquid(c.liquid_volume_high), reader),
                 6, "    " + words::worded("show.accounted_liquid", reader) + ": ");
    std::string text = words::worded(c.words, reader);
    if (c.proof && c.since)
      text +=
          " " + words::worded(
                    say("show.book_rests_on",
                        {{"proof", Term{"remembered.proof_" + std::string(name_of(*c.proof))}}, {"time", *c.since}}),
                    reader);
    if (c.flights > 0)
      text += " " + words::worded(say("show.book_flown",
                                      {{"time", measure::of(c.flown)}, {"flights", measure::count(c.flights)}}),
                                  reader);
    to.paragraph(text, 4, "  -");
    for (const Sentence& one : c.contradictions) to.paragraph(words::worded(one, reader), 4, "  !");
    to.paragraph(words::worded("account.next_" + std::string(name_of(c.next_test)), reader), 4, "  >");
  }
  if (!a.events.empty()) {
    to.heading(words::worded("show.book_events", reader));
    for (const desk::EntryLine& entry : a.events) show_entry(to, entry, reader);
  }
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::LearnedAnswer& a, const words::Reader& reader) {
  to.heading(words::worded(say("show.learned_of", {{"balloon", a.balloon}}), reader));
  to.entry(words::worded("show.book", reader), a.book);
  to.paragraph(words::worded(a.burn.words, reader), 4, "  -");
  to.paragraph(words::worded(a.crown.words, reader), 4, "  -");
  for (const desk::SetAside& one : a.outliers) {
    const Sentence which =
        say("show.learned_aside", {{"number", std::to_string(one.event)}, {"date", one.happened.date()}});
    to.paragraph(words::worded(which, reader) + " " + words::worded(one.words, reader), 4, "  !");
  }
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::BookVerified& a, const words::Reader& reader) {
  to.heading(words::worded("show.book_verified", reader));
  to.entry(words::worded("show.book", reader), a.book);
  to.paragraph(words::worded(a.words, reader), 4, a.whole ? "  -" : "  !");
  if (a.events > 0) to.paragraph(words::worded(say("show.book_last", {{"chain", a.last}}), reader), 4, "  -");
}

void show(Terminal& to, const desk::BookCopied& a, const words::Reader& reader) {
  to.heading(words::worded("show.book_copied", reader));
  to.entry(words::worded("show.book", reader), a.book);
  to.entry(words::worded("show.book_copy", reader), a.copy);
  to.entry(words::worded("show.book_count", reader), std::to_string(a.events));
}

void show(Terminal& to, const desk::PeopleKnown& a, const words::Reader& reader) {
  to.heading(words::worded("show.book_people", reader));
  to.entry(words::worded("show.book", reader), a.book);
  for (const desk::Person& person : a.people)
    to.paragraph(person.id + ": " + person.name + (person.contact.empty() ? "" : ", " + person.contact), 4, "  -");
  if (a.people.empty()) to.paragraph(words::worded("show.book_nobody", reader), 4, "  -");
  show_notes(to, a.notes, reader);
}

}  // namespace pappus::cli
