/// Where the sun stands, and the events of a day that bound a flight.
///
/// Source    I. Reda, A. Andreas, "Solar position algorithm for solar radiation applications", NREL/TP-560-34302
///           (2008); its periodic terms are data/sun/spa_terms.csv. Stated accuracy 0.0003 degrees, years -2000 to
///           6000.
///
/// Instants are UTC and are used as UT1: the two differ by less than 0.9 s (by less than 0.1 s since 2021), in which
/// the sun moves 0.004 degrees at most.
#pragma once
#include <optional>

#include "core/base/angle.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"

namespace pappus::sky {

/// Terrestrial time minus UT1. A forecast for 2025 to 2030 (IERS: 69.1 to 69.4 s); one second moves the sun 0.00001
/// degrees, so that it is a default and not asked for.
inline constexpr Duration kDeltaT = 69.2 * second;

/// From where, and through which air, the sun is seen.
/// Domain    elevation -1 to 50 km; pressure 0 to 1200 hPa; temperature -150 to 100 degrees Celsius; delta_t within
/// 1000
///           s; outside it, or not finite, Errc::out_of_range. A pressure of 0 takes refraction away.
struct Observer {
  Position position;
  Length elevation;
  Pressure pressure = 1013.25 * hectopascal;  // for refraction
  Temperature temperature = celsius(10.0);    // for refraction
  Duration delta_t = kDeltaT;
};

struct SunPosition {
  TrueBearing azimuth;
  Angle elevation;            // apparent: with refraction
  Angle elevation_geometric;  // of the centre, without refraction
};

/// Where the sun stands for the observer: seen from the surface, not from the Earth's centre.
/// Domain    years 1900 to 2200; outside it Errc::out_of_range.
/// Accuracy  0.0003 degrees, as the report claims: kept against another theory in every row of
///           tests/data/sun_elsewhere.csv. Near the horizon the air may bend by 0.1 degrees more or less than the
///           formula says.
/// Laws      refraction lifts (above 89.8 degrees its formula gives up to -0.0001). It is 0 where the whole sun is
///           below the refracted horizon, as the report has it: `elevation` jumps there, `elevation_geometric` never
///           does. Azimuth at a pole counts from the meridian of the given longitude.
Result<SunPosition> sun_at(Instant t, const Observer& observer);

/// The intermediate quantities of the algorithm, for the tables of its report.
struct SpaState {
  Angle heliocentric_longitude, heliocentric_latitude;
  double radius_au = 0.0;
  Angle nutation_longitude, nutation_obliquity, true_obliquity;
  Angle apparent_longitude;
  Angle right_ascension, declination;  // geocentric
  Angle local_hour_angle;              // of the geocentric place, 0 to 360 degrees
  Angle topocentric_right_ascension, topocentric_declination, topocentric_hour_angle;
  Angle elevation_geometric, refraction, zenith;
  TrueBearing azimuth;
};
/// Domain    as sun_at.
/// Accuracy  every row of tests/data/sun_reported.csv, which are the report's own printed example.
Result<SpaState> spa(Instant t, const Observer& observer);

/// The height of the sun's centre at sunrise and sunset: 16' of its radius and 34' of refraction below level.
inline constexpr Angle kSunriseElevation = (-0.26667 - 0.5667) * degree;
inline constexpr Angle kCivilTwilightElevation = -6.0 * degree;

/// The events of one solar day: the day around the transit that falls into the local calendar date. An event may carry
/// the next or previous date (dusk after midnight at high latitudes). None where the sun does not cross that height.
/// Sunrise and sunset: upper limb on a level horizon, centre at -0.8333 degrees. Civil twilight: centre at -6 degrees,
/// geometric.
///
/// The solar day runs from the sun's lowest point before that transit to its lowest point after it, so that every
/// crossing belongs to exactly one day. At the edge of the polar day or night the sun may rise without setting, or set
/// without having risen, within one solar day: then one event is none and neither flag is set.
struct SunDay {
  std::optional<Instant> civil_dawn, sunrise, sunset, civil_dusk;
  Instant transit;             // the centre crosses the observer's meridian: local solar noon
  bool sun_always_up = false;  // centre above -0.8333 degrees all day
  bool sun_never_up = false;
};
/// The solar day of a local date.
///
/// The day is found by its transit in local time, not by the UT date of its events: a search within one UT day gives
/// the evening before for every place west of Greenwich whose sunset comes after 00 UT.
///
/// Domain    years 1900 to 2200 of the date; offset within 14 h; outside it Errc::out_of_range.
/// Accuracy  2 s of the algorithm at latitudes below 60 degrees; terrain and refraction matter more (1 to 2 min). Where
///           the sun grazes the height, 0.001 degrees can be minutes. As in the report, the heights are those seen from
///           the Earth's centre (parallax, up to 0.0024 degrees, would shift an event by about 1 s) and a level horizon
///           at the observer's feet, whatever the elevation.
/// Laws      civil_dawn < sunrise < sunset < civil_dusk, as far as they exist. Below the polar circles by a degree,
///           sunrise < transit < sunset. The transit lies in the local date. If local clocks are set about 12 h off the
///           sun, a date can hold two transits or none: the one nearest to the date's noon is meant.
Result<SunDay> sun_day(Date local_date, UtcOffset offset, const Observer& observer);

}  // namespace pappus::sky
