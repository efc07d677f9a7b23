/// Random inputs for laws: a seed that is printed and can be set, so that a failure can be repeated.
#pragma once
#include <string_view>

#include "core/base/random.hpp"

namespace pappus::testing {

/// A stream for one law, named "Isa.PressureFalls". The seed is PAPPUS_SEED if that is set, else a fixed one; it is
/// recorded with the test's result.
Random seeded(std::string_view name);

}  // namespace pappus::testing
