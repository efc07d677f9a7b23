// The program: wires up the machine, and catches once what the machine can do wrong.
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <new>
#include <string>
#include <vector>

#include <unistd.h>

#include "faces/cli/call.hpp"
#include "faces/ports/system.hpp"
#include "store/sqlite_stores.hpp"

int main(int argc, char** argv) {
  try {
    const pappus::ports::DiskFiles files;
    const pappus::ports::SystemClock clock;
    const pappus::store::SqliteStores stores;
    const char* no_colour = std::getenv("NO_COLOR");
    const bool colour = isatty(STDOUT_FILENO) == 1 && (no_colour == nullptr || *no_colour == '\0');
    const int status = pappus::cli::run(
        std::vector<std::string>(argv + 1, argv + argc),
        {.files = files, .clock = clock, .out = stdout, .err = stderr, .colour = colour, .stores = &stores});
    if (std::fflush(stdout) != 0 || std::ferror(stdout) != 0) {
      std::fputs("pappus: the answer could not be written\n", stderr);
      return 5;
    }
    return status;
  } catch (const std::bad_alloc&) {
    std::fputs("pappus: out of memory\n", stderr);
  } catch (const std::exception& e) {
    std::fprintf(stderr, "pappus: %s\n", e.what());
  }
  return 5;
}
