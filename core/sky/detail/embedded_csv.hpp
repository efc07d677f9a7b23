/// Reads the coefficient tables that are built into this module. They are our own files and the same in every build, so
/// that a fault in them is our mistake, which the module's tests show, and not a reader's input.
#pragma once
#include <cstddef>
#include <cstdint>
#include <string_view>

namespace pappus::sky::detail {

/// The part of `rest` before `separator`; both are taken off `rest`.
inline std::string_view take_until(std::string_view& rest, char separator) {
  const std::size_t end = rest.find(separator);
  const std::string_view taken = rest.substr(0, end);
  rest = end == std::string_view::npos ? std::string_view{} : rest.substr(end + 1);
  return taken;
}

/// A decimal number such as "-29351.8"; an empty cell is 0.
/// Accuracy  correctly rounded: up to 15 digits, which all our coefficients keep to, make an exact integer, and a power
///           of ten up to 1e15 is exact too, so that the one division rounds once. No locale has a say.
inline double decimal(std::string_view text) {
  std::int64_t digits = 0;
  double scale = 1.0;
  bool negative = false, fraction = false;
  for (const char c : text) {
    if (c == '-') {
      negative = true;
    } else if (c == '.') {
      fraction = true;
    } else {
      digits = 10 * digits + (c - '0');
      if (fraction) scale *= 10.0;
    }
  }
  const double value = static_cast<double>(digits) / scale;
  return negative ? -value : value;
}

/// Calls visit(row) for every row below the heading; lines that begin with '#' are comments.
template <class Visit>
void for_each_row(std::string_view csv, Visit&& visit) {
  bool heading_seen = false;
  while (!csv.empty()) {
    const std::string_view line = take_until(csv, '\n');
    if (line.empty() || line.front() == '#') continue;
    if (heading_seen) visit(line);
    heading_seen = true;
  }
}

}  // namespace pappus::sky::detail
