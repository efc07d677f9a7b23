/// What a balloon's flights in the book teach: its own heat loss and how much hotter its crown is than the mean.
///
/// Nothing here reads or keeps anything: a history is handed in, and what was learned is a value that lift and heat may
/// take.
#pragma once
#include <cstdint>
#include <vector>

#include "core/balloon/burn.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/book/cylinder_events.hpp"
#include "core/book/learned.hpp"

namespace pappus::book {

/// How far off readings may be, one standard deviation (ours).
struct RecordErrors {
  Mass scale = 0.3 * kilogram;            // of one weighing; a cylinder's burn takes two
  double volume = 0.05;                   // of a volume that a refill took
  TemperatureDelta crown = 3.0 * kelvin;  // of a crown thermometer, and of seeing its hottest moment
  double foretold = 0.05;                 // of the model's figure: masses and temperatures as the flight file had them
  TemperatureDelta mean = 3.0 * kelvin;  // of the mean that the load needed: 3 % of the load are about 2 K, and the air
};

/// What was burnt by weight, of so many cylinders weighed before and after: the scale's error for each weighing, as if
/// independent. Domain: a cylinder at least.
[[nodiscard]] BurntNoted burnt_by_weight(Mass fuel, std::size_t cylinders, const RecordErrors& errors = {});

/// What one flight of the book showed.
struct DatedRecord {
  std::int64_t event = 0;  // its number
  Instant happened;
  FlightRecord record{};
  bool derived = false;  // the burn: from weighings, as nobody noted it
};
struct FlightRecords {
  std::vector<DatedRecord> burn;   // heat loss over the model's
  std::vector<DatedRecord> crown;  // over the mean needed, in kelvins
  int flights = 0;                 // in the book, up to now
  int not_compared = 0;            // with something measured, and nothing foretold to hold it against
};

/// The records among what happened up to and with `now`, in the order of `happened`, then of `number`.
///
/// - burn: 1 + (burnt - foretold) / (foretold's part that goes with the heat lost). Inflation and climbs are heat that
///   goes into the air inside: no loss through the fabric explains them, so what is too much or too little is laid to
///   the loss alone, and balloon::HeatSettings::loss at that figure foretells what was burnt.
/// - a burn that nobody noted is taken from weights where every cylinder open in the flight has one before it and a
///   weighing after it, with no fill and no other flight between. A fill by weight serves as the weight before.
/// - crown: the hottest seen less the mean needed where the load asked most.
/// Laws      the order of the list doesn't matter; what happened after `now` doesn't count; a flight that burnt what
///           was foretold is a record of 1; with errors of nothing a record is the loss that the flight was made with.
[[nodiscard]] FlightRecords flight_records(const std::vector<CylinderEvent>& history, Instant now,
                                           const RecordErrors& errors = {});

inline constexpr double kLeastLoss = 0.3, kMostLoss = 3.0;
inline constexpr double kLeastExcess = -20.0, kMostExcess = 60.0;  // kelvins

/// A balloon's own figures; without records the guess, with the guess's spread.
struct LearnedFigures {
  Learned burn{kBurnRatio.value, kBurnRatio.spread, 0.26925824035672519, 0, {}, false};      // hypot(0.25, 0.10)
  Learned crown{kCrownExcess.value, kCrownExcess.spread, 8.9442719099991588, 0, {}, false};  // hypot(8, 4)
};
/// What no balloon shows is an outlier whatever the others say (ours): a loss outside that of balloon::HeatSettings, a
/// crown more than 20 K colder or 60 K hotter than the mean. Places of outliers are those in the lists of `records`.
/// Errors    those of learn(): a record that is no number.
Result<LearnedFigures> learned_figures(const FlightRecords& records);

/// What lift and heat take of the figures.
struct OwnFigures {
  balloon::HeatSettings heat;
  TemperatureDelta crown_excess;
  TemperatureDelta crown_uncertainty;  // one standard deviation of the next flight's
};
/// `heat` with the balloon's own loss, and with the uncertainty of the next flight, relative to it. A figure that is
/// not yet yours leaves what it would have changed as it was: `heat` and balloon::kCrownExcess, with the guess's
/// spread. A loss outside 0.3 to 3 is handed on, so that level_flow refuses it: records that say so are wrong, and
/// nothing is foretold from them. A crown is not taken as colder than the mean.
/// For core/motion: put `heat` into BodyInputs::heat and leave BodySettings::loss at 1, else the loss counts twice.
[[nodiscard]] OwnFigures own_figures(const LearnedFigures& learned, const balloon::HeatSettings& heat = {});

}  // namespace pappus::book
