#include "formats/text/pilot/flight_write.hpp"

#include <algorithm>
#include <string>

#include <gtest/gtest.h>

#include "tests/formats/text/pilot/edited_file.hpp"
#include "tests/formats/text/pilot/written.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::text {
namespace {

using testing::any_words;
using testing::expect_same;
using testing::typed_si;

constexpr double kWindSlack = 1.0e-8;

Moment any_moment(Random& random, UtcOffset offset) {
  const Instant latest = instant_of(*Date::of(2027, 5, 16), 5, 0, 0.0, offset);
  return {latest - static_cast<double>(random.below(200000)) * second, offset};
}

wind::Ladder any_ladder(Random& random, const sheet::Flight& flight) {
  wind::Ladder out;
  out.source.kind = Names<wind::SourceKind>::all[random.below(5)].first;
  out.source.name = random.below(2) == 0 ? std::string(name_of(out.source.kind)) : any_words(random);
  out.source.time = any_moment(random, flight.time.offset).at;
  const std::vector<std::string_view> unit{random.below(2) == 0 ? "ft" : "m"};
  const bool warm = random.below(2) == 0, below = random.below(8) == 0;
  std::vector<double> heights;
  for (std::size_t i = 1 + random.below(6); i > 0; --i)
    heights.push_back(typed_si(random, Dimension::length, unit, "0m", "9000m"));
  std::sort(heights.begin(), heights.end());
  for (const double height : heights) {
    if (!out.rows.empty() && (flight.field.elevation + height * metre) <= out.rows.back().altitude) continue;
    wind::LadderRow row;
    // Winds below the field are known by their altitude: from a launch site on a hill.
    row.altitude = below ? amsl(height * metre) : flight.field.elevation + height * metre;
    if (!out.rows.empty() && row.altitude <= out.rows.back().altitude) continue;
    const std::size_t kind = random.below(5);
    if (kind == 0)
      row.wind = wind::Wind{};
    else if (kind > 1)
      row.wind = wind::Wind::from(
          TrueBearing::at(static_cast<double>(random.below(361)) * degree),
          typed_si(random, Dimension::speed, {"kt", "m/s", "mph", "km/h"}, "1kt", "150kt") * metre_per_second);
    if (warm && random.below(3) > 0)
      row.temperature = Temperature::at(typed_si(random, Dimension::temperature, {"C", "F"}, "-60C", "40C") * kelvin);
    out.rows.push_back(row);
  }
  return out;
}

FlightFile any_flight(Random& random) {
  const auto maybe = [&] { return random.below(2) == 0; };
  FlightFile file;
  sheet::Flight& f = file.flight;
  file.balloon = any_words(random);
  const UtcOffset offset{-840 + 30 * static_cast<int>(random.below(57))};
  f.time = {instant_of(*Date::of(2027, 5, 16), 5, 10, static_cast<double>(random.below(60)), offset), offset};
  f.as_of = Moment{instant_of(*Date::of(2027, 5, 16), 5, 0, 0.0, offset), offset};
  f.planned = typed_si(random, Dimension::duration, {"min", "h"}, "5min", "8h") * second;
  if (maybe()) f.rules = maybe() ? sheet::RuleSet::us : sheet::RuleSet::eu;
  f.field.name = any_words(random);
  f.field.at = Position::at((static_cast<double>(random.below(1'800'001)) / 10000.0 - 90.0) * degree,
                            (static_cast<double>(random.below(3'600'001)) / 10000.0 - 180.0) * degree)
                   .value();
  f.field.elevation = amsl(typed_si(random, Dimension::altitude, {"m", "ft"}, "-430m", "6000m") * metre);
  if (maybe()) f.field.qnh = typed_si(random, Dimension::air_pressure, {"hPa", "inHg"}, "850hPa", "1085hPa") * pascal;
  if (maybe()) f.field.airspace = Names<sheet::Airspace>::all[random.below(7)].first;
  for (std::size_t i = random.below(4); i > 0; --i) {
    sheet::FuelSeen fuel;
    fuel.cylinder = std::to_string(i) + any_words(random);
    if (maybe()) fuel.liquid = typed_si(random, Dimension::volume, {"gal", "L"}, "0L", "500L") * cubic_metre;
    if (maybe())
      fuel.temperature = Temperature::at(typed_si(random, Dimension::temperature, {"C", "F"}, "-50C", "60C") * kelvin);
    if (maybe()) fuel.seen = any_moment(random, offset);
    const auto degrees = [&] {
      return Temperature::at(typed_si(random, Dimension::temperature, {"C", "F"}, "-40C", "50C") * kelvin);
    };
    if (maybe()) {
      const Temperature a = degrees(), b = maybe() ? a : degrees();
      fuel.filled = propane::Filled{std::min(a, b), std::max(a, b)};
    }
    if (maybe()) fuel.valve = maybe() ? propane::Valve::liquid : propane::Valve::vapour;
    if (maybe()) fuel.dial = propane::Dial{.at = maybe() ? propane::Dial::At::top : propane::Dial::At::bottom};
    if (maybe())
      fuel.dial = propane::Dial{.at = propane::Dial::At::reading,
                                .fraction = typed_si(random, Dimension::percent, {"%"}, "0%", "100%")};
    if (maybe()) fuel.weighed = typed_si(random, Dimension::mass, {"kg", "lb"}, "1kg", "500kg") * kilogram;
    if (maybe())
      fuel.gauge_pressure =
          GaugePressure::at(typed_si(random, Dimension::fuel_pressure, {"psi", "bar"}, "0psi", "400psi") * pascal);
    fuel.charged = maybe();
    fuel.outdoors = maybe();
    f.fuel.push_back(fuel);
  }
  if (maybe()) f.highest = agl(typed_si(random, Dimension::altitude, {"m", "ft"}, "10m", "9000m") * metre);
  const std::size_t people = 1 + random.below(5), pilot = random.below(people);
  for (std::size_t i = 0; i < people; ++i) {
    people::Person person;
    person.role = i == pilot ? people::Role::pilot : Names<people::Role>::all[1 + random.below(4)].first;
    if (maybe()) person.name = any_words(random);
    person.mass = typed_si(random, Dimension::mass, {"kg", "lb"}, "15kg", "250kg") * kilogram;
    if (maybe()) person.basis = people::MassBasis::weighed;
    if (maybe()) person.height = typed_si(random, Dimension::length, {"m", "ft"}, "0.5m", "2.5m") * metre;
    if (maybe()) person.bags = typed_si(random, Dimension::mass, {"kg", "lb"}, "0kg", "100kg") * kilogram;
    f.aboard.push_back(person);
  }
  for (std::size_t i = random.below(3); i > 0; --i) f.ladders.push_back(any_ladder(random, f));
  for (std::size_t i = random.below(4); i > 0; --i) {
    sheet::Look look{"visibility", std::nullopt, {}, any_moment(random, offset)};
    if (maybe()) {
      look.value = measure::distance(typed_si(random, Dimension::distance, {"mi", "km", "m"}, "0m", "300km") * metre);
      look.words = toml_quantity(look.value->si, Dimension::distance, Taste::metric);
    } else {
      look.what = "dew";
      look.words = any_words(random, true);
    }
    f.looks.push_back(look);
  }
  if (maybe()) file.pilot_file = any_words(random);
  if (maybe()) f.field.ground = Names<rules::Ground>::all[random.below(3)].first;
  if (maybe())
    f.field.local_minimum_height = agl(typed_si(random, Dimension::altitude, {"m", "ft"}, "0m", "3000m") * metre);
  f.field.over_water = maybe();
  f.hot = maybe();
  for (std::size_t i = random.below(3); i > 0; --i) {
    sheet::Place place{std::to_string(i) + any_words(random), f.field.at};
    if (maybe()) place.radius = typed_si(random, Dimension::distance, {"m", "ft"}, "10m", "5km") * metre;
    f.places.push_back(place);
  }
  if (maybe()) f.landing.obstacle = typed_si(random, Dimension::altitude, {"m", "ft"}, "0m", "300m") * metre;
  if (maybe()) f.landing.room = typed_si(random, Dimension::distance, {"m", "ft"}, "10m", "20km") * metre;
  if (maybe()) f.fitness = sheet::Fitness{maybe(), any_moment(random, offset)};
  const auto day = [&] { return testing::any_date(random, *Date::of(2027, 5, 1)); };
  if (maybe()) f.pilot.night_landings = {day(), day()};
  if (maybe()) f.pilot.medical_until = Date::of(2028, 5, 1);
  if (maybe()) f.pilot.for_hire = maybe();
  if (maybe()) f.pilot.training_given = maybe();
  for (std::size_t i = random.below(4); i > 0; --i)
    f.pilot.log.flights.push_back({day(), typed_si(random, Dimension::duration, {"h"}, "0h", "24h") * second,
                                   static_cast<int>(random.below(5)), static_cast<int>(random.below(5)), maybe()});
  if (maybe()) f.pilot.log.training_flight = day();
  if (maybe()) f.pilot.log.check = day();
  if (maybe()) f.pilot.log.supervised = {day()};
  if (maybe()) f.pilot.log.refresher = day();
  if (maybe())
    f.pilot.trained_volume = typed_si(random, Dimension::volume, {"m3", "ft3"}, "100m3", "20000m3") * cubic_metre;
  if (maybe()) f.pilot.locator = maybe() ? people::Locator::elt : people::Locator::plb;
  if (maybe()) f.minimum.visibility = typed_si(random, Dimension::distance, {"mi", "km"}, "0m", "50km") * metre;
  if (maybe()) f.minimum.spread = typed_si(random, Dimension::temperature_delta, {"K"}, "0K", "20K") * kelvin;
  if (maybe()) f.minimum.cloud_base = typed_si(random, Dimension::altitude, {"m", "ft"}, "0m", "6000m") * metre;
  if (maybe()) f.pilot.certificate = any_words(random);
  if (maybe()) f.pilot.review = testing::any_date(random, *Date::of(2027, 5, 1));
  for (std::size_t i = random.below(4); i > 0; --i)
    f.pilot.landings.push_back(testing::any_date(random, *Date::of(2027, 5, 1)));
  if (maybe())
    f.minimum.surface_wind = typed_si(random, Dimension::speed, {"kt", "mph"}, "0kt", "50kt") * metre_per_second;
  if (maybe()) f.minimum.reserve = typed_si(random, Dimension::duration, {"min"}, "0min", "5h") * second;
  if (maybe()) f.accepted.push_back({"surface_wind", any_words(random, true), any_moment(random, offset)});
  return file;
}

void expect_same_ladder(const wind::Ladder& a, const wind::Ladder& b) {
  EXPECT_EQ(a.source, b.source);
  ASSERT_EQ(a.rows.size(), b.rows.size());
  for (std::size_t i = 0; i < a.rows.size(); ++i) {
    EXPECT_NEAR(a.rows[i].altitude.from_origin().in(metre), b.rows[i].altitude.from_origin().in(metre), kWindSlack);
    ASSERT_EQ(a.rows[i].wind.has_value(), b.rows[i].wind.has_value());
    if (a.rows[i].wind) {
      EXPECT_NEAR(a.rows[i].wind->east().in(metre_per_second), b.rows[i].wind->east().in(metre_per_second), kWindSlack);
      EXPECT_NEAR(a.rows[i].wind->north().in(metre_per_second), b.rows[i].wind->north().in(metre_per_second),
                  kWindSlack);
    }
    ASSERT_EQ(a.rows[i].temperature.has_value(), b.rows[i].temperature.has_value());
    if (a.rows[i].temperature) {
      EXPECT_NEAR((*a.rows[i].temperature - *b.rows[i].temperature).in(kelvin), 0.0, kWindSlack);
    }
  }
}

void expect_same_flight(const FlightFile& x, const FlightFile& y) {
  EXPECT_EQ(x.balloon, y.balloon);
  const sheet::Flight &a = x.flight, &b = y.flight;
  EXPECT_EQ(a.as_of, b.as_of);
  EXPECT_EQ(a.time, b.time);
  expect_same(a.planned, b.planned, "planned");
  EXPECT_EQ(a.rules, b.rules);
  EXPECT_EQ(a.field.name, b.field.name);
  EXPECT_NEAR(a.field.at.latitude().in(degree), b.field.at.latitude().in(degree), 1.0e-9);
  EXPECT_NEAR(a.field.at.longitude().in(degree), b.field.at.longitude().in(degree), 1.0e-9);
  expect_same(a.field.elevation, b.field.elevation, "elevation");
  expect_same(a.field.qnh, b.field.qnh, "qnh");
  EXPECT_EQ(a.field.airspace, b.field.airspace);
  ASSERT_EQ(a.fuel.size(), b.fuel.size());
  for (std::size_t i = 0; i < a.fuel.size(); ++i) {
    EXPECT_EQ(a.fuel[i].cylinder, b.fuel[i].cylinder);
    expect_same(a.fuel[i].liquid, b.fuel[i].liquid, "liquid");
    ASSERT_EQ(a.fuel[i].filled.has_value(), b.fuel[i].filled.has_value());
    if (a.fuel[i].filled) {
      expect_same(std::optional{a.fuel[i].filled->coldest}, std::optional{b.fuel[i].filled->coldest}, "coldest");
      expect_same(std::optional{a.fuel[i].filled->warmest}, std::optional{b.fuel[i].filled->warmest}, "warmest");
    }
    EXPECT_EQ(a.fuel[i].valve, b.fuel[i].valve);
    ASSERT_EQ(a.fuel[i].dial.has_value(), b.fuel[i].dial.has_value());
    if (a.fuel[i].dial) {
      EXPECT_EQ(a.fuel[i].dial->at, b.fuel[i].dial->at);
      EXPECT_NEAR(a.fuel[i].dial->fraction, b.fuel[i].dial->fraction, 1e-12);
    }
    expect_same(a.fuel[i].weighed, b.fuel[i].weighed, "weighed");
    expect_same(a.fuel[i].gauge_pressure, b.fuel[i].gauge_pressure, "gauge_pressure");
    EXPECT_EQ(a.fuel[i].charged, b.fuel[i].charged);
    EXPECT_EQ(a.fuel[i].outdoors, b.fuel[i].outdoors);
    expect_same(a.fuel[i].temperature, b.fuel[i].temperature, "temperature");
    EXPECT_EQ(a.fuel[i].seen, b.fuel[i].seen);
  }
  expect_same(a.highest, b.highest, "highest");
  ASSERT_EQ(a.aboard.size(), b.aboard.size());
  for (std::size_t i = 0; i < a.aboard.size(); ++i) {
    EXPECT_EQ(a.aboard[i].role, b.aboard[i].role);
    EXPECT_EQ(a.aboard[i].name, b.aboard[i].name);
    expect_same(a.aboard[i].mass, b.aboard[i].mass, "mass");
    EXPECT_EQ(a.aboard[i].basis, b.aboard[i].basis);
    expect_same(a.aboard[i].bags, b.aboard[i].bags, "bags");
    expect_same(a.aboard[i].height, b.aboard[i].height, "height");
  }
  ASSERT_EQ(a.ladders.size(), b.ladders.size());
  for (std::size_t i = 0; i < a.ladders.size(); ++i) expect_same_ladder(a.ladders[i], b.ladders[i]);
  ASSERT_EQ(a.looks.size(), b.looks.size());
  for (std::size_t i = 0; i < a.looks.size(); ++i) {
    EXPECT_EQ(a.looks[i].what, b.looks[i].what);
    EXPECT_EQ(a.looks[i].words, b.looks[i].words);
    ASSERT_EQ(a.looks[i].value.has_value(), b.looks[i].value.has_value());
    if (a.looks[i].value) expect_same(a.looks[i].value->si, b.looks[i].value->si, "look");
    EXPECT_EQ(a.looks[i].time, b.looks[i].time);
  }
  EXPECT_EQ(x.pilot_file, y.pilot_file);
  EXPECT_EQ(a.field.ground, b.field.ground);
  expect_same(a.field.local_minimum_height, b.field.local_minimum_height, "local_minimum_height");
  EXPECT_EQ(a.field.over_water, b.field.over_water);
  EXPECT_EQ(a.hot, b.hot);
  ASSERT_EQ(a.places.size(), b.places.size());
  for (std::size_t i = 0; i < a.places.size(); ++i) {
    EXPECT_EQ(a.places[i].name, b.places[i].name);
    EXPECT_NEAR(a.places[i].at.latitude().in(degree), b.places[i].at.latitude().in(degree), 1.0e-9);
    expect_same(a.places[i].radius, b.places[i].radius, "radius");
  }
  expect_same(a.landing.obstacle, b.landing.obstacle, "obstacle");
  expect_same(a.landing.room, b.landing.room, "room");
  ASSERT_EQ(a.fitness.has_value(), b.fitness.has_value());
  if (a.fitness) {
    EXPECT_EQ(a.fitness->fit, b.fitness->fit);
    EXPECT_EQ(a.fitness->time, b.fitness->time);
  }
  EXPECT_EQ(a.pilot.night_landings, b.pilot.night_landings);
  EXPECT_EQ(a.pilot.medical_until, b.pilot.medical_until);
  EXPECT_EQ(a.pilot.for_hire, b.pilot.for_hire);
  EXPECT_EQ(a.pilot.training_given, b.pilot.training_given);
  ASSERT_EQ(a.pilot.log.flights.size(), b.pilot.log.flights.size());
  for (std::size_t i = 0; i < a.pilot.log.flights.size(); ++i) {
    const people::LoggedFlight &p = a.pilot.log.flights[i], &q = b.pilot.log.flights[i];
    EXPECT_EQ(p.date, q.date);
    expect_same(p.in_command, q.in_command, "in_command");
    EXPECT_EQ(p.take_offs, q.take_offs);
    EXPECT_EQ(p.landings, q.landings);
    EXPECT_EQ(p.in_class, q.in_class);
  }
  EXPECT_EQ(a.pilot.log.training_flight, b.pilot.log.training_flight);
  EXPECT_EQ(a.pilot.log.check, b.pilot.log.check);
  EXPECT_EQ(a.pilot.log.supervised, b.pilot.log.supervised);
  EXPECT_EQ(a.pilot.log.refresher, b.pilot.log.refresher);
  expect_same(a.pilot.trained_volume, b.pilot.trained_volume, "trained_volume");
  EXPECT_EQ(a.pilot.locator, b.pilot.locator);
  expect_same(a.minimum.visibility, b.minimum.visibility, "visibility");
  expect_same(a.minimum.spread, b.minimum.spread, "spread");
  expect_same(a.minimum.cloud_base, b.minimum.cloud_base, "cloud_base");
  EXPECT_EQ(a.pilot.certificate, b.pilot.certificate);
  EXPECT_EQ(a.pilot.review, b.pilot.review);
  EXPECT_EQ(a.pilot.landings, b.pilot.landings);
  expect_same(a.minimum.surface_wind, b.minimum.surface_wind, "surface_wind");
  expect_same(a.minimum.reserve, b.minimum.reserve, "reserve");
  ASSERT_EQ(a.accepted.size(), b.accepted.size());
  for (std::size_t i = 0; i < a.accepted.size(); ++i) {
    EXPECT_EQ(a.accepted[i].limit, b.accepted[i].limit);
    EXPECT_EQ(a.accepted[i].reason, b.accepted[i].reason);
    EXPECT_EQ(a.accepted[i].time, b.accepted[i].time);
  }
}

TEST(FlightWrite, WhatIsWrittenIsReadBackInEitherTaste) {
  auto random = testing::seeded("FlightWrite.Back");
  for (int i = 0; i < 400; ++i) {
    const FlightFile flight = any_flight(random);
    for (const Taste taste : {Taste::us, Taste::metric}) {
      const std::string file = write_flight(flight, {.taste = taste});
      SCOPED_TRACE(file);
      const auto back = parse_flight(file, "flight.toml");
      ASSERT_EQ(testing::told(back.issues), "");
      expect_same_flight(flight, *back.value);
      if (HasFailure()) return;
    }
  }
}

const std::string kFlight = R"(balloon = "balloon.toml"
as_of = 2027-05-16T04:50:00-09:00
time = 2027-05-16T05:10:00-09:00
planned = "40min"
rules = "us"

[field]
name = "Saltgrass Field"
at = [38.9, -133.4]
elevation = "1500m"
qnh = "30.06inHg"
airspace = "G"

[[fuel]]
cylinder = "1"
liquid = "18gal"
temperature = "46F"
seen = 2027-05-16T04:30:00-09:00

[highest]
above_field = "1000ft"

[[aboard]]
role = "pilot"
name = "Maren"
mass = "78kg"
bags = "9lb"

[[wind]]
by = "pibal"
seen = 2027-05-16T04:40:00-09:00
units = ["ft agl", "deg true from", "kt", "C"]
rows = [
  [0, 100, 2, 3],
  [500, "", "", 11],
  [1000, 240, 14, ""],
  [1500, 0, 0, 12],
]

[[report]]
text = """
SALTGRASS BASIN AUTO WX "3006"
METAR XSGB 161335Z AUTO 10002KT 10SM CLR 03/M01 A3006
"""

[[look]]
what = "storm"
value = "40mi"
time = 2027-05-16T04:45:00-09:00

[pilot]
certificate = "commercial"
landings = [2027-02-20, 2027-03-14]

[minimum]
surface_wind = "8kt"
)";

std::string without_escapes(std::string text) {
  for (std::size_t at = 0; (at = text.find("\\\"", at)) != std::string::npos;) text.erase(at, 1);
  return text;
}

TEST(FlightWrite, AFileInOurOrderIsWrittenAsItWas) {
  const auto read = parse_flight(kFlight, "flight.toml");
  ASSERT_TRUE(read.value);
  const std::size_t begin = kFlight.find("SALTGRASS"), end = kFlight.find("\"\"\"\n\n[[look]]");
  const FlightWriting how{.taste = Taste::us, .pasted = {{kFlight.substr(begin, end - begin)}}};
  EXPECT_EQ(without_escapes(write_flight(*read.value, how)), kFlight);
}

TEST(FlightWrite, ReportsWithoutTheirPasteAreWrittenByTheirGroups) {
  const auto read = parse_flight(kFlight, "flight.toml");
  ASSERT_TRUE(read.value);
  const auto back = parse_flight(write_flight(*read.value, {}), "flight.toml");
  ASSERT_TRUE(back.value);
  ASSERT_EQ(back.value->flight.reports.size(), 1u);
  const wind::SurfaceReport &a = read.value->flight.reports.front(), &b = back.value->flight.reports.front();
  EXPECT_EQ(a.text, b.text);
  EXPECT_EQ(a.source, b.source);
  EXPECT_EQ(a.qnh, b.qnh);
  EXPECT_EQ(a.temperature, b.temperature);
}

TEST(FlightWrite, AStationThatIsMeantStandsBesideItsText) {
  const auto read = parse_flight(kFlight, "flight.toml");
  const std::string file = write_flight(*read.value, {.pasted = {{"FT 3000\n", "XSG"}}});
  EXPECT_NE(file.find("[[report]]\nstation = \"XSG\"\ntext = \"\"\"\nFT 3000\n\"\"\"\n"), std::string::npos) << file;
}

TEST(FlightWrite, KeptTablesGoInAsTheyStandAndWinOverValues) {
  const auto read = parse_flight(kFlight, "flight.toml");
  const auto tables = parse_toml("[minimum]\nreserve = \"25min\"\n", "old.toml");
  ASSERT_TRUE(read.value && tables);
  const std::string file = write_flight(*read.value, {.kept = tables->members});
  const auto back = parse_flight(file, "flight.toml");
  ASSERT_EQ(testing::told(back.issues), "");
  EXPECT_FALSE(back.value->flight.minimum.surface_wind.has_value());
  EXPECT_EQ(back.value->flight.minimum.reserve, 25.0 * minute);
  EXPECT_EQ(back.value->flight.pilot.landings.size(), 2u);
}

}  // namespace
}  // namespace pappus::text
