/// What makes an SQLite file a book: an application id of our own, and the number of its schema.
#pragma once
#include <cstdint>
#include <span>
#include <string_view>

namespace SQLite {
class Database;
}

namespace pappus::store {

/// PRAGMA application_id: "papb".
inline constexpr std::int64_t kApplicationId = 0x70617062;

/// The files of store/schema in the order of their numbers, the first of which is 1.
[[nodiscard]] std::span<const std::string_view> schemas();

/// Brings an empty file or a book of an earlier version to the last of `steps`, in one transaction: all of them or
/// none. PRAGMA user_version is then their number. Does nothing where it is that already, and leaves a later one as it
/// is. Throws SQLite::Exception.
void migrate(SQLite::Database& database, std::span<const std::string_view> steps);

}  // namespace pappus::store
