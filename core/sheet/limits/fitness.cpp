// Whether the pilot is fit: asked, and known only by the pilot's own answer. An answer grows old.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

// A pilot who says that they are not fit has judged as the law bids them to: that can't be accepted away.
BoundSource bidden_by(const Facts& facts) {
  if (!facts.morning.flight.rules) return {Authority::law, {}};
  return {Authority::law, *facts.morning.flight.rules == RuleSet::eu ? "BOP.BAS.030" : "14 CFR 91.3, 91.17"};
}

void ask(const Facts& facts, Limit& limit) {
  const rules::Set* set = rules_named(facts);
  const bool by_law = set != nullptr && set->alcohol;
  const Duration since = by_law ? set->alcohol->since_drink : kDefaults.since_drink;
  const double percent = by_law ? set->alcohol->blood_percent_below : kDefaults.blood_percent_below;
  for (const char* question : {"illness", "medicine", "stress"})
    limit.notes.push_back(say(std::string("limit.fitness.") + question));
  limit.notes.push_back(
      say("limit.fitness.alcohol", {{"since", measure::of(since)}, {"percent", measure::number(percent)}}));
  for (const char* question : {"fatigue", "food"}) limit.notes.push_back(say(std::string("limit.fitness.") + question));
  limit.notes.push_back(say("limit.fitness.diving", {{"easy", measure::of(kDefaults.since_dive)},
                                                     {"deep", measure::of(kDefaults.since_decompression_dive)}}));
}

}  // namespace

Limit fitness(const Facts& facts) {
  Limit limit;
  limit.name = "fitness";
  limit.kind = LimitKind::look;
  limit.source = {Authority::handbook, "FAA-H-8083-11B ch. 1, 9"};
  const auto& fitness = facts.morning.flight.fitness;
  if (!fitness) {
    limit.finding = say("limit.fitness.unknown");
    limit.remedy = say("limit.fitness.answer");
    ask(facts, limit);
    return limit;
  }
  limit.age = facts.age(fitness->time.at);
  if (!fitness->fit) {
    limit.state = LimitState::outside;
    limit.source = bidden_by(facts);
    limit.finding = say("limit.fitness.unfit", {{"time", fitness->time}});
    limit.remedy = say("limit.fitness.another_day");
    return limit;
  }
  const bool old = facts.morning.flight.time.at - fitness->time.at > kDefaults.fitness_holds;
  limit.state = old ? LimitState::near : LimitState::inside;
  limit.finding = say("limit.fitness.fit", {{"time", fitness->time}});
  if (old) {
    limit.remedy = say("limit.fitness.ask_again");
    ask(facts, limit);
  }
  return limit;
}

}  // namespace pappus::sheet::limits
