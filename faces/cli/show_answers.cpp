#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

/// Name and figure, both worded.
void entry(Terminal& to, const words::Reader& reader, std::string_view key, Measure value) {
  to.entry(words::worded(key, reader), words::worded(value, reader));
}

std::string clock_of(const std::optional<Moment>& m, const words::Reader& reader) {
  if (!m) return words::worded("word.none", reader);
  words::Reader there = reader;
  there.offset = m->offset;
  return words::clock(m->at, there);
}

}  // namespace

void show_notes(Terminal& to, const std::vector<Sentence>& notes, const words::Reader& reader) {
  for (const Sentence& note : notes) to.paragraph(words::worded(note, reader), 4, "  -");
}

void show(Terminal& to, const desk::AirAnswer& a, const words::Reader& reader) {
  to.heading(words::worded("show.air", reader));
  entry(to, reader, "show.station_pressure", measure::air(a.station_pressure));
  entry(to, reader, "show.density", measure::of(a.density));
  if (a.density_cipm) entry(to, reader, "show.density_cipm", measure::of(*a.density_cipm));
  entry(to, reader, "show.virtual_temperature", measure::of(a.virtual_temperature));
  entry(to, reader, "show.pressure_altitude", measure::of(a.pressure_altitude));
  entry(to, reader, "show.density_altitude", measure::of(a.density_altitude));
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::PropaneAnswer& a, const words::Reader& reader) {
  to.heading(words::worded("show.propane", reader));
  entry(to, reader, "show.gauge_pressure", measure::of(a.gauge_pressure));
  entry(to, reader, "show.saturation_pressure", measure::air(a.saturation_pressure));
  entry(to, reader, "show.liquid_density", measure::of(a.liquid_density));
  entry(to, reader, "show.vapour_density", measure::of(a.vapour_density));
  entry(to, reader, "show.latent_heat", measure::of(a.latent_heat));
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::CylinderAnswer& a, const words::Reader& reader) {
  const auto range = [&](Measure low, Measure best, Measure high) {
    return words::worded(say("show.low_best_high", {{"low", low}, {"best", best}, {"high", high}}), reader);
  };
  to.heading(words::worded("show.cylinder", reader));
  to.entry(words::worded("show.accounted_liquid", reader),
           range(measure::liquid(a.liquid_volume_low), measure::liquid(a.liquid_volume_best),
                 measure::liquid(a.liquid_volume_high)));
  to.entry(words::worded("show.accounted_mass", reader),
           range(measure::of(a.mass_low), measure::of(a.mass_best), measure::of(a.mass_high)));
  to.entry(words::worded("show.gauge_pressure", reader),
           range(measure::of(a.gauge_pressure_low), measure::of(a.gauge_pressure), measure::of(a.gauge_pressure_high)));
  if (a.temperature_then)
    to.entry(words::worded("show.temperature_then", reader),
             range(measure::of(*a.temperature_then_low), measure::of(*a.temperature_then),
                   measure::of(*a.temperature_then_high)));
  if (a.gauge_pressure_then)
    to.entry(words::worded("show.gauge_pressure_then", reader),
             range(measure::of(*a.gauge_pressure_then_low), measure::of(*a.gauge_pressure_then),
                   measure::of(*a.gauge_pressure_then_high)));
  if (a.liquid_volume_then)
    to.entry(words::worded("show.liquid_then", reader),
             range(measure::liquid(*a.liquid_volume_then_low), measure::liquid(*a.liquid_volume_then),
                   measure::liquid(*a.liquid_volume_then_high)));
  if (a.liquid_full_temperature) entry(to, reader, "show.liquid_full_at", measure::of(*a.liquid_full_temperature));
  if (a.relief_temperature) entry(to, reader, "show.relief_at", measure::of(*a.relief_temperature));
  to.entry(words::worded("show.proven_full", reader), words::worded(a.proven_full ? "word.yes" : "word.no", reader));
  to.line();
  for (const Sentence& one : a.contradictions) to.paragraph(words::worded(one, reader), 4, "  !");
  for (const Sentence& one : a.cautions) to.paragraph(words::worded(one, reader), 4, "  !");
  show_notes(to, a.reasons, reader);
  to.paragraph(words::worded(a.next, reader), 4, "  >");
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::LiftAnswer& a, const words::Reader& reader) {
  to.heading(words::worded("show.lift", reader));
  entry(to, reader, "show.gross_lift", measure::of(a.gross_lift));
  entry(to, reader, "show.air_pressure_there", measure::air(a.pressure));
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::SunAnswer& a, const words::Reader& reader) {
  to.heading(words::worded("show.sun", reader));
  to.entry(words::worded("show.civil_dawn", reader), clock_of(a.civil_dawn, reader));
  to.entry(words::worded("show.sunrise", reader), clock_of(a.sunrise, reader));
  to.entry(words::worded("show.transit", reader), clock_of(a.transit, reader));
  to.entry(words::worded("show.sunset", reader), clock_of(a.sunset, reader));
  to.entry(words::worded("show.civil_dusk", reader), clock_of(a.civil_dusk, reader));
  if (a.azimuth) entry(to, reader, "show.sun_azimuth", measure::of(*a.azimuth));
  if (a.elevation) entry(to, reader, "show.sun_elevation", measure::of(*a.elevation));
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::VariationAnswer& a, const words::Reader& reader) {
  to.heading(words::worded("show.variation", reader));
  const bool east = a.declination >= Angle{};
  to.entry(words::worded("show.declination", reader),
           words::worded(measure::of(east ? a.declination : -a.declination), reader) + " " +
               words::worded(east ? "word.east" : "word.west", reader));
  entry(to, reader, "show.uncertainty", measure::of(a.uncertainty));
  to.entry(words::worded("show.valid_until", reader), iso8601(a.valid_until));
  show_notes(to, a.notes, reader);
}

void show(Terminal& to, const desk::WindsAnswer& a, const words::Reader& reader) {
  to.heading(words::worded("show.winds", reader));
  show_winds(to, a.levels, a.gaps, a.steerage, reader);
}

}  // namespace pappus::cli
