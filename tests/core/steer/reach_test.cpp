#include "core/steer/reach.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::steer {
namespace {

using testing::read_table;
using testing::Row;
using testing::seeded;
using wind::Wind;

// ---- Another balloon: it knows of heights, winds and rates only, and steps through time. ----

struct Point {
  double east_m = 0.0, north_m = 0.0;
};

struct Air {
  std::vector<double> height_m, east_m_s, north_m_s;  // linear in between

  [[nodiscard]] Point at(double z_m) const {  // m/s
    std::size_t i = 0;
    while (i + 2 < height_m.size() && height_m[i + 1] < z_m) ++i;
    const double f = (z_m - height_m[i]) / (height_m[i + 1] - height_m[i]);
    return {(1 - f) * east_m_s[i] + f * east_m_s[i + 1], (1 - f) * north_m_s[i] + f * north_m_s[i + 1]};
  }
  [[nodiscard]] Column column() const {
    std::vector<Column::Knot> knots;
    for (std::size_t i = 0; i < height_m.size(); ++i)
      knots.push_back(
          {agl(height_m[i] * metre), Wind::toward(east_m_s[i] * metre_per_second, north_m_s[i] * metre_per_second)});
    return *Column::of(std::move(knots));
  }
};

double up_m_s(double z_m) { return z_m < 100.0 ? 1.25 : 2.5; }
double down_m_s(double z_m) { return z_m <= 100.0 ? 1.25 : 2.0; }
double descent_s(double z_m) { return std::min(z_m, 100.0) / 1.25 + std::max(z_m - 100.0, 0.0) / 2.0; }

struct Flown {
  Point at;
  double t_s = 0.0, z_m = 0.0, highest_m = 0.0;

  void step(const Air& air, double vertical_m_s, double dt_s) {
    const Point w = air.at(z_m + 0.5 * dt_s * vertical_m_s);
    at.east_m += dt_s * w.east_m;
    at.north_m += dt_s * w.north_m;
    z_m = std::max(z_m + dt_s * vertical_m_s, 0.0);
    t_s += dt_s;
    highest_m = std::max(highest_m, z_m);
  }
  void go_to(const Air& air, double height_m) {
    constexpr double dt_s = 0.5;
    while (std::abs(height_m - z_m) > 1e-9) {
      const bool up = height_m > z_m;
      // Stop at 100 m, where the rates change, so that no step mixes them.
      double next_m = height_m;
      if (up && z_m < 100.0) next_m = std::min(next_m, 100.0);
      if (!up && z_m > 100.0) next_m = std::max(next_m, 100.0);
      const double rate = up ? up_m_s(z_m) : down_m_s(z_m);
      const double s = std::min(dt_s, std::abs(next_m - z_m) / rate);
      step(air, up ? rate : -rate, s);
      if (s < dt_s) z_m = next_m;
    }
  }
  void hold(const Air& air, double duration_s) { step(air, 0.0, duration_s); }
};

Air random_air(Random& random, double top_m = 1200.0) {
  Air air;
  double z_m = 0.0, speed = random.uniform(0.0, 3.0), toward = random.uniform(0.0, 2.0 * pi);
  for (;;) {
    air.height_m.push_back(z_m);
    air.east_m_s.push_back(speed * std::sin(toward));
    air.north_m_s.push_back(speed * std::cos(toward));
    if (z_m == top_m) return air;
    z_m = std::min(z_m + random.uniform(30.0, 250.0), top_m);
    speed = std::max(0.0, speed + random.uniform(-2.5, 3.5));
    toward += random.uniform(-0.5, 0.9);
  }
}

/// A path of no plan: it makes for random heights at random rates or stays, and comes down in time.
Flown random_path(const Air& air, Random& random, double duration_s, double top_m) {
  constexpr double dt_s = 0.5;
  Flown f;
  double wanted_m = 0.0, share = 1.0, until_s = 0.0;
  while (f.t_s + dt_s + descent_s(f.z_m + dt_s * up_m_s(f.z_m)) < duration_s) {
    if (f.t_s >= until_s) {
      until_s = f.t_s + random.uniform(20.0, 0.5 * duration_s);
      wanted_m = random.uniform() < 0.2 ? 0.0 : random.uniform(0.0, top_m);
      share = random.uniform() < 0.5 ? 1.0 : random.uniform(0.1, 1.0);
    }
    const double most_up = share * std::min(up_m_s(f.z_m), (wanted_m - f.z_m) / dt_s);
    const double most_down =
        share * std::min(std::min(down_m_s(f.z_m), 1.25 + (f.z_m > 101.0 ? 0.75 : 0.0)), (f.z_m - wanted_m) / dt_s);
    f.step(air, wanted_m > f.z_m ? most_up : -most_down, dt_s);
  }
  f.go_to(air, 0.0);
  return f;
}

double distance_m(const Polygon& polygon, Point p) {
  const auto corner = [&](std::size_t i) {
    return Point{polygon[i % polygon.size()].east.in(metre), polygon[i % polygon.size()].north.in(metre)};
  };
  bool inside = polygon.size() > 2;
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const Point a = corner(i), b = corner(i + 1);
    const double e = b.east_m - a.east_m, n = b.north_m - a.north_m, length2 = e * e + n * n;
    const double along = (p.east_m - a.east_m) * e + (p.north_m - a.north_m) * n;
    const double f = length2 > 0.0 ? std::min(1.0, std::max(0.0, along / length2)) : 0.0;
    nearest = std::min(nearest, std::hypot(p.east_m - a.east_m - f * e, p.north_m - a.north_m - f * n));
    if (e * (p.north_m - a.north_m) - n * (p.east_m - a.east_m) < 0.0) inside = false;
  }
  return inside ? 0.0 : nearest;
}
Point point_of(const Displacement& d) { return {d.east.in(metre), d.north.in(metre)}; }

Reach reach_of(const Air& air, double ceiling_m, double time_s) {
  return *Reach::of(
      {.column = air.column(), .ceiling = agl(ceiling_m * metre), .flight_time = time_s * second, .lowest_hold = {}});
}

Place place_at(double east_m, double north_m, double radius_m) {
  return {{east_m * metre, north_m * metre}, radius_m * metre};
}

/// u = u0 + s z toward the east, by two knots; one rate up and one down.
Result<Reach> linear(double u0, double shear, double top_m, double ceiling_m, double time_s, double up, double down,
                     double start_m = 0.0) {
  const Air air{{0.0, top_m}, {u0, u0 + shear * top_m}, {0.0, 0.0}};
  return Reach::of({.column = air.column(),
                    .ceiling = agl(ceiling_m * metre),
                    .flight_time = time_s * second,
                    .rates = {{agl(Length{}), up * metre_per_second, down * metre_per_second}},
                    .start = agl(start_m * metre),
                    .lowest_hold = {}});
}

// ---- Against paths ----

TEST(Reach, NoPathThatKeepsToTheRatesLandsOutside) {
  Random random = seeded("Reach.NoPathOutside");
  double worst_m = 0.0;
  int paths = 0;
  for (int i = 0; i < 40; ++i) {
    const Air air = random_air(random);
    for (int k = 0; k < 25; ++k) {
      const double duration_s = random.uniform(300.0, 4000.0), top_m = random.uniform(100.0, 1200.0);
      const Flown f = random_path(air, random, duration_s, top_m);
      const Reach reach = reach_of(air, 1200.0, f.t_s);
      const auto own = reach.at(agl(f.highest_m * metre));
      ASSERT_TRUE(own) << f.highest_m << " m in " << f.t_s << " s";
      ASSERT_FALSE(own->at_time.empty());
      worst_m = std::max({worst_m, distance_m(own->at_time, f.at), distance_m(own->within_time, f.at)});
      const Reach longer = reach_of(air, 1200.0, f.t_s + random.uniform(0.0, 900.0));
      worst_m = std::max(worst_m, distance_m(longer.at(agl(f.highest_m * metre))->within_time, f.at));
      ++paths;
    }
  }
  EXPECT_EQ(paths, 1000);
  EXPECT_LT(worst_m, 0.5);  // of ways of kilometres: the steps of the other balloon
}

TEST(Reach, NoPathLandsOutsideTheFootprint) {
  Random random = seeded("Reach.NoPathOutsideFootprint");
  double worst_m = 0.0;
  for (int i = 0; i < 10; ++i) {
    const Air air = random_air(random);
    const Reach reach = reach_of(air, 1200.0, 2700.0);
    const Footprint all = reach.footprint({100, 36});
    for (int k = 0; k < 25; ++k) {
      const Flown f = random_path(air, random, random.uniform(300.0, 2700.0), random.uniform(100.0, 1000.0));
      double nearest_m = std::numeric_limits<double>::infinity();
      for (const CeilingReach& c : all.ceilings) nearest_m = std::min(nearest_m, distance_m(c.within_time, f.at));
      worst_m = std::max(worst_m, nearest_m);
    }
  }
  EXPECT_LT(worst_m, 5.0);  // between two ceilings 12 m apart
}

TEST(Reach, EveryCornerIsLandedOnByOneHold) {
  Random random = seeded("Reach.Corners");
  for (int i = 0; i < 60; ++i) {
    const Air air = random_air(random);
    const double time_s = random.uniform(1500.0, 4000.0);
    const Reach reach = reach_of(air, 1200.0, time_s);
    const double top_m = random.uniform(150.0, reach.highest().from_origin().in(metre));
    const auto own = reach.at(agl(top_m * metre));
    const double left_s = time_s - own->least_time.in(second);
    std::vector<Point> landed;
    std::vector<double> holds = air.height_m;
    holds.push_back(top_m);
    for (const double hold_m : holds) {
      if (hold_m > top_m) continue;
      Flown f;
      f.go_to(air, hold_m);
      f.hold(air, left_s);
      f.go_to(air, top_m);
      f.go_to(air, 0.0);
      EXPECT_NEAR(f.t_s, time_s, 1e-6);
      landed.push_back(f.at);
    }
    for (const Displacement& corner : own->at_time) {
      double nearest_m = std::numeric_limits<double>::infinity();
      for (const Point& p : landed)
        nearest_m =
            std::min(nearest_m, std::hypot(p.east_m - point_of(corner).east_m, p.north_m - point_of(corner).north_m));
      EXPECT_LT(nearest_m, 0.5);
    }
  }
}

TEST(Reach, PlansFlownByAnotherIntegratorLandAtThePlace) {
  Random random = seeded("Reach.Plans");
  double worst_m = 0.0;
  int places = 0, planned = 0;
  for (int i = 0; i < 20; ++i) {
    const Air air = random_air(random);
    const Reach reach = reach_of(air, 1000.0, 3000.0);
    for (int k = 0; k < 10; ++k) {
      // Somewhere in a polygon: a random mean of its corners.
      const auto own = reach.at(agl(random.uniform(50.0, 1000.0) * metre));
      Point p;
      double sum = 0.0;
      for (const Displacement& c : own->within_time) {
        const double weight = random.uniform();
        sum += weight;
        p.east_m += weight * point_of(c).east_m;
        p.north_m += weight * point_of(c).north_m;
      }
      p = {p.east_m / sum, p.north_m / sum};
      const PlaceReach there = reach.place(place_at(p.east_m, p.north_m, 20.0));
      ++places;
      ASSERT_EQ(there.reachable, Reachable::yes);
      ASSERT_TRUE(there.earliest && there.latest);
      EXPECT_LE(*there.earliest, *there.latest);
      EXPECT_LE(*there.latest, 3000.001 * second);
      if (!there.plan) continue;
      ++planned;
      Flown f;
      const auto& holds = there.plan->holds;
      ASSERT_LE(holds.size(), 2u);
      if (holds.size() == 2) {
        EXPECT_GT(holds[0].height, holds[1].height);
      }
      if (holds.empty() || holds[0].height < there.plan->ceiling)
        f.go_to(air, there.plan->ceiling.from_origin().in(metre));
      for (const Hold& hold : holds) {
        f.go_to(air, hold.height.from_origin().in(metre));
        f.hold(air, hold.time.in(second));
      }
      f.go_to(air, 0.0);
      EXPECT_NEAR(f.t_s, there.plan->total.in(second), 1.0);  // holds below half a second are left out
      EXPECT_LE(there.plan->total, 3000.001 * second);
      EXPECT_GE(there.plan->total, *there.earliest);
      const double off_m = std::hypot(f.at.east_m - p.east_m, f.at.north_m - p.north_m);
      worst_m = std::max(worst_m, off_m - there.plan->miss.in(metre));
    }
  }
  EXPECT_EQ(places, 200);
  EXPECT_GT(planned, 180);  // the rest need three holds
  EXPECT_LT(worst_m, 8.0);  // half a second in 15 m/s
}

// A place whose middle is out of reach and whose near edge is not: the plan is for that edge.
TEST(Reach, PlacesAtTheEdgeOfWhatIsInReachHaveAPlanToo) {
  Random random = seeded("Reach.EdgePlans");
  int places = 0;
  for (int i = 0; i < 20; ++i) {
    const Air air = random_air(random);
    const auto reach =
        Reach::of({.column = air.column(), .ceiling = agl(1000.0 * metre), .flight_time = 3000.0 * second});
    for (const auto& far : reach->footprint().far) {
      if (!far) continue;
      const Length beyond = far->distance + random.uniform(0.0, 99.0) * metre;
      const Place place{{sin(far->bearing.from_north()) * beyond, cos(far->bearing.from_north()) * beyond},
                        100.0 * metre};
      const PlaceReach there = reach->place(place);
      ASSERT_EQ(there.reachable, Reachable::yes);
      ASSERT_TRUE(there.plan);
      EXPECT_LE(there.plan->miss, place.radius);
      Flown f;
      if (there.plan->holds.empty() || there.plan->holds[0].height < there.plan->ceiling)
        f.go_to(air, there.plan->ceiling.from_origin().in(metre));
      for (const Hold& hold : there.plan->holds) {
        EXPECT_GE(hold.height, agl(wind::kSurfaceWindHeight));
        f.go_to(air, hold.height.from_origin().in(metre));
        f.hold(air, hold.time.in(second));
      }
      f.go_to(air, 0.0);
      EXPECT_LT(std::hypot(f.at.east_m - place.at.east.in(metre), f.at.north_m - place.at.north.in(metre)), 108.0);
      ++places;
    }
  }
  EXPECT_GT(places, 100);
}

// ---- Closed forms ----

TEST(Reach, EqualsTheClosedForms) {
  int rows = 0;
  for (const Row& row : read_table("reach_closed.csv")) {
    if (row.text("kind") != "extremes") continue;
    SCOPED_TRACE(row.where());
    const auto reach = linear(row["u0_m_s"], row["shear_per_s"], 3000.0, row["ceiling_m"], row["time_s"], row["up_m_s"],
                              row["down_m_s"], row["start_m"]);
    ASSERT_TRUE(reach);
    double low_m = std::numeric_limits<double>::infinity(), high_m = -low_m;
    for (const CeilingReach& c : reach->footprint().ceilings)
      for (const Displacement& corner : c.at_time) {
        low_m = std::min(low_m, corner.east.in(metre));
        high_m = std::max(high_m, corner.east.in(metre));
        EXPECT_EQ(corner.north, Length{});
      }
    EXPECT_NEAR(low_m, row["low_m"], row["tolerance_m"]);
    EXPECT_NEAR(high_m, row["high_m"], row["tolerance_m"]);
    ++rows;
  }
  EXPECT_EQ(rows, 5);
}

TEST(Reach, LeastTimeInAnEvenShearIsTheClosedForm) {
  for (const Row& row : read_table("reach_closed.csv")) {
    if (row.text("kind") != "earliest") continue;
    SCOPED_TRACE(row.where());
    const auto reach =
        linear(0.0, row["shear_per_s"], 3000.0, row["ceiling_m"], row["time_s"], row["up_m_s"], row["down_m_s"]);
    const PlaceReach there = reach->place(place_at(row["low_m"], 0.0, 0.001));
    ASSERT_EQ(there.reachable, Reachable::yes);
    EXPECT_NEAR(there.earliest->in(second), row["high_m"], row["tolerance_m"]);
    EXPECT_NEAR(there.latest->in(second), row["time_s"], 1e-3);  // it may wait near the ground, where it is calm
  }
}

// x(h) = s (h T - h^2 / w) with ceiling h: exact; its maximum over h is missed to second order of the ceilings' distance.
TEST(Reach, UnionOfCeilingsInAnEvenShearConvergesToSecondOrder) {
  const double shear = 0.01, w = 2.0, time_s = 600.0;
  const auto reach = linear(0.0, shear, 3000.0, 3000.0, time_s, w, w);
  Random random = seeded("Reach.Shear");
  for (int i = 0; i < 100; ++i) {
    const double h = random.uniform(1.0, 600.0);
    const auto own = reach->at(agl(h * metre));
    EXPECT_NEAR(own->at_time.back().east.in(metre), shear * (h * time_s - h * h / w), 1e-8);
  }
  // Toward the east within 20 minutes at most 400 m high, seen from ceilings that miss the best one, at half of 600 s:
  // for landing times below the flight time the best ceiling is w t / 2. Reached by time t: x_max = s w t^2 / 4.
  const auto farthest_m = [&](std::size_t ceilings, double t_s) {
    const auto shorter = linear(0.0, shear, 3000.0, 3000.0, t_s, w, w);
    double high_m = 0.0;
    // Without the highest ceiling, which is the best one here.
    const Footprint all = shorter->footprint({ceilings, 4});
    for (std::size_t i = 0; i + 1 < all.ceilings.size(); ++i)
      for (const Displacement& c : all.ceilings[i].at_time) high_m = std::max(high_m, c.east.in(metre));
    return high_m;
  };
  double before_m = 0.0;
  for (const std::size_t n : {10u, 20u, 40u}) {
    const double missed_m = shear * w * time_s * time_s / 4.0 - farthest_m(n, time_s);
    const double spacing_m = 600.0 / static_cast<double>(n);
    EXPECT_NEAR(missed_m, shear * spacing_m * spacing_m / w, 1e-6);
    if (before_m > 0.0) {
      EXPECT_NEAR(before_m / missed_m, 4.0, 1e-3);
    }
    before_m = missed_m;
  }
}

TEST(Reach, TurningWindIsTheClosedFormToTheOrderOfItsKnots) {
  for (const Row& row : read_table("reach_closed.csv")) {
    if (row.text("kind") != "turning") continue;
    SCOPED_TRACE(row.where());
    const auto off_m = [&](int n) {
      Air air;
      for (int i = 0; i <= n; ++i) {
        const double z_m = row["ceiling_m"] * i / n, turn = row["shear_per_s"] * z_m;
        air.height_m.push_back(z_m);
        air.east_m_s.push_back(row["u0_m_s"] * std::cos(turn));
        air.north_m_s.push_back(row["u0_m_s"] * std::sin(turn));
      }
      const auto reach =
          Reach::of({.column = air.column(),
                     .ceiling = agl(row["ceiling_m"] * metre),
                     .flight_time = row["time_s"] * second,
                     .rates = {{agl(Length{}), row["up_m_s"] * metre_per_second, row["down_m_s"] * metre_per_second}}});
      // Up and down takes all the time: the polygon is one point.
      const auto own = reach->at(agl(row["ceiling_m"] * metre));
      return std::hypot(own->at_time.front().east.in(metre)-row["low_m"],
                        own->at_time.front().north.in(metre)-row["high_m"]);
    };
    EXPECT_LT(off_m(600), row["tolerance_m"]);
    EXPECT_NEAR(off_m(10) / off_m(20), 4.0, 0.05);
    EXPECT_NEAR(off_m(20) / off_m(40), 4.0, 0.05);
  }
}

// ---- Named places, by hand ----

// 5 m/s toward the east at every height: nothing to choose but the time. After t it is 5 t to the east.
// 3000 m: 600 s; with 50 m to spare, from 590 s to 610 s. 200 m beside that line: missed by 200 m.
// In 900 s it comes to 4500 m: 4600 m is missed by 100 m.
TEST(ReachPlace, InAWindOfOneKindOnlyTheTimeIsChosen) {
  const Air air{{0.0, 500.0}, {5.0, 5.0}, {0.0, 0.0}};
  const Reach reach = reach_of(air, 500.0, 900.0);
  const PlaceReach on_the_way = reach.place(place_at(3000.0, 0.0, 50.0));
  EXPECT_EQ(on_the_way.reachable, Reachable::yes);
  EXPECT_NEAR(on_the_way.earliest->in(second), 590.0, 0.1);
  EXPECT_NEAR(on_the_way.latest->in(second), 610.0, 0.1);
  ASSERT_TRUE(on_the_way.plan);
  EXPECT_NEAR(on_the_way.plan->total.in(second), 600.0, 10.0);
  const PlaceReach beside = reach.place(place_at(3000.0, 200.0, 50.0));
  EXPECT_EQ(beside.reachable, Reachable::no);
  EXPECT_NEAR(beside.miss.in(metre), 200.0, 1e-6);
  EXPECT_FALSE(beside.plan || beside.earliest || beside.latest);
  const PlaceReach beyond = reach.place(place_at(4600.0, 0.0, 50.0));
  EXPECT_EQ(beyond.reachable, Reachable::no);
  EXPECT_NEAR(beyond.miss.in(metre), 100.0, 1e-6);
}

// u = 0.01 z toward the east, 2 m/s up and down, at most 400 m, 1200 s.
// Farthest: up and down 400 m takes 400 s and carries 0.01 * 400^2 / 2 * (1/2 + 1/2) = 800 m; 800 s at 400 m, 4 m/s,
// 3200 m more: 4000 m. 4010 m is missed by 10 m.
// 2000 m: at 400 m for (2000 - 800) / 4 = 300 s: 700 s at the earliest (higher would be faster, and is not allowed);
// at the latest, when the time is over, as it may wait near the calm ground.
TEST(ReachPlace, InAnEvenShearTheTimesAreThoseOfTheHand) {
  const auto reach = linear(0.0, 0.01, 1000.0, 400.0, 1200.0, 2.0, 2.0);
  EXPECT_EQ(reach->place(place_at(3999.9, 0.0, 0.01)).reachable, Reachable::yes);
  const PlaceReach beyond = reach->place(place_at(4010.0, 0.0, 5.0));
  EXPECT_EQ(beyond.reachable, Reachable::no);
  EXPECT_NEAR(beyond.miss.in(metre), 10.0, 1e-6);
  const PlaceReach half = reach->place(place_at(2000.0, 0.0, 0.01));
  EXPECT_NEAR(half.earliest->in(second), 700.0, 0.01);
  EXPECT_NEAR(half.latest->in(second), 1200.0, 0.01);
  ASSERT_TRUE(half.plan);
  ASSERT_EQ(half.plan->holds.size(), 1u);
  EXPECT_NEAR(half.plan->holds[0].height.from_origin().in(metre), 400.0, 1e-9);
  EXPECT_NEAR(half.plan->holds[0].time.in(second), 300.0, 0.01);
}

// 0 at the ground, 4 m/s toward the east at 200 m, (1, 1) at 300 m, 4 m/s toward the north at 400 m; 2 m/s up and down.
// Up to 400 m and down: 400 s, 1 s for every metre of height; the way is the integral of the wind over the height:
// (2, 0) * 200 + (2.5, 0.5) * 100 + (0.5, 2.5) * 100 = (700, 300). 200 s at 200 m: (800, 0). 300 s at 400 m: (0, 1200).
// Together (1500, 1500) after 900 s.
TEST(ReachPlace, TwoHoldsAreThoseOfTheHand) {
  const Air air{{0.0, 200.0, 300.0, 400.0}, {0.0, 4.0, 1.0, 0.0}, {0.0, 0.0, 1.0, 4.0}};
  const auto reach = Reach::of({.column = air.column(),
                                .ceiling = agl(400.0 * metre),
                                .flight_time = 900.0 * second,
                                .rates = {{agl(Length{}), 2.0 * metre_per_second, 2.0 * metre_per_second}},
                                .lowest_hold = {}});
  const auto own = reach->at(agl(400.0 * metre));
  EXPECT_NEAR(own->least_time.in(second), 400.0, 1e-9);
  // 500 s are left: the corners are the ground's calm, 500 s at 200 m and 500 s at 400 m.
  ASSERT_EQ(own->at_time.size(), 3u);
  EXPECT_LT(distance_m({own->at_time}, {700.0, 300.0}), 1e-9);
  EXPECT_LT(distance_m({own->at_time}, {700.0 + 2000.0, 300.0}), 1e-9);
  EXPECT_LT(distance_m({own->at_time}, {700.0, 300.0 + 2000.0}), 1e-9);
  // (1500, 1500) lies on the edge between the last two: so this is the only way with that ceiling. A lower one has less
  // wind toward the north.
  const PlaceReach there = reach->place(place_at(1500.0, 1500.0, 1.0));
  ASSERT_EQ(there.reachable, Reachable::yes);
  EXPECT_LE(there.earliest->in(second), 900.0);
  EXPECT_GT(there.earliest->in(second), 895.0);
  EXPECT_NEAR(there.latest->in(second), 900.0, 1e-6);
  ASSERT_TRUE(there.plan);
  ASSERT_EQ(there.plan->holds.size(), 2u);
  EXPECT_NEAR(there.plan->holds[0].height.from_origin().in(metre), 400.0, 1e-9);
  EXPECT_NEAR(there.plan->holds[0].time.in(second), 300.0, 1e-6);
  EXPECT_NEAR(there.plan->holds[1].height.from_origin().in(metre), 200.0, 1e-9);
  EXPECT_NEAR(there.plan->holds[1].time.in(second), 200.0, 1e-6);
  // Further out on the same line no path comes: (1600, 1600) is sqrt(2) * 100 m beyond the edge.
  EXPECT_NEAR(reach->place(place_at(1600.0, 1600.0, 1.0)).miss.in(metre), 141.42, 0.01);
}

// ---- Footprint ----

TEST(ReachFootprint, TurnsWithTheWinds) {
  Random random = seeded("Reach.Turn");
  for (int i = 0; i < 50; ++i) {
    const Air air = random_air(random);
    const double turn = random.uniform(0.0, 2.0 * pi), c = std::cos(turn), s = std::sin(turn);
    Air turned = air;
    for (std::size_t k = 0; k < air.height_m.size(); ++k) {
      turned.east_m_s[k] = c * air.east_m_s[k] - s * air.north_m_s[k];
      turned.north_m_s[k] = s * air.east_m_s[k] + c * air.north_m_s[k];
    }
    const HeightAgl h = agl(random.uniform(0.0, 1000.0) * metre);
    const auto a = reach_of(air, 1200.0, 3600.0).at(h), b = reach_of(turned, 1200.0, 3600.0).at(h);
    ASSERT_EQ(a->within_time.size(), b->within_time.size());
    for (const Displacement& d : a->within_time) {
      const Point p = point_of(d), q{c * p.east_m - s * p.north_m, s * p.east_m + c * p.north_m};
      EXPECT_LT(distance_m(b->within_time, q), 1e-6);
    }
  }
}

TEST(ReachFootprint, MoreTimeTakesNothingAway) {
  Random random = seeded("Reach.Longer");
  for (int i = 0; i < 50; ++i) {
    const Air air = random_air(random);
    const double time_s = random.uniform(300.0, 3000.0);
    const Reach shorter = reach_of(air, 1200.0, time_s),
                longer = reach_of(air, 1200.0, time_s + random.uniform(1.0, 900.0));
    EXPECT_LE(shorter.highest(), longer.highest());
    for (const CeilingReach& c : shorter.footprint().ceilings) {
      const auto later = longer.at(c.ceiling);
      ASSERT_TRUE(later);
      for (const Displacement& d : c.within_time) EXPECT_LT(distance_m(later->within_time, point_of(d)), 1e-6);
    }
  }
}

TEST(ReachFootprint, EveryCornerIsAReachablePlace) {
  Random random = seeded("Reach.CornersReachable");
  for (int i = 0; i < 10; ++i) {
    const Air air = random_air(random);
    const Reach reach = reach_of(air, 1000.0, 2400.0);
    for (const CeilingReach& c : reach.footprint({6, 36}).ceilings)
      for (const Displacement& d : c.within_time) {
        const PlaceReach there = reach.place({d, 5.0 * metre});
        ASSERT_EQ(there.reachable, Reachable::yes);
        ASSERT_TRUE(there.earliest);
        EXPECT_LE(*there.earliest, *there.latest);
      }
  }
}

TEST(ReachFootprint, FarPointsAreTheFarthestOfTheirSectors) {
  Random random = seeded("Reach.Far");
  for (int i = 0; i < 30; ++i) {
    const Air air = random_air(random);
    const Footprint all = reach_of(air, 1000.0, 2700.0).footprint();
    ASSERT_EQ(all.far.size(), 36u);
    const auto sector = [](double bearing_deg) {
      return static_cast<std::size_t>(std::floor((bearing_deg + 365.0) / 10.0)) % 36;
    };
    for (const CeilingReach& c : all.ceilings)
      for (std::size_t k = 0; k < c.within_time.size(); ++k) {
        // Points on every edge.
        const Point a = point_of(c.within_time[k]), b = point_of(c.within_time[(k + 1) % c.within_time.size()]);
        for (int j = 0; j < 20; ++j) {
          const double f = j / 20.0;
          const Point p{(1 - f) * a.east_m + f * b.east_m, (1 - f) * a.north_m + f * b.north_m};
          const double away_m = std::hypot(p.east_m, p.north_m);
          const double bearing_deg = std::atan2(p.east_m, p.north_m) * 180.0 / pi;
          const double edge = std::abs(std::remainder(bearing_deg - 5.0, 10.0));
          if (away_m < 2.0 || edge < 1e-6) continue;
          const auto& far = all.far[sector(bearing_deg)];
          ASSERT_TRUE(far);
          EXPECT_GE(far->distance.in(metre), away_m - 1e-6);
        }
      }
    for (const auto& far : all.far) {
      if (!far) continue;
      EXPECT_LE(far->earliest, far->latest);
      const Point p{far->distance.in(metre)*sin(far->bearing.from_north()),
                    far->distance.in(metre)*cos(far->bearing.from_north())};
      double nearest_m = std::numeric_limits<double>::infinity();
      for (const CeilingReach& c : all.ceilings)
        if (c.ceiling == far->ceiling) nearest_m = std::min(nearest_m, distance_m(c.within_time, p));
      EXPECT_LT(nearest_m, 1e-6);
    }
  }
}

TEST(ReachFootprint, RaysHoldWhatThePolygonsHold) {
  Random random = seeded("Reach.Rays");
  for (int i = 0; i < 30; ++i) {
    const Air air = random_air(random);
    const Footprint all = reach_of(air, 1000.0, 2700.0).footprint();
    ASSERT_EQ(all.rays.size(), 72u);
    const auto covered = [&](Point p) {
      return std::any_of(all.ceilings.begin(), all.ceilings.end(), [&](const CeilingReach& c) {
        return !c.within_time.empty() && distance_m(c.within_time, p) == 0.0;
      });
    };
    for (const Ray& ray : all.rays)
      for (int k = 0; k < 30; ++k) {
        const double away_m = random.uniform(0.0, 25000.0);
        bool in_stretch = false, near_end = false;
        for (const Stretch& s : ray.stretches) {
          in_stretch = in_stretch || (s.near.in(metre) <= away_m && away_m <= s.far.in(metre));
          near_end = near_end || std::abs(s.near.in(metre)-away_m) < 1e-3 || std::abs(s.far.in(metre)-away_m) < 1e-3;
        }
        if (near_end) continue;
        const Point p{away_m * sin(ray.bearing.from_north()), away_m * cos(ray.bearing.from_north())};
        EXPECT_EQ(covered(p), in_stretch);
      }
  }
}

// The union is not its hull: between what two minutes' climb and none reach there is ground out of reach.
TEST(ReachFootprint, IsNotConvex) {
  const Air air{{0.0, 100.0, 300.0, 600.0}, {0.0, 1.0, 0.0, -8.0}, {1.0, 3.0, 8.0, 4.0}};
  const Footprint all = reach_of(air, 600.0, 900.0).footprint({200, 36});
  Random random = seeded("Reach.NotConvex");
  int outside = 0;
  for (int i = 0; i < 2000; ++i) {
    const auto corner = [&] {
      const Polygon& p = all.ceilings[random.below(all.ceilings.size())].within_time;
      return point_of(p[random.below(p.size())]);
    };
    const Point a = corner(), b = corner(), middle{0.5 * (a.east_m + b.east_m), 0.5 * (a.north_m + b.north_m)};
    double nearest_m = std::numeric_limits<double>::infinity();
    for (const CeilingReach& c : all.ceilings) nearest_m = std::min(nearest_m, distance_m(c.within_time, middle));
    if (nearest_m > 20.0) ++outside;
  }
  EXPECT_GT(outside, 20);
}

// ---- What is not known ----

wind::WindProfile profile_of(const std::vector<std::pair<double, Wind>>& rows, double ground_m = 300.0) {
  wind::WindProfile::Inputs inputs;
  inputs.ground = amsl(ground_m * metre);
  wind::Ladder ladder{{wind::SourceKind::pibal, "pibal", {}}, {}};
  for (const auto& [height_m, w] : rows) ladder.rows.push_back({amsl((ground_m + height_m) * metre), w, std::nullopt});
  inputs.ladders = {ladder};
  return *wind::WindProfile::from(inputs).value;
}
Wind toward(double east, double north) { return Wind::toward(east * metre_per_second, north * metre_per_second); }

TEST(ReachGap, CeilingStaysBelowTheFirstGap) {
  const auto profile = profile_of({{0, toward(1, 0)}, {100, toward(3, 0)}, {200, toward(4, 1)}, {800, toward(9, 9)}});
  const auto column = Column::from(profile, agl(1000.0 * metre));
  ASSERT_TRUE(column);
  EXPECT_NEAR(column->top().from_origin().in(metre), 200.0, 1e-9);
  const auto reach = Reach::of({.column = *column, .ceiling = agl(1000.0 * metre), .flight_time = 3600.0 * second});
  EXPECT_EQ(reach->limit(), CeilingLimit::limited_by_gap);
  EXPECT_EQ(reach->footprint().limit, CeilingLimit::limited_by_gap);
  EXPECT_NEAR(reach->highest().from_origin().in(metre), 200.0, 1e-9);
  EXPECT_FALSE(reach->at(agl(201.0 * metre)));
  // Out of reach of the known winds, the answer is not no.
  EXPECT_EQ(reach->place(place_at(0.0, 9000.0, 50.0)).reachable, Reachable::not_known);
  const auto low = Reach::of({.column = *column, .ceiling = agl(150.0 * metre), .flight_time = 3600.0 * second});
  EXPECT_EQ(low->limit(), CeilingLimit::asked);
  EXPECT_EQ(low->place(place_at(0.0, 9000.0, 50.0)).reachable, Reachable::no);
}

TEST(ReachGap, ColumnIsTheProfile) {
  const auto profile = profile_of({{5, toward(1, 0)}, {100, toward(3, 0)}, {200, toward(4, 1)}});
  const auto column = Column::from(profile, agl(150.0 * metre));
  ASSERT_TRUE(column);
  ASSERT_EQ(column->knots().size(), 4u);  // ground, 5 m, 100 m, 150 m
  EXPECT_EQ(column->knots()[0].wind, toward(1, 0));
  EXPECT_EQ(column->knots()[1].wind, toward(1, 0));
  EXPECT_NEAR(column->knots()[3].wind.east().in(metre_per_second), 3.5, 1e-12);
}

TEST(ReachGap, WithoutTheWindAtTheGroundNothingIsKnown) {
  const auto profile = profile_of({{50, toward(1, 0)}, {100, toward(3, 0)}});
  EXPECT_EQ(Column::from(profile, agl(100.0 * metre)).error().sentence.key, "issue.reach_wind_at_ground");
  EXPECT_EQ(Column::from(profile_of({}), agl(100.0 * metre)).error().code, Errc::no_data);
  EXPECT_EQ(Column::from(profile, agl(Length{})).error().sentence.key, "issue.reach_ceiling");
}

TEST(Reach, HasNoHoldBelowTheLowestAllowed) {
  const Air air{{0.0, 100.0, 400.0}, {0.0, 4.0, 8.0}, {0.0, 0.0, 6.0}};
  Question q{.column = air.column(), .ceiling = agl(400.0 * metre), .flight_time = 1200.0 * second};
  q.lowest_hold = agl(150.0 * metre);
  const auto reach = Reach::of(q);
  const auto low = reach->at(agl(100.0 * metre));
  EXPECT_TRUE(low->at_time.empty());  // nowhere to wait until the time is over
  ASSERT_EQ(low->within_time.size(), 1u);
  // Up 80 s and down 80 s in 2 m/s on the mean.
  EXPECT_NEAR(low->within_time.front().east.in(metre), 320.0, 1e-9);
  const PlaceReach there = reach->place(place_at(4000.0, 1500.0, 100.0));
  ASSERT_TRUE(there.plan);
  for (const Hold& hold : there.plan->holds) EXPECT_GE(hold.height, q.lowest_hold);
}

TEST(Reach, LimitIsTheFlightTimeWhereThatIsShort) {
  const Air air{{0.0, 1000.0}, {1.0, 9.0}, {0.0, 3.0}};
  // 160 s to 100 m and back; above, 0.9 s a metre: 520 s reach 500 m.
  const Reach reach = reach_of(air, 1000.0, 520.0);
  EXPECT_EQ(reach.limit(), CeilingLimit::flight_time);
  EXPECT_NEAR(reach.highest().from_origin().in(metre), 500.0, 1e-9);
}

TEST(Reach, RefusesWhatMakesNoSense) {
  const Air air{{0.0, 500.0}, {1.0, 5.0}, {0.0, 0.0}};
  const Question good{.column = air.column(), .ceiling = agl(500.0 * metre), .flight_time = 600.0 * second};
  ASSERT_TRUE(Reach::of(good));
  const auto said = [](const Question& q) {
    const auto r = Reach::of(q);
    return r ? std::string{} : r.error().sentence.key + " " + r.error().where.key;
  };
  Question q = good;
  q.flight_time = Duration{};
  EXPECT_EQ(said(q), "issue.reach_flight_time flight_time");
  q = good;
  q.ceiling = agl(std::numeric_limits<double>::infinity() * metre);
  EXPECT_EQ(said(q), "issue.reach_ceiling ceiling");
  q = good;
  q.start = agl(501.0 * metre);
  EXPECT_EQ(said(q), "issue.reach_start start");
  q.ceiling = agl(900.0 * metre);
  q.start = agl(800.0 * metre);
  EXPECT_EQ(said(q), "issue.reach_start_unknown start");
  q = good;
  q.lowest_hold = agl(-1.0 * metre);
  EXPECT_EQ(said(q), "issue.reach_lowest_hold lowest_hold");
  q = good;
  q.rates[1].from = agl(Length{});
  EXPECT_EQ(said(q), "issue.reach_band rates[1].from");
  q = good;
  q.rates[1].down = Speed{};
  EXPECT_EQ(said(q), "issue.reach_rate rates[1].down");
  q = good;
  q.rates[0].up = -1.0 * metre_per_second;
  EXPECT_EQ(said(q), "issue.reach_rate rates[0].up");
  q = good;
  q.rates.clear();
  EXPECT_EQ(said(q), "issue.reach_no_rates rates");
  q = good;
  q.start = agl(500.0 * metre);
  q.flight_time = 60.0 * second;
  EXPECT_EQ(said(q), "issue.reach_no_time flight_time");
  EXPECT_EQ(Column::of({{agl(Length{}), toward(0, 0)}}).error().sentence.key, "issue.reach_knots");
  EXPECT_EQ(Column::of({{agl(Length{}), toward(0, 0)}, {agl(Length{}), toward(0, 0)}}).error().where.key, "knots[1]");
  EXPECT_EQ(Column::of({{agl(1.0 * metre), toward(0, 0)}, {agl(2.0 * metre), toward(0, 0)}}).error().where.key,
            "knots[0]");
}

}  // namespace
}  // namespace pappus::steer
