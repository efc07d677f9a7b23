// Any bytes at all as a balloon file, as a flight file and as a pilot file: no crash, a value or an issue that is more than a warning and
// never both, issues in the order of the file with places inside it, and a value that keeps the rules.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "formats/text/pilot/balloon_file.hpp"
#include "formats/text/pilot/flight_file.hpp"
#include "formats/text/pilot/pibal_file.hpp"
#include "formats/text/pilot/pilot_file.hpp"
#include "fuzz/laws.hpp"

namespace {

using pappus::Issue;
using pappus::fuzz::require;

void check_issues(const std::vector<Issue>& issues, std::string_view text) {
  const auto lines = 1 + std::count(text.begin(), text.end(), '\n');
  int before = 0;
  bool beside = false;
  for (const Issue& issue : issues) {
    require(!issue.sentence.key.empty(), "an issue says what is wrong");
    if (issue.where.file != "f.toml") {
      require(!issue.where.file.empty(), "an issue names its file");
      beside = true;
      continue;
    }
    require(!beside, "what stands in files beside it is told last");
    require(issue.where.line >= before && issue.where.line <= lines, "issues in the order of the file, inside it");
    before = issue.where.line;
  }
}

void check_balloon(std::string_view text) {
  const auto parsed = pappus::text::parse_balloon(text, "f.toml");
  check_issues(parsed.issues, text);
  require(parsed.value.has_value() == parsed.issues.empty(), "a balloon or an issue");
  if (!parsed.value) return;
  const pappus::balloon::Balloon& b = *parsed.value;
  require(!b.burners.empty() && !b.cylinders.empty(), "a balloon has a burner and a cylinder");
  for (const auto& c : b.cylinders) {
    require(!c.id.empty() && !c.group.empty(), "a cylinder has an id and a group");
    require(c.level_fill <= c.shell, "level fill within the shell");
    require(c.usable_to >= 0.0 && c.usable_to <= 0.5, "usable_to in its range");
  }
}

// What stands beside the flight is its own text after the first line of dashes: tables and reports are fuzzed with it.
pappus::Result<std::string> read_beside(std::string_view text, const std::string& path) {
  if (path == "none") return pappus::fail(pappus::Errc::not_found, pappus::say("issue.file_not_found"), path);
  const std::size_t at = text.find("\n#---\n");
  return std::string(at == std::string_view::npos ? text : text.substr(at));
}

void check_flight(std::string_view text) {
  const auto parsed =
      pappus::text::parse_flight(text, "f.toml", [text](const std::string& path) { return read_beside(text, path); });
  check_issues(parsed.issues, text);
  const bool grave = !std::all_of(parsed.issues.begin(), parsed.issues.end(), pappus::text::is_warning);
  require(parsed.value.has_value() != grave, "a flight or an issue that withholds it");
  if (!parsed.value) return;
  const pappus::sheet::Flight& f = parsed.value->flight;
  const auto is_pilot = [](const pappus::people::Person& p) { return p.role == pappus::people::Role::pilot; };
  require(parsed.value->ladder_places.size() == f.ladders.size(), "a place for each ladder");
  require(parsed.value->pibal_places.size() == f.pibals.size(), "a place for each pilot balloon");
  for (const auto& pibal : f.pibals) {
    require(pibal.ascent.rise.rate > pappus::Speed{}, "a pilot balloon rises");
    for (std::size_t i = 1; i < pibal.ascent.calls.size(); ++i)
      require(pibal.ascent.calls[i - 1].since_release < pibal.ascent.calls[i].since_release, "times rise");
  }
  require(std::count_if(f.aboard.begin(), f.aboard.end(), is_pilot) == 1, "exactly one pilot");
  for (const auto& ladder : f.ladders)
    for (std::size_t i = 1; i < ladder.rows.size(); ++i)
      require(ladder.rows[i - 1].altitude < ladder.rows[i].altitude, "rows rise");
  pappus::balloon::Balloon balloon;
  balloon.cylinders.emplace_back().id = "1";
  check_issues(pappus::text::cross_check(balloon, *parsed.value, f.time.at), text);
}

void check_pibals(std::string_view text) {
  const auto tables = pappus::text::parse_pibal_file(text, "f.toml");
  check_issues(tables.issues, text);
  require(tables.value || !tables.issues.empty(), "pilot balloons or an issue");
  const auto calls = pappus::text::parse_pibal_csv(text, "f.toml", pappus::text::North::of_the_compass);
  check_issues(calls.issues, text);
  require(calls.value.has_value() == calls.issues.empty(), "calls or an issue");
}

void check_pilot(std::string_view text) {
  const auto day = pappus::Date::of(2027, 5, 16);
  const auto parsed = pappus::text::parse_pilot(text, "f.toml", day);
  check_issues(parsed.issues, text);
  require(parsed.value.has_value() == parsed.issues.empty(), "a pilot or an issue");
  if (!parsed.value) return;
  for (const pappus::Date& landing : parsed.value->pilot.landings) require(landing <= *day, "landings have been");
  for (const auto& flight : parsed.value->pilot.log.flights)
    require(flight.date <= *day && flight.in_command >= pappus::Duration{} && flight.landings >= 0,
            "flights have been");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(data, data + size);
  check_balloon(text);
  check_flight(text);
  check_pibals(text);
  check_pilot(text);
  return 0;
}
