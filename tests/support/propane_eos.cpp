#include "tests/support/propane_eos.hpp"

#include <array>
#include <cmath>
#include <stdexcept>
#include <string>

namespace pappus::testing::propane_eos {
namespace {

// Notation of the paper: delta = rho/rho_c, tau = T_c/T. A term is n delta^d tau^t, times exp(-delta^l) where l > 0,
// times exp(-eta (delta - epsilon)^2 - beta (tau - gamma)^2) where eta > 0.
struct Term {
  double n, t, d, l, eta, beta, gamma, epsilon;
};
constexpr std::array<Term, 18> kTerms{{
    {0.042910051, 1.00, 4, 0, 0, 0, 0, 0},
    {1.7313671, 0.33, 1, 0, 0, 0, 0, 0},
    {-2.4516524, 0.80, 1, 0, 0, 0, 0, 0},
    {0.34157466, 0.43, 2, 0, 0, 0, 0, 0},
    {-0.46047898, 0.90, 2, 0, 0, 0, 0, 0},
    {-0.66847295, 2.46, 1, 1, 0, 0, 0, 0},
    {0.20889705, 2.09, 3, 1, 0, 0, 0, 0},
    {0.19421381, 0.88, 6, 1, 0, 0, 0, 0},
    {-0.22917851, 1.09, 6, 1, 0, 0, 0, 0},
    {-0.60405866, 3.25, 2, 2, 0, 0, 0, 0},
    {0.066680654, 4.62, 3, 2, 0, 0, 0, 0},
    {0.017534618, 0.76, 1, 0, 0.963, 2.33, 0.684, 1.283},
    {0.33874242, 2.50, 1, 0, 1.977, 3.47, 0.829, 0.6936},
    {0.22228777, 2.75, 1, 0, 1.917, 3.15, 1.419, 0.788},
    {-0.23219062, 3.05, 2, 0, 2.307, 3.19, 0.817, 0.473},
    {-0.092206940, 2.55, 2, 0, 2.546, 0.92, 1.500, 0.8577},
    {-0.47575718, 8.40, 4, 0, 3.28, 18.8, 1.426, 0.271},
    {-0.017486824, 6.75, 1, 0, 14.6, 547.8, 1.093, 0.948},
}};

// The ideal gas: 3 ln tau and four vibrations.
constexpr double kIdealA1 = -4.970583, kIdealA2 = 4.29352, kIdealC = 3.0;
struct Vibration {
  double v, u_k;
};
constexpr std::array<Vibration, 4> kVibrations{{{3.043, 393}, {5.874, 1237}, {9.337, 1984}, {7.922, 4351}}};

// alpha and its derivatives, each multiplied by as many delta and tau as it is derived by.
struct Alpha {
  double a = 0, d = 0, dd = 0, t = 0, tt = 0, dt = 0;
};

Alpha residual(double delta, double tau) {
  Alpha sum;
  for (const Term& k : kTerms) {
    const double delta_l = k.l > 0 ? std::pow(delta, k.l) : 0.0;
    const double x = delta - k.epsilon, y = tau - k.gamma;
    const double a =
        k.n * std::pow(delta, k.d) * std::pow(tau, k.t) * std::exp(-delta_l - k.eta * x * x - k.beta * y * y);
    // u = delta d(ln a)/d(delta), v = tau d(ln a)/d(tau); du, dv the same of u and v.
    const double u = k.d - k.l * delta_l - 2 * k.eta * delta * x;
    const double du = -k.l * k.l * delta_l - 2 * k.eta * delta * (delta + x);
    const double v = k.t - 2 * k.beta * tau * y;
    const double dv = -2 * k.beta * tau * (tau + y);
    sum.a += a;
    sum.d += a * u;
    sum.dd += a * (u * u - u + du);
    sum.t += a * v;
    sum.tt += a * (v * v - v + dv);
    sum.dt += a * u * v;
  }
  return sum;
}

Alpha ideal(double delta, double tau) {
  Alpha sum;
  sum.a = std::log(delta) + kIdealC * std::log(tau) + kIdealA1 + kIdealA2 * tau;
  sum.t = kIdealC + kIdealA2 * tau;
  sum.tt = -kIdealC;
  for (const Vibration& k : kVibrations) {
    const double x = k.u_k / kCriticalTemperature * tau;
    const double growth = std::expm1(x);
    sum.a += k.v * std::log(-std::expm1(-x));
    sum.t += k.v * x / growth;
    sum.tt -= k.v * x * x * (growth + 1) / (growth * growth);
  }
  return sum;  // the derivatives by delta are those of ln delta and are written out where they are used
}

// What two phases in balance share: j proportional to pressure, k to Gibbs energy; with their slopes in delta.
struct Balance {
  double j, k, dj, dk;
};

Balance balance(double delta, double tau) {
  const Alpha r = residual(delta, tau);
  const double dj = 1 + 2 * r.d + r.dd;
  return {delta * (1 + r.d), r.d + r.a + std::log(delta), dj, dj / delta};
}

}  // namespace

State state_at(double t_k, double rho_mol_m3) {
  const double delta = rho_mol_m3 / kCriticalDensity, tau = kCriticalTemperature / t_k;
  const Alpha r = residual(delta, tau), o = ideal(delta, tau);
  const double rt = kGasConstant * t_k;
  const double cv = -(o.tt + r.tt);
  const double stiffness = 1 + 2 * r.d + r.dd;
  const double thermal = 1 + r.d - r.dt;
  return {.pressure_pa = rho_mol_m3 * rt * (1 + r.d),
          .heat_at_constant_volume = kGasConstant * cv,
          .heat_at_constant_pressure = kGasConstant * (cv + thermal * thermal / stiffness),
          .sound_m_s = std::sqrt(rt / kMolarMass * (stiffness + thermal * thermal / cv)),
          .enthalpy = rt * (1 + o.t + r.t + r.d),
          .gibbs = rt * (1 + o.a + r.a + r.d)};
}

Saturated saturation_at(double t_k) {
  const double tau = kCriticalTemperature / t_k, t_ratio = t_k / kCriticalTemperature;
  // First guesses by corresponding states: Rackett's liquid density, Wilson's vapour pressure (acentric factor 0.1521).
  double liquid = std::pow(0.2763, -std::pow(1 - t_ratio, 2.0 / 7.0));
  const double p_guess = 4.2512e6 * std::exp(5.373 * 1.1521 * (1 - tau));
  double vapour = p_guess / (kGasConstant * t_k) / kCriticalDensity;
  for (int step = 0; step < 50; ++step) {
    const Balance l = balance(liquid, tau), v = balance(vapour, tau);
    const double det = v.dj * l.dk - l.dj * v.dk;
    const double j_gap = v.j - l.j, k_gap = v.k - l.k;
    const double liquid_step = (k_gap * v.dj - j_gap * v.dk) / det;
    const double vapour_step = (k_gap * l.dj - j_gap * l.dk) / det;
    liquid += liquid_step;
    vapour += vapour_step;
    if (!(liquid > 1 && vapour > 0 && vapour < 1)) break;
    if (std::abs(liquid_step) < 1e-13 * liquid && std::abs(vapour_step) < 1e-13 * vapour) {
      const double rho_l = liquid * kCriticalDensity, rho_v = vapour * kCriticalDensity;
      const State at_l = state_at(t_k, rho_l), at_v = state_at(t_k, rho_v);
      return {.pressure_pa = at_v.pressure_pa,
              .liquid_mol_m3 = rho_l,
              .vapour_mol_m3 = rho_v,
              .latent_j_mol = at_v.enthalpy - at_l.enthalpy};
    }
  }
  throw std::runtime_error("the phases of propane found no balance at " + std::to_string(t_k) + " K");
}

}  // namespace pappus::testing::propane_eos
