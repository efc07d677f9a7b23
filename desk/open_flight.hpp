/// From two text files to the morning they describe.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/base/issue.hpp"
#include "core/sheet/morning.hpp"
#include "desk/ports.hpp"

namespace pappus::desk {

/// Reads the flight file, the balloon file that it names and, if it names one, the pilot's file, and holds them against
/// each other.
/// The present is `now` if given (a moment in the offset it was written in), else the flight's as_of, else the clock in
/// the flight's offset.
/// Issues of all files are told together. There is a value only if none of them is more than a warning.
Parsed<sheet::Morning> open_flight(const std::string& path, const Files& files, const Clock& clock,
                                   const std::optional<Moment>& now);

}  // namespace pappus::desk
