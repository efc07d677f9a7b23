// The sheet of one good morning from parsed input: what a person waits for.
#include <benchmark/benchmark.h>

#include "core/sheet/flight_sheet.hpp"
#include "tests/support/morning.hpp"

namespace {

void sheet_from_parsed_input(benchmark::State& state) {
  const pappus::sheet::Morning morning = pappus::testing::good_morning();
  for (auto _ : state) benchmark::DoNotOptimize(pappus::sheet::sheet(morning));
}
BENCHMARK(sheet_from_parsed_input)->Unit(benchmark::kMicrosecond);

// The same too heavy, so that every kind of remedy is tried. Nothing is known aloft: every change is judged in two airs.
void sheet_with_remedies(benchmark::State& state) {
  pappus::sheet::Morning morning = pappus::testing::good_morning();
  morning.balloon.envelope.crown_limit = pappus::celsius(100.0);
  morning.flight.highest = pappus::agl(1000.0 * pappus::metre);
  for (auto& row : morning.flight.ladders[0].rows) row.temperature.reset();
  for (auto _ : state) benchmark::DoNotOptimize(pappus::sheet::sheet(morning));
}
BENCHMARK(sheet_with_remedies)->Unit(benchmark::kMicrosecond);

}  // namespace
