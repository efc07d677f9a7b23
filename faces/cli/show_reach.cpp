#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

void show_places(Terminal& to, const std::vector<sheet::PlaceLine>& places, const words::Reader& reader) {
  for (const sheet::PlaceLine& place : places) {
    const Measure distance = measure::distance(place.distance);
    const std::string where =
        place.bearing
            ? words::worded(say("show.place_where", {{"bearing", measure::of(*place.bearing)}, {"distance", distance}}),
                            reader)
            : words::worded("show.place_here", reader);
    const std::string state = words::worded("show.reachable_" + std::string(name_of(place.reachable)), reader);
    to.line("  " + fitted(place.name, 32) + fitted(where, 24) +
            to.toned(state, place.reachable == steer::Reachable::yes ? Tone::good : Tone::care));
    to.paragraph(words::worded(place.finding, reader), 6);
  }
}

void show_far(Terminal& to, const std::vector<sheet::FarLine>& far, const words::Reader& reader) {
  if (far.empty()) return;
  const auto column = [&](const char* key) { return words::worded("show.column_" + std::string(key), reader); };
  to.line("  " + right(column("toward"), 8) + right(column("distance"), 12) + right(column("ceiling"), 13) + "  " +
          column("landing_after"));
  for (const sheet::FarLine& line : far) {
    // What is farthest is reached at one time, and on the way there maybe earlier.
    const std::string earliest = words::duration(line.earliest, reader), latest = words::duration(line.latest, reader);
    to.line("  " + right(words::worded(measure::of(line.bearing), reader), 8) +
            right(words::worded(measure::distance(line.distance), reader), 12) +
            right(words::worded(measure::of(line.ceiling), reader), 13) + "  " +
            (earliest == latest ? latest : earliest + " - " + latest));
  }
}

}  // namespace

void show_reach(Terminal& to, const sheet::ReachSection& reach, const words::Reader& reader) {
  to.heading(words::worded("show.reach", reader));
  to.paragraph(words::worded(say("show.reach_head",
                                 {{"time", measure::of(reach.flight_time)}, {"highest", measure::of(reach.highest)}}),
                             reader),
               2);
  show_places(to, reach.places, reader);
  show_far(to, reach.far, reader);
  show_notes(to, reach.notes, reader);
}

void show(Terminal& to, const desk::ReachAnswer& answer, const words::Reader& reader) {
  show_reach(to, answer.reach, reader);
}

}  // namespace pappus::cli
