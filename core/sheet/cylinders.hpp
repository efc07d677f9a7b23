/// What is in each cylinder on a morning: the pilot's figures and readings, and what the book remembers.
#pragma once
#include <optional>
#include <string>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/book/cylinder_events.hpp"
#include "core/propane/account.hpp"
#include "core/propane/saturation.hpp"
#include "core/sheet/morning.hpp"

namespace pappus::sheet {

/// Gauge pressures between which a cylinder will stand when the burner is lit, over the mix and the liquid's
/// temperature.
struct PressureExpected {
  GaugePressure low, best, high;
  bool read = false;  // the gauge's own, with its error
};

/// One cylinder of the balloon with what is thought to be in it.
struct CylinderFacts {
  const balloon::Cylinder* cylinder = nullptr;
  const book::CylinderMemory* memory = nullptr;  // none: nothing on record
  std::optional<Temperature> temperature;        // of the liquid at lift-off: given, read from the gauge, or reckoned
  bool temperature_assumed = false;              // density was taken at the air's temperature instead
  bool temperature_reckoned = false;             // it followed the air since it was noted, or stood in the open
  std::optional<PressureExpected> pressure;      // none: not known
  /// Liquid at least, best and at most: all there or all absent. The same three times for a figure that nobody proved.
  std::optional<Volume> liquid_low, liquid, liquid_high;
  std::optional<Mass> mass_low, mass, mass_high;
  std::optional<Instant> seen;
  std::optional<propane::Account> account;  // where there is evidence, or a book that speaks of it
  bool open = false;                        // used and not refilled as far as anyone knows: the figures are bounds only
  propane::PlateCheck plate;
  std::vector<Sentence> words;  // how it came about, for a crew
};

/// One for each of the balloon's cylinders, in their order. `air` and `station_pressure`: at the field; none: not
/// known.
///
/// What was read later counts: a figure or reading of before the book's last entry is left aside, and said to be. A
/// figure without a reading is no proof: where the book says "used, not refilled", or allows less, it does not count;
/// of less than the evidence allows it counts as the least, and the most stays what it was.
/// A temperature noted more than two hours before lift-off follows the air since (core/propane/exchange.hpp), taken to
/// be all the time as it is now: on the cold side of a night. What was measured by volume keeps its density.
/// Laws      low <= best <= high; without evidence and without a book the three are the pilot's figure.
[[nodiscard]] std::vector<CylinderFacts> cylinders_of(const Morning& morning, const std::optional<Temperature>& air,
                                                      const std::optional<Pressure>& station_pressure);

/// What an unknown cylinder is counted as in the load: its level fill of cold propane. It may be full.
[[nodiscard]] Mass heaviest_contents(const balloon::Cylinder& cylinder);

}  // namespace pappus::sheet
