// The winds as arrows from one point: where the balloon drifts at each height, north up.
#include <algorithm>

#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

constexpr double kSide = 360.0, kMiddle = 180.0, kReach = 150.0;

}  // namespace

void draw_hodograph(Page& page) {
  const sheet::WindSection& winds = page.sheet.winds;
  const auto top = top_of(page.sheet);
  if (!top || winds.levels.empty()) return;
  double most = 1.0;
  std::vector<const sheet::WindLine*> levels;
  for (const sheet::WindLine& level : winds.levels)
    if (level.height.from_origin() <= 1.25 * top->from_origin()) levels.push_back(&level);
  if (levels.empty()) return;
  for (const sheet::WindLine* level : levels) most = std::max(most, level->speed.in(metre_per_second));
  const std::vector<Ring> round = rings(MeasureKind::speed_wind, most, 4, page.reader);
  if (round.empty()) return;
  const double scale = kReach / round.back().si;
  const auto spot = [&](const sheet::WindLine& level) {
    if (!level.from) return Spot{kMiddle, kMiddle};
    const Angle toward = level.from->reversed().from_north();
    const double r = level.speed.in(metre_per_second)*scale;
    return Spot{kMiddle + r * sin(toward), kMiddle - r * cos(toward)};
  };
  std::string listed;
  for (const sheet::WindLine* level : levels)
    listed +=
        " " + page.said(say(
                  "paper.drift_level",
                  {{"height", measure::of(level->height)},
                   {"toward", level->from ? page.said(measure::of(level->from->reversed())) : page.word("word.calm")},
                   {"speed", measure::wind(level->speed)}}));
  figure(
      page,
      {.id = "hodograph",
       .title = page.word("paper.hodograph_title"),
       .description = page.word("paper.hodograph_description") + listed,
       .caption = page.said(say("paper.hodograph_caption", {{"sources", page.wind_sources()}})),
       .width = kSide,
       .height = kSide},
      [&] {
        Markup& to = page.to;
        Labels labels{{2.0, 2.0, kSide - 2.0, kSide - 2.0}};
        rule(to, {kMiddle, kMiddle - kReach - 8.0}, {kMiddle, kMiddle + kReach + 8.0}, "grid");
        rule(to, {kMiddle - kReach - 8.0, kMiddle}, {kMiddle + kReach + 8.0, kMiddle}, "grid");
        for (const Ring& ring : round) {
          dot(to, {kMiddle, kMiddle}, ring.si * scale, "ring");
          label_if_free(to, labels, {kMiddle + 2.0, kMiddle - ring.si * scale - 2.0}, ring.label, Anchor::start, "tk");
        }
        const auto side = [&](Spot at, std::string_view key) {
          const std::string name = page.word(key);
          label(to, at, name, Anchor::middle, "lbw");
          labels.block({at.x - 10.0, at.y - 10.0, at.x + 10.0, at.y + 3.0});
        };
        side({kMiddle - 10.0, 15.0}, "paper.north");
        side({kSide - 10.0, kMiddle - 4.0}, "paper.east");
        side({kMiddle - 10.0, kSide - 8.0}, "paper.south");
        side({10.0, kMiddle - 4.0}, "paper.west");
        for (std::size_t i = 0; i < levels.size(); ++i) {
          const Spot s = spot(*levels[i]);
          labels.block({s.x - 3.0, s.y - 3.0, s.x + 3.0, s.y + 3.0});
          if (i == 0) continue;
          const auto& low = *levels[i - 1];
          const bool known = std::none_of(winds.gaps.begin(), winds.gaps.end(), [&](const sheet::GapLine& gap) {
            return gap.bottom < levels[i]->altitude && gap.top > low.altitude;
          });
          // Between two levels without a gap the wind runs straight from one point to the other.
          if (known) rule(to, spot(low), s, "s-blue");
        }
        for (const sheet::WindLine* level : levels) {
          const Spot s = spot(*level);
          dot(to, s, 3.2, "f-blue");
          const std::string height = page.said(measure::of(level->height));
          const bool right = s.x >= kMiddle;
          if (label_if_free(to, labels, {right ? s.x + 6.0 : s.x - 6.0, s.y + 3.5}, height,
                            right ? Anchor::start : Anchor::end))
            continue;
          if (label_if_free(to, labels, {s.x, s.y - 6.0}, height, Anchor::middle)) continue;
          label_if_free(to, labels, {s.x, s.y + 14.0}, height, Anchor::middle);
        }
      });
}

}  // namespace pappus::paper
