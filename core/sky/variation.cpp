// Notation of the World Magnetic Model report: g, h Gauss coefficients; phi geodetic and phi' geocentric latitude;
// theta geocentric colatitude; r geocentric radius; P(n,m) Schmidt semi-normalised associated Legendre function of cos
// theta.
#include "core/sky/variation.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "core/base/math.hpp"
#include "core/sky/detail/embedded_csv.hpp"
#include "sky_data.hpp"

namespace pappus::sky {
namespace {

constexpr std::size_t kDegree = 12;
constexpr double kEpoch = 2025.0;                  // of the coefficients
constexpr double kValidUntil = 2030.0;             // exclusive
constexpr double kReferenceRadiusKm = 6371.2;      // of the model, exact
constexpr double kEquatorKm = 6378.137;            // WGS 84, exact
constexpr double kFlattening = 1 / 298.257223563;  // WGS 84, exact

template <class T>
using Triangle = std::array<std::array<T, kDegree + 1>, kDegree + 1>;

struct Coefficient {
  double g = 0.0, h = 0.0, g_per_year = 0.0, h_per_year = 0.0;
};

const Triangle<Coefficient>& coefficients() {
  static const Triangle<Coefficient> parsed = [] {
    Triangle<Coefficient> all{};
    detail::for_each_row(data::wmm2025, [&](std::string_view row) {
      std::array<double, 6> cell{};
      for (double& value : cell) value = detail::decimal(detail::take_until(row, ','));
      all[static_cast<std::size_t>(cell[0])][static_cast<std::size_t>(cell[1])] = {cell[2], cell[3], cell[4], cell[5]};
    });
    return all;
  }();
  return parsed;
}

// P, its derivative by theta, and P / sin(theta). The quotient follows P's own recursion, so that nothing is divided by
// zero at the poles. P(n,0) / sin(theta) is not needed and left out.
struct Legendre {
  Triangle<double> value{}, slope{}, over_sine{};
};

Legendre legendre(double cosine, double sine) {
  Legendre p;
  p.value[0][0] = 1.0;
  for (std::size_t n = 1; n <= kDegree; ++n) {
    for (std::size_t m = 0; m < n; ++m) {
      const auto dn = static_cast<double>(n), dm = static_cast<double>(m);
      const double a = (2.0 * dn - 1.0) / math::sqrt(dn * dn - dm * dm);
      const double b = n < 2 ? 0.0 : math::sqrt(((dn - 1.0) * (dn - 1.0) - dm * dm) / (dn * dn - dm * dm));
      const std::size_t n1 = n - 1, n2 = n < 2 ? 0 : n - 2;
      p.value[n][m] = a * cosine * p.value[n1][m] - b * p.value[n2][m];
      p.slope[n][m] = a * (cosine * p.slope[n1][m] - sine * p.value[n1][m]) - b * p.slope[n2][m];
      p.over_sine[n][m] = a * cosine * p.over_sine[n1][m] - b * p.over_sine[n2][m];
    }
    const auto dn = static_cast<double>(n);
    const double c = n == 1 ? 1.0 : math::sqrt((2.0 * dn - 1.0) / (2.0 * dn));
    p.value[n][n] = c * sine * p.value[n - 1][n - 1];
    p.slope[n][n] = c * (cosine * p.value[n - 1][n - 1] + sine * p.slope[n - 1][n - 1]);
    p.over_sine[n][n] = c * p.value[n - 1][n - 1];
  }
  return p;
}

bool within(double value, double low, double high) { return value >= low && value <= high; }

}  // namespace

Result<MagneticField> magnetic_field(Position position, Length height, double decimal_year) {
  const double height_km = height.in(kilometre);
  if (!within(height_km, -1.0, 850.0))
    return fail(Errc::out_of_range, say("issue.variation_height_range", {{"got", measure::height(height)}}), {},
                "-1000m to 850000m");
  if (!within(decimal_year, 2020.0, 2035.0))
    return fail(Errc::out_of_range, say("issue.variation_year_range", {{"got", measure::number(decimal_year)}}), {},
                "2020 to 2035");

  const double phi = position.latitude().in(radian), longitude = position.longitude().in(radian);
  const double sin_phi = math::sin(phi), cos_phi = math::cos(phi);
  const double e2 = kFlattening * (2.0 - kFlattening);
  const double across_km = kEquatorKm / math::sqrt(1.0 - e2 * sin_phi * sin_phi);
  const double from_axis_km = (across_km + height_km) * cos_phi;
  const double from_equator_km = (across_km * (1.0 - e2) + height_km) * sin_phi;
  const double r_km = math::hypot(from_axis_km, from_equator_km);
  const double sin_theta = from_axis_km / r_km, cos_theta = from_equator_km / r_km;

  std::array<double, kDegree + 1> sin_m{}, cos_m{};
  for (std::size_t m = 0; m <= kDegree; ++m) {
    sin_m[m] = math::sin(static_cast<double>(m) * longitude);
    cos_m[m] = math::cos(static_cast<double>(m) * longitude);
  }
  const Legendre p = legendre(cos_theta, sin_theta);
  const double years = decimal_year - kEpoch;
  const double ratio = kReferenceRadiusKm / r_km;
  double power = ratio * ratio;
  // Geocentric: X' toward north, Y toward east, Z' toward the centre.
  double x_prime = 0.0, y = 0.0, z_prime = 0.0;
  for (std::size_t n = 1; n <= kDegree; ++n) {
    power *= ratio;
    for (std::size_t m = 0; m <= n; ++m) {
      const Coefficient& k = coefficients()[n][m];
      const double g = k.g + years * k.g_per_year, h = k.h + years * k.h_per_year;
      const double even = g * cos_m[m] + h * sin_m[m], odd = g * sin_m[m] - h * cos_m[m];
      x_prime += power * even * p.slope[n][m];
      y += power * static_cast<double>(m) * odd * p.over_sine[n][m];
      z_prime -= power * static_cast<double>(n + 1) * even * p.value[n][m];
    }
  }
  // Turned by phi' - phi to the vertical of the ellipsoid.
  const double sin_turn = cos_theta * cos_phi - sin_theta * sin_phi,
               cos_turn = sin_theta * cos_phi + cos_theta * sin_phi;

  MagneticField field;
  field.north_nt = x_prime * cos_turn - z_prime * sin_turn;
  field.east_nt = y;
  field.down_nt = x_prime * sin_turn + z_prime * cos_turn;
  field.variation = Variation{math::atan2(field.east_nt, field.north_nt) * radian};
  const double horizontal_nt = math::hypot(field.north_nt, field.east_nt);
  // At a magnetic pole, where the needle has no direction, all of the circle is possible.
  const double uncertainty_deg = horizontal_nt > 0.0 ? math::hypot(0.26, 5417.0 / horizontal_nt) : 180.0;
  field.uncertainty = std::min(uncertainty_deg, 180.0) * degree;
  field.within_validity = decimal_year >= kEpoch && decimal_year < kValidUntil;
  return field;
}

double decimal_year(Instant t) {
  constexpr double kMeanYearMs = 365.2425 * 86'400'000.0;
  const double mean = 1970.0 + static_cast<double>(t.unix_milliseconds()) / kMeanYearMs;
  if (!within(mean, 2.0, 9999.0)) return mean;  // the calendar holds the years 1 to 9999
  const int year = Moment{t, UtcOffset{}}.date().year();
  const double days = Date::of(year, 2, 29) ? 366.0 : 365.0;
  return year + (t - instant_of(*Date::of(year, 1, 1), 0, 0, 0.0, UtcOffset{})) / (days * 24.0 * hour);
}

Date variation_valid_until() { return *Date::of(2029, 12, 31); }

}  // namespace pappus::sky
