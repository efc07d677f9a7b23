#include "core/base/executor.hpp"

#include <vector>

#include <gtest/gtest.h>

namespace pappus {
namespace {

// Runs the items in the worst order for code that leans on it.
class BackwardExecutor final : public Executor {
 public:
  void for_each(std::size_t count, const std::function<void(std::size_t)>& work) override {
    for (std::size_t i = count; i > 0; --i) work(i - 1);
  }
};

class Log final : public Progress {
 public:
  explicit Log(std::size_t stop_at) : stop_at_{stop_at} {}
  bool report(std::size_t done, std::size_t total) override {
    reports.push_back(done);
    last_total = total;
    return done < stop_at_;
  }
  std::vector<std::size_t> reports;
  std::size_t last_total = 0;

 private:
  std::size_t stop_at_;
};

using Chunk = std::pair<std::size_t, std::size_t>;

std::vector<Chunk> chunks(Executor& executor, std::size_t count, std::size_t size) {
  std::vector<Chunk> seen;
  EXPECT_TRUE(run_chunked(executor, count, size, nullptr,
                          [&](std::size_t first, std::size_t last) { seen.emplace_back(first, last); }));
  return seen;
}

TEST(RunChunked, CutsTheSameChunksForEveryExecutor) {
  SerialExecutor serial;
  BackwardExecutor backward;
  const std::vector<Chunk> forward = chunks(serial, 10, 4);
  EXPECT_EQ(forward, (std::vector<Chunk>{{0, 4}, {4, 8}, {8, 10}}));
  const std::vector<Chunk> other = chunks(backward, 10, 4);
  EXPECT_EQ(other, (std::vector<Chunk>{{8, 10}, {4, 8}, {0, 4}}));
}

TEST(RunChunked, CoversEveryItemOnce) {
  SerialExecutor serial;
  for (std::size_t count = 0; count < 40; ++count)
    for (std::size_t size = 1; size < 45; ++size) {
      std::vector<int> runs(count);
      for (const auto& [first, last] : chunks(serial, count, size)) {
        ASSERT_LE(last - first, size);
        for (std::size_t i = first; i < last; ++i) ++runs[i];
      }
      for (const int n : runs) ASSERT_EQ(n, 1) << count << " items in chunks of " << size;
    }
}

TEST(RunChunked, TellsHowFarItIs) {
  SerialExecutor serial;
  Log log{1000};
  EXPECT_TRUE(run_chunked(serial, 10, 4, &log, [](std::size_t, std::size_t) {}));
  EXPECT_EQ(log.reports, (std::vector<std::size_t>{4, 8, 10}));
  EXPECT_EQ(log.last_total, 10u);
}

TEST(RunChunked, StopsWhenAskedTo) {
  SerialExecutor serial;
  Log log{8};  // after the second chunk
  std::size_t items = 0;
  EXPECT_FALSE(run_chunked(serial, 100, 4, &log, [&](std::size_t first, std::size_t last) { items += last - first; }));
  EXPECT_EQ(items, 8u);
}

}  // namespace
}  // namespace pappus
