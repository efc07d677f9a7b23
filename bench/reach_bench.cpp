// What choosing heights reaches: promised while a finger drags the ceiling, so within 2 ms; and what trying every path
// would cost, in the same run.
#include <benchmark/benchmark.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "core/steer/reach.hpp"

namespace {

using namespace pappus;

constexpr double kTop_m = 2000.0, kFlight_s = 75.0 * 60.0;

/// A drainage flow below 120 m, a low-level jet at 350 m and a veering flow aloft, every 50 m to 2000 m.
wind::Ladder morning_winds() {
  wind::Ladder ladder{{wind::SourceKind::pibal, "pibal", {}}, {}};
  for (int i = 0; i <= 40; ++i) {
    const double z_m = 50.0 * i, jet_m_s = 7.5 * std::exp(-(z_m - 350.0) * (z_m - 350.0) / (2.0 * 150.0 * 150.0));
    const double drainage_m_s = 1.8 * std::exp(-z_m / 80.0), aloft_m_s = 6.5 * (1.0 - std::exp(-z_m / 500.0));
    const double veer = 0.9 + z_m / 1500.0;
    ladder.rows.push_back({amsl(z_m * metre),
                           wind::Wind::toward((aloft_m_s * std::sin(veer) + jet_m_s) * metre_per_second,
                                              (aloft_m_s * std::cos(veer) - drainage_m_s) * metre_per_second),
                           std::nullopt});
  }
  return ladder;
}

wind::WindProfile morning_profile() {
  return *wind::WindProfile::from(
              {.ground = amsl(0.0 * metre), .time = {}, .ladders = {morning_winds()}, .reports = {}})
              .value;
}

steer::Reach reach_of(const wind::WindProfile& profile) {
  return *steer::Reach::of({.column = *steer::Column::from(profile, agl(kTop_m * metre)),
                            .ceiling = agl(kTop_m * metre),
                            .flight_time = kFlight_s * second});
}

void footprint_of_30_ceilings(benchmark::State& state) {
  const steer::Reach reach = reach_of(morning_profile());
  for (auto _ : state) benchmark::DoNotOptimize(reach.footprint());
}
BENCHMARK(footprint_of_30_ceilings)->Unit(benchmark::kMicrosecond);

void named_place_with_plan(benchmark::State& state) {
  const steer::Reach reach = reach_of(morning_profile());
  for (auto _ : state) benchmark::DoNotOptimize(reach.place({{12.0 * kilometre, 9.0 * kilometre}, 50.0 * metre}));
}
BENCHMARK(named_place_with_plan)->Unit(benchmark::kMicrosecond);

/// All that one flight sheet asks: the column from the profile, the footprint, and eight named places.
void reach_for_a_sheet(benchmark::State& state) {
  const wind::WindProfile profile = morning_profile();
  for (auto _ : state) {
    const steer::Reach reach = reach_of(profile);
    benchmark::DoNotOptimize(reach.footprint());
    for (int i = 0; i < 8; ++i)
      benchmark::DoNotOptimize(reach.place({{(3.0 + 2.0 * i) * kilometre, (9.0 - i) * kilometre}, 100.0 * metre}));
  }
}
BENCHMARK(reach_for_a_sheet)->Unit(benchmark::kMicrosecond);

/// The baseline: every flight of two holds out of 30 heights and 20 ways to share the time, flown in steps of 5 s; of
/// each sector the farthest landing. It answers less: nothing between its samples, and no polygons.
void every_two_hold_flight(benchmark::State& state) {
  const wind::WindProfile profile = morning_profile();
  const std::vector<steer::RateBand> rates = steer::default_rates();
  constexpr int heights = 30, shares = 20;
  constexpr double step_s = 5.0;
  struct Flight {
    double east_m = 0.0, north_m = 0.0, z_m = 0.0, t_s = 0.0;
  };
  const auto step = [&](Flight& f, double vertical_m_s, double s) {
    const auto w = profile.wind_at(amsl((f.z_m + 0.5 * s * vertical_m_s) * metre));
    f.east_m += s * w->east().in(metre_per_second);
    f.north_m += s * w->north().in(metre_per_second);
    f.z_m += s * vertical_m_s;
    f.t_s += s;
  };
  const auto go_to = [&](Flight& f, double z_m) {
    while (std::abs(z_m - f.z_m) > 1e-6) {
      const bool up = z_m > f.z_m, low = up ? f.z_m < 100.0 : f.z_m <= 100.0;
      const steer::RateBand& band = rates[low ? 0 : 1];
      const double rate = (up ? band.up : band.down).in(metre_per_second);
      double next_m = z_m;
      if (up && low) next_m = std::min(next_m, 100.0);
      if (!up && !low) next_m = std::max(next_m, 100.0);
      const double s = std::min(step_s, std::abs(next_m - f.z_m) / rate);
      step(f, up ? rate : -rate, s);
      if (s < step_s) f.z_m = next_m;
    }
  };
  for (auto _ : state) {
    std::array<double, 36> far_m{};
    for (int high = 1; high <= heights; ++high)
      for (int low = 1; low < high; ++low)
        for (int share = 0; share <= shares; ++share) {
          const double high_m = kTop_m * high / heights, low_m = kTop_m * low / heights;
          Flight trial;
          go_to(trial, high_m);
          go_to(trial, 0.0);
          if (trial.t_s > kFlight_s) continue;
          const double left_s = kFlight_s - trial.t_s, high_s = left_s * share / shares;
          Flight f;
          go_to(f, high_m);
          step(f, 0.0, high_s);
          go_to(f, low_m);
          step(f, 0.0, left_s - high_s);
          go_to(f, 0.0);
          const double bearing_deg = std::atan2(f.east_m, f.north_m) * 180.0 / pi + 365.0;
          double& far = far_m[static_cast<std::size_t>(bearing_deg / 10.0) % far_m.size()];
          far = std::max(far, std::hypot(f.east_m, f.north_m));
        }
    benchmark::DoNotOptimize(far_m);
  }
}
BENCHMARK(every_two_hold_flight)->Unit(benchmark::kMicrosecond);

}  // namespace
