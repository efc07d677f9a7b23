#include "core/motion/performance.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "core/base/refusal.hpp"

namespace pappus::motion {
namespace {

constexpr Length kLowest = 300.0 * metre;  // over the field: where descents are stopped, for the air's density

Pilot all_the_time() {
  Pilot p;
  p.burn = 60.0 * second;
  p.look = Duration{};
  p.settle = 5.0 * second;
  p.climb = 10.0 * metre_per_second;
  p.sink = 10.0 * metre_per_second;
  return p;
}

Result<Body> with_burners(const PerformanceInputs& inputs, int burners, const FlightAir& air) {
  BodyInputs body = inputs.body;
  body.flame = static_cast<double>(burners) * inputs.body.flame;
  return Body::from(body, air);
}

struct From {
  AltitudeAmsl altitude;
  Temperature inside;
  Speed climb;
};

// Full flame from a state on, until it sinks no more. The fall is told, not where it ends: the ground may be nearer, so
// the flight is flown high enough and the answer holds for the density there.
Result<Arrest> arrested(const Body& body, const FlightAir& air, const From& from, int burners) {
  constexpr Duration kLongest = 180.0 * second;
  Plan plan;
  plan.from = from.altitude;
  plan.inside = from.inside;
  plan.climb = from.climb;
  plan.legs = {{kLongest, air.top() - 100.0 * metre}};
  plan.length = kLongest;
  plan.pilot = all_the_time();
  const auto flown = fly(body, air, plan);
  if (!flown) return tl::unexpected{flown.error()};
  Arrest out;
  out.sink = -from.climb;
  out.burners = burners;
  const auto stopped = std::find_if(flown->flown.track.begin() + 1, flown->flown.track.end(),
                                    [](const FlightPoint& p) { return p.climb >= Speed{}; });
  for (auto p = flown->flown.track.begin(); p != stopped; ++p)
    out.crown_too_hot = out.crown_too_hot || p->inside > body.hottest_mean();
  if (stopped == flown->flown.track.end() || (flown->flown.touchdown && stopped + 1 == flown->flown.track.end()))
    return out;
  out.height = from.altitude - std::min(stopped->altitude, (stopped - 1)->altitude);
  out.time = stopped->at;
  out.fuel = stopped->fuel;
  return out;
}

}  // namespace

Result<Performance> performance(const PerformanceInputs& inputs, const FlightAir& air) {
  const AltitudeAmsl low = air.ground() + kLowest, most = air.top() - 200.0 * metre;
  if (!(inputs.burners >= 1 && inputs.burners <= 4))
    return refuse_outside("motion.performance_outside", measure::count(inputs.burners), measure::count(1),
                          measure::count(4));
  if (!(inputs.highest >= air.ground() && inputs.highest <= most && low <= most))
    return refuse_outside("motion.performance_height_outside", measure::of(inputs.highest), measure::of(air.ground()),
                          measure::of(most));
  const auto one = with_burners(inputs, 1, air);
  if (!one) return tl::unexpected{one.error()};
  const auto all = with_burners(inputs, inputs.burners, air);
  if (!all) return tl::unexpected{all.error()};
  const Mass mass = inputs.body.mass;
  Performance out;
  out.fit_error = one->fit_error();

  // Ceiling and climbs: statics.
  const auto spare = [&](AltitudeAmsl z) { return one->excess(air.at(z), one->hottest_mean(), mass); };
  if (!(spare(air.ground()) > Mass{}))
    return fail(Errc::out_of_range, say("motion.not_carried", {{"mass", measure::of(mass)}}));
  for (AltitudeAmsl z = air.ground(); z <= air.top(); z = z + 20.0 * metre) {
    if (spare(z) >= Mass{}) continue;
    out.ceiling = z;
    break;
  }
  std::vector<AltitudeAmsl> heights;
  for (AltitudeAmsl z = air.ground(); z < inputs.highest; z = z + 250.0 * metre) heights.push_back(z);
  heights.push_back(inputs.highest);
  for (const AltitudeAmsl z : heights) out.climbs.push_back({z, spare(z), one->steady(air.at(z), spare(z))});

  // The first minute.
  {
    Plan plan;
    plan.from = air.ground();
    plan.with_the_wind = false;
    plan.legs = {{60.0 * second, air.top() - 100.0 * metre}};
    plan.length = 60.0 * second;
    plan.pilot = all_the_time();
    plan.pilot.hand = Hand::continuous;
    const auto flown = fly(*all, air, plan);
    if (!flown) return tl::unexpected{flown.error()};
    out.first_minute = flown->flown.end.altitude - air.ground();
  }

  // Descents that the temperature inside just holds.
  for (const double feet_per_minute : std::array{300.0, 500.0, 800.0, 1000.0}) {
    const Speed sink = feet_per_minute * foot_per_minute;
    const FlightAir::Sample here = air.at(low);
    // Drag grows with the square: what is missing in lift at this sink, from that at 1 m/s.
    const Mass unit = 1.0 * kilogram;
    const double of_unit = sink / -one->steady(here, -unit);
    const auto inside = one->carrying(here, mass - of_unit * of_unit * unit);
    if (!inside) return fail(Errc::out_of_range, say("motion.not_carried", {{"mass", measure::of(mass)}}));
    for (int n = 1; n <= std::min(2, inputs.burners); ++n) {
      const auto body = with_burners(inputs, n, air);
      if (!body) return tl::unexpected{body.error()};
      const auto stopped = arrested(*body, air, {low, *inside, -sink}, n);
      if (!stopped) return tl::unexpected{stopped.error()};
      out.arrests.push_back(*stopped);
    }
  }

  // The flame goes out in level flight.
  const AltitudeAmsl level = std::max(inputs.highest, low);
  Plan plan;
  plan.from = level;
  plan.legs = {{600.0 * second, air.ground()}};
  plan.length = 600.0 * second;
  plan.flame_out = Duration{};
  const auto flown = fly(*one, air, plan);
  if (!flown) return tl::unexpected{flown.error()};
  const std::vector<FlightPoint>& track = flown->flown.track;
  for (const FlightPoint& p : track) out.sink_most = std::max(out.sink_most, -p.climb);
  if (flown->flown.touchdown) out.sink_most = std::max(out.sink_most, flown->flown.touchdown->sink);
  const auto at = [&](double seconds) -> const FlightPoint* {
    const auto n = static_cast<std::size_t>(seconds / detail::kStep);
    return n < track.size() && !(flown->flown.touchdown && n + 1 == track.size()) ? &track[n] : nullptr;
  };
  for (const double seconds : std::array{20.0, 30.0, 60.0, 120.0, 180.0, 300.0}) {
    if (const FlightPoint* p = at(seconds)) out.flame_out.push_back({p->at, -p->climb, level - p->altitude});
  }
  for (const double seconds : std::array{60.0, 120.0, 180.0}) {
    const FlightPoint* p = at(seconds);
    if (p == nullptr) continue;
    for (int n = 1; n <= std::min(2, inputs.burners); ++n) {
      const auto body = with_burners(inputs, n, air);
      if (!body) return tl::unexpected{body.error()};
      // High enough that the ground does not end it; the fall is what is asked.
      auto stopped = arrested(*body, air, {std::max(p->altitude, low), p->inside, p->climb}, n);
      if (!stopped) return tl::unexpected{stopped.error()};
      stopped->without_flame = p->at;
      out.from_cold.push_back(*stopped);
    }
  }
  return out;
}

}  // namespace pappus::motion
