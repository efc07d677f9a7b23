/// A closed cylinder as the day warms: where its own pressure meets the relief valve, with a charge of nitrogen or
/// without.
///
/// The other end of its margin, liquid from wall to wall, is fill.hpp's liquid_full_temperature. Nothing here says that
/// anyone should warm or charge a cylinder.
#pragma once
#include <optional>

#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/propane/mix.hpp"
#include "core/propane/pressurant.hpp"

namespace pappus::propane {

/// The most that a charge may add at another temperature: nothing drawn, nothing dissolved, an ideal gas in the space
/// that the liquid leaves.
/// Domain    a liquid below the shell ("propane.liquid_outside"), temperatures of saturation_at; a liquid that fills
///           the shell there gives "propane.liquid_full". Else Errc::out_of_range.
/// Laws      at the charge's own temperature it is the charge; rises with temperature where the liquid grows.
Result<Pressure> charge_at_most(const Charge& charge, Temperature t);

/// The coldest temperature at which the cylinder may open its relief valve: the upper band of the mix, and the most of
/// the charge on top.
/// Domain    answers from -40 to 70 C; a valve that would be open below that or not even there gives Errc::out_of_range
///           ("propane.relief_outside"). A charged cylinder is answered for up to where its liquid fills the shell.
/// Accuracy  above 50 C a mix is taken to rise as pure propane does (ours; not held against rows of a model there).
/// Laws      a higher relief pressure never gives a lower temperature, a charge never a higher one.
Result<Temperature> relief_temperature(GaugePressure relief, Pressure ambient, const std::optional<Mix>& mix,
                                       const std::optional<Charge>& charge = std::nullopt);

}  // namespace pappus::propane
