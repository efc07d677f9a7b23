/// Pilot balloons that never were: flown through an invented wind step by step, then looked at by someone unsteady.
///
/// Independent of the reduction: it knows where the balloon is and reads angles off that; it never divides a height by
/// a tangent.
#pragma once
#include <vector>

#include "core/base/random.hpp"
#include "core/wind/pibal.hpp"

namespace pappus::testing {

/// How unsteady, all one standard deviation unless said otherwise.
struct Unsteady {
  double azimuth_deg = 2.0, elevation_deg = 2.0;
  double call_s = 2.0;
  double rise_rate = 0.10;        // of the whole ascent, relative
  double vertical_air_m_s = 0.0;  // slow ups and downs of the air, remembered for a minute
  double mistimed = 0.03;         // share of the calls that come 10 to 20 s late
  double misread = 0.0;           // share of the calls whose azimuth is told 20 to 60 degrees wrong
  double lost = 0.03;             // share of the calls that are not heard
  double reading_deg = 1.0;       // angles are told in whole steps of this
  double interval_s = 30.0, duration_s = 300.0;
};

/// A wind by height, linear between heights 25 m apart, to 1000 m.
struct InventedWind {
  std::vector<double> east_m_s, north_m_s;
  [[nodiscard]] double east(double z_m) const;
  [[nodiscard]] double north(double z_m) const;
};
inline constexpr double kInventedStep_m = 25.0;

/// 0.5 to 3 m/s at the ground, 3 to 12 m/s aloft up to 60 degrees to either side, most of the change in the lowest
/// 200 m, and an uneven course of 0.35 m/s for every 25 m on it.
InventedWind invented_wind(Random& random);

struct PibalFlight {
  InventedWind wind;
  std::vector<Duration> mistimed, misread;  // the calls that are
  wind::pibal::Ascent ascent;               // with the errors that an honest pilot would state
};
PibalFlight pibal_flight(Random& random, const Unsteady& unsteady);

/// The mean of the invented wind between two heights.
wind::Wind mean_wind(const InventedWind& wind, HeightAgl bottom, HeightAgl top);

/// How answers stand against the truth.
struct PibalScore {
  std::vector<double> errors_m_s, spreads_m_s;  // one for every layer
  int calls = 0, misread = 0, misread_found = 0, mistimed = 0, mistimed_found = 0, wrongly_doubted = 0;
  [[nodiscard]] double within(double spreads) const;  // share of the layers whose error is at most so many spreads
  [[nodiscard]] double median_error_m_s() const;
  [[nodiscard]] double median_spread_m_s() const;
};
enum class Rows { layers, ladder };
/// Only what lies between `low_m` and `high_m`.
PibalScore score_pibals(int flights, const Unsteady& unsteady, Rows rows, double low_m = 0.0, double high_m = 1000.0);

}  // namespace pappus::testing
