#include <algorithm>
#include <iterator>
#include <utility>

#include "core/sheet/facts.hpp"
#include "desk/answers.hpp"
#include "desk/open_flight.hpp"
#include "formats/text/air/air_text.hpp"
#include "formats/text/pilot/pibal_file.hpp"
#include "formats/text/profile_csv/profile_csv.hpp"

namespace pappus::desk {
namespace {

bool ends_with(std::string_view text, std::string_view end) {
  return text.size() > end.size() && text.substr(text.size() - end.size()) == end;
}

std::string name_of_file(std::string_view path) {
  const std::size_t slash = path.rfind('/');
  return std::string(slash == std::string_view::npos ? path : path.substr(slash + 1));
}

template <class T>
void append(std::vector<T>& to, std::vector<T> from) {
  std::move(from.begin(), from.end(), std::back_inserter(to));
}

Issue bad_call(std::string key, std::string option, std::string wanted) {
  return {Errc::bad_call, say(std::move(key)), {{}, 0, 0, std::move(option)}, {}, std::move(wanted)};
}

class WindsReader {
 public:
  WindsReader(const WindsQuestion& question, const Files& files, const Clock& clock)
      : question_{question},
        files_{files},
        clock_{clock},
        at_{question.at},
        elevation_{question.elevation},
        time_{question.time} {}

  Parsed<WindsAnswer> read() {
    // Flight files first: they say where and when, if the options do not.
    for (const std::string& path : question_.sources)
      if (ends_with(path, ".toml")) read_flight(path);
    if (!elevation_ || !time_)
      refuse(bad_call("issue.winds_need_place", {}, "--elevation 1500m --time 2027-05-16T05:10:00-09:00"));
    for (const std::string& path : question_.sources)
      if (!ends_with(path, ".toml")) read_text(path);
    Parsed<WindsAnswer> out;
    if (!refused_) out.value = answered();
    out.issues = std::move(told_);
    return out;
  }

 private:
  void refuse(Issue issue) {
    told_.push_back(std::move(issue));
    refused_ = true;
  }

  void read_flight(const std::string& path) {
    auto morning = open_flight(path, files_, clock_, question_.now);
    append(told_, std::move(morning.issues));
    if (!morning.value) {
      refused_ = true;
      return;
    }
    const sheet::Flight& flight = morning.value->flight;
    append(inputs_.ladders, sheet::facts_of(*morning.value).ladders);
    append(inputs_.reports, flight.reports);
    if (!at_) at_ = flight.field.at;
    if (!elevation_) elevation_ = flight.field.elevation;
    if (!time_) time_ = flight.time;
    if (flight.highest) highest_ = above(flight.field.elevation, *flight.highest);
  }

  void read_text(const std::string& path) {
    const auto text = files_.read(path);
    if (!text)
      refuse(text.error());
    else if (ends_with(path, ".csv"))
      read_table(path, *text);
    else
      read_pasted(path, *text);
  }

  void read_pasted(const std::string& path, std::string_view text) {
    auto read =
        text::read_air(text, time_ ? time_->at : clock_.now(), {question_.station, question_.station_elevation});
    for (Issue& issue : read.issues) {
      refused_ = refused_ || !text::is_air_warning(issue);
      if (issue.where.key == "station")
        issue.where.key = "--station";
      else
        issue.where.file = path;
      told_.push_back(std::move(issue));
    }
    const text::AirTold& told = *read.value;
    // A file named on the line that says nothing at all is a wrong file.
    refused_ = refused_ || (told.reports.empty() && told.ladders.empty() && told.forecasts.empty());
    append(inputs_.reports, told.reports);
    append(inputs_.ladders, told.ladders);
  }

  void read_table(const std::string& path, std::string_view text) {
    constexpr std::string_view example = "--columns \"height=1 m agl, from=2 deg true, speed=3 kt\"";
    if (!question_.columns) {
      refuse(bad_call("issue.winds_need_columns", "--columns", std::string(example)));
      return;
    }
    auto map = text::parse_profile_map(*question_.columns);
    for (Issue& issue : map.issues) {
      issue.where.key = "--columns";
      refuse(std::move(issue));
    }
    if (!map.value || !elevation_ || !time_) return;
    const Moment seen = question_.seen.value_or(*time_);
    text::ProfileContext context{
        {question_.by.value_or(wind::SourceKind::forecast), name_of_file(path), seen.at}, elevation_, std::nullopt};
    if (const auto variation = text::variation_at({at_, elevation_}, seen.at)) context.variation = *variation;
    auto ladder = text::parse_profile_csv(text, *map.value, context);
    for (Issue& issue : ladder.issues) {
      if (issue.where.line > 0) issue.where.file = path;
      told_.push_back(std::move(issue));
    }
    if (ladder.value)
      inputs_.ladders.push_back(*std::move(ladder.value));
    else
      refused_ = true;
  }

  WindsAnswer answered() {
    inputs_.ground = *elevation_;
    inputs_.time = time_->at;
    auto profile = wind::WindProfile::from(std::move(inputs_));
    append(told_, std::move(profile.issues));
    WindsAnswer answer;
    answer.time = *time_;
    AltitudeAmsl top = highest_.value_or(*elevation_);
    if (!highest_ && !profile.value->levels().empty()) top = profile.value->levels().back().altitude;
    sheet::WindSection section = sheet::wind_section(*profile.value, top);
    answer.levels = std::move(section.levels);
    answer.gaps = std::move(section.gaps);
    answer.steerage = section.steerage;
    answer.issues = told_;
    return answer;
  }

  const WindsQuestion& question_;
  const Files& files_;
  const Clock& clock_;
  std::optional<Position> at_;
  std::optional<AltitudeAmsl> elevation_, highest_;
  std::optional<Moment> time_;
  wind::WindProfile::Inputs inputs_;
  std::vector<Issue> told_;
  bool refused_ = false;
};

}  // namespace

Parsed<WindsAnswer> answer(const WindsQuestion& question, const Files& files, const Clock& clock) {
  return WindsReader{question, files, clock}.read();
}

}  // namespace pappus::desk
