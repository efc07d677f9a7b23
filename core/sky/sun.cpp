#include "core/sky/sun.hpp"
