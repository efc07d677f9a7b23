#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

std::vector<Limit> all(const Facts& facts) {
  std::vector<Limit> out;
  for (const auto limit :
       {crown_temperature, gross_mass, people, fuel_reserve, fuel_pressure, surface_wind, winds_known, winds_age,
        light_launch, light_landing, dew_point_spread, visibility, report_age, dates})
    out.push_back(limit(facts));
  return out;
}

}  // namespace pappus::sheet::limits
