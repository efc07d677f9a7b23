#include "core/motion/flight.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "core/base/refusal.hpp"

namespace pappus::motion {
namespace {

using detail::kStep;

double kelvins(Temperature t) { return t.from_origin().in(kelvin); }
double metres(AltitudeAmsl z) { return z.from_origin().in(metre); }

// Density times temperature.
double f_of(const FlightAir::Sample& here) {
  return here.density.in(kilogram_per_cubic_metre)*kelvins(here.temperature);
}

tl::unexpected<Issue> not_carried(Mass mass) {
  return fail(Errc::out_of_range, say("motion.not_carried", {{"mass", measure::of(mass)}}));
}

Result<void> validated(const Pilot& p) {
  const auto seconds = [](double s) { return measure::of(s * second); };
  const auto vertical = [](double m_s) { return measure::vertical(m_s * metre_per_second); };
  return within({
      {"motion.burn_outside", measure::of(p.burn), seconds(2.0), seconds(60.0)},
      {"motion.look_outside", measure::of(p.look), seconds(0.0), seconds(60.0)},
      {"motion.settle_outside", measure::of(p.settle), seconds(5.0), seconds(600.0)},
      {"motion.climb_outside", measure::vertical(p.climb), vertical(0.1), vertical(10.0)},
      {"motion.sink_outside", measure::vertical(p.sink), vertical(0.1), vertical(10.0)},
      {"motion.vent_over_outside", measure::of(p.vent_over), measure::of(TemperatureDelta{}),
       measure::of(50.0 * kelvin)},
  });
}

Result<void> validated(const Plan& plan, const FlightAir& air) {
  if (auto ok = validated(plan.pilot); !ok) return ok;
  const AltitudeAmsl most = air.top() - 100.0 * metre;
  const auto inside = [&](AltitudeAmsl z) { return z >= air.ground() && z <= most; };
  const auto wrong_height = [&](AltitudeAmsl z) {
    return refuse_outside("motion.plan_height", measure::of(z), measure::of(air.ground()), measure::of(most));
  };
  if (plan.legs.empty()) return fail(Errc::bad_input, say("motion.plan_no_legs"));
  if (!(plan.length >= Duration{} && plan.length <= 24.0 * hour))
    return refuse_outside("motion.plan_length", measure::of(plan.length), measure::of(Duration{}),
                          measure::of(24.0 * hour));
  if (!inside(plan.from)) return wrong_height(plan.from);
  for (std::size_t i = 0; i < plan.legs.size(); ++i) {
    if (!inside(plan.legs[i].height)) return wrong_height(plan.legs[i].height);
    if (i > 0 && !(plan.legs[i].until > plan.legs[i - 1].until))
      return fail(Errc::bad_input, say("motion.plan_order", {{"time", measure::of(plan.legs[i].until)}}));
  }
  if (plan.inside && !(kelvins(*plan.inside) >= 200.0 && kelvins(*plan.inside) <= 473.15))
    return refuse_outside("motion.plan_inside", measure::of(*plan.inside), measure::of(Temperature::at(200.0 * kelvin)),
                          measure::of(Temperature::at(473.15 * kelvin)));
  const Speed fastest = 20.0 * metre_per_second;
  if (!(plan.climb >= -fastest && plan.climb <= fastest))
    return refuse_outside("motion.plan_climb", measure::vertical(plan.climb), measure::vertical(-fastest),
                          measure::vertical(fastest));
  return {};
}

detail::KernelPilot kernel_of(const Pilot& p) {
  return {p.hand == Hand::continuous ? 1.0 : 0.0,
          p.burn.in(second),
          p.look.in(second),
          1.0 / p.settle.in(second),
          p.climb.in(metre_per_second),
          p.sink.in(metre_per_second),
          p.vents ? 1.0 : 0.0,
          p.vent_over.in(kelvin)};
}

/// The flights as columns of numbers. Filled up to a whole number of lanes with copies of the last.
class Columns {
 public:
  enum Column {
    z,
    w,
    gas,
    pending,
    fuel,
    east,
    north,
    u,
    v,
    burning,
    look_in,
    flow,
    vent,
    flying,
    touch,
    touch_sink,
    been_up,
    mass,
    loss,
    drag_up,
    drag_down,
    flow_most,
    wind_east,
    wind_north,
    flame_out,
    kColumns
  };

  Columns(std::size_t flights, int width) : flights_{flights} {
    const auto w = static_cast<std::size_t>(width);
    const std::size_t padded = (flights + w - 1) / w * w;
    for (std::vector<double>& column : columns_) column.assign(padded, 0.0);
    leg_.assign(padded, 0);
    leg_last_.assign(padded, 0);
  }

  Result<void> set(std::size_t i, const Body& body, const FlightAir& air, const Plan& plan,
                   const Perturbation& perturbation) {
    const FlightAir::Sample here = air.at(plan.from);
    const Mass carried = body.inputs().mass + perturbation.more;
    if (!(carried > Mass{})) return not_carried(carried);
    std::optional<Temperature> inside = plan.inside;
    if (!inside) inside = body.carrying(here, carried);
    if (!inside) return not_carried(carried);
    const BodySettings& s = body.inputs().settings;
    const double moving = plan.with_the_wind ? 1.0 : 0.0;
    at(z, i) = metres(plan.from);
    at(w, i) = plan.climb.in(metre_per_second);
    at(gas, i) = f_of(here) * body.kernel().volume_m3 / kelvins(*inside);
    at(u, i) = moving * (here.east + perturbation.east).in(metre_per_second);
    at(v, i) = moving * (here.north + perturbation.north).in(metre_per_second);
    at(flying, i) = 1.0;
    at(been_up, i) = plan.from > air.ground() + detail::kOffTheGround * metre ? 1.0 : 0.0;
    at(mass, i) = carried.in(kilogram);
    at(loss, i) = s.loss * perturbation.loss;
    at(drag_up, i) = s.drag_up * perturbation.drag;
    at(drag_down, i) = s.drag_down * perturbation.drag;
    at(flow_most, i) = perturbation.flame * body.inputs().flame.in(kilogram_per_second);
    at(wind_east, i) = perturbation.east.in(metre_per_second);
    at(wind_north, i) = perturbation.north.in(metre_per_second);
    constexpr double kNever = 1e12;
    at(flame_out, i) = plan.flame_out ? plan.flame_out->in(second) : kNever;
    leg_[i] = static_cast<std::int32_t>(leg_until_.size());
    for (const Leg& leg : plan.legs) {
      leg_until_.push_back(leg.until.in(second));
      leg_z_.push_back(metres(leg.height));
    }
    leg_last_[i] = static_cast<std::int32_t>(leg_until_.size()) - 1;
    return {};
  }
  void pad() {
    for (std::vector<double>& column : columns_) {
      const double last = column[flights_ - 1];
      std::fill(column.begin() + static_cast<std::ptrdiff_t>(flights_), column.end(), last);
    }
    const std::int32_t leg = leg_[flights_ - 1], leg_last = leg_last_[flights_ - 1];
    std::fill(leg_.begin() + static_cast<std::ptrdiff_t>(flights_), leg_.end(), leg);
    std::fill(leg_last_.begin() + static_cast<std::ptrdiff_t>(flights_), leg_last_.end(), leg_last);
  }

  [[nodiscard]] double& at(Column c, std::size_t i) { return columns_[c][i]; }

  [[nodiscard]] detail::KernelFlights kernel() {
    const auto p = [this](Column c) { return columns_[c].data(); };
    detail::KernelFlights k{};
    k.count = static_cast<std::int32_t>(leg_.size());
    k.z_m = p(z);
    k.w_m_s = p(w);
    k.gas_kg = p(gas);
    k.pending_j = p(pending);
    k.fuel_kg = p(fuel);
    k.east_m = p(east);
    k.north_m = p(north);
    k.u_m_s = p(u);
    k.v_m_s = p(v);
    k.burning_s = p(burning);
    k.look_in_s = p(look_in);
    k.flow_kg_s = p(flow);
    k.vent = p(vent);
    k.flying = p(flying);
    k.touch_s = p(touch);
    k.touch_sink_m_s = p(touch_sink);
    k.been_up = p(been_up);
    k.mass_kg = p(mass);
    k.loss = p(loss);
    k.drag_up = p(drag_up);
    k.drag_down = p(drag_down);
    k.flow_most_kg_s = p(flow_most);
    k.wind_east_m_s = p(wind_east);
    k.wind_north_m_s = p(wind_north);
    k.flame_out_s = p(flame_out);
    k.leg_until_s = leg_until_.data();
    k.leg_z_m = leg_z_.data();
    k.leg = leg_.data();
    k.leg_last = leg_last_.data();
    return k;
  }

  [[nodiscard]] FlightPoint point(std::size_t i, double time_s, const Body& body, const FlightAir& air) {
    FlightPoint p;
    p.at = at(flying, i) > 0.0 ? time_s * second : at(touch, i) * second;
    p.altitude = amsl(at(z, i) * metre);
    p.climb = at(w, i) * metre_per_second;
    p.inside = Temperature::at(f_of(air.at(p.altitude)) * body.kernel().volume_m3 / at(gas, i) * kelvin);
    p.east = at(east, i) * metre;
    p.north = at(north, i) * metre;
    p.fuel = at(fuel, i) * kilogram;
    p.under_way = at(pending, i) * joule;
    p.flame = at(flow, i) * kilogram_per_second;
    p.venting = at(vent, i) > 0.0;
    return p;
  }
  [[nodiscard]] std::optional<Touchdown> touchdown(std::size_t i) {
    if (at(flying, i) > 0.0) return std::nullopt;
    return Touchdown{at(touch, i) * second, at(touch_sink, i) * metre_per_second};
  }

 private:
  std::size_t flights_;
  std::array<std::vector<double>, kColumns> columns_;
  std::vector<double> leg_until_, leg_z_;
  std::vector<std::int32_t> leg_, leg_last_;
};

std::int32_t steps_of(Duration length) {
  return static_cast<std::int32_t>(std::ceil(length.in(second) / kStep - 1e-9));
}

tl::unexpected<Issue> left_air(const FlightAir& air, AltitudeAmsl z) {
  return fail(Errc::out_of_range,
              say("motion.air_left", {{"altitude", measure::of(z)}, {"top", measure::of(air.top())}}));
}

// What is inside: the gas f V / T. Its energy, c_v (f V / T) T, does not depend on the temperature.
struct Inside {
  double gas_kg, energy_j;
};
Inside inside_of(const Body& body, const FlightAir& air, const FlightPoint& p) {
  const FlightAir::Sample here = air.at(p.altitude);
  const double f = f_of(here);
  const double v = body.kernel().volume_m3;
  return {f * v / kelvins(p.inside), (detail::kHeatCapacity - detail::kGasConstant) * f * v};
}

}  // namespace

Result<FlownWithBalance> fly(const Body& body, const FlightAir& air, const Plan& plan,
                             const Perturbation& perturbation) {
  if (auto ok = validated(plan, air); !ok) return tl::unexpected{ok.error()};
  Columns columns{1, 1};
  if (auto ok = columns.set(0, body, air, plan, perturbation); !ok) return tl::unexpected{ok.error()};
  const detail::KernelFlights flights = columns.kernel();
  detail::KernelLedger ledger{};
  FlownWithBalance out;
  out.flown.track.push_back(columns.point(0, 0.0, body, air));
  const std::int32_t steps = steps_of(plan.length);
  for (std::int32_t n = 0; n < steps && !out.flown.touchdown; ++n) {
    detail::scalar::run(air.kernel(), body.kernel(), kernel_of(plan.pilot), flights, kStep * n, 1, &ledger);
    out.flown.touchdown = columns.touchdown(0);
    const FlightPoint here = columns.point(0, kStep * (n + 1), body, air);
    if (!(here.altitude <= air.top())) return left_air(air, here.altitude);
    out.flown.track.push_back(here);
  }
  out.flown.end = out.flown.track.back();

  // Up to the step in which it came down, as the ledger goes.
  const FlightPoint& start = out.flown.track.front();
  const FlightPoint& end = out.flown.touchdown ? *(out.flown.track.end() - 2) : out.flown.end;
  const Inside first = inside_of(body, air, start), last = inside_of(body, air, end);
  const double passed_kg = first.gas_kg + ledger.gas_in_kg + ledger.gas_out_kg + ledger.vented_kg;
  out.balance.gas =
      (last.gas_kg - first.gas_kg - (ledger.gas_in_kg - ledger.gas_out_kg - ledger.vented_kg)) / passed_kg;
  const double under_way_j = (end.under_way - start.under_way).in(joule);
  const double passed_j = first.energy_j + std::abs(ledger.fuel_heat_j) + std::abs(ledger.lost_j);
  out.balance.energy =
      (last.energy_j - first.energy_j + under_way_j - (ledger.fuel_heat_j - ledger.lost_j + ledger.carried_in_j)) /
      passed_j;
  return out;
}

std::vector<Lanes> lanes_here() {
  std::vector<Lanes> all{Lanes::scalar, Lanes::baseline};
#if defined(__x86_64__)
  if (__builtin_cpu_supports("avx2")) all.push_back(Lanes::avx2);
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq")) all.push_back(Lanes::avx512);
#endif
  return all;
}

int width_of(Lanes lanes) {
  switch (lanes) {
    case Lanes::scalar: return 1;
    case Lanes::baseline: return 2;
    case Lanes::avx2: return 4;
    case Lanes::avx512: return 8;
  }
  return 1;
}

Result<std::vector<Flown>> fly_many(const Body& body, const FlightAir& air, const std::vector<Plan>& plans,
                                    const std::vector<Perturbation>& perturbations, Lanes lanes) {
  if (plans.size() != perturbations.size()) return fail(Errc::bad_call, say("motion.plan_pairs"));
  if (plans.empty()) return std::vector<Flown>{};
  const detail::KernelPilot pilot = kernel_of(plans.front().pilot);
  const std::int32_t steps = steps_of(plans.front().length);
  Columns columns{plans.size(), width_of(lanes)};
  for (std::size_t i = 0; i < plans.size(); ++i) {
    if (auto ok = validated(plans[i], air); !ok) return tl::unexpected{ok.error()};
    const detail::KernelPilot other = kernel_of(plans[i].pilot);
    const bool same = other.continuous == pilot.continuous && other.burn_s == pilot.burn_s &&
                      other.look_s == pilot.look_s && other.settle_1_s == pilot.settle_1_s &&
                      other.climb_most_m_s == pilot.climb_most_m_s && other.sink_most_m_s == pilot.sink_most_m_s &&
                      other.vents == pilot.vents && other.vent_over_k == pilot.vent_over_k;
    if (!same || steps_of(plans[i].length) != steps) return fail(Errc::bad_call, say("motion.plan_differs"));
    if (auto ok = columns.set(i, body, air, plans[i], perturbations[i]); !ok) return tl::unexpected{ok.error()};
  }
  columns.pad();

  detail::Kernel kernel = detail::scalar::run;
  const std::vector<Lanes> here = lanes_here();
  if (std::find(here.begin(), here.end(), lanes) == here.end())
    return fail(Errc::bad_call, say("motion.lanes_not_here"), std::string(name_of(lanes)));
  if (lanes == Lanes::baseline) kernel = detail::baseline::run;
#if defined(__x86_64__)
  if (lanes == Lanes::avx2) kernel = detail::avx2::run;
  if (lanes == Lanes::avx512) kernel = detail::avx512::run;
#endif
  kernel(air.kernel(), body.kernel(), pilot, columns.kernel(), 0.0, steps, nullptr);

  std::vector<Flown> out(plans.size());
  for (std::size_t i = 0; i < plans.size(); ++i) {
    out[i].touchdown = columns.touchdown(i);
    out[i].end = columns.point(i, kStep * steps, body, air);
    if (!(out[i].end.altitude <= air.top())) return left_air(air, out[i].end.altitude);
  }
  return out;
}

}  // namespace pappus::motion
