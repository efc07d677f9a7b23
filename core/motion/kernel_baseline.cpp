#define PAPPUS_KERNEL baseline
#define PAPPUS_LANES 2
#include "core/motion/detail/kernel.inc"
