// How old the newest surface report is. People have died on a picture that was two hours old.
#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit report_age(const Facts& facts) {
  Limit limit;
  limit.name = "report_age";
  limit.kind = LimitKind::look;
  limit.source = {Authority::ours, {}};
  limit.near_bound = Bound{measure::of(kDefaults.report_age_near), Side::at_most};
  limit.bound = Bound{measure::of(kDefaults.report_age_outside), Side::at_most};
  if (facts.newest_report == nullptr) {
    limit.finding = say("limit.report_age.unknown");
    limit.remedy = say("limit.report_age.paste");
    return limit;
  }
  const Duration age = facts.age(facts.newest_report->source.time);
  limit.value = measure::of(age);
  limit.age = age;
  // A report may be filed some minutes ahead of its hour; one from further ahead means that a clock or a date is wrong.
  if (age < -15.0 * minute) {
    limit.finding =
        say("limit.report_age.ahead", {{"station", facts.newest_report->station}, {"age", measure::of(-age)}});
    limit.remedy = say("limit.report_age.check_time");
    return limit;
  }
  limit.state = state_against(limit.value->si, limit.near_bound, *limit.bound);
  limit.finding = say("limit.report_age.found", {{"station", facts.newest_report->station}, {"age", *limit.value}});
  if (limit.state != LimitState::inside) limit.remedy = say("limit.report_age.paste");
  return limit;
}

}  // namespace pappus::sheet::limits
