#include "formats/text/pilot/balloon_write.hpp"

#include <algorithm>
#include <cstdio>

namespace pappus::text {
namespace {

void write_envelope(TomlLines& to, const balloon::Envelope& e) {
  to.table("envelope");
  to.quantity("volume", e.volume.in(cubic_metre), Dimension::volume);
  to.quantity("mass", e.mass.in(kilogram), Dimension::mass);
  if (e.crown_limit) to.quantity("crown_limit", e.crown_limit->from_origin().in(kelvin), Dimension::temperature);
  if (e.gross_limit) to.quantity("gross_limit", e.gross_limit->in(kilogram), Dimension::mass);
  if (e.launch_wind_limit)
    to.quantity("launch_wind_limit", e.launch_wind_limit->in(metre_per_second), Dimension::speed);
  if (e.fabric_hours) to.raw("fabric_hours", toml_number(e.fabric_hours->in(hour)));
  if (e.inspection) to.raw("inspection", iso8601(*e.inspection));
  if (e.vents.empty()) return;
  std::string vents;
  for (const balloon::Vent vent : e.vents) vents += (vents.empty() ? "" : ", ") + toml_text(name_of(vent));
  to.raw("vents", "[" + vents + "]");
}

void write_service(TomlLines& to, const balloon::Balloon& b) {
  if (b.hours) to.raw("hours", toml_number(b.hours->in(hour)));
  if (b.registration) to.raw("registration", iso8601(*b.registration));
  if (b.inspections.empty()) return;
  std::string rows;
  for (const balloon::Inspection& inspection : b.inspections) {
    if (!inspection.at) continue;  // it stands as envelope.inspection
    rows += (rows.empty() ? "[" : ", [") + iso8601(inspection.done) + ", " + toml_number(inspection.at->in(hour)) +
            (inspection.annual ? "]" : ", \"hours\"]");
  }
  if (!rows.empty()) to.raw("inspections", "[" + rows + "]");
}

void write_burner(TomlLines& to, const balloon::Burner& b) {
  to.one_of("burner");
  to.quantity("mass", b.mass.in(kilogram), Dimension::mass);
  if (b.power) to.quantity("power", b.power->in(watt), Dimension::power);
  to.raw("quiet", b.quiet ? "true" : "false");
  if (b.pilot_light) to.words("pilot_light", name_of(*b.pilot_light));
  if (!b.pressure) return;
  const auto end = [&](GaugePressure p) {
    return toml_text(toml_quantity(p.from_origin().in(pascal), Dimension::fuel_pressure, to.taste()));
  };
  to.raw("pressure", "[" + end(b.pressure->low) + ", " + end(b.pressure->high) + "]");
}

// A cylinder without a group stands alone under its own id; a group of that name that others share has to be said.
bool stands_alone(const balloon::Cylinder& c, const balloon::Balloon& balloon) {
  return c.group == c.id && std::none_of(balloon.cylinders.begin(), balloon.cylinders.end(),
                                         [&](const auto& other) { return other.id != c.id && other.group == c.group; });
}

void write_cylinder(TomlLines& to, const balloon::Cylinder& c, const balloon::Balloon& balloon) {
  to.one_of("cylinder");
  to.words("id", c.id);
  to.quantity("shell", c.shell.in(cubic_metre), Dimension::volume);
  to.quantity("level_fill", c.level_fill.in(cubic_metre), Dimension::volume);
  to.quantity("tare", c.tare.in(kilogram), Dimension::mass);
  if (c.gauge_span) to.quantity("gauge_span", *c.gauge_span, Dimension::percent);
  if (c.gauge_reads) to.words("gauge_reads", name_of(*c.gauge_reads));
  if (c.attitude) to.words("attitude", name_of(*c.attitude));
  if (!stands_alone(c, balloon)) to.words_if_any("group", c.group);
  if (c.relief) to.quantity("relief", c.relief->from_origin().in(pascal), Dimension::fuel_pressure);
  if (c.test_due) {
    char month[24];
    std::snprintf(month, sizeof month, "%04d-%02d", c.test_due->year, c.test_due->month);
    to.words("test_due", month);
  }
  to.quantity("usable_to", c.usable_to, Dimension::percent);
}

}  // namespace

std::string write_balloon(const balloon::Balloon& balloon, Taste taste) {
  TomlLines to{taste};
  to.words("name", balloon.name);
  to.words_if_any("serial", balloon.serial);
  if (balloon.year) to.raw("year", std::to_string(*balloon.year));
  write_service(to, balloon);
  write_envelope(to, balloon.envelope);
  for (const balloon::Line& line : balloon.lines) {
    to.one_of("line");
    to.words("does", line.does);
    to.words_if_any("looks", line.looks);
    to.words_if_any("side", line.side);
  }
  to.table("basket");
  to.quantity("mass", balloon.basket.mass.in(kilogram), Dimension::mass);
  if (balloon.basket.people) to.raw("people", std::to_string(*balloon.basket.people));
  to.words_if_any("leads", balloon.basket.leads);
  if (balloon.basket.wall) to.quantity("wall", balloon.basket.wall->in(metre), Dimension::length);
  for (const balloon::Burner& burner : balloon.burners) write_burner(to, burner);
  for (const balloon::Kit& kit : balloon.kit) {
    to.one_of("kit");
    to.words("what", kit.what);
    to.quantity("mass", kit.mass.in(kilogram), Dimension::mass);
  }
  for (const balloon::Cylinder& cylinder : balloon.cylinders) write_cylinder(to, cylinder, balloon);
  if (balloon.both_valves_open) {
    to.table("supply");
    to.raw("both_valves_open", *balloon.both_valves_open ? "true" : "false");
  }
  return to.text();
}

}  // namespace pappus::text
