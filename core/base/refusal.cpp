#include "core/base/refusal.hpp"

#include <array>
#include <cstdio>
#include <string_view>
#include <utility>

namespace pappus {
namespace {

struct Written {
  double number;
  std::string_view unit;
};

Written in_writing(Measure m) {
  switch (m.kind) {
    case MeasureKind::temperature: return {m.si - 273.15, "C"};
    case MeasureKind::pressure_air: return {m.si / 100.0, "hPa"};
    case MeasureKind::ratio: return {m.si * 100.0, "%"};
    case MeasureKind::number:
    case MeasureKind::count: return {m.si, ""};
    default: return {m.si, si_unit_name(m.kind)};
  }
}

}  // namespace

std::string written(Measure m) {
  const Written w = in_writing(m);
  std::array<char, 40> digits{};
  std::snprintf(digits.data(), digits.size(), "%.9g", w.number);
  return std::string(digits.data()).append(w.unit);
}

tl::unexpected<Issue> refuse_outside(std::string key, Measure value, Measure low, Measure high, Errc code) {
  return fail(code, say(std::move(key), {{"value", value}, {"low", low}, {"high", high}}), written(value),
              written(low) + " .. " + written(high));
}

Result<void> within(const Bounded& one) {
  // Written so that NaN is refused too.
  if (one.value.si >= one.low.si && one.value.si <= one.high.si) return {};
  return refuse_outside(one.key, one.value, one.low, one.high);
}

Result<void> within(std::initializer_list<Bounded> all) {
  for (const Bounded& one : all)
    if (auto ok = within(one); !ok) return ok;
  return {};
}

}  // namespace pappus
