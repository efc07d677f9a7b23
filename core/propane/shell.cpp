#include "core/propane/shell.hpp"

#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

// r radius m, l length of the tube m, a depth of a head m, h level above the lowest point m.
namespace pappus::propane {
namespace {

constexpr double kPi = 3.14159265358979323846;

struct Metres {
  double r, l, a;
  [[nodiscard]] double volume() const { return kPi * r * r * (l + 4.0 / 3.0 * a); }
  [[nodiscard]] double height(Attitude attitude) const { return attitude == Attitude::lying ? 2.0 * r : l + 2.0 * a; }
};

Result<Metres> metres(const Shell& shell) {
  const Metres m{shell.radius.in(metre), shell.tube.in(metre), shell.head_depth * shell.radius.in(metre)};
  if (!(m.r >= 0.01 && m.r <= 2.0))
    return refuse_outside("propane.shell_outside", measure::length(shell.radius), measure::length(0.01 * metre),
                          measure::length(2.0 * metre));
  if (!(m.l >= 0.0 && m.l <= 10.0))
    return refuse_outside("propane.shell_outside", measure::length(shell.tube), measure::length(0.0 * metre),
                          measure::length(10.0 * metre));
  if (!(shell.head_depth >= 0.0 && shell.head_depth <= 1.0))
    return refuse_outside("propane.shell_outside", measure::ratio(shell.head_depth), measure::ratio(0.0),
                          measure::ratio(1.0));
  return m;
}

double lying_m3(const Metres& m, double h) {
  const double below = m.r - h;
  // Rounding can take the cosine a hair past one and the root a hair below zero at the very ends.
  const double cosine = below / m.r < -1.0 ? -1.0 : (below / m.r > 1.0 ? 1.0 : below / m.r);
  const double root = 2.0 * m.r * h - h * h;
  const double segment = m.r * m.r * math::acos(cosine) - below * math::sqrt(root > 0.0 ? root : 0.0);
  return m.l * segment + m.a / m.r * kPi * h * h * (m.r - h / 3.0);
}

double upright_m3(const Metres& m, double h) {
  const double half_ball = 2.0 / 3.0 * kPi * m.r * m.r * m.a;
  // One head up to y above its own lowest point, or above the seam for the upper one.
  if (h < m.a) return kPi * m.r * m.r * (h * h / m.a - h * h * h / (3.0 * m.a * m.a));
  if (h <= m.a + m.l) return half_ball + kPi * m.r * m.r * (h - m.a);
  const double y = h - m.a - m.l;
  return half_ball + kPi * m.r * m.r * (m.l + y - y * y * y / (3.0 * m.a * m.a));
}

double below_m3(const Metres& m, Attitude attitude, double h) {
  return attitude == Attitude::lying ? lying_m3(m, h) : upright_m3(m, h);
}

}  // namespace

Result<Volume> volume(const Shell& shell) {
  const auto m = metres(shell);
  if (!m) return tl::unexpected(m.error());
  return m->volume() * cubic_metre;
}

Result<Length> height(const Shell& shell, Attitude attitude) {
  const auto m = metres(shell);
  if (!m) return tl::unexpected(m.error());
  return m->height(attitude) * metre;
}

Result<Volume> liquid_below(const Shell& shell, Attitude attitude, Length level) {
  const auto m = metres(shell);
  if (!m) return tl::unexpected(m.error());
  const double top = m->height(attitude);
  if (!(level >= 0.0 * metre && level.in(metre) <= top))
    return refuse_outside("propane.level_outside", measure::length(level), measure::length(0.0 * metre),
                          measure::length(top * metre));
  return below_m3(*m, attitude, level.in(metre)) * cubic_metre;
}

Result<Length> level_of(const Shell& shell, Attitude attitude, Volume liquid) {
  const auto m = metres(shell);
  if (!m) return tl::unexpected(m.error());
  if (!(liquid >= 0.0 * cubic_metre && liquid.in(cubic_metre) <= m->volume()))
    return refuse_outside("propane.liquid_outside", measure::liquid(liquid), measure::liquid(0.0 * cubic_metre),
                          measure::liquid(m->volume() * cubic_metre));
  // The volume rises with the level, but not smoothly enough at the ends for Newton's rule.
  double low = 0.0, high = m->height(attitude);
  for (int step = 0; step < 60; ++step) {
    const double middle = 0.5 * (low + high);
    (below_m3(*m, attitude, middle) < liquid.in(cubic_metre) ? low : high) = middle;
  }
  return 0.5 * (low + high) * metre;
}

Result<Shell> shell_of(Volume volume, Length radius, double head_depth) {
  const auto heads = metres({.radius = radius, .tube = 0.0 * metre, .head_depth = head_depth});
  if (!heads) return tl::unexpected(heads.error());
  const double tube_m = (volume.in(cubic_metre)-heads->volume()) / (kPi * heads->r * heads->r);
  if (!(tube_m >= 0.0))
    return refuse_outside("propane.shell_too_small", measure::liquid(volume),
                          measure::liquid(heads->volume() * cubic_metre),
                          measure::liquid((heads->volume() + kPi * heads->r * heads->r * 10.0) * cubic_metre));
  const Shell shell{.radius = radius, .tube = tube_m * metre, .head_depth = head_depth};
  const auto checked = metres(shell);
  if (!checked) return tl::unexpected(checked.error());
  return shell;
}

}  // namespace pappus::propane
