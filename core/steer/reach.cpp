// Notation as in the header: h ceiling, S(h) and tau(h) way and time up and down at full rates, K_h hull of the winds,
// W wind, T flight time, lambda the time that is left for holds.
#include "core/steer/reach.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <utility>

#include "core/base/interpolate.hpp"
#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::steer {
namespace {

constexpr double kSame_m = 1e-6;  // heights nearer than this are one
constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr double kRounding_s = 1e-6;
constexpr double kNearGround_m = wind::kSurfaceWindHeight.in(metre);
constexpr std::size_t kPlaceCeilings = 60, kPlanHeights = 30;

bool is_positive(double x) { return std::isfinite(x) && x > 0.0; }
double metres(HeightAgl h) { return h.from_origin().in(metre); }

Issue issue_at(Errc code, std::string key, Sentence sentence, std::string got, std::string wanted) {
  return Issue{code, std::move(sentence), Where{{}, 0, 0, std::move(key)}, std::move(got), std::move(wanted)};
}

template <class V>
double dot(V a, V b) {
  return a.east * b.east + a.north * b.north;
}
template <class V>
double cross(V a, V b) {
  return a.east * b.north - a.north * b.east;
}
template <class V>
V minus(V a, V b) {
  return {a.east - b.east, a.north - b.north};
}
template <class V>
V plus(V a, double k, V b) {
  return {a.east + k * b.east, a.north + k * b.north};
}

/// Corners of the convex hull, counter-clockwise, none on a straight edge (A. M. Andrew's monotone chain). A point that
/// sticks out of an edge by no more than rounding is on it: 1e-11 of its length, which is less than a micrometre here.
template <class V>
std::vector<V> hull(std::vector<V> points) {
  std::stable_sort(points.begin(), points.end(),
                   [](const V& a, const V& b) { return a.east != b.east ? a.east < b.east : a.north < b.north; });
  points.erase(std::unique(points.begin(), points.end(),
                           [](const V& a, const V& b) { return a.east == b.east && a.north == b.north; }),
               points.end());
  if (points.size() < 3) return points;
  std::vector<V> corners;
  const auto walk = [&corners](auto begin, auto end) {
    const std::size_t base = corners.size();
    for (auto p = begin; p != end; ++p) {
      while (corners.size() >= base + 2) {
        const V last = minus(corners.back(), corners[corners.size() - 2]), next = minus(*p, corners.back());
        if (cross(last, next) > 1e-11 * math::sqrt(dot(last, last) * dot(next, next))) break;
        corners.pop_back();
      }
      corners.push_back(*p);
    }
    corners.pop_back();  // the first of the other half
  };
  walk(points.begin(), points.end());
  walk(points.rbegin(), points.rend());
  return corners;
}

template <class V>
V nearest_on_segment(V p, V a, V b) {
  const V ab = minus(b, a);
  const double squared = dot(ab, ab);
  const double f = squared > 0.0 ? std::clamp(dot(minus(p, a), ab) / squared, 0.0, 1.0) : 0.0;
  return plus(a, f, ab);
}

/// `p` itself where it is inside. Domain: at least one corner.
template <class V>
V nearest_on_polygon(V p, const std::vector<V>& corners) {
  const std::size_t n = corners.size();
  bool inside = n >= 3;
  double nearest = kInfinity;
  V at = p;
  for (std::size_t i = 0; i < n; ++i) {
    const V a = corners[i], b = corners[(i + 1) % n];
    if (cross(minus(b, a), minus(p, a)) < 0.0) inside = false;
    const V on_edge = nearest_on_segment(p, a, b), rest = minus(p, on_edge);
    if (dot(rest, rest) < nearest) {
      nearest = dot(rest, rest);
      at = on_edge;
    }
  }
  return inside ? p : at;
}

struct Range {
  double low, high;
};
/// The part of the ray from the origin along `u` inside a polygon with an area.
template <class V>
std::optional<Range> along_ray(V u, const std::vector<V>& corners) {
  const std::size_t n = corners.size();
  if (n < 3) return std::nullopt;
  Range r{0.0, kInfinity};
  for (std::size_t i = 0; i < n; ++i) {
    const V a = corners[i], edge = minus(corners[(i + 1) % n], a);
    // cross(edge, s u - a) >= 0
    const double slope = cross(edge, u), bound = cross(edge, a);
    if (slope > 0.0)
      r.low = std::max(r.low, bound / slope);
    else if (slope < 0.0)
      r.high = std::min(r.high, bound / slope);
    else if (bound > 0.0)
      return std::nullopt;
  }
  if (!(r.low < r.high) || r.high == kInfinity) return std::nullopt;
  return r;
}

template <class V>
Polygon as_polygon(const std::vector<V>& corners) {
  Polygon out;
  for (const V& c : corners) out.push_back({c.east * metre, c.north * metre});
  return out;
}

void merge_stretches(std::vector<Stretch>& stretches) {
  std::stable_sort(stretches.begin(), stretches.end(),
                   [](const Stretch& a, const Stretch& b) { return a.near < b.near; });
  std::vector<Stretch> merged;
  for (const Stretch& s : stretches) {
    if (!merged.empty() && s.near <= merged.back().far)
      merged.back().far = std::max(merged.back().far, s.far);
    else
      merged.push_back(s);
  }
  stretches = std::move(merged);
}

std::optional<Issue> refusal(const Question& q) {
  if (!is_positive(q.flight_time.in(second)))
    return issue_at(Errc::bad_input, "flight_time", say("issue.reach_flight_time"), written(measure::of(q.flight_time)),
                    "> 0s");
  if (!is_positive(metres(q.ceiling)))
    return issue_at(Errc::bad_input, "ceiling", say("issue.reach_ceiling"), written(measure::of(q.ceiling)), "> 0m");
  if (!(metres(q.start) >= 0.0 && q.start <= q.ceiling))
    return issue_at(Errc::bad_input, "start", say("issue.reach_start", {{"ceiling", measure::of(q.ceiling)}}),
                    written(measure::of(q.start)), "0m .. " + written(measure::of(q.ceiling)));
  if (!(std::isfinite(metres(q.lowest_hold)) && metres(q.lowest_hold) >= 0.0))
    return issue_at(Errc::bad_input, "lowest_hold", say("issue.reach_lowest_hold"), written(measure::of(q.lowest_hold)),
                    ">= 0m");
  for (std::size_t i = 0; i < q.rates.size(); ++i) {
    const RateBand& band = q.rates[i];
    const std::string key = "rates[" + std::to_string(i) + "]";
    const bool rises =
        i == 0 ? metres(band.from) == 0.0 : std::isfinite(metres(band.from)) && band.from > q.rates[i - 1].from;
    if (!rises)
      return issue_at(Errc::bad_input, key + ".from", say("issue.reach_band"), written(measure::of(band.from)),
                      i == 0 ? "0m" : "> " + written(measure::of(q.rates[i - 1].from)));
    if (!is_positive(band.up.in(metre_per_second)))
      return issue_at(Errc::bad_input, key + ".up", say("issue.reach_rate"), written(measure::vertical(band.up)),
                      "> 0");
    if (!is_positive(band.down.in(metre_per_second)))
      return issue_at(Errc::bad_input, key + ".down", say("issue.reach_rate"), written(measure::vertical(band.down)),
                      "> 0");
  }
  if (q.rates.empty()) return issue_at(Errc::bad_input, "rates", say("issue.reach_no_rates"), {}, {});
  if (q.start > q.column.top())
    return issue_at(Errc::no_data, "start", say("issue.reach_start_unknown", {{"top", measure::of(q.column.top())}}),
                    written(measure::of(q.start)), "<= " + written(measure::of(q.column.top())));
  return std::nullopt;
}

}  // namespace

Length Displacement::distance() const { return math::hypot(east.in(metre), north.in(metre)) * metre; }

std::optional<TrueBearing> Displacement::bearing() const {
  if (distance() < 1.0 * metre) return std::nullopt;
  return TrueBearing::at(math::atan2(east.in(metre), north.in(metre)) * radian);
}

std::vector<RateBand> default_rates() {
  return {{agl(Length{}), 1.25 * metre_per_second, 1.25 * metre_per_second},
          {agl(100.0 * metre), 2.5 * metre_per_second, 2.0 * metre_per_second}};
}

Result<Column> Column::of(std::vector<Knot> knots) {
  const auto refused = [](std::size_t i) {
    return tl::unexpected<Issue>{
        issue_at(Errc::bad_input, "knots[" + std::to_string(i) + "]", say("issue.reach_knots"), {}, {})};
  };
  if (knots.size() < 2) return refused(knots.size());
  for (std::size_t i = 0; i < knots.size(); ++i) {
    const Knot& k = knots[i];
    if (!std::isfinite(metres(k.height)) || !std::isfinite(k.wind.east().in(metre_per_second)) ||
        !std::isfinite(k.wind.north().in(metre_per_second)) ||
        !(i == 0 ? metres(k.height) == 0.0 : metres(k.height) > metres(knots[i - 1].height) + kSame_m))
      return refused(i);
  }
  return Column{std::move(knots)};
}

Result<Column> Column::from(const wind::WindProfile& profile, HeightAgl up_to) {
  const AltitudeAmsl ground = profile.ground();
  if (!is_positive(metres(up_to)))
    return tl::unexpected<Issue>{
        issue_at(Errc::bad_input, "ceiling", say("issue.reach_ceiling"), written(measure::of(up_to)), "> 0m")};
  AltitudeAmsl top = above(ground, up_to);
  const auto gaps = profile.gaps(top);
  if (!gaps.empty()) top = std::min(top, gaps.front().bottom);
  const auto at_ground = profile.wind_at(ground);
  if (!at_ground || !(top > ground)) return fail(Errc::no_data, say("issue.reach_wind_at_ground"));
  std::vector<Knot> knots{{agl(Length{}), *at_ground}};
  const auto add = [&](AltitudeAmsl z, wind::Wind w) {
    const HeightAgl h = height_over(ground, z);
    if (metres(h) > metres(knots.back().height) + kSame_m) knots.push_back({h, w});
  };
  for (const wind::Level& level : profile.levels())
    if (level.altitude > ground && level.altitude <= top) add(level.altitude, level.wind);
  if (const auto at_top = profile.wind_at(top)) add(top, *at_top);
  if (knots.size() < 2) return fail(Errc::no_data, say("issue.reach_wind_at_ground"));
  return Column{std::move(knots)};
}

Reach::Node Reach::node_at(double z_m) const {
  const auto next = std::upper_bound(nodes_.begin() + 1, nodes_.end() - 1, z_m,
                                     [](double z, const Node& node) { return z < node.z_m; });
  const Node &a = *(next - 1), &b = *next;
  Node n = a;
  n.z_m = z_m;
  n.wind_east_m_s = on_line(z_m, a.z_m, a.wind_east_m_s, b.z_m, b.wind_east_m_s);
  n.wind_north_m_s = on_line(z_m, a.z_m, a.wind_north_m_s, b.z_m, b.wind_north_m_s);
  // The wind is linear in between and the rates are constant: the trapezium is exact.
  const double dz_m = z_m - a.z_m, up_s = dz_m / a.up_m_s, down_s = dz_m / a.down_m_s;
  const double east_m_s = 0.5 * (a.wind_east_m_s + n.wind_east_m_s);
  const double north_m_s = 0.5 * (a.wind_north_m_s + n.wind_north_m_s);
  n.up_s += up_s;
  n.down_s += down_s;
  n.up_east_m += up_s * east_m_s;
  n.up_north_m += up_s * north_m_s;
  n.down_east_m += down_s * east_m_s;
  n.down_north_m += down_s * north_m_s;
  return n;
}

Result<Reach> Reach::of(Question question) {
  if (auto issue = refusal(question)) return tl::unexpected<Issue>{std::move(*issue)};
  const auto& knots = question.column.knots();
  Reach reach;
  reach.flight_time_s_ = question.flight_time.in(second);
  reach.start_m_ = metres(question.start);
  reach.lowest_hold_m_ = metres(question.lowest_hold);

  const double top_m = metres(question.column.top());
  std::vector<double> heights_m;
  for (const auto& knot : knots) heights_m.push_back(metres(knot.height));
  for (const RateBand& band : question.rates)
    if (metres(band.from) < top_m) heights_m.push_back(metres(band.from));
  std::stable_sort(heights_m.begin(), heights_m.end());
  std::size_t knot = 0, band = 0;
  for (const double z_m : heights_m) {
    if (!reach.nodes_.empty() && z_m == reach.nodes_.back().z_m) continue;
    while (knot + 2 < knots.size() && metres(knots[knot + 1].height) <= z_m) ++knot;
    while (band + 1 < question.rates.size() && metres(question.rates[band + 1].from) <= z_m) ++band;
    const Column::Knot &a = knots[knot], &b = knots[knot + 1];
    const auto wind = [&](Speed low, Speed high) {
      return on_line(z_m, metres(a.height), low.in(metre_per_second), metres(b.height), high.in(metre_per_second));
    };
    Node n{};
    n.z_m = z_m;
    n.wind_east_m_s = wind(a.wind.east(), b.wind.east());
    n.wind_north_m_s = wind(a.wind.north(), b.wind.north());
    n.up_m_s = question.rates[band].up.in(metre_per_second);
    n.down_m_s = question.rates[band].down.in(metre_per_second);
    if (!reach.nodes_.empty()) {
      const Node& below = reach.nodes_.back();
      const double dz_m = z_m - below.z_m, up_s = dz_m / below.up_m_s, down_s = dz_m / below.down_m_s;
      const double east_m_s = 0.5 * (below.wind_east_m_s + n.wind_east_m_s);
      const double north_m_s = 0.5 * (below.wind_north_m_s + n.wind_north_m_s);
      n.up_s = below.up_s + up_s;
      n.down_s = below.down_s + down_s;
      n.up_east_m = below.up_east_m + up_s * east_m_s;
      n.up_north_m = below.up_north_m + up_s * north_m_s;
      n.down_east_m = below.down_east_m + down_s * east_m_s;
      n.down_north_m = below.down_north_m + down_s * north_m_s;
    }
    reach.nodes_.push_back(n);
  }

  if (reach.simple(reach.start_m_).time_s > reach.flight_time_s_)
    return tl::unexpected<Issue>{
        issue_at(Errc::out_of_range, "flight_time",
                 say("issue.reach_no_time", {{"needed", measure::of(reach.simple(reach.start_m_).time_s * second)}}),
                 written(measure::of(question.flight_time)),
                 ">= " + written(measure::of(reach.simple(reach.start_m_).time_s * second)))};
  const double ceiling_m = metres(question.ceiling);
  reach.highest_m_ = std::min(ceiling_m, top_m);
  reach.limit_ = ceiling_m > top_m + kSame_m ? CeilingLimit::limited_by_gap : CeilingLimit::asked;
  if (reach.simple(reach.highest_m_).time_s > reach.flight_time_s_) {
    // tau rises, linear between nodes: find the stretch that holds the flight time, then its place on it.
    double low_m = reach.start_m_, high_m = reach.highest_m_;
    for (const Node& n : reach.nodes_)
      if (n.z_m > low_m && n.z_m < high_m) {
        if (reach.simple(n.z_m).time_s <= reach.flight_time_s_) {
          low_m = n.z_m;
        } else {
          high_m = n.z_m;
        }
      }
    reach.highest_m_ =
        on_line(reach.flight_time_s_, reach.simple(low_m).time_s, low_m, reach.simple(high_m).time_s, high_m);
    reach.limit_ = CeilingLimit::flight_time;
  }
  constexpr std::size_t even = 32;
  for (std::size_t i = 0; i < even; ++i) {
    const double angle = 2.0 * pi * static_cast<double>(i) / even;
    reach.around_.push_back({math::sin(angle), math::cos(angle)});
  }
  for (const double h_m : reach.ceilings_m(kPlaceCeilings)) reach.ceilings_.push_back(reach.ceiling(h_m));
  return reach;
}

HeightAgl Reach::highest() const { return agl(highest_m_ * metre); }

Reach::Simple Reach::simple(double h_m) const {
  const Node top = node_at(h_m), start = node_at(start_m_);
  return {{top.up_east_m - start.up_east_m + top.down_east_m, top.up_north_m - start.up_north_m + top.down_north_m},
          top.up_s - start.up_s + top.down_s};
}

Reach::Ceiling Reach::ceiling(double h_m) const {
  Ceiling out{h_m, simple(h_m), {}};
  if (h_m < lowest_hold_m_) return out;
  std::vector<Vector> winds;
  const auto add = [&](const Node& n) { winds.push_back({n.wind_east_m_s, n.wind_north_m_s}); };
  add(node_at(lowest_hold_m_));
  for (const Node& n : nodes_)
    if (n.z_m > lowest_hold_m_ && n.z_m < h_m) add(n);
  add(node_at(h_m));
  out.winds = hull(std::move(winds));
  return out;
}

std::optional<CeilingReach> Reach::at(HeightAgl height) const {
  const double h_m = metres(height);
  if (!(h_m >= start_m_ - kSame_m && h_m <= highest_m_ + kSame_m)) return std::nullopt;
  const Ceiling c = ceiling(h_m);
  const Simple& s = c.simple;
  const double lambda_s = std::max(0.0, flight_time_s_ - s.time_s);
  std::vector<Vector> at_time, within_time{s.way_m};
  for (const Vector& w : c.winds) {
    at_time.push_back(plus(s.way_m, lambda_s, w));
    within_time.push_back(at_time.back());
  }
  return CeilingReach{height, s.time_s * second, as_polygon(hull(std::move(at_time))),
                      as_polygon(hull(std::move(within_time)))};
}

std::vector<double> Reach::ceilings_m(std::size_t count) const {
  std::vector<double> out{start_m_, highest_m_};
  for (std::size_t i = 1; i < count; ++i)
    out.push_back(start_m_ + (highest_m_ - start_m_) * static_cast<double>(i) / static_cast<double>(count));
  for (const Node& n : nodes_)
    if (n.z_m > start_m_ && n.z_m < highest_m_) out.push_back(n.z_m);
  if (lowest_hold_m_ > start_m_ && lowest_hold_m_ < highest_m_) out.push_back(lowest_hold_m_);
  std::stable_sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end(), [](double a, double b) { return b - a < kSame_m; }), out.end());
  return out;
}

Reach::Vector Reach::nearest(const Ceiling& c, Vector place_m) const {
  std::vector<Vector> corners{c.simple.way_m};
  for (const Vector& w : c.winds) corners.push_back(plus(c.simple.way_m, flight_time_s_ - c.simple.time_s, w));
  return nearest_on_polygon(place_m, hull(std::move(corners)));
}

// place - S in lambda K, to within the radius: for every direction n, n . (place - S) <= lambda max(n . K) + radius. The
// normals of K's edges make it exact for the polygon; evenly spaced ones round the corners of what the radius adds (to
// half a per cent), and hold K together where it has no area. Each is a bound of lambda.
std::optional<Reach::Window> Reach::window(const Ceiling& c, Vector place_m, double radius_m) const {
  const Simple& s = c.simple;
  const Vector d = minus(place_m, s.way_m);
  double low_s = 0.0, high_s = std::max(0.0, flight_time_s_ - s.time_s);
  const std::vector<Vector>& winds = c.winds;
  if (winds.empty()) {
    if (math::hypot(d.east, d.north) > radius_m) return std::nullopt;
    return Window{s.time_s, s.time_s};
  }
  bool possible = true;
  const auto bound_by = [&](Vector n) {
    double support = -kInfinity;
    for (const Vector& w : winds) support = std::max(support, dot(n, w));
    const double needed = dot(n, d) - radius_m;  // <= lambda support
    if (support > 0.0)
      low_s = std::max(low_s, needed / support);
    else if (support < 0.0)
      high_s = std::min(high_s, needed / support);
    else if (needed > 0.0)
      possible = false;
  };
  const auto bound_by_direction = [&](Vector v) {
    const double length = math::hypot(v.east, v.north);
    if (length > 0.0) bound_by({v.east / length, v.north / length});
  };
  for (const Vector& n : around_) bound_by(n);
  for (std::size_t i = 0; i < winds.size(); ++i) {
    const Vector edge = minus(winds[(i + 1) % winds.size()], winds[i]);
    bound_by_direction({edge.north, -edge.east});
    if (winds.size() == 2) bound_by_direction(edge);
  }
  if (winds.size() == 1) {
    bound_by_direction(winds.front());
    bound_by_direction({-winds.front().east, -winds.front().north});
  }
  if (!possible || low_s > high_s) return std::nullopt;
  return Window{s.time_s + low_s, s.time_s + high_s};
}

Footprint Reach::footprint(FootprintOptions options) const {
  const std::size_t sectors = std::max<std::size_t>(options.sectors, 1);
  Footprint out;
  out.highest = highest();
  out.limit = limit_;
  out.far.resize(sectors);
  const double half_sector_deg = 180.0 / static_cast<double>(sectors);
  std::vector<Vector> directions;
  for (std::size_t i = 0; i < 2 * sectors; ++i) {
    const TrueBearing bearing = TrueBearing::at(half_sector_deg * static_cast<double>(i) * degree);
    directions.push_back({sin(bearing.from_north()), cos(bearing.from_north())});
    out.rays.push_back({bearing, {}});
  }

  struct Far {
    Vector at_m;
    double distance_m = -1.0, ceiling_m = 0.0;
  };
  std::vector<Far> far(sectors);
  const auto offer = [&](std::size_t sector, Vector at_m, double ceiling_m) {
    const double distance_m = math::hypot(at_m.east, at_m.north);
    if (distance_m > far[sector].distance_m) far[sector] = {at_m, distance_m, ceiling_m};
  };
  for (const double h_m : ceilings_m(std::max<std::size_t>(options.ceilings, 1))) {
    out.ceilings.push_back(*at(agl(h_m * metre)));
    std::vector<Vector> corners;
    for (const Displacement& c : out.ceilings.back().within_time)
      corners.push_back({c.east.in(metre), c.north.in(metre)});
    // A polygon is farthest, within a sector, at one of its corners or where an edge leaves the sector.
    for (const Vector& c : corners) {
      const double bearing_deg = math::atan2(c.east, c.north) * (180.0 / pi) + 360.0;
      offer(static_cast<std::size_t>((bearing_deg + half_sector_deg) / (2.0 * half_sector_deg)) % sectors, c, h_m);
    }
    for (std::size_t i = 0; i < directions.size(); ++i)
      if (const auto range = along_ray(directions[i], corners)) {
        out.rays[i].stretches.push_back({range->low * metre, range->high * metre});
        const Vector exit = plus(Vector{0.0, 0.0}, range->high, directions[i]);
        if (i % 2 == 0) continue;  // of a sector's middle: never farther than its corners and ends
        offer(i / 2, exit, h_m);
        offer((i / 2 + 1) % sectors, exit, h_m);
      }
  }
  for (Ray& ray : out.rays) merge_stretches(ray.stretches);
  constexpr double own_place_m = 1e-3;
  for (std::size_t i = 0; i < sectors; ++i) {
    const Displacement at{far[i].at_m.east * metre, far[i].at_m.north * metre};
    const auto bearing = at.bearing();
    if (far[i].distance_m <= 0.0 || !bearing) continue;
    if (const auto w = window(ceiling(far[i].ceiling_m), far[i].at_m, own_place_m))
      out.far[i] = FarPoint{*bearing, at.distance(), agl(far[i].ceiling_m * metre), w->earliest_s * second,
                            w->latest_s * second};
  }
  return out;
}

std::optional<Plan> Reach::plan(Vector place_m, double radius_m, Vector aim_m, std::vector<double> heights_m) const {
  for (const double h_m : ceilings_m(kPlanHeights)) heights_m.push_back(h_m);
  // Near the ground the wind changes most, and what is slow and near is reached by waiting there.
  for (const double low_m : {lowest_hold_m_, kNearGround_m, 2.0 * kNearGround_m})
    if (low_m < highest_m_) heights_m.push_back(low_m);
  // Holds may lie below the start too.
  for (std::size_t i = 1; i < kPlanHeights; ++i)
    heights_m.push_back(highest_m_ * static_cast<double>(i) / static_cast<double>(kPlanHeights));
  std::stable_sort(heights_m.begin(), heights_m.end());
  heights_m.erase(std::unique(heights_m.begin(), heights_m.end(), [](double a, double b) { return b - a < kSame_m; }),
                  heights_m.end());

  struct Candidate {
    double ceiling_m, high_m, high_s, low_m, low_s, total_s, miss_m;
    Vector landing_m;
  };
  std::optional<Candidate> best;
  const auto better = [&](const Candidate& c) {
    if (!best) return true;
    return c.total_s != best->total_s ? c.total_s < best->total_s : c.ceiling_m < best->ceiling_m;
  };
  std::vector<Vector> winds;
  for (const double z_m : heights_m) {
    const Node n = node_at(z_m);
    winds.push_back({n.wind_east_m_s, n.wind_north_m_s});
  }
  // On the ground a balloon stands: it holds above it only.
  const auto may_hold = [&](double z_m) { return z_m >= lowest_hold_m_ && z_m > kSame_m; };
  for (std::size_t j = 0; j < heights_m.size(); ++j) {
    const double ceiling_m = std::max(heights_m[j], start_m_);
    const Simple s = simple(ceiling_m);
    const double left_s = flight_time_s_ - s.time_s;
    if (left_s < 0.0) continue;
    const Vector d = minus(aim_m, s.way_m);
    const auto offer = [&](std::size_t i, double high_s, double low_s) {
      const Vector landing = plus(plus(s.way_m, high_s, winds[j]), low_s, winds[i]);
      const Vector rest = minus(place_m, landing);
      const Candidate c{ceiling_m,
                        heights_m[j],
                        high_s,
                        heights_m[i],
                        low_s,
                        s.time_s + high_s + low_s,
                        math::hypot(rest.east, rest.north),
                        landing};
      if (c.miss_m <= radius_m && better(c)) best = c;
    };
    offer(j, 0.0, 0.0);
    if (!may_hold(heights_m[j])) continue;
    // One hold: as near to the place as it comes.
    const Vector w = winds[j];
    const double squared = dot(w, w);
    if (squared > 0.0) offer(j, std::clamp(dot(d, w) / squared, 0.0, left_s), 0.0);
    // Two: two equations for two times.
    for (std::size_t i = 0; i < j; ++i) {
      if (!may_hold(heights_m[i])) continue;
      const double determinant = cross(w, winds[i]);
      if (abs(determinant * metre).in(metre) < 1e-9) continue;
      const double high_s = cross(d, winds[i]) / determinant, low_s = cross(w, d) / determinant;
      // On an edge of what is within reach one of the times is 0, or nothing is left, but for rounding.
      if (high_s >= -kRounding_s && low_s >= -kRounding_s && high_s + low_s <= left_s + kRounding_s) {
        const double held_s = std::clamp(high_s, 0.0, left_s);
        offer(i, held_s, std::clamp(low_s, 0.0, left_s - held_s));
      }
    }
  }
  if (!best) return std::nullopt;
  Plan plan;
  constexpr double worth_a_hold_s = 0.5;
  if (best->high_s >= worth_a_hold_s) plan.holds.push_back({agl(best->high_m * metre), best->high_s * second});
  if (best->low_s >= worth_a_hold_s) plan.holds.push_back({agl(best->low_m * metre), best->low_s * second});
  plan.ceiling = agl(best->ceiling_m * metre);
  plan.total = best->total_s * second;
  plan.landing = {best->landing_m.east * metre, best->landing_m.north * metre};
  plan.miss = best->miss_m * metre;
  return plan;
}

PlaceReach Reach::place(const Place& place) const {
  const Vector at_m{place.at.east.in(metre), place.at.north.in(metre)};
  const double radius_m = std::max(0.0, place.radius.in(metre));
  struct Best {
    double value, ceiling_m;
  };
  // The best of a function of the ceiling: of those kept, then three times finer about the best.
  const auto least = [&](auto&& value) {
    Best best{kInfinity, start_m_};
    const auto try_out = [&](const Ceiling& c) {
      const double v = value(c);
      if (v < best.value) best = {v, c.h_m};
    };
    for (const Ceiling& c : ceilings_) try_out(c);
    const auto at = std::lower_bound(ceilings_.begin(), ceilings_.end(), best.ceiling_m,
                                     [](const Ceiling& c, double h_m) { return c.h_m < h_m; });
    double low_m = at == ceilings_.begin() ? at->h_m : (at - 1)->h_m;
    double high_m = at + 1 == ceilings_.end() ? at->h_m : (at + 1)->h_m;
    for (int pass = 0; pass < 3; ++pass) {
      const double step_m = (high_m - low_m) / 12.0;
      for (int i = 1; i < 12; ++i) try_out(ceiling(low_m + step_m * i));
      low_m = std::max(best.ceiling_m - step_m, low_m);
      high_m = std::min(best.ceiling_m + step_m, high_m);
    }
    return best;
  };
  const auto miss_m = [&](Vector p) { return math::hypot(p.east - at_m.east, p.north - at_m.north); };
  PlaceReach out;
  const Best nearest_ceiling = least([&](const Ceiling& c) { return miss_m(nearest(c, at_m)); });
  out.miss = nearest_ceiling.value * metre;
  if (nearest_ceiling.value > radius_m) {
    out.reachable = limit_ == CeilingLimit::limited_by_gap ? Reachable::not_known : Reachable::no;
    return out;
  }
  out.reachable = Reachable::yes;
  // A hair more than asked, so that a place that is just reached for the one measure is for the other.
  const double generous_m = radius_m + 1e-6;
  const auto bound = [&](const Ceiling& c, bool first) {
    const auto w = window(c, at_m, generous_m);
    return w ? (first ? w->earliest_s : -w->latest_s) : kInfinity;
  };
  const Best earliest = least([&](const Ceiling& c) { return bound(c, true); });
  if (earliest.value < kInfinity) {
    out.earliest = earliest.value * second;
    out.latest = -least([&](const Ceiling& c) { return bound(c, false); }).value * second;
  }
  // At the middle of the place, or where that is out of reach, at the ground nearest to it.
  const Vector aim_m = nearest(ceiling(nearest_ceiling.ceiling_m), at_m);
  out.plan = plan(at_m, radius_m, aim_m, {nearest_ceiling.ceiling_m, earliest.ceiling_m});
  if (out.plan && (!out.earliest || out.plan->total < *out.earliest)) out.earliest = out.plan->total;
  return out;
}

}  // namespace pappus::steer
