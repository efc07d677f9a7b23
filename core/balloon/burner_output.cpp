#include "core/balloon/burner_output.hpp"

#include <algorithm>

#include "core/balloon/burn.hpp"
#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/saturation.hpp"

namespace pappus::balloon {
namespace {

constexpr Power kStrongest = 30.0 * megawatt;
constexpr Temperature kColdest = celsius(-40.0), kWarmest = celsius(60.0);

}  // namespace

Result<BurnerOutput> burner_output(const BurnerAt& at) {
  const GaugePressure none{};
  // Written so that NaN is refused too.
  if (!(at.rated > Power{} && at.rated <= kStrongest))
    return refuse_outside("burner.rated_outside", measure::of(at.rated), measure::of(Power{}), measure::of(kStrongest));
  if (!(at.pressure >= none && at.pressure <= kHighestBurnerPressure))
    return refuse_outside("burner.pressure_outside", measure::of(at.pressure), measure::of(none),
                          measure::of(kHighestBurnerPressure));
  if (!(at.liquid >= kColdest && at.liquid <= kWarmest))
    return refuse_outside("burner.liquid_outside", measure::of(at.liquid), measure::of(kColdest),
                          measure::of(kWarmest));
  const auto left = burner_output_left(at.altitude);
  if (!left) return tl::unexpected{left.error()};
  const auto rated_at = propane::saturation_temperature(kRatedPressure.from_origin() + standard_atmosphere);
  if (!rated_at) return tl::unexpected{rated_at.error()};
  const auto rated_density = propane::saturated_liquid_density(*rated_at);
  if (!rated_density) return tl::unexpected{rated_density.error()};
  const auto density = propane::saturated_liquid_density(at.liquid);
  if (!density) return tl::unexpected{density.error()};

  const double linear = at.pressure.from_origin() / kRatedPressure.from_origin();
  const double orifice = math::sqrt(linear * (*density / *rated_density));
  BurnerOutput out;
  out.left = *left;
  out.best = *left * orifice * at.rated;
  out.low = *left * std::min(linear, orifice) * at.rated;
  out.high = *left * std::max(linear, orifice) * at.rated;
  out.flow = out.best / propane::kHigherHeatingValue;
  return out;
}

}  // namespace pappus::balloon
