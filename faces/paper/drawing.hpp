/// What the figures share: places in a drawing, axes with round numbers, hatching, labels that leave each other room.
///
/// A drawing is measured in its own units, of which about 360 go to the width of a phone; y grows downward.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/measure.hpp"
#include "faces/paper/markup.hpp"
#include "words/words.hpp"

namespace pappus::paper {

/// A coordinate as it is written: tenths, "-0" never. What is not finite becomes 0, and nobody may draw it.
[[nodiscard]] std::string px(double x);

struct Spot {
  double x = 0.0, y = 0.0;
};
struct Box {
  double left = 0.0, top = 0.0, right = 0.0, bottom = 0.0;
  [[nodiscard]] double width() const { return right - left; }
  [[nodiscard]] double height() const { return bottom - top; }
  [[nodiscard]] bool holds(Spot s) const { return s.x >= left && s.x <= right && s.y >= top && s.y <= bottom; }
};

/// The commands of a path's "d".
class Path {
 public:
  Path& move(Spot to);
  Path& line(Spot to);
  /// The next corner: a move where it is the first one.
  Path& to(Spot to) { return empty() ? move(to) : line(to); }
  Path& close();
  [[nodiscard]] bool empty() const { return d_.empty(); }
  [[nodiscard]] const std::string& d() const { return d_; }

 private:
  std::string d_;
};

/// Strokes that rise to the right, `step` apart, cut at the box: what is not known is hatched, so that it is told from
/// what is known without colour.
[[nodiscard]] Path hatched(Box box, double step);

/// A scale of one kind of measure along a line of the drawing, with ticks at round numbers of the reader's unit.
class Axis {
 public:
  struct Tick {
    double at = 0.0;  // in the drawing
    std::string label;
  };
  /// From `low` to `high` (SI; widened to the ticks around them) along `from` to `to` in the drawing, with at most
  /// `most` ticks, two at least.
  /// Domain    finite; low <= high.
  Axis(MeasureKind kind, double low, double high, double from, double to, int most, const words::Reader& reader);
  [[nodiscard]] double at(double si) const;
  [[nodiscard]] const std::vector<Tick>& ticks() const { return ticks_; }
  /// The reader's unit, for the axis' name; empty where each number carries its own.
  [[nodiscard]] const std::string& unit() const { return unit_; }

 private:
  double low_, high_, from_, to_;
  std::vector<Tick> ticks_;
  std::string unit_;
};
/// Round numbers of the reader's unit above 0, at most `most`, the last at or above `high`: for rings.
struct Ring {
  double si = 0.0;
  std::string label;
};
[[nodiscard]] std::vector<Ring> rings(MeasureKind kind, double high, int most, const words::Reader& reader);

/// Keeps labels apart: a place is given once.
class Labels {
 public:
  explicit Labels(Box within) : within_{within} {}
  /// Takes the box unless it meets one that was taken, or leaves the drawing.
  [[nodiscard]] bool take(Box box);
  void block(Box box) { taken_.push_back(box); }

 private:
  Box within_;
  std::vector<Box> taken_;
};

/// The width that a text is expected to need: no font is known here, so that it is taken a little wide.
[[nodiscard]] double text_width(std::string_view text, double size);
/// Cut after `most` characters, with an ellipsis where something is missing.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most);

enum class Anchor { start, middle, end };
void label(Markup& to, Spot at, std::string_view text, Anchor anchor = Anchor::start, std::string_view look = "lb");
/// As above, where there is room for it; tells whether there was.
bool label_if_free(Markup& to, Labels& labels, Spot at, std::string_view text, Anchor anchor = Anchor::start,
                   std::string_view look = "lb");
void stroke(Markup& to, const Path& path, std::string_view look);
void rule(Markup& to, Spot from, Spot to_spot, std::string_view look);
void dot(Markup& to, Spot at, double radius, std::string_view look);

/// An upright axis at the left of `plot` and a flat one below it, with thin rules across the plot.
void draw_upright(Markup& to, const Axis& axis, Box plot, std::string_view name, bool numbered = true);
void draw_flat(Markup& to, const Axis& axis, Box plot, std::string_view name);
/// A hatched band with its word.
void draw_unknown(Markup& to, Box box, std::string_view word);

}  // namespace pappus::paper
