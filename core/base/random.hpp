/// Random numbers that depend only on (seed, item, draw): the same for any number of threads and any order of work.
///
/// Source    Philox 4x32-10 of J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel random numbers: as easy as
///           1, 2, 3", SC'11; known answers in tests/core/base/random_test.cpp.
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>

namespace pappus {

/// One block of the generator.
[[nodiscard]] std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> counter,
                                                  std::array<std::uint32_t, 2> key);

/// A stream of numbers for one item of work.
class Random {
 public:
  Random(std::uint64_t seed, std::uint64_t item) : seed_{seed}, item_{item} {}
  [[nodiscard]] std::uint32_t bits();
  /// In [0, 1), 53 random bits.
  [[nodiscard]] double uniform();
  [[nodiscard]] double uniform(double low, double high) { return low + (high - low) * uniform(); }
  /// In 0 .. n-1. Domain: n > 0. Bias below n / 2^53.
  [[nodiscard]] std::size_t below(std::size_t n);
  /// Mean 0, standard deviation 1 (Box and Muller).
  [[nodiscard]] double normal();

 private:
  std::uint64_t seed_, item_, block_ = 0;
  std::array<std::uint32_t, 4> out_{};
  int left_ = 0;
};

}  // namespace pappus
