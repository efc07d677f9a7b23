/// `pappus reach`: the ground in reach of a flight, and the same as a map for other programs.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::desk {

/// GeoJSON (RFC 7946): longitude before latitude, WGS 84, rings counter-clockwise and closed, six decimals (0.1 m).
struct GeoPolygon {
  std::string type = "Polygon";
  std::vector<std::vector<std::vector<double>>> coordinates;  // one ring
};
struct GeoProperties {
  HeightAgl ceiling;
  Duration least_time;
};
struct GeoFeature {
  std::string type = "Feature";
  GeoProperties properties;
  GeoPolygon geometry;
};
struct GeoFeatures {
  std::string type = "FeatureCollection";
  std::vector<GeoFeature> features;
};

struct ReachAnswer {
  std::string field;
  Position at;
  sheet::ReachSection reach;
  GeoFeatures footprint;
};
/// Outlines without an area (calm air, one wind) have no place in `footprint`.
/// Errors    those of sheet::reach_section.
[[nodiscard]] Result<ReachAnswer> reach_answer(const sheet::Morning& morning);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Description<desk::GeoPolygon> {
  static constexpr std::string_view name = "GeoPolygon";
  static constexpr auto fields =
      Fields{field("type", &desk::GeoPolygon::type, "as RFC 7946 has it"),
             field("coordinates", &desk::GeoPolygon::coordinates, "one ring of [longitude, latitude]")};
};
template <>
struct Description<desk::GeoProperties> {
  static constexpr std::string_view name = "GeoProperties";
  static constexpr auto fields =
      Fields{field("ceiling", &desk::GeoProperties::ceiling, "the highest height of these flights"),
             field("least_time", &desk::GeoProperties::least_time, "up and down without a hold")};
};
template <>
struct Description<desk::GeoFeature> {
  static constexpr std::string_view name = "GeoFeature";
  static constexpr auto fields = Fields{field("type", &desk::GeoFeature::type, "as RFC 7946 has it"),
                                        field("properties", &desk::GeoFeature::properties, "which ceiling"),
                                        field("geometry", &desk::GeoFeature::geometry, "the ground reached with it")};
};
template <>
struct Description<desk::GeoFeatures> {
  static constexpr std::string_view name = "GeoFeatures";
  static constexpr auto fields = Fields{field("type", &desk::GeoFeatures::type, "as RFC 7946 has it"),
                                        field("features", &desk::GeoFeatures::features, "one for each ceiling")};
};
template <>
struct Description<desk::ReachAnswer> {
  static constexpr std::string_view name = "ReachAnswer";
  static constexpr auto fields = Fields{field("field", &desk::ReachAnswer::field, "the field"),
                                        field("at", &desk::ReachAnswer::at, "where it lies"),
                                        field("", &desk::ReachAnswer::reach, "the ground in reach"),
                                        field("footprint", &desk::ReachAnswer::footprint, "the same as GeoJSON")};
};
}  // namespace pappus
