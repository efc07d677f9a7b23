#include "core/propane/account.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <vector>

#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/saturation.hpp"

// All of the reckoning is in kilograms, cubic metres and kelvins. The liquid's temperature is not known exactly, and
// all readings of now share it: so it is cut into cells, and within a cell each witness allows an interval of mass.
// What remains over all cells where every witness agrees is the answer.
namespace pappus::propane {
namespace {

constexpr Temperature kColdestGuess = celsius(-20.0), kWarmestGuess = celsius(45.0);
constexpr Temperature kColdestFill = celsius(-40.0), kWarmestFill = celsius(50.0);
constexpr int kCells = 48;
constexpr std::array kWitnesses{Witness::fill, Witness::valve, Witness::dial, Witness::weight};

struct Span {
  double low, high;
  [[nodiscard]] bool empty() const { return !(low <= high); }
  [[nodiscard]] double width() const { return empty() ? 0.0 : high - low; }
};
Span both(Span a, Span b) { return {std::max(a.low, b.low), std::min(a.high, b.high)}; }
Span hull(Span a, Span b) {
  if (a.empty()) return b;
  if (b.empty()) return a;
  return {std::min(a.low, b.low), std::max(a.high, b.high)};
}
constexpr Span kNone{1.0, -1.0};

// Densities at one temperature.
struct State {
  double liquid, vapour;
};
// A cell of temperature and the two states at its ends.
struct Cell {
  State cold, warm;
};

struct Problem {
  double shell_m3 = 0.0, fill_m3 = 0.0;
  double tare_kg = 0.0;
  double dial_m3 = 0.0;  // what a full reading of the dial stands for: shell or level fill
  std::vector<Cell> cells;
  Span fill_kg = kNone;  // mass right after the fill
  Span drawn_kg{0.0, 0.0};
  const Vessel* vessel = nullptr;
  const Evidence* evidence = nullptr;
  const ReadingErrors* errors = nullptr;
};

double mass_kg(const State& s, double liquid_m3, double shell_m3) {
  return s.liquid * liquid_m3 + s.vapour * (shell_m3 - liquid_m3);
}
double liquid_m3(const State& s, double mass_kg, double shell_m3) {
  return std::clamp((mass_kg - s.vapour * shell_m3) / (s.liquid - s.vapour), 0.0, shell_m3);
}
// Masses that so much liquid can be within a cell.
Span masses(const Problem& p, const Cell& cell, double low_m3, double high_m3) {
  const double top = p.shell_m3;
  const double a = std::clamp(low_m3, 0.0, top), b = std::clamp(high_m3, 0.0, top);
  return {std::min(mass_kg(cell.cold, a, top), mass_kg(cell.warm, a, top)),
          std::max(mass_kg(cell.cold, b, top), mass_kg(cell.warm, b, top))};
}

bool speaks(const Problem& p, Witness witness) {
  const Evidence& e = *p.evidence;
  switch (witness) {
    case Witness::fill: return e.filled.has_value();
    case Witness::valve: return e.valve && e.tube_attitude;
    case Witness::dial: return e.dial && (e.dial->at == Dial::At::bottom || p.vessel->gauge_span);
    case Witness::weight: return e.weighed.has_value();
  }
  return false;
}

// What one witness allows in one cell.
Span allows(const Problem& p, const Cell& cell, Witness witness) {
  const Evidence& e = *p.evidence;
  const Span any = masses(p, cell, 0.0, p.shell_m3);
  if (!speaks(p, witness)) return any;
  switch (witness) {
    case Witness::fill:
      // Used and nothing recorded: it may be as full as a fill that nobody wrote down, and hold as little as none.
      if (e.used_since)
        return {any.low, std::max(p.fill_kg.high, masses(p, cell, 0.0, p.fill_m3 * (1 + p.errors->level_valve)).high)};
      return {p.fill_kg.low - p.drawn_kg.high, p.fill_kg.high - p.drawn_kg.low};
    case Witness::valve: {
      const double off = p.errors->level_valve * p.fill_m3;
      if (*e.valve == Valve::liquid) return masses(p, cell, p.fill_m3 - off, p.shell_m3);
      return masses(p, cell, 0.0, p.fill_m3 + off);
    }
    case Witness::dial: {
      const double span = p.vessel->gauge_span.value_or(1.0), off = p.errors->dial * span;
      switch (e.dial->at) {
        case Dial::At::top: return masses(p, cell, (span - off) * p.dial_m3, p.shell_m3);
        case Dial::At::bottom: return masses(p, cell, 0.0, off * p.dial_m3);
        case Dial::At::reading:
          // A reading at the very end is no more than that end.
          if (e.dial->fraction >= span - off) return masses(p, cell, (e.dial->fraction - off) * p.dial_m3, p.shell_m3);
          return masses(p, cell, (e.dial->fraction - off) * p.dial_m3, (e.dial->fraction + off) * p.dial_m3);
      }
      return any;
    }
    case Witness::weight: {
      const double net = e.weighed->in(kilogram)-p.tare_kg, off = p.errors->scale.in(kilogram);
      return {net - off, net + off};
    }
  }
  return any;
}

// What all of these allow: over every cell where they agree. `first` and `last` are the cells that are left.
struct Agreed {
  Span mass = kNone;
  int first = -1, last = -1;
};
Agreed agreed(const Problem& p, const std::vector<Witness>& witnesses) {
  Agreed out;
  for (int i = 0; i < static_cast<int>(p.cells.size()); ++i) {
    const Cell& cell = p.cells[static_cast<std::size_t>(i)];
    Span span = masses(p, cell, 0.0, p.shell_m3);
    for (const Witness w : witnesses) span = both(span, allows(p, cell, w));
    if (span.empty()) continue;
    out.mass = hull(out.mass, span);
    if (out.first < 0) out.first = i;
    out.last = i;
  }
  return out;
}

// Nearest to the witnesses that speak from both sides, each with the weight of its width.
double best_kg(const Problem& p, const std::vector<Witness>& witnesses, Span within) {
  const Cell& cell = p.cells[p.cells.size() / 2];
  double sum = 0.0, weights = 0.0;
  for (const Witness w : witnesses) {
    const bool two_sided = (w == Witness::fill && !p.evidence->used_since) || w == Witness::weight ||
                           (w == Witness::dial && p.evidence->dial->at == Dial::At::reading);
    if (!speaks(p, w) || !two_sided) continue;
    const Span span = allows(p, cell, w);
    const double width = std::max(span.width(), 0.01), weight = 1.0 / (width * width);
    sum += 0.5 * (span.low + span.high) * weight;
    weights += weight;
  }
  const double best = weights > 0.0 ? sum / weights : 0.5 * (within.low + within.high);
  return std::clamp(best, within.low, within.high);
}

// The width that is left on average after a test, every mass within `now` being as likely as any other.
double width_after(const Problem& p, NextTest test, Span now) {
  const double scale = 2.0 * p.errors->scale.in(kilogram);
  if (test == NextTest::weigh) return std::min(now.width(), scale);
  double sum = 0.0;
  const int trials = 32;
  for (int i = 0; i < trials; ++i) {
    const double truth = now.low + (i + 0.5) / trials * now.width();
    Evidence then = *p.evidence;
    const Cell& middle = p.cells[p.cells.size() / 2];
    const double liquid = liquid_m3(middle.cold, truth, p.shell_m3);
    if (test == NextTest::level_valve) {
      then.valve = liquid >= p.fill_m3 ? Valve::liquid : Valve::vapour;
      then.tube_attitude = true;
    } else {
      const double fraction = liquid / p.dial_m3, span = p.vessel->gauge_span.value_or(0.0);
      then.dial = fraction >= span ? Dial{.at = Dial::At::top} : Dial{.at = Dial::At::reading, .fraction = fraction};
    }
    Problem next = p;
    next.evidence = &then;
    const Agreed left = agreed(next, {test == NextTest::level_valve ? Witness::valve : Witness::dial});
    sum += both(left.mass, now).width();
  }
  return sum / trials;
}

NextTest next_test(const Problem& p, Span now) {
  // Known well enough: to a twentieth of a fill, or as a scale would.
  const double enough = std::max(0.05 * p.cells.front().cold.liquid * p.fill_m3, 2.0 * p.errors->scale.in(kilogram));
  if (now.width() <= enough) return NextTest::none;
  NextTest best = NextTest::none;
  double least = 0.95 * now.width();  // what narrows by less is not worth cold fingers
  for (const NextTest test : {NextTest::gauge, NextTest::level_valve, NextTest::weigh}) {
    if (test == NextTest::gauge && !(p.vessel->gauge_span && !p.evidence->dial)) continue;
    if (test == NextTest::level_valve && p.evidence->valve && p.evidence->tube_attitude) continue;
    if (test == NextTest::weigh && p.evidence->weighed) continue;
    const double width = width_after(p, test, now);
    if (width <= enough) return test;  // the easier ones come first
    if (width < least) {
      least = width;
      best = test;
    }
  }
  return best;
}

Measure gallons(double m3) { return measure::liquid(m3 * cubic_metre); }

Sentence contradiction_words(Witness a, Witness b) {
  return say("account.contradiction", {{"a", pappus::Term{"account.witness_" + std::string(name_of(a))}},
                                       {"b", pappus::Term{"account.witness_" + std::string(name_of(b))}}});
}

std::vector<Contradiction> contradictions(const Problem& p) {
  std::vector<Contradiction> found;
  for (std::size_t i = 0; i < kWitnesses.size(); ++i) {
    if (!speaks(p, kWitnesses[i])) continue;
    if (agreed(p, {kWitnesses[i]}).mass.empty()) {
      found.push_back(
          {kWitnesses[i], kWitnesses[i],
           say("account.impossible", {{"a", pappus::Term{"account.witness_" + std::string(name_of(kWitnesses[i]))}}})});
      continue;
    }
    for (std::size_t k = i + 1; k < kWitnesses.size(); ++k) {
      if (!speaks(p, kWitnesses[k]) || agreed(p, {kWitnesses[k]}).mass.empty()) continue;
      if (agreed(p, {kWitnesses[i], kWitnesses[k]}).mass.empty())
        found.push_back({kWitnesses[i], kWitnesses[k], contradiction_words(kWitnesses[i], kWitnesses[k])});
    }
  }
  return found;
}

// Temperatures of the liquid now, from thermometer and gauge.
struct Warmth {
  Temperature coldest = kColdestGuess, warmest = kWarmestGuess;
  bool known = false, disagree = false, beyond = false;
};
Warmth warmth(const Evidence& e, const ReadingErrors& errors) {
  Warmth out;
  if (e.temperature) {
    out = {
        .coldest = *e.temperature - errors.thermometer, .warmest = *e.temperature + errors.thermometer, .known = true};
  }
  if (e.gauge_pressure && !e.charged) {
    const auto band = liquid_temperature(*e.gauge_pressure, e.ambient, e.mix, errors.gauge);
    if (band) {
      const Temperature low = std::max(out.coldest, band->low), high = std::min(out.warmest, band->high);
      // Where the two can't both be true, both are kept.
      if (low <= high) {
        out.coldest = low;
        out.warmest = high;
      } else {
        out.coldest = std::min(out.coldest, band->low);
        out.warmest = std::max(out.warmest, band->high);
        out.disagree = true;
      }
      out.known = true;
    } else {
      out.beyond = true;
    }
  }
  return out;
}

void explain(Account& out, const Problem& p, const Warmth& warm, const std::vector<Witness>& held) {
  const Evidence& e = *p.evidence;
  auto& to = out.reasons;
  if (out.plate.disagree)
    to.push_back(say(
        "account.plate",
        {{"fill", gallons(p.fill_m3)}, {"shell", gallons(p.shell_m3)}, {"share", measure::ratio(out.plate.fraction)}}));
  if (warm.disagree) to.push_back(say("account.warmth_disagrees"));
  if (warm.beyond) to.push_back(say("account.pressure_beyond", {{"pressure", measure::of(*e.gauge_pressure)}}));
  if (e.used_since) to.push_back(say("account.used"));
  if (e.filled && !e.used_since && !e.filled->weighed) {
    const Filled& fill = *e.filled;
    if (fill.coldest == fill.warmest)
      to.push_back(
          say(e.drawn.empty() ? "account.filled_at" : "account.filled_at_drawn", {{"at", measure::of(fill.coldest)}}));
    else
      to.push_back(say(e.drawn.empty() ? "account.filled" : "account.filled_drawn",
                       {{"coldest", measure::of(fill.coldest)}, {"warmest", measure::of(fill.warmest)}}));
  }
  if (e.filled && !e.used_since && e.filled->weighed)
    to.push_back(say("account.filled_weighed", {{"mass", measure::of(*e.filled->weighed)}}));
  if (!e.filled) to.push_back(say("account.no_fill"));
  // No liquid at the valve is no bad sign where the liquid has shrunk below the tube.
  if (e.filled && !e.filled->weighed && !e.used_since && e.drawn.empty() && warm.known) {
    const auto then = agreed(p, {Witness::fill});
    const double level = liquid_m3(p.cells.back().warm, then.mass.high, p.shell_m3);
    const double tip = p.fill_m3 * (1.0 - p.errors->level_valve);
    if (!then.mass.empty() && level < tip) {
      const double likely =
          liquid_m3(p.cells[p.cells.size() / 2].cold, 0.5 * (then.mass.low + then.mass.high), p.shell_m3);
      to.push_back(say("account.under_tube", {{"coldest", measure::of(e.filled->coldest)},
                                              {"now", measure::of(warm.coldest + 0.5 * (warm.warmest - warm.coldest))},
                                              {"under", gallons(p.fill_m3 - likely)}}));
    }
  }
  if (e.valve && !e.tube_attitude) to.push_back(say("account.attitude"));
  if (e.valve && e.tube_attitude)
    to.push_back(say(*e.valve == Valve::liquid ? "account.valve_liquid" : "account.valve_vapour",
                     {{"fill", gallons(p.fill_m3)}}));
  if (e.dial && speaks(p, Witness::dial) && e.dial->at == Dial::At::top)
    to.push_back(say("account.dial_top", {{"at_least", gallons(p.vessel->gauge_span.value_or(1.0) * p.dial_m3)}}));
  if (e.dial && !speaks(p, Witness::dial)) to.push_back(say("account.dial_unknown_span"));
  if (e.gauge_pressure) to.push_back(say(e.charged ? "account.pressure_charged" : "account.pressure"));
  if (held.empty()) to.push_back(say("account.nothing"));
}

tl::unexpected<Issue> outside(Volume value, Volume low, Volume high) {
  return refuse_outside("propane.liquid_outside", measure::liquid(value), measure::liquid(low), measure::liquid(high));
}

}  // namespace

Result<Account> account(const Vessel& vessel, const Evidence& evidence, const ReadingErrors& errors) {
  if (!(vessel.shell >= 1.0 * litre && vessel.shell <= 500.0 * litre))
    return outside(vessel.shell, 1.0 * litre, 500.0 * litre);
  const auto plate = plate_check(vessel.shell, vessel.level_fill);
  if (!plate) return tl::unexpected(plate.error());
  if (vessel.gauge_span && !(*vessel.gauge_span > 0.0 && *vessel.gauge_span <= 1.0))
    return refuse_outside("propane.span_outside", measure::ratio(*vessel.gauge_span), measure::ratio(0.0),
                          measure::ratio(1.0));
  Problem p;
  p.vessel = &vessel;
  p.evidence = &evidence;
  p.errors = &errors;
  p.shell_m3 = vessel.shell.in(cubic_metre);
  p.fill_m3 = vessel.level_fill.in(cubic_metre);
  p.tare_kg = vessel.tare.in(kilogram);
  p.dial_m3 = vessel.gauge_reads == GaugeReads::shell ? p.shell_m3 : p.fill_m3;

  if (evidence.filled) {
    const Filled& fill = *evidence.filled;
    for (const Temperature t : {fill.coldest, fill.warmest})
      if (!(t >= kColdestFill && t <= kWarmestFill))
        return refuse_outside("propane.temperature_outside", measure::of(t), measure::of(kColdestFill),
                              measure::of(kWarmestFill));
    if (fill.coldest > fill.warmest)
      return refuse_outside("propane.temperature_outside", measure::of(fill.coldest), measure::of(kColdestFill),
                            measure::of(fill.warmest));
    if (fill.weighed) {
      const double net = fill.weighed->in(kilogram)-p.tare_kg, off = errors.scale.in(kilogram);
      p.fill_kg = {net - off, net + off};
    } else {
      const auto cold = saturation_at(std::max(fill.coldest - errors.thermometer, kColdestFill));
      const auto warm = saturation_at(std::min(fill.warmest + errors.thermometer, kWarmestFill));
      if (!cold) return tl::unexpected(cold.error());
      if (!warm) return tl::unexpected(warm.error());
      const Cell of{
          {cold->liquid_density.in(kilogram_per_cubic_metre), cold->vapour_density.in(kilogram_per_cubic_metre)},
          {warm->liquid_density.in(kilogram_per_cubic_metre), warm->vapour_density.in(kilogram_per_cubic_metre)}};
      p.fill_kg = masses(p, of, p.fill_m3 * (1.0 - errors.level_valve), p.fill_m3 * (1.0 + errors.level_valve));
    }
    for (const Drawn& draw : evidence.drawn) {
      const double kg = draw.mass.in(kilogram);
      p.drawn_kg.low += std::max(0.0, kg * (1.0 - draw.error));
      p.drawn_kg.high += kg * (1.0 + draw.error);
    }
  }

  const Warmth warm = warmth(evidence, errors);
  const double width_k = (warm.warmest - warm.coldest).in(kelvin);
  State before{};
  for (int i = 0; i <= kCells; ++i) {
    const auto s = saturation_at(warm.coldest + (i * width_k / kCells) * kelvin);
    if (!s) return tl::unexpected(s.error());
    const State state{s->liquid_density.in(kilogram_per_cubic_metre), s->vapour_density.in(kilogram_per_cubic_metre)};
    if (i > 0) p.cells.push_back({before, state});
    before = state;
  }

  Account out;
  out.plate = *plate;
  std::vector<Witness> held;
  for (const Witness w : kWitnesses)
    if (speaks(p, w)) held.push_back(w);
  Agreed left = agreed(p, held);
  if (left.mass.empty()) {
    out.contradictions = contradictions(p);
    // Whatever may be false: the answer covers what any of the others alone would say.
    for (const Witness w : held) {
      const Agreed alone = agreed(p, {w});
      if (alone.mass.empty()) continue;
      left.mass = hull(left.mass, alone.mass);
      left.first = left.first < 0 ? alone.first : std::min(left.first, alone.first);
      left.last = std::max(left.last, alone.last);
    }
    if (left.mass.empty()) left = agreed(p, {});
  }
  const double best = best_kg(p, held, left.mass);
  const Cell& coldest = p.cells[static_cast<std::size_t>(left.first)];
  const Cell& warmest = p.cells[static_cast<std::size_t>(left.last)];
  out.mass_low = left.mass.low * kilogram;
  out.mass_best = best * kilogram;
  out.mass_high = left.mass.high * kilogram;
  // Of little liquid the warm state shows less, of much the cold one.
  const auto least = [&](double kg) {
    return std::min(liquid_m3(coldest.cold, kg, p.shell_m3), liquid_m3(warmest.warm, kg, p.shell_m3));
  };
  const auto most = [&](double kg) {
    return std::max(liquid_m3(coldest.cold, kg, p.shell_m3), liquid_m3(warmest.warm, kg, p.shell_m3));
  };
  out.liquid_low = least(left.mass.low) * cubic_metre;
  out.liquid_high = most(left.mass.high) * cubic_metre;
  out.liquid_best = std::clamp(liquid_m3(p.cells[p.cells.size() / 2].cold, best, p.shell_m3) * cubic_metre,
                               out.liquid_low, out.liquid_high);
  out.coldest = warm.coldest + (left.first * width_k / kCells) * kelvin;
  out.warmest = warm.coldest + ((left.last + 1) * width_k / kCells) * kelvin;
  out.temperature_known = warm.known;
  out.proven_full = out.contradictions.empty() && !plate->disagree &&
                    (speaks(p, Witness::weight) || (speaks(p, Witness::valve) && *evidence.valve == Valve::liquid)) &&
                    out.liquid_low.in(cubic_metre) >= p.fill_m3 * (1.0 - 2.0 * errors.level_valve);
  out.next_test = out.contradictions.empty() ? next_test(p, left.mass)
                  : evidence.weighed         ? NextTest::level_valve
                                             : NextTest::weigh;
  explain(out, p, warm, held);
  return out;
}

}  // namespace pappus::propane
