// What choosing heights reaches: promised while a finger drags the ceiling, so within 2 ms.
#include <benchmark/benchmark.h>

#include <cmath>

#include "core/steer/reach.hpp"

namespace {

using namespace pappus;

/// A drainage flow below 120 m, a low-level jet at 350 m and a veering flow aloft, every 50 m to 2000 m.
steer::Reach morning_reach() {
  std::vector<steer::Column::Knot> knots;
  for (int i = 0; i <= 40; ++i) {
    const double z_m = 50.0 * i, jet_m_s = 7.5 * std::exp(-(z_m - 350.0) * (z_m - 350.0) / (2.0 * 150.0 * 150.0));
    const double drainage_m_s = 1.8 * std::exp(-z_m / 80.0), aloft_m_s = 6.5 * (1.0 - std::exp(-z_m / 500.0));
    const double veer = 0.9 + z_m / 1500.0;
    knots.push_back(
        {agl(z_m * metre), wind::Wind::toward((aloft_m_s * std::sin(veer) + jet_m_s) * metre_per_second,
                                              (aloft_m_s * std::cos(veer) - drainage_m_s) * metre_per_second)});
  }
  return *steer::Reach::of(
      {.column = *steer::Column::of(std::move(knots)), .ceiling = agl(2000.0 * metre), .flight_time = 75.0 * minute});
}

void footprint_of_30_ceilings(benchmark::State& state) {
  const steer::Reach reach = morning_reach();
  for (auto _ : state) benchmark::DoNotOptimize(reach.footprint());
}
BENCHMARK(footprint_of_30_ceilings)->Unit(benchmark::kMicrosecond);

void named_place_with_plan(benchmark::State& state) {
  const steer::Reach reach = morning_reach();
  for (auto _ : state) benchmark::DoNotOptimize(reach.place({{12.0 * kilometre, 9.0 * kilometre}, 50.0 * metre}));
}
BENCHMARK(named_place_with_plan)->Unit(benchmark::kMicrosecond);

}  // namespace
