// A beacon for a flight over water, where the field says that there is water and the law asks for one.
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

std::optional<Limit> locator(const Facts& facts) {
  const Flight& flight = facts.morning.flight;
  const rules::Set* set = rules_named(facts);
  if (!flight.field.over_water || set == nullptr || !set->locator) return std::nullopt;
  Limit limit;
  limit.name = "locator";
  const auto persons = static_cast<int>(flight.aboard.size());
  limit.value = measure::count(persons);
  bound_by(limit, set->locator->rule);
  const bool own = rules::own_locator_asked_for(*set, persons);
  const std::string asked = own ? "limit.locator.own_asked" : "limit.locator.any_asked";
  limit.finding = say(asked, {{"value", *limit.value}, {"bound", measure::count(set->locator->persons_more_than)}});
  if (!flight.pilot.locator) {
    limit.remedy = say("limit.locator.give");
    return limit;
  }
  const bool enough = !own || *flight.pilot.locator == people::Locator::elt;
  limit.state = enough ? LimitState::inside : LimitState::outside;
  if (!enough) limit.remedy = say("limit.locator.take_own");
  return limit;
}

}  // namespace pappus::sheet::limits
