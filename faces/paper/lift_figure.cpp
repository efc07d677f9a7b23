// What the balloon can carry by height against what it carries, and how hot its crown has to be for that.
#include <algorithm>
#include <functional>

#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

constexpr double kWidth = 360.0, kHeight = 330.0;
constexpr Box kMass{46.0, 40.0, 192.0, 292.0};
constexpr Box kHeat{212.0, 40.0, 350.0, 292.0};

struct Range {
  double low, high;
  void take(double x) {
    low = std::min(low, x);
    high = std::max(high, x);
  }
};

double kelvins(Temperature t) { return t.from_origin().in(kelvin); }

Path along(const std::vector<sheet::LiftCurveLine>& curve,
           const std::function<Spot(const sheet::LiftCurveLine&)>& spot) {
  Path out;
  for (const sheet::LiftCurveLine& line : curve) {
    out.to(spot(line));
  }
  return out;
}

}  // namespace

void draw_lift(Page& page, const sheet::LiftSection& lift) {
  if (lift.curve.size() < 2) return;
  const bool limited = lift.crown_temperature_limit.has_value();
  Range mass{lift.carried.in(kilogram), lift.carried.in(kilogram)};
  Range heat{kelvins(lift.ambient_there), kelvins(lift.crown_temperature_expected)};
  double highest = lift.worst_height.from_origin().in(metre);
  for (const sheet::LiftCurveLine& line : lift.curve) {
    if (limited) mass.take(line.gross_lift.in(kilogram));
    heat.take(kelvins(line.ambient));
    heat.take(kelvins(line.crown_expected));
    highest = std::max(highest, line.height.from_origin().in(metre));
  }
  if (limited) heat.take(kelvins(*lift.crown_temperature_limit));
  const double margin = std::max(10.0, 0.08 * (mass.high - mass.low));
  const words::Reader& reader = page.reader;
  const Axis up{MeasureKind::height, 0.0, highest, kMass.bottom, kMass.top, 9, reader};
  const Axis flat{
      MeasureKind::mass, std::max(0.0, mass.low - margin), mass.high + margin, kMass.left, kMass.right, 5, reader};
  const Axis warm{MeasureKind::temperature, heat.low, heat.high, kHeat.left, kHeat.right, 5, reader};

  const auto age = std::find_if(page.sheet.limits.begin(), page.sheet.limits.end(),
                                [](const sheet::Limit& l) { return l.name == "crown_temperature"; });
  const std::optional<Measure> oldest =
      age != page.sheet.limits.end() && age->age ? std::optional{measure::of(*age->age)} : std::nullopt;
  std::string caption = page.said(say("paper.lift_caption", {{"age", page.said(oldest)}}));
  if (lift.temperature_aloft_assumed) caption += " " + page.word("paper.lift_assumed");
  const std::string description = page.said(
      say("paper.lift_description", {{"height", measure::of(lift.worst_height)},
                                     {"lift", limited ? page.said(measure::of(lift.gross_lift)) : page.not_known()},
                                     {"load", measure::of(lift.carried)},
                                     {"crown", measure::of(lift.crown_temperature_expected)},
                                     {"limit", page.said(lift.crown_temperature_limit)},
                                     {"air", measure::of(lift.ambient_there)}}));
  figure(page,
         {.id = "lift-by-height",
          .title = page.word("paper.lift_title"),
          .description = description,
          .caption = caption,
          .width = kWidth,
          .height = kHeight},
         [&] {
           Markup& to = page.to;
           draw_upright(to, up, kMass, {});
           draw_upright(to, up, kHeat, {}, false);
           draw_flat(to, flat, kMass, page.word("paper.axis_mass") + ", " + flat.unit());
           draw_flat(to, warm, kHeat, page.word("paper.axis_temperature") + ", " + warm.unit());
           label(to, {2.0, 12.0}, page.word("paper.axis_height") + ", " + up.unit(), Anchor::start, "ax");
           const double worst_y = up.at(lift.worst_height.from_origin().in(metre));
           const auto y = [&](const sheet::LiftCurveLine& line) { return up.at(line.height.from_origin().in(metre)); };
           rule(to, {kMass.left, worst_y}, {kMass.right, worst_y}, "bar");
           rule(to, {kHeat.left, worst_y}, {kHeat.right, worst_y}, "bar");

           const double load_x = flat.at(lift.carried.in(kilogram));
           rule(to, {load_x, kMass.top}, {load_x, kMass.bottom}, "s-load");
           const bool left_half = load_x < (kMass.left + kMass.right) / 2.0;
           Labels labels{{2.0, 2.0, kWidth - 1.0, kMass.bottom}};
           label_if_free(to, labels, {left_half ? load_x - 2.0 : load_x + 2.0, kMass.top - 4.0},
                         page.word("paper.load_short") + " " + page.said(measure::of(lift.carried)),
                         left_half ? Anchor::start : Anchor::end);
           if (limited) {
             stroke(to,
                    along(lift.curve,
                          [&](const auto& line) {
                            return Spot{flat.at(line.gross_lift.in(kilogram)), y(line)};
                          }),
                    "s-blue");
             const Spot worst{flat.at(lift.gross_lift.in(kilogram)), worst_y};
             rule(to, {load_x, worst_y}, worst, "s-margin");
             label_if_free(to, labels, {kMass.left + 3.0, worst_y + 26.0},
                           page.word("show.margin") + " " + page.said(measure::of(lift.margin)));
             dot(to, worst, 4.5, "ringed");
             const bool room = worst.x < (kMass.left + kMass.right) / 2.0;
             label_if_free(to, labels, {room ? worst.x + 8.0 : worst.x - 8.0, worst_y + 13.0},
                           page.said(measure::of(lift.gross_lift)), room ? Anchor::start : Anchor::end, "t-blue");
           } else {
             draw_unknown(to, {load_x, kMass.top, kMass.right, kMass.bottom}, page.not_known());
           }
           label_if_free(to, labels, {kMass.left + 3.0, worst_y - 4.0},
                         page.word("paper.worst_short") + " " + page.said(measure::of(lift.worst_height)));

           stroke(to,
                  along(lift.curve,
                        [&](const auto& line) {
                          return Spot{warm.at(kelvins(line.ambient)), y(line)};
                        }),
                  "s-quiet");
           stroke(to,
                  along(lift.curve,
                        [&](const auto& line) {
                          return Spot{warm.at(kelvins(line.crown_expected)), y(line)};
                        }),
                  "s-warm");
           const double air_x = warm.at(kelvins(lift.ambient_there));
           const double crown_x = warm.at(kelvins(lift.crown_temperature_expected));
           dot(to, {air_x, worst_y}, 3.5, "f-quiet");
           dot(to, {crown_x, worst_y}, 4.5, "ringed");
           label_if_free(to, labels, {air_x + 6.0, worst_y - 4.0},
                         page.word("paper.air_short") + " " + page.said(measure::of(lift.ambient_there)));
           label_if_free(to, labels, {crown_x - 7.0, worst_y + 13.0},
                         page.word("paper.crown_short") + " " + page.said(measure::of(lift.crown_temperature_expected)),
                         Anchor::end, "t-warm");
           if (limited) {
             const double limit_x = warm.at(kelvins(*lift.crown_temperature_limit));
             rule(to, {limit_x, kHeat.top}, {limit_x, kHeat.bottom}, "s-bound");
             label_if_free(to, labels, {std::min(limit_x + 2.0, kWidth - 3.0), kHeat.top - 4.0},
                           page.word("paper.limit_short") + " " + page.said(measure::of(*lift.crown_temperature_limit)),
                           Anchor::end, "t-bad");
           }
         });
}

}  // namespace pappus::paper
