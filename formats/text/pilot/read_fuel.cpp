// What was read of a cylinder, in [[fuel]]: filled_at or filled_between, valve, gauge, weighed, gauge_pressure,
// charged, outdoors.
#include <algorithm>

#include "formats/text/pilot/flight_parts.hpp"

namespace pappus::text {
namespace {

constexpr Rule kFillTemperature{"issue.fuel_temperature", "-40C", "50C"};
constexpr std::string_view kWantedGauge = "a fraction such as \"20%\", or \"top\" or \"bottom\"";

std::optional<propane::Dial> read_dial(const Value& value) {
  const TomlNode& node = value.node();
  if (node.kind == TomlKind::text && node.text == "top") return propane::Dial{.at = propane::Dial::At::top};
  if (node.kind == TomlKind::text && node.text == "bottom") return propane::Dial{.at = propane::Dial::At::bottom};
  if (node.kind == TomlKind::text && node.text.find_first_of("0123456789.") != 0) {
    value.refuse(Errc::bad_input, "issue.fuel_gauge", std::string(kWantedGauge));
    return std::nullopt;
  }
  const auto fraction = value.quantity(Dimension::percent, {"issue.fuel_gauge", "0%", "100%"});
  if (!fraction) return std::nullopt;
  return propane::Dial{.at = propane::Dial::At::reading, .fraction = *fraction};
}

std::optional<propane::Filled> read_between(const Value& value) {
  constexpr std::string_view wanted = "two temperatures, such as [\"10C\", \"35C\"]";
  const auto items = value.items(wanted);
  if (!items) return std::nullopt;
  if (items->size() != 2) {
    value.refuse(Errc::bad_input, "issue.fuel_between", std::string(wanted));
    return std::nullopt;
  }
  const auto a = items->front().quantity(Dimension::temperature, kFillTemperature);
  const auto b = items->back().quantity(Dimension::temperature, kFillTemperature);
  if (!a || !b) return std::nullopt;
  return propane::Filled{Temperature::at(std::min(*a, *b) * kelvin), Temperature::at(std::max(*a, *b) * kelvin)};
}

}  // namespace

void read_fuel_evidence(const Table& table, sheet::FuelSeen& fuel) {
  Temperature at;
  if (table.may("filled_at", at, kFillTemperature)) fuel.filled = propane::Filled{at, at};
  if (const auto between = table.find("filled_between")) {
    if (fuel.filled)
      table.refuse("filled_between", Errc::conflict, "issue.filled_twice", "filled_at or filled_between");
    else
      fuel.filled = read_between(*between);
  }
  table.may("valve", fuel.valve, {"issue.fuel_valve"});
  if (const auto gauge = table.find("gauge")) fuel.dial = read_dial(*gauge);
  table.may("weighed", fuel.weighed, {"issue.fuel_weighed", "1kg", "500kg"});
  table.may("gauge_pressure", fuel.gauge_pressure, {"issue.fuel_gauge_pressure", "0psi", "400psi"});
  table.may("charged", fuel.charged);
  table.may("outdoors", fuel.outdoors);
}

}  // namespace pappus::text
