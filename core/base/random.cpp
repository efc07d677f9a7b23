#include "core/base/random.hpp"

#include "core/base/angle.hpp"
#include "core/base/math.hpp"

namespace pappus {

std::array<std::uint32_t, 4> philox(std::array<std::uint32_t, 4> c, std::array<std::uint32_t, 2> k) {
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t a = std::uint64_t{0xD2511F53u} * c[0];
    const std::uint64_t b = std::uint64_t{0xCD9E8D57u} * c[2];
    const auto high = [](std::uint64_t v) { return static_cast<std::uint32_t>(v >> 32); };
    c = {high(b) ^ c[1] ^ k[0], static_cast<std::uint32_t>(b), high(a) ^ c[3] ^ k[1], static_cast<std::uint32_t>(a)};
    k[0] += 0x9E3779B9u;  // the golden ratio and sqrt(3)-1, as in the paper
    k[1] += 0xBB67AE85u;
  }
  return c;
}

std::uint32_t Random::bits() {
  if (left_ == 0) {
    const auto low = [](std::uint64_t v) { return static_cast<std::uint32_t>(v); };
    out_ = philox({low(block_), low(block_ >> 32), low(item_), low(item_ >> 32)}, {low(seed_), low(seed_ >> 32)});
    ++block_;
    left_ = 4;
  }
  return out_[static_cast<std::size_t>(4 - left_--)];
}

double Random::uniform() {
  const std::uint64_t high = bits() >> 5, low = bits() >> 6;  // 27 and 26 bits
  return static_cast<double>(high * 67'108'864u + low) / 9'007'199'254'740'992.0;
}

std::size_t Random::below(std::size_t n) { return static_cast<std::size_t>(uniform() * static_cast<double>(n)); }

double Random::normal() {
  const double u = 1.0 - uniform();  // never zero
  return math::sqrt(-2.0 * math::log(u)) * math::cos(2.0 * pi * uniform());
}

}  // namespace pappus
