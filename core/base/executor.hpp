/// How core spreads work and tells how far it is, without knowing threads.
#pragma once
#include <cstddef>
#include <functional>

namespace pappus {

/// Told while long work runs; answers whether to go on.
class Progress {
 public:
  virtual ~Progress() = default;
  /// `done` of `total` items are finished. Return false to stop: the work then ends with Errc::cancelled. May be called
  /// from several threads at once.
  virtual bool report(std::size_t done, std::size_t total) = 0;
};

/// Runs independent items. What the items compute must not depend on which thread runs them or in which order.
class Executor {
 public:
  virtual ~Executor() = default;
  /// Calls work(i) once for every i in [0, count), and returns when all are done. `work` must not throw.
  virtual void for_each(std::size_t count, const std::function<void(std::size_t)>& work) = 0;
};

/// One item after the other, in order, on the caller's thread.
class SerialExecutor final : public Executor {
 public:
  void for_each(std::size_t count, const std::function<void(std::size_t)>& work) override {
    for (std::size_t i = 0; i < count; ++i) work(i);
  }
};

/// Runs `work` over [0, count) in chunks whose size does not depend on the executor. Returns false if `progress` asked
/// to stop; items not begun by then are not run.
bool run_chunked(Executor& executor, std::size_t count, std::size_t chunk, Progress* progress,
                 const std::function<void(std::size_t first, std::size_t last)>& work);

}  // namespace pappus
