#include "core/balloon/draw.hpp"

#include <algorithm>
#include <cmath>

#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/liquid_heat.hpp"
#include "core/propane/saturation.hpp"

// Notation: S shell m3, M mass inside kg, C heat capacity of the wall J/K, T temperature K, m_L and m_V liquid and
// vapour kg, h_L enthalpy of the liquid and L heat of vaporisation J/kg, x share of the draw that is vapour.

namespace pappus::balloon {
namespace {

constexpr double kTemperatureTolerance = 1e-9;  // K
// Steps in drawn mass for all of the liquid. The balance is closed in each; more of them only follow h along the way,
// which bends more where vapour is drawn.
constexpr double kStepsForLiquid = 48.0, kStepsForVapour = 192.0;
constexpr int kMostStates = 1000;
constexpr Pressure kMostNitrogen = 20.0 * bar;

struct Inside {
  double t_k, p_pa, liquid_kg, vapour_kg, liquid_kg_m3, enthalpy_j_kg, latent_j_kg;
  double energy_j;           // U + C T
  double heat_capacity_j_k;  // about d(U + C T)/dT: steers the search, and no more
};

class Cylinder {
 public:
  Cylinder(double shell_m3, double wall_j_k) : shell_m3_{shell_m3}, wall_j_k_{wall_j_k} {}

  [[nodiscard]] Result<Inside> at(double t_k, double mass_kg) const {
    const Temperature t = Temperature::at(t_k * kelvin);
    const auto s = propane::saturation_at(t);
    if (!s) return tl::unexpected{s.error()};
    const auto heat = propane::liquid_heat(t);
    if (!heat) return tl::unexpected{heat.error()};
    const double liquid_kg_m3 = s->liquid_density.in(kilogram_per_cubic_metre);
    const double vapour_kg_m3 = s->vapour_density.in(kilogram_per_cubic_metre);
    const double p_pa = s->pressure.in(pascal), latent = s->latent_heat.in(joule_per_kilogram);
    const double enthalpy = heat->enthalpy.in(joule_per_kilogram);
    const double vapour_kg = (shell_m3_ - mass_kg / liquid_kg_m3) / (1.0 / vapour_kg_m3 - 1.0 / liquid_kg_m3);
    return Inside{t_k,
                  p_pa,
                  mass_kg - vapour_kg,
                  vapour_kg,
                  liquid_kg_m3,
                  enthalpy,
                  latent,
                  mass_kg * enthalpy + vapour_kg * latent - p_pa * shell_m3_ + wall_j_k_ * in_celsius(t),
                  mass_kg * heat->along_saturation.in(propane::joule_per_kilogram_kelvin) + wall_j_k_};
  }

  /// After `dm_kg` more has left: the temperature at which the energy that is missing is what it took along, by the
  /// mean of its enthalpy before and after.
  [[nodiscard]] Result<Inside> after(const Inside& before, double mass_kg, double dm_kg, double share) const {
    const double h_before = before.enthalpy_j_kg + share * before.latent_j_kg;
    double t_k = before.t_k, slope = before.heat_capacity_j_k;
    double last_t_k = 0.0, last_off = 0.0;
    Result<Inside> now;
    for (int i = 0; i < 20; ++i) {
      now = at(t_k, mass_kg - dm_kg);
      if (!now) return now;
      const double h_mean = 0.5 * (h_before + now->enthalpy_j_kg + share * now->latent_j_kg);
      const double off = now->energy_j - (before.energy_j - h_mean * dm_kg);
      if (i > 0 && t_k != last_t_k) slope = (off - last_off) / (t_k - last_t_k);
      last_t_k = t_k;
      last_off = off;
      const double change_k = off / slope;
      if (std::abs(change_k) < kTemperatureTolerance) return now;
      t_k -= change_k;
    }
    return now;
  }

 private:
  double shell_m3_, wall_j_k_;
};

Result<void> validated(const Contents& c, Mass drawn, Mass most) {
  // Written so that NaN is refused too.
  if (!(c.wall >= HeatCapacity{} && c.wall <= kHeaviestWall))
    return refuse_outside("draw.wall_outside", measure::number(c.wall.in(joule_per_kelvin)), measure::number(0.0),
                          measure::number(kHeaviestWall.in(joule_per_kelvin)));
  if (c.nitrogen && !(*c.nitrogen >= Pressure{} && *c.nitrogen <= kMostNitrogen))
    return refuse_outside("draw.nitrogen_outside", measure::air(*c.nitrogen), measure::air(Pressure{}),
                          measure::air(kMostNitrogen));
  if (!(drawn >= Mass{} && drawn <= most))
    return refuse_outside("draw.drawn_outside", measure::of(drawn), measure::of(Mass{}), measure::of(most));
  return {};
}

}  // namespace

Result<Mass> most_drawn(const Contents& contents) {
  const auto inside = propane::inside_at(contents.shell, contents.total, contents.temperature);
  if (!inside) return tl::unexpected{inside.error()};
  const auto s = propane::saturation_at(contents.temperature);
  if (!s) return tl::unexpected{s.error()};
  return std::max(Mass{}, contents.total - s->vapour_density * contents.shell);
}

Result<std::vector<DrawState>> draw_states(const Contents& contents, Mass drawn, int states, double vapour_share) {
  if (!(states >= 2 && states <= kMostStates))
    return refuse_outside("draw.states_outside", measure::count(states), measure::count(2.0),
                          measure::count(kMostStates));
  if (!(vapour_share >= 0.0 && vapour_share <= 1.0))
    return refuse_outside("draw.share_outside", measure::ratio(vapour_share), measure::ratio(0.0), measure::ratio(1.0));
  const auto inside = propane::inside_at(contents.shell, contents.total, contents.temperature);
  if (!inside) return tl::unexpected{inside.error()};
  const auto most = most_drawn(contents);
  if (!most) return tl::unexpected{most.error()};
  if (auto ok = validated(contents, drawn, *most); !ok) return tl::unexpected{ok.error()};

  const Cylinder cylinder{contents.shell.in(cubic_metre), contents.wall.in(joule_per_kelvin)};
  double mass_kg = contents.total.in(kilogram);
  Result<Inside> now = cylinder.at(contents.temperature.from_origin().in(kelvin), mass_kg);
  if (!now) return tl::unexpected{now.error()};
  const Volume liquid_before = inside->liquid;

  std::vector<DrawState> out;
  const auto note = [&](Mass so_far) -> Result<void> {
    const double liquid_kg = std::max(0.0, now->liquid_kg);
    DrawState state{so_far,
                    liquid_kg * kilogram,
                    now->vapour_kg * kilogram,
                    liquid_kg / now->liquid_kg_m3 * cubic_metre,
                    Temperature::at(now->t_k * kelvin),
                    now->p_pa * pascal,
                    std::nullopt,
                    now->energy_j * joule};
    if (contents.nitrogen) {
      const auto left =
          propane::charge_left({contents.shell, liquid_before, contents.temperature, *contents.nitrogen, false},
                               std::min(state.liquid_volume, liquid_before));
      if (!left) return tl::unexpected{left.error()};
      state.nitrogen = *left;
    }
    out.push_back(state);
    return {};
  };
  if (auto ok = note(Mass{}); !ok) return tl::unexpected{ok.error()};
  const double each_kg = drawn.in(kilogram) / (states - 1);
  const double for_all = (1.0 - vapour_share) * kStepsForLiquid + vapour_share * kStepsForVapour;
  const double of_all = *most > Mass{} ? each_kg * kilogram / *most : 0.0;
  const int steps = std::max(1, static_cast<int>(std::ceil(for_all * of_all)));
  for (int i = 1; i < states; ++i) {
    for (int step = 0; step < steps; ++step) {
      now = cylinder.after(*now, mass_kg, each_kg / steps, vapour_share);
      if (!now) return tl::unexpected{now.error()};
      mass_kg -= each_kg / steps;
    }
    if (auto ok = note(i == states - 1 ? drawn : i * each_kg * kilogram); !ok) return tl::unexpected{ok.error()};
  }
  return out;
}

namespace {

Result<DrawState> drawn_state(const Contents& contents, Mass drawn, double share) {
  auto states = draw_states(contents, drawn, 2, share);
  if (!states) return tl::unexpected{states.error()};
  return states->back();
}

}  // namespace

Result<DrawState> draw_liquid(const Contents& contents, Mass drawn) { return drawn_state(contents, drawn, 0.0); }
Result<DrawState> draw_vapour(const Contents& contents, Mass drawn) { return drawn_state(contents, drawn, 1.0); }

}  // namespace pappus::balloon
