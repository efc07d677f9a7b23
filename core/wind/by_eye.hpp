/// The wind at the ground as a pilot reads it from what it moves: the handbook's signs.
///
/// A sign gives a speed and no direction, and it is rough: where a bound is at stake its upper figure counts.
///
/// Source    FAA-H-8083-11B, Balloon Flying Handbook, Fig 6-2; statute miles per hour.
#pragma once
#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <utility>

#include "core/base/describe.hpp"
#include "core/base/quantity.hpp"

namespace pappus::wind {

enum class EyeSign {
  smoke_leans,     // instead of rising straight
  leaves,          // move
  flags,           // and twigs move
  fabric_ripples,  // of an envelope laid out
  throat_bubbles,  // of wind in the fabric, past the closed throat of an envelope laid out
  dust,            // is raised
  wires_sing,
};

/// What a sign says of the wind; a sign with one figure has it twice.
struct EyeWind {
  EyeSign sign = EyeSign::smoke_leans;
  Speed low, high;
};

/// Every sign once, in the order of EyeSign, which is by rising upper figure.
[[nodiscard]] std::span<const EyeWind> winds_by_eye();
[[nodiscard]] EyeWind wind_by_eye(EyeSign sign);

}  // namespace pappus::wind

namespace pappus {
/// As a pilot writes them.
template <>
struct Names<wind::EyeSign> {
  static constexpr std::array<std::pair<wind::EyeSign, std::string_view>, 7> all{
      {{wind::EyeSign::smoke_leans, "smoke leans"},
       {wind::EyeSign::leaves, "leaves"},
       {wind::EyeSign::flags, "flags"},
       {wind::EyeSign::fabric_ripples, "fabric ripples"},
       {wind::EyeSign::throat_bubbles, "throat bubbles"},
       {wind::EyeSign::dust, "dust"},
       {wind::EyeSign::wires_sing, "wires sing"}}};
};
}  // namespace pappus
