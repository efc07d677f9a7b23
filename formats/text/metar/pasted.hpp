/// What pasted reports and forecasts have in common: the words of a heading, and an hour 24 that ends its day.
/// For the decoders of aviation codes only.
///
/// Source    WMO-No. 306, Manual on Codes, volume I.1, FM 15 and FM 51.
#pragma once
#include <optional>
#include <string_view>

#include "core/base/instant.hpp"
#include "formats/text/tokens/tokens.hpp"

namespace pappus::text::wmo {

/// So many unknown groups in a row are prose that follows a report without '='.
inline constexpr int kProse = 8;

/// Four capitals or digits, a capital first. Stations that are spelt like weather exist; AUTO is none: it may stand
/// before a time gone astray.
bool is_station(std::string_view group);
/// Meant as a time after the name and the station, though not one: "051658", "0516Z", "O51658Z".
bool is_bad_time(std::string_view group);
/// What follows the time in a forecast: "0518/0624", or "051818" in older ones.
bool is_validity(std::string_view group);
/// The name of a surface report: METAR or SPECI.
bool is_report_name(std::string_view group);

/// The instant nearest to `near` that has this day of the month, hour (24 ends the day) and minute. None where there is
/// none, or where `near` lies outside the years 1 to 9999.
std::optional<Instant> nearest(int day, int hour, int minute, Instant near);
/// As above for "051658Z"; hour 24 is refused.
std::optional<Instant> nearest(std::string_view ddhhmmz, Instant near);

}  // namespace pappus::text::wmo
