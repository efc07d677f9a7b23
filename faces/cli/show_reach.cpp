#include "faces/cli/show.hpp"

namespace pappus::cli {

void show_reach(Terminal&, const sheet::ReachSection&, const words::Reader&) {}

}  // namespace pappus::cli
