// wants: no match for .operator\+.|invalid operands
#include "core/base/quantity.hpp"

using namespace pappus;
#ifdef WRONG
const auto sum = metre + second;
#else
const auto sum = metre + foot;
#endif
