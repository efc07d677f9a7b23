#include "store/faults.hpp"

#include <cerrno>

#include <sqlite3.h>

namespace pappus::store {
namespace {

// A limit of the file's size or of the account's share is a full disk to whoever has to make room.
bool is_out_of_room(int system_error) {
  return system_error == ENOSPC || system_error == EDQUOT || system_error == EFBIG;
}

}  // namespace

tl::unexpected<Issue> fault(Errc code, Sentence sentence, const std::string& path) {
  Issue issue;
  issue.code = code;
  issue.sentence = std::move(sentence);
  issue.where.file = path;
  return tl::unexpected{std::move(issue)};
}

tl::unexpected<Issue> damaged(const std::string& path, std::string detail) {
  return fault(Errc::machine_failed, say("issue.book_damaged", {{"detail", std::move(detail)}}), path);
}

tl::unexpected<Issue> failed(const std::string& path, std::string detail) {
  return fault(Errc::machine_failed, say("issue.store_failed", {{"detail", std::move(detail)}}), path);
}

tl::unexpected<Issue> read_only(const std::string& path) {
  return fault(Errc::machine_failed, say("issue.store_read_only"), path);
}

tl::unexpected<Issue> busy(const std::string& path) {
  return fault(Errc::machine_failed, say("issue.store_busy"), path);
}

tl::unexpected<Issue> not_one(const std::string& path) {
  return fault(Errc::bad_input, say("issue.book_not_one"), path);
}

tl::unexpected<Issue> fault_of(const SQLite::Exception& thrown, int system_error, const std::string& path) {
  // -1 where it is a mistake in the use of the library.
  const int code = thrown.getErrorCode() < 0 ? SQLITE_ERROR : thrown.getErrorCode() & 0xFF;
  switch (code) {
    case SQLITE_FULL: return fault(Errc::machine_failed, say("issue.store_full"), path);
    case SQLITE_BUSY:
    case SQLITE_LOCKED: return busy(path);
    case SQLITE_READONLY: return read_only(path);
    case SQLITE_CORRUPT: return damaged(path, thrown.what());
    case SQLITE_NOTADB: return not_one(path);
    case SQLITE_IOERR:
      if (is_out_of_room(system_error)) return fault(Errc::machine_failed, say("issue.store_full"), path);
      return failed(path, thrown.what());
    case SQLITE_CANTOPEN:
      if (is_out_of_room(system_error)) return fault(Errc::machine_failed, say("issue.store_full"), path);
      if (system_error == EROFS || system_error == EACCES) return read_only(path);
      return failed(path, thrown.what());
    default: return failed(path, thrown.what());
  }
}

}  // namespace pappus::store
