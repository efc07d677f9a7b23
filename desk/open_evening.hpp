/// From the evening's file to what dawn knows of the evening.
#pragma once
#include <string>

#include "core/base/issue.hpp"
#include "core/sheet/morning.hpp"
#include "desk/open_flight.hpp"
#include "desk/ports.hpp"

namespace pappus::desk {

/// Reads the evening's sheet as JSON (formats/text/evening), or the evening's flight file, whose sheet is then worked
/// out as of its own as_of; told apart by the file's first character. Holds it against the morning: the same balloon,
/// field and day.
/// Issues of the files are told together. There is a value only if none of them is more than a warning.
/// Errors    those of the readers; Errc::bad_input "issue.evening_no_as_of" (a flight file must say when it was put
///           together: without it dawn would be held against itself), "issue.evening_later" (as of a moment after the
///           morning's); Errc::conflict "issue.evening_balloon", "issue.evening_field", "issue.evening_day".
Parsed<sheet::Evening> open_evening(const std::string& path, const sheet::Morning& morning, const Files& files,
                                    const BookLook& look = {});

}  // namespace pappus::desk
