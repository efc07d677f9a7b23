#include "formats/text/metar/groups.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "formats/text/metar/reader.hpp"

namespace pappus::text::wmo {
namespace {

// The strongest gust ever measured is 113 m/s (World Meteorological Organization, Barrow Island 1996).
constexpr Speed kStrongestWind = 130 * metre_per_second;

// Code table 4678: what may qualify a phenomenon, and which it goes with.
struct Descriptor {
  std::string_view code;
  bool alone;  // reported without a phenomenon: a thunderstorm without precipitation, showers in the vicinity
  std::string_view goes_with;
};
constexpr std::array<Descriptor, 8> kDescriptors{{{"MI", false, "FG"},
                                                  {"BC", false, "FG"},
                                                  {"PR", false, "FG"},
                                                  {"DR", false, "DU SA SN"},
                                                  {"BL", false, "DU SA SN PY"},
                                                  {"SH", true, "RA SN PL PE GS GR UP"},
                                                  {"TS", true, "RA SN PL PE GS GR UP"},
                                                  {"FZ", false, "FG DZ RA UP"}}};

// Code table 4678: precipitation, obscuration, other. PE is the older code of PL.
constexpr std::array<Word, 23> kPhenomena{{{"DZ"}, {"RA"}, {"SN"}, {"SG"}, {"IC"}, {"PL"}, {"PE"}, {"GR"},
                                           {"GS"}, {"UP"}, {"BR"}, {"FG"}, {"FU"}, {"VA"}, {"DU"}, {"SA"},
                                           {"HZ"}, {"PY"}, {"PO"}, {"SQ"}, {"FC"}, {"SS"}, {"DS"}}};
constexpr int kMostPhenomena = 3;  // 15.8.2

struct Amount {
  std::string_view code;
  wind::CloudAmount amount;
};
constexpr std::array<Amount, 6> kAmounts{{{"FEW", wind::CloudAmount::few},
                                          {"SCT", wind::CloudAmount::scattered},
                                          {"BKN", wind::CloudAmount::broken},
                                          {"OVC", wind::CloudAmount::overcast},
                                          {"VV", wind::CloudAmount::vertical_visibility},
                                          {"///", wind::CloudAmount::not_known}}};

constexpr std::array<Word, 4> kClearSkies{{{"NSC"}, {"NCD"}, {"SKC"}, {"CLR"}}};

struct SpeedUnit {
  std::string_view code;
  Speed unit;
};
constexpr std::array<SpeedUnit, 3> kSpeedUnits{{{"KT", knot}, {"MPS", metre_per_second}, {"KMH", kilometre_per_hour}}};

constexpr std::array<Word, 8> kCompass{{{"NE"}, {"NW"}, {"SE"}, {"SW"}, {"N"}, {"E"}, {"S"}, {"W"}}};

// AUTO, COR and NIL have a meaning and are taken before; RTD and RRA mark a late report, CCA a correction, "$" asks for
// the technician.
constexpr std::array<Word, 6> kMarks{{{"AUTO"}, {"COR"}, {"RTD"}, {"SNOCLO"}, {"R/SNOCLO"}, {"$"}}};

// Colour states of military aerodromes, best to worst; YLO and AMB may carry a figure, BLU a plus sign.
constexpr std::array<Word, 6> kColours{{{"BLU"}, {"WHT"}, {"GRN"}, {"YLO"}, {"AMB"}, {"RED"}}};

constexpr std::array<Word, 4> kTrends{{{"NOSIG"}, {"TEMPO"}, {"BECMG"}, {"INTER"}}};

template <class Table>
bool is_one_of(const Table& table, std::string_view group) {
  return std::any_of(table.begin(), table.end(), [group](const auto& entry) { return entry.code == group; });
}

bool goes_with(const Descriptor& descriptor, std::string_view phenomenon) {
  return descriptor.goes_with.find(phenomenon) != std::string_view::npos;
}

// What may follow intensity or vicinity.
bool is_weather_proper(Reader r) {
  const Descriptor* descriptor = r.take_any(kDescriptors);
  if (descriptor != nullptr && r.done()) return descriptor->alone;
  for (int i = 0; i < kMostPhenomena && !r.done(); ++i) {
    const Word* phenomenon = r.take_any(kPhenomena);
    if (phenomenon == nullptr) return false;
    if (i == 0 && descriptor != nullptr && !goes_with(*descriptor, phenomenon->code)) return false;
  }
  return r.done();
}

bool take_speed(Reader& r, std::optional<int>& speed) {
  if (r.take("//")) {
    r.take("/");
    return true;
  }
  if (!r.take("ABV")) r.take("P");
  speed = r.number(2, 3);
  return speed.has_value();
}

bool take_celsius(Reader& r, std::optional<double>& value) {
  if (r.take("//") || r.take("XX")) return true;
  const bool minus = r.take("M");
  const std::optional<int> degrees = r.digits(2);
  if (!degrees) return false;
  value = minus ? 0.0 - *degrees : 0.0 + *degrees;
  return true;
}

bool take_tenths(Reader& r, std::optional<double>& value) {
  const bool minus = r.take("1");
  if (!minus && !r.take("0")) return false;
  const std::optional<int> tenths = r.digits(3, true);
  if (!tenths) return false;
  value = (minus ? 0.0 - *tenths : 0.0 + *tenths) / 10.0;
  return true;
}

// The start of "R28R/...": some stations leave the runway out when they do not report it.
bool take_runway(Reader& r) {
  if (!r.take("R")) return false;
  if (r.digits(2)) {
    static constexpr std::array<Word, 3> sides{{{"L"}, {"C"}, {"R"}}};
    if (r.take_any(sides) != nullptr) r.take_any(sides);
  }
  return r.take("/");
}

// 15.7: "1200", "P2000", "M0050", with a second value after V, feet, and a tendency.
bool is_visual_range(Reader r) {
  static constexpr std::array<Word, 2> bounds{{{"P"}, {"M"}}};
  static constexpr std::array<Word, 3> tendencies{{{"U"}, {"D"}, {"N"}}};
  r.take_any(bounds);
  if (!r.digits(4)) return false;
  if (r.take("V")) {
    r.take_any(bounds);
    if (!r.digits(4)) return false;
  }
  r.take("FT");
  r.take("/");
  r.take_any(tendencies);
  return r.done();
}

// 15.13.6: deposit, extent, depth and braking in six figures, or cleared; some states put D for a dry runway.
bool is_runway_state(Reader r) {
  if (r.take("CLRD")) return r.left() <= 2 && r.only("0123456789/");
  if (r.left() == 6 && r.only("0123456789/")) return true;
  r.digits(2);
  return r.take("D") && r.done();
}

bool is_runway_group(std::string_view group) {
  Reader r{group};
  return take_runway(r) && (is_visual_range(r) || is_runway_state(r) || (r.left() <= 6 && r.only("/")));
}

// "88CLRD70", "14290592": runway state as it was sent before it had the designator of its runway.
bool is_old_runway_state(std::string_view group) {
  Reader r{group};
  return group.size() == 8 && r.digits(2, true) && (is_runway_state(r));
}

// 15.13.5: sea temperature and state or wave height, "W15/S4", "W///H12".
bool is_sea(std::string_view group) {
  Reader r{group};
  if (!r.take("W")) return false;
  if (!r.take("//")) {
    r.take("M");
    if (!r.digits(2)) return false;
  }
  if (!r.take("/")) return false;
  static constexpr std::array<Word, 2> kinds{{{"S"}, {"H"}}};
  return r.take_any(kinds) != nullptr && r.left() >= 1 && r.left() <= 3 && r.only("0123456789/");
}

// Australian rain in ten minutes and since nine o'clock: "RF00.0/011.2".
bool is_rain(std::string_view group) {
  Reader r{group};
  return r.take("RF") && !r.done() && r.left() <= 12 && r.only("0123456789./");
}

bool is_colour_state(std::string_view group) {
  Reader r{group};
  const bool black = r.take("BLACK");
  if (black && r.done()) return true;
  if (r.take_any(kColours) == nullptr) return false;
  if (!r.take("+")) r.digits(1);
  return r.done();
}

bool is_recent_weather(std::string_view group) {
  Reader r{group};
  return r.take("RE") && !r.done() && (is_weather_proper(r) || (r.take("//") && r.done()));
}

// "CCA" and "RRB": a corrected or a late report, counted by a letter.
bool is_lettered_mark(std::string_view group) {
  return group.size() == 3 && (group.substr(0, 2) == "CC" || group.substr(0, 2) == "RR") && group[2] >= 'A' &&
         group[2] <= 'Z';
}

bool is_slashes(std::string_view group) {
  return group.size() >= 2 && group.size() <= 9 && group.find_first_not_of('/') == std::string_view::npos;
}

}  // namespace

std::optional<WindGroup> read_wind(std::string_view group) {
  Reader r{group};
  WindGroup wind;
  if (r.take("VRB")) {
    wind.variable = true;
  } else if (!r.take("///")) {
    wind.direction_deg = r.digits(3, true);
    if (!wind.direction_deg) return std::nullopt;
  }
  if (!take_speed(r, wind.speed)) return std::nullopt;
  if (r.take("G") && !take_speed(r, wind.gust)) return std::nullopt;
  const SpeedUnit* unit = r.take_any(kSpeedUnits);
  if (unit == nullptr || !r.done()) return std::nullopt;
  wind.unit = unit->unit;
  return wind;
}

SurfaceWind interpret(const WindGroup& group) {
  SurfaceWind said{.wind = std::nullopt, .speed = {}, .gust = {}, .variable = group.variable, .wanted = {}};
  if (group.speed) said.speed = *group.speed * group.unit;
  if (group.gust) said.gust = *group.gust * group.unit;
  if ((said.speed && *said.speed > kStrongestWind) || (said.gust && *said.gust > kStrongestWind)) {
    SurfaceWind nothing;
    nothing.wanted.emplace_back("a wind of at most 250 kt");
    return nothing;
  }
  if (said.gust && said.speed && *said.gust <= *said.speed) {
    said.wanted.emplace_back("a gust above the mean wind");
    said.gust.reset();
  }
  if (said.speed == Speed{}) {
    said.wind = wind::Wind{};  // calm, whatever the direction says
  } else if (group.direction_deg && (*group.direction_deg == 0 || *group.direction_deg > 360)) {
    said.wanted.emplace_back("a direction from 010 to 360, or 00000KT for calm");
  } else if (group.direction_deg && said.speed) {
    said.wind = wind::Wind::from(TrueBearing::at(*group.direction_deg * degree), *said.speed);
  }
  return said;
}

bool is_swing(std::string_view group) {
  Reader r{group};
  const std::optional<int> from = r.digits(3);
  if (!from || !r.take("V")) return false;
  const std::optional<int> to = r.digits(3);
  return to && r.done() && *from <= 360 && *to <= 360;
}

std::optional<VisibilityGroup> read_visibility_metres(std::string_view group) {
  Reader r{group};
  const std::optional<int> metres = r.digits(4);
  if (!metres) return std::nullopt;
  VisibilityGroup visibility;
  if (!r.take("NDV")) visibility.directional = r.take_any(kCompass) != nullptr;
  if (!r.done()) return std::nullopt;
  visibility.distance = *metres * metre;
  if (*metres == 9999) {
    visibility.distance = 10 * kilometre;
    visibility.beyond = Beyond::at_least;
  } else if (*metres == 0) {
    visibility.distance = 50 * metre;  // reported in steps of 50 m, rounded down
    visibility.beyond = Beyond::below;
  }
  return visibility;
}

std::optional<VisibilityGroup> read_visibility_miles(std::string_view group) {
  Reader r{group};
  VisibilityGroup visibility;
  if (r.take("P")) {
    visibility.beyond = Beyond::at_least;
  } else if (r.take("M")) {
    visibility.beyond = Beyond::below;
  }
  const std::optional<int> first = r.number(1, 3);
  if (!first) return std::nullopt;
  double miles = *first;
  if (r.take("/")) {
    const std::optional<int> parts = r.number(1, 2);
    // 11/2SM may be one and a half or eleven halves: not guessed.
    if (!parts || *first == 0 || *first >= *parts || (*parts != 2 && *parts != 4 && *parts != 8 && *parts != 16))
      return std::nullopt;
    miles /= *parts;
  }
  if (!r.take("SM") || !r.done()) return std::nullopt;
  visibility.distance = miles * statute_mile;
  return visibility;
}

std::optional<int> read_whole_miles(std::string_view group) {
  Reader r{group};
  const std::optional<int> miles = r.number(1, 2);
  return r.done() ? miles : std::nullopt;
}

bool is_fraction_of_mile(std::string_view group) {
  return !group.empty() && is_digit(group.front()) && group.find('/') != std::string_view::npos &&
         read_visibility_miles(group).has_value();
}

std::optional<VisibilityRead> read_visibility(std::string_view group, std::string_view next) {
  if (const auto whole = read_whole_miles(group); whole && is_fraction_of_mile(next)) {
    VisibilityRead read{.visibility = *read_visibility_miles(next), .groups = 2};
    read.visibility.distance += *whole * statute_mile;
    return read;
  }
  auto visibility = read_visibility_metres(group);
  if (!visibility) visibility = read_visibility_miles(group);
  return visibility ? std::optional{VisibilityRead{.visibility = *visibility, .groups = 1}} : std::nullopt;
}

bool is_weather(std::string_view group) {
  Reader r{group};
  if (!r.take("VC") && !r.take("-")) r.take("+");
  return !r.done() && is_weather_proper(r);
}

std::optional<wind::CloudLayer> read_cloud(std::string_view group) {
  Reader r{group};
  const Amount* amount = r.take_any(kAmounts);
  if (amount == nullptr) return std::nullopt;
  wind::CloudLayer layer{.amount = amount->amount, .base = std::nullopt, .convective = false};
  if (!r.take("///")) {
    const std::optional<int> hundreds_of_feet = r.digits(3);
    if (!hundreds_of_feet) return std::nullopt;
    layer.base = agl(*hundreds_of_feet * 100 * foot);
  }
  layer.convective = r.take("CB") || r.take("TCU");
  if (!layer.convective) r.take("///");
  // Slashes alone say that no cloud was measured: no layer.
  const bool says_something = layer.amount != wind::CloudAmount::not_known || layer.base || layer.convective;
  return r.done() && says_something ? std::optional{layer} : std::nullopt;
}

bool is_clear_sky(std::string_view group) { return is_one_of(kClearSkies, group); }

std::optional<TemperatureGroup> read_temperature(std::string_view group) {
  Reader r{group};
  TemperatureGroup t;
  if (!take_celsius(r, t.temperature_c) || !r.take("/")) return std::nullopt;
  if (!r.done() && !take_celsius(r, t.dew_point_c)) return std::nullopt;
  return r.done() ? std::optional{t} : std::nullopt;
}

std::optional<TemperatureGroup> read_tenths(std::string_view group) {
  Reader r{group};
  TemperatureGroup t;
  if (!r.take("T") || !take_tenths(r, t.temperature_c)) return std::nullopt;
  if (!r.done() && !take_tenths(r, t.dew_point_c)) return std::nullopt;
  return r.done() ? std::optional{t} : std::nullopt;
}

std::optional<PressureGroup> read_pressure(std::string_view group) {
  Reader r{group};
  PressureGroup pressure;
  pressure.in_inches = r.take("A");
  if (!pressure.in_inches && !r.take("Q")) return std::nullopt;
  if (!r.take("////")) {
    const std::optional<int> figures = r.digits(4);
    if (!figures) return std::nullopt;
    pressure.value = *figures * (pressure.in_inches ? 0.01 * inch_of_mercury : hectopascal);
  }
  return r.done() ? std::optional{pressure} : std::nullopt;
}

bool is_passed_over(std::string_view group) {
  return is_one_of(kMarks, group) || is_lettered_mark(group) || is_slashes(group) || is_runway_group(group) ||
         is_old_runway_state(group) || is_sea(group) || is_rain(group) || is_colour_state(group) ||
         is_recent_weather(group) || group == "////SM";
}

bool is_wind_shear_word(std::string_view group) {
  static constexpr std::array<Word, 4> words{{{"ALL"}, {"RWY"}, {"TKOF"}, {"LDG"}}};
  if (is_one_of(words, group)) return true;
  Reader r{group};
  if (!r.take("R")) return false;
  r.take("WY");
  if (!r.digits(2)) return false;
  static constexpr std::array<Word, 3> sides{{{"L"}, {"C"}, {"R"}}};
  r.take_any(sides);
  return r.done();
}

bool is_trend(std::string_view group) {
  if (is_one_of(kTrends, group)) return true;
  Reader r{group};
  if (r.take("PROB")) return r.digits(2) && r.done();
  static constexpr std::array<Word, 3> times{{{"FM"}, {"TL"}, {"AT"}}};
  return r.take_any(times) != nullptr && (r.left() == 4 || r.left() == 6) && r.only("0123456789");
}

Likeness likeness(std::string_view group) {
  const auto starts = [group](std::string_view word) { return group.substr(0, word.size()) == word; };
  const auto ends = [group](std::string_view word) {
    return group.size() >= word.size() && group.substr(group.size() - word.size()) == word;
  };
  const bool figure_first = !group.empty() && is_digit(group.front());
  const bool slash = group.find('/') != std::string_view::npos;
  for (const SpeedUnit& unit : kSpeedUnits)
    if (ends(unit.code) && group.find_first_of("0123456789/") != std::string_view::npos) return Likeness::wind;
  if (ends("SM") && group.find_first_of("0123456789") != std::string_view::npos) return Likeness::visibility;
  for (const Amount& amount : kAmounts)
    if (starts(amount.code)) return Likeness::cloud;
  if ((starts("Q") || starts("A")) && group.size() > 1 && is_digit(group[1])) return Likeness::pressure;
  if (slash && (figure_first || (starts("M") && group.size() > 1 && is_digit(group[1])))) return Likeness::temperature;
  if (figure_first && group.size() >= 4 && is_digit(group[1]) && is_digit(group[2]) && is_digit(group[3]))
    return Likeness::visibility;
  return Likeness::none;
}

std::string_view wanted(Likeness likeness) {
  switch (likeness) {
    case Likeness::wind: return "a wind such as 30008KT, VRB02KT, 24015G25KT or 14003MPS";
    case Likeness::visibility: return "a visibility such as 4000, 9999, 1 1/2SM or P6SM";
    case Likeness::cloud: return "a cloud group such as FEW014, BKN030CB or VV002";
    case Likeness::temperature: return "temperature and dew point such as 12/M01";
    case Likeness::pressure: return "a pressure such as Q1013 or A2992";
    case Likeness::none: break;
  }
  return {};
}

bool is_known(std::string_view group) {
  return group == "CAVOK" || group == "NIL" || group == "WS" || group == "RMK" || read_wind(group) || is_swing(group) ||
         read_visibility_metres(group) || read_visibility_miles(group) || is_weather(group) || read_cloud(group) ||
         is_clear_sky(group) || read_temperature(group) || read_pressure(group) || is_passed_over(group) ||
         is_trend(group);
}

}  // namespace pappus::text::wmo
