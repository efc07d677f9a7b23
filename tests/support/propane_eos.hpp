/// The full equation of state of propane: the truth that the product's short equations are measured against.
///
/// Version 1. Reduced Helmholtz energy of Lemmon, McLinden and Wagner, J. Chem. Eng. Data 54 (2009) 3141, with all its
/// derivatives written out; nothing is shared with core/propane. Valid 85.525 to 650 K and up to 1000 MPa.
#pragma once

namespace pappus::testing::propane_eos {

inline constexpr double kGasConstant = 8.314472;  // J/(mol K)
inline constexpr double kMolarMass = 0.04409562;  // kg/mol
inline constexpr double kCriticalTemperature = 369.89;
inline constexpr double kCriticalDensity = 5000.0;  // mol/m3
inline constexpr double kTripleTemperature = 85.525;

struct State {
  double pressure_pa;
  double heat_at_constant_volume;    // J/(mol K)
  double heat_at_constant_pressure;  // J/(mol K)
  double sound_m_s;
  double enthalpy;  // J/mol, of the equation's own zero
  double gibbs;     // J/mol
};
State state_at(double t_k, double rho_mol_m3);

struct Saturated {
  double pressure_pa;
  double liquid_mol_m3, vapour_mol_m3;
  double latent_j_mol;
};
/// Equal pressure and Gibbs energy of the two phases. Domain: 180 to 350 K. Throws where Newton's rule does not settle.
Saturated saturation_at(double t_k);

}  // namespace pappus::testing::propane_eos
