/// In which order cylinders are used, what a loss would leave at any moment, and which order leaves most.
///
/// A proposal to be held against the flight manual, never an instruction: it knows masses and sides, and nothing of
/// what a manual says of a burner's feed. Fuel is drawn on the unlucky side throughout (FlightFuel): first what
/// inflation takes, then evenly over the planned time.
///
/// A loss is one cylinder, its valve (which is that cylinder's fuel) or a whole side. What it leaves never grows while
/// the flight goes on: it stays as it is while the lost part would have been in use, and falls else. So each loss has
/// its worst from some moment until landing, and one moment after which it leaves less than the own minimum.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/balloon/burn.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::balloon {

struct UseCylinder {
  std::string id, side;  // no side: its own id
  Mass usable;
  Mass behind = {};       // liquid that stays in it
  Mass full = {};         // liquid at its level fill; nothing: not known
  bool measured = false;  // its contents are proven (level valve or scale), not thought
};

struct UseInputs {
  std::vector<UseCylinder> cylinders;  // in the file's order
  FlightFuel fuel;
  Duration planned;
  Duration minimum = 30.0 * minute;  // own minimum to land with
  Duration grid = 5.0 * minute;      // between the moments that are told
  Duration landing = 10.0 * minute;  // what a cylinder that is kept for landing is kept for. Ours
};

inline constexpr std::size_t kMostCylinders = 24;
inline constexpr std::size_t kMostPermuted = 6;
/// Common practice, no source: land on a cylinder with known contents that is more than a third full.
inline constexpr double kLandingShare = 1.0 / 3.0;

/// So much out of one cylinder, before the next one is used.
struct Visit {
  std::size_t cylinder = 0;  // its place in UseInputs
  Mass drawn;
};

/// A stretch of the flight on one cylinder. What is drawn for inflation lies before the launch: both times are then
/// zero.
struct UseLeg {
  std::string id, side;
  Duration from, until;  // after launch
  Mass drawn;
  Mass left;  // usable, when it is left
};

struct UseScore {
  Duration worst_after_loss;  // level flight after the worst single loss at the worst time
  Duration smallest_side;     // level flight at landing on the side with least; 0 when a side with fuel is emptied
  bool lands_well = false;    // on a measured cylinder that is more than a third full
  double landing_share = 0;   // how full it is then, of its level fill; 0: not known
  int changes = 0;            // of cylinder
};

enum class LossOf { cylinder, side };

struct UseLoss {
  LossOf of = LossOf::cylinder;
  std::string name;
  std::vector<Duration> left;  // at each moment of the grid: level flight on the rest, at the unlucky flow
  Duration worst, worst_from;  // the least that it leaves, and since when
  std::optional<Duration> too_late_after = std::nullopt;  // from then on it leaves less than the own minimum
};

struct UsePlan {
  std::vector<UseLeg> legs;
  UseScore score;
  std::vector<Duration> moments;  // the grid: from launch to the planned time
  std::vector<UseLoss> losses;    // each cylinder, then each side of more than one
  int sides = 0;                  // with usable fuel
  Mass short_of;                  // what is missing for the flight; then every reserve is zero
};

/// One way of use, worked through.
/// Domain    1 to 24 cylinders ("use.no_cylinders", Errc::no_data; "use.cylinders_outside"), of which no two have one
///           id ("use.same_id", bad_input); masses not negative ("use.mass_outside"); a flow above nothing
///           ("use.flow_unknown", no_data); planned 0 to 24 h, minimum and landing 0 to 24 h, grid 1 minute to 24 h
///           ("use.time_outside"). Visits draw what the flight needs, or all there is, and from no cylinder more than
///           it has ("use.visits_outside", bad_call). Else Errc::out_of_range.
/// Laws      what is drawn on the legs sums to the visits; `left` of a loss never rises with time; losing a side never
///           leaves more than losing one of its cylinders; more fuel in a cylinder never gives a loss fewer minutes.
Result<UsePlan> use_plan(const UseInputs& inputs, const std::vector<Visit>& visits);

/// The same for cylinders that are each used to their end, in this order.
/// Domain    every cylinder once ("use.order_outside", bad_call).
Result<UsePlan> use_in_turn(const UseInputs& inputs, const std::vector<std::size_t>& order);

struct UseProposal {
  UsePlan plan;
  int tried = 0;
  bool all_orders = true;  // of the cylinders; with more than six only each of them as the last
};

/// The best of all orders of up to six cylinders, each tried in three ways (every cylinder to its end; the sides left
/// as even as can be; the cylinders left so) and with the last cylinder used when its turn comes or kept for the
/// landing. With more than six: the file's order, with each of them in turn as the last.
///
/// Better is, in this order, and with less than a whole minute counted as no difference (ours): more left after the
/// worst single loss; more on the smallest side at landing; landing on a measured cylinder more than a third full;
/// fewer changes. Of equals the first: by the cylinders' order in the file. With fuel on one side only, its loss leaves
/// nothing whatever the order, and the loss of one cylinder counts.
/// Domain    as use_plan.
/// Laws      no order tried scores better; no way of drawing the same fuel, tried or not, leaves a minute more after
///           the worst loss, or as much and a minute more on the smallest side (tests/core/balloon/use_order_test.cpp).
Result<UseProposal> proposed_use(const UseInputs& inputs);

}  // namespace pappus::balloon

namespace pappus {
template <>
struct Names<balloon::LossOf> {
  static constexpr std::array<std::pair<balloon::LossOf, std::string_view>, 2> all{
      {{balloon::LossOf::cylinder, "cylinder"}, {balloon::LossOf::side, "side"}}};
};
template <>
struct Description<balloon::UseLeg> {
  static constexpr std::string_view name = "UseLeg";
  static constexpr auto fields =
      Fields{field("cylinder", &balloon::UseLeg::id, "in use"),
             field("side", &balloon::UseLeg::side, "its side"),
             field("from", &balloon::UseLeg::from, "after launch; 0 for what inflation takes"),
             field("until", &balloon::UseLeg::until, "after launch; 0 where inflation takes all of it"),
             field("drawn", &balloon::UseLeg::drawn, "from it, on the unlucky side"),
             field("left", &balloon::UseLeg::left, "usable in it when it is changed")};
};
template <>
struct Description<balloon::UseScore> {
  static constexpr std::string_view name = "UseScore";
  static constexpr auto fields = Fields{
      field("worst_after_loss", &balloon::UseScore::worst_after_loss,
            "level flight after the worst single loss at the worst time"),
      field("smallest_side", &balloon::UseScore::smallest_side, "level flight at landing on the side with least"),
      field("lands_well", &balloon::UseScore::lands_well,
            "it lands on a measured cylinder that is more than a third full"),
      field("landing_share", &balloon::UseScore::landing_share, "how full that is; 0: not known"),
      field("changes", &balloon::UseScore::changes, "of cylinder")};
};
template <>
struct Description<balloon::UseLoss> {
  static constexpr std::string_view name = "UseLoss";
  static constexpr auto fields =
      Fields{field("of", &balloon::UseLoss::of, "a cylinder (or its valve), or a whole side"),
             field("name", &balloon::UseLoss::name, "which"),
             field("left", &balloon::UseLoss::left, "level flight on the rest, at each of the moments"),
             field("worst", &balloon::UseLoss::worst, "the least that it leaves"),
             field("worst_from", &balloon::UseLoss::worst_from, "after launch: since when, until landing"),
             field("too_late_after", &balloon::UseLoss::too_late_after,
                   "after launch: from then on it leaves less than the own minimum")};
};
template <>
struct Description<balloon::UsePlan> {
  static constexpr std::string_view name = "UsePlan";
  static constexpr auto fields =
      Fields{field("legs", &balloon::UsePlan::legs, "cylinder by cylinder"),
             field("score", &balloon::UsePlan::score, "what orders are compared by"),
             field("moments", &balloon::UsePlan::moments, "after launch, for `left` of the losses"),
             field("losses", &balloon::UsePlan::losses, "what each loss would leave"),
             field("sides", &balloon::UsePlan::sides, "independent sides with usable fuel"),
             field("short_of", &balloon::UsePlan::short_of, "fuel missing for the flight; every reserve is then 0")};
};
}  // namespace pappus
