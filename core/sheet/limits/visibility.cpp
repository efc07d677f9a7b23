// Visibility as the pilot looked, against the rule of the airspace at the field. A report says what another place saw:
// it is told, and does not stand in for looking.
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {
namespace {

struct Rule {
  Length least;
  std::string name;
};

// By day, at and near the surface. US: 14 CFR 91.155 (G below 1,200 ft above the surface 1 SM; B, C, D and E below
// 10,000 ft 3 SM). EU: SERA.5001, F and G low down 5 km (an authority may allow 1.5 km); controlled airspace 5 km.
std::optional<Rule> rule_for(RuleSet rules, Airspace airspace) {
  if (airspace == Airspace::a) return std::nullopt;  // no visual flight there
  if (rules == RuleSet::eu) return Rule{5.0 * kilometre, "SERA.5001"};
  if (airspace == Airspace::g) return Rule{1.0 * statute_mile, "14 CFR 91.155"};
  if (airspace == Airspace::f) return std::nullopt;  // not used in the US
  return Rule{3.0 * statute_mile, "14 CFR 91.155"};
}

}  // namespace

Limit visibility(const Facts& facts) {
  const Flight& flight = facts.morning.flight;
  Limit limit;
  limit.name = "visibility";
  limit.kind = LimitKind::look;
  limit.source = {Authority::pilot, {}};
  std::optional<Rule> rule;
  if (flight.rules && flight.field.airspace) rule = rule_for(*flight.rules, *flight.field.airspace);
  if (rule) {
    limit.source = {Authority::law, rule->name};
    limit.bound = Bound{measure::distance(rule->least), Side::at_least};
  }
  if (facts.newest_report != nullptr && facts.newest_report->visibility)
    limit.notes.push_back(
        say(facts.newest_report->visibility_at_least ? "limit.visibility.report_at_least" : "limit.visibility.report",
            {{"station", facts.newest_report->station},
             {"value",
              measure::distance(facts.newest_report->visibility_lowest.value_or(*facts.newest_report->visibility))},
             {"time", facts.local(facts.newest_report->source.time)}}));
  const Look* newest = nullptr;
  for (const Look& look : flight.looks)
    if (look.what == "visibility" && look.value && (newest == nullptr || newest->time.at < look.time.at))
      newest = &look;
  if (newest == nullptr) {
    limit.finding = say("limit.visibility.unknown");
    limit.remedy = say("limit.visibility.look");
    return limit;
  }
  limit.value = *newest->value;
  limit.age = facts.age(newest->time.at);
  if (!rule) {
    limit.finding = say("limit.visibility.no_rule", {{"value", *limit.value}, {"time", newest->time}});
    limit.remedy = say("limit.visibility.give_rule");
    return limit;
  }
  limit.state = state_against(limit.value->si, std::nullopt, *limit.bound);
  limit.finding = say("limit.visibility.found", {{"value", *limit.value}, {"time", newest->time}});
  if (limit.state == LimitState::outside) limit.remedy = say("limit.visibility.wait");
  return limit;
}

}  // namespace pappus::sheet::limits
