/// Balloons and mornings that the tests of motion share. Invented.
#pragma once
#include <vector>

#include "core/air/column.hpp"
#include "core/base/random.hpp"
#include "core/motion/flight.hpp"

namespace pappus::motion::testing {

inline air::AirColumn column_of(double ground_m, double ground_c, double above_m,
                                std::vector<air::TemperatureLevel> aloft = {}) {
  const AltitudeAmsl ground = amsl(ground_m * metre);
  return air::AirColumn::from({.ground = ground,
                               .surface_pressure = (1013.25 - 0.115 * ground_m) * hectopascal,
                               .surface_temperature = celsius(ground_c),
                               .dew_point = celsius(ground_c - 4.0),
                               .aloft = std::move(aloft),
                               .top = ground + above_m * metre})
      .value();
}
inline std::vector<WindLevel> turning_wind(double ground_m) {
  return {{amsl(ground_m * metre), 0.8 * metre_per_second, 0.2 * metre_per_second},
          {amsl((ground_m + 150.0) * metre), 4.0 * metre_per_second, 1.0 * metre_per_second},
          {amsl((ground_m + 600.0) * metre), 6.0 * metre_per_second, -3.0 * metre_per_second},
          {amsl((ground_m + 1500.0) * metre), 9.0 * metre_per_second, -6.0 * metre_per_second}};
}
inline BodyInputs sport_balloon() {
  BodyInputs b;
  b.volume = 77'000.0 * cubic_foot;
  b.mass = 506.0 * kilogram;
  b.crown_limit = celsius(121.0);
  b.flame = 0.107 * kilogram_per_second;  // 5.4 MW of heat
  b.settings.vent = 3.0 * square_metre;
  return b;
}
/// Ninety minutes through several heights and down again.
inline Plan morning_flight(double ground_m) {
  const auto up = [&](double m) { return amsl((ground_m + m) * metre); };
  Plan plan;
  plan.from = up(0.0);
  plan.with_the_wind = false;
  plan.legs = {
      {20.0 * minute, up(300.0)}, {45.0 * minute, up(900.0)}, {70.0 * minute, up(150.0)}, {90.0 * minute, up(500.0)}};
  plan.length = 90.0 * minute;
  plan.pilot.vents = true;
  return plan;
}

}  // namespace pappus::motion::testing
