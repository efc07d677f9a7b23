#include "formats/text/pilot/flight_parts.hpp"
#include "formats/text/pilot/pilot_keys.hpp"

namespace pappus::text {

void read_pilot(const FlightParts& parts, const Table& root) {
  sheet::Flight& flight = parts.out.flight;
  root.may("pilot_file", parts.out.pilot_file);
  std::optional<Date> latest;
  if (parts.present) latest = parts.present->date();
  read_papers(root.table("pilot"), latest, flight.pilot);
  read_minima(root.table("minimum"), flight.minimum);
  const Table fitness = root.table("fitness");
  if (!root.find("fitness")) return;
  sheet::Fitness answer;
  fitness.need("fit", answer.fit);
  if (fitness.need("time", answer.time)) parts.check_seen(fitness, "time", answer.time);
  flight.fitness = answer;
}

}  // namespace pappus::text
