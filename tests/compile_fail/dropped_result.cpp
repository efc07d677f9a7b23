// A Result whose error nobody looks at.
// wants: nodiscard
#include "core/base/position.hpp"

using namespace pappus;
void f() {
#ifdef WRONG
  Position::at(38.9 * degree, -133.4 * degree);
#else
  (void)Position::at(38.9 * degree, -133.4 * degree).value();
#endif
}
