#include "core/propane/mix.hpp"

#include <array>

#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/saturation.hpp"

namespace pappus::propane {
namespace {

constexpr Temperature kColdest = celsius(-40.0), kWarmest = celsius(50.0);
constexpr double kStatedSpread = 0.04, kUnknownLow = 0.95, kUnknownHigh = 1.20;

struct Component {
  double tc_k, pc_pa, a, b, c, d;
};
constexpr Component kPropylene{364.9, 46.0e5, -6.64231, 1.21857, -1.81005, -2.48212};
constexpr Component kEthane{305.4, 48.8e5, -6.34307, 1.01630, -1.19116, -2.03539};
constexpr Component kIsobutane{408.2, 36.5e5, -6.95579, 1.50090, -2.52717, -1.49776};
constexpr Component kButane{425.2, 38.0e5, -6.88709, 1.15157, -1.99873, -3.13003};

double vapour_pressure_pa(const Component& of, double t_k) {
  const double x = 1.0 - t_k / of.tc_k;
  // Past the critical point the line goes on straight in 1/T with the slope that it has there.
  if (x < 0.0) return of.pc_pa * math::exp(of.a * (of.tc_k / t_k - 1.0));
  const double x3 = x * x * x;
  return of.pc_pa * math::exp((of.a * x + of.b * x * math::sqrt(x) + of.c * x3 + of.d * x3 * x3) / (1.0 - x));
}

// The temperature at which factor times the mix has this pressure, within the domain.
Temperature where(double target_pa, double factor, const Mix& mix) {
  double low = kColdest.from_origin().in(kelvin), high = kWarmest.from_origin().in(kelvin);
  for (int step = 0; step < 50; ++step) {
    const double middle = 0.5 * (low + high);
    const auto p = bubble_pressure(mix, Temperature::at(middle * kelvin));
    (p && factor * p->in(pascal) < target_pa ? low : high) = middle;
  }
  return Temperature::at(0.5 * (low + high) * kelvin);
}

struct Factors {
  double low, high;
};
Factors factors_of(const std::optional<Mix>& mix) {
  return mix ? Factors{1.0 - kStatedSpread, 1.0 + kStatedSpread} : Factors{kUnknownLow, kUnknownHigh};
}

}  // namespace

Result<Pressure> bubble_pressure(const Mix& mix, Temperature t) {
  if (!(t >= kColdest && t <= kWarmest))
    return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(kColdest), measure::of(kWarmest));
  const std::array fractions{mix.propane, mix.propylene, mix.ethane, mix.isobutane, mix.butane};
  double sum = 0.0;
  bool sound = true;
  for (const double fraction : fractions) {
    sum += fraction;
    sound = sound && fraction >= 0.0;
  }
  if (!(sound && sum >= 0.999 && sum <= 1.001))
    return refuse_outside("propane.mix_sum", measure::ratio(sum), measure::ratio(1.0), measure::ratio(1.0));
  const auto pure = saturation_at(t);
  if (!pure) return tl::unexpected(pure.error());
  const double t_k = t.from_origin().in(kelvin);
  const double others_pa =
      mix.propylene * vapour_pressure_pa(kPropylene, t_k) + mix.ethane * vapour_pressure_pa(kEthane, t_k) +
      mix.isobutane * vapour_pressure_pa(kIsobutane, t_k) + mix.butane * vapour_pressure_pa(kButane, t_k);
  return mix.propane * pure->pressure + others_pa * pascal;
}

Result<PressureBand> pressure_band(const std::optional<Mix>& mix, Temperature t) {
  const auto p = bubble_pressure(mix.value_or(Mix{}), t);
  if (!p) return tl::unexpected(p.error());
  const Factors factors = factors_of(mix);
  return PressureBand{.low = factors.low * *p, .best = *p, .high = factors.high * *p};
}

Result<TemperatureBand> liquid_temperature(GaugePressure shown, Pressure ambient, const std::optional<Mix>& mix,
                                           Pressure gauge_error) {
  const Mix of = mix.value_or(Mix{});
  const Pressure absolute = shown.from_origin() + ambient;
  const auto least = bubble_pressure(of, kColdest), most = bubble_pressure(of, kWarmest);
  if (!least) return tl::unexpected(least.error());
  if (!most) return tl::unexpected(most.error());
  if (!(absolute >= *least && absolute <= *most))
    return refuse_outside("propane.pressure_outside", measure::air(absolute), measure::air(*least),
                          measure::air(*most));
  const Factors factors = factors_of(mix);
  return TemperatureBand{.low = where((absolute - gauge_error).in(pascal), factors.high, of),
                         .best = where(absolute.in(pascal), 1.0, of),
                         .high = where((absolute + gauge_error).in(pascal), factors.low, of)};
}

}  // namespace pappus::propane
