/// Evening and dawn: the conditions under which the evening's answer stands, what changed since, and the word for the
/// people who wait.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
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
};

/// What is different from the evening's sheet.
struct Change {
  std::string what;  // a limit's name, "standing", "load", "people", ...
  Sentence words;
  std::optional<Measure> before, after;
  bool worse = false;
};

/// One limit of the evening, as far as dawn needs it.
struct EveningLimit {
  std::string name;
  LimitState state = LimitState::not_known;
  std::optional<Measure> value;
};
/// What dawn knows of the evening: made from a sheet, or read from one that was kept.
struct Evening {
  Moment as_of, time;
  std::string balloon, field;
  Standing standing = Standing::not_known;
  std::vector<EveningLimit> limits;
  std::vector<Tripwire> tripwires;
  Mass load;
  int people = 0;
  std::vector<std::string> cylinders;  // whose contents were known
};
[[nodiscard]] Evening evening_of(const FlightSheet& sheet);

/// The tripwires that this morning's facts set, the pilot's own first; with an evening, the evening's, judged now.
[[nodiscard]] std::vector<Tripwire> tripwires_of(const Facts& facts, const FlightSheet& sheet);
/// What changed since the evening, the worst first. Empty without one.
[[nodiscard]] std::vector<Change> changes_of(const Facts& facts, const FlightSheet& sheet);
/// The word for the people who wait: when, where, whether it stands, under what conditions, when they hear next.
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
      std::tuple{field("what", &sheet::Tripwire::what, "what is watched"),
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
  static constexpr auto fields = std::tuple{
      field("what", &sheet::Change::what, "what changed"), field("words", &sheet::Change::words, "in words"),
      field("before", &sheet::Change::before, "in the evening"), field("after", &sheet::Change::after, "now"),
      field("worse", &sheet::Change::worse, "speaks more against flying")};
};
}  // namespace pappus
