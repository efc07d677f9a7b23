#include "core/sheet/sections/sources.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "core/sheet/defaults.hpp"
#include "core/sheet/facts.hpp"
#include "core/wind/forecast.hpp"
#include "core/wind/profile.hpp"

namespace pappus::sheet {
namespace {

// What the pilot noted of the air; the rest is of the ground and the people on it.
constexpr std::array<std::string_view, 8> kLooksAtTheAir{"wind", "visibility", "cloud", "storm",
                                                         "fog",  "smoke",      "dew",   "frost"};

bool is_at_the_ground(const Facts& facts, AltitudeAmsl altitude) {
  return abs(altitude - facts.morning.flight.field.elevation) <= 1.0 * metre;
}

class Teller {
 public:
  explicit Teller(const Facts& facts)
      : facts_{facts},
        temperatures_{wind::temperatures_aloft(facts.ladders, facts.morning.flight.field.elevation, {},
                                               facts.morning.flight.time.at)} {}

  std::vector<SourceUse> tell() {
    const Flight& flight = facts_.morning.flight;
    for (std::size_t i = 0; i < flight.looks.size(); ++i) tell_look(flight.looks[i], {SourceList::look, i});
    // Those of the pilot balloons stand behind the flight's own.
    for (std::size_t i = flight.ladders.size(); i < facts_.ladders.size(); ++i) tell_ladder(i, say("source.pibal"));
    for (std::size_t i = 0; i < flight.ladders.size(); ++i)
      tell_ladder(i, say("source.ladder_" + std::string(name_of(flight.ladders[i].source.kind))));
    for (std::size_t i = 0; i < flight.reports.size(); ++i) tell_report(flight.reports[i], {SourceList::report, i});
    const std::vector<const wind::Forecast*> newest = newest_forecasts(flight);
    for (const wind::Forecast& forecast : flight.forecasts) tell_forecast(forecast, newest);
    return std::move(out_);
  }

 private:
  SourceUse& add(const wind::Source& source, Sentence what) {
    SourceUse& use = out_.emplace_back();
    use.kind = source.kind;
    use.what = std::move(what);
    use.name = source.name;
    use.time = facts_.local(source.time);
    use.age = facts_.age(source.time);
    use.old = is_old(source.kind, use.age);
    return use;
  }

  // Beyond the age at which a limit on it is near. What is forecast for a time ahead is not old.
  static bool is_old(wind::SourceKind kind, Duration age) {
    switch (kind) {
      case wind::SourceKind::report: return age > kDefaults.report_age_near;
      case wind::SourceKind::forecast: return age > kDefaults.winds_forecast_near;
      case wind::SourceKind::pibal:
      case wind::SourceKind::seen:
      case wind::SourceKind::sounding: return age > kDefaults.winds_seen_near;
    }
    return true;
  }

  [[nodiscard]] HeightAgl height(AltitudeAmsl altitude) const {
    return height_over(facts_.morning.flight.field.elevation, altitude);
  }

  // One figure at the ground: used, or another counts.
  template <class T>
  void tell_figure(SourceUse& use, std::string_view figure, const std::optional<Sourced<T>>& held, SourceRef from) {
    if (!held) return;
    const std::string key(figure);
    if (held->from == from) {
      use.uses.push_back(say("source.use." + key));
      return;
    }
    const Moment time = facts_.local(held->time);
    if (held->from.list == SourceList::typed)
      use.beaten.push_back(say("source.beaten." + key + "_typed"));
    else if (held->from.list == SourceList::look)
      use.beaten.push_back(say("source.beaten." + key + "_look", {{"time", time}}));
    else
      use.beaten.push_back(say("source.beaten." + key, {{"name", held->name}, {"time", time}}));
  }

  // "_at" for one height, nothing for two: the arguments to match stand in `arguments`.
  static void say_heights(std::vector<Sentence>& to, std::string key, HeightAgl low, HeightAgl high,
                          std::vector<Argument> arguments) {
    if (low == high) {
      key += "_at";
      arguments.push_back({"height", measure::of(low)});
    } else {
      arguments.push_back({"low", measure::of(low)});
      arguments.push_back({"high", measure::of(high)});
    }
    to.push_back(say(std::move(key), std::move(arguments)));
  }

  // The heights at which its wind serves, in runs that no other source interrupts; and where it gave way.
  void tell_winds(SourceUse& use, const wind::Source& source) const {
    const auto top = highest_shown(facts_);
    bool above = false;
    std::optional<std::pair<AltitudeAmsl, AltitudeAmsl>> run;
    const auto close = [&] {
      if (!run) return;
      if (is_at_the_ground(facts_, run->second))
        use.uses.push_back(say("source.use.wind_ground"));
      else
        say_heights(use.uses, "source.use.winds", height(run->first), height(run->second), {});
      run.reset();
    };
    for (const wind::Level& level : facts_.winds.levels()) {
      const bool serves = std::find(level.sources.begin(), level.sources.end(), source) != level.sources.end();
      const bool shown = !top || level.altitude <= *top;
      above = above || (serves && !shown);
      if (!serves || !shown)
        close();
      else
        run = {run ? run->first : level.altitude, level.altitude};
    }
    close();
    if (above) use.uses.push_back(say("source.use.winds_above"));
    for (const wind::Superseded& lost : facts_.winds.superseded()) {
      if (lost.source != source || (top && lost.lowest > *top)) continue;
      const std::string why = "source.beaten.winds_" + std::string(name_of(lost.why));
      say_heights(use.beaten, why, height(lost.lowest), height(lost.highest),
                  {{"name", lost.by.name}, {"time", facts_.local(lost.by.time)}});
    }
  }

  void tell_temperatures(SourceUse& use, const wind::Ladder& ladder) const {
    std::optional<std::pair<AltitudeAmsl, AltitudeAmsl>> used;
    const auto top = highest_shown(facts_);
    bool any = false;
    for (const wind::LadderRow& row : ladder.rows) {
      if (!row.temperature || height(row.altitude).from_origin() <= kSurfaceLayer) continue;
      if (top && row.altitude > *top) continue;
      any = true;
      const bool serves =
          std::any_of(temperatures_.begin(), temperatures_.end(), [&](const air::TemperatureLevel& level) {
            return level.altitude == row.altitude && level.temperature == *row.temperature;
          });
      if (serves)
        used = {used ? std::min(used->first, row.altitude) : row.altitude,
                used ? std::max(used->second, row.altitude) : row.altitude};
    }
    if (used)
      say_heights(use.uses, "source.use.temperatures", height(used->first), height(used->second), {});
    else if (any)
      use.beaten.push_back(say("source.beaten.temperatures"));
  }

  void tell_look(const Look& look, SourceRef from) {
    if (std::find(kLooksAtTheAir.begin(), kLooksAtTheAir.end(), look.what) == kLooksAtTheAir.end()) return;
    SourceUse& use = add({wind::SourceKind::seen, look.words, look.time.at}, say("source.look_" + look.what));
    // A look is about this minute: it ages as a report does.
    use.old = use.age > kDefaults.report_age_near;
    const Look* newest = &look;
    for (const Look& other : facts_.morning.flight.looks)
      if (other.what == look.what && other.time.at > newest->time.at) newest = &other;
    if (newest != &look)
      use.beaten.push_back(say("source.beaten.look", {{"time", facts_.local(newest->time.at)}}));
    else if (look.what == "wind")
      tell_figure(use, "surface_wind", facts_.surface_wind, from);
    else if (look.what == "visibility" || look.what == "storm" || look.what == "cloud")
      use.uses.push_back(say("source.use.look"));
    else
      use.uses.push_back(say("source.use.noted"));
  }

  void tell_ladder(std::size_t index, Sentence what) {
    const wind::Ladder& ladder = facts_.ladders[index];
    SourceUse& use = add(ladder.source, std::move(what));
    const SourceRef from{SourceList::ladder, index};
    bool windy = false, warm = false, below = false;
    for (const wind::LadderRow& row : ladder.rows) {
      below = below || height(row.altitude).from_origin() < -1.0 * metre;
      if (abs(row.altitude - facts_.morning.flight.field.elevation) > kSurfaceLayer) continue;
      windy = windy || row.wind;
      warm = warm || row.temperature;
    }
    if (windy) tell_figure(use, "surface_wind", facts_.surface_wind, from);
    if (warm) tell_figure(use, "temperature", facts_.temperature, from);
    tell_winds(use, ladder.source);
    tell_temperatures(use, ladder);
    if (below) use.beaten.push_back(say("source.beaten.below_field"));
  }

  void tell_report(const wind::SurfaceReport& report, SourceRef from) {
    SourceUse& use = add(report.source, say("source.report"));
    if (report.qnh) tell_figure(use, "qnh", facts_.qnh, from);
    if (report.temperature) tell_figure(use, "temperature", facts_.temperature, from);
    if (report.dew_point) tell_figure(use, "dew_point", facts_.dew_point, from);
    if (report.wind_speed) tell_figure(use, "surface_wind", facts_.surface_wind, from);
    tell_winds(use, report.source);
    if (facts_.newest_report == &report)
      use.uses.push_back(say("source.use.weather"));
    else if (facts_.newest_report != nullptr)
      use.beaten.push_back(say("source.beaten.weather", {{"name", facts_.newest_report->station},
                                                         {"time", facts_.local(facts_.newest_report->source.time)}}));
  }

  void tell_forecast(const wind::Forecast& forecast, const std::vector<const wind::Forecast*>& newest) {
    SourceUse& use =
        add({wind::SourceKind::forecast, forecast.station, forecast.issued}, say("source.aerodrome_forecast"));
    for (const wind::Forecast* counts : newest) {
      if (counts->station != forecast.station) continue;
      const Instant from = facts_.morning.flight.time.at;
      const Instant to = from + facts_.morning.flight.planned + kDefaults.forecast_after;
      if (counts != &forecast)
        use.beaten.push_back(say("source.beaten.forecast", {{"time", facts_.local(counts->issued)}}));
      else if (wind::worst_between(forecast, from, to))
        use.uses.push_back(say("source.use.forecast"));
      else
        use.beaten.push_back(say("source.beaten.forecast_silent"));
    }
  }

  const Facts& facts_;
  std::vector<air::TemperatureLevel> temperatures_;
  std::vector<SourceUse> out_;
};

}  // namespace

std::vector<SourceUse> sources_of(const Facts& facts) { return Teller{facts}.tell(); }

PibalSection pibal_section(const PibalSeen& seen, const wind::pibal::Reduction& reduction, UtcOffset offset) {
  PibalSection out;
  out.name = seen.source.name;
  out.time = Moment{seen.source.time, offset};
  out.rise_rate = reduction.rise.rate;
  out.rise_basis = reduction.rise.basis;
  for (const wind::pibal::Layer& layer : reduction.layers)
    out.layers.push_back({layer.bottom, layer.top, layer.wind.direction_from(), layer.wind.speed(), layer.spread});
  for (const wind::pibal::Flag& flag : reduction.flags) out.flags.push_back(flag.sentence);
  return out;
}

std::vector<PibalSection> pibals_of(const Facts& facts) {
  std::vector<PibalSection> out;
  for (const PibalFacts& known : facts.pibals)
    if (known.reduction) out.push_back(pibal_section(*known.seen, *known.reduction, facts.morning.as_of.offset));
  return out;
}

}  // namespace pappus::sheet
