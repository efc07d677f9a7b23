#include "store/chain.hpp"

#include <cstddef>
#include <string_view>

#include <sha256.h>

namespace pappus::store {
namespace {

class Parts {
 public:
  Parts() { SHA256_Init(&state_); }

  void add(const std::uint8_t* bytes, std::size_t count) {
    std::array<std::uint8_t, 8> length{};
    for (std::size_t i = 0; i < length.size(); ++i)
      length[i] = static_cast<std::uint8_t>((std::uint64_t{count} >> (8 * (length.size() - 1 - i))) & 0xFF);
    SHA256_Update(&state_, length.data(), length.size());
    SHA256_Update(&state_, bytes, count);
  }
  void add(std::string_view text) { add(reinterpret_cast<const std::uint8_t*>(text.data()), text.size()); }
  void add(std::int64_t number) { add(std::string_view{std::to_string(number)}); }

  [[nodiscard]] ChainValue value() {
    ChainValue out{};
    SHA256_Final(out.data(), &state_);
    return out;
  }

 private:
  SHA256_CTX state_{};
};

}  // namespace

ChainValue chain_value(const ChainValue& previous, std::int64_t number, Instant recorded, const desk::NewEvent& what) {
  Parts parts;
  parts.add(previous.data(), previous.size());
  parts.add(number);
  parts.add(recorded.unix_milliseconds());
  parts.add(what.happened.unix_milliseconds());
  parts.add(std::string_view{what.author});
  parts.add(std::string_view{what.kind});
  parts.add(std::string_view{what.subject});
  parts.add(std::string_view{what.body});
  if (what.corrects) {
    parts.add(*what.corrects);
  } else {
    parts.add(std::string_view{});
  }
  return parts.value();
}

std::string hexadecimal(const ChainValue& value) {
  constexpr std::string_view digits = "0123456789abcdef";
  std::string out;
  out.reserve(2 * value.size());
  for (const std::uint8_t byte : value) {
    out += digits[byte >> 4];
    out += digits[byte & 0xF];
  }
  return out;
}

}  // namespace pappus::store
