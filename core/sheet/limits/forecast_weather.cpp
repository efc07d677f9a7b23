// What aerodrome forecasts say at worst from lift-off until some time after the planned landing. A tool of the evening:
// the sky over the field is for the pilot's eyes.
#include <algorithm>
#include <array>
#include <utility>

#include "core/sheet/defaults.hpp"
#include "core/sheet/limits/limits.hpp"
#include "core/wind/forecast.hpp"

namespace pappus::sheet::limits {
namespace {

using wind::Expected;
using wind::Forecast;

// Pairs of letters behind intensity and vicinity.
template <std::size_t N>
bool holds_any(std::string_view group, const std::array<std::string_view, N>& codes) {
  if (group.substr(0, 2) == "VC") group.remove_prefix(2);
  if (!group.empty() && (group[0] == '-' || group[0] == '+')) group.remove_prefix(1);
  for (; group.size() >= 2; group.remove_prefix(2))
    if (std::find(codes.begin(), codes.end(), group.substr(0, 2)) != codes.end()) return true;
  return false;
}

constexpr std::array<std::string_view, 9> kPrecipitation{"DZ", "RA", "SN", "SG", "IC", "PL", "PE", "UP", "SH"};

bool is_precipitation(std::string_view group) { return holds_any(group, kPrecipitation); }

// What no balloon should meet: violent, freezing, solid or heavy.
bool is_dangerous(std::string_view group) {
  static constexpr std::array<std::string_view, 10> violent{"TS", "SQ", "FC", "GR", "GS", "PL", "PE", "SS", "DS", "VA"};
  static constexpr std::array<std::string_view, 1> freezing{"FZ"};
  return holds_any(group, violent) || group.substr(0, 1) == "+" ||
         (holds_any(group, freezing) && is_precipitation(group));
}

std::string joined(const std::vector<std::string>& groups) {
  std::string out;
  for (const std::string& group : groups) out += (out.empty() ? "" : " ") + group;
  return out;
}

template <class T>
std::optional<T> lower_of(std::optional<T> a, std::optional<T> b) {
  if (!a || !b) return a ? a : b;
  return std::min(*a, *b);
}
template <class T>
std::optional<T> higher_of(std::optional<T> a, std::optional<T> b) {
  if (!a || !b) return a ? a : b;
  return std::max(*a, *b);
}

// One aerodrome's forecast, judged.
struct Judged {
  LimitState state = LimitState::not_known;
  std::vector<Sentence> findings;  // the gravest first
};

class Judge {
 public:
  Judge(const Facts& facts, const Forecast& forecast) : facts_{facts}, forecast_{forecast} {}

  Judged judge() {
    const Instant from = facts_.morning.flight.time.at;
    const Instant to = from + facts_.morning.flight.planned + kDefaults.forecast_after;
    const auto outlook = wind::worst_between(forecast_, from, to);
    if (!outlook) return silent();
    const Expected &steady = outlook->prevailing, &passing = outlook->temporary;
    find_dangers(steady, passing);
    const bool danger = !out_.findings.empty();
    find_cautions(steady, passing);
    const bool caution = !out_.findings.empty();
    if (!outlook->whole) tell("partly", {{"from", facts_.local(outlook->from)}, {"to", facts_.local(outlook->to)}});
    const bool complete = steady.is_complete() && passing.is_complete();
    if (!complete) tell("incomplete");
    if (danger)
      out_.state = LimitState::outside;
    else if (!outlook->whole)
      out_.state = LimitState::not_known;
    else
      out_.state = caution || !complete ? LimitState::near : LimitState::inside;
    if (out_.findings.empty()) tell("quiet");
    return std::move(out_);
  }

 private:
  Judged silent() {
    if (forecast_.cancelled)
      tell("cancelled");
    else if (forecast_.nil || forecast_.periods.empty())
      tell("nil");
    else
      tell("elsewhen", {{"from", facts_.local(forecast_.valid_from)}, {"to", facts_.local(forecast_.valid_to)}});
    return std::move(out_);
  }

  void tell(std::string_view what, std::vector<Argument> arguments = {}) {
    arguments.push_back({"station", forecast_.station});
    out_.findings.push_back(say("limit.forecast_weather." + std::string(what), std::move(arguments)));
  }

  void find_dangers(const Expected& steady, const Expected& passing) {
    std::vector<std::string> dangerous;
    for (const Expected* expected : {&steady, &passing})
      for (const std::string& group : expected->weather)
        if (is_dangerous(group) && std::find(dangerous.begin(), dangerous.end(), group) == dangerous.end())
          dangerous.push_back(group);
    const bool storm = steady.thunderstorm || passing.thunderstorm;
    if (dangerous.empty() && !storm) return;
    tell(storm ? "thunderstorm" : "dangerous", {{"weather", joined(dangerous)}});
  }

  void find_cautions(const Expected& steady, const Expected& passing) {
    if (steady.convective || passing.convective) tell("convective");
    if (const auto gust = higher_of(steady.gust, passing.gust)) tell("gust", {{"gust", measure::wind(*gust)}});
    const auto mean = higher_of(steady.wind_speed, passing.wind_speed);
    if (mean && *mean > kDefaults.surface_wind_near) tell("wind", {{"wind", measure::wind(*mean)}});
    std::vector<std::string> weather;
    for (const Expected* expected : {&steady, &passing})
      for (const std::string& group : expected->weather)
        if (!is_dangerous(group) && group != "NSW" && std::find(weather.begin(), weather.end(), group) == weather.end())
          weather.push_back(group);
    if (!weather.empty()) tell("weather", {{"weather", joined(weather)}});
    const auto visibility = lower_of(steady.visibility, passing.visibility);
    if (visibility && *visibility < kDefaults.forecast_visibility)
      tell("visibility", {{"visibility", measure::distance(*visibility)}});
    const auto cloud = lower_of(steady.cloud_base, passing.cloud_base);
    if (cloud && *cloud < HeightAgl::at(kDefaults.forecast_low_cloud)) tell("cloud", {{"base", measure::of(*cloud)}});
    if (!steady.shear.empty() || !passing.shear.empty()) tell("shear");
    if (!steady.turbulence.empty() || !passing.turbulence.empty()) tell("turbulence");
    if (!steady.icing.empty() || !passing.icing.empty()) tell("icing");
  }

  const Facts& facts_;
  const Forecast& forecast_;
  Judged out_;
};

// The worst of several aerodromes counts.
int gravity(LimitState state) {
  switch (state) {
    case LimitState::outside: return 3;
    case LimitState::near: return 2;
    case LimitState::not_known: return 1;
    case LimitState::inside: return 0;
  }
  return 3;
}

}  // namespace

std::optional<Limit> forecast_weather(const Facts& facts) {
  const std::vector<const Forecast*> forecasts = newest_forecasts(facts.morning.flight);
  if (forecasts.empty()) return std::nullopt;
  Limit limit;
  limit.name = "forecast_weather";
  limit.kind = LimitKind::look;
  limit.source = {Authority::handbook, "FAA-H-8083-11B ch. 4"};
  std::vector<std::pair<const Forecast*, Judged>> judged;
  for (const Forecast* forecast : forecasts) judged.emplace_back(forecast, Judge{facts, *forecast}.judge());
  std::stable_sort(judged.begin(), judged.end(),
                   [](const auto& a, const auto& b) { return gravity(a.second.state) > gravity(b.second.state); });
  limit.state = judged.front().second.state;
  limit.age = facts.age(judged.front().first->issued);
  for (const auto& [forecast, told] : judged)
    for (const Sentence& finding : told.findings) {
      if (limit.finding.key.empty())
        limit.finding = finding;
      else
        limit.notes.push_back(finding);
    }
  if (limit.state == LimitState::outside) limit.remedy = say("limit.forecast_weather.wait");
  if (limit.state == LimitState::near) limit.remedy = say("limit.forecast_weather.watch");
  if (limit.state == LimitState::not_known) limit.remedy = say("limit.forecast_weather.paste");
  return limit;
}

}  // namespace pappus::sheet::limits
