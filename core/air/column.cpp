#include "core/air/column.hpp"
