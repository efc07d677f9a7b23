/// pilot.toml: what stays the same from flight to flight of one pilot, so that it is typed once.
///
/// It holds the tables [pilot] and [minimum] of a flight file, with the same keys. A flight names it (pilot_file =
/// "pilot.toml"); what the flight says itself goes before it, key by key.
#pragma once
#include <optional>
#include <string_view>

#include "core/base/issue.hpp"
#include "core/people/aboard.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::text {

struct PilotFile {
  people::Pilot pilot;
  sheet::OwnMinimum minimum;
};

/// `file` names it in issues; `latest` is the last day that has come. All faults are told at once, as for flight files;
/// there is a value only if there is none.
/// Errors    those of flight_file.hpp for the same keys.
Parsed<PilotFile> parse_pilot(std::string_view toml, std::string_view file, std::optional<Date> latest);

/// Takes from the pilot's file what the flight leaves open. An empty list is open.
/// Laws      what the flight says stays as it is; filling twice changes nothing more.
void fill_from(sheet::Flight& flight, const PilotFile& usual);

}  // namespace pappus::text
