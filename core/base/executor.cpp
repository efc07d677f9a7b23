#include "core/base/executor.hpp"

#include <algorithm>
#include <atomic>

namespace pappus {

bool run_chunked(Executor& executor, std::size_t count, std::size_t chunk, Progress* progress,
                 const std::function<void(std::size_t first, std::size_t last)>& work) {
  const std::size_t chunks = chunk == 0 ? 0 : (count + chunk - 1) / chunk;
  std::atomic<std::size_t> done{0};
  std::atomic<bool> go_on{true};
  executor.for_each(chunks, [&](std::size_t i) {
    if (!go_on.load()) return;
    const std::size_t first = i * chunk, last = std::min(count, first + chunk);
    work(first, last);
    const std::size_t finished = done.fetch_add(last - first) + (last - first);
    if (progress != nullptr && !progress->report(finished, count)) go_on.store(false);
  });
  return go_on.load();
}

}  // namespace pappus
