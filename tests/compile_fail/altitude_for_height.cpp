// wants: could not convert|no known conversion|no viable conversion|conversion from
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const AltitudeAmsl top = agl(150.0 * metre);
#else
const AltitudeAmsl top = amsl(150.0 * metre);
#endif
