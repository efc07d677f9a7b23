#include "core/air/altimetry.hpp"
