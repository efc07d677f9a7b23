// Limits: first what stands against flying and what would settle it, then the rest; and the remedies.
#include <algorithm>

#include "core/people/aboard.hpp"
#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

constexpr std::string_view kDash = "\xE2\x80\x93";

using sheet::Limit;
using sheet::LimitState;

// What stands against flying comes first.
int rank(const Limit& limit) {
  switch (limit.state) {
    case LimitState::outside: return limit.accepted ? 2 : 0;
    case LimitState::not_known: return limit.kind == sheet::LimitKind::must ? 1 : 3;
    case LimitState::near: return 2;
    case LimitState::inside: return 4;
  }
  return 0;
}

std::string bound_text(const Page& page, const Limit& limit) {
  if (!limit.bound) return page.word("word.none");
  return page.word(limit.bound->side == sheet::Side::at_most ? "show.at_most" : "show.at_least") + " " +
         page.said(limit.bound->value);
}

// What the browser is told of a row that is laid out as a grid: it stays a row.
void show_row(Page& page, const Limit& limit) {
  Markup& to = page.to;
  const auto row = to.element("tr", {{"role", "row"}});
  const auto cell = [&](std::string_view look, std::string_view key, std::string_view value, std::string_view small) {
    const auto td = to.element("td", {{"role", "cell"}, {"class", look}, {"data-l", page.word(key)}});
    to.text(value);
    if (!small.empty()) to.leaf("small", small);
  };
  {
    const auto td = to.element("td", {{"role", "cell"}, {"class", "state"}});
    page.tag(mark_of(limit.state), page.word("state." + std::string(name_of(limit.state))));
  }
  to.leaf("th", {{"role", "rowheader"}, {"scope", "row"}}, page.word("limit." + limit.name + ".title"));
  // Some limits are judged without a figure (no storm was seen): that is not the same as not knowing.
  const bool figureless = !limit.value && limit.state != LimitState::not_known;
  cell("value", "show.column_value", figureless ? std::string(kDash) : page.said(limit.value), {});
  cell("bound", "show.column_bound", bound_text(page, limit), {});
  cell("whose", "show.column_whose", page.word("authority." + std::string(name_of(limit.source.kind))),
       limit.source.name);
  cell(limit.age ? "age" : "age ageless", "show.column_age",
       limit.age ? page.said(measure::of(*limit.age)) : std::string(kDash), {});
  const auto says = to.element("td", {{"role", "cell"}, {"class", "says"}});
  page.sentence(limit.finding);
  if (limit.accepted)
    page.sentence(say("show.accepted", {{"reason", limit.accepted->reason}, {"time", limit.accepted->time}}));
  if (limit.remedy) to.leaf("p", {{"class", "cure"}}, "\xE2\x86\x92 " + page.said(*limit.remedy));
  for (const Sentence& note : limit.notes) page.sentence(note, "small");
}

void show_table(Page& page, const std::vector<const Limit*>& limits, std::string_view look) {
  Markup& to = page.to;
  const auto table = to.element("table", {{"role", "table"}, {"class", look}});
  {
    const auto head = to.element("thead", {{"role", "rowgroup"}});
    const auto row = to.element("tr", {{"role", "row"}});
    for (const char* key : {"show.column_state", "show.column_limit", "show.column_value", "show.column_bound",
                            "show.column_whose", "show.column_age", "paper.column_found"})
      to.leaf("th", {{"role", "columnheader"}, {"scope", "col"}}, page.word(key));
  }
  const auto body = to.element("tbody", {{"role", "rowgroup"}});
  for (const Limit* limit : limits) show_row(page, *limit);
}

}  // namespace

void show_limits(Page& page) {
  std::vector<const Limit*> open, calm;
  for (const Limit& limit : page.sheet.limits) (limit.state == LimitState::inside ? calm : open).push_back(&limit);
  std::stable_sort(open.begin(), open.end(), [](const Limit* a, const Limit* b) { return rank(*a) < rank(*b); });
  {
    const auto section = page.section("limits", "paper.against", "full");
    if (open.empty())
      page.to.leaf("p", page.word(calm.empty() ? "paper.no_limits" : "paper.none_open"));
    else
      show_table(page, open, "limits");
  }
  if (calm.empty()) return;
  const auto section = page.section("inside", "paper.inside", "full");
  show_table(page, calm, "limits calm");
}

void show_remedies(Page& page) {
  if (!page.sheet.remedies) return;
  const sheet::RemediesSection& remedies = *page.sheet.remedies;
  Markup& to = page.to;
  const auto section = page.section("remedies", "paper.remedies", "full");
  page.sentence(remedies.finding);
  if (!remedies.found.empty()) {
    const auto list = to.element("ol");
    for (const sheet::RemedyLine& line : remedies.found) {
      const auto item = to.element("li");
      for (std::size_t i = 0; i < line.words.size(); ++i) {
        if (i > 0) to.text(" ");
        to.leaf(i == 0 ? "b" : "span", page.said(line.words[i]));
      }
      std::string who;
      for (const std::string& name : line.who) {
        // A person without a name is told by role, which has a word of its own.
        const auto role = named<people::Role>(name);
        who += (who.empty() ? "" : ", ") + (role ? page.word("word." + name) : name);
      }
      if (!who.empty()) to.leaf("small", " " + page.said(say("show.remedy_who", {{"who", who}})));
    }
  }
  if (!remedies.none.empty()) {
    // What was tried in vain: on the screen only.
    const auto tried = to.element("div", {{"class", "in-vain"}});
    to.leaf("p", {{"class", "small"}}, page.word("show.remedies_none"));
    page.sentences(remedies.none, "notes");
  }
  page.sentences(remedies.notes, "notes");
}

}  // namespace pappus::paper
