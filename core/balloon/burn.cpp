#include "core/balloon/burn.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <utility>

#include "core/air/isa.hpp"
#include "core/balloon/lift.hpp"
#include "core/balloon/shape.hpp"
#include "core/base/math.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/saturation.hpp"

// Notation: T temperature K (a ambient, i inside, f fabric), p pressure Pa, V volume m3, D diameter m, q heat flux W/m2
// outward, h heat transfer coefficient W/(m2 K), k conductivity W/(m K), nu kinematic viscosity m2/s, Ra, Re, Pr, Nu
// the usual numbers.

namespace pappus::balloon {
namespace {

constexpr double kStefanBoltzmann = 5.670374419e-8;  // W/(m2 K4), CODATA 2018
constexpr double kAirHeatCapacity = 1006.0;          // J/(kg K), dry air at constant pressure
constexpr double kBalanceTolerance = 1e-10;          // K
constexpr Duration kClimbEvery = 20.0 * minute;

Result<void> validated(const HeatSettings& s) {
  using measure::number;
  return within({
      {"burn.area_factor_outside", number(s.area_factor), number(0.8), number(1.5)},
      {"burn.emissivity_outside", number(s.emissivity), number(0.0), number(1.0)},
      {"burn.solar_absorptivity_outside", number(s.solar_absorptivity), number(0.0), number(1.0)},
      {"burn.beam_outside", number(s.beam.in(watt_per_square_metre)), number(0.0), number(1400.0)},
      {"burn.relative_air_outside", measure::wind(s.relative_air), measure::wind(Speed{}),
       measure::wind(20.0 * metre_per_second)},
      {"burn.cloud_fraction_outside", measure::ratio(s.cloud_fraction), measure::ratio(0.0), measure::ratio(1.0)},
      {"burn.efficiency_outside", measure::ratio(s.efficiency), measure::ratio(0.5), measure::ratio(1.0)},
      {"burn.entrainment_outside", number(s.entrainment), number(0.0), number(100.0)},
      {"burn.uncertainty_outside", measure::ratio(s.uncertainty), measure::ratio(0.0), measure::ratio(2.0)},
      {"burn.inside_convection_outside", number(s.inside_convection), number(0.05), number(1.0)},
      {"burn.gas_emissivity_outside", number(s.gas_emissivity), number(0.0), number(1.0)},
      {"burn.loss_outside", number(s.loss), number(0.3), number(3.0)},
  });
}

Result<void> validated(const LevelFlowInputs& inputs) {
  if (auto ok = validated(inputs.settings); !ok) return ok;
  if (auto ok = within({"burn.volume_outside", measure::gas(inputs.volume), measure::gas(kSmallestEnvelope),
                        measure::gas(kLargestEnvelope)});
      !ok)
    return ok;
  return within({"burn.inside_excess_outside", measure::of(inputs.inside_mean - inputs.outside.temperature),
                 measure::of(5.0 * kelvin), measure::of(150.0 * kelvin)});
}

struct Film {
  double k, nu, pr;
};

Film film(double p_pa, double t_k) {
  const double t_1_5 = t_k * math::sqrt(t_k);
  const double mu = 1.458e-6 * t_1_5 / (t_k + 110.4);  // Sutherland
  constexpr double ln10 = 2.302585092994046;
  const double k = 2.64638e-3 * t_1_5 / (t_k + 245.4 * math::exp(-12.0 * ln10 / t_k));
  return {k, mu * air::kDryAirConstant * t_k / p_pa, mu * kAirHeatCapacity / k};
}

double rayleigh(const Film& f, double delta_k, double film_k, double d_m) {
  return air::kStandardGravity * std::abs(delta_k) * d_m * d_m * d_m * f.pr / (film_k * f.nu * f.nu);
}

double fourth(double t) { return t * t * t * t; }

/// The heat that passes the fabric at a fabric temperature, from inside to it and from it to outside.
class FabricBalance {
 public:
  FabricBalance(const LevelFlowInputs& in, double vapour_hpa)
      : s_{in.settings},
        p_pa_{in.outside.pressure.in(pascal)},
        t_a_k_{in.outside.temperature.from_origin().in(kelvin)},
        t_i_k_{in.inside_mean.from_origin().in(kelvin)},
        d_m_{kNaturalShape.diameter * math::cbrt(in.volume.in(cubic_metre))} {
    const double clear = 0.52 + 0.065 * math::sqrt(vapour_hpa);
    const double n = s_.cloud_fraction;
    sky_emissivity_ = std::min(1.0, clear * (1.0 + 0.22 * (n > 0.0 ? math::pow(n, 2.75) : 0.0)));
  }

  [[nodiscard]] double inside(double t_f_k) const {
    const double mean_k = 0.5 * (t_i_k_ + t_f_k);
    const Film f = film(p_pa_, mean_k);
    const double ra = rayleigh(f, t_i_k_ - t_f_k, mean_k, d_m_);
    // The lower branch meets the upper at Ra = 1.35e8 for the coefficient 0.325; a smaller one scales both.
    const double nu = s_.inside_convection / 0.325 *
                      (ra >= 1.35e8 ? 0.325 * math::cbrt(ra) : 2.5 * (2.0 + 0.6 * math::sqrt(math::sqrt(ra))));
    return nu * f.k / d_m_ * (t_i_k_ - t_f_k) + s_.gas_emissivity * kStefanBoltzmann * (fourth(t_i_k_) - fourth(t_f_k));
  }

  [[nodiscard]] double outside(double t_f_k) const {
    const double mean_k = 0.5 * (t_a_k_ + t_f_k);
    const Film f = film(p_pa_, mean_k);
    const double ra = rayleigh(f, t_f_k - t_a_k_, mean_k, d_m_);
    const double nu_natural = ra >= 1.5e8 ? 0.10 * math::cbrt(ra) : 2.0 + 0.6 * math::sqrt(math::sqrt(ra));
    const double re = s_.relative_air.in(metre_per_second)*d_m_ / f.nu;
    const double pr_third = math::cbrt(f.pr);
    // The turbulent line is negative below Re = 2.9e5 and under the laminar one up to about 4.5e5: the larger counts.
    double nu_forced = 2.0 + 0.47 * math::sqrt(re) * pr_third;
    if (re >= 5.0e4) nu_forced = std::max(nu_forced, (0.0262 * math::pow(re, 0.8) - 615.0) * pr_third);
    const double nu = math::cbrt(nu_natural * nu_natural * nu_natural + nu_forced * nu_forced * nu_forced);
    // Half of what is seen is ground at the temperature of the air, half is sky.
    const double radiated =
        s_.emissivity * kStefanBoltzmann * (fourth(t_f_k) - 0.5 * (1.0 + sky_emissivity_) * fourth(t_a_k_));
    const double sun = s_.solar_absorptivity * s_.beam.in(watt_per_square_metre) / 4.0;  // disc over sphere
    return nu * f.k / d_m_ * (t_f_k - t_a_k_) + radiated - sun;
  }

  /// The temperature at which both agree. Their difference falls with the fabric temperature, so there is one.
  [[nodiscard]] double fabric_k() const {
    return falling_root([this](double t) { return inside(t) - outside(t); }, t_a_k_ - 100.0, t_i_k_ + 200.0);
  }

 private:
  // T. R. Chandrupatla, Adv. Eng. Software 28 (1997) 145: inverse quadratic steps where they are safe, halves
  // elsewhere.
  template <class F>
  static double falling_root(F f, double a, double b) {
    double fa = f(a), fb = f(b);
    assert(fa > 0.0 && fb < 0.0);  // holds over the domain of the settings
    double c = a, fc = fa;
    double t = 0.5;
    for (int i = 0; i < 100; ++i) {
      const double x = a + t * (b - a);
      const double fx = f(x);
      if ((fx > 0.0) == (fa > 0.0)) {
        c = a;
        fc = fa;
      } else {
        c = b;
        b = a;
        fc = fb;
        fb = fa;
      }
      a = x;
      fa = fx;
      const double best = std::abs(fa) < std::abs(fb) ? a : b;
      const double reach = 0.5 * kBalanceTolerance / std::abs(b - a);
      if (fa == 0.0 || reach >= 0.5) return best;
      const double xi = (a - b) / (c - b), phi = (fa - fb) / (fc - fb);
      t = 0.5;
      if (1.0 - math::sqrt(1.0 - xi) < phi && phi < math::sqrt(xi))
        t = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb);
      t = std::clamp(t, reach, 1.0 - reach);
    }
    return a;
  }

  const HeatSettings& s_;
  double p_pa_, t_a_k_, t_i_k_, d_m_;
  double sky_emissivity_ = 1.0;
};

double net_heat_j_kg(const HeatSettings& s, double t_i_k, double t_a_k) {
  const NetHeat heat = net_heat(s);
  return heat.cold.in(joule_per_kilogram)-heat.per_kelvin_j_kg_k * (t_i_k - t_a_k);
}

struct LevelNeeds {
  double p_pa, t_a_k, t_i_k;
};

// Heat from one level to the next: open envelope at ambient pressure, dQ = -V dp + (p V / R) c_p d ln T_i. With dQ = 0
// that is the 12 K/km by which the inside cools in a climb. Where the flight asks for less heat than expansion takes,
// nothing is won back.
double climb_fuel_kg(const HeatSettings& s, double v_m3, const LevelNeeds& from, const LevelNeeds& to) {
  const double p_mean_pa = 0.5 * (from.p_pa + to.p_pa);
  const double heat_j = v_m3 * (from.p_pa - to.p_pa) +
                        p_mean_pa * v_m3 / air::kDryAirConstant * kAirHeatCapacity * math::log(to.t_i_k / from.t_i_k);
  return std::max(0.0, heat_j) / net_heat_j_kg(s, 0.5 * (from.t_i_k + to.t_i_k), 0.5 * (from.t_a_k + to.t_a_k));
}

struct Fabric {
  double t_f_k, q_w_m2;
};
Result<Fabric> fabric(const LevelFlowInputs& inputs) {
  if (auto ok = validated(inputs); !ok) return tl::unexpected{ok.error()};
  // Refuses a dew point above the temperature and a pressure that is none.
  if (auto moist = air::moist_factor(inputs.outside); !moist) return tl::unexpected{moist.error()};
  const auto vapour = air::saturation_vapour_pressure(inputs.outside.dew_point);
  if (!vapour) return tl::unexpected{vapour.error()};
  const FabricBalance balance{inputs, vapour->in(hectopascal)};
  const double t_f_k = balance.fabric_k();
  return Fabric{t_f_k, inputs.settings.loss * balance.inside(t_f_k)};
}

}  // namespace

NetHeat net_heat(const HeatSettings& settings) {
  return {settings.efficiency * propane::kLowerHeatingValueLiquid, settings.entrainment * kAirHeatCapacity * 0.5};
}

Result<HeatFlux> envelope_flux(const LevelFlowInputs& inputs) {
  return fabric(inputs).map([](const Fabric& f) { return f.q_w_m2 * watt_per_square_metre; });
}

Result<LevelFlow> level_flow(const LevelFlowInputs& inputs) {
  const auto balance = fabric(inputs);
  if (!balance) return tl::unexpected{balance.error()};
  const double t_f_k = balance->t_f_k, q_w_m2 = balance->q_w_m2;
  if (!(q_w_m2 > 0.0))
    return fail(Errc::out_of_range, say("burn.sun_alone_holds",
                                        {{"beam", measure::number(inputs.settings.beam.in(watt_per_square_metre))}}));
  const double v_m3 = inputs.volume.in(cubic_metre);
  const double v_third = math::cbrt(v_m3);
  const double area_m2 = inputs.settings.area_factor * kNaturalShape.area * v_third * v_third;
  const double loss_w = area_m2 * q_w_m2;
  const double net_j_kg = net_heat_j_kg(inputs.settings, inputs.inside_mean.from_origin().in(kelvin),
                                        inputs.outside.temperature.from_origin().in(kelvin));
  return LevelFlow{area_m2 * square_metre, Temperature::at(t_f_k * kelvin),         q_w_m2 * watt_per_square_metre,
                   loss_w * watt,          loss_w / net_j_kg * kilogram_per_second, inputs.settings.uncertainty};
}

Result<double> burner_output_left(PressureAltitude altitude) {
  const auto height = [](double feet) { return measure::of(PressureAltitude::at(feet * foot)); };
  if (auto ok = within({"burn.output_altitude_outside", measure::of(altitude), height(-2000.0), height(20'000.0)}); !ok)
    return tl::unexpected{ok.error()};
  constexpr double kLostPerThousandFeet = 0.04;
  return std::min(1.0, 1.0 - kLostPerThousandFeet * altitude.from_origin().in(1000.0 * foot));
}

Result<Mass> inflation_fuel(const LevelFlowInputs& inputs) {
  if (auto ok = validated(inputs); !ok) return tl::unexpected{ok.error()};
  if (auto moist = air::moist_factor(inputs.outside); !moist) return tl::unexpected{moist.error()};
  const double t_i_k = inputs.inside_mean.from_origin().in(kelvin);
  const double t_a_k = inputs.outside.temperature.from_origin().in(kelvin);
  const double heat_j = inputs.outside.pressure.in(pascal)*inputs.volume.in(cubic_metre) / air::kDryAirConstant *
                        kAirHeatCapacity * math::log(t_i_k / t_a_k);
  return (1.0 + kInflationLoss) * heat_j /
         (inputs.settings.efficiency * propane::kLowerHeatingValueLiquid.in(joule_per_kilogram)) * kilogram;
}

Result<FlightFuel> flight_fuel(const FlightFuelInputs& inputs) {
  const air::AirColumn& column = inputs.column;
  if (auto ok = within({"burn.highest_outside", measure::of(inputs.highest), measure::of(column.ground()),
                        measure::of(column.top())});
      !ok)
    return tl::unexpected{ok.error()};
  if (auto ok = within(
          {"burn.planned_outside", measure::of(inputs.planned), measure::of(Duration{}), measure::of(24.0 * hour)});
      !ok)
    return tl::unexpected{ok.error()};
  if (auto ok = within({"burn.allowance_outside", measure::ratio(inputs.allowance_fraction), measure::ratio(0.0),
                        measure::ratio(2.0)});
      !ok)
    return tl::unexpected{ok.error()};

  FlightFuel fuel;
  double one_climb_kg = 0.0;
  LevelNeeds below{};
  const std::vector<AltitudeAmsl> levels = levels_flown(column.ground(), inputs.highest);
  for (const AltitudeAmsl z : levels) {
    const auto sample = column.at(z);
    if (!sample) return tl::unexpected{sample.error()};
    const auto needed = mean_temperature_needed({sample->air, inputs.carried, inputs.volume});
    if (!needed) return tl::unexpected{needed.error()};
    const LevelFlowInputs here{sample->air, *needed, inputs.volume, inputs.settings};
    const auto level = level_flow(here);
    if (!level) return tl::unexpected{level.error()};
    fuel.flow = std::max(fuel.flow, level->flow);
    const LevelNeeds needs{sample->air.pressure.in(pascal), sample->air.temperature.from_origin().in(kelvin),
                           needed->from_origin().in(kelvin)};
    if (z == levels.front()) {
      if (!inputs.envelope_hot) {
        const auto inflation = inflation_fuel(here);
        if (!inflation) return tl::unexpected{inflation.error()};
        fuel.inflation = *inflation;
      }
    } else {
      one_climb_kg += climb_fuel_kg(inputs.settings, inputs.volume.in(cubic_metre), below, needs);
    }
    below = needs;
  }
  fuel.climb_count = std::max(1, static_cast<int>(std::ceil(inputs.planned / kClimbEvery)));
  fuel.climbs = fuel.climb_count * one_climb_kg * kilogram;
  fuel.level = fuel.flow * inputs.planned;
  fuel.allowance_fraction = inputs.allowance_fraction;
  fuel.allowance = inputs.allowance_fraction * fuel.level;
  const Mass aloft = fuel.climbs + fuel.level + fuel.allowance;
  const double unlucky = 1.0 + inputs.settings.uncertainty;
  fuel.used = fuel.inflation + aloft;
  fuel.used_unlucky = (1.0 + kInflationUncertainty) * fuel.inflation + unlucky * aloft;
  fuel.flow_unlucky = unlucky * fuel.flow;
  return fuel;
}

namespace {

// What stays on each side when `demand_kg` is drawn from the fullest sides until they are level: min(usable, level),
// with the level at which just that much is drawn.
double water_level_kg(std::vector<double> usable_kg, double demand_kg) {
  std::stable_sort(usable_kg.begin(), usable_kg.end(), [](double a, double b) { return a > b; });
  double sum_kg = 0.0;
  for (std::size_t n = 1; n <= usable_kg.size(); ++n) {
    sum_kg += usable_kg[n - 1];
    const double level_kg = (sum_kg - demand_kg) / static_cast<double>(n);
    const double next_kg = n < usable_kg.size() ? usable_kg[n] : 0.0;
    if (level_kg >= next_kg) return level_kg;
  }
  return 0.0;
}

const std::string& side_of(const CylinderFuel& c) { return c.group.empty() ? c.id : c.group; }

}  // namespace

Reserves reserves_at_landing(const std::vector<CylinderFuel>& cylinders, const FlightFuel& fuel) {
  Reserves out;
  std::vector<std::size_t> side_index;  // of each cylinder
  for (const CylinderFuel& c : cylinders) {
    const auto known =
        std::find_if(out.sides.begin(), out.sides.end(), [&](const SideReserve& s) { return s.group == side_of(c); });
    side_index.push_back(static_cast<std::size_t>(known - out.sides.begin()));
    if (known == out.sides.end()) out.sides.push_back({side_of(c), {}, {}, {}, {}});
    out.sides[side_index.back()].usable += std::max(c.usable, Mass{});
  }

  std::vector<double> usable_kg;
  double all_kg = 0.0;
  for (const SideReserve& side : out.sides) {
    usable_kg.push_back(side.usable.in(kilogram));
    all_kg += usable_kg.back();
  }
  const double demand_kg = std::max(0.0, fuel.used_unlucky.in(kilogram));
  out.short_of = std::max(0.0, demand_kg - all_kg) * kilogram;
  const double level_kg = demand_kg < all_kg ? water_level_kg(usable_kg, demand_kg) : 0.0;

  // Without a flow there is no telling how long fuel lasts: none is shown, rather than for ever.
  const auto lasts = [&](Mass left) { return fuel.flow_unlucky > MassFlow{} ? left / fuel.flow_unlucky : Duration{}; };
  for (SideReserve& side : out.sides) {
    side.left = std::min(side.usable, level_kg * kilogram);
    side.drawn = side.usable - side.left;
    side.reserve = lasts(side.left);
  }
  for (std::size_t i = 0; i < cylinders.size(); ++i) {
    const SideReserve& side = out.sides[side_index[i]];
    const Mass usable = std::max(cylinders[i].usable, Mass{});
    const Mass left = side.usable > Mass{} ? (side.left / side.usable) * usable : Mass{};
    out.cylinders.push_back(
        {cylinders[i].id, side.group, cylinders[i].liquid, usable, usable - left, left, lasts(left)});
  }
  if (!out.sides.empty())
    out.smallest_side =
        std::min_element(out.sides.begin(), out.sides.end(), [](const SideReserve& a, const SideReserve& b) {
          return a.reserve < b.reserve;
        })->reserve;
  return out;
}

}  // namespace pappus::balloon
