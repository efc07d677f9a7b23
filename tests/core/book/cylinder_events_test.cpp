#include "core/book/cylinder_events.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/random.hpp"
#include "tests/support/propane_eos.hpp"
#include "tests/support/seeded.hpp"

namespace pappus::book {
namespace {

namespace eos = testing::propane_eos;
using propane::Valve;

const propane::Vessel kVessel{.shell = 18.75 * us_gallon, .level_fill = 15.0 * us_gallon, .tare = 18.0 * kilogram};

Instant hours(double h) { return Instant::from_unix_milliseconds(static_cast<std::int64_t>(h * 3'600'000.0)); }
LiquidBand at(double t_c) { return {celsius(t_c), celsius(t_c)}; }
LiquidBand between(double low_c, double high_c) { return {celsius(low_c), celsius(high_c)}; }
FillEvent fill(LiquidBand liquid) { return {.cylinder = "1", .liquid = liquid}; }
FlightEvent flight(std::vector<CylinderUse> open, Duration aloft = 52.0 * minute) {
  return {.aloft = aloft, .open = std::move(open)};
}
CylinderUse drawn(double kg, double error = 0.25) { return {.cylinder = "1", .drawn = kg * kilogram, .error = error}; }
CylinderUse unnoted() { return {.cylinder = "1"}; }
LevelTestEvent test(Valve valve, LiquidBand liquid) { return {.cylinder = "1", .valve = valve, .liquid = liquid}; }

class Told {
 public:
  template <class E>
  Told& then(E what) {
    events.push_back({.number = static_cast<std::int64_t>(events.size()) + 1,
                      .happened = hours(static_cast<double>(events.size())),
                      .what = std::move(what)});
    return *this;
  }
  [[nodiscard]] CylinderMemory now() const { return remembered(events, "1", hours(1e4)); }
  std::vector<CylinderEvent> events;
};

bool same(const CylinderMemory& a, const CylinderMemory& b) {
  const auto& p = a.evidence;
  const auto& q = b.evidence;
  if (p.filled.has_value() != q.filled.has_value() || p.drawn.size() != q.drawn.size()) return false;
  if (p.filled && (p.filled->coldest != q.filled->coldest || p.filled->warmest != q.filled->warmest ||
                   p.filled->weighed != q.filled->weighed))
    return false;
  for (std::size_t i = 0; i < p.drawn.size(); ++i)
    if (p.drawn[i].mass != q.drawn[i].mass || p.drawn[i].error != q.drawn[i].error) return false;
  return p.used_since == q.used_since && a.used_not_refilled == b.used_not_refilled && a.flown_since == b.flown_since &&
         a.flights_since == b.flights_since && a.proof == b.proof && a.last_proof == b.last_proof &&
         a.last_change == b.last_change;
}

TEST(CylinderEvents, NothingOnRecordIsNothingKnown) {
  const CylinderMemory m = Told{}.now();
  EXPECT_FALSE(m.evidence.filled || m.evidence.used_since || m.used_not_refilled || m.proof || m.last_proof);
  EXPECT_FALSE(m.last_change);
}

TEST(CylinderEvents, AFillIsTheBaseAndNotedDrawsCount) {
  const CylinderMemory m = Told{}.then(fill(between(10, 15))).then(flight({drawn(9)})).then(flight({drawn(3)})).now();
  ASSERT_TRUE(m.evidence.filled);
  EXPECT_EQ(m.evidence.filled->coldest, celsius(10));
  EXPECT_EQ(m.evidence.filled->warmest, celsius(15));
  ASSERT_EQ(m.evidence.drawn.size(), 2u);
  EXPECT_EQ(m.evidence.drawn[0].mass, 9.0 * kilogram);
  EXPECT_EQ(m.evidence.drawn[1].error, 0.25);
  EXPECT_FALSE(m.evidence.used_since);
  EXPECT_TRUE(m.used_not_refilled);
  EXPECT_EQ(m.flights_since, 2);
  EXPECT_NEAR(m.flown_since.in(minute), 104.0, 1e-9);
  EXPECT_EQ(m.proof, Proof::fill);
  EXPECT_EQ(m.last_proof, hours(0));
  EXPECT_EQ(m.last_change, hours(2));
}

TEST(CylinderEvents, AFlightThatNobodyNotedLeavesTheAmountOpen) {
  const CylinderMemory m = Told{}.then(fill(at(12))).then(flight({unnoted()})).now();
  EXPECT_TRUE(m.evidence.used_since);
  EXPECT_TRUE(m.used_not_refilled);
  const auto a = propane::account(kVessel, m.evidence).value();
  EXPECT_LT(a.liquid_low.in(litre), 0.01);
  EXPECT_FALSE(a.proven_full);
}

TEST(CylinderEvents, AFlightWithAnotherCylinderOpenIsNoUse) {
  const CylinderMemory m =
      Told{}.then(fill(at(12))).then(flight({{.cylinder = "2"}})).then(FillEvent{"2", at(3)}).now();
  EXPECT_FALSE(m.evidence.used_since || m.used_not_refilled);
  EXPECT_EQ(m.last_change, hours(0));
  EXPECT_EQ(m.evidence.filled->coldest, celsius(12));
}

TEST(CylinderEvents, AWeighingSettlesIt) {
  const CylinderMemory m =
      Told{}.then(fill(at(12))).then(flight({unnoted()})).then(WeighingEvent{"1", 41.2 * kilogram}).now();
  EXPECT_FALSE(m.evidence.used_since || m.used_not_refilled);
  EXPECT_EQ(m.proof, Proof::weighing);
  EXPECT_EQ(m.flights_since, 0);
  propane::Evidence evidence = m.evidence;
  evidence.temperature = celsius(4);  // with nothing drawn and a temperature, a level fill would be reasoned about
  const auto a = propane::account(kVessel, evidence).value();
  EXPECT_NEAR(a.mass_low.in(kilogram), 22.9, 1e-9);
  EXPECT_NEAR(a.mass_high.in(kilogram), 23.5, 1e-9);
  for (const Sentence& reason : a.reasons) EXPECT_NE(reason.key, "account.under_tube");
}

TEST(CylinderEvents, AFillByWeightNeedsNoTemperature) {
  const CylinderMemory m = Told{}.then(FillEvent{.cylinder = "1", .weighed = 46.0 * kilogram}).now();
  EXPECT_NEAR(propane::account(kVessel, m.evidence)->mass_best.in(kilogram), 28.0, 1e-9);
  EXPECT_EQ(m.proof, Proof::fill);
}

TEST(CylinderEvents, LiquidAtTheValveAfterUseIsANewBase) {
  const CylinderMemory m = Told{}.then(fill(at(12))).then(flight({unnoted()})).then(test(Valve::liquid, at(8))).now();
  EXPECT_FALSE(m.evidence.used_since || m.used_not_refilled);
  EXPECT_EQ(m.proof, Proof::level_test);
  EXPECT_EQ(m.last_proof, hours(2));
  // At least a level fill at 8 C; at most one from a cold evening that nobody wrote down.
  EXPECT_EQ(m.evidence.filled->warmest, celsius(8));
  EXPECT_EQ(m.evidence.filled->coldest, celsius(-20));
}

TEST(CylinderEvents, LiquidAtTheValveOfAnUntouchedFillKeepsIt) {
  // Filled at 5 C and 25 C now: the liquid has risen, and a level fill at 25 C would be 6 % too little.
  const CylinderMemory m = Told{}.then(fill(at(5))).then(test(Valve::liquid, at(25))).now();
  EXPECT_EQ(m.evidence.filled->coldest, celsius(5));
  EXPECT_EQ(m.evidence.filled->warmest, celsius(5));
  EXPECT_EQ(m.proof, Proof::level_test);
  EXPECT_EQ(m.last_proof, hours(1));
  // Colder than at the fill it should stand lower: both are kept.
  const CylinderMemory cold = Told{}.then(fill(at(20))).then(test(Valve::liquid, at(4))).now();
  EXPECT_EQ(cold.evidence.filled->coldest, celsius(4));
  EXPECT_EQ(cold.evidence.filled->warmest, celsius(20));
  // A weight says more than a valve.
  const CylinderMemory weighed =
      Told{}.then(WeighingEvent{"1", 46.0 * kilogram}).then(test(Valve::liquid, at(4))).now();
  EXPECT_TRUE(weighed.evidence.filled->weighed);
  EXPECT_EQ(weighed.last_proof, hours(0));
}

TEST(CylinderEvents, VapourEndsTheStateAndNotTheDoubt) {
  const CylinderMemory m = Told{}.then(fill(at(12))).then(flight({unnoted()})).then(test(Valve::vapour, at(8))).now();
  EXPECT_FALSE(m.used_not_refilled);
  EXPECT_TRUE(m.evidence.used_since);
  EXPECT_EQ(m.proof, Proof::fill);
  EXPECT_EQ(m.last_change, hours(2));
  const CylinderMemory again = Told{}
                                   .then(fill(at(12)))
                                   .then(flight({unnoted()}))
                                   .then(test(Valve::vapour, at(8)))
                                   .then(flight({drawn(2)}))
                                   .now();
  EXPECT_TRUE(again.used_not_refilled);
  EXPECT_EQ(again.flights_since, 2);
}

TEST(CylinderEvents, VapourWhereLiquidMustBeLeavesTheAmountOpen) {
  EXPECT_TRUE(Told{}.then(fill(at(0))).then(test(Valve::vapour, at(28))).now().evidence.used_since);
  // Within the errors of two readings of the valve it can be.
  EXPECT_FALSE(Told{}.then(fill(at(12))).then(test(Valve::vapour, at(16))).now().evidence.used_since);
  EXPECT_FALSE(Told{}.then(fill(at(28))).then(test(Valve::vapour, at(4))).now().evidence.used_since);
}

TEST(CylinderEvents, ATubeInAnotherAttitudeTellsNothing) {
  LevelTestEvent lying = test(Valve::liquid, at(8));
  lying.tube_attitude = false;
  const CylinderMemory m = Told{}.then(fill(at(12))).then(flight({unnoted()})).then(lying).now();
  EXPECT_TRUE(m.evidence.used_since && m.used_not_refilled);
  EXPECT_EQ(m.proof, Proof::fill);
  EXPECT_EQ(m.last_change, hours(2));
}

TEST(CylinderEvents, WhatIsStillToComeIsNotRemembered) {
  const Told told = Told{}.then(fill(at(12))).then(flight({unnoted()}));
  EXPECT_FALSE(remembered(told.events, "1", hours(0.5)).evidence.used_since);
  EXPECT_TRUE(remembered(told.events, "1", hours(1)).evidence.used_since);
  EXPECT_FALSE(remembered(told.events, "1", hours(-1)).proof);
}

TEST(CylinderEvents, OfOneTimeTheLaterNumberCountsLast) {
  std::vector<CylinderEvent> events{{2, hours(1), flight({unnoted()})}, {1, hours(1), fill(at(12))}};
  EXPECT_TRUE(remembered(events, "1", hours(2)).evidence.used_since);
  events[0].number = 1;
  events[1].number = 2;
  EXPECT_FALSE(remembered(events, "1", hours(2)).evidence.used_since);
}

// --- histories reckoned on their own: densities of the full equation of state, every error drawn within its bound

class Densities {
 public:
  Densities() {
    for (int i = 0; i <= kSteps; ++i) {
      const eos::Saturated s = eos::saturation_at(273.15 - 25.0 + 0.5 * i);
      liquid_[static_cast<std::size_t>(i)] = s.liquid_mol_m3 * eos::kMolarMass;
      vapour_[static_cast<std::size_t>(i)] = s.vapour_mol_m3 * eos::kMolarMass;
    }
  }
  [[nodiscard]] double mass(double liquid_m3, double shell_m3, double t_c) const {
    return of(liquid_, t_c) * liquid_m3 + of(vapour_, t_c) * (shell_m3 - liquid_m3);
  }
  [[nodiscard]] double liquid(double mass_kg, double shell_m3, double t_c) const {
    return (mass_kg - of(vapour_, t_c) * shell_m3) / (of(liquid_, t_c) - of(vapour_, t_c));
  }

 private:
  static constexpr int kSteps = 160;
  static double of(const std::array<double, kSteps + 1>& table, double t_c) {
    const double x = (t_c + 25.0) / 0.5;
    const auto i = static_cast<std::size_t>(std::clamp(x, 0.0, kSteps - 1.0));
    const double f = x - static_cast<double>(i);
    return (1.0 - f) * table[i] + f * table[i + 1];
  }
  std::array<double, kSteps + 1> liquid_{}, vapour_{};
};

struct Lived {
  propane::Vessel vessel;
  std::vector<CylinderEvent> noted;
  double truth_kg = 0.0, told_now_c = 0.0;
};

// Several fills, draws and tests of one cylinder, and of a second one that must not matter.
Lived lived(Random& random, const Densities& densities) {
  Lived out;
  const double shell = random.uniform(0.04, 0.09), level = random.uniform(0.76, 0.80) * shell;
  out.vessel = {.shell = shell * cubic_metre, .level_fill = level * cubic_metre, .tare = 18.0 * kilogram};
  double t_c = random.uniform(0.0, 30.0), mass = densities.mass(random.uniform(0.1, 0.8) * level, shell, 30.0);
  const double least = densities.mass(0.0, shell, 35.0);
  double clock_h = 0.0;
  const auto note = [&](auto what) {
    const auto number = static_cast<std::int64_t>(out.noted.size()) + 1;
    out.noted.push_back({number, hours(clock_h), std::move(what)});
  };
  const auto told = [&] {
    const double off = random.uniform(-1.0, 1.0);
    return random.below(3) == 0 ? between(t_c - random.uniform(0.0, 6.0), t_c + random.uniform(0.0, 6.0))
                                : at(t_c + off);
  };
  const auto tip = [&] { return level * (1.0 + random.uniform(-0.02, 0.02)); };
  const auto weight = [&] { return (18.0 + mass + random.uniform(-0.3, 0.3)) * kilogram; };
  const auto level_test = [&] {
    note(test(densities.liquid(mass, shell, t_c) >= tip() ? Valve::liquid : Valve::vapour, told()));
  };
  for (std::size_t left = 1 + random.below(9); left > 0; --left) {
    clock_h += random.uniform(0.5, 40.0);
    t_c = std::clamp(t_c + random.uniform(-12.0, 12.0), 0.0, 30.0);
    switch (random.below(8)) {
      case 0:
      case 1:
        // Whoever finds liquid at the valve at once has filled nothing.
        if (const double spat = tip(); densities.liquid(mass, shell, t_c) >= spat) {
          note(test(Valve::liquid, told()));
        } else {
          mass = densities.mass(spat, shell, t_c);
          note(FillEvent{"1", told()});
        }
        break;
      case 2: note(FillEvent{.cylinder = "1", .weighed = weight()}); break;
      case 3:
      case 4: {
        const double most = (mass - least) / 1.3;  // some liquid is left
        if (most < 1.0) break;
        const double say = random.uniform(0.5, most);
        mass -= say * (1.0 + random.uniform(-0.25, 0.25));
        note(flight({{.cylinder = "2"}, random.below(2) == 0 ? drawn(say) : unnoted()}));
        break;
      }
      case 5: note(WeighingEvent{"1", weight()}); break;
      case 6: level_test(); break;
      default:
        // A fill that nobody wrote down, after a flight of which everybody knew, and liquid at the valve on a warmer
        // day.
        if (t_c > 14.0 || out.noted.empty()) break;
        mass -= 0.1 * (mass - least);
        note(flight({unnoted()}));
        mass = std::max(mass, densities.mass(tip(), shell, t_c));
        clock_h += 12.0;
        t_c += 18.0;
        level_test();
    }
    if (random.below(4) == 0) note(FillEvent{"2", told()});
  }
  t_c = std::clamp(t_c + random.uniform(-12.0, 12.0), 0.0, 30.0);
  out.truth_kg = mass;
  out.told_now_c = t_c + random.uniform(-1.0, 1.0);
  return out;
}

TEST(CylinderEvents, HoldsTheTruthOfRandomHistories) {
  Random random = testing::seeded("CylinderEvents.Histories");
  const Densities densities;
  int narrow = 0, rests_on_test = 0;
  for (int i = 0; i < 2000; ++i) {
    const Lived life = lived(random, densities);
    const CylinderMemory m = remembered(life.noted, "1", hours(1e4));
    propane::Evidence evidence = m.evidence;
    evidence.temperature = celsius(life.told_now_c);
    const auto a = propane::account(life.vessel, evidence).value();
    EXPECT_LE(a.mass_low.in(kilogram), life.truth_kg) << i;
    EXPECT_GE(a.mass_high.in(kilogram), life.truth_kg) << i;
    narrow += a.mass_high - a.mass_low < 5.0 * kilogram;
    rests_on_test += m.proof == Proof::level_test;
  }
  // The law would hold of a memory that knows nothing: this one knows something.
  EXPECT_GT(narrow, 900);
  EXPECT_GT(rests_on_test, 100);
}

TEST(CylinderEvents, TheOrderOfEntryDoesNotMatter) {
  Random random = testing::seeded("CylinderEvents.Order");
  const Densities densities;
  for (int i = 0; i < 300; ++i) {
    Lived life = lived(random, densities);
    const Instant now = hours(random.uniform(0.0, 200.0));
    const CylinderMemory before = remembered(life.noted, "1", now);
    for (std::size_t k = life.noted.size(); k > 1; --k) std::swap(life.noted[k - 1], life.noted[random.below(k)]);
    EXPECT_TRUE(same(remembered(life.noted, "1", now), before)) << i;
    // Nor do the numbers, where no two things happened at one time; nor what is still to come.
    std::erase_if(life.noted, [&](const CylinderEvent& e) { return e.happened > now; });
    std::vector<Instant> times;
    for (std::size_t k = 0; k < life.noted.size(); ++k) {
      life.noted[k].number = static_cast<std::int64_t>(k) + 1;
      times.push_back(life.noted[k].happened);
    }
    std::stable_sort(times.begin(), times.end());
    if (std::adjacent_find(times.begin(), times.end()) != times.end()) continue;
    EXPECT_TRUE(same(remembered(life.noted, "1", now), before)) << i;
  }
}

}  // namespace
}  // namespace pappus::book
