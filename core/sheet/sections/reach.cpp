#include "core/sheet/sections/reach.hpp"

#include <algorithm>
#include <utility>

#include "core/sheet/facts.hpp"

namespace pappus::sheet {
namespace {

constexpr std::size_t kSectors = 16;
constexpr std::size_t kOutlines = 12;
constexpr std::size_t kCorners = 24;

double twice_area_m2(steer::Displacement a, steer::Displacement b, steer::Displacement c) {
  return (b.east - a.east).in(metre) * (c.north - a.north).in(metre) -
         (b.north - a.north).in(metre) * (c.east - a.east).in(metre);
}

// Corners that change the least are left out: what is drawn then is within reach all the same.
std::vector<GroundPoint> drawn(steer::Polygon corners) {
  while (corners.size() > kCorners) {
    const std::size_t n = corners.size();
    std::size_t flattest = 0;
    double least_m2 = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      const double m2 = twice_area_m2(corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
      if (i > 0 && m2 >= least_m2) continue;
      flattest = i;
      least_m2 = m2;
    }
    corners.erase(corners.begin() + static_cast<std::ptrdiff_t>(flattest));
  }
  std::vector<GroundPoint> out;
  out.reserve(corners.size());
  for (const steer::Displacement& c : corners) out.push_back({c.east, c.north});
  return out;
}

// The ceilings that reach farthest somewhere, those of the most sectors first; then others, evenly, up to kOutlines.
std::vector<std::size_t> worth_drawing(const steer::Footprint& all) {
  std::vector<std::pair<std::size_t, std::size_t>> sectors_of;  // how many, which ceiling
  for (std::size_t i = 0; i < all.ceilings.size(); ++i) {
    std::size_t count = i + 1 == all.ceilings.size() ? kSectors + 1 : 0;  // the highest always
    for (const auto& far : all.far)
      if (far && far->ceiling == all.ceilings[i].ceiling) ++count;
    sectors_of.emplace_back(count, i);
  }
  std::stable_sort(sectors_of.begin(), sectors_of.end(), [](auto a, auto b) { return a.first > b.first; });
  std::vector<std::size_t> chosen;
  for (const auto& [count, i] : sectors_of)
    if (count > 0 && chosen.size() < kOutlines) chosen.push_back(i);
  const std::size_t every = std::max<std::size_t>(1, all.ceilings.size() / (kOutlines / 2));
  for (std::size_t i = every / 2; i < all.ceilings.size() && chosen.size() < kOutlines; i += every)
    if (std::find(chosen.begin(), chosen.end(), i) == chosen.end()) chosen.push_back(i);
  std::stable_sort(chosen.begin(), chosen.end());
  return chosen;
}

// "hold 500 ft for 12 min, then 1,200 ft for 9 min", and how long it all takes.
Sentence how(const steer::Plan& plan, std::vector<Argument> told) {
  told.push_back({"total", measure::of(plan.total)});
  if (plan.holds.empty()) {
    told.push_back({"ceiling", measure::of(plan.ceiling)});
    return say("reach.place.up_and_down", std::move(told));
  }
  told.push_back({"height", measure::of(plan.holds[0].height)});
  told.push_back({"time", measure::of(plan.holds[0].time)});
  // A plan may pass above its holds without staying there.
  const bool passes_above = plan.ceiling > plan.holds[0].height + 1.0 * metre;
  if (plan.holds.size() == 1) {
    if (!passes_above) return say("reach.place.one_hold", std::move(told));
    told.push_back({"ceiling", measure::of(plan.ceiling)});
    return say("reach.place.climb_and_hold", std::move(told));
  }
  told.push_back({"then_height", measure::of(plan.holds[1].height)});
  told.push_back({"then_time", measure::of(plan.holds[1].time)});
  return say("reach.place.two_holds", std::move(told));
}

Sentence finding_of(const steer::PlaceReach& found, HeightAgl known_to, const ReachSection& section) {
  switch (found.reachable) {
    case steer::Reachable::yes: break;
    case steer::Reachable::no:
      return say("reach.place.missed",
                 {{"flight_time", measure::of(section.flight_time)}, {"miss", measure::distance(found.miss)}});
    case steer::Reachable::not_known:
      return say("reach.place.not_known", {{"known", measure::of(known_to)}, {"miss", measure::distance(found.miss)}});
  }
  // The window of time is known wherever the place is reached, but for rounding at its very edge.
  const Duration earliest = found.earliest.value_or(found.plan ? found.plan->total : section.flight_time);
  std::vector<Argument> told{{"earliest", measure::of(earliest)},
                             {"latest", measure::of(found.latest.value_or(earliest))}};
  if (found.plan) return how(*found.plan, std::move(told));
  return say("reach.place.no_plan", std::move(told));
}

PlaceLine place_of(const Place& place, const Field& field, const steer::Reach& reach, HeightAgl known_to,
                   const ReachSection& section) {
  const GroundOffset way = displacement(field.at, place.at);
  const steer::Displacement at{way.east, way.north};
  const steer::PlaceReach found = reach.place({.at = at, .radius = place.radius});
  PlaceLine line;
  line.name = place.name;
  line.bearing = at.bearing();
  line.distance = at.distance();
  line.reachable = found.reachable;
  line.earliest = found.earliest;
  line.latest = found.latest;
  line.miss = found.miss;
  if (found.plan) {
    for (const steer::Hold& hold : found.plan->holds) line.plan.push_back({hold.height, hold.time});
    line.plan_time = found.plan->total;
  }
  line.finding = finding_of(found, known_to, section);
  return line;
}

// The widest of the errors to be expected of the winds that were used.
Speed wind_error(const wind::WindProfile& winds, HeightAgl up_to) {
  Speed widest;
  for (const wind::Level& level : winds.levels())
    if (height_over(winds.ground(), level.altitude) <= up_to) widest = std::max(widest, level.spread);
  return widest;
}

}  // namespace

Result<ReachSection> reach_section(const Facts& facts) {
  const Flight& flight = facts.morning.flight;
  if (!flight.highest) return fail(Errc::no_data, say("fact.highest_missing"));
  const auto column = steer::Column::from(facts.winds, *flight.highest);
  if (!column) return tl::unexpected{column.error()};
  const HeightAgl known_to = column->top();
  const auto reach = steer::Reach::of({.column = *column, .ceiling = *flight.highest, .flight_time = flight.planned});
  if (!reach) return tl::unexpected{reach.error()};

  const steer::Footprint all = reach->footprint({.ceilings = 30, .sectors = kSectors});
  ReachSection out;
  out.flight_time = flight.planned;
  out.highest = all.highest;
  out.limit = all.limit;
  for (const std::size_t i : worth_drawing(all)) {
    const steer::CeilingReach& c = all.ceilings[i];
    out.ceilings.push_back({c.ceiling, c.least_time, drawn(c.within_time)});
  }
  for (const auto& far : all.far)
    if (far) out.far.push_back({far->bearing, far->distance, far->ceiling, far->earliest, far->latest});
  for (const Place& place : flight.places) out.places.push_back(place_of(place, flight.field, *reach, known_to, out));

  if (all.limit == steer::CeilingLimit::limited_by_gap)
    out.notes.push_back(say("reach.gap_note", {{"known", measure::of(known_to)}}));
  if (all.limit == steer::CeilingLimit::flight_time)
    out.notes.push_back(say("reach.time_note", {{"highest", measure::of(all.highest)}}));
  const Speed error = wind_error(facts.winds, out.highest);
  out.notes.push_back(say("reach.error_note", {{"error", measure::wind(error)},
                                               {"time", measure::of(flight.planned)},
                                               {"distance", measure::distance(error * flight.planned)}}));
  const std::vector<steer::RateBand> rates = steer::default_rates();
  out.notes.push_back(say("reach.rates_note", {{"slow", measure::vertical(rates.front().up)},
                                               {"below", measure::of(rates.back().from)},
                                               {"up", measure::vertical(rates.back().up)},
                                               {"down", measure::vertical(rates.back().down)}}));
  out.notes.push_back(say("reach.caution_note"));
  return out;
}

}  // namespace pappus::sheet
