// Whether the wind is known at every height to be flown: a gap is not a straight line.
#include "core/sheet/limits/limits.hpp"

namespace pappus::sheet::limits {

Limit winds_known(const Facts& facts) {
  Limit limit;
  limit.name = "winds_known";
  limit.source = {Authority::ours, {}};
  const auto highest = facts.highest();
  if (!highest) {
    limit.finding = say("fact.highest_missing");
    limit.remedy = say("limit.winds_known.give_highest");
    return limit;
  }
  const AltitudeAmsl ground = facts.morning.flight.field.elevation;
  const std::vector<wind::Gap> gaps = facts.winds.gaps(*highest);
  limit.value = measure::count(static_cast<double>(gaps.size()));
  limit.bound = Bound{measure::count(0.0), Side::at_most};
  if (gaps.empty()) {
    limit.state = LimitState::inside;
    limit.finding = say("limit.winds_known.found", {{"height", measure::of(*facts.morning.flight.highest)}});
    return limit;
  }
  limit.finding = say("limit.winds_known.gap", {{"bottom", measure::of(height_over(ground, gaps.front().bottom))},
                                                {"top", measure::of(height_over(ground, gaps.front().top))}});
  limit.remedy = say("limit.winds_known.pibal");
  return limit;
}

}  // namespace pappus::sheet::limits
