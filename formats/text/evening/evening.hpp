/// The evening's sheet, read back from the JSON that `pappus sheet --json` printed.
///
/// Read is what dawn needs, by the names that core/sheet/flight_sheet.hpp describes: as_of, time, balloon, field,
/// standing, limits (name, state, value), tripwires (what they watch, their bounds, what it was) and load (total_kg,
/// people_count, cylinders_known). Sentences are not read: dawn words them anew. Names that it does not know are left
/// alone, so that a sheet with more in it can be read.
#pragma once
#include <cstddef>
#include <string_view>

#include "core/base/issue.hpp"
#include "core/sheet/sections/evening.hpp"

namespace pappus::text {

/// A kept sheet is some 50 kB; what is far longer or deeper is something else and is not read.
inline constexpr std::size_t kLongestEvening = std::size_t{4} << 20;
inline constexpr int kDeepestEvening = 64;

/// Whether a file begins as a JSON object does: the evening's sheet, and not the evening's flight file.
[[nodiscard]] bool is_json_object(std::string_view text);

/// All faults are told at once, with the key of the value ("limits[3].value.unit", counted from 1); one of the syntax
/// alone, with its line and column. `file` names the text in issues. There is a value only without issues.
/// Errors    Errc::bad_input "issue.evening_too_long", "issue.evening_too_deep", "issue.evening_syntax" (argument
///           `detail`: the library's own words), "issue.evening_refusal" (the evening's own issues are in the file, and
///           no sheet), "issue.evening_other" (JSON of something else), "issue.evening_missing", "issue.evening_kind"
///           (another sort of value), "issue.evening_word" (a word that is none of the list), "issue.evening_moment",
///           "issue.evening_unit" (unit and kind do not belong together, or not to what is watched),
///           "issue.evening_bounds" (a tripwire without what it needs).
/// Laws      parse_evening(to_json(sheet)) is evening_of(sheet).
Parsed<sheet::Evening> parse_evening(std::string_view json, std::string_view file);

}  // namespace pappus::text
