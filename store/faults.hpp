/// The one place where what SQLite throws becomes an Issue.
#pragma once
#include <cerrno>
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

/// `system_error` is what the system said last (errno), 0 where it said nothing.
[[nodiscard]] tl::unexpected<Issue> fault_of(const SQLite::Exception& thrown, int system_error,
                                             const std::string& path);

/// The Result of `work`, whatever it throws.
template <class Work>
auto guarded(const std::string& path, Work&& work) -> decltype(work()) {
  errno = 0;
  try {
    return work();
  } catch (const SQLite::Exception& thrown) {
    // sqlite3_system_errno() does not know of a commit that failed.
    return fault_of(thrown, errno, path);
  } catch (const std::exception& thrown) {
    return failed(path, thrown.what());
  }
}

}  // namespace pappus::store
