#include "faces/cli/show.hpp"

namespace pappus::cli {

void show_remedies(Terminal&, const sheet::RemediesSection&, const words::Reader&) {}

}  // namespace pappus::cli
