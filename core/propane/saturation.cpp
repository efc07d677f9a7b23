#include "core/propane/saturation.hpp"
