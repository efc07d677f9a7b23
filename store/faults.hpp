/// The one place where what SQLite throws becomes an Issue.
#pragma once
#include <exception>
#include <string>
#include <utility>

#include <SQLiteCpp/Exception.h>

#include "core/base/issue.hpp"

namespace pappus::store {

/// An Issue of this module about the file `path`.
[[nodiscard]] tl::unexpected<Issue> fault(Errc code, Sentence sentence, const std::string& path);
[[nodiscard]] tl::unexpected<Issue> damaged(const std::string& path, std::string detail);
[[nodiscard]] tl::unexpected<Issue> failed(const std::string& path, std::string detail);
[[nodiscard]] tl::unexpected<Issue> read_only(const std::string& path);
[[nodiscard]] tl::unexpected<Issue> busy(const std::string& path);
[[nodiscard]] tl::unexpected<Issue> not_one(const std::string& path);

/// `system_error` is what the system said last to this connection (errno), 0 where it is not known.
[[nodiscard]] tl::unexpected<Issue> fault_of(const SQLite::Exception& thrown, int system_error,
                                             const std::string& path);

/// The Result of `work`, whatever it throws. `system_error()` is asked where SQLite threw.
template <class Work, class SystemError>
auto guarded(const std::string& path, SystemError&& system_error, Work&& work) -> decltype(work()) {
  try {
    return work();
  } catch (const SQLite::Exception& thrown) {
    return fault_of(thrown, system_error(), path);
  } catch (const std::exception& thrown) {
    return failed(path, thrown.what());
  }
}

}  // namespace pappus::store
