#include "core/sheet/sections/sources.hpp"

#include "core/sheet/facts.hpp"

namespace pappus::sheet {

std::vector<SourceUse> sources_of(const Facts&) { return {}; }
std::vector<PibalSection> pibals_of(const Facts&) { return {}; }

}  // namespace pappus::sheet
