// Data files into rules. The names that a table may hold are those of the struct's description, each with a unit of its
// type: what the file says and what the structs hold cannot drift apart.
#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <iterator>
#include <utility>

#include "core/base/flat_toml.hpp"
#include "core/base/nearest.hpp"
#include "core/rules/rules.hpp"
#include "core/rules/rules_described.hpp"

namespace pappus::rules {
namespace {

template <class T>
struct Unit {
  std::string_view suffix;
  T unit;
};

// How an amount may be written. An amount has units; a point has those of its distance from the origin.
template <class T>
inline constexpr std::array<Unit<T>, 0> kUnits{};
template <>
inline constexpr std::array kUnits<Length>{Unit<Length>{"_m", metre}, Unit<Length>{"_km", kilometre},
                                           Unit<Length>{"_ft", foot}, Unit<Length>{"_mi", statute_mile}};
template <>
inline constexpr std::array kUnits<Duration>{Unit<Duration>{"_min", minute}, Unit<Duration>{"_h", hour}};
template <>
inline constexpr std::array kUnits<Mass>{Unit<Mass>{"_kg", kilogram}};
template <>
inline constexpr std::array kUnits<Volume>{Unit<Volume>{"_m3", cubic_metre}};
template <>
inline constexpr std::array kUnits<Angle>{Unit<Angle>{"_deg", degree}};

template <class T>
concept Amount = kUnits<T>
.size() > 0;

// Which origin a name tells of, before its unit.
template <class P>
inline constexpr std::string_view kOrigin{};
template <>
inline constexpr std::string_view kOrigin<HeightAgl> = "_agl";
template <>
inline constexpr std::string_view kOrigin<AltitudeAmsl> = "_amsl";

// One table of the file, read into one rule.
class Table {
 public:
  Table(std::string name, std::string file) : name_{std::move(name)}, file_{std::move(file)} {}
  void add(const FlatEntry& entry) {
    entries_.push_back({&entry, std::string_view{entry.key}.substr(name_.size() + 1)});
  }
  [[nodiscard]] const std::string& name() const { return name_; }
  // Entries come sorted by key; tables are told in the order of the file.
  [[nodiscard]] int first_line() const {
    int line = entries_.front().entry->line;
    for (const Used& used : entries_) line = std::min(line, used.entry->line);
    return line;
  }
  [[nodiscard]] std::vector<Issue>& issues() { return issues_; }

  template <class T>
  std::optional<T> read() {
    T rule;
    for_each_field<T>([&](const auto& field) { this->read(rule.*field.member, field.name); });
    // A name in the wrong unit comes before the figure that it leaves missing: it is the cause.
    const auto others = static_cast<std::ptrdiff_t>(issues_.size());
    for (const Used& used : entries_)
      if (!used.taken) refuse("issue.rules_name", *used.entry, std::string(used.name), wanted_name(used.name));
    std::rotate(issues_.begin(), issues_.begin() + others, issues_.end());
    if (!issues_.empty()) return std::nullopt;
    return rule;
  }

  void refuse_table(const std::vector<std::string_view>& known) {
    refuse("issue.rules_table", *entries_.front().entry, name_, std::string(nearest(name_, known)));
  }

 private:
  struct Used {
    const FlatEntry* entry;
    std::string_view name;
    bool taken = false;
  };

  void refuse(const char* key, const FlatEntry& entry, std::string got, std::string wanted) {
    issues_.push_back(Issue{Errc::bad_input, say(key), Where{file_, entry.line, entry.column, entry.key},
                            std::move(got), std::move(wanted)});
  }
  void refuse_value(const FlatEntry& entry, std::string wanted) {
    refuse("issue.rules_value", entry, entry.value, std::move(wanted));
  }
  void missing(std::string wanted) {
    issues_.push_back(Issue{
        Errc::bad_input, say("issue.rules_missing"), Where{file_, first_line(), 1, name_}, {}, std::move(wanted)});
  }
  std::string wanted_name(std::string_view written) {
    std::vector<std::string_view> known;
    for (const std::string& name : known_) known.push_back(name);
    return std::string(nearest(written, known));
  }

  // The entry of that name, from now on taken; null where there is none.
  const FlatEntry* take(std::string_view name) {
    known_.emplace_back(name);
    for (Used& used : entries_) {
      if (used.name != name || used.taken) continue;
      used.taken = true;
      return used.entry;
    }
    return nullptr;
  }
  const FlatEntry* need(std::string_view name) {
    const FlatEntry* entry = take(name);
    if (entry == nullptr) missing(std::string(name));
    return entry;
  }
  std::optional<double> positive(const FlatEntry& entry) {
    const std::optional<double> number = number_of(entry);
    if (number && *number > 0.0) return number;
    refuse_value(entry, "a number above 0");
    return std::nullopt;
  }

  void read(Rule& rule, std::string_view) {
    rule.name = name_;
    read(rule.paragraph, "paragraph");
    if (const FlatEntry* sure = need("sure")) read(rule.sure, *sure);
    read(rule.local_first, "local_first");
  }
  void read(std::string& text, std::string_view name) {
    const FlatEntry* entry = need(name);
    if (entry == nullptr) return;
    if (entry->kind != FlatKind::text || entry->value.empty()) return refuse_value(*entry, "a text");
    text = entry->value;
  }
  void read(bool& truth, const FlatEntry& entry) {
    if (entry.kind != FlatKind::truth) return refuse_value(entry, "true or false");
    truth = entry.value == "true";
  }
  // A flag that is not there is false.
  void read(bool& truth, std::string_view name) {
    if (const FlatEntry* entry = take(name)) read(truth, *entry);
  }
  void read(int& count, std::string_view name) {
    constexpr double kMost = 1e6;
    const FlatEntry* entry = need(name);
    if (entry == nullptr) return;
    const std::optional<double> number = positive(*entry);
    if (!number) return;
    if (*number != std::floor(*number) || *number > kMost) return refuse_value(*entry, "a whole number");
    count = static_cast<int>(*number);
  }
  void read(double& value, std::string_view name) {
    if (const FlatEntry* entry = need(name)) value = positive(*entry).value_or(0.0);
  }
  void read(Date& date, std::string_view name) {
    const FlatEntry* entry = need(name);
    if (entry == nullptr) return;
    const std::optional<Date> read = parse_date(entry->value);
    if (!read) return refuse_value(*entry, "\"YYYY-MM-DD\"");
    date = *read;
  }
  template <Named E>
  void read(E& choice, std::string_view name) {
    const FlatEntry* entry = need(name);
    if (entry == nullptr) return;
    const std::optional<E> read = named<E>(entry->value);
    if (!read) return refuse_value(*entry, written_names<E>());
    choice = *read;
  }
  template <Named E>
  void read(std::vector<E>& choices, std::string_view name) {
    const FlatEntry* entry = need(name);
    if (entry == nullptr) return;
    for (std::string_view rest = entry->value; !rest.empty();) {
      const std::size_t end = std::min(rest.find(' '), rest.size());
      const std::optional<E> read = named<E>(rest.substr(0, end));
      if (!read) return refuse_value(*entry, written_names<E>());
      choices.push_back(*read);
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    if (choices.empty()) refuse_value(*entry, written_names<E>());
  }
  template <Named E>
  static std::string written_names() {
    std::string all;
    for (const auto& [value, name] : Names<E>::all) all += (all.empty() ? "" : " ") + std::string(name);
    return all;
  }

  template <Amount T>
  std::optional<T> take_amount(std::string_view name, std::string_view origin) {
    std::optional<T> amount;
    for (const Unit<T>& unit : kUnits<T>) {
      if (amount) break;  // said twice, in two units: the second stays untaken and is told
      if (const FlatEntry* entry = take(std::string(name).append(origin).append(unit.suffix)))
        amount = positive(*entry).value_or(1.0) * unit.unit;
    }
    return amount;
  }
  template <Amount T>
  std::optional<T> take_value(std::string_view name, const T*) {
    return take_amount<T>(name, {});
  }
  template <class Q, class Origin>
  std::optional<Point<Q, Origin>> take_value(std::string_view name, const Point<Q, Origin>*) {
    const std::optional<Q> amount = take_amount<Q>(name, kOrigin<Point<Q, Origin>>);
    if (!amount) return std::nullopt;
    return Point<Q, Origin>::at(*amount);
  }
  template <class T>
  void read(std::optional<T>& value, std::string_view name) {
    value = take_value(name, static_cast<const T*>(nullptr));
  }
  template <class T>
  requires(Amount<T> || requires { typename T::Amount; }) void read(T& value, std::string_view name) {
    const std::optional<T> read = take_value(name, static_cast<const T*>(nullptr));
    if (!read) return missing(std::string(name) + ", with a unit in its name");
    value = *read;
  }

  std::string name_;
  std::string file_;
  std::vector<Used> entries_;
  std::vector<std::string> known_;
  std::vector<Issue> issues_;
};

std::vector<Table> tables_of(const std::vector<FlatEntry>& entries, std::string_view file) {
  std::vector<Table> tables;
  for (const FlatEntry& entry : entries) {
    const std::size_t dot = entry.key.rfind('.');
    const std::string name = dot == std::string::npos ? std::string{} : entry.key.substr(0, dot);
    auto table = std::find_if(tables.begin(), tables.end(), [&](const Table& t) { return t.name() == name; });
    if (table == tables.end()) table = tables.insert(tables.end(), Table{name, std::string(file)});
    table->add(entry);
  }
  std::stable_sort(tables.begin(), tables.end(),
                   [](const Table& a, const Table& b) { return a.first_line() < b.first_line(); });
  return tables;
}

// "oxygen" for the one rule of that name, "vfr.anything" for one of several.
template <class T>
bool belongs(const std::optional<T>*, std::string_view name, std::string_view table) {
  return table == name;
}
template <class T>
bool belongs(const std::vector<T>*, std::string_view name, std::string_view table) {
  return table.size() > name.size() + 1 && table.substr(0, name.size()) == name && table[name.size()] == '.';
}
template <class T>
void keep(std::optional<T>& rules, Table& table) {
  rules = table.read<T>();
}
template <class T>
void keep(std::vector<T>& rules, Table& table) {
  if (std::optional<T> rule = table.read<T>()) rules.push_back(*std::move(rule));
}

}  // namespace

Parsed<Set> read_rules(Which which, std::string_view toml, std::string_view file) {
  Parsed<std::vector<FlatEntry>> flat = read_flat_toml(toml, file);
  Parsed<Set> parsed{Set{}, std::move(flat.issues)};
  Set& set = *parsed.value;
  set.which = which;
  std::vector<std::string_view> known;
  for_each_field<Set>([&](const auto& field) { known.push_back(field.name); });
  for (Table& table : tables_of(*flat.value, file)) {
    bool found = false;
    for_each_field<Set>([&](const auto& field) {
      auto& rules = set.*field.member;
      if (!belongs(&rules, field.name, table.name())) return;
      found = true;
      keep(rules, table);
    });
    if (!found) table.refuse_table(known);
    std::move(table.issues().begin(), table.issues().end(), std::back_inserter(parsed.issues));
  }
  return parsed;
}

}  // namespace pappus::rules
