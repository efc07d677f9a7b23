#include "core/wind/profile.hpp"
