/// What happens to cylinders, as the book remembers it, and what that makes of a cylinder's contents.
///
/// Nothing here reads or keeps anything: a history is handed in. A cylinder that was open in a flight is used and not
/// refilled until a fill, a weighing or a level test says otherwise: nobody's memory of the evening does.
#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/propane/account.hpp"

namespace pappus::book {

/// How warm the liquid was; equal when it was measured.
struct LiquidBand {
  Temperature coldest, warmest;
  friend bool operator==(const LiquidBand&, const LiquidBand&) = default;
};

/// Filled until the level valve spat, or by weight. One of the two is there: a fill by weight needs no temperature.
/// Something went in: liquid at the valve at once is a level test.
struct FillEvent {
  std::string cylinder;
  std::optional<LiquidBand> liquid = std::nullopt;
  std::optional<Mass> weighed = std::nullopt;  // cylinder and all; absent: at the level valve
  friend bool operator==(const FillEvent&, const FillEvent&) = default;
};
/// A cylinder whose valve was open in a flight.
struct CylinderUse {
  std::string cylinder;
  std::optional<Mass> drawn = std::nullopt;  // by minutes and flow, or as read; absent: nobody noted it
  double error = 0.0;                        // relative, a bound
  friend bool operator==(const CylinderUse&, const CylinderUse&) = default;
};
/// Errors here and below are one standard deviation.
/// All fuel of a flight, inflation included: weighed before and after, or what the refill took.
struct BurntNoted {
  Mass fuel, error;
  friend bool operator==(const BurntNoted&, const BurntNoted&) = default;
};
/// What the model said of that very flight with the time really aloft, before it had learned anything.
struct Foretold {
  Mass fuel;  // all of it, inflation included
  Mass loss;  // the part of it that goes with the heat lost: level flight and its allowance
  Mass error;
  Temperature mean_needed;  // inside, at the height where the load asked most
  TemperatureDelta mean_error;
  friend bool operator==(const Foretold&, const Foretold&) = default;
};
/// The hottest that the crown was seen.
struct CrownNoted {
  Temperature hottest;
  TemperatureDelta error;
  friend bool operator==(const CrownNoted&, const CrownNoted&) = default;
};
/// A flight happened when it ended: what is done to a cylinder after the landing comes after it.
struct FlightEvent {
  Duration aloft;
  std::vector<CylinderUse> open;
  std::optional<BurntNoted> burnt = std::nullopt;
  std::optional<Foretold> foretold = std::nullopt;
  std::optional<CrownNoted> crown = std::nullopt;
  friend bool operator==(const FlightEvent&, const FlightEvent&) = default;
};
struct WeighingEvent {
  std::string cylinder;
  Mass weighed;  // cylinder and all
  friend bool operator==(const WeighingEvent&, const WeighingEvent&) = default;
};
struct LevelTestEvent {
  std::string cylinder;
  propane::Valve valve = propane::Valve::vapour;
  LiquidBand liquid;  // then
  bool tube_attitude = true;
  friend bool operator==(const LevelTestEvent&, const LevelTestEvent&) = default;
};

struct CylinderEvent {
  std::int64_t number = 0;  // in the book
  Instant happened;
  std::variant<FillEvent, FlightEvent, WeighingEvent, LevelTestEvent> what;
  friend bool operator==(const CylinderEvent&, const CylinderEvent&) = default;
};

/// What showed how much there is.
enum class Proof { fill, weighing, level_test };

/// What the history says of one cylinder, as evidence to be accounted for.
struct CylinderMemory {
  propane::Evidence evidence;      // filled, drawn, used_since
  bool used_not_refilled = false;  // open in a flight, and no fill, weighing or level test since
  Duration flown_since;            // time aloft with it open since the last proof
  int flights_since = 0;
  std::optional<Proof> proof;          // what the quantity rests on; none: nothing on record
  std::optional<Instant> last_proof;   // when that was
  std::optional<Instant> last_change;  // of anything that was recorded of it
};

/// What happened up to and with `now`, in the order of `happened`, then of `number`. Points into `history`.
[[nodiscard]] std::vector<const CylinderEvent*> in_order(const std::vector<CylinderEvent>& history, Instant now);

/// Replays what happened to a cylinder up to and with `now`, in the order of `happened`, then of `number`.
///
/// The last proof of quantity is the base: a fill, a weighing, or liquid seen at the level valve. What was drawn since
/// counts where it was noted; one flight of which nobody noted it leaves the amount open (`used_since`).
/// Liquid at the valve shows that there is at least a level fill, and not when it came: after any use a fill may have
/// gone unrecorded, in the cold too (down to -20 C, where account() begins where nothing is known). If nothing was
/// drawn since a fill, that fill stands; a weight stands before it.
/// Vapour at the valve is a test, and ends "used and not refilled"; how much there is it does not say, and the amount
/// stays what it was. Where it can't be so after a fill that nothing was drawn from, the amount is open.
/// A tube that was not in its own attitude tells nothing.
/// Laws      the order of the list doesn't matter; what happened after `now`, or to another cylinder, doesn't count;
///           account() of it holds the truth while every note lies within its error and every fill is on record, or
///           came to light by liquid at the valve (tests/core/book/cylinder_events_test.cpp).
[[nodiscard]] CylinderMemory remembered(const std::vector<CylinderEvent>& history, std::string_view cylinder,
                                        Instant now);

/// The same in words, for a reader whose clock stands at `offset`.
[[nodiscard]] std::vector<Sentence> memory_words(const CylinderMemory& memory, UtcOffset offset);

}  // namespace pappus::book

namespace pappus {
template <>
struct Names<book::Proof> {
  static constexpr std::array<std::pair<book::Proof, std::string_view>, 3> all{
      {{book::Proof::fill, "fill"}, {book::Proof::weighing, "weighing"}, {book::Proof::level_test, "level_test"}}};
};
}  // namespace pappus
