#include "faces/cli/verbs.hpp"

#include <algorithm>
#include <array>
#include <cstddef>
#include <utility>
#include <variant>
#include <vector>

#include "core/propane/mix.hpp"
#include "desk/answers.hpp"
#include "desk/burn_answer.hpp"
#include "desk/cylinder_answer.hpp"
#include "desk/hop.hpp"
#include "desk/open_evening.hpp"
#include "desk/open_flight.hpp"
#include "desk/pibal_answer.hpp"
#include "desk/reach_answer.hpp"
#include "faces/cli/ask.hpp"
#include "faces/cli/book.hpp"
#include "faces/cli/call.hpp"
#include "faces/cli/manual.hpp"
#include "faces/cli/read_value.hpp"
#include "faces/cli/show.hpp"
#include "faces/paper/html.hpp"
#include "formats/text/json/json_out.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::cli {
namespace {

// Every answer is shown by the overload of its type.
constexpr auto kShow = [](Terminal& to, const auto& answer, const words::Reader& reader) { show(to, answer, reader); };

Result<AltitudeAmsl> altitude(std::string_view text) {
  return text::parse_length(text).map([](Length l) { return amsl(l); });
}
Result<PressureAltitude> pressure_height(std::string_view text) {
  return text::parse_length(text).map([](Length l) { return PressureAltitude::at(l); });
}
Result<Position> position(std::string_view text) {
  const auto comma = text.find(',');
  const auto wrong = [&] {
    return fail(Errc::bad_input, say("issue.position_unreadable"), std::string(text), "38.90,-133.40");
  };
  if (comma == std::string_view::npos) return wrong();
  const auto latitude = text::parse_number(text.substr(0, comma));
  const auto longitude = text::parse_number(text.substr(comma + 1));
  if (!latitude || !longitude) return wrong();
  return Position::at(*latitude * degree, *longitude * degree);
}
Result<Date> date(std::string_view text) {
  if (const auto d = parse_date(text)) return *d;
  return fail(Errc::bad_input, say("issue.date_unreadable"), std::string(text), "2027-05-16");
}
Result<UtcOffset> offset(std::string_view text) {
  if (const auto o = parse_offset(text)) return *o;
  return fail(Errc::bad_input, say("issue.offset_unreadable"), std::string(text), "-09:00");
}
Result<Duration> planned_time(std::string_view text) {
  auto planned = text::parse_duration(text);
  if (planned && (*planned < 5.0 * minute || *planned > 8.0 * hour))
    return fail(Errc::bad_input, say("issue.planned"), std::string(text), "5min to 8h");
  return planned;
}

template <class Question>
int ask(Call& call, const Question& question) {
  if (call.refused()) return call.tell_issues();
  const auto answer = desk::answer(question);
  if (!answer) return call.fail_with(answer.error());
  return call.tell(*answer, kShow);
}

int run_air(Call& call) {
  const auto elevation = call.needed("--elevation", altitude);
  const auto qnh = call.needed("--qnh", text::parse_air_pressure);
  const auto temperature = call.needed("--temperature", text::parse_temperature);
  const auto dew_point = call.value("--dew-point", text::parse_temperature);
  return ask(call, desk::AirQuestion{elevation.value_or(AltitudeAmsl{}), qnh.value_or(Pressure{}),
                                     temperature.value_or(Temperature{}), dew_point});
}

int run_propane(Call& call) {
  const auto temperature = call.needed("--temperature", text::parse_temperature);
  const auto ambient = call.value("--ambient", text::parse_air_pressure);
  return ask(call, desk::PropaneQuestion{temperature.value_or(Temperature{}), ambient.value_or(standard_atmosphere)});
}

Result<propane::Dial> dial(std::string_view text) {
  if (text == "top") return propane::Dial{.at = propane::Dial::At::top};
  if (text == "bottom") return propane::Dial{.at = propane::Dial::At::bottom};
  return text::parse_percent(text).map(
      [](double f) { return propane::Dial{.at = propane::Dial::At::reading, .fraction = f}; });
}

// Liquid that was drawn: a volume, or minutes of level flight.
Result<std::variant<Volume, Duration>> drawn(std::string_view text) {
  using Drawn = std::variant<Volume, Duration>;
  if (const auto minutes = text::parse_duration(text)) return Drawn{*minutes};
  auto volume = text::parse_volume(text);
  if (volume) return Drawn{*volume};
  Issue issue = volume.error();
  issue.wanted += "; or " + text::wanted_for(text::Dimension::duration);
  return tl::unexpected(std::move(issue));
}

// "propane=92,propylene=5,ethane=3": per cent of the moles.
Result<propane::Mix> mix(std::string_view text) {
  const auto wrong = [&] {
    return fail(Errc::bad_input, say("issue.mix_unreadable"), std::string(text), "propane=92,propylene=5,ethane=3");
  };
  propane::Mix out{.propane = 0.0};
  const std::array<std::pair<std::string_view, double*>, 5> parts{{{"propane", &out.propane},
                                                                   {"propylene", &out.propylene},
                                                                   {"ethane", &out.ethane},
                                                                   {"isobutane", &out.isobutane},
                                                                   {"butane", &out.butane}}};
  std::string_view rest = text;
  std::vector<std::string_view> seen;
  while (true) {
    const std::string_view part = rest.substr(0, rest.find(','));
    const auto equals = part.find('=');
    if (equals == std::string_view::npos) return wrong();
    const std::string_view name = part.substr(0, equals);
    const auto share = text::parse_number(part.substr(equals + 1));
    const auto found = std::find_if(parts.begin(), parts.end(), [&](const auto& known) { return known.first == name; });
    if (!share || *share < 0.0 || *share > 100.0 || found == parts.end() ||
        std::find(seen.begin(), seen.end(), name) != seen.end())
      return wrong();
    *found->second = *share / 100.0;
    seen.push_back(name);
    if (part.size() == rest.size()) break;
    rest = rest.substr(part.size() + 1);
  }
  if (const auto sound = propane::bubble_pressure(out, celsius(0.0)); !sound) return tl::unexpected(sound.error());
  return out;
}

// Within what core/propane and the balloon file take.
Result<Pressure> charge_pressure(std::string_view text) {
  const auto p = text::parse_fuel_pressure(text);
  if (!p) return tl::unexpected(p.error());
  if (p->from_origin() <= Pressure{} || p->from_origin() > 20.0 * bar)
    return fail(Errc::out_of_range, say("issue.charge_outside"), std::string(text), "0psi to 290psi");
  return p->from_origin();
}
Result<GaugePressure> relief_pressure(std::string_view text) {
  auto p = text::parse_fuel_pressure(text);
  if (p && (p->from_origin() < 50.0 * pound_per_square_inch || p->from_origin() > 1000.0 * pound_per_square_inch))
    return fail(Errc::out_of_range, say("issue.cylinder_relief"), std::string(text), "50psi to 1000psi");
  return p;
}

// --air and --after in pairs, in the order given.
std::vector<desk::AirUntil> air_to_come(Call& call) {
  const auto air = call.values("--air", text::parse_temperature);
  const auto after = call.values("--after", text::parse_duration);
  if (call.refused()) return {};
  if (air.size() != after.size()) {
    call.refuse(Issue{Errc::bad_call, say("issue.air_pairs"), {}, "", "--air 2C --after 9h"});
    return {};
  }
  std::vector<desk::AirUntil> out;
  for (std::size_t i = 0; i < air.size(); ++i) {
    // A minute apart at least: the air changes within a second of its time.
    if (after[i] < (i == 0 ? Duration{} : after[i - 1]) + minute) {
      Issue issue{Errc::bad_input,
                  say("propane.air_order"),
                  {},
                  text::print_si(after[i].in(second), text::Dimension::duration, "min"),
                  "later than the one before"};
      issue.where.key = "--after";
      call.refuse(std::move(issue));
      return {};
    }
    out.push_back({.air = air[i], .until = after[i]});
  }
  return out;
}

int run_cylinder(Call& call) {
  desk::CylinderQuestion q;
  if (call.positionals().size() > 1) call.refuse_missing("BALLOON");
  if (call.positionals().size() == 1) q.balloon_file = call.positionals().front();
  q.cylinder = call.value("--cylinder", as_written);
  q.shell = call.value("--shell", text::parse_volume);
  q.level_fill = call.value("--level-fill", text::parse_volume);
  q.tare = call.value("--tare", text::parse_mass);
  q.gauge_span = call.value("--gauge-span", text::parse_percent);
  q.gauge_reads = call.value("--gauge-reads", one_of_names<propane::GaugeReads>);
  if (const auto at = call.value("--filled-at", text::parse_temperature)) q.filled = propane::Filled{*at, *at};
  if (const auto between = call.values("--filled-between", text::parse_temperature); between.size() == 2) {
    if (q.filled)
      call.refuse(
          Issue{Errc::bad_call, say("issue.filled_twice"), {}, "--filled-at and --filled-between", "one of them"});
    q.filled = propane::Filled{std::min(between[0], between[1]), std::max(between[0], between[1])};
  }
  for (const auto& one : call.values("--drawn", drawn)) {
    if (const auto* volume = std::get_if<Volume>(&one)) q.drawn.push_back(*volume);
    if (const auto* minutes = std::get_if<Duration>(&one)) q.burned.push_back(*minutes);
  }
  q.flow = call.value("--flow", text::parse_fuel_flow);
  q.flown_since = call.value("--flown-since", text::parse_duration);
  q.temperature = call.value("--temperature", text::parse_temperature);
  q.gauge_pressure = call.value("--gauge-pressure", text::parse_fuel_pressure);
  if (const auto ambient = call.value("--ambient", text::parse_air_pressure)) q.ambient = *ambient;
  q.charged = call.given("--charged");
  if (const auto charge = call.value("--charge", charge_pressure)) q.charge = *charge;
  q.charged_with = call.value("--charged-with", text::parse_volume);
  q.mix = call.value("--mix", mix);
  q.air = air_to_come(call);
  q.relief = call.value("--relief", relief_pressure);
  q.valve = call.value("--valve", one_of_names<propane::Valve>);
  q.other_attitude = call.given("--other-attitude");
  q.dial = call.value("--gauge", dial);
  q.weighed = call.value("--weighed", text::parse_mass);
  q.book = call.value("--book", as_written);
  q.no_book = call.given("--no-book");
  q.now = call.now();
  if (call.refused()) return call.tell_issues();
  call.reader().today = call.present().date();
  auto answer = desk::answer(q, call.files(), call.clock(), call.stores());
  if (!answer.value) {
    call.refuse(std::move(answer.issues));
    return call.tell_issues();
  }
  call.warn(answer.issues);
  return call.tell(*answer.value, kShow);
}

int run_sun(Call& call) {
  const auto at = call.needed("--at", position);
  const auto day = call.needed("--date", date);
  const auto zone = call.needed("--zone", offset);
  // A time of day in that zone, or a whole moment.
  const auto time = call.value("--time", [&](std::string_view text) -> Result<Moment> {
    if (text.find('T') != std::string_view::npos || !day || !zone) return moment(text);
    const std::string seconds = text.size() == 5 ? ":00" : "";
    return moment(iso8601(*day) + "T" + std::string(text) + seconds + iso8601(*zone));
  });
  if (zone) call.reader().offset = *zone;
  return ask(call, desk::SunQuestion{at.value_or(Position{}), day.value_or(Date{}), zone.value_or(UtcOffset{}), time});
}

int run_variation(Call& call) {
  const auto at = call.needed("--at", position);
  const auto elevation = call.needed("--elevation", altitude);
  const auto day = call.needed("--date", date);
  return ask(
      call, desk::VariationQuestion{at.value_or(Position{}), elevation.value_or(AltitudeAmsl{}), day.value_or(Date{})});
}

// Which book a flight is looked up in.
desk::BookLook book_look(Call& call) {
  desk::BookLook look{
      .stores = call.stores(), .book = call.value("--book", as_written), .none = call.given("--no-book")};
  if (look.book && look.none)
    call.refuse(Issue{Errc::bad_call, say("issue.book_and_none"), {}, "--book and --no-book", "one of them"});
  return look;
}

// The morning that the one positional names; none after issues were told.
std::optional<sheet::Morning> opened(Call& call) {
  if (call.positionals().size() != 1) {
    call.refuse_missing("FLIGHT");
    return std::nullopt;
  }
  const desk::BookLook look = book_look(call);
  if (call.refused()) return std::nullopt;
  auto morning = desk::open_flight(call.positionals().front(), call.files(), call.clock(), call.now(), look);
  if (!morning.value) {
    call.refuse(std::move(morning.issues));
    return std::nullopt;
  }
  call.warn(morning.issues);
  call.reader().offset = morning.value->as_of.offset;
  return std::move(morning.value);
}

template <class Section>
int tell_section(Call& call, Section section) {
  if (call.refused()) return call.tell_issues();
  const auto morning = opened(call);
  if (!morning) return call.tell_issues();
  const auto answer = section(*morning);
  if (!answer) return call.fail_with(answer.error());
  return call.tell(*answer, kShow);
}

int run_lift(Call& call) {
  if (!call.positionals().empty())
    return tell_section(call, [](const sheet::Morning& m) { return sheet::lift_section(m); });
  const auto volume = call.needed("--volume", text::parse_volume);
  const auto height = call.needed("--pressure-altitude", pressure_height);
  const auto temperature = call.needed("--temperature", text::parse_temperature);
  const auto envelope = call.needed("--envelope-temperature", text::parse_temperature);
  return ask(call, desk::LiftQuestion{volume.value_or(Volume{}), height.value_or(PressureAltitude{}),
                                      temperature.value_or(Temperature{}), envelope.value_or(Temperature{})});
}

int run_burn(Call& call) {
  return tell_section(call, [](const sheet::Morning& m) { return desk::burn_answer(m); });
}

int run_climb(Call& call) {
  return tell_section(call, [](const sheet::Morning& m) { return sheet::climb_section(m); });
}

int run_winds(Call& call) {
  desk::WindsQuestion question;
  question.sources = call.positionals();
  question.at = call.value("--at", position);
  question.elevation = call.value("--elevation", altitude);
  question.time = call.value("--time", moment);
  question.now = call.now();
  question.station = call.value("--station", as_written);
  question.station_elevation = call.value("--station-elevation", altitude);
  question.columns = call.value("--columns", as_written);
  question.by = call.value("--by", one_of_names<wind::SourceKind>);
  question.seen = call.value("--seen", moment);
  if (question.sources.empty()) call.refuse_missing("SOURCE");
  if (call.refused()) return call.tell_issues();
  auto answer = desk::answer(question, call.files(), call.clock());
  if (!answer.value) {
    call.refuse(std::move(answer.issues));
    return call.tell_issues();
  }
  call.warn(answer.issues);
  call.reader().offset = answer.value->time.offset;
  return call.tell(*answer.value, kShow);
}

int run_pibal(Call& call) {
  desk::PibalQuestion question;
  if (call.positionals().size() == 1)
    question.readings = call.positionals().front();
  else
    call.refuse_missing("READINGS");
  question.diameter = call.value("--diameter", text::parse_size);
  question.mass = call.value("--mass", text::parse_light_mass);
  question.rise = call.value("--rise", text::parse_speed);
  question.bearings = call.value("--bearings", one_of_names<text::North>);
  if (const auto east = call.value("--variation", text::parse_angle)) question.variation = Variation{*east};
  question.at = call.value("--at", position);
  question.elevation = call.value("--elevation", altitude);
  question.time = call.value("--time", moment);
  if (call.refused()) return call.tell_issues();
  auto answer = desk::answer(question, call.files());
  if (!answer.value) {
    call.refuse(std::move(answer.issues));
    return call.tell_issues();
  }
  call.warn(answer.issues);
  if (answer.value->newest.time) call.reader().offset = answer.value->newest.time->offset;
  return call.tell(*answer.value, kShow);
}

// A time of day on the flight's own day and in its offset, or a whole moment.
Result<Moment> time_of_flight(std::string_view text, const Moment& flight) {
  if (text.find('T') != std::string_view::npos) return moment(text);
  const std::string seconds = text.size() == 5 ? ":00" : "";
  if (const auto m = parse_moment(iso8601(flight.date()) + "T" + std::string(text) + seconds + iso8601(flight.offset)))
    return *m;
  return fail(Errc::bad_input, say("issue.time_unreadable"), std::string(text), "06:45 or 2027-05-16T06:45:00-09:00");
}

// The morning that the one positional names, with what the options say of the next hop; none after issues were told.
std::optional<sheet::Morning> opened_for_hop(Call& call) {
  desk::Hop hop;
  hop.left = call.values("--left", [](std::string_view name) -> Result<std::string> { return std::string(name); });
  hop.came = call.values("--came", desk::parse_person);
  hop.fuel = call.values("--fuel", desk::parse_fuel_now);
  hop.planned = call.value("--planned", planned_time);
  hop.hot = call.given("--hot");
  auto morning = opened(call);
  if (!morning) return std::nullopt;
  hop.time =
      call.value("--lift-off", [&](std::string_view text) { return time_of_flight(text, morning->flight.time); });
  if (call.refused()) return std::nullopt;
  if (hop.is_none()) return morning;
  auto changed = desk::apply(hop, *std::move(morning), call.now().has_value());
  if (!changed) {
    call.refuse(changed.error());
    return std::nullopt;
  }
  return *std::move(changed);
}

int run_sheet(Call& call) {
  auto morning = opened_for_hop(call);
  if (!morning) return call.tell_issues();
  // The pilot's answer for this call alone: it is written nowhere.
  if (call.given("--fit")) morning->flight.fitness = sheet::Fitness{true, morning->as_of};
  if (const auto path = call.value("--evening", as_written)) {
    auto evening = desk::open_evening(*path, *morning, call.files(), book_look(call));
    if (!evening.value) {
      call.refuse(std::move(evening.issues));
      return call.tell_issues();
    }
    call.warn(evening.issues);
    morning->evening = std::move(evening.value);
  }
  // Whoever reads the words of another day's times must be told which day, in JSON too.
  call.reader().today = morning->as_of.date();
  const sheet::FlightSheet sheet = sheet::sheet(*morning);
  if (const auto file = call.value("--html", as_written)) {
    const std::string page = paper::html(sheet, call.reader());
    if (*file == "-") {
      call.print(page);
      return 0;
    }
    if (const auto written = call.files().write(*file, page, paper::kMarker); !written)
      return call.fail_with(written.error());
  }
  return call.tell(sheet, kShow);
}

int run_reach(Call& call) {
  const auto morning = opened_for_hop(call);
  if (!morning) return call.tell_issues();
  const auto answer = desk::reach_answer(*morning);
  if (!answer) return call.fail_with(answer.error());
  return call.tell(*answer, kShow);
}

int run_schema(Call& call) {
  if (call.refused()) return call.tell_issues();
  call.print(json::json_schema_of<sheet::FlightSheet>() + "\n");
  return 0;
}

int run_manual(Call& call) {
  if (call.refused()) return call.tell_issues();
  call.print(manual_page(call.reader()));
  return 0;
}

int run_completion(Call& call) {
  if (call.refused()) return call.tell_issues();
  call.print(bash_completion());
  return 0;
}

// What changes between two hops.
std::vector<OptionSpec> hop_options() {
  return {{"--left", "NAME", false, true},
          {"--came", "'passenger 80kg'", false, true},
          {"--fuel", "1=9gal", false, true},
          {"--lift-off", "06:45"},
          {"--planned", "30min"},
          {"--hot", ""},
          {"--book", "lantern.book"},
          {"--no-book", ""}};
}
std::vector<OptionSpec> sheet_options() {
  std::vector<OptionSpec> options = hop_options();
  options.insert(options.begin(), {"--evening", "evening.json"});
  options.push_back({"--fit", ""});
  options.push_back({"--html", "sheet.html"});
  return options;
}

}  // namespace

std::span<const VerbSpec> verbs() {
  static const std::vector<VerbSpec> all{
      {"sheet", "FLIGHT", sheet_options(), run_sheet},
      {"ask", "[FOLDER]", {{"--balloon", ""}}, run_ask},
      {"reach", "FLIGHT", hop_options(), run_reach},
      {"lift",
       "[FLIGHT]",
       {{"--volume", "77000ft3"},
        {"--pressure-altitude", "1500ft"},
        {"--temperature", "60F"},
        {"--envelope-temperature", "190F"},
        {"--book", "lantern.book"},
        {"--no-book", ""}},
       run_lift},
      {"climb", "FLIGHT", {{"--book", "lantern.book"}, {"--no-book", ""}}, run_climb},
      {"burn", "FLIGHT", {{"--book", "lantern.book"}, {"--no-book", ""}}, run_burn},
      {"winds",
       "SOURCE...",
       {{"--at", "38.90,-133.40"},
        {"--elevation", "1500m"},
        {"--time", "2027-05-16T05:10:00-09:00"},
        {"--station", "ZQA"},
        {"--station-elevation", "1420m"},
        {"--columns", "'height=1 m agl, ...'"},
        {"--by", "forecast"},
        {"--seen", "2027-05-16T04:40:00-09:00"}},
       run_winds},
      {"pibal",
       "READINGS",
       {{"--diameter", "12in"},
        {"--mass", "3g"},
        {"--rise", "300ft/min"},
        {"--bearings", "magnetic"},
        {"--variation", "13deg"},
        {"--at", "38.90,-133.40"},
        {"--elevation", "1500m"},
        {"--time", "2027-05-16T04:30:00-09:00"}},
       run_pibal},
      {"air",
       "",
       {{"--elevation", "1500m", true},
        {"--qnh", "1018hPa", true},
        {"--temperature", "28C", true},
        {"--dew-point", "10C"}},
       run_air},
      {"propane", "", {{"--temperature", "20C", true}, {"--ambient", "1013.25hPa"}}, run_propane},
      {"cylinder",
       "[BALLOON]",
       {{"--cylinder", "1"},
        {"--shell", "18.75gal"},
        {"--level-fill", "15gal"},
        {"--tare", "18kg"},
        {"--gauge-span", "35%"},
        {"--gauge-reads", "shell"},
        {"--filled-at", "28C"},
        {"--filled-between", "10C 35C", false, false, 2},
        {"--drawn", "3gal", false, true},
        {"--flow", "30kg/h"},
        {"--flown-since", "52min"},
        {"--temperature", "4C"},
        {"--gauge-pressure", "80psi"},
        {"--ambient", "853hPa"},
        {"--charged", ""},
        {"--charge", "40psi"},
        {"--charged-with", "12gal"},
        {"--mix", "propane=95,ethane=5"},
        {"--air", "2C", false, true},
        {"--after", "9h", false, true},
        {"--relief", "375psi"},
        {"--valve", "vapour"},
        {"--other-attitude", ""},
        {"--gauge", "top"},
        {"--weighed", "46kg"},
        {"--book", "lantern.book"},
        {"--no-book", ""}},
       run_cylinder},
      {"book", "ACTION BALLOON", book_options(), run_book},
      {"sun",
       "",
       {{"--at", "38.90,-133.40", true},
        {"--date", "2027-05-16", true},
        {"--zone", "-09:00", true},
        {"--time", "05:10"}},
       run_sun},
      {"variation",
       "",
       {{"--at", "38.90,-133.40", true}, {"--elevation", "1500m", true}, {"--date", "2027-05-16", true}},
       run_variation},
      {"schema", "", {}, run_schema},
      {"manual", "", {}, run_manual},
      {"completion", "", {}, run_completion},
  };
  return all;
}

std::span<const OptionSpec> common_options() {
  static const std::vector<OptionSpec> all{
      {"--json", ""}, {"--units", "us"}, {"--language", "en"}, {"--now", "2027-05-16T04:50:00-09:00"}};
  return all;
}

}  // namespace pappus::cli
