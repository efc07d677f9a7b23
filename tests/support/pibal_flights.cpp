#include "tests/support/pibal_flights.hpp"

#include <algorithm>
#include <cmath>

#include "core/wind/profile.hpp"

namespace pappus::testing {
namespace {

constexpr double kRate_m_s = 1.6;

double at(const std::vector<double>& values, double z_m) {
  const double x = std::clamp(z_m / kInventedStep_m, 0.0, static_cast<double>(values.size() - 1));
  const auto i = std::min(static_cast<std::size_t>(x), values.size() - 2);
  const double f = x - static_cast<double>(i);
  return (1.0 - f) * values[i] + f * values[i + 1];
}

double median(std::vector<double> v) {
  if (v.empty()) return 0.0;
  const auto middle = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
  std::nth_element(v.begin(), middle, v.end());
  return *middle;
}

}  // namespace

double InventedWind::east(double z_m) const { return at(east_m_s, z_m); }
double InventedWind::north(double z_m) const { return at(north_m_s, z_m); }

InventedWind invented_wind(Random& random) {
  const double low_toward = random.uniform(0.0, 2.0 * pi), low = random.uniform(0.5, 3.0);
  const double high_toward = low_toward + random.uniform(-pi / 3.0, pi / 3.0), high = random.uniform(3.0, 12.0);
  InventedWind wind;
  double uneven_east = 0.0, uneven_north = 0.0;
  for (double z = 0.0; z <= 1000.0; z += kInventedStep_m) {
    const double f = 1.0 - std::exp(-z / 100.0);
    wind.east_m_s.push_back((1.0 - f) * low * std::sin(low_toward) + f * high * std::sin(high_toward) + uneven_east);
    wind.north_m_s.push_back((1.0 - f) * low * std::cos(low_toward) + f * high * std::cos(high_toward) + uneven_north);
    uneven_east += 0.35 * random.normal();
    uneven_north += 0.35 * random.normal();
  }
  return wind;
}

PibalFlight pibal_flight(Random& random, const Unsteady& unsteady) {
  PibalFlight flight;
  flight.wind = invented_wind(random);
  flight.ascent.rise = wind::pibal::stated_rise_rate(kRate_m_s * metre_per_second, unsteady.rise_rate);
  flight.ascent.errors = {unsteady.azimuth_deg * degree, unsteady.elevation_deg * degree, unsteady.call_s * second};
  const double rate_m_s = kRate_m_s * (1.0 + unsteady.rise_rate * random.normal());

  constexpr double dt_s = 0.25;
  double t_s = 0.0, east_m = 0.0, north_m = 0.0, z_m = 0.0, air_m_s = 0.0;
  const auto fly_to = [&](double until_s) {
    while (t_s < until_s) {
      const double step_s = std::min(dt_s, until_s - t_s);
      air_m_s +=
          -air_m_s * step_s / 60.0 + unsteady.vertical_air_m_s * std::sqrt(2.0 * step_s / 60.0) * random.normal();
      const double middle_m = z_m + 0.5 * step_s * (rate_m_s + air_m_s);
      east_m += step_s * flight.wind.east(middle_m);
      north_m += step_s * flight.wind.north(middle_m);
      z_m += step_s * (rate_m_s + air_m_s);
      t_s += step_s;
    }
  };
  const auto told = [&](double deg) { return std::round(deg / unsteady.reading_deg) * unsteady.reading_deg; };
  for (double call_s = unsteady.interval_s; call_s <= unsteady.duration_s; call_s += unsteady.interval_s) {
    double late_s = unsteady.call_s * random.normal();
    if (random.uniform() < unsteady.mistimed) {
      late_s += random.uniform(10.0, 20.0);
      flight.mistimed.push_back(call_s * second);
    }
    fly_to(std::max(t_s, call_s + late_s));
    wind::pibal::Call call{call_s * second, std::nullopt, std::nullopt};
    double azimuth_deg = std::atan2(east_m, north_m) * 180.0 / pi + unsteady.azimuth_deg * random.normal();
    if (random.uniform() < unsteady.misread) {
      azimuth_deg += random.uniform() < 0.5 ? random.uniform(20.0, 60.0) : random.uniform(-60.0, -20.0);
      flight.misread.push_back(call_s * second);
    }
    const double elevation_deg =
        std::atan2(z_m, std::hypot(east_m, north_m)) * 180.0 / pi + unsteady.elevation_deg * random.normal();
    if (random.uniform() >= unsteady.lost) {
      call.azimuth = TrueBearing::at(told(azimuth_deg) * degree);
      call.elevation = std::min(told(elevation_deg), 89.0) * degree;
    }
    flight.ascent.calls.push_back(call);
  }
  return flight;
}

wind::Wind mean_wind(const InventedWind& wind, HeightAgl bottom, HeightAgl top) {
  const double low_m = bottom.from_origin().in(metre), high_m = top.from_origin().in(metre);
  constexpr int n = 200;
  double east = 0.0, north = 0.0;
  for (int i = 0; i < n; ++i) {
    const double z_m = low_m + (high_m - low_m) * (i + 0.5) / n;
    east += wind.east(z_m) / n;
    north += wind.north(z_m) / n;
  }
  return wind::Wind::toward(east * metre_per_second, north * metre_per_second);
}

double PibalScore::within(double spreads) const {
  std::size_t inside = 0;
  for (std::size_t i = 0; i < errors_m_s.size(); ++i)
    if (errors_m_s[i] <= spreads * spreads_m_s[i]) ++inside;
  return static_cast<double>(inside) / static_cast<double>(errors_m_s.size());
}
double PibalScore::median_error_m_s() const { return median(errors_m_s); }
double PibalScore::median_spread_m_s() const { return median(spreads_m_s); }

PibalScore score_pibals(int flights, const Unsteady& unsteady, Rows rows, double low_m, double high_m) {
  PibalScore score;
  for (int i = 0; i < flights; ++i) {
    Random random{20270516, static_cast<std::uint64_t>(i)};
    const PibalFlight flight = pibal_flight(random, unsteady);
    const auto reduced = wind::pibal::reduce(flight.ascent);
    score.calls += static_cast<int>(flight.ascent.calls.size());
    score.misread += static_cast<int>(flight.misread.size());
    score.mistimed += static_cast<int>(flight.mistimed.size());
    const auto is_in = [](const std::vector<Duration>& times, Duration at) {
      return std::find(times.begin(), times.end(), at) != times.end();
    };
    for (const auto& flag : reduced.value->flags)
      if (flag.kind == wind::pibal::FlagKind::call_doubtful) {
        if (is_in(flight.misread, *flag.at))
          ++score.misread_found;
        else if (is_in(flight.mistimed, *flag.at))
          ++score.mistimed_found;
        else
          ++score.wrongly_doubted;
      }
    const auto add = [&](const wind::Wind& found, const wind::Wind& truth, Speed spread, Length height) {
      if (height < low_m * metre || height >= high_m * metre) return;
      score.errors_m_s.push_back(std::hypot((found.east() - truth.east()).in(metre_per_second),
                                            (found.north() - truth.north()).in(metre_per_second)));
      score.spreads_m_s.push_back(spread.in(metre_per_second));
    };
    if (rows == Rows::layers) {
      for (const auto& layer : reduced.value->layers)
        add(layer.wind, mean_wind(flight.wind, layer.bottom, layer.top), layer.spread,
            0.5 * (layer.bottom.from_origin() + layer.top.from_origin()));
    } else {
      // A row stands for the wind at its height, whatever thickness it was made from; its spread is the profile's.
      for (const auto& row : wind::pibal::ladder(*reduced.value, amsl(0.0 * metre), {}).rows) {
        const HeightAgl z = agl(row.altitude.from_origin());
        const Speed used = std::max(*row.spread, wind::expected_spread(wind::SourceKind::pibal, Duration{}));
        add(*row.wind, mean_wind(flight.wind, z, z), used, z.from_origin());
      }
    }
  }
  return score;
}

}  // namespace pappus::testing
