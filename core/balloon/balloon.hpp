/// One balloon as it is fitted: what its flight manual and its owner say of it. Values only.
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/quantity.hpp"
#include "core/propane/shell.hpp"

namespace pappus::balloon {

enum class PilotLight { vapour, liquid };
using propane::Attitude;
using propane::GaugeReads;
enum class Vent { parachute, rapid, turn_left, turn_right };

struct Envelope {
  Volume volume;
  Mass mass;
  std::optional<Temperature> crown_limit;  // flight manual; absent: not known
  std::optional<Mass> gross_limit;         // flight manual
  std::optional<Speed> launch_wind_limit;  // flight manual
  std::optional<Duration> fabric_hours;
  std::optional<Date> inspection;
  std::vector<Vent> vents;
};

/// What a hand will reach for: per balloon, never assumed.
struct Line {
  std::string does, looks, side;
};

struct Basket {
  Mass mass;
  std::optional<int> people;
  std::string leads;
  std::optional<Length> wall = std::nullopt;  // its height inside
};

/// Gauge pressures that the flight manual allows at the burner.
struct PressureRange {
  GaugePressure low, high;
};

struct Burner {
  Mass mass;
  std::optional<Power> power;  // each, higher heating value, at 110 psi
  bool quiet = false;
  std::optional<PilotLight> pilot_light;
  std::optional<PressureRange> pressure;
};

/// Anything else that flies.
struct Kit {
  std::string what;
  Mass mass;
};

/// The month in which a cylinder's next test falls, as marked on it.
struct Month {
  int year = 0, month = 0;
  friend constexpr auto operator<=>(Month, Month) = default;
};

struct Cylinder {
  std::string id;
  Volume shell;
  Volume level_fill;  // liquid when the level valve spits
  Mass tare;
  std::optional<double> gauge_span;                      // where its dial ends, of what it reads
  std::optional<GaugeReads> gauge_reads = std::nullopt;  // absent: of the shell
  std::optional<Attitude> attitude;
  std::string group;  // manifolded with the others of this letter; its own id when alone
  std::optional<GaugePressure> relief;
  std::optional<Month> test_due;
  double usable_to = 0.0;  // of the level fill; what stays behind
};

struct Inspection {
  Date done;
  bool annual = true;                         // else one by time in service only
  std::optional<Duration> at = std::nullopt;  // time in service when it was done
};

struct Balloon {
  std::string name, serial;
  std::optional<int> year;
  Envelope envelope;
  std::vector<Line> lines;
  Basket basket;
  std::vector<Burner> burners;
  std::vector<Kit> kit;
  std::vector<Cylinder> cylinders;
  std::optional<Duration> hours;        // time in service now
  std::optional<Date> registration;     // when it was issued
  std::vector<Inspection> inspections;  // with the time in service; beside envelope.inspection, which has none
  /// Flight manual: two cylinders of one group may have their valves open at once. Absent: it was not said.
  std::optional<bool> both_valves_open = std::nullopt;
};

}  // namespace pappus::balloon

namespace pappus {
template <>
struct Names<balloon::PilotLight> {
  static constexpr std::array<std::pair<balloon::PilotLight, std::string_view>, 2> all{
      {{balloon::PilotLight::vapour, "vapour"}, {balloon::PilotLight::liquid, "liquid"}}};
};
template <>
struct Names<balloon::Vent> {
  static constexpr std::array<std::pair<balloon::Vent, std::string_view>, 4> all{
      {{balloon::Vent::parachute, "parachute"},
       {balloon::Vent::rapid, "rapid"},
       {balloon::Vent::turn_left, "turn-left"},
       {balloon::Vent::turn_right, "turn-right"}}};
};
}  // namespace pappus
