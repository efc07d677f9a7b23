#include "core/base/sentence.hpp"

#include <gtest/gtest.h>

namespace pappus {
namespace {

TEST(Sentence, IsAKeyWithNamedTypedArguments) {
  const Sentence s = say("lift.margin", {{"mass", measure::of(40.0 * kilogram)}, {"who", Term{"word.pilot"}}});
  EXPECT_EQ(s.key, "lift.margin");
  ASSERT_EQ(s.arguments.size(), 2u);
  EXPECT_EQ(std::get<Measure>(s.arguments[0].value).si, 40.0);
  EXPECT_EQ(std::get<Measure>(s.arguments[0].value).kind, MeasureKind::mass);
  EXPECT_EQ(std::get<Term>(s.arguments[1].value).key, "word.pilot");
}

TEST(Sentence, TellsVerbatimTextFromAWordToBeTranslated) {
  const Argument typed{"x", std::string{"word.pilot"}}, term{"x", Term{"word.pilot"}};
  EXPECT_FALSE(typed == term);
  EXPECT_TRUE(std::holds_alternative<std::string>(typed.value));
}

TEST(Sentence, IsEqualOnlyWithEqualArguments) {
  const auto with = [](Length l) { return say("a.b", {{"l", measure::height(l)}}); };
  EXPECT_EQ(with(1.0 * metre), with(1.0 * metre));
  EXPECT_FALSE(with(1.0 * metre) == with(2.0 * metre));
  EXPECT_FALSE(say("a.b") == say("a.c"));
}

TEST(Measure, KeepsTheSiValueAndTheKind) {
  EXPECT_EQ(measure::of(amsl(1000.0 * foot)), (Measure{304.8, MeasureKind::altitude}));
  EXPECT_EQ(measure::of(agl(100.0 * metre)), (Measure{100.0, MeasureKind::height}));
  EXPECT_EQ(measure::of(GaugePressure::at(50.0 * kilopascal)), (Measure{50'000.0, MeasureKind::pressure_fuel}));
  EXPECT_EQ(measure::of(celsius(0.0)), (Measure{273.15, MeasureKind::temperature}));
  EXPECT_EQ(measure::of(TrueBearing::at(-10.0 * degree)), (Measure{350.0, MeasureKind::bearing_true}));
  EXPECT_FALSE(measure::gas(1.0 * cubic_metre) == measure::liquid(1.0 * cubic_metre));
}

TEST(Measure, HasAnSiUnitForEveryKind) {
  // The unit names end keys of the JSON contract ("_kg", "_pa"), so that they are fixed here.
  EXPECT_EQ(si_unit_name(MeasureKind::mass), "kg");
  EXPECT_EQ(si_unit_name(MeasureKind::volume_liquid), "m3");
  EXPECT_EQ(si_unit_name(MeasureKind::altitude), "m");
  EXPECT_EQ(si_unit_name(MeasureKind::speed_wind), "m/s");
  EXPECT_EQ(si_unit_name(MeasureKind::pressure_fuel), "Pa");
  EXPECT_EQ(si_unit_name(MeasureKind::temperature), "K");
  EXPECT_EQ(si_unit_name(MeasureKind::temperature_delta), "K");
  EXPECT_EQ(si_unit_name(MeasureKind::duration), "s");
  EXPECT_EQ(si_unit_name(MeasureKind::bearing_magnetic), "deg");
  EXPECT_EQ(si_unit_name(MeasureKind::density), "kg/m3");
  EXPECT_EQ(si_unit_name(MeasureKind::mass_flow), "kg/s");
  EXPECT_EQ(si_unit_name(MeasureKind::power), "W");
  EXPECT_EQ(si_unit_name(MeasureKind::specific_energy), "J/kg");
  EXPECT_EQ(si_unit_name(MeasureKind::ratio), "1");
  for (int k = 0; k <= static_cast<int>(MeasureKind::specific_energy); ++k)
    EXPECT_FALSE(si_unit_name(static_cast<MeasureKind>(k)).empty()) << k;
}

}  // namespace
}  // namespace pappus
