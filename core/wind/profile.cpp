#include "core/wind/profile.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>

#include "core/base/math.hpp"
#include "core/base/refusal.hpp"

namespace pappus::wind {
namespace {

// Altitudes made of feet, or of an elevation and a height, carry rounding: a step of 150 m must not become a gap by it.
constexpr Length kRounding = 0.001 * metre;
constexpr Length kGroundTolerance = 1.0 * metre;
constexpr Length kSteerageStep = 10.0 * metre;

/// What one source says of one quantity, by height.
struct Contribution {
  Source source;
  std::vector<LadderRow> rows;  // rising, no two of one altitude
};

struct Span {
  AltitudeAmsl low, high;
};

bool allowed(const GapRule& rule, AltitudeAmsl ground, AltitudeAmsl bottom, AltitudeAmsl top) {
  const bool in_low_layer = bottom < ground + rule.low_layer_top - kRounding;
  return top - bottom <= (in_low_layer ? rule.low : rule.high) + kRounding;
}

Speed own_error(SourceKind kind) {
  switch (kind) {
    case SourceKind::pibal: return 0.5 * metre_per_second;
    case SourceKind::forecast: return 2.5 * metre_per_second;
    case SourceKind::seen:
    case SourceKind::report:
    case SourceKind::sounding: break;
  }
  return 1.0 * metre_per_second;
}

bool row_before(const LadderRow& a, const LadderRow& b) {
  const auto key = [](const LadderRow& r) {
    const Wind w = r.wind.value_or(Wind{});
    return std::tuple{r.altitude, r.wind.has_value(), w.east(), w.north(), r.temperature, r.spread};
  };
  return key(a) < key(b);
}

/// For when a source is wanted. Without a time the later of two counts, whatever their kinds.
struct Wanted {
  std::optional<Instant> time;
  Duration seen_first = kSeenFirst;
};

Duration distance(Instant a, Instant b) { return a < b ? b - a : a - b; }

bool is_seen_first(const Source& source, const Wanted& wanted) {
  return !wanted.time ||
         (source.kind != SourceKind::forecast && distance(source.time, *wanted.time) <= wanted.seen_first);
}

/// Whether `a` counts before `b`, and why. A strict order on all that a source says, so that nothing hangs on the order
/// of the inputs.
std::pair<bool, Precedence> precedes(const Contribution& a, const Contribution& b, const Wanted& wanted) {
  const Source &x = a.source, &y = b.source;
  const bool x_first = is_seen_first(x, wanted), y_first = is_seen_first(y, wanted);
  if (x_first != y_first) return {x_first, Precedence::seen};
  if (!x_first) {
    const Duration x_off = distance(x.time, *wanted.time), y_off = distance(y.time, *wanted.time);
    if (x_off != y_off) return {x_off < y_off, Precedence::time};
  }
  if (x.time != y.time) return {x.time > y.time, Precedence::time};
  if (own_error(x.kind) != own_error(y.kind)) return {own_error(x.kind) < own_error(y.kind), Precedence::error};
  const auto key = [](const Source& s) { return std::tuple{s.kind, std::string_view{s.name}}; };
  if (key(x) != key(y)) return {key(x) < key(y), Precedence::fixed};
  return {std::lexicographical_compare(a.rows.begin(), a.rows.end(), b.rows.begin(), b.rows.end(), row_before),
          Precedence::fixed};
}

// What is expected of such a source at that age, with its own error raised to what the row states.
Speed spread_of(const LadderRow& row, const Source& source, Instant wanted) {
  const Speed expected = expected_spread(source.kind, wanted - source.time);
  if (!row.spread || *row.spread <= own_error(source.kind)) return expected;
  const double expected_m_s = expected.in(metre_per_second), own_m_s = own_error(source.kind).in(metre_per_second);
  const double stated_m_s = row.spread->in(metre_per_second);
  return math::sqrt(expected_m_s * expected_m_s - own_m_s * own_m_s + stated_m_s * stated_m_s) * metre_per_second;
}

struct Merged {
  struct Serving {
    LadderRow row;
    const Source* source;
  };
  std::vector<Serving> rows;  // rising
  std::vector<Superseded> superseded;
};

/// The rows that serve: each source's own, where none that counts before it spans their altitude.
Merged merge(std::vector<Contribution>& contributions, AltitudeAmsl ground, const GapRule& rule, const Wanted& wanted) {
  std::stable_sort(contributions.begin(), contributions.end(),
                   [&](const Contribution& a, const Contribution& b) { return precedes(a, b, wanted).first; });
  struct Taken {
    Span span;
    std::size_t by;
  };
  Merged merged;
  std::vector<Taken> taken;
  for (std::size_t k = 0; k < contributions.size(); ++k) {
    const Contribution& c = contributions[k];
    const std::size_t by_others = taken.size();
    std::vector<std::optional<Span>> lost(k);  // to each of those before
    for (const LadderRow& row : c.rows) {
      const auto end = taken.begin() + static_cast<std::ptrdiff_t>(by_others);
      const auto spanned = std::find_if(taken.begin(), end, [&](const Taken& t) {
        return t.span.low <= row.altitude && row.altitude <= t.span.high;
      });
      if (spanned == end) {
        merged.rows.push_back({row, &c.source});
      } else {
        std::optional<Span>& span = lost[spanned->by];
        span = Span{span ? span->low : row.altitude, row.altitude};
      }
      if (taken.size() > by_others && allowed(rule, ground, taken.back().span.high, row.altitude))
        taken.back().span.high = row.altitude;
      else
        taken.push_back({{row.altitude, row.altitude}, k});
    }
    for (std::size_t by = 0; by < k; ++by)
      if (lost[by])
        merged.superseded.push_back({c.source, contributions[by].source, precedes(contributions[by], c, wanted).second,
                                     lost[by]->low, lost[by]->high});
  }
  std::stable_sort(merged.rows.begin(), merged.rows.end(),
                   [](const Merged::Serving& a, const Merged::Serving& b) { return a.row.altitude < b.row.altitude; });
  return merged;
}

bool is_finite(const LadderRow& row) {
  return std::isfinite(row.altitude.from_origin().in(metre)) &&
         (!row.wind || (std::isfinite(row.wind->east().in(metre_per_second)) &&
                        std::isfinite(row.wind->north().in(metre_per_second)))) &&
         (!row.temperature || std::isfinite(row.temperature->from_origin().in(kelvin))) &&
         (!row.spread || std::isfinite(row.spread->in(metre_per_second)));
}

std::string row_key(std::size_t ladder, std::size_t row) {
  return "ladders[" + std::to_string(ladder) + "].rows[" + std::to_string(row) + "]";
}

Issue not_finite(const Source& source, std::string key) {
  return Issue{Errc::bad_input, say("issue.wind_row_not_finite", {{"source", source.name}}),
               Where{{}, 0, 0, std::move(key)}, "not finite", "finite"};
}

Issue below_ground(const Source& source, AltitudeAmsl altitude, AltitudeAmsl ground, std::string key) {
  return Issue{Errc::bad_input,
               say("issue.wind_row_below_ground", {{"source", source.name},
                                                   {"altitude", measure::of(altitude)},
                                                   {"ground", measure::of(ground)},
                                                   {"below", measure::height(ground - altitude)}}),
               Where{{}, 0, 0, std::move(key)}, written(measure::of(altitude)), ">= " + written(measure::of(ground))};
}

Issue doubled(const Source& source, AltitudeAmsl altitude, std::string key) {
  return Issue{Errc::conflict,
               say("issue.wind_row_doubled", {{"source", source.name}, {"altitude", measure::of(altitude)}}),
               Where{{}, 0, 0, std::move(key)},
               written(measure::of(altitude)),
               {}};
}

// The rows of one ladder that have a wind and may serve; what may not is told.
Contribution winds_of(const Ladder& ladder, std::size_t index, AltitudeAmsl ground, std::vector<Issue>& issues) {
  struct Candidate {
    LadderRow row;
    Length below_ground;
    std::size_t written_at;
  };
  std::vector<Candidate> candidates;
  for (std::size_t i = 0; i < ladder.rows.size(); ++i) {
    const LadderRow& row = ladder.rows[i];
    if (!is_finite(row)) {
      issues.push_back(not_finite(ladder.source, row_key(index, i)));
    } else if (row.altitude < ground - kGroundTolerance) {
      issues.push_back(below_ground(ladder.source, row.altitude, ground, row_key(index, i)));
    } else if (row.wind) {
      const Length below = std::max(ground - row.altitude, Length{});
      candidates.push_back({row, below, i});
      candidates.back().row.altitude = std::max(row.altitude, ground);
    }
  }
  // Of two rows that both end up at the ground the one nearer to it counts, else the one written first.
  std::stable_sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
    return std::tie(a.row.altitude, a.below_ground, a.written_at) <
           std::tie(b.row.altitude, b.below_ground, b.written_at);
  });
  Contribution c{ladder.source, {}};
  for (const Candidate& candidate : candidates) {
    const AltitudeAmsl z = candidate.row.altitude;
    if (!c.rows.empty() && c.rows.back().altitude == z)
      issues.push_back(doubled(ladder.source, z, row_key(index, candidate.written_at)));
    else
      c.rows.push_back(candidate.row);
  }
  return c;
}

double clamped_on_line(double f, double a, double b) {
  const double v = f == 1.0 ? b : a + f * (b - a);
  return std::clamp(v, std::min(a, b), std::max(a, b));  // rounding may step over an end by one unit
}

struct Course {
  double clockwise_deg;
  AltitudeAmsl altitude;
};

}  // namespace

struct WindProfile::Between {
  std::size_t low, high;  // equal at a level, and below a lowest level that stands for the ground
  double fraction;        // of the way from low to high
};

Parsed<WindProfile> WindProfile::from(Inputs inputs) {
  Parsed<WindProfile> out;
  std::vector<Contribution> contributions;
  for (std::size_t i = 0; i < inputs.ladders.size(); ++i)
    contributions.push_back(winds_of(inputs.ladders[i], i, inputs.ground, out.issues));
  for (std::size_t i = 0; i < inputs.reports.size(); ++i) {
    const SurfaceReport& report = inputs.reports[i];
    if (!report.wind) continue;
    const LadderRow row{inputs.ground, report.wind, report.temperature};
    if (is_finite(row))
      contributions.push_back({report.source, {row}});
    else
      out.issues.push_back(not_finite(report.source, "reports[" + std::to_string(i) + "]"));
  }
  WindProfile profile;
  profile.ground_ = inputs.ground;
  profile.rule_ = inputs.rule;
  Merged merged = merge(contributions, inputs.ground, inputs.rule, {inputs.time, inputs.seen_first});
  profile.superseded_ = std::move(merged.superseded);
  for (const Merged::Serving& m : merged.rows)
    profile.levels_.push_back(
        {m.row.altitude, *m.row.wind, spread_of(m.row, *m.source, inputs.time), m.row.temperature, {*m.source}});
  out.value = std::move(profile);
  return out;
}

std::optional<WindProfile::Between> WindProfile::between(AltitudeAmsl z) const {
  if (levels_.empty() || !(z >= ground_)) return std::nullopt;
  const auto above = std::lower_bound(levels_.begin(), levels_.end(), z,
                                      [](const Level& level, AltitudeAmsl a) { return level.altitude < a; });
  if (above == levels_.end()) return std::nullopt;
  const auto high = static_cast<std::size_t>(above - levels_.begin());
  if (above->altitude == z) return Between{high, high, 0.0};
  if (high == 0) {
    if (above->altitude > ground_ + kSurfaceWindHeight + kRounding) return std::nullopt;
    return Between{0, 0, 0.0};
  }
  const AltitudeAmsl below = levels_[high - 1].altitude;
  if (!allowed(rule_, ground_, below, above->altitude)) return std::nullopt;
  return Between{high - 1, high, (z - below) / (above->altitude - below)};
}

std::optional<Wind> WindProfile::wind_at(AltitudeAmsl z) const {
  const auto b = between(z);
  if (!b) return std::nullopt;
  const Wind low = levels_[b->low].wind;
  if (b->low == b->high) return low;
  const Wind high = levels_[b->high].wind;
  const auto component = [&](Speed a, Speed c) {
    return clamped_on_line(b->fraction, a.in(metre_per_second), c.in(metre_per_second)) * metre_per_second;
  };
  return Wind::toward(component(low.east(), high.east()), component(low.north(), high.north()));
}

Result<Level> WindProfile::at(AltitudeAmsl z) const {
  const auto b = between(z);
  if (!b)
    return fail(Errc::no_data, say("issue.wind_not_known", {{"altitude", measure::of(z)}}), written(measure::of(z)));
  const Level& low = levels_[b->low];
  if (b->low == b->high) {
    Level level = low;
    level.altitude = z;
    return level;
  }
  const Level& high = levels_[b->high];
  Level level{z, *wind_at(z), std::max(low.spread, high.spread), std::nullopt, low.sources};
  if (low.temperature && high.temperature)
    level.temperature = Temperature::at(clamped_on_line(b->fraction, low.temperature->from_origin().in(kelvin),
                                                        high.temperature->from_origin().in(kelvin)) *
                                        kelvin);
  for (const Source& source : high.sources)
    if (std::find(level.sources.begin(), level.sources.end(), source) == level.sources.end())
      level.sources.push_back(source);
  return level;
}

std::vector<Gap> WindProfile::gaps(AltitudeAmsl up_to) const {
  std::vector<Gap> gaps;
  const auto add = [&](AltitudeAmsl bottom, AltitudeAmsl top) {
    if (bottom < std::min(top, up_to)) gaps.push_back({bottom, std::min(top, up_to)});
  };
  if (levels_.empty()) {
    add(ground_, up_to);
    return gaps;
  }
  if (levels_.front().altitude > ground_ + kSurfaceWindHeight + kRounding) add(ground_, levels_.front().altitude);
  for (std::size_t i = 1; i < levels_.size(); ++i)
    if (!allowed(rule_, ground_, levels_[i - 1].altitude, levels_[i].altitude))
      add(levels_[i - 1].altitude, levels_[i].altitude);
  add(levels_.back().altitude, up_to);
  return gaps;
}

std::vector<air::TemperatureLevel> temperatures_aloft(const std::vector<Ladder>& ladders, AltitudeAmsl ground,
                                                      GapRule rule, std::optional<Instant> time) {
  std::vector<Contribution> contributions;
  for (const Ladder& ladder : ladders) {
    Contribution c{ladder.source, {}};
    for (const LadderRow& row : ladder.rows)
      if (row.temperature && is_finite(row) && row.altitude > ground + kGroundTolerance) c.rows.push_back(row);
    std::stable_sort(c.rows.begin(), c.rows.end(),
                     [](const LadderRow& a, const LadderRow& b) { return a.altitude < b.altitude; });
    c.rows.erase(std::unique(c.rows.begin(), c.rows.end(),
                             [](const LadderRow& a, const LadderRow& b) { return a.altitude == b.altitude; }),
                 c.rows.end());
    contributions.push_back(std::move(c));
  }
  std::vector<air::TemperatureLevel> out;
  for (const Merged::Serving& m : merge(contributions, ground, rule, {time}).rows)
    out.push_back({m.row.altitude, *m.row.temperature});
  return out;
}

Speed expected_spread(SourceKind kind, Duration age) {
  constexpr Duration half_hour = 30.0 * minute;
  constexpr double per_half_hour_m_s = 1.5;
  constexpr Speed most = 3.5 * metre_per_second;
  const double own_m_s = own_error(kind).in(metre_per_second);
  const double x = age / half_hour;
  const double change = math::cbrt(x * x);  // |age|^(2/3)
  return std::min(most,
                  math::sqrt(own_m_s * own_m_s + per_half_hour_m_s * per_half_hour_m_s * change) * metre_per_second);
}

std::optional<Steerage> steerage(const WindProfile& profile, AltitudeAmsl low, AltitudeAmsl high) {
  if (profile.levels().empty()) return std::nullopt;
  std::vector<Course> courses;
  const auto sample = [&](AltitudeAmsl z) {
    const auto wind = profile.wind_at(z);
    // A wind typed as 1 kt comes back from its components a rounding below it.
    if (!wind || wind->speed() < (1.0 - 1e-9) * knot) return;
    if (const auto from = wind->direction_from()) courses.push_back({from->reversed().from_north().in(degree), z});
  };
  const AltitudeAmsl bottom = std::max(low, profile.ground());
  const auto walk = [&](AltitudeAmsl from, AltitudeAmsl to) {
    for (double k = std::ceil((from - bottom) / kSteerageStep); bottom + k * kSteerageStep <= to; k += 1.0)
      sample(bottom + k * kSteerageStep);
  };
  AltitudeAmsl known_from = bottom;
  for (const Gap& gap : profile.gaps(high)) {
    walk(known_from, gap.bottom);
    known_from = std::max(bottom, gap.top);
  }
  walk(known_from, high);
  if (bottom <= high) sample(high);
  if (courses.empty()) return std::nullopt;

  std::stable_sort(courses.begin(), courses.end(), [](const Course& a, const Course& b) {
    return std::tie(a.clockwise_deg, a.altitude) < std::tie(b.clockwise_deg, b.altitude);
  });
  // The smallest arc that holds all courses is what the widest empty arc leaves.
  std::size_t before_widest = courses.size() - 1;
  double widest = courses.front().clockwise_deg + 360.0 - courses.back().clockwise_deg;
  for (std::size_t i = 0; i + 1 < courses.size(); ++i) {
    const double empty = courses[i + 1].clockwise_deg - courses[i].clockwise_deg;
    if (empty > widest) {
      widest = empty;
      before_widest = i;
    }
  }
  const Course left = courses[(before_widest + 1) % courses.size()];
  const Course& last = courses[before_widest];
  const Course right = *std::find_if(courses.begin(), courses.end(),
                                     [&](const Course& c) { return c.clockwise_deg == last.clockwise_deg; });
  return Steerage{TrueBearing::at(left.clockwise_deg * degree), TrueBearing::at(right.clockwise_deg * degree),
                  left.altitude, right.altitude, wrapped((right.clockwise_deg - left.clockwise_deg) * degree)};
}

}  // namespace pappus::wind
