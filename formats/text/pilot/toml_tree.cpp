#include "formats/text/pilot/toml_tree.hpp"

#include <algorithm>
#include <utility>

// Without exceptions the library hands its error out as a value.
#define TOML_EXCEPTIONS 0
#define TOML_HEADER_ONLY 1
#define TOML_ENABLE_FORMATTERS 0
#define TOML_ENABLE_WINDOWS_COMPAT 0
#include <toml++/toml.h>

#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::text {
namespace {

constexpr int kDeepest = 16;

// What toml++ 3.3.0 must not be shown:
// - It builds and destroys tables recursively and sets no limit to the depth of "[a.a.a.a...]": a file of a hundred
//   kilobytes overflows the stack.
// - Where it looks for blanks, most characters from U+00A1 on lead into undefined behaviour (its issue 190). That is so
//   outside strings, where TOML allows no such character anyway (name = e with an accent, the quotes forgotten), and
//   behind a backslash that joins two lines.
// The scanner knows strings and comments and nothing else, and is exact where a text is well formed. Where it is not, the
// library may look on from a bare word into what the scanner took for a string (9["e with an accent"]): see harmless().
class Scanner {
 public:
  struct Fault {
    std::string_view issue;
    TomlSpan span;
    std::string wanted;
  };

  explicit Scanner(std::string_view text) : text_{text} {
    if (text_.substr(0, kByteOrderMark.size()) == kByteOrderMark) at_ = kByteOrderMark.size();
  }

  std::optional<Fault> first_fault() {
    int brackets = 0, dots = 0;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if ((c == '"' || c == '\'') && may_begin_value()) {
        if (auto fault = skip_string(c)) return fault;
        continue;
      }
      if (c == '#') {
        while (at_ < text_.size() && text_[at_] != '\n') ++at_;
        continue;
      }
      if (!is_ascii(c)) return Fault{"issue.toml_character", here(), "quotes around it: \"...\""};
      if (c == '[' || c == '{') ++brackets;
      if ((c == ']' || c == '}') && brackets > 0) --brackets;
      if (c == '.')
        ++dots;
      else if (std::string_view{"\n=,[]{}"}.find(c) != std::string_view::npos)
        dots = 0;
      if (brackets > kDeepest || dots > kDeepest)
        return Fault{"issue.toml_too_deep", here(), "tables and lists at most " + std::to_string(kDeepest) + " deep"};
      ++at_;
    }
    return std::nullopt;
  }

 private:
  static constexpr std::string_view kByteOrderMark = "\xef\xbb\xbf";

  static bool is_ascii(char c) { return static_cast<unsigned char>(c) < 0x80u; }

  // A quote inside a bare word (9"...) opens no string: the library looks on from the word's first character.
  [[nodiscard]] bool may_begin_value() const {
    return at_ == 0 || std::string_view{" \t\r\n=,[]{}."}.find(text_[at_ - 1]) != std::string_view::npos ||
           text_.substr(0, at_) == kByteOrderMark;
  }

  std::optional<Fault> skip_string(char quote) {
    const std::string fence(3, quote);
    const bool multi_line = text_.substr(at_, 3) == fence;
    at_ += multi_line ? 3 : 1;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '\\' && quote == '"') {
        if (auto fault = skip_escape()) return fault;
      } else if (multi_line ? text_.substr(at_, 3) == fence : c == quote) {
        at_ += multi_line ? 3 : 1;
        // Up to two quotes may stand right before the closing three.
        for (int i = 0; multi_line && i < 2 && at_ < text_.size() && text_[at_] == quote; ++i) ++at_;
        return std::nullopt;
      } else if (!multi_line && c == '\n') {
        return std::nullopt;
      } else {
        ++at_;
      }
    }
    return std::nullopt;
  }

  // A backslash and what belongs to it: one character, or the blanks and line ends that it takes away.
  std::optional<Fault> skip_escape() {
    ++at_;
    if (at_ < text_.size() && std::string_view{" \t\r\n\v\f"}.find(text_[at_]) == std::string_view::npos &&
        is_ascii(text_[at_])) {
      ++at_;
      return std::nullopt;
    }
    while (at_ < text_.size() && std::string_view{" \t\r\n\v\f"}.find(text_[at_]) != std::string_view::npos) ++at_;
    if (at_ < text_.size() && !is_ascii(text_[at_]))
      return Fault{"issue.toml_joined_line", here(),
                   "an ASCII character behind a backslash and the blanks it takes away"};
    return std::nullopt;
  }

  [[nodiscard]] TomlSpan here() const {
    const std::string_view before = text_.substr(0, at_);
    const int line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n'));
    const std::size_t newline = before.rfind('\n');
    const std::size_t start = newline == std::string_view::npos ? 0 : newline + 1;
    const auto starts_character = [](char c) { return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u; };
    const std::string_view left = before.substr(start);
    const int column = 1 + static_cast<int>(std::count_if(left.begin(), left.end(), starts_character));
    return {line, column, line, column + 1};
  }

  std::string_view text_;
  std::size_t at_ = 0;
};

constexpr char32_t kAside = 0xF0000;  // a plane of private use: toml++ looks for blanks up to U+FEFF only

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u; }

// The text with each character from U+0080 to U+FEFF moved aside by kAside, where the library's search for blanks is
// defined. It is one character for one, so that lines and columns stay. Malformed UTF-8 is left for the library to refuse.
std::string harmless(std::string_view text) {
  constexpr std::string_view mark = "\xef\xbb\xbf";
  std::string out(text.substr(0, mark.size()) == mark ? mark : std::string_view{});
  for (std::size_t i = out.size(); i < text.size();) {
    const auto lead = static_cast<unsigned char>(text[i]);
    const std::size_t length = lead >= 0xC2u && lead < 0xE0u ? 2 : lead >= 0xE0u && lead < 0xF0u ? 3 : 1;
    const std::string_view bytes = text.substr(i, length);
    char32_t c = length == 2 ? lead & 0x1Fu : lead & 0x0Fu;
    bool moves = length > 1 && bytes.size() == length;
    for (std::size_t k = 1; moves && k < length; ++k) {
      moves = continues(bytes[k]);
      c = c << 6u | (static_cast<unsigned char>(bytes[k]) & 0x3Fu);
    }
    // Overlong forms and surrogates are no characters.
    moves = moves && c >= (length == 2 ? 0x80u : 0x800u) && c <= 0xFEFFu && (c < 0xD800u || c > 0xDFFFu);
    if (!moves) {
      out += text[i++];
      continue;
    }
    c += kAside;
    for (const unsigned shift : {18u, 12u, 6u, 0u})
      out += static_cast<char>((shift == 18u ? 0xF0u : 0x80u) | (c >> shift & 0x3Fu));
    i += length;
  }
  return out;
}

TomlSpan span_of(const toml::source_region& source) {
  return {static_cast<int>(source.begin.line), static_cast<int>(source.begin.column), static_cast<int>(source.end.line),
          static_cast<int>(source.end.column)};
}

std::optional<Date> date_of(const toml::date& d) { return Date::of(d.year, d.month, d.day); }

std::optional<Moment> moment_of(const toml::date_time& t) {
  constexpr int most_offset = 14 * 60;
  const auto date = date_of(t.date);
  if (!date || !t.offset || t.offset->minutes > most_offset || t.offset->minutes < -most_offset) return std::nullopt;
  const UtcOffset offset{t.offset->minutes};
  const double seconds = t.time.second + static_cast<double>(t.time.nanosecond) * 1.0e-9;
  return Moment{instant_of(*date, t.time.hour, t.time.minute, seconds, offset), offset};
}

TomlNode node_of(const toml::node& from) {
  TomlNode out;
  out.span = span_of(from.source());
  switch (from.type()) {
    case toml::node_type::table:
      out.kind = TomlKind::table;
      for (const auto& [key, value] : *from.as_table()) {
        const toml::source_position at = key.source().begin;
        out.members.push_back(
            {std::string(key.str()), static_cast<int>(at.line), static_cast<int>(at.column), node_of(value)});
      }
      break;
    case toml::node_type::array:
      out.kind = TomlKind::list;
      for (const toml::node& item : *from.as_array()) out.items.push_back(node_of(item));
      break;
    case toml::node_type::string:
      out.kind = TomlKind::text;
      out.text = from.as_string()->get();
      break;
    case toml::node_type::integer:
      out.kind = TomlKind::integer;
      out.integer = from.as_integer()->get();
      out.number = static_cast<double>(out.integer);
      break;
    case toml::node_type::floating_point:
      out.kind = TomlKind::number;
      out.number = from.as_floating_point()->get();
      break;
    case toml::node_type::boolean:
      out.kind = TomlKind::truth;
      out.truth = from.as_boolean()->get();
      break;
    case toml::node_type::date:
      out.kind = TomlKind::date;
      out.date = date_of(from.as_date()->get());
      break;
    case toml::node_type::time: out.kind = TomlKind::clock; break;
    case toml::node_type::date_time: {
      const toml::date_time& t = from.as_date_time()->get();
      out.kind = t.offset ? TomlKind::moment : TomlKind::local_moment;
      out.date = date_of(t.date);
      out.moment = moment_of(t);
      break;
    }
    case toml::node_type::none: break;  // a parsed document holds no such node
  }
  return out;
}

std::string_view line_of(std::string_view text, int line) {
  for (int i = 1; i < line; ++i) {
    const std::size_t end = text.find('\n');
    if (end == std::string_view::npos) return {};
    text.remove_prefix(end + 1);
  }
  return text.substr(0, text.find('\n'));
}

tl::unexpected<Issue> refuse(Sentence sentence, Where where, std::string got, std::string wanted) {
  return tl::unexpected<Issue>{
      Issue{Errc::bad_input, std::move(sentence), std::move(where), std::move(got), std::move(wanted)}};
}

}  // namespace

Result<TomlNode> parse_toml(std::string_view toml, std::string_view file) {
  const std::string name(file);
  if (toml.size() > kLongestFile)
    return refuse(say("issue.file_too_large"), {name, 0, 0, {}}, std::to_string(toml.size()) + " bytes",
                  "at most " + std::to_string(kLongestFile) + " bytes");
  if (auto fault = Scanner{toml}.first_fault())
    return refuse(say(std::string(fault->issue)), {name, fault->span.line, fault->span.column, {}},
                  excerpt(line_of(toml, fault->span.line)), std::move(fault->wanted));
  const auto not_toml = [&](const toml::parse_error& error) {
    const toml::source_position at = error.source().begin;
    const int line = static_cast<int>(at.line), column = static_cast<int>(at.column);
    return refuse(say("issue.toml_syntax", {{"detail", excerpt(error.description())}}), {name, line, column, {}},
                  excerpt(line_of(toml, line)), "a line such as mass = \"82kg\"");
  };
  // What is well formed with its characters moved aside is so as it stands, and then holds none where the library would
  // look for blanks.
  if (const toml::parse_result rehearsal = toml::parse(harmless(toml)); !rehearsal) return not_toml(rehearsal.error());
  const toml::parse_result result = toml::parse(toml);
  if (!result) return not_toml(result.error());
  return node_of(result.table());
}

}  // namespace pappus::text
