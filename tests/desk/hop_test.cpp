#include "desk/hop.hpp"

#include <gtest/gtest.h>

#include "core/sheet/flight_sheet.hpp"
#include "desk/reach_answer.hpp"
#include "tests/support/morning.hpp"

namespace pappus::desk {
namespace {

using testing::at_clock;
using testing::good_morning;

sheet::Morning named_morning() {
  sheet::Morning m = good_morning();
  m.flight.aboard[0].name = "Maren";
  m.flight.aboard[1].name = "Odile";
  return m;  // the third has no name
}

Issue refusal(const Hop& hop) {
  const auto changed = apply(hop, named_morning());
  EXPECT_FALSE(changed);
  return changed ? Issue{} : changed.error();
}

TEST(Hop, OfNothingChangesNothing) {
  const auto same = apply({}, named_morning());
  ASSERT_TRUE(same);
  EXPECT_EQ(sheet::load_sheet(*same).total, sheet::load_sheet(named_morning()).total);
  EXPECT_EQ(same->flight.time, named_morning().flight.time);
  EXPECT_EQ(same->as_of, named_morning().as_of);
  EXPECT_EQ(same->flight.fuel.size(), 3u);
  EXPECT_TRUE(Hop{}.is_none());
}

TEST(Hop, WhoLeavesAndWhoComesChangesTheLoad) {
  Hop hop;
  hop.left = {"Odile", "passenger"};
  hop.came = {parse_person("passenger 80kg").value()};
  const auto changed = apply(hop, named_morning());
  ASSERT_TRUE(changed);
  EXPECT_EQ(changed->flight.aboard.size(), 2u);
  // 70 kg and 70 kg leave, 80 kg comes; each with 4 kg of clothing and 3 kg of bags.
  EXPECT_NEAR((sheet::load_sheet(named_morning()).total - sheet::load_sheet(*changed).total).in(kilogram), 77.0 - 10.0,
              1e-9);
}

TEST(Hop, WhoCameAndLeftAgainLeavesTheLoadAsItWas) {
  Hop first;
  first.came = {parse_person("passenger Ida 64kg").value()};
  auto there = apply(first, named_morning());
  ASSERT_TRUE(there);
  Hop second;
  second.left = {"Ida"};
  const auto back = apply(second, *std::move(there));
  ASSERT_TRUE(back);
  EXPECT_EQ(sheet::load_sheet(*back).total, sheet::load_sheet(named_morning()).total);
}

TEST(Hop, ACylinderThatIsNotNamedIsNotKnownAnyMore) {
  Hop hop;
  hop.fuel = {{"1", 9.0 * us_gallon, std::nullopt}, {"3", 12.0 * us_gallon, celsius(5.0)}};
  const auto changed = apply(hop, named_morning());
  ASSERT_TRUE(changed);
  ASSERT_EQ(changed->flight.fuel.size(), 2u);
  EXPECT_EQ(changed->flight.fuel[0].temperature, celsius(8.0)) << "the old one stands";
  EXPECT_EQ(changed->flight.fuel[0].seen, at_clock(4, 30)) << "with its age";
  EXPECT_EQ(changed->flight.fuel[1].temperature, celsius(5.0));
  EXPECT_EQ(changed->flight.fuel[1].seen, changed->as_of);
  EXPECT_FALSE(sheet::fuel_section(*changed)) << "cylinder 2 is not known";
  Hop hot;
  hot.hot = true;
  EXPECT_TRUE(apply(hot, named_morning())->flight.fuel.empty()) << "a hot envelope has burnt of all of it";
}

TEST(Hop, ALaterLiftOffMakesWhatWasSeenOlder) {
  Hop hop;
  hop.time = at_clock(6, 30);
  hop.planned = 30.0 * minute;
  const auto changed = apply(hop, named_morning());
  ASSERT_TRUE(changed);
  EXPECT_EQ(changed->as_of, at_clock(6, 30));
  EXPECT_EQ(changed->flight.planned, 30.0 * minute);
  EXPECT_EQ(apply(hop, named_morning(), true)->as_of, at_clock(4, 50)) << "unless the present is given";
}

TEST(Hop, WhatIsWrongIsNamedWithTheNearestRight) {
  Hop hop;
  hop.left = {"Odille"};
  EXPECT_EQ(refusal(hop).sentence.key, "issue.hop_nobody");
  EXPECT_EQ(refusal(hop).where.key, "left");
  EXPECT_EQ(refusal(hop).wanted, "Odile (one of Maren, Odile, passenger)");
  hop.left = {"Maren"};
  EXPECT_EQ(refusal(hop).sentence.key, "issue.aboard_no_pilot");
  hop = {};
  hop.came = {parse_person("pilot 80kg").value()};
  EXPECT_EQ(refusal(hop).sentence.key, "issue.aboard_pilots");
  hop = {};
  hop.fuel = {{"11", 9.0 * us_gallon, std::nullopt}};
  EXPECT_EQ(refusal(hop).sentence.key, "issue.hop_cylinder");
  EXPECT_EQ(refusal(hop).wanted.find("1 ("), 0u) << refusal(hop).wanted;
  hop.fuel = {{"1", 9.0 * us_gallon, std::nullopt}, {"1", 8.0 * us_gallon, std::nullopt}};
  EXPECT_EQ(refusal(hop).sentence.key, "issue.hop_fuel_double");
  hop.fuel = {{"1", 30.0 * us_gallon, std::nullopt}};
  EXPECT_EQ(refusal(hop).sentence.key, "issue.hop_over_shell");
  EXPECT_EQ(refusal(hop).got, "30gal");
  EXPECT_EQ(refusal(hop).wanted, "at most the shell, 22.5gal");
}

TEST(Hop, SeveralWithoutANameAreNotToldApart) {
  sheet::Morning m = good_morning();  // two passengers without a name
  Hop hop;
  hop.left = {"passenger"};
  EXPECT_EQ(apply(hop, m).error().sentence.key, "issue.hop_several");
}

TEST(ParsePerson, ReadsRoleNameMassAndMore) {
  const auto p = parse_person("student  Ida Holm 71kg weighed bags 2kg");
  ASSERT_TRUE(p);
  EXPECT_EQ(p->role, people::Role::student);
  EXPECT_EQ(p->name, "Ida Holm");
  EXPECT_EQ(p->mass, 71.0 * kilogram);
  EXPECT_EQ(p->basis, people::MassBasis::weighed);
  EXPECT_EQ(p->bags, 2.0 * kilogram);
  EXPECT_EQ(parse_person("passenger 176lb")->mass, 176.0 * pound);
}

TEST(ParsePerson, RefusesTheRest) {
  for (const char* text :
       {"", "passenger", "80kg", "guest 80kg", "passenger Ida", "passenger 80kg heavy", "passenger 80kg bags"})
    EXPECT_EQ(parse_person(text).error().sentence.key, "issue.hop_came") << text;
  EXPECT_EQ(parse_person("passenger 80").error().sentence.key, "issue.unit_missing");
  EXPECT_EQ(parse_person("passenger 800kg").error().sentence.key, "issue.aboard_mass");
  EXPECT_EQ(parse_person("passenger 80kg bags 800kg").error().sentence.key, "issue.aboard_bags");
}

TEST(ParseFuelNow, ReadsCylinderLiquidAndTemperature) {
  const auto plain = parse_fuel_now("1=9gal");
  ASSERT_TRUE(plain);
  EXPECT_EQ(plain->cylinder, "1");
  EXPECT_EQ(plain->liquid, 9.0 * us_gallon);
  EXPECT_FALSE(plain->temperature);
  EXPECT_EQ(parse_fuel_now("left rear=20L,4C")->temperature, celsius(4.0));
  EXPECT_EQ(parse_fuel_now("9gal").error().sentence.key, "issue.hop_fuel");
  EXPECT_EQ(parse_fuel_now("=9gal").error().sentence.key, "issue.hop_fuel");
  EXPECT_EQ(parse_fuel_now("1=9").error().sentence.key, "issue.unit_missing");
  EXPECT_EQ(parse_fuel_now("1=9gal,warm").error().sentence.key, "issue.number_unreadable");
}

TEST(ReachAnswer, TheFootprintIsGeoJsonAroundTheField) {
  const sheet::Morning m = named_morning();
  const auto answer = reach_answer(m);
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->footprint.type, "FeatureCollection");
  ASSERT_FALSE(answer->footprint.features.empty());
  for (const GeoFeature& feature : answer->footprint.features) {
    EXPECT_EQ(feature.geometry.type, "Polygon");
    const auto& ring = feature.geometry.coordinates.at(0);
    ASSERT_GE(ring.size(), 4u);
    EXPECT_EQ(ring.front(), ring.back()) << "closed";
    double twice_area = 0.0;
    for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
      twice_area += ring[i][0] * ring[i + 1][1] - ring[i + 1][0] * ring[i][1];
      EXPECT_NEAR(ring[i][0], -133.40, 0.5) << "longitude first";
      EXPECT_NEAR(ring[i][1], 38.90, 0.5);
    }
    EXPECT_GT(twice_area, 0.0) << "counter-clockwise";
  }
}

}  // namespace
}  // namespace pappus::desk
