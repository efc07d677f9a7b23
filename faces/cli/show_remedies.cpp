#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

// A person without a name is told by role, which has a word of its own.
std::string who_of(const sheet::RemedyLine& line, const words::Reader& reader) {
  std::string who;
  for (const std::string& name : line.who) {
    const auto role = named<people::Role>(name);
    who += (who.empty() ? "" : ", ") + (role ? words::worded("word." + name, reader) : name);
  }
  return who;
}

}  // namespace

void show_remedies(Terminal& to, const sheet::RemediesSection& remedies, const words::Reader& reader) {
  to.heading(words::worded("show.remedies", reader));
  to.paragraph(words::worded(remedies.finding, reader), 2);
  for (const sheet::RemedyLine& line : remedies.found) {
    std::string text;
    for (const Sentence& sentence : line.words) text += (text.empty() ? "" : " ") + words::worded(sentence, reader);
    if (!line.who.empty()) text += " " + words::worded(say("show.remedy_who", {{"who", who_of(line, reader)}}), reader);
    to.paragraph(text, 5, "  ->");
  }
  if (!remedies.none.empty()) to.paragraph(words::worded("show.remedies_none", reader), 2);
  show_notes(to, remedies.none, reader);
  show_notes(to, remedies.notes, reader);
}

}  // namespace pappus::cli
