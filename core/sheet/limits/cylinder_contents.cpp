// Whether it is shown what is in the cylinders. A level valve or a scale proves it; a cylinder that was open in a
// flight is used and not refilled until one of them, or a recorded fill, says otherwise.
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

std::optional<Limit> cylinder_contents(const Facts& facts) {
  const CylinderFacts *disagrees = nullptr, *contradicted = nullptr, *open = nullptr, *failed = nullptr;
  bool any = false;
  Limit limit;
  limit.name = "cylinder_contents";
  limit.source = {Authority::common_practice, {}};
  for (const CylinderFacts& c : facts.cylinders) {
    const bool spoken_of = c.account || c.memory != nullptr || !c.words.empty();
    any = any || spoken_of || c.plate.disagree;
    if (!c.account && spoken_of) failed = &c;
    if (c.plate.disagree && (c.account || c.mass)) disagrees = &c;
    if (c.account && !c.account->contradictions.empty()) contradicted = &c;
    if (c.open) open = &c;
    if (spoken_of && c.seen && (!limit.age || facts.age(*c.seen) > *limit.age)) limit.age = facts.age(*c.seen);
  }
  if (!any) return std::nullopt;
  const auto told = [&](LimitState state, const char* finding, const CylinderFacts& c) {
    limit.state = state;
    limit.finding = say(finding, {{"id", c.cylinder->id}});
    limit.notes = c.words;
    if (c.account) limit.remedy = say("account.next_" + std::string(name_of(c.account->next_test)));
  };
  if (contradicted != nullptr) {
    told(LimitState::outside, "limit.cylinder_contents.contradicted", *contradicted);
  } else if (disagrees != nullptr) {
    told(LimitState::outside, "limit.cylinder_contents.plate", *disagrees);
    limit.remedy = say("limit.cylinder_contents.check_plate");
  } else if (failed != nullptr) {
    told(LimitState::not_known, "limit.cylinder_contents.not_accounted", *failed);
  } else if (open != nullptr) {
    limit.state = LimitState::not_known;
    limit.notes = open->words;
    limit.finding = say("limit.cylinder_contents.open", {{"id", open->cylinder->id},
                                                         {"low", measure::liquid(*open->liquid_low)},
                                                         {"high", measure::liquid(*open->liquid_high)}});
    limit.remedy = say("account.next_" + std::string(name_of(open->account->next_test)));
  } else {
    limit.state = LimitState::inside;
    limit.finding = say("limit.cylinder_contents.shown");
  }
  return limit;
}

}  // namespace pappus::sheet::limits
