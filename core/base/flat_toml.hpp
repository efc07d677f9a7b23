/// The small part of TOML in which our own data files are written (texts, rules): tables of single values.
///
/// Accepted  blank lines; comments, "#" to the end of the line; tables, "[limit.surface_wind]"; values,
///           `found = "..."`, `visibility_mi = 3`, `sure = true`, whose name may have dots too. Names are made of a-z,
///           0-9 and "_". A value is a text with the escapes \" \\ \n \t, a decimal number (-12.5), or true or false.
///           Everything else that TOML knows is an issue, and so is what TOML itself forbids (a key or a table said
///           twice), so that any TOML reader reads the same values.
///
/// A key is the table, a dot and the name: "limit.surface_wind.found". A reader of our own, as a general one costs each
/// start of the program and each load of the page more than everything that uses this one.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/issue.hpp"

namespace pappus {

enum class FlatKind { text, number, truth };

struct FlatEntry {
  std::string key;
  std::string value;  // a text without its quotes and escapes; a number, true or false as written
  FlatKind kind = FlatKind::text;
  int line = 0;
  int column = 0;  // where the value begins
};

/// Reads all that it understands, sorted by key; every line that it does not is an issue with its line and column.
/// `file` is the name that issues carry.
/// Laws      the value is always there, whatever the bytes; a key said twice is told and stands twice, in the order of
///           the file.
/// Errors    bad_input: "issue.text_line", "issue.text_escape", "issue.text_twice", "issue.text_is_table".
[[nodiscard]] Parsed<std::vector<FlatEntry>> read_flat_toml(std::string_view toml, std::string_view file);

/// The number of an entry of that kind; none for the others, and for more than 15 digits.
/// Accuracy  correctly rounded: 15 digits make an exact integer, and a power of ten up to 1e15 is exact too, so that
///           the one division rounds once. No locale has a say.
[[nodiscard]] std::optional<double> number_of(const FlatEntry& entry);

}  // namespace pappus
