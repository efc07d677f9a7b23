#include "core/balloon/load_chart.hpp"

#include <algorithm>

#include "core/air/humidity.hpp"
#include "core/air/isa.hpp"
#include "core/base/refusal.hpp"

// Notation: L = (p V / R)(1/T_a - 1/T_i), as in lift.cpp with dry air.

namespace pappus::balloon {

Result<LoadChart> load_chart(const LoadChartInputs& inputs) {
  constexpr Volume kSmallest = 1.0 * cubic_metre, kLargest = 100'000.0 * cubic_metre;
  constexpr Temperature kHottest = celsius(200.0), kColdest = celsius(-80.0);
  // Written so that NaN is refused too.
  if (!(inputs.volume >= kSmallest && inputs.volume <= kLargest))
    return refuse_outside("load_chart.volume_outside", measure::gas(inputs.volume), measure::gas(kSmallest),
                          measure::gas(kLargest));
  if (!(inputs.inside_mean >= kColdest && inputs.inside_mean <= kHottest))
    return refuse_outside("load_chart.inside_outside", measure::of(inputs.inside_mean), measure::of(kColdest),
                          measure::of(kHottest));
  constexpr Mass kHeaviest = 20'000.0 * kilogram;
  if (!(inputs.empty >= Mass{} && inputs.empty <= kHeaviest))
    return refuse_outside("load_chart.empty_outside", measure::of(inputs.empty), measure::of(Mass{}),
                          measure::of(kHeaviest));
  LoadChart out;
  out.heights = inputs.heights;
  out.outside = inputs.outside;
  out.inside_mean = inputs.inside_mean;
  if (inputs.gross_limit) out.most = *inputs.gross_limit - inputs.empty;
  const double inside_per_k = 1.0 / inputs.inside_mean.from_origin().in(kelvin);
  std::vector<double> driving_per_k;
  driving_per_k.reserve(inputs.outside.size());
  for (const Temperature t : inputs.outside) {
    if (!(t >= kColdest && t <= inputs.inside_mean))
      return refuse_outside("load_chart.outside_outside", measure::of(t), measure::of(kColdest),
                            measure::of(inputs.inside_mean));
    driving_per_k.push_back(1.0 / t.from_origin().in(kelvin)-inside_per_k);
  }
  const double volume_m3 = inputs.volume.in(cubic_metre);
  out.left.reserve(inputs.heights.size());
  for (const PressureAltitude height : inputs.heights) {
    const auto pressure = air::pressure_at(height);
    if (!pressure) return tl::unexpected{pressure.error()};
    const double c_kg_k = pressure->in(pascal)*volume_m3 / air::kDryAirConstant;
    std::vector<Mass>& row = out.left.emplace_back();
    row.reserve(driving_per_k.size());
    for (const double driving : driving_per_k) {
      const Mass left = c_kg_k * driving * kilogram - inputs.empty;
      row.push_back(out.most ? std::min(left, *out.most) : left);
    }
  }
  return out;
}

}  // namespace pappus::balloon
