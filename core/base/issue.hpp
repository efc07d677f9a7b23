/// What can be wrong with an input, as a value: where it is, what was found, what would be right.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

// Without this a dropped Result compiles: tl::expected 1.0 is not marked, and an attribute may be added by declaring it
// once more (tests/compile_fail/dropped_result.cpp).
namespace tl {
template <class T, class E>
class [[nodiscard]] expected;
}
#include <tl/expected.hpp>

#include "core/base/sentence.hpp"

namespace pappus {

enum class Errc {
  bad_call,        // the call itself is wrong: an unknown verb or option
  bad_input,       // a file or value breaks a rule
  not_found,       // a named thing is not there
  conflict,        // two things said contradict each other
  out_of_range,    // outside what the method or its data cover
  no_data,         // what is needed is not known
  machine_failed,  // memory, disk, rights
  cancelled,       // stopped by the person
};

/// The stable name of a code ("bad_input"): it stands in JSON and never changes.
[[nodiscard]] std::string_view name_of(Errc code);
/// The exit status of a program that stops for this reason: 2, 3, 4, 5 or 130.
[[nodiscard]] int exit_status(Errc code);

/// A place in an input. Line and column count from 1; 0 is not known.
struct Where {
  std::string file;
  int line = 0;
  int column = 0;
  std::string key;  // "cylinder[1].tare"
  friend bool operator==(const Where&, const Where&) = default;
};

struct Issue {
  Errc code = Errc::bad_input;
  Sentence sentence;
  Where where;
  std::string got;     // the value found, as written
  std::string wanted;  // what would be right, in the input's own language: "a length with a unit, such as 1500ft"
  friend bool operator==(const Issue&, const Issue&) = default;
};

/// One thing can go wrong.
template <class T>
using Result = tl::expected<T, Issue>;

/// Many things can go wrong and all are told; there may be a value all the same.
template <class T>
struct [[nodiscard]] Parsed {
  std::optional<T> value;
  std::vector<Issue> issues;
};

[[nodiscard]] inline tl::unexpected<Issue> fail(Errc code, Sentence sentence, std::string got = {},
                                                std::string wanted = {}) {
  return tl::unexpected<Issue>{Issue{code, std::move(sentence), Where{}, std::move(got), std::move(wanted)}};
}

}  // namespace pappus
