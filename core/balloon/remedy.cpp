#include "core/balloon/remedy.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numeric>
#include <utility>

#include "core/base/refusal.hpp"

namespace pappus::balloon {
namespace {

constexpr double kMostSteps = 1.0e6;
constexpr int kParts = 8;
constexpr Mass kUsualPerson = 75.0 * kilogram;

const std::string& side_of(const CylinderFuel& c) { return c.group.empty() ? c.id : c.group; }

int sides_with_fuel(const std::vector<CylinderFuel>& cylinders) {
  std::vector<std::string> sides;
  for (const CylinderFuel& c : cylinders)
    if (c.usable > Mass{}) sides.push_back(side_of(c));
  std::stable_sort(sides.begin(), sides.end());
  return static_cast<int>(std::unique(sides.begin(), sides.end()) - sides.begin());
}

std::vector<CylinderFuel> without(std::vector<CylinderFuel> cylinders, std::size_t left) {
  cylinders.erase(cylinders.begin() + static_cast<std::ptrdiff_t>(left));
  return cylinders;
}

std::optional<double> margin_of(const Margin& margin, const Change& change) {
  const auto m = margin(change);
  if (!m || !std::isfinite(*m)) return std::nullopt;
  return *m;
}

/// One kind of change as a number of steps.
struct Scale {
  RemedyKind kind;
  double most_steps;                           // not always whole: the most allowed is the last step
  std::function<Change(double steps)> change;  // steps from 0 to most_steps
};

struct Found {
  std::optional<double> steps;   // none: no amount will do
  std::optional<double> margin;  // there, or with the most of it
};

/// The smallest whole step, or the most, at which the flight is inside. Domain: outside with no change.
Found smallest(const Scale& scale, const Margin& margin) {
  const auto steps_at = [&](int i) { return std::min(static_cast<double>(i), scale.most_steps); };
  const auto at = [&](int i) { return margin_of(margin, scale.change(steps_at(i))); };
  const int most = static_cast<int>(std::ceil(scale.most_steps));
  int inside = most;
  auto there = at(most);
  const auto with_most = there;
  // No answer at the far end says nothing of what lies before it.
  for (int part = kParts - 1; !there && part > 0; --part) {
    inside = static_cast<int>(static_cast<double>(most) * part / kParts);
    if (inside < 1) break;
    if (const auto m = at(inside); m && *m >= 0.0) there = m;
  }
  if (!there || *there < 0.0) return {std::nullopt, with_most};
  int outside = 0;
  while (inside - outside > 1) {
    const int middle = outside + (inside - outside) / 2;
    const auto m = at(middle);
    if (m && *m >= 0.0) {
      inside = middle;
      there = m;
    } else {
      outside = middle;
    }
  }
  return {steps_at(inside), there};
}

/// As few as will do; then, for the last of them, the lightest that still suffices. Empty where all together do not.
std::vector<std::size_t> who_stays(const std::vector<Mass>& people, Mass needed) {
  std::vector<std::size_t> heaviest_first(people.size());
  std::iota(heaviest_first.begin(), heaviest_first.end(), std::size_t{0});
  std::stable_sort(heaviest_first.begin(), heaviest_first.end(),
                   [&](std::size_t a, std::size_t b) { return people[a] > people[b]; });
  // Sums in another order differ in the last digit: without this everybody together could fall short of themselves.
  const Mass enough = needed - 1.0e-9 * kilogram;
  std::vector<std::size_t> stay;
  Mass sum;
  for (std::size_t n = 0; n < heaviest_first.size(); ++n) {
    if (sum + people[heaviest_first[n]] < enough) {
      stay.push_back(heaviest_first[n]);
      sum += people[heaviest_first[n]];
      continue;
    }
    std::size_t last = n;
    while (last + 1 < heaviest_first.size() && sum + people[heaviest_first[last + 1]] >= enough) ++last;
    stay.push_back(heaviest_first[last]);
    return stay;
  }
  return {};
}

struct Ranged {
  Measure value, low, high;
};

Result<void> checked(const RemedyInputs& in) {
  if (!in.margin) return fail(Errc::bad_call, say("remedy.no_margin"), {}, "a margin to ask");
  const double none = 0.0, some = 1.0e-6, many = 1.0e9;
  std::vector<Ranged> all;
  const auto range = [&](Measure value, double low) { all.push_back({value, {low, value.kind}, {many, value.kind}}); };
  for (const Measure step : {measure::of(in.steps.people), measure::height(in.steps.lower),
                             measure::of(in.steps.cooler), measure::of(in.steps.shorter)})
    range(step, some);
  for (const Measure most : {measure::of(in.people_most), measure::height(in.lower_most), measure::of(in.cooler_most),
                             measure::of(in.shorter_most)})
    range(most, none);
  for (const double cost : {in.costs.lower_100_m, in.costs.shorter_10_min, in.costs.leave_cylinder, in.costs.side_lost,
                            in.costs.person, in.costs.cooler_1_k})
    range(measure::number(cost), none);
  for (const Mass m : in.people) range(measure::of(m), none);
  for (const double steps : {in.people_most / in.steps.people, in.lower_most / in.steps.lower,
                             in.cooler_most / in.steps.cooler, in.shorter_most / in.steps.shorter})
    all.push_back({measure::number(steps), measure::number(0.0), measure::number(kMostSteps)});
  // Written so that NaN is refused too.
  for (const Ranged& r : all)
    if (!(r.value.si >= r.low.si && r.value.si <= r.high.si))
      return refuse_outside("remedy.setting_outside", r.value, r.low, r.high, Errc::bad_input);
  return {};
}

/// What a change of a kind says and costs.
void price(Remedy& r, const RemedyCosts& costs) {
  switch (r.kind) {
    case RemedyKind::lower:
      r.cost = costs.lower_100_m * (r.change.lower / (100.0 * metre));
      r.words = {say("remedy.lower", {{"height", measure::height(r.change.lower)}})};
      return;
    case RemedyKind::shorter:
      r.cost = costs.shorter_10_min * (r.change.shorter / (10.0 * minute));
      r.words = {say("remedy.shorter", {{"time", measure::of(r.change.shorter)}})};
      return;
    case RemedyKind::cooler:
      r.cost = costs.cooler_1_k * r.change.cooler.in(kelvin);
      r.words = {say("remedy.cooler", {{"drop", measure::of(r.change.cooler)}})};
      return;
    case RemedyKind::leave_people: {
      const double persons =
          r.people.empty() ? std::ceil(r.change.people_left / kUsualPerson) : static_cast<double>(r.people.size());
      r.cost = costs.person * persons;
      r.words = {r.people.empty() ? say("remedy.leave_mass", {{"mass", measure::of(r.change.people_left)}})
                                  : say("remedy.leave_people", {{"count", measure::count(persons)},
                                                                {"mass", measure::of(r.change.people_left)}})};
      return;
    }
    case RemedyKind::leave_cylinder: {
      const Independence& i = *r.independence;
      r.cost = costs.leave_cylinder + costs.side_lost * (i.sides_before - i.sides_after);
      r.words = {say("remedy.leave_cylinder", {{"id", i.id}, {"fuel", measure::of(i.usable_left)}})};
      const Measure before = measure::count(i.sides_before), after = measure::count(i.sides_after);
      if (i.sides_after == i.sides_before)
        r.words.push_back(say("remedy.sides_kept", {{"before", before}}));
      else if (i.sides_after == 1)
        r.words.push_back(say("remedy.one_side_left"));
      else
        r.words.push_back(say("remedy.side_lost", {{"before", before}, {"after", after}}));
      r.words.push_back(i.before ? say("remedy.reserves", {{"before", measure::of(i.before->smallest_side)},
                                                           {"after", measure::of(i.after.smallest_side)}})
                                 : say("remedy.reserve_after", {{"after", measure::of(i.after.smallest_side)}}));
      return;
    }
  }
}

NoRemedy none_of(RemedyKind kind, std::optional<double> margin, Sentence words) {
  return {kind, std::nullopt, margin, std::move(words)};
}

Sentence not_enough(const Scale& scale) {
  const Change most = scale.change(scale.most_steps);
  switch (scale.kind) {
    case RemedyKind::lower: return say("remedy.lower_not_enough", {{"height", measure::height(most.lower)}});
    case RemedyKind::shorter: return say("remedy.shorter_not_enough", {{"time", measure::of(most.shorter)}});
    case RemedyKind::cooler: return say("remedy.cooler_not_enough", {{"drop", measure::of(most.cooler)}});
    case RemedyKind::leave_people: return say("remedy.people_not_enough", {{"mass", measure::of(most.people_left)}});
    case RemedyKind::leave_cylinder: break;  // has no scale
  }
  return {};
}

void try_scale(const Scale& scale, const RemedyInputs& in, Remedies& out) {
  if (!(scale.most_steps > 0.0)) return;
  const Found found = smallest(scale, in.margin);
  if (!found.steps) {
    out.none.push_back(none_of(scale.kind, found.margin, not_enough(scale)));
    return;
  }
  Remedy r;
  r.kind = scale.kind;
  r.change = scale.change(*found.steps);
  r.margin = *found.margin;
  if (scale.kind == RemedyKind::leave_people && !in.people.empty()) {
    r.people = who_stays(in.people, r.change.people_left);
    r.change.people_left = {};
    for (const std::size_t i : r.people) r.change.people_left += in.people[i];
    const auto margin = margin_of(in.margin, r.change);
    if (r.people.empty() || !margin || *margin < 0.0) {
      out.none.push_back(none_of(scale.kind, margin, not_enough(scale)));
      return;
    }
    r.margin = *margin;
  }
  price(r, in.costs);
  out.found.push_back(std::move(r));
}

void try_cylinder(std::size_t left, const std::optional<FlightFuel>& planned, const RemedyInputs& in, Remedies& out) {
  const auto no = [&](std::optional<double> margin, const char* key) {
    out.none.push_back({RemedyKind::leave_cylinder, left, margin, say(key, {{"id", in.cylinders[left].id}})});
  };
  if (sides_with_fuel(without(in.cylinders, left)) == 0) return no(std::nullopt, "remedy.last_cylinder");
  Change change;
  change.cylinder_left = left;
  const auto margin = margin_of(in.margin, change);
  if (!margin || *margin < 0.0) return no(margin, "remedy.cylinder_not_enough");
  if (!in.fuel) return no(margin, "remedy.cylinder_fuel_unknown");
  const auto fuel = in.fuel(change);
  if (!fuel) return no(margin, "remedy.cylinder_fuel_unknown");
  Remedy r;
  r.kind = RemedyKind::leave_cylinder;
  r.change = change;
  r.margin = *margin;
  const auto alone = independence(in.cylinders, left, planned, *fuel);
  if (!alone) return no(margin, "remedy.cylinder_fuel_unknown");  // not with an index of our own
  r.independence = *alone;
  if (r.independence->after.short_of > Mass{}) {
    out.none.push_back({RemedyKind::leave_cylinder, left, margin,
                        say("remedy.cylinder_fuel_short",
                            {{"id", in.cylinders[left].id}, {"mass", measure::of(r.independence->after.short_of)}})});
    return;
  }
  price(r, in.costs);
  out.found.push_back(std::move(r));
}

}  // namespace

Result<Independence> independence(const std::vector<CylinderFuel>& cylinders, std::size_t left,
                                  const std::optional<FlightFuel>& fuel_before, const FlightFuel& fuel_after) {
  if (left >= cylinders.size())
    return fail(Errc::bad_call, say("remedy.no_such_cylinder"), std::to_string(left),
                "an index below " + std::to_string(cylinders.size()));
  const std::vector<CylinderFuel> rest = without(cylinders, left);
  Independence out;
  out.id = cylinders[left].id;
  out.usable_left = std::max(cylinders[left].usable, Mass{});
  out.sides_before = sides_with_fuel(cylinders);
  out.sides_after = sides_with_fuel(rest);
  if (fuel_before) out.before = reserves_at_landing(cylinders, *fuel_before);
  out.after = reserves_at_landing(rest, fuel_after);
  return out;
}

Result<Remedies> remedies(const RemedyInputs& in) {
  if (auto ok = checked(in); !ok) return tl::unexpected{ok.error()};
  Remedies out;
  if (const auto planned = margin_of(in.margin, {}); planned && *planned >= 0.0) {
    out.inside_already = true;
    out.finding = say("remedy.inside");
    return out;
  }
  const auto scaled = [](RemedyKind kind, auto Change::*what, auto step, auto most) {
    return Scale{kind, most / step, [=](double steps) {
                   Change c;
                   c.*what = steps * step;
                   return c;
                 }};
  };
  const RemedySteps& step = in.steps;
  try_scale(scaled(RemedyKind::lower, &Change::lower, step.lower, in.lower_most), in, out);
  try_scale(scaled(RemedyKind::shorter, &Change::shorter, step.shorter, in.shorter_most), in, out);
  std::optional<FlightFuel> planned_fuel;
  if (in.fuel && !in.cylinders.empty())
    if (auto fuel = in.fuel({})) planned_fuel = *fuel;
  for (std::size_t i = 0; i < in.cylinders.size(); ++i) try_cylinder(i, planned_fuel, in, out);
  Mass people_most = in.people_most;
  if (!in.people.empty()) {
    Mass all;
    for (const Mass m : in.people) all += m;
    people_most = all;
  }
  try_scale(scaled(RemedyKind::leave_people, &Change::people_left, step.people, people_most), in, out);
  try_scale(scaled(RemedyKind::cooler, &Change::cooler, step.cooler, in.cooler_most), in, out);
  std::stable_sort(out.found.begin(), out.found.end(),
                   [](const Remedy& a, const Remedy& b) { return a.cost < b.cost; });
  out.finding = out.found.empty()
                    ? say("remedy.none")
                    : say("remedy.some", {{"count", measure::count(static_cast<double>(out.found.size()))}});
  return out;
}

}  // namespace pappus::balloon
