/// What follows from a morning by arithmetic, worked out once and read by every limit and section.
///
/// A fact that cannot be worked out carries the reason instead of a value, so that the limit that needs it can say what
/// is missing.
#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/air/altimetry.hpp"
#include "core/air/column.hpp"
#include "core/balloon/burn.hpp"
#include "core/balloon/lift.hpp"
#include "core/balloon/remedy.hpp"
#include "core/base/issue.hpp"
#include "core/book/due.hpp"
#include "core/book/flight_records.hpp"
#include "core/propane/saturation.hpp"
#include "core/sheet/cylinders.hpp"
#include "core/sheet/flight_sheet.hpp"
#include "core/sheet/morning.hpp"
#include "core/sky/sun.hpp"
#include "core/wind/profile.hpp"

namespace pappus::sheet {

/// Which of the flight's sources: its place in the list of its kind. Facts::ladders for ladders.
enum class SourceList { typed, report, ladder, look };
struct SourceRef {
  SourceList list = SourceList::typed;
  std::size_t index = 0;
  friend bool operator==(SourceRef, SourceRef) = default;
};

/// A value with where it came from.
template <class T>
struct Sourced {
  T value;
  Instant time;
  std::string name;
  SourceRef from = {};
  bool forecast = false;
};

/// A pilot balloon and what its sights say.
struct PibalFacts {
  const PibalSeen* seen = nullptr;
  std::optional<wind::pibal::Reduction> reduction;  // none where no call serves
};

/// `morning` must outlive it.
struct Facts {
  explicit Facts(const Morning& m) : morning{m}, own{book::own_figures(m.learned.value_or(book::LearnedFigures{}))} {}
  Facts(const Facts&) = delete;  // newest_ladder points into ladders
  Facts(Facts&&) = default;
  const Morning& morning;
  book::OwnFigures own;  // the balloon's heat loss and crown, or the model's

  /// The flight's, then those of its pilot balloons, one for each, in their order.
  std::vector<wind::Ladder> ladders;
  std::vector<PibalFacts> pibals;
  /// At the ground. What was observed counts before a forecast; the later before the earlier, be it a report, a ladder
  /// or a look; of forecasts the one nearer to lift-off.
  std::optional<Sourced<Pressure>> qnh;
  std::optional<Sourced<Temperature>> temperature;  // at the field
  std::optional<Sourced<Temperature>> dew_point;
  std::optional<Sourced<Speed>> surface_wind;
  const wind::SurfaceReport* newest_report = nullptr;
  /// Of the ladders with a wind, the one that counts first (WindProfile::from).
  const wind::Ladder* newest_ladder = nullptr;

  Result<Pressure> station_pressure = fail(Errc::no_data, say("fact.qnh_missing"));
  wind::WindProfile winds;
  /// One column where temperatures aloft are known; else two, a standard lapse and an inversion.
  Result<std::vector<air::AirColumn>> columns = fail(Errc::no_data, say("fact.temperature_missing"));
  bool temperature_aloft_assumed = false;
  std::vector<CylinderFacts> cylinders;
  LoadSheet load;
  bool load_known = false;  // every cylinder's contents are known; else the load counts them as full
  Result<balloon::FlightLift> lift = fail(Errc::no_data, say("fact.temperature_missing"));
  Result<balloon::FlightFuel> fuel = fail(Errc::no_data, say("fact.temperature_missing"));
  /// Of what is in the cylinders at least, and at most: where both are the same, once.
  Result<balloon::Reserves> reserves = fail(Errc::no_data, say("fact.fuel_missing"));
  std::optional<balloon::Reserves> reserves_at_most;
  std::vector<book::Due> dates;  // what has to be current; without a set of rules only the cylinders
  Result<sky::SunDay> sun = fail(Errc::no_data, say("fact.sun_missing"));

  [[nodiscard]] std::optional<AltitudeAmsl> highest() const;
  /// Who looks at the sun: at the field, with its pressure and temperature where they are known.
  [[nodiscard]] sky::Observer observer() const;
  [[nodiscard]] Moment local(Instant t) const { return Moment{t, morning.as_of.offset}; }
  [[nodiscard]] Duration age(Instant seen) const { return morning.as_of.at - seen; }
};

[[nodiscard]] Facts facts_of(const Morning& morning);

/// One column up to `top` where temperatures aloft are known, else one for each way of assuming them; all of the air
/// cooler by `cooler`.
/// Errors    "fact.qnh_missing", "fact.temperature_missing", that of the station's pressure; those of the column.
[[nodiscard]] Result<std::vector<air::AirColumn>> columns_up_to(const Facts& facts, AltitudeAmsl top,
                                                                TemperatureDelta cooler = {});

/// The flight with something changed, as far as lift and fuel are concerned. `facts` must outlive it.
struct Replanned {
  std::vector<air::AirColumn> columns;
  AltitudeAmsl highest;
  Mass carried;
  Duration planned;
  const balloon::Envelope* envelope = nullptr;
  book::OwnFigures own;
  bool hot = false;
  [[nodiscard]] Result<balloon::FlightLift> lift() const;
  [[nodiscard]] Result<balloon::FlightFuel> fuel() const;
};
/// The load after a change. A cylinder that stays takes its contents with it.
[[nodiscard]] Mass carried_after(const Facts& facts, const balloon::Change& change);
/// Errors    those of facts.columns.
/// Laws      with nothing changed its lift and fuel are facts.lift and facts.fuel.
[[nodiscard]] Result<Replanned> replanned(const Facts& facts, const balloon::Change& change);
/// What is in each cylinder, at least or at most, and how much of it can be used; none where nothing is known of the
/// contents of one.
enum class Counted { at_least, at_most };
[[nodiscard]] std::optional<std::vector<balloon::CylinderFuel>> cylinder_fuel(const Facts& facts,
                                                                              Counted counted = Counted::at_least);

/// Level flight to land with, on each independent side, where the pilot has no minimum; and what is held to: the own
/// minimum, else that.
[[nodiscard]] Duration usual_reserve(const Facts& facts);
[[nodiscard]] Duration reserve_held_to(const Facts& facts);

/// A ladder row this close to the ground speaks of the surface.
inline constexpr Length kSurfaceLayer = 15.0 * metre;

/// The wind that a look speaks of: the speed noted, or the upper figure of the sign noted (core/wind/by_eye.hpp).
[[nodiscard]] std::optional<Speed> wind_of(const Look& look);

/// A forecast for fixed heights goes on to where no balloon flies: of the winds by height those are shown that reach
/// kShownAbove over the highest height flown, and at least one that reaches it. None where that height is not known.
inline constexpr Length kShownAbove = 500.0 * metre;
[[nodiscard]] std::optional<AltitudeAmsl> highest_shown(const Facts& facts);

/// Of each aerodrome the forecast issued last, be it a cancelled one; of two of one time the later in the list.
[[nodiscard]] std::vector<const wind::Forecast*> newest_forecasts(const Flight& flight);

}  // namespace pappus::sheet
