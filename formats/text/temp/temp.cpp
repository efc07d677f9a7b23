#include "formats/text/temp/temp.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <map>
#include <tuple>
#include <utility>

#include "core/air/isa.hpp"
#include "formats/text/temp/group.hpp"
#include "formats/text/temp/heights.hpp"
#include "formats/text/tokens/tokens.hpp"

namespace pappus::text {
namespace {

using detail::StandardLevel;

// Extremes in the troposphere and the lower stratosphere, and at the ground (from memory, rounded outwards).
constexpr double kColdest_c = -95.0, kHottest_c = 60.0;
constexpr double kLowestSurface_hpa = 500.0, kLowestSignificant_hpa = 100.0;
constexpr AltitudeAmsl kLowest = amsl(-500 * metre), kHighest = amsl(30 * kilometre);
// The tenth of a temperature carries its sign: two codings of one value differ by a tenth.
constexpr TemperatureDelta kSameTemperature = 0.15 * kelvin;
constexpr Speed kSameWind = 0.01 * metre_per_second;

constexpr std::string_view kTemperatureWanted = "a temperature such as 11056 (+11.0 C, 6 C above its dew point)";
constexpr std::string_view kWindWanted = "a wind such as 25014, or 25514 from 255 degrees";

// Two doubled letters: TTAA, TTBB, PPAA, UUDD.
bool is_name(std::string_view group) {
  return group.size() == 4 && is_capital(group[0]) && group[0] == group[1] && group[2] >= 'A' && group[2] <= 'D' &&
         group[2] == group[3];
}

// Where the levels end: tropopause and greatest winds in part A, sections of other matters in both.
bool is_section(std::string_view group) {
  return group == "31313" || group == "41414" || group == "51515" || group == "61616" || group == "21212";
}
bool ends_standard_levels(std::string_view group) {
  if (is_section(group)) return true;
  if (!detail::is_temp_group(group)) return false;
  const std::string_view mark = group.substr(0, 2);
  return mark == "88" || mark == "77" || mark == "66";
}

// A level and where it was told.
struct Told {
  TempLevel level;
  std::size_t at = 0;
};

struct Header {
  std::string station;
  Instant time;
  Speed unit = metre_per_second;
  char last_wind = '/';  // Id
};

// One part of one sounding as found.
struct Part {
  bool is_a = false;
  Header header;
  std::vector<Told> levels;
  std::string text;
  std::size_t at = 0;
};

// Code table 1734 (from memory): the last standard level with a wind. Id 1 stands for 100 or 150 hPa, 2 for 200 or 250.
double last_wind_hpa(char id) {
  if (id == '0') return 1000.0;
  if (id == '8') return 850.0;
  if (id == '9') return 925.0;
  if (is_digit(id)) return 100.0 * (id - '0');
  return 2000.0;  // none
}

class Reader {
 public:
  Reader(const Groups& groups, Instant near) : groups_{groups}, near_{near} {}

  Parsed<std::vector<TempSounding>> read() {
    for (std::size_t i = 0; i < groups_.size();) {
      const bool is_a = groups_.at(i) == "TTAA";
      if ((!is_a && groups_.at(i) != "TTBB") || !starts(i)) {
        ++i;
        continue;
      }
      end_ = end_of(i + 1);
      if (std::optional<Part> part = read_part(i, is_a)) keep(*std::move(part));
      station_.clear();
      i = end_;
    }
    Parsed<std::vector<TempSounding>> parsed;
    std::vector<TempSounding> soundings;
    for (std::size_t i = 0; i < parts_.size(); ++i)
      if (std::optional<TempSounding> sounding = joined(i)) soundings.push_back(*std::move(sounding));
    parsed.issues = std::move(issues_);
    if (!soundings.empty()) {
      parsed.value = std::move(soundings);
    } else if (parsed.issues.empty()) {
      parsed.issues.push_back(Issue{.code = Errc::bad_input,
                                    .sentence = say("issue.temp_none"),
                                    .where = {},
                                    .got = clipped(groups_.shown(0, std::min<std::size_t>(groups_.size(), 8))),
                                    .wanted = "a sounding that begins with TTAA or TTBB, a time and a station"});
    }
    return parsed;
  }

 private:
  // "TTAA" in a letter is a word: figures must follow.
  [[nodiscard]] bool starts(std::size_t i) const {
    const std::string_view then = groups_.at(i + 1);
    return std::any_of(then.begin(), then.end(), is_digit);
  }

  [[nodiscard]] std::size_t end_of(std::size_t i) const {
    for (; i < groups_.size(); ++i) {
      const std::string_view group = groups_.at(i);
      if (group == "=" || is_name(group)) break;
      if (groups_[i].after_empty_line && !detail::is_temp_group(group)) break;
    }
    return i;
  }

  std::optional<Part> read_part(std::size_t name, bool is_a) {
    const std::optional<Header> header = read_header(name + 1);
    if (!header) return std::nullopt;
    at_ = name + 3;
    if (at_ >= end_ || groups_.at(at_) == "NIL") {
      tell(name + 2, "issue.temp_nil", "a sounding with levels", Errc::no_data);
      return std::nullopt;
    }
    levels_.clear();
    if (is_a) {
      read_standard_levels(*header);
    } else {
      read_significant_levels();
      if (at_ < end_ && groups_.at(at_) == "21212") read_significant_winds(*header);
    }
    return Part{.is_a = is_a,
                .header = *header,
                .levels = std::exchange(levels_, {}),
                .text = groups_.shown(name, end_),
                .at = name};
  }

  std::optional<Header> read_header(std::size_t at) {
    const std::string_view time = groups_.at(at), station = at + 1 < end_ ? groups_.at(at + 1) : std::string_view{};
    if (is_figures(station) && station.size() == 5) station_ = std::string{station};
    Header header{.station = station_, .time = {}};
    std::optional<Instant> seen;
    if (detail::is_temp_group(time) && is_figures(time.substr(0, 4))) {
      constexpr int knots_from = 50;
      const int day = number_of(time.substr(0, 2));
      header.unit = day > knots_from ? knot : metre_per_second;
      header.last_wind = time[4];
      seen = nearest_instant(
          {.day = day > knots_from ? day - knots_from : day, .hours = number_of(time.substr(2, 2)), .minutes = 0},
          near_);
    }
    if (!seen) {
      tell(at < end_ ? at : at - 1, "issue.temp_time",
           "day (50 more for knots), hour and last level with a wind, such as 66121");
      return std::nullopt;
    }
    if (header.station.empty()) {
      tell(at + 1 < end_ ? at + 1 : at, "issue.temp_station", "a station number of five figures");
      return std::nullopt;
    }
    header.time = *seen;
    return header;
  }

  void read_standard_levels(const Header& header) {
    last_wind_hpa_ = last_wind_hpa(header.last_wind);
    bool surface = false;
    next_ = 0;
    while (at_ < end_ && !ends_standard_levels(groups_.at(at_))) {
      const std::string_view group = groups_.at(at_);
      const std::optional<std::size_t> level = detail::standard_level(group);
      if (!surface && next_ == 0 && detail::is_temp_group(group) && group.substr(0, 2) == "99") {
        surface = true;
        const std::optional<double> hpa = surface_pressure();
        Told told{.level = {.kind = TempLevelKind::surface, .pressure = hpa.value_or(0.0) * hectopascal}, .at = at_++};
        read_values(told.level, header.unit, header.last_wind != '/', false);
        if (hpa) levels_.push_back(told);
      } else if (level && (*level == next_ || is_sure_level(at_))) {
        next_ = *level + 1;
        const StandardLevel& standard = detail::standard_level(*level);
        Told told{.level = {.kind = TempLevelKind::standard, .pressure = standard.hpa * hectopascal}, .at = at_++};
        if (const std::optional<Length> height = detail::read_height(group, standard))
          told.level.height = GeopotentialAltitude::at(*height);
        read_values(told.level, header.unit, has_wind(standard), may_lack_wind(standard));
        levels_.push_back(told);
      } else {
        tell(at_, "issue.temp_group", "99PPP at the surface, or the next of 00hhh 92hhh 85hhh 70hhh 50hhh ...");
        // What follows may look like a level: temperatures begin with 10, 15, 20 ... too.
        do ++at_;
        while (at_ < end_ && !ends_standard_levels(groups_.at(at_)) && !is_sure_level(at_));
      }
    }
  }

  [[nodiscard]] bool has_wind(const StandardLevel& level) const { return level.hpa >= last_wind_hpa_; }
  // Id does not tell 100 from 150 hPa, nor 200 from 250.
  [[nodiscard]] bool may_lack_wind(const StandardLevel& level) const {
    return level.hpa == last_wind_hpa_ && (level.hpa == 100.0 || level.hpa == 200.0);
  }

  // Whether the levels are in step at a group: one from `next` on stands there, or no level any more.
  [[nodiscard]] bool in_step(std::size_t at, std::size_t next) const {
    if (at >= end_) return at == end_;
    const std::string_view group = groups_.at(at);
    const std::optional<std::size_t> level = detail::standard_level(group);
    return ends_standard_levels(group) || !detail::is_temp_group(group) || (level && *level >= next);
  }

  // Whether a group is the mark of a level that may still come, and what follows it is in step with that.
  [[nodiscard]] bool is_sure_level(std::size_t at) const {
    const std::optional<std::size_t> level = detail::standard_level(groups_.at(at));
    if (at >= end_ || !level || *level < next_) return false;
    const StandardLevel& standard = detail::standard_level(*level);
    const std::size_t then = at + (has_wind(standard) ? 3 : 2);
    return in_step(then, *level + 1) || (may_lack_wind(standard) && in_step(then - 1, *level + 1));
  }

  std::optional<double> surface_pressure() {
    const std::optional<double> hpa = detail::read_pressure_hpa(groups_.at(at_));
    if (hpa && *hpa >= kLowestSurface_hpa) return hpa;
    if (groups_.at(at_).find('/') == std::string_view::npos)
      tell(at_, "issue.temp_pressure", "from 500 to 1099 hPa, such as 99013 or 99985");
    return std::nullopt;
  }

  // Whether a group can be the start of another level of part A, or the end of them.
  [[nodiscard]] bool is_next_level(std::string_view group) const {
    const std::optional<std::size_t> level = detail::standard_level(group);
    return (level && *level >= next_) || ends_standard_levels(group);
  }

  // Temperature and wind behind a level's mark.
  void read_values(TempLevel& level, Speed unit, bool has_wind, bool may_lack_wind) {
    const std::size_t temperature_at = at_;
    // A temperature may look like a level; where all is in step behind it, it is none.
    if (at_ >= end_ || (is_sure_level(at_) && !in_step(at_ + (has_wind ? 2 : 1), next_))) {
      tell(at_ - 1, "issue.temp_pair",
           has_wind ? "a temperature and a wind behind the level" : "a temperature behind the level");
      return;
    }
    if (!detail::is_temp_group(groups_.at(at_))) {
      tell(at_, "issue.temp_temperature", kTemperatureWanted);
    } else {
      read_temperature(level);
    }
    ++at_;
    if (!has_wind) return;
    const std::string_view group = at_ < end_ ? groups_.at(at_) : std::string_view{"="};
    const auto wind = detail::read_temp_wind(group, unit);
    if (wind) {
      level.wind = wind->wind;
      ++at_;
    } else if (group == "=" || is_next_level(group)) {
      if (may_lack_wind) return;
      // Of two groups one is gone: what stands there may be either.
      level.temperature.reset();
      level.dew_point.reset();
      tell(temperature_at, "issue.temp_pair", "a temperature and a wind behind the level");
    } else {
      tell(at_, "issue.temp_wind", kWindWanted);
      ++at_;
    }
  }

  void read_temperature(TempLevel& level) {
    const auto read = detail::read_temp_temperature(groups_.at(at_));
    if (!read || !read->temperature_c) return;
    if (*read->temperature_c < kColdest_c || *read->temperature_c > kHottest_c) {
      tell(at_, "issue.temp_temperature", "a temperature from -95 to 60 C");
      return;
    }
    level.temperature = celsius(*read->temperature_c);
    if (read->bad_depression) tell(at_, "issue.temp_dew_point", "a dew-point depression of 00 to 50 or 56 to 99");
    if (read->depression_k) level.dew_point = *level.temperature - *read->depression_k * kelvin;
  }

  // The number of a significant level, nn: 00 at the surface, then 11 to 99 and round again. None for another group.
  static std::optional<int> count_of(std::string_view group) {
    if (!detail::is_temp_group(group) || group[0] != group[1] || group[0] == '/') return std::nullopt;
    return group[0] - '0';
  }
  static int count_after(int count) { return count % 9 + 1; }

  // Whether a group is the mark of a significant level, and the one after the next is in step with that.
  [[nodiscard]] bool is_sure_mark(std::size_t at) const {
    const std::optional<int> count = at < end_ ? count_of(groups_.at(at)) : std::optional<int>{};
    const std::size_t then = at + 2;
    if (!count || then > end_) return false;
    return then == end_ || is_section(groups_.at(then)) || count_of(groups_.at(then)) == count_after(*count);
  }

  // Pairs of nnPPP and one other group. `take` reads the other one.
  template <class Take>
  void read_pairs(Take take) {
    double last_hpa = 1.0e4;
    int expected = 0;
    while (at_ < end_ && !is_section(groups_.at(at_))) {
      const std::optional<int> count = count_of(groups_.at(at_));
      if (!count || (*count != expected && !is_sure_mark(at_))) {
        tell(at_, "issue.temp_group", "the next level as nnPPP: 00, 11, 22 ... 99, 11 ...");
        do ++at_;
        while (at_ < end_ && !is_section(groups_.at(at_)) && !is_sure_mark(at_));
        expected = at_ < end_ ? count_of(groups_.at(at_)).value_or(expected) : expected;
        continue;
      }
      const std::size_t level_at = at_++;
      if (*count != expected) tell(level_at, "issue.temp_order", "levels numbered 00, 11, 22 ... 99, 11 ...");
      expected = count_after(*count);
      const std::optional<double> hpa = detail::read_pressure_hpa(groups_.at(level_at));
      const bool falls = hpa && *hpa < last_hpa && *hpa >= kLowestSignificant_hpa;
      if (hpa && !falls)
        tell(level_at, "issue.temp_pressure", "a pressure below that of the level before, such as 11985");
      const std::string_view other = at_ < end_ ? groups_.at(at_) : std::string_view{};
      // The other half of a pair may look like a level; where all is in step behind it, it is none.
      const bool in_step =
          at_ + 1 >= end_ || is_section(groups_.at(at_ + 1)) || count_of(groups_.at(at_ + 1)) == expected;
      const bool is_next = !in_step && count_of(other) == expected && is_sure_mark(at_);
      // -31.3 C with a depression of 1.3 K is written as the mark of a section is.
      const bool is_end = is_section(other) && !in_step;
      if (!detail::is_temp_group(other) || is_end || is_next) {
        tell(level_at, "issue.temp_pair", "two groups for each level");
        if (at_ < end_ && !is_end && !is_next) ++at_;
        continue;
      }
      if (falls) {
        last_hpa = *hpa;
        Told told{.level = {.kind = *count == 0 ? TempLevelKind::surface : TempLevelKind::significant,
                            .pressure = *hpa * hectopascal},
                  .at = level_at};
        take(told);
      }
      ++at_;
    }
  }

  void read_significant_levels() {
    read_pairs([this](Told told) {
      read_temperature(told.level);
      if (told.level.temperature) levels_.push_back(told);
    });
  }

  void read_significant_winds(const Header& header) {
    ++at_;
    read_pairs([&](Told told) {
      const auto wind = detail::read_temp_wind(groups_.at(at_), header.unit);
      if (!wind) tell(at_, "issue.temp_wind", kWindWanted);
      if (!wind || !wind->wind) return;
      told.level.wind = wind->wind;
      levels_.push_back(told);
    });
  }

  void keep(Part part) {
    const auto [same, is_new] = part_of_.try_emplace(key_of(part.header, part.is_a), parts_.size());
    if (is_new) {
      parts_.push_back(std::move(part));
    } else if (parts_[same->second].text != part.text) {
      tell(part.at, "issue.temp_repeated", "each part of a sounding once", Errc::conflict);
    }
  }

  using Key = std::tuple<std::string, Instant, bool>;
  static Key key_of(const Header& header, bool is_a) { return {header.station, header.time, is_a}; }

  // The sounding that a part begins, joined with its other part; none where an earlier part has taken it.
  std::optional<TempSounding> joined(std::size_t i) {
    const Part& first = parts_[i];
    const auto found = part_of_.find(key_of(first.header, !first.is_a));
    if (found != part_of_.end() && found->second < i) return std::nullopt;
    const Part* other = found == part_of_.end() ? nullptr : &parts_[found->second];
    station_ = first.header.station;
    TempSounding sounding{.station = station_, .time = first.header.time, .levels = {}};
    std::vector<Told> all;
    for (const Part* part : {first.is_a ? &first : other, first.is_a ? other : &first}) {
      if (part == nullptr) continue;
      (part->is_a ? sounding.has_part_a : sounding.has_part_b) = true;
      all.insert(all.end(), part->levels.begin(), part->levels.end());
    }
    std::vector<Told> levels = merged(std::move(all));
    drop_falling_heights(levels);
    for (const Told& told : levels) sounding.levels.push_back(told.level);
    for (const std::size_t k : detail::disagreeing_heights(sounding.levels))
      tell(levels[k].at, "issue.temp_thickness", "a height that the temperatures below it allow", Errc::conflict);
    detail::fill_heights(sounding.levels);
    if (std::none_of(sounding.levels.begin(), sounding.levels.end(), [](const TempLevel& l) { return l.height; }))
      tell(first.at, "issue.temp_no_heights", "part A of the sounding, which reports heights", Errc::no_data);
    station_.clear();
    return sounding;
  }

  // By falling pressure; of one pressure the levels are made one, and what was told first stands.
  std::vector<Told> merged(std::vector<Told> all) {
    std::stable_sort(all.begin(), all.end(),
                     [](const Told& a, const Told& b) { return a.level.pressure > b.level.pressure; });
    std::vector<Told> levels;
    for (const Told& told : all) {
      if (levels.empty() || levels.back().level.pressure != told.level.pressure) {
        levels.push_back(told);
        continue;
      }
      TempLevel& into = levels.back().level;
      const TempLevel& from = told.level;
      const bool other_temperature =
          into.temperature && from.temperature && abs(*into.temperature - *from.temperature) > kSameTemperature;
      const bool other_wind = into.wind && from.wind &&
                              (abs(into.wind->east() - from.wind->east()) > kSameWind ||
                               abs(into.wind->north() - from.wind->north()) > kSameWind);
      if (other_temperature || other_wind)
        tell(told.at, "issue.temp_conflict", "one temperature and one wind at a level", Errc::conflict);
      into.kind = std::min(into.kind, from.kind);
      if (!into.height) into.height = from.height;
      if (!into.temperature) {
        into.temperature = from.temperature;
        into.dew_point = from.dew_point;
      }
      if (!into.wind) into.wind = from.wind;
    }
    return levels;
  }

  void drop_falling_heights(std::vector<Told>& levels) {
    std::optional<GeopotentialAltitude> below;
    for (Told& told : levels) {
      if (!told.level.height) continue;
      if (below && *told.level.height <= *below) {
        tell(told.at, "issue.temp_height", "a height above that of the level below");
        told.level.height.reset();
      } else {
        below = told.level.height;
      }
    }
  }

  void tell(std::size_t at, std::string_view key, std::string_view wanted, Errc code = Errc::bad_input) {
    const Token& token = groups_[at];
    const std::string got = clipped(token.shown);
    issues_.push_back(Issue{.code = code,
                            .sentence = say(std::string{key}, {{"group", got}, {"station", station_}}),
                            .where = where(token),
                            .got = got,
                            .wanted = std::string{wanted}});
  }

  const Groups& groups_;
  Instant near_;
  std::vector<Issue> issues_;
  std::vector<Part> parts_;
  std::map<Key, std::size_t> part_of_;  // index in parts_
  std::string station_;                 // of the part in hand
  std::size_t at_ = 0, end_ = 0;        // in the part in hand
  std::size_t next_ = 0;                // the first standard level that may still come
  double last_wind_hpa_ = 0.0;          // of the part in hand
  std::vector<Told> levels_;            // of the part in hand
};

}  // namespace

Parsed<std::vector<TempSounding>> parse_temp(std::string_view pasted, Instant near) {
  const Groups groups{pasted};
  return Reader{groups, near}.read();
}

Result<wind::Ladder> ladder_of(const TempSounding& sounding) {
  wind::Ladder ladder{.source = {.kind = wind::SourceKind::sounding, .name = sounding.station, .time = sounding.time},
                      .rows = {}};
  for (const TempLevel& level : sounding.levels) {
    if (!level.height || (!level.wind && !level.temperature)) continue;
    const AltitudeAmsl altitude = air::geometric(*level.height);
    if (altitude < kLowest || altitude > kHighest) continue;
    if (!ladder.rows.empty() && altitude <= ladder.rows.back().altitude) continue;
    ladder.rows.push_back({.altitude = altitude, .wind = level.wind, .temperature = level.temperature});
  }
  if (ladder.rows.empty())
    return fail(Errc::no_data, say("issue.temp_empty", {{"station", sounding.station}}), sounding.station,
                "a level with a height and a wind or a temperature");
  return ladder;
}

}  // namespace pappus::text
