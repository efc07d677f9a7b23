/// What was seen, measured or forecast of the air, each with its source and time.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"

namespace pappus::wind {

/// A horizontal wind, held as components toward east and north.
class Wind {
 public:
  constexpr Wind() = default;
  /// Meteorological: the direction it comes from.
  [[nodiscard]] static Wind from(TrueBearing direction, Speed speed);
  [[nodiscard]] static constexpr Wind toward(Speed east, Speed north) { return Wind{east, north}; }
  [[nodiscard]] constexpr Speed east() const { return east_; }
  [[nodiscard]] constexpr Speed north() const { return north_; }
  [[nodiscard]] Speed speed() const;
  /// None below 0.01 m/s: calm air comes from nowhere.
  [[nodiscard]] std::optional<TrueBearing> direction_from() const;
  friend constexpr bool operator==(Wind, Wind) = default;

 private:
  constexpr Wind(Speed east, Speed north) : east_{east}, north_{north} {}
  Speed east_, north_;
};

enum class SourceKind { pibal, seen, report, forecast, sounding };

struct Source {
  SourceKind kind = SourceKind::seen;
  std::string name;  // "pibal", "KXYZ", what the pilot typed
  Instant time;      // of the observation, not of its arrival
  friend bool operator==(const Source&, const Source&) = default;
};

/// One height of a ladder. Wind or temperature may be missing: a gap is said, not filled.
struct LadderRow {
  AltitudeAmsl altitude;
  std::optional<Wind> wind;
  std::optional<Temperature> temperature;
  // One standard deviation of the wind as a vector, where the source states it: where it is more than is expected of
  // such a source, it counts instead.
  std::optional<Speed> spread = std::nullopt;
};

/// Winds by height from one source.
struct Ladder {
  Source source;
  std::vector<LadderRow> rows;  // rising, no two of one altitude
};

enum class CloudAmount {
  few,
  scattered,
  broken,
  overcast,
  vertical_visibility,
  not_known,  // an automatic station that sees a cloud and cannot say how much: "//////CB"
};
struct CloudLayer {
  CloudAmount amount = CloudAmount::few;
  std::optional<HeightAgl> base;  // absent: reported as not known
  bool convective = false;        // CB or TCU
};

/// What a surface report says, whatever its format.
struct SurfaceReport {
  Source source;
  std::string station;
  bool automatic = false;
  std::optional<Wind> wind;  // absent when not reported, or when only variable
  std::optional<Speed> wind_speed;
  std::optional<Speed> gust;
  bool wind_variable = false;               // with a wind: its direction swings by 60 degrees or more about the mean
  std::optional<Length> visibility;         // prevailing
  bool visibility_at_least = false;         // "10 km or more", "P6SM"
  bool visibility_below = false;            // "less than 1/4 mile"
  std::optional<Length> visibility_lowest;  // where it is reported lower in one direction
  std::vector<CloudLayer> clouds;
  bool sky_clear = false;  // reported without significant cloud
  std::optional<Temperature> temperature, dew_point;
  std::optional<Pressure> qnh;
  std::vector<std::string> weather;  // the groups as reported: "-RA", "BR"
  std::string text;                  // the report as found
};

}  // namespace pappus::wind

namespace pappus {
template <>
struct Names<wind::SourceKind> {
  static constexpr std::array<std::pair<wind::SourceKind, std::string_view>, 5> all{
      {{wind::SourceKind::pibal, "pibal"},
       {wind::SourceKind::seen, "seen"},
       {wind::SourceKind::report, "report"},
       {wind::SourceKind::forecast, "forecast"},
       {wind::SourceKind::sounding, "sounding"}}};
};
}  // namespace pappus
