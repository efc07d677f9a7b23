#include "faces/cli/show.hpp"

namespace pappus::cli {
namespace {

constexpr std::size_t kChartRows = 5, kChartColumns = 5;

std::string column(const char* key, const words::Reader& reader) {
  return words::worded("show.column_" + std::string(key), reader);
}

void show_climbs(Terminal& to, const sheet::ClimbSection& a, const words::Reader& reader) {
  if (a.climbs.empty()) return;
  to.line();
  to.line("  " + right(column("height", reader), 10) + right(column("spare", reader), 12) +
          right(column("climb", reader), 14));
  for (const motion::ClimbAt& c : a.climbs)
    to.line("  " + right(words::worded(measure::height(c.altitude - a.field), reader), 10) +
            right(words::worded(measure::of(c.excess), reader), 12) +
            right(words::worded(measure::vertical(c.climb), reader), 14));
}

// One line for each way it begins, one burner beside two.
void show_arrests(Terminal& to, const std::vector<motion::Arrest>& arrests, bool cold, bool two,
                  const words::Reader& reader) {
  if (arrests.empty()) return;
  to.line();
  to.paragraph(words::worded(cold ? "show.arrests_cold" : "show.arrests", reader), 2);
  const auto height = [&](const motion::Arrest& a) {
    return (a.height ? words::worded(measure::height(*a.height), reader) : words::worded("show.not_stopped", reader)) +
           (a.crown_too_hot ? " *" : "");
  };
  to.line("  " + right(column(cold ? "out_for" : "sink", reader), 10) + right(column("one_burner", reader), 13) +
          (two ? right(column("two_burners", reader), 13) : ""));
  const std::size_t step = two ? 2 : 1;
  for (std::size_t i = 0; i + step <= arrests.size(); i += step) {
    const motion::Arrest& one = arrests[i];
    const std::string from =
        cold ? words::duration(one.without_flame, reader) : words::worded(measure::vertical(one.sink), reader);
    to.line("  " + right(from, 10) + right(height(one), 13) + (two ? right(height(arrests[i + 1]), 13) : ""));
  }
}

void show_flame_out(Terminal& to, const sheet::ClimbSection& a, const words::Reader& reader) {
  if (a.flame_out.empty()) return;
  to.line();
  to.paragraph(words::worded("show.flame_out", reader), 2);
  to.line("  " + right(column("after", reader), 10) + right(column("sink", reader), 13) +
          right(column("lost", reader), 13));
  for (const motion::FlameOut& f : a.flame_out)
    to.line("  " + right(words::worded(measure::of(f.after), reader), 10) +
            right(words::worded(measure::vertical(f.sink), reader), 13) +
            right(words::worded(measure::height(f.lost), reader), 13));
}

void show_chart(Terminal& to, const balloon::LoadChart& chart, const words::Reader& reader) {
  to.heading(words::worded("show.load_chart", reader));
  to.paragraph(words::worded(say("show.load_chart_head", {{"inside", measure::of(chart.inside_mean)}}), reader), 2);
  const std::size_t down = (chart.heights.size() - 1) / (kChartRows - 1),
                    across = (chart.outside.size() - 1) / (kChartColumns - 1);
  std::string head = "  " + right("", 9);
  for (std::size_t c = 0; c < kChartColumns; ++c)
    head += right(words::worded(measure::of(chart.outside[c * across]), reader), 11);
  to.line(head);
  for (std::size_t r = 0; r < kChartRows; ++r) {
    std::string line = "  " + right(words::worded(measure::of(chart.heights[r * down]), reader), 9);
    for (std::size_t c = 0; c < kChartColumns; ++c) {
      const Mass left = chart.left[r * down][c * across];
      line += right(left > Mass{} ? words::worded(measure::of(left), reader) : "-", 11);
    }
    to.line(line);
  }
  if (chart.most)
    to.paragraph(words::worded(say("show.load_chart_most", {{"most", measure::of(*chart.most)}}), reader), 2);
}

}  // namespace

void show(Terminal& to, const sheet::ClimbSection& a, const words::Reader& reader) {
  const auto entry = [&](std::string_view key, const auto& value) {
    to.entry(words::worded(key, reader),
             value ? words::worded(*value, reader) : words::worded("show.not_known", reader));
  };
  const auto of = [](const auto& value, auto measure) -> std::optional<Measure> {
    return value ? std::optional{measure(*value)} : std::nullopt;
  };
  to.heading(words::worded("show.climb", reader));
  to.entry(words::worded("show.climb_mass", reader), words::worded(measure::of(a.mass), reader));
  entry("show.climb_rate", of(a.climb_rate, [](Speed s) { return measure::vertical(s); }));
  if (a.ceiling_looked_to)
    to.entry(words::worded("show.ceiling", reader),
             a.ceiling ? words::worded(measure::height(*a.ceiling - a.field), reader)
                       : words::worded(
                             say("show.ceiling_above", {{"height", measure::height(*a.ceiling_looked_to - a.field)}}),
                             reader));
  else
    to.entry(words::worded("show.ceiling", reader), words::worded("show.not_known", reader));
  entry("show.first_minute", of(a.first_minute, [](Length l) { return measure::height(l); }));
  if (a.first_minute)
    to.paragraph(words::worded(say(*a.first_minute < a.first_minute_floor ? "climb.first_minute_under"
                                                                          : "climb.first_minute_over",
                                   {{"floor", measure::height(a.first_minute_floor)}}),
                               reader),
                 2);
  show_climbs(to, a, reader);

  to.heading(words::worded("show.descent", reader));
  if (a.flame) {
    to.entry(words::worded("show.one_burner", reader), words::worded(measure::of(a.flame->power), reader));
    to.paragraph(words::worded(say("climb.flame", {{"rated", measure::of(a.flame->rated)},
                                                   {"pressure", measure::of(a.flame->pressure)},
                                                   {"flow", measure::of(a.flame->flow)}}),
                               reader),
                 2);
  }
  const bool two = a.burners >= 2;
  show_arrests(to, a.arrests, false, two, reader);
  show_arrests(to, a.from_cold, true, two, reader);
  show_flame_out(to, a, reader);
  if (a.sink_most)
    to.entry(words::worded("show.sink_most", reader), words::worded(measure::vertical(*a.sink_most), reader));

  to.heading(words::worded("show.false_lift", reader));
  to.paragraph(words::worded(a.false_lift_finding, reader), 2);
  if (a.false_lift && a.false_lift->expect) {
    const sheet::FalseLiftLine& f = *a.false_lift;
    to.paragraph(words::worded(say("climb.false_lift_gone", {{"lift_low", measure::of(f.lift_low)},
                                                             {"lift_high", measure::of(f.lift_high)},
                                                             {"sink_low", measure::vertical(f.sink_low)},
                                                             {"sink_high", measure::vertical(f.sink_high)},
                                                             {"time", measure::of(f.mostly_gone)}}),
                               reader),
                 2);
  }
  if (a.flown) {
    const sheet::FlownPlan& f = *a.flown;
    to.heading(words::worded("show.flown", reader));
    to.paragraph(words::worded(say(f.landed ? "climb.flown" : "climb.flown_not_landed",
                                   {{"highest", measure::height(f.highest - a.field)},
                                    {"down", measure::of(f.begins_down)},
                                    {"length", measure::of(f.length)}}),
                               reader),
                 2);
    to.entry(words::worded("show.flown_fuel", reader), words::worded(measure::of(f.fuel), reader));
    entry("show.flown_reckoned", of(f.reckoned, [](Mass m) { return measure::of(m); }));
  }
  if (a.load_chart) show_chart(to, *a.load_chart, reader);
  to.heading(words::worded("show.cautions", reader));
  show_notes(to, a.reasons, reader);
  show_notes(to, a.cautions, reader);
}

}  // namespace pappus::cli
