#include "core/wind/observation.hpp"
