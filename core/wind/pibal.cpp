// Notation: t time since release s, z height m, v rise rate m/s, eps elevation, alpha azimuth, p place (east, north) m,
// w wind m/s, f relative error of the rise rate, sigma_ one standard deviation.
#include "core/wind/pibal.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <utility>

#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::wind::pibal {
namespace {

constexpr double kExponent = 0.208;
constexpr double kComputedSigma = 0.10, kExtrapolatedSigma = 0.15, kDefaultSigma = 0.15;

// Of the handbook's table; a typed 7.77 g must not fall outside by a rounding.
constexpr double kEdge = 1e-9;
constexpr Length kTableSmallest = 9.0 * inch, kTableLargest = 18.0 * inch;
constexpr Mass kTableLightest = 2.5 * gram, kTableHeaviest = 7.77 * gram;

struct Vector {
  double east = 0.0, north = 0.0;
};
Vector operator+(Vector a, Vector b) { return {a.east + b.east, a.north + b.north}; }
Vector operator-(Vector a, Vector b) { return {a.east - b.east, a.north - b.north}; }
Vector operator*(double k, Vector a) { return {k * a.east, k * a.north}; }
double dot(Vector a, Vector b) { return a.east * b.east + a.north * b.north; }
double length(Vector a) { return math::hypot(a.east, a.north); }

/// A symmetric 2 x 2 matrix.
struct Covariance {
  double ee = 0.0, en = 0.0, nn = 0.0;
  [[nodiscard]] double trace() const { return ee + nn; }
};
Covariance operator+(Covariance a, Covariance b) { return {a.ee + b.ee, a.en + b.en, a.nn + b.nn}; }
Covariance operator*(double k, Covariance a) { return {k * a.ee, k * a.en, k * a.nn}; }
Covariance along(Vector v) { return {v.east * v.east, v.east * v.north, v.north * v.north}; }
/// r in standard deviations of c, squared; none where c has no inverse.
std::optional<double> squared_deviations(Vector r, Covariance c) {
  const double determinant = c.ee * c.nn - c.en * c.en;
  if (!(determinant > 0.0)) return std::nullopt;
  return (c.nn * r.east * r.east - 2.0 * c.en * r.east * r.north + c.ee * r.north * r.north) / determinant;
}

/// One call with both angles and a distance: a place.
struct Sight {
  double t_s = 0.0, z_m = 0.0;
  Vector p_m;
  Covariance angles_m2;  // without timing, which needs the wind
  Covariance all_m2;
};

struct Reader {
  const Ascent& ascent;
  double v_m_s;
  std::vector<Issue> issues;
  std::vector<Flag> flags;
  std::vector<Sight> sights;  // rising; the first is the release

  void flag(FlagKind kind, std::optional<Duration> at, Sentence sentence) {
    flags.push_back({kind, at, std::move(sentence)});
  }
};

std::string key_of(std::size_t call, const char* field) { return "calls[" + std::to_string(call) + "]." + field; }

Issue issue_at(Errc code, std::string key, Sentence sentence, std::string got, std::string wanted) {
  return Issue{code, std::move(sentence), Where{{}, 0, 0, std::move(key)}, std::move(got), std::move(wanted)};
}

bool is_finite(const Call& call) {
  const auto azimuth_is_finite = [](const auto& bearing) { return std::isfinite(bearing.from_north().in(degree)); };
  return std::isfinite(call.since_release.in(second)) &&
         (!call.azimuth || std::visit(azimuth_is_finite, *call.azimuth)) &&
         (!call.elevation || std::isfinite(call.elevation->in(degree)));
}

// A call is known by its second: a duration would be told in whole minutes from two minutes on.
Measure called_at(Duration since_release) { return measure::count(since_release.in(second)); }

bool is_positive(double x) { return std::isfinite(x) && x > 0.0; }

/// What makes a reduction impossible as a whole.
std::vector<Issue> refusals(const Ascent& ascent) {
  std::vector<Issue> out;
  const double v_m_s = ascent.rise.rate.in(metre_per_second), sigma = ascent.rise.relative_sigma;
  if (!is_positive(v_m_s))
    out.push_back(issue_at(Errc::bad_input, "rise.rate", say("issue.pibal_rise_rate"),
                           written(measure::vertical(ascent.rise.rate)), "> 0"));
  if (!(sigma >= 0.0 && sigma < 1.0))
    out.push_back(issue_at(Errc::bad_input, "rise.relative_sigma", say("issue.pibal_rise_rate_sigma"),
                           written(measure::ratio(sigma)), "0 .. 1"));
  const Errors& e = ascent.errors;
  if (!is_positive(e.compass.in(degree)) || !is_positive(e.clinometer.in(degree)) ||
      !(std::isfinite(e.call.in(second)) && e.call >= Duration{}))
    out.push_back(issue_at(Errc::bad_input, "errors", say("issue.pibal_errors"), {}, "> 0"));
  if (!ascent.variation)
    for (std::size_t i = 0; i < ascent.calls.size(); ++i)
      if (ascent.calls[i].azimuth && std::holds_alternative<MagneticBearing>(*ascent.calls[i].azimuth)) {
        out.push_back(issue_at(Errc::no_data, key_of(i, "azimuth"), say("issue.pibal_no_variation"), {}, {}));
        break;
      }
  return out;
}

/// The calls that say something, by time; what cannot be is told.
std::vector<std::pair<std::size_t, Call>> sorted_calls(Reader& r) {
  std::vector<std::pair<std::size_t, Call>> calls;
  Duration latest;
  for (std::size_t i = 0; i < r.ascent.calls.size(); ++i) {
    const Call& call = r.ascent.calls[i];
    if (!is_finite(call)) {
      r.issues.push_back(issue_at(Errc::bad_input, key_of(i, "since_release"), say("issue.pibal_call_not_finite"),
                                  "not finite", "finite"));
    } else if (!(call.since_release > Duration{})) {
      r.issues.push_back(issue_at(Errc::bad_input, key_of(i, "since_release"),
                                  say("issue.pibal_call_time", {{"time", called_at(call.since_release)}}),
                                  written(measure::of(call.since_release)), "> 0"));
    } else if (call.elevation && !(-90.0 * degree < *call.elevation && *call.elevation < 90.0 * degree)) {
      r.issues.push_back(issue_at(Errc::bad_input, key_of(i, "elevation"),
                                  say("issue.pibal_elevation", {{"time", called_at(call.since_release)}}),
                                  written(measure::of(*call.elevation)), "-90 .. 90"));
    } else {
      if (call.since_release < latest)
        r.issues.push_back(issue_at(
            Errc::bad_input, key_of(i, "since_release"),
            say("issue.pibal_call_order", {{"time", called_at(call.since_release)}, {"latest", called_at(latest)}}),
            written(measure::of(call.since_release)), "> " + written(measure::of(latest))));
      latest = std::max(latest, call.since_release);
      calls.emplace_back(i, call);
    }
  }
  std::stable_sort(calls.begin(), calls.end(),
                   [](const auto& a, const auto& b) { return a.second.since_release < b.second.since_release; });
  // Two calls of one time contradict each other, and nothing says which is right.
  std::vector<std::pair<std::size_t, Call>> single;
  for (std::size_t i = 0; i < calls.size();) {
    std::size_t end = i + 1;
    while (end < calls.size() && calls[end].second.since_release == calls[i].second.since_release) ++end;
    if (end == i + 1) {
      single.push_back(calls[i]);
    } else {
      const Duration at = calls[i].second.since_release;
      r.issues.push_back(issue_at(Errc::conflict, key_of(calls[i + 1].first, "since_release"),
                                  say("issue.pibal_call_doubled", {{"time", called_at(at)}}), written(measure::of(at)),
                                  {}));
    }
    i = end;
  }
  return single;
}

double true_azimuth_rad(const Ascent& ascent, const Azimuth& azimuth) {
  const TrueBearing* from_true = std::get_if<TrueBearing>(&azimuth);
  const TrueBearing bearing =
      from_true != nullptr ? *from_true : to_true(std::get<MagneticBearing>(azimuth), *ascent.variation);
  return bearing.from_north().in(radian);
}

Sight sight_of(const Reader& r, double t_s, double alpha_rad, double eps_rad) {
  const double sigma_eps = r.ascent.errors.clinometer.in(radian), sigma_alpha = r.ascent.errors.compass.in(radian);
  const double sin_eps = math::sin(eps_rad);
  const double z_m = r.v_m_s * t_s, d_m = z_m / math::tan(eps_rad);
  const Vector outward{math::sin(alpha_rad), math::cos(alpha_rad)};
  const Vector across{outward.north, -outward.east};
  const double sigma_distance_m = z_m * sigma_eps / (sin_eps * sin_eps);
  const Covariance angles = along(sigma_distance_m * outward) + along(d_m * sigma_alpha * across);
  return {t_s, z_m, d_m * outward, angles, angles};
}

/// The balloon seems to sink: with the wind of the layer below it would have come down since the call before.
void look_for_dive(Reader& r, const Sight& below, const Sight& last, double t_s, double eps_rad) {
  const double ahead = (t_s - last.t_s) / (last.t_s - below.t_s);
  const Vector expected = last.p_m + ahead * (last.p_m - below.p_m);
  const double d_m = length(expected), cos_eps = math::cos(eps_rad), slope = math::tan(eps_rad);
  const double sigma_d_m =
      math::sqrt(((1.0 + ahead) * (1.0 + ahead) * last.angles_m2 + (ahead * ahead) * below.angles_m2).trace());
  const double sigma_z_m =
      math::hypot(d_m * r.ascent.errors.clinometer.in(radian) / (cos_eps * cos_eps), slope * sigma_d_m);
  const double z_m = slope * d_m;
  if (z_m + r.ascent.thresholds.significant * sigma_z_m >= last.z_m) return;
  const Duration at = t_s * second;
  r.flag(FlagKind::climbs_then_dives, at,
         say("pibal.flag.climbs_then_dives", {{"time", called_at(at)},
                                              {"before", measure::height(last.z_m * metre)},
                                              {"after", measure::height(std::max(z_m, 0.0) * metre)}}));
}

/// Fills the sights, from the release up, and flags what single calls show.
void take_sights(Reader& r) {
  const Thresholds& limit = r.ascent.thresholds;
  r.sights.push_back({});
  bool first_elevation = true;
  for (const auto& [index, call] : sorted_calls(r)) {
    const Measure time = called_at(call.since_release);
    if (call.elevation) {
      const Measure elevation = measure::of(*call.elevation);
      if (first_elevation && *call.elevation < limit.rolling)
        r.flag(FlagKind::rolls, call.since_release,
               say("pibal.flag.rolls", {{"time", time}, {"elevation", elevation}}));
      if (first_elevation && r.ascent.obstacles && *call.elevation < *r.ascent.obstacles)
        r.flag(FlagKind::fails_to_clear, call.since_release,
               say("pibal.flag.fails_to_clear",
                   {{"time", time}, {"elevation", elevation}, {"obstacles", measure::of(*r.ascent.obstacles)}}));
      first_elevation = false;
      const std::size_t n = r.sights.size();
      if (n >= 2)
        look_for_dive(r, r.sights[n - 2], r.sights[n - 1], call.since_release.in(second), call.elevation->in(radian));
    }
    if (!call.elevation || !call.azimuth) {
      r.flag(FlagKind::call_lost, call.since_release, say("pibal.flag.call_lost", {{"time", time}}));
      continue;
    }
    if (*call.elevation < limit.low_elevation) {
      r.flag(FlagKind::low_elevation, call.since_release,
             say("pibal.flag.low_elevation", {{"time", time},
                                              {"elevation", measure::of(*call.elevation)},
                                              {"bound", measure::of(limit.low_elevation)}}));
      continue;
    }
    if (*call.elevation > limit.near_overhead)
      r.flag(FlagKind::near_overhead, call.since_release,
             say("pibal.flag.near_overhead", {{"time", time}, {"elevation", measure::of(*call.elevation)}}));
    r.sights.push_back(sight_of(r, call.since_release.in(second), true_azimuth_rad(r.ascent, *call.azimuth),
                                call.elevation->in(radian)));
  }
}

/// Angles read late show a place further on, on a height taken too low: p moves by (w - p / t) for every second.
void add_timing(std::vector<Sight>& sights, double sigma_t_s) {
  for (std::size_t i = 1; i < sights.size(); ++i) {
    const Sight& before = sights[i - 1];
    const Sight& after = sights[std::min(i + 1, sights.size() - 1)];
    const Vector w = (1.0 / (after.t_s - before.t_s)) * (after.p_m - before.p_m);
    const Vector per_second = w - (1.0 / sights[i].t_s) * sights[i].p_m;
    sights[i].all_m2 = sights[i].angles_m2 + along(sigma_t_s * per_second);
  }
}

/// By how much sight k misses the straight way through sights a and b, where the wind would not change.
struct Miss {
  Vector r_m;
  double squared = 0.0;  // in standard deviations
};
Miss miss_of_line(const Reader& r, const Sight& k, const Sight& a, const Sight& b) {
  const double f = (k.t_s - a.t_s) / (b.t_s - a.t_s);  // p_k = (1 - f) p_a + f p_b
  const Vector r_m = k.p_m - ((1.0 - f) * a.p_m + f * b.p_m);
  // Between the middles of the two stretches the wind may change; the change acts over f (1 - f) of the time.
  const double apart_m = 0.5 * (std::max({k.z_m, a.z_m, b.z_m}) - std::min({k.z_m, a.z_m, b.z_m}));
  const double wind_change_m = r.ascent.thresholds.shear_per_s * apart_m * f * (1.0 - f) * (b.t_s - a.t_s);
  const double v = wind_change_m * wind_change_m;
  const Covariance s = k.all_m2 + (1.0 - f) * (1.0 - f) * a.all_m2 + (f * f) * b.all_m2 + Covariance{v, 0.0, v};
  return {r_m, squared_deviations(r_m, s).value_or(0.0)};
}

/// How far sight k is from the ways of its neighbours, in standard deviations squared; 0 where they do not all speak
/// against it. Where the wind changes at k, the ways of the two before and of the two after lead to it.
double doubt_about(const Reader& r, std::size_t k) {
  const std::vector<Sight>& s = r.sights;
  const double bound = r.ascent.thresholds.doubtful * r.ascent.thresholds.doubtful;
  const Miss between = miss_of_line(r, s[k], s[k - 1], s[k + 1]);
  if (between.squared < bound) return 0.0;
  const bool has_before = k >= 2, has_after = k + 2 < s.size();
  if (!has_before && !has_after) return 0.0;
  // One witness alone must be as sure; of two, each may be less.
  const double witness = has_before && has_after ? bound / 4.0 : bound;
  const auto agrees = [&](const Sight& near, const Sight& far) {
    const Miss m = miss_of_line(r, s[k], near, far);
    return m.squared > witness && dot(m.r_m, between.r_m) > 0.5 * length(m.r_m) * length(between.r_m);
  };
  if (has_before && !agrees(s[k - 1], s[k - 2])) return 0.0;
  if (has_after && !agrees(s[k + 1], s[k + 2])) return 0.0;
  return between.squared;
}

/// Takes out calls that fit neither side, the worst first.
void drop_doubtful(Reader& r) {
  for (;;) {
    add_timing(r.sights, r.ascent.errors.call.in(second));
    std::size_t worst = 0;
    double worst_squared = 0.0;
    for (std::size_t k = 1; k + 1 < r.sights.size(); ++k) {
      const double squared = doubt_about(r, k);
      if (squared > worst_squared) {
        worst = k;
        worst_squared = squared;
      }
    }
    if (worst == 0) return;
    const Duration at = r.sights[worst].t_s * second;
    r.flag(FlagKind::call_doubtful, at,
           say("pibal.flag.call_doubtful",
               {{"time", called_at(at)}, {"deviations", measure::number(math::sqrt(worst_squared))}}));
    r.sights.erase(r.sights.begin() + static_cast<std::ptrdiff_t>(worst));
  }
}

Vector wind_between(const Fix& a, const Fix& b) {
  const double dt_s = (b.since_release - a.since_release).in(second);
  return {(b.east - a.east).in(metre) / dt_s, (b.north - a.north).in(metre) / dt_s};
}

Wind as_wind(Vector w) { return Wind::toward(w.east * metre_per_second, w.north * metre_per_second); }

double random_variance(const Fix& a, const Fix& b) {
  const double dt_s = (b.since_release - a.since_release).in(second);
  const Area sum = a.east_east + a.north_north + b.east_east + b.north_north;
  return sum.in(square_metre) / (dt_s * dt_s);
}

/// The change of the wind by height about fixes i .. j, and its variance, from the fixes on either side.
struct Gradient {
  Vector per_s;
  double variance = 0.0;
};
std::optional<Gradient> gradient_about(const std::vector<Fix>& fixes, std::size_t i, std::size_t j) {
  const std::size_t low = i == 0 ? 0 : i - 1, high = std::min(j + 1, fixes.size() - 1);
  // Of the layers below and above where there are such, else of this one and its one neighbour.
  const std::size_t below_top = i == 0 ? j : i, above_bottom = j + 1 == fixes.size() ? i : j;
  if (low == i && high == j) return std::nullopt;
  const Fix &a = fixes[low], &b = fixes[below_top], &c = fixes[above_bottom], &d = fixes[high];
  const double apart_m = 0.5 * ((c.height - a.height) + (d.height - b.height)).in(metre);
  const Vector change = wind_between(c, d) - wind_between(a, b);
  return Gradient{(1.0 / apart_m) * change, (random_variance(a, b) + random_variance(c, d)) / (apart_m * apart_m)};
}

/// With the rise rate wrong by f, the layer's wind is wrong by f (z dw/dz - w): it is scaled, and stands at a wrong
/// height. What of the gradient is no more than its own error is left to the random part.
Speed spread_of(const std::vector<Fix>& fixes, std::size_t i, std::size_t j, double sigma_f) {
  const double z_m = 0.5 * (fixes[i].height.from_origin() + fixes[j].height.from_origin()).in(metre);
  Vector systematic = -1.0 * wind_between(fixes[i], fixes[j]);
  if (const auto g = gradient_about(fixes, i, j)) {
    const double squared = dot(g->per_s, g->per_s);
    if (squared > g->variance) systematic = systematic + (z_m * math::sqrt(1.0 - g->variance / squared)) * g->per_s;
  }
  return math::sqrt(random_variance(fixes[i], fixes[j]) + sigma_f * sigma_f * dot(systematic, systematic)) *
         metre_per_second;
}

void add_kind(std::vector<FlagKind>& kinds, FlagKind kind) {
  if (std::find(kinds.begin(), kinds.end(), kind) == kinds.end()) kinds.push_back(kind);
}

void look_for_jumps(Reader& r, const std::vector<Fix>& fixes, std::vector<Layer>& layers) {
  const Thresholds& limit = r.ascent.thresholds;
  for (std::size_t i = 1; i < layers.size(); ++i) {
    const Wind low = layers[i - 1].wind, high = layers[i].wind;
    const Vector change = wind_between(fixes[i], fixes[i + 1]) - wind_between(fixes[i - 1], fixes[i]);
    const double sigma_m_s =
        math::sqrt(random_variance(fixes[i - 1], fixes[i]) + random_variance(fixes[i], fixes[i + 1]));
    if (length(change) < limit.significant * sigma_m_s) continue;
    const Duration at = fixes[i].since_release;
    const Measure height = measure::of(layers[i].bottom);
    const Speed faster = abs(high.speed() - low.speed());
    if (faster > limit.speed_jump && faster.in(metre_per_second) > limit.significant * sigma_m_s) {
      add_kind(layers[i].flags, FlagKind::jumps_in_speed);
      r.flag(FlagKind::jumps_in_speed, at,
             say("pibal.flag.jumps_in_speed",
                 {{"height", height}, {"below", measure::wind(low.speed())}, {"above", measure::wind(high.speed())}}));
    }
    if (low.speed() < limit.direction_matters || high.speed() < limit.direction_matters) continue;
    const Angle turn = *high.direction_from() - *low.direction_from();
    if (turn > limit.direction_jump || -turn > limit.direction_jump) {
      add_kind(layers[i].flags, FlagKind::jumps_in_direction);
      r.flag(FlagKind::jumps_in_direction, at,
             say("pibal.flag.jumps_in_direction", {{"height", height},
                                                   {"below", measure::of(*low.direction_from())},
                                                   {"above", measure::of(*high.direction_from())}}));
    }
  }
}

/// A layer carries the flags of the calls that it rests on or reaches across.
void mark_layers(const std::vector<Flag>& flags, const std::vector<Fix>& fixes, std::vector<Layer>& layers) {
  for (const Flag& flag : flags) {
    if (!flag.at || flag.kind == FlagKind::jumps_in_speed || flag.kind == FlagKind::jumps_in_direction) continue;
    for (std::size_t i = 0; i < layers.size(); ++i)
      if (fixes[i].since_release < *flag.at && *flag.at <= fixes[i + 1].since_release)
        add_kind(layers[i].flags, flag.kind);
  }
  for (Layer& layer : layers) std::stable_sort(layer.flags.begin(), layer.flags.end());
}

Sentence seen_sentence(FlagKind kind) {
  switch (kind) {
    case FlagKind::rolls: return say("pibal.seen.rolls");
    case FlagKind::fails_to_clear: return say("pibal.seen.fails_to_clear");
    case FlagKind::climbs_then_dives: return say("pibal.seen.climbs_then_dives");
    case FlagKind::jumps_in_speed: return say("pibal.seen.jumps_in_speed");
    case FlagKind::jumps_in_direction: return say("pibal.seen.jumps_in_direction");
    case FlagKind::call_lost:
    case FlagKind::call_doubtful:
    case FlagKind::low_elevation:
    case FlagKind::near_overhead:
    case FlagKind::rise_rate_not_known:
    case FlagKind::rise_rate_extrapolated: break;
  }
  return say("pibal.seen.other");
}

bool flag_before(const Flag& a, const Flag& b) {
  if (a.kind != b.kind) return a.kind < b.kind;
  return a.at.value_or(-1.0 * second) < b.at.value_or(-1.0 * second);
}

double relative_density(Density d) { return d / kTableDensity; }

}  // namespace

Result<Speed> classic_rise_rate(Speed k, Mass free_lift, Mass balloon) {
  const double l_g = free_lift.in(gram), mass_g = balloon.in(gram);
  if (!is_positive(l_g))
    return fail(Errc::out_of_range, say("issue.pibal_no_lift"), written(measure::of(free_lift)), "> 0kg");
  if (!is_positive(mass_g))
    return fail(Errc::out_of_range, say("issue.pibal_mass"), written(measure::of(balloon)), "> 0kg");
  const double total_g = l_g + mass_g;
  return math::pow(l_g * l_g * l_g / (total_g * total_g), kExponent) * k;
}

Result<RiseRate> rise_rate(const Balloon& balloon) {
  const auto within = [](auto low, auto x, auto high) { return low <= x && x <= high; };
  constexpr Length smallest = 0.15 * metre, largest = 0.75 * metre;
  constexpr Mass lightest = 0.5 * gram, heaviest = 100.0 * gram;
  constexpr Density thinnest = 0.6 * kilogram_per_cubic_metre, densest = 1.5 * kilogram_per_cubic_metre;
  if (!within(smallest, balloon.diameter, largest))
    return refuse_outside("issue.pibal_diameter", measure::length(balloon.diameter), measure::length(smallest),
                          measure::length(largest));
  if (!within(lightest, balloon.mass, heaviest))
    return refuse_outside("issue.pibal_mass_range", measure::of(balloon.mass), measure::of(lightest),
                          measure::of(heaviest));
  if (!within(thinnest, balloon.outside, densest))
    return refuse_outside("issue.pibal_density", measure::of(balloon.outside), measure::of(thinnest),
                          measure::of(densest));
  const double d_m = balloon.diameter.in(metre);
  const Volume sphere = (pi / 6.0 * d_m * d_m * d_m) * cubic_metre;
  const Mass free_lift = relative_density(balloon.outside) * (kHeliumLift * sphere) - balloon.mass;
  const auto at_sea_level = classic_rise_rate(kToyBalloonCoefficient, free_lift, balloon.mass);
  if (!at_sea_level) return tl::unexpected<Issue>{at_sea_level.error()};
  const bool in_table = within((1.0 - kEdge) * kTableSmallest, balloon.diameter, (1.0 + kEdge) * kTableLargest) &&
                        within((1.0 - kEdge) * kTableLightest, balloon.mass, (1.0 + kEdge) * kTableHeaviest);
  return RiseRate{at_density(*at_sea_level, balloon.outside), in_table ? kComputedSigma : kExtrapolatedSigma,
                  RiseBasis::size_and_mass, !in_table};
}

Speed at_density(Speed at_table_density, Density outside) {
  return math::pow(relative_density(outside), -1.0 / 6.0) * at_table_density;
}

RiseRate stated_rise_rate(Speed rate, double relative_sigma) {
  return {rate, relative_sigma, RiseBasis::stated, false};
}

RiseRate default_rise_rate() { return {300.0 * foot_per_minute, kDefaultSigma, RiseBasis::nothing_known, false}; }

Mass mean_mass(Mass together, int count) { return together / count; }

HeightAgl height_after(Duration since_release, Speed rate) { return agl(rate * since_release); }

Parsed<Reduction> reduce(const Ascent& ascent) {
  Parsed<Reduction> out;
  out.issues = refusals(ascent);
  if (!out.issues.empty()) return out;

  Reader r{ascent, ascent.rise.rate.in(metre_per_second), {}, {}, {}};
  take_sights(r);
  drop_doubtful(r);

  Reduction result;
  result.rise = ascent.rise;
  for (const Sight& s : r.sights)
    result.fixes.push_back({s.t_s * second, height_after(s.t_s * second, ascent.rise.rate), s.p_m.east * metre,
                            s.p_m.north * metre, s.all_m2.ee * square_metre, s.all_m2.en * square_metre,
                            s.all_m2.nn * square_metre});
  for (std::size_t i = 1; i < result.fixes.size(); ++i) {
    const Fix &a = result.fixes[i - 1], &b = result.fixes[i];
    result.layers.push_back({a.height,
                             b.height,
                             as_wind(wind_between(a, b)),
                             spread_of(result.fixes, i - 1, i, ascent.rise.relative_sigma),
                             {}});
  }
  look_for_jumps(r, result.fixes, result.layers);
  mark_layers(r.flags, result.fixes, result.layers);

  for (const FlagKind kind : ascent.seen) r.flag(kind, std::nullopt, seen_sentence(kind));
  if (ascent.rise.basis == RiseBasis::nothing_known)
    r.flag(FlagKind::rise_rate_not_known, std::nullopt,
           say("pibal.flag.rise_rate_not_known",
               {{"rate", measure::vertical(ascent.rise.rate)}, {"error", measure::ratio(ascent.rise.relative_sigma)}}));
  if (ascent.rise.extrapolated)
    r.flag(FlagKind::rise_rate_extrapolated, std::nullopt,
           say("pibal.flag.rise_rate_extrapolated",
               {{"rate", measure::vertical(ascent.rise.rate)}, {"error", measure::ratio(ascent.rise.relative_sigma)}}));
  std::stable_sort(r.flags.begin(), r.flags.end(), flag_before);
  result.flags = std::move(r.flags);
  out.issues = std::move(r.issues);
  if (result.layers.empty())
    out.issues.push_back(issue_at(Errc::no_data, "calls", say("issue.pibal_no_layers"), {}, {}));
  out.value = std::move(result);
  return out;
}

Ladder ladder(const Reduction& reduction, AltitudeAmsl ground, Source source, LadderRule rule) {
  constexpr Length rounding = 0.001 * metre;
  Ladder out{std::move(source), {}};
  const std::vector<Fix>& fixes = reduction.fixes;
  for (std::size_t i = 0; i + 1 < fixes.size();) {
    std::size_t j = i + 1;
    Speed spread = spread_of(fixes, i, j, reduction.rise.relative_sigma);
    while (spread > rule.well_known && j + 1 < fixes.size() &&
           fixes[j + 1].height - fixes[i].height <= rule.thickest + rounding) {
      ++j;
      spread = spread_of(fixes, i, j, reduction.rise.relative_sigma);
    }
    if (spread <= rule.worst) {
      const Length middle = 0.5 * (fixes[i].height.from_origin() + fixes[j].height.from_origin());
      out.rows.push_back({ground + middle, as_wind(wind_between(fixes[i], fixes[j])), std::nullopt, spread});
    }
    i = j;
  }
  return out;
}

}  // namespace pappus::wind::pibal
