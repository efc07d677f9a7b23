#include <array>
#include <optional>
#include <string>
#include <string_view>

#include "formats/text/pilot/flight_parts.hpp"

namespace pappus::text {
namespace {

using sheet::Tripwire;
using sheet::Watched;

// Bounds that catch a slip; whether they are wise is the pilot's.
struct AmountRule {
  Watched what;
  Dimension dimension;
  Rule rule;
};
constexpr std::array<AmountRule, 8> kAmounts{{
    {Watched::surface_wind, Dimension::speed, {"issue.tripwire_bound", "0kt", "50kt"}},
    {Watched::gust, Dimension::speed, {"issue.tripwire_bound", "0kt", "80kt"}},
    {Watched::wind_speed, Dimension::speed, {"issue.tripwire_bound", "0kt", "150kt"}},
    {Watched::dew_point_spread, Dimension::temperature_delta, {"issue.tripwire_bound", "0K", "50K"}},
    {Watched::visibility, Dimension::distance, {"issue.tripwire_bound", "0m", "300km"}},
    {Watched::cloud_base, Dimension::altitude, {"issue.tripwire_bound", "0m", "12000m"}},
    {Watched::temperature, Dimension::temperature, {"issue.tripwire_bound", "-60C", "60C"}},
    {Watched::mass_aboard, Dimension::mass, {"issue.tripwire_bound", "0kg", "5000kg"}},
}};
constexpr Rule kHeight{"issue.tripwire_height", "10m", "9000m"};
constexpr Rule kDirection{"issue.tripwire_direction", "0deg", "360deg"};

std::optional<Measure> read_amount(const Table& table, std::string_view key, const AmountRule& amount) {
  const auto value = table.find(key);
  if (!value) return std::nullopt;
  const auto si = value->quantity(amount.dimension, amount.rule);
  return si ? std::optional{Measure{*si, kind_of(amount.what)}} : std::nullopt;
}

void read_bounds(const Table& table, Tripwire& tripwire) {
  for (const std::string_view key : {"from", "to"})
    if (table.find(key))
      table.refuse(key, Errc::conflict, "issue.tripwire_no_sector", "at_most or at_least; from and to serve wind_from");
  for (const AmountRule& amount : kAmounts) {
    if (amount.what != tripwire.what) continue;
    tripwire.at_most = read_amount(table, "at_most", amount);
    tripwire.at_least = read_amount(table, "at_least", amount);
    if (!table.find("at_most") && !table.find("at_least"))
      table.missing("at_most", "at_most or at_least, " + wanted_for(amount.dimension));
  }
  if (tripwire.at_most && tripwire.at_least && tripwire.at_least->si > tripwire.at_most->si)
    table.refuse("at_least", Errc::conflict, "issue.tripwire_empty", "at_least no more than at_most");
}

std::optional<TrueBearing> read_direction(const Table& table, std::string_view key) {
  const auto value = table.find(key);
  if (!value) {
    table.missing(key, "a true direction, such as 200deg");
    return std::nullopt;
  }
  const auto degrees = value->quantity(Dimension::angle, kDirection);
  return degrees ? std::optional{TrueBearing::at(*degrees * degree)} : std::nullopt;
}

void read_sector(const Table& table, Tripwire& tripwire) {
  for (const std::string_view key : {"at_most", "at_least"})
    if (table.find(key))
      table.refuse(key, Errc::conflict, "issue.tripwire_no_amount", "from and to, clockwise, in degrees true");
  tripwire.from = read_direction(table, "from");
  tripwire.to = read_direction(table, "to");
  if (tripwire.from && tripwire.to && *tripwire.from == *tripwire.to)
    table.refuse("to", Errc::conflict, "issue.tripwire_no_width", "another direction than from");
}

void read_height(const Table& table, Tripwire& tripwire) {
  if (is_aloft(tripwire.what)) {
    HeightAgl height;
    if (table.need("height", height, kHeight)) tripwire.height = height;
  } else if (table.find("height")) {
    table.refuse("height", Errc::conflict, "issue.tripwire_no_height", "no height, or one of wind_speed, wind_from");
  }
}

// Keys that would be told as unknown where `what` could not be read.
void look_at_all(const Table& table) {
  for (const std::string_view key : {"height", "at_most", "at_least", "from", "to"}) static_cast<void>(table.find(key));
}

}  // namespace

void read_tripwires(const FlightParts& parts, const Table& root) {
  std::vector<Tripwire>& read = parts.out.flight.tripwires;
  for (const Table& table : root.tables("tripwire")) {
    Tripwire tripwire;
    tripwire.own = true;
    look_at_all(table);
    if (!table.need("what", tripwire.what, {"issue.tripwire_what"})) continue;
    read_height(table, tripwire);
    if (tripwire.what == Watched::wind_from)
      read_sector(table, tripwire);
    else
      read_bounds(table, tripwire);
    tripwire.condition = condition_of(tripwire);
    for (const Tripwire& other : read)
      if (watch_the_same(other, tripwire) && is_aloft(tripwire.what) == tripwire.height.has_value())
        table.refuse("what", Errc::conflict, "issue.tripwire_double",
                     "one [[tripwire]] for each thing watched, with both its bounds");
    read.push_back(std::move(tripwire));
  }
}

}  // namespace pappus::text
