// The conditions under which the evening's answer stands: set in the evening, judged at dawn.
#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "core/sheet/defaults.hpp"
#include "core/sheet/facts.hpp"
#include "core/sheet/sections/evening.hpp"

namespace pappus::sheet {
namespace {

constexpr double kUnbounded = std::numeric_limits<double>::infinity();

// ---- what is known of the thing watched

struct Reading {
  double low = 0.0, high = 0.0;  // SI: equal, but where a report tells one side only ("10 km or more")
  std::optional<Measure> shown;  // none where nothing is there to measure: a clear sky
  std::optional<Instant> seen;   // none where it does not age: who comes along
};

Reading exactly(Measure value, std::optional<Instant> seen) { return {value.si, value.si, value, seen}; }

// Of the limit that judges the same thing, so that sheet and tripwire never disagree.
std::optional<Reading> of_limit(std::string_view name, const Facts& facts, const FlightSheet& sheet) {
  for (const Limit& limit : sheet.limits) {
    if (limit.name != name || !limit.value) continue;
    std::optional<Instant> seen;
    if (limit.age) seen = facts.morning.as_of.at - *limit.age;
    return exactly(*limit.value, seen);
  }
  return std::nullopt;
}

std::optional<Reading> gust_of(const Facts& facts) {
  const wind::SurfaceReport* report = facts.newest_report;
  if (report == nullptr || !report->wind_speed) return std::nullopt;
  // A report without a gust group says that there were none above the mean to report.
  return exactly(measure::wind(std::max(*report->wind_speed, report->gust.value_or(Speed{}))), report->source.time);
}

// What the pilot saw and what a report says are both of their moment: the later one counts.
std::optional<Reading> later(std::optional<Reading> a, std::optional<Reading> b) {
  if (!a || !b) return a ? a : b;
  return *a->seen < *b->seen ? b : a;
}

std::optional<Reading> visibility_in(const wind::SurfaceReport& report) {
  if (!report.visibility) return std::nullopt;
  Reading reading =
      exactly(measure::distance(report.visibility_lowest.value_or(*report.visibility)), report.source.time);
  if (report.visibility_below) reading.low = 0.0;
  if (report.visibility_at_least && !report.visibility_lowest) reading.high = kUnbounded;
  return reading;
}

// The lowest layer, however much of it.
std::optional<Reading> cloud_base_in(const wind::SurfaceReport& report) {
  if (report.clouds.empty() && report.sky_clear)
    return Reading{kUnbounded, kUnbounded, std::nullopt, report.source.time};
  std::optional<HeightAgl> lowest;
  for (const wind::CloudLayer& layer : report.clouds) {
    if (!layer.base) return std::nullopt;  // a layer at no known height may be the lowest
    if (!lowest || *layer.base < *lowest) lowest = layer.base;
  }
  return lowest ? std::optional{exactly(measure::of(*lowest), report.source.time)} : std::nullopt;
}

std::optional<Reading> visibility_of(const Facts& facts) {
  std::optional<Reading> newest;
  for (const wind::SurfaceReport& report : facts.morning.flight.reports) newest = later(newest, visibility_in(report));
  for (const Look& look : facts.morning.flight.looks)
    if (look.what == "visibility" && look.value) newest = later(newest, exactly(*look.value, look.time.at));
  return newest;
}

std::optional<Reading> cloud_base_of(const Facts& facts) {
  std::optional<Reading> newest;
  for (const wind::SurfaceReport& report : facts.morning.flight.reports) newest = later(newest, cloud_base_in(report));
  std::optional<Instant> in_words;  // the newest look that tells of cloud and no height
  for (const Look& look : facts.morning.flight.looks) {
    if (look.what != "cloud") continue;
    if (look.value)
      newest = later(newest, exactly(measure::height(look.value->si * metre), look.time.at));
    else if (look.words == "none" || look.words == "clear")
      newest = later(newest, Reading{kUnbounded, kUnbounded, std::nullopt, look.time.at});
    else if (!in_words || *in_words < look.time.at)
      in_words = look.time.at;
  }
  if (newest && in_words && *newest->seen < *in_words) newest->low = 0.0;
  return newest;
}

std::optional<wind::Level> wind_at(HeightAgl height, const Facts& facts) {
  const auto level = facts.winds.at(above(facts.morning.flight.field.elevation, height));
  return level ? std::optional{*level} : std::nullopt;
}

// As old as the oldest source that has a part in it.
std::optional<Instant> seen(const wind::Level& level) {
  std::optional<Instant> oldest;
  for (const wind::Source& source : level.sources)
    if (!oldest || source.time < *oldest) oldest = source.time;
  return oldest;
}

std::optional<Reading> reading_of(const Tripwire& tripwire, const Facts& facts, const FlightSheet& sheet) {
  switch (tripwire.what) {
    case Watched::surface_wind: return of_limit("surface_wind", facts, sheet);
    case Watched::gust: return gust_of(facts);
    case Watched::dew_point_spread: return of_limit("dew_point_spread", facts, sheet);
    case Watched::visibility: return visibility_of(facts);
    case Watched::cloud_base: return cloud_base_of(facts);
    case Watched::temperature:
      if (!facts.temperature) return std::nullopt;
      return exactly(measure::of(facts.temperature->value), facts.temperature->time);
    case Watched::mass_aboard: return exactly(measure::of(sheet.load.people), std::nullopt);
    case Watched::wind_speed:
    case Watched::wind_from: break;
  }
  const auto level = tripwire.height ? wind_at(*tripwire.height, facts) : std::nullopt;
  if (!level) return std::nullopt;
  if (tripwire.what == Watched::wind_speed) return exactly(measure::wind(level->wind.speed()), seen(*level));
  const auto from = level->wind.direction_from();  // calm air comes from nowhere
  return from ? std::optional{exactly(measure::of(*from), seen(*level))} : std::nullopt;
}

// ---- judging

TripwireState judged(const Tripwire& tripwire, const Reading& reading) {
  // What went through other arithmetic lies beside its bound by less than anyone can measure.
  constexpr double hair = 1e-9;
  if (tripwire.what == Watched::wind_from) {
    if (!tripwire.from || !tripwire.to) return TripwireState::not_known;
    const Angle start = tripwire.from->from_north(), hair_deg = hair * 360.0 * degree;
    const Angle width = wrapped(tripwire.to->from_north() - start);
    const Angle at = wrapped(reading.low * degree - start + hair_deg) - hair_deg;
    return at <= width + hair_deg ? TripwireState::holds : TripwireState::broken;
  }
  const double most = tripwire.at_most ? tripwire.at_most->si + hair * std::abs(tripwire.at_most->si) : kUnbounded;
  const double least = tripwire.at_least ? tripwire.at_least->si - hair * std::abs(tripwire.at_least->si) : -kUnbounded;
  // The comparisons are such that what is not a number neither holds nor breaks.
  if (reading.low > most || reading.high < least) return TripwireState::broken;
  const bool is_inside = (!tripwire.at_most || reading.high <= most) && (!tripwire.at_least || reading.low >= least);
  return is_inside ? TripwireState::holds : TripwireState::not_known;
}

void take_evening_value(Tripwire& tripwire, const Facts& facts, const FlightSheet& sheet) {
  tripwire.state = TripwireState::set;
  tripwire.condition = condition_of(tripwire);
  const auto reading = reading_of(tripwire, facts, sheet);
  if (!reading) {
    tripwire.finding = say("tripwire.set_unknown");
    return;
  }
  tripwire.evening = reading->shown;
  const bool is_past = judged(tripwire, *reading) == TripwireState::broken;
  if (reading->shown)
    tripwire.finding = say(is_past ? "tripwire.set_past" : "tripwire.set", {{"value", *reading->shown}});
  else
    tripwire.finding = say("tripwire.set_clear");
}

// `key`, or the sentence that also tells the evening's value.
Sentence with_evening(const Tripwire& tripwire, std::string key, std::vector<Argument> arguments) {
  if (!tripwire.evening) return say(std::move(key), std::move(arguments));
  arguments.push_back({"evening", *tripwire.evening});
  return say(key + "_since", std::move(arguments));
}

void judge_now(Tripwire& tripwire, const Facts& facts, const FlightSheet& sheet, Instant evening) {
  tripwire.state = TripwireState::not_known;
  tripwire.condition = condition_of(tripwire);
  tripwire.now.reset();
  const auto reading = reading_of(tripwire, facts, sheet);
  if (!reading) {
    tripwire.finding = with_evening(tripwire, "tripwire.not_known", {});
    return;
  }
  tripwire.now = reading->shown;
  if (reading->seen && *reading->seen <= evening) {
    tripwire.finding = with_evening(tripwire, "tripwire.stale", {});
    return;
  }
  tripwire.state = judged(tripwire, *reading);
  if (!reading->shown && tripwire.state == TripwireState::not_known)
    tripwire.finding = with_evening(tripwire, "tripwire.not_known", {});
  else if (!reading->shown)
    tripwire.finding = say("tripwire.clear");
  else if (tripwire.state == TripwireState::not_known)
    tripwire.finding = with_evening(tripwire, "tripwire.one_sided", {{"now", *reading->shown}});
  else
    tripwire.finding =
        with_evening(tripwire, tripwire.state == TripwireState::holds ? "tripwire.holds" : "tripwire.broken",
                     {{"now", *reading->shown}});
}

// ---- worked out from the evening's sheet

Tripwire at_most(Watched what, Measure most) {
  Tripwire out;
  out.what = what;
  out.at_most = most;
  return out;
}

Tripwire surface_wind(const Morning& morning) {
  Speed most = morning.flight.minimum.surface_wind.value_or(kDefaults.surface_wind_near);
  if (const auto manual = morning.balloon.envelope.launch_wind_limit) most = std::min(most, *manual);
  return at_most(Watched::surface_wind, measure::wind(most));
}

void add_winds_aloft(const Facts& facts, std::vector<Tripwire>& out) {
  const TripwireDefaults& ours = kTripwireDefaults;
  HeightAgl height = agl(ours.height);
  if (facts.morning.flight.highest) height = std::min(height, *facts.morning.flight.highest);
  const auto level = wind_at(height, facts);
  if (!level) return;
  const Speed speed = level->wind.speed();
  // To the next whole knot and degree: figures that can be remembered. 14.02 kt are shown as 14 kt, and count as such.
  constexpr double shown = 0.05;
  Tripwire faster = at_most(Watched::wind_speed, measure::wind(std::ceil((speed + ours.faster) / knot - shown) * knot));
  faster.height = height;
  out.push_back(faster);
  const auto from = level->wind.direction_from();
  if (!from || speed < ours.steady) return;
  const Angle middle = std::round(from->from_north().in(degree)) * degree;
  Tripwire turned;
  turned.what = Watched::wind_from;
  turned.height = height;
  turned.from = TrueBearing::at(middle - ours.turn);
  turned.to = TrueBearing::at(middle + ours.turn);
  out.push_back(turned);
}

std::optional<Tripwire> spread(const FlightSheet& sheet) {
  for (const Limit& limit : sheet.limits) {
    if (limit.name != "dew_point_spread" || !limit.value || !limit.near_bound) continue;
    Tripwire out;
    out.what = Watched::dew_point_spread;
    // A pilot's own minimum may be stricter than where 'near' begins.
    out.at_least = limit.near_bound->value;
    if (limit.bound) out.at_least->si = std::max(out.at_least->si, limit.bound->value.si);
    return out;
  }
  return std::nullopt;
}

// The same air, all of it warmer by `by`.
Result<air::AirColumn> warmed(const air::AirColumn& column, TemperatureDelta by) {
  const auto ground = column.at(column.ground());
  if (!ground) return tl::unexpected{ground.error()};
  air::AirColumn::Inputs inputs{.ground = column.ground(),
                                .surface_pressure = ground->air.pressure,
                                .surface_temperature = ground->air.temperature + by,
                                .dew_point = ground->air.dew_point,
                                .aloft = {},
                                .above = air::Filling::standard,
                                .top = column.top()};
  for (const AltitudeAmsl z : balloon::levels_flown(column.ground(), column.top())) {
    if (z == column.ground()) continue;
    const auto sample = column.at(z);
    if (!sample) return tl::unexpected{sample.error()};
    inputs.aloft.push_back({z, sample->air.temperature + by});
  }
  return air::AirColumn::from(std::move(inputs));
}

// Whether the crown stays within its limit with every column warmer by `by`.
bool crown_inside(const Facts& facts, TemperatureDelta by) {
  const balloon::Envelope& envelope = facts.morning.balloon.envelope;
  return std::all_of(facts.columns->begin(), facts.columns->end(), [&](const air::AirColumn& column) {
    const auto warm = warmed(column, by);
    if (!warm) return false;
    const auto lift = balloon::flight_lift({.column = *warm,
                                            .highest = *facts.highest(),
                                            .carried = facts.load.total,
                                            .volume = envelope.volume,
                                            .crown_limit = *envelope.crown_limit});
    return lift && lift->worst.crown_expected <= *envelope.crown_limit;
  });
}

// The warmest that the field may become with the crown inside. None where it is beyond already, and where no warmth of
// a morning brings it there.
std::optional<Tripwire> warmest(const Facts& facts) {
  if (!facts.lift || !facts.columns || !facts.temperature || !facts.highest() ||
      !facts.morning.balloon.envelope.crown_limit)
    return std::nullopt;
  TemperatureDelta low, high = kTripwireDefaults.warmer;
  if (!crown_inside(facts, low) || crown_inside(facts, high)) return std::nullopt;
  constexpr TemperatureDelta close = 0.05 * kelvin;
  while (high - low > close) {
    const TemperatureDelta middle = 0.5 * (low + high);
    (crown_inside(facts, middle) ? low : high) = middle;
  }
  const Temperature found = facts.temperature->value + low;
  const Temperature whole = celsius(std::floor(in_celsius(found)));
  return at_most(Watched::temperature, measure::of(whole > facts.temperature->value ? whole : found));
}

std::optional<Tripwire> mass_aboard(const Facts& facts, const FlightSheet& sheet) {
  std::optional<Mass> margin;
  if (facts.lift && facts.morning.balloon.envelope.crown_limit) margin = facts.lift->worst.margin;
  if (sheet.load.gross_limit) {
    const Mass left = *sheet.load.gross_limit - sheet.load.total;
    margin = margin ? std::min(*margin, left) : left;
  }
  if (!margin || *margin < Mass{}) return std::nullopt;
  const Mass most = sheet.load.people + *margin;
  const Mass whole = std::floor(most / kilogram) * kilogram;
  return at_most(Watched::mass_aboard, measure::of(std::max(whole, sheet.load.people)));
}

std::vector<Tripwire> worked_out(const Facts& facts, const FlightSheet& sheet) {
  std::vector<Tripwire> out{surface_wind(facts.morning)};
  add_winds_aloft(facts, out);
  for (auto tripwire : {spread(sheet), warmest(facts), mass_aboard(facts, sheet)})
    if (tripwire) out.push_back(*std::move(tripwire));
  return out;
}

bool is_watched(const std::vector<Tripwire>& by, const Tripwire& tripwire) {
  return std::any_of(by.begin(), by.end(), [&](const Tripwire& t) { return watch_the_same(t, tripwire); });
}

Term word(Watched what) { return Term{"tripwire.what_" + std::string(name_of(what))}; }

}  // namespace

MeasureKind kind_of(Watched what) {
  switch (what) {
    case Watched::surface_wind:
    case Watched::gust:
    case Watched::wind_speed: return MeasureKind::speed_wind;
    case Watched::wind_from: return MeasureKind::bearing_true;
    case Watched::dew_point_spread: return MeasureKind::temperature_delta;
    case Watched::visibility: return MeasureKind::distance;
    case Watched::cloud_base: return MeasureKind::height;
    case Watched::temperature: return MeasureKind::temperature;
    case Watched::mass_aboard: return MeasureKind::mass;
  }
  return MeasureKind::number;
}

bool is_aloft(Watched what) { return what == Watched::wind_speed || what == Watched::wind_from; }

bool watch_the_same(const Tripwire& a, const Tripwire& b) {
  if (a.what != b.what) return false;
  if (!a.height || !b.height) return a.height.has_value() == b.height.has_value();
  return abs(*a.height - *b.height) < kTripwireDefaults.same_height;
}

Sentence condition_of(const Tripwire& tripwire) {
  std::vector<Argument> arguments{{"what", word(tripwire.what)}};
  if (tripwire.height) arguments.push_back({"height", measure::of(*tripwire.height)});
  if (tripwire.what == Watched::wind_from && tripwire.from && tripwire.to) {
    arguments.insert(arguments.end(), {{"from", measure::of(*tripwire.from)}, {"to", measure::of(*tripwire.to)}});
    return say("tripwire.sector", std::move(arguments));
  }
  const bool aloft = tripwire.height.has_value();
  if (tripwire.at_most && tripwire.at_least) {
    arguments.insert(arguments.end(), {{"low", *tripwire.at_least}, {"high", *tripwire.at_most}});
    return say(aloft ? "tripwire.between_aloft" : "tripwire.between", std::move(arguments));
  }
  if (tripwire.at_most) {
    arguments.push_back({"bound", *tripwire.at_most});
    return say(aloft ? "tripwire.at_most_aloft" : "tripwire.at_most", std::move(arguments));
  }
  if (tripwire.at_least) arguments.push_back({"bound", *tripwire.at_least});
  return say(aloft ? "tripwire.at_least_aloft" : "tripwire.at_least", std::move(arguments));
}

std::vector<Tripwire> tripwires_of(const Facts& facts, const FlightSheet& sheet) {
  const std::vector<Tripwire>& own = facts.morning.flight.tripwires;
  if (const auto& evening = facts.morning.evening) {
    std::vector<Tripwire> out = evening->tripwires;
    for (const Tripwire& tripwire : own)
      if (!is_watched(evening->tripwires, tripwire)) out.push_back(tripwire);
    for (Tripwire& tripwire : out) judge_now(tripwire, facts, sheet, evening->as_of.at);
    return out;
  }
  std::vector<Tripwire> out = own;
  for (Tripwire& tripwire : worked_out(facts, sheet))
    if (!is_watched(own, tripwire)) out.push_back(std::move(tripwire));
  for (Tripwire& tripwire : out) take_evening_value(tripwire, facts, sheet);
  return out;
}

}  // namespace pappus::sheet
