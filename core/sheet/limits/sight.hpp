/// What flight by sight asks for, and what was seen: for the limits of visibility and cloud.
///
/// What counts of what was seen. A look for the field wins while it is at most 30 minutes older than the newest report
/// (kLookHolds, ours). A report says what another place saw: it can show that something stands against flying, and never
/// that nothing does. So without a look the answer is outside where the report is, else not known; with a look that is
/// too old, outside where the report is, else near at best.
#pragma once
#include <optional>
#include <string_view>

#include "core/rules/rules.hpp"
#include "core/sheet/facts.hpp"
#include "core/sheet/limit.hpp"

namespace pappus::sheet::limits {

inline constexpr Duration kLookHolds = 30.0 * minute;

/// What the law asks for at lift-off and landing, at the field and as high as the flight is planned to go: of these the
/// strictest, for visibility and cloud each.
struct SightRules {
  bool named = false;                          // rules and airspace are
  bool missing = false;                        // the law has no minimum there: maybe no flight by sight at all
  const rules::VfrMinimum* visible = nullptr;  // asks for the furthest visibility
  const rules::VfrMinimum* clear = nullptr;    // asks for the highest cloud
  std::optional<HeightAgl> cloud_above;        // where the lowest cloud has to be; none without a highest height
};
[[nodiscard]] SightRules sight_rules(const Facts& facts);

/// For an airspace in which the law has no minimum: maybe no flight by sight is allowed there at all, so it must be known.
void tell_no_minimum(const Facts& facts, Limit& limit);

/// The newest look at something; null where nobody looked.
[[nodiscard]] const Look* newest_look(const Facts& facts, std::string_view what);

enum class Witness {
  nobody,
  look,        // for the field, and fresh beside the report
  stale_look,  // a newer report says how it is elsewhere
  report,      // nobody looked
};
[[nodiscard]] Witness witness_of(const Look* look, const wind::SurfaceReport* report);

}  // namespace pappus::sheet::limits
