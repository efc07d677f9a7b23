#include "store/usable.hpp"

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace pappus::store {
namespace {

constexpr std::size_t kLongestId = 64;
constexpr std::size_t kLongestBody = 64u << 10;
constexpr std::size_t kLongestName = 256;
constexpr std::size_t kLongestContact = 1024;

// What is shown of a text that was refused.
constexpr std::size_t kShown = 60;

// The code point at `at` of well-formed UTF-8 (Unicode, table 3-7), and its bytes; 0 bytes where there is none.
struct CodePoint {
  std::uint32_t value = 0;
  std::size_t bytes = 0;
};

CodePoint code_point(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i])); };
  const std::uint32_t first = byte(at);
  if (first < 0x80) return {first, 1};
  const std::size_t bytes = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || at + bytes > text.size()) return {};
  std::uint32_t value = first & (0x7Fu >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(at + i) & 0xC0) != 0x80) return {};
    value = value << 6 | (byte(at + i) & 0x3F);
  }
  const bool is_short_enough = value >= (bytes == 4 ? 0x10000u : bytes == 3 ? 0x800u : 0x80u);
  const bool is_surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (!is_short_enough || is_surrogate || value > 0x10FFFF) return {};
  return {value, bytes};
}

bool is_control(std::uint32_t code_point) { return code_point < 0x20 || (code_point >= 0x7F && code_point < 0xA0); }

// UTF-8 in which no character is refused by `is_refused`.
template <class F>
bool is_text(std::string_view text, F is_refused) {
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint here = code_point(text, at);
    if (here.bytes == 0 || is_refused(here.value)) return false;
    at += here.bytes;
  }
  return true;
}

bool is_line(std::string_view text, std::size_t shortest, std::size_t longest) {
  return text.size() >= shortest && text.size() <= longest && is_text(text, is_control);
}

bool is_kind(std::string_view text) {
  if (text.empty() || text.size() > kLongestId) return false;
  for (const char c : text)
    if (c != '_' && (c < 'a' || c > 'z')) return false;
  return true;
}

// A refused text as it may be shown: one line of well-formed UTF-8.
std::string shown(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const CodePoint here = code_point(text, at);
    const std::size_t bytes = here.bytes == 0 ? 1 : here.bytes;
    if (out.size() + bytes > kShown) return out + "...";
    if (here.bytes == 0 || is_control(here.value)) {
      out += '?';
    } else {
      out += text.substr(at, bytes);
    }
    at += bytes;
  }
  return out;
}

tl::unexpected<Issue> refuse_event(std::string field, std::string_view got, std::string wanted) {
  return fail(Errc::bad_input, say("issue.event_unusable", {{"field", std::move(field)}}), shown(got),
              std::move(wanted));
}

tl::unexpected<Issue> refuse_person(std::string field, std::string_view got, std::string wanted) {
  return fail(Errc::bad_input, say("issue.person_unusable", {{"field", std::move(field)}}), shown(got),
              std::move(wanted));
}

const std::string kWantedId = "1 .. 64 bytes, UTF-8, no control characters";

}  // namespace

Result<void> check_usable(const desk::NewEvent& event) {
  if (!is_line(event.author, 1, kLongestId)) return refuse_event("author", event.author, kWantedId);
  if (!is_kind(event.kind)) return refuse_event("kind", event.kind, "1 .. 64 of a-z, _");
  if (!is_line(event.subject, 1, kLongestId)) return refuse_event("subject", event.subject, kWantedId);
  // A zero byte would end the text where SQLite reads it as JSON.
  const auto is_zero = [](std::uint32_t code_point) { return code_point == 0; };
  if (event.body.size() > kLongestBody || !is_text(event.body, is_zero)) return refuse_body(event.body);
  return {};
}

Result<void> check_usable(const desk::Person& person) {
  if (!is_line(person.id, 1, kLongestId)) return refuse_person("id", person.id, kWantedId);
  if (!is_line(person.name, 1, kLongestName))
    return refuse_person("name", person.name, "1 .. 256 bytes, UTF-8, no control characters");
  if (!is_line(person.contact, 0, kLongestContact))
    return refuse_person("contact", person.contact, "0 .. 1024 bytes, UTF-8, no control characters");
  return {};
}

tl::unexpected<Issue> refuse_body(const std::string& body) {
  return refuse_event("body", body, "{...}: JSON, UTF-8, at most 65536 bytes");
}

}  // namespace pappus::store
