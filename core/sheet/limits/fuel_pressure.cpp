// Fuel pressure at the temperature of the liquid, cylinder by cylinder: the weakest counts. Pressure follows
// temperature and says nothing of quantity.
#include <algorithm>

#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

// The range that every burner's manual allows, if all state one.
std::optional<balloon::PressureRange> manual_range(const balloon::Balloon& balloon) {
  std::optional<balloon::PressureRange> range;
  for (const balloon::Burner& burner : balloon.burners) {
    if (!burner.pressure) return std::nullopt;
    if (!range) range = burner.pressure;
    range->low = std::max(range->low, burner.pressure->low);
    range->high = std::min(range->high, burner.pressure->high);
  }
  return range;
}

}  // namespace

Limit fuel_pressure(const Facts& facts) {
  Limit limit;
  limit.name = "fuel_pressure";
  const auto manual = manual_range(facts.morning.balloon);
  const GaugePressure low = manual ? manual->low : kDefaults.fuel_pressure_outside;
  const GaugePressure high = manual ? manual->high : kDefaults.fuel_pressure_high;
  limit.source = {manual ? Authority::flight_manual : Authority::common_practice, {}};
  limit.bound = Bound{measure::of(low), Side::at_least};
  if (!manual) limit.near_bound = Bound{measure::of(kDefaults.fuel_pressure_near), Side::at_least};
  if (!facts.station_pressure) {
    limit.finding = facts.station_pressure.error().sentence;
    limit.remedy = say("limit.fuel_pressure.give_qnh");
    return limit;
  }
  std::optional<GaugePressure> weakest, strongest;
  const CylinderFacts *weakest_at = nullptr, *strongest_at = nullptr;
  std::optional<Instant> oldest;
  for (const CylinderFacts& c : facts.cylinders) {
    if (!c.pressure) {
      limit.finding =
          say(c.temperature ? "limit.fuel_pressure.beyond" : "limit.fuel_pressure.unknown", {{"id", c.cylinder->id}});
      limit.remedy = say("limit.fuel_pressure.read_gauge");
      return limit;
    }
    const GaugePressure p = c.pressure->best;
    if (!weakest || p < *weakest) {
      weakest = p;
      weakest_at = &c;
    }
    if (!strongest || p > *strongest) {
      strongest = p;
      strongest_at = &c;
    }
    if (c.seen && (!oldest || *c.seen < *oldest)) oldest = c.seen;
  }
  if (!weakest) {
    limit.finding = say("fact.no_cylinders");
    return limit;
  }
  if (oldest) limit.age = facts.age(*oldest);
  limit.value = measure::of(*weakest);
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  const auto found = [&](const CylinderFacts& c) {
    return say(c.pressure->read ? "limit.fuel_pressure.read" : "limit.fuel_pressure.found",
               {{"value", *limit.value}, {"id", c.cylinder->id}});
  };
  limit.finding = found(*weakest_at);
  const PressureExpected& band = *weakest_at->pressure;
  limit.notes.push_back(say(band.read ? "limit.fuel_pressure.read_note" : "limit.fuel_pressure.band_note",
                            {{"low", measure::of(band.low)}, {"high", measure::of(band.high)}}));
  if (weakest_at->temperature_reckoned) limit.notes.push_back(say("limit.fuel_pressure.reckoned_note"));
  // What may be under the bound with another mix or colder liquid is not simply inside.
  if (limit.state == LimitState::inside && band.low < low) limit.state = LimitState::near;
  if (limit.state != LimitState::inside) limit.remedy = say("limit.fuel_pressure.low");
  // Too much: beyond the manual's range is outside; without one it is a question for the manual.
  if (*strongest > high && limit.state != LimitState::outside) {
    limit.state = manual ? LimitState::outside : LimitState::near;
    limit.value = measure::of(*strongest);
    limit.bound = Bound{measure::of(high), Side::at_most};
    limit.near_bound.reset();
    limit.finding = found(*strongest_at);
    limit.remedy = say("limit.fuel_pressure.high");
  }
  return limit;
}

}  // namespace pappus::sheet::limits
