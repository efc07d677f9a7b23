#include "faces/cli/show.hpp"

namespace pappus::cli {

void show_landing(Terminal&, const sheet::LandingSection&, const words::Reader&) {}

}  // namespace pappus::cli
