#if defined(__x86_64__)
#define PAPPUS_KERNEL avx512
#define PAPPUS_LANES 8
#include "core/motion/detail/kernel.inc"
#endif
