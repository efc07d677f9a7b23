#include "faces/ports/thread_executor.hpp"

#include <atomic>
#include <cstring>
#include <mutex>
#include <set>
#include <thread>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/math.hpp"
#include "core/base/random.hpp"

namespace pappus::ports {
namespace {

// Work as core does it: an item's numbers depend on its index alone.
std::vector<double> walk(Executor& executor, std::size_t count) {
  std::vector<double> out(count);
  run_chunked(executor, count, 16, nullptr, [&](std::size_t first, std::size_t last) {
    for (std::size_t i = first; i < last; ++i) {
      Random random{20'270'516, i};
      double x = 0.0;
      for (int step = 0; step < 50; ++step) x += math::sin(x) + random.normal();
      out[i] = x;
    }
  });
  return out;
}

bool same_bytes(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

TEST(ThreadExecutor, OneTwoAndSevenThreadsGiveEqualBytes) {
  SerialExecutor serial;
  const std::vector<double> expected = walk(serial, 3001);
  for (const std::size_t threads : {1u, 2u, 7u}) {
    ThreadExecutor executor{threads};
    for (int repeat = 0; repeat < 5; ++repeat)
      EXPECT_TRUE(same_bytes(walk(executor, 3001), expected)) << threads << " threads";
  }
}

TEST(ThreadExecutor, RunsEveryItemOnce) {
  for (const std::size_t threads : {1u, 2u, 7u}) {
    ThreadExecutor executor{threads};
    for (const std::size_t count : {0u, 1u, 2u, 6u, 7u, 8u, 1000u}) {
      std::vector<std::atomic<int>> runs(count);
      executor.for_each(count, [&](std::size_t i) { runs[i].fetch_add(1); });
      for (std::size_t i = 0; i < count; ++i) ASSERT_EQ(runs[i].load(), 1) << "item " << i << " of " << count;
    }
  }
}

TEST(ThreadExecutor, UsesAsManyThreadsAsItWasGiven) {
  // Each item waits for the others: with fewer than three threads this would not end.
  ThreadExecutor executor{3};
  std::atomic<int> arrived{0};
  std::mutex mutex;
  std::set<std::thread::id> ids;
  executor.for_each(3, [&](std::size_t) {
    {
      const std::lock_guard lock{mutex};
      ids.insert(std::this_thread::get_id());
    }
    arrived.fetch_add(1);
    while (arrived.load() < 3) std::this_thread::yield();
  });
  EXPECT_EQ(ids.size(), 3u);
}

TEST(ThreadExecutor, MayBeCalledFromWithinItsOwnWork) {
  ThreadExecutor executor{2};
  std::atomic<int> runs{0};
  executor.for_each(4, [&](std::size_t) { executor.for_each(5, [&](std::size_t) { runs.fetch_add(1); }); });
  EXPECT_EQ(runs.load(), 20);
}

TEST(ThreadExecutor, HasAtLeastOneThread) {
  EXPECT_GE(ThreadExecutor{}.threads(), 1u);
  EXPECT_EQ(ThreadExecutor{7}.threads(), 7u);
}

TEST(ThreadExecutor, StopsWhenProgressSaysSo) {
  class StopAtOnce final : public Progress {
   public:
    bool report(std::size_t, std::size_t) override { return false; }
  };
  StopAtOnce stop;
  ThreadExecutor executor{2};
  std::atomic<std::size_t> items{0};
  EXPECT_FALSE(run_chunked(executor, 100'000, 1, &stop,
                           [&](std::size_t first, std::size_t last) { items.fetch_add(last - first); }));
  EXPECT_GE(items.load(), 1u);
  EXPECT_LE(items.load(), 2u * 1u + 2u);  // each thread may have begun one more before it saw the stop
}

}  // namespace
}  // namespace pappus::ports
