#include "desk/cylinder_answer.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/math.hpp"
#include "core/propane/mix.hpp"
#include "desk/cylinder_outlook.hpp"
#include "tests/support/shelf.hpp"
#include "tests/support/table.hpp"

namespace pappus::desk {
namespace {

using testing::Shelf;
using testing::Still;

constexpr Pressure kPsi = pound_per_square_inch;
GaugePressure psi(double p) { return GaugePressure::at(p * kPsi); }

// One balloon file, if any.
std::string balloon_with(const std::string& burner, const std::string& cylinder) {
  return "name = \"Least\"\nserial = \"K-17\"\n[envelope]\nvolume = \"2180m3\"\nmass = \"90kg\"\n"
         "[basket]\nmass = \"60kg\"\n[[burner]]\nmass = \"18kg\"\n" +
         burner + "[[cylinder]]\nid = \"left\"\nshell = \"18.75gal\"\nlevel_fill = \"15gal\"\ntare = \"18kg\"\n" +
         cylinder;
}

CylinderQuestion bare() {
  return {.shell = 18.75 * us_gallon, .level_fill = 15.0 * us_gallon, .tare = 18.0 * kilogram, .gauge_span = 0.35};
}
CylinderQuestion filled_at(double fill_c, double now_c) {
  CylinderQuestion q = bare();
  q.filled = propane::Filled{celsius(fill_c), celsius(fill_c)};
  q.temperature = celsius(now_c);
  return q;
}
Parsed<CylinderAnswer> asked(const CylinderQuestion& q, const std::string& balloon = {}) {
  const Shelf shelf{{{"least.toml", balloon}}};
  return answer(q, shelf, Still{}, nullptr);
}
CylinderAnswer told(const CylinderQuestion& q, const std::string& balloon = {}) {
  auto parsed = asked(q, balloon);
  EXPECT_TRUE(parsed.value) << (parsed.issues.empty() ? "" : parsed.issues.front().sentence.key);
  return parsed.value ? *parsed.value : CylinderAnswer{};
}
std::string refusal(const CylinderQuestion& q) {
  const auto parsed = asked(q);
  EXPECT_FALSE(parsed.value);
  return parsed.issues.empty() ? "" : parsed.issues.front().sentence.key;
}
const Sentence* find(const std::vector<Sentence>& in, std::string_view key) {
  const auto found = std::find_if(in.begin(), in.end(), [&](const Sentence& s) { return s.key == key; });
  return found == in.end() ? nullptr : &*found;
}
double argument(const Sentence& of, std::string_view name) {
  for (const Argument& a : of.arguments)
    if (a.name == name) return std::get<Measure>(a.value).si;
  ADD_FAILURE() << of.key << " has no " << name;
  return 0.0;
}
double gallons(Volume v) { return v.in(us_gallon); }

// --- stories of the field

double measured(const CylinderAnswer& a, const std::string& what) {
  if (what == "low_gal") return gallons(a.liquid_volume_low);
  if (what == "high_gal") return gallons(a.liquid_volume_high);
  if (what == "blind_gal") return gallons(a.liquid_volume_high - a.liquid_volume_low);
  if (what == "next_weigh") return a.next_test == propane::NextTest::weigh;
  if (what == "next_weigh_or_none")
    return a.next_test == propane::NextTest::weigh || a.next_test == propane::NextTest::none;
  if (what == "plate") return find(a.reasons, "account.plate") != nullptr;
  const Sentence* under = find(a.reasons, "account.under_tube");
  if (what == "under_gal" && under != nullptr) return gallons(argument(*under, "under") * cubic_metre);
  ADD_FAILURE() << "nothing told of " << what;
  return 0.0;
}

TEST(CylinderAnswer, TellsTheStoriesOfTheField) {
  for (const testing::Row& row : testing::read_table("cylinder_stories.csv")) {
    SCOPED_TRACE(row.text("name") + ", " + row.text("what") + ": " + row.text("source"));
    CylinderQuestion q = bare();
    q.shell = row["shell_gal"] * us_gallon;
    q.temperature = celsius(row["temperature_c"]);
    if (!row.text("filled_c").empty()) q.filled = propane::Filled{celsius(row["filled_c"]), celsius(row["filled_c"])};
    if (!row.text("flown_min").empty()) q.flown_since = row["flown_min"] * minute;
    if (row.text("dial") == "top") q.dial = propane::Dial{.at = propane::Dial::At::top};
    if (!row.text("valve").empty()) q.valve = named<propane::Valve>(row.text("valve"));
    EXPECT_NEAR(measured(told(q), row.text("what")), row["value"], row["tolerance"]);
  }
}

// --- pressure in words

TEST(CylinderAnswer, JudgesAPressureThatWasRead) {
  for (const testing::Row& row : testing::read_table("fuel_pressure_judged.csv")) {
    SCOPED_TRACE(row.where() + ": " + row.text("source"));
    CylinderQuestion q = bare();
    q.gauge_pressure = psi(row["gauge_psi"]);
    std::string balloon;
    if (!row.text("manual_low_psi").empty()) {
      balloon = balloon_with(
          "pressure = [\"" + row.text("manual_low_psi") + "psi\", \"" + row.text("manual_high_psi") + "psi\"]\n", "");
      q = {.balloon_file = "least.toml", .cylinder = "left", .gauge_pressure = q.gauge_pressure};
    }
    EXPECT_EQ(name_of(told(q, balloon).pressure_state), row.text("state"));
  }
}

TEST(CylinderAnswer, APressureThatNothingTellsIsNotJudged) {
  EXPECT_EQ(told(bare()).pressure_state, sheet::LimitState::not_known);
}

TEST(CylinderAnswer, AStatedMixNarrowsPressureAndTemperature) {
  CylinderQuestion q = bare();
  q.gauge_pressure = psi(80.0);
  const CylinderAnswer any = told(q);
  q.mix = propane::Mix{.propane = 0.92, .propylene = 0.05, .ethane = 0.03};
  const CylinderAnswer stated = told(q);
  EXPECT_LT(stated.temperature_high - stated.temperature_low, any.temperature_high - any.temperature_low);
  const auto truth = propane::liquid_temperature(psi(80.0), standard_atmosphere, q.mix).value();
  EXPECT_EQ(stated.temperature_low, truth.low);
}

// --- draws by minutes

TEST(CylinderAnswer, MinutesDrawWhatTheFlowSays) {
  const auto by_mass =
      drawn_by_minutes(20.0 * minute, text::FuelFlow{30.0 * kilogram_per_hour}, celsius(10.0), celsius(10.0));
  EXPECT_NEAR(by_mass->mass.in(kilogram), 10.0, 1e-12);
  EXPECT_NEAR(by_mass->error, 0.25, 1e-12);
  const auto by_volume =
      drawn_by_minutes(20.0 * minute, text::FuelFlow{15.0 * us_gallon / hour}, celsius(0.0), celsius(20.0));
  const auto volume = drawn_by_volume(5.0 * us_gallon, celsius(0.0), celsius(20.0));
  EXPECT_NEAR(by_volume->mass / volume->mass, 1.0, 1e-12);
  EXPECT_NEAR(by_volume->error, volume->error + 0.20, 1e-12);
  CylinderQuestion q = filled_at(15.0, 10.0);
  const CylinderAnswer full = told(q);
  q.burned = {20.0 * minute};
  EXPECT_EQ(refusal(q), "issue.flow_needed");
  q.flow = text::FuelFlow{30.0 * kilogram_per_hour};
  const CylinderAnswer flown = told(q);
  EXPECT_NEAR((full.mass_low - flown.mass_low).in(kilogram), 12.5, 1e-9);
  EXPECT_NEAR((full.mass_high - flown.mass_high).in(kilogram), 7.5, 1e-9);
}

TEST(CylinderAnswer, ADrawWithoutItsFillIsLeftOutAndTold) {
  CylinderQuestion q = bare();
  q.drawn = {3.0 * us_gallon};
  EXPECT_NE(find(told(q).notes, "cylinder.drawn_from_nothing"), nullptr);
}

// --- the coming night

TEST(CylinderAnswer, TheNightCoolsItByTheLumpsOwnLaw) {
  CylinderQuestion q = filled_at(28.0, 20.0);
  q.air = {{.air = celsius(2.0), .until = 9.0 * hour}};
  const CylinderAnswer a = told(q);
  EXPECT_NEAR(in_celsius(*a.temperature_then), 2.0 + 18.0 * std::exp(-9.0 / 2.6), 1e-9);
  EXPECT_LE(*a.temperature_then_low, *a.temperature_then);
  EXPECT_LE(*a.temperature_then, *a.temperature_then_high);
  const auto band = propane::pressure_band(std::nullopt, *a.temperature_then_high).value();
  EXPECT_EQ(a.gauge_pressure_then_high->from_origin(), band.high - standard_atmosphere);
  EXPECT_LE(*a.gauge_pressure_then_low, *a.gauge_pressure_then);
  EXPECT_LE(*a.gauge_pressure_then, *a.gauge_pressure_then_high);
  // Two pieces of the same air are one.
  q.air = {{.air = celsius(2.0), .until = 3.0 * hour}, {.air = celsius(2.0), .until = 9.0 * hour}};
  EXPECT_NEAR((*told(q).temperature_then - *a.temperature_then).in(kelvin), 0.0, 1e-9);
  // Air that changes in between: one law after the other.
  q.air.front().air = celsius(8.0);
  const double between = 8.0 + 12.0 * std::exp(-3.0 / 2.6);
  EXPECT_NEAR(in_celsius(*told(q).temperature_then), 2.0 + (between - 2.0) * std::exp(-6.0 / 2.6), 0.01);
}

TEST(CylinderAnswer, TheValveOfAWarmFillIsDryInTheMorning) {
  CylinderQuestion q = filled_at(28.0, 28.0);
  q.air = {{.air = celsius(4.0), .until = 40.0 * hour}};
  const CylinderAnswer a = told(q);
  const Sentence* under = find(a.reasons, "cylinder.then_under");
  ASSERT_NE(under, nullptr);
  EXPECT_NEAR(gallons(argument(*under, "under") * cubic_metre), 0.96, 0.03);  // as in cylinder_stories.csv
}

TEST(CylinderAnswer, TheNightNeedsAWarmthToStartFrom) {
  CylinderQuestion q = bare();
  q.air = {{.air = celsius(2.0), .until = 9.0 * hour}};
  EXPECT_EQ(refusal(q), "issue.then_temperature");
  q.gauge_pressure = psi(80.0);
  EXPECT_TRUE(told(q).temperature_then);
  q.charged = true;
  EXPECT_EQ(refusal(q), "issue.then_charged");
}

TEST(CylinderAnswer, NoPressureIsToldWhereLiquidMayFillTheShell) {
  CylinderQuestion q = filled_at(0.0, 0.0);
  q.level_fill = 17.0 * us_gallon;
  q.air = {{.air = celsius(49.0), .until = 40.0 * hour}};
  const CylinderAnswer a = told(q);
  EXPECT_NE(find(a.cautions, "cylinder.full_then"), nullptr);
  EXPECT_NE(find(a.cautions, "cylinder.margin_none"), nullptr);
  EXPECT_FALSE(a.gauge_pressure_then_low || a.gauge_pressure_then || a.gauge_pressure_then_high);
  EXPECT_NEAR(gallons(*a.liquid_volume_then_high), 18.75, 1e-9);
  // A charge in a cylinder of unknown contents may be squeezed to nothing.
  q = bare();
  q.temperature = celsius(5.0);
  q.charge = 40.0 * kPsi;
  q.air = {{.air = celsius(30.0), .until = 9.0 * hour}};
  EXPECT_NE(find(told(q).cautions, "cylinder.full_then"), nullptr);
  EXPECT_FALSE(told(q).gauge_pressure_then);
}

// --- the warming day

TEST(CylinderAnswer, TellsWhichComesFirstAsTheDayWarms) {
  CylinderQuestion q = filled_at(15.0, 15.0);
  q.relief = psi(200.0);
  CylinderAnswer a = told(q);
  EXPECT_NE(find(a.reasons, "cylinder.relief_first"), nullptr);
  EXPECT_NEAR((*a.margin - (*a.relief_temperature - celsius(16.0))).in(kelvin), 0.0, 1e-9);
  q.air = {{.air = celsius(30.0), .until = 5.0 * hour}};
  EXPECT_NEAR((*told(q).margin_air - (*a.relief_temperature - celsius(30.0))).in(kelvin), 0.0, 1e-9);
  q.air.clear();
  // A cold fill to nearly the top of its shell fills it first.
  q = filled_at(0.0, 0.0);
  q.level_fill = 17.0 * us_gallon;
  q.relief = psi(375.0);
  a = told(q);
  EXPECT_NE(find(a.reasons, "cylinder.full_first"), nullptr);
  EXPECT_LT(*a.liquid_full_temperature, celsius(50.0));
  EXPECT_NE(find(a.cautions, "cylinder.full_below"), nullptr);
  EXPECT_NEAR((*a.margin - (*a.liquid_full_temperature - a.temperature_high)).in(kelvin), 0.0, 1e-9);
}

TEST(CylinderAnswer, AnUnknownCylinderHasNoMarginToShow) {
  CylinderQuestion q = bare();
  q.temperature = celsius(10.0);
  q.relief = psi(375.0);
  const CylinderAnswer a = told(q);
  EXPECT_FALSE(a.margin);
  EXPECT_NE(find(a.cautions, "cylinder.full_not_excluded"), nullptr);
}

// --- a charge

TEST(CylinderAnswer, AChargeFadesAsLiquidGoesAndShowsOnTheGauge) {
  CylinderQuestion q = filled_at(10.0, 5.0);
  q.relief = psi(375.0);
  const CylinderAnswer plain = told(q);
  q.charge = 40.0 * kPsi;
  const CylinderAnswer a = told(q);
  EXPECT_NEAR(a.charge_now_high->in(kPsi), 40.0, 1e-9);
  EXPECT_LT(*a.charge_now_low, *a.charge_now_high);
  EXPECT_LT(*a.charge_half_high, *a.charge_now_high);
  EXPECT_LT(*a.charge_end_high, *a.charge_half_high);
  EXPECT_LT(*a.charge_end_low, *a.charge_half_low);
  EXPECT_NEAR((a.gauge_pressure_high - plain.gauge_pressure_high).in(kPsi), 40.0, 1e-9);
  EXPECT_LT(*a.relief_temperature, *plain.relief_temperature);
  EXPECT_NE(find(a.cautions, "cylinder.charge_read_again"), nullptr);
  EXPECT_NE(find(a.cautions, "cylinder.charge_no_vapour_pilot"), nullptr);
  // Drawn since: less is left now than was put on.
  q.charged_with = 14.0 * us_gallon;
  q.drawn = {7.0 * us_gallon};
  EXPECT_LT(*told(q).charge_now_high, *a.charge_now_high);
  q.temperature.reset();
  EXPECT_EQ(refusal(q), "issue.charge_temperature");
  q.charge.reset();
  EXPECT_EQ(refusal(q), "issue.charge_needed");
}

TEST(CylinderAnswer, AChargeAndAVapourPilotLightAreNotTogether) {
  CylinderQuestion q{.balloon_file = "least.toml", .cylinder = "left", .temperature = celsius(5.0)};
  q.charge = 40.0 * kPsi;
  const auto with = [&](const char* pilot) {
    return told(q, balloon_with("pilot_light = \"" + std::string(pilot) + "\"\n", "relief = \"375psi\"\n"));
  };
  EXPECT_NE(find(with("vapour").contradictions, "cylinder.charge_vapour_pilot"), nullptr);
  EXPECT_EQ(find(with("liquid").contradictions, "cylinder.charge_vapour_pilot"), nullptr);
  EXPECT_TRUE(with("liquid").relief_temperature);
}

}  // namespace
}  // namespace pappus::desk
