#include "formats/text/pilot/flight_parts.hpp"

namespace pappus::text {

void read_tripwires(const FlightParts&, const Table&) {}

}  // namespace pappus::text
