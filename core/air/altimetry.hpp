/// From an altimeter setting to the pressure at a place, and back.
///
/// ICAO's definition of QNH is used: the setting at which an altimeter on the ground shows the elevation. US reports
/// give an altimeter setting by the Smithsonian formula, which differs by at most 0.4 hPa at 1500 m; a reported setting
/// is itself rounded to 1 hPa or 0.01 inHg (about 4 m). The elevation enters as an altimeter reads it, without the
/// difference of geometric and geopotential height (0.35 m at 1500 m, 0.04 hPa).
#pragma once
#include <optional>

#include "core/air/humidity.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::air {

/// Domain    QNH 850 to 1085 hPa ("air.qnh_outside"), elevation -450 to 6000 m ("air.elevation_outside"); outside it
///           Errc::out_of_range.
/// Laws      rises with QNH, falls with elevation; equals QNH at elevation 0.
/// Source    ICAO Doc 7488, inverted standard atmosphere. Checked with rows QNH-001 to -003.
Result<Pressure> station_pressure(Pressure qnh, AltitudeAmsl elevation);
/// Its inverse.
/// Domain    elevations as above, and the station pressures that QNH 850 to 1085 hPa gives there
///           ("air.station_pressure_outside"); outside it Errc::out_of_range.
/// Laws      qnh_of(station_pressure(q, z), z) gives q back within 1e-6 Pa.
Result<Pressure> qnh_of(Pressure station, AltitudeAmsl elevation);

/// Everything `pappus air` answers for one place.
struct AirAtPlace {
  Pressure station_pressure;
  Density density;
  std::optional<Density> density_cipm;  // none outside the domain of cipm_density
  Temperature virtual_temperature;
  PressureAltitude pressure_altitude;
  DensityAltitude density_altitude;
};
struct PlaceReading {
  AltitudeAmsl elevation;
  Pressure qnh;
  Temperature temperature;
  Temperature dew_point;
};
/// Errors    those of station_pressure, MoistAir and density_altitude.
Result<AirAtPlace> air_at_place(const PlaceReading& reading);

}  // namespace pappus::air
