#include "core/propane/saturation.hpp"

#include <algorithm>
#include <array>

#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::propane {
namespace {

// Notation of the source: T temperature K, theta = 1 - T/Tc; every ancillary is a sum of n theta^t.
struct Term {
  double n, t;
};
constexpr std::array kPressure{Term{-6.7722, 1.0}, Term{1.6938, 1.5}, Term{-1.3341, 2.2}, Term{-3.1876, 4.8},
                               Term{0.94937, 6.2}};
constexpr std::array kLiquid{Term{1.82205, 0.345}, Term{0.65802, 0.74}, Term{0.21109, 2.6}, Term{0.083973, 7.2}};
constexpr std::array kVapour{Term{-2.4887, 0.3785}, Term{-5.1069, 1.07}, Term{-12.174, 2.7},
                             Term{-30.495, 5.5},    Term{-52.192, 10.0}, Term{-134.89, 20.0}};

template <std::size_t N>
double sum(const std::array<Term, N>& terms, double theta) {
  double s = 0.0;
  for (const Term& term : terms) s += term.n * math::pow(theta, term.t);
  return s;
}

// ln(p/pc) and how fast it rises with T, 1/K.
struct LogPressure {
  double ln_p_ratio, slope;
};

LogPressure log_pressure(double t_k) {
  const double theta = 1.0 - t_k / kCriticalTemperatureK;
  double s = 0.0, ds_dtheta = 0.0;
  for (const Term& term : kPressure) {
    const double power = term.n * math::pow(theta, term.t);
    s += power;
    ds_dtheta += term.t * power / theta;
  }
  return {.ln_p_ratio = kCriticalTemperatureK / t_k * s, .slope = -(kCriticalTemperatureK * s / t_k + ds_dtheta) / t_k};
}

double liquid_kg_m3(double t_k) {
  return kCriticalDensityKgM3 * (1.0 + sum(kLiquid, 1.0 - t_k / kCriticalTemperatureK));
}

double pressure_pa(double t_k) { return kCriticalPressurePa * math::exp(log_pressure(t_k).ln_p_ratio); }

}  // namespace

Result<Saturation> saturation_at(Temperature t) {
  if (!(t >= kColdestSaturation && t <= kWarmestSaturation))
    return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(kColdestSaturation),
                          measure::of(kWarmestSaturation));
  const double t_k = t.from_origin().in(kelvin);
  const double theta = 1.0 - t_k / kCriticalTemperatureK;
  const LogPressure log_p = log_pressure(t_k);
  const double p_pa = kCriticalPressurePa * math::exp(log_p.ln_p_ratio);
  const double liquid = liquid_kg_m3(t_k);
  const double vapour_kg_m3 = kCriticalDensityKgM3 * math::exp(sum(kVapour, theta));
  // Clapeyron: the heat is T dp/dT times the volume gained.
  const double latent_j_kg = t_k * p_pa * log_p.slope * (1.0 / vapour_kg_m3 - 1.0 / liquid);
  return Saturation{.temperature = t,
                    .pressure = p_pa * pascal,
                    .liquid_density = liquid * kilogram_per_cubic_metre,
                    .vapour_density = vapour_kg_m3 * kilogram_per_cubic_metre,
                    .latent_heat = latent_j_kg * joule_per_kilogram};
}

Result<Density> saturated_liquid_density(Temperature t) {
  if (!(t >= kColdestSaturation && t <= kWarmestLiquid))
    return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(kColdestSaturation),
                          measure::of(kWarmestLiquid));
  return liquid_kg_m3(t.from_origin().in(kelvin)) * kilogram_per_cubic_metre;
}

Result<Temperature> saturation_temperature(Pressure absolute) {
  const double low_k = kColdestSaturation.from_origin().in(kelvin);
  const double high_k = kWarmestSaturation.from_origin().in(kelvin);
  const Pressure least = pressure_pa(low_k) * pascal, most = pressure_pa(high_k) * pascal;
  if (!(absolute >= least && absolute <= most))
    return refuse_outside("propane.pressure_outside", measure::air(absolute), measure::air(least), measure::air(most));
  const double target = math::log(absolute.in(pascal) / kCriticalPressurePa);
  // ln p is nearly straight in 1/T, where Newton's rule needs four steps from anywhere in the domain; the clamp keeps a
  // last rounding from leaving it.
  double t_k = 0.5 * (low_k + high_k);
  for (int step = 0; step < 6; ++step) {
    const LogPressure at = log_pressure(t_k);
    const double inverse = 1.0 / t_k + (at.ln_p_ratio - target) / (at.slope * t_k * t_k);
    t_k = std::clamp(1.0 / inverse, low_k, high_k);
  }
  return Temperature::at(t_k * kelvin);
}

}  // namespace pappus::propane
