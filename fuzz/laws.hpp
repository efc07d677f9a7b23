/// What the fuzz targets have in common: a law that is broken ends the program, and issues point into their text.
#pragma once
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <string_view>
#include <vector>

#include "core/base/issue.hpp"

namespace pappus::fuzz {

inline void require(bool holds, const char* law) {
  if (holds) return;
  std::fprintf(stderr, "broken: %s\n", law);
  std::abort();
}

/// Every issue with a line points to a character of `pasted`. Lines and columns count from 1, here in bytes: no fewer.
inline void require_inside(const std::vector<Issue>& issues, std::string_view pasted) {
  std::vector<int> width(1);
  for (const char c : pasted) {
    if (c == '\n') {
      width.push_back(0);
    } else {
      ++width.back();
    }
  }
  for (const Issue& issue : issues) {
    if (issue.where.line == 0) continue;
    require(static_cast<std::size_t>(issue.where.line) <= width.size(), "line inside the text");
    require(issue.where.column >= 1 && issue.where.column <= width[static_cast<std::size_t>(issue.where.line) - 1],
            "column inside the line");
  }
}

}  // namespace pappus::fuzz
