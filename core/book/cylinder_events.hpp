/// What happens to cylinders, as the book remembers it, and what that makes of a cylinder's contents.
///
/// Nothing here reads or keeps anything: a history is handed in. A cylinder that was open in a flight is used and not
/// refilled until a fill, a weighing or a level test says otherwise: nobody's memory of the evening does.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"
#include "core/propane/account.hpp"

namespace pappus::book {

/// Filled until the level valve spat, or by weight.
struct FillEvent {
  std::string cylinder;
  Temperature coldest, warmest;                // of the liquid; equal when it was measured
  std::optional<Mass> weighed = std::nullopt;  // cylinder and all; absent: at the level valve
};
/// A cylinder whose valve was open in a flight.
struct CylinderUse {
  std::string cylinder;
  std::optional<Mass> drawn = std::nullopt;  // by minutes and flow, or as read; absent: nobody noted it
  double error = 0.0;                        // relative, a bound
};
struct FlightEvent {
  Duration aloft;
  std::vector<CylinderUse> open;
};
struct WeighingEvent {
  std::string cylinder;
  Mass weighed;  // cylinder and all
};
struct LevelTestEvent {
  std::string cylinder;
  propane::Valve valve = propane::Valve::vapour;
  Temperature coldest, warmest;  // of the liquid then
  bool tube_attitude = true;
};

struct CylinderEvent {
  std::int64_t number = 0;  // in the book
  Instant happened;
  std::variant<FillEvent, FlightEvent, WeighingEvent, LevelTestEvent> what;
};

/// What the history says of one cylinder, as evidence to be accounted for.
struct CylinderMemory {
  propane::Evidence evidence;      // filled, drawn, used_since
  bool used_not_refilled = false;  // open in a flight, and no fill, weighing or level test since
  Duration flown_since;            // time aloft with it open since the last proof
  int flights_since = 0;
  std::optional<Instant> last_proof;   // the fill, weighing or level test that counts; none: nothing on record
  std::optional<Instant> last_change;  // of anything that was recorded of it
};

}  // namespace pappus::book
