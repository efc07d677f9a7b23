#include "core/sheet/sections/remedies.hpp"

#include "core/sheet/facts.hpp"

namespace pappus::sheet {

std::optional<RemediesSection> remedies_section(const Facts&) { return std::nullopt; }

}  // namespace pappus::sheet
