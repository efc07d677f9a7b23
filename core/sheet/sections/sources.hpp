/// What the sheet was told of the air: every source with its age, what it was used for, and what beat it.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/wind/observation.hpp"
#include "core/wind/pibal.hpp"

namespace pappus::sheet {

struct Facts;
struct PibalSeen;

struct SourceUse {
  wind::SourceKind kind = wind::SourceKind::seen;
  Sentence what;  // "surface report", "winds aloft forecast", "typed ladder"
  std::string name;
  Moment time;                   // of what it speaks of
  Duration age;                  // negative: it speaks of a time ahead
  bool old = false;              // beyond the age at which a limit on it would be near
  std::vector<Sentence> uses;    // what it was used for; empty: for nothing
  std::vector<Sentence> beaten;  // where another source spoke of the same thing and counts, or it did not reach
};

struct PibalLayerLine {
  HeightAgl bottom, top;
  std::optional<TrueBearing> from;
  Speed speed, spread;
};
struct PibalSection {
  std::string name;
  Moment time;
  Speed rise_rate;
  wind::pibal::RiseBasis rise_basis = wind::pibal::RiseBasis::nothing_known;
  std::vector<PibalLayerLine> layers;
  std::vector<Sentence> flags;
};

/// Looks at the air first, then pilot balloons, ladders, reports, aerodrome forecasts; each in the flight's order.
/// Laws      of what several sources say of one thing at the ground, exactly one is used.
[[nodiscard]] std::vector<SourceUse> sources_of(const Facts& facts);
/// Those whose sights say something.
[[nodiscard]] std::vector<PibalSection> pibals_of(const Facts& facts);
[[nodiscard]] PibalSection pibal_section(const PibalSeen& seen, const wind::pibal::Reduction& reduction,
                                         UtcOffset offset);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Description<sheet::SourceUse> {
  static constexpr std::string_view name = "SourceUse";
  static constexpr auto fields =
      Fields{field("kind", &sheet::SourceUse::kind, "what sort of source"),
             field("what", &sheet::SourceUse::what, "the same in words"),
             field("name", &sheet::SourceUse::name, "which"),
             field("time", &sheet::SourceUse::time, "the time it speaks of"),
             field("age", &sheet::SourceUse::age, "its age at the time of the sheet"),
             field("old", &sheet::SourceUse::old, "too old to be relied on without a look"),
             field("uses", &sheet::SourceUse::uses, "what it was used for"),
             field("beaten", &sheet::SourceUse::beaten, "where another source spoke of the same thing and counts")};
};
template <>
struct Description<sheet::PibalLayerLine> {
  static constexpr std::string_view name = "PibalLayerLine";
  static constexpr auto fields =
      Fields{field("bottom", &sheet::PibalLayerLine::bottom, "above the release"),
             field("top", &sheet::PibalLayerLine::top, "above the release"),
             field("from", &sheet::PibalLayerLine::from, "where the wind comes from; null when calm"),
             field("speed", &sheet::PibalLayerLine::speed, "wind speed"),
             field("spread", &sheet::PibalLayerLine::spread, "one standard deviation of the vector")};
};
template <>
struct Description<sheet::PibalSection> {
  static constexpr std::string_view name = "PibalSection";
  static constexpr auto fields =
      Fields{field("name", &sheet::PibalSection::name, "which pilot balloon"),
             field("time", &sheet::PibalSection::time, "of its release"),
             field("rise_rate", &sheet::PibalSection::rise_rate, "that it was taken to rise with"),
             field("rise_basis", &sheet::PibalSection::rise_basis, "what that rests on"),
             field("layers", &sheet::PibalSection::layers, "the wind between calls"),
             field("flags", &sheet::PibalSection::flags, "what speaks against a layer, a call or the ascent")};
};
}  // namespace pappus
