#include "words/text_file.hpp"

#include <algorithm>
#include <utility>

namespace pappus::words {
namespace {

constexpr std::string_view kWantedLine = R"([table], name = "text" or # comment)";
constexpr std::string_view kWantedEscape = R"(\" \\ \n or \t)";
constexpr std::string_view kWantedPlaceholder = "{name}";

bool is_name_character(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; }

bool by_key(const Text& a, const Text& b) { return a.key < b.key; }

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
      const std::size_t part = at_;
      while (!at_end() && is_name_character(text_[at_])) ++at_;
      if (at_ == part) return {};
    } while (take('.'));
    return text_.substr(first, at_ - first);
  }
  char next() { return at_end() ? '\0' : text_[at_++]; }
  void back() { --at_; }

 private:
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
      read_text(line);
  }

  Parsed<Texts> finish() {
    std::stable_sort(texts_.begin(), texts_.end(), by_key);
    for (std::size_t i = 1; i < texts_.size(); ++i) {
      const Text &one = texts_[i - 1], &next = texts_[i];
      if (next.key == one.key)
        issue("issue.text_twice", next.line, 1, next.key, {});
      else if (next.key.size() > one.key.size() && next.key.compare(0, one.key.size() + 1, one.key + '.') == 0)
        issue("issue.text_is_table", next.line, 1, next.key, {});  // sorted, "a" is followed at once by "a.b"
    }
    return {Texts{std::move(texts_)}, std::move(issues_)};
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

  void read_text(Line& line) {
    const std::string_view name = line.dotted_name();
    line.skip_blanks();
    if (name.empty() || !line.take('=')) return not_understood(line);
    line.skip_blanks();
    if (!line.take('"')) return not_understood(line);
    std::string text;
    for (bool open = true; open;) {
      if (line.at_end()) return not_understood(line);
      const char c = line.next();
      if (c == '"') {
        open = false;
      } else if (c == '\\') {
        switch (line.next()) {
          case '"': text += '"'; break;
          case '\\': text += '\\'; break;
          case 'n': text += '\n'; break;
          case 't': text += '\t'; break;
          default: return issue("issue.text_escape", number_, line.column(), line.text(), kWantedEscape);
        }
      } else if (static_cast<unsigned char>(c) < 0x20 || c == 0x7f) {
        line.back();
        return not_understood(line);
      } else {
        text += c;
      }
    }
    if (!line.finished()) return not_understood(line);
    if (!braces_are_placeholders(text)) issue("issue.text_placeholder", number_, 1, text, kWantedPlaceholder);
    texts_.push_back(Text{prefix_ + std::string(name), std::move(text), number_});
  }

  static bool braces_are_placeholders(std::string_view text) {
    for (std::size_t i = 0; i < text.size(); ++i) {
      if (text[i] == '}') return false;
      if (text[i] != '{') continue;
      const std::size_t first = ++i;
      while (i < text.size() && is_name_character(text[i])) ++i;
      if (i == first || i == text.size() || text[i] != '}') return false;
    }
    return true;
  }

  std::string file_;
  std::string prefix_;
  std::vector<std::string> tables_;
  std::vector<Text> texts_;
  std::vector<Issue> issues_;
  int number_ = 0;
};

}  // namespace

Texts::Texts(std::vector<Text> texts) : texts_{std::move(texts)} {
  std::stable_sort(texts_.begin(), texts_.end(), by_key);
  const auto same = [](const Text& a, const Text& b) { return a.key == b.key; };
  texts_.erase(std::unique(texts_.begin(), texts_.end(), same), texts_.end());
}

const Text* Texts::find(std::string_view key) const {
  const auto at = std::lower_bound(texts_.begin(), texts_.end(), key,
                                   [](const Text& text, std::string_view wanted) { return text.key < wanted; });
  return at != texts_.end() && at->key == key ? &*at : nullptr;
}

Parsed<Texts> read_texts(std::string_view toml, std::string_view file) {
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

std::vector<std::string> placeholders_in(std::string_view text) {
  std::vector<std::string> names;
  for (std::size_t open = text.find('{'); open != std::string_view::npos; open = text.find('{', open + 1)) {
    const std::size_t close = text.find('}', open);
    if (close == std::string_view::npos) break;
    names.emplace_back(text.substr(open + 1, close - open - 1));
  }
  std::stable_sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

std::vector<TextDifference> compare_texts(const Texts& reference, const Texts& other) {
  using What = TextDifference::What;
  std::vector<TextDifference> differences;
  auto a = reference.all().begin(), b = other.all().begin();
  const auto a_end = reference.all().end(), b_end = other.all().end();
  while (a != a_end || b != b_end) {
    if (b == b_end || (a != a_end && a->key < b->key)) {
      differences.push_back({a->key, What::missing});
      ++a;
    } else if (a == a_end || b->key < a->key) {
      differences.push_back({b->key, What::surplus});
      ++b;
    } else {
      if (placeholders_in(a->text) != placeholders_in(b->text)) differences.push_back({b->key, What::placeholders});
      if (b->text.empty()) differences.push_back({b->key, What::empty});
      ++a;
      ++b;
    }
  }
  return differences;
}

}  // namespace pappus::words
