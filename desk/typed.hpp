/// What people type on one line, cut into what they mean. For the rounds of questions only.
#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "formats/text/quantity/quantity_text.hpp"

namespace pappus::desk {

/// Without blanks at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view s);
/// The parts between `mark`s, each trimmed.
[[nodiscard]] std::vector<std::string_view> parts_of(std::string_view s, char mark);
/// The lines that are not empty, each trimmed.
[[nodiscard]] std::vector<std::string_view> lines_of(std::string_view s);
/// The words of a line, parted by blanks and commas. A unit that stands alone behind a bare number belongs to it: "18 gal"
/// is one word, "18gal".
[[nodiscard]] std::vector<std::string> words_of(std::string_view line);
[[nodiscard]] bool same_word(std::string_view a, std::string_view b);  // but for ASCII case

/// As parse_si, but a bare number is in `unit`.
[[nodiscard]] Result<double> in_unit_or(std::string_view typed, text::Dimension dimension, std::string_view unit);

/// A time of day, a day, an offset from UTC: what was said of a moment.
struct TypedTime {
  int hour = 0, minute = 0;
  std::optional<Date> date = std::nullopt;
  std::optional<UtcOffset> offset = std::nullopt;
};
/// "05:10", "0510", "5:10", each maybe after a date (2027-05-16) and before an offset (-09:00 or Z), parted by blanks or
/// as in ISO 8601. None for anything else.
[[nodiscard]] std::optional<TypedTime> typed_time(std::string_view typed);
/// The first moment of that time of day not before `earliest`; that of the day named, if one is.
[[nodiscard]] Moment next_of(const TypedTime& time, Instant earliest, UtcOffset here);
/// The last one not after `latest`; that of the day named, if one is.
[[nodiscard]] Moment last_of(const TypedTime& time, Instant latest, UtcOffset here);

}  // namespace pappus::desk
