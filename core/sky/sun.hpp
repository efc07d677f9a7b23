/// Where the sun stands, and the events of a day that bound a flight.
///
/// Source    I. Reda, A. Andreas, "Solar position algorithm for solar radiation applications", NREL/TP-560-34302
///           (2008); its periodic terms are data/sun/spa_terms.csv. Stated accuracy 0.0003 degrees, years -2000 to
///           6000.
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

/// Domain    years 1900 to 2200; outside it Errc::out_of_range.
Result<SunPosition> sun_at(Instant t, const Observer& observer);

/// The intermediate quantities of the algorithm, for the tables of its report.
struct SpaState {
  Angle heliocentric_longitude, heliocentric_latitude;
  double radius_au = 0.0;
  Angle nutation_longitude, nutation_obliquity, true_obliquity;
  Angle apparent_longitude;
  Angle right_ascension, declination;  // geocentric
  Angle local_hour_angle;
  Angle topocentric_right_ascension, topocentric_declination, topocentric_hour_angle;
  Angle elevation_geometric, refraction, zenith;
  TrueBearing azimuth;
};
Result<SpaState> spa(Instant t, const Observer& observer);

/// The events of one solar day: the day around the transit that falls into the local calendar date. An event may carry
/// the next or previous date (dusk after midnight at high latitudes). None where the sun does not cross that height.
/// Sunrise and sunset: upper limb on a level horizon, centre at -0.8333 degrees. Civil twilight: centre at -6 degrees,
/// geometric.
struct SunDay {
  std::optional<Instant> civil_dawn, sunrise, sunset, civil_dusk;
  Instant transit;
  bool sun_always_up = false;  // centre above -0.8333 degrees all day
  bool sun_never_up = false;
};
/// Accuracy  2 s of the algorithm at latitudes below 60 degrees; terrain and refraction matter more (1 to 2 min).
Result<SunDay> sun_day(Date local_date, UtcOffset offset, const Observer& observer);

}  // namespace pappus::sky
