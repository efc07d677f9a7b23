/// JSON and JSON Schema from the one description of each struct (core/base/describe.hpp).
///
///     to_json(limit, reader)          {"name": "surface_wind", "state": "near", ..., "age_s": 600, ...}
///     json_schema_of<sheet::Limit>()  what such a text may look like, for programs and for the manual
///
/// A key is the described name and the SI unit that its type brings along, so that name and unit can't disagree:
///
/// | type                                      | suffix of the key          | written as                                            |
/// |-------------------------------------------|----------------------------|-------------------------------------------------------|
/// | bool, whole numbers, double, std::string  |                            | themselves                                            |
/// | Length, Area, Volume                      | _m, _m2, _m3               | a number, as all below                                |
/// | Mass, MassFlow, Density                   | _kg, _kg_s, _kg_m3         |                                                       |
/// | Duration, Speed                           | _s, _m_s                   |                                                       |
/// | Pressure, GaugePressure, HeatFlux         | _pa, _pa, _w_m2            |                                                       |
/// | Energy, Power, SpecificEnergy             | _j, _w, _j_kg              |                                                       |
/// | Temperature, TemperatureDelta, LapseRate  | _k, _k, _k_m               |                                                       |
/// | AltitudeAmsl, HeightAgl                   | _amsl_m, _agl_m            |                                                       |
/// | Pressure-, Density-, GeopotentialAltitude | _m                         |                                                       |
/// | Angle, TrueBearing, MagneticBearing       | _deg, _true_deg, _mag_deg  |                                                       |
/// | an enumeration with Names                 |                            | its name                                              |
/// | Moment, Instant, Date                     |                            | ISO 8601: with its offset, with Z, 2027-05-16         |
/// | Sentence                                  |                            | in the reader's words                                 |
/// | Measure                                   |                            | {si, unit, kind}                                      |
/// | Position                                  |                            | {latitude_deg, longitude_deg}                         |
/// | Issue                                     |                            | {code, file, line, column, key, message, got, wanted} |
/// | a described struct                        |                            | an object                                             |
/// | std::optional<T>                          | of T                       | T or null                                             |
/// | std::vector<T>                            | of T                       | an array                                              |
///
/// A GaugePressure's field says so itself ("gauge_pressure"), and a PressureAltitude's likewise: one suffix, two
/// meanings. A field with the empty name "" has its members merged into the struct around it.
/// Another type joins by specialising JsonType.
/// Errors    std::logic_error for a number that is not finite, an enumerator without a name, one key twice in a struct,
///           or two structs of one name: our own mistakes.
#pragma once
#include <concepts>
#include <cstdint>
#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "core/base/angle.hpp"
#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/measure.hpp"
#include "core/base/position.hpp"
#include "core/base/quantity.hpp"
#include "core/base/sentence.hpp"
#include "formats/text/json/json_sink.hpp"
#include "words/words.hpp"

namespace pappus::json {

/// Writes a JSON Schema and remembers which structs it has referred to.
class SchemaSink {
 public:
  /// Writes the keywords of a struct's own schema; its object is open.
  using WriteDefinition = void (*)(SchemaSink&);

  JsonSink& out() { return out_; }
  void type(std::string_view name) { out_.entry("type", name); }
  /// "$ref" to the struct `name`, which `write` can define.
  void refer(std::string_view name, WriteDefinition write);
  /// The properties of one object: begin, any number of `property` (value's object open until the next call), end.
  void begin_properties();
  /// The object of the key's schema is opened, and closed by the next property or the end.
  void property(std::string_view key, std::string_view doc);
  void end_properties();
  /// The whole document, whose root is the struct `name`.
  [[nodiscard]] static std::string document(std::string_view name, WriteDefinition write);

 private:
  struct Definition {
    std::string_view name;
    WriteDefinition write;
  };
  JsonSink out_{Layout::indented};
  std::vector<Definition> definitions_;
  std::vector<std::string> keys_;  // of the struct being defined
};

/// How a type is written. A specialisation has
///     static constexpr std::string_view suffix;                          // of keys
///     static void write(JsonSink&, const T&, const words::Reader&);      // one value
///     static void schema(SchemaSink&);                                   // keywords; the object is open
/// and, where it is an object whose members may be merged into another,
///     static void write_members(JsonSink&, const T&, const words::Reader&);
///     static void schema_members(SchemaSink&);                           // calls `property` for each
template <class T>
struct JsonType;

template <class T>
concept JsonObject = requires(SchemaSink& sink) {
  JsonType<T>::schema_members(sink);
};

/// What a key of this type ends in: "_kg", "_true_deg", "".
template <class T>
inline constexpr std::string_view key_suffix = JsonType<T>::suffix;

/// `value` as JSON; sentences in the reader's language and units, everything else in SI whoever reads.
template <Described T>
[[nodiscard]] std::string to_json(const T& value, const words::Reader& reader, Layout layout = Layout::indented) {
  JsonSink sink{layout};
  JsonType<T>::write(sink, value, reader);
  return sink.finish();
}

/// JSON Schema 2020-12 of what to_json writes: every key required, no other allowed, each with its description.
template <Described T>
[[nodiscard]] std::string json_schema_of() {
  return SchemaSink::document(Description<T>::name, &JsonType<T>::define);
}

namespace detail {

/// How a physical amount is written; no value where T is none.
template <class T>
inline constexpr std::string_view si_suffix{};
template <>
inline constexpr std::string_view si_suffix<Length> = "_m";
template <>
inline constexpr std::string_view si_suffix<Area> = "_m2";
template <>
inline constexpr std::string_view si_suffix<Volume> = "_m3";
template <>
inline constexpr std::string_view si_suffix<Mass> = "_kg";
template <>
inline constexpr std::string_view si_suffix<Duration> = "_s";
template <>
inline constexpr std::string_view si_suffix<TemperatureDelta> = "_k";
template <>
inline constexpr std::string_view si_suffix<Speed> = "_m_s";
template <>
inline constexpr std::string_view si_suffix<Density> = "_kg_m3";
template <>
inline constexpr std::string_view si_suffix<Pressure> = "_pa";
template <>
inline constexpr std::string_view si_suffix<Energy> = "_j";
template <>
inline constexpr std::string_view si_suffix<Power> = "_w";
template <>
inline constexpr std::string_view si_suffix<MassFlow> = "_kg_s";
template <>
inline constexpr std::string_view si_suffix<SpecificEnergy> = "_j_kg";
template <>
inline constexpr std::string_view si_suffix<HeatFlux> = "_w_m2";
template <>
inline constexpr std::string_view si_suffix<LapseRate> = "_k_m";
template <>
inline constexpr std::string_view si_suffix<AltitudeAmsl> = "_amsl_m";
template <>
inline constexpr std::string_view si_suffix<HeightAgl> = "_agl_m";
template <>
inline constexpr std::string_view si_suffix<PressureAltitude> = "_m";
template <>
inline constexpr std::string_view si_suffix<DensityAltitude> = "_m";
template <>
inline constexpr std::string_view si_suffix<GeopotentialAltitude> = "_m";
template <>
inline constexpr std::string_view si_suffix<Temperature> = "_k";
template <>
inline constexpr std::string_view si_suffix<GaugePressure> = "_pa";
template <>
inline constexpr std::string_view si_suffix<Angle> = "_deg";
template <>
inline constexpr std::string_view si_suffix<TrueBearing> = "_true_deg";
template <>
inline constexpr std::string_view si_suffix<MagneticBearing> = "_mag_deg";

template <class T>
concept Amount = !si_suffix<T>.empty();

template <int M, int Kg, int S, int K>
double si(Quantity<M, Kg, S, K> q) {
  return q.in(si_unit<M, Kg, S, K>);
}
template <class Q, class Origin>
double si(Point<Q, Origin> p) {
  return si(p.from_origin());
}
inline double si(Angle a) { return a.in(degree); }
template <class North>
double si(Bearing<North> b) {
  return b.from_north().in(degree);
}

template <class T>
concept Whole = std::integral<T> && !std::same_as<T, bool> && !std::same_as<T, char>;

/// What objects have in common: a value is its members in braces, a schema a reference to its definition.
template <class T>
struct ObjectType {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, const T& value, const words::Reader& reader) {
    sink.begin_object();
    JsonType<T>::write_members(sink, value, reader);
    sink.end_object();
  }
  static void schema(SchemaSink& sink) { sink.refer(JsonType<T>::name(), &define); }
  static void define(SchemaSink& sink) {
    sink.type("object");
    sink.begin_properties();
    JsonType<T>::schema_members(sink);
    sink.end_properties();
  }
};

}  // namespace detail

template <detail::Amount T>
struct JsonType<T> {
  static constexpr std::string_view suffix = detail::si_suffix<T>;
  static void write(JsonSink& sink, const T& value, const words::Reader&) { sink.number(detail::si(value)); }
  static void schema(SchemaSink& sink) { sink.type("number"); }
};

template <>
struct JsonType<bool> {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, bool value, const words::Reader&) { sink.boolean(value); }
  static void schema(SchemaSink& sink) { sink.type("boolean"); }
};

template <detail::Whole T>
struct JsonType<T> {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, T value, const words::Reader&) { sink.whole(static_cast<std::int64_t>(value)); }
  static void schema(SchemaSink& sink) { sink.type("integer"); }
};

template <>
struct JsonType<double> {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, double value, const words::Reader&) { sink.number(value); }
  static void schema(SchemaSink& sink) { sink.type("number"); }
};

template <class T>
requires std::same_as<T, std::string> || std::same_as<T, std::string_view>
struct JsonType<T> {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, std::string_view value, const words::Reader&) { sink.text(value); }
  static void schema(SchemaSink& sink) { sink.type("string"); }
};

template <>
struct JsonType<Sentence> {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, const Sentence& value, const words::Reader& reader) {
    sink.text(words::worded(value, reader));
  }
  static void schema(SchemaSink& sink) { sink.type("string"); }
};

template <class T>
requires std::same_as<T, Moment> || std::same_as<T, Instant> || std::same_as<T, Date>
struct JsonType<T> {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, const T& value, const words::Reader&) {
    if constexpr (std::same_as<T, Instant>)
      sink.text(iso8601_utc(value));
    else
      sink.text(iso8601(value));
  }
  static void schema(SchemaSink& sink) {
    sink.type("string");
    sink.out().entry("format", std::same_as<T, Date> ? "date" : "date-time");
  }
};

template <Named E>
struct JsonType<E> {
  static constexpr std::string_view suffix{};
  static void write(JsonSink& sink, E value, const words::Reader&) {
    const std::string_view name = name_of(value);
    if (name.empty()) throw std::logic_error("JSON: an enumerator has no name");
    sink.text(name);
  }
  static void schema(SchemaSink& sink) {
    sink.type("string");
    sink.out().key("enum");
    sink.out().begin_array();
    for (const auto& named : Names<E>::all) sink.out().text(named.second);
    sink.out().end_array();
  }
};

template <class T>
struct JsonType<std::optional<T>> {
  static constexpr std::string_view suffix = key_suffix<T>;
  static void write(JsonSink& sink, const std::optional<T>& value, const words::Reader& reader) {
    if (value)
      JsonType<T>::write(sink, *value, reader);
    else
      sink.null();
  }
  static void schema(SchemaSink& sink) {
    JsonSink& out = sink.out();
    out.key("anyOf");
    out.begin_array();
    out.begin_object();
    JsonType<T>::schema(sink);
    out.end_object();
    out.begin_object();
    sink.type("null");
    out.end_object();
    out.end_array();
  }
};

template <class T>
struct JsonType<std::vector<T>> {
  static constexpr std::string_view suffix = key_suffix<T>;
  static void write(JsonSink& sink, const std::vector<T>& value, const words::Reader& reader) {
    sink.begin_array();
    for (const auto& item : value) JsonType<T>::write(sink, item, reader);
    sink.end_array();
  }
  static void schema(SchemaSink& sink) {
    sink.type("array");
    sink.out().key("items");
    sink.out().begin_object();
    JsonType<T>::schema(sink);
    sink.out().end_object();
  }
};

template <>
struct JsonType<Measure> : detail::ObjectType<Measure> {
  static constexpr std::string_view name() { return "Measure"; }
  static void write_members(JsonSink& sink, Measure value, const words::Reader& reader);
  static void schema_members(SchemaSink& sink);
};

template <>
struct JsonType<Position> : detail::ObjectType<Position> {
  static constexpr std::string_view name() { return "Position"; }
  static void write_members(JsonSink& sink, Position value, const words::Reader& reader);
  static void schema_members(SchemaSink& sink);
};

template <>
struct JsonType<Issue> : detail::ObjectType<Issue> {
  static constexpr std::string_view name() { return "Issue"; }
  static void write_members(JsonSink& sink, const Issue& value, const words::Reader& reader);
  static void schema_members(SchemaSink& sink);
};

template <Described T>
struct JsonType<T> : detail::ObjectType<T> {
  static constexpr std::string_view name() { return Description<T>::name; }

  static void write_members(JsonSink& sink, const T& value, const words::Reader& reader) {
    for_each_field<T>([&](const auto& field) {
      using Member = std::remove_cvref_t<decltype(value.*field.member)>;
      if (is_merged<Member>(field.name)) {
        if constexpr (JsonObject<Member>) JsonType<Member>::write_members(sink, value.*field.member, reader);
      } else {
        sink.key(std::string(field.name).append(key_suffix<Member>));
        JsonType<Member>::write(sink, value.*field.member, reader);
      }
    });
  }

  static void schema_members(SchemaSink& sink) {
    for_each_field<T>([&](const auto& field) {
      using Member = std::remove_cvref_t<decltype(std::declval<const T&>().*field.member)>;
      if (is_merged<Member>(field.name)) {
        if constexpr (JsonObject<Member>) JsonType<Member>::schema_members(sink);
      } else {
        sink.property(std::string(field.name).append(key_suffix<Member>), field.doc);
        JsonType<Member>::schema(sink);
      }
    });
  }

 private:
  template <class Member>
  static bool is_merged(std::string_view name) {
    if (!name.empty()) return false;
    if (!JsonObject<Member>) throw std::logic_error("JSON: only an object can be merged into another");
    return true;
  }
};

}  // namespace pappus::json
