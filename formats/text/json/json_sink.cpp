#include "formats/text/json/json_sink.hpp"

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <stdexcept>
#include <utility>

namespace pappus::json {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

[[noreturn]] void misused(const std::string& why) { throw std::logic_error("JSON: " + why); }

// Bytes of the well-formed UTF-8 character that starts at `at`, 0 where there is none (Unicode, table 3-7).
std::size_t character_size(std::string_view s, std::size_t at) {
  const auto byte = [&](std::size_t i) { return i < s.size() ? static_cast<unsigned char>(s[i]) : 0u; };
  const auto continues = [&](std::size_t i, unsigned low, unsigned high) { return byte(i) >= low && byte(i) <= high; };
  const unsigned lead = byte(at);
  if (lead < 0x80) return 1;
  if (lead >= 0xC2 && lead <= 0xDF) return continues(at + 1, 0x80, 0xBF) ? 2 : 0;
  if (lead >= 0xE0 && lead <= 0xEF) {
    const unsigned low = lead == 0xE0 ? 0xA0 : 0x80, high = lead == 0xED ? 0x9F : 0xBF;
    return continues(at + 1, low, high) && continues(at + 2, 0x80, 0xBF) ? 3 : 0;
  }
  if (lead >= 0xF0 && lead <= 0xF4) {
    const unsigned low = lead == 0xF0 ? 0x90 : 0x80, high = lead == 0xF4 ? 0x8F : 0xBF;
    return continues(at + 1, low, high) && continues(at + 2, 0x80, 0xBF) && continues(at + 3, 0x80, 0xBF) ? 4 : 0;
  }
  return 0;
}

void append_quoted(std::string& out, std::string_view value) {
  out += '"';
  for (std::size_t i = 0; i < value.size();) {
    const std::size_t size = character_size(value, i);
    const char c = value[i];
    if (size == 0) {
      out += kReplacement;
      ++i;
      continue;
    }
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (static_cast<unsigned char>(c) < 0x20) {
      char escape[8];
      std::snprintf(escape, sizeof escape, "\\u%04x", static_cast<unsigned>(static_cast<unsigned char>(c)));
      out += escape;
    } else {
      out += value.substr(i, size);
    }
    i += size;
  }
  out += '"';
}

}  // namespace

std::string number_text(double value) {
  if (!std::isfinite(value)) misused("a number is not finite");
  if (value == 0.0) return "0";  // also for -0
  char text[32];
  // 15 digits survive the way through a double, so if they give it back they are the shortest; 17 always do.
  for (int digits = 15; digits <= 17; ++digits) {
    std::snprintf(text, sizeof text, "%.*g", digits, value);
    if (std::strtod(text, nullptr) == value) break;
  }
  return text;
}

void JsonSink::new_line() {
  if (layout_ == Layout::compact) return;
  out_ += '\n';
  out_.append(2 * levels_.size(), ' ');
}

void JsonSink::separate() {
  if (!levels_.back().empty) out_ += ',';
  levels_.back().empty = false;
  new_line();
}

void JsonSink::before_value() {
  if (levels_.empty()) {
    if (!out_.empty()) misused("a second value after the end");
  } else if (levels_.back().bracket == '[') {
    separate();
  } else if (!std::exchange(key_waits_, false)) {
    misused("a value without a key after \"" + last_key_ + "\"");
  }
}

void JsonSink::open(char bracket) {
  before_value();
  out_ += bracket;
  levels_.push_back({bracket, true});
}

void JsonSink::close(char bracket) {
  if (levels_.empty() || levels_.back().bracket != (bracket == '}' ? '{' : '[') || key_waits_)
    misused("an end that has no beginning after \"" + last_key_ + "\"");
  const bool empty = levels_.back().empty;
  levels_.pop_back();
  if (!empty) new_line();
  out_ += bracket;
}

void JsonSink::key(std::string_view name) {
  if (levels_.empty() || levels_.back().bracket != '{' || key_waits_)
    misused("the key \"" + std::string(name) + "\" stands where no key can");
  separate();
  append_quoted(out_, name);
  out_ += layout_ == Layout::compact ? ":" : ": ";
  last_key_ = name;
  key_waits_ = true;
}

void JsonSink::number(double value) {
  if (!std::isfinite(value)) misused("the number of \"" + last_key_ + "\" is not finite");
  before_value();
  out_ += number_text(value);
}

void JsonSink::whole(std::int64_t value) {
  before_value();
  out_ += std::to_string(value);
}

void JsonSink::text(std::string_view value) {
  before_value();
  append_quoted(out_, value);
}

void JsonSink::boolean(bool value) {
  before_value();
  out_ += value ? "true" : "false";
}

void JsonSink::null() {
  before_value();
  out_ += "null";
}

std::string JsonSink::finish() {
  if (!levels_.empty() || out_.empty()) misused("the value has no end");
  return std::exchange(out_, {});
}

}  // namespace pappus::json
