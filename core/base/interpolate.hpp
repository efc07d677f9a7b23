/// Straight lines between known points: never beyond them.
#pragma once
#include <cstddef>
#include <optional>
#include <span>

namespace pappus {

/// The value at `x` on the line through (x0, y0) and (x1, y1). Domain: x0 != x1. Exact at both ends.
template <class X, class Y>
[[nodiscard]] constexpr Y on_line(X x, X x0, Y y0, X x1, Y y1) {
  const double f = (x - x0) / (x1 - x0);
  return f == 1.0 ? y1 : y0 + f * (y1 - y0);
}

/// The index i for which rising[i] <= x <= rising[i + 1]; none outside the first and last, or with fewer than two.
/// Shape: `rising` strictly increasing.
template <class X>
[[nodiscard]] constexpr std::optional<std::size_t> segment_holding(std::span<const X> rising, X x) {
  if (rising.size() < 2 || x < rising.front() || rising.back() < x) return std::nullopt;
  std::size_t low = 0, high = rising.size() - 1;
  while (high - low > 1) {
    const std::size_t middle = low + (high - low) / 2;
    (rising[middle] <= x ? low : high) = middle;
  }
  return low;
}

}  // namespace pappus
