#include "core/air/humidity.hpp"
