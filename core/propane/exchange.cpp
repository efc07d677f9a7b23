#include "core/propane/exchange.hpp"

#include <algorithm>
#include <cstddef>

#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::propane {
namespace {

constexpr Temperature kColdest = celsius(-60.0), kWarmest = celsius(70.0);
constexpr int kTimesBetween = 6;

// Kelvins after `until_s` of relaxing toward the air with time constant tau_s, from start_k.
double relaxed_k(double start_k, const std::vector<AirAround>& air, double until_s, double tau_s) {
  double t_k = start_k;
  for (std::size_t i = 0; i < air.size(); ++i) {
    const double from_s = air[i].after.in(second);
    if (from_s >= until_s) break;
    const bool last = i + 1 == air.size();
    const double to_s = last ? until_s : std::min(air[i + 1].after.in(second), until_s);
    const double a = air[i].air.from_origin().in(kelvin);
    const double slope =
        last ? 0.0 : (air[i + 1].air.from_origin().in(kelvin)-a) / (air[i + 1].after.in(second)-from_s);
    // Air a + b s: the liquid runs after it, b tau behind, and what it was off dies out.
    const double s = to_s - from_s;
    t_k = a + slope * (s - tau_s) + (t_k - a + slope * tau_s) * math::exp(-s / tau_s);
  }
  return t_k;
}

tl::unexpected<Issue> temperature_outside(Temperature t) {
  return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(kColdest), measure::of(kWarmest));
}

}  // namespace

Result<LiquidWarmth> liquid_warmth(const LiquidWarmth& now, const std::vector<AirAround>& air, Duration after,
                                   const ExchangeTimes& times) {
  if (air.empty() || air.front().after != 0.0 * second)
    return fail(Errc::bad_input, say("propane.air_missing"), air.empty() ? "" : written(measure::of(air.front().after)),
                "0s");
  for (std::size_t i = 0; i < air.size(); ++i) {
    if (!(air[i].air >= kColdest && air[i].air <= kWarmest)) return temperature_outside(air[i].air);
    if (i > 0 && !(air[i].after > air[i - 1].after))
      return fail(Errc::bad_input, say("propane.air_order"), written(measure::of(air[i].after)),
                  "> " + written(measure::of(air[i - 1].after)));
  }
  for (const Temperature t : {now.low, now.best, now.high})
    if (!(t >= kColdest && t <= kWarmest)) return temperature_outside(t);
  if (!(now.low <= now.best && now.best <= now.high)) return temperature_outside(now.best);
  const Duration none = 0.0 * second, longest = 48.0 * hour;
  if (!(after >= none && after <= longest))
    return refuse_outside("propane.after_outside", measure::of(after), measure::of(none), measure::of(longest));
  if (!(times.low >= minute && times.low <= times.best && times.best <= times.high && times.high <= longest))
    return refuse_outside("propane.exchange_outside", measure::of(times.best), measure::of(minute),
                          measure::of(longest));

  const auto kelvins = [&](Temperature start, double tau_s) {
    return relaxed_k(start.from_origin().in(kelvin), air, after.in(second), tau_s);
  };
  const double best = kelvins(now.best, times.best.in(second));
  double low = best, high = best;
  // Where the air warms and cools again, neither the slowest nor the fastest exchange need be the extreme.
  const double fastest = times.low.in(second), slowest = times.high.in(second);
  for (int i = 0; i <= kTimesBetween; ++i) {
    const double tau_s = fastest + (slowest - fastest) * i / kTimesBetween;
    low = std::min(low, kelvins(now.low, tau_s));
    high = std::max(high, kelvins(now.high, tau_s));
  }
  return LiquidWarmth{Temperature::at(low * kelvin), Temperature::at(best * kelvin), Temperature::at(high * kelvin)};
}

}  // namespace pappus::propane
