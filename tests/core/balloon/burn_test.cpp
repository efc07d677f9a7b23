#include "core/balloon/burn.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include <gtest/gtest.h>

#include "core/air/isa.hpp"
#include "core/balloon/lift.hpp"
#include "core/base/math.hpp"
#include "core/propane/saturation.hpp"
#include "tests/core/balloon/morning_air.hpp"
#include "tests/support/seeded.hpp"
#include "tests/support/table.hpp"

namespace pappus::balloon {
namespace {

using pappus::testing::read_table;
using pappus::testing::Row;
using pappus::testing::seeded;
using testing::dawn;
using testing::random_air;
using testing::standard_day;

double kg(Mass m) { return m.in(kilogram); }
double kg_h(MassFlow f) { return f.in(kilogram_per_hour); }
double kelvins(Temperature t) { return t.from_origin().in(kelvin); }

// The reference figures have a sky as over a vapour pressure of 8 hPa. Air below 3.8 C cannot hold that; there the same
// sky is made of saturated air and as much cloud as it takes.
void set_reference_sky(LevelFlowInputs& in) {
  in.outside.dew_point = std::min(in.outside.temperature, air::dew_point(8.0 * hectopascal).value());
  const double e_hpa = air::saturation_vapour_pressure(in.outside.dew_point).value().in(hectopascal);
  const double brighter = (0.52 + 0.065 * math::sqrt(8.0)) / (0.52 + 0.065 * math::sqrt(e_hpa)) - 1.0;
  in.settings.cloud_fraction = brighter > 1e-9 ? math::pow(brighter / 0.22, 1.0 / 2.75) : 0.0;
}

constexpr double kReferenceLoad = 14.5;  // lb per 1000 ft3

Mass load_of(Volume v, double lb_per_1000_ft3) { return v.in(1000.0 * cubic_foot) * lb_per_1000_ft3 * pound; }

LevelFlowInputs reference_case(Volume volume, Temperature ambient, Pressure pressure, double load) {
  const Temperature mean =
      mean_temperature_needed({{ambient, air::kDryDewPoint, pressure}, load_of(volume, load), volume}).value();
  LevelFlowInputs in{{ambient, ambient, pressure}, mean, volume, {}};
  set_reference_sky(in);
  return in;
}

TEST(LevelFlow, MatchesTheFiguresOfIndependentArithmetic) {
  for (const Row& row : read_table("heat.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const auto standard = air::isa_at(GeopotentialAltitude::at(row["altitude_m"] * metre)).value();
    const Temperature ambient =
        row.has("ambient_k") ? Temperature::at(row["ambient_k"] * kelvin) : standard.temperature;
    const Volume volume = row["volume_ft3"] * cubic_foot;
    LevelFlowInputs in{{ambient, ambient, standard.pressure}, {}, volume, {}};
    set_reference_sky(in);
    if (row.has("inside_k"))
      in.inside_mean = Temperature::at(row["inside_k"] * kelvin);
    else
      in = reference_case(volume, ambient, standard.pressure, row["load_lb_per_1000ft3"]);
    in.settings.relative_air = row["relative_air_m_s"] * metre_per_second;
    in.settings.beam = row["beam_w_m2"] * watt_per_square_metre;
    in.settings.emissivity = row["emissivity"];
    in.settings.inside_convection = row["inside_convection"];
    in.settings.gas_emissivity = row["gas_emissivity"];
    const auto flow = level_flow(in);
    ASSERT_TRUE(flow.has_value());
    const std::string quantity = row.text("quantity");
    const double got = quantity == "flux_w_m2"   ? flow->flux.in(watt_per_square_metre)
                       : quantity == "fabric_c"  ? in_celsius(flow->fabric)
                       : quantity == "burn_kg_h" ? kg_h(flow->flow)
                       : quantity == "area_m2"   ? flow->area.in(square_metre)
                       : quantity == "loss_kw"   ? flow->loss.in(1000.0 * watt)
                       : quantity == "mean_c"    ? in_celsius(in.inside_mean)
                                                 : std::nan("");
    EXPECT_NEAR(got, row["value"], row["tolerance"]) << quantity;
  }
}

TEST(LevelFlow, KeepsToTheSimpleFitOfTheSameModel) {
  // Fitted to the model apart from this program, at sea level and 8 hPa: within 2.6 %. Its printed coefficients are
  // rounded, which moves it by up to 0.3 % at the corners.
  double worst = 0.0;
  for (double t_c = -10.0; t_c <= 35.0; t_c += 1.0)
    for (double excess = 35.0; excess <= 95.0; excess += 2.5) {
      const Temperature t = celsius(t_c);
      LevelFlowInputs in{{t, t, standard_atmosphere}, t + excess * kelvin, 77'000.0 * cubic_foot, {}};
      set_reference_sky(in);
      const double fit = 3.55 * math::pow(excess, 1.110) * math::pow(kelvins(t) / 288.0, 0.80);
      worst = std::max(worst, std::abs(level_flow(in).value().flux.in(watt_per_square_metre) / fit - 1.0));
    }
  EXPECT_LE(worst, 0.026 + 0.003);
}

TEST(LevelFlow, BalancesTheFabricToTheLastDigits) {
  // The heat that leaves the fabric, written a second time and plainly, equals the heat that is said to reach it.
  Random random = seeded("LevelFlow.Balance");
  for (int i = 0; i < 200; ++i) {
    const air::MoistAir air = random_air(random);
    const Temperature inside = air.temperature + random.uniform(20.0, 110.0) * kelvin;
    const Volume volume = random.uniform(1000.0, 10'000.0) * cubic_metre;
    HeatSettings s;
    s.relative_air = random.uniform(0.0, 6.0) * metre_per_second;
    s.cloud_fraction = random.uniform();
    const auto flow = level_flow({air, inside, volume, s}).value();

    const double tf = kelvins(flow.fabric), ta = kelvins(air.temperature), p = air.pressure.in(pascal);
    const double film = 0.5 * (tf + ta);
    const double mu = 1.458e-6 * math::pow(film, 1.5) / (film + 110.4);
    const double k = 2.64638e-3 * math::pow(film, 1.5) / (film + 245.4 * math::pow(10.0, -12.0 / film));
    const double rho = p / (287.053 * film), nu = mu / rho, pr = mu * 1006.0 / k;
    const double d = 1.3044 * math::cbrt(volume.in(cubic_metre));
    const double ra = 9.80665 * std::abs(tf - ta) * d * d * d * pr / (film * nu * nu);
    const double re = s.relative_air.in(metre_per_second)*d / nu;
    const double natural = ra >= 1.5e8 ? 0.10 * math::cbrt(ra) : 2.0 + 0.6 * math::pow(ra, 0.25);
    const double forced = std::max(2.0 + 0.47 * math::sqrt(re) * math::cbrt(pr),
                                   re >= 5e4 ? (0.0262 * math::pow(re, 0.8) - 615.0) * math::cbrt(pr) : 0.0);
    const double h = math::cbrt(math::pow(natural, 3.0) + math::pow(forced, 3.0)) * k / d;
    const double e = air::saturation_vapour_pressure(air.dew_point).value().in(hectopascal);
    const double sky = std::min(1.0, (0.52 + 0.065 * math::sqrt(e)) * (1.0 + 0.22 * math::pow(s.cloud_fraction, 2.75)));
    const double sigma = 5.670374419e-8;
    const double out =
        h * (tf - ta) + 0.87 * sigma * (math::pow(tf, 4.0) - 0.5 * math::pow(ta, 4.0) - 0.5 * sky * math::pow(ta, 4.0));
    EXPECT_NEAR(flow.flux.in(watt_per_square_metre), out, 1e-4 * out);
    EXPECT_NEAR(flow.loss.in(watt), flow.flux.in(watt_per_square_metre)*flow.area.in(square_metre), 1e-6);
    EXPECT_LT(flow.fabric, inside);
  }
}

TEST(LevelFlow, RisesWithHeatSizeAndWindAndFallsWithSunAndCloud) {
  Random random = seeded("LevelFlow.Monotonic");
  for (int i = 0; i < 200; ++i) {
    LevelFlowInputs in{random_air(random), {}, random.uniform(1000.0, 10'000.0) * cubic_metre, {}};
    in.inside_mean = in.outside.temperature + random.uniform(30.0, 120.0) * kelvin;
    in.settings.relative_air = random.uniform(0.0, 5.0) * metre_per_second;
    in.settings.cloud_fraction = random.uniform(0.0, 0.9);
    const double flow = kg_h(level_flow(in).value().flow);
    const auto with = [&](const std::function<void(LevelFlowInputs&)>& change) {
      LevelFlowInputs other = in;
      change(other);
      return kg_h(level_flow(other).value().flow);
    };
    EXPECT_GT(with([](auto& x) { x.inside_mean = x.inside_mean + 1.0 * kelvin; }), flow);
    EXPECT_GT(with([](auto& x) { x.volume = 1.02 * x.volume; }), flow);
    EXPECT_GT(with([](auto& x) { x.settings.relative_air = x.settings.relative_air + 1.0 * metre_per_second; }), flow);
    EXPECT_LT(with([](auto& x) { x.settings.beam = 200.0 * watt_per_square_metre; }), flow);
    EXPECT_LE(with([](auto& x) { x.settings.cloud_fraction += 0.1; }), flow);
    EXPECT_GT(with([](auto& x) { x.settings.efficiency = 0.8; }), flow);
  }
}

TEST(LevelFlow, RefusesWhatItDoesNotCover) {
  const air::MoistAir air{celsius(15.0), celsius(4.0), standard_atmosphere};
  const LevelFlowInputs good{air, celsius(80.0), 2180.0 * cubic_metre, {}};
  const auto key = [&](const std::function<void(LevelFlowInputs&)>& change) {
    LevelFlowInputs in = good;
    change(in);
    const auto flow = level_flow(in);
    return flow ? std::string{"a value"} : flow.error().sentence.key;
  };
  EXPECT_EQ(key([](auto&) {}), "a value");
  EXPECT_EQ(key([](auto& x) { x.inside_mean = celsius(19.9); }), "burn.inside_excess_outside");
  EXPECT_EQ(key([](auto& x) { x.inside_mean = celsius(165.1); }), "burn.inside_excess_outside");
  EXPECT_EQ(key([](auto& x) { x.volume = 50.0 * cubic_metre; }), "burn.volume_outside");
  EXPECT_EQ(key([](auto& x) { x.settings.efficiency = 0.0; }), "burn.efficiency_outside");
  EXPECT_EQ(key([](auto& x) { x.settings.emissivity = 1.1; }), "burn.emissivity_outside");
  EXPECT_EQ(key([](auto& x) { x.settings.cloud_fraction = std::nan(""); }), "burn.cloud_fraction_outside");
  EXPECT_EQ(key([](auto& x) { x.settings.relative_air = -1.0 * metre_per_second; }), "burn.relative_air_outside");
  EXPECT_EQ(key([](auto& x) { x.settings.loss = 0.29; }), "burn.loss_outside");
  EXPECT_EQ(key([](auto& x) { x.settings.loss = 3.01; }), "burn.loss_outside");
  EXPECT_EQ(key([](auto& x) { x.settings.loss = std::nan(""); }), "burn.loss_outside");
  EXPECT_EQ(key([](auto& x) { x.outside.dew_point = celsius(16.0); }), "air.dew_point_above_temperature");
  // Full sun on a dark balloon that is hardly warmer than the air: it needs no flame, and that is said.
  EXPECT_EQ(key([](auto& x) {
              x.inside_mean = celsius(21.0);
              x.settings.beam = 1000.0 * watt_per_square_metre;
              x.settings.solar_absorptivity = 0.95;
            }),
            "burn.sun_alone_holds");
}

TEST(LevelFlow, GoesWithTheBalloonsOwnLossInProportion) {
  Random random = seeded("LevelFlow.Loss");
  for (int i = 0; i < 200; ++i) {
    const air::MoistAir air = random_air(random);
    LevelFlowInputs in{air, air.temperature + random.uniform(30.0, 110.0) * kelvin, 2180.0 * cubic_metre, {}};
    const auto plain = level_flow(in);
    const auto plain_flux = envelope_flux(in);
    in.settings.loss = random.uniform(0.3, 3.0);
    const auto own = level_flow(in);
    const auto own_flux = envelope_flux(in);
    ASSERT_TRUE(plain && own && plain_flux && own_flux);
    const double loss = in.settings.loss;
    EXPECT_NEAR(own->flow / plain->flow, loss, 1e-12);
    EXPECT_NEAR(own->loss / plain->loss, loss, 1e-12);
    EXPECT_NEAR(own->flux / plain->flux, loss, 1e-12);
    EXPECT_NEAR(*own_flux / *plain_flux, loss, 1e-12);
    EXPECT_EQ(own->fabric, plain->fabric);
  }
}

TEST(LevelFlow, AnswersOverAllOfItsSettings) {
  Random random = seeded("LevelFlow.Total");
  int answered = 0;
  for (int i = 0; i < 2000; ++i) {
    const air::MoistAir air = random_air(random);
    HeatSettings s;
    s.area_factor = random.uniform(0.8, 1.5);
    s.emissivity = random.uniform();
    s.solar_absorptivity = random.uniform();
    s.beam = random.uniform(0.0, 1400.0) * watt_per_square_metre;
    s.relative_air = random.uniform(0.0, 20.0) * metre_per_second;
    s.cloud_fraction = random.uniform();
    s.efficiency = random.uniform(0.5, 1.0);
    s.entrainment = random.uniform(0.0, 100.0);
    s.inside_convection = random.uniform(0.05, 1.0);
    s.gas_emissivity = random.uniform();
    s.loss = random.uniform(0.3, 3.0);
    const auto flow = level_flow(
        {air, air.temperature + random.uniform(5.0, 150.0) * kelvin, random.uniform(100.0, 50'000.0) * cubic_metre, s});
    if (!flow) {
      EXPECT_EQ(flow.error().sentence.key, "burn.sun_alone_holds");
      continue;
    }
    ++answered;
    EXPECT_TRUE(std::isfinite(kg_h(flow->flow)));
    EXPECT_GT(kg_h(flow->flow), 0.0);
  }
  EXPECT_GT(answered, 1500);
}

TEST(InflationFuel, HeatsTheAirThatStaysAndPaysForTheMouth) {
  // 3.9 kg for 77,000 ft3 on a standard day at 82.4 C, and 30 %. Ours (regression: computed from the printed equation).
  const auto in = reference_case(77'000.0 * cubic_foot, celsius(15.0), standard_atmosphere, kReferenceLoad);
  EXPECT_NEAR(kg(inflation_fuel(in).value()), 1.3 * 3.93, 0.05);
  LevelFlowInputs colder = in;
  colder.outside.temperature = celsius(5.0);
  EXPECT_GT(inflation_fuel(colder).value(), inflation_fuel(in).value());
  colder.outside.temperature = in.inside_mean;
  EXPECT_EQ(inflation_fuel(colder).error().sentence.key, "burn.inside_excess_outside");
}

FlightFuelInputs flight(const air::AirColumn& column, Length above_field, Duration planned) {
  const Volume v = 77'000.0 * cubic_foot;
  return {.column = column,
          .highest = column.ground() + above_field,
          .carried = load_of(v, kReferenceLoad),
          .volume = v,
          .planned = planned};
}

TEST(FlightFuel, StandsBesideThePublishedRulesOfThumb) {
  const Mass per_gallon = propane::saturation_at(celsius(15.0)).value().liquid_density * us_gallon;
  const air::AirColumn column =
      standard_day(amsl(0.0 * metre), 1500.0 * metre, air::dew_point(8.0 * hectopascal).value());
  for (const Row& row : read_table("burn_sanity.csv")) {
    SCOPED_TRACE(row.text("id") + " " + row.where());
    const Volume v = row["volume_ft3"] * cubic_foot;
    const auto level = level_flow(reference_case(v, celsius(15.0), standard_atmosphere, kReferenceLoad)).value();
    const auto gallons = [&](Duration planned) {
      return flight_fuel(flight(column, 300.0 * metre, planned)).value().used / per_gallon;
    };
    const std::string quantity = row.text("quantity");
    const double got = quantity == "level_us_gal_h"        ? level.flow * hour / per_gallon
                       : quantity == "loss_kw"             ? level.loss.in(1000.0 * watt)
                       : quantity == "flight_us_gal_45min" ? gallons(45.0 * minute)
                       : quantity == "flight_us_gal_60min" ? gallons(60.0 * minute)
                       : quantity == "flight_us_gal_90min" ? gallons(90.0 * minute)
                                                           : std::nan("");
    ASSERT_TRUE(std::isfinite(got)) << quantity;
    const bool inside = row["low"] <= got && got <= row["high"];
    EXPECT_EQ(inside, row.text("hit") == "yes") << got;
    EXPECT_NE(row.has("why_missed"), inside) << "a miss needs its reason, and a hit none";
  }
}

TEST(FlightFuel, IsTheSumOfItsParts) {
  const air::AirColumn column = dawn({{150.0, 13.0}});
  const auto in = flight(column, 300.0 * metre, 60.0 * minute);
  const auto fuel = flight_fuel(in).value();
  EXPECT_EQ(fuel.climb_count, 3);
  EXPECT_NEAR(kg(fuel.used), kg(fuel.inflation + fuel.climbs + fuel.level + fuel.allowance), 1e-12);
  EXPECT_NEAR(kg(fuel.used_unlucky), 1.30 * kg(fuel.inflation) + 1.25 * kg(fuel.climbs + fuel.level + fuel.allowance),
              1e-12);
  EXPECT_NEAR(kg(fuel.level), kg(fuel.flow * hour), 1e-12);
  EXPECT_NEAR(kg(fuel.allowance), 0.15 * kg(fuel.level), 1e-12);
  EXPECT_NEAR(kg_h(fuel.flow_unlucky), 1.25 * kg_h(fuel.flow), 1e-12);
  for (const auto& [minutes, climbs] : std::vector<std::pair<double, int>>{
           {0.0, 1}, {1.0, 1}, {20.0, 1}, {20.1, 2}, {40.0, 2}, {60.0, 3}, {61.0, 4}, {90.0, 5}})
    EXPECT_EQ(flight_fuel(flight(column, 300.0 * metre, minutes * minute)).value().climb_count, climbs) << minutes;
}

TEST(FlightFuel, PaysNoInflationForAnEnvelopeThatIsHot) {
  const air::AirColumn column = dawn({{150.0, 13.0}});
  auto in = flight(column, 300.0 * metre, 60.0 * minute);
  const auto cold = flight_fuel(in).value();
  in.envelope_hot = true;
  const auto hot = flight_fuel(in).value();
  ASSERT_GT(kg(cold.inflation), 3.0);
  EXPECT_EQ(kg(hot.inflation), 0.0);
  EXPECT_NEAR(kg(cold.used - hot.used), kg(cold.inflation), 1e-12);
  EXPECT_NEAR(kg(cold.used_unlucky - hot.used_unlucky), 1.30 * kg(cold.inflation), 1e-12);
  EXPECT_EQ(hot.climbs, cold.climbs);
  EXPECT_EQ(hot.flow_unlucky, cold.flow_unlucky);
}

TEST(FlightFuel, CountsTheThirstiestHeightFlown) {
  const air::AirColumn column = dawn({{150.0, 13.0}, {600.0, 10.0}});
  const auto in = flight(column, 600.0 * metre, 60.0 * minute);
  const auto fuel = flight_fuel(in).value();
  double thirstiest = 0.0;
  for (int h = 0; h <= 600; ++h) {
    const auto air = column.at(column.ground() + h * metre).value().air;
    const auto mean = mean_temperature_needed({air, in.carried, in.volume}).value();
    thirstiest = std::max(thirstiest, kg_h(level_flow({air, mean, in.volume, {}}).value().flow));
  }
  EXPECT_LE(kg_h(fuel.flow), thirstiest + 1e-9);
  EXPECT_GE(kg_h(fuel.flow), 0.98 * thirstiest);
}

TEST(FlightFuel, ClimbsForNothingWhereTheInsideMayCoolByExpansionAlone) {
  // With c_p dT/T = V dp R / (p V), the dry adiabat of the inside, a climb needs no heat; with an even inside it needs
  // that of 12 K per kilometre. Ours, from the first law for an open envelope.
  const air::AirColumn column = standard_day(amsl(0.0 * metre));
  auto in = flight(column, 1000.0 * metre, 20.0 * minute);
  const auto fuel = flight_fuel(in).value();
  const auto at = [&](double h) {
    const auto air = column.at(amsl(h * metre)).value().air;
    return std::pair{air, kelvins(mean_temperature_needed({air, in.carried, in.volume}).value())};
  };
  const auto [low, low_k] = at(0.0);
  const auto [high, high_k] = at(1000.0);
  const double p_mean = 0.5 * (low.pressure + high.pressure).in(pascal), v = in.volume.in(cubic_metre);
  const double mass = p_mean * v / (287.053 * 0.5 * (low_k + high_k));
  const double cooled_k = 12.0 + (high_k - low_k);
  const double heat_mj = mass * 1006.0 * cooled_k * 1e-6;
  const double net_mj_kg = 0.9 * 46.0 - 20.0 * 1006.0 * 33.0 * 1e-6;
  EXPECT_NEAR(kg(fuel.climbs), heat_mj / net_mj_kg, 0.03 * heat_mj / net_mj_kg);

  in.highest = column.ground();
  EXPECT_EQ(kg(flight_fuel(in).value().climbs), 0.0);
}

TEST(FlightFuel, NeverNeedsLessForMoreTimeHeightOrLoad) {
  Random random = seeded("FlightFuel.Monotonic");
  for (int i = 0; i < 40; ++i) {
    const air::AirColumn column =
        dawn({{random.uniform(60.0, 250.0), random.uniform(-1.0, 14.0)}, {700.0, random.uniform(-4.0, 8.0)}});
    auto in =
        flight(column, std::floor(random.uniform(2.0, 30.0)) * 20.0 * metre, random.uniform(20.0, 120.0) * minute);
    const Mass used = flight_fuel(in).value().used;
    auto longer = in;
    longer.planned = in.planned + 10.0 * minute;
    EXPECT_GT(flight_fuel(longer).value().used, used);
    FlightFuelInputs higher{column, in.highest + 40.0 * metre, in.carried, in.volume, in.planned};
    EXPECT_GE(flight_fuel(higher).value().used, used);
    FlightFuelInputs heavier{column, in.highest, in.carried + 30.0 * kilogram, in.volume, in.planned};
    EXPECT_GT(flight_fuel(heavier).value().used, used);
  }
}

TEST(FlightFuel, RefusesWhatItDoesNotCover) {
  const air::AirColumn column = dawn({}, 500.0);
  const auto key = [&](const std::function<void(FlightFuelInputs&)>& change) {
    auto in = flight(column, 300.0 * metre, 60.0 * minute);
    change(in);
    const auto fuel = flight_fuel(in);
    return fuel ? std::string{"a value"} : fuel.error().sentence.key;
  };
  EXPECT_EQ(key([](auto&) {}), "a value");
  EXPECT_EQ(key([](auto& x) { x.highest = amsl(900.0 * metre); }), "burn.highest_outside");
  EXPECT_EQ(key([](auto& x) { x.planned = -1.0 * second; }), "burn.planned_outside");
  EXPECT_EQ(key([](auto& x) { x.planned = 25.0 * hour; }), "burn.planned_outside");
  EXPECT_EQ(key([](auto& x) { x.allowance_fraction = -0.1; }), "burn.allowance_outside");
  EXPECT_EQ(key([](auto& x) { x.carried = 3000.0 * kilogram; }), "lift.load_outside");
  EXPECT_EQ(key([](auto& x) { x.carried = 20.0 * kilogram; }), "burn.inside_excess_outside");
}

FlightFuel wanting(double used_unlucky_kg, double flow_unlucky_kg_h = 36.0) {
  FlightFuel fuel;
  fuel.used_unlucky = used_unlucky_kg * kilogram;
  fuel.flow_unlucky = flow_unlucky_kg_h * kilogram_per_hour;
  return fuel;
}

CylinderFuel cylinder(std::string id, std::string group, double usable_kg) {
  return {std::move(id), std::move(group), (usable_kg + 1.0) * kilogram, usable_kg * kilogram};
}

TEST(ReservesAtLanding, DrawsTheFullestSidesUntilTheyAreLevel) {
  // Sides of 40, 30 and 10 kg; 45 kg drawn: 40 and 30 come down to 12.5, and 10 is left alone.
  const auto r = reserves_at_landing(
      {cylinder("1", "A", 25.0), cylinder("2", "B", 30.0), cylinder("3", "A", 15.0), cylinder("4", "4", 10.0)},
      wanting(45.0));
  ASSERT_EQ(r.sides.size(), 3u);
  EXPECT_EQ(r.sides[0].group, "A");
  EXPECT_EQ(r.sides[1].group, "B");
  EXPECT_EQ(r.sides[2].group, "4");
  EXPECT_NEAR(kg(r.sides[0].left), 12.5, 1e-12);
  EXPECT_NEAR(kg(r.sides[1].left), 12.5, 1e-12);
  EXPECT_NEAR(kg(r.sides[2].left), 10.0, 1e-12);
  EXPECT_EQ(kg(r.sides[2].drawn), 0.0);
  EXPECT_NEAR(r.smallest_side.in(minute), 10.0 / 36.0 * 60.0, 1e-9);
  EXPECT_EQ(kg(r.short_of), 0.0);
  // Within side A in proportion: 25 and 15 of 40.
  EXPECT_NEAR(kg(r.cylinders[0].drawn), 27.5 * 25.0 / 40.0, 1e-12);
  EXPECT_NEAR(kg(r.cylinders[2].drawn), 27.5 * 15.0 / 40.0, 1e-12);
  EXPECT_EQ(kg(r.cylinders[0].liquid), 26.0);
}

TEST(ReservesAtLanding, SaysHowMuchIsMissing) {
  const auto r = reserves_at_landing({cylinder("1", "A", 12.0), cylinder("2", "B", 8.0)}, wanting(26.5));
  EXPECT_NEAR(kg(r.short_of), 6.5, 1e-12);
  EXPECT_EQ(r.smallest_side, Duration{});
  for (const SideReserve& side : r.sides) {
    EXPECT_EQ(kg(side.left), 0.0);
    EXPECT_EQ(side.reserve, Duration{});
  }
  for (const CylinderDraw& c : r.cylinders) EXPECT_EQ(c.drawn, c.usable);
}

TEST(ReservesAtLanding, ShowsNoReserveWhereNoneIsKnown) {
  EXPECT_EQ(reserves_at_landing({}, wanting(10.0)).smallest_side, Duration{});
  EXPECT_EQ(kg(reserves_at_landing({}, wanting(10.0)).short_of), 10.0);
  const auto no_flow = reserves_at_landing({cylinder("1", "A", 30.0)}, wanting(10.0, 0.0));
  EXPECT_EQ(no_flow.smallest_side, Duration{});
  EXPECT_NEAR(kg(no_flow.sides[0].left), 20.0, 1e-12);
}

TEST(ReservesAtLanding, TakesACylinderWithoutAGroupAsASideOfItsOwn) {
  const auto r = reserves_at_landing({cylinder("1", "", 20.0), cylinder("2", "", 20.0)}, wanting(10.0));
  ASSERT_EQ(r.sides.size(), 2u);
  EXPECT_EQ(r.sides[0].group, "1");
  EXPECT_EQ(r.sides[1].group, "2");
}

TEST(ReservesAtLanding, LosesNoFuelAndKeepsTheSmallestSideAsFullAsItCan) {
  Random random = seeded("ReservesAtLanding.Laws");
  const char* const groups[] = {"A", "B", "C", ""};
  for (int i = 0; i < 500; ++i) {
    std::vector<CylinderFuel> cylinders;
    const auto count = 1 + random.below(6);
    double all_kg = 0.0;
    for (std::uint64_t k = 0; k < count; ++k) {
      // Now and then empty, and now and then less in it than stays behind.
      const double usable_kg = random.uniform() < 0.2 ? random.uniform(-2.0, 0.0) : random.uniform(0.0, 40.0);
      cylinders.push_back(cylinder(std::to_string(k), groups[random.below(4)], usable_kg));
      all_kg += std::max(0.0, usable_kg);
    }
    const double demand_kg = random.uniform(0.0, 120.0);
    const auto r = reserves_at_landing(cylinders, wanting(demand_kg));
    double drawn_kg = 0.0, level_kg = 0.0, least_drawn_left_kg = 1e9;
    for (const SideReserve& side : r.sides) {
      EXPECT_NEAR(kg(side.drawn + side.left), kg(side.usable), 1e-9);
      EXPECT_GE(kg(side.left), 0.0);
      EXPECT_GE(kg(side.drawn), 0.0);
      EXPECT_LE(r.smallest_side, side.reserve);
      drawn_kg += kg(side.drawn);
      if (kg(side.drawn) > 1e-9) {
        level_kg = std::max(level_kg, kg(side.left));
        least_drawn_left_kg = std::min(least_drawn_left_kg, kg(side.left));
      }
      double of_cylinders_kg = 0.0;
      for (const CylinderDraw& c : r.cylinders)
        if (c.group == side.group) of_cylinders_kg += kg(c.drawn);
      EXPECT_NEAR(of_cylinders_kg, kg(side.drawn), 1e-9);
    }
    EXPECT_NEAR(drawn_kg, std::min(demand_kg, all_kg), 1e-9);
    EXPECT_NEAR(kg(r.short_of), std::max(0.0, demand_kg - all_kg), 1e-9);
    // All sides that were drawn from stand level, and none that was left alone stands above them.
    if (drawn_kg > 1e-6) {
      EXPECT_NEAR(least_drawn_left_kg, level_kg, 1e-9);
      for (const SideReserve& side : r.sides) {
        EXPECT_LE(kg(side.left), level_kg + 1e-9);
      }
    }
    for (const CylinderDraw& c : r.cylinders) {
      EXPECT_NEAR(kg(c.drawn + c.left), kg(c.usable), 1e-9);
    }
  }
}

TEST(BurnerOutput, FallsAsTheHandbookSays) {
  for (const Row& row : read_table("burner_output.csv")) {
    SCOPED_TRACE(row.where());
    const auto left = burner_output_left(PressureAltitude::at(row["pressure_altitude_ft"] * foot));
    ASSERT_TRUE(left);
    EXPECT_NEAR(*left, row["output_left"], row["tolerance"]);
  }
}

TEST(BurnerOutput, IsNeverMoreThanAtSeaLevelAndHasADomain) {
  EXPECT_EQ(*burner_output_left(PressureAltitude::at(-1000.0 * foot)), 1.0);
  EXPECT_EQ(burner_output_left(PressureAltitude::at(21'000.0 * foot)).error().code, Errc::out_of_range);
}

}  // namespace
}  // namespace pappus::balloon
