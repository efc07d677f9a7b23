/// The inside of a cylinder as a shape: a round tube with an elliptical head at either end, lying or upright.
///
/// It turns a level into a volume of liquid and back. A level tube is cut for one attitude: in the other its end stands
/// over another volume, and what it then says is not what the plate promises.
#pragma once
#include <array>
#include <string_view>
#include <utility>

#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"

namespace pappus::propane {

enum class Attitude { lying, upright };

/// Of what a dial's per cent are.
enum class GaugeReads { shell, level_fill };

/// Inner measures. Common heads are twice as wide as deep on either side of the seam: depth is half the radius.
struct Shell {
  Length radius;
  Length tube;              // of the round part alone
  double head_depth = 0.5;  // of a head, in radii: 0.5 is the 2:1 ellipse, 1 a half ball, 0 a flat end
};

/// Domain    radius 1 cm to 2 m, tube 0 to 10 m, head depth 0 to 1; outside it Errc::out_of_range
///           ("propane.shell_outside"). The same for every function here.
/// Laws      volume is that of the liquid at the full height, in either attitude.
Result<Volume> volume(const Shell& shell);

/// From the lowest to the highest point inside.
Result<Length> height(const Shell& shell, Attitude attitude);

/// Liquid below a level measured from the lowest point inside.
/// Domain    level 0 to height; outside it Errc::out_of_range ("propane.level_outside").
/// Accuracy  exact for the shape; real heads are not quite ellipses (a few per cent of a head).
/// Laws      rises strictly with the level; at half the height half of the volume is filled, in either attitude.
/// Source    volume of a spherical or ellipsoidal cap and of a circular segment; tests/data/shell_volumes.csv.
Result<Volume> liquid_below(const Shell& shell, Attitude attitude, Length level);

/// The level at which so much liquid stands; the inverse of liquid_below within 1e-9 m.
/// Domain    0 to the shell's volume; outside it Errc::out_of_range ("propane.liquid_outside").
Result<Length> level_of(const Shell& shell, Attitude attitude, Volume liquid);

/// A shell of a stated volume and radius: the length of its tube follows.
/// Domain    a volume that two heads alone do not exceed, else Errc::out_of_range ("propane.shell_too_small").
Result<Shell> shell_of(Volume volume, Length radius, double head_depth = 0.5);

}  // namespace pappus::propane

namespace pappus {
template <>
struct Names<propane::Attitude> {
  static constexpr std::array<std::pair<propane::Attitude, std::string_view>, 2> all{
      {{propane::Attitude::lying, "lying"}, {propane::Attitude::upright, "upright"}}};
};
template <>
struct Names<propane::GaugeReads> {
  static constexpr std::array<std::pair<propane::GaugeReads, std::string_view>, 2> all{
      {{propane::GaugeReads::shell, "shell"}, {propane::GaugeReads::level_fill, "level_fill"}}};
};
}  // namespace pappus
