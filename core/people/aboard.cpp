#include "core/people/aboard.hpp"

namespace pappus::people {
namespace {

template <class T>
void fill(std::optional<T>& own, const std::optional<T>& usual) {
  if (!own) own = usual;
}
template <class T>
void fill(std::vector<T>& own, const std::vector<T>& usual) {
  if (own.empty()) own = usual;
}

}  // namespace

LoadedPerson loaded(const Person& person) {
  LoadedPerson out;
  out.body = person.mass;
  out.clothing_added = person.basis == MassBasis::stated;
  out.clothing = out.clothing_added ? kClothing : Mass{};
  out.bags_added = !person.bags.has_value();
  out.bags = person.bags.value_or(kHandBaggage);
  return out;
}

Pilot filled_from(Pilot own, const Pilot& usual) {
  fill(own.certificate, usual.certificate);
  fill(own.review, usual.review);
  fill(own.landings, usual.landings);
  fill(own.night_landings, usual.night_landings);
  fill(own.medical_until, usual.medical_until);
  fill(own.for_hire, usual.for_hire);
  fill(own.training_given, usual.training_given);
  fill(own.log.flights, usual.log.flights);
  fill(own.log.training_flight, usual.log.training_flight);
  fill(own.log.check, usual.log.check);
  fill(own.log.supervised, usual.log.supervised);
  fill(own.log.refresher, usual.log.refresher);
  fill(own.trained_volume, usual.trained_volume);
  fill(own.locator, usual.locator);
  return own;
}

}  // namespace pappus::people
