#include "core/base/nearest.hpp"

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>

namespace pappus {
namespace {

char folded(char c) {
  if (c >= 'A' && c <= 'Z') return static_cast<char>(c - 'A' + 'a');
  return c == '-' || c == ' ' ? '_' : c;
}

std::string folded(std::string_view s) {
  std::string out;
  for (const char c : s) out += folded(c);
  return out;
}

// Letters changed, added, dropped or swapped with their neighbour (optimal string alignment).
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0u : 1u)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) row[j] = std::min(row[j], before[j - 2] + 1);
    }
    std::swap(before, last);
    std::swap(last, row);
  }
  return last[b.size()];
}

bool begins_with(std::string_view whole, std::string_view start) {
  constexpr std::size_t fewest = 3;  // a single letter is the beginning of too much
  return start.size() >= fewest && whole.substr(0, start.size()) == start;
}

}  // namespace

std::string_view nearest(std::string_view written, const std::vector<std::string_view>& known) {
  constexpr std::size_t most = 2;
  const std::string word = folded(written.substr(0, 64));
  std::string_view best;
  std::size_t best_distance = most + 1;
  for (const std::string_view candidate : known) {
    const std::string name = folded(candidate);
    const std::size_t longer = std::max(name.size(), word.size()), shorter = std::min(name.size(), word.size());
    if (longer - shorter > most) continue;
    const std::size_t distance = edit_distance(word, name);
    // Two letters changed in a word of four leave too little of it: "who" is no "what".
    const std::size_t allowed = name.size() <= 4 ? 1 : most;
    if (distance <= allowed && distance < best_distance) {
      best = candidate;
      best_distance = distance;
    }
  }
  if (!best.empty()) return best;
  for (const std::string_view candidate : known) {
    const std::string name = folded(candidate);
    if (begins_with(name, word) || begins_with(word, name)) return candidate;
  }
  return {};
}

}  // namespace pappus
