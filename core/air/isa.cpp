#include "core/air/isa.hpp"
