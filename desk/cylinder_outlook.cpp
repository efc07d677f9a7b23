#include "desk/cylinder_outlook.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "core/base/measure.hpp"
#include "core/propane/exchange.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/margins.hpp"
#include "core/propane/pressurant.hpp"
#include "core/propane/saturation.hpp"
#include "core/sheet/defaults.hpp"

namespace pappus::desk {
namespace {

tl::unexpected<Issue> missing(std::string key, std::string option, std::string wanted) {
  Issue issue;
  issue.code = Errc::bad_call;
  issue.sentence = say(std::move(key));
  issue.where.key = std::move(option);
  issue.wanted = std::move(wanted);
  return tl::unexpected(std::move(issue));
}

// Liquid of a mass at a temperature: all of the shell where it is full, none where vapour alone is left.
Result<Volume> liquid_of(Volume shell, Mass mass, Temperature t) {
  const auto inside = propane::inside_at(shell, mass, t);
  if (inside) return inside->liquid;
  if (inside.error().sentence.key == "propane.liquid_full") return shell;
  if (inside.error().sentence.key == "propane.no_liquid") return Volume{};
  return tl::unexpected(inside.error());
}

// A charge is put into a cylinder that has room for it.
constexpr double kFullest = 0.99;
constexpr double kNearlyAll = 0.95;

// The charges that the liquid of then may have met: of the least, the best and the most.
std::vector<propane::Charge> charges(const OutlookFrom& from) {
  const CylinderQuestion& q = from.question;
  std::vector<Volume> liquids{from.account.liquid_low, from.account.liquid_best, from.account.liquid_high};
  if (q.charged_with) liquids = {*q.charged_with};
  std::vector<propane::Charge> out;
  for (const Volume liquid : liquids)
    out.push_back({.shell = from.vessel.shell,
                   .liquid = q.charged_with ? liquid : std::min(liquid, kFullest * from.vessel.shell),
                   .at = *q.temperature,
                   .nitrogen = *q.charge});
  return out;
}

struct Bounds {
  Pressure low, high;
};
// What is left over all of these when so much of the liquid is left: `low` to `high` of what was there then.
Result<Bounds> left_of(const std::vector<propane::Charge>& all, double share) {
  std::optional<Bounds> out;
  for (const propane::Charge& charge : all) {
    const auto left = propane::charge_left(charge, share * charge.liquid);
    if (!left) return tl::unexpected(left.error());
    out = Bounds{out ? std::min(out->low, left->low) : left->low, out ? std::max(out->high, left->high) : left->high};
  }
  return *out;
}

// Near enough to be told as one figure.
bool narrow(Volume low, Volume high, Volume of) { return high - low <= 0.1 * of; }

void tell_level(const OutlookFrom& from, CylinderAnswer& answer, Temperature then) {
  if (!answer.contradictions.empty()) return;
  const propane::ReadingErrors errors;
  const Volume fill = from.vessel.level_fill;
  const Volume low = *answer.liquid_volume_then_low, best = *answer.liquid_volume_then,
               high = *answer.liquid_volume_then_high;
  const Volume off = errors.level_valve * fill;
  if (high < fill - off) {
    if (narrow(low, high, fill))
      answer.reasons.push_back(
          say("cylinder.then_under", {{"then", measure::of(then)}, {"under", measure::liquid(fill - best)}}));
    else
      answer.reasons.push_back(say("cylinder.then_under_between", {{"then", measure::of(then)},
                                                                   {"least", measure::liquid(fill - high)},
                                                                   {"most", measure::liquid(fill - low)}}));
  } else if (low > fill + off) {
    answer.reasons.push_back(say("cylinder.then_liquid", {{"then", measure::of(then)}}));
  } else {
    answer.reasons.push_back(say("cylinder.then_either", {{"then", measure::of(then)}}));
  }
}

struct Judged {
  sheet::LimitState state;
  std::string word;
};
// By the range of the manual, else by common practice. What may be either is near.
Judged judged(const Fitted& fitted, GaugePressure low, GaugePressure high) {
  using State = sheet::LimitState;
  const auto& usual = sheet::kDefaults;
  const GaugePressure least = fitted.pressure ? fitted.pressure->low : usual.fuel_pressure_outside;
  const GaugePressure most = fitted.pressure ? fitted.pressure->high : usual.fuel_pressure_high;
  if (high < least) return {State::outside, "under"};
  if (low > most) return {fitted.pressure ? State::outside : State::near, "over"};
  if (low < least) return {State::near, "may_under"};
  if (high > most) return {State::near, "may_over"};
  if (!fitted.pressure && low < usual.fuel_pressure_near) return {State::near, "near"};
  return {State::inside, "inside"};
}

Sentence pressure_words(const Fitted& fitted, const std::string& when, const Judged& found) {
  const auto& usual = sheet::kDefaults;
  const Term at{"cylinder.pressure_" + when}, state{"cylinder.pressure_" + found.word};
  if (fitted.pressure)
    return say("cylinder.pressure_manual", {{"when", at},
                                            {"state", state},
                                            {"low", measure::of(fitted.pressure->low)},
                                            {"high", measure::of(fitted.pressure->high)}});
  return say("cylinder.pressure_usual", {{"when", at},
                                         {"state", state},
                                         {"low", measure::of(usual.fuel_pressure_outside)},
                                         {"near", measure::of(usual.fuel_pressure_near)},
                                         {"high", measure::of(usual.fuel_pressure_high)}});
}

}  // namespace

Fitted fitted_of(const balloon::Balloon& balloon, const balloon::Cylinder& cylinder) {
  Fitted out{.relief = cylinder.relief};
  bool all = !balloon.burners.empty();
  for (const balloon::Burner& burner : balloon.burners) {
    if (burner.pilot_light == balloon::PilotLight::vapour) out.vapour_pilot_light = true;
    if (!burner.pressure) {
      all = false;
      continue;
    }
    if (!out.pressure) out.pressure = burner.pressure;
    out.pressure->low = std::max(out.pressure->low, burner.pressure->low);
    out.pressure->high = std::min(out.pressure->high, burner.pressure->high);
  }
  if (!all) out.pressure.reset();
  return out;
}

Result<propane::Drawn> drawn_by_minutes(Duration burned, const std::optional<text::FuelFlow>& flow, Temperature coldest,
                                        Temperature warmest) {
  if (!flow) return missing("issue.flow_needed", "--flow", "--flow 30kg/h");
  const propane::ReadingErrors errors;
  if (const auto* by_mass = std::get_if<MassFlow>(&*flow))
    return propane::Drawn{.mass = burned * *by_mass, .error = errors.minutes};
  auto drawn = drawn_by_volume(burned * std::get<text::VolumeFlow>(*flow), coldest, warmest);
  if (drawn) drawn->error += errors.minutes - errors.volume;
  return drawn;
}

Result<void> tell_charge(const OutlookFrom& from, CylinderAnswer& answer) {
  const CylinderQuestion& q = from.question;
  if (q.charged_with && !q.charge) return missing("issue.charge_needed", "--charge", "--charge 40psi");
  if (!q.charge && !q.charged) return {};
  if (from.fitted.vapour_pilot_light) answer.contradictions.push_back(say("cylinder.charge_vapour_pilot"));
  answer.cautions.push_back(say("cylinder.charge_read_again"));
  answer.cautions.push_back(say("cylinder.charge_no_vapour_pilot"));
  if (!q.charge) return {};
  if (!q.temperature) return missing("issue.charge_temperature", "--temperature", "--temperature 5C");
  const auto all = charges(from);
  // Drawn since only where the liquid of then is told beside that of now.
  Bounds now{};
  if (q.charged_with) {
    const Volume then = *q.charged_with;
    const auto least = propane::charge_left(all.front(), std::min(from.account.liquid_low, then));
    if (!least) return tl::unexpected(least.error());
    const auto most = propane::charge_left(all.front(), std::min(from.account.liquid_high, then));
    if (!most) return tl::unexpected(most.error());
    now = {least->low, most->high};
  } else {
    const auto left = left_of(all, 1.0);
    if (!left) return tl::unexpected(left.error());
    now = *left;
  }
  const auto half = left_of(all, 0.5);
  if (!half) return tl::unexpected(half.error());
  const auto end = left_of(all, 1.0 - kNearlyAll);
  if (!end) return tl::unexpected(end.error());
  answer.charge_now_low = now.low;
  answer.charge_now_high = now.high;
  answer.charge_half_low = half->low;
  answer.charge_half_high = half->high;
  answer.charge_end_low = end->low;
  answer.charge_end_high = end->high;
  // The gauge shows the charge on top of propane's own.
  answer.gauge_pressure_low = answer.gauge_pressure_low + now.low;
  answer.gauge_pressure_high = answer.gauge_pressure_high + now.high;
  if (!q.gauge_pressure) answer.gauge_pressure = answer.gauge_pressure + 0.5 * (now.low + now.high);
  const auto shown = [](Pressure p) { return measure::of(GaugePressure::at(p)); };
  answer.reasons.push_back(say("cylinder.charge_left", {{"now_low", shown(now.low)},
                                                        {"now_high", shown(now.high)},
                                                        {"half_low", shown(half->low)},
                                                        {"half_high", shown(half->high)},
                                                        {"end_low", shown(end->low)},
                                                        {"end_high", shown(end->high)}}));
  return {};
}

Result<void> tell_then(const OutlookFrom& from, CylinderAnswer& answer) {
  const CylinderQuestion& q = from.question;
  if (q.air.empty()) return {};
  const propane::Account& account = from.account;
  if (!account.temperature_known)
    return missing(q.gauge_pressure && from.evidence.charged ? "issue.then_charged" : "issue.then_temperature",
                   "--temperature",
                   from.evidence.charged ? "--temperature 4C" : "--temperature 4C, --gauge-pressure 80psi");
  // As warm as told until then, and from one to the next within a second.
  std::vector<propane::AirAround> air;
  Duration from_then{};
  for (const AirUntil& piece : q.air) {
    const Duration start = air.empty() ? Duration{} : from_then + 1.0 * second;
    air.push_back({.after = start, .air = piece.air});
    if (piece.until > start) air.push_back({.after = piece.until, .air = piece.air});
    from_then = piece.until;
  }
  Temperature best = account.coldest + 0.5 * (account.warmest - account.coldest);
  if (q.temperature) best = *q.temperature;
  best = std::clamp(best, account.coldest, account.warmest);
  const auto then =
      propane::liquid_warmth({.low = account.coldest, .best = best, .high = account.warmest}, air, from_then);
  if (!then) return tl::unexpected(then.error());
  const auto low = propane::pressure_band(from.evidence.mix, then->low),
             middle = propane::pressure_band(from.evidence.mix, then->best),
             high = propane::pressure_band(from.evidence.mix, then->high);
  for (const auto* band : {&low, &middle, &high})
    if (!*band) return tl::unexpected(band->error());
  answer.temperature_then_low = then->low;
  answer.temperature_then = then->best;
  answer.temperature_then_high = then->high;
  const Volume shell = from.vessel.shell;
  std::array<Volume, 5> liquids{};
  const std::array<std::pair<Mass, Temperature>, 5> states{{{account.mass_low, then->low},
                                                            {account.mass_low, then->high},
                                                            {account.mass_high, then->low},
                                                            {account.mass_high, then->high},
                                                            {account.mass_best, then->best}}};
  for (std::size_t i = 0; i < states.size(); ++i) {
    const auto liquid = liquid_of(shell, states[i].first, states[i].second);
    if (!liquid) return tl::unexpected(liquid.error());
    liquids[i] = *liquid;
  }
  // Of little liquid the warm state shows less, of much the cold one.
  answer.liquid_volume_then_low = *std::min_element(liquids.begin(), liquids.end());
  answer.liquid_volume_then = liquids.back();
  answer.liquid_volume_then_high = *std::max_element(liquids.begin(), liquids.end());
  // Where liquid may fill the shell the vapour's pressure is no bound, and none is told.
  bool full = from.account.liquid_high < 0.999 * shell && *answer.liquid_volume_then_high >= 0.999 * shell;
  Pressure least = low->low, likely = middle->best, most = high->high;
  if (q.charge) {
    // At least nothing of it is counted on, at most none of it has dissolved.
    for (const propane::Charge& charge : charges(from)) {
      const auto added = propane::charge_at_most(charge, then->high);
      if (!added && added.error().sentence.key == "propane.liquid_full") {
        full = true;
        break;
      }
      if (!added) return tl::unexpected(added.error());
      most = std::max(most, high->high + *added);
    }
    likely += 0.5 * (*answer.charge_now_low + *answer.charge_now_high);
    likely = std::clamp(likely, least, most);
  }
  if (full) {
    answer.cautions.push_back(say("cylinder.full_then", {{"then", measure::of(then->high)}}));
  } else {
    answer.gauge_pressure_then_low = propane::gauge(least, q.ambient);
    answer.gauge_pressure_then = propane::gauge(likely, q.ambient);
    answer.gauge_pressure_then_high = propane::gauge(most, q.ambient);
  }
  tell_level(from, answer, then->best);
  answer.notes.push_back(say("cylinder.then_lump"));
  return {};
}

Result<void> tell_margins(const OutlookFrom& from, CylinderAnswer& answer) {
  const CylinderQuestion& q = from.question;
  const auto relief = q.relief ? q.relief : from.fitted.relief;
  if (relief) {
    std::optional<propane::Charge> charge;
    if (q.charge) charge = charges(from).back();  // the most liquid leaves the least room
    const auto opens = propane::relief_temperature(*relief, q.ambient, from.evidence.mix, charge);
    if (opens)
      answer.relief_temperature = *opens;
    else if (opens.error().sentence.key != "propane.relief_outside")
      return tl::unexpected(opens.error());
    else
      answer.notes.push_back(opens.error().sentence);
  } else {
    answer.notes.push_back(say("cylinder.relief_unknown"));
  }
  // With nothing known of how full it is, the temperature at which it fills is no news: that is told by itself.
  const bool known = from.account.liquid_high < 0.999 * from.vessel.shell;
  if (!known) answer.cautions.push_back(say("cylinder.full_not_excluded"));
  const auto opens = answer.relief_temperature;
  const auto full = known ? answer.liquid_full_temperature : std::nullopt;
  if (full && opens)
    answer.reasons.push_back(
        say(*opens < *full ? "cylinder.relief_first" : "cylinder.full_first",
            {{"relief", measure::of(*relief)}, {"opens", measure::of(*opens)}, {"full", measure::of(*full)}}));
  else if (opens)
    answer.reasons.push_back(say(known ? "cylinder.relief_alone" : "cylinder.relief_at",
                                 {{"relief", measure::of(*relief)}, {"opens", measure::of(*opens)}}));
  else if (full)
    answer.reasons.push_back(say("cylinder.full_alone", {{"full", measure::of(*full)}}));
  if (full && *full < celsius(50.0))
    answer.cautions.push_back(say("cylinder.full_below", {{"full", measure::of(*full)}}));
  std::optional<Temperature> first = full;
  if (opens && (!first || *opens < *first)) first = opens;
  if (!known || !first) return {};
  if (from.account.temperature_known) answer.margin = *first - from.account.warmest;
  for (const AirUntil& piece : q.air) {
    const TemperatureDelta left = *first - piece.air;
    answer.margin_air = answer.margin_air ? std::min(*answer.margin_air, left) : left;
  }
  const TemperatureDelta none{};
  if ((answer.margin && *answer.margin <= none) || (answer.margin_air && *answer.margin_air <= none))
    answer.cautions.push_back(say("cylinder.margin_none"));
  else if (answer.margin && answer.margin_air)
    answer.reasons.push_back(say("cylinder.margin_both",
                                 {{"margin", measure::of(*answer.margin)}, {"air", measure::of(*answer.margin_air)}}));
  else if (answer.margin)
    answer.reasons.push_back(say("cylinder.margin", {{"margin", measure::of(*answer.margin)}}));
  return {};
}

void judge_pressure(const OutlookFrom& from, CylinderAnswer& answer) {
  const auto& read = from.question.gauge_pressure;
  if (read || from.account.temperature_known) {
    const Judged now =
        judged(from.fitted, read ? *read : answer.gauge_pressure_low, read ? *read : answer.gauge_pressure_high);
    answer.pressure_state = now.state;
    answer.reasons.push_back(pressure_words(from.fitted, read ? "read" : "expected", now));
  }
  // Its bounds have just been told: a temperature then needs one now.
  if (answer.gauge_pressure_then) {
    const Judged then = judged(from.fitted, *answer.gauge_pressure_then_low, *answer.gauge_pressure_then_high);
    answer.reasons.push_back(say("cylinder.pressure_later", {{"state", Term{"cylinder.pressure_" + then.word}}}));
  }
}

}  // namespace pappus::desk
