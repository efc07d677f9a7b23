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

// What is known of visibility, and which of it counts.
struct Evidence {
  const Look* look = nullptr;
  const wind::SurfaceReport* report = nullptr;
  Witness witness = Witness::nobody;
  const wind::SurfaceReport* deciding = nullptr;  // the report, if it is what is held against the bound
};

Evidence evidence_of(const Facts& facts) {
  Evidence e;
  e.look = newest_distance(facts);
  e.report = newest_report(facts);
  e.witness = witness_of(e.look, e.report);
  const bool report_is_worse = e.report != nullptr && (e.look == nullptr || reported(*e.report).si < e.look->value->si);
  if (e.witness == Witness::report || (e.witness == Witness::stale_look && report_is_worse)) e.deciding = e.report;
  return e;
}

void set_bound(const Facts& facts, const SightRules& rules, Limit& limit) {
  if (rules.visible != nullptr) {
    limit.bound = Bound{measure::distance(rules.visible->visibility), Side::at_least};
    bound_by(limit, rules.visible->rule);
    if (const auto allowed = rules.visible->visibility_where_allowed)
      limit.notes.push_back(say("limit.visibility.where_allowed", {{"value", measure::distance(*allowed)}}));
  }
  const auto own = facts.morning.flight.minimum.visibility;
  if (own) put_own_beside(limit, measure::distance(*own), Side::at_least);
}

LimitState judge(const Limit& limit, const Measure& value) {
  return limit.bound ? state_against(value.si, std::nullopt, *limit.bound) : LimitState::not_known;
}

void tell_look(const Look& look, Limit& limit) {
  limit.finding = say("limit.visibility.found", {{"value", *look.value}, {"time", look.time}});
}

void conclude_outside(const Evidence& e, Limit& limit) {
  limit.state = LimitState::outside;
  if (e.deciding != nullptr) {
    limit.finding = say("limit.visibility.elsewhere", {{"station", e.deciding->station}, {"value", *limit.value}});
    limit.remedy = say("limit.visibility.look_again");
  } else {
    if (e.look != nullptr) tell_look(*e.look, limit);
    limit.remedy = say("limit.visibility.wait");
  }
}

}  // namespace

Limit visibility(const Facts& facts) {
  const SightRules rules = sight_rules(facts);
  const Evidence e = evidence_of(facts);
  Limit limit;
  limit.name = "visibility";
  limit.kind = LimitKind::look;
  limit.source = {Authority::pilot, {}};
  if (e.report != nullptr) note_report(facts, *e.report, limit);
  if (e.witness != Witness::nobody) {
    if (e.deciding != nullptr) {
      limit.value = reported(*e.deciding);
      limit.age = facts.age(e.deciding->source.time);
    } else if (e.look != nullptr) {
      limit.value = *e.look->value;
      limit.age = facts.age(e.look->time.at);
    }
  }
  set_bound(facts, rules, limit);

  const LimitState state = limit.value ? judge(limit, *limit.value) : LimitState::not_known;
  if (state == LimitState::outside) {
    conclude_outside(e, limit);
    return limit;
  }
  if (e.look == nullptr || e.witness == Witness::nobody || e.witness == Witness::report) {
    limit.value.reset();
    limit.age.reset();
    limit.finding = say("limit.visibility.unknown");
    limit.remedy = say("limit.visibility.look");
    return limit;
  }
  tell_look(*e.look, limit);
  if (rules.missing) {
    tell_no_minimum(facts, limit);
    return limit;
  }
  if (rules.visible == nullptr) {
    limit.finding = say("limit.visibility.no_rule", {{"value", *e.look->value}, {"time", e.look->time}});
    limit.remedy = say("limit.visibility.give_rule");
    return limit;
  }
  limit.state = state;
  const bool report_is_outside = e.report != nullptr && judge(limit, reported(*e.report)) == LimitState::outside;
  if (e.witness == Witness::stale_look || report_is_outside) {
    limit.state = LimitState::near;
    limit.remedy = say("limit.visibility.look_again");
  }
  return limit;
}

}  // namespace pappus::sheet::limits
