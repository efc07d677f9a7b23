// Dates, cautions, and the room to tick and sign on paper.
#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

constexpr int kBlankTicks = 6;  // beside what the sheet itself asks for

Mark mark_of_due(book::DueState state) {
  switch (state) {
    case book::DueState::current: return Mark::inside;
    case book::DueState::soon: return Mark::near;
    case book::DueState::passed: return Mark::outside;
    case book::DueState::not_known: return Mark::not_known;
  }
  return Mark::not_known;
}

void tick(Page& page, std::string_view text) {
  const auto item = page.to.element("li");
  page.to.leaf("span", {{"class", "box"}}, "");
  page.to.text(text);
}

void sign(Page& page, std::string_view key) {
  page.to.leaf("div", page.word(key));
  for (int i = 0; i < 3; ++i) page.to.leaf("div", {{"class", "blank"}}, "");
}

}  // namespace

void show_dates(Page& page) {
  Markup& to = page.to;
  const auto section = page.section("dates", "paper.dates", "full");
  if (page.sheet.dates.empty()) {
    to.leaf("p", page.word("paper.no_dates"));
    return;
  }
  const auto wide = to.element("div", {{"class", "wide"}});
  const auto table = to.element("table");
  page.columns({"paper.column_what", "show.column_state", "paper.column_until"});
  const auto body = to.element("tbody");
  for (const book::Due& due : page.sheet.dates) {
    const auto row = to.element("tr");
    std::string rule = due.paragraph;
    if (!due.sure) rule += (rule.empty() ? "" : ", ") + page.word("paper.check_locally");
    page.row_head(due.subject == book::Subject::cylinder ? page.said(say("show.date_cylinder", {{"id", due.of}}))
                                                         : page.word("book." + due.what + ".title"),
                  rule);
    {
      const auto cell = to.element("td", {{"class", "free"}});
      page.tag(mark_of_due(due.state), page.word("due_state." + std::string(name_of(due.state))));
    }
    const auto cell = to.element("td", {{"class", "free"}});
    if (due.until)
      to.text(iso8601(*due.until));
    else if (due.at)
      to.text(page.said(say("paper.hours", {{"hours", measure::number(due.at->in(hour))}})));
    else
      to.text(page.not_known());
    to.leaf("small", page.said(due.finding));
    if (due.remedy) to.leaf("small", "\xE2\x86\x92 " + page.said(*due.remedy));
    for (const Sentence& note : due.notes) to.leaf("small", page.said(note));
  }
}

void show_cautions(Page& page) {
  const auto section = page.section("cautions", "paper.cautions", "full");
  page.sentences(page.sheet.cautions, "notes");
}

void show_checklist(Page& page) {
  Markup& to = page.to;
  const auto section = page.section("checklist", "paper.checklist", "full paper");
  {
    const auto list = to.element("ul", {{"class", "ticks"}});
    for (const sheet::Limit& limit : page.sheet.limits)
      if (limit.state != sheet::LimitState::inside && limit.remedy)
        tick(page, page.word("limit." + limit.name + ".title") + ": " + page.said(*limit.remedy));
    for (int i = 0; i < kBlankTicks; ++i) {
      const auto item = to.element("li", {{"class", "blank"}});
      to.leaf("span", {{"class", "box"}}, "");
    }
  }
  const auto signatures = to.element("div", {{"class", "sign"}});
  // Two people side by side.
  for (int i = 0; i < 2; ++i)
    for (const char* key : {"paper.sign_role", "paper.sign_name", "paper.sign_signature", "paper.sign_time"})
      to.leaf("small", page.word(key));
  sign(page, "paper.sign_pilot");
  sign(page, "paper.sign_crew");
  sign(page, "paper.sign_lift_off");
  sign(page, "paper.sign_landing");
}

}  // namespace pappus::paper
