/// Wind by height above one field at one time: interpolated where the air allows it, and not known elsewhere.
#pragma once
#include <optional>
#include <vector>

#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"

namespace pappus::wind {

/// A height interval in which the wind is not known. Its ends are.
struct Gap {
  AltitudeAmsl bottom, top;
};

/// How far apart two known heights may stand for the wind between them to be taken as known (ours).
struct GapRule {
  Length low_layer_top = 500.0 * metre;  // above the field
  Length low = 150.0 * metre;            // widest step below that
  Length high = 300.0 * metre;           // widest step above it
};

struct Level {
  AltitudeAmsl altitude;
  Wind wind;
  Speed spread;  // one standard deviation of the vector difference to be expected at the time asked for
  std::optional<Temperature> temperature;
  std::vector<Source> sources;
};

/// Made from what was observed; then total: it answers or says that it does not know.
class WindProfile {
 public:
  struct Inputs {
    AltitudeAmsl ground;
    Instant time;  // for which the profile is wanted: the spread grows with the age of a source at that time
    std::vector<Ladder> ladders;
    std::vector<SurfaceReport> reports;  // a report's wind stands at the ground
    GapRule rule = {};
  };
  /// A later source beats an older one over the heights that the later one spans; the older one serves outside them.
  /// Rows below the ground by more than 1 m are left out and told as issues. Without any wind the profile is empty.
  static Parsed<WindProfile> from(Inputs inputs);

  [[nodiscard]] AltitudeAmsl ground() const { return ground_; }
  [[nodiscard]] const std::vector<Level>& levels() const { return levels_; }
  /// Holes between the ground (or the lowest known height above it) and `up_to`, rising.
  [[nodiscard]] std::vector<Gap> gaps(AltitudeAmsl up_to) const;
  /// Wind linear in its components between neighbouring levels.
  /// Errors    Errc::no_data below the lowest, above the highest, and inside a gap.
  /// Laws      at a level's altitude the level's wind; every component lies between those of the neighbours.
  [[nodiscard]] Result<Level> at(AltitudeAmsl z) const;

 private:
  AltitudeAmsl ground_;
  GapRule rule_;
  std::vector<Level> levels_;
};

/// The expected vector difference between a wind seen `age` ago and now, one standard deviation:
/// sqrt(own error^2 + (1.5 m/s)^2 (age / 30 min)^(2/3)), at most 3.5 m/s. Ours, after a structure function with
/// exponent 2/3 (E. Lindborg 1999); own error 0.5 m/s for a pibal, 1 m/s otherwise, 2.5 m/s for a forecast.
Speed expected_spread(SourceKind kind, Duration age);

/// What choosing heights can do: the turn between the left-most and the right-most course made good over the known
/// heights.
struct Steerage {
  TrueBearing left, right;  // courses over the ground
  AltitudeAmsl left_at, right_at;
  Angle turn;  // from left to right, clockwise, 0 to 360
};
/// Over the known winds of at least 1 kt from `low` to `high`, sampled every 10 m. None where no such wind is known.
std::optional<Steerage> steerage(const WindProfile& profile, AltitudeAmsl low, AltitudeAmsl high);

}  // namespace pappus::wind
