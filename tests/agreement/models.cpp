// The models of core for random air, places, loads and mornings.
#include "core/air/altimetry.hpp"
#include "core/air/column.hpp"
#include "core/air/humidity.hpp"
#include "core/air/isa.hpp"
#include "core/balloon/burn.hpp"
#include "core/balloon/lift.hpp"
#include "core/motion/flight.hpp"
#include "core/propane/saturation.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "core/sky/sun.hpp"
#include "core/sky/variation.hpp"
#include "tests/agreement/groups.hpp"
#include "tests/support/morning.hpp"

namespace pappus::agreement {
namespace {

// An error prints as its code.
template <class T, class Show>
Values shown(const Result<T>& result, Show show) {
  if (!result) return {name_of(result.error().code)};
  return show(*result);
}

double kelvins(Temperature t) { return t.from_origin().in(kelvin); }
double metres(AltitudeAmsl z) { return z.from_origin().in(metre); }

air::MoistAir random_air(Random& r) {
  const Temperature t = celsius(r.uniform(-20.0, 38.0));
  const Temperature dew_point = t - r.uniform(0.0, 25.0) * kelvin;
  const Pressure p = r.uniform(650.0, 1050.0) * hectopascal;
  return {.temperature = t, .dew_point = dew_point, .pressure = p};
}

Values standard_air(Random& r) {
  return shown(air::isa_at(GeopotentialAltitude::at(r.uniform(-3000.0, 21000.0) * metre)),
               [](const air::StandardAir& a) {
                 return Values{kelvins(a.temperature), a.pressure.in(pascal), a.density.in(kilogram_per_cubic_metre)};
               });
}

Values air_at_place(Random& r) {
  const AltitudeAmsl elevation = amsl(r.uniform(-400.0, 4000.0) * metre);
  const Pressure qnh = r.uniform(940.0, 1060.0) * hectopascal;
  const air::MoistAir a = random_air(r);
  return shown(air::air_at_place({elevation, qnh, a.temperature, a.dew_point}), [](const air::AirAtPlace& p) {
    return Values{p.station_pressure.in(pascal),
                  p.density.in(kilogram_per_cubic_metre),
                  p.density_cipm.value_or(Density{}).in(kilogram_per_cubic_metre),
                  kelvins(p.virtual_temperature),
                  p.pressure_altitude.from_origin().in(metre),
                  p.density_altitude.from_origin().in(metre)};
  });
}

Values propane_saturation(Random& r) {
  return shown(propane::saturation_at(celsius(r.uniform(-65.0, 75.0))), [](const propane::Saturation& s) {
    return Values{s.pressure.in(pascal), s.liquid_density.in(kilogram_per_cubic_metre),
                  s.vapour_density.in(kilogram_per_cubic_metre), s.latent_heat.in(joule_per_kilogram)};
  });
}

Position random_position(Random& r) {
  const Angle latitude = r.uniform(-90.0, 90.0) * degree;
  const Angle longitude = r.uniform(-180.0, 180.0) * degree;
  return Position::at(latitude, longitude).value_or(Position{});
}

double milliseconds(const std::optional<Instant>& t) { return t ? static_cast<double>(t->unix_milliseconds()) : 0.0; }

Values sun(Random& r) {
  const sky::Observer observer{.position = random_position(r), .elevation = r.uniform(0.0, 3000.0) * metre};
  const auto ms = static_cast<std::int64_t>(r.uniform(0.0, 3.0e12));
  return shown(sky::sun_at(Instant::from_unix_milliseconds(ms), observer), [](const sky::SunPosition& s) {
    return Values{s.azimuth.from_north().in(degree), s.elevation.in(degree), s.elevation_geometric.in(degree)};
  });
}

Values sun_events(Random& r) {
  const sky::Observer observer{.position = random_position(r), .elevation = Length{}};
  const Date date = Date::from_days_since_1970(static_cast<std::int64_t>(r.below(30'000)));
  const UtcOffset offset{static_cast<int>(r.below(49)) * 30 - 720};
  return shown(sky::sun_day(date, offset, observer), [](const sky::SunDay& d) {
    return Values{milliseconds(d.civil_dawn), milliseconds(d.sunrise), milliseconds(d.transit), milliseconds(d.sunset),
                  milliseconds(d.civil_dusk)};
  });
}

Values magnetic(Random& r) {
  const Position at = random_position(r);
  const Length height = r.uniform(0.0, 10.0) * kilometre;
  const double year = r.uniform(2024.0, 2031.0);
  return shown(sky::magnetic_field(at, height, year), [](const sky::MagneticField& f) {
    return Values{f.north_nt, f.east_nt, f.down_nt, f.variation.east.in(degree)};
  });
}

Values lift(Random& r) {
  const air::MoistAir outside = random_air(r);
  const Temperature inside = outside.temperature + r.uniform(5.0, 110.0) * kelvin;
  const Volume volume = r.uniform(800.0, 10000.0) * cubic_metre;
  const auto gross = balloon::gross_lift({outside, inside, volume});
  if (!gross) return {name_of(gross.error().code)};
  return shown(balloon::mean_temperature_needed({outside, *gross, volume}), [&](Temperature t) {
    return Values{gross->in(kilogram), kelvins(t)};
  });
}

Values level_flow(Random& r) {
  const air::MoistAir outside = random_air(r);
  const Temperature inside = outside.temperature + r.uniform(4.0, 110.0) * kelvin;
  const Volume volume = r.uniform(800.0, 10000.0) * cubic_metre;
  return shown(balloon::level_flow({outside, inside, volume}), [](const balloon::LevelFlow& f) {
    return Values{kelvins(f.fabric), f.flux.in(watt_per_square_metre), f.flow.in(kilogram_per_second)};
  });
}

// A flight by force and heat, alone and in lanes: what is native and what is WebAssembly must land in one place.
Values flight(Random& r) {
  const AltitudeAmsl ground = amsl(r.uniform(0.0, 1500.0) * metre);
  const auto column = air::AirColumn::from({.ground = ground,
                                            .surface_pressure = r.uniform(850.0, 1020.0) * hectopascal,
                                            .surface_temperature = celsius(r.uniform(-10.0, 28.0)),
                                            .dew_point = std::nullopt,
                                            .aloft = {},
                                            .above = r.below(2) == 0 ? air::Filling::standard : air::Filling::inversion,
                                            .top = ground + 2500.0 * metre});
  if (!column) return {std::string_view{"no column"}};
  const auto air = motion::FlightAir::from(
      *column,
      {{ground, r.uniform(-3.0, 3.0) * metre_per_second, r.uniform(-3.0, 3.0) * metre_per_second},
       {ground + 800.0 * metre, r.uniform(-9.0, 9.0) * metre_per_second, r.uniform(-9.0, 9.0) * metre_per_second}});
  motion::BodyInputs inputs;
  inputs.volume = r.uniform(1800.0, 4000.0) * cubic_metre;
  inputs.mass = inputs.volume.in(cubic_metre)*r.uniform(0.16, 0.21) * kilogram;
  inputs.flame = r.uniform(0.08, 0.2) * kilogram_per_second;
  inputs.settings.vent = r.uniform(0.0, 4.0) * square_metre;
  const auto body = motion::Body::from(inputs, *air);
  if (!body) return {std::string_view{"no body"}};
  motion::Plan plan;
  plan.from = ground;
  plan.legs = {{10.0 * minute, ground + r.uniform(100.0, 900.0) * metre},
               {20.0 * minute, ground + r.uniform(50.0, 900.0) * metre}};
  plan.length = 25.0 * minute;
  plan.pilot.vents = r.below(2) == 0;
  if (r.below(3) == 0) plan.flame_out = r.uniform(3.0, 20.0) * minute;
  Values out;
  const auto take = [&](const motion::FlightPoint& p) {
    out.insert(out.end(), {metres(p.altitude), p.climb.in(metre_per_second), kelvins(p.inside), p.east.in(metre),
                           p.north.in(metre), p.fuel.in(kilogram)});
  };
  const auto alone = motion::fly(*body, *air, plan);
  const auto lanes = motion::fly_many(*body, *air, {plan, plan, plan}, {{}, {}, {}}, motion::Lanes::baseline);
  if (!alone || !lanes) return {std::string_view{"no flight"}};
  take(alone->flown.end);
  take(lanes->back().end);
  return out;
}

// A whole sheet: every limit's state and value, and the figures that a pilot reads.
Values whole_sheet(Random& r) {
  sheet::Morning m = testing::good_morning();
  for (people::Person& person : m.flight.aboard) person.mass = r.uniform(40.0, 120.0) * kilogram;
  m.flight.planned = r.uniform(20.0, 120.0) * minute;
  m.flight.highest = agl(r.uniform(50.0, 440.0) * metre);
  m.flight.field.qnh = r.uniform(990.0, 1040.0) * hectopascal;
  for (sheet::FuelSeen& fuel : m.flight.fuel) fuel.temperature = celsius(r.uniform(-15.0, 38.0));
  for (wind::LadderRow& row : m.flight.ladders[0].rows) {
    const TrueBearing from = TrueBearing::at(r.uniform(0.0, 360.0) * degree);
    row.wind = wind::Wind::from(from, r.uniform(0.0, 25.0) * knot);
    row.temperature = celsius(r.uniform(-5.0, 25.0));
  }
  if (r.below(4) == 0)
    for (wind::LadderRow& row : m.flight.ladders[0].rows) row.temperature.reset();
  const sheet::FlightSheet s = sheet::sheet(m);
  Values out{name_of(s.standing)};
  for (const sheet::Limit& limit : s.limits) {
    out.emplace_back(name_of(limit.state));
    if (limit.value) out.emplace_back(limit.value->si);
  }
  out.emplace_back(s.load.total.in(kilogram));
  if (s.lift) out.insert(out.end(), {s.lift->margin.in(kilogram), metres(s.lift->worst_altitude)});
  if (s.fuel) out.insert(out.end(), {s.fuel->used.in(kilogram), s.fuel->reserve.in(second)});
  for (const sheet::WindLine& line : s.winds.levels) out.emplace_back(line.speed.in(metre_per_second));
  if (s.winds.steerage) out.emplace_back(s.winds.steerage->turn.in(degree));
  return out;
}

}  // namespace

std::vector<Group> model_groups() {
  return {
      {"standard_air", 1000, standard_air},
      {"air_at_place", 2000, air_at_place},
      {"propane", 1000, propane_saturation},
      {"sun", 1000, sun},
      {"sun_events", 500, sun_events},
      {"variation", 1000, magnetic},
      {"lift", 1000, lift},
      {"level_flow", 1000, level_flow},
      {"flight", 200, flight},
      {"sheet", 500, whole_sheet},
  };
}

}  // namespace pappus::agreement
