/// What core says to a person: a key and typed arguments, worded later in the reader's language and units.
#pragma once
#include <cstdint>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/measure.hpp"

namespace pappus {

/// A word of our own vocabulary that must be worded too: its key in the text files ("word.pilot").
struct Term {
  std::string key;
  friend bool operator==(const Term&, const Term&) = default;
};

/// std::string is shown verbatim: a name the pilot typed, a code of a report.
using ArgumentValue = std::variant<std::string, Term, Measure, Moment, Date>;

struct Argument {
  std::string name;
  ArgumentValue value;
  friend bool operator==(const Argument&, const Argument&) = default;
};

/// The text of `key` stands in data/text/<language>.toml; "{name}" in it is replaced by the argument of that name.
struct Sentence {
  std::string key;
  std::vector<Argument> arguments;
  friend bool operator==(const Sentence&, const Sentence&) = default;
};

/// say("lift.margin", {{"mass", measure::of(margin)}})
[[nodiscard]] inline Sentence say(std::string key, std::vector<Argument> arguments = {}) {
  return Sentence{std::move(key), std::move(arguments)};
}

}  // namespace pappus
