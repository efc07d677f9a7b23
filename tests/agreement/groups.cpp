#include "tests/agreement/groups.hpp"

#include <cstdint>

#include "core/base/angle.hpp"
#include "core/base/instant.hpp"
#include "core/base/interpolate.hpp"
#include "core/base/issue.hpp"
#include "core/base/math.hpp"
#include "core/base/quantity.hpp"

namespace pappus::agreement {
namespace {

// At most one number is drawn in the arguments of one call: compilers evaluate arguments in different orders.

// A number whose size is spread evenly over decades, of either sign.
double spread(Random& r, double smallest_power, double largest_power) {
  const double size = math::pow(10.0, r.uniform(smallest_power, largest_power));
  return r.uniform() < 0.5 ? -size : size;
}

Values exponentials(Random& r) {
  const double positive = math::pow(10.0, r.uniform(-12.0, 12.0));
  return {math::exp(r.uniform(-50.0, 50.0)), math::log(positive), math::pow(positive, r.uniform(-3.0, 3.0)),
          math::sqrt(positive), math::cbrt(spread(r, -12.0, 12.0))};
}

Values trigonometry(Random& r) {
  const double x = spread(r, -6.0, 6.0);
  const double unit = r.uniform(-1.0, 1.0);
  return {math::sin(x),
          math::cos(x),
          math::tan(x),
          math::asin(unit),
          math::acos(unit),
          math::atan(x),
          math::atan2(spread(r, -6.0, 6.0), x),
          math::hypot(x, spread(r, -6.0, 6.0)),
          math::fmod(x, 360.0)};
}

Values random_numbers(Random& r) { return {r.uniform(), r.normal(), static_cast<double>(r.below(1'000'000))}; }

Values units(Random& r) {
  const double v = spread(r, -3.0, 6.0);
  return {(v * foot).in(nautical_mile), (v * us_gallon).in(cubic_foot),
          (v * pound).in(kilogram),     (v * pound_per_square_inch).in(inch_of_mercury),
          (v * knot).in(mile_per_hour), in_fahrenheit(celsius(v)),
          in_celsius(fahrenheit(v)),    (v * foot_per_minute).in(metre_per_second)};
}

Values angles(Random& r) {
  const Angle a = spread(r, -3.0, 5.0) * degree, b = spread(r, -3.0, 5.0) * degree;
  return {wrapped(a).in(degree),
          short_way(a).in(degree),
          (TrueBearing::at(a) - TrueBearing::at(b)).in(degree),
          sin(a),
          cos(a),
          tan(b)};
}

Values calendar(Random& r) {
  const auto ms = static_cast<std::int64_t>(r.uniform(-2e12, 4e12));
  const Instant t = Instant::from_unix_milliseconds(ms) + r.uniform(-1e6, 1e6) * second;
  const Date d = Moment{t, UtcOffset{static_cast<int>(r.below(1680)) - 840}}.date();
  return {static_cast<double>(t.unix_milliseconds()), static_cast<double>(d.year()), static_cast<double>(d.month()),
          static_cast<double>(d.day()), static_cast<double>(d.days_since_1970())};
}

Values lines(Random& r) {
  const double x0 = r.uniform(-100.0, 0.0), x1 = r.uniform(1.0, 100.0);
  const double x = r.uniform(x0, x1), y0 = r.normal(), y1 = r.normal();
  return {on_line(x, x0, y0, x1, y1)};
}

}  // namespace

const std::vector<Group>& groups() {
  static const std::vector<Group> all = [] {
    std::vector<Group> base{
        {"exponentials", 2000, exponentials},
        {"trigonometry", 2000, trigonometry},
        {"random", 500, random_numbers},
        {"units", 500, units},
        {"angles", 1000, angles},
        {"calendar", 1000, calendar},
        {"lines", 500, lines},
    };
    for (const Group& group : model_groups()) base.push_back(group);
    return base;
  }();
  return all;
}

}  // namespace pappus::agreement
