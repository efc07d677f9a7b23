/// balloon.toml from a balloon: what parse_balloon() reads back.
#pragma once
#include <string>

#include "core/balloon/balloon.hpp"
#include "formats/text/pilot/toml_write.hpp"

namespace pappus::text {

/// The file of a balloon, every quantity in the unit in which it is shortest (see toml_quantity). What is not known is
/// left out.
/// Domain    a balloon that parse_balloon() could have given: quantities within its bounds, ids and names not blank.
/// Laws      parse_balloon(write_balloon(b, any)).value is b: texts, dates and counts exactly, quantities within 1e-12.
[[nodiscard]] std::string write_balloon(const balloon::Balloon& balloon, Taste taste);

}  // namespace pappus::text
