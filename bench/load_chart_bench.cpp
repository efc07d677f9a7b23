// Lift left for people and fuel over 50 heights and 50 temperatures: within 5 ms; and the same cells asked of
// gross_lift one by one, in the same run.
#include <benchmark/benchmark.h>

#include "core/air/isa.hpp"
#include "core/balloon/lift.hpp"
#include "core/balloon/load_chart.hpp"

namespace {

using namespace pappus;

balloon::LoadChartInputs fifty_by_fifty() {
  balloon::LoadChartInputs in;
  for (int i = 0; i < 50; ++i) {
    in.heights.push_back(PressureAltitude::at(60.0 * i * metre));
    in.outside.push_back(celsius(-15.0 + i));
  }
  in.volume = 105'000.0 * cubic_foot;
  in.inside_mean = celsius(101.0);
  in.empty = 320.0 * kilogram;
  return in;
}

void load_chart_50_by_50(benchmark::State& state) {
  const balloon::LoadChartInputs in = fifty_by_fifty();
  for (auto _ : state) benchmark::DoNotOptimize(balloon::load_chart(in));
}
BENCHMARK(load_chart_50_by_50)->Unit(benchmark::kMicrosecond);

/// The baseline: 2500 calls of gross_lift.
void gross_lift_50_by_50(benchmark::State& state) {
  const balloon::LoadChartInputs in = fifty_by_fifty();
  for (auto _ : state)
    for (const PressureAltitude height : in.heights) {
      const Pressure pressure = *air::pressure_at(height);
      for (const Temperature outside : in.outside)
        benchmark::DoNotOptimize(
            balloon::gross_lift({{outside, air::kDryDewPoint, pressure}, in.inside_mean, in.volume}));
    }
}
BENCHMARK(gross_lift_50_by_50)->Unit(benchmark::kMicrosecond);

}  // namespace
