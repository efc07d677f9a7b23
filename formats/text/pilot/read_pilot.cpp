#include "formats/text/pilot/flight_parts.hpp"

namespace pappus::text {
namespace {

void read_papers(const FlightParts& parts, const Table& table) {
  people::Pilot& pilot = parts.out.flight.pilot;
  table.may("certificate", pilot.certificate);
  if (table.may("review", pilot.review)) parts.check_done(*table.find("review"), *pilot.review);
  const auto landings = table.find("landings");
  if (!landings) return;
  const auto items = landings->items("a list of dates, such as [2027-02-15, 2027-03-06]");
  if (!items) return;
  for (const Value& item : *items)
    if (const auto date = item.date()) {
      parts.check_done(item, *date);
      pilot.landings.push_back(*date);
    }
}

void read_minima(const FlightParts& parts, const Table& table) {
  sheet::OwnMinimum& minimum = parts.out.flight.minimum;
  table.may("surface_wind", minimum.surface_wind, {"issue.minimum_surface_wind", "0kt", "50kt"});
  table.may("reserve", minimum.reserve, {"issue.minimum_reserve", "0min", "5h"});
}

}  // namespace

void read_pilot(const FlightParts& parts, const Table& root) {
  read_papers(parts, root.table("pilot"));
  read_minima(parts, root.table("minimum"));
}

}  // namespace pappus::text
