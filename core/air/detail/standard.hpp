/// Constants of the standard atmosphere below the tropopause, in plain SI numbers.
#pragma once
#include "core/air/isa.hpp"

namespace pappus::air::detail {

inline constexpr double kT0 = 288.15;    // K at sea level
inline constexpr double kP0 = 101325.0;  // Pa at sea level
inline constexpr double kLapse = kStandardLapse.in(kelvin / metre);
/// p/p0 = (T/T0)^kExponent: 5.25588.
inline constexpr double kExponent = -kStandardGravity / (kDryAirConstant * kLapse);

}  // namespace pappus::air::detail
