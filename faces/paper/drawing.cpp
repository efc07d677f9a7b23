#include "faces/paper/drawing.hpp"

#include <algorithm>
#include <cmath>

namespace pappus::paper {
namespace {

constexpr double kLetter = 10.0;  // the size of a label; class "lb" of the style sheet

// The next of 1, 2 and 5 times a power of ten at or above `x`. Domain: positive.
double round_step(double x) {
  double power = 1.0;
  while (power * 10.0 <= x) power *= 10.0;
  while (power > x) power /= 10.0;
  for (const double factor : {1.0, 2.0, 5.0})
    if (factor * power >= x * (1.0 - 1e-9)) return factor * power;
  return 10.0 * power;
}

double compass_step(double x) {
  for (const double step : {5.0, 10.0, 15.0, 30.0, 45.0, 90.0})
    if (step >= x) return step;
  return 180.0;
}

bool is_bearing(MeasureKind kind) { return kind == MeasureKind::bearing_true || kind == MeasureKind::bearing_magnetic; }

// "20.0" beside "30.0" says no more than 20 beside 30.
void drop_empty_tenths(std::vector<Axis::Tick>& ticks) {
  const auto whole = [](const Axis::Tick& t) {
    const std::size_t n = t.label.size();
    return n > 2 && t.label[n - 1] == '0' && (t.label[n - 2] == '.' || t.label[n - 2] == ',');
  };
  if (!std::all_of(ticks.begin(), ticks.end(), whole)) return;
  for (Axis::Tick& tick : ticks) tick.label.resize(tick.label.size() - 2);
}

}  // namespace

std::string px(double x) {
  if (!std::isfinite(x) || std::abs(x) > 1e6) return "0";
  const auto tenths = static_cast<int>(std::round(x * 10.0));
  std::string out = tenths < 0 ? "-" : "";
  const int size = std::abs(tenths);
  out += std::to_string(size / 10);
  if (size % 10 != 0) out += "." + std::to_string(size % 10);
  return out;
}

Path& Path::move(Spot to) {
  d_ += "M" + px(to.x) + " " + px(to.y);
  return *this;
}
Path& Path::line(Spot to) {
  d_ += "L" + px(to.x) + " " + px(to.y);
  return *this;
}
Path& Path::close() {
  d_ += "Z";
  return *this;
}

Path hatched(Box box, double step) {
  Path out;
  if (!(box.width() > 0.0) || !(box.height() > 0.0)) return out;
  // A stroke is x + y = c; it enters at the left or at the bottom and leaves at the top or at the right.
  for (double c = box.left + box.top + step; c < box.right + box.bottom; c += step) {
    const Spot low = c - box.left <= box.bottom ? Spot{box.left, c - box.left} : Spot{c - box.bottom, box.bottom};
    const Spot high = c - box.top <= box.right ? Spot{c - box.top, box.top} : Spot{box.right, c - box.right};
    out.move(low).line(high);
  }
  return out;
}

Axis::Axis(MeasureKind kind, double low, double high, double from, double to, int most, const words::Reader& reader)
    : low_{low}, high_{high}, from_{from}, to_{to}, unit_{words::figure({low, kind}, reader).unit} {
  const auto shown = [&](double si) { return words::counted({si, kind}, reader); };
  double first = shown(low), last = shown(high);
  if (!(last - first > 1e-6)) last = first + 1.0;
  const double least = (last - first) / std::max(1, most - 1);
  double step = is_bearing(kind) ? compass_step(least) : round_step(least);
  // Widening to whole steps may bring one tick too many: then the steps are too short.
  while (std::ceil(last / step - 1e-9) - std::floor(first / step + 1e-9) > most - 1)
    step = is_bearing(kind) ? compass_step(step + 1.0) : round_step(step * 1.5);
  first = std::floor(first / step + 1e-9) * step;
  last = std::ceil(last / step - 1e-9) * step;
  low_ = words::measured(first, kind, reader).si;
  high_ = words::measured(last, kind, reader).si;
  const int count = static_cast<int>(std::round((last - first) / step));
  for (int i = 0; i <= count; ++i) {
    const Measure m = words::measured(first + i * step, kind, reader);
    const words::Figure f = words::figure(m, reader);
    ticks_.push_back({at(m.si), is_bearing(kind) ? f.number + f.unit : f.number});
  }
  if (is_bearing(kind)) unit_.clear();
  drop_empty_tenths(ticks_);
}

double Axis::at(double si) const { return from_ + (si - low_) / (high_ - low_) * (to_ - from_); }

std::vector<Ring> rings(MeasureKind kind, double high, int most, const words::Reader& reader) {
  std::vector<Ring> out;
  const double last = words::counted({high, kind}, reader);
  if (!(last > 1e-9)) return out;
  const double step = round_step(last / most);
  for (int i = 1; (i - 1) * step < last * (1.0 - 1e-9); ++i) {
    const Measure m = words::measured(i * step, kind, reader);
    out.push_back({m.si, words::worded(m, reader)});
  }
  return out;
}

bool Labels::take(Box box) {
  if (box.left < within_.left || box.right > within_.right || box.top < within_.top || box.bottom > within_.bottom)
    return false;
  for (const Box& other : taken_)
    if (box.left < other.right && other.left < box.right && box.top < other.bottom && other.top < box.bottom)
      return false;
  taken_.push_back(box);
  return true;
}

double text_width(std::string_view text, double size) {
  std::size_t letters = 0;
  for (const char c : text)
    if ((static_cast<unsigned char>(c) & 0xC0) != 0x80) ++letters;
  return 0.58 * size * static_cast<double>(letters);
}

std::string shortened(std::string_view text, std::size_t most) {
  std::size_t letters = 0, at = 0, last = 0;
  for (; at < text.size(); ++at) {
    if ((static_cast<unsigned char>(text[at]) & 0xC0) == 0x80) continue;
    if (letters == most - 1) last = at;
    if (++letters > most) return std::string(text.substr(0, last)) + "\xE2\x80\xA6";
  }
  return std::string(text);
}

void label(Markup& to, Spot at, std::string_view text, Anchor anchor, std::string_view look) {
  const std::string_view side = anchor == Anchor::start ? "start" : anchor == Anchor::middle ? "middle" : "end";
  to.leaf("text", {{"x", px(at.x)}, {"y", px(at.y)}, {"text-anchor", side}, {"class", look}}, text);
}

bool label_if_free(Markup& to, Labels& labels, Spot at, std::string_view text, Anchor anchor, std::string_view look) {
  const double width = text_width(text, kLetter);
  const double left = anchor == Anchor::start ? at.x : anchor == Anchor::middle ? at.x - width / 2.0 : at.x - width;
  if (!labels.take({left, at.y - kLetter, left + width, at.y + 2.0})) return false;
  label(to, at, text, anchor, look);
  return true;
}

void stroke(Markup& to, const Path& path, std::string_view look) {
  if (!path.empty()) to.empty("path", {{"class", look}, {"d", path.d()}});
}

void rule(Markup& to, Spot from, Spot to_spot, std::string_view look) {
  stroke(to, Path{}.move(from).line(to_spot), look);
}

void dot(Markup& to, Spot at, double radius, std::string_view look) {
  to.empty("circle", {{"cx", px(at.x)}, {"cy", px(at.y)}, {"r", px(radius)}, {"class", look}});
}

void draw_upright(Markup& to, const Axis& axis, Box plot, std::string_view name, bool numbered) {
  for (const Axis::Tick& tick : axis.ticks()) {
    rule(to, {plot.left, tick.at}, {plot.right, tick.at}, "grid");
    if (numbered) label(to, {plot.left - 4.0, tick.at + 3.5}, tick.label, Anchor::end, "tk");
  }
  if (!name.empty()) label(to, {plot.left - 4.0, plot.top - 8.0}, name, Anchor::start, "ax");
}

void draw_flat(Markup& to, const Axis& axis, Box plot, std::string_view name) {
  for (const Axis::Tick& tick : axis.ticks()) {
    rule(to, {tick.at, plot.top}, {tick.at, plot.bottom}, "grid");
    label(to, {tick.at, plot.bottom + 12.0}, tick.label, Anchor::middle, "tk");
  }
  label(to, {(plot.left + plot.right) / 2.0, plot.bottom + 25.0}, name, Anchor::middle, "ax");
}

void draw_unknown(Markup& to, Box box, std::string_view word) {
  stroke(to, hatched(box, 6.0), "hatch");
  to.empty("rect", {{"x", px(box.left)},
                    {"y", px(box.top)},
                    {"width", px(box.width())},
                    {"height", px(box.height())},
                    {"class", "unknown"}});
  if (box.height() < 14.0) return;
  const double width = text_width(word, kLetter) + 8.0;
  const Spot middle{(box.left + box.right) / 2.0, (box.top + box.bottom) / 2.0};
  to.empty("rect", {{"x", px(middle.x - width / 2.0)},
                    {"y", px(middle.y - 8.0)},
                    {"width", px(width)},
                    {"height", "16"},
                    {"class", "under"}});
  label(to, {middle.x, middle.y + 3.5}, word, Anchor::middle, "lb");
}

}  // namespace pappus::paper
