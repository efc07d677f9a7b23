#include "core/propane/fill.hpp"

#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/saturation.hpp"

namespace pappus::propane {
namespace {

const Volume kNothing = 0.0 * cubic_metre;

tl::unexpected<Issue> liquid_outside(Volume liquid, Volume shell) {
  return refuse_outside("propane.liquid_outside", measure::liquid(liquid), measure::liquid(kNothing),
                        measure::liquid(shell));
}

}  // namespace

Result<Mass> mass_inside(Volume shell, Volume liquid, Temperature t) {
  if (!(shell > kNothing && liquid >= kNothing && liquid <= shell)) return liquid_outside(liquid, shell);
  const auto s = saturation_at(t);
  if (!s) return tl::unexpected(s.error());
  return s->liquid_density * liquid + s->vapour_density * (shell - liquid);
}

Result<Inside> inside_at(Volume shell, Mass total, Temperature t) {
  if (!(shell > kNothing)) return liquid_outside(kNothing, shell);
  const auto s = saturation_at(t);
  if (!s) return tl::unexpected(s.error());
  const Mass least = s->vapour_density * shell, most = s->liquid_density * shell;
  if (!(total >= least))
    return refuse_outside("propane.no_liquid", measure::of(total), measure::of(least), measure::of(most));
  if (!(total <= most))
    return refuse_outside("propane.liquid_full", measure::of(total), measure::of(least), measure::of(most));
  const double fraction = (total - least) / (most - least);
  const Volume liquid = fraction * shell;
  return Inside{.liquid = liquid,
                .liquid_mass = s->liquid_density * liquid,
                .vapour_mass = s->vapour_density * (shell - liquid),
                .liquid_fraction = fraction};
}

Result<Temperature> liquid_full_temperature(Volume shell, Mass total) {
  if (!(shell > kNothing)) return liquid_outside(kNothing, shell);
  const auto coldest = saturated_liquid_density(kColdestSaturation), warmest = saturated_liquid_density(kWarmestLiquid);
  if (!coldest) return tl::unexpected(coldest.error());
  if (!warmest) return tl::unexpected(warmest.error());
  const Density wanted = total / shell;
  const Mass least = *warmest * shell, most = *coldest * shell;
  if (!(wanted >= *warmest))
    return refuse_outside("propane.never_full", measure::of(total), measure::of(least), measure::of(most));
  if (!(wanted <= *coldest))
    return refuse_outside("propane.liquid_full", measure::of(total), measure::of(least), measure::of(most));
  double low = kColdestSaturation.from_origin().in(kelvin), high = kWarmestLiquid.from_origin().in(kelvin);
  for (int step = 0; step < 50; ++step) {
    const double middle = 0.5 * (low + high);
    const auto density = saturated_liquid_density(Temperature::at(middle * kelvin));
    if (!density) return tl::unexpected(density.error());
    (*density > wanted ? low : high) = middle;
  }
  return Temperature::at(0.5 * (low + high) * kelvin);
}

Result<double> liquid_full_pascal_per_kelvin(Temperature t) {
  const Temperature low = celsius(-10.0), high = celsius(50.0);
  if (!(t >= low && t <= high))
    return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(low), measure::of(high));
  const double c = in_celsius(t);
  return 1e5 * (6.825 - 0.06803 * c + 1.3375e-4 * c * c);
}

double filling_density(Volume shell, Mass liquid) { return liquid / (kFillingWater * shell); }

Volume most_liquid_at_40f(Volume shell, double specific_gravity_60f, double density, double factor) {
  return density / (specific_gravity_60f * factor) * shell;
}

Result<PlateCheck> plate_check(Volume shell, Volume level_fill) {
  if (!(shell > kNothing && level_fill >= kNothing && level_fill <= shell)) return liquid_outside(level_fill, shell);
  const auto s = saturation_at(fahrenheit(40.0));
  if (!s) return tl::unexpected(s.error());
  const double density = filling_density(shell, s->liquid_density * level_fill);
  return PlateCheck{.fraction = level_fill / shell, .density = density, .disagree = density > kMostFillingDensity};
}

}  // namespace pappus::propane
