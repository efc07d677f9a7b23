#include "core/sheet/limit.hpp"
