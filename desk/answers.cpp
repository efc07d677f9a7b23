#include "desk/answers.hpp"

#include <algorithm>

#include "core/air/humidity.hpp"
#include "core/air/isa.hpp"
#include "core/balloon/lift.hpp"
#include "core/propane/saturation.hpp"
#include "core/sky/sun.hpp"
#include "core/sky/variation.hpp"

namespace pappus::desk {
namespace {

// Air so dry that its vapour weighs nothing that matters.
constexpr Temperature kDry = celsius(-60.0);

}  // namespace

Result<AirAnswer> answer(const AirQuestion& question) {
  const auto air = air::air_at_place({.elevation = question.elevation,
                                      .qnh = question.qnh,
                                      .temperature = question.temperature,
                                      .dew_point = question.dew_point.value_or(std::min(kDry, question.temperature))});
  if (!air) return tl::unexpected{air.error()};
  AirAnswer out{.station_pressure = air->station_pressure,
                .density = air->density,
                .density_cipm = air->density_cipm,
                .virtual_temperature = air->virtual_temperature,
                .pressure_altitude = air->pressure_altitude,
                .density_altitude = air->density_altitude,
                .notes = {}};
  if (!question.dew_point) out.notes.push_back(say("air.dry_note"));
  return out;
}

Result<PropaneAnswer> answer(const PropaneQuestion& question) {
  const auto s = propane::saturation_at(question.temperature);
  if (!s) return tl::unexpected{s.error()};
  return PropaneAnswer{.saturation_pressure = s->pressure,
                       .gauge_pressure = propane::gauge(s->pressure, question.ambient),
                       .liquid_density = s->liquid_density,
                       .vapour_density = s->vapour_density,
                       .latent_heat = s->latent_heat,
                       .notes = {say("propane.mix_note"), say("caution.pressure_is_not_quantity")}};
}

Result<LiftAnswer> answer(const LiftQuestion& question) {
  const auto pressure = air::pressure_at(question.pressure_altitude);
  if (!pressure) return tl::unexpected{pressure.error()};
  const auto lift = balloon::gross_lift({.outside = {.temperature = question.temperature,
                                                     .dew_point = std::min(kDry, question.temperature),
                                                     .pressure = *pressure},
                                         .inside_mean = question.envelope_temperature,
                                         .volume = question.volume});
  if (!lift) return tl::unexpected{lift.error()};
  return LiftAnswer{
      .gross_lift = *lift, .pressure = *pressure, .notes = {say("lift.mean_note"), say("caution.manual_first")}};
}

Result<SunAnswer> answer(const SunQuestion& question) {
  const sky::Observer observer{.position = question.at, .elevation = Length{}};
  const auto day = sky::sun_day(question.date, question.offset, observer);
  if (!day) return tl::unexpected{day.error()};
  const auto local = [&](const std::optional<Instant>& t) {
    return t ? std::optional{Moment{*t, question.offset}} : std::nullopt;
  };
  SunAnswer out{.civil_dawn = local(day->civil_dawn),
                .sunrise = local(day->sunrise),
                .transit = Moment{day->transit, question.offset},
                .sunset = local(day->sunset),
                .civil_dusk = local(day->civil_dusk),
                .azimuth = std::nullopt,
                .elevation = std::nullopt,
                .notes = {}};
  if (question.time) {
    const auto sun = sky::sun_at(question.time->at, observer);
    if (!sun) return tl::unexpected{sun.error()};
    out.azimuth = sun->azimuth;
    out.elevation = sun->elevation;
  }
  if (day->sun_always_up) out.notes.push_back(say("sun.always_up"));
  if (day->sun_never_up) out.notes.push_back(say("sun.never_up"));
  out.notes.push_back(say("sun.horizon_note"));
  return out;
}

Result<VariationAnswer> answer(const VariationQuestion& question) {
  const Instant noon = instant_of(question.date, 12, 0, 0.0, UtcOffset{});
  const auto field = sky::magnetic_field(question.at, question.elevation.from_origin(), sky::decimal_year(noon));
  if (!field) return tl::unexpected{field.error()};
  VariationAnswer out{.declination = field->variation.east,
                      .uncertainty = field->uncertainty,
                      .within_validity = field->within_validity,
                      .valid_until = sky::variation_valid_until(),
                      .notes = {}};
  if (!field->within_validity)
    out.notes.push_back(say("variation.past_validity", {{"until", sky::variation_valid_until()}}));
  out.notes.push_back(say("variation.anomaly_note"));
  return out;
}

}  // namespace pappus::desk
