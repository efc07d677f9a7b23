/// Magnetic variation from the World Magnetic Model.
///
/// Source    WMM2025, NOAA NCEI and British Geological Survey, valid 2025.0 to 2030.0; coefficients in
///           data/wmm/wmm2025.csv with their origin. Public domain.
///
/// The model is the field of the core and the large-scale crust. Iron ore, power lines and the basket's own cylinders
/// are not in it: near them a compass can be several degrees off.
#pragma once
#include "core/base/angle.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"

namespace pappus::sky {

struct MagneticField {
  double north_nt = 0.0, east_nt = 0.0, down_nt = 0.0;
  Variation variation;
  /// The model's own formal uncertainty here: sqrt(0.26^2 + (5417/H)^2) degrees with H the horizontal field in nT
  /// (WMM2025 report), 180 degrees at most. Local anomalies come on top.
  Angle uncertainty;
  bool within_validity = true;  // 2025.0 <= year < 2030.0
};
/// The Earth's field at a place, in the directions of the ellipsoid: true north, east and straight down.
/// Domain    height above the WGS 84 ellipsoid -1 to 850 km (mean sea level is used for it; the difference of up to
///           100 m moves the variation by less than 0.001 degrees); years 2020.0 to 2035.0, outside Errc::out_of_range;
///           outside 2025.0 to 2030.0 the answer is marked.
/// Accuracy  of the arithmetic: 0.001 nT and the printed digits of every row of tests/data/variation_rows.csv and
///           variation_official.csv. Of the model: `uncertainty`.
/// Laws      linear in the year, component by component; continuous in place; at a geographic pole the components turn
///           with the longitude that is named and the field is one and the same.
Result<MagneticField> magnetic_field(Position position, Length height, double decimal_year);
/// The year and the fraction of it, by the length of that year (UTC): 2027-01-01 is 2027.0, and 2028-07-02, the middle
/// of a leap year, is 2028.5. Rises strictly with `t`.
double decimal_year(Instant t);
/// The last day on which the model is valid.
Date variation_valid_until();

}  // namespace pappus::sky
