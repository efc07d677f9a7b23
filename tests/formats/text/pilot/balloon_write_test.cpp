#include "formats/text/pilot/balloon_write.hpp"

#include <string>

#include <gtest/gtest.h>

#include "formats/text/pilot/balloon_file.hpp"
#include "tests/formats/text/pilot/edited_file.hpp"
#include "tests/formats/text/pilot/written.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

using balloon::Balloon;
using testing::any_words;
using testing::expect_same;
using testing::typed_si;

Balloon any_balloon(Random& random) {
  const auto maybe = [&] { return random.below(2) == 0; };
  const auto kg = [&](const char* low, const char* high) {
    return typed_si(random, Dimension::mass, {"kg", "lb"}, low, high) * kilogram;
  };
  const auto volume = [&](const char* low, const char* high) {
    return typed_si(random, Dimension::volume, {"gal", "L", "m3", "ft3"}, low, high) * cubic_metre;
  };
  const auto gauge = [&](const char* low, const char* high) {
    return GaugePressure::at(typed_si(random, Dimension::fuel_pressure, {"psi", "bar"}, low, high) * pascal);
  };
  Balloon b;
  b.name = any_words(random);
  if (maybe()) b.serial = any_words(random);
  if (maybe()) b.year = 1950 + static_cast<int>(random.below(151));
  b.envelope.volume = volume("100m3", "20000m3");
  b.envelope.mass = kg("5kg", "500kg");
  if (maybe())
    b.envelope.crown_limit =
        Temperature::at(typed_si(random, Dimension::temperature, {"C", "F"}, "60C", "180C") * kelvin);
  if (maybe()) b.envelope.gross_limit = kg("5000kg", "10000kg");
  if (maybe())
    b.envelope.launch_wind_limit =
        typed_si(random, Dimension::speed, {"kt", "mph", "m/s", "km/h"}, "1kt", "50kt") * metre_per_second;
  if (maybe()) b.envelope.fabric_hours = typed_si(random, Dimension::duration, {"h"}, "0h", "5000h") * second;
  if (maybe()) b.envelope.inspection = Date::of(2027, 1, 1)->plus_days(static_cast<int>(random.below(900)));
  for (const auto& [vent, name] : Names<balloon::Vent>::all)
    if (maybe()) b.envelope.vents.push_back(vent);
  for (std::size_t i = random.below(3); i > 0; --i) {
    balloon::Line line{any_words(random), {}, {}};
    if (maybe()) line.looks = any_words(random);
    if (maybe()) line.side = any_words(random);
    b.lines.push_back(line);
  }
  b.basket.mass = kg("1kg", "500kg");
  if (maybe()) b.basket.people = 1 + static_cast<int>(random.below(40));
  if (maybe()) b.basket.leads = any_words(random);
  if (maybe()) b.basket.wall = typed_si(random, Dimension::length, {"m", "ft"}, "0.5m", "2m") * metre;
  if (maybe()) b.hours = typed_si(random, Dimension::duration, {"h"}, "0h", "20000h") * second;
  if (maybe()) b.registration = Date::of(2020, 1, 1)->plus_days(static_cast<int>(random.below(900)));
  for (std::size_t i = random.below(3); i > 0; --i)
    b.inspections.push_back({Date::of(2026, 1, 1)->plus_days(static_cast<int>(random.below(900))), maybe(),
                             typed_si(random, Dimension::duration, {"h"}, "0h", "20000h") * second});
  b.burners.resize(1 + random.below(2));
  for (balloon::Burner& burner : b.burners) {
    burner.mass = kg("1kg", "150kg");
    if (maybe()) burner.power = typed_si(random, Dimension::power, {"MW", "kW"}, "100kW", "20MW") * watt;
    burner.quiet = maybe();
    if (maybe()) burner.pilot_light = maybe() ? balloon::PilotLight::vapour : balloon::PilotLight::liquid;
    if (maybe()) burner.pressure = balloon::PressureRange{gauge("1psi", "90psi"), gauge("100psi", "500psi")};
  }
  for (std::size_t i = random.below(3); i > 0; --i) b.kit.push_back({any_words(random), kg("0kg", "500kg")});
  b.cylinders.resize(1 + random.below(4));
  const bool grouped = maybe();
  for (std::size_t i = 0; i < b.cylinders.size(); ++i) {
    balloon::Cylinder& c = b.cylinders[i];
    c.id = std::to_string(i + 1) + any_words(random);
    c.group = grouped ? std::string(1, static_cast<char>('A' + random.below(2))) : b.cylinders.front().id;
    if (i == 0 && !grouped) c.group = c.id;
    if (!grouped && maybe()) c.group = c.id;
    c.shell = volume("200L", "500L");
    c.level_fill = volume("1L", "200L");
    c.tare = kg("1kg", "200kg");
    if (maybe()) c.gauge_span = typed_si(random, Dimension::percent, {"%"}, "0%", "100%");
    if (maybe()) c.gauge_reads = maybe() ? balloon::GaugeReads::shell : balloon::GaugeReads::level_fill;
    if (maybe()) c.attitude = maybe() ? balloon::Attitude::lying : balloon::Attitude::upright;
    if (maybe()) c.relief = gauge("50psi", "1000psi");
    if (maybe())
      c.test_due = balloon::Month{2027 + static_cast<int>(random.below(9)), 1 + static_cast<int>(random.below(12))};
    c.usable_to = typed_si(random, Dimension::percent, {"%"}, "0%", "50%");
  }
  if (maybe()) b.both_valves_open = maybe();
  return b;
}

void expect_same_balloon(const Balloon& a, const Balloon& b) {
  EXPECT_EQ(a.name, b.name);
  EXPECT_EQ(a.serial, b.serial);
  EXPECT_EQ(a.year, b.year);
  expect_same(a.envelope.volume, b.envelope.volume, "volume");
  expect_same(a.envelope.mass, b.envelope.mass, "envelope");
  expect_same(a.envelope.crown_limit, b.envelope.crown_limit, "crown_limit");
  expect_same(a.envelope.gross_limit, b.envelope.gross_limit, "gross_limit");
  expect_same(a.envelope.launch_wind_limit, b.envelope.launch_wind_limit, "launch_wind_limit");
  expect_same(a.envelope.fabric_hours, b.envelope.fabric_hours, "fabric_hours");
  EXPECT_EQ(a.envelope.inspection, b.envelope.inspection);
  EXPECT_EQ(a.envelope.vents, b.envelope.vents);
  ASSERT_EQ(a.lines.size(), b.lines.size());
  for (std::size_t i = 0; i < a.lines.size(); ++i) {
    EXPECT_EQ(a.lines[i].does, b.lines[i].does);
    EXPECT_EQ(a.lines[i].looks, b.lines[i].looks);
    EXPECT_EQ(a.lines[i].side, b.lines[i].side);
  }
  expect_same(a.basket.mass, b.basket.mass, "basket");
  EXPECT_EQ(a.basket.people, b.basket.people);
  EXPECT_EQ(a.basket.leads, b.basket.leads);
  expect_same(a.basket.wall, b.basket.wall, "wall");
  expect_same(a.hours, b.hours, "hours");
  EXPECT_EQ(a.registration, b.registration);
  ASSERT_EQ(a.inspections.size(), b.inspections.size());
  for (std::size_t i = 0; i < a.inspections.size(); ++i) {
    EXPECT_EQ(a.inspections[i].done, b.inspections[i].done);
    EXPECT_EQ(a.inspections[i].annual, b.inspections[i].annual);
    expect_same(a.inspections[i].at, b.inspections[i].at, "inspection");
  }
  ASSERT_EQ(a.burners.size(), b.burners.size());
  for (std::size_t i = 0; i < a.burners.size(); ++i) {
    expect_same(a.burners[i].mass, b.burners[i].mass, "burner");
    expect_same(a.burners[i].power, b.burners[i].power, "power");
    EXPECT_EQ(a.burners[i].quiet, b.burners[i].quiet);
    EXPECT_EQ(a.burners[i].pilot_light, b.burners[i].pilot_light);
    ASSERT_EQ(a.burners[i].pressure.has_value(), b.burners[i].pressure.has_value());
    if (!a.burners[i].pressure) continue;
    expect_same(a.burners[i].pressure->low, b.burners[i].pressure->low, "lowest pressure");
    expect_same(a.burners[i].pressure->high, b.burners[i].pressure->high, "highest pressure");
  }
  ASSERT_EQ(a.kit.size(), b.kit.size());
  for (std::size_t i = 0; i < a.kit.size(); ++i) {
    EXPECT_EQ(a.kit[i].what, b.kit[i].what);
    expect_same(a.kit[i].mass, b.kit[i].mass, "kit");
  }
  ASSERT_EQ(a.cylinders.size(), b.cylinders.size());
  for (std::size_t i = 0; i < a.cylinders.size(); ++i) {
    const balloon::Cylinder &c = a.cylinders[i], &d = b.cylinders[i];
    EXPECT_EQ(c.id, d.id);
    EXPECT_EQ(c.group, d.group);
    expect_same(c.shell, d.shell, "shell");
    expect_same(c.level_fill, d.level_fill, "level_fill");
    expect_same(c.tare, d.tare, "tare");
    expect_same(c.gauge_span, d.gauge_span, "gauge_span");
    EXPECT_EQ(c.attitude, d.attitude);
    EXPECT_EQ(c.gauge_reads, d.gauge_reads);
    EXPECT_EQ(c.gauge_reads, d.gauge_reads);
    expect_same(c.relief, d.relief, "relief");
    EXPECT_EQ(c.test_due, d.test_due);
    expect_same(c.usable_to, d.usable_to, "usable_to");
  }
  EXPECT_EQ(a.both_valves_open, b.both_valves_open);
}

TEST(BalloonWrite, WhatIsWrittenIsReadBackInEitherTaste) {
  auto random = testing::seeded("BalloonWrite.Back");
  for (int i = 0; i < 300; ++i) {
    const Balloon b = any_balloon(random);
    for (const Taste taste : {Taste::us, Taste::metric}) {
      const std::string file = write_balloon(b, taste);
      SCOPED_TRACE(file);
      const auto back = parse_balloon(file, "balloon.toml");
      ASSERT_EQ(testing::told(back.issues), "");
      expect_same_balloon(b, *back.value);
      if (HasFailure()) return;
    }
  }
}

TEST(BalloonWrite, UnitsStayAsTheyWereWrittenWhateverTheTaste) {
  const std::string file = R"(name = "Lantern"

[envelope]
volume = "105000ft3"
mass = "118kg"
crown_limit = "121C"
gross_limit = "2100lb"
fabric_hours = 212.5

[basket]
mass = "86kg"
people = 5

[[burner]]
mass = "31lb"
power = "5.4MW"
quiet = true
pressure = ["50psi", "150psi"]

[[cylinder]]
id = "1"
shell = "22.5gal"
level_fill = "18gal"
tare = "20kg"
gauge_span = "35%"
group = "A"
test_due = "2031-05"
usable_to = "5%"
)";
  const auto read = parse_balloon(file, "balloon.toml");
  ASSERT_TRUE(read.value);
  EXPECT_EQ(write_balloon(*read.value, Taste::us), file);
  EXPECT_EQ(write_balloon(*read.value, Taste::metric), file);
}

}  // namespace
}  // namespace pappus::text
