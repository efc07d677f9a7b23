/// The limits, one file each: a pure function of the facts, in the order in which they are shown.
#pragma once
#include <optional>
#include <vector>

#include "core/sheet/facts.hpp"
#include "core/sheet/limit.hpp"

namespace pappus::sheet::limits {

Limit crown_temperature(const Facts& facts);
Limit gross_mass(const Facts& facts);
Limit people(const Facts& facts);
/// Only where the wall's height and somebody's are given.
std::optional<Limit> basket_wall(const Facts& facts);
/// Only where the rules named in the flight ask for more crew.
std::optional<Limit> extra_crew(const Facts& facts);
Limit surface_wind(const Facts& facts);
Limit gust_spread(const Facts& facts);
Limit wind_difference_low(const Facts& facts);
Limit wind_difference_high(const Facts& facts);
Limit strongest_wind(const Facts& facts);
Limit thermals(const Facts& facts);
Limit storm_distance(const Facts& facts);
/// Only where an aerodrome forecast is given.
std::optional<Limit> forecast_weather(const Facts& facts);
Limit winds_known(const Facts& facts);
Limit winds_age(const Facts& facts);
Limit light_launch(const Facts& facts);
Limit light_landing(const Facts& facts);
Limit dew_point_spread(const Facts& facts);
Limit visibility(const Facts& facts);
Limit cloud_base(const Facts& facts);
Limit minimum_height(const Facts& facts);
/// Only where the flight comes near the height from which the rules ask for it.
std::optional<Limit> oxygen(const Facts& facts);
/// Only over water, where the rules ask for a beacon.
std::optional<Limit> locator(const Facts& facts);
Limit report_age(const Facts& facts);
Limit fuel_pressure(const Facts& facts);
/// Only where there is evidence, a book that speaks of the cylinders, or a plate that the filling rule contradicts.
std::optional<Limit> cylinder_contents(const Facts& facts);
Limit fuel_reserve(const Facts& facts);
/// Only where the rules named in the flight ask for a reserve.
std::optional<Limit> fuel_reserve_rule(const Facts& facts);
Limit fitness(const Facts& facts);
Limit dates_pilot(const Facts& facts);
Limit dates_balloon(const Facts& facts);
Limit dates_cylinders(const Facts& facts);

/// All of them.
std::vector<Limit> all(const Facts& facts);

}  // namespace pappus::sheet::limits
