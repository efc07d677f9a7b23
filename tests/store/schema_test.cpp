#include "store/schema.hpp"

#include <string>
#include <string_view>
#include <vector>

#include <SQLiteCpp/SQLiteCpp.h>
#include <gtest/gtest.h>

namespace pappus::store {
namespace {

const int kMemory = SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE | SQLite::OPEN_MEMORY;

std::int64_t number(SQLite::Database& database, const char* query) { return database.execAndGet(query).getInt64(); }

TEST(Schema, AnEmptyFileBecomesABook) {
  SQLite::Database database{":memory:", kMemory};
  migrate(database, schemas());
  EXPECT_EQ(number(database, "PRAGMA application_id"), kApplicationId);
  EXPECT_EQ(number(database, "PRAGMA user_version"), 1);
  EXPECT_TRUE(database.tableExists("event"));
  EXPECT_TRUE(database.tableExists("person"));
  EXPECT_EQ(number(database,
                   "SELECT count(*) FROM pragma_table_list WHERE schema = 'main' AND strict AND type = 'table'"
                   " AND name IN ('event', 'person')"),
            2);
}

TEST(Schema, OnlyWhatIsMissingIsDone) {
  SQLite::Database database{":memory:", kMemory};
  const std::vector<std::string_view> one = {"CREATE TABLE a (x); INSERT INTO a VALUES (1);"};
  const std::vector<std::string_view> two = {one[0], "CREATE TABLE b AS SELECT x + 1 AS y FROM a;"};
  migrate(database, one);
  migrate(database, one);
  EXPECT_EQ(number(database, "SELECT count(*) FROM a"), 1);
  migrate(database, two);
  migrate(database, two);
  EXPECT_EQ(number(database, "PRAGMA user_version"), 2);
  EXPECT_EQ(number(database, "SELECT y FROM b"), 2);
}

TEST(Schema, AStepThatFailsLeavesWhatWas) {
  SQLite::Database database{":memory:", kMemory};
  const std::vector<std::string_view> good = {"CREATE TABLE a (x);"};
  const std::vector<std::string_view> bad = {good[0], "CREATE TABLE b (x);", "INSERT INTO nowhere VALUES (1);"};
  EXPECT_THROW(migrate(database, bad), SQLite::Exception);
  EXPECT_EQ(number(database, "SELECT count(*) FROM sqlite_schema"), 0);
  EXPECT_EQ(number(database, "PRAGMA application_id"), 0);
  migrate(database, good);
  EXPECT_THROW(migrate(database, bad), SQLite::Exception);
  EXPECT_EQ(number(database, "PRAGMA user_version"), 1);
  EXPECT_FALSE(database.tableExists("b"));
}

TEST(Schema, ALaterVersionIsLeftAsItIs) {
  SQLite::Database database{":memory:", kMemory};
  database.exec("PRAGMA user_version = 99");
  migrate(database, schemas());
  EXPECT_EQ(number(database, "PRAGMA user_version"), 99);
  EXPECT_FALSE(database.tableExists("event"));
}

// The schema itself keeps out what the module would not write: another program may have the file open.
TEST(Schema, RefusesWhatIsNoEvent) {
  SQLite::Database database{":memory:", kMemory};
  migrate(database, schemas());
  database.exec("PRAGMA foreign_keys = ON");
  const auto add = [&](const std::string& row) {
    return database.tryExec(
               "INSERT INTO event (number, recorded_ms, happened_ms, author, kind, subject, body, corrects, chain)"
               " VALUES (" +
               row + ")") == 0;
  };
  ASSERT_TRUE(add("1, 0, 0, 'a', 'fill', 's', '{}', NULL, zeroblob(32)"));
  ASSERT_TRUE(add("2, 0, 0, 'a', 'fill', 's', '{\"x\":[1]}', 1, zeroblob(32)"));
  const std::vector<std::string> refused = {
      "4, 0, 0, 'a', 'fill', 's', '{}', NULL, zeroblob(32)",     // a gap
      "2, 0, 0, 'a', 'fill', 's', '{}', NULL, zeroblob(32)",     // twice
      "3, 'x', 0, 'a', 'fill', 's', '{}', NULL, zeroblob(32)",   // no number
      "3, 0, NULL, 'a', 'fill', 's', '{}', NULL, zeroblob(32)",  // nothing
      "3, 0, 0, '', 'fill', 's', '{}', NULL, zeroblob(32)",      // nobody
      "3, 0, 0, 'a', 'Fill', 's', '{}', NULL, zeroblob(32)",     // capital letter
      "3, 0, 0, 'a', 'fill', '', '{}', NULL, zeroblob(32)",      // nothing
      "3, 0, 0, 'a', 'fill', 's', '[]', NULL, zeroblob(32)",     // no object
      "3, 0, 0, 'a', 'fill', 's', '{', NULL, zeroblob(32)",      // no JSON
      "3, 0, 0, 'a', 'fill', 's', '{}', 3, zeroblob(32)",        // itself
      "3, 0, 0, 'a', 'fill', 's', '{}', 9, zeroblob(32)",        // not there
      "3, 0, 0, 'a', 'fill', 't', '{}', 1, zeroblob(32)",        // another subject
      "3, 0, 0, 'a', 'fill', 's', '{}', NULL, zeroblob(31)",     // too short
      "3, 0, 0, 'a', 'fill', 's', '{}', NULL, NULL",             // no chain
  };
  for (const std::string& row : refused) EXPECT_FALSE(add(row)) << row;
  EXPECT_TRUE(add("3, 0, 0, 'a', 'fill', 's', '{}', NULL, zeroblob(32)"));
}

TEST(Schema, NothingIsChangedOrRemoved) {
  SQLite::Database database{":memory:", kMemory};
  migrate(database, schemas());
  for (const char* const recursive : {"PRAGMA recursive_triggers = OFF", "PRAGMA recursive_triggers = ON"}) {
    database.exec(recursive);
    const auto next = std::to_string(number(database, "SELECT count(*) + 1 FROM event"));
    database.exec("INSERT INTO event VALUES (" + next + ", 0, 0, 'a', 'fill', 's', '{}', NULL, zeroblob(32))");
    for (const char* const attempt :
         {"UPDATE event SET body = '{\"x\":1}'", "UPDATE event SET number = number + 1", "DELETE FROM event",
          "UPDATE OR REPLACE event SET number = 1",
          "INSERT OR REPLACE INTO event VALUES (1, 0, 0, 'b', 'fill', 's', '{}', NULL, zeroblob(32))",
          "REPLACE INTO event VALUES (1, 0, 0, 'b', 'fill', 's', '{}', NULL, zeroblob(32))",
          "INSERT INTO event VALUES (1, 0, 0, 'b', 'fill', 's', '{}', NULL, zeroblob(32)) ON CONFLICT (number) DO "
          "UPDATE SET author = 'b'"}) {
      EXPECT_NE(database.tryExec(attempt), 0) << attempt;
    }
  }
  EXPECT_EQ(number(database, "SELECT count(*) FROM event WHERE author = 'a' AND body = '{}'"), 2);
}

}  // namespace
}  // namespace pappus::store
