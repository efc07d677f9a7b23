// wants: is private|private constructor
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const Length l{5.0};
#else
const Length l{5.0 * metre};
#endif
