#include "core/propane/pressurant.hpp"

#include <algorithm>

#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/saturation.hpp"

namespace pappus::propane {
namespace {

constexpr double kGasConstant = 8.314462618;  // J/(mol K), CODATA 2018, rounded

}  // namespace

Result<Pressure> nitrogen_henry(Temperature t) {
  const Temperature low = celsius(-30.0), high = celsius(40.0);
  if (!(t >= low && t <= high))
    return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(low), measure::of(high));
  const double c = in_celsius(t);
  return (49.655 - 0.10487 * c - 0.001173 * c * c) * 1e6 * pascal;
}

Result<ChargeLeft> charge_left(const Charge& charge, Volume left) {
  const Volume none = 0.0 * cubic_metre;
  if (!(charge.shell > none && charge.liquid >= none && charge.liquid < charge.shell))
    return refuse_outside("propane.liquid_outside", measure::liquid(charge.liquid), measure::liquid(none),
                          measure::liquid(charge.shell));
  if (!(left >= none && left <= charge.liquid))
    return refuse_outside("propane.liquid_outside", measure::liquid(left), measure::liquid(none),
                          measure::liquid(charge.liquid));
  const auto henry = nitrogen_henry(charge.at);
  if (!henry) return tl::unexpected(henry.error());
  const auto s = saturation_at(charge.at);
  if (!s) return tl::unexpected(s.error());
  // c: how much a volume of liquid holds beside what the same volume of gas would.
  const double c = s->liquid_density.in(kilogram_per_cubic_metre)*kGasConstant * charge.at.from_origin().in(kelvin) /
                   (kMolarMassKgMol * henry->in(pascal));
  const Volume gas = charge.shell - charge.liquid;
  const Pressure undissolved = gas / (charge.shell - left) * charge.nitrogen;
  const Pressure settled = charge.saturated ? charge.nitrogen : gas / (gas + c * charge.liquid) * charge.nitrogen;
  const double drawn = (charge.shell - (1.0 - c) * charge.liquid) / (charge.shell - (1.0 - c) * left);
  const Pressure balanced = math::pow(drawn, 1.0 / (1.0 - c)) * settled;
  return ChargeLeft{.low = std::min(balanced, undissolved), .high = std::max(balanced, undissolved)};
}

}  // namespace pappus::propane
