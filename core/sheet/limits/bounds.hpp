/// What several limits do with their bounds. For the limits only.
#pragma once
#include <optional>

#include "core/rules/rules.hpp"
#include "core/sheet/facts.hpp"
#include "core/sheet/limit.hpp"

namespace pappus::sheet::limits {

/// Puts the pilot's own minimum beside the bound of a law, a manual or a book (or beside none). Call it once the value
/// is known, and before the state is worked out.
/// Stricter than the other, it becomes the bound, save where the value is beyond the other too: then the other stays, as
/// a law or a manual can't be accepted and an own minimum can. Laxer, it changes nothing and a note says so.
/// Laws      the bound never becomes laxer.
void put_own_beside(Limit& limit, const std::optional<Measure>& own, Side side);

/// A bound of that rule, with the notes that it may be different where the flight is.
void bound_by(Limit& limit, const rules::Rule& rule);
void note_locality(Limit& limit, const rules::Rule& rule);

/// The rules named in the flight; null where none are.
[[nodiscard]] const rules::Set* rules_named(const Facts& facts);

}  // namespace pappus::sheet::limits
