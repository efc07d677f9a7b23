#include "core/base/math.hpp"

// Native builds link musl's own objects under a prefix (cmake/MuslMath.cmake); in WebAssembly the C library is musl.
// Both are reached under one name here, and nothing else in the project calls them.
#ifdef PAPPUS_PREFIXED_MATH
extern "C" {
double pappus_musl_exp(double);
double pappus_musl_log(double);
double pappus_musl_pow(double, double);
double pappus_musl_cbrt(double);
double pappus_musl_sin(double);
double pappus_musl_cos(double);
double pappus_musl_tan(double);
double pappus_musl_asin(double);
double pappus_musl_acos(double);
double pappus_musl_atan(double);
double pappus_musl_atan2(double, double);
double pappus_musl_hypot(double, double);
double pappus_musl_fmod(double, double);
}
#define PAPPUS_MUSL(name) pappus_musl_##name
#else
#define PAPPUS_MUSL(name) ::name
#endif
#include <math.h>  // sqrt is correctly rounded by IEEE 754 everywhere

namespace pappus::math {
double exp(double x) { return PAPPUS_MUSL(exp)(x); }
double log(double x) { return PAPPUS_MUSL(log)(x); }
double pow(double x, double y) { return PAPPUS_MUSL(pow)(x, y); }
double sqrt(double x) { return ::sqrt(x); }
double cbrt(double x) { return PAPPUS_MUSL(cbrt)(x); }
double sin(double radians) { return PAPPUS_MUSL(sin)(radians); }
double cos(double radians) { return PAPPUS_MUSL(cos)(radians); }
double tan(double radians) { return PAPPUS_MUSL(tan)(radians); }
double asin(double x) { return PAPPUS_MUSL(asin)(x); }
double acos(double x) { return PAPPUS_MUSL(acos)(x); }
double atan(double x) { return PAPPUS_MUSL(atan)(x); }
double atan2(double y, double x) { return PAPPUS_MUSL(atan2)(y, x); }
double hypot(double x, double y) { return PAPPUS_MUSL(hypot)(x, y); }
double fmod(double x, double y) { return PAPPUS_MUSL(fmod)(x, y); }
}  // namespace pappus::math
