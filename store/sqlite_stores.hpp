/// The book as one SQLite file (desk/store.hpp says what is promised; this says by what means).
///
/// Beside the book stand, while it is open and after a crash, `BOOK-wal` and `BOOK-shm`: they belong to it. To take a
/// book along, use Store::backup, whose copy needs neither. Several programs may have one book open; whoever writes
/// waits for the other. An event is on the disk (fsync) before append returns.
///
/// What a forgotten person said of themselves is overwritten in the book and in `BOOK-wal`. It stays in backups that
/// were made before, and in whatever the disk itself keeps of old blocks.
#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <string>

#include "core/base/quantity.hpp"
#include "desk/store.hpp"

namespace pappus::store {

struct SqliteSettings {
  Duration busy_wait = 5.0 * second;                      // for another program that is writing; then it is busy
  std::optional<std::int64_t> most_pages = std::nullopt;  // of 4 KiB each; none: what the disk holds
};

/// A Store from here is for one thread at a time; each thread may open its own.
/// Errors    besides those of the port, whatever the system says as Errc::machine_failed "issue.store_failed". Nothing
///           is thrown. After "issue.store_failed" from append (the disk itself gave an error) the event may still turn
///           up when the book is opened next: look before it is written once more.
class SqliteStores final : public desk::Stores {
 public:
  explicit SqliteStores(SqliteSettings settings = {}) : settings_{settings} {}
  [[nodiscard]] Result<std::unique_ptr<desk::Store>> open(const std::string& path, Open how) const override;

 private:
  SqliteSettings settings_;
};

}  // namespace pappus::store
