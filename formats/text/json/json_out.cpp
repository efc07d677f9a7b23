#include "formats/text/json/json_out.hpp"
