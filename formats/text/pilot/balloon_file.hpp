/// balloon.toml: one balloon as its pilot writes it down.
///
/// Bounds stand in balloon_file.cpp beside each key. They catch a slipped digit or a wrong unit and are no limits of
/// airworthiness: ours, wide enough for any hot-air balloon that carries people.
#pragma once
#include <string>
#include <string_view>

#include "core/balloon/balloon.hpp"
#include "core/base/issue.hpp"

namespace pappus::text {

/// Reads a balloon file. `file` names it in issues.
/// All faults are told at once, in the order of the file, with line, column and key; an unknown key is refused with the
/// nearest right one. A fault of the TOML syntax itself stops at the first. There is a value only if there is no issue.
/// Needed    name, envelope.volume, envelope.mass, basket.mass, at least one burner with mass, at least one cylinder
///           with id, shell, level_fill and tare.
/// Absent    crown_limit, gross_limit, launch_wind_limit, people and the rest stay not known; group is the cylinder's
///           own id; usable_to is 0 %.
/// Accepts   what section 6 of the design shows; dates also as texts; test_due as "2030-03" or a date; fabric_hours as
///           a bare number of hours or with a unit.
/// Dates     registration is the day of issue; hours is the time in service now; inspections is a list of [date, time
///           in service], with "hours" at the end for one that was no annual. envelope.inspection is the last annual
///           where its time in service is not known. basket.wall is the height of the wall inside.
/// Supply    supply.both_valves_open, true or false, is the flight manual's word on two open valves in one group.
/// Errors    "issue.file_too_large", "issue.toml_syntax", those of toml_tree.hpp and quantity_text.hpp;
///           "issue.key_missing", "issue.key_unknown", "issue.value_kind", "issue.text_blank", "issue.date_unreadable",
///           "issue.month_unreadable"; one key per rule ("issue.envelope_volume"...).
Parsed<balloon::Balloon> parse_balloon(std::string_view toml, std::string_view file);

}  // namespace pappus::text
