#include "core/base/flat_toml.hpp"

#include <algorithm>
#include <cstdint>
#include <utility>

namespace pappus {
namespace {

constexpr std::string_view kWantedLine = R"([table], name = "text", a number, true or false, or # comment)";
constexpr std::string_view kWantedEscape = R"(\" \\ \n or \t)";

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_name_character(char c) { return (c >= 'a' && c <= 'z') || is_digit(c) || c == '_'; }

/// One line, read from left to right.
class Line {
 public:
  explicit Line(std::string_view text) : text_{text} {}
  [[nodiscard]] bool at_end() const { return at_ == text_.size(); }
  [[nodiscard]] int column() const { return static_cast<int>(at_) + 1; }
  [[nodiscard]] std::string_view text() const { return text_; }

  bool take(char c) {
    if (at_end() || text_[at_] != c) return false;
    ++at_;
    return true;
  }
  void skip_blanks() {
    while (take(' ') || take('\t')) {
    }
  }
  /// True where only blanks and a comment are left.
  bool finished() {
    skip_blanks();
    return at_end() || text_[at_] == '#';
  }
  /// "limit.surface_wind"; empty where there is no such name.
  std::string_view dotted_name() {
    const std::size_t first = at_;
    do {
      if (word().empty()) return {};
    } while (take('.'));
    return text_.substr(first, at_ - first);
  }
  /// A run of the characters of names: a part of a name, "true".
  std::string_view word() { return run(is_name_character); }
  /// "-12.5"; empty, and nothing taken, where there is no such number.
  std::string_view number() {
    const std::size_t first = at_;
    take('-');
    const std::string_view whole = run(is_digit);
    const bool leading_zero = whole.size() > 1 && whole.front() == '0';  // TOML forbids it
    const bool fails = whole.empty() || leading_zero || (take('.') && run(is_digit).empty());
    const std::string_view taken = text_.substr(first, at_ - first);
    if (fails) at_ = first;
    return fails ? std::string_view{} : taken;
  }
  [[nodiscard]] char peek() const { return at_end() ? '\0' : text_[at_]; }
  char next() { return at_end() ? '\0' : text_[at_++]; }
  void back_to(std::size_t column) { at_ = column - 1; }
  void back() { --at_; }

 private:
  std::string_view run(bool (*belongs)(char)) {
    const std::size_t first = at_;
    while (!at_end() && belongs(text_[at_])) ++at_;
    return text_.substr(first, at_ - first);
  }
  std::string_view text_;
  std::size_t at_ = 0;
};

class Reading {
 public:
  explicit Reading(std::string_view file) : file_{file} {}

  void read(std::string_view line_text) {
    ++number_;
    Line line{line_text};
    if (line.finished()) return;
    if (line.take('['))
      read_table(line);
    else
      read_entry(line);
  }

  Parsed<std::vector<FlatEntry>> finish() {
    std::stable_sort(entries_.begin(), entries_.end(),
                     [](const FlatEntry& a, const FlatEntry& b) { return a.key < b.key; });
    for (std::size_t i = 1; i < entries_.size(); ++i) {
      const FlatEntry &one = entries_[i - 1], &next = entries_[i];
      if (next.key == one.key)
        issue("issue.text_twice", next.line, 1, next.key, {});
      else if (next.key.size() > one.key.size() && next.key.compare(0, one.key.size() + 1, one.key + '.') == 0)
        issue("issue.text_is_table", next.line, 1, next.key, {});  // sorted, "a" is followed at once by "a.b"
    }
    return {std::move(entries_), std::move(issues_)};
  }

 private:
  void issue(const char* key, int line, int column, std::string_view got, std::string_view wanted) {
    issues_.push_back(
        Issue{Errc::bad_input, say(key), Where{file_, line, column, {}}, std::string(got), std::string(wanted)});
  }
  void not_understood(const Line& line) { issue("issue.text_line", number_, line.column(), line.text(), kWantedLine); }

  void read_table(Line& line) {
    line.skip_blanks();
    const std::string name{line.dotted_name()};
    line.skip_blanks();
    if (name.empty() || !line.take(']') || !line.finished()) return not_understood(line);
    if (std::find(tables_.begin(), tables_.end(), name) != tables_.end())
      issue("issue.text_twice", number_, 1, name, {});
    tables_.push_back(name);
    prefix_ = name + '.';
  }

  void read_entry(Line& line) {
    const std::string_view name = line.dotted_name();
    line.skip_blanks();
    if (name.empty() || !line.take('=')) return not_understood(line);
    line.skip_blanks();
    FlatEntry entry{prefix_ + std::string(name), {}, FlatKind::text, number_, line.column()};
    const bool understood = line.peek() == '"' ? take_text(line, entry) : take_bare(line, entry);
    if (!understood) return;
    if (!line.finished()) return not_understood(line);
    entries_.push_back(std::move(entry));
  }

  bool take_text(Line& line, FlatEntry& entry) {
    line.next();
    while (!line.at_end()) {
      const char c = line.next();
      if (c == '"') return true;
      if (c == '\\') {
        switch (line.next()) {
          case '"': entry.value += '"'; break;
          case '\\': entry.value += '\\'; break;
          case 'n': entry.value += '\n'; break;
          case 't': entry.value += '\t'; break;
          default: issue("issue.text_escape", number_, line.column(), line.text(), kWantedEscape); return false;
        }
      } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
        line.back();
        break;
      } else {
        entry.value += c;
      }
    }
    not_understood(line);
    return false;
  }

  bool take_bare(Line& line, FlatEntry& entry) {
    const auto first = static_cast<std::size_t>(line.column());
    if (const std::string_view number = line.number(); !number.empty()) {
      entry.kind = FlatKind::number;
      entry.value = number;
      return true;
    }
    if (const std::string_view word = line.word(); word == "true" || word == "false") {
      entry.kind = FlatKind::truth;
      entry.value = word;
      return true;
    }
    line.back_to(first);
    not_understood(line);
    return false;
  }

  std::string file_;
  std::string prefix_;
  std::vector<std::string> tables_;
  std::vector<FlatEntry> entries_;
  std::vector<Issue> issues_;
  int number_ = 0;
};

}  // namespace

Parsed<std::vector<FlatEntry>> read_flat_toml(std::string_view toml, std::string_view file) {
  Reading reading{file};
  while (!toml.empty()) {
    const std::size_t end = std::min(toml.find('\n'), toml.size());
    std::string_view line = toml.substr(0, end);
    if (!line.empty() && line.back() == '\r') line.remove_suffix(1);
    reading.read(line);
    toml.remove_prefix(std::min(end + 1, toml.size()));
  }
  return reading.finish();
}

std::optional<double> number_of(const FlatEntry& entry) {
  constexpr int kMostDigits = 15;
  if (entry.kind != FlatKind::number) return std::nullopt;
  std::int64_t digits = 0;
  int count = 0;
  double scale = 1.0;
  bool fraction = false;
  for (const char c : entry.value) {
    if (c == '.') fraction = true;
    if (!is_digit(c)) continue;
    if (++count > kMostDigits) return std::nullopt;
    digits = 10 * digits + (c - '0');
    if (fraction) scale *= 10.0;
  }
  const double value = static_cast<double>(digits) / scale;
  return entry.value.front() == '-' ? -value : value;
}

}  // namespace pappus
