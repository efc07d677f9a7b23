#include "core/balloon/lift.hpp"

#include <algorithm>
#include <cmath>

#include "core/air/isa.hpp"
#include "core/base/refusal.hpp"

// Notation: T temperature K, p pressure Pa, V volume m3, R gas constant of dry air J/(kg K), L lift kg, c lift times
// kelvin: L = c (1/T_a - 1/T_i) with c = (p V / R)(1 - 0.378 e/p).

namespace pappus::balloon {
namespace {

constexpr Temperature kHottestMean = celsius(200.0);
constexpr Volume kSmallestVolume = 1.0 * cubic_metre;  // a published example works with 10 m3
constexpr Volume kLargestVolume = 100'000.0 * cubic_metre;
constexpr Length kLevelStep = 20.0 * metre;

struct Buoyancy {
  double c_kg_k;
  double t_a_k;

  [[nodiscard]] double lift_kg(double t_i_k) const { return c_kg_k * (1.0 / t_a_k - 1.0 / t_i_k); }
  /// Domain: lift_kg below c_kg_k / t_a_k, which no temperature reaches.
  [[nodiscard]] double t_i_k(double lift_kg) const { return 1.0 / (1.0 / t_a_k - lift_kg / c_kg_k); }
};

Result<Buoyancy> buoyancy(const air::MoistAir& outside, Volume volume) {
  if (!(volume >= kSmallestVolume && volume <= kLargestVolume))
    return refuse_outside("lift.volume_outside", measure::gas(volume), measure::gas(kSmallestVolume),
                          measure::gas(kLargestVolume));
  const auto moist = air::moist_factor(outside);
  if (!moist) return tl::unexpected{moist.error()};
  return Buoyancy{outside.pressure.in(pascal)*volume.in(cubic_metre) / air::kDryAirConstant * *moist,
                  outside.temperature.from_origin().in(kelvin)};
}

// Written so that NaN is refused too.
Result<double> needed_k(const Buoyancy& b, Mass carried) {
  const double most_kg = std::max(0.0, b.lift_kg(kHottestMean.from_origin().in(kelvin)));
  const double carried_kg = carried.in(kilogram);
  if (!(carried_kg >= 0.0 && carried_kg <= most_kg))
    return refuse_outside("lift.load_outside", measure::of(carried), measure::of(Mass{}),
                          measure::of(most_kg * kilogram));
  return b.t_i_k(carried_kg);
}

Temperature at_kelvin(double k) { return Temperature::at(k * kelvin); }

}  // namespace

Result<Mass> gross_lift(const LiftInputs& inputs) {
  const auto b = buoyancy(inputs.outside, inputs.volume);
  if (!b) return tl::unexpected{b.error()};
  if (!(inputs.inside_mean >= inputs.outside.temperature && inputs.inside_mean <= kHottestMean))
    return refuse_outside("lift.inside_temperature_outside", measure::of(inputs.inside_mean),
                          measure::of(inputs.outside.temperature), measure::of(kHottestMean));
  return b->lift_kg(inputs.inside_mean.from_origin().in(kelvin)) * kilogram;
}

Result<Temperature> mean_temperature_needed(const CarryInputs& inputs) {
  const auto b = buoyancy(inputs.outside, inputs.volume);
  if (!b) return tl::unexpected{b.error()};
  return needed_k(*b, inputs.carried).map(at_kelvin);
}

std::vector<AltitudeAmsl> levels_flown(AltitudeAmsl field, AltitudeAmsl highest) {
  std::vector<AltitudeAmsl> levels;
  for (int i = 0; field + i * kLevelStep < highest; ++i) levels.push_back(field + i * kLevelStep);
  levels.push_back(highest);
  return levels;
}

Result<FlightLift> flight_lift(const FlightLiftInputs& inputs) {
  const air::AirColumn& column = inputs.column;
  if (!(inputs.highest >= column.ground() && inputs.highest <= column.top()))
    return refuse_outside("lift.highest_outside", measure::of(inputs.highest), measure::of(column.ground()),
                          measure::of(column.top()));
  FlightLift flight;
  flight.mean_allowed = inputs.crown_limit - inputs.crown_excess;
  if (!(flight.mean_allowed >= celsius(0.0) && flight.mean_allowed <= kHottestMean))
    return refuse_outside("lift.crown_limit_outside", measure::of(inputs.crown_limit),
                          measure::of(celsius(0.0) + inputs.crown_excess),
                          measure::of(kHottestMean + inputs.crown_excess));
  const double allowed_k = flight.mean_allowed.from_origin().in(kelvin);
  for (const AltitudeAmsl z : levels_flown(column.ground(), inputs.highest)) {
    const auto sample = column.at(z);
    if (!sample) return tl::unexpected{sample.error()};
    const auto b = buoyancy(sample->air, inputs.volume);
    if (!b) return tl::unexpected{b.error()};
    const auto t_i_k = needed_k(*b, inputs.carried);
    if (!t_i_k) return tl::unexpected{t_i_k.error()};
    const Temperature needed = at_kelvin(*t_i_k);
    // In air hotter than the mean allowed the lift is negative, and so is the margin: it is told all the same.
    flight.levels.push_back({z, sample->air.temperature, needed, needed + inputs.crown_excess,
                             b->lift_kg(allowed_k) * kilogram - inputs.carried, sample->filling});
  }
  flight.worst = *std::max_element(flight.levels.begin(), flight.levels.end(), [](const LiftAt& a, const LiftAt& b) {
    return a.crown_expected < b.crown_expected;
  });
  return flight;
}

}  // namespace pappus::balloon
