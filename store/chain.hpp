/// The chain of the events: each one's value is made of its fields and of the value before it.
///
/// chain(n) is the SHA-256 of these parts, one after the other, each with its length in bytes before it as 8 bytes, the
/// highest first:
///
///     chain(n - 1)   32 bytes; 32 zero bytes for the first event
///     number         decimal digits
///     recorded       milliseconds since 1970-01-01T00:00Z, decimal digits, "-" before them where it is earlier
///     happened       the same
///     author, kind, subject, body    their bytes
///     corrects       decimal digits; no bytes where the event corrects none
///
/// Whoever changes an event has to change every later value too. So the last value, written down elsewhere (on paper,
/// in a message to a friend), vouches for all events up to it; without it a book that was written anew as a whole, or
/// lost its last events, looks sound.
#pragma once
#include <array>
#include <cstdint>
#include <string>

#include "core/base/instant.hpp"
#include "desk/store.hpp"

namespace pappus::store {

using ChainValue = std::array<std::uint8_t, 32>;

/// Source    SHA-256 of FIPS 180-4, by libmd.
[[nodiscard]] ChainValue chain_value(const ChainValue& previous, std::int64_t number, Instant recorded,
                                     const desk::NewEvent& what);

/// Lower-case letters, 64 of them for a chain value.
[[nodiscard]] std::string hexadecimal(const ChainValue& value);

}  // namespace pappus::store
