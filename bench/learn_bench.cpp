// What a book of 1,000 flights teaches: promised while a person waits, so well under a second; beside it the least that
// must be done with so many records, one copy sorted.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <vector>

#include "core/base/random.hpp"
#include "core/book/learned.hpp"

namespace {

using namespace pappus;

std::vector<book::FlightRecord> thousand_flights() {
  Random random{20270516, 0};
  std::vector<book::FlightRecord> records;
  for (int i = 0; i < 1000; ++i) records.push_back({random.uniform(0.85, 1.25), random.uniform(0.03, 0.15)});
  for (const std::size_t i : {17U, 400U, 999U}) records[i].value = 3.0;  // misread
  return records;
}

void learned_from_1000_flights(benchmark::State& state) {
  const auto records = thousand_flights();
  for (auto _ : state) benchmark::DoNotOptimize(book::learn(book::kBurnRatio, records));
}
BENCHMARK(learned_from_1000_flights)->Unit(benchmark::kMicrosecond);

void records_copied_and_sorted(benchmark::State& state) {
  const auto records = thousand_flights();
  for (auto _ : state) {
    auto sorted = records;
    std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) { return a.value < b.value; });
    benchmark::DoNotOptimize(sorted.data());
  }
}
BENCHMARK(records_copied_and_sorted)->Unit(benchmark::kMicrosecond);

}  // namespace
