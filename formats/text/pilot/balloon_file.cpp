#include "formats/text/pilot/balloon_file.hpp"
