/// flight.toml: one flight as its pilot writes it down.
///
/// Bounds stand in flight_file.cpp beside each key. They catch a slipped digit or a wrong unit and are no limits of
/// flying: those are the flight sheet's business.
#pragma once
#include <functional>
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
  std::vector<Where> ladder_places;  // of `seen` or `time`, one for each of flight.ladders; line 0: dated by its text
  std::vector<Where> pibal_places;   // of `released`, one for each of flight.pibals
  std::vector<Where> look_places;    // of `time`, one for each of flight.looks
};

/// Reads a file that a flight file names, by the name written there: relative to the flight file.
using ReadBeside = std::function<Result<std::string>(const std::string& path)>;

/// Reads a flight file; what was pasted into it or stands in files beside it is decoded. `file` names it in issues.
/// All faults are told at once, in the order of the file, with line, column and key; an unknown key is refused with the
/// nearest right one. What a text that others wrote holds and was not understood is told too, as a warning that does
/// not withhold the value (see `is_warning`). Issues inside a file beside it name that file, and come last.
/// Needed    balloon, time, planned, field.name, field.at, field.elevation, exactly one aboard with role = "pilot", and
///           role and mass of everybody; in [[fuel]] the cylinder; in [[wind]] by, seen, units and rows; in [[look]]
///           what, value and time; in [[report]] and [[forecast]] text or file; in [[profile]] by, time, columns, and
///           text or file; in [[pibal]] released, bearings, units and rows.
/// Absent    everything else stays not known.
/// Accepts   what section 6 of the design shows; times also as texts, always with their offset. Beside it:
///           aboard.name; aboard.basis = "stated" (the default) or "weighed"; wind.name, what the source calls itself
///           (else it is called by its kind).
/// Looks     what is one of visibility, cloud, fog, dew, frost, smoke, wind, storm, stock, wires, people. The value of
///           visibility is a distance; of a storm a distance or words ("none"); of cloud the height of its base above
///           the field, or words ("none", "clear"); of the wind a speed, or one of the signs of core/wind/by_eye.hpp
///           ("leaves"); of the others words.
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
/// Texts     [[report]] and [[forecast]] are read alike, as what a text holds shows by itself: METAR, TAF, winds aloft
///           (FB) and soundings (TEMP), several in one text, with anything around them (formats/text/air). `text` is
///           what was pasted; `file = "winds.txt"` a file beside this one. `station` says which one is meant: needed for
///           winds aloft or soundings of several; `station_elevation` shows winds aloft whose columns have slipped.
/// Profiles  [[profile]] is a table of text in `text` or `file`, `columns` the map of formats/text/profile_csv, `by` one of
///           forecast, sounding, seen, pibal, `time` that of which it speaks; `name` as in [[wind]]. Directions by
///           compass are turned with `variation` (east positive), else with that of the magnetic model.
/// Pibals    [[pibal]] as pibal_file.hpp says.
/// Files     are read through `read_beside`; without it, a file that is named is refused.
/// Laws      nothing in the value was seen later than one minute after as_of, but for forecasts, which are dated by the
///           time they speak of.
/// Errors    as for balloon files, "issue.moment_unreadable", "issue.moment_without_offset"; conflict
///           "issue.text_and_file"; no_data "issue.file_beside" (no file can be read from here), and those of
///           `read_beside`, of air_text.hpp, profile_csv.hpp and pibal_file.hpp.
Parsed<FlightFile> parse_flight(std::string_view toml, std::string_view file, const ReadBeside& read_beside = {});

/// Issues that come from a text that others wrote, a wind row left out, or readings that say nothing: the file stands,
/// the reader is told.
[[nodiscard]] bool is_warning(const Issue& issue);

/// What only shows beside the balloon, and beside the present where the file has no as_of.
/// Errors    Errc::not_found "issue.fuel_cylinder_unknown" with the nearest id, Errc::conflict "issue.fuel_over_shell";
///           with `now`, Errc::bad_input "issue.seen_later" for what is dated more than one minute after it.
[[nodiscard]] std::vector<Issue> cross_check(const balloon::Balloon& balloon, const FlightFile& file,
                                             std::optional<Instant> now = std::nullopt);

}  // namespace pappus::text
