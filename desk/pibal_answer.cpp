#include "desk/pibal_answer.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "formats/text/pilot/flight_file.hpp"

namespace pappus::desk {
namespace {

namespace pibal = wind::pibal;

using Readings = std::vector<text::PibalReadings>;

bool is_toml(std::string_view path) { return path.size() > 5 && path.substr(path.size() - 5) == ".toml"; }

Parsed<Readings> of_flight(std::string_view toml, const std::string& path, const Files& files) {
  auto flight = text::parse_flight(toml, path, [&](const std::string& beside) -> Result<std::string> {
    return files.read(files.beside(path, beside));
  });
  Parsed<Readings> out;
  out.issues = std::move(flight.issues);
  if (!flight.value) return out;
  const UtcOffset offset = flight.value->flight.time.offset;
  out.value.emplace();
  for (sheet::PibalSeen& seen : flight.value->flight.pibals) {
    const Moment released{seen.source.time, offset};
    out.value->push_back({std::move(seen), released});
  }
  if (out.value->empty()) {
    out.value.reset();
    out.issues.push_back({Errc::no_data, say("issue.pibal_none"), {path, 0, 0, "pibal"}, {}, "a [[pibal]] table"});
  }
  return out;
}

Parsed<Readings> of_tables(const PibalQuestion& question, std::string_view toml, const Files& files) {
  Parsed<Readings> out;
  const std::vector<std::pair<std::string_view, bool>> options{
      {"--diameter", question.diameter.has_value()},   {"--mass", question.mass.has_value()},
      {"--rise", question.rise.has_value()},           {"--bearings", question.bearings.has_value()},
      {"--variation", question.variation.has_value()}, {"--at", question.at.has_value()},
      {"--elevation", question.elevation.has_value()}, {"--time", question.time.has_value()}};
  for (const auto& [option, given] : options)
    if (given)
      out.issues.push_back({Errc::bad_call,
                            say("issue.pibal_options"),
                            {{}, 0, 0, std::string(option)},
                            {},
                            "the same said in " + question.readings});
  if (!out.issues.empty()) return out;
  return text::is_flight_file(toml) ? of_flight(toml, question.readings, files)
                                    : text::parse_pibal_file(toml, question.readings);
}

Result<pibal::RiseRate> rise_of(const PibalQuestion& question) {
  if (question.rise) {
    if (!question.diameter && !question.mass) return pibal::stated_rise_rate(*question.rise);
    auto refused = fail(Errc::bad_call, say("issue.pibal_rise_double"), {}, "--rise, or --diameter with --mass");
    refused.value().where.key = "--rise";
    return refused;
  }
  if (!question.diameter && !question.mass) return pibal::default_rise_rate();
  if (!question.diameter || !question.mass) {
    auto refused = fail(Errc::bad_call, say("issue.pibal_size_and_mass"), {}, "--diameter 12in --mass 3g");
    refused.value().where.key = question.diameter ? "--mass" : "--diameter";
    return refused;
  }
  auto rate = text::rise_rate_at(*question.diameter, *question.mass, question.elevation);
  if (!rate) rate.error().where.key = "--diameter";
  return rate;
}

Parsed<Readings> of_calls(const PibalQuestion& question, std::string_view csv) {
  Parsed<Readings> out;
  const auto refuse = [&](Issue issue) { out.issues.push_back(std::move(issue)); };
  const auto rise = rise_of(question);
  if (!rise) refuse(rise.error());
  if (!question.bearings)
    refuse({Errc::bad_call, say("issue.pibal_need_bearings"), {{}, 0, 0, "--bearings"}, {}, "true or magnetic"});
  const text::North north = question.bearings.value_or(text::North::of_the_earth);
  std::optional<Variation> variation = question.variation;
  if (north == text::North::of_the_compass && !variation) {
    const auto found = text::variation_at({question.at, question.elevation},
                                          question.time ? std::optional{question.time->at} : std::nullopt);
    if (found) {
      variation = *found;
    } else {
      Issue issue = found.error();
      issue.where.key = "--variation";
      issue.wanted = "--variation 13deg (east positive), or --at 38.90,-133.40 --time 2027-05-16T04:30:00-09:00";
      refuse(std::move(issue));
    }
  }
  auto calls = text::parse_pibal_csv(csv, question.readings, north);
  std::move(calls.issues.begin(), calls.issues.end(), std::back_inserter(out.issues));
  if (!out.issues.empty()) return out;
  text::PibalReadings readings;
  readings.released = question.time;
  readings.seen.source.kind = wind::SourceKind::pibal;
  readings.seen.source.name = name_of(wind::SourceKind::pibal);
  if (question.time) readings.seen.source.time = question.time->at;
  readings.seen.ascent.calls = *std::move(calls.value);
  readings.seen.ascent.rise = *rise;
  readings.seen.ascent.variation = variation;
  out.value.emplace().push_back(std::move(readings));
  return out;
}

PibalLine line_of(const text::PibalReadings& readings, const pibal::Reduction& reduction) {
  sheet::PibalSection section = sheet::pibal_section(readings.seen, reduction, {});
  PibalLine line;
  line.name = std::move(section.name);
  line.time = readings.released;
  line.rise_rate = reduction.rise.rate;
  line.rise_error = reduction.rise.relative_sigma;
  line.rise_basis = reduction.rise.basis;
  line.layers = std::move(section.layers);
  for (const pibal::Flag& flag : reduction.flags) line.flags.push_back({flag.kind, flag.at, flag.sentence});
  return line;
}

}  // namespace

Parsed<PibalAnswer> answer(const PibalQuestion& question, const Files& files) {
  Parsed<PibalAnswer> out;
  const auto text = files.read(question.readings);
  if (!text) {
    out.issues.push_back(text.error());
    return out;
  }
  auto readings = is_toml(question.readings) ? of_tables(question, *text, files) : of_calls(question, *text);
  out.issues = std::move(readings.issues);
  if (!readings.value) return out;
  // The latest first; those without a time stand last, in the order of the file.
  const auto released = [](const text::PibalReadings& one) {
    return one.released ? std::pair{true, one.released->at} : std::pair{false, Instant{}};
  };
  std::stable_sort(readings.value->begin(), readings.value->end(),
                   [&](const auto& a, const auto& b) { return released(a) > released(b); });
  std::vector<PibalLine> lines;
  for (const text::PibalReadings& one : *readings.value) {
    auto reduced = pibal::reduce(one.seen.ascent);
    // A call that the reduction left out is told by it, without a place; the reader has told the rest.
    if (!is_toml(question.readings))
      std::move(reduced.issues.begin(), reduced.issues.end(), std::back_inserter(out.issues));
    if (reduced.value && !reduced.value->layers.empty()) lines.push_back(line_of(one, *reduced.value));
  }
  if (lines.empty()) return out;
  PibalAnswer found;
  found.newest = std::move(lines.front());
  found.earlier.assign(std::make_move_iterator(lines.begin() + 1), std::make_move_iterator(lines.end()));
  found.issues = out.issues;
  out.value = std::move(found);
  return out;
}

}  // namespace pappus::desk
