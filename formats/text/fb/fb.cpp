#include "formats/text/fb/fb.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <map>
#include <utility>

#include "formats/text/fb/group.hpp"
#include "formats/text/tokens/tokens.hpp"

namespace pappus::text {
namespace {

using detail::FbFigures;
using detail::read_fb_figures;

// Forecast levels that make sense: from below the lowest in use (1,000 ft over the sea) to what a balloon file holds.
constexpr int kLowestLevel_ft = 500, kHighestLevel_ft = 98'000;
constexpr std::size_t kMostLevels = 40;
// Extremes measured: -89.2 C and 56.7 C (World Meteorological Organization).
constexpr double kColdest_c = -90.0, kHottest_c = 60.0;
// At this level, and below it, no temperature is forecast.
constexpr AltitudeAmsl kNoTemperatureUpTo = amsl(3000 * foot);
constexpr Length kNoWindWithin = 1500 * foot, kNoTemperatureWithin = 2500 * foot;
// Feet made of metres and back carry rounding.
constexpr Length kRounding = 0.01 * foot;
constexpr std::size_t kMostStationsNamed = 12;

constexpr std::string_view kWantedGroup = "a group such as 2213+18, 2110-05, 9900, or 750456 above the stated level";

std::string_view without_stop(std::string_view group) {
  while (!group.empty() && (group.back() == '.' || group.back() == ',' || group.back() == ';')) group.remove_suffix(1);
  return group;
}

std::size_t digits_in(std::string_view group) {
  return static_cast<std::size_t>(std::count_if(group.begin(), group.end(), is_digit));
}

// Meant as a time, though not one: "15180Z", "151800", "15I800Z".
bool is_like_time(std::string_view group) {
  return digits_in(group) >= 4 && group.size() >= 5 && group.size() <= 8 && (group.back() == 'Z' || is_figures(group));
}

// The parts of a sounding pasted behind the table begin like a station's line.
bool is_sounding_part(std::string_view group) {
  return group.size() == 4 && (group.substr(0, 2) == "TT" || group.substr(0, 2) == "PP") && group[2] == group[3] &&
         group[2] >= 'A' && group[2] <= 'D';
}

bool is_station(std::string_view group) {
  return !is_sounding_part(group) && (group.size() == 3 || group.size() == 4) &&
         std::any_of(group.begin(), group.end(), is_capital) &&
         std::all_of(group.begin(), group.end(), [](char c) { return is_capital(c) || is_digit(c); });
}

std::optional<int> level_of(std::string_view group) {
  if (group.size() < 3 || group.size() > 5 || !is_figures(group)) return std::nullopt;
  const int feet = number_of(group);
  if (feet < kLowestLevel_ft || feet > kHighestLevel_ft) return std::nullopt;
  return feet;
}

// The figures of a level's heading and where they end: groups stand right-aligned under them.
struct Heading {
  AltitudeAmsl level;
  int line = 0, end = 0;  // column of the last figure
};

struct Layout {
  std::vector<std::optional<std::size_t>> token_of;  // by level: index into a station's groups
  bool by_order = false;
};

class Reader {
 public:
  Reader(const Groups& groups, Instant near) : groups_{groups}, near_{near} {}

  Parsed<std::vector<FbBulletin>> read() {
    for (std::size_t i = 0; i < groups_.size();) {
      std::size_t end = i;
      line_.clear();
      for (; end < groups_.size() && groups_[end].line == groups_[i].line; ++end)
        if (groups_.at(end) != "=") line_.push_back(end);
      if (!line_.empty()) take_line();
      i = end;
    }
    finish_bulletin();
    Parsed<std::vector<FbBulletin>> parsed;
    parsed.issues = std::move(issues_);
    if (!bulletins_.empty()) {
      parsed.value = std::move(bulletins_);
    } else if (parsed.issues.empty()) {
      parsed.issues.push_back(
          Issue{.code = Errc::bad_input,
                .sentence = say("issue.fb_none"),
                .where = {},
                .got = clipped(groups_.shown(0, std::min<std::size_t>(groups_.size(), 8))),
                .wanted = "a forecast with its valid time, a line of levels (FT 3000 6000 ...) and a station's line"});
    }
    return parsed;
  }

 private:
  enum class After { text, levels, station };

  [[nodiscard]] std::string_view word(std::size_t k) const {
    return k < line_.size() ? groups_.at(line_[k]) : std::string_view{};
  }

  void take_line() {
    const bool heading = take_headings();
    if (!heading && take_levels()) {
      after_ = After::levels;
    } else if (!heading && take_station()) {
      after_ = After::station;
    } else {
      finish_station();
      after_ = After::text;
    }
  }

  // The sentences above the table, on one line or on several.
  bool take_headings() {
    bool any = false;
    for (std::size_t k = 0; k < line_.size(); ++k) any = take_heading(k) || any;
    return any;
  }

  bool take_heading(std::size_t k) {
    if (word(k) == "BASED" && word(k + 1) == "ON") return take_based_on(k + 2);
    if (word(k) == "VALID") return take_valid(k + 1);
    if (word(k) == "USE" && k > 0 && word(k - 1) == "FOR") return take_use(k + 1);
    if (word(k) == "NEG" && (word(k + 1) == "ABV" || word(k + 1) == "ABOVE")) return take_negative(k + 2);
    return false;
  }

  bool take_based_on(std::size_t k) {
    const std::string_view time = without_stop(word(k));
    if (!is_day_time(time) && !is_like_time(time)) return false;
    based_on_ = is_day_time(time) ? nearest_instant(day_time_of(time), near_) : std::nullopt;
    if (!based_on_) tell(line_[k], "issue.fb_time", "day, hour and minute as ddhhmmZ, such as 151200Z");
    return true;
  }

  bool take_valid(std::size_t k) {
    const std::string_view time = without_stop(word(k));
    if (!is_day_time(time) && !is_like_time(time)) return false;
    finish_bulletin();
    const std::optional<Instant> valid =
        is_day_time(time) ? nearest_instant(day_time_of(time), near_) : std::optional<Instant>{};
    if (!valid) {
      tell(line_[k], "issue.fb_time", "day, hour and minute as ddhhmmZ, such as 151800Z");
      passing_over_ = true;
      return true;
    }
    passing_over_ = false;
    bulletin_.emplace();
    bulletin_->valid = *valid;
    bulletin_->based_on = std::exchange(based_on_, std::nullopt);
    return true;
  }

  // "1400-2100Z": the period around the valid time.
  bool take_use(std::size_t k) {
    if (digits_in(word(k)) == 0) return false;
    if (!bulletin_) return true;
    std::string_view period = without_stop(word(k));
    if (!period.empty() && period.back() == 'Z') period.remove_suffix(1);
    const std::optional<Duration> from = time_of_day(period.substr(0, 4));
    const std::optional<Duration> to =
        period.size() == 9 && period[4] == '-' ? time_of_day(period.substr(5)) : std::optional<Duration>{};
    if (!from || !to) {
      tell(line_[k], "issue.fb_use", "hours and minutes as hhmm-hhmmZ, such as 1400-2100Z");
      return true;
    }
    const Duration valid = seconds_of_day(bulletin_->valid);
    bulletin_->use_from = bulletin_->valid - ahead(*from, valid);
    bulletin_->use_to = bulletin_->valid + ahead(valid, *to);
    return true;
  }

  static std::optional<Duration> time_of_day(std::string_view hhmm) {
    if (hhmm.size() != 4 || !is_figures(hhmm)) return std::nullopt;
    const int hours = number_of(hhmm.substr(0, 2)), minutes = number_of(hhmm.substr(2));
    if (minutes > 59 || hours > 24 || (hours == 24 && minutes > 0)) return std::nullopt;
    return (hours % 24) * hour + minutes * minute;
  }
  static Duration seconds_of_day(Instant t) {
    constexpr std::int64_t day_ms = 86'400'000;
    std::int64_t ms = t.unix_milliseconds() % day_ms;
    if (ms < 0) ms += day_ms;
    return Instant::from_unix_milliseconds(ms) - Instant{};
  }
  // From one time of day to the next coming of another.
  static Duration ahead(Duration from, Duration to) { return to >= from ? to - from : to - from + 24 * hour; }

  bool take_negative(std::size_t k) {
    if (!bulletin_) return true;
    if (const std::optional<int> feet = level_of(without_stop(word(k)))) {
      bulletin_->negative_above = amsl(*feet * foot);
    } else {
      tell(k < line_.size() ? line_[k] : line_[k - 1], "issue.fb_negative", "a height in feet, such as 24000");
    }
    return true;
  }

  bool take_levels() {
    const bool begins = word(0) == "FT" && digits_in(word(1)) >= 3;
    if (!begins && (after_ != After::levels || headings_.empty() || !all_levels(0))) return false;
    if (begins) {
      finish_station();
      start_levels();
      if (!bulletin_) return true;
    }
    for (std::size_t k = begins ? 1 : 0; k < line_.size(); ++k) {
      const Token& token = groups_[line_[k]];
      const std::optional<int> feet = level_of(token.group);
      const AltitudeAmsl level = amsl(feet.value_or(0) * foot);
      if (!feet || headings_.size() == kMostLevels || (!headings_.empty() && level <= headings_.back().level)) {
        tell(line_[k], "issue.fb_levels", "heights in feet, rising, such as FT 3000 6000 9000");
        headings_.clear();
        return true;
      }
      headings_.push_back({level, token.line, token.column + static_cast<int>(token.group.size()) - 1});
    }
    return true;
  }

  [[nodiscard]] bool all_levels(std::size_t from) const {
    for (std::size_t k = from; k < line_.size(); ++k)
      if (!level_of(word(k))) return false;
    return true;
  }

  // A second line of levels in one bulletin heads another table of the same times.
  void start_levels() {
    if (bulletin_ && !headings_.empty()) {
      FbBulletin next = *bulletin_;
      next.stations.clear();
      finish_bulletin();
      bulletin_ = std::move(next);
    }
    headings_.clear();
    headings_from_ = groups_[line_.front()].column + static_cast<int>(word(0).size());
    if (!bulletin_ && !passing_over_) {
      tell(line_.front(), "issue.fb_no_valid", "a valid time before the levels, such as VALID 151800Z");
      passing_over_ = true;
    }
  }

  bool take_station() {
    if (!bulletin_ || headings_.empty()) return false;
    const bool begins = is_station(word(0)) && line_.size() > 1 && are_groups(1);
    if (!begins && !(after_ == After::station && are_groups(0))) return false;
    if (begins) {
      finish_station();
      station_ = line_.front();
    }
    for (std::size_t k = begins ? 1 : 0; k < line_.size(); ++k) station_groups_.push_back(line_[k]);
    return true;
  }

  // Whether the words of the line from `from` on are groups, some perhaps misspelt.
  [[nodiscard]] bool are_groups(std::size_t from) const {
    bool any = false, all_figures = true;
    for (std::size_t k = from; k < line_.size(); ++k) {
      any = any || read_fb_figures(word(k)).has_value();
      all_figures = all_figures && digits_in(word(k)) >= 2;
    }
    return all_figures || (any && from > 0);
  }

  void finish_station() {
    if (!station_) return;
    const std::size_t at = *station_;
    const std::vector<std::size_t> tokens = std::exchange(station_groups_, {});
    station_.reset();
    if (!bulletin_ || headings_.empty()) return;
    const std::optional<Layout> layout = laid_out(at, tokens);
    if (!layout) {
      tell(at, "issue.fb_columns", "each group under the figures of its level");
      return;
    }
    FbStation station{.id = std::string{groups_.at(at)}, .groups = {}, .by_order = layout->by_order, .where = {}};
    station.where = where(groups_[at]);
    station_id_ = station.id;
    if (layout->by_order) tell(at, "issue.fb_by_order", "each group under the figures of its level", Errc::no_data);
    for (std::size_t k = 0; k < headings_.size(); ++k) {
      const std::optional<std::size_t> token = layout->token_of[k];
      station.groups.push_back(token ? decoded(tokens[*token], headings_[k].level)
                                     : FbGroup{.level = headings_[k].level});
    }
    tell_hole(at, station);
    const auto [same, is_new] = station_of_.try_emplace(station.id, bulletin_->stations.size());
    if (is_new) {
      bulletin_->stations.push_back(std::move(station));
    } else if (!tell_alike(bulletin_->stations[same->second], station)) {
      tell(at, "issue.fb_repeated", "one line for each station", Errc::conflict);
    }
    station_id_.clear();
  }

  static bool tell_alike(const FbStation& a, const FbStation& b) {
    return std::equal(a.groups.begin(), a.groups.end(), b.groups.begin(), b.groups.end(),
                      [](const FbGroup& x, const FbGroup& y) { return x.text == y.text; });
  }

  // Which group speaks of which level; none where it is not known.
  [[nodiscard]] std::optional<Layout> laid_out(std::size_t station, const std::vector<std::size_t>& tokens) const {
    std::optional<Layout> by_place = squeezed(station, tokens) ? std::nullopt : by_position(tokens);
    if (by_place && contradictions(*by_place, tokens) == 0) return by_place;
    std::optional<Layout> ordered = by_order(tokens);
    if (ordered) {
      ordered->by_order = !by_place || by_place->token_of != ordered->token_of;
      return ordered;
    }
    // A sign gone astray; with the highest level blank the whole line may have slipped.
    return by_place && by_place->token_of.back() ? by_place : std::nullopt;
  }

  // Fewer groups than levels, and nowhere more than one blank: where the open places were cannot be seen.
  [[nodiscard]] bool squeezed(std::size_t station, const std::vector<std::size_t>& tokens) const {
    if (tokens.size() >= headings_.size()) return false;
    int end = groups_[station].column + static_cast<int>(groups_[station].group.size());
    for (const std::size_t token : tokens) {
      if (groups_[token].column != end + 1) return false;
      end = groups_[token].column + static_cast<int>(groups_[token].group.size());
    }
    return true;
  }

  [[nodiscard]] std::optional<Layout> by_position(const std::vector<std::size_t>& tokens) const {
    // A level's place must be wide enough for its group and a blank, else the line of levels has lost its blanks.
    int from = headings_from_;
    for (const Heading& heading : headings_) {
      const bool first = &heading == &headings_.front();
      const int width = first ? 5 : heading.level > bulletin_->negative_above ? 7 : 8;
      if (heading.end - from + 1 < width || heading.line != headings_.front().line) return std::nullopt;
      from = heading.end + 1;
    }
    Layout layout;
    layout.token_of.resize(headings_.size());
    for (std::size_t t = 0; t < tokens.size(); ++t) {
      const Token& token = groups_[tokens[t]];
      if (token.line != groups_[tokens.front()].line) return std::nullopt;
      const int end = token.column + static_cast<int>(token.group.size()) - 1;
      std::size_t k = 0;
      while (k < headings_.size() && headings_[k].end < end) ++k;
      if (k == headings_.size() || layout.token_of[k]) return std::nullopt;
      if (token.column < (k == 0 ? headings_from_ : headings_[k - 1].end + 1)) return std::nullopt;
      layout.token_of[k] = t;
    }
    return layout;
  }

  // From the highest level down, where that is certain.
  [[nodiscard]] std::optional<Layout> by_order(const std::vector<std::size_t>& tokens) const {
    if (tokens.empty() || tokens.size() > headings_.size()) return std::nullopt;
    Layout layout;
    layout.token_of.resize(headings_.size());
    const std::size_t blank = headings_.size() - tokens.size();
    bool any_without_sign = false;
    for (std::size_t t = 0; t < tokens.size(); ++t) {
      layout.token_of[blank + t] = t;
      const auto figures = read_fb_figures(groups_.at(tokens[t]));
      any_without_sign = any_without_sign || (figures && figures->temperature && !figures->has_sign);
    }
    if (blank == 0) return layout;
    const bool highest_has_no_sign = headings_.back().level > bulletin_->negative_above;
    return any_without_sign && highest_has_no_sign && contradictions(layout, tokens) == 0 ? std::optional{layout}
                                                                                          : std::nullopt;
  }

  // Groups with a sign above the stated level, or without it below.
  [[nodiscard]] int contradictions(const Layout& layout, const std::vector<std::size_t>& tokens) const {
    int count = 0;
    for (std::size_t k = 0; k < headings_.size(); ++k) {
      if (!layout.token_of[k]) continue;
      const auto figures = read_fb_figures(groups_.at(tokens[*layout.token_of[k]]));
      if (figures && figures->temperature && figures->has_sign == (headings_[k].level > bulletin_->negative_above))
        ++count;
    }
    return count;
  }

  FbGroup decoded(std::size_t at, AltitudeAmsl level) {
    const Token& token = groups_[at];
    FbGroup group{.level = level, .kind = FbWind::unreadable, .text = std::string{token.shown}, .where = where(token)};
    const std::optional<FbFigures> figures = read_fb_figures(token.group);
    if (!figures) {
      tell(at, "issue.fb_group", kWantedGroup);
      return group;
    }
    if (const auto read = detail::fb_wind_of(*figures)) {
      group.kind = read->light_and_variable ? FbWind::light_and_variable
                   : read->at_least         ? FbWind::at_least
                                            : FbWind::forecast;
      if (!read->light_and_variable)
        group.wind = wind::Wind::from(TrueBearing::at(read->from_deg * degree), read->speed_kt * knot);
    } else {
      tell(at, "issue.fb_wind", "a direction 01 to 36, or 51 to 86 for 100 kt more, and a speed; or 9900");
    }
    if (figures->temperature) group.temperature = temperature(at, *figures, level);
    return group;
  }

  std::optional<Temperature> temperature(std::size_t at, const FbFigures& figures, AltitudeAmsl level) {
    const bool negative = level > bulletin_->negative_above;
    if (!figures.has_sign && !negative) {
      tell(at, "issue.fb_sign", "a temperature with its sign, such as +05 or -05");
      return std::nullopt;
    }
    if (level <= kNoTemperatureUpTo) {
      tell(at, "issue.fb_temperature_low", "a wind alone, as no temperature is forecast at this level");
      return std::nullopt;
    }
    const double degrees = figures.has_sign ? *figures.temperature : 0.0 - *figures.temperature;
    if (degrees < kColdest_c || degrees > kHottest_c) {
      tell(at, "issue.fb_temperature", "a temperature from -90 to +60");
      return std::nullopt;
    }
    return celsius(degrees);
  }

  // By rule only the lowest levels are left blank.
  void tell_hole(std::size_t at, const FbStation& station) {
    bool given = false;
    for (const FbGroup& group : station.groups) {
      if (group.kind == FbWind::blank && given) {
        tell(at, "issue.fb_hole", "a group at every level above the lowest that has one", Errc::no_data);
        return;
      }
      given = given || group.kind != FbWind::blank;
    }
  }

  void finish_bulletin() {
    finish_station();
    if (bulletin_ && !bulletin_->stations.empty()) {
      for (const Heading& heading : headings_) bulletin_->levels.push_back(heading.level);
      bulletins_.push_back(*std::move(bulletin_));
    }
    bulletin_.reset();
    station_of_.clear();
    headings_.clear();
  }

  void tell(std::size_t at, std::string_view key, std::string_view wanted, Errc code = Errc::bad_input) {
    const Token& token = groups_[at];
    const std::string got = clipped(token.shown);
    std::vector<Argument> arguments{{"group", got}};
    if (!station_id_.empty()) arguments.push_back({"station", station_id_});
    issues_.push_back(Issue{.code = code,
                            .sentence = say(std::string{key}, std::move(arguments)),
                            .where = where(token),
                            .got = got,
                            .wanted = std::string{wanted}});
  }

  const Groups& groups_;
  Instant near_;
  std::vector<Issue> issues_;
  std::vector<FbBulletin> bulletins_;
  std::vector<std::size_t> line_;  // tokens of the line in hand
  After after_ = After::text;
  std::optional<Instant> based_on_;
  std::optional<FbBulletin> bulletin_;             // in the making; its levels stand in headings_
  std::map<std::string, std::size_t> station_of_;  // index of an id in its stations
  bool passing_over_ = false;                      // the tables of a bulletin whose time was told as wrong
  std::vector<Heading> headings_;
  int headings_from_ = 0;  // the first column behind "FT"
  std::optional<std::size_t> station_;
  std::vector<std::size_t> station_groups_;
  std::string station_id_;  // while its groups are decoded
};

std::string in_capitals(std::string_view id) {
  std::string capitals{id};
  for (char& c : capitals)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return capitals;
}

bool is_slipped(const FbGroup& group, AltitudeAmsl elevation) {
  const FbExpected expected = fb_expected(group.level, elevation);
  return (group.kind != FbWind::blank && expected.wind == FbRule::left_blank) ||
         (group.temperature && expected.temperature == FbRule::left_blank);
}

FbRule beyond(Length height, Length bound) {
  if (abs(height - bound) <= kRounding) return FbRule::either;
  return height < bound ? FbRule::left_blank : FbRule::given;
}

}  // namespace

Parsed<std::vector<FbBulletin>> parse_fb(std::string_view pasted, Instant near) {
  const Groups groups{pasted};
  return Reader{groups, near}.read();
}

FbExpected fb_expected(AltitudeAmsl level, AltitudeAmsl station_elevation) {
  FbExpected expected{.wind = beyond(level - station_elevation, kNoWindWithin),
                      .temperature = beyond(level - station_elevation, kNoTemperatureWithin)};
  if (level <= kNoTemperatureUpTo + kRounding) expected.temperature = FbRule::left_blank;
  return expected;
}

Result<wind::Ladder> ladder_of(const FbBulletin& bulletin, std::string_view id,
                               std::optional<AltitudeAmsl> station_elevation) {
  const std::string wanted_id = in_capitals(id);
  const auto station = std::find_if(bulletin.stations.begin(), bulletin.stations.end(),
                                    [&](const FbStation& s) { return s.id == wanted_id; });
  if (station == bulletin.stations.end()) {
    std::string names = "one of";
    for (std::size_t i = 0; i < std::min(bulletin.stations.size(), kMostStationsNamed); ++i)
      names += (i == 0 ? " " : ", ") + bulletin.stations[i].id;
    if (bulletin.stations.size() > kMostStationsNamed) names += ", ...";
    return fail(Errc::not_found, say("issue.fb_station", {{"station", clipped(id)}}), clipped(id), std::move(names));
  }
  wind::Ladder ladder{.source = {.kind = wind::SourceKind::forecast, .name = station->id, .time = bulletin.valid},
                      .rows = {}};
  for (const FbGroup& group : station->groups) {
    if (station_elevation && is_slipped(group, *station_elevation)) {
      auto refused =
          fail(Errc::conflict,
               say("issue.fb_slipped", {{"station", station->id},
                                        {"group", clipped(group.text)},
                                        {"level", measure::of(group.level)},
                                        {"elevation", measure::of(*station_elevation)}}),
               clipped(group.text), "a blank within 1500 ft of the station, and no temperature within 2500 ft");
      refused.value().where = group.where;
      return refused;
    }
    if (group.wind || group.temperature)
      ladder.rows.push_back({.altitude = group.level, .wind = group.wind, .temperature = group.temperature});
  }
  if (ladder.rows.empty())
    return fail(Errc::no_data, say("issue.fb_blank", {{"station", station->id}}), station->id,
                "a station with a wind or a temperature at some level");
  return ladder;
}

}  // namespace pappus::text
