// Ground that can be reached, seen from above: north up, the field in it, the low sun at landing.
#include <algorithm>

#include "core/base/math.hpp"
#include "faces/paper/page.hpp"

namespace pappus::paper {
namespace {

constexpr double kSide = 360.0, kEdge = 22.0;
constexpr Angle kSunHalf = Angle::from_degrees(15.0);  // dazzled to either side of the sun; ours
constexpr std::size_t kNameLetters = 14;

struct Ground {
  double east_m = 0.0, north_m = 0.0;
};

Ground at(TrueBearing bearing, Length distance) {
  return {distance.in(metre)*sin(bearing.from_north()), distance.in(metre)*cos(bearing.from_north())};
}

// From metres over the ground to the drawing: as large as fits, the middle of what is shown in its middle.
struct Map {
  double scale = 1.0, middle_east = 0.0, middle_north = 0.0;
  [[nodiscard]] Spot at(Ground g) const {
    return {kSide / 2.0 + (g.east_m - middle_east) * scale, kSide / 2.0 - (g.north_m - middle_north) * scale};
  }
};

struct Extent {
  double west = 0.0, east = 0.0, south = 0.0, north = 0.0;  // the field is always in it
  void take(Ground g) {
    west = std::min(west, g.east_m);
    east = std::max(east, g.east_m);
    south = std::min(south, g.north_m);
    north = std::max(north, g.north_m);
  }
};

Map map_of(const sheet::ReachSection& reach) {
  Extent extent;
  for (const sheet::CeilingLine& ceiling : reach.ceilings)
    for (const sheet::GroundPoint& p : ceiling.outline) extent.take({p.east.in(metre), p.north.in(metre)});
  for (const sheet::FarLine& far : reach.far) extent.take(at(far.bearing, far.distance));
  const double across = std::max({extent.east - extent.west, extent.north - extent.south, 1000.0});
  // A place much farther than the ground reached would make it a speck: it is shown at the edge instead.
  for (const sheet::PlaceLine& place : reach.places)
    if (place.distance.in(metre) < 1.3 * across)
      extent.take(place.bearing ? at(*place.bearing, place.distance) : Ground{});
  const double side = std::max({extent.east - extent.west, extent.north - extent.south, 1000.0});
  return {(kSide - 2.0 * kEdge) / side, (extent.west + extent.east) / 2.0, (extent.south + extent.north) / 2.0};
}

Path outline_of(const sheet::CeilingLine& ceiling, const Map& map) {
  Path out;
  for (const sheet::GroundPoint& p : ceiling.outline) {
    const Spot s = map.at({p.east.in(metre), p.north.in(metre)});
    out.to(s);
  }
  if (!out.empty()) out.close();
  return out;
}

void draw_sun(Page& page, Labels& labels, Spot field) {
  const sheet::LandingSection& landing = page.sheet.landing;
  if (!landing.sun_azimuth || !landing.sun_elevation || *landing.sun_elevation <= Angle{}) return;
  const Angle azimuth = landing.sun_azimuth->from_north();
  const auto away = [&](Angle a, double r) { return Spot{field.x + r * sin(a), field.y - r * cos(a)}; };
  // Far enough to leave the drawing, which cuts it.
  const double r = 2.0 * kSide;
  stroke(page.to, Path{}.move(field).line(away(azimuth - kSunHalf, r)).line(away(azimuth + kSunHalf, r)).close(),
         "sun");
  // The glyph stands where the sun's line meets the drawing's edge.
  double out = 0.0;
  const Box inner{16.0, 16.0, kSide - 16.0, kSide - 16.0};
  while (inner.holds(away(azimuth, out + 2.0))) out += 2.0;
  const Spot sun = away(azimuth, out);
  dot(page.to, sun, 6.0, "f-sun");
  labels.block({sun.x - 7.0, sun.y - 7.0, sun.x + 7.0, sun.y + 7.0});
  const std::string told = page.said(say("paper.sun_label", {{"elevation", measure::of(*landing.sun_elevation)}}));
  const bool right = sun.x < kSide / 2.0;
  const Anchor anchor = right ? Anchor::start : Anchor::end;
  const double x = right ? sun.x + 10.0 : sun.x - 10.0;
  if (!label_if_free(page.to, labels, {x, sun.y + 3.5}, told, anchor))
    label_if_free(page.to, labels, {x, sun.y + (sun.y < kSide / 2.0 ? 18.0 : -12.0)}, told, anchor);
}

// A full disc, a cross, an empty diamond: told apart without colour.
void draw_place(Markup& to, Spot s, steer::Reachable reachable) {
  switch (reachable) {
    case steer::Reachable::yes: dot(to, s, 5.0, "place-yes"); return;
    case steer::Reachable::no:
      stroke(to,
             Path{}
                 .move({s.x - 4.5, s.y - 4.5})
                 .line({s.x + 4.5, s.y + 4.5})
                 .move({s.x - 4.5, s.y + 4.5})
                 .line({s.x + 4.5, s.y - 4.5}),
             "place-no");
      return;
    case steer::Reachable::not_known:
      stroke(to,
             Path{}.move({s.x, s.y - 6.0}).line({s.x + 6.0, s.y}).line({s.x, s.y + 6.0}).line({s.x - 6.0, s.y}).close(),
             "place-unknown");
      return;
  }
}

// An arrow and its word in the first corner where nothing else stands.
void draw_drift(Page& page, Labels& labels) {
  const auto& drift = page.sheet.landing.drift;
  if (!drift) return;
  const std::string told = page.said(say("paper.drift_label", {{"toward", measure::of(*drift)}}));
  const double width = text_width(told, 10.0) + 4.0, height = 52.0;
  for (const Spot corner :
       {Spot{4.0, kSide - height - 2.0}, Spot{4.0, 4.0}, Spot{kSide - width - 4.0, kSide - height - 2.0}}) {
    if (!labels.take({corner.x, corner.y, corner.x + width, corner.y + height})) continue;
    const Spot middle{corner.x + 20.0, corner.y + 18.0};
    const double x = sin(drift->from_north()), y = -cos(drift->from_north());
    const Spot head{middle.x + 14.0 * x, middle.y + 14.0 * y}, tail{middle.x - 14.0 * x, middle.y - 14.0 * y};
    rule(page.to, tail, head, "s-ink");
    stroke(page.to,
           Path{}
               .move({head.x - 7.0 * x + 4.5 * y, head.y - 7.0 * y - 4.5 * x})
               .line(head)
               .line({head.x - 7.0 * x - 4.5 * y, head.y - 7.0 * y + 4.5 * x}),
           "s-ink");
    label(page.to, {corner.x + 2.0, corner.y + height - 4.0}, told);
    return;
  }
}

struct Placed {
  steer::Reachable reachable;
  Spot spot;
  std::string label;
};

// A place that lies beyond the drawing stands at its edge, on the line from the field, and its distance beside it.
std::vector<Placed> placed(const Page& page, const sheet::ReachSection& reach, const Map& map) {
  constexpr Box kInner{9.0, 9.0, kSide - 9.0, kSide - 9.0};
  const Spot field = map.at({});
  std::vector<Placed> out;
  for (const sheet::PlaceLine& place : reach.places) {
    const Spot there = map.at(place.bearing ? at(*place.bearing, place.distance) : Ground{});
    std::string label = std::to_string(out.size() + 1) + " " + shortened(place.name, kNameLetters);
    double part = 1.0;
    const auto along = [&](double p) {
      return Spot{field.x + p * (there.x - field.x), field.y + p * (there.y - field.y)};
    };
    if (!kInner.holds(there)) {
      const auto most = [](double from, double to, double low, double high) {
        return to > from ? (high - from) / (to - from) : to < from ? (low - from) / (to - from) : 1.0;
      };
      part = std::clamp(std::min(most(field.x, there.x, kInner.left, kInner.right),
                                 most(field.y, there.y, kInner.top, kInner.bottom)),
                        0.0, 1.0);
      label += ", " + page.said(measure::distance(place.distance));
    }
    out.push_back({place.reachable, along(part), std::move(label)});
  }
  return out;
}

void draw_places(Page& page, Labels& labels, const std::vector<Placed>& places) {
  for (const Placed& p : places) {
    draw_place(page.to, p.spot, p.reachable);
    const bool right = p.spot.x < kSide * 0.6;
    const Anchor anchor = right ? Anchor::start : Anchor::end;
    const double x = right ? p.spot.x + 9.0 : p.spot.x - 9.0;
    for (const double dy : {3.5, -7.0, 15.0, -18.0, 26.0})
      if (label_if_free(page.to, labels, {x, p.spot.y + dy}, p.label, anchor, "lbw")) break;
  }
}

void draw_rings(Page& page, Labels& labels, Spot field, double scale, double farthest_m) {
  for (const Ring& ring : rings(MeasureKind::distance, farthest_m, 4, page.reader)) {
    const double r = ring.si * scale;
    dot(page.to, field, r, "ring");
    // The label stands on the ring where there is room: east first, then round the compass.
    for (const double bearing : {90.0, 270.0, 0.0, 180.0, 45.0, 135.0, 225.0, 315.0}) {
      const Angle a = bearing * degree;
      if (label_if_free(page.to, labels, {field.x + r * sin(a), field.y - r * cos(a) + 3.0}, ring.label, Anchor::middle,
                        "tk"))
        break;
    }
  }
}

void draw_field(Page& page, Labels& labels, Spot field) {
  rule(page.to, {field.x - 6.0, field.y}, {field.x + 6.0, field.y}, "s-ink");
  rule(page.to, {field.x, field.y - 6.0}, {field.x, field.y + 6.0}, "s-ink");
  label_if_free(page.to, labels, {field.x, field.y + 16.0}, page.word("paper.field_short"), Anchor::middle);
}

void draw_north(Page& page) {
  constexpr double x = kSide - 14.0;
  stroke(page.to, Path{}.move({x, 34.0}).line({x, 14.0}).move({x - 4.0, 20.0}).line({x, 13.0}).line({x + 4.0, 20.0}),
         "s-ink");
  label(page.to, {x, 46.0}, page.word("paper.north"), Anchor::middle, "lbw");
}

}  // namespace

void draw_reach(Page& page, const sheet::ReachSection& reach) {
  const Map map = map_of(reach);
  const Spot field = map.at({});
  double farthest_m = 0.0;
  for (const sheet::FarLine& far : reach.far) farthest_m = std::max(farthest_m, far.distance.in(metre));
  for (const sheet::CeilingLine& ceiling : reach.ceilings)
    for (const sheet::GroundPoint& p : ceiling.outline)
      farthest_m = std::max(farthest_m, math::hypot(p.east.in(metre), p.north.in(metre)));
  figure(
      page,
      {.id = "ground-in-reach",
       .title = page.word("paper.reach_title"),
       .description = page.said(say("paper.reach_description", {{"time", measure::of(reach.flight_time)},
                                                                {"highest", measure::of(reach.highest)},
                                                                {"farthest", measure::distance(farthest_m * metre)}})),
       .caption = page.said(say("paper.reach_caption", {{"time", measure::of(reach.flight_time)},
                                                        {"highest", measure::of(reach.highest)},
                                                        {"sources", page.wind_sources()}})),
       .width = kSide,
       .height = kSide},
      [&] {
        Markup& to = page.to;
        Labels labels{{2.0, 2.0, kSide - 2.0, kSide - 2.0}};
        draw_sun(page, labels, field);
        {
          // One opacity over all of them: the ground reached in any way.
          const auto all = to.element("g", {{"class", "union"}});
          for (const sheet::CeilingLine& ceiling : reach.ceilings)
            if (ceiling.outline.size() > 2) to.empty("path", {{"d", outline_of(ceiling, map).d()}});
        }
        for (const sheet::CeilingLine& ceiling : reach.ceilings) stroke(to, outline_of(ceiling, map), "ceiling");
        labels.block({field.x - 6.0, field.y - 6.0, field.x + 6.0, field.y + 6.0});
        labels.block({kSide - 22.0, 8.0, kSide - 6.0, 50.0});  // north
        const std::vector<Placed> places = placed(page, reach, map);
        for (const Placed& p : places) labels.block({p.spot.x - 7.0, p.spot.y - 7.0, p.spot.x + 7.0, p.spot.y + 7.0});
        draw_drift(page, labels);
        draw_rings(page, labels, field, map.scale, farthest_m);
        for (const sheet::FarLine& far : reach.far) dot(to, map.at(at(far.bearing, far.distance)), 2.0, "f-blue");
        draw_places(page, labels, places);
        draw_field(page, labels, field);
        draw_north(page);
      });
}

}  // namespace pappus::paper
