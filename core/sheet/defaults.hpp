/// The bounds that hold unless the flight manual, the law or the pilot's own minima say otherwise.
///
/// Each is a default, not a law: the limit that uses it shows whose it is.
#pragma once
#include "core/base/quantity.hpp"

namespace pappus::sheet {

struct Defaults {
  TemperatureDelta crown_near = 10.0 * kelvin;       // below the manual's limit; ours
  double mass_near = 0.95;                           // of the manual's limit; ours
  Speed surface_wind_near = 7.0 * knot;              // handbook: FAA-H-8083-11B ch. 3
  Speed gust_spread_near = 5.0 * knot;               // ours
  Speed gust_spread_outside = 10.0 * knot;           // ours
  Speed wind_difference_low_near = 8.0 * knot;       // basket to 50 m; ours
  Speed wind_difference_low_outside = 15.0 * knot;   // ours
  Speed wind_difference_high_near = 15.0 * knot;     // basket to 150 m; ours
  Speed wind_difference_high_outside = 25.0 * knot;  // handbook: FAA-H-8083-11B ch. 4, inversion shear
  Duration thermals_near = 2.0 * hour;               // handbook: FAA-H-8083-11B ch. 3
  Duration thermals_outside = 3.0 * hour;            // ours, an hour beyond the handbook's window
  Length storm_near = 30.0 * statute_mile;           // handbook: FAA-H-8083-11B ch. 4
  Length storm_outside = 10.0 * statute_mile;        // FAA safety leaflet on thunderstorms
  Length forecast_low_cloud = 1500.0 * foot;         // above the aerodrome; ours
  Length forecast_visibility = 5.0 * kilometre;      // ours
  Duration forecast_after = 30.0 * minute;           // after the planned landing a forecast still counts; ours
  TemperatureDelta spread_near = 2.2 * kelvin;       // handbook: FAA-H-8083-11B ch. 4, fog possible
  TemperatureDelta spread_outside = 1.1 * kelvin;    // handbook: the same, fog frequent
  GaugePressure fuel_pressure_outside = GaugePressure::at(50.0 * pound_per_square_inch);  // common practice
  GaugePressure fuel_pressure_near = GaugePressure::at(90.0 * pound_per_square_inch);     // common practice
  GaugePressure fuel_pressure_high = GaugePressure::at(150.0 * pound_per_square_inch);    // common practice
  Duration reserve = 30.0 * minute;                  // on each side: ours; on all together: AMC1 BOP.BAS.110, EU
  Duration reserve_single_cylinder = 15.0 * minute;  // the same, with one cylinder aboard
  double reserve_near = 1.5;                         // times the minimum; ours
  Duration report_age_near = 60.0 * minute;          // ours
  Duration report_age_outside = 90.0 * minute;       // ours
  Duration winds_seen_near = 45.0 * minute;          // ours
  Duration winds_seen_outside = 120.0 * minute;      // ours
  Duration winds_forecast_near = 6.0 * hour;         // ours
  Duration winds_forecast_outside = 12.0 * hour;     // ours
  Length cloud_near = 500.0 * foot;                  // above the rule's bound; ours
  Length oxygen_shown_below = 1000.0 * foot;         // of the height from which oxygen is asked for; ours
  Duration since_drink = 8.0 * hour;                 // handbook: FAA-H-8083-11B ch. 9, where no rule is named
  double blood_percent_below = 0.04;                 // the same
  Duration since_dive = 12.0 * hour;                 // handbook: FAA-H-8083-11B ch. 9, no decompression stops
  Duration since_decompression_dive = 24.0 * hour;   // the same, with stops
  Duration fitness_holds = 4.0 * hour;               // an answer, before lift-off; ours
};

inline constexpr Defaults kDefaults{};

}  // namespace pappus::sheet
