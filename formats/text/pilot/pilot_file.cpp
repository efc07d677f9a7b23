#include "formats/text/pilot/pilot_file.hpp"

#include <utility>
#include <vector>

#include "formats/text/pilot/pilot_keys.hpp"
#include "formats/text/pilot/toml_cursor.hpp"

namespace pappus::text {

Parsed<PilotFile> parse_pilot(std::string_view toml, std::string_view file, std::optional<Date> latest) {
  TomlDocument document{toml, file};
  if (!document.is_readable()) return {std::nullopt, document.finish()};
  PilotFile out;
  read_papers(document.root().table("pilot"), latest, out.pilot);
  read_minima(document.root().table("minimum"), out.minimum);
  std::vector<Issue> issues = document.finish();
  if (!issues.empty()) return {std::nullopt, std::move(issues)};
  return {std::move(out), {}};
}

void fill_from(sheet::Flight& flight, const PilotFile& usual) {
  flight.pilot = people::filled_from(std::move(flight.pilot), usual.pilot);
  flight.minimum = sheet::filled_from(flight.minimum, usual.minimum);
}

}  // namespace pappus::text
