#include <algorithm>
#include <utility>

#include "formats/text/pilot/flight_parts.hpp"

namespace pappus::text {
namespace {

constexpr std::size_t kMostPlaces = 50;
// No flight goes as far: a place beyond has a slipped digit, or latitude and longitude swapped.
constexpr Length kFarthestPlace = 300.0 * kilometre;
constexpr std::string_view kWantedPosition = "[latitude, longitude] in degrees, such as [38.90, -133.40]";

std::optional<Position> read_position(const Table& table) {
  const auto at = table.find("at");
  if (!at) {
    table.missing("at", std::string(kWantedPosition));
    return std::nullopt;
  }
  const auto items = at->items(kWantedPosition);
  if (!items) return std::nullopt;
  const auto is_number = [](const Value& v) {
    return v.node().kind == TomlKind::integer || v.node().kind == TomlKind::number;
  };
  if (items->size() != 2 || !std::all_of(items->begin(), items->end(), is_number)) {
    at->refuse(Errc::bad_input, "issue.place_position", std::string(kWantedPosition));
    return std::nullopt;
  }
  const double latitude = (*items)[0].node().number, longitude = (*items)[1].node().number;
  if (const auto position = Position::at(latitude * degree, longitude * degree)) return *position;
  if (!(latitude >= -90.0 && latitude <= 90.0))
    (*items)[0].refuse(Errc::bad_input, "issue.place_latitude", "-90 to 90, latitude first");
  else
    (*items)[1].refuse(Errc::bad_input, "issue.place_longitude", "-180 to 180, longitude second");
  return std::nullopt;
}

bool is_near(Position field, Position place) {
  const GroundOffset way = displacement(field, place);
  return abs(way.east) <= kFarthestPlace && abs(way.north) <= kFarthestPlace;
}

void read_places(const FlightParts& parts, const std::vector<Table>& tables) {
  std::vector<sheet::Place>& places = parts.out.flight.places;
  const auto& field = parts.out.flight.field;
  for (const Table& table : tables) {
    if (places.size() == kMostPlaces) {
      table.refuse({}, Errc::bad_input, "issue.place_many", "at most 50 [[place]]");
      return;
    }
    sheet::Place place;
    if (table.need("name", place.name) &&
        std::any_of(places.begin(), places.end(), [&](const sheet::Place& p) { return p.name == place.name; }))
      table.refuse("name", Errc::conflict, "issue.place_double", "a name of its own for each [[place]]");
    if (const auto at = read_position(table)) {
      place.at = *at;
      // Where the field's own position was refused, that has been told.
      const bool field_known = field.at != Position{};
      if (field_known && !is_near(field.at, place.at))
        table.refuse("at", Errc::bad_input, "issue.place_far", "within 300 km of the field");
    }
    table.may("radius", place.radius, {"issue.place_radius", "10m", "5km"});
    places.push_back(std::move(place));
  }
}

}  // namespace

void read_plan(const FlightParts& parts, const Table& root) {
  root.may("hot", parts.out.flight.hot);
  read_places(parts, root.tables("place"));
  const Table landing = root.table("landing");
  sheet::LandingPlan& plan = parts.out.flight.landing;
  landing.may("obstacle", plan.obstacle, {"issue.landing_obstacle", "0m", "300m"});
  landing.may("room", plan.room, {"issue.landing_room", "10m", "20km"});
}

}  // namespace pappus::text
