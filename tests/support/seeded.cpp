#include "tests/support/seeded.hpp"

#include <cstdlib>
#include <string>

#include <gtest/gtest.h>

namespace pappus::testing {

Random seeded(std::string_view name) {
  const char* set = std::getenv("PAPPUS_SEED");
  const std::uint64_t seed = set == nullptr ? 20'270'516u : std::strtoull(set, nullptr, 10);
  std::uint64_t item = 1469598103934665603u;  // FNV-1a of the name
  for (const char c : name) item = (item ^ static_cast<unsigned char>(c)) * 1099511628211u;
  ::testing::Test::RecordProperty("seed", std::to_string(seed));
  return Random{seed, item};
}

}  // namespace pappus::testing
