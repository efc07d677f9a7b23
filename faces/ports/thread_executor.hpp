/// Core's Executor on the machine's threads.
#pragma once
#include <cstddef>
#include <functional>

#include "core/base/executor.hpp"

namespace pappus::ports {

/// Runs items on up to `threads` threads, the caller's among them. Threads live for one call: a call is expected to be
/// long against the 20 microseconds or so that starting one takes.
/// Laws      any number of threads gives the bytes of SerialExecutor, for work that keeps Executor's rule.
class ThreadExecutor final : public Executor {
 public:
  /// `threads` 0 asks the machine how many it can run at once; anything is at least one.
  explicit ThreadExecutor(std::size_t threads = 0);
  [[nodiscard]] std::size_t threads() const { return threads_; }

  /// As promised by Executor. Where the machine refuses a thread, those there are do its share. May be called from
  /// within `work`.
  void for_each(std::size_t count, const std::function<void(std::size_t)>& work) override;

 private:
  std::size_t threads_;
};

}  // namespace pappus::ports
