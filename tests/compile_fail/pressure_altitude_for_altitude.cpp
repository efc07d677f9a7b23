// wants: could not convert|no viable conversion|conversion from
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const PressureAltitude top = amsl(150.0 * metre);
#else
const PressureAltitude top = PressureAltitude::at(150.0 * metre);
#endif
