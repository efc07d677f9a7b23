#include "core/air/altimetry.hpp"

#include <algorithm>

#include "core/air/detail/standard.hpp"
#include "core/air/isa.hpp"
#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::air {
namespace {

constexpr Pressure kLowestQnh = 850.0 * hectopascal;  // below and above what has ever been reported at sea level
constexpr Pressure kHighestQnh = 1085.0 * hectopascal;
constexpr AltitudeAmsl kLowestElevation = amsl(-450.0 * metre);
constexpr AltitudeAmsl kHighestElevation = amsl(6000.0 * metre);

Result<double> elevation_m(AltitudeAmsl elevation) {
  if (!(elevation >= kLowestElevation && elevation <= kHighestElevation))
    return refuse_outside("air.elevation_outside", measure::of(elevation), measure::of(kLowestElevation),
                          measure::of(kHighestElevation));
  return elevation.from_origin().in(metre);
}

// An altimeter's setting and height move every pressure by one altitude: in T/T0 that is one sum.
Pressure lifted(Pressure from, double rise_m) {
  const double t_ratio = math::pow(from.in(pascal) / detail::kP0, 1.0 / detail::kExponent);
  return detail::kP0 * math::pow(t_ratio + detail::kLapse * rise_m / detail::kT0, detail::kExponent) * pascal;
}

}  // namespace

Result<Pressure> station_pressure(Pressure qnh, AltitudeAmsl elevation) {
  if (!(qnh >= kLowestQnh && qnh <= kHighestQnh))
    return refuse_outside("air.qnh_outside", measure::air(qnh), measure::air(kLowestQnh), measure::air(kHighestQnh));
  return elevation_m(elevation).map([&](double h_m) { return lifted(qnh, h_m); });
}

Result<Pressure> qnh_of(Pressure station, AltitudeAmsl elevation) {
  return elevation_m(elevation).and_then([&](double h_m) -> Result<Pressure> {
    const Pressure least = lifted(kLowestQnh, h_m), most = lifted(kHighestQnh, h_m);
    if (!(station >= least && station <= most))
      return refuse_outside("air.station_pressure_outside", measure::air(station), measure::air(least),
                            measure::air(most));
    return std::clamp(lifted(station, -h_m), kLowestQnh, kHighestQnh);  // a rounding beyond an edge is the edge
  });
}

Result<AirAtPlace> air_at_place(const PlaceReading& reading) {
  const Result<Pressure> station = station_pressure(reading.qnh, reading.elevation);
  if (!station) return tl::unexpected<Issue>{station.error()};
  const MoistAir air{.temperature = reading.temperature, .dew_point = reading.dew_point, .pressure = *station};
  const Result<Temperature> virtual_t = virtual_temperature(air);
  if (!virtual_t) return tl::unexpected<Issue>{virtual_t.error()};
  const Result<double> humidity = relative_humidity(air);
  if (!humidity) return tl::unexpected<Issue>{humidity.error()};
  const Result<Density> rho = density(air);
  if (!rho) return tl::unexpected<Issue>{rho.error()};
  const Result<DensityAltitude> density_height = density_altitude(*rho);
  if (!density_height) return tl::unexpected<Issue>{density_height.error()};
  const Result<PressureAltitude> pressure_height = pressure_altitude(*station);
  if (!pressure_height) return tl::unexpected<Issue>{pressure_height.error()};
  const Result<CipmDensity> reference = cipm_density(reading.temperature, *station, *humidity);
  return AirAtPlace{.station_pressure = *station,
                    .density = *rho,
                    .density_cipm = reference ? std::optional{reference->density} : std::nullopt,
                    .virtual_temperature = *virtual_t,
                    .pressure_altitude = *pressure_height,
                    .density_altitude = *density_height};
}

}  // namespace pappus::air
