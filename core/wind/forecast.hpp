/// What a forecast for one place says, period by period, and what it says at worst between two moments.
///
/// A forecast is a base state that later statements replace (`from`, `becoming`), and states that may come and go
/// beside it (`tempo`, `prob`, `prob_tempo`, `inter`). Nothing here makes a forecast better than it was sent: where two
/// readings are possible both count, what was not understood is named, and outside its validity nothing is known.
///
/// Source    WMO-No. 306 volume I.1, FM 51 TAF, for the meaning of the change indicators.
#pragma once
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/describe.hpp"
#include "core/base/instant.hpp"
#include "core/base/issue.hpp"
#include "core/base/quantity.hpp"
#include "core/wind/observation.hpp"

namespace pappus::wind {

enum class PeriodKind {
  base,        // holds from the start
  from,        // replaces everything at one moment
  becoming,    // replaces what it names, at some moment between its two
  tempo,       // comes and goes: at most an hour at a time, less than half of the period in all
  prob,        // with the probability given
  prob_tempo,  // with the probability given, coming and going
  inter,       // comes and goes: at most half an hour at a time (Australia)
};

/// A shear layer near the ground that no thunderstorm makes: the wind at its top.
struct WindShear {
  std::optional<HeightAgl> height;  // both absent: conditions for shear, without figures
  std::optional<Wind> wind;
};

/// What one period says. In a base or from period a quantity that is absent is not known (weather: none is forecast);
/// in the others it stays as it was.
struct ForecastPeriod {
  PeriodKind kind = PeriodKind::base;
  std::optional<int> probability;  // percent
  /// Base and from: until the next from, or the end. Becoming: the change begins and is complete.
  Instant from, to;
  /// False where the moments of the period could not be read: `from` and `to` are then those of the forecast, and the
  /// period counts throughout.
  bool times_known = true;
  std::optional<Wind> wind;         // absent where it is variable
  std::optional<Speed> wind_speed;  // absent: the period says no wind
  std::optional<Speed> gust;
  bool wind_variable = false;
  std::optional<Length> visibility;
  bool visibility_at_least = false, visibility_below = false;
  std::vector<CloudLayer> clouds;
  bool sky_clear = false;            // no cloud of significance: CAVOK, NSC, SKC, CLR
  std::vector<std::string> weather;  // as written: "-SHRA", "VCTS"
  bool weather_ends = false;         // CAVOK, NSW
  std::vector<WindShear> shear;
  std::vector<std::string> icing, turbulence;  // groups 6xxxxx and 5xxxxx, as written
  std::optional<Pressure> lowest_qnh;
  std::vector<std::string> not_read;  // what could not be understood, as written
  std::string text;                   // the period as found
};

/// The highest or lowest temperature forecast, and when.
struct ForecastTemperature {
  bool highest = true;
  Temperature temperature;
  Instant at;
};

/// A forecast for one aerodrome.
struct Forecast {
  std::string station;
  Instant issued;
  Instant valid_from, valid_to;  // both `issued` where a cancelled or missing forecast names no times
  bool amended = false, corrected = false;
  bool cancelled = false;               // takes back what was issued before; says nothing itself
  bool nil = false;                     // no forecast was made
  std::vector<ForecastPeriod> periods;  // in the order written; first the base, unless cancelled or nil
  std::vector<ForecastTemperature> temperatures;
  std::string text;  // the forecast as found
};

/// The worst of several states, each quantity taken alone: strongest wind and lowest cloud need not come together.
struct Expected {
  std::vector<std::size_t> periods;  // indices of those that count, rising
  std::optional<Speed> wind_speed;   // strongest mean wind
  std::optional<Speed> gust;         // strongest gust; absent where none is forecast
  bool wind_variable = false;
  std::optional<Length> visibility;  // lowest
  bool visibility_at_least = false, visibility_below = false;
  /// Of the lowest layer, whatever its amount. Absent with `clouds_known`: no cloud of significance is forecast.
  std::optional<HeightAgl> cloud_base;
  std::optional<HeightAgl> ceiling;  // of the lowest broken or overcast layer, or the vertical visibility
  bool convective = false;           // CB or TCU
  std::vector<std::string> weather;  // every group once, the worst first
  bool thunderstorm = false;         // also in the vicinity
  std::vector<WindShear> shear;
  std::vector<std::string> icing, turbulence;
  std::vector<std::string> not_read;
  /// Whether every state that counts gives the quantity, with its figures. Where not, the value is that of the others.
  /// For temporary states, which need not name every quantity: whether none names it without figures.
  bool wind_known = true, visibility_known = true, clouds_known = true;
  /// Whether the moments of all periods that count were read.
  bool times_known = true;

  /// Whether nothing is missing: only then may a quiet answer be taken for one.
  [[nodiscard]] bool is_complete() const {
    return wind_known && visibility_known && clouds_known && times_known && not_read.empty();
  }
};

struct Outlook {
  Instant from, to;     // the part of the interval asked for that the forecast covers
  bool whole = true;    // that part is all of it: where not, nothing is known of the rest
  Expected prevailing;  // base, from and becoming
  Expected temporary;   // tempo, prob, prob_tempo and inter: what may come and go beside it
};

/// What the forecast says at worst between two moments, both included.
///
/// Prevailing  each quantity (wind with its gust, visibility, cloud, weather, shear, and what else is named) is
///           followed alone. The base holds from the start of the validity. A from period ends every earlier
///           statement at its moment. A becoming period counts from its first moment; at its second it ends the earlier
///           statements of the quantities that it names, and before that both count. Earlier means: begun earlier; at
///           the same moment, a from period precedes a becoming one; neither ends another of its own kind. A statement
///           no longer counts at the moment that ends it. Weather that no period ends goes on. What could not be read
///           in a statement counts until a from period. A statement whose moments were not read counts throughout and
///           ends nothing.
/// Temporary a state counts from its first moment to its last, both included.
/// Validity  both ends belong to it. Nothing is said of a moment outside: `whole` is false.
/// Weather   the order is ours, by what it does to a balloon: thunderstorm, squall and funnel cloud; freezing or solid
///           precipitation, dust and sand storm, ash; heavy or showery precipitation; other precipitation and fog; the
///           rest.
/// Laws      a longer interval is never better: no wind or gust is weaker, no visibility, cloud base or ceiling higher,
///           no weather, shear or doubt missing; two adjoining intervals together say what the one over both says.
/// Errors    bad_call "issue.forecast_interval" where `to` lies before `from`; no_data "issue.forecast_cancelled",
///           "issue.forecast_nil" (also for a forecast without a base), "issue.forecast_outside" (no moment of the
///           interval lies in the validity).
[[nodiscard]] Result<Outlook> worst_between(const Forecast& forecast, Instant from, Instant to);

}  // namespace pappus::wind

namespace pappus {
template <>
struct Names<wind::PeriodKind> {
  static constexpr std::array<std::pair<wind::PeriodKind, std::string_view>, 7> all{
      {{wind::PeriodKind::base, "base"},
       {wind::PeriodKind::from, "from"},
       {wind::PeriodKind::becoming, "becoming"},
       {wind::PeriodKind::tempo, "tempo"},
       {wind::PeriodKind::prob, "prob"},
       {wind::PeriodKind::prob_tempo, "prob_tempo"},
       {wind::PeriodKind::inter, "inter"}}};
};
}  // namespace pappus
