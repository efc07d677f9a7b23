#include "core/motion/flight_air.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace pappus::motion {
namespace {

constexpr double kThickest = 20.0;  // m

struct Wind {
  double east_m_s = 0.0, north_m_s = 0.0;
};

Wind wind_at(const std::vector<WindLevel>& winds, double z_m) {
  const auto of = [](const WindLevel& l) { return Wind{l.east.in(metre_per_second), l.north.in(metre_per_second)}; };
  if (winds.empty()) return {};
  const auto above = std::find_if(winds.begin(), winds.end(),
                                  [&](const WindLevel& l) { return l.altitude.from_origin().in(metre) > z_m; });
  if (above == winds.begin()) return of(winds.front());
  if (above == winds.end()) return of(winds.back());
  const Wind a = of(*(above - 1)), b = of(*above);
  const double low_m = (above - 1)->altitude.from_origin().in(metre), high_m = above->altitude.from_origin().in(metre);
  const double share = (z_m - low_m) / (high_m - low_m);
  return {a.east_m_s + share * (b.east_m_s - a.east_m_s), a.north_m_s + share * (b.north_m_s - a.north_m_s)};
}

}  // namespace

Result<FlightAir> FlightAir::from(const air::AirColumn& column, const std::vector<WindLevel>& winds) {
  for (std::size_t i = 1; i < winds.size(); ++i) {
    if (!(winds[i].altitude > winds[i - 1].altitude))
      return fail(Errc::bad_input, say("motion.wind_order", {{"altitude", measure::of(winds[i].altitude)}}));
  }
  FlightAir out;
  out.ground_ = column.ground();
  out.top_ = column.top();
  const double depth_m = (out.top_ - out.ground_).in(metre);
  const auto layers = static_cast<std::size_t>(std::max(1.0, std::ceil(depth_m / kThickest)));
  out.spacing_m_ = depth_m / static_cast<double>(layers);

  struct Node {
    double t_k, f;
  };
  const auto node = [&](double above_ground_m) -> Result<Node> {
    // Held to the top: the last node may miss it by a rounding.
    const AltitudeAmsl z = std::min(out.top_, out.ground_ + above_ground_m * metre);
    const auto sample = column.at(z);
    if (!sample) return tl::unexpected{sample.error()};
    const auto moist = air::moist_factor(sample->air);
    if (!moist) return tl::unexpected{moist.error()};
    return Node{sample->air.temperature.from_origin().in(kelvin),
                sample->air.pressure.in(pascal) * (*moist) / detail::kGasConstant};
  };
  auto low = node(0.0);
  if (!low) return tl::unexpected{low.error()};
  const double ground_m = out.ground_.from_origin().in(metre);
  for (std::size_t i = 0; i < layers; ++i) {
    const double bottom_m = out.spacing_m_ * static_cast<double>(i);
    const auto middle = node(bottom_m + 0.5 * out.spacing_m_);
    auto high = node(bottom_m + out.spacing_m_);
    if (!middle) return tl::unexpected{middle.error()};
    if (!high) return tl::unexpected{high.error()};
    const double d = out.spacing_m_;
    const double curve = 2.0 * (low->f - 2.0 * middle->f + high->f) / (d * d);
    const Wind w0 = wind_at(winds, ground_m + bottom_m), w1 = wind_at(winds, ground_m + bottom_m + d);
    out.cells_.push_back({low->t_k, (high->t_k - low->t_k) / d, low->f, (high->f - low->f) / d - curve * d, curve,
                          w0.east_m_s, (w1.east_m_s - w0.east_m_s) / d, w0.north_m_s,
                          (w1.north_m_s - w0.north_m_s) / d});
    low = std::move(high);
  }
  return out;
}

FlightAir::Sample FlightAir::at(AltitudeAmsl z) const {
  const double up_m = std::clamp((z - ground_).in(metre), 0.0, (top_ - ground_).in(metre));
  const auto index = std::min(cells_.size() - 1, static_cast<std::size_t>(up_m / spacing_m_));
  const detail::AirCell& c = cells_[index];
  const double dz = up_m - spacing_m_ * static_cast<double>(index);
  const double t_k = c.t0_k + c.t1_k_m * dz;
  return {Temperature::at(t_k * kelvin), (c.f0 + dz * (c.f1_m + dz * c.f2_m2)) / t_k * kilogram_per_cubic_metre,
          (c.east0_m_s + c.east1_s * dz) * metre_per_second, (c.north0_m_s + c.north1_s * dz) * metre_per_second};
}

detail::KernelAir FlightAir::kernel() const {
  return {cells_.data(), static_cast<double>(cells_.size() - 1), ground_.from_origin().in(metre), 1.0 / spacing_m_};
}

}  // namespace pappus::motion
