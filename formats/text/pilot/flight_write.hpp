/// flight.toml from a flight: what parse_flight() reads back.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "formats/text/pilot/flight_file.hpp"
#include "formats/text/pilot/toml_write.hpp"

namespace pappus::text {

/// Text about the air as it was pasted.
struct Pasted {
  std::string text;
  std::optional<std::string> station = std::nullopt;  // which of several is meant
};

struct FlightWriting {
  Taste taste = Taste::metric;
  /// Stands for `flight.reports`: the pilot's own paste, with all that no reader understood. Empty: each report is
  /// written by the groups it was read from.
  std::vector<Pasted> pasted = {};
  /// Tables of another flight file that go in as they stand, and win over the values of their name: [pilot], [[place]].
  std::vector<TomlMember> kept = {};
};

/// The file of a flight, every quantity in the unit in which it is shortest (see toml_quantity), times in the offset of
/// their moment (those of winds in that of the lift-off).
/// Writes    all that a Flight holds but forecasts, pibals and tripwires, which go in as text: by `pasted` and `kept`.
/// Domain    a flight that parse_flight() could have given: quantities within its bounds, names not blank, times of
///           whole seconds. Winds below 0.01 m/s are written as calm, and a spread that a ladder states is left out.
/// Laws      parse_flight(write_flight(f, any)).value is f: texts, times and counts exactly, quantities within 1e-12 of
///           their size, positions within 1e-9 degrees, winds, their heights and temperatures within 1e-8 in SI.
[[nodiscard]] std::string write_flight(const FlightFile& file, const FlightWriting& how);

}  // namespace pappus::text
