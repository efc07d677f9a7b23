/// flight.toml: one flight as its pilot writes it down.
///
/// Bounds stand in flight_file.cpp beside each key. They catch a slipped digit or a wrong unit and are no limits of
/// flying: those are the flight sheet's business.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/issue.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::text {

/// Where one [[fuel]] stands in the file: for what can only be checked once the balloon is known.
struct FuelPlaces {
  Where cylinder, liquid, seen;
};

struct FlightFile {
  std::string balloon;                    // path of the balloon file, as written: relative to the flight file
  std::optional<std::string> pilot_file;  // path of the pilot's file, likewise
  sheet::Flight flight;
  std::vector<FuelPlaces> fuel_places;  // one for each of flight.fuel
  std::vector<Where> ladder_places;     // of `seen`, one for each of flight.ladders
  std::vector<Where> look_places;       // of `time`, one for each of flight.looks
};

/// Reads a flight file; pasted reports in it are decoded. `file` names it in issues.
/// All faults are told at once, in the order of the file, with line, column and key; an unknown key is refused with the
/// nearest right one. What a pasted report holds that was not understood is told too, as a warning that does not
/// withhold the value (see `is_warning`).
/// Needed    balloon, time, planned, field.name, field.at, field.elevation, exactly one aboard with role = "pilot", and
///           role and mass of everybody; in [[fuel]] the cylinder; in [[wind]] by, seen, units and rows; in [[look]]
///           what, value and time.
/// Absent    everything else stays not known.
/// Accepts   what section 6 of the design shows; times also as texts, always with their offset. Beside it:
///           aboard.name; aboard.basis = "stated" (the default) or "weighed"; wind.name, what the source calls itself
///           (else it is called by its kind).
/// Looks     what is one of visibility, cloud, fog, dew, frost, smoke, wind, storm, stock, wires, people. The value of
///           visibility is a distance; of a storm a distance or words ("none"); of cloud the height of its base above
///           the field, or words ("none", "clear"); of the others words.
/// Pilot     pilot_file names a file with [pilot] and [minimum] (pilot_file.hpp). [pilot] has certificate, review,
///           landings, night_landings, medical_until, for_hire, training_given, flights (a list of [date, hours, take-offs,
///           landings], with "other class" at the end where it was), training_flight, check, supervised, refresher,
///           trained_volume, locator ("elt", "plb"); [minimum] has surface_wind, reserve, visibility, spread (in K) and
///           cloud_base; [fitness], if it is there, has fit and time.
/// Ground    field.ground is what lies below the flight: "congested", "elsewhere" or "sparse"; local_minimum_height is a
///           local rule's and goes before the general one; over_water = true asks for a beacon where the rules do.
///           aboard.height is held against the wall of the basket.
/// Accepting [[accept]] with limit (a name of sheet::limit_names()), reason and time: it holds for a limit that is outside
///           and not set by law or by the flight manual.
/// Ladders   `units` names the columns in any order: one height (m or ft, agl or amsl), "deg true from", a speed (kt,
///           m/s, mph, km/h), and maybe C or F. Magnetic directions are refused: they would need a variation that the
///           file does not hold. A cell "" or nan is not known; so is the wind of a row that has only one of direction
///           and speed (told as a warning), except that a speed of 0 needs no direction. Rows rise.
/// Plan      hot = true: the envelope is hot from the flight before. [[place]] with name, at and maybe radius (100 m unless
///           said): at most 50, within 300 km of the field, no two of one name. [landing] obstacle (to come in over) and
///           room (of the field in mind, along the wind).
/// Laws      nothing in the value was seen later than one minute after as_of, but for forecasts, which are dated by the
///           time they speak of.
/// Errors    as for balloon files, "issue.moment_unreadable", "issue.moment_without_offset", and those of metar.hpp.
Parsed<FlightFile> parse_flight(std::string_view toml, std::string_view file);

/// Issues that come from a pasted report or a wind row left out: the file stands, the reader is told.
[[nodiscard]] bool is_warning(const Issue& issue);

/// What only shows beside the balloon, and beside the present where the file has no as_of.
/// Errors    Errc::not_found "issue.fuel_cylinder_unknown" with the nearest id, Errc::conflict "issue.fuel_over_shell";
///           with `now`, Errc::bad_input "issue.seen_later" for what is dated more than one minute after it.
[[nodiscard]] std::vector<Issue> cross_check(const balloon::Balloon& balloon, const FlightFile& file,
                                             std::optional<Instant> now = std::nullopt);

}  // namespace pappus::text
