/// The vapour arithmetic that humidity and column share, in plain numbers. Callers have checked the domain.
#pragma once

namespace pappus::air::detail {

/// Ratio of the molar masses of water and dry air, and what it leaves of one in the virtual temperature.
inline constexpr double kVapourRatio = 0.62198;
inline constexpr double kVapourDeficit = 0.378;

/// WMO-No. 8 eq. 4.B.1, Pa, from C, and its inverse.
double saturation_pa(double t_c);
double dew_point_c(double e_pa);

}  // namespace pappus::air::detail
