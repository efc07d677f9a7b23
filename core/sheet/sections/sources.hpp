/// What the sheet was told of the air: every source with its age, what it was used for, and what beat it.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "core/wind/observation.hpp"

namespace pappus::sheet {

struct Facts;

struct SourceUse {
  wind::SourceKind kind = wind::SourceKind::seen;
  Sentence what;  // "surface report", "winds aloft forecast", "typed ladder"
  std::string name;
  Moment time;  // of what it speaks of
  Duration age;
  std::vector<Sentence> uses;    // what it was used for; empty: for nothing
  std::vector<Sentence> beaten;  // where a later or nearer source spoke of the same thing
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
  std::vector<PibalLayerLine> layers;
  std::vector<Sentence> flags;
};

[[nodiscard]] std::vector<SourceUse> sources_of(const Facts& facts);
[[nodiscard]] std::vector<PibalSection> pibals_of(const Facts& facts);

}  // namespace pappus::sheet

namespace pappus {
template <>
struct Description<sheet::SourceUse> {
  static constexpr std::string_view name = "SourceUse";
  static constexpr auto fields =
      std::tuple{field("kind", &sheet::SourceUse::kind, "what sort of source"),
                 field("what", &sheet::SourceUse::what, "the same in words"),
                 field("name", &sheet::SourceUse::name, "which"),
                 field("time", &sheet::SourceUse::time, "the time it speaks of"),
                 field("age", &sheet::SourceUse::age, "its age at the time of the sheet"),
                 field("uses", &sheet::SourceUse::uses, "what it was used for"),
                 field("beaten", &sheet::SourceUse::beaten, "where another source spoke of the same thing and counts")};
};
template <>
struct Description<sheet::PibalLayerLine> {
  static constexpr std::string_view name = "PibalLayerLine";
  static constexpr auto fields =
      std::tuple{field("bottom", &sheet::PibalLayerLine::bottom, "above the release"),
                 field("top", &sheet::PibalLayerLine::top, "above the release"),
                 field("from", &sheet::PibalLayerLine::from, "where the wind comes from; null when calm"),
                 field("speed", &sheet::PibalLayerLine::speed, "wind speed"),
                 field("spread", &sheet::PibalLayerLine::spread, "one standard deviation of the vector")};
};
template <>
struct Description<sheet::PibalSection> {
  static constexpr std::string_view name = "PibalSection";
  static constexpr auto fields =
      std::tuple{field("name", &sheet::PibalSection::name, "which pilot balloon"),
                 field("time", &sheet::PibalSection::time, "of its release"),
                 field("rise_rate", &sheet::PibalSection::rise_rate, "that it was taken to rise with"),
                 field("layers", &sheet::PibalSection::layers, "the wind between calls"),
                 field("flags", &sheet::PibalSection::flags, "what speaks against a layer, a call or the ascent")};
};
}  // namespace pappus
