#include "formats/text/json/json_out.hpp"

#include <algorithm>

namespace pappus::json {
namespace {

/// The SI units in which a Measure can be written, each once, in the order of MeasureKind.
std::vector<std::string_view> measure_units() {
  std::vector<std::string_view> units;
  for (int kind = 0; kind <= static_cast<int>(MeasureKind::specific_energy); ++kind) {
    const std::string_view unit = si_unit_name(static_cast<MeasureKind>(kind));
    if (std::find(units.begin(), units.end(), unit) == units.end()) units.push_back(unit);
  }
  return units;
}

/// The codes of issues, as name_of(Errc) writes them.
std::vector<std::string_view> codes() {
  std::vector<std::string_view> names;
  for (int code = 0; code <= static_cast<int>(Errc::cancelled); ++code)
    names.push_back(name_of(static_cast<Errc>(code)));
  return names;
}

void write_enum(SchemaSink& sink, const std::vector<std::string_view>& names) {
  sink.type("string");
  sink.out().key("enum");
  sink.out().begin_array();
  for (const std::string_view name : names) sink.out().text(name);
  sink.out().end_array();
}

}  // namespace

void SchemaSink::refer(std::string_view name, WriteDefinition write) {
  out_.entry("$ref", "#/$defs/" + std::string(name));
  const auto known = std::find_if(definitions_.begin(), definitions_.end(),
                                  [&](const Definition& definition) { return definition.name == name; });
  if (known == definitions_.end())
    definitions_.push_back({name, write});
  else if (known->write != write)
    throw std::logic_error("JSON: two structs are described as " + std::string(name));
}

void SchemaSink::begin_properties() {
  keys_.clear();
  out_.key("properties");
  out_.begin_object();
}

void SchemaSink::property(std::string_view key, std::string_view doc) {
  if (std::find(keys_.begin(), keys_.end(), key) != keys_.end())
    throw std::logic_error("JSON: a struct has the key \"" + std::string(key) + "\" twice");
  if (!keys_.empty()) out_.end_object();
  keys_.emplace_back(key);
  out_.key(key);
  out_.begin_object();
  out_.entry("description", doc);
}

void SchemaSink::end_properties() {
  if (!keys_.empty()) out_.end_object();
  out_.end_object();
  out_.key("required");
  out_.begin_array();
  for (const std::string& key : keys_) out_.text(key);
  out_.end_array();
  out_.key("additionalProperties");
  out_.boolean(false);
}

std::string SchemaSink::document(std::string_view name, WriteDefinition write) {
  SchemaSink sink;
  JsonSink& out = sink.out_;
  out.begin_object();
  out.entry("$schema", "https://json-schema.org/draft/2020-12/schema");
  sink.refer(name, write);
  out.key("$defs");
  out.begin_object();
  for (std::size_t i = 0; i < sink.definitions_.size(); ++i) {  // grows while it is walked
    const Definition definition = sink.definitions_[i];
    out.key(definition.name);
    out.begin_object();
    definition.write(sink);
    out.end_object();
  }
  out.end_object();
  out.end_object();
  return out.finish();
}

void JsonType<Measure>::write_members(JsonSink& sink, Measure value, const words::Reader&) {
  sink.key("si");
  sink.number(value.si);
  sink.entry("unit", si_unit_name(value.kind));
  sink.entry("kind", name_of(value.kind));
}

void JsonType<Measure>::schema_members(SchemaSink& sink) {
  sink.property("si", "the amount, counted in `unit`");
  sink.type("number");
  sink.property("unit", "the SI unit, or deg; a temperature counts from absolute zero");
  write_enum(sink, measure_units());
  sink.property("kind", "what sort of amount: metres may be a height, an altitude or a distance");
  JsonType<MeasureKind>::schema(sink);
}

void JsonType<Position>::write_members(JsonSink& sink, Position value, const words::Reader&) {
  sink.key("latitude_deg");
  sink.number(value.latitude().in(degree));
  sink.key("longitude_deg");
  sink.number(value.longitude().in(degree));
}

void JsonType<Position>::schema_members(SchemaSink& sink) {
  sink.property("latitude_deg", "WGS 84, north positive");
  sink.type("number");
  sink.property("longitude_deg", "WGS 84, east positive");
  sink.type("number");
}

void JsonType<Issue>::write_members(JsonSink& sink, const Issue& value, const words::Reader& reader) {
  sink.entry("code", name_of(value.code));
  sink.entry("file", value.where.file);
  sink.key("line");
  sink.whole(value.where.line);
  sink.key("column");
  sink.whole(value.where.column);
  sink.entry("key", value.where.key);
  sink.entry("message", words::worded(value.sentence, reader));
  sink.entry("got", value.got);
  sink.entry("wanted", value.wanted);
}

void JsonType<Issue>::schema_members(SchemaSink& sink) {
  sink.property("code", "what sort of thing is wrong");
  write_enum(sink, codes());
  sink.property("file", "the input in which it stands; empty where it stands in none");
  sink.type("string");
  sink.property("line", "counted from 1; 0 is not known");
  sink.type("integer");
  sink.property("column", "counted from 1; 0 is not known");
  sink.type("integer");
  sink.property("key", "which value of the input");
  sink.type("string");
  sink.property("message", "what is wrong, in words");
  sink.type("string");
  sink.property("got", "the value found, as written");
  sink.type("string");
  sink.property("wanted", "what would be right");
  sink.type("string");
}

}  // namespace pappus::json
