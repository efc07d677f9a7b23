#include "core/wind/forecast.hpp"

#include <algorithm>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>

namespace pappus::wind {
namespace {

using Period = ForecastPeriod;

// What one statement can replace without the rest.
enum class Quantity { wind, visibility, cloud, weather, shear, icing, turbulence, not_read };

bool is_temporary(const Period& p) {
  return p.kind == PeriodKind::tempo || p.kind == PeriodKind::prob || p.kind == PeriodKind::prob_tempo ||
         p.kind == PeriodKind::inter;
}

bool names(const Period& p, Quantity q) {
  switch (q) {
    case Quantity::wind: return p.wind_speed.has_value();
    case Quantity::visibility: return p.visibility.has_value();
    case Quantity::cloud: return p.sky_clear || !p.clouds.empty();
    case Quantity::weather: return p.weather_ends || !p.weather.empty();
    case Quantity::shear: return !p.shear.empty();
    case Quantity::icing: return !p.icing.empty();
    case Quantity::turbulence: return !p.turbulence.empty();
    case Quantity::not_read: return false;  // no later group takes back what nobody understood
  }
  return false;
}

// Whether the period makes a statement about the quantity, be it that nothing is said or forecast.
bool states(const Period& p, Quantity q) {
  return p.kind != PeriodKind::becoming || names(p, q) || q == Quantity::not_read;
}

bool began_before(const Period& a, const Period& b) {
  const auto place = [](const Period& p) {
    const int order = p.kind == PeriodKind::becoming ? 1 : 0;
    return p.kind == PeriodKind::base ? std::tuple{0, Instant{}, 0} : std::tuple{1, p.from, order};
  };
  return place(a) < place(b);
}

// The moment at which a later statement ends what `p` says of the quantity. None where nothing does.
std::optional<Instant> end_of(const Forecast& forecast, const Period& p, Quantity q) {
  std::optional<Instant> end;
  if (!p.times_known) return end;
  for (const Period& later : forecast.periods) {
    if (!later.times_known || !began_before(p, later)) continue;
    std::optional<Instant> by;
    if (later.kind == PeriodKind::from) by = later.from;
    if (later.kind == PeriodKind::becoming && names(later, q)) by = later.to;
    if (by && (!end || *by < *end)) end = by;
  }
  return end;
}

// Whether what `p` says of the quantity holds at some moment from `from` to `to`.
bool holds(const Forecast& forecast, const Period& p, Quantity q, Instant from, Instant to) {
  if (!p.times_known) return true;
  if (is_temporary(p)) return p.from <= to && p.to >= from;
  if (!states(p, q)) return false;
  const Instant start = p.kind == PeriodKind::base ? forecast.valid_from : p.from;
  const std::optional<Instant> end = end_of(forecast, p, q);
  return start <= to && (!end || (*end > from && *end > start));
}

// "-TSRA", "VCTS": the phenomena of a weather group, two letters each, without intensity and vicinity.
std::string_view phenomena(std::string_view group) {
  if (group.substr(0, 2) == "VC") return group.substr(2);
  return !group.empty() && (group[0] == '-' || group[0] == '+') ? group.substr(1) : group;
}

template <std::size_t N>
bool holds_any(std::string_view group, const std::array<std::string_view, N>& codes) {
  const std::string_view all = phenomena(group);
  for (std::size_t i = 0; i + 2 <= all.size(); i += 2)
    if (std::find(codes.begin(), codes.end(), all.substr(i, 2)) != codes.end()) return true;
  return false;
}

bool is_thunderstorm(std::string_view group) { return holds_any(group, std::array<std::string_view, 1>{"TS"}); }

// 0 is the worst; the order of the header.
int rank(std::string_view group) {
  static constexpr std::array<std::string_view, 3> violent{"TS", "SQ", "FC"};
  static constexpr std::array<std::string_view, 9> solid{"FZ", "GR", "GS", "PL", "PE", "SS", "DS", "PO", "VA"};
  static constexpr std::array<std::string_view, 1> showers{"SH"};
  static constexpr std::array<std::string_view, 7> wet{"DZ", "RA", "SN", "SG", "IC", "UP", "FG"};
  if (holds_any(group, violent)) return 0;
  if (holds_any(group, solid)) return 1;
  if (holds_any(group, showers) || group.substr(0, 1) == "+") return 2;
  return holds_any(group, wet) ? 3 : 4;
}

bool is_ceiling(CloudAmount amount) { return amount != CloudAmount::few && amount != CloudAmount::scattered; }

template <class T>
void lower(std::optional<T>& lowest, T value) {
  if (!lowest || value < *lowest) lowest = value;
}
template <class T>
void raise(std::optional<T>& highest, std::optional<T> value) {
  if (value && (!highest || *value > *highest)) highest = value;
}

// Each group once.
void add(std::vector<std::string>& to, const std::vector<std::string>& groups) {
  for (const std::string& group : groups)
    if (std::find(to.begin(), to.end(), group) == to.end()) to.push_back(group);
}

void add_visibility(Expected& worst, const Period& p) {
  // Of two with the same figure, "below" is the worse and "at least" the better.
  const auto place = [](Length distance, bool at_least, bool below) {
    return std::pair{distance, below ? 0 : at_least ? 2 : 1};
  };
  if (!p.visibility) return;
  if (worst.visibility && place(*worst.visibility, worst.visibility_at_least, worst.visibility_below) <=
                              place(*p.visibility, p.visibility_at_least, p.visibility_below))
    return;
  worst.visibility = p.visibility;
  worst.visibility_at_least = p.visibility_at_least;
  worst.visibility_below = p.visibility_below;
}

void add_clouds(Expected& worst, const Period& p) {
  for (const CloudLayer& layer : p.clouds) {
    worst.convective = worst.convective || layer.convective;
    if (!layer.base) {
      worst.clouds_known = false;
      continue;
    }
    lower(worst.cloud_base, *layer.base);
    if (is_ceiling(layer.amount)) lower(worst.ceiling, *layer.base);
  }
}

void add_shear(Expected& worst, const Period& p) {
  for (const WindShear& shear : p.shear) {
    const bool there = std::any_of(worst.shear.begin(), worst.shear.end(), [&](const WindShear& other) {
      return other.height == shear.height && other.wind == shear.wind;
    });
    if (!there) worst.shear.push_back(shear);
  }
}

// Takes what `p` says of one quantity into the worst.
void add(Expected& worst, const Period& p, Quantity q) {
  const bool must_say = p.kind == PeriodKind::base || p.kind == PeriodKind::from;
  const bool unsaid = must_say && !names(p, q);
  switch (q) {
    case Quantity::wind:
      raise(worst.wind_speed, p.wind_speed);
      raise(worst.gust, p.gust);
      worst.wind_variable = worst.wind_variable || p.wind_variable;
      worst.wind_known = worst.wind_known && !unsaid;
      break;
    case Quantity::visibility:
      add_visibility(worst, p);
      worst.visibility_known = worst.visibility_known && !unsaid;
      break;
    case Quantity::cloud:
      add_clouds(worst, p);
      worst.clouds_known = worst.clouds_known && !unsaid;
      break;
    case Quantity::weather: add(worst.weather, p.weather); break;
    case Quantity::shear: add_shear(worst, p); break;
    case Quantity::icing: add(worst.icing, p.icing); break;
    case Quantity::turbulence: add(worst.turbulence, p.turbulence); break;
    case Quantity::not_read: add(worst.not_read, p.not_read); break;
  }
}

Expected worst_of(const Forecast& forecast, bool temporary, Instant from, Instant to) {
  static constexpr std::array<Quantity, 8> quantities{Quantity::wind,       Quantity::visibility, Quantity::cloud,
                                                      Quantity::weather,    Quantity::shear,      Quantity::icing,
                                                      Quantity::turbulence, Quantity::not_read};
  Expected worst;
  for (std::size_t i = 0; i < forecast.periods.size(); ++i) {
    const Period& p = forecast.periods[i];
    if (is_temporary(p) != temporary) continue;
    bool counts = false;
    for (const Quantity q : quantities) {
      if (!holds(forecast, p, q, from, to)) continue;
      add(worst, p, q);
      counts = counts || q != Quantity::not_read || !p.not_read.empty();
    }
    if (!counts) continue;
    worst.periods.push_back(i);
    worst.times_known = worst.times_known && p.times_known;
  }
  std::stable_sort(worst.weather.begin(), worst.weather.end(),
                   [](const std::string& a, const std::string& b) { return rank(a) < rank(b); });
  worst.thunderstorm = std::any_of(worst.weather.begin(), worst.weather.end(), is_thunderstorm);
  return worst;
}

std::string in_words(Instant from, Instant to) { return iso8601_utc(from) + " to " + iso8601_utc(to); }

}  // namespace

Result<Outlook> worst_between(const Forecast& forecast, Instant from, Instant to) {
  if (to < from)
    return fail(Errc::bad_call, say("issue.forecast_interval"), iso8601_utc(to), "not before " + iso8601_utc(from));
  if (forecast.cancelled)
    return fail(Errc::no_data, say("issue.forecast_cancelled", {{"station", forecast.station}}), forecast.text,
                "a forecast that has not been taken back");
  const bool has_base = std::any_of(forecast.periods.begin(), forecast.periods.end(),
                                    [](const Period& p) { return p.kind == PeriodKind::base; });
  if (forecast.nil || !has_base)
    return fail(Errc::no_data, say("issue.forecast_nil", {{"station", forecast.station}}), forecast.text,
                "a forecast that says something");
  if (from > forecast.valid_to || to < forecast.valid_from)
    return fail(Errc::no_data, say("issue.forecast_outside", {{"station", forecast.station}}), in_words(from, to),
                "moments from " + in_words(forecast.valid_from, forecast.valid_to));
  Outlook outlook{.from = std::max(from, forecast.valid_from),
                  .to = std::min(to, forecast.valid_to),
                  .whole = from >= forecast.valid_from && to <= forecast.valid_to,
                  .prevailing = {},
                  .temporary = {}};
  outlook.prevailing = worst_of(forecast, false, outlook.from, outlook.to);
  outlook.temporary = worst_of(forecast, true, outlook.from, outlook.to);
  return outlook;
}

}  // namespace pappus::wind
