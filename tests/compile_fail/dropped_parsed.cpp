// wants: nodiscard
#include "core/base/issue.hpp"

using namespace pappus;
Parsed<int> read();
void f() {
#ifdef WRONG
  read();
#else
  (void)read().value.value();
#endif
}
