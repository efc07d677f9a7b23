/// What a burner gives at the pressure and height at hand, and what fuel that takes.
///
/// The figures are for planning: a burner's own flight manual, and the pilot who hears it, know better.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::balloon {

using VolumeFlow = Quantity<3, 0, -1, 0>;
using HeatPerVolume = Quantity<-1, 1, -2, 0>;

inline constexpr Energy btu = 1055.05585262 * joule;  // International Table, exact
/// What the handbook counts a gallon of propane as, higher heating value.
/// Source    FAA-H-8083-11B fig. 7-1 (91,600 Btu per US gallon).
inline constexpr HeatPerVolume kHandbookHeatPerVolume = 91'600.0 * (btu / us_gallon);
/// The pressure for which a burner's power is stated.
inline constexpr GaugePressure kRatedPressure = GaugePressure::at(110.0 * pound_per_square_inch);
inline constexpr GaugePressure kHighestBurnerPressure = GaugePressure::at(375.0 * pound_per_square_inch);

/// The handbook's own arithmetic: liquid burned for a power, by volume.
/// Source    FAA-H-8083-11B fig. 7-1: 18.5 million Btu/h come to 201.96 gal/h.
[[nodiscard]] constexpr VolumeFlow handbook_flow(Power higher) { return higher / kHandbookHeatPerVolume; }

struct BurnerAt {
  Power rated;             // higher heating value, at kRatedPressure
  GaugePressure pressure;  // at the burner, over the air around it
  Temperature liquid;      // as it comes out of the cylinder
  PressureAltitude altitude;
};

struct BurnerOutput {
  Power low, best, high;  // higher heating value, valve fully open
  MassFlow flow;          // liquid, for `best`
  double left = 1.0;      // of the output at sea level, for the height alone
};

/// Domain    rated above nothing and to 30 MW ("burner.rated_outside"); 0 to 375 psi ("burner.pressure_outside");
///           liquid of -40 to 60 C ("burner.liquid_outside"); heights of burner_output_left. Else Errc::out_of_range.
/// Accuracy  no measurement was found: the band is between two laws, which are 26 % apart at 60 psi.
/// Laws      low <= best <= high; all are `rated` at 110 psi, at sea level and below, with the liquid that has this
///           pressure there; more pressure or less height never gives less.
/// Source    `best`: an orifice that liquid is pushed through, sqrt(density x pressure over the air around) (ours). The
///           other end of the band: in proportion to pressure, as the handbook (FAA-H-8083-11A) calls it. Both less 4 %
///           for each 1,000 ft (burner_output_left).
Result<BurnerOutput> burner_output(const BurnerAt& at);

}  // namespace pappus::balloon
