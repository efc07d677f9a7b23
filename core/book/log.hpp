/// What goes into a log: flight time in tenths of an hour, and the class of a balloon by its volume.
#pragma once
#include <optional>

#include "core/base/quantity.hpp"

namespace pappus::book {

/// Tenths of an hour: units of six minutes, a remainder counted as one more. Nothing flown (or less) is 0.
/// Domain    up to 10,000 h; fractions of a second are rounded first, so that an hour made of parts is ten tenths.
/// Laws      never falls with the time; never below it, and above it by less than six minutes.
/// Source    FAA-H-8083-11B ch. 8, Logging.
[[nodiscard]] int logged_tenths(Duration flown);

/// The number of the class AX-5 to AX-9. None outside them: the other classes' bounds are not in our source.
/// A bound belongs to the smaller class (from memory).
/// Source    FAA-H-8083-11B Fig 2-16 (cubic metres).
[[nodiscard]] std::optional<int> ax_class(Volume envelope);

}  // namespace pappus::book
