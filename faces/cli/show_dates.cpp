#include "faces/cli/show.hpp"

namespace pappus::cli {

void show_dates(Terminal&, const std::vector<book::Due>&, const words::Reader&) {}

}  // namespace pappus::cli
