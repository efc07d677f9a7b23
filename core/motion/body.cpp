#include "core/motion/body.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "core/balloon/shape.hpp"
#include "core/base/math.hpp"
#include "core/base/refusal.hpp"

namespace pappus::motion {
namespace {

constexpr std::size_t kTerms = 11;
using Terms = std::array<double, kTerms>;

// The terms of HeatFit, in its order.
Terms terms(double d, double a, double s, double f_over_ref) {
  return {1.0, a, d, d * d, d * d * d, d * d * s, d * a, d * s, d * s * s, d * s * s * s, d * f_over_ref};
}

double evaluated(const detail::HeatFit& fit, double d, double a, double s, double f) {
  const Terms t = terms(d, a, s, f - fit.f_ref);
  double sum = 0.0;
  for (std::size_t i = 0; i < kTerms; ++i) sum += fit.h[i] * t[i];
  return sum;
}

// Least squares by the normal equations, scaled to a unit diagonal and kept solvable where a term never varies (one air
// for all heights, say): its factor is then nothing.
Terms solved(const std::vector<Terms>& rows, const std::vector<double>& values) {
  std::array<Terms, kTerms> m{};
  Terms right{}, scale{};
  for (std::size_t n = 0; n < rows.size(); ++n) {
    for (std::size_t i = 0; i < kTerms; ++i) {
      right[i] += rows[n][i] * values[n];
      for (std::size_t j = 0; j < kTerms; ++j) m[i][j] += rows[n][i] * rows[n][j];
    }
  }
  for (std::size_t i = 0; i < kTerms; ++i) scale[i] = m[i][i] > 0.0 ? 1.0 / math::sqrt(m[i][i]) : 0.0;
  for (std::size_t i = 0; i < kTerms; ++i) {
    right[i] *= scale[i];
    for (std::size_t j = 0; j < kTerms; ++j) m[i][j] *= scale[i] * scale[j];
    m[i][i] += 1e-9;
  }
  // Cholesky.
  for (std::size_t j = 0; j < kTerms; ++j) {
    for (std::size_t k = 0; k < j; ++k) m[j][j] -= m[j][k] * m[j][k];
    m[j][j] = math::sqrt(m[j][j]);
    for (std::size_t i = j + 1; i < kTerms; ++i) {
      for (std::size_t k = 0; k < j; ++k) m[i][j] -= m[i][k] * m[j][k];
      m[i][j] /= m[j][j];
    }
  }
  for (std::size_t i = 0; i < kTerms; ++i) {
    for (std::size_t k = 0; k < i; ++k) right[i] -= m[i][k] * right[k];
    right[i] /= m[i][i];
  }
  for (std::size_t n = kTerms; n-- > 0;) {
    for (std::size_t k = n + 1; k < kTerms; ++k) right[n] -= m[k][n] * right[k];
    right[n] /= m[n][n];
  }
  for (std::size_t i = 0; i < kTerms; ++i) right[i] *= scale[i];
  return right;
}

struct Fit {
  detail::HeatFit heat{};
  double error = 0.0;
};

Result<Fit> fitted(const BodyInputs& in, const FlightAir& air) {
  constexpr std::array excesses{15.0, 30.0, 50.0, 70.0, 90.0, 110.0};
  constexpr std::array speeds{0.5, 1.5, 3.0, 5.0, 8.0};
  constexpr int kHeights = 3;
  Fit fit;
  std::vector<Terms> rows;
  std::vector<double> values;
  const FlightAir::Sample ground = air.at(air.ground());
  fit.heat.f_ref = (ground.density.in(kilogram_per_cubic_metre)) * ground.temperature.from_origin().in(kelvin);
  struct At {
    double d, a, s, f, q;
  };
  std::vector<At> all;
  for (int n = 0; n < kHeights; ++n) {
    const AltitudeAmsl z = air.ground() + (static_cast<double>(n) / (kHeights - 1)) * (air.top() - air.ground());
    const FlightAir::Sample here = air.at(z);
    const double t_k = here.temperature.from_origin().in(kelvin);
    const double f = here.density.in(kilogram_per_cubic_metre)*t_k;
    // Dry air of the same density: what the humidity changes in the sky's radiation is far below the model's own
    // spread.
    const air::MoistAir outside{.temperature = here.temperature,
                                .dew_point = std::min(here.temperature, celsius(3.0)),
                                .pressure = f * detail::kGasConstant * pascal};
    for (const double d : excesses) {
      for (const double s : speeds) {
        balloon::HeatSettings heat = in.heat;
        heat.relative_air = s * metre_per_second;
        const auto q = balloon::envelope_flux({outside, here.temperature + d * kelvin, in.volume, heat});
        if (!q) return tl::unexpected{q.error()};
        all.push_back({d, t_k - 288.15, s, f, q->in(watt_per_square_metre)});
      }
    }
  }
  // Weighted so that it is the relative error that is made small.
  for (const At& at : all) {
    Terms row = terms(at.d, at.a, at.s, at.f - fit.heat.f_ref);
    for (double& x : row) x /= at.d;
    rows.push_back(row);
    values.push_back(at.q / at.d);
  }
  const Terms h = solved(rows, values);
  for (std::size_t i = 0; i < kTerms; ++i) fit.heat.h[i] = h[i];
  // With the sun on it the flux itself may be nothing.
  const double least = std::abs(evaluated(fit.heat, 30.0, 0.0, 0.5, fit.heat.f_ref));
  for (const At& at : all)
    fit.error =
        std::max(fit.error, std::abs(evaluated(fit.heat, at.d, at.a, at.s, at.f) - at.q) / std::max(least, at.q));
  return fit;
}

detail::Mixing mixing_after(double seconds, double per_mixing_1_s) {
  const double stays = math::exp(-seconds * per_mixing_1_s);
  return {stays, (1.0 - stays) / per_mixing_1_s};
}

Result<void> validated(const BodyInputs& in) {
  using measure::number;
  const BodySettings& s = in.settings;
  return within({
      {"motion.drag_up_outside", number(s.drag_up), number(0.1), number(2.0)},
      {"motion.drag_down_outside", number(s.drag_down), number(0.1), number(2.0)},
      {"motion.drag_side_outside", number(s.drag_side), number(0.1), number(2.0)},
      {"motion.added_mass_outside", number(s.added_mass), number(0.0), number(2.0)},
      {"motion.mixing_outside", measure::of(s.mixing), measure::of(1.0 * second), measure::of(60.0 * second)},
      {"motion.vent_outside", number(s.vent.in(square_metre)), number(0.0), number(50.0)},
      {"motion.vent_discharge_outside", number(s.vent_discharge), number(0.3), number(1.0)},
      {"motion.crown_excess_outside", measure::of(s.crown_excess), measure::of(TemperatureDelta{}),
       measure::of(60.0 * kelvin)},
      {"motion.loss_outside", number(s.loss), number(0.3), number(3.0)},
      {"motion.mass_outside", measure::of(in.mass), measure::of(50.0 * kilogram), measure::of(20'000.0 * kilogram)},
      {"motion.flame_outside", measure::of(in.flame), measure::of(MassFlow{}), measure::of(2.0 * kilogram_per_second)},
  });
}

}  // namespace

Result<Body> Body::from(const BodyInputs& inputs, const FlightAir& air) {
  if (auto ok = validated(inputs); !ok) return tl::unexpected{ok.error()};
  const auto fit = fitted(inputs, air);
  if (!fit) return tl::unexpected{fit.error()};
  constexpr double kFitMost = 0.10;
  if (!(fit->error <= kFitMost))
    return fail(Errc::out_of_range, say("motion.heat_fit", {{"error", measure::ratio(fit->error)}}));

  Body body;
  body.inputs_ = inputs;
  body.fit_error_ = fit->error;
  const balloon::EnvelopeSize size = balloon::envelope_size(inputs.volume);
  const balloon::NetHeat net = balloon::net_heat(inputs.heat);
  const BodySettings& s = inputs.settings;
  detail::KernelBody& k = body.kernel_;
  k.volume_m3 = inputs.volume.in(cubic_metre);
  k.fabric_m2 = inputs.heat.area_factor * size.fabric.in(square_metre);
  k.half_section_m2 = 0.5 * size.section.in(square_metre);
  k.added_mass = s.added_mass;
  k.drag_side = s.drag_side;
  k.per_mixing_1_s = 1.0 / s.mixing.in(second);
  k.half_step = mixing_after(0.5 * detail::kStep, k.per_mixing_1_s);
  k.whole_step = mixing_after(detail::kStep, k.per_mixing_1_s);
  k.net_j_kg = net.cold.in(joule_per_kilogram);
  k.net_per_kelvin_j_kg_k = net.per_kelvin_j_kg_k;
  k.vent_m2 = s.vent_discharge * s.vent.in(square_metre)*math::sqrt(2.0 * detail::kGravity * size.height.in(metre));
  k.crown_excess_k = s.crown_excess.in(kelvin);
  k.mean_most_k = body.hottest_mean().from_origin().in(kelvin);
  const double still_m_s = inputs.heat.relative_air.in(metre_per_second);
  k.still_air2_m2_s2 = still_m_s * still_m_s;
  k.heat = fit->heat;
  return body;
}

Temperature Body::hottest_mean() const {
  return inputs_.crown_limit ? *inputs_.crown_limit - inputs_.settings.crown_excess : celsius(120.0);
}

std::optional<Temperature> Body::carrying(const FlightAir::Sample& air, Mass mass) const {
  const double t_a_k = air.temperature.from_origin().in(kelvin);
  const double per_k = 1.0 / t_a_k - mass / (air.density * inputs_.volume) / t_a_k;
  constexpr double kHottest = 473.15;
  if (!(per_k * kHottest >= 1.0)) return std::nullopt;
  return Temperature::at(1.0 / per_k * kelvin);
}

Mass Body::excess(const FlightAir::Sample& air, Temperature inside, Mass mass) const {
  const double ratio = air.temperature.from_origin() / inside.from_origin();
  return (1.0 - ratio) * (air.density * inputs_.volume) - mass;
}

Speed Body::steady(const FlightAir::Sample& air, Mass excess) const {
  const double kg = excess.in(kilogram);
  const double drag = air.density.in(kilogram_per_cubic_metre)*kernel_.half_section_m2 *
                      (kg >= 0.0 ? inputs_.settings.drag_up : inputs_.settings.drag_down);
  const double speed = math::sqrt(detail::kGravity * std::abs(kg) / drag);
  return (kg >= 0.0 ? speed : -speed) * metre_per_second;
}

}  // namespace pappus::motion
