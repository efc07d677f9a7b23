#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

std::vector<Limit> all(const Facts& facts) {
  std::vector<Limit> out;
  const auto add = [&](auto&&... limit) { (out.push_back(limit(facts)), ...); };
  const auto add_if = [&](auto&&... limit) {
    const auto one = [&](std::optional<Limit> found) {
      if (found) out.push_back(*std::move(found));
    };
    (one(limit(facts)), ...);
  };
  add(crown_temperature, gross_mass, people);
  add_if(basket_wall, extra_crew);
  add_if(cylinder_contents);
  add(fuel_reserve);
  add_if(fuel_reserve_rule);
  add(fuel_pressure, surface_wind, gust_spread, wind_difference_low, wind_difference_high, strongest_wind, winds_known,
      winds_age, thermals, light_launch, light_landing, dew_point_spread, visibility, cloud_base, storm_distance);
  add_if(forecast_weather);
  add(report_age, minimum_height);
  add_if(oxygen, locator);
  add(fitness, dates_pilot, dates_balloon, dates_cylinders);
  return out;
}

}  // namespace pappus::sheet::limits
