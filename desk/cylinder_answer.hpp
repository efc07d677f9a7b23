/// `pappus cylinder`: what one cylinder holds, from whatever is known of it.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/propane/account.hpp"
#include "core/sheet/limit.hpp"
#include "desk/ports.hpp"
#include "desk/store.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::desk {

/// The air around a cylinder until a time from now.
struct AirUntil {
  Temperature air;
  Duration until;
};

struct CylinderQuestion {
  // One of a balloon file, or its figures.
  std::optional<std::string> balloon_file = std::nullopt;
  std::optional<std::string> cylinder = std::nullopt;  // its id
  std::optional<Volume> shell = std::nullopt, level_fill = std::nullopt;
  std::optional<Mass> tare = std::nullopt;
  std::optional<double> gauge_span = std::nullopt;
  std::optional<propane::GaugeReads> gauge_reads = std::nullopt;
  // What is known of it.
  std::optional<propane::Filled> filled = std::nullopt;
  std::vector<Volume> drawn = {};
  std::vector<Duration> burned = {};                   // drawn, as minutes of level flight on this cylinder
  std::optional<text::FuelFlow> flow = std::nullopt;   // of level flight
  std::optional<Duration> flown_since = std::nullopt;  // with no fill recorded
  std::optional<Temperature> temperature = std::nullopt;
  std::optional<GaugePressure> gauge_pressure = std::nullopt;
  Pressure ambient = standard_atmosphere;
  bool charged = false;
  std::optional<propane::Mix> mix = std::nullopt;
  std::optional<propane::Valve> valve = std::nullopt;
  bool other_attitude = false;
  std::optional<propane::Dial> dial = std::nullopt;
  std::optional<Mass> weighed = std::nullopt;
  // What becomes of it.
  std::vector<AirUntil> air = {};                      // in order of time
  std::optional<GaugePressure> relief = std::nullopt;  // of its valve
  std::optional<Pressure> charge = std::nullopt;  // already made: above propane's own, right after, at `temperature`
  std::optional<Volume> charged_with = std::nullopt;  // liquid then; absent: as accounted for
  // What is remembered of it: of a balloon's cylinder only. Without a name the balloon's own book, if there is one.
  std::optional<std::string> book = std::nullopt;
  bool no_book = false;
  std::optional<Moment> now = std::nullopt;
};

struct CylinderAnswer {
  Mass mass_low, mass_best, mass_high;
  Volume liquid_volume_low, liquid_volume_best, liquid_volume_high;
  Temperature temperature_low, temperature_high;
  GaugePressure gauge_pressure;  // to be expected, or as read
  GaugePressure gauge_pressure_low, gauge_pressure_high;
  sheet::LimitState pressure_state = sheet::LimitState::not_known;
  std::optional<Temperature> liquid_full_temperature;  // if it holds the most it can; null: not below 76 C
  std::optional<Temperature> relief_temperature;       // null: not known, or not from -40 to 70 C
  std::optional<TemperatureDelta> margin, margin_air;  // to the first of the two, from now and from the warmest air
  std::optional<Temperature> temperature_then_low, temperature_then, temperature_then_high;
  std::optional<GaugePressure> gauge_pressure_then_low, gauge_pressure_then, gauge_pressure_then_high;
  std::optional<Volume> liquid_volume_then_low, liquid_volume_then, liquid_volume_then_high;
  std::optional<Pressure> charge_now_low, charge_now_high, charge_half_low, charge_half_high, charge_end_low,
      charge_end_high;
  std::vector<Sentence> cautions;
  bool proven_full = false;
  std::vector<Sentence> contradictions, reasons;
  propane::NextTest next_test = propane::NextTest::none;
  Sentence next;
  std::vector<Sentence> notes;
  std::optional<std::string> book;  // the file that was used
};

/// A volume said to be drawn, as mass: its liquid was somewhere between two temperatures, and the spread of density
/// goes into the error.
Result<propane::Drawn> drawn_by_volume(Volume drawn, Temperature coldest, Temperature warmest);

/// The book's memory comes first and what the call says is later: a fill in the call takes the place of the one that is
/// remembered, with all that was drawn since; a draw or a flight in the call adds to what is remembered.
/// A book that nobody named and that isn't there is no error, nor is `stores` of none; the notes say so.
/// Errors: what is missing of the figures (bad_call), a file or an id that is not there, and those of account() and of
/// the book.
Parsed<CylinderAnswer> answer(const CylinderQuestion& question, const Files& files, const Clock& clock,
                              const Stores* stores);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Description<desk::CylinderAnswer> {
  using A = desk::CylinderAnswer;
  static constexpr std::string_view name = "CylinderAnswer";
  static constexpr auto fields =
      Fields{field("mass_low", &A::mass_low, "liquid and vapour, at least"),
             field("mass_best", &A::mass_best, "best estimate"),
             field("mass_high", &A::mass_high, "at most"),
             field("liquid_volume_low", &A::liquid_volume_low, "liquid at its temperature now, at least"),
             field("liquid_volume_best", &A::liquid_volume_best, "best estimate"),
             field("liquid_volume_high", &A::liquid_volume_high, "at most"),
             field("temperature_low", &A::temperature_low, "of the liquid, coldest"),
             field("temperature_high", &A::temperature_high, "of the liquid, warmest"),
             field("gauge_pressure", &A::gauge_pressure, "to be expected, or as read"),
             field("gauge_pressure_low", &A::gauge_pressure_low, "least, over mix and temperature"),
             field("gauge_pressure_high", &A::gauge_pressure_high, "most, over mix and temperature"),
             field("pressure_state", &A::pressure_state, "by the flight manual's range, else by common practice"),
             field("liquid_full_temperature", &A::liquid_full_temperature,
                   "where the most it can hold fills the shell; null: not below 76 C"),
             field("relief_temperature", &A::relief_temperature,
                   "where its pressure may open the relief valve; null: not known, or not up to 70 C"),
             field("margin", &A::margin, "from the warmest it may be now to the first of these two"),
             field("margin_air", &A::margin_air, "from the warmest of the air to come; null: no air told"),
             field("temperature_then_low", &A::temperature_then_low, "of the liquid when the air told ends"),
             field("temperature_then", &A::temperature_then, "best estimate"),
             field("temperature_then_high", &A::temperature_then_high, "at most"),
             field("gauge_pressure_then_low", &A::gauge_pressure_then_low,
                   "least, over mix and temperature; null: liquid may fill the shell then"),
             field("gauge_pressure_then", &A::gauge_pressure_then, "best estimate"),
             field("gauge_pressure_then_high", &A::gauge_pressure_then_high, "at most"),
             field("liquid_volume_then_low", &A::liquid_volume_then_low, "the same mass, at its temperature then"),
             field("liquid_volume_then", &A::liquid_volume_then, "best estimate"),
             field("liquid_volume_then_high", &A::liquid_volume_then_high, "at most"),
             field("charge_now_low", &A::charge_now_low, "what is left of a charge: dissolved as far as it can"),
             field("charge_now_high", &A::charge_now_high, "or not at all"),
             field("charge_half_low", &A::charge_half_low, "with half of the liquid drawn"),
             field("charge_half_high", &A::charge_half_high, "at most"),
             field("charge_end_low", &A::charge_end_low, "with 95 % of the liquid drawn"),
             field("charge_end_high", &A::charge_end_high, "at most"),
             field("cautions", &A::cautions, "what to beware of"),
             field("proven_full", &A::proven_full, "liquid at the valve or the weight shows a full fill"),
             field("contradictions", &A::contradictions, "what can't all be true"),
             field("reasons", &A::reasons, "how the figures came about"),
             field("next_test", &A::next_test, "the one test that narrows most"),
             field("next", &A::next, "the same in words"),
             field("notes", &A::notes, "to be read with the figures"),
             field("book", &A::book, "the book whose memory was used; null: none")};
};
}  // namespace pappus
