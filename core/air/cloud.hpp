/// Where cloud would form in air that rises from the ground.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::air {

/// How fast temperature and dew point of rising air approach each other: 5.4 less 1.0 F per 1,000 ft.
/// Source    FAA-H-8083-11B ch. 4, Temperature/Dew Point.
inline constexpr TemperatureDelta kSpreadLostPerThousandFeet = 4.4 * rankine;

/// The base of cumulus above the place where temperature and dew point were read.
/// Domain    -80 to 60 C; outside it Errc::out_of_range ("air.temperature_outside_vapour", "air.dew_point_outside"). A
///           dew point above the temperature by up to 0.05 K is rounding, and the base is the ground; by more it is
///           Errc::bad_input ("air.dew_point_above_temperature").
/// Accuracy  tests/data/cloud_base.csv; in still, layered air no such cloud need form at all.
/// Laws      rises with the temperature and falls with the dew point; never below the ground.
Result<HeightAgl> cloud_base_from_spread(Temperature temperature, Temperature dew_point);

}  // namespace pappus::air
