#include "tests/support/morning.hpp"

namespace pappus::testing {
namespace {

constexpr UtcOffset kOffset{-9 * 60};

balloon::Cylinder cylinder(std::string id, std::string group) {
  balloon::Cylinder c;
  c.id = std::move(id);
  c.group = std::move(group);
  c.shell = 22.5 * us_gallon;
  c.level_fill = 18.0 * us_gallon;
  c.tare = 20.0 * kilogram;
  c.usable_to = 0.05;
  c.test_due = balloon::Month{2031, 5};
  return c;
}

wind::LadderRow row(double height_m, double from_deg, double speed_kt, double temperature_c) {
  return {.altitude = amsl((1500.0 + height_m) * metre),
          .wind = wind::Wind::from(TrueBearing::at(from_deg * degree), speed_kt * knot),
          .temperature = celsius(temperature_c)};
}

}  // namespace

Moment at_clock(int hours, int minutes) {
  return Moment{instant_of(*Date::of(2027, 5, 16), hours, minutes, 0.0, kOffset), kOffset};
}

sheet::Morning good_morning() {
  sheet::Morning m;
  m.as_of = at_clock(4, 50);

  balloon::Balloon& b = m.balloon;
  b.name = "Test";
  b.envelope = {.volume = 105'000.0 * cubic_foot,
                .mass = 118.0 * kilogram,
                .crown_limit = celsius(121.0),
                .gross_limit = 950.0 * kilogram,
                .launch_wind_limit = 15.0 * knot,
                .fabric_hours = std::nullopt,
                .inspection = std::nullopt,
                .vents = {}};
  b.basket = {.mass = 86.0 * kilogram, .people = 5, .leads = "long side"};
  balloon::Burner burner;
  burner.mass = 28.0 * kilogram;
  burner.pressure = balloon::PressureRange{GaugePressure::at(50.0 * pound_per_square_inch),
                                           GaugePressure::at(150.0 * pound_per_square_inch)};
  b.burners = {burner};
  b.kit = {{"scoop, instruments", 18.0 * kilogram}};
  b.cylinders = {cylinder("1", "A"), cylinder("2", "A"), cylinder("3", "B")};

  b.hours = 212.0 * hour;
  b.registration = Date::of(2024, 4, 2);
  b.inspections = {{*Date::of(2027, 3, 20), true, 198.0 * hour}};

  sheet::Flight& f = m.flight;
  f.as_of = m.as_of;
  f.time = at_clock(5, 10);
  f.planned = 40.0 * minute;
  f.rules = sheet::RuleSet::us;
  f.field.name = "field";
  f.field.at = Position::at(38.90 * degree, -133.40 * degree).value();
  f.field.elevation = amsl(1500.0 * metre);
  f.field.qnh = 1018.0 * hectopascal;
  f.field.airspace = sheet::Airspace::g;
  f.field.ground = rules::Ground::elsewhere;
  for (const balloon::Cylinder& c : b.cylinders)
    f.fuel.push_back(
        {.cylinder = c.id, .liquid = 18.0 * us_gallon, .temperature = celsius(8.0), .seen = at_clock(4, 30)});
  f.highest = agl(300.0 * metre);
  people::Person pilot;
  pilot.role = people::Role::pilot;
  pilot.mass = 78.0 * kilogram;
  people::Person passenger;
  passenger.mass = 70.0 * kilogram;
  f.aboard = {pilot, passenger, passenger};
  f.ladders = {{.source = {wind::SourceKind::pibal, "pibal", at_clock(4, 40).at},
                .rows = {row(0, 100, 2, 3), row(60, 160, 4, 6), row(150, 215, 9, 11), row(300, 240, 14, 12),
                         row(450, 255, 16, 13)}}};
  wind::SurfaceReport report;
  report.source = {wind::SourceKind::report, "XSGB", at_clock(4, 35).at};
  report.station = "XSGB";
  report.temperature = celsius(3.2);
  report.dew_point = celsius(-0.9);
  report.wind = wind::Wind::from(TrueBearing::at(100.0 * degree), 2.0 * knot);
  report.wind_speed = 2.0 * knot;
  report.visibility = 10.0 * statute_mile;
  report.qnh = 1018.0 * hectopascal;
  f.reports = {report};
  f.looks = {
      {.what = "visibility", .value = measure::distance(10.0 * statute_mile), .words = {}, .time = at_clock(4, 45)},
      {.what = "storm", .value = std::nullopt, .words = "none", .time = at_clock(4, 45)},
      {.what = "cloud", .value = std::nullopt, .words = "none", .time = at_clock(4, 45)}};
  f.fitness = sheet::Fitness{true, at_clock(4, 45)};
  f.pilot.review = Date::of(2026, 9, 12);
  f.pilot.landings = {*Date::of(2027, 3, 20), *Date::of(2027, 4, 14), *Date::of(2027, 4, 25)};
  f.minimum = {.surface_wind = 8.0 * knot, .reserve = 20.0 * minute};
  return m;
}

}  // namespace pappus::testing
