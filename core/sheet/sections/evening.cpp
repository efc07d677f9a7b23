#include "core/sheet/sections/evening.hpp"

#include "core/sheet/facts.hpp"

namespace pappus::sheet {

Evening evening_of(const FlightSheet&) { return {}; }
std::vector<Tripwire> tripwires_of(const Facts&, const FlightSheet&) { return {}; }
std::vector<Change> changes_of(const Facts&, const FlightSheet&) { return {}; }
std::vector<Sentence> message_of(const Facts&, const FlightSheet&) { return {}; }

}  // namespace pappus::sheet
