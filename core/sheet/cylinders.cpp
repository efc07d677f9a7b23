#include "core/sheet/cylinders.hpp"

#include <algorithm>
#include <utility>

#include "core/balloon/vessel.hpp"
#include "core/propane/exchange.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/mix.hpp"

namespace pappus::sheet {
namespace {

constexpr Duration kFollowsAirAfter = 2.0 * hour;
// A shell in the open loses heat to a clear sky and gains it from the sun: about the air's temperature, this much off
// (ours).
constexpr TemperatureDelta kOpenAirOff = 3.0 * kelvin;
// A figure off by less than what a level valve is off by is no contradiction.
constexpr double kFigureOff = 0.02;

bool is_evidence(const FuelSeen& seen) {
  return seen.filled || seen.valve || seen.dial || seen.weighed || seen.gauge_pressure;
}

const FuelSeen* seen_of(const Morning& morning, const std::string& id) {
  const FuelSeen* found = nullptr;
  for (const FuelSeen& seen : morning.flight.fuel)
    if (seen.cylinder == id) found = &seen;
  return found;
}

const book::CylinderMemory* memory_of(const Morning& morning, const std::string& id) {
  for (const CylinderRemembered& r : morning.remembered)
    if (r.cylinder == id && r.memory.last_change) return &r.memory;
  return nullptr;
}

struct Warmth {
  Temperature low, best, high;
};

// The liquid's temperature at lift-off.
std::optional<Warmth> warmth_of(const FuelSeen& seen, const Morning& morning, const std::optional<Temperature>& air,
                                const std::optional<Pressure>& station_pressure, CylinderFacts& facts) {
  const propane::ReadingErrors errors;
  if (!seen.temperature && seen.gauge_pressure && !seen.charged && station_pressure) {
    const auto band = propane::liquid_temperature(*seen.gauge_pressure, *station_pressure, std::nullopt);
    if (!band) return std::nullopt;
    return Warmth{band->low, band->best, band->high};
  }
  if (!seen.temperature) {
    if (!seen.outdoors || !air) return std::nullopt;
    facts.temperature_reckoned = true;
    return Warmth{*air - kOpenAirOff, *air, *air + kOpenAirOff};
  }
  const Temperature t = *seen.temperature;
  const Warmth noted{t - errors.thermometer, t, t + errors.thermometer};
  if (!seen.seen || !air) return noted;
  const Duration since = morning.flight.time.at - seen.seen->at;
  if (since <= kFollowsAirAfter || since > 48.0 * hour) return noted;
  const auto then = propane::liquid_warmth({noted.low, noted.best, noted.high}, {{Duration{}, *air}}, since);
  if (!then) return noted;
  facts.temperature_reckoned = true;
  return Warmth{then->low, then->best, then->high};
}

void expect_pressure(CylinderFacts& facts, const FuelSeen& seen, const std::optional<Warmth>& warmth,
                     const std::optional<Pressure>& station_pressure) {
  if (!station_pressure) return;
  if (seen.gauge_pressure && !seen.temperature) {
    const Pressure off = propane::ReadingErrors{}.gauge;
    facts.pressure = {*seen.gauge_pressure - off, *seen.gauge_pressure, *seen.gauge_pressure + off, true};
    return;
  }
  if (!warmth) return;
  const auto low = propane::pressure_band(std::nullopt, warmth->low);
  const auto best = propane::saturation_at(warmth->best);
  const auto high = propane::pressure_band(std::nullopt, warmth->high);
  if (!low || !best || !high) return;
  facts.pressure = {propane::gauge(low->low, *station_pressure), propane::gauge(best->pressure, *station_pressure),
                    propane::gauge(high->high, *station_pressure), false};
}

// A figure that nobody proved.
void take_figure(CylinderFacts& facts, const FuelSeen& seen, const std::optional<Temperature>& air) {
  if (!seen.liquid) return;
  // Measured when it was seen: at the temperature noted then.
  const std::optional<Temperature> at = seen.temperature ? seen.temperature : air;
  if (!at) return;
  const auto s = propane::saturation_at(*at);
  if (!s) return;
  facts.temperature_assumed = !seen.temperature;
  facts.liquid_low = facts.liquid = facts.liquid_high = seen.liquid;
  facts.mass_low = facts.mass = facts.mass_high = *seen.liquid * s->liquid_density;
}

// Of what is inside, the liquid. The vapour that fills the rest is at most some hundred grams.
Mass liquid_mass(const balloon::Cylinder& cylinder, Mass inside, Volume liquid, Temperature t) {
  const auto s = propane::saturation_at(t);
  const Mass vapour = s ? s->vapour_density * (cylinder.shell - liquid) : Mass{};
  return std::max(Mass{}, inside - std::max(Mass{}, vapour));
}

void take_account(CylinderFacts& facts, const FuelSeen& seen, bool reading_counts, const std::optional<Warmth>& warmth,
                  const std::optional<Pressure>& station_pressure) {
  propane::Evidence evidence;
  if (facts.memory != nullptr) evidence = facts.memory->evidence;
  if (reading_counts) {
    if (seen.filled) {
      evidence.filled = seen.filled;
      evidence.drawn.clear();
      evidence.used_since = false;
    }
    evidence.valve = seen.valve;
    evidence.dial = seen.dial;
    evidence.weighed = seen.weighed;
    evidence.charged = seen.charged;
    evidence.gauge_pressure = seen.gauge_pressure;
    evidence.temperature = seen.temperature;
  } else if (warmth) {
    evidence.temperature = warmth->best;
  }
  evidence.ambient = station_pressure.value_or(standard_atmosphere);
  auto account = propane::account(balloon::vessel_of(*facts.cylinder), evidence);
  if (!account) {
    facts.words.push_back(account.error().sentence);
    return;
  }
  facts.liquid_low = account->liquid_low;
  facts.liquid = account->liquid_best;
  facts.liquid_high = account->liquid_high;
  const balloon::Cylinder& c = *facts.cylinder;
  facts.mass_low = liquid_mass(c, account->mass_low, account->liquid_low, account->warmest);
  facts.mass_high = liquid_mass(c, account->mass_high, account->liquid_high, account->coldest);
  facts.mass = std::clamp(liquid_mass(c, account->mass_best, account->liquid_best,
                                      account->coldest + 0.5 * (account->warmest - account->coldest)),
                          *facts.mass_low, *facts.mass_high);
  const bool tested = reading_counts && (seen.filled || seen.valve || seen.weighed);
  facts.open = !tested && evidence.used_since;
  for (const propane::Contradiction& contradiction : account->contradictions)
    facts.words.push_back(contradiction.words);
  for (const Sentence& reason : account->reasons) {
    // The book has said it already, with the time.
    if (facts.memory != nullptr && reason.key == "account.used") continue;
    facts.words.push_back(reason);
  }
  facts.account = *std::move(account);
}

// A figure proves nothing. Of less than the evidence allows it counts all the same, as the least: somebody may know of
// a flight that nobody wrote down.
void hold_figure_against(CylinderFacts& facts, Volume figure) {
  const std::vector<Argument> told{{"liquid", measure::liquid(figure)},
                                   {"low", measure::liquid(*facts.liquid_low)},
                                   {"high", measure::liquid(*facts.liquid_high)}};
  if (facts.open) {
    facts.words.push_back(say("cylinders.figure_no_proof", told));
  } else if (figure > (1.0 + kFigureOff) * *facts.liquid_high) {
    facts.words.push_back(say("cylinders.figure_more", told));
  } else if (figure < (1.0 - kFigureOff) * *facts.liquid_low) {
    facts.words.push_back(say("cylinders.figure_less", told));
    const double part = figure / *facts.liquid_low;
    facts.mass_low = facts.mass = part * *facts.mass_low;
    facts.liquid_low = facts.liquid = figure;
  }
}

}  // namespace

std::vector<CylinderFacts> cylinders_of(const Morning& morning, const std::optional<Temperature>& air,
                                        const std::optional<Pressure>& station_pressure) {
  std::vector<CylinderFacts> out;
  for (const balloon::Cylinder& cylinder : morning.balloon.cylinders) {
    CylinderFacts facts;
    facts.cylinder = &cylinder;
    if (const auto plate = propane::plate_check(cylinder.shell, cylinder.level_fill)) facts.plate = *plate;
    facts.memory = memory_of(morning, cylinder.id);
    const FuelSeen* found = seen_of(morning, cylinder.id);
    const FuelSeen seen = found != nullptr ? *found : FuelSeen{};
    if (seen.seen) facts.seen = seen.seen->at;
    const auto warmth = warmth_of(seen, morning, air, station_pressure, facts);
    if (warmth) facts.temperature = warmth->best;
    expect_pressure(facts, seen, warmth, station_pressure);

    // A reading without a time is one of when the flight was put together.
    const Instant read = seen.seen ? seen.seen->at : morning.flight.as_of.value_or(morning.as_of).at;
    const bool book_is_later = facts.memory != nullptr && *facts.memory->last_change > read;
    const bool reading_counts = is_evidence(seen) && !book_is_later;
    if (facts.memory == nullptr && !reading_counts) {
      take_figure(facts, seen, air);
      out.push_back(std::move(facts));
      continue;
    }
    const UtcOffset offset = morning.as_of.offset;
    if (facts.memory != nullptr) facts.words = book::memory_words(*facts.memory, offset);
    if (book_is_later && (is_evidence(seen) || seen.liquid))
      facts.words.push_back(say("cylinders.book_later", {{"time", Moment{*facts.memory->last_change, offset}}}));
    take_account(facts, seen, reading_counts, warmth, station_pressure);
    if (seen.liquid && !book_is_later && facts.account) hold_figure_against(facts, *seen.liquid);
    if (facts.memory != nullptr && (!facts.seen || book_is_later)) facts.seen = facts.memory->last_change;
    out.push_back(std::move(facts));
  }
  return out;
}

Mass heaviest_contents(const balloon::Cylinder& cylinder) {
  const auto cold = propane::saturation_at(celsius(-20.0));
  return cold ? cylinder.level_fill * cold->liquid_density : Mass{};
}

}  // namespace pappus::sheet
