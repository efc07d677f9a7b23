#include "formats/text/evening/evening.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include <nlohmann/json.hpp>

#include "core/base/describe.hpp"
#include "core/base/nearest.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::text {
namespace {

using Json = nlohmann::json;
using sheet::Evening;
using sheet::Tripwire;
using sheet::Watched;

std::string_view without_mark(std::string_view text) {
  constexpr std::string_view mark = "\xEF\xBB\xBF";  // some programs begin UTF-8 with it
  return text.substr(0, mark.size()) == mark ? text.substr(mark.size()) : text;
}

// How deep brackets go, counted before the library builds a tree of them.
int depth_of(std::string_view text) {
  int depth = 0, deepest = 0;
  bool in_text = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (in_text && c == '\\') {
      ++i;
    } else if (c == '"') {
      in_text = !in_text;
    } else if (!in_text && (c == '{' || c == '[')) {
      deepest = std::max(deepest, ++depth);
    } else if (!in_text && (c == '}' || c == ']')) {
      --depth;
    }
  }
  return deepest;
}

Where place_of_byte(std::string_view text, std::size_t byte, std::string_view file) {
  Where out{std::string(file), 1, 1, {}};
  for (const char c : text.substr(0, std::min(byte, text.size()))) {
    const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
    if (c == '\n') {
      ++out.line;
      out.column = 1;
    } else if (!continues) {
      ++out.column;
    }
  }
  return out;
}

// "[json.exception.parse_error.101] parse error at line 1, column 2: ..." without what only a programmer reads.
std::string detail_of(std::string_view what) {
  const std::size_t end = what.find("] ");
  if (end != std::string_view::npos) what.remove_prefix(end + 2);
  return excerpt(what, 120);
}

// One value with the path to it. A reading function gives none after it has told what is wrong.
class Node {
 public:
  Node(const Json* json, std::string path, std::vector<Issue>* issues)
      : json_{json}, path_{std::move(path)}, issues_{issues} {}

  [[nodiscard]] bool is_null() const { return json_->is_null(); }
  [[nodiscard]] bool has(const char* key) const { return json_->is_object() && json_->contains(key); }
  /// Whether there are keys to ask for. That there are none is told.
  [[nodiscard]] bool is_object() const {
    if (!json_->is_object()) other_kind("an object");
    return json_->is_object();
  }
  /// The value at `key` of an object. Its absence is told.
  [[nodiscard]] std::optional<Node> at(const char* key) const {
    const std::string path = path_.empty() ? key : path_ + "." + key;
    const auto found = json_->find(key);
    if (found != json_->end()) return Node{&*found, path, issues_};
    issues_->push_back({Errc::bad_input, say("issue.evening_missing"), {{}, 0, 0, path}, {}, "a value"});
    return std::nullopt;
  }
  [[nodiscard]] std::vector<Node> items() const {
    std::vector<Node> out;
    if (!json_->is_array()) {
      other_kind("a list");
      return out;
    }
    for (std::size_t i = 0; i < json_->size(); ++i)
      out.emplace_back(&(*json_)[i], path_ + "[" + std::to_string(i + 1) + "]", issues_);
    return out;
  }
  [[nodiscard]] std::optional<std::string> text() const {
    if (json_->is_string()) return json_->get<std::string>();
    other_kind("a text");
    return std::nullopt;
  }
  [[nodiscard]] std::optional<double> number() const {
    if (json_->is_number()) return json_->get<double>();
    other_kind("a number");
    return std::nullopt;
  }
  [[nodiscard]] std::optional<int> count() const {
    constexpr double most = std::numeric_limits<int>::max();
    if (json_->is_number_integer())
      if (const double n = json_->get<double>(); n >= 0.0 && n <= most) return static_cast<int>(n);
    other_kind("a whole number, not negative");
    return std::nullopt;
  }
  [[nodiscard]] std::optional<bool> truth() const {
    if (json_->is_boolean()) return json_->get<bool>();
    other_kind("true or false");
    return std::nullopt;
  }
  template <Named E>
  [[nodiscard]] std::optional<E> word() const {
    const auto found = text();
    if (!found) return std::nullopt;
    if (const auto value = named<E>(*found)) return value;
    std::vector<std::string_view> names;
    for (const auto& entry : Names<E>::all) names.push_back(entry.second);
    std::string wanted{nearest(*found, names)};
    if (wanted.empty())
      for (const std::string_view name : names) (wanted += wanted.empty() ? "one of " : ", ") += name;
    refuse("issue.evening_word", std::move(wanted));
    return std::nullopt;
  }
  [[nodiscard]] std::optional<Moment> moment() const {
    const auto found = text();
    if (!found) return std::nullopt;
    if (const auto moment = parse_moment(*found)) return moment;
    refuse("issue.evening_moment", "a time with its offset, such as 2027-05-15T20:10:00-09:00");
    return std::nullopt;
  }
  [[nodiscard]] std::optional<Measure> measure() const {
    if (!is_object()) return std::nullopt;
    const auto si_at = at("si"), unit_at = at("unit"), kind_at = at("kind");
    if (!si_at || !unit_at || !kind_at) return std::nullopt;
    const auto si = si_at->number();
    const auto unit = unit_at->text();
    const auto kind = kind_at->word<MeasureKind>();
    if (!si || !unit || !kind) return std::nullopt;
    if (*unit == si_unit_name(*kind)) return Measure{*si, *kind};
    unit_at->refuse("issue.evening_unit", std::string(si_unit_name(*kind)));
    return std::nullopt;
  }

  void refuse(const char* key, std::string wanted) const {
    issues_->push_back({Errc::bad_input, say(key), {{}, 0, 0, path_}, shown(), std::move(wanted)});
  }

 private:
  [[nodiscard]] std::string shown() const {
    if (json_->is_structured()) return json_->type_name();
    return excerpt(json_->is_string() ? json_->get_ref<const std::string&>()
                                      : json_->dump(-1, ' ', false, Json::error_handler_t::replace));
  }
  void other_kind(std::string wanted) const { refuse("issue.evening_kind", std::move(wanted)); }

  const Json* json_;
  std::string path_;
  std::vector<Issue>* issues_;
};

// Reads `key` of `from` into `out` by one of Node's reading functions.
template <class T>
void need(const Node& from, const char* key, T& out, std::optional<T> (Node::*read)() const) {
  if (const auto node = from.at(key))
    if (auto found = ((*node).*read)()) out = *std::move(found);
}

// As above; null leaves it empty.
template <class T>
void may(const Node& from, const char* key, std::optional<T>& out, std::optional<T> (Node::*read)() const) {
  const auto node = from.at(key);
  if (node && !node->is_null()) out = ((*node).*read)();
}

sheet::EveningLimit read_limit(const Node& node) {
  sheet::EveningLimit out;
  if (!node.is_object()) return out;
  need(node, "name", out.name, &Node::text);
  need(node, "state", out.state, &Node::word<sheet::LimitState>);
  may(node, "value", out.value, &Node::measure);
  return out;
}

void read_watched_amount(const Node& node, const char* key, MeasureKind kind, std::optional<Measure>& out) {
  const auto value = node.at(key);
  if (!value || value->is_null()) return;
  out = value->measure();
  if (out && out->kind != kind)
    value->refuse("issue.evening_unit", "an amount of the kind " + std::string(name_of(kind)));
}

Tripwire read_tripwire(const Node& node) {
  Tripwire out;
  if (!node.is_object()) return out;
  need(node, "what", out.what, &Node::word<Watched>);
  need(node, "own", out.own, &Node::truth);
  std::optional<double> height, from, to;
  may(node, "height_agl_m", height, &Node::number);
  may(node, "from_true_deg", from, &Node::number);
  may(node, "to_true_deg", to, &Node::number);
  if (height) out.height = agl(*height * metre);
  if (from) out.from = TrueBearing::at(*from * degree);
  if (to) out.to = TrueBearing::at(*to * degree);
  const MeasureKind kind = kind_of(out.what);
  read_watched_amount(node, "at_most", kind, out.at_most);
  read_watched_amount(node, "at_least", kind, out.at_least);
  read_watched_amount(node, "evening", kind, out.evening);
  out.condition = condition_of(out);
  return out;
}

// What a tripwire needs in order to be judged.
bool is_whole(const Tripwire& t) {
  const bool has_amount = t.at_most || t.at_least, has_sector = t.from && t.to, has_part = t.from || t.to;
  if (is_aloft(t.what) != t.height.has_value()) return false;
  return t.what == Watched::wind_from ? has_sector && !has_amount : has_amount && !has_part;
}

void read_load(const Node& node, Evening& out) {
  if (!node.is_object()) return;
  double load_kg = 0.0;
  need(node, "total_kg", load_kg, &Node::number);
  out.load = load_kg * kilogram;
  need(node, "people_count", out.people, &Node::count);
  if (const auto cylinders = node.at("cylinders_known"))
    for (const Node& item : cylinders->items())
      if (auto id = item.text()) out.cylinders.push_back(*std::move(id));
}

Evening read_evening(const Node& root, std::vector<Issue>& issues) {
  Evening out;
  need(root, "as_of", out.as_of, &Node::moment);
  need(root, "time", out.time, &Node::moment);
  need(root, "balloon", out.balloon, &Node::text);
  need(root, "field", out.field, &Node::text);
  need(root, "standing", out.standing, &Node::word<sheet::Standing>);
  if (const auto limits = root.at("limits"))
    for (const Node& item : limits->items()) out.limits.push_back(read_limit(item));
  if (const auto tripwires = root.at("tripwires"))
    for (const Node& item : tripwires->items()) {
      const std::size_t told = issues.size();
      out.tripwires.push_back(read_tripwire(item));
      if (issues.size() == told && !is_whole(out.tripwires.back()))
        item.refuse("issue.evening_bounds", "a bound of its quantity, and a height for a wind aloft alone");
    }
  if (const auto load = root.at("load")) read_load(*load, out);
  return out;
}

}  // namespace

bool is_json_object(std::string_view text) {
  text = without_mark(text);
  const std::size_t first = text.find_first_not_of(" \t\r\n");
  return first != std::string_view::npos && text[first] == '{';
}

Parsed<Evening> parse_evening(std::string_view json, std::string_view file) {
  Parsed<Evening> out;
  const std::string_view text = without_mark(json);
  const auto refuse = [&](std::string key, std::string got, std::string wanted) {
    out.issues.push_back(
        {Errc::bad_input, say(std::move(key)), {std::string(file), 0, 0, {}}, std::move(got), std::move(wanted)});
    return std::move(out);
  };
  constexpr std::string_view sheet_wanted = "what pappus sheet FLIGHT --json prints";
  if (text.size() > kLongestEvening)
    return refuse("issue.evening_too_long", {}, std::to_string(kLongestEvening >> 20U) + " MiB at most");
  if (depth_of(text) > kDeepestEvening) return refuse("issue.evening_too_deep", {}, std::string(sheet_wanted));
  Json document;
  // The library tells by exceptions; here they become an issue.
  try {
    document = Json::parse(text);
  } catch (const Json::parse_error& error) {
    Issue issue{Errc::bad_input,
                say("issue.evening_syntax", {{"detail", detail_of(error.what())}}),
                place_of_byte(text, error.byte == 0 ? 0 : error.byte - 1, file),
                {},
                std::string(sheet_wanted)};
    out.issues.push_back(std::move(issue));
    return out;
  } catch (const Json::exception& error) {  // a number beyond what a double holds
    out.issues.push_back({Errc::bad_input,
                          say("issue.evening_syntax", {{"detail", detail_of(error.what())}}),
                          Where{std::string(file), 0, 0, {}},
                          {},
                          std::string(sheet_wanted)});
    return out;
  }
  const Node root{&document, {}, &out.issues};
  if (!root.has("as_of") && !root.has("limits") && !root.has("tripwires"))
    return refuse(root.has("issues") ? "issue.evening_refusal" : "issue.evening_other", {}, std::string(sheet_wanted));
  Evening evening = read_evening(root, out.issues);
  for (Issue& issue : out.issues) issue.where.file = file;
  if (out.issues.empty()) out.value = std::move(evening);
  return out;
}

}  // namespace pappus::text
