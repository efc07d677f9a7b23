#include "formats/text/pilot/pilot_keys.hpp"

namespace pappus::text {
namespace {

void check_done(const Value& value, const std::optional<Date>& latest, const Date& date) {
  if (latest && date > *latest) value.refuse(Errc::bad_input, "issue.done_later", "not after " + iso8601(*latest));
}

void read_done(const Table& table, std::string_view key, const std::optional<Date>& latest, std::optional<Date>& out) {
  if (table.may(key, out)) check_done(*table.find(key), latest, *out);
}

void read_days(const Table& table, std::string_view key, const std::optional<Date>& latest, std::vector<Date>& out) {
  const auto value = table.find(key);
  if (!value) return;
  const auto items = value->items("a list of dates, such as [2027-02-15, 2027-03-06]");
  if (!items) return;
  for (const Value& item : *items)
    if (const auto date = item.date()) {
      check_done(item, latest, *date);
      out.push_back(*date);
    }
}

constexpr std::string_view kWantedFlight =
    "date, hours in command, take-offs and landings, such as [2027-03-06, 0.8, 1, 1]; a flight in another class ends "
    "with \"other class\"";

// [date, hours, take-offs, landings], and a word where it was in another class.
std::optional<people::LoggedFlight> read_flight(const Value& row, const std::optional<Date>& latest) {
  const auto items = row.items(kWantedFlight);
  if (!items) return std::nullopt;
  constexpr std::size_t least = 4, most = 5;
  if (items->size() < least || items->size() > most) {
    row.refuse(Errc::bad_input, "issue.pilot_flight", std::string(kWantedFlight));
    return std::nullopt;
  }
  people::LoggedFlight flight;
  const auto date = (*items)[0].date();
  const auto hours = (*items)[1].quantity_or_bare(Dimension::duration, "h", {"issue.pilot_flight_hours", "0h", "24h"});
  const auto take_offs = (*items)[2].count({"issue.pilot_flight_count", "0", "100"});
  const auto landings = (*items)[3].count({"issue.pilot_flight_count", "0", "100"});
  if (items->size() == most) {
    if (!(*items)[4].choice({"other class"}, {"issue.pilot_flight_class"})) return std::nullopt;
    flight.in_class = false;
  }
  if (!date || !hours || !take_offs || !landings) return std::nullopt;
  check_done((*items)[0], latest, *date);
  flight.date = *date;
  flight.in_command = Duration::from_si(*hours);
  flight.take_offs = *take_offs;
  flight.landings = *landings;
  return flight;
}

void may_length(const Table& table, std::string_view key, Dimension dimension, const Rule& rule,
                std::optional<Length>& out) {
  if (const auto value = table.find(key))
    if (const auto si = value->quantity(dimension, rule)) out = *si * metre;
}

}  // namespace

void read_papers(const Table& table, std::optional<Date> latest, people::Pilot& out) {
  table.may("certificate", out.certificate);
  read_done(table, "review", latest, out.review);
  read_days(table, "landings", latest, out.landings);
  read_days(table, "night_landings", latest, out.night_landings);
  table.may("medical_until", out.medical_until);  // may lie ahead, and had better
  table.may("for_hire", out.for_hire);
  table.may("training_given", out.training_given);
  if (const auto flights = table.find("flights"))
    if (const auto rows = flights->items("a list of flights, such as [[2027-03-06, 0.8, 1, 1]]"))
      for (const Value& row : *rows)
        if (const auto flight = read_flight(row, latest)) out.log.flights.push_back(*flight);
  read_done(table, "training_flight", latest, out.log.training_flight);
  read_done(table, "check", latest, out.log.check);
  read_days(table, "supervised", latest, out.log.supervised);
  read_done(table, "refresher", latest, out.log.refresher);
  table.may("trained_volume", out.trained_volume, {"issue.pilot_trained_volume", "100m3", "20000m3"});
  table.may("locator", out.locator, {"issue.pilot_locator"});
}

void read_minima(const Table& table, sheet::OwnMinimum& out) {
  table.may("surface_wind", out.surface_wind, {"issue.minimum_surface_wind", "0kt", "50kt"});
  table.may("reserve", out.reserve, {"issue.minimum_reserve", "0min", "5h"});
  may_length(table, "visibility", Dimension::distance, {"issue.minimum_visibility", "0m", "50km"}, out.visibility);
  if (const auto spread = table.find("spread"))
    if (const auto si = spread->quantity(Dimension::temperature_delta, {"issue.minimum_spread", "0K", "20K"}))
      out.spread = *si * kelvin;
  may_length(table, "cloud_base", Dimension::altitude, {"issue.minimum_cloud_base", "0m", "6000m"}, out.cloud_base);
}

}  // namespace pappus::text
