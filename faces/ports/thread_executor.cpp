#include "faces/ports/thread_executor.hpp"

#include <algorithm>
#include <atomic>
#include <system_error>
#include <thread>
#include <vector>

namespace pappus::ports {

ThreadExecutor::ThreadExecutor(std::size_t threads)
    : threads_{std::max<std::size_t>(1, threads != 0 ? threads : std::thread::hardware_concurrency())} {}

void ThreadExecutor::for_each(std::size_t count, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next{0};
  const auto take_items = [&] {
    for (std::size_t i = next.fetch_add(1); i < count; i = next.fetch_add(1)) work(i);
  };
  std::vector<std::thread> helpers;
  const std::size_t wanted = std::min(threads_, count);
  helpers.reserve(wanted);
  try {
    while (helpers.size() + 1 < wanted) helpers.emplace_back(take_items);
  } catch (const std::system_error&) {
    // Out of threads. Nothing is lost: the items are taken by whoever is there.
  }
  take_items();
  for (std::thread& helper : helpers) helper.join();
}

}  // namespace pappus::ports
