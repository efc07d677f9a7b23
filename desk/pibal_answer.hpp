/// `pappus pibal`: what the sights of a pilot balloon say of the wind.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"
#include "core/sheet/sections/sources.hpp"
#include "core/wind/pibal.hpp"
#include "desk/ports.hpp"
#include "formats/text/pilot/pibal_file.hpp"

namespace pappus::desk {

struct PibalQuestion {
  std::string readings;  // path: a flight file or a file of [[pibal]] tables (.toml), else calls in CSV
  // Of calls in CSV alone: a file of tables says its own.
  std::optional<Length> diameter;
  std::optional<Mass> mass;
  std::optional<Speed> rise;
  std::optional<text::North> bearings;
  std::optional<Variation> variation;  // absent: of the magnetic model, for place and time
  std::optional<Position> at;
  std::optional<AltitudeAmsl> elevation;
  std::optional<Moment> time;  // of the release
  std::optional<Moment> now;
};
struct PibalFlagLine {
  wind::pibal::FlagKind kind = wind::pibal::FlagKind::rolls;
  std::optional<Duration> at;
  Sentence message;
};
/// One pilot balloon.
struct PibalLine {
  std::string name;
  std::optional<Moment> time;
  Speed rise_rate;
  double rise_error = 0.0;
  wind::pibal::RiseBasis rise_basis = wind::pibal::RiseBasis::nothing_known;
  std::vector<sheet::PibalLayerLine> layers;
  std::vector<PibalFlagLine> flags;
};
struct PibalAnswer {
  PibalLine newest;                // of several the one released last; in JSON at the top
  std::vector<PibalLine> earlier;  // the others, the latest first
  std::vector<Issue> issues;
};
/// Errors    those of the readers; bad_call "issue.pibal_need_bearings" (calls in CSV without), "issue.pibal_options" (an
///           option for calls in CSV beside a file of tables); no_data "issue.pibal_none" (a flight without any).
Parsed<PibalAnswer> answer(const PibalQuestion& question, const Files& files);

}  // namespace pappus::desk

namespace pappus {
template <>
struct Description<desk::PibalFlagLine> {
  static constexpr std::string_view name = "PibalFlag";
  static constexpr auto fields =
      Fields{field("kind", &desk::PibalFlagLine::kind, "what speaks against a layer, a call or the ascent"),
             field("at", &desk::PibalFlagLine::at, "of the call, since the release; null for the whole ascent"),
             field("message", &desk::PibalFlagLine::message, "the same in words")};
};
template <>
struct Description<desk::PibalLine> {
  static constexpr std::string_view name = "Pibal";
  static constexpr auto fields =
      Fields{field("name", &desk::PibalLine::name, "which pilot balloon"),
             field("time", &desk::PibalLine::time, "of its release; null when not given"),
             field("rise_rate", &desk::PibalLine::rise_rate, "that it was taken to rise with"),
             field("rise_error", &desk::PibalLine::rise_error, "one standard deviation, as a share of it"),
             field("rise_basis", &desk::PibalLine::rise_basis, "what that rests on"),
             field("layers", &desk::PibalLine::layers, "the wind between calls"),
             field("flags", &desk::PibalLine::flags, "what to be wary of")};
};
template <>
struct Description<desk::PibalAnswer> {
  static constexpr std::string_view name = "PibalAnswer";
  static constexpr auto fields = Fields{field("", &desk::PibalAnswer::newest, "the one released last"),
                                        field("earlier", &desk::PibalAnswer::earlier, "the others"),
                                        field("issues", &desk::PibalAnswer::issues, "what was not understood")};
};
}  // namespace pappus
