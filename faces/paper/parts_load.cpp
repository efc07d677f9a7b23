// Load sheet with lift, and fuel.
#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

void show_load_lines(Page& page) {
  const sheet::LoadSheet& load = page.sheet.load;
  Markup& to = page.to;
  const auto wide = to.element("div", {{"class", "wide"}});
  const auto table = to.element("table");
  page.columns({"paper.column_what", "paper.column_mass"});
  const auto line = [&](std::string_view what, std::string_view mass, std::string_view note) {
    const auto row = to.element("tr");
    page.row_head(what, note);
    page.cell(mass, {}, "n");
  };
  {
    const auto body = to.element("tbody");
    for (const sheet::LoadLine& l : load.lines)
      line(page.said(l.what), page.said(measure::of(l.mass)), l.note ? page.said(*l.note) : "");
  }
  const auto foot = to.element("tfoot");
  line(page.said(say("paper.load_total", {{"empty", measure::of(load.empty)},
                                          {"people", measure::of(load.people)},
                                          {"count", measure::count(load.people_count)},
                                          {"fuel", measure::of(load.fuel)}})),
       page.said(measure::of(load.total)), {});
  line(page.word("show.gross_limit"), page.said(load.gross_limit), {});
}

void show_lift(Page& page) {
  Markup& to = page.to;
  if (!page.sheet.lift) {
    to.leaf("p", page.word("paper.lift_not_known"));
    return;
  }
  const sheet::LiftSection& lift = *page.sheet.lift;
  {
    const auto list = to.element("dl", {{"class", "facts split"}});
    page.entry(page.word("show.worst_height"), page.said(measure::of(lift.worst_height)),
               page.said(say("paper.amsl", {{"altitude", measure::of(lift.worst_altitude)}})));
    page.entry(page.word("show.ambient_there"), page.said(measure::of(lift.ambient_there)));
    page.entry(page.word("show.mean_needed"), page.said(measure::of(lift.mean_temperature_needed)));
    page.entry(page.word("show.crown_expected"), page.said(measure::of(lift.crown_temperature_expected)));
    page.entry(page.word("show.crown_limit"), page.said(lift.crown_temperature_limit));
    const bool limited = lift.crown_temperature_limit.has_value();
    page.entry(page.word("show.gross_lift_there"),
               limited ? page.said(measure::of(lift.gross_lift)) : page.not_known());
    page.entry(page.word("show.carried"), page.said(measure::of(lift.carried)));
    page.entry(page.word("show.margin"), limited ? page.said(measure::of(lift.margin)) : page.not_known());
  }
  page.sentences(lift.notes, "notes");
}

void show_burn(Page& page, const sheet::FuelSection& fuel) {
  const auto list = page.to.element("dl", {{"class", "facts"}});
  const auto entry = [&](const std::string& name, Mass mass) { page.entry(name, page.said(measure::of(mass))); };
  page.entry(page.word("show.flow"), page.said(measure::of(fuel.flow)),
             page.said(say("paper.flow_unlucky", {{"flow", measure::of(fuel.flow_unlucky)},
                                                  {"uncertainty", measure::ratio(fuel.uncertainty_fraction)}})));
  entry(page.word("show.fuel_inflation"), fuel.inflation);
  entry(page.said(say("show.fuel_climbs", {{"count", measure::count(fuel.climb_count)}})), fuel.climbs);
  entry(page.word("show.fuel_level"), fuel.level);
  entry(page.said(say("show.fuel_allowance", {{"fraction", measure::ratio(fuel.allowance_fraction)}})), fuel.allowance);
  page.entry(page.word("paper.fuel_used"), page.said(measure::of(fuel.used)),
             page.said(say("paper.used_unlucky", {{"used", measure::of(fuel.used_unlucky)}})));
  if (fuel.missing > Mass{}) {
    const auto row = page.to.element("div");
    page.to.leaf("dt", page.word("paper.fuel_missing"));
    const auto value = page.to.element("dd");
    page.tag(Mark::outside, page.said(measure::of(fuel.missing)));
  }
  page.entry(page.word("paper.reserve"), page.said(measure::of(fuel.reserve)), page.word("paper.reserve_note"));
}

void show_cylinders(Page& page, const sheet::FuelSection& fuel) {
  Markup& to = page.to;
  {
    const auto wide = to.element("div", {{"class", "wide"}});
    const auto table = to.element("table");
    page.columns({"show.column_cylinder", "show.column_liquid", "show.column_pressure", "show.column_usable",
                  "show.column_drawn", "show.column_left"});
    const auto body = to.element("tbody");
    for (const sheet::CylinderLine& c : fuel.by_cylinder) {
      const auto row = to.element("tr");
      page.row_head(c.id, c.group.empty() ? "" : page.said(say("paper.side", {{"group", c.group}})));
      page.cell(c.liquid_low ? page.said(measure::liquid(*c.liquid_low)) : page.not_known(),
                c.liquid ? page.said(measure::of(c.mass)) : "");
      page.cell(page.said(c.pressure),
                c.temperature ? page.said(say("paper.at_temperature", {{"temperature", measure::of(*c.temperature)}}))
                              : page.not_known());
      const auto mass = [&](Mass m) { return c.liquid ? page.said(measure::of(m)) : page.not_known(); };
      page.cell(mass(c.usable));
      page.cell(mass(c.drawn));
      page.cell(mass(c.left), c.reserve ? page.said(measure::of(*c.reserve)) : "");
    }
  }
  for (const sheet::CylinderLine& c : fuel.by_cylinder) {
    if (c.words.empty() || !c.liquid_low) continue;
    std::string text = page.said(
        say("show.cylinder_between",
            {{"id", c.id}, {"low", measure::liquid(*c.liquid_low)}, {"high", measure::liquid(*c.liquid_high)}}));
    for (const Sentence& one : c.words) text += " " + page.said(one);
    to.leaf("p", {{"class", "small"}}, text);
  }
  for (const sheet::SideLine& side : fuel.sides)
    page.sentence(
        say("show.side",
            {{"group", side.group}, {"left", measure::of(side.left)}, {"reserve", measure::of(side.reserve)}}),
        "answer");
  std::string order;
  for (const Sentence& one : fuel.order) order += (order.empty() ? "" : " ") + page.said(one);
  to.leaf("p", {{"class", "small"}}, order);
}

}  // namespace

void show_load(Page& page) {
  Markup& to = page.to;
  const auto section = page.section("load", "paper.load", "full");
  {
    const auto pair = to.element("div", {{"class", "two-up"}});
    {
      const auto left = to.element("div");
      show_load_lines(page);
    }
    const auto right = to.element("div");
    if (page.sheet.lift) draw_lift(page, *page.sheet.lift);
  }
  show_lift(page);
  std::string text;
  for (const Sentence& one : page.sheet.handling.words) text += (text.empty() ? "" : " ") + page.said(one);
  to.leaf("p", {{"class", "small"}}, text);
}

void show_fuel(Page& page) {
  Markup& to = page.to;
  const auto section = page.section("fuel", "paper.fuel", "full");
  std::string known =
      page.sheet.book ? page.said(say("show.book_used", {{"book", *page.sheet.book}})) : page.word("show.no_book");
  if (page.sheet.fuel)
    for (const Sentence& note : page.sheet.fuel->notes) known += " " + page.said(note);
  to.leaf("p", {{"class", "small"}}, known);
  if (!page.sheet.fuel) {
    to.leaf("p", page.word("paper.fuel_not_known"));
    return;
  }
  const auto pair = to.element("div", {{"class", "two-up"}});
  {
    const auto left = to.element("div");
    show_burn(page, *page.sheet.fuel);
  }
  const auto right = to.element("div");
  show_cylinders(page, *page.sheet.fuel);
}

}  // namespace pappus::paper
