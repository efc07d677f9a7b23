#include "formats/text/pilot/flight_file.hpp"
