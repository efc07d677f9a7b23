// Wind by height: speed and direction side by side over one upright axis.
#include <algorithm>
#include <cmath>

#include "core/base/math.hpp"
#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

constexpr double kWidth = 360.0, kHeight = 330.0;
constexpr Box kSpeed{46.0, 26.0, 196.0, 292.0};
constexpr Box kDirection{218.0, 26.0, 318.0, 292.0};
constexpr double kArrows = 340.0;  // their middle
constexpr int kSteps = 8;          // between two levels: the wind is linear in its components, not in what is drawn

struct Drawn {
  double height_m, speed_m_s, spread_m_s;
  std::optional<double> from_deg;  // turned on from level to level, so that it does not jump at north
  double east_m_s, north_m_s;      // toward
};

Drawn at_level(const sheet::WindLine& level) {
  Drawn d{level.height.from_origin().in(metre),
          level.speed.in(metre_per_second),
          level.spread.in(metre_per_second),
          std::nullopt,
          0.0,
          0.0};
  if (level.from) {
    const Angle toward = level.from->reversed().from_north();
    d.from_deg = level.from->from_north().in(degree);
    d.east_m_s = d.speed_m_s * sin(toward);
    d.north_m_s = d.speed_m_s * cos(toward);
  }
  return d;
}

// A run of known levels without a gap between them, lowest first.
using Run = std::vector<Drawn>;

Drawn between(const Drawn& a, const Drawn& b, double part) {
  Drawn d{a.height_m + part * (b.height_m - a.height_m),
          0.0,
          0.0,
          std::nullopt,
          a.east_m_s + part * (b.east_m_s - a.east_m_s),
          a.north_m_s + part * (b.north_m_s - a.north_m_s)};
  d.speed_m_s = math::hypot(d.east_m_s, d.north_m_s);
  if (d.speed_m_s > 0.01) d.from_deg = math::atan2(-d.east_m_s, -d.north_m_s) * 180.0 / pi;
  return d;
}

void turn_on(std::vector<Run>& runs) {
  std::optional<double> before;
  for (Run& run : runs)
    for (Drawn& d : run) {
      if (!d.from_deg) continue;
      if (before) d.from_deg = *before + short_way((*d.from_deg - *before) * degree).in(degree);
      before = d.from_deg;
    }
}

bool parted(const sheet::WindSection& winds, AltitudeAmsl low, AltitudeAmsl high) {
  return std::any_of(winds.gaps.begin(), winds.gaps.end(),
                     [&](const sheet::GapLine& gap) { return gap.bottom < high && gap.top > low; });
}

void draw_arrow(Markup& to, Spot at, TrueBearing from) {
  // Points where the wind blows to, north up.
  const Angle toward = from.reversed().from_north();
  const double x = sin(toward), y = -cos(toward);
  const Spot head{at.x + 9.0 * x, at.y + 9.0 * y}, tail{at.x - 9.0 * x, at.y - 9.0 * y};
  rule(to, tail, head, "s-ink");
  stroke(to,
         Path{}
             .move({head.x - 5.0 * x + 3.0 * y, head.y - 5.0 * y - 3.0 * x})
             .line(head)
             .line({head.x - 5.0 * x - 3.0 * y, head.y - 5.0 * y + 3.0 * x}),
         "s-ink");
}

// Speed and direction along a run. At a calm level the wind has no direction, and its line is broken.
void draw_run(Markup& to, const Run& run, const Axis& up, const Axis& speed, const Axis& from) {
  Path speeds, directions;
  bool drawing = false;
  double before_deg = 0.0;
  for (std::size_t i = 0; i < run.size(); ++i) {
    const int steps = i + 1 < run.size() ? kSteps : 1;
    for (int k = 0; k < steps; ++k) {
      const Drawn d = k == 0 ? run[i] : between(run[i], run[i + 1], static_cast<double>(k) / kSteps);
      const double y = up.at(d.height_m);
      speeds.to({speed.at(d.speed_m_s), y});
      if (!d.from_deg) {
        drawing = false;
        continue;
      }
      const double turned =
          drawing ? before_deg + short_way((*d.from_deg - before_deg) * degree).in(degree) : *d.from_deg;
      if (drawing)
        directions.line({from.at(turned), y});
      else
        directions.move({from.at(turned), y});
      drawing = true;
      before_deg = turned;
    }
  }
  stroke(to, speeds, "s-blue");
  stroke(to, directions, "s-warm");
}

}  // namespace

void draw_winds(Page& page) {
  const sheet::WindSection& winds = page.sheet.winds;
  const auto top = top_of(page.sheet);
  const auto ground = field_of(page.sheet);
  if (!top || !ground) return;
  // A wind or two above the highest height shows where the profile leads; a sounding's stratosphere would only press
  // the heights that are flown to the ground.
  const Length drawn_top = 1.25 * top->from_origin();
  std::vector<Run> runs;
  std::vector<const sheet::WindLine*> levels;
  std::size_t higher = 0;
  for (const sheet::WindLine& level : winds.levels) {
    if (level.height.from_origin() > drawn_top) {
      ++higher;
      continue;
    }
    if (levels.empty() || parted(winds, levels.back()->altitude, level.altitude)) runs.emplace_back();
    runs.back().push_back(at_level(level));
    levels.push_back(&level);
  }
  turn_on(runs);

  double most_speed = 2.0, least_from = 360.0, most_from = 0.0;
  bool any_from = false;
  double highest = top->from_origin().in(metre);
  for (const Run& run : runs)
    for (const Drawn& d : run) {
      most_speed = std::max(most_speed, d.speed_m_s + d.spread_m_s);
      highest = std::max(highest, d.height_m);
      if (!d.from_deg) continue;
      least_from = any_from ? std::min(least_from, *d.from_deg) : *d.from_deg;
      most_from = any_from ? std::max(most_from, *d.from_deg) : *d.from_deg;
      any_from = true;
    }
  if (most_from - least_from < 90.0) {
    const double middle = any_from ? (least_from + most_from) / 2.0 : 180.0;
    least_from = middle - 45.0;
    most_from = middle + 45.0;
  }
  const words::Reader& reader = page.reader;
  const Axis up{MeasureKind::height, 0.0, highest, kSpeed.bottom, kSpeed.top, 9, reader};
  const Axis speed{MeasureKind::speed_wind, 0.0, most_speed, kSpeed.left, kSpeed.right, 6, reader};
  const Axis from{MeasureKind::bearing_true, least_from, most_from, kDirection.left, kDirection.right, 4, reader};

  std::string listed;
  for (const sheet::WindLine* level : levels)
    listed +=
        " " + page.said(say("paper.wind_level",
                            {{"height", measure::of(level->height)},
                             {"from", level->from ? page.said(measure::of(*level->from)) : page.word("word.calm")},
                             {"speed", measure::wind(level->speed)}}));
  std::string caption = page.said(say("paper.wind_caption", {{"sources", page.wind_sources()}}));
  if (higher > 0)
    caption += " " + page.said(say("paper.wind_higher", {{"count", measure::count(static_cast<double>(higher))}}));
  figure(page,
         {.id = "wind-by-height",
          .title = page.word("paper.wind_title"),
          .description = page.word("paper.wind_description") + listed,
          .caption = caption,
          .width = kWidth,
          .height = kHeight},
         [&] {
           Markup& to = page.to;
           draw_upright(to, up, kSpeed, {});
           draw_upright(to, up, kDirection, {}, false);
           draw_flat(to, speed, kSpeed, page.word("paper.axis_speed") + ", " + speed.unit());
           draw_flat(to, from, kDirection, page.word("paper.axis_from"));
           label(to, {2.0, 12.0}, page.word("paper.axis_height") + ", " + up.unit(), Anchor::start, "ax");
           label(to, {kWidth - 3.0, 12.0}, page.word("paper.axis_toward"), Anchor::end, "ax");
           for (const sheet::GapLine& gap : winds.gaps) {
             const double low = std::clamp((gap.bottom - *ground).in(metre), 0.0, highest);
             const double high = std::clamp((gap.top - *ground).in(metre), 0.0, highest);
             if (high <= low) continue;
             draw_unknown(to, {kSpeed.left, up.at(high), kSpeed.right, up.at(low)}, page.not_known());
             draw_unknown(to, {kDirection.left, up.at(high), kDirection.right, up.at(low)}, page.not_known());
           }
           for (const Run& run : runs) draw_run(to, run, up, speed, from);
           Labels speed_labels{{kSpeed.left, 14.0, kSpeed.right + 14.0, kSpeed.bottom + 3.0}};
           Labels from_labels{{kDirection.left, 14.0, kDirection.right + 4.0, kDirection.bottom + 3.0}};
           Labels arrows{{0.0, 0.0, kWidth, kHeight}};
           std::size_t i = 0;
           for (const Run& run : runs)
             for (const Drawn& d : run) {
               const sheet::WindLine& level = *levels[i++];
               const double y = up.at(d.height_m);
               const double x = speed.at(d.speed_m_s);
               rule(to, {speed.at(std::max(0.0, d.speed_m_s - d.spread_m_s)), y},
                    {speed.at(d.speed_m_s + d.spread_m_s), y}, "bar");
               dot(to, {x, y}, 3.0, "f-blue");
               const std::string told = page.said(measure::wind(level.speed));
               const bool right = x + 6.0 + text_width(told, 10.0) <= kSpeed.right + 14.0;
               label_if_free(to, speed_labels, {right ? x + 6.0 : x - 6.0, y - 3.5}, told,
                             right ? Anchor::start : Anchor::end, "t-blue");
               if (!level.from || !d.from_deg) continue;
               const double fx = from.at(*d.from_deg);
               dot(to, {fx, y}, 3.0, "f-warm");
               const std::string bearing = page.said(measure::of(*level.from));
               const bool room = fx + 6.0 + text_width(bearing, 10.0) <= kDirection.right + 4.0;
               label_if_free(to, from_labels, {room ? fx + 6.0 : fx - 6.0, y - 3.5}, bearing,
                             room ? Anchor::start : Anchor::end, "t-warm");
               if (arrows.take({kArrows - 9.0, y - 9.0, kArrows + 9.0, y + 9.0}))
                 draw_arrow(to, {kArrows, y}, *level.from);
             }
         });
}

}  // namespace pappus::paper
