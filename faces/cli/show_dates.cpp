#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

Tone tone_of(book::DueState state) {
  switch (state) {
    case book::DueState::current: return Tone::plain;
    case book::DueState::soon: return Tone::care;
    case book::DueState::passed: return Tone::bad;
    case book::DueState::not_known: return Tone::care;
  }
  return Tone::bad;
}

std::string title_of(const book::Due& due, const words::Reader& reader) {
  if (due.subject == book::Subject::cylinder) return words::worded(say("show.date_cylinder", {{"id", due.of}}), reader);
  return words::worded("book." + due.what + ".title", reader);
}

}  // namespace

void show_dates(Terminal& to, const std::vector<book::Due>& dates, const words::Reader& reader) {
  if (dates.empty()) return;
  to.heading(words::worded("show.dates", reader));
  for (const book::Due& due : dates) {
    const std::string state = words::worded("due_state." + std::string(name_of(due.state)), reader);
    const std::string title = fitted(title_of(due, reader), 32);
    if (due.state == book::DueState::current) {
      to.paragraph(words::worded(due.finding, reader), 46, "  " + fitted(state, 11) + title + " ");
    } else {
      to.line("  " + to.toned(fitted(state, 11), tone_of(due.state)) + title);
      to.paragraph(words::worded(due.finding, reader), 13);
      if (due.remedy) to.paragraph(words::worded(*due.remedy, reader), 16, "             ->");
      for (const Sentence& note : due.notes) to.paragraph(words::worded(note, reader), 13);
    }
    if (!due.sure && !due.paragraph.empty())
      to.paragraph(words::worded(say("limit.check_locally", {{"paragraph", due.paragraph}}), reader), 13);
  }
}

}  // namespace pappus::cli
