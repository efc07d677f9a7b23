/// flight.toml: one flight as its pilot writes it down.
#pragma once
#include <string>
#include <string_view>

#include "core/base/issue.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::text {

struct FlightFile {
  std::string balloon;  // path of the balloon file, as written: relative to the flight file
  sheet::Flight flight;
};

/// Reads a flight file; pasted reports in it are decoded. `file` names it in issues.
/// All faults are told at once with line, column and key; an unknown key is refused with the nearest right one. What a
/// pasted report holds that was not understood is told too, as a warning that does not withhold the value (see
/// `is_warning`).
/// Needed    balloon, time, planned, field.name, field.at, field.elevation, at least one aboard with role and mass.
/// Absent    everything else stays not known.
Parsed<FlightFile> parse_flight(std::string_view toml, std::string_view file);

/// Issues that come from a pasted report or a wind row left out: the file stands, the reader is told.
[[nodiscard]] bool is_warning(const Issue& issue);

}  // namespace pappus::text
