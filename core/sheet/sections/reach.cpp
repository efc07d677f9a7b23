#include "core/sheet/sections/reach.hpp"

#include "core/sheet/facts.hpp"

namespace pappus::sheet {

Result<ReachSection> reach_section(const Facts&) { return fail(Errc::no_data, say("fact.temperature_missing")); }

}  // namespace pappus::sheet
