#include "formats/text/quantity/quantity_text.hpp"
