/// A good file with one thing made wrong, and what has to be told of it.
#pragma once
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include <gtest/gtest.h>

#include "core/base/issue.hpp"
#include "core/base/random.hpp"

namespace pappus::testing {

/// `find` (its first occurrence) is replaced by `put`; then exactly one issue is expected: `key`, at the place where
/// `at` first stands in the edited file, with `got`, and with `wanted` as a part of what would be right.
struct Edit {
  std::string_view rule;
  std::string_view find, put;
  std::string_view key;
  std::string_view at;
  std::string_view got;
  std::string_view wanted;
};

inline std::string edited(std::string text, std::string_view find, std::string_view put) {
  const std::size_t at = text.find(find);
  if (at == std::string::npos) {
    ADD_FAILURE() << "the good file has no " << find;
    return text;
  }
  return text.replace(at, find.size(), put);
}

/// `text` with one to three slips: a byte changed, some dropped, or some said twice elsewhere.
inline std::string mutated(std::string text, Random& random) {
  const auto below = [&random](std::size_t n) { return static_cast<std::size_t>(random.below(n)); };
  const std::size_t slips = 1 + below(3);
  for (std::size_t i = 0; i < slips; ++i) {
    const std::size_t at = below(text.size());
    switch (below(3)) {
      case 0: text[at] = static_cast<char>(below(256)); break;
      case 1: text.erase(at, 1 + below(8)); break;
      default: text.insert(at, text.substr(below(text.size()), below(20)));
    }
  }
  return text;
}

/// The place of the first `what`, in characters (the texts here are ASCII).
inline Where place_of(std::string_view text, std::string_view what) {
  const std::size_t at = text.find(what);
  if (at == std::string_view::npos) {
    ADD_FAILURE() << "the edited file has no " << what;
    return {};
  }
  Where out{{}, 1, 1, {}};
  for (const char c : text.substr(0, at)) {
    ++out.column;
    if (c == '\n') out = Where{{}, out.line + 1, 1, {}};
  }
  return out;
}

inline std::string told(const std::vector<Issue>& issues) {
  std::string out;
  for (const Issue& issue : issues)
    out += std::to_string(issue.where.line) + ":" + std::to_string(issue.where.column) + " " + issue.where.key + " " +
           issue.sentence.key + " got '" + issue.got + "' wanted '" + issue.wanted + "'\n";
  return out;
}

inline void expect_issue(const Issue& issue, const Edit& edit, std::string_view file, std::string_view text) {
  const Where place = place_of(text, edit.at);
  EXPECT_EQ(issue.sentence.key, edit.key);
  EXPECT_EQ(issue.where.file, file);
  EXPECT_EQ(issue.where.line, place.line);
  EXPECT_EQ(issue.where.column, place.column);
  EXPECT_EQ(issue.got, edit.got);
  EXPECT_FALSE(issue.wanted.empty());
  EXPECT_NE(issue.wanted.find(edit.wanted), std::string::npos) << issue.wanted;
}

}  // namespace pappus::testing
