#define PAPPUS_KERNEL scalar
#define PAPPUS_LANES 1
#include "core/motion/detail/kernel.inc"
