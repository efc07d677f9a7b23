#include "faces/cli/show.hpp"

namespace pappus::cli {

void show_landing(Terminal& to, const sheet::LandingSection& landing, const words::Reader& reader) {
  to.heading(words::worded("show.landing", reader));
  const auto told = [&](const Sentence& sentence) { to.paragraph(words::worded(sentence, reader), 2); };
  const auto range = [&](Measure low, Measure high) {
    return words::worded(low, reader) + " - " + words::worded(high, reader);
  };
  told(landing.time_finding);
  for (const sheet::LandByLine& bound : landing.bounds)
    to.entry(words::worded(say("show.land_by", {{"what", words::worded(bound.what, reader)}}), reader),
             words::clock(bound.time.at, reader));
  if (landing.decide_by) to.entry(words::worded("show.decide_by", reader), words::clock(landing.decide_by->at, reader));
  told(landing.surface_wind_reason);
  if (const auto& wind = landing.surface_wind) {
    to.entry(words::worded("show.landing_wind", reader), words::worded(measure::wind(wind->best), reader));
    to.entry(words::worded("show.landing_wind_range", reader),
             range(measure::wind(wind->low), measure::wind(wind->high)));
  }
  told(landing.run_finding);
  told(landing.room_finding);
  told(landing.low_sun);
  told(landing.sink_finding);
  told(landing.fuel_finding);
  to.line();
  for (const Sentence& standing : landing.standing) to.paragraph(words::worded(standing, reader), 4, "  -");
  to.line();
  show_notes(to, landing.notes, reader);
}

}  // namespace pappus::cli
