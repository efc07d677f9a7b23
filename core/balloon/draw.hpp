/// A cylinder that is being emptied: it cools itself, and its pressure falls with its temperature.
///
/// Liquid, vapour and wall at one temperature, liquid and vapour in balance. What leaves takes its own enthalpy along:
/// the liquid's, and for a draw of vapour the heat of vaporisation on top. What the wall, the liquid and the vapour
/// lose by cooling pays for it. Derived afresh; notation as in the .cpp:
///
///     mass      dM = -dm                            M = m_L + m_V
///     volume    m_L / rho_L + m_V / rho_V = S       the shell does not stretch
///     energy    d(U + C T) = -(h_L + x L) dm        x: the part that leaves as vapour
///     with      U = m_L (h_L - p / rho_L) + m_V (h_L + L - p / rho_V) = M h_L + m_V L - p S
///     so        (M h_L' - S p' + C) dT + d(m_V L) = -x L dm
///
/// For a draw of vapour with little space above the liquid that is dT/dm = -L / (m_L c + C); for one of liquid only the
/// vapour that fills the space left behind has to be boiled.
/// Left out, and small: heat from the air during the flight (a shell follows the air in hours, exchange.hpp; air colder
/// than the liquid cools it further), and what a charge of nitrogen takes for expanding (under 0.3 K at 4 bar).
/// Nothing here says that anyone should warm or charge a cylinder.
#pragma once
#include <optional>
#include <vector>

#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/propane/pressurant.hpp"

namespace pappus::balloon {

using HeatCapacity = Quantity<2, 1, -2, -1>;
inline constexpr HeatCapacity joule_per_kelvin = joule / kelvin;
/// A shell of about 13 kg of aluminium or 25 kg of steel. Ours.
inline constexpr HeatCapacity kUsualWall = 12'000.0 * joule_per_kelvin;
inline constexpr HeatCapacity kHeaviestWall = 100'000.0 * joule_per_kelvin;

/// A closed cylinder before anything is drawn.
struct Contents {
  Volume shell;
  Mass total;  // liquid and vapour
  Temperature temperature;
  HeatCapacity wall = kUsualWall;
  std::optional<Pressure> nitrogen = std::nullopt;  // partial pressure of a charge that somebody has put on
};

struct DrawState {
  Mass drawn;
  Mass liquid, vapour;
  Volume liquid_volume;
  Temperature temperature;
  Pressure saturation;                                         // pure propane, absolute
  std::optional<propane::ChargeLeft> nitrogen = std::nullopt;  // partial pressure now
  /// Of liquid, vapour and wall, above saturated liquid and a wall at 0 C. A check of the balance, no figure for a
  /// pilot.
  Energy internal_energy;
};

/// What can be drawn before the last liquid is gone: its vapour, which fills the whole shell then, stays behind (0.6 kg
/// in 40 l at 15 C). Counted at the temperature at the start; a little more comes out of a cylinder that has cooled.
/// Errors    those of propane::inside_at.
Result<Mass> most_drawn(const Contents& contents);

/// What is left when `drawn` has left as liquid, through the dip tube.
/// Domain    contents that divide into liquid and vapour (errors of propane::inside_at are handed on); a wall of 0 to
///           100 kJ/K ("draw.wall_outside"); drawn from nothing to most_drawn ("draw.drawn_outside"); a charge of 0 to
///           20 bar ("draw.nitrogen_outside") at -30 to 40 C. A draw that cools below -60 C is refused with
///           "propane.temperature_outside". Errc::out_of_range.
/// Accuracy  the balances are closed within 1e-6 of the heat that would boil it all (tests/core/balloon/draw_test.cpp).
///           Real cylinders are not at one temperature: their liquid cools at its surface first.
/// Laws      mass is kept; internal energy before is that after and the enthalpy that has left; drawing more never
///           leaves it warmer, and a heavier wall never colder; vapour cools more than liquid.
/// Source    derived above, from the saturation line and the enthalpy in core/propane.
Result<DrawState> draw_liquid(const Contents& contents, Mass drawn);

/// The same for vapour, as a vapour pilot light draws it.
Result<DrawState> draw_vapour(const Contents& contents, Mass drawn);

/// States on the way from nothing drawn to `drawn`, evenly spaced in it, when a part of what leaves is vapour.
/// Domain    as above; at least two states and at most 1000 ("draw.states_outside"); a vapour share of 0 to 1
///           ("draw.share_outside").
/// Laws      the first is the start, the last is draw_liquid's or draw_vapour's for a share of 0 or 1 within 1e-4 K.
Result<std::vector<DrawState>> draw_states(const Contents& contents, Mass drawn, int states, double vapour_share = 0.0);

}  // namespace pappus::balloon
