// wants: cannot convert|no viable conversion
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const double d = 5.0 * metre;
#else
const double d = (5.0 * metre).in(metre);
#endif
