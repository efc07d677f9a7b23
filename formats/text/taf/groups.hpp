/// What one group of a TAF says, taken alone: the groups that only forecasts have. Only taf.cpp uses this.
///
/// Every reader takes one group in capitals and answers none where the group is of another kind or misspelt.
/// Source    WMO-No. 306 volume I.1, FM 51, regulation named at each reader as 51.n (numbers from memory).
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/quantity.hpp"
#include "core/wind/forecast.hpp"

namespace pappus::text::wmo {

/// A moment of a forecast: day (absent in the older forms), hour up to 24, minute.
struct ForecastMoment {
  std::optional<int> day;
  int hour = 0, minute = 0;
};
struct ForecastSpan {
  ForecastMoment from, to;
};
/// 51.2 "0518/0624". Hours up to 24.
std::optional<ForecastSpan> read_span(std::string_view group);
/// The same before November 2008: "051824", of which the second day was not written.
std::optional<ForecastSpan> read_old_validity(std::string_view group);
/// And without any day: "1824".
std::optional<ForecastSpan> read_old_span(std::string_view group);

/// 51.6 "FM051830", "FM1830". The moment is absent where it cannot be read; none where the group is no FM at all.
struct FromGroup {
  std::optional<ForecastMoment> moment;
};
std::optional<FromGroup> read_from(std::string_view group);
/// 51.9 "PROB40". The percentage is absent where it cannot be read; none where the group is no PROB at all.
struct ProbabilityGroup {
  std::optional<int> percent;
};
std::optional<ProbabilityGroup> read_probability(std::string_view group);
/// 51.7, 51.8: BECMG, TEMPO and INTER.
std::optional<wind::PeriodKind> read_change(std::string_view group);
/// Meant as the times of a change group, though not them: "1015/1", "2525/2530".
bool is_bad_span(std::string_view group);
/// Whether a change group begins here.
bool is_change(std::string_view group);

/// 51.10 "TX25/1314Z", "TNM02/06Z". None also where the hour is no hour.
struct ExtremeGroup {
  bool highest = true;
  double temperature_c = 0.0;
  ForecastMoment at;
};
std::optional<ExtremeGroup> read_extreme(std::string_view group);

/// "WS020/05065KT", "WSCONDS": the wind from `direction_deg`, as written.
struct ShearGroup {
  std::optional<int> hundreds_of_feet, direction_deg, speed;
  Speed unit = knot;
};
std::optional<ShearGroup> read_shear(std::string_view group);
/// "QNH2992INS": the lowest altimeter setting.
std::optional<Pressure> read_lowest_qnh(std::string_view group);
/// Code tables 1733 and 0300: "620304" icing, "520004" turbulence, each with base, depth.
bool is_icing(std::string_view group);
bool is_turbulence(std::string_view group);

/// The weather groups that `group` holds: one, or several with '/' between them ("HZ/-RA") or run together at a sign or
/// at VC ("TSVCSH"). Empty where any part is no weather.
std::vector<std::string> read_weather(std::string_view group);

/// Words with which free text begins that is no remark: "AMD NOT SKED", "NXT FCST BY 09Z".
bool is_phrase(std::string_view group);

/// Meant as a temperature, a shear or a pressure by its first letters, though not one.
enum class ForecastLikeness { extreme, shear, pressure, none };
ForecastLikeness forecast_likeness(std::string_view group);

/// Whether any reader takes the group, here or among those that forecasts share with reports.
bool is_known_in_forecast(std::string_view group);

}  // namespace pappus::text::wmo
