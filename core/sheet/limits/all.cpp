#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

std::vector<Limit> all(const Facts& facts) {
  std::vector<Limit> out{crown_temperature(facts), gross_mass(facts), people(facts), fuel_reserve(facts)};
  if (auto rule = fuel_reserve_rule(facts)) out.push_back(*std::move(rule));
  for (const auto limit :
       {fuel_pressure, surface_wind, gust_spread, wind_difference_low, wind_difference_high, winds_known, winds_age,
        thermals, light_launch, light_landing, dew_point_spread, visibility, storm_distance})
    out.push_back(limit(facts));
  if (auto weather = forecast_weather(facts)) out.push_back(*std::move(weather));
  for (const auto limit : {report_age, dates}) out.push_back(limit(facts));
  return out;
}

}  // namespace pappus::sheet::limits
