// An altitude above the sea less a height above the ground is neither.
// wants: no match for .operator-.|invalid operands
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const auto left = amsl(450.0 * metre) - agl(150.0 * metre);
#else
const auto left = amsl(450.0 * metre) - amsl(150.0 * metre);
#endif
