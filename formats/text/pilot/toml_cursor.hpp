/// A cursor over a TOML document that hands out typed values and remembers everything that is wrong with it.
///
/// A reader asks for what it knows, in any order, and goes on where something is wrong; `finish` then tells every
/// missing, wrong and unknown key at once, in the order of the file:
///
///     TomlDocument document{toml, "balloon.toml"};
///     const Table basket = document.root().table("basket");
///     basket.need("mass", out.mass, {"issue.basket_mass", "10kg", "500kg"});
///     basket.may("people", out.people, {"issue.basket_people", "1", "40"});
///     std::vector<Issue> issues = document.finish();
///
/// Keys in issues count from 1: "cylinder[1].tare" is the first cylinder's. Keys handed in must outlive the document
/// (string literals do). Tables and values are handles into the document and must not outlive it.
#pragma once
#include <cstddef>
#include <deque>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/balloon/balloon.hpp"
#include "core/base/describe.hpp"
#include "core/base/issue.hpp"
#include "core/base/nearest.hpp"
#include "formats/text/pilot/toml_tree.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::text {

/// What a value has to keep: which issue says that it does not, and its inclusive bounds as they would be written in
/// the file. A rule without bounds serves a value that is a word of a list.
struct Rule {
  std::string_view issue = "issue.value_kind";
  std::string_view low = {}, high = {};
};

class TomlDocument;
struct TableRecord;

/// One value in the document. A reading function gives none after it has told what is wrong.
class Value {
 public:
  Value(TomlDocument* document, const TomlNode* node, std::string path)
      : document_{document}, node_{node}, path_{std::move(path)} {}

  [[nodiscard]] const TomlNode& node() const { return *node_; }
  [[nodiscard]] Where where() const;
  /// The value as it stands in the file.
  [[nodiscard]] std::string written() const;

  /// A quantity with its unit, in SI.
  [[nodiscard]] std::optional<double> quantity(Dimension dimension, const Rule& rule) const;
  /// As above, where the key itself names the unit of a bare number.
  [[nodiscard]] std::optional<double> quantity_or_bare(Dimension dimension, std::string_view unit,
                                                       const Rule& rule) const;
  /// A text that is not blank.
  [[nodiscard]] std::optional<std::string> words() const;
  [[nodiscard]] std::optional<int> count(const Rule& rule) const;
  [[nodiscard]] std::optional<bool> truth() const;
  [[nodiscard]] std::optional<Date> date() const;
  [[nodiscard]] std::optional<balloon::Month> month() const;
  [[nodiscard]] std::optional<Moment> moment() const;
  /// The index in `names` of the word found.
  [[nodiscard]] std::optional<std::size_t> choice(const std::vector<std::string_view>& names, const Rule& rule) const;
  /// The items of a list.
  [[nodiscard]] std::optional<std::vector<Value>> items(std::string_view wanted) const;

  /// Tells that this value is wrong.
  void refuse(Errc code, std::string_view issue, std::string wanted) const;
  /// Tells what another reader found wrong with it.
  void refuse(Issue issue) const;

 private:
  void other_kind(std::string wanted) const;
  [[nodiscard]] bool keeps(double si, Dimension dimension, const Rule& rule) const;

  TomlDocument* document_;
  const TomlNode* node_;
  std::string path_;
};

/// How a T is written in a file: `wanted()` says it, `read(value, rule)` reads it.
template <class T>
struct Written;

/// One table of the document, or the place where it would stand.
class Table {
 public:
  Table(TomlDocument* document, TableRecord* record) : document_{document}, record_{record} {}

  /// Reads `key` into `out`; its absence is told. True if `out` has been set.
  template <class T>
  bool need(std::string_view key, T& out, const Rule& rule = {}) const {
    const std::optional<Value> value = find(key);
    if (!value) {
      missing(key, Written<T>::wanted());
      return false;
    }
    return read(*value, out, rule);
  }
  /// Reads `key` into `out` if it is there; otherwise `out` keeps what it holds. True if `out` has been set.
  template <class T>
  bool may(std::string_view key, T& out, const Rule& rule = {}) const {
    const std::optional<Value> value = find(key);
    return value && read(*value, out, rule);
  }
  template <class T>
  bool may(std::string_view key, std::optional<T>& out, const Rule& rule = {}) const {
    T found{};
    if (!may(key, found, rule)) return false;
    out = found;
    return true;
  }

  /// The value at `key`, whatever it is.
  [[nodiscard]] std::optional<Value> find(std::string_view key) const;
  /// The table at `key`. Where there is none, keys needed in it are told as missing.
  [[nodiscard]] Table table(std::string_view key) const;
  /// The tables of a list: [[key]], written once or more.
  [[nodiscard]] std::vector<Table> tables(std::string_view key) const;
  /// As above; that there is none is told.
  [[nodiscard]] std::vector<Table> need_tables(std::string_view key, std::string wanted) const;

  /// Where `key` stands; where it is absent, where its table does.
  [[nodiscard]] Where where(std::string_view key) const;
  /// Tells that `key`, if it is there, or else its table, breaks a rule.
  void refuse(std::string_view key, Errc code, std::string_view issue, std::string wanted) const;
  void missing(std::string_view key, std::string wanted) const;

 private:
  template <class T>
  static bool read(const Value& value, T& out, const Rule& rule) {
    const std::optional<T> found = Written<T>::read(value, rule);
    if (found) out = *found;
    return found.has_value();
  }

  TomlDocument* document_;
  TableRecord* record_;
};

/// A table that was asked for, and for what.
struct TableRecord {
  const TomlNode* node = nullptr;  // null where there is no such table
  std::string path;
  int line = 1, column = 1;
  std::vector<std::string_view> asked;
  bool is_of_other_kind = false;  // something else stands there, and that has been told
};

class TomlDocument {
 public:
  /// Both texts must outlive the document.
  TomlDocument(std::string_view toml, std::string_view file);
  TomlDocument(const TomlDocument&) = delete;
  TomlDocument& operator=(const TomlDocument&) = delete;

  /// False after a fault of the syntax: then that is the only issue and the root is empty.
  [[nodiscard]] bool is_readable() const { return readable_; }
  [[nodiscard]] Table root() { return Table{this, &records_.front()}; }
  /// All that was found wrong, with the keys that nobody asked for, in the order of the file; then what was told of
  /// other files.
  [[nodiscard]] std::vector<Issue> finish();

  void tell(Issue issue) { issues_.push_back(std::move(issue)); }
  [[nodiscard]] const std::string& file() const { return file_; }
  /// The text of a span of one line; empty for others, and in a line too long for a person.
  [[nodiscard]] std::string_view source(const TomlSpan& span) const;
  /// From a place to the end of its line; empty where there is no such place, and in a line too long for a person.
  [[nodiscard]] std::string_view rest_of_line(int line, int column) const;
  TableRecord* record(TableRecord r);

 private:
  // Every key that was asked for, and the path of the first table in which it was.
  using KeyHomes = std::map<std::string_view, std::string>;
  void tell_unknown(const TableRecord& record, const KeyHomes& homes);

  std::string_view toml_;
  std::string file_;
  TomlNode root_;
  bool readable_ = false;
  std::vector<std::size_t> line_starts_;
  std::deque<TableRecord> records_;  // a deque, as tables point into it
  std::vector<Issue> issues_;
};

template <class T, Dimension D>
struct WrittenQuantity {
  static std::string wanted() { return wanted_for(D); }
  static std::optional<T> read(const Value& value, const Rule& rule) {
    const auto si = value.quantity(D, rule);
    if (!si) return std::nullopt;
    if constexpr (requires { T::from_si(*si); })
      return T::from_si(*si);
    else
      return T::at(T::Amount::from_si(*si));
  }
};
template <>
struct Written<Volume> : WrittenQuantity<Volume, Dimension::volume> {};
template <>
struct Written<Mass> : WrittenQuantity<Mass, Dimension::mass> {};
template <>
struct Written<Speed> : WrittenQuantity<Speed, Dimension::speed> {};
template <>
struct Written<Duration> : WrittenQuantity<Duration, Dimension::duration> {};
template <>
struct Written<Power> : WrittenQuantity<Power, Dimension::power> {};
template <>
struct Written<Pressure> : WrittenQuantity<Pressure, Dimension::air_pressure> {};
template <>
struct Written<GaugePressure> : WrittenQuantity<GaugePressure, Dimension::fuel_pressure> {};
template <>
struct Written<Temperature> : WrittenQuantity<Temperature, Dimension::temperature> {};
template <>
struct Written<HeightAgl> : WrittenQuantity<HeightAgl, Dimension::altitude> {};
template <>
struct Written<AltitudeAmsl> : WrittenQuantity<AltitudeAmsl, Dimension::altitude> {};
/// A plain double is a fraction, written in per cent.
template <>
struct Written<double> {
  static std::string wanted() { return wanted_for(Dimension::percent); }
  static std::optional<double> read(const Value& value, const Rule& rule) {
    return value.quantity(Dimension::percent, rule);
  }
};

inline constexpr std::string_view kWantedWords = "a text in quotes";
inline constexpr std::string_view kWantedCount = "a whole number without quotes";
inline constexpr std::string_view kWantedTruth = "true or false, without quotes";
inline constexpr std::string_view kWantedDate = "a date, such as 2027-05-16";
inline constexpr std::string_view kWantedMonth = "a year and a month, such as \"2030-03\"";
inline constexpr std::string_view kWantedMoment = "a time with its offset, such as 2027-05-16T05:10:00-09:00";

template <>
struct Written<std::string> {
  static std::string wanted() { return std::string(kWantedWords); }
  static std::optional<std::string> read(const Value& value, const Rule& /*unused*/) { return value.words(); }
};
template <>
struct Written<int> {
  static std::string wanted() { return std::string(kWantedCount); }
  static std::optional<int> read(const Value& value, const Rule& rule) { return value.count(rule); }
};
template <>
struct Written<bool> {
  static std::string wanted() { return std::string(kWantedTruth); }
  static std::optional<bool> read(const Value& value, const Rule& /*unused*/) { return value.truth(); }
};
template <>
struct Written<Date> {
  static std::string wanted() { return std::string(kWantedDate); }
  static std::optional<Date> read(const Value& value, const Rule& /*unused*/) { return value.date(); }
};
template <>
struct Written<balloon::Month> {
  static std::string wanted() { return std::string(kWantedMonth); }
  static std::optional<balloon::Month> read(const Value& value, const Rule& /*unused*/) { return value.month(); }
};
template <>
struct Written<Moment> {
  static std::string wanted() { return std::string(kWantedMoment); }
  static std::optional<Moment> read(const Value& value, const Rule& /*unused*/) { return value.moment(); }
};

/// "one of vapour, liquid"
std::string one_of(const std::vector<std::string_view>& names);

template <Named E>
struct Written<E> {
  static std::vector<std::string_view> names() {
    std::vector<std::string_view> out;
    for (const auto& entry : Names<E>::all) out.push_back(entry.second);
    return out;
  }
  static std::string wanted() { return one_of(names()); }
  static std::optional<E> read(const Value& value, const Rule& rule) {
    const auto index = value.choice(names(), rule);
    if (!index) return std::nullopt;
    return Names<E>::all[*index].first;
  }
};

}  // namespace pappus::text
