#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

std::string age_text(const sheet::SourceUse& source, const words::Reader& reader) {
  if (source.age < -1.0 * minute)
    return words::worded(say("show.source_ahead", {{"time", measure::of(-source.age)}}), reader);
  const std::string age = words::duration(source.age < Duration{} ? Duration{} : source.age, reader);
  return source.old ? words::worded(say("show.source_old", {{"age", age}}), reader) : age;
}

std::string joined(const std::vector<Sentence>& sentences, const words::Reader& reader) {
  std::string out;
  for (const Sentence& sentence : sentences) out += (out.empty() ? "" : " ") + words::worded(sentence, reader);
  return out;
}

void show_source(Terminal& to, const sheet::SourceUse& source, const words::Reader& reader) {
  const std::string age = age_text(source, reader);
  to.line("  " + fitted(words::worded(source.what, reader), 24) + fitted(source.name, 18) +
          right(words::clock(source.time.at, reader), 16) + "  " +
          to.toned(right(age, 18), source.old ? Tone::care : Tone::plain));
  if (!source.uses.empty()) to.paragraph(joined(source.uses, reader), 6);
  if (!source.beaten.empty())
    to.paragraph(joined(source.beaten, reader), 9, "      " + words::worded("show.source_beaten", reader));
  if (source.uses.empty() && source.beaten.empty()) to.paragraph(words::worded("show.source_unused", reader), 6);
}

void show_layers(Terminal& to, const std::vector<sheet::PibalLayerLine>& layers, const words::Reader& reader) {
  const auto column = [&](const char* key) { return words::worded("show.column_" + std::string(key), reader); };
  to.line("  " + right(column("layer_from"), 10) + right(column("layer_to"), 10) + right(column("from"), 10) +
          right(column("speed"), 10) + right(column("spread"), 11));
  for (auto layer = layers.rbegin(); layer != layers.rend(); ++layer)
    to.line(
        "  " + right(words::worded(measure::of(layer->bottom), reader), 10) +
        right(words::worded(measure::of(layer->top), reader), 10) +
        right(layer->from ? words::worded(measure::of(*layer->from), reader) : words::worded("word.calm", reader), 10) +
        right(words::worded(measure::wind(layer->speed), reader), 10) +
        right("+-" + words::worded(measure::wind(layer->spread), reader), 11));
}

void show_pibal(Terminal& to, const std::string& name, const std::optional<Moment>& time, Speed rise,
                wind::pibal::RiseBasis basis, const words::Reader& reader) {
  const Term rests{"pibal.basis_" + std::string(name_of(basis))};
  Sentence head = say("show.pibal_undated", {{"name", name}, {"rise", measure::vertical(rise)}, {"basis", rests}});
  if (time)
    head = say("show.pibal_released",
               {{"name", name}, {"time", *time}, {"rise", measure::vertical(rise)}, {"basis", rests}});
  to.paragraph(words::worded(head, reader), 2);
}

void show_flags(Terminal& to, const std::vector<Sentence>& flags, const words::Reader& reader) {
  for (const Sentence& flag : flags)
    to.paragraph(words::worded(flag, reader), 4, "  " + to.toned(words::worded("show.pibal_flag", reader), Tone::care));
}

void show_line(Terminal& to, const desk::PibalLine& line, const words::Reader& reader) {
  show_pibal(to, line.name, line.time, line.rise_rate, line.rise_basis, reader);
  show_layers(to, line.layers, reader);
  std::vector<Sentence> flags;
  for (const desk::PibalFlagLine& flag : line.flags) flags.push_back(flag.message);
  show_flags(to, flags, reader);
}

}  // namespace

void show_sources(Terminal& to, const sheet::FlightSheet& sheet, const words::Reader& reader) {
  if (!sheet.sources.empty()) {
    to.heading(words::worded("show.sources", reader));
    for (const sheet::SourceUse& source : sheet.sources) show_source(to, source, reader);
  }
  if (sheet.pibals.empty()) return;
  to.heading(words::worded("show.pibals", reader));
  for (const sheet::PibalSection& pibal : sheet.pibals) {
    show_pibal(to, pibal.name, pibal.time, pibal.rise_rate, pibal.rise_basis, reader);
    show_layers(to, pibal.layers, reader);
    show_flags(to, pibal.flags, reader);
  }
}

void show(Terminal& to, const desk::PibalAnswer& answer, const words::Reader& reader) {
  to.heading(words::worded("show.pibals", reader));
  show_line(to, answer.newest, reader);
  for (const desk::PibalLine& line : answer.earlier) show_line(to, line, reader);
  to.line();
  to.paragraph(words::worded("show.pibal_note", reader), 4, "  -");
}

}  // namespace pappus::cli
