#include "core/book/learned.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/base/math.hpp"
#include "core/base/measure.hpp"
#include "core/base/refusal.hpp"

namespace pappus::book {
namespace {

constexpr double kOutlier = 4.0;

bool usable(double value, double spread) { return std::isfinite(value) && std::isfinite(spread) && spread > 0.0; }

tl::unexpected<Issue> unusable(std::size_t place, double value) {
  return fail(Errc::bad_input, say("book.record_unusable", {{"place", measure::count(static_cast<double>(place))}}),
              written(measure::number(value)), "0 < error");
}

double median(std::vector<double> values) {
  // Equal values are equal whichever comes first, so the order of a tie does not matter.
  std::stable_sort(values.begin(), values.end());
  const std::size_t half = values.size() / 2;
  return values.size() % 2 == 1 ? values[half] : 0.5 * (values[half - 1] + values[half]);
}

}  // namespace

Result<Learned> learn(const Prior& prior, const std::vector<FlightRecord>& records) {
  if (!usable(prior.value, prior.spread) || !usable(prior.value, prior.between_flights))
    return unusable(0, prior.value);
  for (std::size_t i = 0; i < records.size(); ++i)
    if (!usable(records[i].value, records[i].error)) return unusable(i + 1, records[i].value);

  const auto variance = [&](const FlightRecord& r) {
    return r.error * r.error + prior.between_flights * prior.between_flights;
  };
  Learned out{};
  double precision = 1.0 / (prior.spread * prior.spread), sum = prior.value * precision;
  for (std::size_t i = 0; i < records.size(); ++i) {
    const FlightRecord& r = records[i];
    // Against the others where there are enough of them to know, else against the guess.
    bool odd = std::abs(r.value - prior.value) > kOutlier * math::sqrt(variance(r) + prior.spread * prior.spread);
    if (records.size() > static_cast<std::size_t>(kFlightsToBeYours)) {
      std::vector<double> others;
      for (std::size_t k = 0; k < records.size(); ++k)
        if (k != i) others.push_back(records[k].value);
      odd = std::abs(r.value - median(std::move(others))) > kOutlier * math::sqrt(variance(r));
    }
    if (odd) {
      out.outliers.push_back(i);
      continue;
    }
    ++out.flights;
    precision += 1.0 / variance(r);
    sum += r.value / variance(r);
  }
  out.value = sum / precision;
  out.spread = 1.0 / math::sqrt(precision);
  out.next = math::sqrt(out.spread * out.spread + prior.between_flights * prior.between_flights);
  out.yours = out.flights >= kFlightsToBeYours;
  return out;
}

}  // namespace pappus::book
