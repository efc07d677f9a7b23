#include "core/air/humidity.hpp"

#include <algorithm>

#include "core/air/detail/vapour.hpp"
#include "core/air/isa.hpp"
#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::air {
namespace detail {

namespace {
constexpr double kWmoPressurePa = 611.2;
constexpr double kWmoSlope = 17.62;
constexpr double kWmoOffsetC = 243.12;
}  // namespace

double saturation_pa(double t_c) { return kWmoPressurePa * math::exp(kWmoSlope * t_c / (kWmoOffsetC + t_c)); }

double dew_point_c(double e_pa) {
  const double x = math::log(e_pa / kWmoPressurePa);
  return kWmoOffsetC * x / (kWmoSlope - x);
}

}  // namespace detail

namespace {

constexpr Pressure kThinnest = 100.0 * hectopascal;
constexpr Pressure kDensest = 1200.0 * hectopascal;
constexpr Temperature kHottest = celsius(200.0);
constexpr TemperatureDelta kReportRounding = 0.05 * kelvin;

bool inside(Temperature t, Temperature low, Temperature high) { return t >= low && t <= high; }  // false for NaN

Result<double> vapour_domain_c(Temperature t) {
  if (!inside(t, kColdestVapour, kWarmestVapour))
    return refuse_outside("air.temperature_outside_vapour", measure::of(t), measure::of(kColdestVapour),
                          measure::of(kWarmestVapour));
  return in_celsius(t);
}

// The vapour pressure of air whose whole state has been judged.
Result<double> vapour_pa(const MoistAir& air) {
  if (!inside(air.dew_point, kColdestVapour, kWarmestVapour))
    return refuse_outside("air.dew_point_outside", measure::of(air.dew_point), measure::of(kColdestVapour),
                          measure::of(kWarmestVapour));
  if (!inside(air.temperature, kColdestVapour, kHottest))
    return refuse_outside("air.temperature_outside", measure::of(air.temperature), measure::of(kColdestVapour),
                          measure::of(kHottest));
  if (air.dew_point - air.temperature > kReportRounding)
    return fail(Errc::bad_input,
                say("air.dew_point_above_temperature",
                    {{"dew_point", measure::of(air.dew_point)}, {"temperature", measure::of(air.temperature)}}),
                written(measure::of(air.dew_point)), "<= " + written(measure::of(air.temperature)));
  const double e_pa = detail::saturation_pa(in_celsius(std::min(air.dew_point, air.temperature)));
  const Pressure least = std::max(kThinnest, e_pa * pascal);
  if (!(air.pressure >= least && air.pressure <= kDensest))
    return refuse_outside("air.pressure_outside", measure::air(air.pressure), measure::air(least),
                          measure::air(kDensest));
  return e_pa;
}

}  // namespace

Result<Pressure> saturation_vapour_pressure(Temperature t) {
  return vapour_domain_c(t).map([](double t_c) { return detail::saturation_pa(t_c) * pascal; });
}

Result<Pressure> saturation_vapour_pressure_buck(Temperature t) {
  return vapour_domain_c(t).map(
      [](double t_c) { return 6.1121 * math::exp((18.678 - t_c / 234.5) * t_c / (257.14 + t_c)) * hectopascal; });
}

Result<Temperature> dew_point(Pressure vapour_pressure) {
  const Pressure least = detail::saturation_pa(in_celsius(kColdestVapour)) * pascal;
  const Pressure most = detail::saturation_pa(in_celsius(kWarmestVapour)) * pascal;
  if (!(vapour_pressure >= least && vapour_pressure <= most))
    return refuse_outside("air.vapour_pressure_outside", measure::air(vapour_pressure), measure::air(least),
                          measure::air(most));
  // Rounding at the edges must not leave the domain of saturation_vapour_pressure.
  return std::clamp(celsius(detail::dew_point_c(vapour_pressure.in(pascal))), kColdestVapour, kWarmestVapour);
}

Result<double> moist_factor(const MoistAir& air) {
  return vapour_pa(air).map([&](double e_pa) { return 1.0 - detail::kVapourDeficit * e_pa / air.pressure.in(pascal); });
}

Result<Temperature> virtual_temperature(const MoistAir& air) {
  return moist_factor(air).map([&](double factor) { return Temperature::at(air.temperature.from_origin() / factor); });
}

Result<double> mixing_ratio(const MoistAir& air) {
  const Result<double> e_pa = vapour_pa(air);
  if (!e_pa) return tl::unexpected<Issue>{e_pa.error()};
  const double p_pa = air.pressure.in(pascal);
  if (!(p_pa > 2.0 * *e_pa))
    return refuse_outside("air.pressure_outside", measure::air(air.pressure), measure::air(2.0 * *e_pa * pascal),
                          measure::air(kDensest));
  return detail::kVapourRatio * *e_pa / (p_pa - *e_pa);
}

Result<double> relative_humidity(const MoistAir& air) {
  return vapour_pa(air).and_then([&](double e_pa) {
    return vapour_domain_c(air.temperature).map([&](double t_c) {
      return std::min(1.0, e_pa / detail::saturation_pa(t_c));
    });
  });
}

Result<Density> density(const MoistAir& air) {
  return virtual_temperature(air).map([&](Temperature virtual_t) {
    return air.pressure.in(pascal) / (kDryAirConstant * virtual_t.from_origin().in(kelvin)) * kilogram_per_cubic_metre;
  });
}

Result<CipmDensity> cipm_density(Temperature t, Pressure p, double relative_humidity, double co2_fraction) {
  constexpr Temperature cold = celsius(-10.0), warm = celsius(40.0);
  constexpr Pressure thin = 600.0 * hectopascal, dense = 1100.0 * hectopascal;
  constexpr double most_co2 = 0.01;
  if (!inside(t, cold, warm))
    return refuse_outside("air.temperature_outside_cipm", measure::of(t), measure::of(cold), measure::of(warm));
  if (!(p >= thin && p <= dense))
    return refuse_outside("air.pressure_outside_cipm", measure::air(p), measure::air(thin), measure::air(dense));
  if (!(relative_humidity >= 0.0 && relative_humidity <= 1.0))
    return refuse_outside("air.humidity_outside", measure::ratio(relative_humidity), measure::ratio(0.0),
                          measure::ratio(1.0));
  if (!(co2_fraction >= 0.0 && co2_fraction <= most_co2))
    return refuse_outside("air.carbon_dioxide_outside", measure::ratio(co2_fraction), measure::ratio(0.0),
                          measure::ratio(most_co2));

  // Notation of the source: t C, T K, p Pa, x_v mole fraction of vapour, Z compressibility, M molar masses kg/mol.
  const double t_c = in_celsius(t), t_k = t.from_origin().in(kelvin), p_pa = p.in(pascal);
  const double p_sv = math::exp(1.2378847e-5 * t_k * t_k - 1.9121316e-2 * t_k + 33.93711047 - 6.3431645e3 / t_k);
  const double f = 1.00062 + 3.14e-8 * p_pa + 5.6e-7 * t_c * t_c;
  const double x_v = relative_humidity * f * p_sv / p_pa;
  const double p_t = p_pa / t_k;
  const double z = 1.0 -
                   p_t * (1.58123e-6 - 2.9331e-8 * t_c + 1.1043e-10 * t_c * t_c + (5.707e-6 - 2.051e-8 * t_c) * x_v +
                          (1.9898e-4 - 2.376e-6 * t_c) * x_v * x_v) +
                   p_t * p_t * (1.83e-11 - 0.765e-8 * x_v * x_v);
  const double m_air = (28.96546 + 12.011 * (co2_fraction - 0.0004)) * 1e-3;
  constexpr double m_vapour = 18.01528e-3;
  constexpr double gas_constant = 8.314472;  // CODATA 2006, as the formula was fitted with
  const double rho = p_pa * m_air / (z * gas_constant * t_k) * (1.0 - x_v * (1.0 - m_vapour / m_air));
  return CipmDensity{.density = rho * kilogram_per_cubic_metre,
                     .saturation_pressure = p_sv * pascal,
                     .enhancement = f,
                     .vapour_fraction = x_v,
                     .compressibility = z};
}

}  // namespace pappus::air
