/// The only door to transcendental functions for portable code.
///
/// The C libraries of two systems differ in the last digits of exp, sin, pow and their kin; glibc differs even from
/// itself by processor. Here one implementation (musl's, in the native program and in WebAssembly alike) serves both,
/// so that the same inputs give the same bytes everywhere. Including <cmath> in core for anything but the exact
/// functions (floor, abs, isfinite) is refused by tools/check.
///
/// Accuracy  within 1 ulp of the true value over the domains used here (musl's own claim; compared with the host's
///           library within 2 ulp in tests/core/base/math_test.cpp).
#pragma once

namespace pappus::math {
[[nodiscard]] double exp(double x);
[[nodiscard]] double log(double x);
[[nodiscard]] double pow(double x, double y);
[[nodiscard]] double sqrt(double x);
[[nodiscard]] double cbrt(double x);
[[nodiscard]] double sin(double radians);
[[nodiscard]] double cos(double radians);
[[nodiscard]] double tan(double radians);
[[nodiscard]] double asin(double x);
[[nodiscard]] double acos(double x);
[[nodiscard]] double atan(double x);
[[nodiscard]] double atan2(double y, double x);
[[nodiscard]] double hypot(double x, double y);
/// The remainder with the sign of x (exact by definition).
[[nodiscard]] double fmod(double x, double y);
}  // namespace pappus::math
