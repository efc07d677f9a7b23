// Adds events to a book until it is killed, and says what it was told is there: tests/killed/killed.py.
//
//     append_until_killed BOOK RUN [COUNT]   prints the number of each event after append has answered, one a line
//     append_until_killed --verify BOOK      prints events, the first broken one or "none", and the last chain value
#include <cerrno>
#include <cstdint>
#include <cstdlib>
#include <iostream>
#include <limits>
#include <optional>
#include <string>

#include <unistd.h>

#include "store/sqlite_stores.hpp"

namespace {

using namespace pappus;
using Open = desk::Stores::Open;

// splitmix64 (S. Vigna, public domain; from memory), as killed.py has it too.
std::uint64_t mixed(std::uint64_t x) {
  x += 0x9E3779B97F4A7C15u;
  x = (x ^ (x >> 30)) * 0xBF58476D1CE4E5B9u;
  x = (x ^ (x >> 27)) * 0x94D049BB133111EBu;
  return x ^ (x >> 31);
}

// Up to some pages long.
std::string body_of(std::uint64_t run, std::uint64_t step) {
  const std::uint64_t seed = mixed(run << 32 | step);
  const std::uint64_t length = seed % 16 == 0 ? seed % 20000 : seed % 500;
  std::string fill;
  for (std::uint64_t i = 0; i < length; ++i)
    fill += static_cast<char>('a' + mixed(seed + i / 8) / (1u << (i % 8 * 3)) % 26);
  return "{\"run\":" + std::to_string(run) + ",\"step\":" + std::to_string(step) + ",\"fill\":\"" + fill + "\"}";
}

int fail_with(const Issue& issue) {
  std::cerr << issue.sentence.key << '\n';
  return 1;
}

int verify(const std::string& path) {
  const auto book = store::SqliteStores{}.open(path, Open::existing);
  if (!book) return fail_with(book.error());
  const auto check = (*book)->verify();
  if (!check) return fail_with(check.error());
  std::cout << check->events << ' ' << (check->first_broken ? std::to_string(*check->first_broken) : "none") << ' '
            << (check->last.empty() ? "empty" : check->last) << '\n';
  return 0;
}

int append(const std::string& path, std::uint64_t run, std::uint64_t count) {
  const auto book = store::SqliteStores{}.open(path, Open::create);
  if (!book) return fail_with(book.error());
  std::optional<std::int64_t> last;
  for (std::uint64_t step = 0; step < count; ++step) {
    desk::NewEvent event;
    event.happened = Instant::from_unix_milliseconds(static_cast<std::int64_t>(step) - 3);
    event.author = "p-1";
    event.kind = "note";
    event.subject = "run " + std::to_string(run);
    event.body = body_of(run, step);
    if (step % 5 == 4) event.corrects = last;
    const auto added = (*book)->append(event, Instant::from_unix_milliseconds(static_cast<std::int64_t>(step)));
    if (!added) return fail_with(added.error());
    last = added->number;
    const std::string line = std::to_string(added->number) + "\n";
    if (::write(STDOUT_FILENO, line.data(), line.size()) != static_cast<ssize_t>(line.size())) return 1;
  }
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  const std::string first = argc > 1 ? argv[1] : "";
  if (argc == 3 && first == "--verify") return verify(argv[2]);
  if (argc == 3 || argc == 4)
    return append(first, std::strtoull(argv[2], nullptr, 10),
                  argc == 4 ? std::strtoull(argv[3], nullptr, 10) : std::numeric_limits<std::uint64_t>::max());
  std::cerr << "append_until_killed BOOK RUN [COUNT] | --verify BOOK\n";
  return 2;
}
