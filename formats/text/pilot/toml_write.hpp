/// Values as TOML text: what parse_toml() reads back as the same values.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "formats/text/pilot/toml_tree.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::text {

/// Whose units a value is written in where two say it equally shortly.
enum class Taste { us, metric };

/// `words` in quotes, with what TOML asks to be escaped; a text of several lines stands between three quotes, its lines
/// as they are. A byte that belongs to no UTF-8 character becomes U+FFFD, as TOML can hold no such byte.
/// Laws      parse_toml reads it back to the same bytes, for every text in UTF-8.
[[nodiscard]] std::string toml_text(std::string_view words);

/// The shortest decimal within 1e-9 of `number`, or 1e-12 of its size if that is more: nothing that is weighed or read
/// off has more digits, and what went through SI and back loses its last ones. "nan" where it is not finite.
[[nodiscard]] std::string toml_number(double number);

/// How many digits a number shows that mean something: 2 in "1500ft", 4 in "304.8m".
[[nodiscard]] int digits_shown(std::string_view written);

/// A quantity in the unit in which it takes the fewest digits, as that is probably the unit it was first written in;
/// among equals, the reader's. Empty for what the dimension cannot mean.
/// Laws      parse_si gives the value back within 1e-12 of its size.
[[nodiscard]] std::string toml_quantity(double si, Dimension dimension, Taste taste);

/// One value on one line: a list or a table in its inline form.
/// Domain    what parse_toml gave, but for local times and times of day, which our files do not have.
[[nodiscard]] std::string toml_value(const TomlNode& node);

/// Written under headings of its own: a table, or a list of tables. Plain values must come before all of these, as what
/// follows a heading belongs to it.
[[nodiscard]] bool is_headed(const TomlNode& node);

/// A document being written, line by line.
class TomlLines {
 public:
  explicit TomlLines(Taste taste) : taste_{taste} {}

  /// A heading, with an empty line before it: "[field]", or "[[fuel]]" for one of a list.
  void table(std::string_view name);
  void one_of(std::string_view name);
  /// `lines` under a heading; nothing where there are none.
  void table_if_any(std::string_view name, const TomlLines& lines);

  /// `value` is TOML already.
  void raw(std::string_view key, std::string_view value);
  void words(std::string_view key, std::string_view value) { raw(key, toml_text(value)); }
  /// As above; nothing where there are no words.
  void words_if_any(std::string_view key, std::string_view value) {
    if (!value.empty()) words(key, value);
  }
  void quantity(std::string_view key, double si, Dimension dimension);

  /// A member of a table with all that is below it, in headings of its own where it is a table or a list of tables.
  /// Laws      parse_toml reads a document of members back to the same tree.
  void member(const TomlMember& member, std::string_view path = {});

  [[nodiscard]] const std::string& text() const { return text_; }
  [[nodiscard]] Taste taste() const { return taste_; }

 private:
  void members_of(const TomlNode& table, std::string_view path);

  Taste taste_;
  std::string text_;
};

}  // namespace pappus::text
