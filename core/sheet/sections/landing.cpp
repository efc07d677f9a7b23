#include "core/sheet/sections/landing.hpp"

#include "core/sheet/facts.hpp"

namespace pappus::sheet {

LandingSection landing_section(const Facts&) { return {}; }

}  // namespace pappus::sheet
