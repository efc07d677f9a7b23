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

}  // namespace
