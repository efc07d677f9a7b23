/// The flight sheet as one HTML file: for a phone in the field, a desk the evening before, and two sheets of paper.
///
/// The file stands alone: no script, no font, picture or style from anywhere else, and a policy in it that forbids a
/// browser to ask for any. Its figures are drawn from the sheet's value and nothing else, in the reader's language and
/// units; each number in them stands in words beside them too. What is not known is hatched and named, never left
/// blank. No state is told by colour alone.
///
/// Printed, it takes two pages of A4 or Letter for an ordinary flight: what stands against flying, load, lift and fuel;
/// then winds, ground, landing card, and room to tick and sign. More limits make it longer: nothing is left out.
///
/// Accuracy  a place in a figure is good to a tenth of a drawing's unit, of which some 360 go to its width.
/// Laws      well-formed; texts of any origin can't become markup (markup.hpp); every limit stands in it by its title
///           and state; under 300 kB for 40 limits, 60 wind levels and 60 ceilings; the same sheet and reader give the
///           same bytes.
#pragma once
#include <string>
#include <string_view>

#include "core/sheet/flight_sheet.hpp"
#include "words/words.hpp"

namespace pappus::paper {

/// How every such file begins: by this a later one knows what it may write over.
inline constexpr std::string_view kMarker = "<!DOCTYPE html>\n<!-- pappus flight sheet -->\n";

[[nodiscard]] std::string html(const sheet::FlightSheet& sheet, const words::Reader& reader);

}  // namespace pappus::paper
