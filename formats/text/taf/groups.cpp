#include "formats/text/taf/groups.hpp"

#include <algorithm>
#include <array>
#include <cstddef>

#include "formats/text/metar/groups.hpp"
#include "formats/text/metar/pasted.hpp"
#include "formats/text/metar/reader.hpp"

namespace pappus::text::wmo {
namespace {

bool is_hour(const ForecastMoment& m) {
  return m.hour <= 24 && m.minute <= 59 && (m.hour < 24 || m.minute == 0) && (!m.day || (*m.day >= 1 && *m.day <= 31));
}

std::optional<ForecastMoment> checked(const ForecastMoment& m) { return is_hour(m) ? std::optional{m} : std::nullopt; }

// ddhh, or hh where `day` is false.
std::optional<ForecastMoment> take_hour(Reader& r, bool day) {
  ForecastMoment moment;
  if (day) {
    moment.day = r.digits(2, true);
    if (!moment.day) return std::nullopt;
  }
  const std::optional<int> hour = r.digits(2, true);
  if (!hour) return std::nullopt;
  moment.hour = *hour;
  return checked(moment);
}

std::optional<ForecastSpan> span_of(std::optional<ForecastMoment> from, std::optional<ForecastMoment> to) {
  return from && to ? std::optional{ForecastSpan{*from, *to}} : std::nullopt;
}

struct Change {
  std::string_view code;
  wind::PeriodKind kind;
};
constexpr std::array<Change, 3> kChanges{
    {{"BECMG", wind::PeriodKind::becoming}, {"TEMPO", wind::PeriodKind::tempo}, {"INTER", wind::PeriodKind::inter}}};

constexpr std::array<Word, 7> kPhrases{{{"AMD"}, {"AMDS"}, {"NXT"}, {"NEXT"}, {"LAST"}, {"LTD"}, {"FCST"}}};

bool is_six_figures(std::string_view group, char kind) {
  return group.size() == 6 && group[0] == kind && is_figures(group);
}

}  // namespace

std::optional<ForecastSpan> read_span(std::string_view group) {
  Reader r{group};
  if (group.size() != 9) return std::nullopt;
  const auto from = take_hour(r, true);
  if (!r.take("/")) return std::nullopt;
  const auto to = take_hour(r, true);
  return r.done() ? span_of(from, to) : std::nullopt;
}

std::optional<ForecastSpan> read_old_validity(std::string_view group) {
  Reader r{group};
  if (group.size() != 6 || !is_figures(group)) return std::nullopt;
  const auto from = take_hour(r, true);
  const auto to = take_hour(r, false);
  return span_of(from, to);
}

std::optional<ForecastSpan> read_old_span(std::string_view group) {
  Reader r{group};
  if (group.size() != 4 || !is_figures(group)) return std::nullopt;
  const auto from = take_hour(r, false);
  const auto to = take_hour(r, false);
  return span_of(from, to);
}

std::optional<FromGroup> read_from(std::string_view group) {
  Reader r{group};
  if (!r.take("FM") || r.digits_ahead() == 0) return std::nullopt;
  ForecastMoment moment;
  const std::size_t digits = r.digits_ahead();
  if (digits == 6) moment.day = r.digits(2, true);
  if (digits == 6 || digits == 4) {
    moment.hour = *r.digits(2, true);
    moment.minute = *r.digits(2, true);
  }
  r.take("Z");
  const bool is_read = (digits == 6 || digits == 4) && r.done();
  return FromGroup{is_read ? checked(moment) : std::nullopt};
}

std::optional<ProbabilityGroup> read_probability(std::string_view group) {
  Reader r{group};
  if (!r.take("PROB") || (!r.done() && r.digits_ahead() == 0)) return std::nullopt;
  const std::optional<int> percent = r.digits(2);
  return ProbabilityGroup{r.done() ? percent : std::nullopt};
}

std::optional<wind::PeriodKind> read_change(std::string_view group) {
  for (const Change& change : kChanges)
    if (change.code == group) return change.kind;
  return std::nullopt;
}

bool is_bad_span(std::string_view group) {
  Reader r{group};
  return r.digits_ahead() >= 3 && r.only("0123456789/") && group.find('/') != std::string_view::npos &&
         !read_span(group);
}

bool is_change(std::string_view group) { return read_change(group) || read_from(group) || read_probability(group); }

std::optional<ExtremeGroup> read_extreme(std::string_view group) {
  Reader r{group};
  ExtremeGroup extreme;
  extreme.highest = r.take("TX");
  if (!extreme.highest && !r.take("TN")) return std::nullopt;
  const bool minus = r.take("M");
  const std::optional<int> degrees = r.digits(2);
  if (!degrees || !r.take("/")) return std::nullopt;
  extreme.temperature_c = minus ? 0.0 - *degrees : 0.0 + *degrees;
  const auto at = take_hour(r, r.digits_ahead() == 4);
  r.take("Z");
  if (!at || !r.done()) return std::nullopt;
  extreme.at = *at;
  return extreme;
}

std::optional<ShearGroup> read_shear(std::string_view group) {
  if (group == "WSCONDS") return ShearGroup{};
  Reader r{group};
  ShearGroup shear;
  if (!r.take("WS")) return std::nullopt;
  shear.hundreds_of_feet = r.digits(3);
  if (!shear.hundreds_of_feet || !r.take("/")) return std::nullopt;
  const std::size_t digits = r.digits_ahead();
  shear.direction_deg = r.digits(3, true);
  shear.speed = r.number(2, 3);
  if (digits < 5 || !shear.speed) return std::nullopt;
  struct Unit {
    std::string_view code;
    Speed unit;
  };
  static constexpr std::array<Unit, 3> units{{{"KT", knot}, {"MPS", metre_per_second}, {"KMH", kilometre_per_hour}}};
  const Unit* unit = r.take_any(units);
  if (unit == nullptr || !r.done()) return std::nullopt;
  shear.unit = unit->unit;
  return shear;
}

std::optional<Pressure> read_lowest_qnh(std::string_view group) {
  Reader r{group};
  if (!r.take("QNH")) return std::nullopt;
  const std::optional<int> hundredths = r.digits(4);
  if (!hundredths || !r.take("INS") || !r.done()) return std::nullopt;
  return *hundredths * (0.01 * inch_of_mercury);
}

bool is_icing(std::string_view group) { return is_six_figures(group, '6'); }
bool is_turbulence(std::string_view group) { return is_six_figures(group, '5'); }

std::vector<std::string> read_weather(std::string_view group) {
  std::vector<std::string> parts(1);
  for (std::size_t i = 0; i < group.size(); ++i) {
    const bool sign = group[i] == '-' || group[i] == '+' || group.substr(i, 2) == "VC";
    if (group[i] == '/' || (sign && !parts.back().empty())) parts.emplace_back();
    if (group[i] != '/') parts.back() += group[i];
  }
  const bool all = std::all_of(parts.begin(), parts.end(), [](const std::string& part) { return is_weather(part); });
  return all ? parts : std::vector<std::string>{};
}

bool is_phrase(std::string_view group) {
  return std::any_of(kPhrases.begin(), kPhrases.end(), [group](const Word& word) { return word.code == group; });
}

ForecastLikeness forecast_likeness(std::string_view group) {
  const auto starts = [group](std::string_view word) { return group.substr(0, word.size()) == word; };
  const bool figures = std::any_of(group.begin(), group.end(), is_digit);
  if (figures && starts("WS")) return ForecastLikeness::shear;
  if (figures && (starts("QNH") || starts("QHN"))) return ForecastLikeness::pressure;
  if (figures && (starts("TX") || starts("TN"))) return ForecastLikeness::extreme;
  return ForecastLikeness::none;
}

bool is_known_in_forecast(std::string_view group) {
  return is_known(group) || is_change(group) || read_span(group) || read_extreme(group) || read_shear(group) ||
         read_lowest_qnh(group) || is_icing(group) || is_turbulence(group) || group == "NSW" || group == "CNL" ||
         !read_weather(group).empty();
}

}  // namespace pappus::text::wmo
