// The lowest cloud above the highest height planned, by the rule of the airspace and the pilot's own minimum. What counts
// of looks and reports stands in sight.hpp. A report's heights are above its own station: taken as above the field, and
// said.
#include <algorithm>

#include "core/air/cloud.hpp"
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/bounds.hpp"
#include "core/sheet/limits/limits.hpp"
#include "core/sheet/limits/sight.hpp"

namespace pappus::sheet::limits {
namespace {

struct Seen {
  bool known = false;
  std::optional<HeightAgl> base;  // none where there is no cloud
};

Seen seen_of(const Look& look) {
  if (look.value) return {true, agl(look.value->si * metre)};
  return {look.words == "none" || look.words == "clear", std::nullopt};
}

Seen seen_of(const wind::SurfaceReport& report) {
  if (report.sky_clear && report.clouds.empty()) return {true, std::nullopt};
  Seen seen;
  for (const wind::CloudLayer& layer : report.clouds) {
    if (!layer.base) return {};  // a layer somewhere
    seen = {true, seen.base ? std::min(*seen.base, *layer.base) : *layer.base};
  }
  return seen;
}

const wind::SurfaceReport* newest_report(const Facts& facts) {
  const wind::SurfaceReport* newest = nullptr;
  for (const wind::SurfaceReport& report : facts.morning.flight.reports)
    if (seen_of(report).known && (newest == nullptr || newest->source.time < report.source.time)) newest = &report;
  return newest;
}

void note_report(const Facts& facts, const wind::SurfaceReport& report, Limit& limit) {
  const Seen seen = seen_of(report);
  std::vector<Argument> told{{"station", report.station}, {"time", facts.local(report.source.time)}};
  if (seen.base) told.push_back({"value", measure::of(*seen.base)});
  limit.notes.push_back(say(seen.base ? "limit.cloud_base.report" : "limit.cloud_base.report_none", std::move(told)));
}

// Where cumulus would form if air rose from the ground: a hint, as nothing need rise at dawn.
void note_estimate(const Facts& facts, Limit& limit) {
  if (!facts.temperature || !facts.dew_point) return;
  if (const auto base = air::cloud_base_from_spread(facts.temperature->value, facts.dew_point->value))
    limit.notes.push_back(say("limit.cloud_base.estimate", {{"value", measure::of(*base)}}));
}

// What is known of cloud, and which of it counts.
struct Evidence {
  const Look* newest = nullptr;  // the newest look, whatever it says
  const Look* look = nullptr;    // the same, if it is a height or none
  const wind::SurfaceReport* report = nullptr;
  Witness witness = Witness::nobody;
  std::optional<HeightAgl> looked, reported;
  bool by_report = false;  // the report is what is held against the bound
};

Evidence evidence_of(const Facts& facts) {
  Evidence e;
  e.newest = newest_look(facts, "cloud");
  if (e.newest != nullptr && seen_of(*e.newest).known) e.look = e.newest;
  e.report = newest_report(facts);
  e.witness = witness_of(e.look, e.report);
  if (e.look != nullptr) e.looked = seen_of(*e.look).base;
  if (e.report != nullptr) e.reported = seen_of(*e.report).base;
  const bool report_is_worse = e.reported && (e.look == nullptr || !e.looked || *e.reported < *e.looked);
  e.by_report = e.witness == Witness::report || (e.witness == Witness::stale_look && report_is_worse);
  return e;
}

void set_bounds(const Facts& facts, const SightRules& rules, Limit& limit) {
  if (rules.cloud_above) {
    // Clear of cloud is above the highest height, not at it.
    const Length hair = 0.001 * metre;
    limit.bound = Bound{measure::of(*rules.cloud_above + hair), Side::at_least};
    limit.near_bound = Bound{measure::of(*rules.cloud_above + kDefaults.cloud_near), Side::at_least};
    bound_by(limit, rules.clear->rule);
    if (rules.clear->beside_cloud)
      limit.notes.push_back(say("limit.cloud_base.beside", {{"value", measure::distance(*rules.clear->beside_cloud)}}));
  }
  const auto own = facts.morning.flight.minimum.cloud_base;
  if (own) put_own_beside(limit, measure::height(*own), Side::at_least);
}

LimitState judge(const Limit& limit, const std::optional<HeightAgl>& base) {
  if (!limit.bound) return LimitState::not_known;
  return base ? state_against(measure::of(*base).si, limit.near_bound, *limit.bound) : LimitState::inside;
}

void tell_look(const Look& look, const std::optional<HeightAgl>& base, Limit& limit) {
  if (base)
    limit.finding = say("limit.cloud_base.found", {{"value", measure::of(*base)}, {"time", look.time}});
  else
    limit.finding = say("limit.cloud_base.none", {{"time", look.time}});
}

void conclude_outside(const Evidence& e, Limit& limit) {
  limit.state = LimitState::outside;
  if (e.by_report) {
    limit.finding = say("limit.cloud_base.elsewhere", {{"station", e.report->station}, {"value", *limit.value}});
    limit.remedy = say("limit.cloud_base.look_again");
  } else {
    tell_look(*e.look, e.looked, limit);
    limit.remedy = say("limit.cloud_base.lower");
  }
}

void conclude_unseen(const Evidence& e, Limit& limit) {
  limit.value.reset();
  limit.age.reset();
  limit.finding = say("limit.cloud_base.unknown");
  if (e.newest != nullptr) limit.finding = say("limit.cloud_base.words", {{"time", e.newest->time}});
  limit.remedy = say("limit.cloud_base.look");
}

}  // namespace

Limit cloud_base(const Facts& facts) {
  const SightRules rules = sight_rules(facts);
  const Evidence e = evidence_of(facts);
  Limit limit;
  limit.name = "cloud_base";
  limit.kind = LimitKind::look;
  limit.source = {Authority::pilot, {}};
  if (e.report != nullptr) note_report(facts, *e.report, limit);
  note_estimate(facts, limit);
  const std::optional<HeightAgl> base = e.by_report ? e.reported : e.looked;
  if (base) limit.value = measure::of(*base);
  if (e.witness != Witness::nobody) {
    if (e.by_report && e.report != nullptr)
      limit.age = facts.age(e.report->source.time);
    else if (e.look != nullptr)
      limit.age = facts.age(e.look->time.at);
  }
  set_bounds(facts, rules, limit);

  const LimitState state = judge(limit, base);
  if (e.witness != Witness::nobody && state == LimitState::outside) {
    conclude_outside(e, limit);
    return limit;
  }
  if (e.witness == Witness::nobody || e.witness == Witness::report) {
    conclude_unseen(e, limit);
    return limit;
  }
  tell_look(*e.look, e.looked, limit);
  if (rules.missing) {
    tell_no_minimum(facts, limit);
    return limit;
  }
  if (!rules.cloud_above) {
    limit.remedy = say(rules.named ? "limit.cloud_base.give_highest" : "limit.visibility.give_rule");
    return limit;
  }
  limit.state = state;
  if (state == LimitState::near) limit.remedy = say("limit.cloud_base.lower");
  const bool report_is_outside = e.report != nullptr && judge(limit, e.reported) == LimitState::outside;
  if (e.witness == Witness::stale_look || report_is_outside) {
    limit.state = LimitState::near;
    limit.remedy = say("limit.cloud_base.look_again");
  }
  return limit;
}

}  // namespace pappus::sheet::limits
