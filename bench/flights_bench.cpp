// Flights by force and heat: how many of 90 minutes a second on one core, for each instruction set, beside the same
// flights solved by Boost.Odeint. One round times all of them in turn, so that what else the machine does falls on all
// alike.
#include <benchmark/benchmark.h>

#include <cstddef>
#include <ctime>
#include <string>
#include <vector>

#include "core/motion/flight.hpp"
#include "tests/core/motion/support.hpp"
#if PAPPUS_ODEINT
#include "tests/support/odeint_flight.hpp"
#endif

namespace {

using namespace pappus;
using namespace pappus::motion;

struct Flights {
  FlightAir air;
  Body body;
  std::vector<Plan> plans;
  std::vector<Perturbation> changes;
};

/// Human burns, vents, four heights; mass, loss, drag, flame and wind different in each.
Flights morning(std::size_t count) {
  FlightAir air =
      *FlightAir::from(motion::testing::column_of(300.0, 12.0, 3000.0), motion::testing::turning_wind(300.0));
  const Body body = *Body::from(motion::testing::sport_balloon(), air);
  Flights all{std::move(air), body, {}, {}};
  Random random{20270516, 0};
  for (std::size_t i = 0; i < count; ++i) {
    Plan plan = motion::testing::morning_flight(300.0);
    for (Leg& leg : plan.legs) leg.height = leg.height + random.uniform(0.0, 150.0) * metre;
    all.plans.push_back(plan);
    all.changes.push_back({.more = random.uniform(-40.0, 20.0) * kilogram,
                           .loss = random.uniform(0.8, 1.2),
                           .drag = random.uniform(0.7, 1.3),
                           .flame = random.uniform(0.9, 1.1),
                           .east = random.uniform(-2.0, 2.0) * metre_per_second,
                           .north = random.uniform(-2.0, 2.0) * metre_per_second});
  }
  return all;
}

/// Time that this thread had a processor for.
double processor_s() {
  timespec t{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

/// Flights and the time they took.
struct Pace {
  double flights = 0.0, seconds = 0.0;
  [[nodiscard]] double per_second() const { return flights / seconds; }
  template <class Work>
  void time(std::size_t count, Work&& work) {
    const double before = processor_s();
    work();
    seconds += processor_s() - before;
    flights += static_cast<double>(count);
  }
};

void flights_of_90_minutes(benchmark::State& state) {
  constexpr std::size_t kMany = 64;  // whole numbers of all widths
  const Flights f = morning(kMany);
  const std::vector<Lanes> all = lanes_here();
  std::vector<Pace> kernels(all.size());
#if PAPPUS_ODEINT
  constexpr std::size_t kFew = 8;
  std::vector<std::vector<motion::testing::Command>> commands;
  std::vector<motion::testing::OdeintState> starts;
  for (std::size_t i = 0; i < kFew; ++i) {
    commands.push_back(motion::testing::commands_of(fly(f.body, f.air, f.plans[i], f.changes[i])->flown));
    starts.push_back(motion::testing::odeint_start(f.body, f.air, f.plans[i], f.changes[i]));
  }
  Pace coarse, alike;
  const auto solve = [&](Pace& pace, std::size_t count, double tolerance) {
    pace.time(count, [&] {
      for (std::size_t i = 0; i < count; ++i)
        benchmark::DoNotOptimize(
            motion::testing::odeint_fly(f.body, f.air, f.changes[i], starts[i], commands[i], tolerance));
    });
  };
#endif
  for (auto _ : state) {
    for (std::size_t i = 0; i < all.size(); ++i)
      kernels[i].time(kMany, [&] { benchmark::DoNotOptimize(fly_many(f.body, f.air, f.plans, f.changes, all[i])); });
#if PAPPUS_ODEINT
    solve(coarse, kFew, 1e-4);
    solve(alike, 2, 1e-8);
#endif
  }
  const double scalar = kernels[0].per_second();
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string name(name_of(all[i]));
    state.counters[name + "_per_s"] = kernels[i].per_second();
    if (i > 0) state.counters[name + "_to_scalar"] = kernels[i].per_second() / scalar;
    if (i > 0) state.counters[name + "_per_lane"] = kernels[i].per_second() / scalar / width_of(all[i]);
#if PAPPUS_ODEINT
    state.counters[name + "_to_odeint_1e-4"] = kernels[i].per_second() / coarse.per_second();
    state.counters[name + "_to_odeint_1e-8"] = kernels[i].per_second() / alike.per_second();
#endif
  }
#if PAPPUS_ODEINT
  state.counters["odeint_1e-4_per_s"] = coarse.per_second();
  state.counters["odeint_1e-8_per_s"] = alike.per_second();
#endif
}
BENCHMARK(flights_of_90_minutes)->Unit(benchmark::kMillisecond);

}  // namespace
