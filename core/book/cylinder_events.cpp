#include "core/book/cylinder_events.hpp"

#include <algorithm>

#include "core/propane/saturation.hpp"

namespace pappus::book {
namespace {

// Where nothing is known of the liquid: as account() takes it.
constexpr LiquidBand kAnywhere{celsius(-20.0), celsius(45.0)};

// A weight needs no temperature; a place for one has to hold something.
propane::Filled weighed_fill(Mass weighed, std::optional<LiquidBand> liquid = std::nullopt) {
  const LiquidBand band = liquid.value_or(kAnywhere);
  return {.coldest = band.coldest, .warmest = band.warmest, .weighed = weighed};
}

// Filled to the valve and warmer since, the liquid stands above it. Whether it must, within the errors of both
// readings.
bool must_show_liquid(const propane::Filled& fill, const LevelTestEvent& test) {
  const propane::ReadingErrors errors;
  const auto then = propane::saturation_at(fill.warmest + errors.thermometer);
  const auto at_test = propane::saturation_at(test.liquid.coldest - errors.thermometer);
  if (!then || !at_test) return false;
  return then->liquid_density * (1.0 - errors.level_valve) > at_test->liquid_density * (1.0 + errors.level_valve);
}

class Replay {
 public:
  explicit Replay(std::string_view cylinder) : cylinder_{cylinder} {}

  void apply(const CylinderEvent& event) {
    happened_ = event.happened;
    std::visit([this](const auto& what) { note(what); }, event.what);
  }
  [[nodiscard]] CylinderMemory memory() && { return std::move(memory_); }

 private:
  void note(const FillEvent& fill) {
    if (fill.cylinder != cylinder_) return;
    if (fill.weighed)
      base(Proof::fill, weighed_fill(*fill.weighed, fill.liquid));
    else if (fill.liquid)
      base(Proof::fill, {.coldest = fill.liquid->coldest, .warmest = fill.liquid->warmest});
  }

  void note(const WeighingEvent& weighing) {
    if (weighing.cylinder == cylinder_) base(Proof::weighing, weighed_fill(weighing.weighed));
  }

  void note(const FlightEvent& flight) {
    bool open = false;
    for (const CylinderUse& use : flight.open) {
      if (use.cylinder != cylinder_) continue;
      open = true;
      if (use.drawn)
        memory_.evidence.drawn.push_back({.mass = *use.drawn, .error = use.error});
      else
        memory_.evidence.used_since = true;
    }
    if (!open) return;
    memory_.used_not_refilled = true;
    memory_.flown_since = memory_.flown_since + flight.aloft;
    ++memory_.flights_since;
    memory_.last_change = happened_;
  }

  void note(const LevelTestEvent& test) {
    if (test.cylinder != cylinder_) return;
    memory_.last_change = happened_;
    if (!test.tube_attitude) return;
    memory_.used_not_refilled = false;
    const auto& fill = memory_.evidence.filled;
    const bool untouched = fill && memory_.evidence.drawn.empty() && !memory_.evidence.used_since;
    if (test.valve == propane::Valve::vapour) {
      if (untouched && !fill->weighed && must_show_liquid(*fill, test)) memory_.evidence.used_since = true;
      return;
    }
    if (!untouched)
      base(Proof::level_test,
           {.coldest = std::min(test.liquid.coldest, kAnywhere.coldest), .warmest = test.liquid.warmest});
    else if (!fill->weighed)
      base(Proof::level_test, {.coldest = std::min(test.liquid.coldest, fill->coldest), .warmest = fill->warmest});
  }

  // Everything begins anew with a proof.
  void base(Proof proof, propane::Filled filled) {
    memory_ = {};
    memory_.evidence.filled = filled;
    memory_.proof = proof;
    memory_.last_proof = happened_;
    memory_.last_change = happened_;
  }

  std::string_view cylinder_;
  Instant happened_;
  CylinderMemory memory_;
};

}  // namespace

std::vector<const CylinderEvent*> in_order(const std::vector<CylinderEvent>& history, Instant now) {
  std::vector<const CylinderEvent*> out;
  for (const CylinderEvent& event : history)
    if (event.happened <= now) out.push_back(&event);
  std::stable_sort(out.begin(), out.end(), [](const CylinderEvent* a, const CylinderEvent* b) {
    return a->happened != b->happened ? a->happened < b->happened : a->number < b->number;
  });
  return out;
}

CylinderMemory remembered(const std::vector<CylinderEvent>& history, std::string_view cylinder, Instant now) {
  Replay replay{cylinder};
  for (const CylinderEvent* event : in_order(history, now)) replay.apply(*event);
  return std::move(replay).memory();
}

std::vector<Sentence> memory_words(const CylinderMemory& m, UtcOffset offset) {
  std::vector<Sentence> out;
  if (m.proof) {
    const Argument time{"time", Moment{*m.last_proof, offset}};
    switch (*m.proof) {
      case Proof::fill: out.push_back(say("remembered.fill", {time})); break;
      case Proof::weighing: out.push_back(say("remembered.weighing", {time})); break;
      case Proof::level_test: out.push_back(say("remembered.level_test", {time})); break;
    }
  } else {
    out.push_back(say("remembered.no_proof"));
  }
  if (m.flights_since > 0) {
    const std::vector<Argument> flown{{"time", measure::of(m.flown_since)},
                                      {"flights", measure::count(static_cast<double>(m.flights_since))}};
    if (m.evidence.used_since)
      out.push_back(say(m.used_not_refilled ? "remembered.flown" : "remembered.flown_tested", flown));
    else
      out.push_back(say(m.proof ? "remembered.flown_noted" : "remembered.flown_baseless", flown));
  } else if (m.evidence.used_since) {
    out.push_back(say("remembered.not_known"));
  }
  return out;
}

}  // namespace pappus::book
