/// How warm the liquid in a standing cylinder will be: it follows the air around it, slowly.
///
/// One lump of liquid, vapour and metal that exchanges heat with the air. Where a cylinder has spent the night (in a car, on
/// cold ground, in the sun) matters more than any figure here: a thermometer on the shell or the gauge says what is true.
/// Nothing here says that anyone should warm a cylinder.
#pragma once
#include <vector>

#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::propane {

/// The air around a cylinder at a time from now on; straight lines between two, and the last one stays.
struct AirAround {
  Duration after;
  Temperature air;
};

/// How long a cylinder takes to give up 63 % of a difference to the air: 2.6 h, 2 to 3.5 h (a cylinder of 15 gal outdoors,
/// ours). A smaller one is faster, one in a bag slower.
struct ExchangeTimes {
  Duration low = 2.0 * hour, best = 2.6 * hour, high = 3.5 * hour;
};

struct LiquidWarmth {
  Temperature low, best, high;
};

/// The liquid's temperature some time from now.
/// Domain    air at 0 first and then in order of time, at least one ("propane.air_missing", "propane.air_order"); `after`
///           0 to 48 h ("propane.after_outside"); temperatures -60 to 70 C ("propane.temperature_outside"); times above 1
///           minute and in order ("propane.exchange_outside"); start low <= best <= high. Else Errc::out_of_range, or
///           bad_input where the list is wrong.
/// Accuracy  exact for the lump (closed form for each straight piece). Radiation to a clear sky and sun on the shell are
///           not in it: at dawn after a clear night the shell may be a few kelvins colder than the air.
/// Laws      with still air as warm as the liquid nothing changes; low <= best <= high; warmer air never gives colder
///           liquid; after a long time the liquid is as warm as the air.
Result<LiquidWarmth> liquid_warmth(const LiquidWarmth& now, const std::vector<AirAround>& air, Duration after,
                                   const ExchangeTimes& times = {});

}  // namespace pappus::propane
