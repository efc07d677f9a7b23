#include "faces/cli/show.hpp"

namespace pappus::cli {

void show_changes(Terminal&, const sheet::FlightSheet&, const words::Reader&) {}

}  // namespace pappus::cli
