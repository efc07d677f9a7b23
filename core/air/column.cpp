#include "core/air/column.hpp"

#include <algorithm>
#include <cmath>
#include <span>
#include <string>
#include <utility>

#include "core/air/detail/standard.hpp"
#include "core/air/detail/vapour.hpp"
#include "core/air/isa.hpp"
#include "core/base/interpolate.hpp"
#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::air {
namespace {

// Notation: h geopotential altitude m, t temperature K, tv virtual temperature K, p pressure Pa, e vapour pressure Pa.
constexpr double kLongestStepM = 10.0;
constexpr Length kInversionDepth = 300.0 * metre;
constexpr double kInversionRiseK = 10.0;

constexpr AltitudeAmsl kLowestGround = amsl(-450.0 * metre);
constexpr AltitudeAmsl kHighestGround = amsl(6000.0 * metre);
constexpr Length kShallowest = 1.0 * metre;
constexpr Length kOneAltitude = 0.001 * metre;  // nearer than this, two altitudes are one
constexpr Length kDeepest = 6000.0 * metre;
constexpr Pressure kThinnest = 300.0 * hectopascal;
constexpr Pressure kDensest = 1200.0 * hectopascal;
constexpr Temperature kColdest = celsius(-60.0);
constexpr Temperature kWarmest = celsius(60.0);

double geopotential_m(AltitudeAmsl z) { return geopotential(z).from_origin().in(metre); }
double in_kelvin(Temperature t) { return t.from_origin().in(kelvin); }

using Checked = Result<void>;

Checked check_temperature(Temperature t, AltitudeAmsl z) {
  if (t >= kColdest && t <= kWarmest) return {};
  auto refused = refuse_outside("column.temperature_outside", measure::of(t), measure::of(kColdest),
                                measure::of(kWarmest), Errc::bad_input);
  refused.value().sentence.arguments.push_back({"altitude", measure::of(z)});
  return refused;
}

Checked check_extent(const AirColumn::Inputs& in) {
  if (!(in.ground >= kLowestGround && in.ground <= kHighestGround))
    return refuse_outside("column.ground_outside", measure::of(in.ground), measure::of(kLowestGround),
                          measure::of(kHighestGround));
  const AltitudeAmsl lowest_top = in.ground + kShallowest, highest_top = in.ground + kDeepest;
  if (!(in.top >= lowest_top && in.top <= highest_top))
    return refuse_outside("column.top_outside", measure::of(in.top), measure::of(lowest_top), measure::of(highest_top));
  if (!(in.surface_pressure >= kThinnest && in.surface_pressure <= kDensest))
    return refuse_outside("column.pressure_outside", measure::air(in.surface_pressure), measure::air(kThinnest),
                          measure::air(kDensest));
  return check_temperature(in.surface_temperature, in.ground);
}

Checked check_filling(const AirColumn::Inputs& in) {
  if (in.above == Filling::measured)
    return fail(Errc::bad_call, say("column.filling_measured"), "measured", "standard, inversion");
  if (in.above == Filling::inversion && !in.aloft.empty())
    return fail(Errc::bad_call,
                say("column.inversion_with_levels", {{"levels", measure::count(static_cast<double>(in.aloft.size()))}}),
                "inversion", "standard");
  return {};
}

// Sorts the levels that the column uses, drops those beyond, and judges what is left.
Checked settle_levels(AirColumn::Inputs& in) {
  std::vector<TemperatureLevel>& levels = in.aloft;
  const AltitudeAmsl lowest = in.ground + kOneAltitude;
  for (const TemperatureLevel& level : levels)
    if (!(level.altitude >= lowest) || !std::isfinite(level.altitude.from_origin().in(metre)))
      return fail(Errc::bad_input,
                  say("column.level_not_above_ground",
                      {{"value", measure::of(level.altitude)}, {"ground", measure::of(in.ground)}}),
                  written(measure::of(level.altitude)), ">= " + written(measure::of(lowest)));
  std::stable_sort(levels.begin(), levels.end(),
                   [](const TemperatureLevel& a, const TemperatureLevel& b) { return a.altitude < b.altitude; });
  const auto beyond = std::find_if(levels.begin(), levels.end(),
                                   [&](const TemperatureLevel& level) { return level.altitude >= in.top; });
  // A double of the lowest level beyond the top is kept, to be refused like any other.
  levels.erase(std::find_if(beyond, levels.end(),
                            [&](const TemperatureLevel& l) { return l.altitude - beyond->altitude >= kOneAltitude; }),
               levels.end());
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (i > 0 && levels[i].altitude - levels[i - 1].altitude < kOneAltitude)
      return fail(Errc::bad_input, say("column.level_doubled", {{"value", measure::of(levels[i].altitude)}}),
                  written(measure::of(levels[i].temperature)), written(measure::of(levels[i - 1].temperature)));
    if (Checked fits = check_temperature(levels[i].temperature, levels[i].altitude); !fits) return fits;
  }
  return {};
}

}  // namespace

Result<AirColumn> AirColumn::from(Inputs inputs) {
  const Checked sound = check_extent(inputs).and_then([&] { return check_filling(inputs); }).and_then([&] {
    return settle_levels(inputs);
  });
  if (!sound) return tl::unexpected<Issue>{sound.error()};

  AirColumn column;
  column.ground_ = inputs.ground;
  column.top_ = inputs.top;
  column.above_ = inputs.above;
  if (inputs.dew_point) {
    const Result<double> ratio = air::mixing_ratio({.temperature = inputs.surface_temperature,
                                                    .dew_point = *inputs.dew_point,
                                                    .pressure = inputs.surface_pressure});
    if (!ratio) return tl::unexpected<Issue>{ratio.error()};
    column.mixing_ratio_ = *ratio;
  }

  // The corners of the temperature line, from the ground up to the top or the first level above it.
  std::vector<double> corner_h{geopotential_m(inputs.ground)}, corner_t{in_kelvin(inputs.surface_temperature)};
  const auto add_corner = [&](double h, double t) {
    corner_h.push_back(h);
    corner_t.push_back(t);
  };
  for (const TemperatureLevel& level : inputs.aloft)
    add_corner(geopotential_m(level.altitude), in_kelvin(level.temperature));
  column.highest_known_ = inputs.aloft.empty() ? inputs.ground : inputs.aloft.back().altitude;
  if (inputs.above == Filling::inversion)
    add_corner(geopotential_m(inputs.ground + kInversionDepth), corner_t.back() + kInversionRiseK);
  const double top_h = geopotential_m(inputs.top);
  if (corner_h.back() < top_h) add_corner(top_h, corner_t.back() + detail::kLapse * (top_h - corner_h.back()));
  for (std::size_t i = 0; i < corner_t.size(); ++i) {
    const Temperature t = Temperature::at(corner_t[i] * kelvin);
    if (!(t >= kColdestVapour && t <= kWarmestVapour)) {
      auto refused = refuse_outside("column.filled_temperature_outside", measure::of(t), measure::of(kColdestVapour),
                                    measure::of(kWarmestVapour));
      refused.value().sentence.arguments.push_back(
          {"altitude", measure::of(geometric(GeopotentialAltitude::at(corner_h[i] * metre)))});
      return refused;
    }
  }
  column.integrate(corner_h, corner_t, inputs.surface_pressure.in(pascal));
  return column;
}

double AirColumn::vapour_pa(double t_k, double p_pa) const {
  const double e = mixing_ratio_ * p_pa / (detail::kVapourRatio + mixing_ratio_);
  return std::min(e, detail::saturation_pa(t_k - ice_point.from_origin().in(kelvin)));
}

namespace {

// ln p falls by g dh / (R Tv) with the mean Tv of a step: exact for a line of Tv but for (dTv / 2 Tv)^2 / 3 of the
// step.
double pressure_above(double p, double h_step, double tv_low, double tv_high) {
  return p * math::exp(-2.0 * kStandardGravity * h_step / (kDryAirConstant * (tv_low + tv_high)));
}

double virtual_k(double t, double e, double p) { return t / (1.0 - detail::kVapourDeficit * e / p); }

}  // namespace

void AirColumn::integrate(const std::vector<double>& corner_h, const std::vector<double>& corner_t, double surface_pa) {
  const auto add_node = [this](double h, double t, double tv, double p) {
    h_.push_back(h);
    t_.push_back(t);
    tv_.push_back(tv);
    p_.push_back(p);
  };
  add_node(corner_h.front(), corner_t.front(),
           virtual_k(corner_t.front(), vapour_pa(corner_t.front(), surface_pa), surface_pa), surface_pa);
  const double top_h = geopotential_m(top_);
  for (std::size_t i = 0; i + 1 < corner_h.size() && h_.back() < top_h; ++i) {
    const double end_h = std::min(corner_h[i + 1], top_h);
    const double span = end_h - corner_h[i];
    const int steps = std::max(1, static_cast<int>(std::ceil(span / kLongestStepM)));
    for (int k = 1; k <= steps; ++k) {
      const double h = k == steps ? end_h : corner_h[i] + span * k / steps;
      const double t = on_line(h, corner_h[i], corner_t[i], corner_h[i + 1], corner_t[i + 1]);
      // The vapour at the node needs its pressure, and the pressure the vapour: one dry-run with the Tv below suffices,
      // for Tv feels a change of p only through e/p at saturation.
      const double step = h - h_.back();
      const double p_near = pressure_above(p_.back(), step, tv_.back(), tv_.back());
      const double tv = virtual_k(t, vapour_pa(t, p_near), p_near);
      add_node(h, t, tv, pressure_above(p_.back(), step, tv_.back(), tv));
    }
  }
}

Result<AirColumn::Sample> AirColumn::at(AltitudeAmsl z) const {
  if (!(z >= ground_ && z <= top_))
    return refuse_outside("column.altitude_outside", measure::of(z), measure::of(ground_), measure::of(top_));
  const double h = std::clamp(geopotential_m(z), h_.front(), h_.back());
  const std::size_t i = *segment_holding(std::span<const double>{h_}, h);
  const double t = on_line(h, h_[i], t_[i], h_[i + 1], t_[i + 1]);
  const double tv = on_line(h, h_[i], tv_[i], h_[i + 1], tv_[i + 1]);
  const double p = pressure_above(p_[i], h - h_[i], tv_[i], tv);
  const Temperature temperature = Temperature::at(t * kelvin);
  const double e = vapour_pa(t, p);
  // Where the vapour is too little to name a dew point for, the air counts as dry.
  const Temperature dew_point = e > detail::saturation_pa(in_celsius(kDryDewPoint))
                                    ? std::min(celsius(detail::dew_point_c(e)), temperature)
                                    : std::min(kDryDewPoint, temperature);
  return Sample{.air = {.temperature = temperature, .dew_point = dew_point, .pressure = p * pascal},
                .filling = z <= highest_known_ ? Filling::measured : above_};
}

}  // namespace pappus::air
