// Visibility as the pilot looked, against the rule of the airspace and the pilot's own minimum. What counts of looks and
// reports stands in sight.hpp.
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"
#include "core/sheet/limits/sight.hpp"

namespace pappus::sheet::limits {
namespace {

Measure reported(const wind::SurfaceReport& report) {
  return measure::distance(report.visibility_lowest.value_or(*report.visibility));
}

const wind::SurfaceReport* newest_report(const Facts& facts) {
  const wind::SurfaceReport* newest = nullptr;
  for (const wind::SurfaceReport& report : facts.morning.flight.reports)
    if (report.visibility && (newest == nullptr || newest->source.time < report.source.time)) newest = &report;
  return newest;
}

const Look* newest_distance(const Facts& facts) {
  const Look* look = newest_look(facts, "visibility");
  return look != nullptr && look->value ? look : nullptr;
}

void note_report(const Facts& facts, const wind::SurfaceReport& report, Limit& limit) {
  const char* key = report.visibility_at_least ? "limit.visibility.report_at_least"
                    : report.visibility_below  ? "limit.visibility.report_below"
                                               : "limit.visibility.report";
  limit.notes.push_back(
      say(key, {{"station", report.station}, {"value", reported(report)}, {"time", facts.local(report.source.time)}}));
}

}  // namespace

Limit visibility(const Facts& facts) {
  const SightRules rules = sight_rules(facts);
  Limit limit;
  limit.name = "visibility";
  limit.kind = LimitKind::look;
  limit.source = {Authority::pilot, {}};
  const Look* look = newest_distance(facts);
  const wind::SurfaceReport* report = newest_report(facts);
  const Witness witness = witness_of(look, report);
  const bool report_is_worse = report != nullptr && (look == nullptr || reported(*report).si < look->value->si);
  if (report != nullptr) note_report(facts, *report, limit);

  // What is held against the bound: the look, or what another place saw since.
  const bool by_report = witness == Witness::report || (witness == Witness::stale_look && report_is_worse);
  std::optional<Measure> value;
  if (witness == Witness::look || witness == Witness::stale_look) value = *look->value;
  if (by_report) value = reported(*report);
  limit.value = value;
  if (value) limit.age = facts.age(by_report ? report->source.time : look->time.at);
  if (rules.visible != nullptr) {
    limit.bound = Bound{measure::distance(rules.visible->visibility), Side::at_least};
    bound_by(limit, rules.visible->rule);
    if (rules.visible->visibility_where_allowed)
      limit.notes.push_back(say("limit.visibility.where_allowed",
                                {{"value", measure::distance(*rules.visible->visibility_where_allowed)}}));
  }
  const auto own = facts.morning.flight.minimum.visibility;
  if (own) put_own_beside(limit, measure::distance(*own), Side::at_least);
  const LimitState state =
      value && limit.bound ? state_against(value->si, std::nullopt, *limit.bound) : LimitState::not_known;

  if (state == LimitState::outside) {
    limit.state = state;
    limit.finding = by_report ? say("limit.visibility.elsewhere", {{"station", report->station}, {"value", *value}})
                              : say("limit.visibility.found", {{"value", *value}, {"time", look->time}});
    limit.remedy = say(by_report ? "limit.visibility.look_again" : "limit.visibility.wait");
    return limit;
  }
  if (witness == Witness::nobody || witness == Witness::report) {
    limit.value.reset();
    limit.age.reset();
    limit.finding = say("limit.visibility.unknown");
    limit.remedy = say("limit.visibility.look");
    return limit;
  }
  limit.finding = say("limit.visibility.found", {{"value", *look->value}, {"time", look->time}});
  if (rules.missing) {
    limit.kind = LimitKind::must;
    limit.finding =
        say("limit.visibility.none_there", {{"airspace", std::string(name_of(*facts.morning.flight.field.airspace))}});
    limit.remedy = say("limit.visibility.ask_airspace");
    return limit;
  }
  if (rules.visible == nullptr) {
    limit.finding = say("limit.visibility.no_rule", {{"value", *look->value}, {"time", look->time}});
    limit.remedy = say("limit.visibility.give_rule");
    return limit;
  }
  limit.state = state;
  const bool report_is_outside =
      report != nullptr && state_against(reported(*report).si, std::nullopt, *limit.bound) == LimitState::outside;
  if (witness == Witness::stale_look || report_is_outside) {
    limit.state = LimitState::near;
    limit.remedy = say("limit.visibility.look_again");
  }
  return limit;
}

}  // namespace pappus::sheet::limits
