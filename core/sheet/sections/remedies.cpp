#include "core/sheet/sections/remedies.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>

#include "core/sheet/facts.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet {
namespace {

constexpr Length kLowestFlight = 150.0 * metre;      // lower than that is another flight (ours)
constexpr Duration kShortestFlight = 20.0 * minute;  // the same of a shorter one (ours)
constexpr std::string_view kTooHeavyForAnyHeat = "lift.load_outside";

// Everybody but who must be aboard: the pilot, and whoever instructs.
struct Others {
  std::vector<Mass> masses;
  std::vector<std::string> names;
};

Others others_aboard(const Facts& facts) {
  Others out;
  for (const people::Person& person : facts.morning.flight.aboard) {
    if (person.role == people::Role::pilot || person.role == people::Role::instructor) continue;
    out.masses.push_back(people::loaded(person).total());
    out.names.push_back(person.name.empty() ? std::string(name_of(person.role)) : person.name);
  }
  return out;
}

// The fewest persons whose masses make up `left`.
int fewest(std::vector<Mass> masses, Mass left) {
  std::stable_sort(masses.begin(), masses.end(), std::greater<>{});
  const Mass enough = left - 1.0e-6 * kilogram;  // sums in another order differ in the last digit
  int count = 0;
  for (Mass sum; sum < enough && count < static_cast<int>(masses.size()); ++count)
    sum += masses[static_cast<std::size_t>(count)];
  return count;
}

double share_left(Measure value, const Bound& bound) {
  const double room = bound.side == Side::at_most ? bound.value.si - value.si : value.si - bound.value.si;
  return room / std::max(std::abs(bound.value.si), 1.0);
}

/// What a changed flight is held against: the bounds of the limits that are known, and nothing else.
class Judge {
 public:
  explicit Judge(const Facts& facts) : facts_{facts}, others_{others_aboard(facts)} {
    for (const Limit& limit : {limits::people(facts), limits::gross_mass(facts), limits::crown_temperature(facts),
                               limits::fuel_reserve(facts)})
      take(limit);
    if (const auto rule = limits::fuel_reserve_rule(facts)) take(*rule);
  }

  [[nodiscard]] const std::vector<std::string>& outside() const { return outside_; }
  [[nodiscard]] const std::vector<std::string>& not_judged() const { return not_judged_; }
  [[nodiscard]] const Others& others() const { return others_; }

  /// The first margin that is below zero, or else the smallest: what is cheap to work out comes first.
  [[nodiscard]] Result<double> margin(const balloon::Change& change) const {
    double least = 1.0;
    const auto is_outside = [&](Measure value, const std::optional<Bound>& bound) {
      if (bound) least = std::min(least, share_left(value, *bound));
      return least < 0.0;
    };
    const int people = facts_.load.people_count - fewest(others_.masses, change.people_left);
    if (is_outside(measure::count(people), people_)) return least;
    if (is_outside(measure::of(carried_after(facts_, change)), gross_mass_)) return least;
    // Without the air only what is weighed and counted can be judged.
    if (!facts_.columns) return least;
    const auto flight = replanned(facts_, change);
    if (!flight) return tl::unexpected{flight.error()};
    if (crown_) {
      const auto lift = flight->lift();
      if (!lift) return tl::unexpected{lift.error()};
      if (is_outside(measure::of(lift->worst.crown_expected), crown_)) return least;
    }
    if (!reserve_ && !reserve_rule_) return least;
    const auto fuel = flight->fuel();
    if (!fuel) return tl::unexpected{fuel.error()};
    auto cylinders = cylinder_fuel(facts_);
    if (!cylinders) return fail(Errc::no_data, say("fact.fuel_missing"));
    if (change.cylinder_left) cylinders->erase(cylinders->begin() + static_cast<std::ptrdiff_t>(*change.cylinder_left));
    const balloon::Reserves left = balloon::reserves_at_landing(*cylinders, *fuel);
    // The limit asks a reserve of each side: to go without the side that lacks it is no cure.
    if (reserve_outside_ && facts_.reserves && left.sides.size() < facts_.reserves->sides.size()) return -1.0;
    if (left.short_of > Mass{}) return -(left.short_of / fuel->used_unlucky);
    if (is_outside(measure::of(left.smallest_side), reserve_)) return least;
    Duration together;
    for (const balloon::SideReserve& side : left.sides) together += side.reserve;
    is_outside(measure::of(together), reserve_rule_);
    return least;
  }

 private:
  void take(const Limit& limit) {
    const bool too_heavy_for_any_heat =
        limit.name == "crown_temperature" && !facts_.lift && facts_.lift.error().sentence.key == kTooHeavyForAnyHeat;
    // What is short of lift has no answer for its fuel either, and has one again when it is lighter.
    const bool fuel_waits_for_lift = limit.name.rfind("fuel_reserve", 0) == 0 && !facts_.fuel &&
                                     facts_.fuel.error().sentence.key == kTooHeavyForAnyHeat && cylinder_fuel(facts_);
    if (!limit.bound || (limit.state == LimitState::not_known && !too_heavy_for_any_heat && !fuel_waits_for_lift)) {
      not_judged_.push_back(limit.name);
      return;
    }
    if (limit.state == LimitState::outside || too_heavy_for_any_heat) outside_.push_back(limit.name);
    if (limit.name == "people") people_ = limit.bound;
    if (limit.name == "gross_mass") gross_mass_ = limit.bound;
    if (limit.name == "crown_temperature") crown_ = limit.bound;
    if (limit.name == "fuel_reserve") {
      reserve_ = limit.bound;
      reserve_outside_ = limit.state == LimitState::outside;
    }
    if (limit.name == "fuel_reserve_rule") reserve_rule_ = limit.bound;
  }

  const Facts& facts_;
  Others others_;
  std::optional<Bound> people_, gross_mass_, crown_, reserve_, reserve_rule_;
  bool reserve_outside_ = false;
  std::vector<std::string> outside_, not_judged_;
};

RemedyLine line_of(const balloon::Remedy& remedy, const Judge& judge, const Facts& facts) {
  RemedyLine line;
  line.kind = remedy.kind;
  line.words = remedy.words;
  switch (remedy.kind) {
    case balloon::RemedyKind::lower: line.lower = remedy.change.lower; break;
    case balloon::RemedyKind::shorter: line.shorter = remedy.change.shorter; break;
    case balloon::RemedyKind::leave_cylinder:
      line.cylinder = facts.cylinders[*remedy.change.cylinder_left].cylinder->id;
      break;
    case balloon::RemedyKind::leave_people:
      line.people_left = remedy.change.people_left;
      for (const std::size_t i : remedy.people) line.who.push_back(judge.others().names[i]);
      break;
    case balloon::RemedyKind::cooler:
      line.cooler = remedy.change.cooler;
      // Until sunset it only gets warmer.
      if (facts.sun && facts.sun->sunrise && facts.morning.flight.time.at < facts.sun->transit)
        line.words.push_back(say("remedies.cooler_when", {{"sunrise", facts.local(*facts.sun->sunrise)}}));
      break;
  }
  return line;
}

}  // namespace

std::optional<RemediesSection> remedies_section(const Facts& facts) {
  const Judge judge{facts};
  if (judge.outside().empty()) return std::nullopt;
  balloon::RemedyInputs inputs;
  inputs.margin = [&](const balloon::Change& change) { return judge.margin(change); };
  RemediesSection out;
  if (auto cylinders = cylinder_fuel(facts)) {
    inputs.cylinders = *std::move(cylinders);
    inputs.fuel = [&](const balloon::Change& change) -> Result<balloon::FlightFuel> {
      const auto flight = replanned(facts, change);
      if (!flight) return tl::unexpected{flight.error()};
      return flight->fuel();
    };
  } else {
    out.notes.push_back(say("remedies.cylinders_unknown"));
  }
  inputs.people = judge.others().masses;
  const Flight& flight = facts.morning.flight;
  if (facts.columns) {
    // Without the air there is nothing that height, time or cooler air could mend.
    inputs.lower_most = std::max(Length{}, flight.highest->from_origin() - kLowestFlight);
    inputs.shorter_most = std::max(Duration{}, flight.planned - kShortestFlight);
  } else {
    inputs.cooler_most = {};
  }
  const auto remedies = balloon::remedies(inputs);
  if (!remedies) return std::nullopt;
  out.finding = remedies->finding;
  for (const balloon::Remedy& remedy : remedies->found) out.found.push_back(line_of(remedy, judge, facts));
  for (const balloon::NoRemedy& none : remedies->none) out.none.push_back(none.words);
  if (!out.found.empty()) {
    out.limits = judge.outside();
    out.notes.push_back(say("remedies.plan_again"));
  }
  for (const std::string& name : judge.not_judged())
    out.notes.push_back(say("remedies.not_judged", {{"limit", Term{"limit." + name + ".title"}}}));
  return out;
}

}  // namespace pappus::sheet
