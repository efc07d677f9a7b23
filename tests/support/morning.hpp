/// A good morning to start tests from: each test then spoils one thing.
#pragma once
#include "core/sheet/morning.hpp"

namespace pappus::testing {

/// An invented balloon of 105,000 ft3 with three cylinders on two sides, three people, a quiet dawn with an inversion and
/// every input that a pilot has. Nothing is outside.
sheet::Morning good_morning();

/// The instant of a local clock time on that morning ("05:10" is at_clock(5, 10)).
Moment at_clock(int hours, int minutes);

}  // namespace pappus::testing
