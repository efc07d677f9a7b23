/// The Issue of a value that lies outside what a method covers: the value found, and the bounds that would be right.
#pragma once
#include <initializer_list>
#include <string>

#include "core/base/issue.hpp"
#include "core/base/measure.hpp"

namespace pappus {

/// A measure in the notation that command line and files read: "28C", "1018hPa", "1500m". Kinds without a unit of their
/// own there are written in SI. Nine digits, so that a value just outside a bound is not shown as the bound.
[[nodiscard]] std::string written(Measure m);

/// Arguments of the sentence: {value}, {low}, {high}. `got` is the value, `wanted` reads "-80C .. 60C".
[[nodiscard]] tl::unexpected<Issue> refuse_outside(std::string key, Measure value, Measure low, Measure high,
                                                   Errc code = Errc::out_of_range);

/// What has to lie between two bounds, both included, and how it is refused else.
struct Bounded {
  const char* key;
  Measure value, low, high;
};
/// The first of them that does not lie within is refused; what is no number does not.
Result<void> within(const Bounded& one);
Result<void> within(std::initializer_list<Bounded> all);

}  // namespace pappus
