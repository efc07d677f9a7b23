#include "faces/cli/show.hpp"

namespace pappus::cli {

void show_sources(Terminal&, const sheet::FlightSheet&, const words::Reader&) {}

}  // namespace pappus::cli
