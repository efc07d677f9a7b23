/// Columns of air that the balloon's tests fly in.
#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "core/air/column.hpp"
#include "core/air/isa.hpp"
#include "core/base/random.hpp"

namespace pappus::balloon::testing {

/// The standard day over a field; dry where no dew point is given.
inline air::AirColumn standard_day(AltitudeAmsl field, Length depth = 1500.0 * metre,
                                   std::optional<Temperature> dew_point = {}) {
  const auto ground = air::isa_at(air::geopotential(field)).value();
  return air::AirColumn::from({.ground = field,
                               .surface_pressure = ground.pressure,
                               .surface_temperature = ground.temperature,
                               .dew_point = dew_point,
                               .aloft = {},
                               .above = air::Filling::standard,
                               .top = field + depth})
      .value();
}

/// A field at 300 m, 2 C at the ground, and what is known of the temperature above it.
inline air::AirColumn dawn(const std::vector<std::pair<double, double>>& height_m_and_c, double top_m = 1500.0) {
  const AltitudeAmsl field = amsl(300.0 * metre);
  air::AirColumn::Inputs in{.ground = field,
                            .surface_pressure = 980.0 * hectopascal,
                            .surface_temperature = celsius(2.0),
                            .dew_point = celsius(1.0),
                            .aloft = {},
                            .above = air::Filling::standard,
                            .top = field + top_m * metre};
  for (const auto& [h, c] : height_m_and_c) in.aloft.push_back({field + h * metre, celsius(c)});
  return air::AirColumn::from(in).value();
}

inline air::MoistAir random_air(Random& random) {
  const double t_c = random.uniform(-20.0, 35.0);
  return {celsius(t_c), celsius(t_c - random.uniform(0.0, 20.0)), random.uniform(700.0, 1040.0) * hectopascal};
}

}  // namespace pappus::balloon::testing
