// wants: no match for .operator-.|invalid operands
#include "core/base/angle.hpp"

using namespace pappus;
const TrueBearing from = TrueBearing::at(10.0 * degree);
const MagneticBearing compass = MagneticBearing::at(10.0 * degree);
#ifdef WRONG
const Angle turn = from - compass;
#else
const Angle turn = from - to_true(compass, Variation{5.0 * degree});
#endif
