#include <algorithm>
#include <utility>

#include "formats/text/pilot/flight_parts.hpp"

namespace pappus::text {
namespace {

constexpr std::size_t kMostPlaces = 50;
// No flight goes as far: a place beyond has a slipped digit, or latitude and longitude swapped.
constexpr Length kFarthestPlace = 300.0 * kilometre;

bool is_near(Position field, Position place) {
  const GroundOffset way = displacement(field, place);
  return abs(way.east) <= kFarthestPlace && abs(way.north) <= kFarthestPlace;
}

std::optional<Length> length_at(const Table& table, std::string_view key, Dimension dimension, const Rule& rule) {
  const auto value = table.find(key);
  if (!value) return std::nullopt;
  const auto si = value->quantity(dimension, rule);
  return si ? std::optional{*si * metre} : std::nullopt;
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
    if (const auto at = read_position(table, "at")) {
      place.at = *at;
      // Where the field's own position was refused, that has been told.
      const bool field_known = field.at != Position{};
      if (field_known && !is_near(field.at, place.at))
        table.refuse("at", Errc::bad_input, "issue.place_far", "within 300 km of the field");
    }
    place.radius =
        length_at(table, "radius", Dimension::distance, {"issue.place_radius", "10m", "5km"}).value_or(place.radius);
    places.push_back(std::move(place));
  }
}

}  // namespace

void read_plan(const FlightParts& parts, const Table& root) {
  root.may("hot", parts.out.flight.hot);
  read_places(parts, root.tables("place"));
  const Table landing = root.table("landing");
  sheet::LandingPlan& plan = parts.out.flight.landing;
  plan.obstacle = length_at(landing, "obstacle", Dimension::altitude, {"issue.landing_obstacle", "0m", "300m"});
  plan.room = length_at(landing, "room", Dimension::distance, {"issue.landing_room", "10m", "20km"});
}

}  // namespace pappus::text
