#include "desk/answers.hpp"

#include <algorithm>
#include <iterator>

#include "core/air/humidity.hpp"
#include "core/air/isa.hpp"
#include "core/balloon/lift.hpp"
#include "core/propane/saturation.hpp"
#include "core/sky/sun.hpp"
#include "core/sky/variation.hpp"
#include "desk/open_flight.hpp"
#include "formats/text/metar/metar.hpp"

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

Parsed<WindsAnswer> answer(const WindsQuestion& question, const Files& files, const Clock& clock) {
  Parsed<WindsAnswer> out;
  std::vector<Issue> told;  // does not withhold the answer
  wind::WindProfile::Inputs inputs;
  std::optional<AltitudeAmsl> elevation = question.elevation, highest;
  std::optional<Moment> time = question.time;
  bool refused = false;
  for (const std::string& path : question.sources) {
    if (path.size() > 5 && path.compare(path.size() - 5, 5, ".toml") == 0) {
      auto morning = open_flight(path, files, clock, question.now);
      std::move(morning.issues.begin(), morning.issues.end(), std::back_inserter(told));
      if (!morning.value) {
        refused = true;
        continue;
      }
      sheet::Flight& flight = morning.value->flight;
      std::move(flight.ladders.begin(), flight.ladders.end(), std::back_inserter(inputs.ladders));
      std::move(flight.reports.begin(), flight.reports.end(), std::back_inserter(inputs.reports));
      if (!elevation) elevation = flight.field.elevation;
      if (!time) time = flight.time;
      if (flight.highest) highest = above(flight.field.elevation, *flight.highest);
      continue;
    }
    const auto text = files.read(path);
    if (!text) {
      told.push_back(text.error());
      refused = true;
      continue;
    }
    auto reports = text::parse_metar(*text, time ? time->at : clock.now());
    for (Issue& issue : reports.issues) {
      issue.where.file = path;
      told.push_back(std::move(issue));
    }
    if (reports.value)
      std::move(reports.value->begin(), reports.value->end(), std::back_inserter(inputs.reports));
    else
      refused = true;
  }
  if (!elevation || !time) {
    Issue issue;
    issue.code = Errc::bad_call;
    issue.sentence = say("issue.winds_need_place");
    issue.wanted = "--elevation 1500m --time 2027-05-16T05:10:00-09:00";
    told.push_back(std::move(issue));
    refused = true;
  }
  if (refused) {
    out.issues = std::move(told);
    return out;
  }
  inputs.ground = *elevation;
  inputs.time = time->at;
  auto profile = wind::WindProfile::from(std::move(inputs));
  std::move(profile.issues.begin(), profile.issues.end(), std::back_inserter(told));
  WindsAnswer answer;
  answer.time = *time;
  if (profile.value) {
    AltitudeAmsl top = highest.value_or(*elevation);
    if (!highest && !profile.value->levels().empty()) top = profile.value->levels().back().altitude;
    sheet::WindSection section = sheet::wind_section(*profile.value, top);
    answer.levels = std::move(section.levels);
    answer.gaps = std::move(section.gaps);
    answer.steerage = section.steerage;
  }
  answer.issues = told;
  out.issues = std::move(told);
  out.value = std::move(answer);
  return out;
}

}  // namespace pappus::desk
