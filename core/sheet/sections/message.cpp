// The word for the people who wait: passengers and crew, who know no trade words.
#include <algorithm>
#include <utility>

#include "core/sheet/facts.hpp"
#include "core/sheet/sections/evening.hpp"

namespace pappus::sheet {
namespace {

// A thing as somebody without the trade's words says it.
Term plain(Watched what) { return Term{"message.what_" + std::string(name_of(what))}; }

bool is_fog(const Tripwire& tripwire) { return tripwire.what == Watched::dew_point_spread && !tripwire.at_most; }

// "... at most 7 kt", begun by `key`; `arguments` are those that the caller's sentence has beside the bounds.
Sentence with_bounds(const std::string& key, const Tripwire& tripwire, std::vector<Argument> arguments) {
  if (is_fog(tripwire)) return say(key + "_fog");
  if (tripwire.what == Watched::wind_from && tripwire.from && tripwire.to) {
    arguments.insert(arguments.end(), {{"from", measure::of(*tripwire.from)}, {"to", measure::of(*tripwire.to)}});
    return say(key + "_sector", std::move(arguments));
  }
  arguments.push_back({"what", plain(tripwire.what)});
  if (tripwire.at_most && tripwire.at_least) {
    arguments.insert(arguments.end(), {{"low", *tripwire.at_least}, {"high", *tripwire.at_most}});
    return say(key + "_between", std::move(arguments));
  }
  arguments.push_back({"bound", tripwire.at_most ? *tripwire.at_most : tripwire.at_least.value_or(Measure{})});
  return say(key + (tripwire.at_most ? "_at_most" : "_at_least"), std::move(arguments));
}

// The pilot's own come first; then what people understand best.
int order(const Tripwire& tripwire) {
  if (tripwire.own) return 0;
  switch (tripwire.what) {
    case Watched::surface_wind: return 1;
    case Watched::dew_point_spread: return 2;
    case Watched::wind_speed: return 3;
    case Watched::gust:
    case Watched::visibility:
    case Watched::cloud_base:
    case Watched::temperature: return 4;
    case Watched::wind_from: return 5;
    case Watched::mass_aboard: return 6;
  }
  return 6;
}

void say_conditions(const std::vector<Tripwire>& tripwires, std::vector<Sentence>& out) {
  std::vector<const Tripwire*> told;
  for (const Tripwire& tripwire : tripwires) told.push_back(&tripwire);
  std::stable_sort(told.begin(), told.end(),
                   [](const Tripwire* a, const Tripwire* b) { return order(*a) < order(*b); });
  if (told.size() > kTripwireDefaults.told) told.resize(kTripwireDefaults.told);
  for (const Tripwire* tripwire : told) out.push_back(with_bounds("message.while", *tripwire, {}));
}

// What became of the evening's answer, in one sentence.
void say_what_became(const FlightSheet& sheet, std::vector<Sentence>& out) {
  const auto& tripwires = sheet.tripwires;
  const auto is = [](TripwireState state) { return [state](const Tripwire& t) { return t.state == state; }; };
  const auto broken = std::find_if(tripwires.begin(), tripwires.end(), is(TripwireState::broken));
  if (broken != tripwires.end()) {
    std::vector<Argument> arguments;
    if (broken->now && !is_fog(*broken)) arguments.push_back({"now", *broken->now});
    out.push_back(with_bounds("message.broken", *broken, std::move(arguments)));
    return;
  }
  const auto open = std::count_if(tripwires.begin(), tripwires.end(), is(TripwireState::not_known));
  if (open > 0) {
    out.push_back(say("message.open", {{"count", measure::count(static_cast<double>(open))}}));
    return;
  }
  const bool is_against = sheet.standing == Standing::against;
  if (!tripwires.empty()) out.push_back(say(is_against ? "message.hold_but" : "message.hold"));
}

}  // namespace

std::vector<Sentence> message_of(const Facts& facts, const FlightSheet& sheet) {
  std::vector<Sentence> out{
      say("message.head", {{"balloon", sheet.balloon}, {"field", sheet.field}, {"time", sheet.time}})};
  if (facts.morning.evening) say_what_became(sheet, out);
  out.push_back(say("message." + std::string(name_of(sheet.standing))));
  // Conditions would only raise hopes in an answer that speaks against the flight anyway.
  if (!facts.morning.evening && sheet.standing != Standing::against) say_conditions(sheet.tripwires, out);
  const Instant latest = sheet.time.at - kTripwireDefaults.next_word;
  if (sheet.as_of.at < latest)
    out.push_back(say("message.next_by", {{"time", Moment{latest, sheet.time.offset}}}));
  else
    out.push_back(say("message.next_at_field"));
  return out;
}

}  // namespace pappus::sheet
