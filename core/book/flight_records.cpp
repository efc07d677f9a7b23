#include "core/book/flight_records.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <variant>

#include "core/balloon/lift.hpp"
#include "core/base/math.hpp"

namespace pappus::book {
namespace {

using Ordered = std::vector<const CylinderEvent*>;

bool open_in(const FlightEvent& flight, const std::string& cylinder) {
  return std::any_of(flight.open.begin(), flight.open.end(),
                     [&](const CylinderUse& use) { return use.cylinder == cylinder; });
}

// What an event says of a cylinder's weight: a weight, that it is another now, or nothing.
struct Weight {
  bool touched = false;
  std::optional<Mass> weighed = std::nullopt;
};
Weight weight_of(const CylinderEvent& event, const std::string& cylinder) {
  if (const auto* w = std::get_if<WeighingEvent>(&event.what); w != nullptr && w->cylinder == cylinder)
    return {true, w->weighed};
  if (const auto* f = std::get_if<FillEvent>(&event.what); f != nullptr && f->cylinder == cylinder)
    return {true, f->weighed};
  if (const auto* f = std::get_if<FlightEvent>(&event.what); f != nullptr && open_in(*f, cylinder)) return {true};
  return {};
}

std::optional<Mass> before(const Ordered& events, std::size_t flight, const std::string& cylinder) {
  for (std::size_t i = flight; i-- > 0;)
    if (const Weight w = weight_of(*events[i], cylinder); w.touched) return w.weighed;
  return std::nullopt;
}
std::optional<Mass> after(const Ordered& events, std::size_t flight, const std::string& cylinder) {
  for (std::size_t i = flight + 1; i < events.size(); ++i) {
    const Weight w = weight_of(*events[i], cylinder);
    // A fill by weight says what is in it after the fill, not what the flight left.
    if (w.touched) return std::holds_alternative<WeighingEvent>(events[i]->what) ? w.weighed : std::nullopt;
  }
  return std::nullopt;
}

std::optional<BurntNoted> burnt_between_weights(const Ordered& events, std::size_t place, const RecordErrors& errors) {
  const auto& flight = std::get<FlightEvent>(events[place]->what);
  Mass burnt;
  for (const CylinderUse& use : flight.open) {
    const auto full = before(events, place, use.cylinder), left = after(events, place, use.cylinder);
    if (!full || !left) return std::nullopt;
    burnt += *full - *left;
  }
  // What weighs more after the flight was filled, or misread: it is no burn.
  if (flight.open.empty() || !(burnt > Mass{})) return std::nullopt;
  return burnt_by_weight(burnt, flight.open.size(), errors);
}

// What no balloon shows is set aside before the others are asked: a slip of unit is not to pull them along. The order
// of the list is kept, so that places can be told in it.
Result<Learned> learned(const Prior& prior, const std::vector<DatedRecord>& dated, double least, double most) {
  std::vector<FlightRecord> believable;
  std::vector<std::size_t> place, aside;
  for (std::size_t i = 0; i < dated.size(); ++i) {
    const double value = dated[i].record.value;
    if (value < least || value > most) {
      aside.push_back(i);
      continue;
    }
    believable.push_back(dated[i].record);
    place.push_back(i);
  }
  auto out = learn(prior, believable);
  if (!out) return out;
  for (const std::size_t odd : out->outliers) aside.push_back(place[odd]);
  std::stable_sort(aside.begin(), aside.end());
  out->outliers = std::move(aside);
  return out;
}

double kg(Mass m) { return m.in(kilogram); }

}  // namespace

BurntNoted burnt_by_weight(Mass fuel, std::size_t cylinders, const RecordErrors& errors) {
  return {fuel, math::sqrt(2.0 * static_cast<double>(cylinders)) * errors.scale};
}

FlightRecords flight_records(const std::vector<CylinderEvent>& history, Instant now, const RecordErrors& errors) {
  FlightRecords out;
  const Ordered events = in_order(history, now);
  for (std::size_t i = 0; i < events.size(); ++i) {
    const auto* flight = std::get_if<FlightEvent>(&events[i]->what);
    if (flight == nullptr) continue;
    ++out.flights;
    const auto burnt = flight->burnt ? flight->burnt : burnt_between_weights(events, i, errors);
    if (!flight->foretold) {
      out.not_compared += burnt || flight->crown ? 1 : 0;
      continue;
    }
    const Foretold& foretold = *flight->foretold;
    const auto record = [&](double value, double error) {
      return DatedRecord{events[i]->number, events[i]->happened, {value, error}, false};
    };
    if (burnt) {
      const double part_kg = kg(foretold.loss);
      out.burn.push_back(record(1.0 + kg(burnt->fuel - foretold.fuel) / part_kg,
                                math::hypot(kg(burnt->error), kg(foretold.error)) / part_kg));
      out.burn.back().derived = !flight->burnt;
    }
    if (flight->crown)
      out.crown.push_back(record((flight->crown->hottest - foretold.mean_needed).in(kelvin),
                                 math::hypot(flight->crown->error.in(kelvin), foretold.mean_error.in(kelvin))));
  }
  return out;
}

Result<LearnedFigures> learned_figures(const FlightRecords& records) {
  auto burn = learned(kBurnRatio, records.burn, kLeastLoss, kMostLoss);
  if (!burn) return tl::unexpected(std::move(burn.error()));
  auto crown = learned(kCrownExcess, records.crown, kLeastExcess, kMostExcess);
  if (!crown) return tl::unexpected(std::move(crown.error()));
  return LearnedFigures{*std::move(burn), *std::move(crown)};
}

OwnFigures own_figures(const LearnedFigures& learned, const balloon::HeatSettings& heat) {
  OwnFigures out{heat, balloon::kCrownExcess, kCrownExcess.spread * kelvin};
  if (learned.burn.yours) {
    out.heat.loss = learned.burn.value;
    out.heat.uncertainty = learned.burn.next / learned.burn.value;
  }
  if (learned.crown.yours) {
    out.crown_excess = std::max(learned.crown.value, 0.0) * kelvin;
    out.crown_uncertainty = learned.crown.next * kelvin;
  }
  return out;
}

}  // namespace pappus::book
