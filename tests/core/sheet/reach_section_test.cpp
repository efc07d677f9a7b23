#include "core/sheet/sections/reach.hpp"

#include <algorithm>
#include <cmath>

#include <gtest/gtest.h>

#include "core/base/math.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::sheet {
namespace {

using testing::at_clock;
using testing::good_morning;

wind::LadderRow blows(double height_m, double toward_deg, double speed_m_s) {
  return {.altitude = amsl((1500.0 + height_m) * metre),
          .wind = wind::Wind::from(TrueBearing::at(toward_deg * degree).reversed(), speed_m_s * metre_per_second),
          .temperature = std::nullopt};
}

Morning with_winds(std::vector<wind::LadderRow> rows, Duration planned) {
  Morning m = good_morning();
  m.flight.ladders = {{.source = {wind::SourceKind::pibal, "pibal", at_clock(4, 40).at}, .rows = std::move(rows)}};
  m.flight.reports.clear();
  m.flight.planned = planned;
  return m;
}

// Below 100 m 5 m/s toward the east, above 101 m 5 m/s toward the north: as good as two uniform layers.
Morning two_layers(Duration planned) {
  return with_winds({blows(0, 90, 5), blows(100, 90, 5), blows(101, 0, 5), blows(250, 0, 5), blows(300, 0, 5)},
                    planned);
}

void add_place(Morning& m, std::string name, Length east, Length north, Length radius = 100.0 * metre) {
  m.flight.places.push_back({std::move(name), displaced(m.flight.field.at, {east, north}).value(), radius});
}

const PlaceLine& only_place(const ReachSection& section) { return section.places.at(0); }

TEST(ReachSection, InOneUniformWindAPlaceIsReachedWhenTheWindGetsThere) {
  // 5 m/s toward the east at every height: 3000 m east is reached after 3000 / 5 = 600 s, whatever heights are chosen.
  // Within 100 m of it counts: from 2900 / 5 = 580 s to 3100 / 5 = 620 s.
  Morning m = with_winds({blows(0, 90, 5), blows(150, 90, 5), blows(300, 90, 5)}, 20.0 * minute);
  add_place(m, "east", 3.0 * kilometre, Length{});
  const auto section = reach_section(m);
  ASSERT_TRUE(section);
  const PlaceLine& place = only_place(*section);
  EXPECT_EQ(place.reachable, steer::Reachable::yes);
  EXPECT_NEAR(place.earliest->in(second), 580.0, 1.0);
  EXPECT_NEAR(place.latest->in(second), 620.0, 1.0);
  EXPECT_NEAR(place.bearing->from_north().in(degree), 90.0, 0.1);
  EXPECT_NEAR(place.distance.in(metre), 3000.0, 0.1);
}

TEST(ReachSection, InTwoLayersTheTimesAddUp) {
  // 2000 m east takes 2000 / 5 = 400 s in the lower layer, of which up and down through its 100 m at 1.25 m/s are
  // 160 s; 3000 m north takes 600 s in the upper one. Together 1000 s, with no choice but for the radius: 100 m
  // to the south-west save 70.7 m each way, that is 2 x 14.1 s; to the north-east they cost as much.
  Morning m = two_layers(20.0 * minute);
  add_place(m, "north-east", 2.0 * kilometre, 3.0 * kilometre);
  const auto section = reach_section(m);
  ASSERT_TRUE(section);
  const PlaceLine& place = only_place(*section);
  EXPECT_EQ(place.reachable, steer::Reachable::yes);
  EXPECT_NEAR(place.earliest->in(second), 971.7, 4.0);  // passing 1 m between the layers is a second of neither
  EXPECT_NEAR(place.latest->in(second), 1028.3, 4.0);
  ASSERT_EQ(place.plan.size(), 2u);
  EXPECT_GT(place.plan[0].height, agl(100.0 * metre));
  EXPECT_LE(place.plan[1].height, agl(100.0 * metre));
  EXPECT_NEAR(place.plan[1].time.in(second), 400.0 - 160.0, 25.0);  // what the climb and the descent have not done
  EXPECT_EQ(place.finding.key, "reach.place.two_holds");
}

TEST(ReachSection, WhatLiesAgainstEveryWindIsNotReached) {
  Morning m = two_layers(20.0 * minute);
  add_place(m, "west", -2.0 * kilometre, Length{});
  const auto section = reach_section(m);
  ASSERT_TRUE(section);
  EXPECT_EQ(only_place(*section).reachable, steer::Reachable::no);
  EXPECT_NEAR(only_place(*section).miss.in(metre), 2000.0, 1.0);  // the field itself is nearest
  EXPECT_EQ(only_place(*section).finding.key, "reach.place.missed");
  EXPECT_FALSE(only_place(*section).earliest);
}

TEST(ReachSection, BelowUnknownWindsItIsNotKnown) {
  Morning m = with_winds({blows(0, 90, 5), blows(120, 90, 5)}, 20.0 * minute);
  add_place(m, "west", -2.0 * kilometre, Length{});
  add_place(m, "east", 3.0 * kilometre, Length{});
  const auto section = reach_section(m);
  ASSERT_TRUE(section);
  EXPECT_EQ(section->limit, steer::CeilingLimit::limited_by_gap);
  EXPECT_EQ(section->places[0].reachable, steer::Reachable::not_known);
  EXPECT_EQ(section->places[0].finding,
            say("reach.place.not_known",
                {{"known", measure::of(agl(120.0 * metre))}, {"miss", measure::distance(section->places[0].miss)}}));
  EXPECT_EQ(section->places[1].reachable, steer::Reachable::yes) << "what known winds reach is reached";
  EXPECT_EQ(section->notes.front().key, "reach.gap_note");
}

TEST(ReachSection, WithoutAWindAtTheGroundNothingIsTold) {
  Morning m = with_winds({blows(150, 90, 5), blows(300, 90, 5)}, 20.0 * minute);
  EXPECT_EQ(reach_section(m).error().code, Errc::no_data);
  m = good_morning();
  m.flight.highest.reset();
  EXPECT_EQ(reach_section(m).error().sentence.key, "fact.highest_missing");
}

TEST(ReachSection, TheCautionsAreThere) {
  const auto section = reach_section(good_morning());
  ASSERT_TRUE(section);
  for (const char* key : {"reach.error_note", "reach.rates_note", "reach.caution_note"})
    EXPECT_TRUE(std::any_of(section->notes.begin(), section->notes.end(), [&](const Sentence& note) {
      return note.key == key;
    })) << key;
}

// ---- laws

Morning some_morning(Random& random) {
  std::vector<wind::LadderRow> rows;
  double toward = random.uniform(0.0, 360.0);
  for (double h = 0.0; h <= 600.0; h += 100.0) {
    toward += random.uniform(-40.0, 60.0);
    rows.push_back(blows(h, toward, random.uniform(0.5, 9.0)));
  }
  Morning m = with_winds(std::move(rows), random.uniform(15.0, 90.0) * minute);
  m.flight.highest = agl(random.uniform(60.0, 600.0) * metre);
  return m;
}

double cross_m2(GroundPoint a, GroundPoint b, GroundPoint p) {
  return (b.east - a.east).in(metre) * (p.north - a.north).in(metre) -
         (b.north - a.north).in(metre) * (p.east - a.east).in(metre);
}

// How far outside a convex outline, at most: over its edges' lines.
double outside_m(GroundPoint p, const std::vector<GroundPoint>& outline) {
  double worst = 0.0;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const GroundPoint a = outline[i], b = outline[(i + 1) % outline.size()];
    const double length = math::hypot((b.east - a.east).in(metre), (b.north - a.north).in(metre));
    if (length > 0.0) worst = std::max(worst, -cross_m2(a, b, p) / length);
  }
  return worst;
}

TEST(ReachSection, OutlinesAreFewConvexAndHoldTheFarPoints) {
  Random random = testing::seeded("ReachSection.Far");
  for (int i = 0; i < 40; ++i) {
    const auto section = reach_section(some_morning(random));
    ASSERT_TRUE(section);
    EXPECT_LE(section->ceilings.size(), 12u);
    EXPECT_EQ(section->ceilings.back().ceiling, section->highest);
    EXPECT_LE(section->far.size(), 16u);
    for (const CeilingLine& line : section->ceilings) {
      EXPECT_LE(line.outline.size(), 24u);
      for (std::size_t k = 0; line.outline.size() >= 3 && k < line.outline.size(); ++k)
        EXPECT_GT(cross_m2(line.outline[k], line.outline[(k + 1) % line.outline.size()],
                           line.outline[(k + 2) % line.outline.size()]),
                  0.0);
    }
    for (const FarLine& far : section->far) {
      const GroundPoint at{far.distance * sin(far.bearing.from_north()), far.distance * cos(far.bearing.from_north())};
      double least = 1e9;
      for (const CeilingLine& line : section->ceilings)
        if (line.outline.size() >= 3) least = std::min(least, outside_m(at, line.outline));
      // The ceilings left out lie between those drawn.
      EXPECT_LE(least, 20.0 + 0.02 * far.distance.in(metre));
      EXPECT_LE(far.earliest, far.latest);
      EXPECT_LE(far.latest.in(second), section->flight_time.in(second) + 1e-6);
    }
  }
}

TEST(ReachSection, MoreTimeNeverShrinksWhatIsInReach) {
  Random random = testing::seeded("ReachSection.MoreTime");
  for (int i = 0; i < 12; ++i) {
    Morning m = some_morning(random);
    const auto before = reach_section(m);
    ASSERT_TRUE(before);
    std::vector<GroundPoint> corners;
    for (const CeilingLine& line : before->ceilings)
      corners.insert(corners.end(), line.outline.begin(), line.outline.end());
    for (std::size_t k = 0; k < corners.size(); k += 7)
      add_place(m, "corner", corners[k].east, corners[k].north, 10.0 * metre);
    m.flight.planned += random.uniform(1.0, 60.0) * minute;
    const auto after = reach_section(m);
    ASSERT_TRUE(after);
    for (const PlaceLine& place : after->places) {
      EXPECT_EQ(place.reachable, steer::Reachable::yes);
      ASSERT_TRUE(place.earliest && place.latest);
      EXPECT_LE(*place.earliest, *place.latest);
      EXPECT_LE(place.latest->in(second), m.flight.planned.in(second) + 1e-6);
    }
  }
}

}  // namespace
}  // namespace pappus::sheet
