#include "core/base/position.hpp"

#include <cmath>

#include "core/base/math.hpp"

// Notation: phi latitude, M and N the radii of curvature along the meridian and across it.

namespace pappus {
namespace {

constexpr double kMajor_m = 6378137.0;  // WGS 84, exact by definition
constexpr double kFlattening = 1.0 / 298.257223563;
constexpr double kEccentricitySquared = kFlattening * (2.0 - kFlattening);

struct Radii {
  double meridian_m, parallel_m;  // M, and N cos(phi)
};

Radii radii_at(Angle phi) {
  const double s = sin(phi), w2 = 1.0 - kEccentricitySquared * s * s, w = math::sqrt(w2);
  return {kMajor_m * (1.0 - kEccentricitySquared) / (w2 * w), kMajor_m / w * cos(phi)};
}

}  // namespace

Result<Position> Position::at(Angle latitude, Angle longitude) {
  const double lat = latitude.in(degree), lon = longitude.in(degree);
  if (!std::isfinite(lat) || lat < -90.0 || lat > 90.0)
    return fail(Errc::bad_input, say("issue.latitude_range", {{"got", measure::of(latitude)}}), {}, "-90 to 90");
  if (!std::isfinite(lon) || lon < -180.0 || lon > 180.0)
    return fail(Errc::bad_input, say("issue.longitude_range", {{"got", measure::of(longitude)}}), {}, "-180 to 180");
  return Position{latitude, longitude};
}

GroundOffset displacement(Position from, Position to) {
  const Radii r = radii_at(0.5 * (from.latitude() + to.latitude()));
  return {r.parallel_m * short_way(to.longitude() - from.longitude()).in(radian)*metre,
          r.meridian_m * (to.latitude() - from.latitude()).in(radian)*metre};
}

Result<Position> displaced(Position from, GroundOffset by) {
  // The radius half-way depends on where the way leads; it changes so slowly that four rounds settle it.
  Angle rise;
  for (int i = 0; i < 4; ++i) rise = by.north.in(metre) / radii_at(from.latitude() + 0.5 * rise).meridian_m * radian;
  const double parallel_m = radii_at(from.latitude() + 0.5 * rise).parallel_m;
  const Angle turn = by.east == Length{} ? Angle{} : by.east.in(metre) / parallel_m * radian;
  if (!std::isfinite(turn.in(degree))) return Position::at(from.latitude() + rise, turn);
  return Position::at(from.latitude() + rise, short_way(from.longitude() + turn));
}

}  // namespace pappus
