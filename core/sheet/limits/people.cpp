// How many fly, against the people the basket is approved for; who is shorter than its wall; who else has to be aboard.
#include <algorithm>

#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

double aboard_in(const Facts& facts, std::initializer_list<people::Role> roles) {
  const auto& aboard = facts.morning.flight.aboard;
  return static_cast<double>(std::count_if(aboard.begin(), aboard.end(), [&](const people::Person& person) {
    return std::find(roles.begin(), roles.end(), person.role) != roles.end();
  }));
}

double without_height(const Facts& facts) {
  const auto& aboard = facts.morning.flight.aboard;
  return static_cast<double>(
      std::count_if(aboard.begin(), aboard.end(), [](const people::Person& person) { return !person.height; }));
}

}  // namespace

Limit people(const Facts& facts) {
  Limit limit;
  limit.name = "people";
  limit.source = {Authority::flight_manual, {}};
  limit.value = measure::count(facts.load.people_count);
  const auto seats = facts.morning.balloon.basket.people;
  if (!seats) {
    limit.finding = say("limit.people.no_bound", {{"value", *limit.value}});
    limit.remedy = say("limit.people.give_bound");
    return limit;
  }
  limit.bound = Bound{measure::count(*seats), Side::at_most};
  limit.near_bound = Bound{measure::count(kDefaults.mass_near * *seats), Side::at_most};
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say("limit.people.found", {{"value", *limit.value}, {"bound", limit.bound->value}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.people.fewer");
  if (facts.morning.balloon.basket.wall && without_height(facts) == limit.value->si)
    limit.notes.push_back(say("limit.people.no_heights"));
  return limit;
}

// The paragraph lets the pilot in command refuse who is shorter than the wall; it forbids nothing. So it can be accepted.
std::optional<Limit> basket_wall(const Facts& facts) {
  const auto wall = facts.morning.balloon.basket.wall;
  if (!wall) return std::nullopt;
  const people::Person* shortest = nullptr;
  for (const people::Person& person : facts.morning.flight.aboard)
    if (person.height && (shortest == nullptr || *person.height < *shortest->height)) shortest = &person;
  if (shortest == nullptr) return std::nullopt;
  Limit limit;
  limit.name = "basket_wall";
  limit.kind = LimitKind::look;
  const bool in_eu = facts.morning.flight.rules == RuleSet::eu;
  limit.source = {in_eu ? Authority::common_practice : Authority::ours, in_eu ? "AMC1 BOP.BAS.120" : ""};
  limit.value = measure::length(*shortest->height);
  limit.bound = Bound{measure::length(*wall), Side::at_least};
  limit.state = state_against(limit.value->si, std::nullopt, *limit.bound);
  limit.finding = say("limit.basket_wall.found", {{"value", *limit.value}, {"bound", limit.bound->value}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.basket_wall.refuse");
  if (const double missing = without_height(facts); missing > 0.0)
    limit.notes.push_back(say("limit.basket_wall.missing", {{"count", measure::count(missing)}}));
  return limit;
}

std::optional<Limit> extra_crew(const Facts& facts) {
  const rules::Set* set = rules_named(facts);
  const double passengers = aboard_in(facts, {people::Role::passenger});
  if (set == nullptr || !rules::extra_crew_asked_for(*set, static_cast<int>(passengers))) return std::nullopt;
  Limit limit;
  limit.name = "extra_crew";
  limit.value = measure::count(aboard_in(facts, {people::Role::crew, people::Role::instructor}));
  limit.bound = Bound{measure::count(1.0), Side::at_least};
  bound_by(limit, set->extra_crew->rule);
  limit.state = state_against(limit.value->si, std::nullopt, *limit.bound);
  limit.finding = say("limit.extra_crew.found", {{"passengers", measure::count(passengers)}, {"value", *limit.value}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.extra_crew.take");
  return limit;
}

}  // namespace pappus::sheet::limits
