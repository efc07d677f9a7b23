#include "core/air/isa.hpp"

#include <algorithm>

#include "core/air/detail/standard.hpp"
#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::air {
namespace {

// Notation of the source: T temperature K, p pressure Pa, rho density kg/m3, L lapse K/m, H geopotential altitude m,
// suffix 0 sea level, suffix 11 the tropopause.
using detail::kExponent;
using detail::kLapse;
using detail::kP0;
using detail::kT0;
constexpr double kLowestM = kLowestStandard.from_origin().in(metre);
constexpr double kTropopauseM = kTropopause.from_origin().in(metre);
constexpr double kHighestM = kHighestStandard.from_origin().in(metre);
constexpr double kEarthRadiusM = 6356766.0;
constexpr double kRho0 = kP0 / (kDryAirConstant * kT0);
constexpr double kT11 = kT0 + kLapse * kTropopauseM;

double temperature_below_tropopause(double h_m) { return kT0 + kLapse * h_m; }
double pressure_below_tropopause(double h_m) {
  return kP0 * math::pow(temperature_below_tropopause(h_m) / kT0, kExponent);
}
double density_below_tropopause(double h_m) {
  return pressure_below_tropopause(h_m) / (kDryAirConstant * temperature_below_tropopause(h_m));
}

// The altitude of a ratio T/T0. A value on the domain's edge may come out a rounding beyond it; the inverse would then
// refuse it.
double altitude_of_temperature_ratio(double ratio) {
  return std::clamp(kT0 / kLapse * (ratio - 1.0), kLowestM, kTropopauseM);
}

Measure altitude(double h_m) { return {h_m, MeasureKind::altitude}; }

}  // namespace

Result<StandardAir> isa_at(GeopotentialAltitude h) {
  const double h_m = h.from_origin().in(metre);
  if (!(h_m >= kLowestM && h_m <= kHighestM))
    return refuse_outside("air.altitude_outside_standard", altitude(h_m), altitude(kLowestM), altitude(kHighestM));
  const bool below = h_m <= kTropopauseM;
  const double t = below ? temperature_below_tropopause(h_m) : kT11;
  const double p = below ? pressure_below_tropopause(h_m)
                         : pressure_below_tropopause(kTropopauseM) *
                               math::exp(-kStandardGravity * (h_m - kTropopauseM) / (kDryAirConstant * kT11));
  return StandardAir{.temperature = Temperature::at(t * kelvin),
                     .pressure = p * pascal,
                     .density = p / (kDryAirConstant * t) * kilogram_per_cubic_metre};
}

GeopotentialAltitude geopotential(AltitudeAmsl z) {
  const double z_m = z.from_origin().in(metre);
  return GeopotentialAltitude::at(kEarthRadiusM * z_m / (kEarthRadiusM + z_m) * metre);
}

AltitudeAmsl geometric(GeopotentialAltitude h) {
  const double h_m = h.from_origin().in(metre);
  return AltitudeAmsl::at(kEarthRadiusM * h_m / (kEarthRadiusM - h_m) * metre);
}

Result<PressureAltitude> pressure_altitude(Pressure p) {
  const double p_pa = p.in(pascal);
  const double least = pressure_below_tropopause(kTropopauseM), most = pressure_below_tropopause(kLowestM);
  if (!(p_pa >= least && p_pa <= most))
    return refuse_outside("air.pressure_outside_standard", measure::air(p), measure::air(least * pascal),
                          measure::air(most * pascal));
  return PressureAltitude::at(altitude_of_temperature_ratio(math::pow(p_pa / kP0, 1.0 / kExponent)) * metre);
}

Result<Pressure> pressure_at(PressureAltitude h) {
  const double h_m = h.from_origin().in(metre);
  if (!(h_m >= kLowestM && h_m <= kTropopauseM))
    return refuse_outside("air.altitude_outside_standard", measure::of(h), altitude(kLowestM), altitude(kTropopauseM));
  return pressure_below_tropopause(h_m) * pascal;
}

Result<DensityAltitude> density_altitude(Density rho) {
  const double rho_kg_m3 = rho.in(kilogram_per_cubic_metre);
  const double least = density_below_tropopause(kTropopauseM), most = density_below_tropopause(kLowestM);
  if (!(rho_kg_m3 >= least && rho_kg_m3 <= most))
    return refuse_outside("air.density_outside_standard", measure::of(rho),
                          measure::of(least * kilogram_per_cubic_metre), measure::of(most * kilogram_per_cubic_metre));
  // rho is proportional to (T/T0)^(exponent - 1).
  return DensityAltitude::at(altitude_of_temperature_ratio(math::pow(rho_kg_m3 / kRho0, 1.0 / (kExponent - 1.0))) *
                             metre);
}

}  // namespace pappus::air
