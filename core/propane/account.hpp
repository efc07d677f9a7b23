/// What a cylinder holds, accounted for: at least, best, at most, from whatever is known of it; and the one test that would
/// narrow it most.
///
/// A dial is blind beyond its span, "full" is proven by the level valve or a scale, and pressure tells the temperature of
/// the liquid and nothing of its quantity. Evidence comes in any order and number. What is not known stays wide, and
/// evidence that cannot all be true is told and widens the answer: a balloon's fuel is never made out of a wish.
#pragma once
#include <array>
#include <optional>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/mix.hpp"
#include "core/propane/shell.hpp"

namespace pappus::propane {

struct Vessel {
  Volume shell;
  Volume level_fill;  // liquid when the level valve spits, in the tube's own attitude
  Mass tare;
  std::optional<double> gauge_span = std::nullopt;  // where the dial ends, as a fraction of what it reads
  GaugeReads gauge_reads = GaugeReads::shell;
};

/// How far off people and their instruments may be (ours, until a cylinder has its own). Taken as bounds.
struct ReadingErrors {
  double dial = 0.05;         // of the span
  double level_valve = 0.02;  // of the level fill
  Mass scale = 0.3 * kilogram;
  double minutes = 0.25;  // of what minutes of burning draw
  double volume = 0.05;   // of a volume said to be drawn
  TemperatureDelta thermometer = 1.0 * kelvin;
  Pressure gauge = 3.0 * pound_per_square_inch;
};

/// The last fill that is on record, and how it was proven.
struct Filled {
  Temperature coldest, warmest;                // of the liquid then; equal when it was measured
  std::optional<Mass> weighed = std::nullopt;  // cylinder and all; absent: filled until the level valve spat
};

/// Taken out since, on record.
struct Drawn {
  Mass mass;
  double error = 0.0;  // relative, a bound
};

enum class Valve { liquid, vapour };
/// A dial: a fraction as it reads, or against one of its ends, where it is blind.
struct Dial {
  enum class At { reading, top, bottom };
  At at = At::reading;
  double fraction = 0.0;
};

/// Everything known of one cylinder.
struct Evidence {
  std::optional<Filled> filled = std::nullopt;
  std::vector<Drawn> drawn = {};
  bool used_since =
      false;  // flown with since the fill and nothing recorded: used, not refilled, as far as anyone knows
  std::optional<Temperature> temperature = std::nullopt;       // of the liquid, now
  std::optional<GaugePressure> gauge_pressure = std::nullopt;  // now
  Pressure ambient = standard_atmosphere;
  bool charged = false;  // with a pressurant: pressure then tells no temperature
  std::optional<Mix> mix = std::nullopt;
  std::optional<Valve> valve = std::nullopt;   // now
  bool tube_attitude = true;                   // it stood or lay as its tube is cut for
  std::optional<Dial> dial = std::nullopt;     // now
  std::optional<Mass> weighed = std::nullopt;  // now, cylinder and all
};

/// The kinds of evidence that speak of the quantity.
enum class Witness { fill, valve, dial, weight };
/// Tests that could be made now.
enum class NextTest { none, level_valve, gauge, weigh };

struct Contradiction {
  Witness a, b;  // can't both be true; equal when one can't be true by itself
  Sentence words;
};

struct Account {
  Mass mass_low, mass_best, mass_high;          // liquid and vapour
  Volume liquid_low, liquid_best, liquid_high;  // at its temperature now
  Temperature coldest, warmest;                 // of the liquid now
  bool temperature_known = false;
  std::vector<Contradiction> contradictions;
  std::vector<Sentence> reasons;  // for a crew, in the order in which they count
  NextTest next_test = NextTest::none;
  bool proven_full = false;  // liquid at the valve or weighed to be: at least the level fill less its error
  PlateCheck plate;
};

/// Domain    a shell of 1 to 500 litres and a level fill within it ("propane.liquid_outside"), fill temperatures from
///           -40 to 50 C and in order ("propane.temperature_outside"), a span above 0 and up to 1
///           ("propane.span_outside"); else Errc::out_of_range. Without a temperature and a gauge the liquid is taken to
///           be between -20 and 45 C.
/// Accuracy  holds the truth whenever every reading lies within its error (tests/core/propane/account_test.cpp).
/// Laws      low <= best <= high; one more piece of evidence that agrees never widens the answer; liquid_low is
///           not above liquid_high; contradictions are symmetric and never narrow what is said.
Result<Account> account(const Vessel& vessel, const Evidence& evidence, const ReadingErrors& errors = {});

}  // namespace pappus::propane

namespace pappus {
template <>
struct Names<propane::NextTest> {
  static constexpr std::array<std::pair<propane::NextTest, std::string_view>, 4> all{
      {{propane::NextTest::none, "none"},
       {propane::NextTest::level_valve, "level_valve"},
       {propane::NextTest::gauge, "gauge"},
       {propane::NextTest::weigh, "weigh"}}};
};
template <>
struct Names<propane::Witness> {
  static constexpr std::array<std::pair<propane::Witness, std::string_view>, 4> all{
      {{propane::Witness::fill, "fill"},
       {propane::Witness::valve, "valve"},
       {propane::Witness::dial, "dial"},
       {propane::Witness::weight, "weight"}}};
};
template <>
struct Names<propane::Valve> {
  static constexpr std::array<std::pair<propane::Valve, std::string_view>, 2> all{
      {{propane::Valve::liquid, "liquid"}, {propane::Valve::vapour, "vapour"}}};
};
}  // namespace pappus
