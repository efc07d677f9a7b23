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

}  // namespace

Limit cloud_base(const Facts& facts) {
  const SightRules rules = sight_rules(facts);
  Limit limit;
  limit.name = "cloud_base";
  limit.kind = LimitKind::look;
  limit.source = {Authority::pilot, {}};
  const Look* newest = newest_look(facts, "cloud");
  const Look* look = newest != nullptr && seen_of(*newest).known ? newest : nullptr;
  const wind::SurfaceReport* report = newest_report(facts);
  const Witness witness = witness_of(look, report);
  if (report != nullptr) note_report(facts, *report, limit);
  note_estimate(facts, limit);

  const std::optional<HeightAgl> looked = look != nullptr ? seen_of(*look).base : std::nullopt;
  const std::optional<HeightAgl> reported = report != nullptr ? seen_of(*report).base : std::nullopt;
  const bool report_is_worse = reported && (look == nullptr || !looked || *reported < *looked);
  const bool by_report = witness == Witness::report || (witness == Witness::stale_look && report_is_worse);
  const std::optional<HeightAgl> base = by_report ? reported : looked;
  if (base) limit.value = measure::of(*base);
  if (witness != Witness::nobody) limit.age = facts.age(by_report ? report->source.time : look->time.at);

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
  const auto judge = [&](const std::optional<HeightAgl>& height) {
    if (!limit.bound) return LimitState::not_known;
    return height ? state_against(measure::of(*height).si, limit.near_bound, *limit.bound) : LimitState::inside;
  };
  const LimitState state = witness == Witness::nobody ? LimitState::not_known : judge(base);

  if (state == LimitState::outside) {
    limit.state = state;
    limit.finding = by_report
                        ? say("limit.cloud_base.elsewhere", {{"station", report->station}, {"value", *limit.value}})
                        : say("limit.cloud_base.found", {{"value", *limit.value}, {"time", look->time}});
    limit.remedy = say(by_report ? "limit.cloud_base.look_again" : "limit.cloud_base.lower");
    return limit;
  }
  if (witness == Witness::nobody || witness == Witness::report) {
    limit.value.reset();
    limit.age.reset();
    limit.finding =
        newest != nullptr ? say("limit.cloud_base.words", {{"time", newest->time}}) : say("limit.cloud_base.unknown");
    limit.remedy = say("limit.cloud_base.look");
    return limit;
  }
  limit.finding = looked ? say("limit.cloud_base.found", {{"value", measure::of(*looked)}, {"time", look->time}})
                         : say("limit.cloud_base.none", {{"time", look->time}});
  if (rules.missing) {
    limit.kind = LimitKind::must;
    limit.finding =
        say("limit.visibility.none_there", {{"airspace", std::string(name_of(*facts.morning.flight.field.airspace))}});
    limit.remedy = say("limit.visibility.ask_airspace");
    return limit;
  }
  if (!rules.cloud_above) {
    limit.remedy = say(rules.named ? "limit.cloud_base.give_highest" : "limit.visibility.give_rule");
    return limit;
  }
  limit.state = state;
  if (witness == Witness::stale_look || (report != nullptr && judge(reported) == LimitState::outside)) {
    limit.state = LimitState::near;
    limit.remedy = say("limit.cloud_base.look_again");
  } else if (state == LimitState::near) {
    limit.remedy = say("limit.cloud_base.lower");
  }
  return limit;
}

}  // namespace pappus::sheet::limits
