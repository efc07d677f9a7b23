#include "faces/cli/show.hpp"

#include <cstddef>
#include <string>
#include <string_view>

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
  // Its figures fit 40 columns.
  constexpr std::size_t name_width = 11, figure_width = 9, wide_name = 27;
  const auto row = [&](std::string_view key, Measure low, Measure best, Measure high) {
    std::string line = "  " + fitted(words::worded(key, reader), name_width);
    for (const Measure& m : {low, best, high}) line += right(words::worded(m, reader), figure_width);
    to.line(line);
  };
  const auto head = [&](std::string_view key) {
    std::string line = "  " + fitted(words::worded(key, reader), name_width);
    for (const std::string_view column : {"show.least", "show.best", "show.most"})
      line += right(words::worded(column, reader), figure_width);
    to.line(line);
  };
  const auto single = [&](std::string_view key, const std::string& value) {
    to.line("  " + fitted(words::worded(key, reader), wide_name) + right(value, name_width));
  };
  to.heading(words::worded("show.cylinder", reader));
  head("show.cylinder_now");
  row("show.accounted_liquid", measure::liquid(a.liquid_volume_low), measure::liquid(a.liquid_volume_best),
      measure::liquid(a.liquid_volume_high));
  row("show.cylinder_mass", measure::of(a.mass_low), measure::of(a.mass_best), measure::of(a.mass_high));
  row("show.cylinder_pressure", measure::of(a.gauge_pressure_low), measure::of(a.gauge_pressure),
      measure::of(a.gauge_pressure_high));
  if (a.temperature_then && a.liquid_volume_then) {
    head("show.cylinder_then");
    row("show.accounted_liquid", measure::liquid(*a.liquid_volume_then_low), measure::liquid(*a.liquid_volume_then),
        measure::liquid(*a.liquid_volume_then_high));
    row("show.cylinder_temperature", measure::of(*a.temperature_then_low), measure::of(*a.temperature_then),
        measure::of(*a.temperature_then_high));
    if (a.gauge_pressure_then)
      row("show.cylinder_pressure", measure::of(*a.gauge_pressure_then_low), measure::of(*a.gauge_pressure_then),
          measure::of(*a.gauge_pressure_then_high));
  }
  if (a.liquid_full_temperature)
    single("show.liquid_full_at", words::worded(measure::of(*a.liquid_full_temperature), reader));
  if (a.relief_temperature) single("show.relief_at", words::worded(measure::of(*a.relief_temperature), reader));
  single("show.proven_full", words::worded(a.proven_full ? "word.yes" : "word.no", reader));
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
