/// Evening and dawn: the conditions under which the evening's answer stands, what changed since, and the word for the
/// people who wait.
#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/measure.hpp"
#include "core/base/sentence.hpp"
#include "core/sheet/limit.hpp"

namespace pappus::sheet {

struct Facts;
struct FlightSheet;

/// What a tripwire watches.
enum class Watched {
  surface_wind,
  gust,
  wind_speed,  // at a height
  wind_from,   // at a height
  dew_point_spread,
  visibility,
  cloud_base,
  temperature,
  mass_aboard,  // people with what they bring
};
enum class TripwireState { set, holds, broken, not_known };

/// The kind of amount in which a thing is watched; a true bearing for wind_from.
[[nodiscard]] MeasureKind kind_of(Watched what);
/// Whether it is watched at a height above the field.
[[nodiscard]] bool is_aloft(Watched what);

/// What is chosen where the pilot has set nothing. All ours, but the surface wind (defaults.hpp).
struct TripwireDefaults {
  Length height = 300.0 * metre;            // of the wind watched; the highest planned, if that is lower
  Angle turn = 25.0 * degree;               // of that wind, to either side
  Speed faster = 5.0 * knot;                // of that wind
  Speed steady = 3.0 * knot;                // below it a direction says little: it is not watched
  TemperatureDelta warmer = 25.0 * kelvin;  // that much warmer with the crown still inside: not watched
  Length same_height = 15.0 * metre;        // nearer than that, two tripwires watch one wind
  Duration next_word = 60.0 * minute;       // before lift-off: the people who wait have heard by then
  std::size_t told = 3;                     // conditions told to them
};
inline constexpr TripwireDefaults kTripwireDefaults{};

/// A condition that dawn must still meet.
struct Tripwire {
  Watched what = Watched::surface_wind;
  std::optional<HeightAgl> height;  // for winds aloft
  std::optional<Measure> at_most, at_least;
  std::optional<TrueBearing> from, to;  // clockwise, for wind_from
  bool own = false;                     // written by the pilot; else worked out from the evening's sheet
  std::optional<Measure> evening;       // what it was when the tripwire was set
  std::optional<Measure> now;           // what it is
  TripwireState state = TripwireState::set;
  Sentence condition;  // "surface wind at most 6 kt"
  Sentence finding;
  friend bool operator==(const Tripwire&, const Tripwire&) = default;
};
/// A tripwire's condition in words.
[[nodiscard]] Sentence condition_of(const Tripwire& tripwire);
/// Whether two tripwires watch the same thing: one quantity, and heights less than same_height apart.
[[nodiscard]] bool watch_the_same(const Tripwire& a, const Tripwire& b);

/// What is different from the evening's sheet.
struct Change {
  std::string what;  // a limit's name, "standing", "time", "load", "people_aboard", "cylinder"
  Sentence words;
  std::optional<Measure> before, after;
  bool worse = false;
};

/// One limit of the evening, as far as dawn needs it.
struct EveningLimit {
  std::string name;
  LimitState state = LimitState::not_known;
  std::optional<Measure> value;
  friend bool operator==(const EveningLimit&, const EveningLimit&) = default;
};
/// What dawn knows of the evening: made from a sheet, or read from one that was kept.
struct Evening {
  Moment as_of, time;
  std::string balloon, field;
  Standing standing = Standing::not_known;
  std::vector<EveningLimit> limits;
  std::vector<Tripwire> tripwires;  // set: neither `now` nor a finding
  Mass load;
  int people = 0;
  std::vector<std::string> cylinders;  // whose contents were known
  friend bool operator==(const Evening&, const Evening&) = default;
};
/// Laws      its times are whole seconds, so that what the JSON of the sheet keeps is all of it: read back it is equal.
///           The evening of a sheet that was itself given an evening keeps the first one's tripwires and values.
[[nodiscard]] Evening evening_of(const FlightSheet& sheet);

/// Without an evening: the pilot's own, then those worked out from this sheet, all `set`. Worked out are
///   surface wind   at most the own minimum, else the handbook's figure; never above the manual's launch limit
///   wind aloft     at one height of the profile: a few knots faster at most, and from about where it came
///   spread         where it is known, at least where the limit begins to be near
///   temperature    the warmest, with the whole column as much warmer, that keeps the crown inside its limit
///   mass aboard    what the evening counted and the margin that lift and the gross mass limit left
/// each only where the sheet knows what it needs, and none that watches the same as one of the pilot's own.
///
/// With an evening: the evening's, and those of the pilot's own that the evening did not have, judged by what is known
/// now. A bound that the pilot has moved since does not count: the evening's was told to people.
/// Laws      an unknown never holds; nor does what was last seen before the evening's sheet was made: that is not
///           known. At the bound itself a tripwire holds.
[[nodiscard]] std::vector<Tripwire> tripwires_of(const Facts& facts, const FlightSheet& sheet);

/// What changed since the evening: the standing first, then the worst first. Empty without an evening.
/// Told are a limit's change of state, and a value that moved by at least (ours): wind 2 kt, temperature 1 K, mass
/// 10 kg, time 5 min, pressure of fuel 5 psi, angle 5 degrees, height 50 m, distance a quarter of what it was, a count
/// by anything. The ages of reports move by themselves and are not told, nor is any value twice.
/// Laws      the evening of a sheet and the same sheet: no change. Another state is always told.
[[nodiscard]] std::vector<Change> changes_of(const Facts& facts, const FlightSheet& sheet);

/// The word for the people who wait, without trade words: who, where and when; how it stands; under what conditions, or
/// what became of the evening's; when they hear next. It never says that the flight will take place: the pilot decides.
/// Laws      one to six sentences.
[[nodiscard]] std::vector<Sentence> message_of(const Facts& facts, const FlightSheet& sheet);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Names<sheet::Watched> {
  static constexpr std::array<std::pair<sheet::Watched, std::string_view>, 9> all{
      {{sheet::Watched::surface_wind, "surface_wind"},
       {sheet::Watched::gust, "gust"},
       {sheet::Watched::wind_speed, "wind_speed"},
       {sheet::Watched::wind_from, "wind_from"},
       {sheet::Watched::dew_point_spread, "dew_point_spread"},
       {sheet::Watched::visibility, "visibility"},
       {sheet::Watched::cloud_base, "cloud_base"},
       {sheet::Watched::temperature, "temperature"},
       {sheet::Watched::mass_aboard, "mass_aboard"}}};
};
template <>
struct Names<sheet::TripwireState> {
  static constexpr std::array<std::pair<sheet::TripwireState, std::string_view>, 4> all{
      {{sheet::TripwireState::set, "set"},
       {sheet::TripwireState::holds, "holds"},
       {sheet::TripwireState::broken, "broken"},
       {sheet::TripwireState::not_known, "not_known"}}};
};
template <>
struct Description<sheet::Tripwire> {
  static constexpr std::string_view name = "Tripwire";
  static constexpr auto fields =
      Fields{field("what", &sheet::Tripwire::what, "what is watched"),
             field("height", &sheet::Tripwire::height, "at this height above the field"),
             field("at_most", &sheet::Tripwire::at_most, "holds up to this"),
             field("at_least", &sheet::Tripwire::at_least, "holds from this on"),
             field("from", &sheet::Tripwire::from, "holds from this direction, clockwise"),
             field("to", &sheet::Tripwire::to, "to this one"),
             field("own", &sheet::Tripwire::own, "written by the pilot"),
             field("evening", &sheet::Tripwire::evening, "what it was in the evening"),
             field("now", &sheet::Tripwire::now, "what it is"),
             field("state", &sheet::Tripwire::state, "set in the evening; holds, broken or not known at dawn"),
             field("condition", &sheet::Tripwire::condition, "in words"),
             field("finding", &sheet::Tripwire::finding, "what was found, in words")};
};
template <>
struct Description<sheet::Change> {
  static constexpr std::string_view name = "Change";
  static constexpr auto fields =
      Fields{field("what", &sheet::Change::what, "what changed"), field("words", &sheet::Change::words, "in words"),
             field("before", &sheet::Change::before, "in the evening"), field("after", &sheet::Change::after, "now"),
             field("worse", &sheet::Change::worse, "speaks more against flying")};
};
}  // namespace pappus
