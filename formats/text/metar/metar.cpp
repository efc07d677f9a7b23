#include "formats/text/metar/metar.hpp"
