/// What is sold as propane is a mix: its pressure at a temperature, and the temperature that a gauge tells.
///
/// Pressure follows the temperature of the liquid and says nothing about how much there is.
#pragma once
#include <optional>

#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::propane {

/// Mole fractions of the liquid; they must sum to 1 within 0.001.
struct Mix {
  double propane = 1.0, propylene = 0.0, ethane = 0.0, isobutane = 0.0, butane = 0.0;
};

/// Absolute pressure at which the liquid begins to boil, by Raoult's law over the pure components.
/// Domain    -40 to 50 C ("propane.temperature_outside"); fractions not below zero whose sum is 1 ("propane.mix_sum");
///           else Errc::out_of_range.
/// Accuracy  within 4 % of a multi-fluid model's rows (tests/data/mix_pressure.csv). Worst with ethane, which is beyond
///           its critical point above 32 C: its line is drawn on as ln p against 1/T.
/// Laws      of pure propane it is saturation_at's pressure; rises with temperature; more ethane never lowers it, more
///           butane never raises it.
/// Source    propane: saturation.hpp. Others: the equation ln(p/pc) = (A x + B x^1.5 + C x^3 + D x^6) / (1 - x), x = 1 -
///           T/Tc, of R. C. Reid, J. M. Prausnitz and B. E. Poling, The Properties of Gases and Liquids, 4th ed.
///           (McGraw-Hill 1987), appendix A; constants from memory, held against boiling points and the handbook's table
///           of butane (tests/data/mix_pure.csv).
Result<Pressure> bubble_pressure(const Mix& mix, Temperature t);

/// Pressures between which a cylinder may stand: 4 % about a stated mix, 5 % below to 20 % above pure propane if nothing
/// is stated (ours, from plausible mixes). Ethane leaves first, so the excess fades as vapour is drawn.
struct PressureBand {
  Pressure low, best, high;
};
Result<PressureBand> pressure_band(const std::optional<Mix>& mix, Temperature t);

/// Temperatures of the liquid that a gauge's reading allows.
struct TemperatureBand {
  Temperature low, best, high;
};
/// The same the other way round, with the gauge's error (3 psi, ours) added at either end. Beyond -40 and 50 C the band
/// ends there.
/// Domain    absolute pressures that fall into -40 to 50 C for the best estimate ("propane.pressure_outside").
/// Laws      holds the true temperature for any mix whose pressure lies in pressure_band.
Result<TemperatureBand> liquid_temperature(GaugePressure shown, Pressure ambient, const std::optional<Mix>& mix,
                                           Pressure gauge_error = 3.0 * pound_per_square_inch);

}  // namespace pappus::propane
