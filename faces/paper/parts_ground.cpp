// Ground that can be reached, and the landing card.
#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

Mark mark_of_place(steer::Reachable reachable) {
  switch (reachable) {
    case steer::Reachable::yes: return Mark::inside;
    case steer::Reachable::no: return Mark::outside;
    case steer::Reachable::not_known: return Mark::not_known;
  }
  return Mark::not_known;
}

std::string plan_of(const Page& page, const sheet::PlaceLine& place) {
  std::string out;
  for (const sheet::HoldLine& hold : place.plan)
    out += (out.empty() ? "" : ", ") +
           page.said(say("paper.hold", {{"height", measure::of(hold.height)}, {"time", measure::of(hold.time)}}));
  return out;
}

void show_places(Page& page, const sheet::ReachSection& reach) {
  Markup& to = page.to;
  if (reach.places.empty()) return;
  page.heading("paper.places");
  const auto wide = to.element("div", {{"class", "wide"}});
  const auto table = to.element("table");
  page.columns({"paper.column_place", "paper.column_reachable", "paper.column_time"});
  const auto body = to.element("tbody");
  int number = 0;
  for (const sheet::PlaceLine& place : reach.places) {
    const auto row = to.element("tr");
    page.row_head(std::to_string(++number) + " " + place.name,
                  page.said(say("paper.where", {{"bearing", page.said(place.bearing)},
                                                {"distance", measure::distance(place.distance)}})));
    {
      const auto cell = to.element("td", {{"class", "free"}});
      page.tag(mark_of_place(place.reachable), page.word("paper.reachable_" + std::string(name_of(place.reachable))));
      to.leaf("small", page.said(place.finding));
    }
    const bool timed = place.earliest && place.latest;
    const std::string plan = plan_of(page, place);
    page.cell(
        timed ? page.said(say("paper.from_to",
                              {{"earliest", measure::of(*place.earliest)}, {"latest", measure::of(*place.latest)}}))
              : page.not_known(),
        plan.empty() ? "" : page.said(say("paper.plan", {{"holds", plan}, {"time", page.said(place.plan_time)}})));
  }
}

void show_far(Page& page, const sheet::ReachSection& reach) {
  Markup& to = page.to;
  if (reach.far.empty()) return;
  page.heading("paper.far");
  const auto wide = to.element("div", {{"class", "wide"}});
  const auto table = to.element("table");
  page.columns({"paper.column_bearing", "paper.column_distance", "paper.column_ceiling", "paper.column_time"});
  const auto body = to.element("tbody");
  for (const sheet::FarLine& far : reach.far) {
    const auto row = to.element("tr");
    page.row_head(page.said(measure::of(far.bearing)));
    page.cell(page.said(measure::distance(far.distance)));
    page.cell(page.said(measure::of(far.ceiling)));
    page.cell(page.said(
        say("paper.from_to", {{"earliest", measure::of(far.earliest)}, {"latest", measure::of(far.latest)}})));
  }
}

std::string range(const Page& page, Length low, Length high) {
  return page.said(
      say("paper.range", {{"low", page.said(measure::length(low))}, {"high", page.said(measure::length(high))}}));
}

void show_run(Page& page, const sheet::RunLine& run) {
  const auto list = page.to.element("dl", {{"class", "facts"}});
  page.entry(page.word("paper.run_total"), range(page, run.total_low, run.total_high),
             page.said(say("paper.run_at", {{"wind", measure::wind(run.wind)}})));
  page.entry(page.word("paper.run_approach"), range(page, run.approach_low, run.approach_high));
  page.entry(page.word("paper.run_reaction"), page.said(measure::length(run.reaction)));
  page.entry(page.word("paper.run_drag"), range(page, run.drag_low, run.drag_high), page.word("paper.advisory"));
}

}  // namespace

void show_ground(Page& page) {
  const auto section = page.section("ground", "paper.ground");
  if (!page.sheet.reach) {
    page.to.leaf("p", page.word("paper.reach_not_known"));
    return;
  }
  const sheet::ReachSection& reach = *page.sheet.reach;
  draw_reach(page, reach);
  show_places(page, reach);
  show_far(page, reach);
  page.sentences(reach.notes, "notes");
}

void show_landing(Page& page) {
  const sheet::LandingSection& landing = page.sheet.landing;
  Markup& to = page.to;
  const auto section = page.section("landing", "paper.landing");
  {
    const auto list = to.element("dl", {{"class", "facts"}});
    page.entry(page.word("paper.land_by"), page.said(landing.land_by));
    page.entry(page.word("paper.decide_by"), page.said(landing.decide_by));
    const auto& wind = landing.surface_wind;
    page.entry(page.word("paper.surface_wind"), wind ? page.said(measure::wind(wind->best)) : page.not_known(),
               wind ? page.said(say("paper.wind_range",
                                    {{"low", measure::wind(wind->low)}, {"high", measure::wind(wind->high)}}))
                    : "");
    page.entry(page.word("paper.drift"), page.said(landing.drift));
    page.entry(page.word("paper.fuel_to_land"), page.said(landing.fuel_to_land_with));
    page.entry(page.word("paper.leads"), landing.leads.empty() ? page.not_known() : landing.leads);
  }
  page.heading("paper.time");
  page.sentence(landing.time_finding, "answer");
  for (const sheet::LandByLine& bound : landing.bounds)
    page.sentence(say("paper.bound", {{"what", page.said(bound.what)}, {"time", bound.time}}), "small");
  page.heading("paper.wind_below");
  page.sentence(landing.surface_wind_reason, "answer");
  page.sentence(landing.sink_finding, "answer");
  if (landing.sink) {
    const auto list = to.element("dl", {{"class", "facts"}});
    page.entry(page.word("paper.sink"), page.said(measure::vertical(landing.sink->sink_best)),
               page.said(say("paper.sink_range", {{"low", measure::vertical(landing.sink->sink_low)},
                                                  {"high", measure::vertical(landing.sink->sink_high)},
                                                  {"change", measure::wind(landing.sink->change)},
                                                  {"lost", measure::of(landing.sink->lift_lost)},
                                                  {"gone", measure::of(landing.sink->mostly_gone)}})));
  }
  page.heading("paper.room");
  page.sentence(landing.run_finding, "answer");
  if (landing.run) show_run(page, *landing.run);
  // Where no room is named there is nothing to hold the run against.
  if (!landing.room_finding.key.empty()) page.sentence(landing.room_finding, "answer");
  page.heading("paper.sun");
  page.sentence(landing.low_sun, "answer");
  page.heading("paper.fuel");
  page.sentence(landing.fuel_finding, "answer");
  page.heading("paper.standing_where");
  if (landing.standing.empty()) to.leaf("p", page.not_known());
  page.sentences(landing.standing, "plain");
  page.sentences(landing.notes, "notes");
}

}  // namespace pappus::paper
