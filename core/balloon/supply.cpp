#include "core/balloon/supply.hpp"

#include <algorithm>
#include <utility>

#include "core/air/isa.hpp"
#include "core/balloon/burner_output.hpp"
#include "core/base/interpolate.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"
#include "core/propane/fill.hpp"
#include "core/propane/saturation.hpp"

namespace pappus::balloon {
namespace {

constexpr Temperature kColdest = celsius(-30.0), kWarmest = celsius(45.0), kAssumed = celsius(15.0);
constexpr Pressure kThinnest = 400.0 * hectopascal, kThickest = 1100.0 * hectopascal;
constexpr MassFlow kMostPilotFlow = 1.0 * kilogram_per_hour;
constexpr int kStates = 17;
constexpr Mass kSpent = 0.05 * kilogram;  // less is told as nothing

Result<void> validated(const SupplyInputs& in) {
  // Written so that NaN is refused too.
  for (const Pressure p : {in.ambient_field, in.ambient_highest})
    if (!(p >= kThinnest && p <= kThickest))
      return refuse_outside("supply.ambient_outside", measure::air(p), measure::air(kThinnest),
                            measure::air(kThickest));
  if (in.ambient_highest > in.ambient_field)
    return refuse_outside("supply.ambient_order", measure::air(in.ambient_highest), measure::air(kThinnest),
                          measure::air(in.ambient_field), Errc::bad_input);
  if (!(in.pilot_flow >= MassFlow{} && in.pilot_flow <= kMostPilotFlow))
    return refuse_outside("supply.pilot_flow_outside", measure::of(in.pilot_flow), measure::of(MassFlow{}),
                          measure::of(kMostPilotFlow));
  if (!(in.fuel.flow > MassFlow{} && in.fuel.flow_unlucky >= in.fuel.flow))
    return fail(Errc::no_data, say("use.flow_unknown"));
  for (const SupplyCylinder& c : in.cylinders)
    if (c.temperature && !(*c.temperature >= kColdest && *c.temperature <= kWarmest))
      return refuse_outside("supply.temperature_outside", measure::of(*c.temperature), measure::of(kColdest),
                            measure::of(kWarmest));
  return {};
}

/// The pressures that a state of a cylinder may show against an ambient pressure.
Result<GaugeBand> gauge_band(const SupplyInputs& in, Temperature t, const std::optional<propane::ChargeLeft>& charge,
                             Pressure ambient) {
  const auto band = propane::pressure_band(in.mix, t);
  if (!band) return tl::unexpected{band.error()};
  const propane::ChargeLeft nitrogen = charge.value_or(propane::ChargeLeft{});
  // How much of a charge dissolves depends on how the cylinder was moved: half-way is as good a guess as any (ours).
  return GaugeBand{propane::gauge(band->low + nitrogen.low, ambient),
                   propane::gauge(band->best + 0.5 * (nitrogen.low + nitrogen.high), ambient),
                   propane::gauge(band->high + nitrogen.high, ambient)};
}

/// When a pressure that falls with what is drawn first lies below `bound`, in level flight at the best flow.
std::optional<Duration> below_after(const std::vector<DrawState>& states, const std::vector<GaugeBand>& gauges,
                                    GaugePressure GaugeBand::*which, GaugePressure bound, MassFlow flow) {
  if (gauges.front().*which < bound) return Duration{};
  for (std::size_t i = 1; i < gauges.size(); ++i) {
    const GaugePressure before = gauges[i - 1].*which, now = gauges[i].*which;
    if (now < bound) return on_line(bound, before, states[i - 1].drawn, now, states[i].drawn) / flow;
  }
  return std::nullopt;
}

struct Worked {
  CylinderSupply shown;
  Mass full;  // liquid at the level fill
};

Result<Worked> worked(const SupplyInputs& in, const SupplyCylinder& c, GaugePressure lowest, PressureAltitude highest) {
  Worked out;
  CylinderSupply& shown = out.shown;
  shown.id = c.fitted.id;
  shown.group = c.fitted.group.empty() ? c.fitted.id : c.fitted.group;
  shown.liquid = c.liquid;
  shown.temperature = c.temperature;
  const Temperature t = c.temperature.value_or(kAssumed);
  const auto s = propane::saturation_at(t);
  if (!s) return tl::unexpected{s.error()};
  const auto total = propane::mass_inside(c.fitted.shell, c.liquid / s->liquid_density, t);
  if (!total) return tl::unexpected{total.error()};
  out.full = c.fitted.level_fill * s->liquid_density;
  const Mass vapour_in_the_end = *total - s->vapour_density * c.fitted.shell;
  shown.usable = std::clamp(std::min(c.liquid - c.fitted.usable_to * out.full, vapour_in_the_end), Mass{}, c.liquid);
  shown.stays_behind = c.liquid - shown.usable;
  shown.lasts_low = shown.usable / in.fuel.flow_unlucky;
  shown.lasts_best = shown.usable / in.fuel.flow;
  shown.lasts_high = (in.fuel.flow_unlucky / in.fuel.flow) * shown.lasts_best;
  if (!c.temperature) return out;
  if (!(shown.usable > Mass{})) {
    // Vapour alone: no liquid to draw, and a charge would not be told from it.
    if (c.nitrogen) return out;
    const auto gauge = gauge_band(in, t, std::nullopt, in.ambient_field);
    if (!gauge) return tl::unexpected{gauge.error()};
    shown.gauge = *gauge;
    return out;
  }

  const bool vapour_pilot = in.burner.pilot_light == PilotLight::vapour;
  const double vapour_share = vapour_pilot ? std::min(1.0, in.pilot_flow / in.fuel.flow) : 0.0;
  const auto states = draw_states({c.fitted.shell, *total, t, c.wall, c.nitrogen}, shown.usable, kStates, vapour_share);
  if (!states) return tl::unexpected{states.error()};
  std::vector<GaugeBand> gauges;
  for (const DrawState& state : *states) {
    const auto gauge = gauge_band(in, state.temperature, state.nitrogen, in.ambient_field);
    if (!gauge) return tl::unexpected{gauge.error()};
    gauges.push_back(*gauge);
  }
  shown.temperature_spent = states->back().temperature;
  shown.gauge = gauges.front();
  shown.gauge_spent = gauges.back();
  shown.may_fall_after = below_after(*states, gauges, &GaugeBand::low, lowest, in.fuel.flow);
  shown.falls_after = below_after(*states, gauges, &GaugeBand::best, lowest, in.fuel.flow);
  if (!in.burner.power) return out;
  const Pressure thinner = in.ambient_field - in.ambient_highest;
  const auto output = [&](GaugePressure at_field, Temperature liquid) {
    return burner_output({*in.burner.power, std::max(GaugePressure{}, at_field + thinner), liquid, highest});
  };
  const auto low = output(gauges.front().low, t), best = output(gauges.front().best, t),
             high = output(gauges.front().high, t), spent = output(gauges.back().best, *shown.temperature_spent);
  for (const auto* one : {&low, &best, &high, &spent})
    if (!*one) return tl::unexpected{one->error()};
  shown.output_low = low->low;
  shown.output = best->best;
  shown.output_high = high->high;
  shown.output_spent = spent->best;
  return out;
}

std::vector<GroupSupply> groups_of(const SupplyInputs& in, const std::vector<CylinderSupply>& cylinders) {
  std::vector<GroupSupply> groups;
  std::vector<bool> all_known;
  for (const CylinderSupply& c : cylinders) {
    auto found = std::find_if(groups.begin(), groups.end(), [&](const GroupSupply& g) { return g.group == c.group; });
    if (found == groups.end()) {
      groups.push_back({});
      all_known.push_back(true);
      found = groups.end() - 1;
      found->group = c.group;
    }
    found->cylinders.push_back(c.id);
    found->usable += c.usable;
    if (c.gauge) {
      found->gauge_lowest = std::min(found->gauge_lowest.value_or(c.gauge->best), c.gauge->best);
      found->gauge_highest = std::max(found->gauge_highest.value_or(c.gauge->best), c.gauge->best);
    } else {
      all_known[static_cast<std::size_t>(found - groups.begin())] = false;
    }
  }
  for (std::size_t i = 0; i < groups.size(); ++i) {
    GroupSupply& g = groups[i];
    g.lasts_low = g.usable / in.fuel.flow_unlucky;
    g.lasts_best = g.usable / in.fuel.flow;
    g.both_open = in.both_open_allowed.value_or(false) && g.cylinders.size() > 1;
    if (!all_known[i]) g.gauge_lowest = g.gauge_highest = std::nullopt;
  }
  return groups;
}

// --- in words ---

void tell_use(const SupplyInputs& in, SupplyPlan& plan) {
  std::vector<Sentence>& out = plan.proposal;
  const UsePlan& use = plan.use;
  out.push_back(say("supply.proposal"));
  for (std::size_t i = 0; i < use.legs.size(); ++i) {
    const UseLeg& leg = use.legs[i];
    if (i + 1 == use.legs.size() && use.short_of > Mass{})
      out.push_back(say("supply.use_to_the_end", {{"id", leg.id}, {"until", measure::of(leg.until)}}));
    else if (i + 1 == use.legs.size())
      out.push_back(say("supply.use_landing", {{"id", leg.id}, {"left", measure::of(leg.left)}}));
    else if (!(leg.until > Duration{}))
      out.push_back(say("supply.use_inflation", {{"id", leg.id}, {"left", measure::of(leg.left)}}));
    else if (leg.left < kSpent)
      out.push_back(say("supply.use_until_spent", {{"id", leg.id}, {"until", measure::of(leg.until)}}));
    else
      out.push_back(say("supply.use_until",
                        {{"id", leg.id}, {"until", measure::of(leg.until)}, {"left", measure::of(leg.left)}}));
  }
  if (use.short_of > Mass{}) return;
  const Measure worst = measure::of(use.score.worst_after_loss);
  if (in.cylinders.size() == 1)
    out.push_back(say("supply.why_one_cylinder"));
  else if (use.sides > 1)
    out.push_back(say("supply.why_sides", {{"worst", worst}, {"smallest", measure::of(use.score.smallest_side)}}));
  else
    out.push_back(say("supply.why_one_side", {{"worst", worst}}));
  if (!use.legs.empty()) {
    const std::string& last = use.legs.back().id;
    const Measure share = measure::ratio(use.score.landing_share);
    if (use.score.lands_well)
      out.push_back(say("supply.lands_well", {{"id", last}, {"share", share}}));
    else if (use.score.landing_share > kLandingShare)
      out.push_back(say("supply.lands_unmeasured", {{"id", last}, {"share", share}}));
    else
      out.push_back(say("supply.lands_low", {{"id", last}, {"share", share}}));
  }
  const std::vector<Argument> counts{{"count", measure::count(plan.tried)},
                                     {"changes", measure::count(use.score.changes)}};
  out.push_back(in.cylinders.size() <= kMostPermuted ? say("supply.tried_all", counts)
                                                     : say("supply.tried_some", counts));
}

void tell_losses(const SupplyInputs& in, SupplyPlan& plan) {
  if (plan.use.short_of > Mass{}) return;
  for (const UseLoss& loss : plan.use.losses) {
    const Measure worst = measure::of(loss.worst), minimum = measure::of(in.minimum);
    const bool side = loss.of == LossOf::side;
    if (!loss.too_late_after) {
      const std::vector<Argument> with{{"name", loss.name}, {"worst", worst}};
      plan.findings.push_back(side ? say("supply.loss_enough_side", with) : say("supply.loss_enough", with));
    } else if (!(*loss.too_late_after > Duration{})) {
      const std::vector<Argument> with{{"name", loss.name}, {"worst", worst}, {"minimum", minimum}};
      plan.findings.push_back(side ? say("supply.loss_always_side", with) : say("supply.loss_always", with));
    } else {
      const std::vector<Argument> with{
          {"name", loss.name}, {"worst", worst}, {"minimum", minimum}, {"after", measure::of(*loss.too_late_after)}};
      plan.findings.push_back(side ? say("supply.loss_late_side", with) : say("supply.loss_late", with));
    }
  }
}

void tell_cylinder(const CylinderSupply& c, GaugePressure lowest, std::optional<GaugePressure> highest,
                   bool power_known, SupplyPlan& plan) {
  const Measure bound = measure::of(lowest);
  plan.findings.push_back(say("supply.lasts", {{"id", c.id},
                                               {"low", measure::of(c.lasts_low)},
                                               {"best", measure::of(c.lasts_best)},
                                               {"high", measure::of(c.lasts_high)},
                                               {"behind", measure::of(c.stays_behind)}}));
  if (!c.gauge) {
    plan.cautions.push_back(say("supply.pressure_unknown", {{"id", c.id}}));
    return;
  }
  if (!c.gauge_spent) return;  // nothing to draw
  plan.findings.push_back(say("supply.pressure", {{"id", c.id},
                                                  {"low", measure::of(c.gauge->low)},
                                                  {"high", measure::of(c.gauge->high)},
                                                  {"spent_low", measure::of(c.gauge_spent->low)},
                                                  {"spent_high", measure::of(c.gauge_spent->high)}}));
  if (highest && c.gauge->high > *highest)
    plan.cautions.push_back(say("supply.may_be_above_now", {{"id", c.id}, {"bound", measure::of(*highest)}}));
  if (c.falls_after && !(*c.falls_after > Duration{}))
    plan.cautions.push_back(say("supply.below_now", {{"id", c.id}, {"bound", bound}}));
  else if (c.falls_after)
    plan.cautions.push_back(
        say("supply.falls_below", {{"id", c.id}, {"bound", bound}, {"after", measure::of(*c.falls_after)}}));
  else if (c.may_fall_after && !(*c.may_fall_after > Duration{}))
    plan.cautions.push_back(say("supply.may_be_below_now", {{"id", c.id}, {"bound", bound}}));
  else if (c.may_fall_after)
    plan.cautions.push_back(
        say("supply.may_fall_below", {{"id", c.id}, {"bound", bound}, {"after", measure::of(*c.may_fall_after)}}));
  if (power_known)
    plan.findings.push_back(say("supply.output", {{"id", c.id},
                                                  {"low", measure::of(*c.output_low)},
                                                  {"best", measure::of(*c.output)},
                                                  {"high", measure::of(*c.output_high)},
                                                  {"spent", measure::of(*c.output_spent)}}));
}

void tell_groups(const SupplyInputs& in, SupplyPlan& plan) {
  const bool pairs =
      std::any_of(plan.groups.begin(), plan.groups.end(), [](const GroupSupply& g) { return g.cylinders.size() > 1; });
  if (!pairs) return;
  if (!in.both_open_allowed) plan.findings.push_back(say("supply.both_open_not_said"));
  if (in.both_open_allowed && !*in.both_open_allowed) plan.findings.push_back(say("supply.both_open_not_allowed"));
  for (const GroupSupply& g : plan.groups) {
    if (!g.both_open) continue;
    plan.findings.push_back(say("supply.both_open_allowed", {{"group", g.group}}));
    if (!g.gauge_lowest || !g.gauge_highest) {
      plan.cautions.push_back(say("supply.equalising_unknown", {{"group", g.group}}));
      continue;
    }
    const Pressure difference = *g.gauge_highest - *g.gauge_lowest;
    if (difference <= kEqualisingPressure) continue;
    std::string from, to;
    for (const CylinderSupply& c : plan.cylinders) {
      if (c.group != g.group) continue;
      if (from.empty() && c.gauge->best == *g.gauge_highest) from = c.id;
      if (to.empty() && c.gauge->best == *g.gauge_lowest) to = c.id;
    }
    plan.cautions.push_back(say(
        "supply.equalising", {{"from", from}, {"to", to}, {"difference", measure::of(GaugePressure::at(difference))}}));
  }
}

void tell_charges(const SupplyInputs& in, SupplyPlan& plan) {
  for (const SupplyCylinder& c : in.cylinders) {
    if (!c.nitrogen || !(*c.nitrogen > Pressure{})) continue;
    plan.cautions.push_back(say("supply.charged", {{"id", c.fitted.id}}));
    if (in.burner.pilot_light == PilotLight::vapour)
      plan.cautions.push_back(say("supply.charged_vapour_pilot", {{"id", c.fitted.id}}));
  }
}

}  // namespace

Result<SupplyPlan> supply_plan(const SupplyInputs& inputs) {
  if (auto ok = validated(inputs); !ok) return tl::unexpected{ok.error()};
  const auto highest = air::pressure_altitude(inputs.ambient_highest);
  if (!highest) return tl::unexpected{highest.error()};

  SupplyPlan plan;
  plan.lowest_is_manual = inputs.burner.pressure.has_value();
  plan.lowest_allowed = inputs.burner.pressure ? inputs.burner.pressure->low : kUsualLowestPressure;
  UseInputs use;
  use.fuel = inputs.fuel;
  use.planned = inputs.planned;
  use.minimum = inputs.minimum;
  use.grid = inputs.grid;
  bool any_temperature = false;
  for (const SupplyCylinder& c : inputs.cylinders) {
    const auto one = worked(inputs, c, plan.lowest_allowed, *highest);
    if (!one) return tl::unexpected{one.error()};
    plan.cylinders.push_back(one->shown);
    use.cylinders.push_back(
        {one->shown.id, one->shown.group, one->shown.usable, one->shown.stays_behind, one->full, c.measured});
    any_temperature = any_temperature || c.temperature.has_value();
  }
  auto proposed = proposed_use(use);
  if (!proposed) return tl::unexpected{proposed.error()};
  plan.use = std::move(proposed->plan);
  plan.tried = proposed->tried;
  plan.groups = groups_of(inputs, plan.cylinders);

  if (plan.use.short_of > Mass{})
    plan.cautions.push_back(say("supply.short", {{"mass", measure::of(plan.use.short_of)}}));
  tell_use(inputs, plan);
  tell_losses(inputs, plan);
  std::optional<GaugePressure> highest_allowed;
  if (inputs.burner.pressure) highest_allowed = inputs.burner.pressure->high;
  for (const CylinderSupply& c : plan.cylinders)
    tell_cylinder(c, plan.lowest_allowed, highest_allowed, inputs.burner.power.has_value(), plan);
  if (!inputs.burner.power) plan.findings.push_back(say("supply.power_unknown"));
  if (any_temperature) {
    const std::vector<Argument> bound{{"bound", measure::of(plan.lowest_allowed)}};
    plan.findings.push_back(plan.lowest_is_manual ? say("supply.bound_manual", bound)
                                                  : say("supply.bound_usual", bound));
    plan.findings.push_back(say("supply.air_left_out"));
  }
  tell_groups(inputs, plan);
  tell_charges(inputs, plan);
  return plan;
}

}  // namespace pappus::balloon
