#include "formats/text/metar/metar.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <string>
#include <utility>

#include "formats/text/metar/groups.hpp"
#include "formats/text/metar/pasted.hpp"
#include "formats/text/tokens/tokens.hpp"

namespace pappus::text {
namespace {

using wind::SurfaceReport;
using wmo::Beyond;
using wmo::is_bad_time;
using wmo::is_report_name;
using wmo::is_station;
using wmo::is_validity;
using wmo::kProse;
using wmo::nearest;

// Extremes measured: -89.2 C and 56.7 C; at sea level 870 hPa and 1085 hPa (World Meteorological Organization).
constexpr double kColdest_c = -90.0, kHottest_c = 60.0;
constexpr Pressure kLowestQnh = 850 * hectopascal, kHighestQnh = 1100 * hectopascal;
// Q is given to a whole hectopascal, rounded down (15.12.1); A to 0.01 inHg, 0.34 hPa; one may be made from the other.
constexpr Pressure kPressuresAgree = 1.4 * hectopascal;
constexpr double kTenthsAgree_k = 0.55;   // whole degrees are rounded from the tenths
constexpr double kDewPointSlack_k = 0.5;  // both are rounded: a dew point may seem to stand above the temperature

struct Start {
  enum class Kind { none, report, forecast } kind = Kind::none;
  bool named = false;       // METAR or SPECI stands before it
  std::size_t station = 0;  // index of its group
};

// Whether a report or a forecast starts at group `i`.
Start start_at(const Groups& groups, std::size_t i) {
  Start start;
  start.named = is_report_name(groups.at(i));
  start.station = i;
  if (start.named) {
    ++start.station;
    if (groups.at(start.station) == "COR") ++start.station;
  }
  const std::string_view then = groups.at(start.station + 1);
  if (!is_station(groups.at(start.station))) return start;
  const std::string_view before = i > 0 ? groups.at(i - 1) : std::string_view{};
  const bool after_taf =
      before == "TAF" || ((before == "AMD" || before == "COR") && i > 1 && groups.at(i - 2) == "TAF");
  if (is_day_time(then) && (after_taf || (!start.named && is_validity(groups.at(start.station + 2))))) {
    start.kind = Start::Kind::forecast;
  } else if (start.named) {
    if (is_day_time(then) || is_bad_time(then) || then == "NIL") start.kind = Start::Kind::report;
  } else if (is_day_time(then)) {
    // "from 051658z" in a letter looks the same: some group of a report must follow.
    for (std::size_t k = start.station + 2; k < std::min(start.station + 5, groups.size()); ++k) {
      const std::string_view group = groups.at(k);
      const bool other_start = is_report_name(group) || (is_station(group) && is_day_time(groups.at(k + 1)));
      if (group == "=" || group == "TAF" || other_start) break;
      if (wmo::is_known(group)) start.kind = Start::Kind::report;
      if (groups[k].after_empty_line) break;
    }
  }
  return start;
}

// The end of the report whose groups start at `first`.
std::size_t end_of(const Groups& groups, std::size_t first) {
  bool free_text = false;
  std::size_t i = first;
  for (; i < groups.size(); ++i) {
    const std::string_view group = groups.at(i);
    if (group == "=" || group == "TAF") break;
    if (groups[i].after_empty_line && (free_text ? group != "RMK" : !wmo::is_known(group))) break;
    // Remarks may hold a word and a time ("NEXT 251200Z"): there, a report starts on its own line or by its name.
    if (is_report_name(group) || !free_text || groups[i].first_of_line)
      if (start_at(groups, i).kind != Start::Kind::none) break;
    if (group == "RMK" || wmo::is_trend(group)) free_text = true;
  }
  return i;
}

// Reads the groups of one report.
class Decoder {
 public:
  Decoder(const Groups& groups, std::size_t station, std::size_t end, std::vector<Issue>& issues)
      : groups_{groups}, station_{station}, end_{end}, issues_{issues} {}

  std::optional<SurfaceReport> decode(Instant near) {
    report_.station = std::string{groups_.at(station_)};
    const std::size_t time = station_ + 1;
    if (groups_.at(time) == "NIL") return nil();
    const std::optional<Instant> seen =
        is_day_time(groups_.at(time)) ? nearest_instant(day_time_of(groups_.at(time)), near) : std::nullopt;
    if (!seen) {
      tell(time, "issue.metar_time", "day, hour and minute as ddhhmmZ, such as 051658Z");
      return std::nullopt;
    }
    report_.source = {.kind = wind::SourceKind::report, .name = report_.station, .time = *seen};
    for (at_ = time + 1; at_ < end_; ++at_)
      if (!group()) break;
    if (nil_) return nil();
    apply_tenths();
    settle_pressure();
    settle_sky();
    drop_bad_dew_point();
    return std::move(report_);
  }

 private:
  struct Step {
    bool (Decoder::*take)();
    bool observed;  // stands before the pressure
  };

  // One group, or more where they belong together. False ends the report.
  bool group() {
    const std::string_view group = groups_.at(at_);
    if (group == "NIL") {
      nil_ = true;
      return false;
    }
    if (group == "RMK") {
      remarks();
      return false;
    }
    if (wmo::is_trend(group)) {
      while (at_ < end_ && groups_.at(at_) != "RMK") ++at_;
      --at_;
      return true;
    }
    static constexpr std::array<Step, 9> steps{{{&Decoder::take_pressure, false},
                                                {&Decoder::take_wind_shear, false},
                                                {&Decoder::take_passed_over, false},
                                                {&Decoder::take_wind, true},
                                                {&Decoder::take_swing, true},
                                                {&Decoder::take_visibility, true},
                                                {&Decoder::take_weather, true},
                                                {&Decoder::take_cloud, true},
                                                {&Decoder::take_temperature, true}}};
    const bool after_pressure = pressure_[0] || pressure_[1];
    for (const Step& step : steps) {
      if (step.observed && after_pressure) continue;
      if ((this->*step.take)()) {
        unknown_ = 0;
        return true;
      }
    }
    if (after_pressure && wmo::is_known(group)) {
      tell(at_, "issue.metar_place", "wind, visibility, weather, cloud and temperature before the pressure");
      return true;
    }
    if (++unknown_ > kProse) {
      tell(at_, "issue.metar_rest", "'=' at the end of the report");
      return false;
    }
    tell_unknown(group);
    return true;
  }

  void tell_unknown(std::string_view group) {
    struct Key {
      wmo::Likeness likeness;
      std::string_view key;
    };
    using wmo::Likeness;
    static constexpr std::array<Key, 6> keys{{{Likeness::wind, "issue.metar_wind"},
                                              {Likeness::visibility, "issue.metar_visibility"},
                                              {Likeness::cloud, "issue.metar_cloud"},
                                              {Likeness::temperature, "issue.metar_temperature"},
                                              {Likeness::pressure, "issue.metar_pressure"},
                                              {Likeness::none, "issue.metar_group"}}};
    const Likeness likeness = wmo::likeness(group);
    for (const Key& entry : keys)
      if (entry.likeness == likeness)
        tell(at_, entry.key,
             likeness == Likeness::none ? "a group of a METAR, or RMK before free text" : wmo::wanted(likeness));
  }

  bool take_wind() {
    const auto wind = wmo::read_wind(groups_.at(at_));
    if (!wind) return false;
    if (!once(wind_)) return true;
    const wmo::SurfaceWind said = wmo::interpret(*wind);
    for (const std::string_view wanted : said.wanted) tell(at_, "issue.metar_wind", wanted);
    report_.wind = said.wind;
    report_.wind_speed = said.speed;
    report_.gust = said.gust;
    report_.wind_variable = report_.wind_variable || said.variable;
    return true;
  }

  bool take_swing() {
    if (!wmo::is_swing(groups_.at(at_))) return false;
    report_.wind_variable = true;
    return true;
  }

  bool take_visibility() {
    const std::string_view group = groups_.at(at_);
    if (group == "CAVOK") {
      clear_ = at_;
      visibility({.distance = 10 * kilometre, .beyond = Beyond::at_least, .directional = false});
      return true;
    }
    const auto read = wmo::read_visibility(group, at_ + 1 < end_ ? groups_.at(at_ + 1) : std::string_view{});
    if (!read) return false;
    at_ += read->groups - 1;
    visibility(read->visibility);
    return true;
  }

  void visibility(const wmo::VisibilityGroup& read) {
    if (!report_.visibility) {
      report_.visibility = read.distance;
      report_.visibility_at_least = read.beyond == Beyond::at_least;
      report_.visibility_below = read.beyond == Beyond::below;
      if (read.directional) report_.visibility_lowest = read.distance;
      return;
    }
    // A second one is the lowest in some direction; where a higher one is given by direction, it adds nothing.
    if (read.distance < *report_.visibility) {
      report_.visibility_lowest =
          report_.visibility_lowest ? std::min(*report_.visibility_lowest, read.distance) : read.distance;
    } else if (!read.directional) {
      tell(at_, "issue.metar_repeated", "one prevailing visibility", Errc::conflict);
    }
  }

  bool take_weather() {
    if (!wmo::is_weather(groups_.at(at_))) return false;
    report_.weather.emplace_back(groups_.at(at_));
    return true;
  }

  bool take_cloud() {
    if (wmo::is_clear_sky(groups_.at(at_))) {
      clear_ = at_;
      return true;
    }
    const auto layer = wmo::read_cloud(groups_.at(at_));
    if (layer) report_.clouds.push_back(*layer);
    return layer.has_value();
  }

  bool take_temperature() {
    const auto t = wmo::read_temperature(groups_.at(at_));
    if (!t) return false;
    if (!once(temperature_)) return true;
    report_.temperature = in_range(t->temperature_c);
    report_.dew_point = in_range(t->dew_point_c);
    return true;
  }

  // Tells what is beyond the range of the air on Earth.
  std::optional<Temperature> in_range(std::optional<double> degrees) {
    if (!degrees) return std::nullopt;
    if (*degrees >= kColdest_c && *degrees <= kHottest_c) return celsius(*degrees);
    tell(at_, "issue.metar_temperature", "a temperature from M90 to 60");
    return std::nullopt;
  }

  bool take_pressure() {
    const auto read = wmo::read_pressure(groups_.at(at_));
    if (!read) return false;
    const std::size_t kind = read->in_inches ? 1 : 0;
    if (!once(pressure_[kind])) return true;
    if (read->value && (*read->value < kLowestQnh || *read->value > kHighestQnh)) {
      tell(at_, "issue.metar_pressure", read->in_inches ? "from A2510 to A3248" : "from Q0850 to Q1100");
    } else {
      qnh_[kind] = read->value;
    }
    return true;
  }

  bool take_wind_shear() {
    if (groups_.at(at_) != "WS") return false;
    while (at_ + 1 < end_ && wmo::is_wind_shear_word(groups_.at(at_ + 1))) ++at_;
    return true;
  }

  bool take_passed_over() {
    if (groups_.at(at_) == "AUTO") report_.automatic = true;
    return wmo::is_passed_over(groups_.at(at_));
  }

  void remarks() {
    for (; at_ < end_; ++at_) {
      if (const auto read = wmo::read_tenths(groups_.at(at_))) {
        tenths_ = read;
        tenths_at_ = at_;
        return;
      }
    }
  }

  void apply_tenths() {
    if (!tenths_) return;
    at_ = tenths_at_;
    bool agree = true;
    const auto apply = [&](std::optional<double> tenths, std::optional<Temperature>& whole) {
      const std::optional<Temperature> read = in_range(tenths);
      if (!read) return;
      if (whole && abs(*read - *whole) > kTenthsAgree_k * kelvin) {
        agree = false;
      } else {
        whole = read;
      }
    };
    apply(tenths_->temperature_c, report_.temperature);
    apply(tenths_->dew_point_c, report_.dew_point);
    if (!agree) tell(tenths_at_, "issue.metar_tenths", "tenths that round to the body's degrees", Errc::conflict);
    temperature_ = temperature_ ? temperature_ : std::optional{tenths_at_};
  }

  void settle_pressure() {
    if (qnh_[0] && qnh_[1] && abs(*qnh_[0] - *qnh_[1]) > kPressuresAgree) {
      tell(std::max(*pressure_[0], *pressure_[1]), "issue.metar_pressures", "Q and A that say the same",
           Errc::conflict);
      return;
    }
    report_.qnh = qnh_[0] ? qnh_[0] : qnh_[1];
  }

  void settle_sky() {
    report_.sky_clear = clear_ && report_.clouds.empty();
    if (clear_ && !report_.clouds.empty())
      tell(*clear_, "issue.metar_clear", "a clear sky or cloud groups, not both", Errc::conflict);
  }

  void drop_bad_dew_point() {
    if (!report_.temperature || !report_.dew_point) return;
    // A hair more than the slack, so that 12.5 over 12.0 is not refused for the last digit of a sum.
    if (*report_.dew_point - *report_.temperature <= (kDewPointSlack_k + 1e-9) * kelvin) return;
    report_.dew_point.reset();
    tell(*temperature_, "issue.metar_dew_point", "a dew point not above the temperature");
  }

  // Whether this is the first group of its kind. A second one is told, unless it is the same over again.
  bool once(std::optional<std::size_t>& seen) {
    if (!seen) {
      seen = at_;
      return true;
    }
    if (groups_.at(*seen) != groups_.at(at_))
      tell(at_, "issue.metar_repeated", "only " + clipped(groups_[*seen].shown), Errc::conflict);
    return false;
  }

  std::optional<SurfaceReport> nil() {
    tell(station_, "issue.metar_nil", "a report that is not NIL", Errc::no_data);
    return std::nullopt;
  }

  void tell(std::size_t at, std::string_view key, std::string_view wanted, Errc code = Errc::bad_input) {
    const Token& token = groups_[at];
    const std::string got = clipped(token.shown);
    issues_.push_back(Issue{.code = code,
                            .sentence = say(std::string{key}, {{"group", got}, {"station", report_.station}}),
                            .where = where(token),
                            .got = got,
                            .wanted = std::string{wanted}});
  }

  const Groups& groups_;
  std::size_t station_, end_, at_ = 0;
  std::vector<Issue>& issues_;
  SurfaceReport report_;
  bool nil_ = false;
  int unknown_ = 0;  // in a row
  // Where the first group of each kind stands.
  std::optional<std::size_t> wind_, temperature_, clear_;
  std::array<std::optional<std::size_t>, 2> pressure_;  // Q, A
  std::array<std::optional<Pressure>, 2> qnh_;          // Q, A
  std::optional<wmo::TemperatureGroup> tenths_;
  std::size_t tenths_at_ = 0;
};

}  // namespace

Parsed<std::vector<SurfaceReport>> parse_metar(std::string_view pasted, Instant near) {
  const Groups groups{pasted};
  Parsed<std::vector<SurfaceReport>> parsed;
  std::vector<SurfaceReport> reports;
  std::size_t i = 0;
  while (i < groups.size()) {
    const Start start = start_at(groups, i);
    if (start.kind != Start::Kind::report) {
      // Past the whole of a forecast's start, so that it is not met again without the TAF before it.
      i = start.kind == Start::Kind::forecast ? start.station + 2 : i + 1;
      continue;
    }
    const std::size_t end = end_of(groups, start.station + 2);
    Decoder decoder{groups, start.station, end, parsed.issues};
    if (std::optional<SurfaceReport> report = decoder.decode(near)) {
      report->text = groups.shown(i, end);
      reports.push_back(*std::move(report));
    }
    i = end;
  }
  if (!reports.empty()) {
    parsed.value = std::move(reports);
  } else if (parsed.issues.empty()) {
    const std::string got =
        groups.size() == 0 ? std::string{} : clipped(groups.shown(0, std::min<std::size_t>(groups.size(), 8)));
    parsed.issues.push_back(Issue{.code = Errc::bad_input,
                                  .sentence = say("issue.metar_none"),
                                  .where = {},
                                  .got = got,
                                  .wanted = "a report with its station and time, such as METAR XXXX 051658Z 30008KT"});
  }
  return parsed;
}

}  // namespace pappus::text
