#include "formats/text/taf/taf.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <string>
#include <utility>

#include "formats/text/metar/groups.hpp"
#include "formats/text/metar/pasted.hpp"
#include "formats/text/taf/groups.hpp"

namespace pappus::text {
namespace {

using wind::ForecastPeriod;
using wind::PeriodKind;
using wmo::Beyond;
using wmo::ForecastLikeness;
using wmo::ForecastMoment;
using wmo::ForecastSpan;
using wmo::Likeness;

// Forecasts run for at most 30 h and begin within hours of their issue (WMO-No. 49, technical regulation C.3.1); what
// reaches much further is a misprint.
constexpr Duration kLongest = 48.0 * hour;
// Extremes measured: -89.2 C and 56.7 C; at sea level 870 hPa and 1085 hPa (World Meteorological Organization).
constexpr double kColdest_c = -90.0, kHottest_c = 60.0;
constexpr Pressure kLowestQnh = 850 * hectopascal, kHighestQnh = 1100 * hectopascal;

bool is_mark(std::string_view group) { return group == "AMD" || group == "COR"; }

struct Start {
  bool found = false;
  bool named = false;  // TAF stands before it
  std::size_t first = 0, station = 0;
};

// Whether a forecast starts at group `i`.
Start start_at(const Groups& groups, std::size_t i) {
  Start start{.found = false, .named = groups.at(i) == "TAF", .first = i, .station = i};
  while (start.named && (groups.at(start.station) == "TAF" || is_mark(groups.at(start.station)))) ++start.station;
  if (!start.named && is_mark(groups.at(i))) ++start.station;
  if (!wmo::is_station(groups.at(start.station))) return start;
  const std::string_view then = groups.at(start.station + 1);
  if (start.named) {
    start.found = is_day_time(then) || wmo::is_bad_time(then) || wmo::read_span(then) || then == "NIL";
  } else {
    start.found = is_day_time(then) && wmo::is_validity(groups.at(start.station + 2));
  }
  return start;
}

// The end of the forecast whose groups start at `first`.
std::size_t end_of(const Groups& groups, std::size_t first) {
  bool remarks = false, phrase = false;
  std::size_t i = first;
  for (; i < groups.size(); ++i) {
    const std::string_view group = groups.at(i);
    if (group == "=" || group == "TAF") break;
    if (wmo::is_report_name(group) && wmo::is_station(groups.at(i + 1))) break;
    const bool change = !remarks && wmo::is_change(group);
    if (change) phrase = false;
    const bool free_text = remarks || phrase;
    if (groups[i].after_empty_line && !change && (free_text ? group != "RMK" : !wmo::is_known_in_forecast(group)))
      break;
    // In free text a word and a time may stand for something else ("NEXT 251200Z").
    const bool heading = wmo::is_station(group) && is_day_time(groups.at(i + 1)) && !wmo::is_phrase(group);
    if (heading && (!free_text || groups[i].first_of_line)) break;
    if (is_mark(group) && groups[i].first_of_line && start_at(groups, i).found) break;
    if (group == "RMK") remarks = true;
    if (wmo::is_phrase(group)) phrase = true;
  }
  return i;
}

// Midnight UTC of the day of `t`.
Instant midnight(Instant t) {
  constexpr std::int64_t day_ms = 86'400'000;
  std::int64_t into = t.unix_milliseconds() % day_ms;
  if (into < 0) into += day_ms;
  return Instant::from_unix_milliseconds(t.unix_milliseconds() - into);
}

Duration of_day(const ForecastMoment& m) { return m.hour * hour + m.minute * minute; }

// The first moment with this hour and minute at `earliest` or later.
Instant first_from(const ForecastMoment& m, Instant earliest) {
  Instant t = midnight(earliest) - 24.0 * hour + of_day(m);
  while (t < earliest) t = t + 24.0 * hour;
  return t;
}

// The moment with this hour and minute that is nearest to `near`.
Instant nearest_hour(const ForecastMoment& m, Instant near) { return first_from(m, near - 12.0 * hour); }

// Reads the groups of one forecast.
class Decoder {
 public:
  Decoder(const Groups& groups, const Start& start, std::size_t end, std::vector<Issue>& issues)
      : groups_{groups}, start_{start}, end_{end}, issues_{issues} {}

  std::optional<Taf> decode(Instant near) {
    taf_.station = std::string{groups_.at(start_.station)};
    for (std::size_t i = start_.first; i < start_.station; ++i) mark(groups_.at(i));
    at_ = start_.station + 1;
    const std::string_view time = groups_.at(at_);
    const std::optional<Instant> issued = is_day_time(time) ? wmo::nearest(time, near) : std::optional<Instant>{};
    if (!issued) {
      tell(at_, "issue.taf_time", "day, hour and minute of issue as ddhhmmZ, such as 051658Z");
      return std::nullopt;
    }
    taf_.issued = taf_.valid_from = taf_.valid_to = *issued;
    ++at_;
    while (at_ < end_ && mark(groups_.at(at_))) ++at_;
    if (at_ < end_ && nothing_said()) return std::move(taf_);
    if (!validity()) {
      tell(at_ < end_ ? at_ : at_ - 1, "issue.taf_validity",
           "first and last hour of the validity as ddhh/ddhh, such as 0518/0624");
      return std::nullopt;
    }
    body();
    if (taf_.cancelled || taf_.nil) taf_.periods.clear();
    return std::move(taf_);
  }

 private:
  using Step = bool (Decoder::*)();

  // AMD and COR.
  bool mark(std::string_view group) {
    taf_.amended = taf_.amended || group == "AMD";
    taf_.corrected = taf_.corrected || group == "COR";
    return is_mark(group);
  }

  bool nothing_said() {
    const std::string_view group = groups_.at(at_);
    const auto follows = [this](std::size_t by, std::string_view word) {
      return at_ + by < end_ && groups_.at(at_ + by) == word;
    };
    taf_.cancelled = taf_.cancelled || group == "CNL";
    taf_.nil = taf_.nil || group == "NIL" || (group == "FCST" && follows(1, "NOT") && follows(2, "AVBL"));
    return taf_.cancelled || taf_.nil;
  }

  bool validity() {
    if (at_ >= end_) return false;
    const std::string_view group = groups_.at(at_);
    if (const auto span = wmo::read_span(group)) {
      const auto from = dated(span->from), to = dated(span->to);
      if (!from || !to) return false;
      taf_.valid_from = *from;
      taf_.valid_to = *to;
    } else {
      old_form_ = true;
      auto old = wmo::read_old_validity(group);
      if (!old && start_.named) old = wmo::read_old_span(group);
      if (!old) return false;
      const auto from = old->from.day ? dated(old->from) : std::optional{nearest_hour(old->from, taf_.issued)};
      if (!from) return false;
      taf_.valid_from = *from;
      taf_.valid_to = first_from(old->to, *from + minute);
    }
    const Duration ahead = taf_.valid_from - taf_.issued, length = taf_.valid_to - taf_.valid_from;
    return length > Duration{} && length <= kLongest && ahead <= kLongest && ahead >= -kLongest;
  }

  // A moment with its day.
  [[nodiscard]] std::optional<Instant> dated(const ForecastMoment& m) const {
    return wmo::nearest(*m.day, m.hour, m.minute, taf_.issued);
  }

  void body() {
    const std::size_t first = ++at_;
    begin(PeriodKind::base, first);
    for (; at_ < end_; ++at_)
      if (!group()) break;
    finish(std::min(at_, end_));
    if (!taf_.cancelled && !taf_.nil && first == end_)
      tell(first - 1, "issue.taf_empty", "what is forecast, after the validity", Errc::no_data);
    settle_ends();
  }

  void begin(PeriodKind kind, std::size_t first) {
    if (!taf_.periods.empty()) finish(first);
    first_ = first;
    wind_.reset();
    qnh_.reset();
    clear_.reset();
    no_weather_.reset();
    unknown_ = 0;
    ForecastPeriod period;
    period.kind = kind;
    period.from = taf_.valid_from;
    period.to = taf_.valid_to;
    taf_.periods.push_back(std::move(period));
  }

  // What can only be said of a whole period.
  void finish(std::size_t end) {
    ForecastPeriod& p = now();
    p.text = groups_.shown(first_, end);
    const auto against = [this](bool named, std::optional<std::size_t> none, bool& flag, std::string_view wanted) {
      flag = none.has_value() && !named;
      if (none && named) tell(*none, "issue.taf_clear", wanted, Errc::conflict);
    };
    against(!p.clouds.empty(), clear_, p.sky_clear, "a clear sky or cloud groups, not both");
    // CAVOK with both is told once.
    if (no_weather_ && no_weather_ == clear_ && !p.clouds.empty() && !p.weather.empty()) {
      p.weather_ends = false;
    } else {
      against(!p.weather.empty(), no_weather_, p.weather_ends, "weather or its absence, not both");
    }
  }

  // A base or from period lasts until the next from.
  void settle_ends() {
    for (ForecastPeriod& p : taf_.periods) {
      if (!p.times_known || (p.kind != PeriodKind::base && p.kind != PeriodKind::from)) continue;
      p.to = std::max(p.from, taf_.valid_to);
      for (const ForecastPeriod& next : taf_.periods)
        if (next.kind == PeriodKind::from && next.times_known && next.from > p.from) p.to = std::min(p.to, next.from);
    }
  }

  ForecastPeriod& now() { return taf_.periods.back(); }

  // One group, or more where they belong together. False ends the forecast.
  bool group() {
    const std::string_view group = groups_.at(at_);
    if (group == "RMK" || nothing_said()) return false;
    static constexpr std::array<Step, 17> steps{
        &Decoder::take_change,     &Decoder::take_phrase,     &Decoder::take_wind_remark, &Decoder::take_wind,
        &Decoder::take_swing,      &Decoder::take_visibility, &Decoder::take_weather,     &Decoder::take_no_weather,
        &Decoder::take_cloud,      &Decoder::take_shear,      &Decoder::take_icing,       &Decoder::take_turbulence,
        &Decoder::take_extreme,    &Decoder::take_qnh,        &Decoder::take_row,         &Decoder::take_report_shear,
        &Decoder::take_passed_over};
    for (const Step step : steps) {
      if (!(this->*step)()) continue;
      unknown_ = 0;
      return true;
    }
    if (++unknown_ > wmo::kProse) {
      tell(at_, "issue.taf_rest", "'=' at the end of the forecast");
      return false;
    }
    not_read(at_);
    tell_unknown(group);
    return true;
  }

  void tell_unknown(std::string_view group) {
    switch (wmo::forecast_likeness(group)) {
      case ForecastLikeness::extreme:
        return tell(at_, "issue.taf_temperature", "a temperature such as TX25/0514Z or TNM02/0605Z");
      case ForecastLikeness::shear: return tell(at_, "issue.taf_shear", "a wind shear such as WS020/05065KT");
      case ForecastLikeness::pressure: return tell(at_, "issue.taf_pressure", "a pressure such as QNH2992INS");
      case ForecastLikeness::none: break;
    }
    const Likeness likeness = wmo::likeness(group);
    switch (likeness) {
      case Likeness::wind: return tell(at_, "issue.taf_wind", wmo::wanted(likeness));
      case Likeness::visibility: return tell(at_, "issue.taf_visibility", wmo::wanted(likeness));
      case Likeness::cloud: return tell(at_, "issue.taf_cloud", wmo::wanted(likeness));
      case Likeness::temperature:
      case Likeness::pressure:
      case Likeness::none: break;
    }
    tell(at_, "issue.taf_group", "a group of a TAF, or RMK before free text");
  }

  bool take_change() {
    const std::size_t first = at_;
    const std::string_view group = groups_.at(first);
    if (const auto from = wmo::read_from(group)) {
      begin(PeriodKind::from, first);
      const auto at = from->moment ? instant(*from->moment) : std::nullopt;
      if (at) {
        now().from = *at;
        hold_against_validity(first);
      } else {
        times_unknown(first, "day, hour and minute such as FM051830");
      }
      return true;
    }
    if (const auto probability = wmo::read_probability(group)) {
      take_probability(*probability);
      return true;
    }
    const auto kind = wmo::read_change(group);
    if (!kind) return false;
    begin(*kind, first);
    take_times(first);
    return true;
  }

  void take_probability(wmo::ProbabilityGroup read) {
    const std::size_t first = at_;
    // "PROB 30" is read as one.
    if (groups_.at(at_) == "PROB" && at_ + 1 < end_ && groups_.at(at_ + 1).size() == 2 &&
        is_figures(groups_.at(at_ + 1)))
      read = *wmo::read_probability("PROB" + std::string{groups_.at(++at_)});
    const std::string_view next = at_ + 1 < end_ ? groups_.at(at_ + 1) : std::string_view{};
    const PeriodKind kind = next == "TEMPO"   ? PeriodKind::prob_tempo
                            : next == "INTER" ? PeriodKind::inter
                                              : PeriodKind::prob;
    if (kind != PeriodKind::prob) ++at_;
    begin(kind, first);
    now().probability = read.percent;
    if (read.percent != 30 && read.percent != 40) tell(first, "issue.taf_probability", "PROB30 or PROB40");
    take_times(first);
  }

  // The times after the indicator of a change, whose first group is `first`.
  void take_times(std::size_t first) {
    static constexpr std::string_view wanted = "first and last hour as ddhh/ddhh, such as 0518/0522";
    const std::string_view group = at_ + 1 < end_ ? groups_.at(at_ + 1) : std::string_view{};
    auto span = wmo::read_span(group);
    if (!span && old_form_) span = wmo::read_old_span(group);
    if (!span) {
      if (wmo::is_bad_span(group)) ++at_;
      return times_unknown(wmo::is_bad_span(group) ? at_ : first, wanted);
    }
    ++at_;
    const auto from = instant(span->from);
    const auto to = span->to.day || !from ? instant(span->to) : std::optional{first_from(span->to, *from + minute)};
    if (!from || !to || *to <= *from) return times_unknown(at_, wanted);
    now().from = *from;
    now().to = *to;
    hold_against_validity(at_);
  }

  // A moment inside the forecast; without a day, the first one.
  [[nodiscard]] std::optional<Instant> instant(const ForecastMoment& m) const {
    return m.day ? dated(m) : std::optional{first_from(m, taf_.valid_from)};
  }

  void times_unknown(std::size_t at, std::string_view wanted) {
    now().times_known = false;
    not_read(at);
    tell(at, "issue.taf_period", wanted);
  }

  void hold_against_validity(std::size_t at) {
    if (now().from >= taf_.valid_from && now().from <= taf_.valid_to && now().to <= taf_.valid_to) return;
    tell(at, "issue.taf_outside", "times within the validity of the forecast", Errc::conflict);
  }

  bool take_phrase() {
    const std::string_view group = groups_.at(at_);
    if (!wmo::is_phrase(group) && !(group == "NO" && at_ + 1 < end_ && wmo::is_phrase(groups_.at(at_ + 1))))
      return false;
    while (at_ + 1 < end_ && groups_.at(at_ + 1) != "RMK" && !wmo::is_change(groups_.at(at_ + 1)) &&
           !wmo::read_extreme(groups_.at(at_ + 1)))
      ++at_;
    return true;
  }

  // "WND 33009KT AFT 1315", "WND 290V040": words about the wind of the period before.
  bool take_wind_remark() {
    if (groups_.at(at_) != "WND") return false;
    const std::size_t first = at_;
    const auto next = [this] { return at_ + 1 < end_ ? groups_.at(at_ + 1) : std::string_view{}; };
    if (wmo::is_swing(next())) {
      ++at_;
      now().wind_variable = true;
      return true;
    }
    if (wmo::read_wind(next())) ++at_;
    static constexpr std::array<std::string_view, 5> words{"AFT", "BY", "TIL", "UNTIL", "BFR"};
    if (std::find(words.begin(), words.end(), next()) != words.end()) {
      ++at_;
      if (is_figures(next())) ++at_;
    }
    const std::string text = groups_.shown(first, at_ + 1);
    now().not_read.push_back(clipped(text));
    tell(first, "issue.taf_group", "the wind in a period of its own", Errc::bad_input, text);
    return true;
  }

  bool take_wind() {
    const auto read = wmo::read_wind(groups_.at(at_));
    if (!read) return false;
    if (!once(wind_)) return true;
    const wmo::SurfaceWind said = wmo::interpret(*read);
    for (const std::string_view wanted : said.wanted) tell(at_, "issue.taf_wind", wanted);
    if (said.wanted.empty() && !said.speed) tell(at_, "issue.taf_wind", wmo::wanted(Likeness::wind));
    if (!said.wanted.empty() || !said.speed) not_read(at_);
    now().wind = said.wind;
    now().wind_speed = said.speed;
    now().gust = said.gust;
    now().wind_variable = now().wind_variable || said.variable;
    return true;
  }

  bool take_swing() {
    if (!wmo::is_swing(groups_.at(at_))) return false;
    now().wind_variable = true;
    return true;
  }

  bool take_visibility() {
    if (groups_.at(at_) == "CAVOK") {
      clear_ = no_weather_ = at_;
      visibility({.distance = 10 * kilometre, .beyond = Beyond::at_least, .directional = false});
      return true;
    }
    const auto read = wmo::read_visibility(groups_.at(at_), at_ + 1 < end_ ? groups_.at(at_ + 1) : std::string_view{});
    if (!read) return false;
    at_ += read->groups - 1;
    visibility(read->visibility);
    return true;
  }

  void visibility(const wmo::VisibilityGroup& read) {
    if (now().visibility && *now().visibility <= read.distance) return;
    now().visibility = read.distance;
    now().visibility_at_least = read.beyond == Beyond::at_least;
    now().visibility_below = read.beyond == Beyond::below;
  }

  bool take_weather() {
    const std::vector<std::string> read = wmo::read_weather(groups_.at(at_));
    now().weather.insert(now().weather.end(), read.begin(), read.end());
    return !read.empty();
  }

  bool take_no_weather() {
    if (groups_.at(at_) != "NSW") return false;
    no_weather_ = at_;
    return true;
  }

  bool take_cloud() {
    if (wmo::is_clear_sky(groups_.at(at_))) {
      clear_ = at_;
      return true;
    }
    const auto layer = wmo::read_cloud(groups_.at(at_));
    if (layer) now().clouds.push_back(*layer);
    return layer.has_value();
  }

  bool take_shear() {
    const auto read = wmo::read_shear(groups_.at(at_));
    if (!read) return false;
    wind::WindShear shear;
    if (read->hundreds_of_feet) {
      shear.height = agl(*read->hundreds_of_feet * 100 * foot);
      const wmo::SurfaceWind said = wmo::interpret({.variable = false,
                                                    .direction_deg = read->direction_deg,
                                                    .speed = read->speed,
                                                    .gust = {},
                                                    .unit = read->unit});
      for (const std::string_view wanted : said.wanted) tell(at_, "issue.taf_shear", wanted);
      if (!said.wanted.empty()) not_read(at_);
      shear.wind = said.wind;
    }
    now().shear.push_back(shear);
    return true;
  }

  // As in a report, "WS RWY11": shear without figures.
  bool take_report_shear() {
    if (groups_.at(at_) != "WS") return false;
    while (at_ + 1 < end_ && wmo::is_wind_shear_word(groups_.at(at_ + 1))) ++at_;
    now().shear.emplace_back();
    return true;
  }

  bool take_icing() {
    if (!wmo::is_icing(groups_.at(at_))) return false;
    now().icing.emplace_back(groups_.at(at_));
    return true;
  }

  bool take_turbulence() {
    if (!wmo::is_turbulence(groups_.at(at_))) return false;
    now().turbulence.emplace_back(groups_.at(at_));
    return true;
  }

  bool take_extreme() {
    const auto read = wmo::read_extreme(groups_.at(at_));
    if (!read) return false;
    const auto at = instant(read->at);
    if (!at || read->temperature_c < kColdest_c || read->temperature_c > kHottest_c) {
      tell(at_, "issue.taf_temperature", "a temperature from M90 to 60 and a time of the forecast, as TX25/0514Z");
      return true;
    }
    taf_.temperatures.push_back({.highest = read->highest, .temperature = celsius(read->temperature_c), .at = *at});
    return true;
  }

  bool take_qnh() {
    const auto read = wmo::read_lowest_qnh(groups_.at(at_));
    if (!read) return false;
    if (!once(qnh_)) return true;
    if (*read < kLowestQnh || *read > kHighestQnh) {
      tell(at_, "issue.taf_pressure", "from QNH2510INS to QNH3248INS");
      not_read(at_);
    } else {
      now().lowest_qnh = *read;
    }
    return true;
  }

  // "T 25 28 M02" and "Q 1012 1010": temperature and pressure every three hours (Australia).
  bool take_row() {
    const std::string_view name = groups_.at(at_);
    if (name != "T" && name != "Q") return false;
    const auto is_entry = [&](std::string_view group) {
      if (name == "T" && group.substr(0, 1) == "M") group.remove_prefix(1);
      return is_figures(group) && group.size() == (name == "T" ? 2u : 4u);
    };
    const std::size_t first = at_;
    while (at_ + 1 < end_ && is_entry(groups_.at(at_ + 1))) ++at_;
    return at_ > first;
  }

  bool take_passed_over() {
    const std::string_view group = groups_.at(at_);
    return group == "NOSIG" || wmo::is_passed_over(group);
  }

  // Whether this is the first group of its kind in the period. A second one is told, unless it is the same over again.
  bool once(std::optional<std::size_t>& seen) {
    if (!seen) {
      seen = at_;
      return true;
    }
    if (groups_.at(*seen) != groups_.at(at_)) {
      tell(at_, "issue.taf_repeated", "only " + clipped(groups_[*seen].shown), Errc::conflict);
      not_read(at_);
    }
    return false;
  }

  void not_read(std::size_t at) { now().not_read.push_back(clipped(groups_[at].shown)); }

  void tell(std::size_t at, std::string_view key, std::string_view wanted, Errc code = Errc::bad_input,
            std::string_view text = {}) {
    const Token& token = groups_[at];
    const std::string got = clipped(text.empty() ? token.shown : text);
    issues_.push_back(Issue{.code = code,
                            .sentence = say(std::string{key}, {{"group", got}, {"station", taf_.station}}),
                            .where = Where{.file = {}, .line = token.line, .column = token.column, .key = {}},
                            .got = got,
                            .wanted = std::string{wanted}});
  }

  const Groups& groups_;
  Start start_;
  std::size_t end_, at_ = 0;
  std::vector<Issue>& issues_;
  Taf taf_;
  bool old_form_ = false;
  // Of the period being read.
  std::size_t first_ = 0;
  int unknown_ = 0;  // in a row
  std::optional<std::size_t> wind_, qnh_, clear_, no_weather_;
};

}  // namespace

Parsed<std::vector<Taf>> parse_taf(std::string_view pasted, Instant near) {
  const Groups groups{pasted};
  Parsed<std::vector<Taf>> parsed;
  std::vector<Taf> forecasts;
  std::size_t i = 0;
  while (i < groups.size()) {
    const Start start = start_at(groups, i);
    if (!start.found) {
      ++i;
      continue;
    }
    const std::size_t end = end_of(groups, start.station + 2);
    Decoder decoder{groups, start, end, parsed.issues};
    if (std::optional<Taf> taf = decoder.decode(near)) {
      taf->text = groups.shown(i, end);
      forecasts.push_back(*std::move(taf));
    }
    i = end;
  }
  if (!forecasts.empty()) {
    parsed.value = std::move(forecasts);
  } else if (parsed.issues.empty()) {
    const std::string got =
        groups.size() == 0 ? std::string{} : clipped(groups.shown(0, std::min<std::size_t>(groups.size(), 8)));
    parsed.issues.push_back(
        Issue{.code = Errc::bad_input,
              .sentence = say("issue.taf_none"),
              .where = {},
              .got = got,
              .wanted = "a forecast with its station and times, such as TAF XXXX 051658Z 0518/0624 30008KT 9999"});
  }
  return parsed;
}

}  // namespace pappus::text
