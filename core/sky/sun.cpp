// Notation of NREL/TP-560-34302: L, B, R heliocentric longitude, latitude and radius vector of the Earth; delta_psi,
// delta_epsilon nutation in longitude and obliquity; epsilon true obliquity; lambda apparent longitude; nu apparent
// sidereal time; alpha, delta right ascension and declination; H local hour angle; a prime marks what is seen from the
// surface instead of the Earth's centre; jc, jce, jme Julian centuries (UT), ephemeris centuries and millennia (TT)
// from 2000-01-01 12:00. Angles are in degrees where the name does not say radians, times in days (UT) from 2000-01-01
// 12:00.
#include "core/sky/sun.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "core/base/math.hpp"
#include "core/sky/detail/embedded_csv.hpp"
#include "sky_data.hpp"

namespace pappus::sky {
namespace {

constexpr double kRadians = pi / 180.0;
constexpr std::int64_t kEpochUnixMs = 946'728'000'000;  // 2000-01-01T12:00:00Z
constexpr double kDayMs = 86'400'000.0;
constexpr double kDayS = 86'400.0;

double sin_deg(double degrees) { return math::sin(degrees * kRadians); }
double cos_deg(double degrees) { return math::cos(degrees * kRadians); }
double tan_deg(double degrees) { return math::tan(degrees * kRadians); }
double wrapped_deg(double degrees) { return wrapped(degrees * degree).in(degree); }
double short_way_deg(double degrees) { return short_way(degrees * degree).in(degree); }

double days_from_epoch(Instant t) { return static_cast<double>(t.unix_milliseconds() - kEpochUnixMs) / kDayMs; }
Instant instant_at(double days) {
  return Instant::from_unix_milliseconds(kEpochUnixMs + static_cast<std::int64_t>(std::floor(days * kDayMs + 0.5)));
}

struct PeriodicTerm {
  double a, b, c;
};
using Series = std::vector<std::vector<PeriodicTerm>>;  // by power of jme
struct NutationTerm {
  std::array<double, 5> y;
  double a, b, c, d;
};
struct Terms {
  Series longitude, latitude, radius;
  std::vector<NutationTerm> nutation;
};

Terms parse_terms() {
  Terms terms;
  detail::for_each_row(data::spa_terms, [&](std::string_view row) {
    const char series = detail::take_until(row, ',').front();
    const auto power = static_cast<std::size_t>(detail::decimal(detail::take_until(row, ',')));
    std::array<double, 9> cell{};
    for (double& value : cell) value = detail::decimal(detail::take_until(row, ','));
    if (series == 'N') {
      terms.nutation.push_back({{cell[0], cell[1], cell[2], cell[3], cell[4]}, cell[5], cell[6], cell[7], cell[8]});
      return;
    }
    Series& into = series == 'L' ? terms.longitude : series == 'B' ? terms.latitude : terms.radius;
    if (into.size() <= power) into.resize(power + 1);
    into[power].push_back({cell[5], cell[6], cell[7]});
  });
  return terms;
}

const Terms& terms() {
  static const Terms parsed = parse_terms();
  return parsed;
}

// Report, eqs. 9 and 10: the sum over powers, in the unit 1e-8 of the table.
double sum_of(const Series& series, double jme) {
  double sum = 0.0;
  for (std::size_t power = series.size(); power-- > 0;) {
    double inner = 0.0;
    for (const PeriodicTerm& term : series[power]) inner += term.a * math::cos(term.b + term.c * jme);
    sum = sum * jme + inner;
  }
  return sum / 1e8;
}

// What does not depend on the place.
struct Geocentric {
  double L, B, R;
  double delta_psi, delta_epsilon, epsilon;
  double lambda;
  double nu;
  double alpha, delta;
};

Geocentric geocentric_at(double days, double delta_t_s) {
  const double jc = days / 36525.0;
  const double jce = (days + delta_t_s / kDayS) / 36525.0;
  const double jme = jce / 10.0;

  Geocentric g{};
  g.L = wrapped_deg(sum_of(terms().longitude, jme) / kRadians);
  g.B = sum_of(terms().latitude, jme) / kRadians;
  g.R = sum_of(terms().radius, jme);

  // Eqs. 15 to 19: elongation and anomaly of the moon, anomaly of the sun, argument of latitude, ascending node.
  const std::array<double, 5> x{
      297.85036 + jce * (445267.111480 + jce * (-0.0019142 + jce / 189474.0)),
      357.52772 + jce * (35999.050340 + jce * (-0.0001603 - jce / 300000.0)),
      134.96298 + jce * (477198.867398 + jce * (0.0086972 + jce / 56250.0)),
      93.27191 + jce * (483202.017538 + jce * (-0.0036825 + jce / 327270.0)),
      125.04452 + jce * (-1934.136261 + jce * (0.0020708 + jce / 450000.0)),
  };
  double psi = 0.0, eps = 0.0;
  for (const NutationTerm& term : terms().nutation) {
    double argument = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) argument += term.y[i] * x[i];
    psi += (term.a + term.b * jce) * sin_deg(argument);
    eps += (term.c + term.d * jce) * cos_deg(argument);
  }
  g.delta_psi = psi / 36e6;  // the table's unit is 0.0001 arc seconds
  g.delta_epsilon = eps / 36e6;

  // Eq. 24, in arc seconds; u in units of 10,000 years.
  const double u = jme / 10.0;
  constexpr std::array<double, 11> kObliquity{84381.448, -4680.93, -1.55, 1999.25, -51.38, -249.67,
                                              -39.05,    7.12,     27.87, 5.79,    2.45};
  double mean_obliquity_arcsec = 0.0;
  for (std::size_t i = kObliquity.size(); i-- > 0;) mean_obliquity_arcsec = mean_obliquity_arcsec * u + kObliquity[i];
  g.epsilon = mean_obliquity_arcsec / 3600.0 + g.delta_epsilon;

  const double aberration = -20.4898 / (3600.0 * g.R);
  const double beta = -g.B;
  g.lambda = wrapped_deg(g.L + 180.0 + g.delta_psi + aberration);

  const double mean_sidereal = 280.46061837 + 360.98564736629 * days + jc * jc * (0.000387933 - jc / 38710000.0);
  g.nu = wrapped_deg(mean_sidereal + g.delta_psi * cos_deg(g.epsilon));

  const double sin_lambda = sin_deg(g.lambda), cos_epsilon = cos_deg(g.epsilon), sin_epsilon = sin_deg(g.epsilon);
  g.alpha =
      wrapped_deg(math::atan2(sin_lambda * cos_epsilon - tan_deg(beta) * sin_epsilon, cos_deg(g.lambda)) / kRadians);
  g.delta = math::asin(sin_deg(beta) * cos_epsilon + cos_deg(beta) * sin_epsilon * sin_lambda) / kRadians;
  return g;
}

// Sine of the height of a direction with declination and hour angle, at a latitude; all in radians.
double sin_height(double latitude, double declination, double hour_angle) {
  return math::sin(latitude) * math::sin(declination) +
         math::cos(latitude) * math::cos(declination) * math::cos(hour_angle);
}

// Eq. 42. The report takes refraction only while some of the refracted sun is above the horizon.
double refraction_of(double height, double pressure_hpa, double temperature_c) {
  if (height < kSunriseElevation.in(degree)) return 0.0;
  return pressure_hpa / 1010.0 * (283.0 / (273.0 + temperature_c)) * 1.02 /
         (60.0 * tan_deg(height + 10.3 / (height + 5.11)));
}

SpaState state_at(double days, const Observer& observer) {
  const Geocentric g = geocentric_at(days, observer.delta_t.in(second));
  const double latitude = observer.position.latitude().in(radian);
  const double elevation_m = observer.elevation.in(metre);
  const double H_deg = wrapped_deg(g.nu - g.alpha + observer.position.longitude().in(degree));
  const double H = H_deg * kRadians;
  const double delta = g.delta * kRadians;

  // Eqs. 33 to 39: parallax. 0.99664719 is the Earth's polar radius over its equatorial one, 6378140 m.
  const double xi = 8.794 / (3600.0 * g.R) * kRadians;
  const double u = math::atan(0.99664719 * math::tan(latitude));
  const double x = math::cos(u) + elevation_m / 6378140.0 * math::cos(latitude);
  const double y = 0.99664719 * math::sin(u) + elevation_m / 6378140.0 * math::sin(latitude);
  const double across = math::cos(delta) - x * math::sin(xi) * math::cos(H);
  const double delta_alpha = math::atan2(-x * math::sin(xi) * math::sin(H), across);
  const double delta_prime = math::atan2((math::sin(delta) - y * math::sin(xi)) * math::cos(delta_alpha), across);
  const double H_prime = H - delta_alpha;

  // With the sun in the zenith rounding can leave the sine a hair above 1.
  const double sine = std::clamp(sin_height(latitude, delta_prime, H_prime), -1.0, 1.0);
  const double height = math::asin(sine) / kRadians;
  const double refraction = refraction_of(height, observer.pressure.in(hectopascal), in_celsius(observer.temperature));
  // tan(delta') cos(latitude) of eq. 46 times cos(delta'), so that nothing overflows.
  const double from_south = math::atan2(
      math::sin(H_prime) * math::cos(delta_prime),
      math::cos(H_prime) * math::cos(delta_prime) * math::sin(latitude) - math::sin(delta_prime) * math::cos(latitude));

  SpaState s;
  s.heliocentric_longitude = g.L * degree;
  s.heliocentric_latitude = g.B * degree;
  s.radius_au = g.R;
  s.nutation_longitude = g.delta_psi * degree;
  s.nutation_obliquity = g.delta_epsilon * degree;
  s.true_obliquity = g.epsilon * degree;
  s.apparent_longitude = g.lambda * degree;
  s.right_ascension = g.alpha * degree;
  s.declination = g.delta * degree;
  s.local_hour_angle = H_deg * degree;
  s.topocentric_right_ascension = wrapped_deg(g.alpha + delta_alpha / kRadians) * degree;
  s.topocentric_declination = delta_prime * radian;
  s.topocentric_hour_angle = wrapped_deg(H_prime / kRadians) * degree;
  s.elevation_geometric = height * degree;
  s.refraction = refraction * degree;
  s.zenith = (90.0 - height - refraction) * degree;
  s.azimuth = TrueBearing::at(from_south * radian + 180.0 * degree);
  return s;
}

// The sun over one place around one transit. The algorithm is evaluated at five nodes only. Between them the hour angle
// (less its even turning) and the declination follow the polynomial of degree four through the nodes; the fastest
// nutation terms (0.2", 7 to 14 days) leave an error far below the 4e-6 degrees by which the sun climbs in 1 ms.
class DayPath {
 public:
  DayPath(double transit, const Observer& observer) : transit_{transit} {
    latitude_ = observer.position.latitude().in(radian);
    for (std::size_t i = 0; i < kNodes; ++i) {
      const double since = node(i);
      const Geocentric g = geocentric_at(transit + since, observer.delta_t.in(second));
      const double H = g.nu - g.alpha + observer.position.longitude().in(degree);
      residue_[i] = short_way_deg(H - 360.0 * since) * kRadians;
      declination_[i] = g.delta * kRadians;
    }
  }

  // `since` in days after the transit, within 19 hours of it.
  [[nodiscard]] double sin_height_at(double since) const {
    const Place place = place_at(since);
    return sin_height(latitude_, place.declination, 2.0 * pi * since + place.residue);
  }

  // When the sun has turned by `turns` of a circle since the transit: 0.5 is the lower meridian after it.
  [[nodiscard]] double turned_by(double turns) const {
    double since = turns;
    for (int round = 0; round < 4; ++round) since = turns - place_at(since).residue / (2.0 * pi);
    return since;
  }

  // Where the sun is highest (`sign` +1) or lowest (-1) within 6 h of `middle`, when it crosses the meridian. That is
  // not at the crossing itself, as the declination drifts; within 7 km of a pole drift outruns the daily turn and the
  // answer is an end of the 12 h. Between a lowest and the next highest the height only rises, then it only falls.
  [[nodiscard]] double extreme_near(double middle, double sign) const {
    double low = middle - 0.25, high = middle + 0.25;
    while (high - low > kResolution) {
      const double at = 0.5 * (low + high);
      const double slope = sin_height_at(at + kSlopeStep) - sin_height_at(at - kSlopeStep);
      (sign * slope > 0.0 ? low : high) = at;
    }
    return 0.5 * (low + high);
  }

  // Where the height passes `sine` between `below` (lower than it) and `above` (not lower), in either order.
  [[nodiscard]] double crossing(double sine, double below, double above) const {
    while (std::abs(above - below) > kResolution) {
      const double at = 0.5 * (below + above);
      (sin_height_at(at) < sine ? below : above) = at;
    }
    return 0.5 * (below + above);
  }

  [[nodiscard]] Instant instant(double since) const { return instant_at(transit_ + since); }

 private:
  static constexpr std::size_t kNodes = 5;
  static constexpr double kResolution = 0.05 / kDayMs;
  static constexpr double kSlopeStep = 30.0 / kDayS;
  static constexpr double node(std::size_t i) { return (static_cast<double>(i) - 2.0) * 0.4; }

  struct Place {
    double residue, declination;
  };
  [[nodiscard]] Place place_at(double since) const {
    Place place{0.0, 0.0};
    for (std::size_t i = 0; i < kNodes; ++i) {
      double weight = 1.0;
      for (std::size_t j = 0; j < kNodes; ++j)
        if (j != i) weight *= (since - node(j)) / (node(i) - node(j));
      place.residue += weight * residue_[i];
      place.declination += weight * declination_[i];
    }
    return place;
  }

  double transit_, latitude_ = 0.0;
  std::array<double, kNodes> residue_{}, declination_{};
};

// The time, nearest to `near`, at which the sun's local hour angle is 0. The sun's day differs from 24 h by half a
// minute at most, so that each round leaves less than 1/2000 of the error.
double transit_nearest(double near, const Observer& observer) {
  double at = near;
  for (int round = 0; round < 4; ++round) {
    const Geocentric g = geocentric_at(at, observer.delta_t.in(second));
    at -= short_way_deg(g.nu - g.alpha + observer.position.longitude().in(degree)) / 360.0;
  }
  return at;
}

// False for a value that is no number, too.
bool within(double value, double low, double high) { return value >= low && value <= high; }

constexpr int kFirstYear = 1900, kLastYear = 2200;

std::optional<Issue> fault_of(const Observer& observer) {
  const auto refused = [](std::string key, Measure got, std::string wanted) {
    return Issue{Errc::out_of_range, say(std::move(key), {{"got", got}}), {}, {}, std::move(wanted)};
  };
  if (!within(observer.elevation.in(metre), -1000.0, 50000.0))
    return refused("issue.sun_elevation_range", measure::height(observer.elevation), "-1000m to 50000m");
  if (!within(observer.pressure.in(hectopascal), 0.0, 1200.0))
    return refused("issue.sun_pressure_range", measure::air(observer.pressure), "0hPa to 1200hPa");
  if (!within(in_celsius(observer.temperature), -150.0, 100.0))
    return refused("issue.sun_temperature_range", measure::of(observer.temperature), "-150C to 100C");
  if (!within(observer.delta_t.in(second), -1000.0, 1000.0))
    return refused("issue.sun_delta_t_range", measure::of(observer.delta_t), "-1000s to 1000s");
  return std::nullopt;
}

Issue year_refused(int year) {
  return Issue{Errc::out_of_range,
               say("issue.sun_year_range", {{"got", std::to_string(year)}}),
               {},
               std::to_string(year),
               "1900 to 2200"};
}

Instant start_of_year(int year) { return instant_of(*Date::of(year, 1, 1), 0, 0, 0.0, UtcOffset{}); }

}  // namespace

Result<SpaState> spa(Instant t, const Observer& observer) {
  if (t < start_of_year(kFirstYear) || t >= start_of_year(kLastYear + 1)) {
    // The calendar holds the years 1 to 9999: what lies beyond is named by its nearest.
    const Instant named = std::clamp(t, start_of_year(1), start_of_year(9999));
    return tl::unexpected{year_refused(Moment{named, UtcOffset{}}.date().year())};
  }
  if (auto fault = fault_of(observer)) return tl::unexpected{*std::move(fault)};
  return state_at(days_from_epoch(t), observer);
}

Result<SunPosition> sun_at(Instant t, const Observer& observer) {
  const auto state = spa(t, observer);
  if (!state) return tl::unexpected{state.error()};
  return SunPosition{state->azimuth, state->elevation_geometric + state->refraction, state->elevation_geometric};
}

Result<SunDay> sun_day(Date local_date, UtcOffset offset, const Observer& observer) {
  if (local_date.year() < kFirstYear || local_date.year() > kLastYear)
    return tl::unexpected{year_refused(local_date.year())};
  if (offset.minutes < -14 * 60 || offset.minutes > 14 * 60)
    return fail(Errc::out_of_range, say("issue.utc_offset_range", {{"got", measure::of(offset.minutes * minute)}}),
                std::to_string(offset.minutes), "-14:00 to +14:00");
  if (auto fault = fault_of(observer)) return tl::unexpected{*std::move(fault)};

  const double noon = days_from_epoch(instant_of(local_date, 12, 0, 0.0, offset));
  const double transit = transit_nearest(noon, observer);
  const DayPath path{transit, observer};
  // Two days meet where the sun is lowest. Both look for it around the same crossing of the lower meridian, so that
  // they meet at a pole too, where nothing is lowest.
  const double lowest_before = path.extreme_near(path.turned_by(-0.5), -1.0);
  const double highest = path.extreme_near(0.0, 1.0);
  const double lowest_after = path.extreme_near(path.turned_by(0.5), -1.0);
  const double sine_before = path.sin_height_at(lowest_before), sine_highest = path.sin_height_at(highest),
               sine_after = path.sin_height_at(lowest_after);

  SunDay day;
  day.transit = path.instant(0.0);
  const auto events = [&](Angle height, std::optional<Instant>& up, std::optional<Instant>& down) {
    const double sine = sin(height);
    if (sine_highest < sine) return;
    if (sine_before < sine) up = path.instant(path.crossing(sine, lowest_before, highest));
    if (sine_after < sine) down = path.instant(path.crossing(sine, lowest_after, highest));
  };
  events(kSunriseElevation, day.sunrise, day.sunset);
  events(kCivilTwilightElevation, day.civil_dawn, day.civil_dusk);
  const double risen = sin(kSunriseElevation);
  day.sun_never_up = sine_highest < risen;
  day.sun_always_up = sine_before >= risen && sine_after >= risen;
  return day;
}

}  // namespace pappus::sky
