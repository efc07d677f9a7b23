#include "store/schema.hpp"

#include <cstddef>
#include <string>

#include <SQLiteCpp/SQLiteCpp.h>

#include "store_schemas.hpp"

namespace pappus::store {

std::span<const std::string_view> schemas() {
  // Made when first asked for: the texts are objects of another file.
  static const std::string_view all[] = {
#include "schema_list.inc"
  };
  return all;
}

void migrate(SQLite::Database& database, std::span<const std::string_view> steps) {
  // Whoever waits here for another program finds the work done.
  SQLite::Transaction transaction{database, SQLite::TransactionBehavior::IMMEDIATE};
  const std::int64_t found = database.execAndGet("PRAGMA user_version").getInt64();
  if (found < 0 || static_cast<std::size_t>(found) >= steps.size()) return;
  for (const std::string_view step : steps.subspan(static_cast<std::size_t>(found))) database.exec(std::string{step});
  database.exec("PRAGMA application_id = " + std::to_string(kApplicationId));
  database.exec("PRAGMA user_version = " + std::to_string(steps.size()));
  transaction.commit();
}

}  // namespace pappus::store
