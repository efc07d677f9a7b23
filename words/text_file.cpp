#include "words/text_file.hpp"

#include <algorithm>
#include <utility>

#include "core/base/flat_toml.hpp"

namespace pappus::words {
namespace {

constexpr std::string_view kWantedText = R"(name = "text")";
constexpr std::string_view kWantedPlaceholder = "{name}";

bool is_name_character(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; }

bool by_key(const Text& a, const Text& b) { return a.key < b.key; }

bool braces_are_placeholders(std::string_view text) {
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '}') return false;
    if (text[i] != '{') continue;
    const std::size_t first = ++i;
    while (i < text.size() && is_name_character(text[i])) ++i;
    if (i == first || i == text.size() || text[i] != '}') return false;
  }
  return true;
}

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
  Parsed<std::vector<FlatEntry>> flat = read_flat_toml(toml, file);
  std::vector<Text> texts;
  const auto refuse = [&](const char* key, const FlatEntry& entry, int column, std::string_view wanted) {
    flat.issues.push_back(Issue{Errc::bad_input, say(key), Where{std::string(file), entry.line, column, {}},
                                entry.value, std::string(wanted)});
  };
  for (FlatEntry& entry : *flat.value) {
    if (entry.kind != FlatKind::text) {
      refuse("issue.text_line", entry, entry.column, kWantedText);
      continue;
    }
    if (!braces_are_placeholders(entry.value)) refuse("issue.text_placeholder", entry, 1, kWantedPlaceholder);
    texts.push_back(Text{std::move(entry.key), std::move(entry.value), entry.line});
  }
  return {Texts{std::move(texts)}, std::move(flat.issues)};
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
