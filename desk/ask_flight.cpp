// The round about a flight: its steps in the order of a morning, each with its reader.
#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "core/air/isa.hpp"
#include "core/base/nearest.hpp"
#include "core/propane/saturation.hpp"
#include "core/sky/sun.hpp"
#include "core/sky/variation.hpp"
#include "desk/ask.hpp"
#include "desk/typed.hpp"

namespace pappus::desk {
namespace {

using text::Dimension;

enum Step { field, time, planned, aboard, fuel, fuel_temperature, highest, reports, winds, looks, rules, qnh, count };
static_assert(count <= kMostQuestions);

constexpr std::array<std::string_view, count> kKeys{
    "field",   "time",    "planned", "aboard", "fuel",  "fuel_temperature",
    "highest", "reports", "winds",   "looks",  "rules", "qnh"};

// Taken from last time's file; what is not named here ages.
constexpr std::array<std::string_view, 7> kAskedAgain{"balloon", "time",    "planned", "rules",
                                                      "field",   "highest", "aboard"};
constexpr std::array<std::string_view, 6> kKept{"pilot_file", "pilot", "minimum", "place", "landing", "tripwire"};

constexpr std::string_view kNotKnown = "-";
constexpr Duration kLate = 2.0 * hour;           // a time of day that went by so recently is still today's
constexpr Duration kToGetReady = 20.0 * minute;  // from the last answer to lift-off, at least
constexpr Duration kMorning = 3.0 * hour;        // after sunrise: the handbook's window

template <std::size_t N>
bool is_one_of(const std::array<std::string_view, N>& names, std::string_view name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

Issue wrong(std::string_view key, std::string_view got, std::string_view wanted) {
  return Issue{Errc::bad_input, say(std::string(key)), {}, text::excerpt(got), std::string(wanted)};
}
Heard refused(Issue issue) {
  Heard out;
  out.issues.push_back(std::move(issue));
  return out;
}

std::string file_with(const text::TomlNode& root) {
  text::TomlLines to{text::Taste::metric};
  for (const bool headed : {false, true})
    for (const text::TomlMember& member : root.members)
      if (text::is_headed(member.value) == headed) to.member(member);
  return to.text();
}

std::optional<text::TomlNode> member_of(std::string_view toml, std::string_view key) {
  auto root = text::parse_toml(toml, {});
  if (!root) return std::nullopt;
  for (text::TomlMember& member : root->members)
    if (member.key == key) return std::move(member.value);
  return std::nullopt;
}

std::string text_of(const FlightDraft& draft, text::Taste taste) {
  return text::write_flight(draft.file, {.taste = taste, .pasted = draft.pasted, .kept = draft.kept});
}

bool stands(const Parsed<text::FlightFile>& parsed) { return parsed.value.has_value(); }

std::string quantity(double si, Dimension dimension, text::Taste taste) {
  return text::toml_quantity(si, dimension, taste);
}

// ---- who flies

std::string person_text(const people::Person& p, text::Taste taste) {
  std::string out;
  if (p.role != people::Role::passenger || p.name.empty()) out = std::string(name_of(p.role)) + " ";
  if (!p.name.empty()) out += p.name + " ";
  out += quantity(p.mass.in(kilogram), Dimension::mass, taste);
  if (p.basis == people::MassBasis::weighed) out += "w";
  if (p.bags) out += "+" + quantity(p.bags->in(kilogram), Dimension::mass, taste);
  return out;
}

bool begins_number(std::string_view word) {
  return !word.empty() && (word.front() == '.' || (word.front() >= '0' && word.front() <= '9'));
}

// "pilot Maren 78w+4": a role, a name, a mass, w for weighed, bags; the mass alone is needed.
Result<people::Person> read_person(std::string_view part, std::string_view unit, std::string_view wanted) {
  people::Person out;
  std::vector<std::string> words = words_of(part);
  if (words.empty()) return tl::unexpected{wrong("issue.ask_person", part, wanted)};
  if (const auto role = named<people::Role>(words.front())) {
    out.role = *role;
    words.erase(words.begin());
  }
  const auto number = std::find_if(words.begin(), words.end(), begins_number);
  for (auto word = words.begin(); word != number; ++word) out.name += (out.name.empty() ? "" : " ") + *word;
  std::string figures;
  for (auto word = number; word != words.end(); ++word) figures += *word;
  if (figures.empty()) return tl::unexpected{wrong("issue.ask_person", part, wanted)};
  const std::size_t plus = figures.find('+');
  std::string mass = figures.substr(0, plus);
  if (mass.back() == 'w') {
    mass.pop_back();
    out.basis = people::MassBasis::weighed;
  }
  const auto kg = in_unit_or(mass, Dimension::mass, unit);
  if (!kg) return tl::unexpected{kg.error()};
  out.mass = *kg * kilogram;
  if (plus == std::string::npos) return out;
  const auto bags = in_unit_or(figures.substr(plus + 1), Dimension::mass, unit);
  if (!bags) return tl::unexpected{bags.error()};
  out.bags = *bags * kilogram;
  return out;
}

// ---- winds

struct WindLine {
  std::optional<wind::SourceKind> kind;  // of a line that says by whom and when the lines below it were seen
  std::optional<TypedTime> time;
  wind::LadderRow row;
};

// "pibal 04:40", in any order; none where the line is none of these.
std::optional<WindLine> heading_of(const std::vector<std::string>& words) {
  WindLine out;
  for (const std::string& word : words) {
    const auto kind = named<wind::SourceKind>(word);
    const auto time = kind ? std::nullopt : typed_time(word);
    if (kind && !out.kind)
      out.kind = kind;
    else if (time && !out.time)
      out.time = time;
    else
      return std::nullopt;
  }
  return out;
}

// Where a wind comes from: true, or by compass where "mag" stands behind it.
std::optional<TrueBearing> direction_of(std::string_view word, Variation variation) {
  const auto ends = [&](std::string_view with) { return word.size() > with.size() && word.ends_with(with); };
  bool magnetic = false;
  for (const std::string_view ending : {"mag", "deg", "true"})
    if (ends(ending)) {
      magnetic = ending == "mag";
      word.remove_suffix(ending.size());
      break;
    }
  const auto degrees = text::parse_number(word);
  if (!degrees || !(*degrees >= 0.0 && *degrees <= 360.0)) return std::nullopt;
  if (!magnetic) return TrueBearing::at(*degrees * degree);
  const TrueBearing turned = to_true(MagneticBearing::at(*degrees * degree), variation);
  // A compass is read to whole degrees at best.
  return TrueBearing::at(std::round(turned.from_north().in(degree)) * degree);
}

struct WindContext {
  AltitudeAmsl ground;
  Variation variation;
  std::string_view height_unit, wanted;
};

// "500ft 215 9kt 8C", "500 215/9", "sfc calm"; the height above the field, or with amsl above the sea.
Result<wind::LadderRow> read_row(std::string_view line, std::vector<std::string> words, const WindContext& context) {
  const auto unreadable = [&] { return tl::unexpected{wrong("issue.ask_wind_row", line, context.wanted)}; };
  wind::LadderRow out;
  std::size_t at = 0;
  if (words.empty()) return unreadable();
  if (same_word(words[0], "sfc") || same_word(words[0], "surface") || same_word(words[0], "ground")) {
    out.altitude = context.ground;
  } else {
    const auto height = in_unit_or(words[0], Dimension::altitude, context.height_unit);
    if (!height) return tl::unexpected{height.error()};
    out.altitude = context.ground + *height * metre;
    if (words.size() > 1 && (same_word(words[1], "amsl") || same_word(words[1], "msl"))) {
      out.altitude = amsl(*height * metre);
      at = 1;
    }
  }
  if (++at >= words.size()) return unreadable();
  if (same_word(words[at], "calm")) {
    out.wind = wind::Wind{};
    ++at;
  } else {
    if (const std::size_t slash = words[at].find('/'); slash != std::string::npos) {
      words.insert(words.begin() + static_cast<std::ptrdiff_t>(at) + 1, words[at].substr(slash + 1));
      words[at].resize(slash);
    }
    const auto from = direction_of(words[at], context.variation);
    if (!from || at + 1 >= words.size()) return unreadable();
    const auto speed = in_unit_or(words[at + 1], Dimension::speed, "kt");
    if (!speed) return tl::unexpected{speed.error()};
    out.wind = wind::Wind::from(*from, *speed * metre_per_second);
    at += 2;
  }
  if (at < words.size()) {
    const auto temperature = text::parse_temperature(words[at]);
    if (!temperature) return tl::unexpected{temperature.error()};
    out.temperature = *temperature;
    ++at;
  }
  if (at < words.size()) return unreadable();
  return out;
}

}  // namespace

std::optional<std::string> balloon_named_in(std::string_view flight_toml) {
  const auto value = member_of(flight_toml, "balloon");
  if (!value || value->kind != text::TomlKind::text || value->text.empty()) return std::nullopt;
  return value->text;
}

std::optional<Moment> lift_off_in(std::string_view flight_toml) {
  const auto value = member_of(flight_toml, "time");
  if (!value) return std::nullopt;
  return value->kind == text::TomlKind::text ? parse_moment(value->text) : value->moment;
}

FlightRound::FlightRound(FlightRoundInputs inputs) : inputs_{std::move(inputs)} {
  sheet::Flight& flight = draft_.file.flight;
  draft_.file.balloon = inputs_.balloon_path;
  flight.as_of = inputs_.now;
  flight.time = inputs_.now;
  flight.planned = hour;
  flight.field.name = kNotKnown;
  people::Person pilot;
  pilot.role = people::Role::pilot;
  pilot.mass = 80.0 * kilogram;
  flight.aboard = {pilot};
  if (inputs_.last) remember(*inputs_.last);
}

void FlightRound::remember(const std::string& last) {
  const auto forget_all = [&](Errc code) { forgotten_.push_back(Issue{code, say("issue.ask_forgotten"), {}, {}, {}}); };
  const auto root = text::parse_toml(last, {});
  if (!root) return forget_all(Errc::bad_input);
  text::TomlNode asked_again;
  for (const text::TomlMember& member : root->members)
    if (is_one_of(kAskedAgain, member.key)) asked_again.members.push_back(member);
  const auto read = text::parse_flight(file_with(asked_again), {});
  if (!stands(read)) return forget_all(Errc::bad_input);
  const sheet::Flight& old = read.value->flight;
  sheet::Flight& flight = draft_.file.flight;
  flight.planned = old.planned;
  flight.rules = old.rules;
  flight.field = old.field;
  flight.field.qnh.reset();
  flight.highest = old.highest;
  flight.aboard = old.aboard;
  draft_.field_known = draft_.planned_known = draft_.aboard_known = true;
  propose_time(draft_);
  for (const text::TomlMember& member : root->members)
    if (is_one_of(kKept, member.key)) draft_.kept.push_back(member);
  forgotten_ = drop_what_fails(draft_, taste());
}

std::vector<Issue> FlightRound::drop_what_fails(FlightDraft& draft, text::Taste taste) {
  std::vector<Issue> out;
  const std::vector<text::TomlMember> kept = std::exchange(draft.kept, {});
  for (const text::TomlMember& member : kept) {
    draft.kept.push_back(member);
    if (stands(text::parse_flight(text_of(draft, taste), {}))) continue;
    draft.kept.pop_back();
    Issue issue{Errc::bad_input, say("issue.ask_table_forgotten"), {}, {}, {}};
    issue.where.key = member.key;
    out.push_back(std::move(issue));
  }
  return out;
}

// The first full ten minutes after sunrise that still leave time to get ready; in the later day, tomorrow's.
void FlightRound::propose_time(FlightDraft& draft) const {
  const sheet::Field& at = draft.file.flight.field;
  const sky::Observer observer{.position = at.at, .elevation = at.elevation.from_origin()};
  const Moment now = inputs_.now;
  draft.time_known = false;
  for (const int days : {0, 1}) {
    const auto day = sky::sun_day(now.date().plus_days(days), now.offset, observer);
    if (!day || !day->sunrise || now.at + kToGetReady > *day->sunrise + kMorning) continue;
    draft.sunrise = day->sunrise;
    const Instant earliest = std::max(*day->sunrise, now.at + kToGetReady);
    constexpr std::int64_t ten_minutes = 600'000;
    const std::int64_t steps = (earliest.unix_milliseconds() + ten_minutes - 1) / ten_minutes;
    draft.file.flight.time = Moment{Instant::from_unix_milliseconds(steps * ten_minutes), now.offset};
    draft.time_known = true;
    return;
  }
}

std::string FlightRound::written(const FlightDraft& draft) const { return text_of(draft, taste()); }

std::string FlightRound::file() const { return written(draft_); }

Heard FlightRound::take(FlightDraft draft, std::vector<Sentence> notes) {
  Heard out;
  const auto read = text::parse_flight(written(draft), {});
  out.issues = read.issues;
  if (read.value) {
    std::vector<Issue> crossed = text::cross_check(inputs_.balloon, *read.value, inputs_.now.at);
    std::move(crossed.begin(), crossed.end(), std::back_inserter(out.issues));
  }
  if (!std::all_of(out.issues.begin(), out.issues.end(), text::is_warning)) {
    out.issues.erase(std::remove_if(out.issues.begin(), out.issues.end(), text::is_warning), out.issues.end());
    // The place is in a file that nobody has seen.
    for (Issue& issue : out.issues) issue.where = {};
    return out;
  }
  draft.qnh_reported = std::any_of(read.value->flight.reports.begin(), read.value->flight.reports.end(),
                                   [](const wind::SurfaceReport& report) { return report.qnh.has_value(); });
  draft_ = std::move(draft);
  for (Issue& issue : out.issues) issue.where = {};
  out.notes = std::move(notes);
  out.taken = true;
  return out;
}

int FlightRound::steps() const { return count; }

bool FlightRound::is_asked(int step) const {
  const sheet::Flight& flight = draft_.file.flight;
  if (step == rules) return !flight.rules || !flight.field.airspace;
  if (step == qnh) return !draft_.qnh_reported;
  return true;
}

Prompt FlightRound::prompt(int step) const {
  const sheet::Flight& flight = draft_.file.flight;
  Prompt out;
  out.key = kKeys[static_cast<std::size_t>(step)];
  std::string cylinders;
  for (const balloon::Cylinder& cylinder : inputs_.balloon.cylinders)
    cylinders += (cylinders.empty() ? "" : ", ") + cylinder.id;
  switch (step) {
    case field:
      out.question = say(is_us() ? "ask.field_us" : "ask.field_metric");
      if (draft_.field_known) out.remembered = flight.field.name;
      break;
    case time: {
      words::Reader reader = inputs_.reader;
      reader.offset = inputs_.now.offset;
      reader.today = inputs_.now.date();
      const std::string offset = iso8601(inputs_.now.offset);
      out.question = say("ask.time", {{"offset", offset}});
      if (draft_.sunrise)
        out.question =
            say("ask.time_sunrise", {{"offset", offset}, {"sunrise", words::clock(*draft_.sunrise, reader)}});
      if (draft_.time_known) out.remembered = words::clock(flight.time.at, reader);
      break;
    }
    case planned:
      out.question = say("ask.planned");
      if (draft_.planned_known) out.remembered = quantity(flight.planned.in(second), Dimension::duration, taste());
      break;
    case aboard:
      out.question = say(is_us() ? "ask.aboard_us" : "ask.aboard_metric");
      if (!draft_.aboard_known) break;
      out.remembered = "";
      for (const people::Person& person : flight.aboard)
        *out.remembered += (out.remembered->empty() ? "" : ", ") + person_text(person, taste());
      break;
    case fuel:
      out.question = say(is_us() ? "ask.fuel_us" : "ask.fuel_metric", {{"cylinders", cylinders}});
      out.may_stay_blank = true;
      break;
    case fuel_temperature:
      out.question = say(is_us() ? "ask.fuel_temperature_us" : "ask.fuel_temperature_metric");
      out.may_stay_blank = true;
      break;
    case highest:
      out.question = say(is_us() ? "ask.highest_us" : "ask.highest_metric");
      if (flight.highest)
        out.remembered = quantity(flight.highest->from_origin().in(metre), Dimension::altitude, taste());
      break;
    case reports:
      out.question = say("ask.reports");
      out.may_stay_blank = out.several_lines = true;
      break;
    case winds:
      out.question = say(is_us() ? "ask.winds_us" : "ask.winds_metric");
      out.may_stay_blank = out.several_lines = true;
      break;
    case looks:
      out.question = say(is_us() ? "ask.looks_us" : "ask.looks_metric");
      out.may_stay_blank = true;
      break;
    case rules:
      out.question = say("ask.rules");
      out.may_stay_blank = true;
      if (flight.rules) out.remembered = std::string(name_of(*flight.rules));
      break;
    case qnh:
      out.question = say(is_us() ? "ask.qnh_us" : "ask.qnh_metric");
      out.may_stay_blank = true;
      break;
    default: break;
  }
  return out;
}

std::string FlightRound::example(int step) const {
  switch (step) {
    case field: return is_us() ? "Home Field, 38.90, -133.40, 4920ft" : "Home Field, 38.90, -133.40, 1500m";
    case time: return "05:10";
    case planned: return "45min";
    case aboard: return is_us() ? "pilot 172lb, Odile 141lb" : "pilot 78kg, Odile 64kg";
    case highest: return is_us() ? "1000ft" : "300m";
    default: return {};
  }
}

Heard FlightRound::read(int step, std::string_view typed) {
  switch (step) {
    case field: return read_field(typed);
    case time: return read_time(typed);
    case planned: return read_planned(typed);
    case aboard: return read_aboard(typed);
    case fuel: return read_fuel(typed);
    case fuel_temperature: return read_fuel_temperature(typed);
    case highest: return read_highest(typed);
    case reports: return read_reports(typed);
    case winds: return read_winds(typed);
    case looks: return read_looks(typed);
    case rules: return read_rules(typed);
    case qnh: return read_qnh(typed);
    default: return {};
  }
}

Heard FlightRound::read_field(std::string_view typed) {
  if (draft_.field_known && same_word(trimmed(typed), draft_.file.flight.field.name)) return {true};
  const std::vector<std::string_view> parts = parts_of(typed, ',');
  if (parts.size() < 4 || parts.front().empty()) return refused(wrong("issue.ask_field", typed, example(field)));
  const auto degrees = [&](std::size_t from_end, char plus, char minus) -> std::optional<double> {
    std::string_view s = parts[parts.size() - from_end];
    double sign = 1.0;
    if (!s.empty() && (s.back() == plus || s.back() == minus)) {
      sign = s.back() == minus ? -1.0 : 1.0;
      s = trimmed(s.substr(0, s.size() - 1));
    }
    const auto number = text::parse_number(s);
    return number ? std::optional{sign * *number} : std::nullopt;
  };
  const auto latitude = degrees(3, 'N', 'S'), longitude = degrees(2, 'E', 'W');
  if (!latitude || !longitude) return refused(wrong("issue.position_unreadable", typed, example(field)));
  const auto at = Position::at(*latitude * degree, *longitude * degree);
  if (!at) return refused(at.error());
  const auto elevation = in_unit_or(parts.back(), Dimension::altitude, is_us() ? "ft" : "m");
  if (!elevation) return refused(elevation.error());
  FlightDraft draft = draft_;
  sheet::Field& f = draft.file.flight.field;
  f = sheet::Field{};
  // A name may hold commas itself.
  for (std::size_t i = 0; i + 3 < parts.size(); ++i)
    if (!parts[i].empty()) f.name += (f.name.empty() ? "" : ", ") + std::string(parts[i]);
  f.at = *at;
  f.elevation = amsl(*elevation * metre);
  draft.field_known = true;
  draft.sunrise.reset();
  propose_time(draft);
  // Places that belong to where one flew last are too far from elsewhere.
  std::vector<Issue> dropped = drop_what_fails(draft, taste());
  Heard out = take(std::move(draft));
  if (out.taken) std::move(dropped.begin(), dropped.end(), std::back_inserter(out.issues));
  return out;
}

Heard FlightRound::read_time(std::string_view typed) {
  const auto said = typed_time(typed);
  if (!said) return refused(wrong("issue.time_unreadable", typed, example(time) + ", " + iso8601(inputs_.now)));
  FlightDraft draft = draft_;
  sheet::Flight& flight = draft.file.flight;
  flight.time = next_of(*said, inputs_.now.at - kLate, inputs_.now.offset);
  flight.as_of = Moment{inputs_.now.at, flight.time.offset};
  draft.time_known = true;
  constexpr Duration farthest = 14.0 * 24.0 * hour;
  if (flight.time.at < inputs_.now.at - 24.0 * hour || flight.time.at > inputs_.now.at + farthest)
    return refused(wrong("issue.ask_time_far", typed, example(time)));
  std::vector<Sentence> notes;
  if (flight.time.date() != inputs_.now.date()) notes.push_back(say("ask.note_date", {{"date", flight.time.date()}}));
  return take(std::move(draft), std::move(notes));
}

Heard FlightRound::read_planned(std::string_view typed) {
  const auto s = in_unit_or(typed, Dimension::duration, "min");
  if (!s) return refused(s.error());
  FlightDraft draft = draft_;
  draft.file.flight.planned = *s * second;
  draft.planned_known = true;
  return take(std::move(draft));
}

Heard FlightRound::read_aboard(std::string_view typed) {
  FlightDraft draft = draft_;
  std::vector<people::Person>& people = draft.file.flight.aboard;
  people.clear();
  for (const std::string_view part : parts_of(typed, ',')) {
    if (part.empty()) continue;
    const auto person = read_person(part, is_us() ? "lb" : "kg", example(aboard));
    if (!person) return refused(person.error());
    people.push_back(*person);
    // Nobody grows: a height that was known of this name is.
    for (const people::Person& known : draft_.file.flight.aboard)
      if (!known.name.empty() && same_word(known.name, person->name)) people.back().height = known.height;
  }
  if (people.empty()) return refused(wrong("issue.ask_person", typed, example(aboard)));
  std::vector<Sentence> notes;
  const bool has_pilot =
      std::any_of(people.begin(), people.end(), [](const people::Person& p) { return p.role == people::Role::pilot; });
  if (!has_pilot) {
    people.front().role = people::Role::pilot;
    notes.push_back(people.front().name.empty() ? say("ask.note_first_pilot")
                                                : say("ask.note_pilot", {{"name", people.front().name}}));
  }
  draft.aboard_known = true;
  return take(std::move(draft), std::move(notes));
}

Heard FlightRound::read_fuel(std::string_view typed) {
  const std::vector<balloon::Cylinder>& cylinders = inputs_.balloon.cylinders;
  std::vector<std::string> said = words_of(typed);
  if (said.size() == 1 && same_word(said.front(), "full"))
    said.assign(cylinders.size(), std::string{said.front()});  // of a copy: its own elements go away
  if (said.size() != cylinders.size()) {
    std::string ids;
    for (const balloon::Cylinder& cylinder : cylinders) ids += (ids.empty() ? "" : ", ") + cylinder.id;
    Issue issue = wrong("issue.ask_fuel_count", typed, {});
    issue.sentence = say("issue.ask_fuel_count", {{"cylinders", ids}});
    return refused(std::move(issue));
  }
  FlightDraft draft = draft_;
  std::vector<sheet::FuelSeen>& seen = draft.file.flight.fuel;
  seen.clear();
  for (std::size_t i = 0; i < said.size(); ++i) {
    if (said[i] == kNotKnown) continue;
    sheet::FuelSeen one;
    one.cylinder = cylinders[i].id;
    one.seen = draft.file.flight.as_of;
    if (same_word(said[i], "full")) {
      one.liquid = cylinders[i].level_fill;
    } else {
      const auto liquid = in_unit_or(said[i], Dimension::volume, is_us() ? "gal" : "L");
      if (!liquid) return refused(liquid.error());
      one.liquid = *liquid * cubic_metre;
    }
    seen.push_back(std::move(one));
  }
  return take(std::move(draft));
}

Heard FlightRound::read_fuel_temperature(std::string_view typed) {
  const std::vector<balloon::Cylinder>& cylinders = inputs_.balloon.cylinders;
  std::vector<std::string> said = words_of(typed);
  if (said.size() == 1) said.assign(cylinders.size(), std::string{said.front()});  // of a copy
  const std::string wanted = is_us() ? "45F, or 90psi" : "8C, or 6bar";
  if (said.size() != cylinders.size()) return refused(wrong("issue.ask_temperature_count", typed, wanted));
  FlightDraft draft = draft_;
  sheet::Flight& flight = draft.file.flight;
  std::vector<Sentence> notes;
  for (std::size_t i = 0; i < said.size(); ++i) {
    if (said[i] == kNotKnown) continue;
    std::optional<Temperature> temperature;
    if (const auto degrees = text::parse_temperature(said[i])) {
      temperature = *degrees;
    } else if (const auto gauge = text::parse_fuel_pressure(said[i])) {
      const auto air = air::pressure_at(PressureAltitude::at(flight.field.elevation.from_origin()));
      const auto saturated = air ? propane::saturation_temperature(*air + gauge->from_origin())
                                 : Result<Temperature>{fail(Errc::no_data, {})};
      if (!saturated) return refused(wrong("issue.ask_pressure", said[i], wanted));
      // A gauge tells the temperature to a degree or two.
      temperature = celsius(std::round(in_celsius(*saturated) * 10.0) / 10.0);
      const Sentence note =
          say("ask.note_pressure", {{"pressure", measure::of(*gauge)}, {"temperature", measure::of(*temperature)}});
      if (std::find(notes.begin(), notes.end(), note) == notes.end()) notes.push_back(note);
    } else {
      return refused(wrong("issue.ask_temperature", said[i], wanted));
    }
    const auto held = std::find_if(flight.fuel.begin(), flight.fuel.end(),
                                   [&](const sheet::FuelSeen& f) { return f.cylinder == cylinders[i].id; });
    if (held != flight.fuel.end()) {
      held->temperature = temperature;
    } else {
      sheet::FuelSeen one;
      one.cylinder = cylinders[i].id;
      one.temperature = temperature;
      one.seen = flight.as_of;
      flight.fuel.push_back(std::move(one));
    }
  }
  return take(std::move(draft), std::move(notes));
}

Heard FlightRound::read_highest(std::string_view typed) {
  const auto height = in_unit_or(typed, Dimension::altitude, is_us() ? "ft" : "m");
  if (!height) return refused(height.error());
  FlightDraft draft = draft_;
  draft.file.flight.highest = agl(*height * metre);
  return take(std::move(draft));
}

// "station XXX" before the text says which of several stations is meant.
Heard FlightRound::read_reports(std::string_view typed) {
  if (trimmed(typed).empty()) return {true};
  text::Pasted pasted{std::string(typed)};
  const std::vector<std::string_view> lines = lines_of(typed);
  const std::vector<std::string> first = words_of(lines.front());
  if (first.size() == 2 && same_word(first.front(), "station")) {
    pasted.station = first.back();
    pasted.text = typed.substr(static_cast<std::size_t>(lines.front().data() + lines.front().size() - typed.data()));
    pasted.text.erase(0, pasted.text.find_first_not_of("\r\n"));
  }
  if (pasted.text.empty() || pasted.text.back() != '\n') pasted.text += '\n';
  FlightDraft draft = draft_;
  draft.pasted = {std::move(pasted)};
  const auto read = text::parse_flight(written(draft), {});
  const bool any = read.value && (!read.value->flight.reports.empty() || !read.value->flight.forecasts.empty() ||
                                  !read.value->flight.ladders.empty());
  if (read.value && !any) {
    Heard out;
    out.issues = read.issues;
    for (Issue& issue : out.issues) issue.where = {};
    return out;
  }
  std::vector<Sentence> notes;
  if (read.value)
    for (const wind::SurfaceReport& report : read.value->flight.reports)
      notes.push_back(say("ask.note_report",
                          {{"station", report.station}, {"time", Moment{report.source.time, inputs_.now.offset}}}));
  return take(std::move(draft), std::move(notes));
}

Heard FlightRound::read_winds(std::string_view typed) {
  FlightDraft draft = draft_;
  sheet::Flight& flight = draft.file.flight;
  const auto magnetic =
      sky::magnetic_field(flight.field.at, flight.field.elevation.from_origin(), sky::decimal_year(inputs_.now.at));
  WindContext context{flight.field.elevation, magnetic ? magnetic->variation : Variation{}, is_us() ? "ft" : "m",
                      is_us() ? "500ft 215 9kt" : "150m 215 9kt"};
  std::vector<std::string> lines = good_winds_;
  for (const std::string_view line : lines_of(typed)) lines.emplace_back(line);
  good_winds_.clear();
  flight.ladders.clear();
  Heard out;
  wind::Source source{wind::SourceKind::seen, std::string(name_of(wind::SourceKind::seen)), inputs_.now.at};
  bool fresh = true;
  for (const std::string& line : lines) {
    const std::vector<std::string> words = words_of(line);
    if (const auto heading = heading_of(words)) {
      source.kind = heading->kind.value_or(source.kind);
      source.name = name_of(source.kind);
      if (heading->time) source.time = last_of(*heading->time, inputs_.now.at, inputs_.now.offset).at;
      fresh = true;
      good_winds_.push_back(line);
      continue;
    }
    if (!magnetic && line.find("mag") != std::string::npos) return refused(magnetic.error());
    const auto row = read_row(line, words, context);
    if (!row) {
      Issue issue = row.error();
      issue.got = line;
      issue.wanted = context.wanted;
      out.issues.push_back(std::move(issue));
      continue;
    }
    good_winds_.push_back(line);
    if (fresh) flight.ladders.push_back({source, {}});
    fresh = false;
    flight.ladders.back().rows.push_back(*row);
  }
  if (!out.issues.empty()) {
    if (!good_winds_.empty()) out.notes.push_back(say("ask.note_winds_kept"));
    return out;
  }
  good_winds_.clear();
  for (wind::Ladder& ladder : flight.ladders)
    std::stable_sort(ladder.rows.begin(), ladder.rows.end(),
                     [](const wind::LadderRow& a, const wind::LadderRow& b) { return a.altitude < b.altitude; });
  return take(std::move(draft));
}

// "10mi clear none", or with commas where one takes several words: visibility, cloud, storm.
Heard FlightRound::read_looks(std::string_view typed) {
  std::vector<std::string> said;
  if (typed.find(',') != std::string_view::npos) {
    for (const std::string_view part : parts_of(typed, ',')) said.emplace_back(part);
  } else {
    const std::vector<std::string> words = words_of(typed);
    if (words.size() >= 3) {
      said = {words.front(), {}, words.back()};
      for (std::size_t i = 1; i + 1 < words.size(); ++i) said[1] += (i > 1 ? " " : "") + words[i];
    }
  }
  const std::string_view wanted = is_us() ? "10mi clear none" : "16km clear none";
  if (said.size() != 3) return refused(wrong("issue.ask_looks", typed, wanted));
  FlightDraft draft = draft_;
  sheet::Flight& flight = draft.file.flight;
  flight.looks.clear();
  constexpr std::array<std::string_view, 3> what{"visibility", "cloud", "storm"};
  for (std::size_t i = 0; i < said.size(); ++i) {
    if (said[i].empty() || said[i] == kNotKnown) continue;
    sheet::Look look;
    look.what = what[i];
    look.words = said[i];
    look.time = *flight.as_of;
    if (what[i] == "visibility" || (what[i] == "storm" && begins_number(said[i]))) {
      const auto distance = in_unit_or(said[i], Dimension::distance, is_us() ? "mi" : "km");
      if (!distance) return refused(distance.error());
      look.value = measure::distance(*distance * metre);
      if (text::parse_number(said[i])) look.words += is_us() ? "mi" : "km";
    } else if (what[i] == "cloud" && begins_number(said[i])) {
      const auto base = in_unit_or(said[i], Dimension::altitude, is_us() ? "ft" : "m");
      if (!base) return refused(base.error());
      look.value = measure::height(*base * metre);
      if (text::parse_number(said[i])) look.words += is_us() ? "ft" : "m";
    } else if (what[i] == "storm" && (same_word(said[i], "no") || same_word(said[i], "none"))) {
      look.words = "none";
    }
    flight.looks.push_back(std::move(look));
  }
  return take(std::move(draft));
}

// "us G": the rules and the class of the airspace, in any order; each may be left out.
Heard FlightRound::read_rules(std::string_view typed) {
  FlightDraft draft = draft_;
  sheet::Flight& flight = draft.file.flight;
  for (const std::string& word : words_of(typed)) {
    if (word == kNotKnown) continue;
    std::string small = word, capital = word;
    for (char& c : small)
      if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    for (char& c : capital)
      if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
    if (const auto set = named<sheet::RuleSet>(small))
      flight.rules = set;
    else if (const auto airspace = named<sheet::Airspace>(capital))
      flight.field.airspace = airspace;
    else
      return refused(wrong("issue.ask_rules", word, "us or eu, and a letter A to G: us G"));
  }
  return take(std::move(draft));
}

// "3006", "A3006", "30.06", "Q1018", "1018hPa": no unit can be mistaken for another here.
Heard FlightRound::read_qnh(std::string_view typed) {
  std::string s{trimmed(typed)};
  const std::string_view wanted = is_us() ? "30.06inHg, or 1018hPa" : "1018hPa, or 30.06inHg";
  if (!s.empty() && (s.front() == 'A' || s.front() == 'Q' || s.front() == 'a' || s.front() == 'q')) s.erase(0, 1);
  std::string_view unit;
  if (const auto number = text::parse_number(s)) {
    if (*number >= 2500.0 && *number <= 3300.0 && s.size() == 4) {
      s.insert(2, ".");
      unit = "inHg";
    } else if (*number >= 25.0 && *number <= 33.0) {
      unit = "inHg";
    } else {
      unit = "hPa";
    }
  }
  const auto pressure = text::parse_air_pressure(s + std::string(unit));
  if (!pressure) return refused(wrong("issue.ask_qnh", typed, wanted));
  FlightDraft draft = draft_;
  draft.file.flight.field.qnh = *pressure;
  return take(std::move(draft));
}

}  // namespace pappus::desk
