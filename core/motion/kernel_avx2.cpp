#if defined(__x86_64__)
#define PAPPUS_KERNEL avx2
#define PAPPUS_LANES 4
#include "core/motion/detail/kernel.inc"
#endif
