#include "desk/reach_answer.hpp"

#include <cmath>
#include <optional>

namespace pappus::desk {
namespace {

double six_decimals(Angle a) { return std::round(a.in(degree)*1.0e6) / 1.0e6; }

std::optional<std::vector<double>> on_earth(Position field, sheet::GroundPoint point) {
  const auto at = displaced(field, {point.east, point.north});
  if (!at) return std::nullopt;
  return std::vector<double>{six_decimals(at->longitude()), six_decimals(at->latitude())};
}

std::optional<GeoFeature> feature(Position field, const sheet::CeilingLine& line) {
  if (line.outline.size() < 3) return std::nullopt;
  std::vector<std::vector<double>> ring;
  for (const sheet::GroundPoint& point : line.outline) {
    auto at = on_earth(field, point);
    if (!at) return std::nullopt;
    ring.push_back(*std::move(at));
  }
  ring.push_back(ring.front());
  GeoFeature out;
  out.properties = {line.ceiling, line.least_time};
  out.geometry.coordinates.push_back(std::move(ring));
  return out;
}

}  // namespace

Result<ReachAnswer> reach_answer(const sheet::Morning& morning) {
  auto reach = sheet::reach_section(morning);
  if (!reach) return tl::unexpected{reach.error()};
  ReachAnswer out;
  out.field = morning.flight.field.name;
  out.at = morning.flight.field.at;
  out.reach = *std::move(reach);
  for (const sheet::CeilingLine& line : out.reach.ceilings)
    if (auto found = feature(out.at, line)) out.footprint.features.push_back(*std::move(found));
  return out;
}

}  // namespace pappus::desk
