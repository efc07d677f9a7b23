#include "store/sqlite_stores.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <span>
#include <string_view>
#include <system_error>
#include <thread>
#include <utility>
#include <vector>

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/SQLiteCpp.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include "store/chain.hpp"
#include "store/faults.hpp"
#include "store/schema.hpp"
#include "store/usable.hpp"

namespace pappus::store {
namespace {

namespace fs = std::filesystem;
using desk::ChainCheck;
using desk::Event;
using desk::EventsWanted;
using desk::NewEvent;
using desk::Person;

constexpr auto kPause = std::chrono::milliseconds{20};  // between two tries

int milliseconds(Duration d) { return static_cast<int>(std::clamp(d.in(second), 0.0, 1e6) * 1000.0); }

bool may(const fs::path& path, int mode) { return ::faccessat(AT_FDCWD, path.c_str(), mode, AT_EACCESS) == 0; }

bool has_bytes(const fs::path& path) {
  std::error_code absent;
  const auto size = fs::file_size(path, absent);
  return !absent && size > 0;
}

// Runs `attempt` until it is not busy any more or `wait_ms` are over; false then.
template <class F>
bool before_long(int wait_ms, F attempt) {
  const auto end = std::chrono::steady_clock::now() + std::chrono::milliseconds{wait_ms};
  while (!attempt()) {
    if (std::chrono::steady_clock::now() >= end) return false;
    std::this_thread::sleep_for(kPause);
  }
  return true;
}

// "ok", or what is wrong.
std::string integrity(SQLite::Database& database) {
  return database.execAndGet("PRAGMA integrity_check(1)").getString();
}

void configure(SQLite::Database& database, const SqliteSettings& settings) {
  database.exec("PRAGMA foreign_keys = ON");
  database.exec("PRAGMA synchronous = FULL");
  // What is deleted is overwritten, and no name goes into a temporary file.
  database.exec("PRAGMA secure_delete = ON");
  database.exec("PRAGMA temp_store = MEMORY");
  if (settings.most_pages) database.exec("PRAGMA max_page_count = " + std::to_string(*settings.most_pages));
}

// All changes are in the main file and BOOK-wal is empty afterwards; false where another program stands in the way.
bool settle(SQLite::Database& database) { return database.execAndGet("PRAGMA wal_checkpoint(TRUNCATE)").getInt() == 0; }

std::string text_of(const SQLite::Column& column) { return column.getString(); }

Event event_of(SQLite::Statement& row) {
  Event out;
  out.number = row.getColumn(0).getInt64();
  out.recorded = Instant::from_unix_milliseconds(row.getColumn(1).getInt64());
  out.what.happened = Instant::from_unix_milliseconds(row.getColumn(2).getInt64());
  out.what.author = text_of(row.getColumn(3));
  out.what.kind = text_of(row.getColumn(4));
  out.what.subject = text_of(row.getColumn(5));
  out.what.body = text_of(row.getColumn(6));
  if (!row.getColumn(7).isNull()) out.what.corrects = row.getColumn(7).getInt64();
  return out;
}

constexpr std::string_view kColumns = "number, recorded_ms, happened_ms, author, kind, subject, body, corrects, chain";

// A value of another length, which the schema does not let in, comes out as one that follows from nothing.
std::optional<ChainValue> chain_of(const SQLite::Column& column) {
  ChainValue out{};
  if (column.getBytes() != static_cast<int>(out.size())) return std::nullopt;
  std::memcpy(out.data(), column.getBlob(), out.size());
  return out;
}

class SqliteStore final : public desk::Store {
 public:
  SqliteStore(std::string path, SqliteSettings settings, bool is_read_only, std::unique_ptr<SQLite::Database> database)
      : path_{std::move(path)}, settings_{settings}, is_read_only_{is_read_only}, database_{std::move(database)} {}

  Result<Event> append(const NewEvent& event, Instant recorded) override {
    return working([&] { return append_now(event, recorded); });
  }
  Result<std::vector<Event>> events(const EventsWanted& wanted) override {
    return working([&] { return events_now(wanted); });
  }
  Result<ChainCheck> verify() override {
    return working([&] { return verify_now(); });
  }
  Result<void> backup(const std::string& path) override {
    return guarded(path, [&] { return backup_now(path); });
  }
  Result<void> remember(const Person& person) override {
    return working([&] { return remember_now(person); });
  }
  Result<std::vector<Person>> people() override {
    return working([&]() -> Result<std::vector<Person>> { return people_now(); });
  }
  Result<void> forget(const std::string& id) override {
    return working([&] { return forget_now(id); });
  }

 private:
  template <class Work>
  auto working(Work&& work) -> decltype(work()) {
    return guarded(path_, std::forward<Work>(work));
  }

  Result<Event> append_now(const NewEvent& event, Instant recorded) {
    if (is_read_only_) return read_only(path_);
    if (auto usable = check_usable(event); !usable) return tl::unexpected{std::move(usable.error())};
    SQLite::Statement is_object{*database_, "SELECT CASE WHEN json_valid(?1) THEN json_type(?1) = 'object' ELSE 0 END"};
    is_object.bind(1, event.body);
    if (!is_object.executeStep() || is_object.getColumn(0).getInt() != 1) return refuse_body(event.body);
    is_object.reset();

    SQLite::Transaction transaction{*database_, SQLite::TransactionBehavior::IMMEDIATE};
    Event out;
    out.recorded = recorded;
    out.what = event;
    ChainValue previous{};
    {
      SQLite::Statement last{*database_, "SELECT number, chain FROM event ORDER BY number DESC LIMIT 1"};
      if (last.executeStep()) {
        out.number = last.getColumn(0).getInt64();
        const auto there = chain_of(last.getColumn(1));
        if (!there) return damaged(path_, "event " + std::to_string(out.number) + ": chain");
        previous = *there;
      }
    }
    ++out.number;
    if (event.corrects) {
      SQLite::Statement named{*database_, "SELECT 1 FROM event WHERE number = ?1 AND subject = ?2"};
      named.bind(1, *event.corrects);
      named.bind(2, event.subject);
      if (!named.executeStep())
        return fault(
            Errc::not_found,
            say("issue.event_not_there", {{"number", std::to_string(*event.corrects)}, {"subject", event.subject}}),
            path_);
    }
    const ChainValue chain = chain_value(previous, out.number, recorded, event);
    out.chain = hexadecimal(chain);
    {
      SQLite::Statement insert{
          *database_, "INSERT INTO event (" + std::string{kColumns} + ") VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)"};
      insert.bind(1, out.number);
      insert.bind(2, recorded.unix_milliseconds());
      insert.bind(3, event.happened.unix_milliseconds());
      insert.bind(4, event.author);
      insert.bind(5, event.kind);
      insert.bind(6, event.subject);
      insert.bind(7, event.body);
      if (event.corrects) insert.bind(8, *event.corrects);
      insert.bind(9, chain.data(), static_cast<int>(chain.size()));
      insert.exec();
    }
    transaction.commit();
    return out;
  }

  Result<std::vector<Event>> events_now(const EventsWanted& wanted) {
    std::string query = "SELECT " + std::string{kColumns} + " FROM event";
    if (wanted.subject) query += " WHERE subject = :subject";
    if (wanted.kind) query += wanted.subject ? " AND kind = :kind" : " WHERE kind = :kind";
    SQLite::Statement rows{*database_, query + " ORDER BY number"};
    if (wanted.subject) rows.bind(":subject", *wanted.subject);
    if (wanted.kind) rows.bind(":kind", *wanted.kind);
    std::vector<Event> out;
    while (rows.executeStep()) {
      out.push_back(event_of(rows));
      const auto chain = chain_of(rows.getColumn(8));
      if (!chain) return damaged(path_, "event " + std::to_string(out.back().number) + ": chain");
      out.back().chain = hexadecimal(*chain);
    }
    return out;
  }

  Result<ChainCheck> verify_now() {
    SQLite::Statement rows{*database_, "SELECT " + std::string{kColumns} + " FROM event ORDER BY number"};
    ChainCheck out;
    ChainValue previous{};
    while (rows.executeStep()) {
      ++out.events;
      const Event event = event_of(rows);
      const auto chain = chain_of(rows.getColumn(8));
      const bool follows = event.number == out.events && chain &&
                           *chain == chain_value(previous, event.number, event.recorded, event.what);
      if (!follows && !out.first_broken) out.first_broken = event.number;
      previous = chain.value_or(ChainValue{});
    }
    if (out.events > 0) out.last = hexadecimal(previous);
    return out;
  }

  Result<void> backup_now(const std::string& path) {
    const fs::path target = fs::absolute(path);
    const auto conflict = [&] { return fault(Errc::conflict, say("issue.store_conflict"), path); };
    std::error_code absent;
    if (fs::symlink_status(target, absent).type() != fs::file_type::not_found) return conflict();
    const std::string part = target.string() + "." + std::to_string(::getpid()) + ".part";
    // Whatever happens, nothing half-written stays. Not made by us: left alone.
    const int made = ::open(part.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666);
    if (made < 0) {
      if (errno == EROFS || errno == EACCES) return read_only(path);
      return failed(path, std::strerror(errno));
    }
    ::close(made);
    struct Removed {
      const std::string& part;
      ~Removed() {
        const int why = errno;  // of what failed, which is still to be told
        for (const char* suffix : {"", "-journal", "-wal", "-shm"}) ::unlink((part + suffix).c_str());
        errno = why;
      }
    };
    const Removed removed{part};
    {
      SQLite::Database copy{part, SQLite::OPEN_READWRITE};
      copy.exec("PRAGMA synchronous = FULL");
      SQLite::Backup copying{copy, *database_};
      int done = SQLITE_BUSY;
      const bool is_over = before_long(milliseconds(settings_.busy_wait), [&] {
        done = copying.executeStep();
        return done != SQLITE_BUSY && done != SQLITE_LOCKED;
      });
      if (!is_over) return busy(path_);
      if (done != SQLITE_DONE) return failed(path, sqlite3_errstr(done));
    }
    {
      // One file, without others beside it, and read back before it counts.
      SQLite::Database copy{part, SQLite::OPEN_READWRITE};
      copy.exec("PRAGMA synchronous = FULL");
      if (copy.execAndGet("PRAGMA journal_mode = DELETE").getString() != "delete")
        return failed(path, "PRAGMA journal_mode");
      if (const std::string found = integrity(copy); found != "ok") return damaged(path, found);
    }
    if (!is_flushed(part)) return failed(path, std::strerror(errno));
    if (::renameat2(AT_FDCWD, part.c_str(), AT_FDCWD, target.c_str(), RENAME_NOREPLACE) != 0) {
      // Not every file system knows it. A link refuses what is there just as well.
      const bool may_link = errno == EINVAL || errno == ENOSYS || errno == ENOTSUP;
      if (may_link) errno = ::link(part.c_str(), target.c_str()) == 0 ? 0 : errno;
      if (errno == EEXIST) return conflict();
      if (errno != 0) return failed(path, std::strerror(errno));
    }
    if (!is_flushed(target.parent_path())) {
      const int why = errno;
      ::unlink(target.c_str());
      return failed(path, std::strerror(why));
    }
    return {};
  }

  // A file, or the names in a folder.
  static bool is_flushed(const fs::path& path) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) return false;
    const bool is_done = ::fsync(file) == 0;
    const int why = errno;
    ::close(file);
    errno = why;
    return is_done;
  }

  Result<void> remember_now(const Person& person) {
    if (is_read_only_) return read_only(path_);
    if (auto usable = check_usable(person); !usable) return usable;
    insert({&person, 1});
    return {};
  }

  void insert(std::span<const Person> people) {
    SQLite::Statement statement{*database_,
                                "INSERT INTO person (id, name, contact) VALUES (?1, ?2, ?3) "
                                "ON CONFLICT (id) DO UPDATE SET name = excluded.name, contact = excluded.contact"};
    for (const Person& person : people) {
      statement.bind(1, person.id);
      statement.bind(2, person.name);
      statement.bind(3, person.contact);
      statement.exec();
      statement.reset();
    }
  }

  std::vector<Person> people_now() {
    SQLite::Statement rows{*database_, "SELECT id, name, contact FROM person ORDER BY id"};
    std::vector<Person> out;
    while (rows.executeStep())
      out.push_back({text_of(rows.getColumn(0)), text_of(rows.getColumn(1)), text_of(rows.getColumn(2))});
    return out;
  }

  Result<void> forget_now(const std::string& id) {
    if (is_read_only_) return read_only(path_);
    SQLite::Transaction transaction{*database_, SQLite::TransactionBehavior::IMMEDIATE};
    std::vector<Person> staying = people_now();
    const auto gone = std::find_if(staying.begin(), staying.end(), [&](const Person& p) { return p.id == id; });
    if (gone == staying.end()) return fault(Errc::not_found, say("issue.person_not_there", {{"id", id}}), path_);
    staying.erase(gone);
    // secure_delete overwrites the deleted row, but not copies of it that SQLite left when it moved rows from page to
    // page. Emptying the table overwrites all its pages.
    database_->exec("DELETE FROM person");
    insert(staying);
    transaction.commit();
    if (!settle(*database_)) return fault(Errc::machine_failed, say("issue.store_not_wiped", {{"id", id}}), path_);
    return {};
  }

  std::string path_;
  SqliteSettings settings_;
  bool is_read_only_;
  std::unique_ptr<SQLite::Database> database_;
};

// Refuses what is no book of ours; then, for writing, brings it to the last schema.
Result<void> take_up(SQLite::Database& database, const std::string& path, desk::Stores::Open how,
                     const SqliteSettings& settings) {
  const auto number = [&](const char* pragma) { return database.execAndGet(pragma).getInt64(); };
  const auto last = static_cast<std::int64_t>(schemas().size());
  const bool is_writing = how != desk::Stores::Open::read_only;
  if (number("PRAGMA page_count") == 0) {
    if (how != desk::Stores::Open::create) return not_one(path);
    // SQLite takes a file of one byte for an empty one and would write over it. Asked again after the bytes were seen:
    // they may be those of a book that another program is making.
    if (has_bytes(path) && number("PRAGMA page_count") == 0) return not_one(path);
    migrate(database, schemas());
  }
  if (number("PRAGMA application_id") != kApplicationId) return not_one(path);
  const std::int64_t version = number("PRAGMA user_version");
  if (version > last) return fault(Errc::bad_input, say("issue.book_newer"), path);
  if (version < 1) return damaged(path, "user_version " + std::to_string(version));
  if (const std::string found = integrity(database); found != "ok") return damaged(path, found);
  if (version < last) {
    if (!is_writing) return read_only(path);
    migrate(database, schemas());
  }
  if (!is_writing) {
    database.exec("PRAGMA query_only = ON");
    return {};
  }

  // SQLite does not wait by itself for this.
  std::string mode;
  const bool is_free = before_long(milliseconds(settings.busy_wait), [&] {
    SQLite::Statement change{database, "PRAGMA journal_mode = WAL"};
    const int done = change.tryExecuteStep();
    if (done == SQLITE_BUSY || done == SQLITE_LOCKED) return false;
    if (done != SQLITE_ROW) database.check(done);
    mode = change.getColumn(0).getString();
    return true;
  });
  if (!is_free) return busy(path);
  if (mode != "wal") return failed(path, "PRAGMA journal_mode: " + mode);
  // A name that was forgotten when the program was stopped may still stand in BOOK-wal. Where that can't be done now
  // (another program reads, the disk is full), it is left for the next time: the book is none the worse.
  database.setBusyTimeout(0);
  database.tryExec("PRAGMA wal_checkpoint(TRUNCATE)");
  database.setBusyTimeout(milliseconds(settings.busy_wait));
  return {};
}

// The path in a URI: everything that could mean something else is escaped.
std::string immutable_uri(const fs::path& path) {
  constexpr std::string_view digits = "0123456789ABCDEF";
  std::string out = "file:";
  for (const char c : path.string()) {
    const auto byte = static_cast<unsigned char>(c);
    const bool is_plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '/' ||
                          c == '.' || c == '-' || c == '_';
    if (is_plain) {
      out += c;
    } else {
      out += {'%', digits[byte >> 4], digits[byte & 0xF]};
    }
  }
  return out + "?immutable=1";
}

struct Opened {
  std::unique_ptr<SQLite::Database> database;
  Result<void> taken;
};

Opened open_file(const std::string& name, int flags, const std::string& path, desk::Stores::Open how,
                 const SqliteSettings& settings) {
  auto database = std::make_unique<SQLite::Database>(name, flags, milliseconds(settings.busy_wait));
  auto taken = guarded(path, [&] {
    configure(*database, settings);
    return take_up(*database, path, how, settings);
  });
  return {std::move(database), std::move(taken)};
}

// To read, as far as the rights go that this account has to the file and to its folder.
Opened open_to_read(const fs::path& file, bool may_write_file, const std::string& path,
                    const SqliteSettings& settings) {
  constexpr auto how = desk::Stores::Open::read_only;
  const bool may_put_beside = may(file.parent_path(), W_OK);
  // With all rights SQLite also takes away again what it has put beside the book; take_up() sees to it that nothing is
  // changed.
  if (may_put_beside) {
    const int flags = may_write_file ? SQLite::OPEN_READWRITE : SQLite::OPEN_READONLY;
    return open_file(file.string(), flags, path, how, settings);
  }
  const std::array<fs::path, 2> others = {file.string() + "-wal", file.string() + "-journal"};
  if (std::any_of(others.begin(), others.end(), [](const fs::path& other) { return fs::exists(other); })) {
    // SQLite can use what is there already, if nothing is missing.
    Opened opened = open_file(file.string(), SQLite::OPEN_READONLY, path, how, settings);
    const auto is = [&](std::string_view key) { return opened.taken.error().sentence.key == key; };
    if (opened.taken || (!is("issue.store_read_only") && !is("issue.store_failed"))) return opened;
    if (std::any_of(others.begin(), others.end(), has_bytes))
      return {nullptr, fault(Errc::machine_failed, say("issue.book_unsettled"), path)};
  }
  // It would put files beside a book in WAL mode even to read it. Here the book itself is all there is to be read.
  return open_file(immutable_uri(file), SQLite::OPEN_READONLY | SQLite::OPEN_URI, path, how, settings);
}

Result<std::unique_ptr<desk::Store>> open_book(const std::string& path, desk::Stores::Open how,
                                               const SqliteSettings& settings) {
  using Open = desk::Stores::Open;
  const auto not_there = [&] { return fault(Errc::not_found, say("issue.book_not_there"), path); };
  if (path.empty()) return not_there();
  // Absolute, so that no name is special to SQLite (":memory:"), and links followed, as BOOK-wal is beside the file
  // itself.
  const fs::path file = fs::weakly_canonical(fs::absolute(path));
  const auto kind = fs::status(file).type();
  if (kind == fs::file_type::not_found) {
    if (how != Open::create) return not_there();
    if (!fs::is_directory(file.parent_path())) return failed(path, std::strerror(ENOENT));
    if (!may(file.parent_path(), W_OK)) return read_only(path);
  } else {
    if (kind != fs::file_type::regular) return not_one(path);
    if (!may(file, R_OK)) return failed(path, std::strerror(EACCES));
    if (how != Open::read_only && !(may(file, W_OK) && may(file.parent_path(), W_OK))) return read_only(path);
  }

  const int flags = SQLite::OPEN_READWRITE | (how == Open::create ? SQLite::OPEN_CREATE : 0);
  Opened opened = how == Open::read_only ? open_to_read(file, may(file, W_OK), path, settings)
                                         : open_file(file.string(), flags, path, how, settings);
  if (!opened.taken) return tl::unexpected{std::move(opened.taken.error())};
  return std::make_unique<SqliteStore>(path, settings, how == Open::read_only, std::move(opened.database));
}

}  // namespace

Result<std::unique_ptr<desk::Store>> SqliteStores::open(const std::string& path, Open how) const {
  return guarded(path, [&] { return open_book(path, how, settings_); });
}

}  // namespace pappus::store
