/// Text for a terminal of 80 columns, readable without colour.
#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace pappus::cli {

inline constexpr std::size_t kWidth = 80;

enum class Tone { plain, strong, quiet, good, care, bad };

/// How many columns a UTF-8 text takes: code points, as none of ours is wide or combining; colours take none.
[[nodiscard]] std::size_t columns(std::string_view text);

/// Text padded on the right, or cut with "..." where it is longer.
[[nodiscard]] std::string fitted(std::string_view text, std::size_t width);
/// Text padded on the left.
[[nodiscard]] std::string right(std::string_view text, std::size_t width);

/// Collects lines.
class Terminal {
 public:
  explicit Terminal(bool colour) : colour_{colour} {}
  [[nodiscard]] std::string toned(std::string_view text, Tone tone) const;
  /// Blanks at its end are left out.
  void line(std::string_view text = {});
  void heading(std::string_view text);
  /// Words wrapped at the page's width, every line begun with `indent` blanks; the first may begin with `lead`.
  void paragraph(std::string_view text, std::size_t indent, std::string_view lead = {});
  /// "name . . . . value" on one line.
  void entry(std::string_view name, std::string_view value);
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  bool colour_;
  std::string text_;
};

}  // namespace pappus::cli
