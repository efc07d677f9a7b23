/// A charge of nitrogen that somebody has already put on a cylinder: what becomes of it as liquid is drawn and as it
/// dissolves.
///
/// Nothing here says that anyone should charge a cylinder. What is shown are bounds: how fast nitrogen dissolves depends
/// on how the cylinder is moved, so the gauge is read again after the drive. A cylinder with a vapour pilot light must
/// not have a charge.
#pragma once
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::propane {

/// Partial pressure of nitrogen per mole fraction dissolved in liquid propane.
/// Domain    -30 to 40 C; else Errc::out_of_range ("propane.temperature_outside").
/// Accuracy  3 % (model); to mole fractions of about 0.01.
/// Source    a parabola through the nitrogen and propane pair of the GERG-2008 mixture model (O. Kunz and W. Wagner, J.
///           Chem. Eng. Data 57 (2012) 3032); rows in tests/data/nitrogen.csv.
Result<Pressure> nitrogen_henry(Temperature t);

/// The charge as it was put on: above propane's own pressure.
struct Charge {
  Volume shell;
  Volume liquid;           // when it was charged
  Temperature at;          // of the liquid, and taken to stay so
  Pressure nitrogen;       // partial pressure right after
  bool saturated = false;  // it has long stood so and was topped up: the liquid holds what it can
};

/// Partial pressure of nitrogen when less liquid is left: in balance with the liquid at all times, or with nothing
/// dissolving and nothing coming out, whichever is less and more.
struct ChargeLeft {
  Pressure low, high;
};
/// Domain    liquid from `left` to the shell ("propane.liquid_outside"); else Errc::out_of_range.
/// Laws      with nothing drawn, high is the charge, and so is low if the liquid was saturated; both fall as liquid goes.
/// Source    ideal gas and Henry's law. Dissolved nitrogen leaves with the liquid that is drawn: dp/p = dV / (S - V(1 -
///           c)), c = liquid density R T / (molar mass H), S shell, V liquid.
Result<ChargeLeft> charge_left(const Charge& charge, Volume left);

}  // namespace pappus::propane
