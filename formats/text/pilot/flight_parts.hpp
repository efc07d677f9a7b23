/// The parts of a flight file, each read in a .cpp of its own. For flight_file.cpp only.
#pragma once
#include <optional>
#include <string_view>

#include "core/base/instant.hpp"
#include "formats/text/pilot/flight_file.hpp"
#include "formats/text/pilot/toml_cursor.hpp"

namespace pappus::text {

/// What the parts share.
struct FlightParts {
  TomlDocument& document;
  FlightFile& out;
  std::optional<AltitudeAmsl> ground;  // absent where the field's elevation could not be read: that has been told
  std::optional<Moment> present;       // as_of, else the time of lift-off
  std::optional<Position> at = std::nullopt;  // of the field; absent where it could not be read: that has been told
  const ReadBeside& read_beside;              // may be empty

  /// A thing cannot be seen in the future.
  void check_seen(const Table& table, std::string_view key, const Moment& seen) const;
  /// The place in the file of a place in a text. Escapes move it; it never leaves the text's lines.
  [[nodiscard]] Where place_in_text(const Value& value, const Where& inside) const;
};

/// [latitude, longitude], which is needed; none after what is wrong with it was told.
[[nodiscard]] std::optional<Position> read_position(const Table& table, std::string_view key);

// Clocks are set by hand: what is seen up to this much after the file was put together is taken.
inline constexpr Duration kClockSlack = minute;

/// What was read of a cylinder beside the figure.
void read_fuel_evidence(const Table& table, sheet::FuelSeen& fuel);

/// [[wind]], [[report]], [[forecast]], [[profile]], [[pibal]]: what is known of the air.
void read_sources(const FlightParts& parts, const Table& root);
/// pilot_file, [pilot], [minimum], [fitness]
void read_pilot(const FlightParts& parts, const Table& root);
/// [[place]], [landing], hot: what is planned.
void read_plan(const FlightParts& parts, const Table& root);
/// [[tripwire]]
void read_tripwires(const FlightParts& parts, const Table& root);

}  // namespace pappus::text
