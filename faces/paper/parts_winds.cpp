// The wind sheet: by height, as drift, what it rests on, and pilot balloons.
#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

void show_levels(Page& page) {
  const sheet::WindSection& winds = page.sheet.winds;
  Markup& to = page.to;
  if (winds.levels.empty()) {
    to.leaf("p", page.word("paper.no_winds"));
  } else {
    const auto wide = to.element("div", {{"class", "wide"}});
    const auto table = to.element("table");
    page.columns({"paper.column_height", "show.column_from", "show.column_speed", "show.column_temperature",
                  "show.column_source"});
    const auto body = to.element("tbody");
    for (auto level = winds.levels.rbegin(); level != winds.levels.rend(); ++level) {
      const auto row = to.element("tr");
      page.row_head(page.said(measure::of(level->height)),
                    page.said(say("paper.amsl", {{"altitude", measure::of(level->altitude)}})));
      page.cell(level->from ? page.said(measure::of(*level->from)) : page.word("word.calm"));
      page.cell(page.said(measure::wind(level->speed)),
                page.said(say("paper.spread", {{"spread", measure::wind(level->spread)}})));
      page.cell(page.said(level->temperature));
      const auto cell = to.element("td", {{"class", "free"}});
      const auto list = to.element("ul");
      for (const sheet::SourceLine& s : level->sources) to.leaf("li", page.source(s.name, s.time));
    }
  }
  for (const sheet::GapLine& gap : winds.gaps)
    page.sentence(say("show.gap", {{"bottom", measure::of(gap.bottom)}, {"top", measure::of(gap.top)}}), "answer");
  if (winds.steerage)
    page.sentence(say("show.steerage", {{"turn", measure::of(winds.steerage->turn)},
                                        {"left", measure::of(winds.steerage->left_course)},
                                        {"left_height", measure::of(winds.steerage->left_height)},
                                        {"right", measure::of(winds.steerage->right_course)},
                                        {"right_height", measure::of(winds.steerage->right_height)}}),
                  "answer");
}

void show_air(Page& page) {
  const sheet::FlightSheet& s = page.sheet;
  page.heading("paper.air");
  const auto list = page.to.element("dl", {{"class", "facts"}});
  const auto air = [&](std::string_view key, const std::optional<Measure>& value) {
    page.entry(page.word(key), page.said(value));
  };
  air("show.station_pressure", s.air ? std::optional{measure::air(s.air->station_pressure)} : std::nullopt);
  air("show.pressure_altitude", s.air ? std::optional{measure::of(s.air->pressure_altitude)} : std::nullopt);
  air("show.density_altitude", s.air ? std::optional{measure::of(s.air->density_altitude)} : std::nullopt);
  if (!s.sun) {
    page.entry(page.word("show.sunrise"), page.not_known());
    return;
  }
  const auto time = [&](std::string_view key, const std::optional<Moment>& m) {
    page.entry(page.word(key), m ? page.said(m) : page.word("word.none"));
  };
  time("show.civil_dawn", s.sun->civil_dawn);
  time("show.sunrise", s.sun->sunrise);
  time("show.sunset", s.sun->sunset);
  time("show.civil_dusk", s.sun->civil_dusk);
}

void show_sources(Page& page) {
  Markup& to = page.to;
  to.leaf("h3", {{"id", "sources"}}, page.word("paper.sources"));
  if (page.sheet.sources.empty()) to.leaf("p", page.word("paper.no_sources"));
  if (!page.sheet.sources.empty()) {
    const auto list = to.element("dl", {{"class", "facts"}});
    for (const sheet::SourceUse& source : page.sheet.sources) {
      const auto entry = to.element("div");
      {
        const auto name = to.element("dt");
        to.text(page.said(source.what));
        to.leaf("small", page.source(source.name, source.time.at));
      }
      const auto what = to.element("dd");
      if (source.uses.empty()) to.leaf("p", page.word("paper.used_for_nothing"));
      for (const Sentence& use : source.uses) page.sentence(use);
      for (const Sentence& beaten : source.beaten) page.sentence(beaten, "note");
    }
  }
}

void show_pibals(Page& page) {
  Markup& to = page.to;
  for (const sheet::PibalSection& pibal : page.sheet.pibals) {
    to.leaf("h3",
            page.said(say("paper.pibal",
                          {{"name", pibal.name}, {"time", pibal.time}, {"rise", measure::vertical(pibal.rise_rate)}})));
    {
      // Not on paper: its winds stand in the table by height.
      const auto wide = to.element("div", {{"class", "wide pibal"}});
      const auto table = to.element("table");
      page.columns({"paper.column_layer", "show.column_from", "show.column_speed"});
      const auto body = to.element("tbody");
      for (auto layer = pibal.layers.rbegin(); layer != pibal.layers.rend(); ++layer) {
        const auto row = to.element("tr");
        page.row_head(
            page.said(say("paper.layer", {{"bottom", measure::of(layer->bottom)}, {"top", measure::of(layer->top)}})));
        page.cell(layer->from ? page.said(measure::of(*layer->from)) : page.word("word.calm"));
        page.cell(page.said(measure::wind(layer->speed)),
                  page.said(say("paper.spread", {{"spread", measure::wind(layer->spread)}})));
      }
    }
    page.sentences(pibal.flags, "notes");
  }
}

}  // namespace

void show_winds(Page& page) {
  Markup& to = page.to;
  const auto section = page.section("winds", "paper.winds", "full");
  {
    const auto pair = to.element("div", {{"class", "two-up"}});
    {
      const auto left = to.element("div");
      draw_winds(page);
    }
    const auto right = to.element("div");
    draw_hodograph(page);
  }
  const auto pair = to.element("div", {{"class", "two-up unequal"}});
  {
    const auto left = to.element("div");
    show_levels(page);
  }
  const auto right = to.element("div");
  show_air(page);
  show_sources(page);
  show_pibals(page);
}

}  // namespace pappus::paper
