// The top of the page: which flight, where it stands, where to find what; then what changed since the evening.
#include <algorithm>

#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

Mark mark_of_standing(sheet::Standing standing) {
  switch (standing) {
    case sheet::Standing::nothing_against: return Mark::inside;
    case sheet::Standing::with_care: return Mark::near;
    case sheet::Standing::against: return Mark::outside;
    case sheet::Standing::not_known: return Mark::not_known;
  }
  return Mark::not_known;
}

Mark mark_of_tripwire(sheet::TripwireState state) {
  switch (state) {
    case sheet::TripwireState::set:
    case sheet::TripwireState::holds: return Mark::inside;
    case sheet::TripwireState::broken: return Mark::outside;
    case sheet::TripwireState::not_known: return Mark::not_known;
  }
  return Mark::not_known;
}

void show_tripwires(Page& page) {
  Markup& to = page.to;
  page.heading("paper.tripwires");
  const auto wide = to.element("div", {{"class", "wide"}});
  const auto table = to.element("table");
  // In the evening itself there is no later look to speak of.
  const auto& tripwires = page.sheet.tripwires;
  const bool later = std::any_of(tripwires.begin(), tripwires.end(),
                                 [](const auto& t) { return t.state != sheet::TripwireState::set; });
  if (later)
    page.columns({"paper.column_condition", "show.column_state", "paper.column_evening", "paper.column_now"});
  else
    page.columns({"paper.column_condition", "show.column_state", "paper.column_evening"});
  const auto body = to.element("tbody");
  for (const sheet::Tripwire& t : tripwires) {
    const auto row = to.element("tr");
    page.row_head(page.said(t.condition), t.finding.key.empty() ? "" : page.said(t.finding));
    {
      const auto cell = to.element("td", {{"class", "free"}});
      page.tag(mark_of_tripwire(t.state), page.word("paper.tripwire_" + std::string(name_of(t.state))));
    }
    page.cell(page.said(t.evening));
    if (later) page.cell(t.state == sheet::TripwireState::set ? "\xE2\x80\x93" : page.said(t.now));
  }
}

}  // namespace

void draw_head(Page& page) {
  const sheet::FlightSheet& s = page.sheet;
  Markup& to = page.to;
  const auto head = to.element("header");
  to.leaf("p", {{"class", "kind"}}, page.word("paper.title"));
  to.leaf("h1", page.said(say("paper.name", {{"balloon", s.balloon}, {"field", s.field}})));
  to.leaf("p", {{"class", "head"}},
          page.said(say("paper.when", {{"date", s.time.date()},
                                       {"time", s.time},
                                       {"planned", measure::of(s.planned)},
                                       {"as_of", s.as_of},
                                       {"offset", iso8601(s.as_of.offset)}})));
  {
    const Mark mark = mark_of_standing(s.standing);
    const auto standing =
        to.element("div", {{"class", "standing " + std::string(name_of_mark(mark))}, {"id", "standing"}});
    {
      const auto big = to.element("p", {{"class", "big"}});
      page.tag_only(mark);
      to.leaf("span", page.word("standing_word." + std::string(name_of(s.standing))));
    }
    to.leaf("p", page.said(s.standing_line));
  }
  const auto nav = to.element("nav", {{"aria-label", page.word("paper.contents")}});
  const auto list = to.element("ul");
  const auto link = [&](std::string_view target, std::string_view key) {
    const auto item = to.element("li");
    to.leaf("a", {{"href", "#" + std::string(target)}}, page.word(key));
  };
  const bool told = s.evening || !s.tripwires.empty() || !s.message.empty();
  if (told && s.evening) link("evening", "paper.evening");
  link("limits", "paper.limits");
  if (told && !s.evening) link("evening", "paper.evening");
  link("load", "paper.load");
  link("fuel", "paper.fuel");
  link("dates", "paper.dates");
  link("cautions", "paper.cautions");
  link("winds", "paper.winds");
  link("sources", "paper.sources");
  link("ground", "paper.ground");
  link("landing", "paper.landing");
}

void show_evening(Page& page) {
  const sheet::FlightSheet& s = page.sheet;
  if (!s.evening && s.changes.empty() && s.tripwires.empty() && s.message.empty()) return;
  Markup& to = page.to;
  const auto section = page.section("evening", s.evening ? "paper.since_evening" : "paper.evening", "full evening");
  if (s.evening) to.leaf("p", {{"class", "note"}}, page.said(say("paper.evening_made", {{"time", *s.evening}})));
  if (!s.changes.empty()) {
    const auto list = to.element("ul", {{"class", "plain"}});
    for (const sheet::Change& change : s.changes) {
      const auto item = to.element("li");
      if (change.worse) {
        page.tag(Mark::outside, page.word("paper.worse"));
        to.text(" ");
      }
      to.text(page.said(change.words));
    }
  } else if (s.evening) {
    to.leaf("p", page.word("paper.no_change"));
  }
  if (!s.tripwires.empty()) show_tripwires(page);
  if (!s.message.empty()) {
    to.leaf("h3", {{"class", "message-head"}}, page.word("paper.message"));
    const auto message = to.element("div", {{"class", "message"}});
    for (const Sentence& line : s.message) page.sentence(line);
  }
}

}  // namespace pappus::paper
