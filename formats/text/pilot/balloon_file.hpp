/// balloon.toml: one balloon as its pilot writes it down.
#pragma once
#include <string>
#include <string_view>

#include "core/balloon/balloon.hpp"
#include "core/base/issue.hpp"

namespace pappus::text {

/// Reads a balloon file. `file` names it in issues.
/// All faults are told at once with line, column and key; an unknown key is refused with the nearest right one. There
/// is a value only if there is no issue. Needed    name, envelope.volume, envelope.mass, basket.mass, at least one
/// burner with mass, at least one cylinder
///           with id, shell, level_fill and tare.
/// Absent    crown_limit, gross_limit, launch_wind_limit, people and the rest stay not known; group is the cylinder's
/// own
///           id; usable_to is 0 %.
Parsed<balloon::Balloon> parse_balloon(std::string_view toml, std::string_view file);

}  // namespace pappus::text
