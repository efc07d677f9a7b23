/// What this balloon can do in this air: how high, how fast up, how much height it takes to stop a descent, and what
/// happens when the flame goes out.
///
/// Every figure is a flight of flight.hpp, without a gust and with the pilot's hand at the blast valve at once: what it
/// takes to notice comes on top. Drag is known within 35 % and the heat of the flame within a quarter, so heights to
/// stop in are told as they come and doubled nowhere: the flight manual, and a margin of one's own, decide.
#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/motion/body.hpp"
#include "core/motion/flight.hpp"
#include "core/motion/flight_air.hpp"

namespace pappus::motion {

struct PerformanceInputs {
  BodyInputs body;       // its flame: one burner's
  int burners = 1;       // 1 to 4; what two can do is told where there are two
  AltitudeAmsl highest;  // of the flight planned
};

/// With the crown at its limit.
struct ClimbAt {
  AltitudeAmsl altitude;
  Mass excess;  // lift over mass; below zero: it does not stay up there
  Speed climb;  // steady
};

/// A descent stopped: from the moment the blast valve is opened for good.
struct Arrest {
  Speed sink;  // to begin with
  int burners = 1;
  Duration without_flame;        // before; zero: steady in a descent that its temperature just holds
  std::optional<Length> height;  // lost until it sinks no more; none: not within three minutes
  Duration time;
  Mass fuel;
  bool crown_too_hot = false;  // before it stopped, the crown expected passed its limit
};

struct FlameOut {
  Duration after;  // since the flame went out in level flight
  Speed sink;
  Length lost;
};

struct Performance {
  std::optional<AltitudeAmsl>
      ceiling;  // the lowest height at which the crown's limit no longer carries it; none: none in this air
  std::vector<ClimbAt> climbs;  // at the field, every 250 m, and at the highest height
  Length first_minute;  // height gained from standing on the ground in balance, all burners, crown held at its limit
  std::vector<Arrest> arrests;      // from steady descents of 300, 500, 800 and 1000 ft/min, low over the field
  std::vector<Arrest> from_cold;    // after 60, 120 and 180 s without flame, from level flight at the highest height
  std::vector<FlameOut> flame_out;  // after 20, 30, 60, 120, 180 and 300 s, or until it is down
  Speed sink_most;                  // with no flame at all, until it is down or for ten minutes
  double fit_error = 0.0;           // of the heat flux, see Body
};
/// Domain    `highest` from the ground to 200 m below the air's top, 1 to 4 burners ("motion.performance_outside",
///           Errc::out_of_range), a body that its air carries at the field with its crown inside the limit
///           ("motion.not_carried"); and Body's.
/// Laws      two burners never need more height than one; a faster descent never less; more mass never climbs better.
/// Source    14 CFR 31.17 asks for 300 ft in the first minute of a balloon at its greatest mass: a floor for sanity,
///           not a limit of the day.
Result<Performance> performance(const PerformanceInputs& inputs, const FlightAir& air);

}  // namespace pappus::motion

namespace pappus {
template <>
struct Description<motion::ClimbAt> {
  static constexpr std::string_view name = "ClimbAt";
  static constexpr auto fields =
      Fields{field("altitude", &motion::ClimbAt::altitude, "where"),
             field("excess", &motion::ClimbAt::excess, "lift over mass; below zero: it does not stay up there"),
             field("climb", &motion::ClimbAt::climb, "steady; below zero: it sinks")};
};
template <>
struct Description<motion::Arrest> {
  static constexpr std::string_view name = "Arrest";
  static constexpr auto fields =
      Fields{field("sink", &motion::Arrest::sink, "to begin with"),
             field("burners", &motion::Arrest::burners, "lit from then on"),
             field("without_flame", &motion::Arrest::without_flame,
                   "before; 0: steady in a descent that its temperature holds"),
             field("height", &motion::Arrest::height, "lost until it sinks no more; null: not within three minutes"),
             field("time", &motion::Arrest::time, "until then; 0 where it is not stopped"),
             field("fuel", &motion::Arrest::fuel, "burnt until then; 0 where it is not stopped"),
             field("crown_too_hot", &motion::Arrest::crown_too_hot, "the crown expected passed its limit on the way")};
};
template <>
struct Description<motion::FlameOut> {
  static constexpr std::string_view name = "FlameOut";
  static constexpr auto fields = Fields{
      field("after", &motion::FlameOut::after, "since the flame went out in level flight"),
      field("sink", &motion::FlameOut::sink, "then"), field("lost", &motion::FlameOut::lost, "height lost by then")};
};
}  // namespace pappus
