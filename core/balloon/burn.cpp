#include "core/balloon/burn.hpp"
