/// Physical amounts that cannot be mixed up, and points on a scale that has an origin.
///
/// Four rules. There is no public constructor from a bare number. The unit is named on the way in and on the way out.
/// Units are themselves quantities. A value with an origin (an altitude, a temperature) is a Point: points subtract to
/// an amount and do not add.
///
///     const Speed climb = 500 * (foot / minute);
///     const double fpm = climb.in(foot / minute);
///
/// Everything is held in SI as one double; the generated code is that of a double.
#pragma once
#include <compare>

namespace pappus {

/// A physical amount, held in SI. Arguments: exponents of metre, kilogram, second, kelvin.
template <int M, int Kg, int S, int K>
class Quantity {
 public:
  constexpr Quantity() = default;
  [[nodiscard]] static constexpr Quantity from_si(double v) { return Quantity{v}; }
  /// The amount counted in `unit`.
  [[nodiscard]] constexpr double in(Quantity unit) const { return si_ / unit.si_; }

  friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.si_ + b.si_}; }
  friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.si_ - b.si_}; }
  friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.si_}; }
  friend constexpr Quantity operator*(double k, Quantity a) { return Quantity{k * a.si_}; }
  friend constexpr Quantity operator*(Quantity a, double k) { return Quantity{k * a.si_}; }
  friend constexpr Quantity operator/(Quantity a, double k) { return Quantity{a.si_ / k}; }
  /// The ratio of two amounts of one kind is a number.
  friend constexpr double operator/(Quantity a, Quantity b) { return a.si_ / b.si_; }
  constexpr Quantity& operator+=(Quantity b) {
    si_ += b.si_;
    return *this;
  }
  constexpr Quantity& operator-=(Quantity b) {
    si_ -= b.si_;
    return *this;
  }
  friend constexpr auto operator<=>(Quantity, Quantity) = default;

 private:
  explicit constexpr Quantity(double si) : si_{si} {}
  double si_ = 0.0;
};

template <int M, int Kg, int S, int K>
inline constexpr auto si_unit = Quantity<M, Kg, S, K>::from_si(1.0);

template <int M1, int Kg1, int S1, int K1, int M2, int Kg2, int S2, int K2>
constexpr auto operator*(Quantity<M1, Kg1, S1, K1> a, Quantity<M2, Kg2, S2, K2> b) {
  return Quantity<M1 + M2, Kg1 + Kg2, S1 + S2, K1 + K2>::from_si(
      a.in(si_unit<M1, Kg1, S1, K1>)*b.in(si_unit<M2, Kg2, S2, K2>));
}
template <int M1, int Kg1, int S1, int K1, int M2, int Kg2, int S2, int K2>
requires(M1 != M2 || Kg1 != Kg2 || S1 != S2 || K1 != K2) constexpr auto operator/(Quantity<M1, Kg1, S1, K1> a,
                                                                                  Quantity<M2, Kg2, S2, K2> b) {
  return Quantity<M1 - M2, Kg1 - Kg2, S1 - S2, K1 - K2>::from_si(a.in(si_unit<M1, Kg1, S1, K1>) /
                                                                 b.in(si_unit<M2, Kg2, S2, K2>));
}

using Length = Quantity<1, 0, 0, 0>;
using Area = Quantity<2, 0, 0, 0>;
using Volume = Quantity<3, 0, 0, 0>;
using Mass = Quantity<0, 1, 0, 0>;
using Duration = Quantity<0, 0, 1, 0>;
using TemperatureDelta = Quantity<0, 0, 0, 1>;
using Speed = Quantity<1, 0, -1, 0>;
using Density = Quantity<-3, 1, 0, 0>;
using Pressure = Quantity<-1, 1, -2, 0>;
using Energy = Quantity<2, 1, -2, 0>;
using Power = Quantity<2, 1, -3, 0>;
using MassFlow = Quantity<0, 1, -1, 0>;
using SpecificEnergy = Quantity<2, 0, -2, 0>;
using HeatFlux = Quantity<0, 1, -3, 0>;
using LapseRate = Quantity<-1, 0, 0, 1>;

inline constexpr Length metre = Length::from_si(1.0);
inline constexpr Length kilometre = 1000.0 * metre;
inline constexpr Length foot = 0.3048 * metre;            // exact, international foot
inline constexpr Length statute_mile = 1609.344 * metre;  // exact, 5280 ft
inline constexpr Length nautical_mile = 1852.0 * metre;   // exact
inline constexpr Area square_metre = metre * metre;
inline constexpr Volume cubic_metre = square_metre * metre;
inline constexpr Volume litre = 0.001 * cubic_metre;
inline constexpr Volume us_gallon = 3.785411784 * litre;  // exact, 231 cubic inches
inline constexpr Volume cubic_foot = foot * foot * foot;
inline constexpr Mass kilogram = Mass::from_si(1.0);
inline constexpr Mass pound = 0.45359237 * kilogram;  // exact, avoirdupois
inline constexpr Duration second = Duration::from_si(1.0);
inline constexpr Duration minute = 60.0 * second;
inline constexpr Duration hour = 3600.0 * second;
inline constexpr TemperatureDelta kelvin = TemperatureDelta::from_si(1.0);
inline constexpr TemperatureDelta rankine = (5.0 / 9.0) * kelvin;  // one Fahrenheit degree as a difference
inline constexpr Speed metre_per_second = metre / second;
inline constexpr Speed kilometre_per_hour = kilometre / hour;
inline constexpr Speed knot = nautical_mile / hour;
inline constexpr Speed mile_per_hour = statute_mile / hour;
inline constexpr Speed foot_per_minute = foot / minute;
inline constexpr Density kilogram_per_cubic_metre = kilogram / cubic_metre;
inline constexpr Pressure pascal = Pressure::from_si(1.0);
inline constexpr Pressure hectopascal = 100.0 * pascal;
inline constexpr Pressure kilopascal = 1000.0 * pascal;
inline constexpr Pressure bar = 100000.0 * pascal;
inline constexpr Pressure standard_atmosphere = 101325.0 * pascal;  // exact
inline constexpr Pressure pound_per_square_inch = 6894.757293168 * pascal;
inline constexpr Pressure inch_of_mercury = 3386.389 * pascal;  // conventional, 0 C
inline constexpr Energy joule = Energy::from_si(1.0);
inline constexpr Power watt = joule / second;
inline constexpr Power megawatt = 1.0e6 * watt;
inline constexpr MassFlow kilogram_per_second = kilogram / second;
inline constexpr MassFlow kilogram_per_hour = kilogram / hour;
inline constexpr SpecificEnergy joule_per_kilogram = joule / kilogram;
inline constexpr HeatFlux watt_per_square_metre = watt / square_metre;

/// A place on a scale with a named origin.
template <class Q, class Origin>
class Point {
 public:
  using Amount = Q;
  constexpr Point() = default;
  [[nodiscard]] static constexpr Point at(Q from_origin) { return Point{from_origin}; }
  [[nodiscard]] constexpr Q from_origin() const { return q_; }
  friend constexpr Q operator-(Point a, Point b) { return a.q_ - b.q_; }
  friend constexpr Point operator+(Point p, Q d) { return Point{p.q_ + d}; }
  friend constexpr Point operator-(Point p, Q d) { return Point{p.q_ - d}; }
  friend constexpr auto operator<=>(Point, Point) = default;

 private:
  explicit constexpr Point(Q q) : q_{q} {}
  Q q_;
};

using AltitudeAmsl = Point<Length, struct MeanSeaLevel>;  // minus a HeightAgl: does not compile
using HeightAgl = Point<Length, struct LocalGround>;
using PressureAltitude = Point<Length, struct Isobar1013>;
using DensityAltitude = Point<Length, struct StandardDensity>;
using GeopotentialAltitude = Point<Length, struct GeopotentialZero>;
using Temperature = Point<TemperatureDelta, struct AbsoluteZero>;
using GaugePressure = Point<Pressure, struct AmbientPressure>;  // what a gauge shows: zero is the air around it

/// 0 degrees Celsius on the absolute scale. Exact.
inline constexpr Temperature ice_point = Temperature::at(273.15 * kelvin);
[[nodiscard]] constexpr Temperature celsius(double degrees) { return ice_point + degrees * kelvin; }
[[nodiscard]] constexpr double in_celsius(Temperature t) { return (t - ice_point).in(kelvin); }
[[nodiscard]] constexpr Temperature fahrenheit(double degrees) { return ice_point + (degrees - 32.0) * rankine; }
[[nodiscard]] constexpr double in_fahrenheit(Temperature t) { return (t - ice_point).in(rankine) + 32.0; }

[[nodiscard]] constexpr AltitudeAmsl amsl(Length l) { return AltitudeAmsl::at(l); }
[[nodiscard]] constexpr HeightAgl agl(Length l) { return HeightAgl::at(l); }
/// The altitude of a height above ground that itself lies at `ground`.
[[nodiscard]] constexpr AltitudeAmsl above(AltitudeAmsl ground, HeightAgl h) { return ground + h.from_origin(); }
[[nodiscard]] constexpr HeightAgl height_over(AltitudeAmsl ground, AltitudeAmsl z) { return agl(z - ground); }

template <int M, int Kg, int S, int K>
[[nodiscard]] constexpr Quantity<M, Kg, S, K> abs(Quantity<M, Kg, S, K> q) {
  return q < Quantity<M, Kg, S, K>{} ? -q : q;
}

}  // namespace pappus
