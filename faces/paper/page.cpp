#include "faces/paper/page.hpp"

#include <algorithm>

namespace pappus::paper {
namespace {

words::Reader here(const sheet::FlightSheet& s, words::Reader reader) {
  reader.offset = s.as_of.offset;
  reader.today = s.as_of.date();
  return reader;
}

// A circle, a triangle, a filled octagon, a diamond with a question: told apart in black on white and by touch of a
// copier's toner.
void draw_mark(Markup& to, Mark mark) {
  const auto svg = to.element("svg", {{"class", "mark"}, {"viewBox", "0 0 16 16"}, {"aria-hidden", "true"}});
  switch (mark) {
    case Mark::inside: to.empty("circle", {{"cx", "8"}, {"cy", "8"}, {"r", "5"}, {"class", "open"}}); return;
    case Mark::near: to.empty("path", {{"d", "M8 2L15 14H1Z"}, {"class", "open"}}); return;
    case Mark::outside: to.empty("path", {{"d", "M5 1H11L15 5V11L11 15H5L1 11V5Z"}, {"class", "full"}}); return;
    case Mark::not_known:
      to.empty("path", {{"d", "M8 0.8L15.2 8L8 15.2L0.8 8Z"}, {"class", "open"}});
      to.empty("path", {{"d", "M6.2 6.6A1.9 1.9 0 1 1 8.8 8.2Q8 8.7 8 9.5M8 11V12"}, {"class", "open"}});
      return;
  }
}

}  // namespace

Page::Page(const sheet::FlightSheet& s, words::Reader r) : sheet{s}, reader{here(s, r)} {}

std::string Page::said(const Sentence& sentence) const {
  // A section that nobody has worked out holds sentences without a key.
  return sentence.key.empty() ? not_known() : words::worded(sentence, reader);
}

std::string Page::source(std::string_view name, Instant time) const {
  const Duration age = sheet.as_of.at - time;
  const Moment when{time, reader.offset};
  if (age < Duration{}) return said(say("paper.source_ahead", {{"name", std::string(name)}, {"time", when}}));
  return said(say("paper.source", {{"name", std::string(name)}, {"time", when}, {"age", measure::of(age)}}));
}

std::string Page::wind_sources() const {
  std::vector<const sheet::SourceLine*> all;
  for (const sheet::WindLine& level : sheet.winds.levels)
    for (const sheet::SourceLine& source : level.sources) {
      const auto same = [&](const sheet::SourceLine* s) { return s->name == source.name && s->time == source.time; };
      if (std::none_of(all.begin(), all.end(), same)) all.push_back(&source);
    }
  std::stable_sort(all.begin(), all.end(), [](const auto* a, const auto* b) { return a->time > b->time; });
  std::string out;
  for (const sheet::SourceLine* s : all) out += (out.empty() ? "" : "; ") + source(s->name, s->time);
  return out.empty() ? not_known() : out;
}

Markup::Element Page::section(std::string_view id, std::string_view title_key, std::string_view look) {
  const std::string title_id = std::string(id) + "-head";
  auto section = to.element("section", {{"id", id}, {"class", look}, {"aria-labelledby", title_id}});
  to.leaf("h2", {{"id", title_id}}, word(title_key));
  return section;
}

void Page::heading(std::string_view key) { to.leaf("h3", word(key)); }

void Page::sentence(const Sentence& sentence, std::string_view look) {
  to.leaf("p", {{"class", look}}, said(sentence));
}

void Page::sentences(const std::vector<Sentence>& list, std::string_view look) {
  if (list.empty()) return;
  const auto all = to.element("ul", {{"class", look}});
  for (const Sentence& s : list) to.leaf("li", said(s));
}

void Page::tag(Mark mark, std::string_view word) {
  const auto all = to.element("span", {{"class", "tag " + std::string(name_of_mark(mark))}});
  draw_mark(to, mark);
  to.leaf("span", word);
}

void Page::tag_only(Mark mark) { draw_mark(to, mark); }

void Page::entry(std::string_view name, std::string_view value, std::string_view small) {
  const auto all = to.element("div");
  to.leaf("dt", name);
  const auto what = to.element("dd");
  to.leaf("b", value);
  if (!small.empty()) to.leaf("small", small);
}

void Page::columns(std::initializer_list<std::string_view> keys) {
  const auto head = to.element("thead");
  const auto row = to.element("tr");
  for (const std::string_view key : keys) to.leaf("th", {{"scope", "col"}}, word(key));
}

void Page::cell(std::string_view value, std::string_view small, std::string_view look) {
  const auto td = to.element("td", {{"class", look}});
  to.text(value);
  if (!small.empty()) to.leaf("small", small);
}

void Page::row_head(std::string_view value, std::string_view small) {
  const auto th = to.element("th", {{"scope", "row"}});
  to.text(value);
  if (!small.empty()) to.leaf("small", small);
}

std::optional<HeightAgl> top_of(const sheet::FlightSheet& s) {
  std::optional<HeightAgl> top;
  const auto reach_up = [&](HeightAgl h) {
    if (!top || h > *top) top = h;
  };
  if (s.lift && !s.lift->curve.empty()) reach_up(s.lift->curve.back().height);
  if (s.lift) reach_up(s.lift->worst_height);
  if (s.reach) reach_up(s.reach->highest);
  const auto ground = field_of(s);
  if (ground && !s.winds.gaps.empty()) reach_up(height_over(*ground, s.winds.gaps.back().top));
  if (!top && !s.winds.levels.empty()) reach_up(s.winds.levels.back().height);
  if (top && *top <= HeightAgl{}) return std::nullopt;
  return top;
}

std::optional<AltitudeAmsl> field_of(const sheet::FlightSheet& s) {
  if (!s.winds.levels.empty()) return s.winds.levels.front().altitude - s.winds.levels.front().height.from_origin();
  if (s.lift) return s.lift->worst_altitude - s.lift->worst_height.from_origin();
  // Without any wind all heights are one gap, which begins at the field.
  if (!s.winds.gaps.empty()) return s.winds.gaps.front().bottom;
  return std::nullopt;
}

std::string_view name_of_mark(Mark mark) {
  switch (mark) {
    case Mark::inside: return "inside";
    case Mark::near: return "near";
    case Mark::outside: return "outside";
    case Mark::not_known: return "unknown";
  }
  return "unknown";
}

Mark mark_of(sheet::LimitState state) {
  switch (state) {
    case sheet::LimitState::inside: return Mark::inside;
    case sheet::LimitState::near: return Mark::near;
    case sheet::LimitState::outside: return Mark::outside;
    case sheet::LimitState::not_known: return Mark::not_known;
  }
  return Mark::not_known;
}

}  // namespace pappus::paper
