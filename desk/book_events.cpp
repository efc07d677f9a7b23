#include "desk/book_events.hpp"

#include <algorithm>
#include <cstddef>
#include <initializer_list>
#include <map>
#include <optional>
#include <utility>

#include <nlohmann/json.hpp>

#include "core/base/nearest.hpp"
#include "formats/text/json/json_sink.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::desk {
namespace {

using Json = nlohmann::json;
using book::CylinderUse;
using book::FillEvent;
using book::FlightEvent;
using book::LevelTestEvent;
using book::LiquidBand;
using book::WeighingEvent;

constexpr std::string_view kFill = "fill", kFlight = "flight", kWeighing = "weighing", kLevelTest = "level_test";
constexpr std::size_t kLongestId = 64, kMostOpen = 64;
constexpr std::size_t kLongestBody = 64U << 10U;
constexpr std::ptrdiff_t kMostBrackets = 1000;  // of a body, before a tree is built of it

// --- writing

void write_band(json::JsonSink& sink, const LiquidBand& band) {
  sink.key("coldest_k");
  sink.number(band.coldest.from_origin().in(kelvin));
  sink.key("warmest_k");
  sink.number(band.warmest.from_origin().in(kelvin));
}

void write_mass(json::JsonSink& sink, std::string_view key, Mass mass) {
  sink.key(key);
  sink.number(mass.in(kilogram));
}

void write(json::JsonSink& sink, const FillEvent& fill) {
  sink.entry("cylinder", fill.cylinder);
  if (fill.liquid) write_band(sink, *fill.liquid);
  if (fill.weighed) write_mass(sink, "weighed_kg", *fill.weighed);
}
void write(json::JsonSink& sink, const FlightEvent& flight) {
  sink.key("aloft_s");
  sink.number(flight.aloft.in(second));
  sink.key("open");
  sink.begin_array();
  for (const CylinderUse& use : flight.open) {
    sink.begin_object();
    sink.entry("cylinder", use.cylinder);
    if (use.drawn) {
      write_mass(sink, "drawn_kg", *use.drawn);
      sink.key("error");
      sink.number(use.error);
    }
    sink.end_object();
  }
  sink.end_array();
  if (flight.burnt) {
    write_mass(sink, "burnt_kg", flight.burnt->fuel);
    write_mass(sink, "burnt_error_kg", flight.burnt->error);
  }
  if (flight.foretold) {
    write_mass(sink, "foretold_kg", flight.foretold->fuel);
    write_mass(sink, "foretold_loss_kg", flight.foretold->loss);
    write_mass(sink, "foretold_error_kg", flight.foretold->error);
    sink.key("mean_needed_k");
    sink.number(flight.foretold->mean_needed.from_origin().in(kelvin));
    sink.key("mean_error_k");
    sink.number(flight.foretold->mean_error.in(kelvin));
  }
  if (flight.crown) {
    sink.key("crown_k");
    sink.number(flight.crown->hottest.from_origin().in(kelvin));
    sink.key("crown_error_k");
    sink.number(flight.crown->error.in(kelvin));
  }
}
void write(json::JsonSink& sink, const WeighingEvent& weighing) {
  sink.entry("cylinder", weighing.cylinder);
  write_mass(sink, "weighed_kg", weighing.weighed);
}
void write(json::JsonSink& sink, const LevelTestEvent& test) {
  sink.entry("cylinder", test.cylinder);
  sink.entry("valve", name_of(test.valve));
  write_band(sink, test.liquid);
  sink.key("tube_attitude");
  sink.boolean(test.tube_attitude);
}

// --- reading

// One object of a body. The first fault is kept; reading goes on with what does no harm.
class Reading {
 public:
  Reading(const Json& object, std::string path, std::optional<Issue>& fault)
      : object_{object}, path_{std::move(path)}, fault_{fault} {}

  /// Refuses any key that is not among these.
  void only(const std::vector<std::string_view>& known) const {
    if (!object_.is_object()) return refuse("", "issue.book_value", shown(object_), "an object");
    for (const auto& [key, value] : object_.items()) {
      if (std::find(known.begin(), known.end(), key) != known.end()) continue;
      std::string wanted{nearest(key, known)};
      if (wanted.empty())
        for (const std::string_view name : known) (wanted += wanted.empty() ? "one of " : ", ") += name;
      refuse(key, "issue.book_key", text::excerpt(key), std::move(wanted));
    }
  }
  [[nodiscard]] bool has(const char* key) const { return object_.is_object() && object_.contains(key); }
  [[nodiscard]] const Json* at(const char* key) const {
    if (has(key)) return &object_.at(key);
    refuse(key, "issue.book_missing", {}, "a value");
    return nullptr;
  }
  /// A number within bounds, both included.
  [[nodiscard]] double number(const char* key, double low, double high) const {
    const Json* value = at(key);
    if (value == nullptr) return low;
    if (!value->is_number()) {
      refuse(key, "issue.book_value", shown(*value), "a number");
      return low;
    }
    const auto n = value->get<double>();
    if (n >= low && n <= high) return n;
    refuse(key, "issue.book_amount", shown(*value), json::number_text(low) + " to " + json::number_text(high));
    return low;
  }
  [[nodiscard]] std::string id(const char* key) const {
    const Json* value = at(key);
    if (value == nullptr) return {};
    if (value->is_string())
      if (auto id = value->get<std::string>(); !id.empty() && id.size() <= kLongestId) return id;
    refuse(key, "issue.book_value", shown(*value), "an id of 1 to 64 bytes");
    return {};
  }
  [[nodiscard]] bool truth(const char* key) const {
    const Json* value = at(key);
    if (value == nullptr) return false;
    if (!value->is_boolean()) refuse(key, "issue.book_value", shown(*value), "true or false");
    return value->is_boolean() && value->get<bool>();
  }
  template <Named E>
  [[nodiscard]] E word(const char* key) const {
    const Json* value = at(key);
    if (value == nullptr) return {};
    if (value->is_string())
      if (const auto found = named<E>(value->get_ref<const std::string&>())) return *found;
    std::string wanted;
    for (const auto& entry : Names<E>::all) (wanted += wanted.empty() ? "one of " : ", ") += entry.second;
    refuse(key, "issue.book_value", shown(*value), std::move(wanted));
    return {};
  }
  [[nodiscard]] Mass mass(const char* key) const { return number(key, 0.001, 1000.0) * kilogram; }
  [[nodiscard]] LiquidBand band() const {
    const auto at_k = [&](const char* key) { return Temperature::at(number(key, 233.15, 323.15) * kelvin); };
    const LiquidBand band{at_k("coldest_k"), at_k("warmest_k")};
    if (band.coldest > band.warmest)
      refuse("coldest_k", "issue.book_amount", shown(object_.at("coldest_k")), "not above warmest_k");
    return band;
  }
  void refuse(std::string_view key, const char* sentence, std::string got, std::string wanted) const {
    if (fault_) return;
    std::string path = path_;
    if (!key.empty()) path += (path.empty() ? "" : ".") + std::string(key);
    fault_ = Issue{Errc::bad_input, say(sentence), {{}, 0, 0, text::excerpt(path)}, std::move(got), std::move(wanted)};
  }
  static std::string shown(const Json& value) {
    if (value.is_structured()) return value.type_name();
    return text::excerpt(value.is_string() ? value.get_ref<const std::string&>()
                                           : value.dump(-1, ' ', false, Json::error_handler_t::replace));
  }

 private:
  const Json& object_;
  std::string path_;
  std::optional<Issue>& fault_;
};

FillEvent read_fill(const Reading& from) {
  from.only({"cylinder", "coldest_k", "warmest_k", "weighed_kg"});
  FillEvent out{.cylinder = from.id("cylinder")};
  if (from.has("weighed_kg")) out.weighed = from.mass("weighed_kg");
  if (!out.weighed || from.has("coldest_k") || from.has("warmest_k")) out.liquid = from.band();
  return out;
}

WeighingEvent read_weighing(const Reading& from) {
  from.only({"cylinder", "weighed_kg"});
  return {.cylinder = from.id("cylinder"), .weighed = from.mass("weighed_kg")};
}

LevelTestEvent read_level_test(const Reading& from) {
  from.only({"cylinder", "valve", "coldest_k", "warmest_k", "tube_attitude"});
  return {.cylinder = from.id("cylinder"),
          .valve = from.word<propane::Valve>("valve"),
          .liquid = from.band(),
          .tube_attitude = from.truth("tube_attitude")};
}

FlightEvent read_flight(const Reading& from, std::optional<Issue>& fault) {
  from.only({"aloft_s", "open", "burnt_kg", "burnt_error_kg", "foretold_kg", "foretold_loss_kg", "foretold_error_kg",
             "mean_needed_k", "mean_error_k", "crown_k", "crown_error_k"});
  FlightEvent out{.aloft = from.number("aloft_s", 1.0, 86400.0) * second, .open = {}};
  const auto kg = [&](const char* key) { return from.number(key, 0.001, 10'000.0) * kilogram; };
  const auto inside = [&](const char* key) { return Temperature::at(from.number(key, 233.15, 523.15) * kelvin); };
  const auto error = [&](const char* key) { return from.number(key, 0.01, 100.0) * kelvin; };
  const auto any_of = [&](std::initializer_list<const char*> keys) {
    return std::any_of(keys.begin(), keys.end(), [&](const char* key) { return from.has(key); });
  };
  if (any_of({"burnt_kg", "burnt_error_kg"})) out.burnt = book::BurntNoted{kg("burnt_kg"), kg("burnt_error_kg")};
  if (any_of({"foretold_kg", "foretold_loss_kg", "foretold_error_kg", "mean_needed_k", "mean_error_k"})) {
    out.foretold = book::Foretold{kg("foretold_kg"), kg("foretold_loss_kg"), kg("foretold_error_kg"),
                                  inside("mean_needed_k"), error("mean_error_k")};
    if (out.foretold->loss > out.foretold->fuel)
      from.refuse("foretold_loss_kg", "issue.book_amount", json::number_text(out.foretold->loss.in(kilogram)),
                  "not above foretold_kg");
  }
  if (any_of({"crown_k", "crown_error_k"})) out.crown = book::CrownNoted{inside("crown_k"), error("crown_error_k")};
  const Json* open = from.at("open");
  if (open == nullptr) return out;
  if (!open->is_array() || open->empty() || open->size() > kMostOpen) {
    from.refuse("open", "issue.book_value", Reading::shown(*open), "a list of 1 to 64 cylinders");
    return out;
  }
  for (std::size_t i = 0; i < open->size(); ++i) {
    const Reading item{(*open)[i], "open[" + std::to_string(i + 1) + "]", fault};
    item.only({"cylinder", "drawn_kg", "error"});
    CylinderUse use{.cylinder = item.id("cylinder")};
    if (item.has("drawn_kg") || item.has("error")) {
      use.drawn = item.number("drawn_kg", 0.0, 1000.0) * kilogram;
      use.error = item.number("error", 0.0, 1.0);
    }
    for (const CylinderUse& before : out.open)
      if (before.cylinder == use.cylinder)
        item.refuse("cylinder", "issue.book_value", text::excerpt(use.cylinder), "each cylinder once");
    out.open.push_back(std::move(use));
  }
  return out;
}

bool is_kind(std::string_view kind) {
  return kind == kFill || kind == kFlight || kind == kWeighing || kind == kLevelTest;
}

}  // namespace

std::string subject_of(const balloon::Balloon& balloon) {
  std::string id = balloon.serial.empty() ? balloon.name : balloon.serial;
  std::size_t end = std::min(id.size(), kLongestId);
  while (end < id.size() && end > 0 && (static_cast<unsigned char>(id[end]) & 0xC0U) == 0x80U) --end;  // no half letter
  id.resize(end);
  for (char& c : id)
    if (static_cast<unsigned char>(c) < 0x20U || c == 0x7F) c = ' ';
  return id;
}

std::string_view kind_of(const Happening& what) {
  struct Kind {
    std::string_view operator()(const FillEvent&) const { return kFill; }
    std::string_view operator()(const FlightEvent&) const { return kFlight; }
    std::string_view operator()(const WeighingEvent&) const { return kWeighing; }
    std::string_view operator()(const LevelTestEvent&) const { return kLevelTest; }
  };
  return std::visit(Kind{}, what);
}

std::string body_of(const Happening& what) {
  json::JsonSink sink{json::Layout::compact};
  sink.begin_object();
  std::visit([&](const auto& one) { write(sink, one); }, what);
  sink.end_object();
  return sink.finish();
}

Result<Happening> read_body(std::string_view kind, std::string_view body) {
  if (!is_kind(kind))
    return fail(Errc::bad_input, say("issue.book_kind"), text::excerpt(kind), "fill, flight, weighing, level_test");
  const auto not_json = [] { return fail(Errc::bad_input, say("issue.book_syntax"), {}, "one JSON object"); };
  const auto brackets = std::count_if(body.begin(), body.end(), [](char c) { return c == '[' || c == '{'; });
  if (body.size() > kLongestBody || brackets > kMostBrackets) return not_json();
  const Json document = Json::parse(body, nullptr, false);
  if (!document.is_object()) return not_json();
  std::optional<Issue> fault;
  const Reading root{document, {}, fault};
  Happening out;
  if (kind == kFill) out = read_fill(root);
  if (kind == kFlight) out = read_flight(root, fault);
  if (kind == kWeighing) out = read_weighing(root);
  if (kind == kLevelTest) out = read_level_test(root);
  if (fault) return tl::unexpected(*std::move(fault));
  return out;
}

Result<CylinderHistory> cylinder_history(Store& store, const std::string& subject) {
  auto events = store.events({.subject = subject});
  if (!events) return tl::unexpected(events.error());
  CylinderHistory out;
  const auto tell = [&](const Event& event, Issue issue) {
    const std::string place = "event[" + std::to_string(event.number) + "]";
    issue.where.key = issue.where.key.empty() ? place : place + "." + issue.where.key;
    out.not_understood.push_back(std::move(issue));
  };
  // Of the corrections of one event, and of corrections of those, the last counts.
  std::map<std::int64_t, std::int64_t> first_of;  // the event that a chain of corrections began with
  std::map<std::int64_t, const Event*> last_of;   // by that event
  for (const Event& event : *events) {
    std::int64_t first = event.number;
    if (event.what.corrects) {
      const auto found = first_of.find(*event.what.corrects);
      if (found != first_of.end())
        first = found->second;
      else
        tell(event, {Errc::bad_input, say("issue.book_correction"), {}, std::to_string(*event.what.corrects), {}});
    }
    first_of[event.number] = first;
    last_of[first] = &event;
  }
  for (const Event& event : *events) {
    if (last_of.at(first_of.at(event.number)) != &event) continue;
    out.as_written.push_back(event);
    auto what = read_body(event.what.kind, event.what.body);
    if (what) {
      out.events.push_back({event.number, event.what.happened, *std::move(what)});
    } else {
      tell(event, what.error());
      out.unknown.push_back(event.what.happened);
    }
  }
  return out;
}

book::CylinderMemory recalled(const CylinderHistory& history, std::string_view cylinder, Instant now) {
  book::CylinderMemory out = book::remembered(history.events, cylinder, now);
  for (const Instant happened : history.unknown)
    if (happened <= now && (!out.last_proof || happened >= *out.last_proof)) out.evidence.used_since = true;
  return out;
}

}  // namespace pappus::desk
