#include "core/balloon/shape.hpp"

#include "core/base/math.hpp"

namespace pappus::balloon {

EnvelopeSize envelope_size(Volume volume) {
  const double third_m = math::cbrt(volume.in(cubic_metre));
  const Area square = third_m * third_m * square_metre;
  const Length edge = third_m * metre;
  return {kNaturalShape.area * square, kNaturalShape.section * square, kNaturalShape.diameter * edge,
          kNaturalShape.height * edge, kNaturalShape.gore * edge};
}

}  // namespace pappus::balloon
