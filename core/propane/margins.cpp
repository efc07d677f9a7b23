#include "core/propane/margins.hpp"

#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/saturation.hpp"

namespace pappus::propane {
namespace {

constexpr Temperature kColdest = celsius(-40.0), kWarmestMix = celsius(50.0);

// The upper band of the mix, carried on above its domain as pure propane rises.
Result<Pressure> most_own(const std::optional<Mix>& mix, Temperature t) {
  if (t <= kWarmestMix) return pressure_band(mix, t).map([](const PressureBand& band) { return band.high; });
  const auto there = pressure_band(mix, kWarmestMix);
  if (!there) return tl::unexpected(there.error());
  const auto pure_there = saturation_at(kWarmestMix), pure = saturation_at(t);
  if (!pure_there) return tl::unexpected(pure_there.error());
  if (!pure) return tl::unexpected(pure.error());
  return (pure->pressure / pure_there->pressure) * there->high;
}

}  // namespace

Result<Pressure> charge_at_most(const Charge& charge, Temperature t) {
  const Volume none = 0.0 * cubic_metre;
  if (!(charge.liquid >= none && charge.liquid < charge.shell))
    return refuse_outside("propane.liquid_outside", measure::liquid(charge.liquid), measure::liquid(none),
                          measure::liquid(charge.shell));
  const auto before = saturation_at(charge.at), after = saturation_at(t);
  if (!before) return tl::unexpected(before.error());
  if (!after) return tl::unexpected(after.error());
  const Volume liquid = (before->liquid_density / after->liquid_density) * charge.liquid;
  if (!(liquid < charge.shell)) {
    const Mass mass = before->liquid_density * charge.liquid;
    return refuse_outside("propane.liquid_full", measure::of(mass), measure::of(Mass{}),
                          measure::of(after->liquid_density * charge.shell));
  }
  const double warmer = t.from_origin() / charge.at.from_origin();
  return warmer * ((charge.shell - charge.liquid) / (charge.shell - liquid)) * charge.nitrogen;
}

Result<Temperature> relief_temperature(GaugePressure relief, Pressure ambient, const std::optional<Mix>& mix,
                                       const std::optional<Charge>& charge) {
  if (charge) {
    const auto sound = charge_at_most(*charge, charge->at);
    if (!sound) return tl::unexpected(sound.error());
  }
  const Pressure opens = relief.from_origin() + ambient;
  // Whether the valve may be open at `t`; with no room left for the charge it is.
  const auto open = [&](Temperature t) -> Result<bool> {
    auto pressure = most_own(mix, t);
    if (!pressure) return tl::unexpected(pressure.error());
    if (charge) {
      const auto added = charge_at_most(*charge, t);
      if (!added) return true;
      *pressure += *added;
    }
    return *pressure >= opens;
  };
  Temperature low = kColdest, high = kWarmestSaturation;
  const auto at_low = open(low), at_high = open(high);
  if (!at_low) return tl::unexpected(at_low.error());
  if (!at_high) return tl::unexpected(at_high.error());
  if (*at_low || !*at_high) {
    const auto least = most_own(mix, low), most = most_own(mix, high);
    return refuse_outside("propane.relief_outside", measure::of(relief), measure::of(gauge(*least, ambient)),
                          measure::of(gauge(*most, ambient)));
  }
  for (int step = 0; step < 50; ++step) {
    const Temperature middle = low + 0.5 * (high - low);
    const auto there = open(middle);
    if (!there) return tl::unexpected(there.error());
    (*there ? high : low) = middle;
  }
  return high;
}

}  // namespace pappus::propane
