/// Ground that can be reached in the planned time by choosing heights, and the named places in it.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/steer/reach.hpp"

namespace pappus::sheet {

struct Facts;

/// Over the ground from the field.
struct GroundPoint {
  Length east, north;
};
struct CeilingLine {
  HeightAgl ceiling;
  Duration least_time;
  std::vector<GroundPoint> outline;  // convex, counter-clockwise: landings by the end of the planned time
};
struct FarLine {
  TrueBearing bearing;
  Length distance;
  HeightAgl ceiling;
  Duration earliest, latest;
};
struct HoldLine {
  HeightAgl height;
  Duration time;
};
struct PlaceLine {
  std::string name;
  std::optional<TrueBearing> bearing;
  Length distance;
  steer::Reachable reachable = steer::Reachable::not_known;
  std::optional<Duration> earliest, latest;  // after lift-off
  Length miss;
  std::vector<HoldLine> plan;  // in the order flown, then the landing; empty: up and down at once, or no plan
  std::optional<Duration> plan_time;
  Sentence finding;
};
struct ReachSection {
  Duration flight_time;
  HeightAgl highest;
  steer::CeilingLimit limit = steer::CeilingLimit::asked;
  std::vector<CeilingLine> ceilings;
  std::vector<FarLine> far;
  std::vector<PlaceLine> places;
  std::vector<Sentence> notes;
};

/// What choosing heights up to the highest planned can do by the end of the planned time, in steady wind over flat
/// ground (core/steer). `ceilings` are for drawing: at most 12, with at most 24 corners each, never more than what is within
/// reach. Far points are the farthest of their sector of 22.5 degrees, of all ceilings and not only of those drawn.
/// Errors    Errc::no_data without a highest height or a wind at the ground; those of steer::Reach::of.
/// Laws      a far point lies within the ground reached with its ceiling; more planned time never shrinks what is in
///           reach; a place that is reached has earliest <= latest <= flight_time.
[[nodiscard]] Result<ReachSection> reach_section(const Facts& facts);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Description<sheet::GroundPoint> {
  static constexpr std::string_view name = "GroundPoint";
  static constexpr auto fields = Fields{field("east", &sheet::GroundPoint::east, "of the field"),
                                        field("north", &sheet::GroundPoint::north, "of the field")};
};
template <>
struct Description<sheet::CeilingLine> {
  static constexpr std::string_view name = "CeilingLine";
  static constexpr auto fields =
      Fields{field("ceiling", &sheet::CeilingLine::ceiling, "the highest height of these flights"),
             field("least_time", &sheet::CeilingLine::least_time, "up and down without a hold"),
             field("outline", &sheet::CeilingLine::outline, "corners of the ground reached, counter-clockwise")};
};
template <>
struct Description<sheet::FarLine> {
  static constexpr std::string_view name = "FarLine";
  static constexpr auto fields = Fields{field("bearing", &sheet::FarLine::bearing, "from the field"),
                                        field("distance", &sheet::FarLine::distance, "from the field"),
                                        field("ceiling", &sheet::FarLine::ceiling, "by flying up to this height"),
                                        field("earliest", &sheet::FarLine::earliest, "after lift-off"),
                                        field("latest", &sheet::FarLine::latest, "after lift-off")};
};
template <>
struct Description<sheet::HoldLine> {
  static constexpr std::string_view name = "HoldLine";
  static constexpr auto fields = Fields{field("height", &sheet::HoldLine::height, "above the field"),
                                        field("time", &sheet::HoldLine::time, "to stay there")};
};
template <>
struct Description<sheet::PlaceLine> {
  static constexpr std::string_view name = "PlaceLine";
  static constexpr auto fields =
      Fields{field("name", &sheet::PlaceLine::name, "the place"),
             field("bearing", &sheet::PlaceLine::bearing, "from the field"),
             field("distance", &sheet::PlaceLine::distance, "from the field"),
             field("reachable", &sheet::PlaceLine::reachable, "by the winds that are known"),
             field("earliest", &sheet::PlaceLine::earliest, "landing there, after lift-off"),
             field("latest", &sheet::PlaceLine::latest, "landing there, after lift-off"),
             field("miss", &sheet::PlaceLine::miss, "from the place to the nearest ground reached"),
             field("plan", &sheet::PlaceLine::plan, "heights to hold, in the order flown"),
             field("plan_time", &sheet::PlaceLine::plan_time, "from lift-off to landing by the plan"),
             field("finding", &sheet::PlaceLine::finding, "the same in words")};
};
template <>
struct Description<sheet::ReachSection> {
  static constexpr std::string_view name = "ReachSection";
  static constexpr auto fields =
      Fields{field("flight_time", &sheet::ReachSection::flight_time, "the planned time"),
             field("highest", &sheet::ReachSection::highest, "of all heights used"),
             field("limit", &sheet::ReachSection::limit, "what keeps the heights as low as that"),
             field("ceilings", &sheet::ReachSection::ceilings, "ground reached, by the highest height flown"),
             field("far", &sheet::ReachSection::far, "the farthest ground in each direction"),
             field("places", &sheet::ReachSection::places, "places named in the flight"),
             field("notes", &sheet::ReachSection::notes, "to be read with the figures")};
};
}  // namespace pappus
