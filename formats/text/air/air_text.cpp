#include "formats/text/air/air_text.hpp"

#include <algorithm>
#include <array>
#include <iterator>
#include <set>
#include <utility>

#include "formats/text/fb/fb.hpp"
#include "formats/text/metar/metar.hpp"
#include "formats/text/taf/taf.hpp"
#include "formats/text/temp/temp.hpp"
#include "formats/text/tokens/tokens.hpp"

namespace pappus::text {
namespace {

constexpr std::array<std::string_view, 4> kNone{"issue.metar_none", "issue.taf_none", "issue.fb_none",
                                                "issue.temp_none"};
constexpr std::array<std::string_view, 4> kReaders{"issue.metar_", "issue.taf_", "issue.fb_", "issue.temp_"};
constexpr std::string_view kNothing = "issue.air_none";

// What a page of stations may name before the list is cut: an issue is read by a person.
constexpr std::size_t kStationsNamed = 12;

std::string in_capitals(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  return out;
}

std::string named(const std::set<std::string>& stations) {
  std::string out = "one of ";
  std::size_t n = 0;
  for (const std::string& station : stations) {
    if (n == kStationsNamed) return out + ", ...";
    out += (n++ == 0 ? "" : ", ") + station;
  }
  return out;
}

class AirReader {
 public:
  AirReader(std::string_view pasted, Instant near, const StationWanted& station) : station_{station} {
    if (station_.id) station_.id = in_capitals(*station_.id);
    auto reports = take(parse_metar(pasted, near));
    auto forecasts = take(parse_taf(pasted, near));
    bulletins_ = take(parse_fb(pasted, near));
    soundings_ = take(parse_temp(pasted, near));
    told_.reports = std::move(reports);
    told_.forecasts = std::move(forecasts);
  }

  Parsed<AirTold> read() {
    for (const wind::Forecast& forecast : told_.forecasts) aerodromes_.insert(forecast.station);
    for (const FbBulletin& bulletin : bulletins_)
      for (const FbStation& station : bulletin.stations) aloft_.insert(station.id);
    for (const TempSounding& sounding : soundings_) sounded_.insert(sounding.station);
    if (told_.reports.empty() && aerodromes_.empty() && aloft_.empty() && sounded_.empty()) {
      tell_nothing();
    } else if (station_is_there()) {
      choose_aerodromes();
      choose_aloft();
      choose_sounding();
    }
    return {std::move(told_), std::move(issues_)};
  }

 private:
  template <class T>
  std::vector<T> take(Parsed<std::vector<T>> parsed) {
    for (Issue& issue : parsed.issues)
      if (std::find(kNone.begin(), kNone.end(), issue.sentence.key) == kNone.end()) issues_.push_back(std::move(issue));
    if (!parsed.value) return {};
    return std::move(*parsed.value);
  }

  // A reader that found a broken one has said so: "none" would contradict it.
  void tell_nothing() {
    if (!issues_.empty()) return;
    issues_.push_back(
        {Errc::bad_input, say(std::string(kNothing)), {}, {}, "a METAR, TAF, FB or TEMP message as sent"});
  }

  bool station_is_there() {
    if (!station_.id) return true;
    std::set<std::string> all = aerodromes_;
    all.insert(aloft_.begin(), aloft_.end());
    all.insert(sounded_.begin(), sounded_.end());
    for (const wind::SurfaceReport& report : told_.reports) all.insert(report.station);
    if (all.count(*station_.id) != 0) return true;
    issues_.push_back({Errc::not_found,
                       say("issue.air_station_unknown", {{"station", *station_.id}}),
                       {{}, 0, 0, "station"},
                       *station_.id,
                       named(all)});
    return false;
  }

  void choose_aerodromes() {
    if (!station_.id || aerodromes_.count(*station_.id) == 0) return;
    auto& all = told_.forecasts;
    all.erase(std::remove_if(all.begin(), all.end(),
                             [&](const wind::Forecast& forecast) { return forecast.station != *station_.id; }),
              all.end());
  }

  // None after it was told that none can be chosen.
  std::optional<std::string> chosen_of(const std::set<std::string>& stations) {
    if (stations.empty()) return std::nullopt;
    if (station_.id && stations.count(*station_.id) != 0) return station_.id;
    if (stations.size() == 1) return *stations.begin();
    issues_.push_back({Errc::bad_input,
                       say("issue.air_station_missing"),
                       {{}, 0, 0, "station"},
                       station_.id.value_or(""),
                       named(stations)});
    return std::nullopt;
  }

  void choose_aloft() {
    const auto id = chosen_of(aloft_);
    if (!id) return;
    // An elevation belongs to the station that was named.
    const auto elevation = !station_.id || *station_.id == *id ? station_.elevation : std::nullopt;
    for (const FbBulletin& bulletin : bulletins_) {
      const auto is_it = [&](const FbStation& station) { return station.id == *id; };
      if (std::none_of(bulletin.stations.begin(), bulletin.stations.end(), is_it)) continue;
      keep(ladder_of(bulletin, *id, elevation));
    }
  }

  void choose_sounding() {
    const auto id = chosen_of(sounded_);
    if (!id) return;
    for (const TempSounding& sounding : soundings_)
      if (sounding.station == *id) keep(ladder_of(sounding));
  }

  void keep(Result<wind::Ladder> ladder) {
    if (ladder)
      told_.ladders.push_back(std::move(*ladder));
    else
      issues_.push_back(std::move(ladder.error()));
  }

  StationWanted station_;
  AirTold told_;
  std::vector<FbBulletin> bulletins_;
  std::vector<TempSounding> soundings_;
  std::set<std::string> aerodromes_, aloft_, sounded_;
  std::vector<Issue> issues_;
};

}  // namespace

Parsed<AirTold> read_air(std::string_view pasted, Instant near, const StationWanted& station) {
  return AirReader{pasted, near, station}.read();
}

bool is_air_warning(const Issue& issue) {
  const std::string_view key = issue.sentence.key;
  return key == kNothing || std::any_of(kReaders.begin(), kReaders.end(), [key](std::string_view reader) {
           return key.substr(0, reader.size()) == reader;
         });
}

}  // namespace pappus::text
