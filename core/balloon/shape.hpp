/// The natural shape: what an envelope without stiffness takes on, and its sizes by volume.
///
/// Film without weight, no tension round about, no excess pressure at the mouth. A sewn envelope is close to it and a
/// little larger in fabric: HeatSettings::area_factor.
#pragma once
#include "core/base/quantity.hpp"

namespace pappus::balloon {

/// Sizes of the natural shape of volume one: area and section go with V^(2/3), lengths with V^(1/3).
/// Accuracy  the last digit; the equations are integrated afresh in tests/core/balloon/shape_test.cpp.
/// Source    natural-shape equations (weightless film); rows SHAPE of tests/data/shape.csv.
struct NaturalShape {
  double area = 4.916279;
  double section = 1.336260;  // across, where it is widest
  double diameter = 1.304369;
  double height = 1.284209;
  double gore = 1.994411;             // length along a tape from mouth to crown
  double centroid = 0.605898;         // of the height, above the mouth
  double half_angle_deg = 50.148849;  // at the mouth, from the vertical
};
inline constexpr NaturalShape kNaturalShape;

struct EnvelopeSize {
  Area fabric, section;
  Length diameter, height, gore;
};
/// Of a natural shape, without the factor for seams and skirt. Domain: a volume not below zero.
[[nodiscard]] EnvelopeSize envelope_size(Volume volume);

}  // namespace pappus::balloon
