#include "core/sky/variation.hpp"
