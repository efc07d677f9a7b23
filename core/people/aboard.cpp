#include "core/people/aboard.hpp"

namespace pappus::people {

LoadedPerson loaded(const Person& person) {
  LoadedPerson out;
  out.body = person.mass;
  out.clothing_added = person.basis == MassBasis::stated;
  out.clothing = out.clothing_added ? kClothing : Mass{};
  out.bags_added = !person.bags.has_value();
  out.bags = person.bags.value_or(kHandBaggage);
  return out;
}

}  // namespace pappus::people
