#include "desk/foretold.hpp"

#include <algorithm>
#include <utility>

#include "core/sheet/facts.hpp"

namespace pappus::desk {
namespace {

// Half-way between the least and the most that was met.
template <class Q>
class Between {
 public:
  void meet(Q q) {
    low_ = none_ ? q : std::min(low_, q);
    high_ = none_ ? q : std::max(high_, q);
    none_ = false;
  }
  [[nodiscard]] Q middle() const { return 0.5 * (low_ + high_); }
  [[nodiscard]] Q half() const { return 0.5 * (high_ - low_); }

 private:
  Q low_{}, high_{};
  bool none_ = true;
};

}  // namespace

Result<ForetoldFlight> foretold(const sheet::Morning& morning, Duration aloft, const book::RecordErrors& errors) {
  const sheet::Facts facts = sheet::facts_of(morning);
  // What is missing is told as the sheet tells it.
  if (!facts.lift) return tl::unexpected{facts.lift.error()};
  auto flown = sheet::replanned(facts, {});
  if (!flown) return tl::unexpected{std::move(flown.error())};
  flown->planned = aloft;
  Between<Mass> fuel, loss;
  Between<TemperatureDelta> mean;
  const std::vector<air::AirColumn> columns = flown->columns;
  for (const air::AirColumn& column : columns) {
    flown->columns = {column};
    const auto burn = flown->fuel();
    if (!burn) return tl::unexpected{burn.error()};
    const auto lift = flown->lift();
    if (!lift) return tl::unexpected{lift.error()};
    fuel.meet(burn->used);
    loss.meet(burn->level + burn->allowance);
    mean.meet(lift->worst.mean_needed.from_origin());
  }
  ForetoldFlight out;
  out.foretold = {.fuel = fuel.middle(),
                  .loss = loss.middle(),
                  .error = errors.foretold * fuel.middle() + fuel.half(),
                  .mean_needed = Temperature::at(mean.middle()),
                  .mean_error = errors.mean + mean.half()};
  out.load_known = facts.load_known;
  out.temperature_assumed = facts.temperature_aloft_assumed;
  return out;
}

}  // namespace pappus::desk
