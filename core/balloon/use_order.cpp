#include "core/balloon/use_order.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <tuple>

#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::balloon {
namespace {

constexpr Mass kDust = 1e-9 * kilogram;
constexpr Duration kLongest = 24.0 * hour;

const std::string& side_name(const UseCylinder& c) { return c.side.empty() ? c.id : c.side; }

Result<void> validated(const UseInputs& in) {
  if (in.cylinders.empty()) return fail(Errc::no_data, say("use.no_cylinders"));
  if (in.cylinders.size() > kMostCylinders)
    return refuse_outside("use.cylinders_outside", measure::count(static_cast<double>(in.cylinders.size())),
                          measure::count(1.0), measure::count(static_cast<double>(kMostCylinders)));
  for (std::size_t i = 0; i < in.cylinders.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (in.cylinders[i].id == in.cylinders[j].id)
        return fail(Errc::bad_input, say("use.same_id", {{"id", in.cylinders[i].id}}), in.cylinders[i].id,
                    "a name for each cylinder");
  // Written so that NaN is refused too.
  const Mass most = 1000.0 * kilogram;
  for (const UseCylinder& c : in.cylinders)
    for (const Mass m : {c.usable, c.behind, c.full})
      if (!(m >= Mass{} && m <= most))
        return refuse_outside("use.mass_outside", measure::of(m), measure::of(Mass{}), measure::of(most));
  for (const Mass m : {in.fuel.inflation, in.fuel.used_unlucky})
    if (!(m >= Mass{} && m <= kMostCylinders * most))
      return refuse_outside("use.mass_outside", measure::of(m), measure::of(Mass{}),
                            measure::of(kMostCylinders * most));
  if (!(in.fuel.flow_unlucky > MassFlow{})) return fail(Errc::no_data, say("use.flow_unknown"));
  for (const Duration d : {in.planned, in.minimum, in.landing})
    if (!(d >= Duration{} && d <= kLongest))
      return refuse_outside("use.time_outside", measure::of(d), measure::of(Duration{}), measure::of(kLongest));
  if (!(in.grid >= minute && in.grid <= kLongest))
    return refuse_outside("use.time_outside", measure::of(in.grid), measure::of(minute), measure::of(kLongest));
  return {};
}

/// The inputs in plain numbers: seconds and kilograms, sides by number.
struct Flight {
  std::vector<double> usable_kg;
  std::vector<std::size_t> side_of;
  std::vector<std::string> sides;
  int sides_with_fuel = 0;
  double before_kg, demand_kg, all_kg, planned_s, rate_kg_s, flow_kg_s;
  bool is_short;

  explicit Flight(const UseInputs& in) {
    std::vector<double> side_kg;
    for (const UseCylinder& c : in.cylinders) {
      const auto found = std::find(sides.begin(), sides.end(), side_name(c));
      side_of.push_back(static_cast<std::size_t>(found - sides.begin()));
      if (found == sides.end()) {
        sides.push_back(side_name(c));
        side_kg.push_back(0.0);
      }
      usable_kg.push_back(c.usable.in(kilogram));
      side_kg[side_of.back()] += usable_kg.back();
    }
    sides_with_fuel = static_cast<int>(
        std::count_if(side_kg.begin(), side_kg.end(), [](double kg) { return kg > kDust.in(kilogram); }));
    all_kg = std::accumulate(usable_kg.begin(), usable_kg.end(), 0.0);
    const double needed_kg = in.fuel.used_unlucky.in(kilogram);
    is_short = needed_kg > all_kg;
    demand_kg = std::min(needed_kg, all_kg);
    planned_s = in.planned.in(second);
    const double inflation_kg = (1.0 + kInflationUncertainty) * in.fuel.inflation.in(kilogram);
    // With no time planned everything goes before the launch.
    before_kg = planned_s > 0.0 ? std::min(inflation_kg, needed_kg) : needed_kg;
    rate_kg_s = planned_s > 0.0 ? (needed_kg - before_kg) / planned_s : 0.0;
    flow_kg_s = in.fuel.flow_unlucky.in(kilogram_per_second);
  }

  /// When so much has been drawn altogether; zero before the launch.
  [[nodiscard]] double time_s(double drawn_kg) const {
    return rate_kg_s > 0.0 ? std::clamp((drawn_kg - before_kg) / rate_kg_s, 0.0, planned_s) : 0.0;
  }
  [[nodiscard]] double drawn_kg(double t_s) const { return std::min(demand_kg, before_kg + rate_kg_s * t_s); }
};

struct Stretch {
  std::size_t cylinder;
  double drawn_kg;
};

/// Visits without dust, and with neighbours of one cylinder joined.
std::vector<Stretch> joined(const std::vector<Stretch>& visits) {
  std::vector<Stretch> out;
  for (const Stretch& v : visits) {
    if (v.drawn_kg <= kDust.in(kilogram)) continue;
    if (!out.empty() && out.back().cylinder == v.cylinder)
      out.back().drawn_kg += v.drawn_kg;
    else
      out.push_back(v);
  }
  return out;
}

/// What is left in each cylinder when so much has been drawn altogether.
std::vector<double> left_kg(const Flight& f, const std::vector<Stretch>& stretches, double drawn_kg) {
  std::vector<double> left = f.usable_kg;
  for (const Stretch& s : stretches) {
    const double here = std::clamp(drawn_kg, 0.0, s.drawn_kg);
    left[s.cylinder] = std::max(0.0, left[s.cylinder] - here);
    drawn_kg -= here;
  }
  return left;
}

UseScore score_of(const UseInputs& in, const Flight& f, const std::vector<Stretch>& stretches) {
  UseScore score;
  score.changes = std::max(0, static_cast<int>(stretches.size()) - 1);
  const std::vector<double> left = left_kg(f, stretches, f.demand_kg);
  if (!stretches.empty()) {
    const UseCylinder& last = in.cylinders[stretches.back().cylinder];
    const Mass liquid = left[stretches.back().cylinder] * kilogram + last.behind;
    if (last.full > Mass{}) score.landing_share = liquid / last.full;
    score.lands_well = last.measured && score.landing_share > kLandingShare;
  }
  if (f.is_short) return score;
  // What a loss leaves never rises, so the end counts.
  std::vector<double> side_kg(f.sides.size(), 0.0), side_had_kg(f.sides.size(), 0.0);
  double all_kg = 0.0, largest_cylinder_kg = 0.0;
  for (std::size_t i = 0; i < left.size(); ++i) {
    side_kg[f.side_of[i]] += left[i];
    side_had_kg[f.side_of[i]] += f.usable_kg[i];
    all_kg += left[i];
    largest_cylinder_kg = std::max(largest_cylinder_kg, left[i]);
  }
  double largest_kg = 0.0, smallest_kg = all_kg;
  for (std::size_t s = 0; s < side_kg.size(); ++s) {
    if (side_had_kg[s] <= kDust.in(kilogram)) continue;
    largest_kg = std::max(largest_kg, side_kg[s]);
    smallest_kg = std::min(smallest_kg, side_kg[s]);
  }
  const double lost_kg = f.sides_with_fuel > 1 ? largest_kg : largest_cylinder_kg;
  score.worst_after_loss = std::max(0.0, all_kg - lost_kg) / f.flow_kg_s * second;
  score.smallest_side = smallest_kg / f.flow_kg_s * second;
  return score;
}

UseLoss loss_of(const UseInputs& in, const Flight& f, const std::vector<Stretch>& stretches,
                const std::vector<Duration>& moments, LossOf of, const std::string& name,
                const std::vector<bool>& lost) {
  UseLoss loss;
  loss.of = of;
  loss.name = name;
  const auto rest_kg = [&](double drawn_kg) {
    if (f.is_short) return 0.0;
    const std::vector<double> left = left_kg(f, stretches, drawn_kg);
    double sum = 0.0;
    for (std::size_t i = 0; i < left.size(); ++i)
      if (!lost[i]) sum += left[i];
    return sum;
  };
  for (const Duration t : moments) loss.left.push_back(rest_kg(f.drawn_kg(t.in(second))) / f.flow_kg_s * second);
  const double before_kg = std::min(f.before_kg, f.demand_kg);
  const double enough_kg = in.minimum.in(second)*f.flow_kg_s;
  loss.worst = rest_kg(f.demand_kg) / f.flow_kg_s * second;
  if (rest_kg(before_kg) < enough_kg) loss.too_late_after = Duration{};
  double so_far_kg = 0.0;
  for (const Stretch& s : stretches) {
    const double end_kg = so_far_kg + s.drawn_kg;
    if (!lost[s.cylinder]) {
      if (!f.is_short) loss.worst_from = f.time_s(end_kg) * second;
      // It falls by what is drawn here: the moment follows from how much is too much.
      if (!loss.too_late_after && rest_kg(end_kg) < enough_kg) {
        const double start_kg = std::max(so_far_kg, before_kg);
        loss.too_late_after = f.time_s(start_kg + std::max(0.0, rest_kg(start_kg) - enough_kg)) * second;
      }
    }
    so_far_kg = end_kg;
  }
  return loss;
}

UsePlan worked_out(const UseInputs& in, const Flight& f, const std::vector<Stretch>& stretches) {
  UsePlan plan;
  plan.score = score_of(in, f, stretches);
  plan.sides = f.sides_with_fuel;
  plan.short_of = std::max(Mass{}, in.fuel.used_unlucky - f.all_kg * kilogram);
  double so_far_kg = 0.0;
  for (const Stretch& s : stretches) {
    const double end_kg = so_far_kg + s.drawn_kg;
    const UseCylinder& c = in.cylinders[s.cylinder];
    plan.legs.push_back({c.id, side_name(c), f.time_s(so_far_kg) * second, f.time_s(end_kg) * second,
                         s.drawn_kg * kilogram, left_kg(f, stretches, end_kg)[s.cylinder] * kilogram});
    so_far_kg = end_kg;
  }
  for (Duration t; t < in.planned; t += in.grid) plan.moments.push_back(t);
  plan.moments.push_back(in.planned);
  for (std::size_t i = 0; i < in.cylinders.size(); ++i) {
    std::vector<bool> lost(in.cylinders.size(), false);
    lost[i] = true;
    plan.losses.push_back(loss_of(in, f, stretches, plan.moments, LossOf::cylinder, in.cylinders[i].id, lost));
  }
  for (std::size_t s = 0; s < f.sides.size(); ++s) {
    std::vector<bool> lost;
    for (const std::size_t side : f.side_of) lost.push_back(side == s);
    if (std::count(lost.begin(), lost.end(), true) > 1)
      plan.losses.push_back(loss_of(in, f, stretches, plan.moments, LossOf::side, f.sides[s], lost));
  }
  return plan;
}

enum class Way { in_turn, even_sides, even_cylinders };
constexpr std::array kWays{Way::in_turn, Way::even_sides, Way::even_cylinders};

/// What each side, or each cylinder by itself, gives so that the smallest keeps as much as it can.
std::vector<double> even_draws_kg(const UseInputs& in, Way way) {
  std::vector<CylinderFuel> cylinders;
  for (const UseCylinder& c : in.cylinders)
    cylinders.push_back({c.id, way == Way::even_sides ? side_name(c) : std::string{}, c.usable, c.usable});
  std::vector<double> out;
  for (const SideReserve& side : reserves_at_landing(cylinders, in.fuel).sides) out.push_back(side.drawn.in(kilogram));
  return out;
}

/// Draws by cylinder in an order. `budget_kg` is what each pool may give; `pool_of` the pool of each cylinder.
std::vector<Stretch> drawn_in_order(const Flight& f, const std::vector<std::size_t>& order,
                                    std::vector<double> budget_kg, const std::vector<std::size_t>& pool_of,
                                    double kept_kg) {
  const std::size_t last = order.back();
  double& of_last = budget_kg[pool_of[last]];
  const double kept = std::min({kept_kg, f.usable_kg[last], of_last});
  of_last -= kept;
  std::vector<Stretch> out;
  for (const std::size_t i : order) {
    const double room_kg = f.usable_kg[i] - (i == last ? kept : 0.0);
    const double here = std::max(0.0, std::min(room_kg, budget_kg[pool_of[i]]));
    budget_kg[pool_of[i]] -= here;
    out.push_back({i, here + (i == last ? kept : 0.0)});
  }
  return joined(out);
}

// Less than a whole minute is no difference.
double whole_minutes(Duration d) { return std::floor(d.in(minute) + 1e-9); }
bool is_better(const UseScore& a, const UseScore& b) {
  const auto key = [](const UseScore& s) {
    return std::tuple{whole_minutes(s.worst_after_loss), whole_minutes(s.smallest_side), s.lands_well, -s.changes};
  };
  return key(a) > key(b);
}

}  // namespace

Result<UsePlan> use_plan(const UseInputs& inputs, const std::vector<Visit>& visits) {
  if (auto ok = validated(inputs); !ok) return tl::unexpected{ok.error()};
  const Flight f{inputs};
  std::vector<double> drawn_kg(f.usable_kg.size(), 0.0);
  std::vector<Stretch> stretches;
  bool sound = true;
  for (const Visit& v : visits) {
    sound = sound && v.cylinder < drawn_kg.size() && v.drawn >= Mass{};
    if (!sound) break;
    drawn_kg[v.cylinder] += v.drawn.in(kilogram);
    stretches.push_back({v.cylinder, v.drawn.in(kilogram)});
  }
  constexpr double kSame = 1e-6;  // kg
  double sum_kg = 0.0;
  for (std::size_t i = 0; i < drawn_kg.size(); ++i) {
    sound = sound && drawn_kg[i] <= f.usable_kg[i] + kSame;
    sum_kg += drawn_kg[i];
  }
  if (!sound || !(std::abs(sum_kg - f.demand_kg) <= kSame))
    return refuse_outside("use.visits_outside", measure::of(sum_kg * kilogram), measure::of(f.demand_kg * kilogram),
                          measure::of(f.demand_kg * kilogram), Errc::bad_call);
  return worked_out(inputs, f, joined(stretches));
}

Result<UsePlan> use_in_turn(const UseInputs& inputs, const std::vector<std::size_t>& order) {
  if (auto ok = validated(inputs); !ok) return tl::unexpected{ok.error()};
  std::vector<std::size_t> each(inputs.cylinders.size());
  std::iota(each.begin(), each.end(), std::size_t{0});
  if (!std::is_permutation(order.begin(), order.end(), each.begin(), each.end()))
    return refuse_outside("use.order_outside", measure::count(static_cast<double>(order.size())),
                          measure::count(static_cast<double>(each.size())),
                          measure::count(static_cast<double>(each.size())), Errc::bad_call);
  const Flight f{inputs};
  const std::vector<std::size_t> one_pool(order.size(), 0);
  return worked_out(inputs, f, drawn_in_order(f, order, {f.demand_kg}, one_pool, 0.0));
}

Result<UseProposal> proposed_use(const UseInputs& inputs) {
  if (auto ok = validated(inputs); !ok) return tl::unexpected{ok.error()};
  const Flight f{inputs};
  const std::size_t n = inputs.cylinders.size();
  std::vector<std::size_t> each(n);
  std::iota(each.begin(), each.end(), std::size_t{0});

  std::vector<std::vector<std::size_t>> orders;
  if (n <= kMostPermuted) {
    std::vector<std::size_t> order = each;
    do orders.push_back(order);
    while (std::next_permutation(order.begin(), order.end()));
  } else {
    for (const std::size_t last : each) {
      std::vector<std::size_t> order = each;
      order.erase(order.begin() + static_cast<std::ptrdiff_t>(last));
      order.push_back(last);
      orders.push_back(std::move(order));
    }
  }
  struct Pools {
    std::vector<double> budget_kg;
    std::vector<std::size_t> of;
  };
  std::vector<Pools> pools;
  for (const Way way : kWays) {
    if (way == Way::in_turn)
      pools.push_back({{f.demand_kg}, std::vector<std::size_t>(n, 0)});
    else
      pools.push_back({even_draws_kg(inputs, way), way == Way::even_sides ? f.side_of : each});
  }
  const double landing_kg = std::min(f.rate_kg_s * inputs.landing.in(second), std::max(0.0, f.demand_kg - f.before_kg));

  UseProposal out;
  out.all_orders = n <= kMostPermuted;
  std::vector<Stretch> best;
  UseScore best_score;
  for (const auto& order : orders)
    for (const Pools& pool : pools)
      for (const double kept_kg : {0.0, landing_kg}) {
        if (kept_kg > 0.0 && n == 1) continue;
        std::vector<Stretch> stretches = drawn_in_order(f, order, pool.budget_kg, pool.of, kept_kg);
        const UseScore score = score_of(inputs, f, stretches);
        if (out.tried++ > 0 && !is_better(score, best_score)) continue;
        best = std::move(stretches);
        best_score = score;
      }
  out.plan = worked_out(inputs, f, best);
  return out;
}

}  // namespace pappus::balloon
