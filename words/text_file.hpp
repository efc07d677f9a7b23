/// The texts of one language, read from data/text/*.toml.
///
/// Accepted  what core/base/flat_toml.hpp reads, texts only. A placeholder is "{name}"; a brace has no other use.
///
/// A key is the table, a dot and the name: "limit.surface_wind.found".
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/issue.hpp"

namespace pappus::words {

struct Text {
  std::string key;
  std::string text;
  int line = 0;
};

/// The texts of one language, sorted by key, each key once.
class Texts {
 public:
  Texts() = default;
  /// Of several texts with one key the first stays.
  explicit Texts(std::vector<Text> texts);
  [[nodiscard]] const std::vector<Text>& all() const { return texts_; }
  /// None where the language has no such key.
  [[nodiscard]] const Text* find(std::string_view key) const;

 private:
  std::vector<Text> texts_;
};

/// Reads all that it understands; every line that it does not is an issue with its line and column.
/// `file` is the name that issues carry.
[[nodiscard]] Parsed<Texts> read_texts(std::string_view toml, std::string_view file);

/// The names in "{...}", sorted, each once.
[[nodiscard]] std::vector<std::string> placeholders_in(std::string_view text);

/// How one language falls short of another.
struct TextDifference {
  enum class What {
    missing,       // a key that only the reference has
    surplus,       // a key that only the other has
    placeholders,  // both have the key, with different argument names
    empty,         // the other has the key, but says nothing
  };
  std::string key;
  What what = What::missing;
  friend bool operator==(const TextDifference&, const TextDifference&) = default;
};

/// All differences, sorted by key. Laws: empty for a complete reference and itself; a difference is found from either
/// side, where missing and surplus change places.
[[nodiscard]] std::vector<TextDifference> compare_texts(const Texts& reference, const Texts& other);

}  // namespace pappus::words
