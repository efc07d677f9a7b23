#include "core/base/position.hpp"

#include <cmath>

namespace pappus {

Result<Position> Position::at(Angle latitude, Angle longitude) {
  const double lat = latitude.in(degree), lon = longitude.in(degree);
  if (!std::isfinite(lat) || lat < -90.0 || lat > 90.0)
    return fail(Errc::bad_input, say("issue.latitude_range", {{"got", measure::of(latitude)}}), {}, "-90 to 90");
  if (!std::isfinite(lon) || lon < -180.0 || lon > 180.0)
    return fail(Errc::bad_input, say("issue.longitude_range", {{"got", measure::of(longitude)}}), {}, "-180 to 180");
  return Position{latitude, longitude};
}

}  // namespace pappus
