#include "store/sqlite_stores.hpp"

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <limits>
#include <map>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include <SQLiteCpp/SQLiteCpp.h>
#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "tests/support/seeded.hpp"

namespace pappus::store {
namespace {

namespace fs = std::filesystem;
using desk::ChainCheck;
using desk::Event;
using desk::NewEvent;
using desk::Person;
using desk::Store;
using Open = desk::Stores::Open;

// Root may do what the rights of a file forbid: for a while this is the account nobody.
class WithoutRights {
 public:
  WithoutRights() {
    if (::geteuid() == 0) is_other_ = ::seteuid(65534) == 0;
  }
  ~WithoutRights() {
    if (is_other_ && ::seteuid(0) != 0) std::abort();
  }
  WithoutRights(const WithoutRights&) = delete;
  WithoutRights& operator=(const WithoutRights&) = delete;

 private:
  bool is_other_ = false;
};

// No file grows beyond `bytes`.
class SmallFiles {
 public:
  explicit SmallFiles(rlim_t bytes) : handler_{std::signal(SIGXFSZ, SIG_IGN)} {
    ::getrlimit(RLIMIT_FSIZE, &before_);
    const rlimit small{bytes, before_.rlim_max};
    ::setrlimit(RLIMIT_FSIZE, &small);
  }
  ~SmallFiles() {
    ::setrlimit(RLIMIT_FSIZE, &before_);
    std::signal(SIGXFSZ, handler_);
  }
  SmallFiles(const SmallFiles&) = delete;
  SmallFiles& operator=(const SmallFiles&) = delete;

 private:
  rlimit before_{};
  void (*handler_)(int);
};

std::string bytes_of(const fs::path& path) {
  std::ifstream file{path, std::ios::binary};
  return {std::istreambuf_iterator<char>{file}, {}};
}

void write_bytes(const fs::path& path, const std::string& bytes) {
  std::ofstream{path, std::ios::binary | std::ios::trunc} << bytes;
}

NewEvent simple(std::string subject = "cylinder 1", std::string body = "{}") {
  NewEvent out;
  out.happened = Instant::from_unix_milliseconds(1'810'557'000'000);
  out.author = "p-1";
  out.kind = "fill";
  out.subject = std::move(subject);
  out.body = std::move(body);
  return out;
}

const Instant kRecorded = Instant::from_unix_milliseconds(1'810'560'600'000);

std::string random_word(Random& random, std::size_t longest) {
  static const std::vector<std::string> letters = {"a",  "b", "z", "_",        " ",           "'",
                                                   "\"", "-", "7", "\xC3\xB1", "\xE2\x82\xAC"};
  std::string out = "x";
  for (std::size_t n = random.below(longest); n > 0; --n) {
    const std::string& letter = letters[random.below(letters.size())];
    if (out.size() + letter.size() > longest) break;
    out += letter;
  }
  return out;
}

NewEvent random_event(Random& random, const std::vector<Event>& before) {
  NewEvent out;
  out.happened =
      Instant::from_unix_milliseconds(static_cast<std::int64_t>(random.below(4'000'000'000'000)) - 2'000'000'000'000);
  out.author = "p-" + std::to_string(random.below(4));
  out.kind = random.below(2) == 0 ? "fill" : "weigh_in";
  out.subject = random.below(4) == 0 ? random_word(random, 64) : "cylinder " + std::to_string(random.below(3));
  out.body = "{\"n\":" + std::to_string(random.bits()) + ",\"t\":\"" + std::string(random.below(200), 'y') + "\"}";
  if (random.below(40) == 0) out.body = "{\"long\":\"" + std::string(40'000 + random.below(25'000), 'z') + "\"}";
  if (!before.empty() && random.below(3) == 0) {
    const Event& wrong = before[random.below(before.size())];
    out.subject = wrong.what.subject;
    out.corrects = wrong.number;
  }
  return out;
}

std::string detail_of(const Issue& issue) {
  for (const Argument& argument : issue.sentence.arguments)
    if (argument.name == "detail" && std::holds_alternative<std::string>(argument.value))
      return std::get<std::string>(argument.value);
  return {};
}

template <class T>
void expect_issue(const Result<T>& result, Errc code, const std::string& key, const std::string& where = {}) {
  ASSERT_FALSE(result.has_value()) << "not refused: " << key;
  EXPECT_EQ(result.error().sentence.key, key) << detail_of(result.error());
  EXPECT_EQ(result.error().code, code) << key;
  if (!where.empty()) {
    EXPECT_EQ(result.error().where.file, where);
  }
}

// Each test has a folder of its own, which an account without rights may pass through and read.
class Book : public ::testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (fs::temp_directory_path() / "pappus-store-XXXXXX").string();
    ASSERT_NE(mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
    ::chmod(folder_.c_str(), 0755);
  }
  void TearDown() override {
    std::error_code ignored;
    for (const auto& entry : fs::recursive_directory_iterator{folder_, ignored})
      if (entry.is_directory(ignored)) ::chmod(entry.path().c_str(), 0755);
    fs::remove_all(folder_, ignored);
  }

  [[nodiscard]] std::string path(const std::string& name = "our.book") const { return (folder_ / name).string(); }
  std::unique_ptr<Store> open(const std::string& name = "our.book", Open how = Open::create) {
    auto opened = SqliteStores{settings_}.open(path(name), how);
    EXPECT_TRUE(opened.has_value()) << opened.error().sentence.key << " " << detail_of(opened.error());
    return opened ? std::move(*opened) : nullptr;
  }
  [[nodiscard]] auto refused(const std::string& name, Open how) const {
    return SqliteStores{settings_}.open(path(name), how);
  }
  static std::vector<Event> add(Store& store, int count, const std::string& subject = "cylinder 1") {
    std::vector<Event> out;
    for (int i = 0; i < count; ++i)
      out.push_back(store.append(simple(subject, "{\"i\":" + std::to_string(i) + "}"), kRecorded).value());
    return out;
  }
  static std::vector<Event> all(Store& store) { return store.events({}).value(); }
  static void expect_sound(Store& store, std::int64_t count) {
    const ChainCheck check = store.verify().value();
    EXPECT_EQ(check.events, count);
    EXPECT_EQ(check.first_broken, std::nullopt);
  }
  [[nodiscard]] std::vector<std::string> names(const std::string& below = ".") const {
    std::vector<std::string> out;
    for (const auto& entry : fs::directory_iterator{folder_ / below}) out.push_back(entry.path().filename().string());
    std::stable_sort(out.begin(), out.end());
    return out;
  }
  // As any other program would open it.
  [[nodiscard]] SQLite::Database plain(const std::string& name = "our.book") const {
    return SQLite::Database{path(name), SQLite::OPEN_READWRITE, 1000};
  }

  SqliteSettings settings_;
  fs::path folder_;
};

using Events = Book;
using Opening = Book;
using Tampering = Book;
// What an account without rights sees has to be reachable for it: a temporary folder below one that is shut to all but
// its owner is not.
class ReadOnly : public Book {
 protected:
  void SetUp() override {
    Book::SetUp();
    bool is_reachable = false;
    {
      const WithoutRights nobody;
      is_reachable = ::faccessat(AT_FDCWD, folder_.c_str(), X_OK, AT_EACCESS) == 0;
    }
    if (!is_reachable) GTEST_SKIP() << folder_ << " is below a folder that others may not enter";
  }
};
using Full = Book;
using Together = Book;
using Backup = Book;
using People = Book;

// --- Events

TEST_F(Events, ComeBackAsTheyWereWritten) {
  auto random = testing::seeded("Store.RoundTrip");
  auto store = open();
  std::vector<Event> written;
  for (int i = 0; i < 200; ++i) {
    const NewEvent event = random_event(random, written);
    const Instant recorded = kRecorded + static_cast<double>(i) * second;
    const auto added = store->append(event, recorded);
    ASSERT_TRUE(added.has_value()) << added.error().sentence.key;
    EXPECT_EQ(added->number, i + 1);
    EXPECT_EQ(added->recorded, recorded);
    EXPECT_EQ(added->what, event);
    EXPECT_EQ(added->chain.size(), 64u);
    written.push_back(*added);
  }
  EXPECT_EQ(all(*store), written);
  expect_sound(*store, 200);
  EXPECT_EQ(store->verify().value().last, written.back().chain);
  store.reset();
  EXPECT_EQ(names(), std::vector<std::string>{"our.book"});  // nothing is left beside it
  store = open("our.book", Open::existing);
  EXPECT_EQ(all(*store), written);

  // What is asked for is what a look through all of them finds.
  std::set<std::string> subjects = {"nobody's"};
  for (const Event& event : written) subjects.insert(event.what.subject);
  for (const std::string& subject : subjects) {
    for (const std::optional<std::string>& kind :
         {std::optional<std::string>{}, std::optional<std::string>{"fill"}, std::optional<std::string>{"never"}}) {
      std::vector<Event> wanted;
      for (const Event& event : written)
        if (event.what.subject == subject && (!kind || event.what.kind == *kind)) wanted.push_back(event);
      EXPECT_EQ(store->events({.subject = subject, .kind = kind}).value(), wanted) << subject;
    }
  }
  std::vector<Event> fills;
  for (const Event& event : written)
    if (event.what.kind == "fill") fills.push_back(event);
  EXPECT_EQ(store->events({.kind = "fill"}).value(), fills);
}

TEST_F(Events, KeepTheEndsOfTheirDomain) {
  using Limits = std::numeric_limits<std::int64_t>;
  auto store = open();
  for (const std::int64_t ms : {Limits::min(), std::int64_t{-1}, std::int64_t{0}, Limits::max()}) {
    NewEvent event = simple(std::string(64, 's'), "{" + std::string((64u << 10) - 2, '\n') + "}");
    event.happened = Instant::from_unix_milliseconds(ms);
    const auto added = store->append(event, Instant::from_unix_milliseconds(ms));
    ASSERT_TRUE(added.has_value());
    EXPECT_EQ(all(*store).back(), *added);
  }
  expect_sound(*store, 4);
}

TEST_F(Events, OutsideTheirDomainAreRefusedAndNothingIsAdded) {
  auto store = open();
  add(*store, 1);
  const std::vector<std::pair<std::string, std::function<void(NewEvent&)>>> cases = {
      {"author", [](NewEvent& e) { e.author = ""; }},
      {"author", [](NewEvent& e) { e.author = "a\nb"; }},
      {"kind", [](NewEvent& e) { e.kind = "Fill"; }},
      {"subject", [](NewEvent& e) { e.subject = std::string(65, 's'); }},
      {"subject", [](NewEvent& e) { e.subject = "\xFF"; }},
      {"body", [](NewEvent& e) { e.body = ""; }},
      {"body", [](NewEvent& e) { e.body = "null"; }},
      {"body", [](NewEvent& e) { e.body = "[1]"; }},
      {"body", [](NewEvent& e) { e.body = "\"{}\""; }},
      {"body", [](NewEvent& e) { e.body = "{} {}"; }},
      {"body", [](NewEvent& e) { e.body = "{\"a\":1"; }},
      {"body", [](NewEvent& e) { e.body = "{'a':1}"; }},
      {"body", [](NewEvent& e) { e.body = "{\"a\":\"\n\"}"; }},
      {"body", [](NewEvent& e) { e.body = std::string("{}\0", 3); }},
      {"body", [](NewEvent& e) { e.body = "{" + std::string(64u << 10, ' ') + "}"; }},
      {"body", [](NewEvent& e) { e.body = "{\"a\":" + std::string(30'000, '[') + std::string(30'000, ']') + "}"; }},
  };
  for (const auto& [field, change] : cases) {
    NewEvent event = simple();
    change(event);
    const auto added = store->append(event, kRecorded);
    expect_issue(added, Errc::bad_input, "issue.event_unusable");
    EXPECT_EQ(added.error().sentence.arguments, (std::vector<Argument>{{"field", field}})) << event.body.substr(0, 20);
  }
  EXPECT_EQ(all(*store).size(), 1u);
  EXPECT_EQ(add(*store, 1)[0].number, 2);  // a refusal leaves no gap
}

TEST_F(Events, CorrectOnlyAnEventOfTheSameSubject) {
  auto store = open();
  add(*store, 1, "cylinder 1");
  add(*store, 1, "cylinder 2");
  NewEvent right = simple("cylinder 1");
  right.corrects = 1;
  EXPECT_EQ(store->append(right, kRecorded).value().what.corrects, 1);
  right.corrects = 3;  // a correction can be corrected
  EXPECT_TRUE(store->append(right, kRecorded).has_value());
  for (const std::int64_t number : {std::int64_t{2}, std::int64_t{5}, std::int64_t{6}, std::int64_t{0},
                                    std::int64_t{-1}, std::numeric_limits<std::int64_t>::max()}) {
    right.corrects = number;
    expect_issue(store->append(right, kRecorded), Errc::not_found, "issue.event_not_there");
  }
  EXPECT_EQ(all(*store).size(), 4u);
  expect_sound(*store, 4);
}

// --- The chain

struct Change {
  std::string what, statement;
  std::optional<std::int64_t> broken;  // none: the chain alone can't tell
};

TEST_F(Tampering, FindsEveryChange) {
  {
    auto store = open();
    add(*store, 2);
    NewEvent third = simple("cylinder 1", "{\"litres\":56}");
    third.corrects = 2;
    ASSERT_TRUE(store->append(third, kRecorded).has_value());
    add(*store, 3);
  }
  const std::vector<Change> changes = {
      {"recorded", "UPDATE event SET recorded_ms = recorded_ms + 1 WHERE number = 3", 3},
      {"happened", "UPDATE event SET happened_ms = happened_ms - 1 WHERE number = 3", 3},
      {"author", "UPDATE event SET author = 'p-2' WHERE number = 3", 3},
      {"kind", "UPDATE event SET kind = 'filk' WHERE number = 3", 3},
      {"subject", "UPDATE event SET subject = 'cylinder 2' WHERE number = 3", 3},
      {"body", "UPDATE event SET body = replace(body, '56', '57') WHERE number = 3", 3},
      {"a space", "UPDATE event SET body = body || ' ' WHERE number = 3", 3},
      {"corrects", "UPDATE event SET corrects = 1 WHERE number = 3", 3},
      {"corrects none", "UPDATE event SET corrects = NULL WHERE number = 3", 3},
      {"corrects one", "UPDATE event SET corrects = 1 WHERE number = 4", 4},
      {"chain", "UPDATE event SET chain = zeroblob(32) WHERE number = 3", 3},
      {"no chain", "UPDATE event SET chain = x'' WHERE number = 3", 3},
      {"number", "UPDATE event SET number = 9 WHERE number = 3", 4},
      {"first number", "UPDATE event SET number = 0 WHERE number = 1", 0},
      {"last number", "UPDATE event SET number = 7 WHERE number = 6", 7},
      {"removed", "DELETE FROM event WHERE number = 3", 4},
      {"first removed", "DELETE FROM event WHERE number = 1", 2},
      {"closed up", "DELETE FROM event WHERE number = 3; UPDATE event SET number = number - 1 WHERE number > 3", 3},
      {"first", "UPDATE event SET author = 'p-2' WHERE number = 1", 1},
      {"last", "UPDATE event SET author = 'p-2' WHERE number = 6", 6},
      {"two changed places",
       "UPDATE event SET number = -4 WHERE number = 4; UPDATE event SET number = 4 WHERE number = 5;"
       "UPDATE event SET number = 5 WHERE number = -4",
       4},
      {"last removed", "DELETE FROM event WHERE number = 6", std::nullopt},
      {"nothing", "UPDATE event SET author = 'p-1'", std::nullopt},
  };
  std::string last;
  {
    auto store = open();
    last = store->verify().value().last;
  }
  for (const Change& change : changes) {
    SCOPED_TRACE(change.what);
    fs::copy_file(path(), path("changed.book"), fs::copy_options::overwrite_existing);
    {
      auto database = plain("changed.book");
      database.exec("PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON");
      database.exec("DROP TRIGGER event_is_never_changed; DROP TRIGGER event_is_never_removed");
      database.exec(change.statement);
      // Otherwise it is the check at opening that tells: "a damaged book".
      database.exec("PRAGMA writable_schema = ON");
      database.exec("UPDATE sqlite_schema SET sql = replace(sql, 'CHECK (length(chain) = 32)', '')");
      database.exec("UPDATE sqlite_schema SET sql = replace(sql, 'CHECK (number >= 1)', '')");
      database.exec("UPDATE sqlite_schema SET sql = replace(sql, 'CHECK (corrects < number)', '')");
    }
    auto store = open("changed.book");
    ASSERT_NE(store, nullptr);
    const auto check = store->verify();
    ASSERT_TRUE(check.has_value());
    EXPECT_EQ(check->first_broken, change.broken);
    // What the chain alone can't tell, its last value tells to whoever wrote it down.
    if (!change.broken) {
      EXPECT_EQ(check->last == last, change.what == "nothing");
    }
  }
}

// One bit anywhere in a field's bytes, as a failing disk would do it.
TEST_F(Tampering, FindsOneBit) {
  auto random = testing::seeded("Store.OneBit");
  {
    auto store = open();
    std::vector<Event> before;
    for (int i = 0; i < 20; ++i) before.push_back(store->append(random_event(random, before), kRecorded).value());
  }
  for (const char* const field : {"author", "kind", "subject", "body", "chain"}) {
    for (int i = 0; i < 6; ++i) {
      fs::copy_file(path(), path("changed.book"), fs::copy_options::overwrite_existing);
      const auto number = static_cast<std::int64_t>(random.below(20)) + 1;
      SCOPED_TRACE(std::string{field} + " of event " + std::to_string(number));
      {
        auto database = plain("changed.book");
        database.exec("PRAGMA foreign_keys = OFF; PRAGMA ignore_check_constraints = ON");
        database.exec("DROP TRIGGER event_is_never_changed");
        SQLite::Statement read{database,
                               "SELECT CAST(" + std::string{field} + " AS BLOB) FROM event WHERE number = ?1"};
        read.bind(1, number);
        ASSERT_TRUE(read.executeStep());
        std::string bytes{static_cast<const char*>(read.getColumn(0).getBlob()),
                          static_cast<std::size_t>(read.getColumn(0).getBytes())};
        read.reset();
        // The lowest bit: what comes out is a text of the same length, if not of the same sense.
        bytes[random.below(bytes.size())] ^= 1;
        SQLite::Statement change{database, "UPDATE event SET " + std::string{field} + " = CAST(?1 AS " +
                                               (std::string{field} == "chain" ? "BLOB" : "TEXT") +
                                               ") WHERE number = ?2"};
        change.bind(1, bytes.data(), static_cast<int>(bytes.size()));
        change.bind(2, number);
        ASSERT_EQ(change.exec(), 1);
        database.exec("PRAGMA writable_schema = ON");
        // The domains of the fields would tell first.
        database.exec(
            "UPDATE sqlite_schema SET sql = 'CREATE TABLE event (number INTEGER PRIMARY KEY, recorded_ms INTEGER,"
            " happened_ms INTEGER, author TEXT, kind TEXT, subject TEXT, body TEXT, corrects INTEGER,"
            " chain BLOB, UNIQUE (subject, number)) STRICT' WHERE name = 'event'");
      }
      auto store = open("changed.book");
      ASSERT_NE(store, nullptr);
      EXPECT_EQ(store->verify().value().first_broken, number);
    }
  }
}

TEST_F(Tampering, OfAnEmptyBookIsSound) {
  auto store = open();
  expect_sound(*store, 0);
  EXPECT_EQ(store->verify().value().last, "");
  EXPECT_TRUE(all(*store).empty());
}

// --- Opening

TEST_F(Opening, WhatIsNotThereIsNotMade) {
  expect_issue(refused("our.book", Open::existing), Errc::not_found, "issue.book_not_there", path());
  expect_issue(refused("our.book", Open::read_only), Errc::not_found, "issue.book_not_there", path());
  expect_issue(refused("none/our.book", Open::existing), Errc::not_found, "issue.book_not_there");
  expect_issue(refused("none/our.book", Open::create), Errc::machine_failed, "issue.store_failed");
  expect_issue(SqliteStores{}.open("", Open::create), Errc::not_found, "issue.book_not_there");
  EXPECT_TRUE(names().empty());
}

TEST_F(Opening, CreatesOnceAndThenOpens) {
  auto store = open();
  add(*store, 3);
  store.reset();
  store = open("our.book", Open::create);
  EXPECT_EQ(all(*store).size(), 3u);
  store.reset();
  // Cut off before anything was written.
  write_bytes(path("empty.book"), "");
  expect_issue(refused("empty.book", Open::existing), Errc::bad_input, "issue.book_not_one");
  expect_issue(refused("empty.book", Open::read_only), Errc::bad_input, "issue.book_not_one");
  expect_sound(*open("empty.book", Open::create), 0);
}

TEST_F(Opening, EveryNameIsAName) {
  const fs::path before = fs::current_path();
  fs::current_path(folder_);
  for (const char* const name : {":memory:", "file:x.book?mode=memory", "a b'c%20#d?e"}) {
    auto store = SqliteStores{}.open(name, Open::create);
    ASSERT_TRUE(store.has_value()) << name;
    add(**store, 1);
    store = SqliteStores{}.open(name, Open::read_only);
    ASSERT_TRUE(store.has_value()) << name;
    EXPECT_EQ(all(**store).size(), 1u) << name;
    EXPECT_TRUE(fs::exists(folder_ / name));
  }
  fs::current_path(before);
}

TEST_F(Opening, ALinkIsFollowed) {
  fs::create_directory(folder_ / "far");
  fs::create_symlink(folder_ / "far" / "real.book", path("link.book"));
  auto store = open("link.book", Open::create);
  add(*store, 1);
  EXPECT_EQ(names("far"), (std::vector<std::string>{"real.book", "real.book-shm", "real.book-wal"}));
}

TEST_F(Opening, AnotherFileIsRefusedAndLeftAsItIs) {
  write_bytes(path("text"), "Dear diary,\n" + std::string(9000, 'x'));
  for (const std::size_t size :
       {std::size_t{1}, std::size_t{99}, std::size_t{511}, std::size_t{512}, std::size_t{4096}})
    write_bytes(path("short " + std::to_string(size)), std::string(size, 'x'));
  {
    SQLite::Database other{path("other"), SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
    other.exec("CREATE TABLE event (x); INSERT INTO event VALUES (1); PRAGMA user_version = 1");
  }
  fs::create_directory(folder_ / "folder");
  for (const char* const name : {"text", "short 1", "short 99", "short 511", "short 512", "short 4096", "other"}) {
    const std::string before = bytes_of(path(name));
    for (const Open how : {Open::existing, Open::create, Open::read_only})
      expect_issue(refused(name, how), Errc::bad_input, "issue.book_not_one", path(name));
    EXPECT_TRUE(bytes_of(path(name)) == before) << name;
  }
  for (const Open how : {Open::existing, Open::create, Open::read_only})
    expect_issue(refused("folder", how), Errc::bad_input, "issue.book_not_one");
  EXPECT_EQ(names(), (std::vector<std::string>{"folder", "other", "short 1", "short 4096", "short 511", "short 512",
                                               "short 99", "text"}));
}

TEST_F(Opening, ANewerBookIsRefusedAndLeftAsItIs) {
  add(*open(), 1);
  plain().exec("PRAGMA user_version = 2");
  const std::string before = bytes_of(path());
  for (const Open how : {Open::existing, Open::create, Open::read_only})
    expect_issue(refused("our.book", how), Errc::bad_input, "issue.book_newer", path());
  EXPECT_TRUE(bytes_of(path()) == before);
  plain().exec("PRAGMA user_version = 0");
  expect_issue(refused("our.book", Open::existing), Errc::machine_failed, "issue.book_damaged");
}

TEST_F(Opening, ADamagedBookIsRefused) {
  add(*open(), 200);
  const std::string sound = bytes_of(path());
  ASSERT_GE(sound.size(), 8u * 4096);
  int damaged = 0;
  for (std::size_t page = 1; page < sound.size() / 4096; ++page) {
    std::string bytes = sound;
    bytes.replace(page * 4096, 4096, std::string(4096, '\x5A'));
    write_bytes(path(), bytes);
    const auto opened = refused("our.book", Open::existing);
    expect_issue(opened, Errc::machine_failed, "issue.book_damaged", path());
    if (!opened) {
      EXPECT_FALSE(detail_of(opened.error()).empty());
      ++damaged;
    }
    expect_issue(refused("our.book", Open::read_only), Errc::machine_failed, "issue.book_damaged", path());
  }
  EXPECT_GE(damaged, 7);
  write_bytes(path(), sound.substr(0, sound.size() / 2));
  expect_issue(refused("our.book", Open::existing), Errc::machine_failed, "issue.book_damaged");
  write_bytes(path(), sound);
  expect_sound(*open(), 200);
}

TEST_F(Opening, SetsWhatKeepsEventsSafe) {
  auto store = open();
  add(*store, 1);
  auto database = plain();
  EXPECT_EQ(database.execAndGet("PRAGMA journal_mode").getString(), "wal");
  EXPECT_EQ(SqliteSettings{}.busy_wait, 5.0 * second);
}

// --- Reading only

TEST_F(ReadOnly, ReadsAndAddsNothing) {
  std::vector<Event> written;
  {
    auto store = open();
    written = add(*store, 3);
    ASSERT_TRUE(store->remember({"p-1", "Odile", "odile@example.org"}));
  }
  const std::string before = bytes_of(path());
  auto store = open("our.book", Open::read_only);
  EXPECT_EQ(all(*store), written);
  expect_sound(*store, 3);
  expect_issue(store->append(simple(), kRecorded), Errc::machine_failed, "issue.store_read_only", path());
  expect_issue(store->remember({"p-2", "Tavi", ""}), Errc::machine_failed, "issue.store_read_only");
  expect_issue(store->forget("p-1"), Errc::machine_failed, "issue.store_read_only");
  EXPECT_EQ(store->people().value().size(), 1u);
  EXPECT_TRUE(store->backup(path("copy.book")));
  EXPECT_EQ(all(*open("copy.book")), written);
  store.reset();
  EXPECT_TRUE(bytes_of(path()) == before);
  EXPECT_EQ(names(), (std::vector<std::string>{"copy.book", "our.book"}));
}

TEST_F(ReadOnly, SeesWhatAnotherAddsMeanwhile) {
  auto writer = open();
  auto reader = open("our.book", Open::read_only);
  EXPECT_TRUE(all(*reader).empty());
  const auto written = add(*writer, 2);
  EXPECT_EQ(all(*reader), written);
}

TEST_F(ReadOnly, WorksOnAFileThatIsShutInAFolderThatIsNot) {
  fs::create_directory(folder_ / "open");
  const auto written = add(*open("open/our.book"), 2);
  ::chmod(path("open/our.book").c_str(), 0444);
  ::chmod((folder_ / "open").c_str(), 0777);
  const WithoutRights here;
  EXPECT_EQ(all(*open("open/our.book", Open::read_only)), written);
  expect_issue(refused("open/our.book", Open::existing), Errc::machine_failed, "issue.store_read_only");
}

TEST_F(ReadOnly, ADamagedBookIsToldAsSuchWithoutRightsToo) {
  fs::create_directory(folder_ / "shut");
  add(*open("shut/our.book"), 100);
  std::string bytes = bytes_of(path("shut/our.book"));
  bytes.replace(4096, 4096, std::string(4096, 'x'));
  write_bytes(path("shut/our.book"), bytes);
  ::chmod((folder_ / "shut").c_str(), 0555);
  const WithoutRights here;
  expect_issue(refused("shut/our.book", Open::read_only), Errc::machine_failed, "issue.book_damaged");
}

TEST_F(ReadOnly, WorksWhereNothingCanBeWritten) {
  fs::create_directory(folder_ / "shut % ?#");
  const std::string name = "shut % ?#/our.book";
  const auto written = add(*open(name), 3);
  ::chmod(path(name).c_str(), 0444);
  ::chmod((folder_ / "shut % ?#").c_str(), 0555);
  const WithoutRights here;
  auto store = open(name, Open::read_only);
  ASSERT_NE(store, nullptr);
  EXPECT_EQ(all(*store), written);
  expect_sound(*store, 3);
  expect_issue(store->append(simple(), kRecorded), Errc::machine_failed, "issue.store_read_only");
  expect_issue(store->backup(path("shut % ?#/copy.book")), Errc::machine_failed, "issue.store_read_only");
  expect_issue(refused(name, Open::existing), Errc::machine_failed, "issue.store_read_only", path(name));
  expect_issue(refused(name, Open::create), Errc::machine_failed, "issue.store_read_only");
  expect_issue(refused("shut % ?#/new.book", Open::create), Errc::machine_failed, "issue.store_read_only");
  EXPECT_EQ(names("shut % ?#"), std::vector<std::string>{"our.book"});
}

TEST_F(ReadOnly, AFileThatMayNotBeReadIsTold) {
  add(*open(), 1);
  ::chmod(path().c_str(), 0);
  const WithoutRights here;
  expect_issue(refused("our.book", Open::read_only), Errc::machine_failed, "issue.store_failed", path());
}

// What a stopped program left, in a place where it can't be put into order.
TEST_F(ReadOnly, NeverShowsLessThanWasWritten) {
  auto store = open();
  const auto written = add(*store, 3);
  fs::create_directory(folder_ / "shut");
  fs::create_directory(folder_ / "open");
  for (const char* const to : {"shut", "open"})
    for (const char* const suffix : {"", "-wal"})
      fs::copy_file(path() + suffix, folder_ / to / ("our.book" + std::string{suffix}));
  ::chmod((folder_ / "shut").c_str(), 0555);
  ::chmod((folder_ / "open").c_str(), 0777);
  for (const char* const suffix : {"", "-wal"}) ::chmod((path("open/our.book") + suffix).c_str(), 0666);
  const WithoutRights here;
  expect_issue(refused("shut/our.book", Open::read_only), Errc::machine_failed, "issue.book_unsettled",
               path("shut/our.book"));
  EXPECT_EQ(all(*open("open/our.book", Open::read_only)), written);
  // While the writer is there, all is to be seen.
  EXPECT_EQ(all(*open("our.book", Open::read_only)), written);
}

// --- No room

TEST_F(Full, ABookThatCannotGrowKeepsWhatItHas) {
  settings_.most_pages = 40;
  auto store = open();
  std::vector<Event> written;
  const auto event = [&] { return simple("cylinder 1", "{\"i\":\"" + std::string(1000, 'x') + "\"}"); };
  for (int i = 0; i < 1000; ++i) {
    const auto added = store->append(event(), kRecorded);
    if (!added) {
      expect_issue(added, Errc::machine_failed, "issue.store_full", path());
      break;
    }
    written.push_back(*added);
  }
  ASSERT_GT(written.size(), 20u);
  ASSERT_LT(written.size(), 200u);
  EXPECT_EQ(all(*store), written);
  expect_issue(store->append(event(), kRecorded), Errc::machine_failed, "issue.store_full");
  store.reset();
  settings_.most_pages = std::nullopt;
  store = open("our.book", Open::existing);
  EXPECT_EQ(all(*store), written);
  EXPECT_EQ(store->append(event(), kRecorded).value().number, static_cast<std::int64_t>(written.size()) + 1);
  expect_sound(*store, static_cast<std::int64_t>(written.size()) + 1);
}

TEST_F(Full, ASystemThatGivesNoMoreRoomIsTheSame) {
  std::vector<Event> written;
  {
    auto store = open();
    written = add(*store, 3);
    const SmallFiles here{200'000};
    for (int i = 0; i < 200; ++i) {
      const auto added = store->append(simple("s", "{\"i\":\"" + std::string(5000, 'x') + "\"}"), kRecorded);
      if (!added) {
        expect_issue(added, Errc::machine_failed, "issue.store_full", path());
        break;
      }
      written.push_back(*added);
    }
    ASSERT_GT(written.size(), 5u);
    ASSERT_LT(written.size(), 100u);
    EXPECT_EQ(all(*store), written);
    const SmallFiles smaller{50'000};
    expect_issue(store->backup(path("copy.book")), Errc::machine_failed, "issue.store_full");
    EXPECT_FALSE(fs::exists(path("copy.book")));
  }
  auto store = open("our.book", Open::existing);
  EXPECT_EQ(all(*store), written);
  expect_sound(*store, static_cast<std::int64_t>(written.size()));
  EXPECT_EQ(add(*store, 1)[0].number, static_cast<std::int64_t>(written.size()) + 1);
  store.reset();
  EXPECT_EQ(names(), std::vector<std::string>{"our.book"});
}

// --- Several at once

TEST_F(Together, AnotherWriterIsWaitedFor) {
  settings_.busy_wait = 0.15 * second;
  auto store = open();
  auto other = plain();
  other.exec("BEGIN IMMEDIATE");
  const auto began = std::chrono::steady_clock::now();
  expect_issue(store->append(simple(), kRecorded), Errc::machine_failed, "issue.store_busy", path());
  EXPECT_GE(std::chrono::steady_clock::now() - began, std::chrono::milliseconds{140});
  expect_issue(store->remember({"p-1", "Odile", ""}), Errc::machine_failed, "issue.store_busy");
  EXPECT_TRUE(all(*store).empty());  // reading waits for nobody
  other.exec("ROLLBACK");
  EXPECT_EQ(add(*store, 1)[0].number, 1);

  settings_.busy_wait = 5.0 * second;
  auto patient = open();
  other.exec("BEGIN IMMEDIATE");
  std::thread later{[&] {
    std::this_thread::sleep_for(std::chrono::milliseconds{100});
    other.exec("ROLLBACK");
  }};
  const auto added = patient->append(simple(), kRecorded);
  later.join();
  ASSERT_TRUE(added.has_value());
  EXPECT_EQ(added->number, 2);
}

TEST_F(Together, NumbersStayWithoutGaps) {
  const int writers = 4;
  const int each = 25;
  std::vector<std::thread> threads;
  std::vector<std::vector<Event>> written(writers);
  for (int w = 0; w < writers; ++w)
    threads.emplace_back([&, w] {
      auto store = SqliteStores{}.open(path(), Open::create);  // each may be the one that makes it
      for (int i = 0; store && i < each; ++i) {
        const auto added =
            (*store)->append(simple("w" + std::to_string(w), "{\"i\":" + std::to_string(i) + "}"), kRecorded);
        if (added) written[static_cast<std::size_t>(w)].push_back(*added);
      }
    });
  for (std::thread& thread : threads) thread.join();
  auto store = open("our.book", Open::existing);
  expect_sound(*store, std::int64_t{writers} * each);
  for (int w = 0; w < writers; ++w) {
    const auto& mine = written[static_cast<std::size_t>(w)];
    EXPECT_EQ(mine.size(), static_cast<std::size_t>(each));
    EXPECT_EQ(store->events({.subject = "w" + std::to_string(w)}).value(), mine);
  }
}

// --- Backup

TEST_F(Backup, IsTheWholeBookInOneFile) {
  auto random = testing::seeded("Store.Backup");
  auto store = open();
  std::vector<Event> written;
  for (int i = 0; i < 50; ++i) written.push_back(store->append(random_event(random, written), kRecorded).value());
  ASSERT_TRUE(store->remember({"p-1", "Odile", "by radio"}));
  fs::create_directory(folder_ / "stick");
  ASSERT_TRUE(store->backup(path("stick/copy.book")));
  EXPECT_EQ(names("stick"), std::vector<std::string>{"copy.book"});
  add(*store, 1);  // after it
  for (const Open how : {Open::read_only, Open::existing}) {
    auto copy = open("stick/copy.book", how);
    EXPECT_EQ(all(*copy), written);
    EXPECT_EQ(copy->people().value(), (std::vector<Person>{{"p-1", "Odile", "by radio"}}));
    expect_sound(*copy, 50);
    EXPECT_EQ(copy->verify().value().last, written.back().chain);
  }
}

TEST_F(Backup, NeverReplacesAnything) {
  auto store = open();
  add(*store, 1);
  write_bytes(path("letter"), "Dear");
  write_bytes(path("empty"), "");
  fs::create_directory(folder_ / "folder");
  fs::create_symlink("nowhere", path("link"));
  for (const char* const name : {"letter", "empty", "folder", "link", "our.book"})
    expect_issue(store->backup(path(name)), Errc::conflict, "issue.store_conflict", path(name));
  EXPECT_EQ(bytes_of(path("letter")), "Dear");
  EXPECT_EQ(bytes_of(path("empty")), "");
  EXPECT_EQ(fs::read_symlink(path("link")), "nowhere");
  EXPECT_EQ(names(), (std::vector<std::string>{"empty", "folder", "letter", "link", "our.book", "our.book-shm",
                                               "our.book-wal"}));
  expect_issue(store->backup(path("none/copy.book")), Errc::machine_failed, "issue.store_failed",
               path("none/copy.book"));
  expect_sound(*store, 1);
}

// --- People

TEST_F(People, AreRememberedReplacedAndForgotten) {
  auto store = open();
  EXPECT_TRUE(store->people().value().empty());
  ASSERT_TRUE(store->remember({"p-2", "Tavi", ""}));
  ASSERT_TRUE(store->remember({"p-1", "Odile", "by radio"}));
  ASSERT_TRUE(store->remember({"p-2", "Tavi of the valley", "by post"}));
  EXPECT_EQ(store->people().value(),
            (std::vector<Person>{{"p-1", "Odile", "by radio"}, {"p-2", "Tavi of the valley", "by post"}}));
  expect_issue(store->forget("p-3"), Errc::not_found, "issue.person_not_there", path());
  expect_issue(store->remember({"p-3", "", ""}), Errc::bad_input, "issue.person_unusable");
  ASSERT_TRUE(store->forget("p-2"));
  expect_issue(store->forget("p-2"), Errc::not_found, "issue.person_not_there");
  EXPECT_EQ(store->people().value(), (std::vector<Person>{{"p-1", "Odile", "by radio"}}));
}

TEST_F(People, LeaveNoBytesAndNoTraceInTheChain) {
  auto random = testing::seeded("Store.Forget");
  auto store = open();
  const auto everything = [&] {
    std::string out;
    for (const std::string& name : names()) out += bytes_of(path(name));
    return out;
  };
  std::map<std::string, Person> known;
  std::map<std::string, std::vector<std::string>> ever;  // what was told of whom
  int told = 0;
  const auto tell = [&](const std::string& id) {
    const std::string name = "Name<" + std::to_string(told) + ">" + std::string(random.below(150), 'n');
    const std::string contact = "Contact<" + std::to_string(told) + ">" + std::string(random.below(500), 'c');
    ++told;
    known[id] = {id, name, contact};
    ever[id].push_back(name.substr(0, name.find('>') + 1));
    ever[id].push_back(contact.substr(0, contact.find('>') + 1));
    ASSERT_TRUE(store->remember(known[id]));
  };
  int forgotten = 0;
  for (int i = 0; i < 300; ++i) {
    const std::string id = "p-" + std::to_string(random.below(60));
    if (known.count(id) == 0 || random.below(3) != 0) {
      tell(id);
    } else {
      ASSERT_NE(everything().find(ever[id].back()), std::string::npos);
      ASSERT_TRUE(store->forget(id));
      const std::string bytes = everything();
      for (const std::string& text : ever[id]) ASSERT_EQ(bytes.find(text), std::string::npos) << text;
      known.erase(id);
      ever.erase(id);
      ++forgotten;
    }
    if (i % 10 == 0) add(*store, 1);
  }
  EXPECT_GT(forgotten, 30);
  std::vector<Person> left;
  for (const auto& [id, person] : known) left.push_back(person);
  EXPECT_EQ(store->people().value(), left);
  expect_sound(*store, 30);
}

// SQLite moves rows from page to page as a table grows and shrinks, and leaves copies where they were.
TEST_F(People, LeaveNoCopiesInALargeTableEither) {
  auto random = testing::seeded("Store.ForgetMany");
  auto store = open();
  std::vector<std::string> ids;
  for (int i = 0; i < 300; ++i) {
    ids.push_back(std::to_string(i));
    std::swap(ids.back(), ids[random.below(ids.size())]);
  }
  for (const std::string& id : ids)
    ASSERT_TRUE(store->remember({id, "Name<" + id + ">" + std::string(random.below(240), 'n'),
                                 "Contact<" + id + ">" + std::string(random.below(1000), 'c')}));
  for (int i = 0; i < 80; ++i) {
    std::swap(ids.back(), ids[random.below(ids.size())]);
    const std::string id = ids.back();
    ids.pop_back();
    ASSERT_TRUE(store->forget(id));
    for (const std::string& name : names()) {
      const std::string bytes = bytes_of(path(name));
      ASSERT_EQ(bytes.find("Name<" + id + ">"), std::string::npos) << i;
      ASSERT_EQ(bytes.find("Contact<" + id + ">"), std::string::npos) << i;
    }
  }
  EXPECT_EQ(store->people().value().size(), 220u);
}

TEST_F(People, AreWipedLaterWhereSomeoneReads) {
  settings_.busy_wait = 0.1 * second;
  auto store = open();
  ASSERT_TRUE(store->remember({"p-1", "Odile of the hill", ""}));
  {
    auto reader = plain();
    SQLite::Statement reading{reader, "SELECT name FROM person"};
    ASSERT_TRUE(reading.executeStep());
    expect_issue(store->forget("p-1"), Errc::machine_failed, "issue.store_not_wiped", path());
    EXPECT_TRUE(store->people().value().empty());
    EXPECT_NE(bytes_of(path() + "-wal").find("Odile of the hill"), std::string::npos);
  }
  auto second_store = open("our.book", Open::existing);
  for (const std::string& name : names()) EXPECT_EQ(bytes_of(path(name)).find("Odile of the hill"), std::string::npos);
}

}  // namespace
}  // namespace pappus::store
