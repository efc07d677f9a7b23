/// From an altimeter setting to the pressure at a place, and back.
///
/// ICAO's definition of QNH is used: the setting at which an altimeter on the ground shows the elevation. US reports
/// give an altimeter setting by the Smithsonian formula, which differs by at most 0.4 hPa at 1500 m; a reported setting
/// is itself rounded to 1 hPa or 0.01 inHg (about 4 m).
#pragma once
#include "core/air/humidity.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::air {

/// Domain    QNH 850 to 1085 hPa, elevation -450 to 6000 m; outside it Errc::out_of_range with what would be right.
/// Source    ICAO Doc 7488, inverted standard atmosphere. Checked with rows QNH-001 to -003.
Result<Pressure> station_pressure(Pressure qnh, AltitudeAmsl elevation);
/// Its inverse.
Result<Pressure> qnh_of(Pressure station, AltitudeAmsl elevation);

/// Everything `pappus air` answers for one place.
struct AirAtPlace {
  Pressure station_pressure;
  Density density;
  Density density_cipm;  // only where its domain covers the air
  bool density_cipm_known = false;
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
Result<AirAtPlace> air_at_place(const PlaceReading& reading);

}  // namespace pappus::air
