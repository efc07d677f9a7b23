#include "core/balloon/lift.hpp"
