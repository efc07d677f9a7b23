/// Words by key: core speaks in keys and typed arguments, here they become a person's language and units.
///
/// The texts stand in data/text/<language>.toml, one key a line (words/text_file.hpp says what such a file may hold).
/// "{name}" is replaced by the argument of that name; a Measure is written in the reader's units with the digits its
/// kind deserves. "{name:metric}" and the like do not exist: units are the reader's choice, not the text's.
///
/// | kind                       | us                                    | metric                              |
/// |----------------------------|---------------------------------------|-------------------------------------|
/// | number, count              | 1.25, 12                              | the same                            |
/// | ratio                      | 35%                                   | the same                            |
/// | mass                       | lb, tenths below 100                  | kg, tenths below 100                |
/// | volume, gas and liquid     | ft³; gal, tenths                      | m³; L, tenths                       |
/// | length                     | ft, tenths below 100                  | m, tenths below 100                 |
/// | distance                   | statute mi, 0.01 below 3, 0.1 below 10| km, the same steps                  |
/// | height and all altitudes   | ft, tens from 200 on                  | m                                   |
/// | wind                       | kt, tenths                            | the same: a windsock knows no metre |
/// | vertical speed             | ft/min, tens                          | m/s, tenths                         |
/// | air pressure               | inHg, 0.01                            | hPa, tenths                         |
/// | fuel pressure              | psi                                   | bar, tenths                         |
/// | temperature                | °F                                    | °C, tenths                          |
/// | temperature difference     | F°, tenths                            | K, tenths                           |
/// | duration                   | 95 s; from 2 min on 38 min, 1 h 05 min; from 48 h on 3 d 4 h; the same in both |
/// | bearing                    | 215°; 215° mag; north is 360°         | the same                            |
/// | angle                      | 12.4°                                 | the same                            |
/// | density                    | lb/ft³, 4 digits below 1, tenths      | kg/m³, 3 digits below 10, tenths    |
/// | mass flow                  | lb/h, tenths below 100                | kg/h, tenths below 100              |
/// | power                      | MW, 0.01                              | the same                            |
/// | specific energy            | Btu/lb                                | kJ/kg                               |
///
/// "°F" is a place on the scale and "F°" a difference, so that a spread of 4 F° can't be read as frost. Thousands are
/// parted by commas, in Spanish by a no-break space, but not in hPa: the point is the decimal sign in both, as a comma
/// or a point between thousands is read as one in some of the places where Spanish is spoken. The minus sign is ASCII, as terminals and searches know it. What is not a finite
/// number is worded "not known".
#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/measure.hpp"
#include "core/base/sentence.hpp"

namespace pappus::words {

enum class Language { en, es };
enum class Units { us, metric };

/// How one reader wants to be spoken to.
struct Reader {
  Language language = Language::en;
  Units units = Units::us;
  UtcOffset offset;           // in which times are told
  std::optional<Date> today;  // a time on any other day is told with its date; absent: never with its date
};

/// The sentence in the reader's words. A Moment is told as `clock` does, a Date as "2027-05-16", a string as it is. A
/// key that is missing gives the key itself in angle brackets, and a placeholder without its argument stays as it
/// stands, so that both are seen; tools/check_keys.py refuses any key in the sources that has no text, and any call
/// that leaves a placeholder open.
[[nodiscard]] std::string worded(const Sentence& sentence, const Reader& reader);
/// The text of a bare key ("word.pilot").
[[nodiscard]] std::string worded(std::string_view key, const Reader& reader);
/// A measure with its unit: "1,500 ft", "2.4 kt", "63 psi". Digits are fixed per kind and unit, so that they agree on
/// every machine; halves round away from zero, where a number within 1e-12 of a half counts as one: 2.25 kt went
/// through m/s and came back a little less. "-0" is never written.
[[nodiscard]] std::string worded(Measure measure, const Reader& reader);
/// Number and unit apart, for tables. A duration is all number ("1 h 05 min", ""), and so is what is not known.
struct Figure {
  std::string number, unit;
};
[[nodiscard]] Figure figure(Measure measure, const Reader& reader);
/// The number of a measure in the reader's unit, unrounded, and the measure of such a number: for the axes of a drawing,
/// whose ticks stand at the reader's round numbers. A duration counts seconds.
/// Laws      measured(counted(m), m.kind) is m, within 1e-12 of its size (of 300 K, for a temperature).
[[nodiscard]] double counted(Measure measure, const Reader& reader);
[[nodiscard]] Measure measured(double count, MeasureKind kind, const Reader& reader);
/// "05:10" in the reader's offset; "2027-05-15 23:50" where the reader's `today` is another day. Seconds are cut off,
/// as on a clock.
[[nodiscard]] std::string clock(Instant t, const Reader& reader);
/// "95 s", "38 min", "1 h 05 min", "3 d 4 h": at most two units.
[[nodiscard]] std::string duration(Duration d, const Reader& reader);

/// One issue as a person reads it: where, what is wrong, what was found, what would be right:
///     flight.toml:17:3 cylinder[1].tare: the unit is missing; got "18", wanted a mass with a unit, such as 18kg.
/// What was found is shown on one line and cut after 80 characters: it may be anything that was pasted.
[[nodiscard]] std::string worded(const Issue& issue, const Reader& reader);

/// Every key of a language, sorted: for the completeness test.
[[nodiscard]] std::vector<std::string> keys(Language language);
/// The argument names that the text of `key` uses, sorted. Empty for a key that does not exist.
[[nodiscard]] std::vector<std::string> placeholders(Language language, std::string_view key);

class Texts;
/// All texts of a language (words/text_file.hpp), read once, on first use.
[[nodiscard]] const Texts& texts_of(Language language);
/// What is wrong with the text file of a language. Tests hold it empty.
[[nodiscard]] std::vector<Issue> text_issues(Language language);

}  // namespace pappus::words

namespace pappus {
template <>
struct Names<words::Language> {
  static constexpr std::array<std::pair<words::Language, std::string_view>, 2> all{
      {{words::Language::en, "en"}, {words::Language::es, "es"}}};
};
template <>
struct Names<words::Units> {
  static constexpr std::array<std::pair<words::Units, std::string_view>, 2> all{
      {{words::Units::us, "us"}, {words::Units::metric, "metric"}}};
};
}  // namespace pappus
