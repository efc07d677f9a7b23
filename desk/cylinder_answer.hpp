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
#include "desk/ports.hpp"
#include "desk/store.hpp"

namespace pappus::desk {

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
  std::optional<Duration> flown_since = std::nullopt;  // with no fill recorded
  std::optional<Temperature> temperature = std::nullopt;
  std::optional<GaugePressure> gauge_pressure = std::nullopt;
  Pressure ambient = standard_atmosphere;
  bool charged = false;
  std::optional<propane::Valve> valve = std::nullopt;
  bool other_attitude = false;
  std::optional<propane::Dial> dial = std::nullopt;
  std::optional<Mass> weighed = std::nullopt;
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
  std::optional<Temperature> liquid_full_temperature;  // if it holds the most it can; null: not below 76 C
  bool proven_full = false;
  std::vector<Sentence> contradictions, reasons;
  propane::NextTest next_test = propane::NextTest::none;
  Sentence next;
  std::vector<Sentence> notes;
  std::optional<std::string> book;  // the file that was used
};

/// The figures of a balloon's cylinder as account() takes them.
[[nodiscard]] propane::Vessel vessel_of(const balloon::Cylinder& cylinder);
/// A volume said to be drawn, as mass: its liquid was somewhere between two temperatures, and the spread of density goes
/// into the error.
Result<propane::Drawn> drawn_by_volume(Volume drawn, Temperature coldest, Temperature warmest);

/// The book's memory comes first and what the call says is later: a fill in the call takes the place of the one that is
/// remembered, with all that was drawn since; a draw or a flight in the call adds to what is remembered.
/// A book that nobody named and that isn't there is no error, nor is `stores` of none; the notes say so.
/// Errors: what is missing of the figures (bad_call), a file or an id that is not there, and those of account() and of the book.
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
             field("liquid_full_temperature", &A::liquid_full_temperature,
                   "where the most it can hold fills the shell; null: not below 76 C"),
             field("proven_full", &A::proven_full, "liquid at the valve or the weight shows a full fill"),
             field("contradictions", &A::contradictions, "what can't all be true"),
             field("reasons", &A::reasons, "how the figures came about"),
             field("next_test", &A::next_test, "the one test that narrows most"),
             field("next", &A::next, "the same in words"),
             field("notes", &A::notes, "to be read with the figures"),
             field("book", &A::book, "the book whose memory was used; null: none")};
};
}  // namespace pappus
