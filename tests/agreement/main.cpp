// Prints what core computes for seeded inputs, one line a case: "group index value value ...", values as hexadecimal
// floating point, so that not a bit is lost. Built by g++, by clang and as WebAssembly; tools/run_tests.py holds the
// outputs against each other (they must agree to 1e-9 relative; equal bytes are the aim).
//
// To add a group: one row in kGroups. The function draws its inputs from `random` and returns its outputs; a Result
// that is an error prints as the code's name, which must agree too.
#include <cinttypes>
#include <cstdio>
#include <iterator>

#include "tests/agreement/groups.hpp"

int main() {
  using namespace pappus;
  std::uint64_t item = 0;
  for (const agreement::Group& group : agreement::groups()) {
    for (int i = 0; i < group.cases; ++i) {
      Random random{20'270'516, item++};
      std::printf("%s %d", group.name, i);
      for (const agreement::Value& value : group.outputs(random)) {
        if (const double* number = std::get_if<double>(&value))
          std::printf(" %a", *number);
        else
          std::printf(" %.*s", static_cast<int>(std::get<std::string_view>(value).size()),
                      std::get<std::string_view>(value).data());
      }
      std::printf("\n");
    }
  }
}
