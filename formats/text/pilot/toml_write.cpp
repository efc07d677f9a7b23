#include "formats/text/pilot/toml_write.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <utility>

namespace pappus::text {
namespace {

constexpr std::string_view kNoCharacter = "\xef\xbf\xbd";  // U+FFFD

// The bytes of the UTF-8 character at the front of `s`; 0 where there is none.
std::size_t character_length(std::string_view s) {
  const auto byte = [&](std::size_t i) { return i < s.size() ? static_cast<unsigned char>(s[i]) : 0u; };
  const auto continues = [&](std::size_t i) { return (byte(i) & 0xC0u) == 0x80u; };
  const unsigned lead = byte(0);
  if (lead < 0x80u) return 1;
  if (lead >= 0xC2u && lead < 0xE0u) return continues(1) ? 2 : 0;
  if (lead >= 0xE0u && lead < 0xF0u) {
    const bool overlong = lead == 0xE0u && byte(1) < 0xA0u, surrogate = lead == 0xEDu && byte(1) >= 0xA0u;
    return continues(1) && continues(2) && !overlong && !surrogate ? 3 : 0;
  }
  if (lead >= 0xF0u && lead < 0xF5u) {
    const bool overlong = lead == 0xF0u && byte(1) < 0x90u, beyond = lead == 0xF4u && byte(1) >= 0x90u;
    return continues(1) && continues(2) && continues(3) && !overlong && !beyond ? 4 : 0;
  }
  return 0;
}

void append_escaped(std::string& out, char c) {
  switch (c) {
    case '"': out += "\\\""; return;
    case '\\': out += "\\\\"; return;
    case '\n': out += "\\n"; return;
    case '\r': out += "\\r"; return;
    case '\t': out += "\\t"; return;
    default: break;
  }
  const auto byte = static_cast<unsigned char>(c);
  if (byte >= 0x20u && byte != 0x7Fu) {
    out += c;
    return;
  }
  char code[8];
  std::snprintf(code, sizeof code, "\\u%04X", static_cast<unsigned>(byte));
  out += code;
}

bool is_bare_key(std::string_view key) {
  return !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
  });
}
std::string key_text(std::string_view key) {
  if (is_bare_key(key)) return std::string(key);
  // A key has no form of several lines.
  std::string out = "\"";
  for (const char c : key) append_escaped(out, c);
  return out + "\"";
}

std::string joined(std::string_view path, std::string_view key) {
  return path.empty() ? key_text(key) : std::string(path) + "." + key_text(key);
}

bool is_table(const TomlNode& node) { return node.kind == TomlKind::table; }

struct UnitsOf {
  Dimension dimension;
  std::array<std::string_view, 4> us, metric;  // in the order of liking; the rest is empty
};
// Units in which a pilot's files are written; g, Pa and their like are read, but nobody means them.
constexpr std::array<UnitsOf, 13> kLiked{{
    {Dimension::length, {"ft", "m"}, {"m", "ft"}},
    {Dimension::altitude, {"ft", "m"}, {"m", "ft"}},
    {Dimension::distance, {"mi", "km", "m", "ft"}, {"km", "m", "mi", "ft"}},
    {Dimension::mass, {"lb", "kg"}, {"kg", "lb"}},
    {Dimension::volume, {"gal", "ft3", "L", "m3"}, {"L", "m3", "gal", "ft3"}},
    {Dimension::speed, {"kt", "mph", "m/s", "km/h"}, {"kt", "m/s", "km/h", "mph"}},
    {Dimension::air_pressure, {"inHg", "hPa"}, {"hPa", "inHg"}},
    {Dimension::fuel_pressure, {"psi", "bar"}, {"bar", "psi"}},
    {Dimension::temperature, {"F", "C"}, {"C", "F"}},
    {Dimension::temperature_delta, {"K"}, {"K"}},
    {Dimension::duration, {"min", "h", "s"}, {"min", "h", "s"}},
    {Dimension::power, {"MW", "BTU/h"}, {"MW", "BTU/h"}},
    {Dimension::percent, {"%"}, {"%"}},
}};

}  // namespace

std::string toml_text(std::string_view words) {
  const bool lines = words.find('\n') != std::string_view::npos;
  std::string out = lines ? "\"\"\"\n" : "\"";
  while (!words.empty()) {
    const std::size_t length = character_length(words);
    if (length == 0)
      out += kNoCharacter;
    else if (length > 1)
      out += words.substr(0, length);
    else if (lines && words.front() == '\n')
      out += '\n';
    else
      append_escaped(out, words.front());
    words.remove_prefix(std::max<std::size_t>(1, length));
  }
  return out + (lines ? "\"\"\"" : "\"");
}

std::string toml_number(double number) {
  constexpr double finest = 1.0e9;
  const double rounded = std::abs(number) < 1.0e6 ? std::round(number * finest) / finest : number;
  const std::string text = print_si(rounded == 0.0 ? 0.0 : rounded, Dimension::length, "m");
  return text.empty() ? "nan" : text.substr(0, text.size() - 1);
}

int digits_shown(std::string_view written) {
  int digits = 0, zeros = 0;
  for (const char c : written) {
    if (c == '.' || c == '-') continue;
    if (c < '0' || c > '9') break;
    if (c == '0') {
      zeros += digits > 0 ? 1 : 0;
      continue;
    }
    digits += zeros + 1;
    zeros = 0;
  }
  return digits;
}

std::string toml_quantity(double si, Dimension dimension, Taste taste) {
  std::string best;
  for (const UnitsOf& liked : kLiked) {
    if (liked.dimension != dimension) continue;
    for (const std::string_view unit : taste == Taste::us ? liked.us : liked.metric) {
      if (unit.empty()) break;
      std::string text = print_si(si, dimension, unit);
      if (!text.empty() && (best.empty() || digits_shown(text) < digits_shown(best))) best = std::move(text);
    }
  }
  return best;
}

std::string toml_value(const TomlNode& node) {
  switch (node.kind) {
    case TomlKind::text: return toml_text(node.text);
    case TomlKind::integer: return std::to_string(node.integer);
    case TomlKind::number: {
      if (std::isnan(node.number)) return "nan";
      if (std::isinf(node.number)) return node.number < 0.0 ? "-inf" : "inf";
      char text[40];
      for (int digits = 1; digits <= 17; ++digits) {
        std::snprintf(text, sizeof text, "%.*e", digits, node.number);
        for (char& c : text)
          if (c == ',') c = '.';  // a locale's point
        if (parse_number(text) == node.number) break;
      }
      return text;
    }
    case TomlKind::truth: return node.truth ? "true" : "false";
    case TomlKind::date: return node.date ? iso8601(*node.date) : "\"\"";
    case TomlKind::moment: return node.moment ? iso8601(*node.moment) : "\"\"";
    case TomlKind::local_moment:
    case TomlKind::clock: return "\"\"";
    case TomlKind::list: {
      std::string out = "[";
      for (const TomlNode& item : node.items) out += (out.size() > 1 ? ", " : "") + toml_value(item);
      return out + "]";
    }
    case TomlKind::table: {
      std::string out = "{";
      for (const TomlMember& member : node.members)
        out += (out.size() > 1 ? ", " : " ") + key_text(member.key) + " = " + toml_value(member.value);
      return out + (out.size() > 1 ? " }" : "}");
    }
  }
  return {};
}

bool is_headed(const TomlNode& node) {
  return is_table(node) || (node.kind == TomlKind::list && !node.items.empty() &&
                            std::all_of(node.items.begin(), node.items.end(), is_table));
}

void TomlLines::table(std::string_view name) {
  if (!text_.empty()) text_ += '\n';
  text_ += "[" + std::string(name) + "]\n";
}
void TomlLines::one_of(std::string_view name) {
  if (!text_.empty()) text_ += '\n';
  text_ += "[[" + std::string(name) + "]]\n";
}
void TomlLines::table_if_any(std::string_view name, const TomlLines& lines) {
  if (lines.text_.empty()) return;
  table(name);
  text_ += lines.text_;
}
void TomlLines::raw(std::string_view key, std::string_view value) {
  text_ += key_text(key) + " = " + std::string(value) + "\n";
}
void TomlLines::quantity(std::string_view key, double si, Dimension dimension) {
  raw(key, "\"" + toml_quantity(si, dimension, taste_) + "\"");
}

// Plain values come before tables: what follows a heading would belong to it.
void TomlLines::members_of(const TomlNode& table, std::string_view path) {
  for (const TomlMember& member : table.members)
    if (!is_headed(member.value)) raw(member.key, toml_value(member.value));
  for (const TomlMember& member : table.members)
    if (is_headed(member.value)) this->member(member, path);
}

void TomlLines::member(const TomlMember& member, std::string_view path) {
  const std::string name = joined(path, member.key);
  if (is_table(member.value)) {
    table(name);
    members_of(member.value, name);
  } else if (is_headed(member.value)) {
    for (const TomlNode& item : member.value.items) {
      one_of(name);
      members_of(item, name);
    }
  } else {
    raw(member.key, toml_value(member.value));
  }
}

}  // namespace pappus::text
