/// A TOML document as a tree of plain values, each with its place. The TOML library stays behind toml_tree.cpp, as its
/// headers cost seconds to compile.
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"

namespace pappus::text {

/// Lines and columns count from 1; columns count characters, not bytes. The end stands behind the last character.
struct TomlSpan {
  int line = 1, column = 1, end_line = 1, end_column = 1;
};

enum class TomlKind {
  text,
  integer,
  number,  // with a point or an exponent; may be nan or infinite
  truth,
  date,
  moment,        // date, time and offset
  local_moment,  // without an offset: names no instant
  clock,         // a time of day alone
  list,
  table
};

struct TomlMember;

struct TomlNode {
  TomlKind kind = TomlKind::table;
  TomlSpan span;
  std::string text;
  std::int64_t integer = 0;
  double number = 0.0;  // of an integer too
  bool truth = false;
  std::optional<Date> date;         // none for year 0
  std::optional<Moment> moment;     // none for year 0 or an offset beyond 14 hours
  std::vector<TomlNode> items;      // of a list
  std::vector<TomlMember> members;  // of a table, in the order of their keys
};

struct TomlMember {
  std::string key;
  int line = 1, column = 1;
  TomlNode value;
};

/// A file that a person writes is shorter; what is longer is not read.
inline constexpr std::size_t kLongestFile = std::size_t{256} * 1024;

/// The root table, or the first fault of the syntax with its place.
/// Domain    at most kLongestFile bytes; brackets and dotted keys at most 16 deep; no line that a backslash joins to the
///           one before may begin with a character beyond ASCII (TOML itself allows it).
/// Errors    Errc::bad_input "issue.toml_syntax" (argument `detail`: the library's own words), "issue.toml_character"
///           (beyond ASCII and outside quotes), "issue.toml_joined_line", "issue.toml_too_deep",
///           "issue.file_too_large".
Result<TomlNode> parse_toml(std::string_view toml, std::string_view file);

}  // namespace pappus::text
