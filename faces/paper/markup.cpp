#include "faces/paper/markup.hpp"

#include <cassert>
#include <cstdint>

namespace pappus::paper {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";  // U+FFFD

struct CodePoint {
  std::uint32_t value = 0;
  std::size_t bytes = 1;
  bool valid = false;
};

// One code point of UTF-8; not valid: overlong, a surrogate, beyond U+10FFFF or cut off, and then one byte is taken.
CodePoint code_point(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i])); };
  const std::uint32_t first = byte(0);
  if (first < 0x80) return {first, 1, true};
  const std::size_t bytes = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || text.size() < bytes) return {};
  std::uint32_t value = first & (0x7Fu >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return {};
    value = (value << 6) | (byte(i) & 0x3F);
  }
  constexpr std::uint32_t smallest[] = {0, 0, 0x80, 0x800, 0x10000};
  if (value < smallest[bytes] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF)) return {};
  return {value, bytes, true};
}

// Controls, and the embeddings, overrides and isolates of the bidirectional algorithm (Unicode Annex 9).
bool hides_or_turns(std::uint32_t c) {
  if (c == '\n' || c == '\t') return false;
  return c < 0x20 || (c >= 0x7F && c < 0xA0) || (c >= 0x202A && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) ||
         c == 0xFFFE || c == 0xFFFF;
}

}  // namespace

std::string escaped(std::string_view text) {
  std::string out;
  out.reserve(text.size() + 8);
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint c = code_point(text.substr(at));
    if (!c.valid || hides_or_turns(c.value)) {
      out += kReplacement;
    } else {
      switch (c.value) {
        case '&': out += "&amp;"; break;
        case '<': out += "&lt;"; break;
        case '>': out += "&gt;"; break;
        case '"': out += "&quot;"; break;
        case '\'': out += "&#39;"; break;
        default: out += text.substr(at, c.bytes);
      }
    }
    at += c.bytes;
  }
  return out;
}

void Markup::begin(std::string_view tag, Attributes attributes) {
  out_ += '<';
  out_ += tag;
  for (const Attribute& a : attributes) {
    out_ += ' ';
    out_ += a.name;
    out_ += "=\"";
    out_ += escaped(a.value);
    out_ += '"';
  }
}

Markup::Element Markup::element(std::string_view tag, Attributes attributes) {
  begin(tag, attributes);
  out_ += '>';
  open_.push_back(tag);
  return Element{*this};
}

void Markup::empty(std::string_view tag, Attributes attributes) {
  begin(tag, attributes);
  out_ += "/>";
}

void Markup::leaf(std::string_view tag, Attributes attributes, std::string_view text) {
  begin(tag, attributes);
  out_ += '>';
  out_ += escaped(text);
  out_ += "</";
  out_ += tag;
  out_ += '>';
}

void Markup::close() {
  assert(!open_.empty());
  out_ += "</";
  out_ += open_.back();
  out_ += ">\n";
  open_.pop_back();
}

}  // namespace pappus::paper
