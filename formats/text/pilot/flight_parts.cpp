#include "formats/text/pilot/flight_parts.hpp"

#include <algorithm>

namespace pappus::text {

// A thing cannot be seen in the future.
void FlightParts::check_seen(const Table& table, std::string_view key, const Moment& seen) const {
  const auto& as_of = out.flight.as_of;
  if (as_of && seen.at > as_of->at + kClockSlack)
    table.refuse(key, Errc::bad_input, "issue.seen_later", "not after as_of, " + iso8601(*as_of));
}

// The place in the file of a place in a text. Escapes move it; it never leaves the text's lines.
Where FlightParts::place_in_text(const Value& value, const Where& inside) const {
  const TomlSpan& span = value.node().span;
  Where out = value.where();
  if (inside.line < 1) return out;
  if (span.line == span.end_line) {
    out.column = span.column + std::max(inside.column, 1);  // behind the quote
    return out;
  }
  // A line break right behind the opening quotes is not part of the text.
  const std::string_view opening = document.rest_of_line(span.line, span.column);
  const bool text_starts_below = opening.find_first_not_of("\"'\r") == std::string_view::npos;
  const int first = text_starts_below ? span.line + 1 : span.line;
  out.line = std::min(first + inside.line - 1, span.end_line);
  constexpr int quotes = 3;
  out.column =
      out.line == span.line ? span.column + quotes + std::max(inside.column, 1) - 1 : std::max(inside.column, 1);
  return out;
}

std::optional<Position> read_position(const Table& table, std::string_view key) {
  constexpr std::string_view wanted = "[latitude, longitude] in degrees, such as [38.90, -133.40]";
  const auto at = table.find(key);
  if (!at) {
    table.missing(key, std::string(wanted));
    return std::nullopt;
  }
  const auto items = at->items(wanted);
  if (!items) return std::nullopt;
  const auto is_number = [](const Value& v) {
    return v.node().kind == TomlKind::integer || v.node().kind == TomlKind::number;
  };
  if (items->size() != 2 || !std::all_of(items->begin(), items->end(), is_number)) {
    at->refuse(Errc::bad_input, "issue.field_position", std::string(wanted));
    return std::nullopt;
  }
  const double latitude = (*items)[0].node().number, longitude = (*items)[1].node().number;
  if (const auto position = Position::at(latitude * degree, longitude * degree)) return *position;
  const bool latitude_wrong = !(latitude >= -90.0 && latitude <= 90.0);
  if (latitude_wrong)
    (*items)[0].refuse(Errc::bad_input, "issue.field_latitude", "-90 to 90, latitude first");
  else
    (*items)[1].refuse(Errc::bad_input, "issue.field_longitude", "-180 to 180, longitude second");
  return std::nullopt;
}

}  // namespace pappus::text
