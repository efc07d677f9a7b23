// 10 C and 10 C are not 20 C: points on a scale do not add.
// wants: no match for .operator\+.|invalid operands
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const auto t = celsius(10.0) + celsius(10.0);
#else
const auto t = celsius(10.0) + 10.0 * kelvin;
#endif
