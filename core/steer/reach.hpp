/// Where a balloon can come down by choosing heights, in a steady wind that is the same over the whole country and known
/// by height.
///
/// A path that goes up to a ceiling h and comes down again crosses every height below h at least once each way. That
/// fixes a part of its way and of its time; the rest of the time it may spend at any heights up to h. So all places
/// with that ceiling are one convex polygon, and what can be reached is the union over the ceilings:
///
///     landing at T:   C_h(T) = S(h) + (T - tau(h)) K_h
///     landing by T:   D_h(T) = S(h) + convex hull of 0 and (T - tau(h)) K_h
///     S(h)   the way of a climb to h and a descent at full rates: integral of W (1/up + 1/down) dz
///     tau(h) its time;   K_h  the convex hull of the winds from the lowest hold to h
///
/// The union is not convex, and its convex hull is not reachable: a climb takes its time first.
///
///     const auto column = Column::from(profile, agl(1000.0 * metre));
///     const auto reach = Reach::of({.column = *column, .ceiling = agl(1000.0 * metre), .flight_time = 60.0 * minute});
///     const Footprint all = reach->footprint();
///     const PlaceReach field = reach->place({.at = {3000.0 * metre, 4000.0 * metre}});
///
/// Flat ground: heights count from where the balloon lands. Nothing here knows of wires, airspace or fuel.
/// Source    derived here; see tests/core/steer/reach_test.cpp for the paths that it was held against. That an integral
///           of sets is convex is R. J. Aumann's theorem (1965).
#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"
#include "core/wind/profile.hpp"

namespace pappus::steer {

/// A way over the ground.
struct Displacement {
  Length east, north;
  [[nodiscard]] Length distance() const;
  /// None within 1 m: a place under the basket lies in no direction.
  [[nodiscard]] std::optional<TrueBearing> bearing() const;
  friend constexpr bool operator==(Displacement, Displacement) = default;
};

/// From `from` up to the next band, or without end. A real balloon's rates change with load and air: these are what the
/// pilot means to use.
struct RateBand {
  HeightAgl from;
  Speed up, down;
};
/// 1.25 m/s either way in the lowest 100 m; above, 2.5 m/s up and 2 m/s down. Ours.
std::vector<RateBand> default_rates();

/// The wind by height from the ground up to where it is known, linear in its components between knots.
class Column {
 public:
  struct Knot {
    HeightAgl height;
    wind::Wind wind;
  };
  /// The known winds of a profile, from its ground to its first gap or to `up_to`, whichever is lower. Exact: a profile
  /// is linear between its levels.
  /// Errors    Errc::no_data where the wind at the ground is not known: then nothing can be said. Errc::bad_input for an
  ///           `up_to` that is not above the ground.
  static Result<Column> from(const wind::WindProfile& profile, HeightAgl up_to);
  /// Errors    Errc::bad_input unless there are two knots or more, strictly rising from height 0, all finite.
  static Result<Column> of(std::vector<Knot> knots);

  [[nodiscard]] const std::vector<Knot>& knots() const { return knots_; }
  [[nodiscard]] HeightAgl top() const { return knots_.back().height; }

 private:
  explicit Column(std::vector<Knot> knots) : knots_{std::move(knots)} {}
  std::vector<Knot> knots_;
};

struct Question {
  Column column;
  HeightAgl ceiling;     // the highest that may be flown
  Duration flight_time;  // to the landing at the latest
  std::vector<RateBand> rates = default_rates();
  HeightAgl start = {};  // where the balloon is now: 0 before launch
  // It climbs and descends through lower heights and does not stay there. Ours: where surface winds are measured; a
  // wind nearer to the ground is hardly known.
  HeightAgl lowest_hold = agl(wind::kSurfaceWindHeight);
};

/// What keeps the ceilings as low as they are.
enum class CeilingLimit {
  asked,           // the ceiling of the question
  limited_by_gap,  // above, it is not known where the wind is: what lies within reach there is not known
  flight_time      // a climb to more leaves no time to come down
};

/// Counter-clockwise (east to the right, north up). One corner or two where it has no area; none where it is empty.
using Polygon = std::vector<Displacement>;

struct CeilingReach {
  HeightAgl ceiling;
  Duration least_time;  // up and down without a hold
  Polygon at_time;      // landing when the flight time is over
  Polygon within_time;  // landing then or earlier
};

/// The farthest place in one sector.
struct FarPoint {
  TrueBearing bearing;  // of the place itself
  Length distance;
  HeightAgl ceiling;
  Duration earliest, latest;  // with this ceiling
};

/// What can be reached along one bearing: stretches from near to far, rising, apart from each other.
struct Stretch {
  Length near, far;
};
struct Ray {
  TrueBearing bearing;
  std::vector<Stretch> stretches;
};

struct Footprint {
  std::vector<CeilingReach> ceilings;        // rising
  std::vector<std::optional<FarPoint>> far;  // one a sector, the first about north; none where nothing is in reach
  std::vector<Ray> rays;                     // two a sector: its middle, then its clockwise end
  HeightAgl highest;
  CeilingLimit limit = CeilingLimit::asked;
};

struct Place {
  Displacement at;               // from where the balloon is now
  Length radius = 50.0 * metre;  // nearer than this is there
};

struct Hold {
  HeightAgl height;
  Duration time;
};
/// Climb or descend at full rate from hold to hold, then land.
struct Plan {
  std::vector<Hold> holds;  // none, one or two, in the order flown: the higher first, so that the last is flown low
  HeightAgl ceiling;
  Duration total;
  Displacement landing;
  Length miss;  // from the place
};

enum class Reachable {
  yes,
  no,
  not_known  // not by the winds that are known, and there are heights whose wind is not
};
struct PlaceReach {
  Reachable reachable = Reachable::no;
  std::optional<Duration> earliest, latest;  // of landings there; only if reachable, and by known winds
  Length miss;                               // from the place to the nearest reachable ground; 0 inside
  std::optional<Plan> plan;                  // the shortest found with two holds at most; a place may need three
};

/// Made from a question; then total.
class Reach {
 public:
  /// Errors    Errc::bad_input, with the key of the field: a flight time, ceiling or rate that is no positive number, a
  ///           start above the ceiling or below the ground, a lowest hold below the ground; bands that do not rise from
  ///           height 0. Errc::no_data: a start above the known winds. Errc::out_of_range: not even time to come down.
  static Result<Reach> of(Question question);

  [[nodiscard]] HeightAgl highest() const;  // of all ceilings
  [[nodiscard]] CeilingLimit limit() const { return limit_; }

  /// The two polygons of one ceiling. Exact. Domain: from the start to highest(); otherwise none.
  /// Laws      no path that keeps to the rates and has this ceiling lands outside `within_time`, nor at the flight time
  ///           outside `at_time`; turning every wind turns the polygons.
  [[nodiscard]] std::optional<CeilingReach> at(HeightAgl height) const;

  /// The union over `ceilings` evenly spaced heights and the knots of wind and rates, from the start to highest().
  ///
  /// Accuracy  between two ceilings the edge is missed to second order of their distance (5 m at 67 m and a shear of
  ///           0.01 /s); tests/core/steer/reach_test.cpp.
  /// Laws      everything is reachable; where the flight time is longer every polygon `within_time` still holds the
  ///           shorter one's; a ray's stretches are within the polygons.
  struct FootprintOptions {
    std::size_t ceilings = 30;
    std::size_t sectors = 36;
  };
  [[nodiscard]] Footprint footprint() const { return footprint(FootprintOptions{}); }
  [[nodiscard]] Footprint footprint(FootprintOptions options) const;

  /// Whether a place can be reached, when, and how with two holds.
  /// Laws      a place at the corner of any `within_time` is reachable; earliest <= latest <= flight time; a plan flown
  ///           lands within the radius (tests fly it with their own integrator).
  [[nodiscard]] PlaceReach place(const Place& place) const;

 private:
  struct Node {  // prefix integrals from the ground
    double z_m, up_s, down_s;
    double up_east_m, up_north_m, down_east_m, down_north_m;
    double wind_east_m_s, wind_north_m_s;
    double up_m_s, down_m_s;  // above this node
  };
  struct Vector {
    double east, north;
  };
  struct Simple {  // S and tau of one ceiling
    Vector way_m;
    double time_s;
  };
  struct Window {
    double earliest_s, latest_s;
  };
  struct Ceiling {
    double h_m;
    Simple simple;
    std::vector<Vector> winds;  // corners of K_h: none below the lowest hold
  };
  Reach() = default;
  [[nodiscard]] Node node_at(double z_m) const;
  [[nodiscard]] Simple simple(double h_m) const;
  [[nodiscard]] Ceiling ceiling(double h_m) const;
  [[nodiscard]] std::vector<double> ceilings_m(std::size_t count) const;
  [[nodiscard]] Vector nearest(const Ceiling& c, Vector place_m) const;  // within its reach
  [[nodiscard]] std::optional<Window> window(const Ceiling& c, Vector place_m, double radius_m) const;
  [[nodiscard]] std::optional<Plan> plan(Vector place_m, double radius_m, Vector aim_m,
                                         std::vector<double> heights_m) const;

  std::vector<Node> nodes_;
  std::vector<Ceiling> ceilings_;  // rising: where the search for a place begins
  std::vector<Vector> around_;     // evenly spaced directions
  double flight_time_s_ = 0.0, start_m_ = 0.0, lowest_hold_m_ = 0.0, highest_m_ = 0.0;
  CeilingLimit limit_ = CeilingLimit::asked;
};

}  // namespace pappus::steer

namespace pappus {
template <>
struct Names<steer::CeilingLimit> {
  static constexpr std::array<std::pair<steer::CeilingLimit, std::string_view>, 3> all{
      {{steer::CeilingLimit::asked, "asked"},
       {steer::CeilingLimit::limited_by_gap, "limited_by_gap"},
       {steer::CeilingLimit::flight_time, "flight_time"}}};
};
template <>
struct Names<steer::Reachable> {
  static constexpr std::array<std::pair<steer::Reachable, std::string_view>, 3> all{
      {{steer::Reachable::yes, "yes"}, {steer::Reachable::no, "no"}, {steer::Reachable::not_known, "not_known"}}};
};
}  // namespace pappus
