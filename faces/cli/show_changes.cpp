#include <algorithm>
#include <vector>

#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

using sheet::Tripwire;
using sheet::TripwireState;

// What broke comes first, then what nobody knows.
int rank(TripwireState state) {
  switch (state) {
    case TripwireState::broken: return 0;
    case TripwireState::not_known: return 1;
    case TripwireState::holds:
    case TripwireState::set: return 2;
  }
  return 0;
}

Tone tone_of(TripwireState state) {
  switch (state) {
    case TripwireState::broken: return Tone::bad;
    case TripwireState::not_known: return Tone::care;
    case TripwireState::holds:
    case TripwireState::set: return Tone::plain;
  }
  return Tone::bad;
}

constexpr std::size_t kState = 11;  // the column that tells how it stands

void show_condition(Terminal& to, const Tripwire& tripwire, const words::Reader& reader) {
  std::string condition = words::worded(tripwire.condition, reader);
  if (tripwire.own) condition += " (" + words::worded("show.own_tripwire", reader) + ")";
  condition += ": " + words::worded(tripwire.finding, reader);
  const std::string state = words::worded("show.tripwire_" + std::string(name_of(tripwire.state)), reader);
  if (tripwire.state == TripwireState::set) {
    to.paragraph(condition, 2);
    return;
  }
  to.paragraph(condition, 2 + kState, "  " + to.toned(fitted(state, kState), tone_of(tripwire.state)));
}

void show_tripwires(Terminal& to, const std::vector<Tripwire>& tripwires, const words::Reader& reader) {
  std::vector<const Tripwire*> order;
  for (const Tripwire& tripwire : tripwires) order.push_back(&tripwire);
  std::stable_sort(order.begin(), order.end(),
                   [](const Tripwire* a, const Tripwire* b) { return rank(a->state) < rank(b->state); });
  for (const Tripwire* tripwire : order) show_condition(to, *tripwire, reader);
}

void show_since_evening(Terminal& to, const sheet::FlightSheet& sheet, const words::Reader& reader) {
  to.heading(words::worded("show.since_evening", reader));
  to.paragraph(words::worded(say("show.evening_sheet", {{"time", *sheet.evening}}), reader), 2);
  show_tripwires(to, sheet.tripwires, reader);
  if (sheet.changes.empty()) {
    to.paragraph(words::worded("show.nothing_changed", reader), 2);
    return;
  }
  to.paragraph(words::worded("show.changes", reader), 2);
  for (const sheet::Change& change : sheet.changes)
    to.paragraph(words::worded(change.words, reader), 2 + kState,
                 "  " + (change.worse ? to.toned(fitted(words::worded("show.change_worse", reader), kState), Tone::care)
                                      : std::string(kState, ' ')));
}

}  // namespace

void show_changes(Terminal& to, const sheet::FlightSheet& sheet, const words::Reader& reader) {
  if (sheet.evening) {
    show_since_evening(to, sheet, reader);
  } else if (!sheet.tripwires.empty()) {
    to.heading(words::worded("show.stands_if", reader));
    show_tripwires(to, sheet.tripwires, reader);
  }
  if (sheet.message.empty()) return;
  to.heading(words::worded("show.message", reader));
  std::string message;
  for (const Sentence& sentence : sheet.message) {
    if (!message.empty()) message += ' ';
    message += words::worded(sentence, reader);
  }
  to.paragraph(message, 2);
}

}  // namespace pappus::cli
