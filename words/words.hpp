/// Words by key: core speaks in keys and typed arguments, here they become a person's language and units.
///
/// The texts stand in data/text/<language>.toml, one key a line. "{name}" is replaced by the argument of that name; a
/// Measure is written in the reader's units with the digits its kind deserves; "{name:metric}" and the like do not
/// exist: units are the reader's choice, not the text's.
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/measure.hpp"
#include "core/base/sentence.hpp"

namespace pappus::words {

enum class Language { en };
enum class Units { us, metric };

/// How one reader wants to be spoken to.
struct Reader {
  Language language = Language::en;
  Units units = Units::us;
  UtcOffset offset;  // in which times are told
};

/// The sentence in the reader's words. A key that is missing gives the key itself in angle brackets, so that it is
/// seen; tests/words refuses any key in core that has no text.
[[nodiscard]] std::string worded(const Sentence& sentence, const Reader& reader);
/// The text of a bare key ("word.pilot").
[[nodiscard]] std::string worded(std::string_view key, const Reader& reader);
/// A measure with its unit: "1,500 ft", "2.4 kt", "63 psi". Digits are fixed per kind and unit, so that they agree on
/// every machine; halves round away from zero.
[[nodiscard]] std::string worded(Measure measure, const Reader& reader);
/// Number and unit apart, for tables.
struct Figure {
  std::string number, unit;
};
[[nodiscard]] Figure figure(Measure measure, const Reader& reader);
/// "05:10", in the reader's offset.
[[nodiscard]] std::string clock(Instant t, const Reader& reader);
/// "in 20 minutes", "15 min": a duration in words of at most two units.
[[nodiscard]] std::string duration(Duration d, const Reader& reader);

/// One issue as a person reads it: what is wrong, where, what was found, what would be right.
[[nodiscard]] std::string worded(const Issue& issue, const Reader& reader);

/// Every key of a language, sorted: for the completeness test.
[[nodiscard]] std::vector<std::string> keys(Language language);
/// The argument names that the text of `key` uses.
[[nodiscard]] std::vector<std::string> placeholders(Language language, std::string_view key);

}  // namespace pappus::words
