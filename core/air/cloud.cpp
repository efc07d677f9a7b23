#include "core/air/cloud.hpp"

#include <algorithm>

#include "core/air/humidity.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::air {
namespace {

constexpr TemperatureDelta kReportRounding = 0.05 * kelvin;

bool inside(Temperature t) { return t >= kColdestVapour && t <= kWarmestVapour; }  // false for NaN

}  // namespace

Result<HeightAgl> cloud_base_from_spread(Temperature temperature, Temperature dew_point) {
  const Measure low = measure::of(kColdestVapour), high = measure::of(kWarmestVapour);
  if (!inside(temperature))
    return refuse_outside("air.temperature_outside_vapour", measure::of(temperature), low, high);
  if (!inside(dew_point)) return refuse_outside("air.dew_point_outside", measure::of(dew_point), low, high);
  if (dew_point - temperature > kReportRounding)
    return fail(Errc::bad_input, say("air.dew_point_above_temperature", {{"dew_point", measure::of(dew_point)},
                                                                         {"temperature", measure::of(temperature)}}));
  const TemperatureDelta spread = std::max(TemperatureDelta{}, temperature - dew_point);
  return agl(spread / kSpreadLostPerThousandFeet * 1000.0 * foot);
}

}  // namespace pappus::air
