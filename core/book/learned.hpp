/// What a balloon's own records say of a figure that the model only guesses: how much heat it loses, how much hotter
/// its crown is than the mean.
///
/// The guess counts as a first record with its stated spread; every flight moves it by as much as that flight is
/// trustworthy. A record far from all others is set aside and named, never dropped in silence: somebody should look at
/// it.
#pragma once
#include <cstddef>
#include <string_view>
#include <vector>

#include "core/base/issue.hpp"

namespace pappus::book {

/// A figure before any record, with one standard deviation; and how much one flight differs from the next although
/// nothing was misread (shear, vents, sun).
struct Prior {
  double value, spread, between_flights;
};
/// Fuel burnt over fuel foretold: 1 +- 0.25 (the model's uncertainty), flights differ by 0.10 (ours).
inline constexpr Prior kBurnRatio{1.0, 0.25, 0.10};
/// Crown temperature over the mean inside, in kelvins: 20 +- 8, flights differ by 4 (ours).
inline constexpr Prior kCrownExcess{20.0, 8.0, 4.0};

/// What one flight showed, and how far off the readings may have been (one standard deviation).
struct FlightRecord {
  double value, error;
};

/// From so many flights a figure is the balloon's own; before, the guess still weighs most.
inline constexpr int kFlightsToBeYours = 3;

struct Learned {
  double value, spread;  // one standard deviation of the balloon's own figure
  double next;      // one standard deviation of what the next flight will show: spread and the difference of flights
  int flights = 0;  // that count
  std::vector<std::size_t> outliers;  // places in the list given, in order
  bool yours = false;                 // from kFlightsToBeYours that count
};

/// Domain    finite values; errors above nothing and finite; spreads of the prior likewise ("book.record_unusable",
///           which names the place in the list, from 1); else Errc::bad_input.
/// Accuracy  exact for normal errors without outliers. A record is an outlier if it lies more than 4 standard
///           deviations of the median of the others: one honest record in 16,000 would.
/// Laws      does not depend on the order; without records it is the prior; more records never widen `spread` unless
///           one of them makes another an outlier; the value lies between the least and the greatest of prior and
///           records.
/// Source    normal prior and normal records: precision-weighted mean (any textbook of Bayesian statistics).
Result<Learned> learn(const Prior& prior, const std::vector<FlightRecord>& records);

}  // namespace pappus::book
